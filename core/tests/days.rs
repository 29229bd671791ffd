//! Days on a site: what is expected of the weather and what had better wait, the day closed with a few
//! lines for the customer; and photos by pin, and how thick a layer lies.

#![expect(clippy::expect_used, clippy::indexing_slicing, reason = "a test's set-up may fail it")]

mod desk;

use desk::Site;
use fairfall_core::store::prepare_photo;
use serde_json::{Value, json};

impl Site {
    /// Closes stages up to one, that it is in work.
    fn work_up_to(&mut self, stage: &str) {
        let job = self.of_job("job");
        let stages = job["stages"].as_array().expect("stages").iter();
        let names: Vec<String> =
            stages.map(|s| s["stage"].as_str().expect("a name").to_owned()).collect();
        for before in names.iter().take_while(|name| *name != stage) {
            let reason = "passed by for the sake of this test alone";
            self.log("stage", json!({ "stage": before, "done": true, "reason": reason }));
        }
    }

    /// The codes of what the first expected day speaks against.
    fn holds(&mut self) -> Vec<String> {
        let days = self.of_job("job")["site"]["forecasts"].clone();
        let holds = days[0]["holds"].as_array().expect("holds").iter();
        holds.map(|hold| hold["code"].as_str().expect("a code").to_owned()).collect()
    }
}

fn expected(sky: &str, low: Option<f64>, high: Option<f64>) -> Value {
    let mut forecast = json!({ "day": "2026-04-08", "sky": sky });
    for (key, celsius) in [("low_c", low), ("high_c", high)] {
        if let Some(celsius) = celsius {
            forecast[key] = json!(celsius);
        }
    }
    forecast
}

#[test]
fn the_weather_ahead_speaks_against_what_it_spoils() {
    // Joint sand wants it dry, fresh concrete at least 5 C (EN 206, from memory), nothing is laid on
    // frozen ground (common practice, no source). Under feet the stages run: excavate, formation,
    // sub-base, bed, screed, lay, cut, joint, edges.
    let cases = [
        ("excavate", expected("wet", None, None), vec!["formation_wet", "stone_wet", "bed_wet"]),
        ("sub_base", expected("dry", Some(-1.0), None), vec!["stone_frost", "bed_frost"]),
        ("cut", expected("wet", None, None), vec!["joints_damp", "concrete_wet"]),
        ("joint", expected("dry", Some(4.5), Some(9.0)), vec!["concrete_cold"]),
        ("joint", expected("dry", Some(5.0), Some(30.0)), vec![]),
        ("joint", expected("drying", None, Some(31.0)), vec!["concrete_hot"]),
        ("joint", expected("frost", None, None), vec!["joints_damp", "concrete_cold"]),
        ("hand_over", expected("frost", None, None), vec![]),
        ("return_visit", expected("wet", None, None), vec!["joints_damp"]),
        ("excavate", expected("drying", None, None), vec![]),
    ];
    for (stage, forecast, codes) in cases {
        let mut site = Site::new(json!({}));
        site.work_up_to(stage);
        site.log("forecast", forecast.clone());
        let codes: Vec<String> = codes.iter().map(|code| format!("hold.{code}")).collect();
        assert_eq!(site.holds(), codes, "{stage}: {forecast}");
    }
}

#[test]
fn the_newest_word_of_a_day_counts_and_days_gone_by_are_not_shown() {
    let mut site = Site::new(json!({}));
    site.work_up_to("excavate");
    site.log("forecast", json!({ "day": "2026-04-09", "sky": "frost", "low_c": -3 }));
    site.log("forecast", json!({ "day": "2026-04-06", "sky": "wet" }));
    site.log("forecast", json!({ "day": "2026-04-08", "sky": "wet" }));
    let last = site.log("forecast", json!({ "day": "2026-04-08", "sky": "dry", "high_c": 14 }));
    let days = site.of_job("job")["site"]["forecasts"].clone();
    let seen: Vec<_> = days.as_array().expect("days").iter().map(|d| d["day"].clone()).collect();
    assert_eq!(seen, [json!("2026-04-08"), json!("2026-04-09")]);
    assert_eq!(days[0]["says"]["text"], "dry, up to 14 °C");
    // Struck, the one before it stands.
    site.log("strike", json!({ "entry": last["id"], "reason": "another town" }));
    assert_eq!(site.of_job("job")["site"]["forecasts"][0]["sky"], "wet");
    let bad = json!({ "day": "2026-05-30", "sky": "dry", "low_c": 12, "high_c": 9 });
    let at: Vec<String> = site.refused("forecast", bad).into_iter().map(|(at, _)| at).collect();
    assert_eq!(at, ["/day", "/high_c"]);
}

