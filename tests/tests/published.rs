//! Examples from print and by hand, put to the whole program through its command line. Each names
//! its source; where a source rounds, the tolerance is half of its last printed digit, both ways.
//! What one sum of the core gives by itself is checked beside it, not here.
#![cfg(test)]

use std::f64::consts::PI;

use fairfall_acceptance::program::Fairfall;
use serde_json::{Value, json};

const FOOT_M: f64 = 0.3048;
const INCH_MM: f64 = 25.4;
const CUBIC_YARD_M3: f64 = 0.764_554_857_984;

/// A plan with an outline, everything else by default; `more` adds to it or takes its place.
fn plan(outline: Value, more: Value) -> Value {
    let mut plan = json!({
        "fairfall_plan": 1, "title": "From print", "use": "foot", "outline": outline,
    });
    let members = plan.as_object_mut().unwrap();
    members.extend(more.as_object().unwrap().clone());
    plan
}

/// The answer of `fairfall plan`.
fn answer(plan: &Value) -> Value {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("plan.json");
    std::fs::write(&file, plan.to_string()).unwrap();
    let arguments = ["plan".as_ref(), file.as_os_str(), "--json".as_ref()];
    let ended = Fairfall::built().unwrap().run(arguments).unwrap();
    assert_eq!(ended.status, Some(0), "{ended:?}");
    ended.json().unwrap()
}

fn near(answer: &Value, pointer: &str, wanted: f64, within: f64) {
    let given = answer.pointer(pointer).and_then(Value::as_f64);
    let given = given.unwrap_or_else(|| panic!("no number at {pointer} in {answer}"));
    assert!((given - wanted).abs() <= within, "{pointer} is {given}, not {wanted}");
}

/// A patio of 20 ft by 10 ft: 200 square feet with 60 ft of edge.
fn patio() -> Value {
    json!({ "rectangle": { "length_m": 20.0 * FOOT_M, "width_m": 10.0 * FOOT_M } })
}

/// The paver of 8 in by 4 in that gives 4.5 to the square foot and 1.5 to the foot of edge.
fn paver() -> Value {
    json!({ "length_mm": 8.0 * INCH_MM, "width_mm": 4.0 * INCH_MM, "depth_mm": 60, "joint_mm": 0 })
}

#[test]
fn pavers_of_a_patio() {
    // Brick Industry Association leaflet, worked example: 200 ft2 at 4.5 pavers is 900, 5 % for
    // waste 45, 60 ft of edge at 1.5 is 90; in all 1035. It counts by area: in stack bond they lie
    // there without a cut. The counting by module of the edge is checked in the core.
    let more = json!({
        "block": paver(), "bond": { "pattern": "stack" }, "allowances": { "blocks_percent": 5 },
    });
    let field = answer(&plan(patio(), more));
    near(&field, "/outline/perimeter_m", 60.0 * FOOT_M, 1e-9);
    near(&field, "/blocks/whole", 900.0, 0.0);
    near(&field, "/blocks/cut", 0.0, 0.0);
    near(&field, "/blocks/buy", 945.0, 0.0);
    let more = json!({ "block": paver(), "edges": { "course": "stretcher" } });
    let edged = answer(&plan(patio(), more));
    // Hand arithmetic: laid, 30 along each side of 20 ft, and 14 between them along each of 10 ft.
    near(&edged, "/blocks/edge_course", 88.0, 0.0);
}

#[test]
fn sand_under_a_patio() {
    // The same leaflet: 200 ft2 of sand 1 in deep is 0.62 cubic yards.
    let sand = answer(&plan(patio(), json!({ "layers": { "bed_mm": INCH_MM } })));
    let yards = sand["bed"]["compacted_m3"].as_f64().unwrap() / CUBIC_YARD_M3;
    assert!((yards - 0.62).abs() <= 0.005, "{yards}");
}

#[test]
fn clay_swells_in_the_lorry() {
    // Engineering table: 300 m3 of clay that swells by 40 % fill 420 m3. Here 20 m by 10 m, dug
    // 1.5 m deep: 60 of block, 40 of bed and 100 of stone under ground that stands 1.3 m high.
    let dug = answer(&plan(
        json!({ "rectangle": { "length_m": 20, "width_m": 10 } }),
        json!({
            "surface": { "crossfall_one_in": null },
            "ground": { "existing_mm": 1300, "soil": "heavy_clay" },
            "block": { "depth_mm": 60 },
            "edges": { "overdig_mm": 0 },
            "layers": { "bed_mm": 40, "sub_base_mm": 100 },
            "allowances": { "swell_percent": [40, 40] },
        }),
    ));
    near(&dug, "/dig/solid_m3", 300.0, 1e-6);
    near(&dug, "/dig/loose_m3/0", 420.0, 0.5);
    near(&dug, "/dig/loose_m3/1", 420.0, 0.5);
}

/// A strip of one arc.
fn arc(length_m: f64, radius_m: f64, width_m: f64, side: &str, end: &str) -> Value {
    answer(&plan(
        json!({ "strip": {
            "edge": [{ "arc_m": length_m, "radius_m": radius_m, "turn": "left" }],
            "width_m": width_m, "side": side, "start": "square", "end": end,
        } }),
        json!({}),
    ))
}

