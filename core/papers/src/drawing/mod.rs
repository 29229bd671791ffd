//! Drawings: linework as vectors, and its lettering apart, so that the template sets the lettering
//! in the paper's own typeface and a reader can find and copy it.
//!
//! Everything here is in millimetres on the sheet, x to the right and y down, unless a name says
//! otherwise. Nothing is measured on a drawing; it only shows what the record says.

mod figure;
mod lettering;
mod material;
mod pen;
mod plan;
mod plan_parts;
mod plan_thickness;
mod scale;
mod section;
mod section_parts;
mod shape;
mod signature;
mod template;
mod view;

pub(crate) use figure::Figure;
pub(crate) use plan::{dips_plan, plan};
pub(crate) use section::{Told, section};
pub(crate) use signature::signature;
pub(crate) use template::{Tile, tiles};
