//! What is the person's own on this phone: plant, bags and vehicles, days on the plates, rates.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};
use serde_json::{Value, json};
use ts_rs::TS;

use super::requests::Nothing;
use super::tables::{VibrationView, exposure_view};
use super::views::Changed;
use super::{Desk, Fault, job_view};
use crate::compaction::PlantKind;
use crate::job::{JobState, PersonDay, own_rates, person_days};
use crate::plan::OwnKit;
use crate::quantities::{Rate, Task, VehicleKind};
use crate::store;

/// A person's own plant, bags and vehicles, each written as in a plan file, so that a screen puts
/// them into a new plan as they are.
#[derive(Debug, Clone, Default, Serialize, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct OwnKitView {
    /// Machines: the plan file's `plant`.
    #[serde(default)]
    pub plant: Vec<OwnPlant>,
    /// Bag sizes: the plan file's `bags`.
    #[serde(default)]
    pub bags: BTreeMap<String, f64>,
    /// Vehicles: the plan file's `vehicles`.
    #[serde(default)]
    pub vehicles: Vec<OwnVehicle>,
}

/// A machine as a plan file writes it.
#[derive(Debug, Clone, Serialize, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct OwnPlant {
    /// The name that passes are logged under.
    pub name: String,
    /// What it is.
    pub kind: PlantKind,
    /// Its rating in the unit of its kind.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[ts(optional)]
    pub rating: Option<f64>,
    /// Working mass.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[ts(optional)]
    pub mass_kg: Option<f64>,
    /// Area in contact with the ground.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[ts(optional)]
    pub contact_m2: Option<f64>,
    /// Length of the base plate.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[ts(optional)]
    pub frame_length_mm: Option<f64>,
    /// Width of the plate or drum.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[ts(optional)]
    pub width_mm: Option<f64>,
    /// How far one strip laps over the last.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[ts(optional)]
    pub overlap_mm: Option<f64>,
    /// How fast it travels.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[ts(optional)]
    pub speed_m_per_min: Option<f64>,
    /// How hard it shakes.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[ts(optional)]
    pub vibration_m_s2: Option<f64>,
    /// How that is known: `declared` by the maker, which is doubled, or `measured` at work.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[ts(optional, type = "\"declared\" | \"measured\"")]
    pub vibration: Option<String>,
}

/// A vehicle as a plan file writes it.
#[derive(Debug, Clone, Serialize, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct OwnVehicle {
    /// The person's name for it.
    pub name: String,
    /// What it is.
    pub kind: VehicleKind,
    /// Loose volume it holds.
    pub volume_m3: f64,
    /// Mass it may carry.
    pub mass_t: f64,
}

/// The person's own kit; empty until it is kept.
///
/// # Errors
/// `damaged` where what was kept cannot be read.
pub fn own_kit(desk: &mut Desk, _: Nothing) -> Result<OwnKitView, Fault> {
    match desk.store.read(store::own_kit)? {
        None => Ok(OwnKitView::default()),
        Some(value) => serde_json::from_value(value).map_err(|error| Fault {
            code: "damaged",
            details: json!({ "text": error.to_string() }),
        }),
    }
}

/// Keeps the person's own kit in place of the one before.
///
/// # Errors
/// `bad_input` with every problem, at the places of a plan file; nothing is kept then.
pub fn keep_own_kit(desk: &mut Desk, kit: OwnKitView) -> Result<Vec<Changed>, Fault> {
    let value = serde_json::to_value(&kit).map_err(|error| Fault::machine(&error.to_string()))?;
    OwnKit::read(&value)?;
    desk.store.write(|transaction| store::set_own_kit(transaction, &value))?;
    Ok(vec![Changed::Settings])
}

/// The kit as the core reads it.
fn read_own(desk: &Desk) -> Result<OwnKit, Fault> {
    let value = desk.store.read(store::own_kit)?;
    Ok(OwnKit::read(&value.unwrap_or_else(|| Value::Object(serde_json::Map::new())))?)
}

/// Which jobs' passes are counted.
#[derive(Debug, Clone, Deserialize, TS)]
pub struct VibrationDaysAsked {
    /// One job; left out, all of them, because a day is one day whatever the job.
    #[ts(optional)]
    pub job: Option<String>,
}

