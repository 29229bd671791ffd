//! Plant and what it may compact: ratings, passes and lifts by named specification, the time of a
//! pass, and the drop test.

mod drop_test;
mod pass_time;
mod passes;
mod plant;
mod table;

pub use drop_test::{DropAnswer, DropTest, DropTestError, DropVerdict, Settled};
pub use pass_time::{NoStrip, pass_time};
pub use passes::{Compaction, Lift, Method, Verdict};
pub use plant::{Plant, PlantKind, Rating, RatingError, RatingFrom, Shaking};
pub use table::{Material, Specification};
