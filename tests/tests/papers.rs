//! Papers through the command line: issued, sealed, verified, and what a store says of them.

#![allow(clippy::unwrap_used, clippy::panic, clippy::indexing_slicing)]

use std::path::{Path, PathBuf};
use std::sync::LazyLock;

use fairfall_acceptance::bridge::Bridge;
use fairfall_acceptance::http::send;
use fairfall_acceptance::program::{Ended, Fairfall, root};
use serde_json::{Value, json};

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

/// A bridge to the app's commands over a demo store of its own.
fn phone() -> (Bridge, String, tempfile::TempDir) {
    let folder = tempfile::tempdir().unwrap();
    let demo = DEMO.0.run(["demo".as_ref(), folder.path().as_os_str()]).unwrap();
    assert_eq!(demo.status, Some(0), "{demo:?}");
    let summary = std::fs::read_to_string(folder.path().join("demo.json")).unwrap();
    let summary: Value = serde_json::from_str(&summary).unwrap();
    let job = summary["jobs"][0]["id"].as_str().unwrap().to_owned();
    let bridge = Bridge::open(folder.path().join("store"), root().join("ui/dist"), 0).unwrap();
    (bridge, job, folder)
}

/// Runs a command of the app: its answer, or its fault.
fn ask(url: &str, command: &str, arguments: &Value) -> Result<Value, Value> {
    let body = arguments.to_string();
    let path = format!("/ipc/{command}");
    let answer = send(url, "POST", &path, ("application/json", body.as_bytes())).unwrap();
    let value = serde_json::from_slice(&answer.body).unwrap_or(Value::Null);
    if answer.status == 200 { Ok(value) } else { Err(value) }
}

#[test]
fn the_phone_makes_every_paper_and_checks_one_that_is_opened() {
    let (bridge, job, folder) = phone();
    let url = bridge.url();
    for (kind, change, pages) in [
        ("setting_out", None, 3),
        ("order_list", None, 2),
        ("care_sheet", None, 1),
        ("change_note", Some(1), 1),
    ] {
        let order = json!({
            "job": job, "kind": kind, "change": change, "templates": false, "paper": "a4",
        });
        let made = ask(&url, "make_sheet", &order).unwrap();
        assert_eq!(made["pages"], pages, "{kind}");
        let file = folder.path().join("store/papers").join(made["file"].as_str().unwrap());
        assert!(std::fs::read(file).unwrap().starts_with(b"%PDF-"), "{kind}");
        let shown = json!({ "file": made["file"], "page": pages - 1 });
        assert!(ask(&url, "paper_page", &shown).is_ok(), "{kind}");
    }
    let none = json!({
        "job": job, "kind": "change_note", "change": 9, "templates": false, "paper": "a4",
    });
    assert_eq!(ask(&url, "make_sheet", &none).unwrap_err()["code"], "not_found");
    assert_eq!(
        ask(&url, "make_data", &json!({ "job": job })).unwrap().as_array().unwrap().len(),
        4
    );
    let record = std::fs::read(&papers("completion_record")[0]).unwrap();
    let octets = "application/octet-stream";
    let answer = send(&url, "POST", "/ipc/verify_paper", (octets, &record)).unwrap();
    let verdict: Value = serde_json::from_slice(&answer.body).unwrap();
    assert_eq!(verdict["ok"], true, "{verdict}");
}

#[test]
fn a_record_in_the_making_is_followed_and_stopped() {
    let (bridge, job, _folder) = phone();
    let url = bridge.url();
    assert_eq!(ask(&url, "paper_progress", &json!({})).unwrap(), Value::Null);
    assert_eq!(ask(&url, "stop_paper", &json!({})).unwrap(), false);
    let issued = || {
        let view = ask(&url, "ask", &json!({ "request": "job", "args": { "job": job } })).unwrap();
        view["records"].as_array().unwrap().len()
    };
    let before = issued();
    let order = json!({ "job": job, "issue": true, "paper": "a4" });
    let stopped = std::thread::scope(|scope| {
        let making = scope.spawn(|| ask(&url, "make_record", &order));
        // Followed until the first step is done, or it is over.
        while !making.is_finished() {
            let progress = ask(&url, "paper_progress", &json!({})).unwrap();
            if progress[1].as_u64().is_some_and(|of| of > 0) {
                assert!(progress[0].as_u64() <= progress[1].as_u64(), "{progress}");
                break;
            }
        }
        let stopped = ask(&url, "stop_paper", &json!({})).unwrap() == true;
        let made = making.join().unwrap();
        assert_eq!(
            stopped,
            made.as_ref().is_err_and(|fault| fault["code"] == "stopped"),
            "{made:?}"
        );
        stopped
    });
    // A stop that was answered with yes leaves no issue behind; one that came too late leaves one.
    assert_eq!(issued(), if stopped { before } else { before + 1 });
    assert!(ask(&url, "make_record", &order).is_ok());
}
