//! Whether what is kept is as it was written.

use std::path::{Path, PathBuf};

use serde_json::json;
use uuid::Uuid;

use super::{Desk, Fault};
use crate::diary::{Body, Entry, check_chains};
use crate::job::fold;
use crate::store::PhotoCopy;
use crate::{record, store};

/// Whether a stored job holds, as `verify` reports it: each thing checked, and whether it holds.
///
/// # Errors
/// [`Fault`] where the store cannot be read at all.
pub fn verify_store(desk: &Desk) -> Result<Vec<(String, bool)>, Fault> {
    let mut checked = Vec::new();
    let faults = desk.store.read(store::faults)?;
    checked.push(("the database file is sound".to_owned(), faults.is_empty()));
    for row in desk.store.read(store::jobs)? {
        let entries = match desk.store.read(|c| store::entries_of(c, row.id)) {
            Ok(entries) => entries,
            Err(error) => {
                checked.push((format!("job {}: {error}", row.id), false));
                continue;
            }
        };
        let faults = check_chains(&entries);
        let count = entries.len();
        checked.push((
            format!("job {}: {count} entries, each as written, none missing", row.id),
            faults.is_empty(),
        ));
        checked.extend(faults.iter().map(|fault| (format!("job {}: {fault}", row.id), false)));
        checked.push((format!("job {}: its plan can be read", row.id), fold(&entries).is_ok()));
        checked.extend(photos_of(desk, &entries));
        checked.extend(papers_of(desk, row.id, &entries));
    }
    Ok(checked)
}

/// A paper that was issued, and where it is kept.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Issued {
    /// The job.
    pub job: Uuid,
    /// The number.
    pub number: u32,
    /// The file.
    pub path: PathBuf,
    /// SHA-256 of its bytes as issued, in hexadecimal; empty where the entry does not say.
    pub sha256: String,
}

/// Every paper that was issued from a store and sealed, job by job.
///
/// # Errors
/// [`Fault`] where the store cannot be read at all.
pub fn issued(desk: &Desk) -> Result<Vec<Issued>, Fault> {
    let mut papers = Vec::new();
    for row in desk.store.read(store::jobs)? {
        // A job that cannot be read is told of by `verify_store`.
        if let Ok(entries) = desk.store.read(|c| store::entries_of(c, row.id)) {
            papers.extend(issued_of(desk, row.id, &entries).filter(|p| !p.sha256.is_empty()));
        }
    }
    Ok(papers)
}

fn issued_of(desk: &Desk, job: Uuid, entries: &[Entry]) -> impl Iterator<Item = Issued> {
    entries.iter().filter_map(move |entry| match entry.read() {
        Ok(Body::Record(record)) => Some(Issued {
            job,
            number: record.number,
            path: desk.store.papers().join(Path::new(&record.file).file_name()?),
            sha256: record.sha256,
        }),
        _ => None,
    })
}

/// Every issued paper is there, with the bytes it was issued with.
fn papers_of(desk: &Desk, job: Uuid, entries: &[Entry]) -> Vec<(String, bool)> {
    issued_of(desk, job, entries)
        .map(|paper| {
            let file = std::fs::read(&paper.path);
            let holds = file.is_ok_and(|bytes| {
                paper.sha256.is_empty() || record::sha256(&bytes) == paper.sha256
            });
            (format!("job {job}: issue {} is there, as it was issued", paper.number), holds)
        })
        .collect()
}

/// Whether a photo is there and its bytes are those it was kept with.
pub fn photo_holds(desk: &Desk, sha256: &str) -> bool {
    desk.store.photo(sha256, PhotoCopy::Whole).is_ok()
}

/// Every photo an entry names is there, and its bytes are those it was kept with.
fn photos_of(desk: &Desk, entries: &[Entry]) -> Vec<(String, bool)> {
    entries
        .iter()
        .filter_map(|entry| match entry.read() {
            Ok(Body::Photo(photo)) => Some(photo.sha256),
            _ => None,
        })
        .map(|sha256| {
            let holds = photo_holds(desk, &sha256);
            let short = sha256.get(..12).unwrap_or(&sha256);
            (format!("photo {short}… is there, as it was kept"), holds)
        })
        .collect()
}

/// The result of `verify` as JSON: `ok`, and `checked` with `what` and `ok` each.
pub fn verify_json(checked: &[(String, bool)]) -> serde_json::Value {
    let rows: Vec<_> = checked.iter().map(|(what, ok)| json!({ "what": what, "ok": ok })).collect();
    json!({ "ok": checked.iter().all(|(_, ok)| *ok), "checked": rows })
}
