//! Plans that are none.

use std::collections::BTreeSet;

use fairfall_acceptance::bridge::Bridge;
use fairfall_acceptance::program::{Ended, Fairfall, root};
use serde_json::{Value, json};

use super::ask;

/// The places of the problems with a plan.
fn places(ended: &Ended) -> BTreeSet<String> {
    let answer = ended.json().unwrap();
    let problems = answer["problems"].as_array().unwrap();
    for problem in problems {
        for part in ["problem", "right"] {
            assert!(!problem[part].as_str().unwrap().is_empty(), "{problem}");
        }
    }
    problems.iter().map(|p| p["at"].as_str().unwrap().to_owned()).collect()
}

/// Starts a job from a plan that is none; nothing may come of it.
fn refused(fairfall: &Fairfall, plan: &[u8]) -> Ended {
    let folder = tempfile::tempdir().unwrap();
    let (file, store) = (folder.path().join("plan.json"), folder.path().join("store"));
    std::fs::write(&file, plan).unwrap();
    let new = ["new".as_ref(), store.as_os_str(), file.as_os_str(), "--json".as_ref()];
    let ended = fairfall.run(new).unwrap();
    assert_eq!(ended.status, Some(2), "{ended:?}");
    assert!(!store.exists());
    let look = fairfall.run(["plan".as_ref(), file.as_os_str(), "--json".as_ref()]).unwrap();
    assert_eq!((look.status, &look.out), (Some(2), &ended.out));
    ended
}

#[test]
fn a_plan_with_everything_wrong_has_every_problem_told_at_once() {
    let plan = json!({
        "fairfall_plan": 9,
        "title": "",
        "use": "lorry",
        "outline": { "strip": {
            "edge": [
                { "straight_m": -2.4 },
                { "arc_m": 3.6, "radius_m": 5.2, "turn": "up" },
                { "straight_m": 1.0, "radius_m": 2.0 },
                { "arc_m": 2.0 },
            ],
            "width_m": "wide", "side": "under", "start": "pointed", "end": 7,
        } },
        "surface": { "edge_levels": [{ "at_m": -1, "mm": 0 }], "crossfall_one_in": 2 },
        "ground": { "existing_mm": "low", "soil": "cheese" },
        "block": { "length_mm": 0, "width_mm": -100, "depth_mm": 6000, "joint_mm": 300 },
        "bond": { "pattern": "zigzag", "along": "sideways" },
        "edges": { "course": "double", "restraint": "hope", "overdig_mm": -5, "held": ["top"] },
        "layers": { "bed_mm": 4000, "sub_base_mm": -1 },
        "allowances": { "swell_percent": [30, 25], "sub_base_t_per_m3": 22 },
        "colour": "brindle",
    });
    let ended = refused(&Fairfall::built().unwrap(), plan.to_string().as_bytes());
    let wanted = [
        "/fairfall_plan",
        "/title",
        "/use",
        "/outline/strip/edge/0/straight_m",
        "/outline/strip/edge/1/turn",
        "/outline/strip/edge/2",
        "/outline/strip/edge/3/radius_m",
        "/outline/strip/edge/3/turn",
        "/outline/strip/width_m",
        "/outline/strip/side",
        "/outline/strip/start",
        "/outline/strip/end",
        "/surface/edge_levels/0/at_m",
        "/surface/crossfall_one_in",
        "/ground/existing_mm",
        "/ground/soil",
        "/block/length_mm",
        "/block/width_mm",
        "/block/depth_mm",
        "/block/joint_mm",
        "/bond/pattern",
        "/bond/along",
        "/edges/course",
        "/edges/restraint",
        "/edges/overdig_mm",
        "/edges/held/0",
        "/layers/bed_mm",
        "/layers/sub_base_mm",
        "/allowances/swell_percent",
        "/allowances/sub_base_t_per_m3",
        "/colour",
    ];
    assert_eq!(places(&ended), wanted.into_iter().map(str::to_owned).collect());
}

#[test]
fn a_plan_of_twenty_megabytes_is_refused_by_both_faces() {
    let mut plan = json!({ "fairfall_plan": 1, "title": "a".repeat(20 << 20) }).to_string();
    let ended = refused(&Fairfall::built().unwrap(), plan.as_bytes());
    assert_eq!(places(&ended), BTreeSet::from([String::new()]));
    assert!(ended.out.len() < 1000, "the answer repeats the plan");

    let folder = tempfile::tempdir().unwrap();
    let bridge = Bridge::open(folder.path().join("store"), root().join("ui/dist"), 0).unwrap();
    let look = |text: &str| {
        let request = json!({ "request": "look_at_plan", "args": { "text": text } });
        let answer = ask(&bridge.url(), "ask", &request).unwrap();
        assert_eq!(answer.status, 200);
        serde_json::from_slice::<Value>(&answer.body).unwrap()
    };
    let looked = look(&plan);
    assert_eq!(looked["problems"].as_array().unwrap().len(), 1, "{}", looked["problems"]);
    // The phone still answers.
    plan.truncate(10);
    assert_ne!(look(&plan)["problems"], json!([]));
}

#[test]
fn what_is_no_plan_at_all_is_said_so() {
    let fairfall = Fairfall::built().unwrap();
    let nested = "[".repeat(200_000);
    let cases: [&[u8]; 6] = [b"", b"\xFF\xFE\x00", b"{", b"[]", b"null", nested.as_bytes()];
    for case in cases {
        assert!(!places(&refused(&fairfall, case)).is_empty());
    }
}
