//! Offsets of arcs against mpmath's in fifty digits, and chainage and offset there and back against
//! scipy's nearest place.

use fairfall_core::outline::{ChordArc, Edge, Hand, Offset, Point, Run};
use fairfall_core::units::Length;
use serde_json::Value;

use super::{Case, each, exact, list, number};

fn metres(value: &Value, key: &str) -> Length {
    Length::from_m(number(value, key))
}

/// A row of offsets: as many, at the same places, equally far out.
fn row(case: &mut Case, key: &str, found: &[Offset]) {
    let wanted = list(&case.value["expect"], key);
    if found.len() != wanted.len() {
        case.differ(format!("{key} has {} rows, not {}", found.len(), wanted.len()));
    }
    for (offset, wanted) in found.iter().zip(wanted) {
        let (x, y) = (number(wanted, "x_m"), number(wanted, "y_m"));
        case.near(&format!("{key} place"), offset.at.to_m(), x, exact(x));
        case.near(&format!("{key} at {x}"), offset.offset.to_m(), y, exact(y));
    }
}

#[test]
fn offsets_from_chord_and_tangent() {
    each("arcs.json", 50, |case| {
        let given = &case.value["given"];
        let arc = ChordArc::new(metres(given, "radius_m"), metres(given, "chord_m")).unwrap();
        let every = metres(given, "every_m");
        let rise = number(&case.value["expect"], "mid_ordinate_m");
        case.near("mid ordinate", arc.mid_ordinate().to_m(), rise, exact(rise));
        row(case, "from_chord", &arc.from_chord(every));
        row(case, "from_tangent", &arc.from_tangent(every));
    });
}

fn run(value: &Value) -> Run {
    if value["straight_m"].is_number() {
        return Run::Straight(metres(value, "straight_m"));
    }
    let turn = match value["turn"].as_str() {
        Some("left") => Hand::Left,
        Some("right") => Hand::Right,
        other => panic!("{other:?} is no turn"),
    };
    Run::Arc { length: metres(value, "arc_m"), radius: metres(value, "radius_m"), turn }
}

#[test]
fn chainage_and_offset_there_and_back() {
    each("chainage.json", 30, |case| {
        let runs: Vec<Run> = list(case.value, "edge").iter().map(run).collect();
        let edge = Edge::new(&runs);
        for given in list(case.value, "points") {
            let (x, y) = (number(given, "x_m"), number(given, "y_m"));
            let point = edge.point(metres(given, "at_m"), metres(given, "offset_m"));
            case.near("x", point.x, x, exact(x));
            case.near("y", point.y, y, exact(y));
            let place = edge.place(Point { x, y });
            let at = number(given, "nearest_at_m");
            case.near("chainage", place.chainage.to_m(), at, exact(at));
            let offset = number(given, "nearest_offset_m");
            case.near("offset", place.offset.to_m(), offset, exact(offset));
        }
    });
}
