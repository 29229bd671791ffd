//! The job model: plan and diary folded into what stands now. Pure.

mod accept;
mod accept_site;
mod concrete;
mod delivered;
mod exposure;
mod fold;
mod gate;
mod holds;
mod layers;
mod own_rates;
mod plate;
mod site;
mod stage;
mod stand;

pub use accept::{Target, accept, dip_target};
pub use concrete::{CARS_HOURS, ConcreteStand, PLATE_HOURS, concrete_stands};
pub use delivered::{TickedLine, TickedOrder, amount_says, missing_says, ticked_order};
pub use exposure::{PersonDay, Run, person_days};
pub(crate) use fold::find_string;
pub use fold::{
    ChangeMade, Closing, DeliveryMade, DipTaken, FoldError, JobState, PassMade, PhotoTaken,
    RecordMade, SignatureDrawn, Struck, fold, fold_last,
};
pub use gate::{Evidence, StageStand, next, stages};
pub use holds::holds;
pub use layers::{
    Gap, LayerStand, PassCount, SPACING, layer_stands, pass_counts, sub_base_stand, thickness,
    thickness_over, thin_limit,
};
pub use own_rates::{OwnRate, own_rates};
pub use plate::{KEEP_BACK, PlateRegion, plate_region};
pub use site::{DropStand, Found, Logged, SiteLog, drop_stands};
pub use stage::{Stage, StageState};
pub use stand::{MaterialStand, material_stands};
