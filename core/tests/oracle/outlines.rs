//! Areas, perimeters and digs of rectangles and strips, against shapely's polygons of chords within
//! 10 nanometres of the arcs. Ours are exact for arcs, so all agree to a millionth.

use serde_json::Value;

use super::{Case, each, exact};

/// Area, length around and length of the reference edge.
pub(super) fn shape(case: &mut Case, answer: &Value) {
    let expect = &case.value["expect"];
    for key in ["area_m2", "perimeter_m", "reference_edge_m"] {
        case.same(answer, &format!("/outline/{key}"), &expect[key], exact);
    }
}

/// Area of the dig.
pub(super) fn dig(case: &mut Case, answer: &Value) {
    let wanted = &case.value["expect"]["dig_area_m2"];
    case.same(answer, "/dig/area_m2", wanted, exact);
}

#[test]
fn rectangles_and_square_ended_strips() {
    each("strips_square.json", 55, |case| {
        if let Some(answer) = case.answer() {
            shape(case, &answer);
            dig(case, &answer);
        }
    });
}

#[test]
fn round_ended_strips() {
    each("strips_round.json", 42, |case| {
        if let Some(answer) = case.answer() {
            shape(case, &answer);
        }
    });
}
