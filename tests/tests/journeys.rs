//! Every case file in `tests/journeys`, walked on a real store.
#![cfg(test)]

use std::path::{Path, PathBuf};

use fairfall_acceptance::journey::{Walked, read};
use fairfall_acceptance::outside::{Dice, Told, desk};
use fairfall_acceptance::program::{Trouble, root};
use fairfall_core::api::{state_json, verify_store};
use fairfall_core::job::fold;
use fairfall_core::store::entries_of;

fn case_files() -> Result<Vec<PathBuf>, Trouble> {
    let mut files = Vec::new();
    for entry in std::fs::read_dir(root().join("tests/journeys"))? {
        let path = entry?.path();
        if path.extension().is_some_and(|e| e == "json") {
            files.push(path);
        }
    }
    files.sort();
    Ok(files)
}

#[test]
fn every_journey_ends_as_its_case_file_says() {
    let files = case_files().unwrap();
    let mut wrong = Vec::new();
    for file in &files {
        let name = file.file_name().unwrap_or_default().to_string_lossy();
        match walked(file) {
            Ok(differences) if differences.is_empty() => println!("{name}: as it must be"),
            Ok(differences) => wrong.push(format!("{name}: {}", differences.join("\n  "))),
            Err(trouble) => wrong.push(format!("{name}: {trouble}")),
        }
    }
    assert!(wrong.is_empty(), "{} of {}:\n{}", wrong.len(), files.len(), wrong.join("\n"));
    assert!(files.len() > 5, "{files:?}");
}

/// Walks a case file; gives what is not as it must be.
fn walked(file: &Path) -> Result<Vec<String>, Trouble> {
    let journey = read(file)?;
    if journey.what.is_empty() || journey.source.is_empty() {
        return Err("it says neither what happens nor where its numbers come from".into());
    }
    let folder = tempfile::tempdir()?;
    let walked = journey.walk(folder.path())?;
    let mut found = journey.differences(&walked)?;
    found.extend(laws(&walked, folder.path())?);
    Ok(found)
}

/// What holds for every journey: the store is whole, the same when it is opened again, and the fold
/// does not mind the order in which entries arrive.
fn laws(walked: &Walked, folder: &Path) -> Result<Vec<String>, Trouble> {
    let told = |fault| format!("{fault:?}");
    let mut found = Vec::new();
    for (what, holds) in verify_store(&walked.desk).map_err(told)? {
        if !holds {
            found.push(format!("{what}: does not hold"));
        }
    }
    let again = desk(folder, Told::at("2026-12-24T12:00:00Z", 0)?)?;
    let state = state_json(&walked.desk, &walked.job).map_err(told)?;
    if state_json(&again, &walked.job).map_err(told)? != state {
        found.push("opened again, the store says something else".to_owned());
    }
    let job = walked.job.parse()?;
    let entries = walked.desk.store.read(|connection| entries_of(connection, job))?;
    let in_order = fold(&entries)?;
    let mut dice = Dice::new(entries.len() as u64);
    for _ in 0..8 {
        let mut shuffled = entries.clone();
        shuffled.sort_by_cached_key(|_| dice.roll());
        if fold(&shuffled)? != in_order {
            found.push("entries in another order make another job".to_owned());
        }
    }
    Ok(found)
}
