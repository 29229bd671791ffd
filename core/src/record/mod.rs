//! What a paper says, as plain data: figures, exceptions, coverage.

mod build;
mod calendar;
mod care;
mod change_note;
mod data;
mod export;
mod order_list;
mod seal;
mod setting_out;
mod thickness;

pub use build::build;
pub(crate) use build::signatures;
pub use calendar::calendar;
pub use care::{CarePart, CareSheet, care_sheet};
pub use change_note::{ChangeNote, change_note};
pub use data::*;
pub use export::{TableError, dips_csv, geojson, passes_csv};
pub use order_list::{Delivered, FromSupplier, OrderList, OrderedLine, OtherOffer, order_list};
pub use seal::{
    DIARY_FILE, LARGEST_DIARY_BYTES, LARGEST_SEAL_BYTES, MissingPhoto, SEAL_FILE, Seal, Sealed,
    SealedDiary, SealedPhoto, diary_lines, normalised, qr_text, read_diary_lines, sha256,
};
pub use setting_out::{
    Mark, Ordinate, PlannedLayer, SetArc, SetLine, SetPin, SettingOut, Template, setting_out,
};
pub(crate) use thickness::drawn as thickness_drawn;
pub use thickness::{ContourDrawn, ThicknessDrawn};
