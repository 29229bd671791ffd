//! Laws of shapes, and what is refused of them, through the plan file.

#![expect(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    clippy::panic,
    reason = "a test that cannot go on has failed"
)]

use fairfall_core::outline::distance;
use fairfall_core::plan::{Plan, Problem, answer, set_out};
use proptest::prelude::*;
use serde_json::{Value, json};

fn with(members: Value) -> Value {
    let mut plan = json!({ "fairfall_plan": 1, "title": "t", "use": "foot" });
    for (key, value) in members.as_object().unwrap() {
        plan[key] = value.clone();
    }
    plan
}

fn plan(members: Value) -> Plan {
    Plan::read(with(members)).unwrap_or_else(|problems| panic!("{problems:?}"))
}

fn problems(members: Value) -> Vec<Problem> {
    Plan::read(with(members)).err().unwrap_or_default()
}

fn number(answer: &Value, pointer: &str) -> f64 {
    answer.pointer(pointer).and_then(Value::as_f64).unwrap_or_else(|| panic!("{pointer}: {answer}"))
}

/// A boundary like a D: three straights and an arc of a radius from (length, width) to (0, width),
/// turned and moved.
fn arch(length: f64, width: f64, radius: f64, turn: f64, to: [f64; 2], clockwise: bool) -> Value {
    let place = |x: f64, y: f64| {
        let (sin, cos) = turn.sin_cos();
        json!([to[0] + x * cos - y * sin, to[1] + x * sin + y * cos])
    };
    let (a, b, c, d) =
        (place(0.0, 0.0), place(length, 0.0), place(length, width), place(0.0, width));
    if clockwise {
        json!({ "boundary": { "start": b, "sides": [
            { "to": a }, { "to": d }, { "arc_to": c, "radius_m": radius, "turn": "right" }, { "to": b },
        ]}})
    } else {
        json!({ "boundary": { "start": a, "sides": [
            { "to": b }, { "to": c }, { "arc_to": d, "radius_m": radius, "turn": "left" }, { "to": a },
        ]}})
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn area_and_perimeter_do_not_change_when_a_shape_is_moved_and_turned(
        length in 1.0_f64..12.0, width in 1.0_f64..8.0, bulge in 0.501_f64..3.0,
        turn in 0.0_f64..6.3, x in -200.0_f64..200.0, y in -200.0_f64..200.0, clockwise: bool,
    ) {
        let radius = length * bulge;
        let still = answer(&plan(json!({ "outline": arch(length, width, radius, 0.0, [0.0, 0.0], false) })));
        let moved = answer(&plan(json!({ "outline": arch(length, width, radius, turn, [x, y], clockwise) })));
        // The closed form: a rectangle and a circular segment.
        let angle = 2.0 * (length / 2.0 / radius).asin();
        let area = length * width + radius * radius * (angle - angle.sin()) / 2.0;
        for pointer in ["/outline/area_m2", "/outline/perimeter_m", "/dig/area_m2"] {
            let (a, b) = (number(&still, pointer), number(&moved, pointer));
            prop_assert!((a - b).abs() < 1e-9 * a.max(1.0), "{} {} {}", pointer, a, b);
        }
        prop_assert!((number(&still, "/outline/area_m2") - area).abs() < 1e-9 * area);
    }

    #[test]
    fn pins_stand_close_enough_and_every_string_joins_two_of_them(
        length in 1.0_f64..14.0, width in 1.0_f64..9.0, bulge in 0.51_f64..3.0, clockwise: bool,
    ) {
        let plan = plan(json!({ "outline": arch(length, width, length * bulge, 0.3, [1.0, 2.0], clockwise) }));
        let pins = plan.pins();
        let mut names: Vec<&str> = pins.iter().map(|pin| pin.name.as_str()).collect();
        names.sort_unstable();
        names.dedup();
        prop_assert_eq!(names.len(), pins.len());
        for (a, b) in pins.iter().zip(pins.iter().cycle().skip(1)) {
            prop_assert!(distance(a.point, b.point).to_m() < 3.0 + 1e-6);
        }
        let strings = plan.strings();
        prop_assert!(strings.len() >= pins.len());
        for string in &strings {
            prop_assert!(string.from.name != string.to.name);
        }
    }

    #[test]
    fn a_dig_with_room_all_round_is_the_shape_and_its_border(
        length in 1.0_f64..12.0, width in 1.0_f64..8.0, room in 0.0_f64..600.0,
    ) {
        // Closed form for a rectangle with filled corners.
        let plan = plan(json!({
            "outline": { "rectangle": { "length_m": length, "width_m": width } },
            "edges": { "overdig_mm": room },
        }));
        let room = room / 1000.0;
        let area = (length + 2.0 * room) * (width + 2.0 * room);
        prop_assert!((number(&answer(&plan), "/dig/area_m2") - area).abs() < 1e-9 * area);
    }
}

#[test]
fn a_round_end_grows_about_its_own_centre() {
    // Closed form: a straight of 5 m, 1.2 m wide, round at both ends, with 0.1 m of room all round
    // is a straight of 5 m, 1.4 m wide, and a circle of 1.4 m.
    let strip = json!({ "strip": {
        "edge": [{ "straight_m": 5 }], "width_m": 1.2, "side": "left", "start": "round", "end": "round",
    }});
    let dug = number(&answer(&plan(json!({ "outline": strip }))), "/dig/area_m2");
    let right = 5.0 * 1.4 + std::f64::consts::PI * 0.49;
    assert!((dug - right).abs() < 1e-9, "{dug} {right}");
}

#[test]
fn inside_corners_of_a_dig_come_together() {
    // Hand arithmetic: an L of 6 by 6 less 3 by 3, 0.1 m of room all round: every side moves out,
    // the inside corner with them: 6.2 x 6.2 less 3 x 3.
    let l = [[6, 0], [6, 3], [3, 3], [3, 6], [0, 6], [0, 0]].map(|to| json!({ "to": to }));
    let l = json!({ "boundary": { "start": [0, 0], "sides": l } });
    let dug = number(&answer(&plan(json!({ "outline": l }))), "/dig/area_m2");
    assert!((dug - (6.2 * 6.2 - 9.0)).abs() < 1e-9, "{dug}");
    let held = plan(json!({ "outline": l, "edges": { "held": [1, 6] } }));
    let dug = number(&answer(&held), "/dig/area_m2");
    assert!((dug - (6.1 * 6.1 - 9.0)).abs() < 1e-9, "{dug}");
}

#[test]
fn a_room_that_swallows_a_side_leaves_a_whole_shape() {
    // A notch of 50 mm in the side of a square of 2 m is swallowed by 100 mm of room: about
    // 2.2 x 2.2 and never more.
    let corners = [
        [2.0, 0.0],
        [2.0, 1.0],
        [1.95, 1.0],
        [1.95, 1.05],
        [2.0, 1.05],
        [2.0, 2.0],
        [0.0, 2.0],
        [0.0, 0.0],
    ];
    let sides = corners.map(|to| json!({ "to": to }));
    let notched = json!({ "boundary": { "start": [0, 0], "sides": sides } });
    let dug = number(&answer(&plan(json!({ "outline": notched }))), "/dig/area_m2");
    assert!(dug <= 4.84 + 1e-9 && dug > 4.78, "{dug}");
}

#[test]
fn holes_are_left_out_and_what_is_around_them_is_said() {
    // Closed forms: a circle and a turned rectangle in 6 m by 4 m.
    let plan = plan(json!({
        "outline": { "rectangle": { "length_m": 6, "width_m": 4 } },
        "holes": [
            { "circle": { "x_m": 1, "y_m": 1, "radius_m": 0.3 }, "drain": true },
            { "rectangle": { "x_m": 3, "y_m": 2, "length_m": 0.6, "width_m": 0.45, "turn_deg": 30 } },
            { "polygon": [[5, 3], [5.5, 3], [5.25, 3.5]] },
        ],
    }));
    let answer = answer(&plan);
    let circle = std::f64::consts::PI * 0.09;
    let area = 24.0 - circle - 0.27 - 0.125;
    assert!((number(&answer, "/outline/area_m2") - area).abs() < 1e-9);
    assert!((number(&answer, "/outline/perimeter_m") - 20.0).abs() < 1e-9);
    let around = std::f64::consts::PI * 0.6 + 2.1 + 0.5 + 2.0 * 0.25_f64.hypot(0.5);
    assert!((number(&answer, "/outline/holes_perimeter_m") - around).abs() < 1e-9);
}

#[test]
fn ties_name_their_corners_at_the_pins() {
    let outline = json!({ "ties": {
        "base_m": 4,
        "corners": [
            { "name": "gate", "a_m": 5, "b_m": 3, "side": "left" },
            { "name": "tree", "a_m": 3, "b_m": 5, "side": "left" },
        ],
        "checks": [{ "from": "gate", "to": "tree", "measured_m": 4.0 }],
    }});
    let plan = plan(json!({ "outline": outline, "edges": { "held": ["reference"] } }));
    let names: Vec<String> = plan.pins().into_iter().map(|pin| pin.name).collect();
    assert_eq!(names, ["A", "P2", "B", "gate", "P5", "tree"]);
    assert!((number(&answer(&plan), "/outline/area_m2") - 12.0).abs() < 1e-9);
    let out = set_out(&plan);
    assert_eq!(out["diagonals"].as_array().unwrap().len(), 4, "{out}");
}

#[test]
fn shapes_that_cannot_be_are_refused_at_their_place() {
    let rectangle = json!({ "rectangle": { "length_m": 4, "width_m": 3 } });
    let boundary =
        |sides: Value| json!({ "outline": { "boundary": { "start": [0, 0], "sides": sides } } });
    let ties = |a: f64, b: f64| {
        json!({ "outline": { "ties": { "base_m": 4, "corners": [
            { "name": "C", "a_m": a, "b_m": b, "side": "left" },
        ]}}})
    };
    let holes = |holes: Value| json!({ "outline": rectangle, "holes": holes });
    let spots = |spots: Value| json!({ "outline": rectangle, "ground": { "spots": spots } });
    let cases = [
        (
            boundary(
                json!([{ "to": [2, 2] }, { "to": [2, 0] }, { "to": [0, 2] }, { "to": [0, 0] }]),
            ),
            "/outline/boundary",
            "x 1.00 m, y 1.00 m",
        ),
        (
            boundary(
                json!([{ "to": [4, 0] }, { "to": [4, 3] }, { "to": [0, 3] }, { "to": [0.012, 0] }]),
            ),
            "/outline/boundary/sides",
            "12 mm away",
        ),
        (
            boundary(
                json!([{ "to": [4, 0] }, { "arc_to": [0, 0], "radius_m": 1.5, "turn": "left" }]),
            ),
            "/outline/boundary/sides/1",
            "farther than its circle",
        ),
        (
            boundary(
                json!([{ "to": [4, 0] }, { "arc_to": [0, 0], "radius_m": 0, "turn": "left" }]),
            ),
            "/outline/boundary/sides/1/radius_m",
            "out of bounds",
        ),
        (
            boundary(json!([{ "to": [1e9, 0] }, { "to": [0, 1] }])),
            "/outline/boundary/sides/0/to/0",
            "out of bounds",
        ),
        (boundary(json!([{ "to": [4, 0] }, { "to": [0, 0] }])), "/outline/boundary", ""),
        (ties(1.0, 2.5), "/outline/ties/corners/0", "500 mm too short"),
        (ties(9.0, 2.0), "/outline/ties/corners/0", "3000 mm longer"),
        (
            holes(json!([{ "circle": { "x_m": 0.2, "y_m": 1, "radius_m": 0.3 } }])),
            "/holes/0",
            "not wholly inside",
        ),
        (
            holes(json!([{ "circle": { "x_m": 9, "y_m": 1, "radius_m": 0.3 } }])),
            "/holes/0",
            "not wholly inside",
        ),
        (
            holes(json!([
                { "circle": { "x_m": 1, "y_m": 1, "radius_m": 0.3 } },
                { "circle": { "x_m": 1.4, "y_m": 1, "radius_m": 0.3 } },
            ])),
            "/holes/1",
            "touches hole 1",
        ),
        (
            holes(json!([{ "polygon": [[1, 1], [2, 2], [2, 1], [1, 2]] }])),
            "/holes/0",
            "crosses itself",
        ),
        (
            spots(
                json!([{ "x_m": 0, "y_m": 0, "mm": 0 }, { "x_m": 1, "y_m": 1, "mm": 0 }, { "x_m": 2, "y_m": 2, "mm": 0 }]),
            ),
            "/ground/spots",
            "span no area",
        ),
        (
            spots(json!([
                { "x_m": 0, "y_m": 0, "mm": 0 }, { "x_m": 0, "y_m": 0, "mm": 9 }, { "x_m": 2, "y_m": 0, "mm": 0 },
                { "x_m": 2, "y_m": 2, "mm": 0 },
            ])),
            "/ground/spots",
            "two levels",
        ),
        (
            json!({ "outline": { "offsets": { "stations": [{ "at_m": 2, "left_m": 1 }, { "at_m": 1, "left_m": 1 }] } } }),
            "/outline/offsets/stations/1/at_m",
            "does not come after",
        ),
        (
            json!({ "outline": { "offsets": { "stations": [{ "at_m": 0 }, { "at_m": 3 }] } } }),
            "/outline/offsets",
            "no area",
        ),
        (
            json!({ "outline": rectangle, "edges": { "held": ["left"] } }),
            "/edges/held/0",
            "no side \"left\"",
        ),
        (
            json!({ "outline": rectangle, "against": [{ "edge": 2 }] }),
            "/against/0/edge",
            "no side 2",
        ),
        (
            json!({ "outline": rectangle, "surface": { "spots": [
                { "x_m": 0, "y_m": 0, "mm": 0 }, { "x_m": 1, "y_m": 0, "mm": 0 }, { "x_m": 2, "y_m": 0, "mm": 0 },
            ]}}),
            "/surface/spots",
            "one line",
        ),
        (
            json!({ "outline": rectangle, "surface": { "spots": [], "crossfall_one_in": 60 } }),
            "/surface",
            "together",
        ),
        (
            json!({ "outline": rectangle, "answers": { "caution.dust": "a mask" } }),
            "/answers",
            "asks for no answer",
        ),
    ];
    for (members, at, says) in cases {
        let found = problems(members.clone());
        let said = found.iter().any(|p| p.at == at && p.problem.contains(says));
        assert!(said, "{members} should say \"{says}\" at {at}: {found:?}");
    }
}

#[test]
fn a_fall_towards_a_building_wants_an_answer() {
    let yard = |answers: Value| {
        plan(json!({
            "outline": { "rectangle": { "length_m": 5, "width_m": 4 } },
            "surface": { "crossfall_one_in": 60 },
            "against": [{ "edge": "far", "damp_course_mm": 150 }, { "edge": "reference", "damp_course_mm": 100 }],
            "answers": answers,
        }))
    };
    let open = fairfall_core::plan::unanswered(&yard(json!({})));
    let codes: Vec<&str> = open.iter().map(|c| c.code.as_str()).collect();
    assert_eq!(codes, ["caution.fall_towards_building", "caution.damp_course"]);
    let said = json!({
        "caution.fall_towards_building": "channel drain along the wall",
        "caution.damp_course": "agreed with the owner, two courses tanked",
    });
    assert_eq!(fairfall_core::plan::unanswered(&yard(said)), []);
}
