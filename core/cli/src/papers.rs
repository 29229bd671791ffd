//! Papers and their checks: `record`, `verify`.

use std::path::Path;

use fairfall_core::api::{self, Desk, PaperToMake};
use fairfall_papers::{Made, PaperSize, completion_record};
use serde_json::{Value, json};

use crate::arguments::Paper;
use crate::outcome::{Outcome, Trouble};
use crate::system::open;

impl From<Paper> for PaperSize {
    fn from(paper: Paper) -> Self {
        match paper {
            Paper::A4 => PaperSize::A4,
            Paper::Letter => PaperSize::Letter,
        }
    }
}

/// Issues a completion record: set, written, then logged.
pub fn record(store: &Path, job: &str, out: &Path, paper: Paper) -> Result<Outcome, Trouble> {
    let mut desk = open(store)?;
    let (to_make, made) = issue(&mut desk, job, paper.into(), Some(out))?;
    let number = to_make.record.number;
    let missing = missing_photos(&desk, &to_make);
    let json = json!({
        "file": out, "kept": to_make.file, "number": number, "pages": made.pages,
        "not_measured": to_make.record.not_measured, "exceptions": to_make.record.exceptions.len(),
        "unfinished": to_make.record.unfinished, "changed_entries": to_make.record.changed_entries,
        "missing_photos": missing,
    });
    let mut text = format!(
        "completion record, issue {}, {} pages: {}\n",
        number.unwrap_or_default(),
        made.pages,
        out.display()
    );
    let counts = [
        (to_make.record.unfinished, "stages before the handing over are not closed"),
        (to_make.record.changed_entries, "entries are not as they were written: see `verify`"),
        (missing, "photos are not there, or not as they were kept: see `verify`"),
    ];
    let mut attention = false;
    for (count, what) in counts.into_iter().filter(|(count, _)| *count > 0) {
        attention = true;
        text.push_str(&format!("{count} {what}\n"));
    }
    Ok(Outcome { json: Some(json), text, attention })
}

/// Photos of a record that the store does not hold as they were kept.
fn missing_photos(desk: &Desk, paper: &PaperToMake) -> u32 {
    let missing = paper.record.photos.iter().filter(|p| !api::photo_holds(desk, &p.sha256)).count();
    u32::try_from(missing).unwrap_or(u32::MAX)
}

/// Sets the next issue of a job's completion record, writes it, and logs it.
pub fn issue(
    desk: &mut Desk,
    job: &str,
    paper: PaperSize,
    out: Option<&Path>,
) -> Result<(PaperToMake, Made), Trouble> {
    let to_make = api::record_data(desk, job, true)?;
    let photos = |sha256: &str| desk.store.photo(sha256, false).ok();
    let made = completion_record(&to_make.record, &photos, paper)
        .map_err(|error| Trouble::Machine(error.to_string()))?;
    if let Some(out) = out {
        std::fs::write(out, &made.pdf)
            .map_err(|error| Trouble::Machine(format!("{}: {error}", out.display())))?;
    }
    api::issue_record(desk, job, &to_make, &made.pdf)?;
    Ok((to_make, made))
}

/// Checks that a store is as it was written.
pub fn verify(path: &Path) -> Result<Outcome, Trouble> {
    if path.is_file() {
        let problem = "this is a file; a store is a folder";
        return Err(Trouble::input("", problem, "the folder of a store"));
    }
    let desk = open(path)?;
    let checked = api::verify_store(&desk)?;
    let json = api::verify_json(&checked);
    let text = checked
        .iter()
        .map(|(what, ok)| format!("{}  {what}\n", if *ok { "holds" } else { "DOES NOT HOLD" }))
        .collect();
    let attention = json.get("ok") != Some(&Value::Bool(true));
    Ok(Outcome { json: Some(json), text, attention })
}
