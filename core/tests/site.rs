//! Soft spots, weather, spread stone, edge concrete, drop tests, snags and where the plate may go:
//! logged as a screen logs them, on a real store, with the gates that follow.

#![expect(clippy::expect_used, clippy::indexing_slicing, reason = "a test's set-up may fail it")]

mod desk;

use desk::Site;
use fairfall_core::api::ask;
use serde_json::{Value, json};

impl Site {
    fn log_at(&mut self, at: &str, kind: &str, body: Value) -> Value {
        let entry = json!({ "job": self.job, "at": at, "kind": kind, "body": body });
        ask(&mut self.desk, "log", entry).expect("an entry")
    }

    /// The gate of a stage: whether each line is met, and its code.
    fn gate(&mut self, stage: &str) -> Vec<(bool, String)> {
        let job = self.of_job("job");
        let stages = job["stages"].as_array().expect("stages");
        let stage = stages.iter().find(|s| s["stage"] == stage).expect("the stage");
        let lines = stage["gate"].as_array().expect("a gate").iter();
        let line = |line: &Value| {
            let code = line["says"]["code"].as_str().expect("a code").to_owned();
            (line["met"] == true, code)
        };
        lines.map(line).collect()
    }

    fn has(&mut self, stage: &str, met: bool, code: &str) -> bool {
        self.gate(stage).contains(&(met, code.to_owned()))
    }

    fn mentions(&mut self, stage: &str, part: &str) -> bool {
        self.gate(stage).iter().any(|(_, code)| code.contains(part))
    }
}

fn place(at_m: f64) -> Value {
    json!({ "from": "R1", "to": "F1", "at_m": at_m })
}

#[test]
fn a_soft_spot_holds_the_gate_until_it_is_filled() {
    let mut site = Site::new(json!({}));
    assert!(site.has("compact_formation", false, "next.soft_spots_done"));
    let body = json!({ "place": place(1.2), "text": "half a metre across" });
    let spot = site.log("soft_spot", body)["id"].clone();
    // That somebody looked does not fill it.
    site.log("check", json!({ "check": "soft_spots_done" }));
    assert!(site.has("compact_formation", false, "next.soft_spots_open"));
    let filled = json!({ "spot": spot, "depth_mm": 150, "with": "crushed stone" });
    site.log("soft_spot_filled", filled.clone());
    assert!(site.has("compact_formation", true, "gate.soft_spots_filled"));
    let view = site.of_job("job")["site"]["soft_spots"][0].clone();
    assert_eq!(view["filled"]["values"]["depth"], 150.0);
    let twice = site.refused("soft_spot_filled", filled);
    assert_eq!(twice, [("/spot".to_owned(), "this soft spot is filled already".to_owned())]);
    // Undone, it is open again.
    let entry = site.of_job("job")["undo"]["entry"].clone();
    site.log("strike", json!({ "entry": entry, "reason": "undone" }));
    assert!(site.has("compact_formation", false, "next.soft_spots_open"));
}

#[test]
fn rain_on_the_open_bed_wants_to_be_looked_at() {
    let mut site = Site::new(json!({}));
    let wet = json!({ "sky": "wet", "temperature_c": 9 });
    site.log("weather", wet.clone());
    assert!(!site.mentions("screed", "bed_dry"), "there was no bed yet");
    let dip = json!({ "layer": "bed", "from": "R1", "to": "F1", "at_m": 1.0, "reading_mm": 60 });
    site.log("dip", dip);
    assert!(!site.mentions("screed", "bed_dry"));
    site.log("weather", wet.clone());
    assert!(site.has("screed", false, "next.bed_dry"));
    site.log("check", json!({ "check": "bed_dry" }));
    assert!(site.has("screed", true, "gate.bed_dry"));
    site.log("weather", json!({ "sky": "drying" }));
    assert!(site.has("screed", true, "gate.bed_dry"));
    site.log("weather", wet);
    assert!(site.has("screed", false, "next.bed_dry"));
}

