//! What a completion record says of work that is not finished, and of entries that were changed.

#![expect(clippy::expect_used, reason = "a test's set-up may fail it")]

mod common;

use common::{diary, now};
use fairfall_core::diary::Entry;
use fairfall_core::job::fold;
use fairfall_core::record::{Record, build};
use serde_json::json;

fn record(entries: &[Entry]) -> Record {
    build(&fold(entries).expect("a state"), entries, Some(1), now(), "Mina")
}

fn kinds(record: &Record) -> Vec<&str> {
    record.exceptions.iter().map(|e| e.kind.as_str()).collect()
}

#[test]
fn a_record_of_unfinished_work_says_so_first() {
    let begun = record(&diary([]));
    assert_eq!((begun.unfinished, begun.changed_entries), (10, 0));
    assert_eq!(kinds(&begun), ["not finished"]);
    let stages = [
        "before_start",
        "excavate",
        "compact_formation",
        "sub_base",
        "bed",
        "screed",
        "lay",
        "cut",
        "joint",
        "restrain_edges",
    ];
    let closed = stages.map(|stage| ("stage", json!({ "stage": stage, "done": true })));
    let finished = record(&diary(closed));
    assert_eq!(finished.unfinished, 0);
    assert_eq!(kinds(&finished), Vec::<&str>::new());
}

#[test]
fn a_record_of_changed_entries_says_so() {
    let mut entries = diary([("note", json!({ "text": "dug to 350" }))]);
    if let Some(last) = entries.last_mut() {
        last.body = json!({ "text": "dug to 250" });
    }
    let record = record(&entries);
    assert_eq!(record.changed_entries, 1);
    assert!(kinds(&record).contains(&"not as written"));
}

#[test]
fn the_first_page_says_how_far_the_work_is() {
    let begun = record(&diary([]));
    assert_eq!(begun.heading, "What has been built so far");
    assert!(begun.standing.starts_with("10 stages were not closed"), "{}", begun.standing);
}

#[test]
fn slips_undone_at_once_are_counted_and_other_strikes_are_told() {
    let noted = |text: &str| ("note", json!({ "text": text }));
    // The entries' identities are their places in the diary.
    let struck = |entry: u128, reason: &str| {
        ("strike", json!({ "entry": uuid::Uuid::from_u128(entry), "reason": reason }))
    };
    let record = record(&diary([
        noted("one"),
        struck(2, "undone at once"),
        noted("two"),
        struck(4, "undone"),
        noted("three"),
        struck(6, "read on the wrong side of the tape"),
    ]));
    assert_eq!(kinds(&record), ["not finished", "struck", "undone"]);
    let texts: Vec<&str> = record.exceptions.iter().map(|e| e.text.as_str()).collect();
    assert!(texts.iter().any(|text| text.starts_with("2 entries were undone")), "{texts:?}");
    assert!(texts.iter().any(|text| text.contains("wrong side of the tape")), "{texts:?}");
}
