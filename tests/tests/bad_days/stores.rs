//! Stores that cannot be opened, or not whole.

use std::path::Path;

use fairfall_acceptance::bridge::Bridge;
use fairfall_acceptance::program::root;
use serde_json::{Value, json};

use super::{Site, ask, code, text};

/// SQLite keeps its `user_version` here, big-endian (database file format, 1.3).
const VERSION_AT: usize = 60;

fn shelf(store: &Path) -> fairfall_acceptance::http::Answer {
    let bridge = Bridge::open(store.to_owned(), root().join("ui/dist"), 0).unwrap();
    ask(&bridge.url(), "ask", &json!({ "request": "shelf", "args": {} })).unwrap()
}

#[test]
fn a_store_from_the_future_is_left_alone_by_both_faces() {
    let site = Site::begin().unwrap();
    let mut bytes = std::fs::read(site.database()).unwrap();
    bytes[VERSION_AT..VERSION_AT + 4].copy_from_slice(&9999_u32.to_be_bytes());
    std::fs::write(site.database(), &bytes).unwrap();

    for command in ["diary", "state", "log"] {
        let ended = site.fairfall.run(site.on_job(command)).unwrap();
        assert_eq!(ended.status, Some(3), "{command}: {ended:?}");
        assert!(ended.err.contains("newer Fairfall"), "{command}: {ended:?}");
    }
    assert_eq!(code(&shelf(&site.store)).unwrap(), "newer_store");
    assert_eq!(std::fs::read(site.database()).unwrap(), bytes);
}

#[test]
fn a_store_of_zeros_is_moved_aside_whole_and_said_so() {
    let site = Site::begin().unwrap();
    let zeros = vec![0_u8; 40_960];
    std::fs::write(site.database(), &zeros).unwrap();

    // The command line only looks, and changes nothing.
    let ended = site.fairfall.run(site.on_job("diary")).unwrap();
    assert_eq!(ended.status, Some(3), "{ended:?}");
    assert!(ended.err.contains("damaged"), "{ended:?}");
    assert_eq!(std::fs::read(site.database()).unwrap(), zeros);

    // The phone must go on working: the file stands aside, and the shelf says where.
    let answer = shelf(&site.store);
    assert_eq!(answer.status, 200, "{answer:?}");
    let shelf: Value = serde_json::from_slice(&answer.body).unwrap();
    let notice = &shelf["notices"][0];
    assert_eq!(text(notice, "code").unwrap(), "notice.damaged");
    let aside = text(&notice["values"], "file").unwrap();
    assert_eq!(std::fs::read(site.store.join(aside)).unwrap(), zeros);
    assert_eq!(shelf["jobs"], json!([]));
}

#[test]
fn a_page_of_zeros_in_the_middle_is_found_and_nothing_is_thrown_away() {
    let site = Site::begin().unwrap();
    let long = "a long note ".repeat(250);
    site.log_notes(&[long.as_str(); 60]).unwrap();
    let mut bytes = std::fs::read(site.database()).unwrap();
    assert!(bytes.len() > 100_000, "{}", bytes.len());
    let middle = bytes.len() / 2 / 4096 * 4096;
    bytes[middle..middle + 4096].fill(0);
    std::fs::write(site.database(), &bytes).unwrap();

    let verify = ["verify".as_ref(), site.store.as_os_str(), "--json".as_ref()];
    let ended = site.fairfall.run(verify).unwrap();
    match ended.status {
        Some(1) => assert_eq!(ended.json().unwrap()["ok"], json!(false)),
        _ => {
            assert_eq!(ended.status, Some(3), "{ended:?}");
            assert!(ended.err.contains("damaged"), "{ended:?}");
        }
    }
    assert_eq!(std::fs::read(site.database()).unwrap(), bytes);
}

#[test]
fn a_folder_without_a_store_stays_as_it_was() {
    let fairfall = fairfall_acceptance::program::Fairfall::built().unwrap();
    let folder = tempfile::tempdir().unwrap();
    for command in ["jobs", "verify"] {
        let ended = fairfall.run([command.as_ref(), folder.path().as_os_str()]).unwrap();
        assert_eq!(ended.status, Some(2), "{command}: {ended:?}");
        assert!(ended.err.contains("no store"), "{command}: {ended:?}");
    }
    assert_eq!(std::fs::read_dir(folder.path()).unwrap().count(), 0);
}