#[test]
fn edge_concrete_ages_by_the_temperature() {
    // Hand arithmetic on the sum of (T + 10) dt / 30: at 5 C half an hour each hour. Placed at 8:00 on
    // the 6th and seen at 8:00 on the 7th: 12 hours old. The plate's 24 hours are reached a day
    // later, the cars' 72 on the 12th at 8:00; at 20 C from now on, on the 7th at 20:00 and the 9th
    // at 20:00.
    let mut site = Site::new(json!({ "use": "car", "edges": { "overdig_mm": 0 } }));
    assert!(!site.mentions("joint", "concrete") && !site.mentions("hand_over", "concrete"));
    let cold = json!({ "where": "far edge", "temperature_c": 5 });
    site.log_at("2026-04-06T08:00:00+01:00", "edge_concrete", cold);
    let view = |site: &mut Site| site.of_job("job")["site"]["concrete"][0].clone();
    let seen = view(&mut site);
    assert!((seen["age_h"].as_f64().expect("an age") - 12.0).abs() < 0.01, "{seen}");
    assert_eq!(seen["plate_from"], "2026-04-08T08:00:00+01:00");
    assert_eq!(seen["cars_from"], "2026-04-12T08:00:00+01:00");
    assert_eq!(seen["says"]["code"], "concrete.bears_nothing");
    assert_eq!(seen["says"]["values"]["hours"], 24.0);
    assert!(site.has("joint", false, "next.concrete_plate"));
    assert!(site.has("hand_over", false, "next.concrete_cars"));
    site.log_at(
        "2026-04-07T08:00:00+01:00",
        "weather",
        json!({ "sky": "dry", "temperature_c": 20 }),
    );
    let seen = view(&mut site);
    assert_eq!(seen["plate_from"], "2026-04-07T20:00:00+01:00");
    assert_eq!(seen["cars_from"], "2026-04-09T20:00:00+01:00");
    // At or below the datum of -10 C it hardens no further.
    site.log("weather", json!({ "sky": "frost", "temperature_c": -12 }));
    let seen = view(&mut site);
    assert_eq!((&seen["plate_from"], &seen["cars_from"]), (&Value::Null, &Value::Null));
    assert_eq!(seen["says"]["code"], "concrete.too_cold");
    assert!(site.has("joint", false, "next.concrete_cold"));
    // Older concrete is old enough.
    let mut site = Site::new(json!({ "use": "car", "edges": { "overdig_mm": 0 } }));
    let warm = json!({ "where": "all round", "temperature_c": 20, "batch": "2" });
    site.log_at("2026-04-03T08:00:00+01:00", "edge_concrete", warm);
    assert!(site.has("joint", true, "gate.concrete_plate"));
    assert!(site.has("hand_over", true, "gate.concrete_cars"));
}

#[test]
fn a_drop_test_tells_when_the_plate_does_no_more() {
    // Hand arithmetic: drops of 4, 3 and 5 mm, mean 4: it still moves; then 0, 1 and 1, mean 0.67 and
    // none over 2: done.
    let mut site = Site::new(json!({}));
    let round = |readings: [f64; 3]| {
        let places = [0.5, 2.0, 4.0].into_iter().zip(readings);
        let rows: Vec<Value> =
            places.map(|(at, mm)| json!({ "place": place(at), "reading_mm": mm })).collect();
        json!({ "layer": "sub_base", "lift": 1, "plant": "small plate", "readings": rows })
    };
    site.log("drop_round", round([100.0, 100.0, 100.0]));
    assert!(!site.mentions("sub_base", "drop."));
    site.log("drop_round", round([104.0, 103.0, 105.0]));
    assert!(site.has("sub_base", false, "drop.settling"));
    site.log("drop_round", round([104.0, 104.0, 106.0]));
    assert!(site.has("sub_base", true, "drop.done"));
    let test = site.of_job("job")["site"]["drop_tests"][0].clone();
    assert_eq!((&test["rounds"], &test["lift"]), (&json!(3), &json!(1)));
    // A round at other places begins it anew.
    let mut elsewhere = round([100.0, 100.0, 100.0]);
    elsewhere["readings"][0]["place"] = place(3.0);
    site.log("drop_round", elsewhere);
    assert!(!site.mentions("sub_base", "drop."));
    let few = json!({ "layer": "sub_base", "lift": 9, "readings": [] });
    assert_eq!(site.refused("drop_round", few).len(), 2);
}

