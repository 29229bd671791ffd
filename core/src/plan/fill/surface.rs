//! The finished surface of a plan.

use serde_json::json;

use super::Gaps;
use super::holes::place;
use super::outline::LONGEST_M;
use crate::levels::{Across, EdgeLevel, EdgeLevels, PlaneFit, Ridge, Surface};
use crate::outline::{Outline, Point, distance};
use crate::plan::reader::{At, Members};
use crate::units::{Gradient, Length, Level};

const MOST_LEVELS: usize = 500;
/// Levels beyond this are taken for a slip of the unit.
pub(super) const HIGHEST_MM: f64 = 20_000.0;

const KEYS: [&str; 6] =
    ["edge_levels", "crossfall_one_in", "far_levels", "spots", "planes", "least_fall_one_in"];

/// The surface, and the slackest fall that it may have, as "1 in".
pub(super) fn surface(
    at: &At,
    outline: Option<&Outline>,
    gaps: &mut Gaps,
) -> Option<(Surface, Gradient)> {
    let members = if at.is_given() { Some(at.object(&KEYS)?) } else { None };
    let get = |key| members.as_ref().map(|m| m.get(key)).filter(At::is_given);
    let least = match get("least_fall_one_in") {
        Some(given) => given.number(10.0..=1000.0, "(1 in so many)"),
        None => Some(gaps.number(None, "surface.least_fall_one_in", 60.0, "least_fall")),
    };
    let ways: Vec<&str> =
        ["edge_levels", "spots", "planes"].into_iter().filter(|key| get(key).is_some()).collect();
    let across: Vec<&str> =
        ["crossfall_one_in", "far_levels"].into_iter().filter(|key| get(key).is_some()).collect();
    let by_edge = matches!(ways[..], [] | ["edge_levels"]);
    if ways.len() > 1 || across.len() > 1 || (!by_edge && !across.is_empty()) {
        at.refuse(
            format!("{} are given together", [ways, across].concat().join(" and ")),
            "levels along the edge with a crossfall or the far edge's levels; or spots; or planes",
        );
        return None;
    }
    let surface = match (get("spots"), get("planes")) {
        (Some(spots), _) => spots_plane(&spots).map(Surface::Spots),
        (_, Some(planes)) => ridge(&planes).map(Surface::Planes),
        (None, None) => from_edge(at, members.as_ref(), outline, gaps),
    };
    Some((surface?, Gradient::one_in(least?)))
}

fn from_edge(
    at: &At,
    members: Option<&Members>,
    outline: Option<&Outline>,
    gaps: &mut Gaps,
) -> Option<Surface> {
    let get = |key| members.map(|m| m.get(key)).filter(At::is_given);
    let edge = outline.map(|o| o.edge().length());
    let levels = match get("edge_levels") {
        Some(list) => edge_levels(&list, edge),
        None => {
            gaps.ours("surface.edge_levels", json!(0), "the reference edge is taken at the datum");
            Some(EdgeLevels::new(vec![EdgeLevel { at: Length::ZERO, level: Level::ZERO }]))
        }
    };
    let across = match (get("crossfall_one_in"), get("far_levels")) {
        (Some(given), _) if given.is_null() => Some(Across::Level),
        (Some(given), _) => fall(&given).map(Across::Fall),
        (None, Some(list)) => far_levels(&list, outline),
        (None, None) => {
            let run = gaps.number(None, "surface.crossfall_one_in", 60.0, "least_fall");
            Some(Across::Fall(Gradient::one_in(run)))
        }
    };
    let surface = Surface::Edge { levels: levels?, across: across? };
    // Where the shape is refused there is no edge to hold the levels against.
    if at.is_given() && outline.is_none() { None } else { Some(surface) }
}

fn far_levels(at: &At, outline: Option<&Outline>) -> Option<Across> {
    let outline = outline?;
    let Some(width) = outline.width() else {
        at.refuse("only a strip or a rectangle has a far edge", "a crossfall, spots or planes");
        return None;
    };
    Some(Across::To { far: edge_levels(at, Some(outline.edge().length()))?, width })
}

