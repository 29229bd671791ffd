//! Papers through the command line: issued, sealed, verified, and what a store says of them.

#![allow(clippy::unwrap_used, clippy::panic, clippy::indexing_slicing)]

use std::path::{Path, PathBuf};
use std::sync::LazyLock;

use fairfall_acceptance::program::{Ended, Fairfall};
use serde_json::Value;

/// The demo, worked once for all.
static DEMO: LazyLock<(Fairfall, tempfile::TempDir)> = LazyLock::new(|| {
    let fairfall = Fairfall::built().unwrap();
    let folder = tempfile::tempdir().unwrap();
    let ended = fairfall.run(["demo".as_ref(), folder.path().as_os_str()]).unwrap();
    assert_eq!(ended.status, Some(0), "{ended:?}");
    (fairfall, folder)
});

fn verify(path: &Path, more: &[&str]) -> Ended {
    let mut arguments = vec!["verify", path.to_str().unwrap(), "--json"];
    arguments.extend(more);
    DEMO.0.run(arguments).unwrap()
}

fn failed(verdict: &Value) -> Vec<String> {
    let checked = verdict["checked"].as_array().unwrap();
    let failed = checked.iter().filter(|check| check["ok"] == false);
    failed.map(|check| check["what"].as_str().unwrap().to_owned()).collect()
}

fn papers(kind: &str) -> Vec<PathBuf> {
    let folder = DEMO.1.path();
    let summary = std::fs::read_to_string(folder.join("demo.json")).unwrap();
    let summary: Value = serde_json::from_str(&summary).unwrap();
    let papers = summary["papers"].as_array().unwrap();
    let of_kind = papers.iter().filter(|paper| paper["kind"] == kind);
    of_kind.map(|paper| folder.join(paper["file"].as_str().unwrap())).collect()
}

#[test]
fn every_issued_record_verifies_by_itself() {
    let records = papers("completion_record");
    assert_eq!(records.len(), 2);
    for record in &records {
        let ended = verify(record, &[]);
        let verdict = ended.json().unwrap();
        assert_eq!((ended.status, &verdict["ok"]), (Some(0), &Value::Bool(true)), "{ended:?}");
        let key = verdict["notes"][0].as_str().unwrap();
        let key = key.split_whitespace().find(|word| word.len() == 65).unwrap();
        let key = key.trim_end_matches('.');
        assert_eq!(verify(record, &["--key", key]).status, Some(0));
        assert_eq!(verify(record, &["--key", &"0".repeat(64)]).status, Some(1));
    }
    assert_eq!(verify(&DEMO.1.path().join("store"), &[]).status, Some(0));
}

#[test]
fn a_digit_changed_in_a_copy_is_found_and_said() {
    let record = &papers("completion_record")[0];
    let mut file = std::fs::read(record).unwrap();
    let word = b"\"reading_mm\":";
    let at = file.windows(word.len()).position(|found| found == word).unwrap() + word.len();
    file[at] = if file[at] == b'9' { b'8' } else { file[at] + 1 };
    let folder = tempfile::tempdir().unwrap();
    let copy = folder.path().join("copy.pdf");
    std::fs::write(&copy, file).unwrap();
    let ended = verify(&copy, &[]);
    assert_eq!(ended.status, Some(1), "{ended:?}");
    assert!(failed(&ended.json().unwrap()).len() >= 3, "{ended:?}");
    std::fs::write(&copy, "Dips of Tuesday").unwrap();
    let ended = verify(&copy, &[]);
    assert_eq!(ended.status, Some(1), "{ended:?}");
    assert_eq!(failed(&ended.json().unwrap()), ["The file cannot be read: the file is no PDF."]);
}

#[test]
fn a_store_with_a_changed_or_missing_paper_says_which() {
    let folder = tempfile::tempdir().unwrap();
    let demo = DEMO.0.run(["demo".as_ref(), folder.path().as_os_str()]).unwrap();
    assert_eq!(demo.status, Some(0), "{demo:?}");
    let store = folder.path().join("store");
    let mut issued: Vec<PathBuf> = std::fs::read_dir(store.join("papers"))
        .unwrap()
        .map(|file| file.unwrap().path())
        .filter(|path| path.extension().is_some_and(|end| end == "pdf"))
        .collect();
    issued.sort();
    let mut file = std::fs::read(&issued[0]).unwrap();
    let middle = file.len() / 2;
    file[middle] ^= 1;
    std::fs::write(&issued[0], file).unwrap();
    let ended = verify(&store, &[]);
    assert_eq!(ended.status, Some(1), "{ended:?}");
    let changed = failed(&ended.json().unwrap());
    assert!(changed.iter().any(|what| what.contains("is there, as it was issued")), "{changed:?}");
    assert!(changed.iter().any(|what| what.contains("its seal holds")), "{changed:?}");
    std::fs::remove_file(&issued[1]).unwrap();
    let missing = failed(&verify(&store, &[]).json().unwrap());
    let gone = missing.iter().filter(|what| what.contains("is there, as it was issued")).count();
    assert_eq!(gone, 2, "{missing:?}");
}