#[test]
fn snags_hold_the_handing_over() {
    let mut site = Site::new(json!({}));
    assert!(!site.mentions("hand_over", "snags"));
    let body = json!({ "text": "a lip at the gate", "due": "2026-05-02" });
    let snag = site.log("snag", body)["id"].clone();
    assert!(site.has("hand_over", false, "next.snags"));
    site.log("snag_closed", json!({ "snag": snag, "text": "lifted and relaid" }));
    assert!(site.has("hand_over", true, "gate.snags"));
    let refused = site.refused("snag_closed", json!({ "snag": snag, "text": "" }));
    assert_eq!(refused.len(), 2, "{refused:?}");
}

#[test]
fn packs_are_tallied_and_too_few_are_said() {
    let mut site = Site::new(json!({}));
    let packs = |site: &mut Site| site.of_job("job")["site"]["packs"].clone();
    let none = packs(&mut site);
    assert_eq!((&none["says"]["code"], &none["few"]), (&json!("packs.none"), &json!(false)));
    let first = site.log("pack_opened", json!({ "label": "batch 12, grey" }))["id"].clone();
    site.log("pack_opened", json!({}));
    let two = packs(&mut site);
    assert_eq!((&two["says"]["code"], &two["open"]), (&json!("packs.few"), &json!(2)));
    site.log("pack_opened", json!({ "label": "batch 14" }));
    assert_eq!(packs(&mut site)["says"]["code"], "packs.enough");
    site.log("pack_emptied", json!({ "pack": first }));
    let after = packs(&mut site);
    assert_eq!((&after["open"], &after["few"]), (&json!(2), &json!(true)));
    assert!(after["list"][0]["emptied_at"].is_string(), "{after}");
    let again = site.refused("pack_emptied", json!({ "pack": first }));
    assert_eq!(again[0].1, "this pack is empty already");
    let photo = site.refused("pack_opened", json!({ "photo": "no hash" }));
    assert!(photo.iter().all(|(at, _)| at == "/photo"), "{photo:?}");
}

#[test]
fn the_plate_keeps_back_from_open_edges() {
    // Hand arithmetic: 7.4 by 5.2 m, all edges open: 5.4 by 3.2 m is left. With the reference edge
    // held, 5.4 by 4.2 m. A path of 1.8 m leaves nothing.
    let area = |plan: Value| {
        let mut site = Site::new(plan);
        for stage in [
            "before_start",
            "excavate",
            "compact_formation",
            "sub_base",
            "bed",
            "screed",
            "lay",
            "cut",
        ] {
            let reason = "passed by for the sake of this test alone";
            site.log("stage", json!({ "stage": stage, "done": true, "reason": reason }));
        }
        let plate = site.of_job("job")["site"]["plate"].clone();
        let area = plate["area_m2"].as_f64().expect("an area");
        (area, plate["says"]["code"].as_str().expect("a code").to_owned())
    };
    let (open, says) = area(json!({}));
    assert!((open - 5.4 * 3.2).abs() < 1e-6 && says == "plate.keeps_back", "{open} {says}");
    let held = json!({ "edges": { "held": ["reference"], "overdig_mm": 0 } });
    let (held, _) = area(held);
    // The ends' own rounding keeps the held corners free of nothing: only the open edges count.
    assert!((held - 5.4 * 4.2).abs() < 1e-6, "{held}");
    let narrow = json!({ "outline": { "rectangle": { "length_m": 7.4, "width_m": 1.8 } } });
    let (none, says) = area(narrow);
    assert!(none.abs() < 1e-6 && says == "plate.nowhere", "{none} {says}");
}

#[test]
fn passes_quicker_than_the_plate_can_go_are_counted() {
    // Hand arithmetic (capability C20): 38.48 m2, strip 0.42 m at 20 m/min: 4.58 min a pass.
    let mut site = Site::new(json!({
        "plant": [{ "name": "plate", "kind": "vibrating_plate", "rating": 1500, "width_mm": 495,
            "overlap_mm": 75, "speed_m_per_min": 20 }],
    }));
    for minute in ["00", "02", "07", "10"] {
        let at = format!("2026-04-07T07:{minute}:00+01:00");
        site.log_at(&at, "pass", json!({ "layer": "formation", "plant": "plate" }));
    }
    site.log("pass", json!({ "layer": "formation", "plant": "another" }));
    let rows = site.of_job("job")["passes"].clone();
    assert_eq!((&rows[0]["quick"], &rows[1]["quick"]), (&json!(2), &Value::Null));
    assert!((rows[0]["pass_min"].as_f64().expect("minutes") - 4.58).abs() < 0.005);
}

