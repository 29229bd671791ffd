//! A diary of one device, for tests and benches.

#![expect(clippy::expect_used, reason = "the set-up of a test or bench may fail it")]

use chrono::{DateTime, FixedOffset};
use fairfall_core::diary::{Body, Draft, Entry, HybridTime};
use serde_json::{Value, json};
use uuid::Uuid;

/// The plan that every such diary begins with: an invented garden path.
const PLAN: &str = include_str!("../../../fixtures/demo/garden-path.json");

/// The time at which everything in it is written.
pub fn now() -> DateTime<FixedOffset> {
    DateTime::parse_from_rfc3339("2026-04-07T08:40:00+01:00").expect("a time")
}

/// The plan, then these bodies by kind, in one device's chain.
pub fn diary(bodies: impl IntoIterator<Item = (&'static str, Value)>) -> Vec<Entry> {
    let plan: Value = serde_json::from_str(PLAN).expect("the plan is JSON");
    let first = ("plan", json!({ "plan": plan }));
    let mut entries: Vec<Entry> = Vec::new();
    for (index, (kind, body)) in (1_u32..).zip(std::iter::once(first).chain(bodies)) {
        let body = Body::read(kind, &body).expect("a body of its kind");
        let clock = HybridTime { millis: i64::from(index), counter: 0 };
        let ids = (Uuid::from_u128(index.into()), Uuid::nil(), Uuid::nil());
        let previous = entries.last().map(|e| (e.seq, e.hash.as_str()));
        let draft = Draft { at: None, who: "Mina".to_owned(), body };
        entries.push(Entry::new(ids, previous, clock, now(), draft).expect("an entry"));
    }
    entries
}
