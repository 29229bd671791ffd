//! What the work does to the people who do it: vibration of the hands, and weight moved by hand.

mod by_hand;
mod vibration;

pub use by_hand::{Moved, Portion, Trips, by_hand, trips};
pub use vibration::{
    ACTION_POINTS, Exposure, LIMIT_POINTS, Work, WorkError, exposure, parse_work, whole_minutes,
};
