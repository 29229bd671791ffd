//! The days of a job: what weather is expected and what it speaks against, and what was done on a day,
//! for the crew and in a few lines for the customer.

use std::collections::BTreeMap;

use chrono::NaiveDate;
use serde::{Deserialize, Serialize};
use ts_rs::TS;

use super::says::{place, says};
use super::{Desk, Fault, job_view};
use crate::buildup::Layer;
use crate::diary::{Body, DayClosed, Entry, Forecast, Sky};
use crate::job::{JobState, Logged, Stage, StageStand, holds, stages};
use crate::levels::Word;
use crate::words::Phrase;

/// The weather as it is expected on a day.
#[derive(Debug, Clone, Serialize, Deserialize, TS)]
pub struct ForecastView {
    /// The entry.
    pub entry: String,
    /// The day, as a date.
    pub day: String,
    /// In a word.
    pub sky: Sky,
    /// In words, with its temperatures and what was added.
    pub says: Phrase,
    /// Work of the stages ahead that it speaks against.
    pub holds: Vec<Phrase>,
}

/// Which day of which job.
#[derive(Debug, Clone, Deserialize, TS)]
pub struct DayAsked {
    /// The job's identity.
    pub job: String,
    /// The day as a date; left out, today.
    #[ts(optional, type = "string")]
    pub day: Option<NaiveDate>,
}

/// What was done on a day.
#[derive(Debug, Clone, Serialize, Deserialize, TS)]
pub struct DayView {
    /// The day, as a date.
    pub day: String,
    /// What was done, a line each; empty where nothing was logged.
    pub done: Vec<Phrase>,
    /// How it was closed; none while it is not.
    pub closed: Option<Phrase>,
    /// All of it in a few lines for the customer.
    pub to_customer: String,
}

/// What is expected of the days from today on, and what it speaks against.
pub(super) fn forecasts(state: &JobState, stands: &[StageStand]) -> Vec<ForecastView> {
    let expected = state.site.expected_from(state.as_of.date_naive());
    let view = |logged: &&Logged<Forecast>| ForecastView {
        entry: logged.entry.to_string(),
        day: logged.what.day.to_string(),
        sky: logged.what.sky,
        says: expected_says(&logged.what),
        holds: holds(stands, &logged.what),
    };
    expected.iter().map(view).collect()
}

/// What was done on a day.
///
/// # Errors
/// `not_found` for an unknown job.
pub fn day(desk: &mut Desk, asked: DayAsked) -> Result<DayView, Fault> {
    let (_, entries, state) = job_view::load(desk, &asked.job)?;
    let day = asked.day.unwrap_or_else(|| state.as_of.date_naive());
    let of_day: Vec<(&Entry, Body)> = entries
        .iter()
        .filter(|entry| entry.at.date_naive() == day && !state.struck.contains_key(&entry.id))
        .filter_map(|entry| Some((entry, entry.read().ok()?)))
        .collect();
    let closed = state.site.days.iter().rfind(|closed| closed.at.date_naive() == day);
    let done = done(&state, day, &of_day);
    Ok(DayView {
        day: day.to_string(),
        to_customer: to_customer(&state, day, &done, closed.map(|closed| &closed.what)),
        closed: closed.map(|closed| closed_says(&closed.what)),
        done,
    })
}

/// What was done, a line a kind, in the order of the work.
fn done(state: &JobState, day: NaiveDate, of_day: &[(&Entry, Body)]) -> Vec<Phrase> {
    let count = |number: usize| ("count", (number as f64).into());
    let mut dips: BTreeMap<(Layer, Option<u32>), [usize; 2]> = BTreeMap::new();
    let mut passes: BTreeMap<(Layer, Option<u32>), usize> = BTreeMap::new();
    for taken in state.dips.iter().filter(|taken| taken.at.date_naive() == day) {
        let [all, out] = dips.entry((taken.dip.layer, taken.dip.lift)).or_default();
        *all += 1;
        *out += usize::from(taken.word != Word::Right && !taken.superseded);
    }
    for made in state.passes.iter().filter(|made| made.at.date_naive() == day) {
        *passes.entry((made.pass.layer, made.pass.lift)).or_default() += 1;
    }
    let photos = state.photos.iter().filter(|taken| taken.at.date_naive() == day).count();
    let mut other = Vec::new();
    let mut closed: Vec<Stage> = Vec::new();
    for (entry, body) in of_day {
        match body {
            Body::Stage(stage) if stage.done => closed.push(stage.stage),
            Body::Stage(stage) => closed.retain(|known| *known != stage.stage),
            Body::Delivery(_)
            | Body::Change(_)
            | Body::SoftSpot(_)
            | Body::SoftSpotFilled(_)
            | Body::EdgeConcrete(_)
            | Body::Weather(_) => other.push(says(entry, state, false)),
            _ => {}
        }
    }
    let stage = |stage: Stage| Phrase::new("day_said.stage", [("stage", stage.word().into())]);
    let dipped = |((layer, lift), [all, out]): ((Layer, Option<u32>), [usize; 2])| {
        let code = if out == 0 { "day_said.dips" } else { "day_said.dips_out" };
        let out = ("out", (out as f64).into());
        Phrase::new(code, [count(all), out, ("where", place(layer, lift).into())])
    };
    let plated = |((layer, lift), all): ((Layer, Option<u32>), usize)| {
        Phrase::new("day_said.passes", [count(all), ("where", place(layer, lift).into())])
    };
    let taken = (photos > 0).then(|| Phrase::new("day_said.photos", [count(photos)]));
    let closed = closed.into_iter().map(stage);
    closed
        .chain(dips.into_iter().map(dipped))
        .chain(passes.into_iter().map(plated))
        .chain(other)
        .chain(taken)
        .collect()
}

