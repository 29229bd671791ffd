//! What a care sheet says, as plain data.

use chrono::{DateTime, Duration, FixedOffset, NaiveDate};
use serde::{Deserialize, Serialize};

use super::build::{built_for, cautions};
use crate::buildup::Use;
use crate::job::{JobState, Stage};
use crate::plan::Plan;
use crate::words::word;

/// Weeks from the handing over to the return visit: joints have settled by then (our default; common
/// practice, no source).
const RETURN_WEEKS: i64 = 6;

/// A care sheet: general advice, marked as such.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub struct CareSheet {
    /// The job's title.
    pub title: String,
    /// Where it is; empty where the plan does not say.
    pub place: String,
    /// For whom; empty where the plan does not say.
    pub customer: String,
    /// Who laid it, and is called; empty where the plan does not say.
    pub by: String,
    /// When this paper was made, RFC 3339 with offset.
    pub made_at: String,
    /// The use it was built for, in words.
    pub built_for: String,
    /// When somebody comes again, a date; none where they have been.
    pub return_visit: Option<String>,
    /// Advice under its headings.
    pub parts: Vec<CarePart>,
    /// Cautions that apply to the paving from now on.
    pub cautions: Vec<String>,
}

/// Advice on one matter.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub struct CarePart {
    /// The matter.
    pub heading: String,
    /// Sentences.
    pub says: Vec<String>,
}

/// The matters, with how many sentences the catalogue has on each.
const PARTS: [(&str, u32); 5] =
    [("joints", 3), ("cleaning", 3), ("winter", 2), ("weeds", 2), ("call", 4)];

/// The first days, by use.
const fn first(r#use: Use) -> (&'static str, u32) {
    match r#use {
        Use::Foot => ("first_foot", 2),
        Use::Car => ("first_car", 3),
    }
}

/// What a care sheet of a job says.
pub fn care_sheet(state: &JobState, made_at: DateTime<FixedOffset>) -> CareSheet {
    let Plan { title, parties, r#use, .. } = &state.plan;
    CareSheet {
        title: title.clone(),
        place: parties.place.clone(),
        customer: parties.customer.clone(),
        by: parties.by.clone(),
        made_at: made_at.to_rfc3339(),
        built_for: built_for(*r#use),
        return_visit: return_visit(state, made_at).map(|day| day.to_string()),
        parts: std::iter::once(first(*r#use))
            .chain(PARTS)
            .map(|(part, sentences)| CarePart {
                heading: word(&format!("care_sheet.{part}")),
                says: (1..=sentences).map(|n| word(&format!("care_sheet.{part}.{n}"))).collect(),
            })
            .collect(),
        cautions: cautions(&state.plan),
    }
}

/// The day of the return visit: some weeks after the handing over, or after now where that is to
/// come. None once the visit is closed.
pub fn return_visit(state: &JobState, now: DateTime<FixedOffset>) -> Option<NaiveDate> {
    let closed = |stage| state.closings.get(&stage).filter(|closing| closing.done);
    if closed(Stage::ReturnVisit).is_some() {
        return None;
    }
    let handed_over = closed(Stage::HandOver).map_or(now, |closing| closing.at);
    Some((handed_over + Duration::weeks(RETURN_WEEKS)).date_naive())
}
