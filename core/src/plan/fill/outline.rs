//! The shape of a plan: one of five ways to give it.

use serde_json::json;

use super::{Gaps, holes::holes};
use crate::outline::{
    Check, End, Hand, OffsetAreas, OffsetStation, Outline, OutlineError, Point, Run, Side, Tie,
    TieError, Ties, distance, ties,
};
use crate::plan::reader::At;
use crate::units::{Area, Length};

/// Lengths on plan that are taken for metres: a path of more is taken for a slip of the unit.
pub(super) const LONGEST_M: f64 = 500.0;
const WIDEST_M: f64 = 50.0;
const MOST_SIDES: usize = 500;
/// A shape of less is none.
const LEAST_AREA: Area = Area::from_m2(0.01);
/// A boundary that comes back this near to its start has come back to it.
const CLOSED: Length = Length::from_mm(0.5);
/// One that comes back farther off than this wants its last side; nearer, its measures are wrong.
const OPEN: Length = Length::from_mm(100.0);

pub(super) const HANDS: [(&str, Hand); 2] = [("left", Hand::Left), ("right", Hand::Right)];

/// How the shape was measured, where more was measured than makes it up.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Survey {
    /// Corners with what is left over of each measure.
    pub ties: Option<Ties>,
    /// Areas under offsets by two rules.
    pub offsets: Option<OffsetAreas>,
}

pub(super) fn outline(at: &At, in_it: &At, gaps: &mut Gaps) -> Option<(Outline, Survey)> {
    const KINDS: [&str; 5] = ["rectangle", "strip", "boundary", "ties", "offsets"];
    if !at.is_given() {
        at.refuse("this is missing", format!("one of: {}", KINDS.join(", ")));
        return None;
    }
    let kinds = at.object(&KINDS)?;
    let given: Vec<&str> = KINDS.into_iter().filter(|kind| kinds.get(kind).is_given()).collect();
    let &[kind] = &given[..] else {
        at.refuse("no shape, or more than one, is given", format!("one of: {}", KINDS.join(", ")));
        return None;
    };
    let at = kinds.get(kind);
    let none = Survey::default();
    let (outline, survey) = match kind {
        "rectangle" => (rectangle(&at)?, none),
        "strip" => (strip(&at)?, none),
        "boundary" => (boundary(&at, gaps)?, none),
        "ties" => tied(&at)?,
        _ => offsets(&at)?,
    };
    if outline.area() < LEAST_AREA {
        at.refuse("the shape has no area to pave", "at least 0.01 m2; lengths in metres");
        return None;
    }
    Some((holes(in_it, outline)?, survey))
}

fn rectangle(at: &At) -> Option<Outline> {
    let sizes = at.object(&["length_m", "width_m"])?;
    let length = sizes.get("length_m").required(0.1..=LONGEST_M, "m");
    let width = sizes.get("width_m").required(0.1..=LONGEST_M, "m");
    Some(Outline::rectangle(Length::from_m(length?), Length::from_m(width?)))
}

fn strip(at: &At) -> Option<Outline> {
    let strip = at.object(&["edge", "width_m", "side", "start", "end"])?;
    let edge = strip.get("edge");
    if !edge.is_given() {
        edge.refuse("this is missing", "a list of straights and arcs");
    }
    let runs = edge.list(1, MOST_SIDES).map(|runs| runs.iter().map(run).collect::<Vec<_>>());
    let width = strip.get("width_m").required(0.1..=WIDEST_M, "m");
    let side = hand(&strip.get("side"), "left or right: the side of the edge that is paved");
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
    outline.map_err(|errors| errors.iter().for_each(|error| refuse(at, error))).ok()
}

