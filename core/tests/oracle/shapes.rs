//! Boundaries, offsets, holes, and digs round round ends, against shapely's polygons of chords within
//! 10 nanometres of the arcs.

use fairfall_core::outline::CHORD_TOLERANCE;

use super::outlines::{dig, shape};
use super::{Case, each, exact, number};

#[test]
fn digs_of_round_ended_strips() {
    each("strips_round.json", 42, |case| {
        if let Some(answer) = case.answer() {
            dig(case, &answer);
        }
    });
}

/// The dig agrees to a millionth, but where an arc ends in a corner: how it is prolonged there is a
/// matter of definition, and two thirds of the chord tolerance along the boundary is allowed.
fn boundary(case: &mut Case) {
    let Some(answer) = case.answer() else { return };
    shape(case, &answer);
    let expect = &case.value["expect"];
    let chords = number(expect, "perimeter_m") * CHORD_TOLERANCE.to_m() * 2.0 / 3.0;
    let corners = case.value["arc_corners"] == true;
    let within = |wanted| if corners { exact(wanted).max(chords) } else { exact(wanted) };
    case.same(&answer, "/dig/area_m2", &expect["dig_area_m2"], within);
}

#[test]
fn boundaries_of_straights_and_arcs() {
    each("boundaries.json", 83, boundary);
}

#[test]
fn sides_of_a_boundary_held_by_number() {
    each("boundaries_held.json", 8, boundary);
}

#[test]
fn outlines_with_holes() {
    each("holes.json", 45, |case| {
        let Some(answer) = case.answer() else { return };
        shape(case, &answer);
        dig(case, &answer);
        let around = &case.value["expect"]["holes_perimeter_m"];
        case.same(&answer, "/outline/holes_perimeter_m", around, exact);
    });
}

#[test]
fn outlines_by_offsets() {
    each("offsets.json", 43, |case| {
        let Some(answer) = case.answer() else { return };
        shape(case, &answer);
        dig(case, &answer);
        let rules = case.value["expect"]["offsets"].as_object().expect("the rules");
        for (rule, wanted) in rules {
            case.same(&answer, &format!("/outline/offsets/{rule}"), wanted, exact);
        }
    });
}
