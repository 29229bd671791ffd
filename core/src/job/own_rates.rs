//! A crew's own rates, from the hours they wrote down when they closed stages.

use super::fold::JobState;
use super::{Stage, StageState, stages};
use crate::quantities::{Rate, Task, units_of};
use crate::units::Duration;

/// What a crew's own jobs say of a task.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OwnRate {
    /// The task, with one person's time for one of its units.
    pub rate: Rate,
    /// Jobs it rests on.
    pub jobs: u32,
    /// One person's hours on these, all tasks of the same stages together.
    pub worked: Duration,
    /// What the book's rates would have made of them.
    pub by_the_book: Duration,
}

/// Stages whose hours go together, and the tasks that the book has rates for in them.
const GROUPS: [(&[Stage], &[Task]); 6] = [
    (&[Stage::Excavate], &[Task::Dig, Task::Spoil]),
    (&[Stage::CompactFormation], &[Task::Formation]),
    (&[Stage::SubBase], &[Task::SubBase]),
    (&[Stage::Bed, Stage::Screed, Stage::Lay, Stage::Cut], &[Task::Lay]),
    (&[Stage::Joint], &[Task::Joint]),
    (&[Stage::RestrainEdges], &[Task::Haunch]),
];

/// A crew's rates from jobs that are handed over: the book's rates, times what these jobs took
/// against what the book would have made of them. A job counts for stages that are all closed with
/// their hours.
pub fn own_rates(states: &[JobState]) -> Vec<OwnRate> {
    let finished: Vec<&JobState> = states.iter().filter(|state| is_handed_over(state)).collect();
    GROUPS.iter().flat_map(|(stages, tasks)| of_group(&finished, stages, tasks)).collect()
}

fn is_handed_over(state: &JobState) -> bool {
    stages(state).iter().any(|stand| {
        stand.stage == Stage::HandOver
            && matches!(stand.state, StageState::Done | StageState::PassedWithReason)
    })
}

fn of_group(finished: &[&JobState], stages: &[Stage], tasks: &[Task]) -> Vec<OwnRate> {
    let mut jobs = 0;
    let (mut worked, mut by_the_book) = (Duration::ZERO, Duration::ZERO);
    let mut book: Vec<Duration> = vec![Duration::ZERO; tasks.len()];
    let mut units: Vec<f64> = vec![0.0; tasks.len()];
    for state in finished {
        let Some(hours) = worked_on(state, stages) else { continue };
        let plan = &state.plan;
        let amounts = plan.take_off();
        let supplies = plan.supplies(&amounts);
        jobs += 1;
        worked += hours;
        for ((task, book), units) in tasks.iter().zip(&mut book).zip(&mut units) {
            let of_job = units_of(*task, &amounts, &supplies, plan.outline.area());
            let time = Rate::of_the_book(*task, plan.bond.pattern).each * of_job;
            *book += time;
            *units += of_job;
            by_the_book += time;
        }
    }
    if jobs == 0 || by_the_book <= Duration::ZERO {
        return Vec::new();
    }
    let factor = worked / by_the_book;
    tasks
        .iter()
        .zip(book.iter().zip(&units))
        .filter(|(_, (_, units))| **units > 0.0)
        .map(|(task, (book, units))| OwnRate {
            rate: Rate { task: *task, each: *book * (factor / units) },
            jobs,
            worked,
            by_the_book,
        })
        .collect()
}

/// The hours of all of some stages together, where each is closed with its hours.
fn worked_on(state: &JobState, stages: &[Stage]) -> Option<Duration> {
    stages
        .iter()
        .map(|stage| {
            let closing = state.closings.get(stage).filter(|closing| closing.done)?;
            closing.worked_min.map(|minutes| Duration::from_min(f64::from(minutes)))
        })
        .sum()
}
