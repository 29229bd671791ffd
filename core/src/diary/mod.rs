//! The diary: an append-only list of what happened, that can be merged and cannot be quietly
//! changed.
//!
//! Each device keeps its own chain for each job: every entry carries the hash of the one before.
//! A correction is a new entry that strikes an old one.

mod body;
mod change;
mod clock;
mod entry;
mod malformed;
mod site;

pub use body::{
    Body, BodyError, Check, Checked, Delivery, Dip, Note, Pass, Photo, PlanRevision, RecordIssued,
    StageClosed, Strike, Unit, kinds,
};
pub use change::{Change, Role, Signature, SignedPaper};
pub use clock::HybridTime;
pub use entry::{ChainFault, Draft, Entry, check_chains, order};
pub(crate) use entry::{from_hex, hex};
pub use malformed::Malformed;
pub use site::{
    Damp, DayClosed, DropReading, DropRound, EdgeConcrete, Forecast, OnString, PackEmptied,
    PackOpened, Sky, Snag, SnagClosed, SoftSpot, SoftSpotFilled, Spread, Weather,
};