/// One person's day on the plates.
#[derive(Debug, Clone, Serialize, TS)]
pub struct PersonDayView {
    /// The day: 2026-04-07.
    pub day: String,
    /// Who; empty where nobody was named.
    pub who: String,
    /// Machine by machine.
    pub runs: Vec<RunView>,
    /// The exposure of what is reckoned.
    pub exposure: VibrationView,
    /// Passes that are not reckoned, because the machine's width or vibration is not known.
    pub unknown_passes: u32,
}

/// One machine in a person's day.
#[derive(Debug, Clone, Serialize, TS)]
pub struct RunView {
    /// The machine, as logged.
    pub plant: String,
    /// Passes with it.
    pub passes: u32,
    /// The least time they take, minutes; none where that cannot be told.
    pub minutes: Option<f64>,
    /// What they are reckoned with: the maker's value doubled, or the measured one.
    pub reckoned_m_s2: Option<f64>,
    /// Passes among them that are not reckoned.
    pub unknown_passes: u32,
}

/// Every person's vibration, day by day, the newest first, from the passes that were logged.
///
/// # Errors
/// `not_found` for an unknown job.
pub fn vibration_days(
    desk: &mut Desk,
    asked: VibrationDaysAsked,
) -> Result<Vec<PersonDayView>, Fault> {
    let own = read_own(desk)?;
    let states = match &asked.job {
        Some(job) => vec![job_view::load(desk, job)?.2],
        None => all_jobs(desk)?,
    };
    Ok(person_days(&states, &own.plant).iter().map(person_day).collect())
}

fn person_day(day: &PersonDay) -> PersonDayView {
    PersonDayView {
        day: day.day.to_string(),
        who: day.who.clone(),
        runs: day
            .runs
            .iter()
            .map(|run| RunView {
                plant: run.plant.clone(),
                passes: run.passes,
                minutes: run.work.map(|work| work.time.to_min()),
                reckoned_m_s2: run.work.map(|work| work.magnitude.to_m_per_s2()),
                unknown_passes: run.unknown,
            })
            .collect(),
        exposure: exposure_view(&day.work()),
        unknown_passes: day.unknown(),
    }
}

/// Every job of the store that can be folded.
fn all_jobs(desk: &Desk) -> Result<Vec<JobState>, Fault> {
    let diaries = desk.store.read(|connection| {
        store::jobs(connection)?
            .iter()
            .map(|row| store::entries_of(connection, row.id))
            .collect::<Result<Vec<_>, _>>()
    })?;
    Ok(diaries.iter().filter_map(|entries| crate::job::fold(entries).ok()).collect())
}

/// What the crew's own finished jobs say of a task.
#[derive(Debug, Clone, Serialize, TS)]
pub struct OwnRateView {
    /// The task.
    pub task: Task,
    /// Its key in the plan file's `rates`.
    pub key: String,
    /// One person's hours for one of its units, by these jobs.
    pub each_h: f64,
    /// The book's, for stretcher bond.
    pub book_h: f64,
    /// Jobs it rests on.
    pub jobs: u32,
    /// One person's hours on these, all tasks of the same stages together.
    pub worked_h: f64,
    /// What the book's rates would have made of them.
    pub by_the_book_h: f64,
}

/// The crew's rates from jobs handed over whose stages were closed with their hours.
///
/// # Errors
/// [`Fault`] where the store cannot be read.
pub fn own_rates_view(desk: &mut Desk, _: Nothing) -> Result<Vec<OwnRateView>, Fault> {
    let pattern = crate::quantities::Pattern::Stretcher;
    Ok(own_rates(&all_jobs(desk)?)
        .into_iter()
        .map(|own| OwnRateView {
            task: own.rate.task,
            key: own.rate.task.key().to_owned(),
            each_h: own.rate.each.to_h(),
            book_h: Rate::of_the_book(own.rate.task, pattern).each.to_h(),
            jobs: own.jobs,
            worked_h: own.worked.to_h(),
            by_the_book_h: own.by_the_book.to_h(),
        })
        .collect())
}