#[test]
fn a_low_formation_is_left_for_stone_and_costs_it() {
    // Hand arithmetic: 24 mm low over 38.48 m2 at 2.1 t/m3 are 1.94 t.
    let mut site = Site::new(json!({}));
    let place = json!({ "job": site.job, "layer": "formation", "from": "R1", "to": "F1",
        "at_m": 1.0, "raise_mm": 0, "reading_mm": 224 });
    let answer = site.ask("dip_target", place);
    assert_eq!(answer["costs"]["values"]["t"], 1.9, "{answer}");
    for at in [0.5, 2.5, 4.5] {
        let dip = json!({ "layer": "formation", "from": "R1", "to": "F1", "at_m": at,
            "reading_mm": 224 });
        site.log("dip", dip);
    }
    assert!(site.has("excavate", false, "next.overdug"));
    let diary = site.of_job("diary");
    let says = diary[1]["says"]["text"].as_str().expect("words");
    assert!(says.ends_with("low 24, leave it: fill with stone"), "{says}");
}

#[test]
fn services_are_not_passed_by_with_a_word() {
    let mut site = Site::new(json!({}));
    let close = |reason: &str| json!({ "stage": "before_start", "done": true, "reason": reason });
    let refused = site.refused("stage", close("no time"));
    assert_eq!(refused.len(), 1);
    site.log("stage", close("The network engineer stood by and dug trial holes by hand"));
}

#[test]
fn nonsense_of_the_site_is_refused_whole() {
    let mut site = Site::new(json!({}));
    let nowhere = json!({ "place": { "from": "R1", "to": "Q9", "at_m": -1 } });
    assert_eq!(site.refused("soft_spot", nowhere).len(), 1);
    assert_eq!(site.refused("weather", json!({ "sky": "dry", "temperature_c": 900 })).len(), 1);
    let spread = json!({ "layer": "surface", "loose_mm": -4, "damp": "dry" });
    assert_eq!(site.refused("spread", spread).len(), 2);
    let concrete = json!({ "where": " ", "temperature_c": 99 });
    assert_eq!(site.refused("edge_concrete", concrete).len(), 2);
}

#[test]
fn the_edges_may_be_restrained_before_the_joints_are_filled() {
    // The plate keeps back from open edges, so on a narrow path the joints wait for the concrete.
    let mut site = Site::new(json!({}));
    for stage in
        ["before_start", "excavate", "compact_formation", "sub_base", "bed", "screed", "lay", "cut"]
    {
        let reason = "passed by for the sake of this test alone";
        site.log("stage", json!({ "stage": stage, "done": true, "reason": reason }));
    }
    assert!(!site.mentions("restrain_edges", "earlier_open"));
    assert!(site.has("hand_over", false, "next.earlier_open_more"));
}

#[test]
fn what_stood_before_an_issued_record_is_not_undone_with_a_tap() {
    let mut site = Site::new(json!({}));
    let undo = |site: &mut Site| site.of_job("job")["undo"]["says"]["code"].clone();
    site.log("note", json!({ "text": "gate left open" }));
    assert_eq!(undo(&mut site), "entry.note");
    let signed = json!({ "paper": "completion_record", "name": "Odile Farrow", "role": "customer",
        "strokes": [[[10, 10], [200, 300]]] });
    site.log("signature", signed);
    site.log("record", json!({ "number": 1, "file": "record.pdf" }));
    assert_eq!(undo(&mut site), Value::Null);
    let issued = site.of_job("job")["records"][0].clone();
    assert_eq!(issued["signed_by"][0]["name"], "Odile Farrow");
    assert_eq!(issued["logged_since"], 0);
    site.log("note", json!({ "text": "back for the hose" }));
    assert_eq!(undo(&mut site), "entry.note");
    let job = site.of_job("job");
    assert_eq!((&job["records"][0]["logged_since"], &job["signatures"]), (&json!(1), &json!([])));
}
