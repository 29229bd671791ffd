//! What a screen may ask: one function a request, plain inputs and outputs.
//!
//! The table below is the only list of requests. It serves them by name and writes the TypeScript
//! for them, so a new request is one line here, its function, and its types.

pub mod changes;
pub mod day_view;
mod fault;
mod job_view;
mod laying_view;
mod log;
pub mod orders;
pub mod own;
mod papers;
mod plan_view;
pub mod requests;
mod says;
mod shape_look;
mod shelf;
pub mod site_view;
pub mod survey;
pub mod tables;
pub mod takes;
mod target_at;
mod typescript;
mod verify;
pub mod views;

use serde_json::Value;

pub use fault::Fault;
pub use job_view::{diary, diary_json, job, layer_thickness, state_json};
pub(crate) use job_view::{dip_view, spread};
pub use laying_view::{job_laying, laying};
pub use log::{LoggedEntry, dip_target, log, log_draft, log_lines};
pub use papers::{
    PaperToMake, Sealing, SheetData, SheetToMake, issue_record, job_files, record_data, sheet_data,
};
pub(crate) use plan_view::{defaults, drawing, section};
pub use plan_view::{look_at_plan, revise_plan, start_job, start_sample};
pub use says::money;
pub(crate) use says::{money_decimals, place, says};
pub use shape_look::look_at_shape;
pub use shelf::{drafts, keep_draft, notice, set_person, shelf};
pub use survey::{arc, level_book};
pub use target_at::target_at;
pub use typescript::typescript;
pub use verify::{Issued, issued, photo_holds, verify_json, verify_store};

use crate::outside::Outside;
use crate::record::ThicknessDrawn;
use crate::store::Store;
use requests::*;
use shape_look::{ShapeLook, ShapeTyped};
use survey::{ArcLook, ArcTyped, LevelBookLook, LevelBookTyped};
use target_at::{TargetAt, TargetPlace};
use views::*;

/// What a request works on: the store, and the clock and chance from outside.
pub struct Desk {
    /// The open store.
    pub store: Store,
    /// The clock and the dice.
    pub outside: Box<dyn Outside>,
}

macro_rules! table {
    ($($name:literal: $function:path, $arguments:ty => $answer:ty;)+) => {
        /// Answers a request by its name.
        ///
        /// # Errors
        /// [`Fault`] with a code that a screen has words for.
        pub fn ask(desk: &mut Desk, request: &str, arguments: Value) -> Result<Value, Fault> {
            match request {
                $($name => {
                    let arguments: $arguments = serde_json::from_value(arguments)
                        .map_err(|error| Fault::bad_request(&error.to_string()))?;
                    let answer: $answer = $function(desk, arguments)?;
                    serde_json::to_value(answer).map_err(|error| Fault::machine(&error.to_string()))
                })+
                other => Err(Fault::bad_request(&format!("there is no request {other}"))),
            }
        }

        /// The requests for the writer of TypeScript: name, arguments, answer.
        fn requests_in_typescript(config: &ts_rs::Config) -> Vec<(&'static str, String, String)> {
            use ts_rs::TS;
            vec![$(($name, <$arguments>::name(config), <$answer>::name(config)),)+]
        }

        /// Shows the writer of TypeScript every type of the table.
        fn visit_types(types: &mut impl ts_rs::TypeVisitor) {
            use ts_rs::TS;
            $(
                types.visit::<$arguments>();
                types.visit::<$answer>();
                <$answer>::visit_generics(types);
            )+
        }
    };
}

table! {
    "shelf": shelf, Nothing => Shelf;
    "set_person": set_person, SetPerson => Vec<Changed>;
    "look_at_plan": look_at_plan, PlanText => PlanLook;
    "look_at_shape": look_at_shape, ShapeTyped => ShapeLook;
    "start_job": start_job, PlanText => Started;
    "start_sample": start_sample, Nothing => Started;
    "revise_plan": revise_plan, RevisePlan => Logged;
    "job": job, OfJob => JobView;
    "laying": laying, PlanText => LayingView;
    "job_laying": job_laying, OfJob => LayingView;
    "dip_target": dip_target, DipPlace => DipTarget;
    "target_at": target_at, TargetPlace => TargetAt;
    "log": log, LogEntry => Logged;
    "diary": diary, OfJob => Vec<EntryView>;
    "drafts": drafts, Nothing => Drafts;
    "keep_draft": keep_draft, KeepDraft => Vec<Changed>;
    "level_book": level_book, LevelBookTyped => LevelBookLook;
    "arc": arc, ArcTyped => ArcLook;
    "passes": tables::passes, tables::PassesAsked => tables::PassesView;
    "drop_test": tables::drop_test, tables::DropTestAsked => tables::DropTestView;
    "vibration": tables::vibration, tables::VibrationAsked => tables::VibrationView;
    "mix": tables::mix, tables::MixAsked => tables::MixView;
    "swell": tables::swell, tables::SwellAsked => tables::SwellView;
    "fall": tables::fall, tables::FallAsked => tables::FallView;
    "choices": tables::choices, Nothing => tables::ChoicesView;
    "plan_takes": takes::plan_takes, PlanText => takes::TakesView;
    "job_takes": takes::job_takes, OfJob => takes::TakesView;
    "order_list": orders::order_list, OfJob => orders::OrderListView;
    "order_of_plan": orders::order_of_plan, PlanText => orders::OrderListView;
    "own_kit": own::own_kit, Nothing => own::OwnKitView;
    "keep_own_kit": own::keep_own_kit, own::OwnKitView => Vec<Changed>;
    "own_rates": own::own_rates_view, Nothing => Vec<own::OwnRateView>;
    "change_price": changes::change_price, changes::PriceTyped => changes::PriceLook;
    "day": day_view::day, day_view::DayAsked => day_view::DayView;
    "layer_thickness": layer_thickness, OfLayer => Option<ThicknessDrawn>;
    "vibration_days": own::vibration_days, own::VibrationDaysAsked => Vec<own::PersonDayView>;
}
