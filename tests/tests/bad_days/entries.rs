//! Entries that are none, and two hands that write at once.

use std::collections::BTreeSet;

use serde_json::{Value, json};

use super::{Site, lines_of, text};

#[test]
fn bad_lines_are_answered_in_their_place_and_the_rest_goes_on() {
    let site = Site::begin().unwrap();
    let note = lines_of(&["a good note"]);
    let long = json!({ "kind": "note", "body": { "text": "a".repeat(5 << 20) } }).to_string();
    let deep = "[".repeat(100_000);
    let bad: [&[u8]; 9] = [
        b"Tuesday: 12 high by the door",
        b"{\"kind\": \"note\"}",
        b"{\"kind\": \"levitate\", \"body\": {}}",
        b"{\"kind\": \"note\", \"body\": {\"text\": \" \"}}",
        b"{\"kind\": \"note\", \"body\": {\"text\": \"a\"}, \"at\": \"yesterday\"}",
        b"{\"kind\": \"dip\", \"body\": {\"layer\": \"bed\", \"from\": \"R1\", \"to\": \"R99\", \"at_m\": 1, \"reading_mm\": 100}}",
        b"\xFF\xFEnot text",
        long.as_bytes(),
        deep.as_bytes(),
    ];
    let mut input = Vec::new();
    for line in bad {
        input.extend_from_slice(line);
        input.push(b'\n');
        input.extend_from_slice(note.as_bytes());
    }
    let ended = site.fairfall.run_with(site.on_job("log"), &input).unwrap();
    assert_eq!(ended.status, Some(1), "{}", ended.err);
    let answers = ended.lines().unwrap();
    assert_eq!(answers.len(), 2 * bad.len());
    let mut logged = Vec::new();
    for (number, pair) in answers.chunks(2).enumerate() {
        let problem = text(&pair[0], "problem").unwrap();
        assert!(!problem.is_empty() && problem.len() < 2000, "line {number}: {problem}");
        logged.push(text(&pair[1], "id").unwrap().to_owned());
    }
    assert_eq!(site.diary().unwrap()[1..], logged);
}

#[test]
fn two_writers_at_once_lose_nothing() {
    let site = Site::begin().unwrap();
    let notes = ["a note"; 150];
    let answered: Vec<Vec<String>> = std::thread::scope(|scope| {
        let hands: Vec<_> =
            (0..2).map(|_| scope.spawn(|| site.log_notes(&notes).unwrap())).collect();
        hands.into_iter().map(|hand| hand.join().unwrap()).collect()
    });
    let all: BTreeSet<&String> = answered.iter().flatten().collect();
    assert_eq!(all.len(), 2 * notes.len());
    let diary = site.diary().unwrap();
    let kept: BTreeSet<&String> = diary[1..].iter().collect();
    assert_eq!(kept, all);
}

#[test]
fn a_struck_entry_stays_in_the_diary() {
    let site = Site::begin().unwrap();
    let [id] = site.log_notes(&["a wrong note"]).unwrap().try_into().unwrap();
    let strike = |entry: &str| {
        let line = json!({ "kind": "strike", "body": { "entry": entry, "reason": "misread" } });
        site.fairfall.run_with(site.on_job("log"), format!("{line}\n").as_bytes()).unwrap()
    };
    let struck = strike(&id);
    let by = text(&struck.lines().unwrap()[0], "id").unwrap().to_owned();
    let diary = site.fairfall.run(site.on_job("diary")).unwrap().json().unwrap();
    let row = diary["entries"].as_array().unwrap().iter().find(|e| e["id"] == json!(id)).unwrap();
    assert_eq!(row["struck_by"], Value::String(by));
    assert_eq!(row["body"]["text"], json!("a wrong note"));
    // Neither it nor the plan can be struck: the first is struck already, the other stays.
    let plan = text(&diary["entries"][0], "id").unwrap();
    for entry in [id.as_str(), plan] {
        let again = strike(entry);
        assert_eq!(again.status, Some(1), "{again:?}");
        assert!(again.lines().unwrap()[0].get("problem").is_some(), "{again:?}");
    }
}
