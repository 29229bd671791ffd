//! A course: a row of blocks, straight or along a curve.

use super::piece::Piece;
use crate::outline::Point;
use crate::units::Length;

/// How a course ends.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Closing {
    /// On whole blocks, or on half ones in a stretcher bond: the joint makes it exact.
    Even,
    /// With one piece of this length at its end, and the joint as planned.
    Closer(Length),
    /// Where the outline cuts it.
    AtOutline,
}

/// A course as it was laid.
#[derive(Debug, Clone, PartialEq)]
pub struct Course {
    /// Its number from 1, from the reference edge on.
    pub index: u32,
    /// Radius of its inner side on its tightest curve; none where it is straight.
    pub radius: Option<Length>,
    /// Length along its inner side.
    pub length: Length,
    /// Blocks as they come.
    pub whole: u32,
    /// Cut pieces.
    pub cut: u32,
    /// The joint between ends, at the inner side.
    pub inner_joint: Length,
    /// The same at the outer side, where the curve is tightest.
    pub outer_joint: Length,
    /// How it ends.
    pub closing: Closing,
    /// Whether it is not a full width.
    pub rip: bool,
    /// The shortest lap against the course before; none in the first and where laps are not
    /// followed.
    pub least_lap: Option<Length>,
    /// Where it starts, in the middle of its width.
    pub start: Point,
    /// The direction it runs there, in radians from x.
    pub heading: f64,
}

impl Course {
    /// Blocks and pieces in it.
    pub const fn blocks(&self) -> u32 {
        self.whole + self.cut
    }

    /// Counts a piece into it.
    pub fn count(&mut self, piece: &Piece) {
        if piece.is_whole() {
            self.whole += 1;
        } else {
            self.cut += 1;
        }
    }
}
