//! The job model: plan and diary folded into what stands now. Pure.

mod accept;
mod delivered;
mod exposure;
mod fold;
mod gate;
mod layers;
mod own_rates;
mod stage;
mod stand;

pub use accept::{Target, accept, dip_target};
pub use delivered::{TickedLine, TickedOrder, amount_says, missing_says, ticked_order};
pub use exposure::{PersonDay, Run, person_days};
pub use fold::{
    Closing, DeliveryMade, DipTaken, FoldError, JobState, PassMade, PhotoTaken, RecordMade, Struck,
    fold,
};
pub use gate::{Evidence, StageStand, next, stages};
pub use layers::{LayerStand, PassCount, layer_stands, pass_counts, sub_base_stand};
pub use own_rates::{OwnRate, own_rates};
pub use stage::{Stage, StageState};
pub use stand::{MaterialStand, material_stands};