#[test]
fn a_day_is_closed_and_told_to_the_customer() {
    let mut site = Site::new(json!({}));
    site.work_up_to("excavate");
    for (at, reading) in [(0.5, 200), (2.5, 260), (4.5, 200)] {
        let dip = json!({ "layer": "formation", "from": "R1", "to": "F1", "at_m": at,
            "reading_mm": reading });
        site.log("dip", dip);
    }
    let wrong = site.log("pass", json!({ "layer": "formation", "plant": "plate" }))["id"].clone();
    site.log("strike", json!({ "entry": wrong, "reason": "not finished" }));
    let job = site.job.clone();
    let day = |site: &mut Site| site.ask("day", json!({ "job": job }));
    let open = day(&mut site);
    assert_eq!(open["closed"], Value::Null);
    let text = open["to_customer"].as_str().expect("lines").to_owned();
    assert!(text.starts_with("t, 7 April 2026\nDone: Before the start\n"), "{text}");
    assert!(text.contains("3 dips on the formation, 1 of them outside their limits"), "{text}");
    assert!(!text.contains("pass of the plate"), "struck: {text}");
    assert!(text.ends_with("Next: Excavate"), "{text}");

    let left = json!({ "covered": false, "guarded": true });
    let refused = site.refused("day_closed", left);
    assert_eq!(refused[0].0, "/left");
    let both = json!({ "covered": true, "guarded": true, "left": "all", "worked_min": 20_000 });
    let at: Vec<String> = site.refused("day_closed", both).into_iter().map(|(at, _)| at).collect();
    assert_eq!(at, ["/left", "/worked_min"]);
    let left = json!({ "covered": false, "guarded": true, "left": "the heap of sand",
        "worked_min": 930, "tomorrow": "compact the formation" });
    site.log("day_closed", left);
    let closed = day(&mut site);
    assert_eq!(
        closed["closed"]["text"],
        "Day closed, 15 h 30 min worked. Barriers stand. Not covered: the heap of sand. \
         Next: compact the formation"
    );
    let text = closed["to_customer"].as_str().expect("lines");
    assert!(
        text.ends_with("Not covered: the heap of sand.\nNext: compact the formation"),
        "{text}"
    );
    // Another day has nothing of it.
    let other = site.ask("day", json!({ "job": job, "day": "2026-04-08" }));
    assert_eq!((&other["done"], &other["closed"]), (&json!([]), &Value::Null));
}

#[test]
fn a_photo_names_the_pin_it_was_taken_at() {
    let mut site = Site::new(json!({}));
    let photo = json!({ "sha256": "0".repeat(64), "stage": "sub_base", "pin": "Q9" });
    let at: Vec<String> = site.refused("photo", photo).into_iter().map(|(at, _)| at).collect();
    assert_eq!(at, ["/pin", "/sha256"], "no such pin, and no photo kept under that hash");
    let mut white = Vec::new();
    image::RgbImage::new(8, 8)
        .write_to(&mut std::io::Cursor::new(&mut white), image::ImageFormat::Png)
        .expect("a picture");
    let prepared = prepare_photo(&white).expect("a photo");
    let kept = site.desk.store.keep_photo(&prepared).expect("kept");
    let photo = json!({ "sha256": kept.sha256, "stage": "sub_base", "pin": "R1" });
    site.log("photo", photo);
    let job = site.of_job("job");
    assert_eq!(job["photos"][0]["pin"], "R1");
    let diary = site.of_job("diary");
    assert_eq!(diary[1]["says"]["text"], "Photo at R1, Sub-base");
}

#[test]
fn the_thickness_of_a_layer_is_drawn_between_its_dips() {
    // Hand arithmetic: the formation right, the stone 20 mm low at one end of 7.4 m and right at the
    // other: from 80 to 100 mm, 90 on average, and half of 38.48 m2 under 90.
    let mut site = Site::new(json!({}));
    let job = site.job.clone();
    let of = |layer: &str| json!({ "job": job, "layer": layer });
    assert_eq!(site.ask("layer_thickness", of("sub_base")), Value::Null);
    for (layer, right, low) in [("formation", 200, 0), ("sub_base", 100, 20)] {
        for (from, to, off) in [("R1", "F1", low), ("R4", "F4", 0)] {
            for at in [0.0, 5.2] {
                let dip = json!({ "layer": layer, "from": from, "to": to, "at_m": at,
                    "reading_mm": right + off });
                site.log("dip", dip);
            }
        }
    }
    let drawn = site.ask("layer_thickness", of("sub_base"));
    let number = |value: &Value| value.as_f64().expect("a number");
    let over = &drawn["over_mm"];
    for (key, mm) in [("least", 80.0), ("mean", 90.0), ("greatest", 100.0)] {
        assert!((number(&over[key]) - mm).abs() < 1e-6, "{key}: {over}");
    }
    assert!((number(&drawn["limit_mm"]) - 90.0).abs() < 1e-9);
    assert!((number(&drawn["thin_m2"]) - 19.24).abs() < 1e-6);
    // Lines at whole steps, each straight across the 5.2 m.
    for line in drawn["contours"].as_array().expect("lines") {
        let x = (number(&line["mm"]) - 80.0) / 20.0 * 7.4;
        for place in line["pieces"]
            .as_array()
            .expect("pieces")
            .iter()
            .flat_map(|p| p.as_array().expect("two places"))
        {
            assert!((number(&place[0]) - x).abs() < 1e-6, "{line}");
        }
    }
    assert_eq!(site.ask("layer_thickness", of("surface")), Value::Null);
}