fn edge_levels(at: &At, edge: Option<Length>) -> Option<EdgeLevels> {
    let items = at.list(1, MOST_LEVELS)?;
    let levels: Vec<Option<EdgeLevel>> = items.iter().map(|item| edge_level(item, edge)).collect();
    let levels = levels.into_iter().collect::<Option<Vec<_>>>()?;
    let mut chainages: Vec<f64> = levels.iter().map(|l| l.at.to_m()).collect();
    chainages.sort_by(f64::total_cmp);
    if chainages.windows(2).any(|pair| matches!(pair, [a, b] if b - a < 1e-6)) {
        at.refuse("two levels are given at the same place of the edge", "one level a place");
        return None;
    }
    Some(EdgeLevels::new(levels))
}

fn edge_level(at: &At, edge: Option<Length>) -> Option<EdgeLevel> {
    let members = at.object(&["at_m", "mm"])?;
    let place = members.get("at_m").required(0.0..=LONGEST_M, "m");
    let level = level(&members);
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
    Some(EdgeLevel { at: place, level: level? })
}

/// The level of the member `mm`.
pub(super) fn level(members: &Members) -> Option<Level> {
    members.get("mm").required(-HIGHEST_MM..=HIGHEST_MM, "mm").map(Level::from_mm)
}

/// "1 in so many", falling; negative rises.
fn fall(at: &At) -> Option<Gradient> {
    let run = at.number(-1000.0..=1000.0, "(1 in so many; null for none)")?;
    if run.abs() < 4.0 {
        at.refuse(format!("1 in {run} is no paving"), "1 in 4 at the steepest; null for none");
        return None;
    }
    Some(Gradient::one_in(run))
}

/// A place with its level.
pub(super) fn spot(at: &At) -> Option<(Point, Level)> {
    let members = at.object(&["x_m", "y_m", "mm"])?;
    let (point, level) = (place(&members), level(&members));
    Some((point?, level?))
}

fn spots_plane(at: &At) -> Option<PlaneFit> {
    let items: Vec<Option<(Point, Level)>> = at.list(3, MOST_LEVELS)?.iter().map(spot).collect();
    let spots = items.into_iter().collect::<Option<Vec<_>>>()?;
    let mut apart = true;
    for (index, (point, _)) in spots.iter().enumerate() {
        let twin = spots.iter().take(index).position(|(p, _)| distance(*p, *point).to_mm() < 0.5);
        if let Some(twin) = twin {
            apart = false;
            at.refuse_at(
                &format!("{}/{index}", at.pointer()),
                format!("this is the place of spot {}", twin + 1),
                "one level a place",
            );
        }
    }
    let fit = PlaneFit::through(spots);
    if fit.is_none() {
        at.refuse("the spots lie in one line", "at least three spots that are not in one line");
    }
    fit.filter(|_| apart)
}

fn ridge(at: &At) -> Option<Ridge> {
    let members = at.object(&["line", "left_one_in", "right_one_in"])?;
    let line = members.get("line");
    let ends = if line.is_given() {
        line.object(&["from", "to"]).map(|line| ["from", "to"].map(|key| end(&line.get(key))))
    } else {
        line.refuse("this is missing", "the line in which two planes meet: from, to");
        None
    };
    let falls = ["left_one_in", "right_one_in"].map(|key| {
        let at = members.get(key);
        match (at.is_given(), at.is_null()) {
            (false, _) => {
                at.refuse("this is missing", "the fall away from the line, 1 in so many, or null");
                None
            }
            (true, true) => Some(None),
            (true, false) => fall(&at).map(Some),
        }
    });
    let [from, to] = ends?;
    let [left, right] = falls;
    let ends = [from?, to?];
    if distance(ends[0].0, ends[1].0) < Length::from_mm(10.0) {
        line.refuse("the line has no length", "two ends apart from each other");
        return None;
    }
    Some(Ridge { ends, falls: [left?, right?] })
}

fn end(at: &At) -> Option<(Point, Level)> {
    if !at.is_given() {
        at.refuse("this is missing", "an end of the line: x_m, y_m, mm");
    }
    spot(at)
}