#[test]
fn strips_on_a_curve() {
    // Hand arithmetic: w s (1 +/- w / 2R), edges of s and s (1 +/- w / R), and the two ends. A
    // quarter turn at R 3.9, 1.2 wide: on the outside pi/4 (5.1^2 - 3.9^2) = 8.482 m2, on the
    // inside pi/4 (3.9^2 - 2.7^2) = 6.220 m2.
    let (radius, width) = (3.9, 1.2);
    let quarter = PI / 2.0 * radius;
    let outside = arc(quarter, radius, width, "right", "square");
    near(&outside, "/outline/area_m2", 8.482_300, 1e-6);
    near(&outside, "/outline/perimeter_m", PI / 2.0 * (3.9 + 5.1) + 2.4, 1e-9);
    let inside = arc(quarter, radius, width, "left", "square");
    near(&inside, "/outline/area_m2", 6.220_353, 1e-6);
    near(&inside, "/outline/perimeter_m", PI / 2.0 * (3.9 + 2.7) + 2.4, 1e-9);
    near(&inside, "/outline/reference_edge_m", quarter, 1e-9);
}

#[test]
fn a_round_end_is_half_a_circle_more() {
    // Hand arithmetic: pi 0.6^2 / 2 = 0.565 m2 over a width of 1.2, and pi 0.6 instead of 1.2.
    let (radius, width) = (3.9, 1.2);
    let quarter = PI / 2.0 * radius;
    let round = arc(quarter, radius, width, "right", "round");
    near(&round, "/outline/area_m2", 8.482_300 + 0.565_487, 1e-6);
    near(&round, "/outline/perimeter_m", PI / 2.0 * (3.9 + 5.1) + 1.2 + PI * 0.6, 1e-9);
    near(&round, "/outline/reference_edge_m", quarter, 1e-9);
}

#[test]
fn room_to_work_is_dug_with_its_corners_filled() {
    // Hand arithmetic: 5 m by 3 m with 0.1 m all round is 5.2 by 3.2, 16.64 m2; with the reference
    // edge held, 5.2 by 3.1, 16.12 m2. Stone and lifts are over the area dug, sand under the paving:
    // 16.64 x 0.15 = 2.496 m3 in two lifts of 75, 5.491 t at 2.2 t/m3; 15 x 0.04 = 0.6 m3.
    let with = |held: Value| {
        answer(&plan(
            json!({ "rectangle": { "length_m": 5, "width_m": 3 } }),
            json!({
                "edges": { "overdig_mm": 100, "held": held },
                "layers": { "bed_mm": 40, "sub_base_mm": 150 },
                "allowances": { "sub_base_t_per_m3": 2.2 },
            }),
        ))
    };
    let free = with(json!([]));
    near(&free, "/dig/area_m2", 16.64, 1e-9);
    near(&free, "/sub_base/compacted_m3", 2.496, 1e-9);
    near(&free, "/sub_base/tonnes", 5.4912, 1e-9);
    near(&free, "/sub_base/lifts/0/thickness_mm", 75.0, 1e-9);
    near(&free, "/sub_base/lifts/1/thickness_mm", 75.0, 1e-9);
    assert_eq!(free["sub_base"]["lifts"].as_array().unwrap().len(), 2);
    near(&free, "/bed/compacted_m3", 0.6, 1e-9);
    near(&with(json!(["reference"])), "/dig/area_m2", 16.12, 1e-9);
}

#[test]
fn two_falls_combine_in_a_dip() {
    // Hand arithmetic: z = -x/80 - y/60 over 5 m by 6 m has the corners 0, -62.5, -162.5, -100. A
    // string from the first corner to the one across is marked at both; raised 100 over a build-up
    // of 250 it reads 350 anywhere, because the surface is a plane. Pins stand 2.5 m apart along the
    // edge, so the corner across from R1 is F3.
    let folder = tempfile::tempdir().unwrap();
    let (file, store) = (folder.path().join("plan.json"), folder.path().join("store"));
    let sloping = plan(
        json!({ "rectangle": { "length_m": 5, "width_m": 6 } }),
        json!({
            "surface": {
                "edge_levels": [{ "at_m": 0, "mm": 0 }, { "at_m": 5, "mm": -62.5 }],
                "crossfall_one_in": 60,
            },
            "block": { "depth_mm": 60 },
            "layers": { "bed_mm": 40, "sub_base_mm": 150 },
        }),
    );
    std::fs::write(&file, sloping.to_string()).unwrap();
    let fairfall = Fairfall::built().unwrap();
    let job = fairfall.new_job(&store, &file).unwrap();
    let diagonal = 7.810_249_7;
    let places = [("R1", "F3", diagonal / 3.0), ("R1", "F3", diagonal), ("F1", "R3", 4.0)];
    let lines: String = places
        .iter()
        .map(|(from, to, at_m)| {
            let body = json!({
                "layer": "formation", "from": from, "to": to, "at_m": at_m, "raise_mm": 100,
                "reading_mm": 338,
            });
            format!("{}\n", json!({ "kind": "dip", "body": body }))
        })
        .collect();
    let log = ["log".as_ref(), store.as_os_str(), job.as_ref()];
    let ended = fairfall.run_with(log, lines.as_bytes()).unwrap();
    assert_eq!(ended.status, Some(0), "{ended:?}");
    let answers = ended.lines().unwrap();
    assert_eq!(answers.len(), places.len());
    for answer in answers {
        near(&answer, "/answer/target_mm", 350.0, 1e-6);
        near(&answer, "/answer/high_mm", 12.0, 1e-6);
        assert_eq!(answer["answer"]["word"], json!("right"));
    }
}
