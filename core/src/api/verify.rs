//! Whether what is kept is as it was written.

use serde_json::json;
use sha2::{Digest, Sha256};

use super::{Desk, Fault};
use crate::diary::{Body, Entry, check_chains, hex};
use crate::job::fold;
use crate::store;

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
    }
    Ok(checked)
}

/// Whether a photo is there and its bytes are those it was kept with.
pub fn photo_holds(desk: &Desk, sha256: &str) -> bool {
    let kept = desk.store.photo(sha256, false);
    kept.is_ok_and(|bytes| hex(&Sha256::digest(bytes)) == sha256)
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
