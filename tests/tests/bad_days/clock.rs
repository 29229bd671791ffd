//! A phone whose clock is wrong.

use fairfall_acceptance::outside::{Told, desk};
use fairfall_acceptance::program::root;
use fairfall_core::api::requests::{LogEntry, OfJob, PlanText, SetPerson};
use fairfall_core::api::{Desk, diary, diary_json, log, set_person, start_job, state_json};
use fairfall_core::diary::check_chains;
use fairfall_core::store::entries_of;
use serde_json::json;

fn dip(desk: &mut Desk, job: &str, reading_mm: f64) -> String {
    let body = json!({
        "layer": "formation", "from": "R1", "to": "F1", "at_m": 0.65, "raise_mm": 100,
        "reading_mm": reading_mm,
    });
    let entry = LogEntry { job: job.to_owned(), kind: "dip".to_owned(), body, at: None };
    log(desk, entry).unwrap().id
}

#[test]
fn a_clock_set_back_a_year_changes_no_order_and_hides_nothing() {
    let folder = tempfile::tempdir().unwrap();
    let mut desk = desk(folder.path(), Told::at("2026-04-07T08:00:00+01:00", 1).unwrap()).unwrap();
    set_person(&mut desk, SetPerson { name: "Mina".to_owned() }).unwrap();
    let text = std::fs::read_to_string(root().join("fixtures/demo/garden-path.json")).unwrap();
    let job = start_job(&mut desk, PlanText { text }).unwrap().job;
    let first = dip(&mut desk, &job, 400.0);
    desk.outside = Box::new(Told::at("2025-04-07T08:00:00+01:00", 2).unwrap());
    let second = dip(&mut desk, &job, 350.0);
    desk.outside = Box::new(Told::at("2026-04-07T09:00:00+01:00", 3).unwrap());
    let third = dip(&mut desk, &job, 352.0);

    // The diary keeps the order of the work, and each entry the time that the clock showed.
    let json = diary_json(&desk, &job).unwrap();
    let rows = json["entries"].as_array().unwrap();
    let ids: Vec<_> = rows[1..].iter().map(|row| row["id"].as_str().unwrap()).collect();
    assert_eq!(ids, [first.as_str(), &second, &third]);
    let recorded = |row: usize| rows[row]["recorded_at"].as_str().unwrap().get(..4).unwrap();
    assert_eq!([recorded(1), recorded(2), recorded(3)], ["2026", "2025", "2026"]);

    // The newest reading of the place stands, whatever the clock said.
    let view = fairfall_core::api::job(&mut desk, OfJob { job: job.clone() }).unwrap();
    let standing: Vec<_> = view.dips.iter().filter(|d| !d.superseded).collect();
    assert_eq!(standing.len(), 1);
    assert_eq!(standing[0].entry, third);
    assert_eq!(view.undo.unwrap().entry, third);

    let id = job.parse().unwrap();
    let entries = desk.store.read(|connection| entries_of(connection, id)).unwrap();
    assert_eq!(check_chains(&entries), []);
    assert_eq!(state_json(&desk, &job).unwrap()["entries"], json!(4));
    assert_eq!(diary(&mut desk, OfJob { job }).unwrap().len(), 4);
}

#[test]
fn what_is_said_to_have_happened_tomorrow_is_refused() {
    let folder = tempfile::tempdir().unwrap();
    let mut desk = desk(folder.path(), Told::at("2026-04-07T08:00:00+01:00", 1).unwrap()).unwrap();
    let text = std::fs::read_to_string(root().join("fixtures/demo/garden-path.json")).unwrap();
    let job = start_job(&mut desk, PlanText { text }).unwrap().job;
    let note = |at: &str| LogEntry {
        job: job.clone(),
        kind: "note".to_owned(),
        body: json!({ "text": "a note" }),
        at: Some(at.to_owned()),
    };
    let refused = log(&mut desk, note("2026-04-08T08:00:00+01:00")).unwrap_err();
    assert_eq!(refused.code, "bad_input");
    assert_eq!(refused.details["problems"][0]["at"], json!("/at"));
    // The same moment, told in another zone's time, is no later.
    log(&mut desk, note("2026-04-07T17:00:00+10:00")).unwrap();
    assert_eq!(state_json(&desk, &job).unwrap()["entries"], json!(2));
}
