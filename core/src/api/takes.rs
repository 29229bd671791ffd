//! What a plan takes: lifts and passes, loads, hours, ranges, weight moved by hand. For the build-up
//! page of a plan that is being written, and for a job.

use serde::{Deserialize, Serialize};
use ts_rs::TS;

use super::requests::{OfJob, PlanText};
use super::{Desk, Fault, job_view};
use crate::buildup::Layer;
use crate::compaction::{Specification, Verdict};
use crate::job::Stage;
use crate::plan::Plan;
use crate::quantities::{
    Assumption, FilledBy, Headline, Measure, Range, Supplies, TakeOff, Task, VehicleKind, loads,
};
use crate::safety::{Moved, by_hand, trips};
use crate::words::Phrase;

/// What a plan takes.
#[derive(Debug, Clone, Serialize, Deserialize, TS)]
pub struct TakesView {
    /// The specification that passes are held against; none until one is named.
    pub specification: Option<Specification>,
    /// The machine that compacts the stone; none until one is named.
    pub plant: Option<String>,
    /// Lifts of the sub-base from the bottom up.
    pub lifts: Vec<PlannedLift>,
    /// What the specification says of the sub-base under that machine; none until both are named.
    pub compaction: Option<CompactionView>,
    /// The least time of one pass over the stone, minutes; none where the machine's width is not
    /// known.
    pub pass_min: Option<f64>,
    /// Spoil in loads of each vehicle.
    pub loads: Vec<LoadsView>,
    /// One person's hours, task by task.
    pub hours: Vec<HoursView>,
    /// All of them.
    pub person_hours: f64,
    /// Quantities as ranges.
    pub ranges: Vec<RangeView>,
    /// What is moved by hand, with trips of the barrow.
    pub by_hand: Vec<MovedView>,
    /// All of it.
    pub by_hand_t: f64,
}

/// One lift of the sub-base as planned.
#[derive(Debug, Clone, Copy, Serialize, Deserialize, TS)]
pub struct PlannedLift {
    /// Compacted thickness.
    pub thickness_mm: f64,
    /// Passes over it; none where no row says.
    pub passes: Option<u32>,
}

/// What a specification says of a layer.
#[derive(Debug, Clone, Serialize, Deserialize, TS)]
pub struct CompactionView {
    /// In a word, for the whole layer in one lift.
    pub verdict: Verdict,
    /// In words, with what to do.
    pub says: Phrase,
    /// What to mind besides.
    pub cautions: Vec<Phrase>,
    /// The document.
    pub source: String,
    /// How well its row is known.
    pub status: String,
}

/// Spoil in loads of a vehicle.
#[derive(Debug, Clone, Serialize, Deserialize, TS)]
pub struct LoadsView {
    /// The person's name for it.
    pub vehicle: String,
    /// What it is.
    pub kind: VehicleKind,
    /// Loads, at the least and at the most swell.
    pub loads: [u32; 2],
    /// What fills it first at the most.
    pub filled_by: FilledBy,
}

/// Hours of a task.
#[derive(Debug, Clone, Serialize, Deserialize, TS)]
pub struct HoursView {
    /// The task.
    pub task: Task,
    /// Its name.
    pub says: Phrase,
    /// Its key in the plan file's `rates`.
    pub key: String,
    /// How many of its units: m³, m² or t.
    pub units: f64,
    /// One person's hours for one of them.
    pub each_h: f64,
    /// One person's hours for all.
    pub hours: f64,
}

/// A quantity as a range, in its measure.
#[derive(Debug, Clone, Serialize, Deserialize, TS)]
pub struct RangeView {
    /// Which.
    pub what: Headline,
    /// Its name.
    pub says: Phrase,
    /// Its measure.
    pub measure: Measure,
    /// With everything as planned.
    pub usual: f64,
    /// The least and the most of it.
    pub between: [f64; 2],
    /// What moves it, the strongest first.
    pub moved_by: Vec<MoverView>,
}

/// What one assumption does to a quantity.
#[derive(Debug, Clone, Serialize, Deserialize, TS)]
pub struct MoverView {
    /// Which.
    pub assumption: Assumption,
    /// Its name.
    pub says: Phrase,
    /// Its least and most, in its own unit.
    pub between: [f64; 2],
    /// The quantity at these, the smaller first.
    pub quantity: [f64; 2],
}

/// Something moved by hand.
#[derive(Debug, Clone, Serialize, Deserialize, TS)]
pub struct MovedView {
    /// What.
    pub what: Moved,
    /// Its name.
    pub says: Phrase,
    /// The stage that moves it.
    pub stage: Stage,
    /// How much.
    pub tonnes: f64,
    /// Trips of the barrow.
    pub barrows: u32,
}

