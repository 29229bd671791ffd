//! Hours by stage, from rates.

use serde::{Deserialize, Serialize};
use ts_rs::TS;

use super::{Pattern, Supplies, TakeOff};
use crate::buildup::figure;
use crate::units::{Area, Duration};

/// Work that a rate is held for, by the stage that it belongs to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum Task {
    /// Dig by hand, per cubic metre in the solid.
    Dig,
    /// Wheel the spoil away and load it, per cubic metre loose.
    Spoil,
    /// Trim and compact the formation, per square metre of dig.
    Formation,
    /// Wheel, spread and compact stone by lifts, per tonne.
    SubBase,
    /// Bed and lay, per square metre of paving.
    Lay,
    /// Fill joints, plate, sweep, per square metre of paving.
    Joint,
    /// Mix and place the haunch, per cubic metre.
    Haunch,
}

impl Task {
    /// Every one, in working order.
    pub const ALL: [Task; 7] = [
        Task::Dig,
        Task::Spoil,
        Task::Formation,
        Task::SubBase,
        Task::Lay,
        Task::Joint,
        Task::Haunch,
    ];

    /// Its key in the plan's `rates`.
    pub const fn key(self) -> &'static str {
        match self {
            Task::Dig => "dig_h_per_m3",
            Task::Spoil => "spoil_h_per_m3",
            Task::Formation => "formation_h_per_m2",
            Task::SubBase => "sub_base_h_per_t",
            Task::Lay => "lay_h_per_m2",
            Task::Joint => "joint_h_per_m2",
            Task::Haunch => "haunch_h_per_m3",
        }
    }

    /// The key of its figure, which for laying depends on the bond.
    pub const fn figure(self, pattern: Pattern) -> &'static str {
        match (self, pattern) {
            (Task::Dig, _) => "rate_dig",
            (Task::Spoil, _) => "rate_spoil",
            (Task::Formation, _) => "rate_formation",
            (Task::SubBase, _) => "rate_sub_base",
            (Task::Lay, Pattern::Herringbone45 | Pattern::Herringbone90) => "rate_lay_herringbone",
            // No printed rate is held for stretcher and stack bond: as basketweave.
            (Task::Lay, Pattern::Stretcher | Pattern::Stack | Pattern::Basketweave) => {
                "rate_lay_basketweave"
            }
            (Task::Joint, _) => "rate_joint",
            (Task::Haunch, _) => "rate_haunch",
        }
    }

    /// The key of its name in the catalogue of words.
    pub const fn word(self) -> &'static str {
        match self {
            Task::Dig => "@task.dig",
            Task::Spoil => "@task.spoil",
            Task::Formation => "@task.formation",
            Task::SubBase => "@task.sub_base",
            Task::Lay => "@task.lay",
            Task::Joint => "@task.joint",
            Task::Haunch => "@task.haunch",
        }
    }

    /// The name of the stage that its hours belong to.
    pub const fn stage(self) -> &'static str {
        match self {
            Task::Dig | Task::Spoil => "excavate",
            Task::Formation => "compact_formation",
            Task::SubBase => "sub_base",
            Task::Lay => "lay",
            Task::Joint => "joint",
            Task::Haunch => "restrain_edges",
        }
    }
}

/// How long one person takes for one of a task's units.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rate {
    /// The task.
    pub task: Task,
    /// For one unit.
    pub each: Duration,
}

impl Rate {
    /// The book's rate for a task under a bond.
    pub fn of_the_book(task: Task, pattern: Pattern) -> Rate {
        Rate { task, each: Duration::from_h(figure(task.figure(pattern)).number()) }
    }
}

/// Hours of one task.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Hours {
    /// The rate.
    pub rate: Rate,
    /// How many of its units: m³, m² or t.
    pub units: f64,
    /// One person's time.
    pub time: Duration,
}

/// How many of a task's units a job has.
pub fn units_of(task: Task, amounts: &TakeOff, supplies: &Supplies, paved: Area) -> f64 {
    let [low, high] = amounts.loose.map(|volume| volume.to_m3());
    match task {
        Task::Dig => amounts.dig.volume.to_m3(),
        Task::Spoil => (low + high) / 2.0,
        Task::Formation => amounts.dig.area.to_m2(),
        Task::SubBase => amounts.stone().to_t(),
        Task::Lay | Task::Joint => paved.to_m2(),
        Task::Haunch => amounts.haunch.to_m3() + supplies.mortar.map_or(0.0, |m| m.volume.to_m3()),
    }
}

/// One person's hours, task by task; tasks of nothing are left out.
pub fn hours(rates: &[Rate], amounts: &TakeOff, supplies: &Supplies, paved: Area) -> Vec<Hours> {
    rates
        .iter()
        .map(|rate| {
            let units = units_of(rate.task, amounts, supplies, paved);
            Hours { rate: *rate, units, time: rate.each * units }
        })
        .filter(|hours| hours.units > 0.0)
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_task_has_a_rate_of_the_book() {
        // Spon's Q24 (seen): herringbone 1.50 h/m2 and basketweave 1.20 h/m2, bed included.
        let rate = |task, pattern| Rate::of_the_book(task, pattern).each.to_h();
        assert_eq!(rate(Task::Lay, Pattern::Herringbone45), 1.5);
        assert_eq!(rate(Task::Lay, Pattern::Basketweave), 1.2);
        for task in Task::ALL {
            assert!(rate(task, Pattern::Stretcher) > 0.0, "{task:?}");
        }
    }
}
