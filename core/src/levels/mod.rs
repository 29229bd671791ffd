//! Levels and strings: the finished surface, pins, strings, and what a tape should read.

mod book;
mod fall;
mod pins;
mod plane;
mod surface;
mod walk;

use serde::{Deserialize, Serialize};
use ts_rs::TS;

pub use book::{LevelBook, Reduced, Reduction, Wrong};
pub use fall::{Falls, Pond, Slope, Wall, WallStand, falls, walls};
pub use pins::{PIN_SPACING, Pin, SHOWN_SAG, StringLine, pins, strings};
pub use plane::{Plane, PlaneFit};
pub use surface::{Across, EdgeLevel, EdgeLevels, Ridge, Surface};
pub use walk::{Ramp, Walk, walk};

use crate::units::Length;

/// What a dip says: the layer against its design.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum Word {
    /// Above its tolerance: take off.
    High,
    /// Within its tolerance: leave.
    Right,
    /// Below its tolerance: bring up.
    Low,
}

impl Word {
    /// The word for a height above design, in whole millimetres against the tolerance.
    pub fn of(high: Length, high_by: Length, low_by: Length) -> Self {
        let mm = high.to_mm().round();
        if mm > high_by.to_mm() {
            Word::High
        } else if -mm > low_by.to_mm() {
            Word::Low
        } else {
            Word::Right
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_are_in_whole_millimetres() {
        let word = |mm| Word::of(Length::from_mm(mm), Length::from_mm(12.0), Length::from_mm(12.0));
        assert_eq!(word(12.4), Word::Right);
        assert_eq!(word(12.6), Word::High);
        assert_eq!(word(-12.4), Word::Right);
        assert_eq!(word(-13.0), Word::Low);
        assert_eq!(word(0.0), Word::Right);
    }
}