/// A few lines that say what was done, what comes next and how the place is left.
fn to_customer(
    state: &JobState,
    day: NaiveDate,
    done: &[Phrase],
    closed: Option<&DayClosed>,
) -> String {
    let title = state.plan.title.as_str();
    let head = [("title", title.into()), ("day", day.format("%-d %B %Y").to_string().into())];
    let mut lines = vec![Phrase::new("day_said.head", head).text];
    lines.extend(done.iter().map(|line| line.text.clone()));
    if let Some(closed) = closed {
        lines.push(left_says(closed).text);
        if !closed.tomorrow.trim().is_empty() {
            let tomorrow = [("text", closed.tomorrow.trim().into())];
            lines.push(Phrase::new("day_said.tomorrow", tomorrow).text);
        }
    } else if let Some(next) = stages(state).iter().find(|stand| stand.is_open()) {
        lines.push(Phrase::new("day_said.next", [("stage", next.stage.word().into())]).text);
    }
    lines.join("\n")
}

/// How a day was closed.
pub(super) fn closed_says(closed: &DayClosed) -> Phrase {
    let code = match (closed.worked_min, closed.tomorrow.trim().is_empty()) {
        (None, true) => "entry.day_closed",
        (None, false) => "entry.day_closed_tomorrow",
        (Some(_), true) => "entry.day_closed_hours",
        (Some(_), false) => "entry.day_closed_hours_tomorrow",
    };
    let values = [
        ("how", left_says(closed).text.into()),
        ("worked", worked(closed.worked_min.unwrap_or(0)).into()),
        ("text", closed.tomorrow.trim().into()),
    ];
    Phrase::new(code, values)
}

/// Hours and minutes.
fn worked(minutes: u32) -> String {
    match (minutes / 60, minutes % 60) {
        (0, minutes) => format!("{minutes} min"),
        (hours, 0) => format!("{hours} h"),
        (hours, minutes) => format!("{hours} h {minutes} min"),
    }
}

/// How the place is left.
fn left_says(closed: &DayClosed) -> Phrase {
    let code = match (closed.covered, closed.guarded) {
        (true, true) => "day_said.left_safe",
        (false, true) => "day_said.left_uncovered",
        (true, false) => "day_said.left_unguarded",
        (false, false) => "day_said.left_open",
    };
    Phrase::new(code, [("left", closed.left.trim().into())])
}

/// What is expected of a day, in words.
fn expected_says(forecast: &Forecast) -> Phrase {
    let code = match (forecast.low_c, forecast.high_c) {
        (None, None) => "expected",
        (Some(_), None) => "expected.low",
        (None, Some(_)) => "expected.high",
        (Some(_), Some(_)) => "expected.both",
    };
    let more = forecast.text.trim();
    let more = if more.is_empty() { String::new() } else { format!(", {more}") };
    let values = [
        ("sky", forecast.sky.word().into()),
        ("low", forecast.low_c.unwrap_or(0.0).into()),
        ("high", forecast.high_c.unwrap_or(0.0).into()),
        ("more", more.into()),
    ];
    Phrase::new(code, values)
}

/// What an entry says that expects the weather of a day.
pub(super) fn forecast_says(forecast: &Forecast) -> Phrase {
    let day = forecast.day.format("%-d %B").to_string();
    let values = [("day", day.into()), ("says", expected_says(forecast).text.into())];
    Phrase::new("entry.forecast", values)
}
