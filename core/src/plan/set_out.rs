//! Setting out: what a person needs at the pins and strings.

use serde_json::{Value, json};

use super::Plan;
use super::lay::BOARD;
use crate::laying::Template;
use crate::levels::{Pin, StringLine};
use crate::outline::{ChordArc, Offset, Point, Side, distance};
use crate::units::Length;

/// Offsets along a chord are given at this spacing.
const OFFSET_EVERY: Length = Length::from_mm(500.0);
/// An arc that turns this little more than half a circle is half a circle, radians.
const HALF_TURN_WITHIN: f64 = 1e-9;

/// The setting-out of a plan as one JSON object: pins with levels, strings, arc offsets from the
/// chord, template ordinates, diagonals. Numbers are not rounded.
pub fn set_out(plan: &Plan) -> Value {
    let pins = plan.pins();
    let strings: Vec<Value> = plan
        .strings()
        .iter()
        .map(|s| {
            json!({
                "from": s.from.name, "to": s.to.name, "length_m": s.length().to_m(),
                "sag_mm": s.sag().to_mm(),
            })
        })
        .collect();
    json!({
        "title": plan.title,
        "pins": pins.iter().map(|pin| pin_json(plan, pin)).collect::<Vec<_>>(),
        "strings": strings,
        "arcs": arcs(plan, &pins),
        "templates": templates(plan),
        "diagonals": diagonals(plan, &pins),
    })
}

fn pin_json(plan: &Plan, pin: &Pin) -> Value {
    json!({
        "name": pin.name,
        "x_m": pin.point.x,
        "y_m": pin.point.y,
        "at_m": pin.at.to_m(),
        "finished_mm": pin.finished.to_mm(),
        "formation_mm": (pin.finished - plan.layers.total()).to_mm(),
        "dig_mm": plan.dig_depth(pin.point).to_mm(),
        // Marked from the datum: up where positive, down where negative.
        "mark": { "mm": pin.finished.to_mm().abs(), "word": mark_word(pin.finished.to_mm()) },
    })
}

fn mark_word(mm: f64) -> &'static str {
    match mm.round() {
        up if up > 0.0 => "above datum",
        down if down < 0.0 => "below datum",
        _ => "at datum",
    }
}

/// Each curved side over its whole chord, then over the strings along it. An arc of more than half
/// a circle has no chord to measure from, and is set out by its strings and its centre alone.
fn arcs(plan: &Plan, pins: &[Pin]) -> Vec<Value> {
    let mut rows = Vec::new();
    for side in plan.outline.ring().sides() {
        let (Some(radius), Some(centre)) = (side.radius(), side.centre()) else { continue };
        if side.length / radius < std::f64::consts::PI + HALF_TURN_WITHIN {
            let ends = [side.start.point, side.end];
            let names = ends.map(|point| pin_at(pins, point).map(|pin| pin.name.clone()));
            rows.extend(arc_row((radius, centre), ends, names));
        }
        let strings: Vec<StringLine> =
            plan.strings().into_iter().filter(|s| along(side, s)).collect();
        if strings.len() > 1 {
            for s in &strings {
                let names = [Some(s.from.name.clone()), Some(s.to.name.clone())];
                rows.extend(arc_row((radius, centre), [s.from.point, s.to.point], names));
            }
        }
    }
    rows
}

/// The pin that stands at a point.
fn pin_at(pins: &[Pin], point: Point) -> Option<&Pin> {
    pins.iter().find(|pin| distance(pin.point, point) < Length::from_mm(1.0))
}

/// Whether both pins of a string stand on a curved side.
fn along(side: &Side, string: &StringLine) -> bool {
    let (Some(radius), Some(centre)) = (side.radius(), side.centre()) else { return false };
    let on = |point: Point| {
        let off = (distance(centre, point) - radius).abs() < Length::from_mm(0.5);
        // The end of the side is nowhere farther from its middle than its own ends are.
        let middle = side.at(side.length / 2.0);
        off && distance(middle, point) <= distance(middle, side.end) + Length::from_mm(0.5)
    };
    on(string.from.point) && on(string.to.point)
}

fn arc_row(
    (radius, centre): (Length, Point),
    ends: [Point; 2],
    names: [Option<String>; 2],
) -> Option<Value> {
    let [from, to] = ends;
    // The chord of half a circle is its diameter, and may come out a last bit longer.
    let arc = ChordArc::new(radius, distance(from, to).min(radius * 2.0)).ok()?;
    let [from, to] = names;
    Some(json!({
        "from": from,
        "to": to,
        "radius_m": radius.to_m(),
        "centre": { "x_m": centre.x, "y_m": centre.y },
        "chord_m": arc.chord().to_m(),
        "mid_ordinate_mm": arc.mid_ordinate().to_mm(),
        "offsets": arc.from_chord(OFFSET_EVERY).iter().map(ordinate).collect::<Vec<_>>(),
    }))
}

fn ordinate(offset: &Offset) -> Value {
    json!({ "at_m": offset.at.to_m(), "mm": offset.offset.to_mm() })
}

/// Ordinates over a board for every radius of the outline: from the chord for the board that lies
/// inside the curve, from the tangent for the one outside it.
fn templates(plan: &Plan) -> Vec<Value> {
    let mut radii: Vec<Length> =
        plan.outline.ring().sides().iter().filter_map(Side::radius).collect();
    radii.sort_by(|a, b| a.to_m().total_cmp(&b.to_m()));
    radii.dedup_by(|a, b| (*a - *b).abs() < Length::from_mm(0.1));
    radii
        .into_iter()
        .filter_map(|radius| {
            let template = Template::new(radius, BOARD).ok()?;
            let ordinates = |list: Vec<Offset>| list.iter().map(ordinate).collect::<Vec<_>>();
            Some(json!({
                "radius_m": radius.to_m(),
                "board_m": template.board().to_m(),
                "inside": ordinates(template.inside()),
                "outside": ordinates(template.outside()),
            }))
        })
        .collect()
}

