//! Papers: what they say, and that they were handed out.

use super::log::log_draft;
use super::{Desk, Fault, job_view};
use crate::diary::{Body, RecordIssued};
use crate::record::{self, Record};
use crate::store;

/// A completion record to set, and under which name to keep it.
#[derive(Debug, Clone)]
pub struct PaperToMake {
    /// What it says.
    pub record: Record,
    /// Its file name in the papers folder.
    pub file: String,
}

/// What a completion record of a job says now: the next issue, or a draft.
///
/// # Errors
/// `not_found` for an unknown job; `bad_input` where an issue is asked for and nobody is named as
/// holding the phone.
pub fn record_data(desk: &mut Desk, job: &str, issue: bool) -> Result<PaperToMake, Fault> {
    let (_, entries, state) = job_view::load(desk, job)?;
    let who = desk.store.read(store::person)?;
    let number = if issue {
        let last = state.records.iter().map(|made| made.record.number).max().unwrap_or(0);
        Some(last.saturating_add(1))
    } else {
        None
    };
    let now = desk.outside.now();
    let record = record::build(&state, &entries, number, now, &who);
    let title = file_part(&state.plan.title);
    let short: String = job.chars().filter(char::is_ascii_alphanumeric).skip(24).collect();
    let file = match number {
        Some(number) => format!("completion-record-{title}-{short}-{number}.pdf"),
        None => format!("completion-record-{title}-{short}-draft.pdf"),
    };
    Ok(PaperToMake { record, file })
}

/// Keeps a paper that was set, and logs its issue.
///
/// # Errors
/// [`Fault`] where the disk is full; nothing is logged then.
pub fn issue_record(
    desk: &mut Desk,
    job: &str,
    paper: &PaperToMake,
    pdf: &[u8],
) -> Result<(), Fault> {
    let (id, _, state) = job_view::load(desk, job)?;
    if state.records.iter().any(|made| Some(made.record.number) == paper.record.number) {
        return Err(Fault::bad_request("this issue number was given while the paper was made"));
    }
    desk.store.keep_paper(&paper.file, pdf)?;
    if let Some(number) = paper.record.number {
        let body = Body::Record(RecordIssued { number, file: paper.file.clone() });
        log_draft(desk, id, None, None, body)?;
    }
    Ok(())
}

/// A title as a part of a file name: ASCII letters and digits, with single hyphens.
fn file_part(title: &str) -> String {
    let mut part = String::new();
    for c in title.chars().take(60) {
        if c.is_ascii_alphanumeric() {
            part.push(c.to_ascii_lowercase());
        } else if !part.is_empty() && !part.ends_with('-') {
            part.push('-');
        }
    }
    let part = part.trim_end_matches('-');
    if part.is_empty() { "job".to_owned() } else { part.to_owned() }
}
