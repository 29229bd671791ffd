//! Papers and their checks: `record`, `verify`.

use std::io::Read as _;
use std::path::Path;

use fairfall_core::api::{self, Desk, PaperToMake};
use fairfall_core::store::{PhotoCopy, StoreError};
use fairfall_papers::{
    LARGEST_FILE, Made, NoPhoto, PaperSize, Unwatched, completion_record, copy_for,
};
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
    let copy = copy_for(to_make.record.photos.len());
    let photos = |sha256: &str| photo_of(desk, sha256, copy);
    let sealing = to_make.sealing.as_ref();
    let made = completion_record(&to_make.record, &photos, paper, sealing, &Unwatched)
        .map_err(|error| Trouble::Machine(error.to_string()))?;
    if let Some(out) = out {
        std::fs::write(out, &made.pdf)
            .map_err(|error| Trouble::Machine(format!("{}: {error}", out.display())))?;
    }
    api::issue_record(desk, job, &to_make, &made.pdf)?;
    Ok((to_make, made))
}

/// A photo for a paper, or why there is none.
pub fn photo_of(desk: &Desk, sha256: &str, copy: PhotoCopy) -> Result<Vec<u8>, NoPhoto> {
    desk.store.photo(sha256, copy).map_err(|error| match error {
        StoreError::PhotoChanged { .. } => NoPhoto::Changed,
        _ => NoPhoto::NotHere,
    })
}

/// Checks a sealed paper, or a store with the papers issued from it.
pub fn verify(path: &Path, key: Option<&str>) -> Result<Outcome, Trouble> {
    let key = key.map(str::trim);
    if key.is_some_and(|key| key.len() != 64 || !key.bytes().all(|b| b.is_ascii_hexdigit())) {
        let problem = "this is no public key".to_owned();
        return Err(Trouble::input("--key", problem, "the 64 hexadecimal digits under the seal"));
    }
    if path.is_file() {
        return verify_file(path, key);
    }
    if !path.exists() {
        let problem = format!("there is no {}", path.display());
        return Err(Trouble::input("", problem, "a sealed paper, or a store's folder"));
    }
    if key.is_some() {
        return Err(Trouble::input("--key", "a store has no key to expect", "a sealed paper"));
    }
    let desk = open(path)?;
    let mut checked = api::verify_store(&desk)?;
    for issued in api::issued(&desk)? {
        let verdict = read(&issued.path).map(|file| fairfall_papers::verify(&file));
        let failed = match &verdict {
            Ok(verdict) => verdict.checked.iter().filter(|c| !c.ok).collect(),
            Err(_) => Vec::new(),
        };
        let holds = verdict.as_ref().is_ok_and(|verdict| verdict.ok);
        let issue = format!("job {}: issue {}", issued.job, issued.number);
        checked.push((format!("{issue}: its seal holds"), holds));
        let why = failed.iter().map(|check| (format!("{issue}: {}", check.what), false));
        checked.extend(why);
    }
    let json = api::verify_json(&checked);
    let text = checked.iter().map(|(what, ok)| line(what, *ok)).collect();
    let attention = json.get("ok") != Some(&Value::Bool(true));
    Ok(Outcome { json: Some(json), text, attention })
}

fn verify_file(path: &Path, key: Option<&str>) -> Result<Outcome, Trouble> {
    let file =
        read(path).map_err(|error| Trouble::Machine(format!("{}: {error}", path.display())))?;
    let verdict = match key {
        Some(key) => fairfall_papers::verify_with_key(&file, key),
        None => fairfall_papers::verify(&file),
    };
    let mut text =
        if verdict.says.is_empty() { String::new() } else { verdict.says.clone() + "\n" };
    text.extend(verdict.checked.iter().map(|check| line(&check.what, check.ok)));
    text.extend(verdict.notes.iter().map(|note| format!("{note}\n")));
    if !verdict.limits.is_empty() {
        text.push_str("What a seal cannot prove:\n");
    }
    text.extend(verdict.limits.iter().map(|limit| format!("- {limit}\n")));
    Ok(Outcome { attention: !verdict.ok, json: Some(json!(verdict)), text })
}

/// A file's bytes, but of one that is too large for a paper only enough to see that it is.
fn read(path: &Path) -> std::io::Result<Vec<u8>> {
    let mut bytes = Vec::new();
    let most = LARGEST_FILE as u64 + 1;
    std::fs::File::open(path)?.take(most).read_to_end(&mut bytes)?;
    Ok(bytes)
}

fn line(what: &str, ok: bool) -> String {
    format!("{}  {what}\n", if ok { "holds" } else { "DOES NOT HOLD" })
}
