//! Laws of the diary and the plan file, by property test.

#![expect(
    clippy::expect_used,
    clippy::indexing_slicing,
    reason = "a law's set-up may fail its test"
)]

use chrono::DateTime;
use fairfall_core::diary::{Body, Draft, Entry, HybridTime, check_chains};
use fairfall_core::job::{fold, fold_last};
use fairfall_core::plan::Plan;
use proptest::prelude::*;
use serde_json::{Value, json};
use uuid::Uuid;

const PLAN: &str = include_str!("../../fixtures/demo/garden-path.json");

/// What one of three devices logs: a kind to pick, and a number to vary it by.
fn body(kind: u8, number: u32, written: &[Entry]) -> Body {
    let reading = 200.0 + f64::from(number % 200);
    let (kind, body) = match kind % 8 {
        0 => ("note", json!({ "text": format!("note {number}") })),
        1 => (
            "pass",
            json!({ "layer": "formation", "plant": "plate", "still_moving": number.is_multiple_of(2) }),
        ),
        2 => ("check", json!({ "check": "services_marked" })),
        3 => (
            "stage",
            json!({ "stage": "excavate", "done": !number.is_multiple_of(3), "reason": "dusk" }),
        ),
        5 => (
            "change",
            json!({ "what": "soft spot", "quantity": 1.5, "unit": "m3", "rate_minor": number }),
        ),
        6 => (
            "signature",
            json!({
                "paper": "completion_record", "name": "Mina", "role": "layer",
                "strokes": [[[0, 0], [number % 1000, 400]]],
            }),
        ),
        4 if !written.is_empty() => {
            let struck = &written[number as usize % written.len()];
            ("strike", json!({ "entry": struck.id, "reason": "misread" }))
        }
        _ => (
            "dip",
            json!({
                "layer": "formation", "from": "R1", "to": "F1", "at_m": f64::from(number % 13) / 10.0,
                "raise_mm": 100, "reading_mm": reading,
            }),
        ),
    };
    Body::read(kind, &body).expect("the body is of its kind")
}

/// Three devices write one job; each sees what the others wrote only now and then, so that their
/// clocks run apart.
fn diary(steps: &[(u8, u8, u32, bool)]) -> Vec<Entry> {
    let job = Uuid::from_u128(7);
    let now = DateTime::parse_from_rfc3339("2026-04-07T08:40:00+01:00").expect("a time");
    let mut entries: Vec<Entry> = Vec::new();
    let mut seen = [None; 3];
    for (index, (device, kind, number, merged)) in (1_u128..).zip(steps) {
        let device = usize::from(device % 3);
        let id = Uuid::from_u128(1000 + index);
        let owner = Uuid::from_u128(device as u128 + 1);
        let body = if entries.is_empty() {
            let plan: Value = serde_json::from_str(PLAN).expect("the plan is JSON");
            Body::read("plan", &json!({ "plan": plan })).expect("a plan")
        } else {
            body(*kind, *number, &entries)
        };
        let newest = if *merged { entries.iter().map(|e| e.clock).max() } else { seen[device] };
        let clock = HybridTime::next(newest, i64::from(*number % 50));
        seen[device] = Some(clock);
        let last = entries.iter().rev().find(|e| e.device == owner);
        let previous = last.map(|e| (e.seq, e.hash.as_str()));
        let draft = Draft { at: None, who: format!("person {device}"), body };
        let entry = Entry::new((id, job, owner), previous, clock, now, draft).expect("an entry");
        entries.push(entry);
    }
    entries
}

fn steps() -> impl Strategy<Value = Vec<(u8, u8, u32, bool)>> {
    prop::collection::vec((any::<u8>(), any::<u8>(), any::<u32>(), any::<bool>()), 1..40)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(32))]

    #[test]
    fn one_entry_more_folds_as_the_whole_diary_does(steps in steps()) {
        // One device's diary, where every entry comes after those before it.
        let one: Vec<_> = steps.iter().map(|(_, kind, number, _)| (0, *kind, *number, true)).collect();
        let entries = diary(&one);
        let mut state = fold(&entries[..1]).expect("the first is a plan");
        for count in 2..=entries.len() {
            state = fold_last(state, &entries[..count]).expect("it has a plan");
            prop_assert_eq!(&state, &fold(&entries[..count]).expect("it has a plan"));
        }
    }
}

proptest! {
    #[test]
    fn any_order_of_arrival_folds_to_the_same_state(
        (entries, shuffled) in steps().prop_map(|s| diary(&s)).prop_flat_map(|entries| {
            (Just(entries.clone()), Just(entries).prop_shuffle())
        }),
    ) {
        prop_assert_eq!(fold(&shuffled), fold(&entries));
    }

    #[test]
    fn an_entry_that_arrives_twice_counts_once(entries in steps().prop_map(|s| diary(&s))) {
        let mut twice = entries.clone();
        twice.extend(entries.iter().rev().cloned());
        prop_assert_eq!(fold(&twice), fold(&entries));
    }

    #[test]
    fn every_chain_holds_whatever_was_written(entries in steps().prop_map(|s| diary(&s))) {
        prop_assert_eq!(check_chains(&entries), []);
    }

    #[test]
    fn any_text_is_a_plan_or_its_problems(text in "\\PC*") {
        prop_assert!(Plan::parse(&text).is_err());
    }

    #[test]
    fn a_plan_with_any_value_anywhere_is_read_or_refused(
        place in 0_usize..60, value in any_json(),
    ) {
        let mut plan: Value = serde_json::from_str(PLAN).expect("the plan is JSON");
        let mut left = place;
        replace(&mut plan, &mut left, &value);
        match Plan::read(plan) {
            Ok(plan) => {
                let amounts = plan.take_off();
                prop_assert!(amounts.dig.volume.to_m3().is_finite());
                prop_assert!(amounts.dig.area >= plan.outline.area());
            }
            Err(problems) => {
                prop_assert!(!problems.is_empty());
                for p in problems {
                    prop_assert!(!p.problem.is_empty() && !p.right.is_empty(), "{:?}", p);
                }
            }
        }
    }
}

/// JSON of every shape, with the numbers that hurt.
fn any_json() -> impl Strategy<Value = Value> {
    prop_oneof![
        Just(Value::Null),
        any::<bool>().prop_map(Value::from),
        prop_oneof![Just(0.0), Just(-1.0), Just(1e9), Just(1e308), Just(5e-324), -500.0_f64..500.0]
            .prop_map(Value::from),
        any::<i64>().prop_map(Value::from),
        "[a-z_]{0,12}".prop_map(Value::from),
        Just(json!([])),
        Just(json!({})),
        Just(json!([{ "straight_m": 3.0 }, { "arc_m": 9.0, "radius_m": 1.4, "turn": "right" }])),
    ]
}

/// Puts a value in place of the so-manieth value, counted in depth.
fn replace(value: &mut Value, left: &mut usize, with: &Value) -> bool {
    if *left == 0 {
        *value = with.clone();
        return true;
    }
    *left -= 1;
    match value {
        Value::Array(items) => items.iter_mut().any(|item| replace(item, left, with)),
        Value::Object(members) => members.values_mut().any(|item| replace(item, left, with)),
        _ => false,
    }
}