/// Adds the problem of an outline at its place.
fn refuse(at: &At, error: &OutlineError) {
    let (place, right) = match error {
        OutlineError::WiderThanRadius { run, radius } => (
            format!("{}/edge/{run}", at.pointer()),
            format!("a strip narrower than {} m, or a wider curve", radius.to_m()),
        ),
        OutlineError::LongerThanCircle { run, most } => (
            format!("{}/edge/{run}", at.pointer()),
            format!("an arc of at most {:.2} m", most.to_m()),
        ),
        OutlineError::CrossesItself { .. }
        | OutlineError::HoleOutside { .. }
        | OutlineError::HolesTouch { .. }
        | OutlineError::HoleCrossesItself { .. } => {
            (at.pointer().to_owned(), "an outline that does not run over itself".to_owned())
        }
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
            let (radius, turn) = bend(&radius, &turn);
            Some(Run::Arc { length: Length::from_m(length?), radius: radius?, turn: turn? })
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

/// The radius and the turn of an arc.
fn bend(radius: &At, turn: &At) -> (Option<Length>, Option<Hand>) {
    let radius = radius.required(0.1..=10_000.0, "m").map(Length::from_m);
    (radius, hand(turn, "left or right"))
}

fn hand(at: &At, right: &str) -> Option<Hand> {
    if !at.is_given() {
        at.refuse("this is missing", right);
    }
    at.choice(&HANDS)
}

/// A place as [x, y] in metres.
pub(super) fn point(at: &At) -> Option<Point> {
    if !at.is_given() {
        at.refuse("this is missing", "a place as [x, y] in metres");
        return None;
    }
    let items = at.list(2, 2)?;
    let mut numbers = items.iter().map(|item| item.number(-LONGEST_M..=LONGEST_M, "m"));
    let (x, y) = (numbers.next()?, numbers.next()?);
    Some(Point { x: x?, y: y? })
}

fn boundary(at: &At, gaps: &mut Gaps) -> Option<Outline> {
    let members = at.object(&["start", "sides"])?;
    let start = point(&members.get("start"));
    let list = members.get("sides");
    if !list.is_given() {
        list.refuse("this is missing", "a list of sides, each to its end");
    }
    let ways = list.list(1, MOST_SIDES)?.iter().map(|at| (at.clone(), way(at))).collect::<Vec<_>>();
    let start = start?;
    let ways: Vec<(At, Way)> =
        ways.into_iter().map(|(at, way)| Some((at, way?))).collect::<Option<_>>()?;
    let mut from = start;
    let mut sides = Vec::with_capacity(ways.len() + 1);
    let last = ways.len() - 1;
    let mut whole = true;
    for (index, (at, mut way)) in ways.into_iter().enumerate() {
        if index == last && distance(way.to, start) <= CLOSED {
            way.to = start;
        }
        match way.side(from) {
            Some(side) => sides.push(side),
            None => {
                whole = false;
                way.refuse(&at, from);
            }
        }
        from = way.to;
    }
    let gap = distance(from, start);
    if gap > CLOSED && gap <= OPEN {
        list.refuse(
            format!("the sides come back {:.0} mm away from the start", gap.to_mm()),
            "a last side that ends on the start: look for the measure that is off",
        );
        return None;
    }
    if !whole {
        return None;
    }
    if gap > OPEN {
        let why = "the last side does not end on the start: it is closed with a straight";
        gaps.ours("outline.boundary.sides", json!({ "to": [start.x, start.y] }), why);
        sides.push(Side::straight(from, start));
    }
    Outline::boundary(&sides).map_err(|error| refuse(at, &error)).ok()
}

/// A side of a boundary by where it goes.
struct Way {
    to: Point,
    arc: Option<(Length, Hand)>,
}

impl Way {
    fn side(&self, from: Point) -> Option<Side> {
        if distance(from, self.to) <= CLOSED {
            return None;
        }
        match self.arc {
            None => Some(Side::straight(from, self.to)),
            Some((radius, turn)) => Side::arc(from, self.to, radius, turn),
        }
    }

    fn refuse(&self, at: &At, from: Point) {
        let chord = distance(from, self.to);
        if chord <= CLOSED {
            at.refuse("the side ends where it begins", "an end at another place");
        } else {
            at.refuse(
                format!(
                    "the arc's ends are {:.3} m apart, farther than its circle is wide",
                    chord.to_m()
                ),
                format!("a radius of at least {:.3} m", chord.to_m() / 2.0),
            );
        }
    }
}

fn way(at: &At) -> Option<Way> {
    let members = at.object(&["to", "arc_to", "radius_m", "turn"])?;
    let [to, arc_to, radius, turn] =
        ["to", "arc_to", "radius_m", "turn"].map(|key| members.get(key));
    match (to.is_given(), arc_to.is_given()) {
        (true, false) if !radius.is_given() && !turn.is_given() => {
            Some(Way { to: point(&to)?, arc: None })
        }
        (false, true) => {
            let to = point(&arc_to);
            let (radius, turn) = bend(&radius, &turn);
            Some(Way { to: to?, arc: Some((radius?, turn?)) })
        }
        _ => {
            at.refuse(
                "this is neither a straight side nor an arc",
                "{\"to\": [x, y]} alone, or {\"arc_to\": [x, y], \"radius_m\", \"turn\"}",
            );
            None
        }
    }
}

fn tied(at: &At) -> Option<(Outline, Survey)> {
    let members = at.object(&["base_m", "corners", "checks"])?;
    let base = members.get("base_m").required(0.1..=LONGEST_M, "m").map(Length::from_m);
    let list = members.get("corners");
    if !list.is_given() {
        list.refuse("this is missing", "a list of corners, each with two distances");
    }
    let corners =
        list.list(1, MOST_SIDES).map(|items| items.iter().map(corner).collect::<Vec<_>>());
    let checks = members.get("checks");
    let measures = if checks.is_given() {
        checks.list(0, MOST_SIDES).map(|items| items.iter().map(check).collect())
    } else {
        Some(Vec::new())
    };
    let corners = corners?.into_iter().collect::<Option<Vec<Tie>>>()?;
    let measures: Vec<Check> = measures?.into_iter().collect::<Option<_>>()?;
    if !names_differ(&list, &corners) {
        return None;
    }
    let found = ties(base?, &corners, &measures)
        .map_err(|errors| errors.iter().for_each(|e| refuse_tie(&list, &checks, e)))
        .ok()?;
    let outline = Outline::tied(&found).map_err(|error| refuse(at, &error)).ok()?;
    Some((outline, Survey { ties: Some(found), offsets: None }))
}

fn refuse_tie(corners: &At, checks: &At, error: &TieError) {
    let (at, index, right) = match error {
        TieError::TooShort { corner, .. } | TieError::TooLong { corner, .. } => {
            (corners, corner, "two distances that meet: measure them again")
        }
        TieError::NoSuchCorner { check } => {
            (checks, check, "the names of two corners; A and B are the ends of the base line")
        }
    };
    at.refuse_at(&format!("{}/{index}", at.pointer()), error.to_string(), right);
}

/// Pins that have no corner's name are called P and a number.
fn is_pin_name(name: &str) -> bool {
    name.strip_prefix('P').is_some_and(|rest| rest.bytes().all(|b| b.is_ascii_digit()))
}

fn names_differ(at: &At, corners: &[Tie]) -> bool {
    let mut seen = vec!["A", "B"];
    let mut differ = true;
    for (index, corner) in corners.iter().enumerate() {
        let name = corner.name.as_str();
        let place = format!("{}/{index}/name", at.pointer());
        if seen.contains(&name) {
            at.refuse_at(&place, format!("there is a corner {name} already"), "a name of its own");
            differ = false;
        } else if is_pin_name(name) {
            let right = "another name: P with a number is the name of a pin between corners";
            at.refuse_at(&place, format!("{name} is no name for a corner"), right);
            differ = false;
        }
        seen.push(name);
    }
    differ
}

fn corner(at: &At) -> Option<Tie> {
    let members = at.object(&["name", "a_m", "b_m", "side"])?;
    let name = corner_name(&members.get("name"));
    let a = members.get("a_m").required(0.01..=LONGEST_M, "m");
    let b = members.get("b_m").required(0.01..=LONGEST_M, "m");
    let side = hand(&members.get("side"), "left or right: the side of the way from A to B");
    Some(Tie { name: name?, from: [Length::from_m(a?), Length::from_m(b?)], side: side? })
}

fn check(at: &At) -> Option<Check> {
    let members = at.object(&["from", "to", "measured_m"])?;
    let names = ["from", "to"].map(|key| corner_name(&members.get(key)));
    let measured = members.get("measured_m").required(0.01..=LONGEST_M * 2.0, "m");
    let [from, to] = names;
    Some(Check { between: [from?, to?], measured: Length::from_m(measured?) })
}

fn corner_name(at: &At) -> Option<String> {
    let right = "a name of at most 12 characters";
    if !at.is_given() {
        at.refuse("this is missing", right);
    }
    let name = at.text()?;
    if name.chars().count() > 12 {
        at.refuse("the name is too long for a drawing", right);
        return None;
    }
    Some(name)
}

fn offsets(at: &At) -> Option<(Outline, Survey)> {
    let list = at.object(&["stations"])?.get("stations");
    if !list.is_given() {
        list.refuse("this is missing", "a list of places along the base line with their offsets");
    }
    let stations = list.list(2, MOST_SIDES)?.iter().map(station).collect::<Vec<_>>();
    let stations = stations.into_iter().collect::<Option<Vec<OffsetStation>>>()?;
    let mut backwards = false;
    for (index, (a, b)) in stations.iter().zip(stations.iter().skip(1)).enumerate() {
        if b.at <= a.at {
            backwards = true;
            list.refuse_at(
                &format!("{}/{}/at_m", list.pointer(), index + 1),
                format!("{} m does not come after {} m", b.at.to_m(), a.at.to_m()),
                "places in their order along the base line",
            );
        }
    }
    if backwards {
        return None;
    }
    let areas = OffsetAreas::of(&stations);
    if areas.trapezoid < LEAST_AREA {
        at.refuse("the offsets hold no area", "reaches to the left, to the right, or to both");
        return None;
    }
    let outline = Outline::offsets(&stations).map_err(|error| refuse(at, &error)).ok()?;
    Some((outline, Survey { ties: None, offsets: Some(areas) }))
}

fn station(at: &At) -> Option<OffsetStation> {
    let members = at.object(&["at_m", "left_m", "right_m"])?;
    let place = members.get("at_m").required(0.0..=LONGEST_M, "m");
    let reach = |key| {
        let at = members.get(key);
        if at.is_given() { at.number(0.0..=LONGEST_M, "m") } else { Some(0.0) }
    };
    let (left, right) = (reach("left_m"), reach("right_m"));
    let [at, left, right] = [place?, left?, right?].map(Length::from_m);
    Some(OffsetStation { at, left, right })
}
