//! Holes of a plan.

use super::outline::{LONGEST_M, point};
use crate::outline::{Hole, Outline, OutlineError, Point};
use crate::plan::reader::{At, Members};
use crate::units::Length;

const MOST_HOLES: usize = 200;

/// The outline with the holes of the plan in it.
pub(super) fn holes(at: &At, outline: Outline) -> Option<Outline> {
    if !at.is_given() {
        return Some(outline);
    }
    let list = at.list(0, MOST_HOLES)?;
    let read: Vec<Option<Hole>> = list.iter().map(hole).collect();
    let holes = read.into_iter().collect::<Option<Vec<Hole>>>()?;
    let refuse = |errors: Vec<OutlineError>| {
        for error in errors {
            let (hole, right) = match error {
                OutlineError::HoleOutside { hole } => (hole, "a hole inside the paving"),
                OutlineError::HolesTouch { hole, .. } => (hole, "holes apart from each other"),
                OutlineError::HoleCrossesItself { hole, .. } => {
                    (hole, "corners in order around the hole")
                }
                OutlineError::WiderThanRadius { .. }
                | OutlineError::LongerThanCircle { .. }
                | OutlineError::CrossesItself { .. } => (0, "another shape"),
            };
            at.refuse_at(&format!("{}/{hole}", at.pointer()), error.to_string(), right);
        }
    };
    outline.with_holes(holes).map_err(refuse).ok()
}

fn hole(at: &At) -> Option<Hole> {
    let kinds = ["circle", "rectangle", "polygon"];
    let members = at.object(&["circle", "rectangle", "polygon", "drain"])?;
    let drain = members.get("drain");
    let drains = if drain.is_given() { drain.yes_or_no() } else { Some(false) };
    let given: Vec<&str> = kinds.into_iter().filter(|kind| members.get(kind).is_given()).collect();
    let shape = match given[..] {
        ["circle"] => circle(&members.get("circle")),
        ["rectangle"] => rectangle(&members.get("rectangle")),
        ["polygon"] => polygon(&members.get("polygon")),
        _ => {
            at.refuse("no hole, or more than one, is given", "one of: circle, rectangle, polygon");
            None
        }
    };
    Some(shape?.draining(drains?))
}

fn circle(at: &At) -> Option<Hole> {
    let members = at.object(&["x_m", "y_m", "radius_m"])?;
    let centre = place(&members);
    let radius = members.get("radius_m").required(0.01..=LONGEST_M, "m");
    Some(Hole::circle(centre?, Length::from_m(radius?)))
}

fn rectangle(at: &At) -> Option<Hole> {
    let members = at.object(&["x_m", "y_m", "length_m", "width_m", "turn_deg"])?;
    let corner = place(&members);
    let length = members.get("length_m").required(0.01..=LONGEST_M, "m");
    let width = members.get("width_m").required(0.01..=LONGEST_M, "m");
    let turn = members.get("turn_deg");
    let turn = if turn.is_given() { turn.number(-360.0..=360.0, "degrees") } else { Some(0.0) };
    let [length, width] = [length?, width?].map(Length::from_m);
    Some(Hole::rectangle(corner?, length, width, turn?))
}

fn polygon(at: &At) -> Option<Hole> {
    let corners: Vec<Option<Point>> = at.list(3, MOST_HOLES)?.iter().map(point).collect();
    let mut corners = corners.into_iter().collect::<Option<Vec<Point>>>()?;
    // The last corner may be the first again.
    if corners.len() > 3 && corners.first() == corners.last() {
        corners.pop();
    }
    Some(Hole::polygon(&corners))
}

/// A place by its members `x_m` and `y_m`.
pub(super) fn place(members: &Members) -> Option<Point> {
    let [x, y] = ["x_m", "y_m"].map(|key| members.get(key).required(-LONGEST_M..=LONGEST_M, "m"));
    Some(Point { x: x?, y: y? })
}
