//! Papers: what they say, and that they were handed out.

use uuid::Uuid;

use super::log::log_draft;
use super::{Desk, Fault, job_view};
use crate::diary::{Body, RecordIssued};
use crate::record::{self, Record};
use crate::store::{self, DeviceKey};

/// A completion record to set, and under which name to keep it.
#[derive(Debug, Clone)]
pub struct PaperToMake {
    /// What it says.
    pub record: Record,
    /// Its file name in the papers folder.
    pub file: String,
    /// What an issue is sealed with; a draft is not sealed.
    pub sealing: Option<Sealing>,
}

/// What a paper is sealed with.
#[derive(Debug, Clone)]
pub struct Sealing {
    /// The job.
    pub job: Uuid,
    /// The whole diary as JSON Lines.
    pub diary: Vec<u8>,
    /// How many entries it holds.
    pub entries: u32,
    /// The device's key.
    pub key: DeviceKey,
}

/// What a completion record of a job says now: the next issue, or a draft.
///
/// # Errors
/// `not_found` for an unknown job; `machine` or `disk_full` where an issue is asked for and there is
/// no key to seal it with and none can be made.
pub fn record_data(desk: &mut Desk, job: &str, issue: bool) -> Result<PaperToMake, Fault> {
    let (id, entries, state) = job_view::load(desk, job)?;
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
    let sealing = match number {
        Some(_) => Some(Sealing {
            job: id,
            diary: record::diary_lines(&entries).map_err(|e| Fault::machine(&e.to_string()))?,
            entries: u32::try_from(entries.len()).unwrap_or(u32::MAX),
            key: desk.store.device_key(desk.outside.as_mut())?,
        }),
        None => None,
    };
    Ok(PaperToMake { record, file, sealing })
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
        let body = Body::Record(RecordIssued {
            number,
            file: paper.file.clone(),
            sha256: record::sha256(pdf),
            key: paper.sealing.as_ref().map(|seal| seal.key.public()).unwrap_or_default(),
        });
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
