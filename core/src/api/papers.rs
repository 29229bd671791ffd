//! Papers: what they say, and that they were handed out.

use uuid::Uuid;

use super::log::log_draft;
use super::{Desk, Fault, job_view};
use crate::diary::{Body, RecordIssued};
use crate::record::{self, CareSheet, ChangeNote, OrderList, Record, SettingOut};
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
    let last = number.map_or_else(|| "draft".to_owned(), |number| number.to_string());
    let file = file_name("completion-record", &state.plan.title, job, &last, "pdf");
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

/// A paper that is not sealed, and under which name to keep it.
#[derive(Debug, Clone)]
pub struct SheetToMake {
    /// What it says.
    pub says: SheetData,
    /// Its file name in the papers folder.
    pub file: String,
}

/// What a paper that is not sealed says.
#[derive(Debug, Clone)]
pub enum SheetData {
    /// The setting-out sheet of the plan in force.
    SettingOut(Box<SettingOut>),
    /// The care sheet.
    CareSheet(Box<CareSheet>),
    /// The order list.
    OrderList(Box<OrderList>),
    /// The note of a change.
    ChangeNote(Box<ChangeNote>),
}

/// Which paper is asked for, by the kinds that `demo.json` names; a change note by its number.
///
/// # Errors
/// `not_found` for an unknown job or change, `bad_input` for a kind that there is not.
pub fn sheet_data(
    desk: &mut Desk,
    job: &str,
    kind: &str,
    change: Option<u32>,
) -> Result<SheetToMake, Fault> {
    let (_, entries, state) = job_view::load(desk, job)?;
    let now = desk.outside.now();
    let title = &state.plan.title;
    let named = |kind: &str, last: &str| file_name(kind, title, job, last, "pdf");
    let (says, file) = match kind {
        "setting_out" => {
            let sheet = record::setting_out(&state.plan, now);
            let sheet = sheet.map_err(|error| Fault::machine(&error.to_string()))?;
            (SheetData::SettingOut(Box::new(sheet)), named("setting-out", ""))
        }
        "care_sheet" => (
            SheetData::CareSheet(Box::new(record::care_sheet(&state, now))),
            named("care-sheet", ""),
        ),
        "order_list" => (
            SheetData::OrderList(Box::new(record::order_list(&state, now))),
            named("order-list", ""),
        ),
        "change_note" => {
            let made = state.changes.iter().find(|made| Some(made.number) == change);
            let made = made.ok_or_else(|| Fault::not_found("there is no such change"))?;
            let note = record::change_note(&state, &entries, made, now);
            let file = named("change-note", &note.number.to_string());
            (SheetData::ChangeNote(Box::new(note)), file)
        }
        other => return Err(Fault::bad_request(&format!("there is no paper {other}"))),
    };
    Ok(SheetToMake { says, file })
}

/// A job as files for other programs: dips and passes as CSV, shapes as GeoJSON, days as iCalendar;
/// each with its name.
///
/// # Errors
/// `not_found` for an unknown job.
pub fn job_files(desk: &mut Desk, job: &str) -> Result<Vec<(String, Vec<u8>)>, Fault> {
    let (_, _, state) = job_view::load(desk, job)?;
    let now = desk.outside.now();
    let broken = |error: &dyn std::fmt::Display| Fault::machine(&error.to_string());
    let dips = record::dips_csv(&state).map_err(|error| broken(&error))?;
    let passes = record::passes_csv(&state).map_err(|error| broken(&error))?;
    let shapes = serde_json::to_vec(&record::geojson(&state)).map_err(|error| broken(&error))?;
    let days = record::calendar(&state, now).into_bytes();
    let named = |what: &str, end: &str| file_name(what, &state.plan.title, job, "", end);
    Ok(vec![
        (named("dips", "csv"), dips),
        (named("passes", "csv"), passes),
        (named("shapes", "geojson"), shapes),
        (named("days", "ics"), days),
    ])
}

/// A file's name: what it is, the title, the end of the job's identity, and what tells it from others
/// of its kind.
fn file_name(what: &str, title: &str, job: &str, last: &str, end: &str) -> String {
    let title = file_part(title);
    let short: String = job.chars().filter(char::is_ascii_alphanumeric).skip(24).collect();
    let last = if last.is_empty() { String::new() } else { format!("-{last}") };
    format!("{what}-{title}-{short}{last}.{end}")
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
