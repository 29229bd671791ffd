//! The shelf of jobs, who holds the phone, and unsaved input.

use super::requests::{KeepDraft, Nothing, SetPerson};
use super::views::{Changed, Drafts, Shelf, ShelfJob};
use super::{Desk, Fault, plan_view};
use crate::job::{JobState, fold, next, stages};
use crate::plan::Problem;
use crate::store::{self, JobRow, Notice, StoreError};
use crate::words::Phrase;

/// The jobs with what is next on each.
///
/// # Errors
/// [`Fault`] where the store cannot be read. A job that cannot be folded is left out.
pub fn shelf(desk: &mut Desk, _: Nothing) -> Result<Shelf, Fault> {
    let (jobs, person, people) = desk.store.read(|connection| {
        let mut jobs = Vec::new();
        for row in store::jobs(connection)? {
            let entries = store::entries_of(connection, row.id)?;
            let last_at = entries.last().map(|e| e.recorded_at.to_rfc3339()).unwrap_or_default();
            if let Ok(state) = fold(&entries) {
                jobs.push(shelf_job(&row, &state, last_at));
            }
        }
        Ok((jobs, store::person(connection)?, store::people(connection)?))
    })?;
    let notices = desk.store.notices().iter().map(notice).collect();
    Ok(Shelf { jobs, person, people, notices })
}

fn shelf_job(row: &JobRow, state: &JobState, last_at: String) -> ShelfJob {
    let stages = stages(state);
    ShelfJob {
        id: row.id.to_string(),
        title: state.plan.title.clone(),
        r#use: state.plan.r#use,
        section: plan_view::section(&state.plan, Some((state, &stages))),
        next: next(&stages),
        entries: row.entries,
        last_at,
    }
}

/// What opening the store has to tell, in words.
pub fn notice(notice: &Notice) -> Phrase {
    match notice {
        Notice::DamagedMovedAside(file) => {
            Phrase::new("notice.damaged", [("file", file.as_str().into())])
        }
        Notice::Upgraded(file) => Phrase::new("notice.upgraded", [("file", file.as_str().into())]),
    }
}

/// Sets who holds the phone.
///
/// # Errors
/// `bad_input` for a name of nothing, of more than 80 characters or of more than one line.
pub fn set_person(desk: &mut Desk, arguments: SetPerson) -> Result<Vec<Changed>, Fault> {
    let name = arguments.name.trim();
    if name.is_empty() || name.chars().count() > 80 || name.chars().any(char::is_control) {
        return Err(Fault::bad_input(&[Problem::new(
            "/name",
            "this is no name",
            "a name of 1 to 80 characters on one line",
        )]));
    }
    desk.store.write(|transaction| store::set_person(transaction, name))?;
    Ok(vec![Changed::Settings, Changed::Shelf])
}

/// Input that was typed and not yet logged.
///
/// # Errors
/// [`Fault`] where the store cannot be read.
pub fn drafts(desk: &mut Desk, _: Nothing) -> Result<Drafts, Fault> {
    Ok(Drafts(desk.store.read(store::drafts)?))
}

/// Keeps what was typed, or forgets it.
///
/// # Errors
/// [`Fault`] where the store cannot be written.
pub fn keep_draft(desk: &mut Desk, arguments: KeepDraft) -> Result<Vec<Changed>, Fault> {
    desk.store.write(|transaction| -> Result<(), StoreError> {
        store::keep_draft(transaction, &arguments.key, &arguments.value)
    })?;
    Ok(Vec::new())
}
