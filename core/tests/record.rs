//! What a completion record says of work that is not finished, and of entries that were changed.

#![expect(clippy::expect_used, reason = "a test's set-up may fail it")]

use chrono::{DateTime, FixedOffset};
use fairfall_core::diary::{Body, Draft, Entry, HybridTime};
use fairfall_core::job::fold;
use fairfall_core::record::{Record, build};
use serde_json::{Value, json};
use uuid::Uuid;

const PLAN: &str = include_str!("../../fixtures/demo/garden-path.json");

fn now() -> DateTime<FixedOffset> {
    DateTime::parse_from_rfc3339("2026-04-07T08:40:00+01:00").expect("a time")
}

/// A plan, then these bodies, each in one device's chain.
fn diary(bodies: &[(&str, Value)]) -> Vec<Entry> {
    let plan: Value = serde_json::from_str(PLAN).expect("the plan is JSON");
    let first = ("plan", json!({ "plan": plan }));
    let mut entries: Vec<Entry> = Vec::new();
    for (index, (kind, body)) in (1_u32..).zip([first].iter().chain(bodies)) {
        let body = Body::read(kind, body).expect("a body of its kind");
        let clock = HybridTime { millis: i64::from(index), counter: 0 };
        let ids = (Uuid::from_u128(index.into()), Uuid::nil(), Uuid::nil());
        let previous = entries.last().map(|e| (e.seq, e.hash.as_str()));
        let draft = Draft { at: None, who: "Mina".to_owned(), body };
        entries.push(Entry::new(ids, previous, clock, now(), draft).expect("an entry"));
    }
    entries
}

fn record(entries: &[Entry]) -> Record {
    build(&fold(entries).expect("a state"), entries, Some(1), now(), "Mina")
}

fn kinds(record: &Record) -> Vec<&str> {
    record.exceptions.iter().map(|e| e.kind.as_str()).collect()
}

#[test]
fn a_record_of_unfinished_work_says_so_first() {
    let begun = record(&diary(&[]));
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
    let finished = record(&diary(&closed));
    assert_eq!(finished.unfinished, 0);
    assert_eq!(kinds(&finished), Vec::<&str>::new());
}

#[test]
fn a_record_of_changed_entries_says_so() {
    let mut entries = diary(&[("note", json!({ "text": "dug to 350" }))]);
    if let Some(last) = entries.last_mut() {
        last.body = json!({ "text": "dug to 250" });
    }
    let record = record(&entries);
    assert_eq!(record.changed_entries, 1);
    assert!(kinds(&record).contains(&"not as written"));
}
