//! The job model: plan and diary folded into what stands now. Pure.

mod accept;
mod fold;
mod gate;
mod layers;
mod stage;

pub use accept::{Target, accept, dip_target};
pub(crate) use fold::find_string;
pub use fold::{
    ChangeMade, Closing, DeliveryMade, DipTaken, FoldError, JobState, PassMade, PhotoTaken,
    RecordMade, SignatureDrawn, Struck, fold, fold_last,
};
pub use gate::{Evidence, StageStand, next, stages};
pub use layers::{
    Gap, LayerStand, PassCount, SPACING, layer_stands, pass_counts, sub_base_stand, thickness,
    thickness_over,
};
pub use stage::{Stage, StageState};
