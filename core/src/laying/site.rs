//! The ground that is laid: its outline as a polygon, its sides, and the edge that courses follow.

use geo::Polygon;

use crate::outline::{CHORD_TOLERANCE, Edge, Outline, Run, Side, SideName};
use crate::units::Length;

/// How far the chords of the ground's arcs may leave them: finer than what is drawn, so that areas
/// come out closer too.
pub const SIDE_CHORDS: Length = Length::from_mm(CHORD_TOLERANCE.to_mm() / 5.0);

/// The ground.
pub struct Site<'a> {
    /// The reference edge.
    pub edge: &'a Edge,
    /// +1 where the paving lies to its left, -1 to its right.
    pub side: f64,
    /// The shape with its holes, arcs as fine chords.
    pub polygon: Polygon,
    /// Its sides counter-clockwise.
    pub sides: Vec<(SideName, Side)>,
    /// Sides that something holds.
    pub held: Vec<SideName>,
    /// Width across, where it is a strip or a rectangle.
    pub width: Option<Length>,
}

impl<'a> Site<'a> {
    /// The ground inside an outline.
    pub fn new(outline: &'a Outline, held: &[SideName]) -> Self {
        Site {
            edge: outline.edge(),
            side: outline.side().sign(),
            polygon: outline.polygon(SIDE_CHORDS),
            sides: outline.sides().map(|(name, side)| (name, *side)).collect(),
            held: held.to_vec(),
            width: outline.width(),
        }
    }

    /// The side that is the reference edge.
    pub fn reference(&self) -> Option<SideName> {
        self.sides.iter().map(|(name, _)| *name).min()
    }

    /// Whether the sides of a name are straight.
    pub fn is_straight(&self, name: SideName) -> bool {
        self.sides.iter().filter(|(n, _)| *n == name).all(|(_, side)| side.curvature == 0.0)
    }

    /// Whether courses along the reference edge would bend.
    pub fn is_curved(&self) -> bool {
        self.edge.runs().iter().any(|(_, run)| matches!(run, Run::Arc { .. }))
    }
}
