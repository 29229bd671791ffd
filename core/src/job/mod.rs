//! The job model: plan and diary folded into what stands now. Pure.

mod accept;
mod fold;
mod gate;
mod layers;
mod stage;

pub use accept::{Target, accept, dip_target};
pub use fold::{
    ChangeMade, Closing, DeliveryMade, DipTaken, FoldError, JobState, PassMade, PhotoTaken,
    RecordMade, SignatureDrawn, Struck, fold,
};
pub use gate::{Evidence, StageStand, next, stages};
pub use layers::{LayerStand, PassCount, layer_stands, pass_counts, sub_base_stand};
pub use stage::{Stage, StageState};
