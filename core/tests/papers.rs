//! What papers other than the record say, what may be logged for them, and a job as data.

#![expect(clippy::expect_used, clippy::indexing_slicing, reason = "a test's set-up may fail it")]

mod common;

use common::{diary, now};
use fairfall_core::diary::{Body, Entry};
use fairfall_core::job::{accept, fold};
use fairfall_core::record::{
    build, calendar, care_sheet, change_note, dips_csv, geojson, passes_csv,
};
use serde_json::{Value, json};
use uuid::Uuid;

fn change(what: &str) -> (&'static str, Value) {
    let body = json!({
        "what": what, "quantity": 0.45, "unit": "m3", "rate_minor": 9650, "currency": "GBP",
    });
    ("change", body)
}

/// A signature under the change that is the so-manieth entry.
fn signed(role: &str, change: Option<u128>) -> (&'static str, Value) {
    let mut body = json!({
        "paper": if change.is_some() { "change_note" } else { "completion_record" },
        "name": format!("the {role}"), "role": role, "strokes": [[[0, 0], [1000, 400]]],
    });
    if let Some(entry) = change {
        body["change"] = json!(Uuid::from_u128(entry));
    }
    ("signature", body)
}

fn dip(at: f64, reading: f64) -> (&'static str, Value) {
    let body = json!({
        "layer": "formation", "from": "R1", "to": "F1", "at_m": at, "raise_mm": 100.0,
        "reading_mm": reading,
    });
    ("dip", body)
}

fn issue(number: u32) -> (&'static str, Value) {
    ("record", json!({ "number": number, "file": "record.pdf" }))
}

/// What is refused of a body, by its places.
fn refused(entries: &[Entry], kind: &str, body: Value) -> Vec<String> {
    let state = fold(entries).expect("a state");
    let body = Body::read(kind, &body).expect("a body of its kind");
    accept(&state, entries, &body).into_iter().map(|problem| problem.at).collect()
}

#[test]
fn a_change_is_refused_with_every_problem() {
    let entries = diary([]);
    let body = json!({
        "what": " ", "quantity": -1, "unit": "hours", "rate_minor": 2_000_000_000_u64,
        "currency": "pounds", "photo": "a photo",
    });
    let problems = refused(&entries, "change", body);
    assert_eq!(problems, ["/what", "/quantity", "/currency", "/rate_minor", "/photo"]);
    assert_eq!(refused(&entries, "change", change("a soft spot").1), Vec::<String>::new());
    // Nothing is delivered in hours.
    let hours = json!({ "what": "stone", "quantity": 1, "unit": "hours" });
    assert_eq!(refused(&entries, "delivery", hours), ["/unit"]);
}

#[test]
fn a_signature_is_refused_with_every_problem() {
    let entries = diary([change("a soft spot")]);
    assert_eq!(refused(&entries, "signature", signed("customer", Some(2)).1), Vec::<String>::new());
    // The plan is no change, and a record is not of one.
    assert_eq!(refused(&entries, "signature", signed("customer", Some(1)).1), ["/change"]);
    let mut of_record = signed("layer", Some(2)).1;
    of_record["paper"] = json!("completion_record");
    assert_eq!(refused(&entries, "signature", of_record), ["/change"]);
    for strokes in [json!([]), json!([[[1, 1]]]), json!([[[0, 0], [1001, 0]]])] {
        let mut body = signed("layer", None).1;
        body["strokes"] = strokes;
        body["name"] = json!("");
        assert_eq!(refused(&entries, "signature", body), ["/name", "/strokes"]);
    }
}

#[test]
fn a_change_note_has_its_number_price_and_signatures() {
    let entries = diary([
        change("first"),
        ("strike", json!({ "entry": Uuid::from_u128(2), "reason": "twice" })),
        change("second"),
        signed("customer", Some(4)),
        signed("customer", Some(4)),
        signed("layer", None),
    ]);
    let state = fold(&entries).expect("a state");
    assert_eq!(state.changes.len(), 1);
    let note = change_note(&state, &entries, &state.changes[0], now());
    // A struck change keeps its number.
    assert_eq!((note.number, note.what.as_str()), (2, "second"));
    // Hand arithmetic: 0.45 at 96.50 is 43.425.
    assert_eq!((note.rate.as_str(), note.price.as_str()), ("96.50 GBP", "43.43 GBP"));
    let roles: Vec<&str> = note.signatures.iter().map(|s| s.role.as_str()).collect();
    assert_eq!(roles, ["Customer"]);
}

