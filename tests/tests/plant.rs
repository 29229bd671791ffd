//! `fairfall passes` and `fairfall vibration` as an office would call them: published rows and
//! points, exit statuses, and every bad argument in words.
#![cfg(test)]

use fairfall_acceptance::program::{Ended, Fairfall};
use serde_json::{Value, json};

fn run(line: &str) -> Ended {
    let arguments = line.split_whitespace().map(std::ffi::OsStr::new);
    Fairfall::built().unwrap().run(arguments).unwrap()
}

fn passes(plant: &str, rating: &str, layer: &str, spec: &str) -> Value {
    let line =
        format!("passes --plant {plant} --rating {rating} --layer {layer} --spec {spec} --json");
    let ended = run(&line);
    assert_eq!(ended.status, Some(0), "{ended:?}");
    ended.json().unwrap()
}

#[test]
fn rows_as_printed_and_answers_where_there_is_none() {
    // Specification for the Reinstatement of Openings in Roads (Scotland) 3rd ed., Table A8.1.
    let answer = passes("vibrating_plate", "1500", "100", "reinstatement_A8.1");
    assert_eq!((&answer["passes"], &answer["verdict"]), (&json!(5), &json!("ok")));
    assert_eq!(answer["status"], "seen");
    let thick = passes("vibrating_plate", "1500", "250", "reinstatement_A8.1");
    assert_eq!((&thick["passes"], &thick["verdict"]), (&Value::Null, &json!("not_permitted")));
    assert_eq!(thick["lifts"].as_array().unwrap().len(), 3);
    let light = passes("vibrating_plate", "500", "75", "reinstatement_A8.1");
    assert_eq!((&light["passes"], &light["verdict"]), (&Value::Null, &json!("no_row")));
    // The bounds as printed: 1400 is in the lowest row of the one and in none of the other (from
    // memory, Series 800, table 8/4: over 1400).
    assert_eq!(passes("vibrating_plate", "1400", "100", "reinstatement_A8.1")["passes"], 5);
    let highway = passes("vibrating_plate", "1400", "100", "highway_800");
    assert_eq!((&highway["verdict"], &highway["status"]), (&json!("no_row"), &json!("memory")));
}

#[test]
fn points_of_a_days_work() {
    // HSE ready reckoner (seen): 5 m/s2 for 3 h is 150 points, A(8) 3.06.
    let ended = run("vibration 5@3h --json");
    assert_eq!(ended.status, Some(0), "{ended:?}");
    let answer = ended.json().unwrap();
    let number = |key: &str| answer[key].as_f64().unwrap();
    assert!((number("points") - 150.0).abs() < 1e-9);
    assert!((number("a8_m_s2") - 3.06).abs() < 0.005);
    assert!((number("to_action_h") - 2.0).abs() < 1e-9);
    assert!((number("to_limit_h") - 8.0).abs() < 1e-9);
}

#[test]
fn bad_arguments_are_refused_with_every_problem() {
    let line = "passes --plant steamroller --rating -3 --layer 0 --spec mine --json";
    let ended = run(line);
    assert_eq!(ended.status, Some(2), "{ended:?}");
    let problems = ended.json().unwrap()["problems"].as_array().unwrap().clone();
    let places: Vec<&str> = problems.iter().filter_map(|p| p["at"].as_str()).collect();
    assert_eq!(places, ["--spec", "--plant", "--layer"]);
    for line in ["vibration --json", "vibration 4@ x@1h --json", "vibration 9@20h 9@5h --json"] {
        let ended = run(line);
        assert_eq!(ended.status, Some(2), "{line}: {ended:?}");
        assert!(!ended.json().unwrap()["problems"].as_array().unwrap().is_empty());
    }
}