/// Diagonals to check by. Of a strip: over the whole, then over each bay between pairs of pins. Of
/// any other shape: from both ends of the reference edge to every other corner.
fn diagonals(plan: &Plan, pins: &[Pin]) -> Vec<Value> {
    let row = |from: &Pin, to: &Pin| {
        json!({
            "from": from.name, "to": to.name, "length_m": distance(from.point, to.point).to_m(),
        })
    };
    if plan.outline.width().is_none() {
        return tied(plan, pins).into_iter().map(|(from, to)| row(from, to)).collect();
    }
    let (near, far) = pins.split_at(pins.len() / 2);
    let pairs: Vec<(&Pin, &Pin)> = near.iter().zip(far.iter().rev()).collect();
    let crossed = |a: &(&Pin, &Pin), b: &(&Pin, &Pin)| [row(a.0, b.1), row(b.0, a.1)];
    let mut rows = Vec::new();
    if let (Some(first), Some(last)) = (pairs.first(), pairs.last()) {
        rows.extend(crossed(first, last));
    }
    if pairs.len() > 2 {
        for bay in pairs.windows(2) {
            if let [a, b] = bay {
                rows.extend(crossed(a, b));
            }
        }
    }
    rows
}

/// The pins at both ends of the reference edge, each with every other corner.
fn tied<'a>(plan: &Plan, pins: &'a [Pin]) -> Vec<(&'a Pin, &'a Pin)> {
    let edge = plan.outline.edge();
    let ends = [Length::ZERO, edge.length()].map(|end| pin_at(pins, edge.at(end).point));
    let corners: Vec<&Pin> = plan
        .outline
        .ring()
        .sides()
        .iter()
        .filter_map(|side| pin_at(pins, side.start.point))
        .collect();
    let [from, to] = ends;
    let mut pairs = Vec::new();
    for end in from.into_iter().chain(to) {
        let others = corners
            .iter()
            .filter(|corner| [from, to].iter().flatten().all(|end| end.name != corner.name));
        pairs.extend(others.map(|corner| (end, *corner)));
    }
    pairs
}

#[cfg(test)]
mod tests {
    use super::*;

    fn answer(outline: Value) -> Value {
        let plan = json!({
            "fairfall_plan": 1, "title": "t", "use": "foot", "outline": outline,
        });
        set_out(&Plan::read(plan).unwrap())
    }

    #[test]
    fn the_diagonal_of_a_rectangle_by_hand() {
        // Hand arithmetic: 5 x 6 has diagonals of 7,810 mm.
        let answer = answer(json!({ "rectangle": { "length_m": 5, "width_m": 6 } }));
        for index in 0..2 {
            let length = answer["diagonals"][index]["length_m"].as_f64().unwrap();
            assert!((length - 7.8102).abs() < 0.00005, "{length}");
        }
        assert_eq!(answer["arcs"], json!([]));
    }

    #[test]
    fn a_round_end_is_set_out_from_its_diameter() {
        // Hand arithmetic: a strip 1.2 wide ends in half a circle of 0.6 about the middle of its
        // width; 0.5 from the middle of the diameter it stands off by sqrt(0.36 - 0.25) = 332.
        let answer = answer(json!({ "strip": {
            "edge": [{ "straight_m": 4.0 }], "width_m": 1.2, "side": "left", "end": "round",
        }}));
        let [end] = answer["arcs"].as_array().unwrap().as_slice() else { panic!("{answer}") };
        for (key, metres) in [("radius_m", 0.6), ("chord_m", 1.2), ("mid_ordinate_mm", 600.0)] {
            assert!((end[key].as_f64().unwrap() - metres).abs() < 1e-6, "{end}");
        }
        assert!((end["centre"]["x_m"].as_f64().unwrap() - 4.0).abs() < 1e-9, "{end}");
        assert!((end["centre"]["y_m"].as_f64().unwrap() - 0.6).abs() < 1e-9, "{end}");
        assert!((end["offsets"][1]["mm"].as_f64().unwrap() - 331.7).abs() < 0.1, "{end}");
        assert!(end["from"].is_string() && end["to"].is_string(), "{end}");
    }

    #[test]
    fn a_curve_by_hand() {
        // Hand arithmetic: chord 3.0, R 4.5: rise 257; 229 at 0.5, 145 at 1.0 from the middle.
        let arc = 2.0 * 4.5 * (1.5_f64 / 4.5).asin();
        let answer = answer(json!({ "strip": {
            "edge": [{ "arc_m": arc, "radius_m": 4.5, "turn": "left" }], "width_m": 1.0, "side": "left",
        }}));
        let rows = answer["arcs"].as_array().unwrap();
        let whole = rows
            .iter()
            .find(|a| (a["chord_m"].as_f64().unwrap() - 3.0).abs() < 1e-9)
            .expect("the whole reference edge");
        assert!((whole["mid_ordinate_mm"].as_f64().unwrap() - 257.0).abs() < 0.5);
        for (index, mm) in [(1, 229.0), (2, 145.0)] {
            assert!((whole["offsets"][index]["mm"].as_f64().unwrap() - mm).abs() < 0.5);
        }
        assert_eq!((&whole["from"], &whole["to"]), (&json!("R1"), &json!("R3")));
        // Both edges whole, and two strings along each: the arc is just longer than 3 m.
        let strings = rows.iter().filter(|a| a["from"] == "R1" && a["to"] == "R2").count();
        assert_eq!(strings, 1, "{rows:?}");
    }
}