/// What a plan that is being written takes.
///
/// # Errors
/// `bad_input` with every problem of the plan.
pub fn plan_takes(_: &mut Desk, arguments: PlanText) -> Result<TakesView, Fault> {
    Ok(takes(&Plan::parse(&arguments.text)?))
}

/// What a job's plan takes.
///
/// # Errors
/// `not_found` for an unknown job.
pub fn job_takes(desk: &mut Desk, arguments: OfJob) -> Result<TakesView, Fault> {
    let (_, _, state) = job_view::load(desk, &arguments.job)?;
    Ok(takes(&state.plan))
}

fn takes(plan: &Plan) -> TakesView {
    let amounts = plan.take_off();
    let supplies = plan.supplies(&amounts);
    let plant = plan.kit.plant.first();
    let hours = hours(plan, &amounts, &supplies);
    let portions = plan.portions(&amounts, &supplies);
    TakesView {
        specification: plan.kit.specification,
        plant: plant.map(|plant| plant.name.clone()),
        lifts: (1..)
            .zip(&plan.layers.lifts)
            .map(|(lift, thickness)| PlannedLift {
                thickness_mm: thickness.to_mm(),
                passes: plant
                    .and_then(|plant| plan.passes_wanted(Layer::SubBase, Some(lift), &plant.name)),
            })
            .collect(),
        compaction: plan.compaction().map(|answer| CompactionView {
            verdict: answer.verdict,
            says: answer.says,
            cautions: answer.cautions,
            source: answer.source,
            status: answer.status,
        }),
        pass_min: plant
            .and_then(|plant| plan.pass_time(Layer::SubBase, plant))
            .map(|time| time.to_min()),
        loads: loads_of(plan, &amounts, &supplies),
        person_hours: hours.iter().map(|hours| hours.hours).sum(),
        hours,
        ranges: plan.ranges(&amounts).iter().map(range).collect(),
        by_hand: moved(plan, &amounts, &supplies),
        by_hand_t: by_hand(&portions).to_t(),
    }
}

fn named(word: &str) -> Phrase {
    Phrase::new(word.trim_start_matches('@'), [])
}

fn loads_of(plan: &Plan, amounts: &TakeOff, supplies: &Supplies) -> Vec<LoadsView> {
    plan.carriers()
        .map(|vehicle| {
            let [low, high] = amounts.loose.map(|loose| loads(loose, supplies.spoil, vehicle));
            LoadsView {
                vehicle: vehicle.name.clone(),
                kind: vehicle.kind,
                loads: [low.count, high.count],
                filled_by: high.filled_by,
            }
        })
        .collect()
}

fn hours(plan: &Plan, amounts: &TakeOff, supplies: &Supplies) -> Vec<HoursView> {
    plan.hours(amounts, supplies)
        .into_iter()
        .map(|hours| HoursView {
            task: hours.rate.task,
            says: named(hours.rate.task.word()),
            key: hours.rate.task.key().to_owned(),
            units: hours.units,
            each_h: hours.rate.each.to_h(),
            hours: hours.time.to_h(),
        })
        .collect()
}

fn range(range: &Range) -> RangeView {
    RangeView {
        what: range.headline,
        says: named(range.headline.word()),
        measure: range.headline.measure(),
        usual: range.usual,
        between: range.between,
        moved_by: range
            .movers
            .iter()
            .map(|mover| MoverView {
                assumption: mover.assumption,
                says: named(mover.assumption.word()),
                between: mover.between,
                quantity: mover.quantity,
            })
            .collect(),
    }
}

fn moved(plan: &Plan, amounts: &TakeOff, supplies: &Supplies) -> Vec<MovedView> {
    let Some(barrow) = plan.kit.barrow() else { return Vec::new() };
    trips(&plan.portions(amounts, supplies), barrow)
        .into_iter()
        .map(|row| MovedView {
            what: row.portion.what,
            says: named(row.portion.what.word()),
            stage: stage_of(row.portion.what),
            tonnes: row.portion.mass.to_t(),
            barrows: row.trips,
        })
        .collect()
}

/// The stage that moves something.
const fn stage_of(what: Moved) -> Stage {
    match what {
        Moved::Spoil => Stage::Excavate,
        Moved::Stone => Stage::SubBase,
        Moved::Sand => Stage::Bed,
        Moved::Blocks => Stage::Lay,
        Moved::JointSand => Stage::Joint,
        Moved::Concrete => Stage::RestrainEdges,
    }
}
