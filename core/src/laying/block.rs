//! The block, the bonds it is laid in, and the joints that are allowed.

use crate::units::{Area, Length};

/// How blocks are laid against each other.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Pattern {
    /// Courses with half laps.
    Stretcher,
    /// Courses without laps.
    Stack,
    /// Herringbone at 45 degrees to the edge.
    Herringbone45,
    /// Herringbone square to the edge.
    Herringbone90,
    /// Pairs turned a quarter against their neighbours.
    Basketweave,
}

impl Pattern {
    /// Whether every block lies the same way, so that courses may follow a curve.
    pub const fn has_courses(self) -> bool {
        matches!(self, Pattern::Stretcher | Pattern::Stack)
    }

    /// Whether blocks stand across each other in zigzags.
    pub const fn is_herringbone(self) -> bool {
        matches!(self, Pattern::Herringbone45 | Pattern::Herringbone90)
    }
}

/// A block by its work size, and the joint beside its long sides.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Block {
    /// Length.
    pub length: Length,
    /// Width.
    pub width: Length,
    /// Depth.
    pub depth: Length,
    /// Joint.
    pub joint: Length,
}

impl Block {
    /// The face of the block itself.
    pub fn face(&self) -> Area {
        self.length * self.width
    }

    /// The face that one block and its share of the joints take up.
    pub fn module(&self) -> Area {
        (self.length + self.joint) * (self.width + self.joint)
    }

    /// The share of a paved area that is joint.
    pub fn joint_share(&self) -> f64 {
        1.0 - self.face() / self.module()
    }

    /// The half block that starts and ends every other course of a stretcher bond: with a joint
    /// between them two make a whole.
    pub fn half(&self) -> Length {
        (self.length - self.joint) / 2.0
    }

    /// The end joint of patterns in which two widths lie along one length: l + x = 2 (w + j).
    pub fn end_joint(&self) -> Length {
        (self.width + self.joint) * 2.0 - self.length
    }
}

/// The joints that may be laid.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct JointLimits {
    /// The narrowest.
    pub least: Length,
    /// The widest.
    pub most: Length,
}

/// The course of blocks along the edges.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum EdgeCourse {
    /// No course of its own.
    None,
    /// Units end-on to the edge.
    Soldier,
    /// End-on as well: what some countries call the soldier course.
    Header,
    /// Long side to the edge.
    Stretcher,
}

impl EdgeCourse {
    /// How far one unit reaches in from the edge, and how much of the edge it takes, without
    /// joints.
    pub(super) const fn unit(self, block: &Block) -> Option<(Length, Length)> {
        match self {
            EdgeCourse::None => None,
            EdgeCourse::Soldier | EdgeCourse::Header => Some((block.length, block.width)),
            EdgeCourse::Stretcher => Some((block.width, block.length)),
        }
    }

    /// Width of the course with its joint against the field.
    pub fn width(self, block: &Block) -> Option<Length> {
        self.unit(block).map(|(reach, _)| reach + block.joint)
    }
}

/// The direction of the courses.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Along {
    /// They follow the reference edge, curved with it.
    Edge,
    /// They run across it.
    Across,
    /// They run at this angle from x, in degrees.
    Degrees(f64),
}

/// How the field is laid.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bond {
    /// The pattern.
    pub pattern: Pattern,
    /// The direction of its courses.
    pub along: Along,
    /// How far the pattern is shifted along and across its courses from the corner where the
    /// reference edge starts; none where the best start is to be looked for.
    pub start: Option<[Length; 2]>,
    /// Whether laps that fall under a quarter block on a curve are mended with closers.
    pub keep_laps: bool,
}
