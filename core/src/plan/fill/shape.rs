//! Shape and finished surface of a plan.

use serde_json::json;

use super::Gaps;
use crate::levels::{EdgeLevel, Surface};
use crate::outline::{End, Hand, Outline, OutlineError, Run};
use crate::plan::reader::At;
use crate::units::{Gradient, Length, Level};

/// Lengths on plan that are taken for metres: a path of more is taken for a slip of the unit.
const LONGEST_M: f64 = 500.0;
const WIDEST_M: f64 = 50.0;
const MOST_RUNS: usize = 500;

pub(super) fn outline(at: &At) -> Option<Outline> {
    if !at.is_given() {
        at.refuse("this is missing", "a rectangle or a strip");
        return None;
    }
    let kinds = at.object(&["rectangle", "strip"])?;
    match (kinds.get("rectangle"), kinds.get("strip")) {
        (rectangle, strip) if rectangle.is_given() && !strip.is_given() => {
            let sizes = rectangle.object(&["length_m", "width_m"])?;
            let length = sizes.get("length_m").required(0.1..=LONGEST_M, "m");
            let width = sizes.get("width_m").required(0.1..=LONGEST_M, "m");
            Some(Outline::rectangle(Length::from_m(length?), Length::from_m(width?)))
        }
        (rectangle, strip) if strip.is_given() && !rectangle.is_given() => strip_of(&strip),
        _ => {
            at.refuse("no shape, or more than one, is given", "one of: rectangle, strip");
            None
        }
    }
}

fn strip_of(at: &At) -> Option<Outline> {
    let strip = at.object(&["edge", "width_m", "side", "start", "end"])?;
    let edge = strip.get("edge");
    if !edge.is_given() {
        edge.refuse("this is missing", "a list of straights and arcs");
    }
    let runs = edge.list(1, MOST_RUNS).map(|runs| runs.iter().map(run).collect::<Vec<_>>());
    let width = strip.get("width_m").required(0.1..=WIDEST_M, "m");
    let hands = [("left", Hand::Left), ("right", Hand::Right)];
    let side = strip.get("side");
    if !side.is_given() {
        side.refuse("this is missing", "left or right: the side of the edge that is paved");
    }
    let side = side.choice(&hands);
    let ends = [("square", End::Square), ("round", End::Round)];
    let end = |key| {
        let at = strip.get(key);
        if at.is_given() { at.choice(&ends) } else { Some(End::Square) }
    };
    let ends = [end("start"), end("end")];
    let runs = runs?.into_iter().collect::<Option<Vec<Run>>>()?;
    let total: Length = runs.iter().map(Run::length).sum();
    if total.to_m() > LONGEST_M {
        edge.refuse(format!("the edge is {:.0} m long", total.to_m()), "at most 500 m, in metres");
        return None;
    }
    let [start, end] = ends;
    let outline = Outline::strip(&runs, Length::from_m(width?), side?, [start?, end?]);
    outline.map_err(|errors| errors.iter().for_each(|error| refuse_strip(at, error))).ok()
}

fn refuse_strip(at: &At, error: &OutlineError) {
    let place = match error {
        OutlineError::WiderThanRadius { run, .. } | OutlineError::LongerThanCircle { run, .. } => {
            format!("{}/edge/{run}", at.pointer())
        }
        OutlineError::CrossesItself => at.pointer().to_owned(),
    };
    let right = match error {
        OutlineError::WiderThanRadius { radius, .. } => {
            format!("a strip narrower than {} m, or a wider curve", radius.to_m())
        }
        OutlineError::LongerThanCircle { most, .. } => {
            format!("an arc of at most {:.2} m", most.to_m())
        }
        OutlineError::CrossesItself => "an edge whose strip does not run over itself".to_owned(),
    };
    at.refuse_at(&place, error.to_string(), right);
}

fn run(at: &At) -> Option<Run> {
    let members = at.object(&["straight_m", "arc_m", "radius_m", "turn"])?;
    let [straight, arc, radius, turn] =
        ["straight_m", "arc_m", "radius_m", "turn"].map(|key| members.get(key));
    match (straight.is_given(), arc.is_given()) {
        (true, false) if !radius.is_given() && !turn.is_given() => {
            let length = straight.number(0.01..=LONGEST_M, "m");
            Some(Run::Straight(Length::from_m(length?)))
        }
        (false, true) => {
            let length = arc.number(0.01..=LONGEST_M, "m");
            let radius = radius.required(0.1..=10_000.0, "m");
            if !turn.is_given() {
                turn.refuse("this is missing", "left or right");
            }
            let turn = turn.choice(&[("left", Hand::Left), ("right", Hand::Right)]);
            Some(Run::Arc {
                length: Length::from_m(length?),
                radius: Length::from_m(radius?),
                turn: turn?,
            })
        }
        _ => {
            at.refuse(
                "this is neither a straight nor an arc",
                "{\"straight_m\"} alone, or {\"arc_m\", \"radius_m\", \"turn\"}",
            );
            None
        }
    }
}

pub(super) fn surface(at: &At, edge: Option<Length>, gaps: &mut Gaps) -> Option<Surface> {
    let members =
        if at.is_given() { Some(at.object(&["edge_levels", "crossfall_one_in"])?) } else { None };
    let levels = members.as_ref().map(|m| m.get("edge_levels")).filter(At::is_given);
    let levels = match levels {
        Some(list) => list
            .list(1, MOST_RUNS)
            .map(|items| items.iter().map(|item| edge_level(item, edge)).collect::<Vec<_>>()),
        None => {
            gaps.ours("surface.edge_levels", json!(0), "the reference edge is taken at the datum");
            Some(vec![Some(EdgeLevel { at: Length::ZERO, level: Level::ZERO })])
        }
    };
    let crossfall = match members.map(|m| m.get("crossfall_one_in")).filter(At::is_given) {
        Some(given) if given.is_null() => Some(None),
        Some(given) => crossfall(&given).map(Some),
        None => Some(Some(gaps.number(None, "surface.crossfall_one_in", 60.0, "least_fall"))),
    };
    let levels = levels?.into_iter().collect::<Option<Vec<_>>>()?;
    let mut chainages: Vec<f64> = levels.iter().map(|l| l.at.to_m()).collect();
    chainages.sort_by(f64::total_cmp);
    if chainages.windows(2).any(|pair| matches!(pair, [a, b] if b - a < 1e-6)) {
        at.refuse("two levels are given at the same place of the edge", "one level a place");
        return None;
    }
    Some(Surface::new(levels, crossfall?.map(Gradient::one_in)))
}

/// "1 in so many", falling away from the edge; negative falls towards it.
fn crossfall(at: &At) -> Option<f64> {
    let run = at.number(-1000.0..=1000.0, "(1 in so many; null for none)")?;
    if run.abs() < 4.0 {
        at.refuse(format!("1 in {run} is no paving"), "1 in 4 at the steepest; null for none");
        return None;
    }
    Some(run)
}

fn edge_level(at: &At, edge: Option<Length>) -> Option<EdgeLevel> {
    let members = at.object(&["at_m", "mm"])?;
    let place = members.get("at_m").required(0.0..=LONGEST_M, "m");
    let level = members.get("mm").required(-20_000.0..=20_000.0, "mm");
    let place = Length::from_m(place?);
    if let Some(edge) = edge
        && place > edge + Length::from_mm(0.5)
    {
        members.get("at_m").refuse(
            format!("{} m is beyond the end of the reference edge", place.to_m()),
            format!("at most {:.3} m", edge.to_m()),
        );
        return None;
    }
    Some(EdgeLevel { at: place, level: Level::from_mm(level?) })
}
