//! Vibration of each person and day, from the passes that were logged.

use std::collections::BTreeMap;

use chrono::NaiveDate;

use super::fold::JobState;
use crate::compaction::Plant;
use crate::safety::Work;
use crate::units::Duration;

/// One machine in one person's day.
#[derive(Debug, Clone, PartialEq)]
pub struct Run {
    /// The machine, as logged.
    pub plant: String,
    /// Passes with it.
    pub passes: u32,
    /// The work of those passes whose machine's width and vibration are known.
    pub work: Option<Work>,
    /// Passes that are not reckoned, because the machine's width or vibration is not known.
    pub unknown: u32,
}

/// One person's day on the plates.
#[derive(Debug, Clone, PartialEq)]
pub struct PersonDay {
    /// The day, where the pass was made.
    pub day: NaiveDate,
    /// Who; empty where nobody was named.
    pub who: String,
    /// Machine by machine.
    pub runs: Vec<Run>,
}

impl PersonDay {
    /// The work that is reckoned.
    pub fn work(&self) -> Vec<Work> {
        self.runs.iter().filter_map(|run| run.work).collect()
    }

    /// Passes that are not reckoned.
    pub fn unknown(&self) -> u32 {
        self.runs.iter().map(|run| run.unknown).sum()
    }
}

/// Every person's days over some jobs, the newest first. A machine is looked up by the name the
/// pass was logged under, first in the job's plan, then in the person's own plant. A pass takes the
/// least time that its machine can make it in.
pub fn person_days(states: &[JobState], own: &[Plant]) -> Vec<PersonDay> {
    let mut days: BTreeMap<(NaiveDate, String), Vec<Run>> = BTreeMap::new();
    for state in states {
        for made in &state.passes {
            let name = made.pass.plant.as_str();
            let plant = state
                .plan
                .kit
                .plant_named(name)
                .or_else(|| own.iter().find(|plant| plant.is_named(name)));
            let work = plant.and_then(|plant| {
                let time = state.plan.pass_time(made.pass.layer, plant)?;
                Some(Work { magnitude: plant.shaking?.reckoned(), time })
            });
            let runs = days.entry((made.at.date_naive(), made.who.clone())).or_default();
            add(runs, name, work);
        }
    }
    days.into_iter().rev().map(|((day, who), runs)| PersonDay { day, who, runs }).collect()
}

fn add(runs: &mut Vec<Run>, plant: &str, work: Option<Work>) {
    let same = |run: &Run| {
        let magnitude = |work: Option<Work>| work.map(|work| work.magnitude.to_m_per_s2());
        run.plant == plant
            && (work.is_none() || run.work.is_none() || magnitude(run.work) == magnitude(work))
    };
    let place = runs.iter().position(same).unwrap_or(runs.len());
    if place == runs.len() {
        runs.push(Run { plant: plant.to_owned(), passes: 0, work: None, unknown: 0 });
    }
    if let Some(run) = runs.get_mut(place) {
        run.passes += 1;
        match work {
            None => run.unknown += 1,
            Some(more) => {
                let time = run.work.map_or(Duration::ZERO, |work| work.time) + more.time;
                run.work = Some(Work { time, ..more });
            }
        }
    }
}