#[test]
fn a_record_shows_signatures_drawn_since_the_last_issue() {
    let drawn = |bodies: &[(&'static str, Value)], number| {
        let entries = diary(bodies.to_vec());
        let state = fold(&entries).expect("a state");
        build(&state, &entries, Some(number), now(), "Mina").signatures
    };
    let mut bodies = vec![signed("customer", None), dip(0.3, 350.0), signed("layer", None)];
    let signatures = drawn(&bodies, 1);
    assert_eq!(signatures.len(), 2);
    assert_eq!((signatures[0].logged_since, signatures[1].logged_since), (1, 0));
    bodies.push(issue(1));
    assert!(drawn(&bodies, 2).is_empty());
    bodies.push(signed("customer", None));
    assert_eq!(drawn(&bodies, 2).len(), 1);
}

#[test]
fn extra_work_stands_among_what_differs() {
    let entries = diary([change("old concrete")]);
    let record = build(&fold(&entries).expect("a state"), &entries, Some(1), now(), "Mina");
    let told = record.exceptions.iter().find(|e| e.kind == "extra work").expect("the change");
    assert!(told.text.contains("old concrete; 0.45 m³ at 96.50 GBP, together 43.43 GBP"));
}

#[test]
fn tables_hold_what_stands() {
    let pass = ("pass", json!({ "layer": "sub_base", "lift": 1, "plant": "plate, \"62 kg\"" }));
    let entries = diary([dip(0.3, 352.0), dip(0.9, 348.5), pass]);
    let state = fold(&entries).expect("a state");
    let dips = dips_csv(&state).expect("a table");
    // RFC 4180: lines end in CRLF, a quote within quotes is doubled.
    assert!(dips.ends_with(b"\r\n"));
    let mut reader = csv::Reader::from_reader(dips.as_slice());
    let head = reader.headers().expect("a head").clone();
    let column = |name: &str| head.iter().position(|h| h == name).expect("a column");
    let rows: Vec<csv::StringRecord> = reader.records().map(|row| row.expect("a row")).collect();
    assert_eq!(rows.len(), 2);
    assert_eq!(&rows[0][column("reading_mm")], "352");
    assert_eq!(&rows[1][column("reading_mm")], "348.5");
    // Hand arithmetic: the plan's build-up of 250 and the raise of 100 make 350 at the level edge.
    assert_eq!(&rows[0][column("target_mm")], "350");
    assert_eq!(&rows[0][column("high_mm")], "-2");
    let passes = String::from_utf8(passes_csv(&state).expect("a table")).expect("text");
    assert!(passes.contains("sub_base,1,\"plate, \"\"62 kg\"\"\","), "{passes}");
}

#[test]
fn shapes_are_geojson_in_local_metres() {
    let entries = diary([dip(0.3, 352.0)]);
    let shapes = geojson(&fold(&entries).expect("a state"));
    // RFC 7946, 3.3 and 3.2: a collection of features, each with geometry and properties.
    assert_eq!(shapes["type"], "FeatureCollection");
    assert!(shapes["frame"].as_str().is_some_and(|frame| frame.contains("Local metres")));
    let features = shapes["features"].as_array().expect("features");
    let count = |what: &str| features.iter().filter(|f| f["properties"]["what"] == what).count();
    let counts = ["outline", "dig", "pin", "string", "dip"].map(count);
    assert_eq!(counts, [1, 1, 10, 13, 1]);
    for feature in features {
        assert!(feature["geometry"]["coordinates"].is_array() && feature["type"] == "Feature");
    }
    let ring = features[0]["geometry"]["coordinates"][0].as_array().expect("a ring");
    assert_eq!(ring.first(), ring.last());
}

#[test]
fn days_are_a_calendar() {
    let closed =
        ("stage", json!({ "stage": "before_start", "done": true, "reason": "dusk; rain" }));
    let state = fold(&diary([closed])).expect("a state");
    let text = calendar(&state, now());
    assert_eq!(text, calendar(&state, now()));
    // RFC 5545, 3.1: lines end in CRLF and have at most 75 octets.
    for line in text.split("\r\n") {
        assert!(line.len() <= 75 && !line.contains('\n'), "{line:?}");
    }
    let unfolded = text.replace("\r\n ", "");
    for line in [
        "BEGIN:VCALENDAR",
        "VERSION:2.0",
        "PRODID:-//Fairfall//Fairfall//EN",
        "DTSTART;VALUE=DATE:20260407",
        "DTSTAMP:20260407T074000Z",
        "SUMMARY:Path to the potting shed: Before the start",
        "DESCRIPTION:Closed by Mina. dusk\\; rain",
        // Six weeks from the day on which this is asked, since it is not handed over.
        "DTSTART;VALUE=DATE:20260519",
        "END:VCALENDAR",
    ] {
        assert!(unfolded.split("\r\n").any(|found| found == line), "{line} is not in {unfolded}");
    }
    assert!(!unfolded.contains("DTEND"));
}

#[test]
fn a_care_sheet_is_for_the_use() {
    let state = fold(&diary([])).expect("a state");
    let sheet = care_sheet(&state, now());
    assert_eq!(sheet.return_visit.as_deref(), Some("2026-05-19"));
    let all: Vec<&str> = sheet.parts.iter().flat_map(|p| &p.says).map(String::as_str).collect();
    assert!(all.iter().any(|says| says.contains("Keep cars, skips")), "{all:?}");
    assert!(
        all.iter().chain([&sheet.parts[0].heading.as_str()]).all(|t| !t.contains("care_sheet"))
    );
    let visited = ("stage", json!({ "stage": "return_visit", "done": true, "reason": "rain" }));
    let state = fold(&diary([visited])).expect("a state");
    assert_eq!(care_sheet(&state, now()).return_visit, None);
}
