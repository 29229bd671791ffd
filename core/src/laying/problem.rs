//! What is wrong with a laying, where, and what would mend it, worked out again.

use super::block::{Block, EdgeCourse};
use super::course::Closing;
use super::curved::{ArcJoints, Seen};
use super::edging::{EdgePart, EdgeRun};
use super::joints::Unit;
use super::laps::{Mend, ShortLap};
use super::piece::{Place, SMALL};
use super::site::Site;
use super::{Laying, Paving};
use crate::outline::{Point, SideName};
use crate::units::Length;
use crate::words::{Phrase, Value};

/// Something wrong with a laying.
#[derive(Debug, Clone, PartialEq)]
pub struct Problem {
    /// What it is.
    pub phrase: Phrase,
    /// Where it is, along the reference edge.
    pub chainage: Option<[Length; 2]>,
    /// The first and the last course it is in.
    pub courses: Option<[u32; 2]>,
    /// The place to mark on a drawing.
    pub place: Option<Point>,
    /// What would mend it.
    pub proposal: Option<Proposal>,
}

/// What would mend a problem.
#[derive(Debug, Clone, PartialEq)]
pub struct Proposal {
    /// What to do, with the figures that come of it.
    pub phrase: Phrase,
    /// Whether it mends all of it.
    pub mends: bool,
}

/// What was seen of curved courses, as laid and with their laps kept.
#[derive(Default)]
pub struct Curves {
    /// As laid.
    pub seen: Vec<Seen>,
    /// With laps kept, where that was worked out.
    pub mended: Option<Vec<Seen>>,
    /// Whether courses should follow the edge and cannot.
    pub not_followed: bool,
}

impl Problem {
    fn plain(phrase: Phrase) -> Self {
        Problem { phrase, chainage: None, courses: None, place: None, proposal: None }
    }
}

/// Millimetres with one decimal, as they are written.
fn mm(length: Length) -> Value {
    ((length.to_mm() * 10.0).round() / 10.0).into()
}

/// Metres with two decimals.
fn m(length: Length) -> Value {
    length.to_m().into()
}

/// Every problem of a laying, those of the whole first.
pub fn problems(
    site: &Site,
    paving: &Paving,
    laying: &Laying,
    curves: &Curves,
    too_tight: &[SideName],
) -> Vec<Problem> {
    let mut list = Vec::new();
    if laying.whole == 0 {
        list.push(Problem::plain(Phrase::new("lay.no_whole_block", [])));
    }
    if laying.courses.is_empty() {
        list.push(Problem::plain(Phrase::new("lay.no_field", [])));
    }
    if curves.not_followed && !laying.courses.is_empty() {
        list.push(Problem::plain(Phrase::new("lay.not_followed", [])));
    }
    list.extend(
        too_tight.iter().map(|side| {
            Problem::plain(Phrase::new("lay.edge_too_tight", [("side", (*side).into())]))
        }),
    );
    let parts = laying.edges.iter().flat_map(|run| &run.parts);
    list.extend(parts.filter_map(|part| edge_joint(part, paving)));
    list.extend(laying.edges.iter().filter_map(|run| edge_closer(run, paving)));
    list.extend(arc_joints(site, paving, &curves.seen));
    for seen in &curves.seen {
        let mended =
            curves.mended.as_ref().and_then(|all| all.iter().find(|s| s.index == seen.index));
        let laps = seen.short.iter().map(|short| lap(site, paving.block, seen, short, mended));
        list.extend(laps);
    }
    // Only along a strip is the last course the same from end to end.
    list.extend(site.width.and_then(|_| thin_rip(paving, laying)));
    list
}

/// Joints of an edge course that open too far round a curve: its units are cut to a taper.
fn edge_joint(part: &EdgePart, paving: &Paving) -> Option<Problem> {
    let (block, limits) = (paving.block, paving.limits);
    let radius = part.radius.filter(|_| over(part.outer_joint, limits.most))?;
    let unit = match paving.course {
        EdgeCourse::Stretcher => Unit::stretcher(block),
        EdgeCourse::Soldier | EdgeCourse::Header | EdgeCourse::None => Unit::soldier(block),
    };
    let phrase = Phrase::new(
        "lay.edge_joint",
        [
            ("side", part.side.into()),
            ("inner", mm(part.inner_joint)),
            ("outer", mm(part.outer_joint)),
            ("most", mm(limits.most)),
        ],
    );
    let angle = part.length / radius;
    let proposal = Some(taper(&unit, radius, limits.least, angle));
    Some(Problem { place: Some(part.middle), proposal, ..Problem::plain(phrase) })
}

/// An edge course that closes on a piece under a third of a unit: a joint that finishes it whole, or
/// else the last two units share the difference.
fn edge_closer(run: &EdgeRun, paving: &Paving) -> Option<Problem> {
    let Closing::Closer(piece) = run.closing else { return None };
    let (_, along) = paving.course.unit(paving.block)?;
    let last = run.parts.last().filter(|_| piece < along * SMALL)?;
    let values = [("side", last.side.into()), ("piece", mm(piece))];
    let phrase = match run.finish_joint {
        Some(joint) => Phrase::new("lay.finish_joint", [("joint", mm(joint))]),
        None => Phrase::new("lay.share_closer", [("piece", mm((along + piece) / 2.0))]),
    };
    Some(Problem {
        proposal: Some(Proposal { phrase, mends: true }),
        ..Problem::plain(Phrase::new("lay.edge_closer", values))
    })
}

/// Units cut to a taper, whole at their outer ends, with parallel joints round an angle.
fn taper(unit: &Unit, radius: Length, joint: Length, radians: f64) -> Proposal {
    let count = ((radius + unit.across) * radians / (unit.along + joint)).floor();
    let phrase = Phrase::new(
        "lay.taper",
        [("taper", mm(unit.taper(radius, joint))), ("joint", mm(joint)), ("count", count.into())],
    );
    Proposal { phrase, mends: true }
}

fn over(joint: Length, most: Length) -> bool {
    joint > most + Length::from_mm(1e-6)
}

/// Joints between ends that open too far on an arc, courses that follow each other taken together.
fn arc_joints(site: &Site, paving: &Paving, seen: &[Seen]) -> Vec<Problem> {
    let mut groups: Vec<(Vec<u32>, Vec<ArcJoints>)> = Vec::new();
    for course in seen {
        let wide = course.arcs.iter().filter(|arc| over(arc.outer, paving.limits.most));
        for arc in wide {
            let same = |group: &&mut (Vec<u32>, Vec<ArcJoints>)| {
                group.0.last() == Some(&(course.index - 1))
                    && group.1.first().is_some_and(|first| first.chainage == arc.chainage)
            };
            match groups.iter_mut().find(same) {
                Some((courses, arcs)) => {
                    courses.push(course.index);
                    arcs.push(*arc);
                }
                None => groups.push((vec![course.index], vec![*arc])),
            }
        }
    }
    let worst = |arcs: &[ArcJoints]| {
        arcs.iter().copied().reduce(|a, b| if b.outer > a.outer { b } else { a })
    };
    groups
        .iter()
        .filter_map(|(courses, arcs)| {
            let (first, last) = (*courses.first()?, *courses.last()?);
            let arc = worst(arcs)?;
            let phrase = Phrase::new(
                "lay.joint",
                [
                    ("count", (last - first + 1).into()),
                    ("first", first.into()),
                    ("last", last.into()),
                    ("from", m(arc.chainage[0])),
                    ("to", m(arc.chainage[1])),
                    ("inner", mm(arc.inner)),
                    ("outer", mm(arc.outer)),
                    ("most", mm(paving.limits.most)),
                ],
            );
            Some(Problem {
                phrase,
                chainage: Some(arc.chainage),
                courses: Some([first, last]),
                place: Some(on_edge(site, arc.chainage)),
                proposal: arc_proposal(paving, arcs, &arc),
            })
        })
        .collect()
}

/// The first of these that holds on the worst of some arcs: a closer joint inside, half blocks, units
/// cut to a taper.
fn arc_proposal(paving: &Paving, arcs: &[ArcJoints], worst: &ArcJoints) -> Option<Proposal> {
    let (block, limits) = (paving.block, paving.limits);
    let whole = Unit { along: block.length, across: worst.depth };
    let half = Unit { along: block.half(), across: worst.depth };
    let holds = |unit: &Unit, inner: Length| {
        let outer = unit.outer_joint(worst.radius, inner);
        (!over(outer, limits.most)).then_some([("inner", mm(inner)), ("outer", mm(outer))])
    };
    if let Some(joints) = holds(&whole, limits.least) {
        return Some(Proposal { phrase: Phrase::new("lay.close_joints", joints), mends: true });
    }
    let halved = [worst.inner, limits.least].into_iter().find_map(|inner| holds(&half, inner));
    if let Some([inner, outer]) = halved {
        // Blocks that lie on the arcs from end to end.
        let blocks = |arc: &ArcJoints| (arc.length / (block.length + arc.inner)).floor();
        let count: f64 = arcs.iter().map(blocks).sum();
        let values = [("count", count.into()), inner, outer];
        return Some(Proposal { phrase: Phrase::new("lay.half_blocks", values), mends: true });
    }
    Some(taper(&whole, worst.radius, limits.least, worst.length / worst.radius))
}

fn on_edge(site: &Site, chainage: [Length; 2]) -> Point {
    let [from, to] = chainage;
    site.edge.at((from + to) / 2.0).point
}

/// Short laps in a course.
fn lap(
    site: &Site,
    block: &Block,
    seen: &Seen,
    short: &ShortLap,
    mended: Option<&Seen>,
) -> Problem {
    let [from, to] = short.chainage;
    let is_one = to - from < Length::from_mm(1.0);
    let phrase = Phrase::new(
        if is_one { "lay.lap_at" } else { "lay.lap" },
        [
            ("course", seen.index.into()),
            ("from", m(from)),
            ("to", m(to)),
            ("lap", mm(short.least)),
            ("least", mm(block.length / 4.0)),
        ],
    );
    Problem {
        phrase,
        chainage: Some(short.chainage),
        courses: Some([seen.index; 2]),
        place: Some(on_edge(site, short.chainage)),
        proposal: mended.and_then(|mended| kept_lap(seen, mended)),
    }
}

/// What keeps the laps of a course, the courses before it mended too.
fn kept_lap(seen: &Seen, mended: &Seen) -> Option<Proposal> {
    let least = mended.least_lap?;
    let more = mended.cuts.saturating_sub(seen.cuts);
    let [lap, more] = [("lap", mm(least)), ("more", more.into())];
    let phrase = match &mended.mend {
        // The courses before it, mended, leave nothing to do here.
        Mend::None => Phrase::new("lay.mend_before", [lap, more]),
        Mend::Joint(joint) => Phrase::new("lay.mend_joint", [("joint", mm(*joint)), lap, more]),
        Mend::Start(piece) => Phrase::new("lay.mend_start", [("piece", mm(*piece)), lap, more]),
        Mend::Closers(places) => {
            // No place is written as minus nothing.
            let shown = |place: &Length| format!("{:.2}", place.to_m().max(0.0));
            let shown: Vec<String> = places.iter().map(shown).collect();
            let count = places.len() as u32;
            let places = Value::from(shown.join(", "));
            Phrase::new(
                "lay.mend_closers",
                [("count", count.into()), ("places", places), lap, more],
            )
        }
    };
    Some(Proposal { phrase, mends: mended.short.is_empty() })
}

/// A last course of rips under a third of a block.
fn thin_rip(paving: &Paving, laying: &Laying) -> Option<Problem> {
    let rip = laying.courses.iter().find(|course| course.rip)?;
    let pieces = laying.pieces.iter().filter(|p| p.place == Place::Field(rip.index));
    let widest = pieces.map(|piece| piece.fraction).fold(0.0, f64::max);
    if widest >= SMALL {
        return None;
    }
    let width = paving.block.width * widest;
    let phrase = Phrase::new("lay.thin_rip", [("course", rip.index.into()), ("width", mm(width))]);
    let fits = laying.widths.iter().find(|whole| whole.within);
    let proposal = match (fits, laying.widths.first()) {
        (Some(whole), _) => whole.joint.map(|joint| {
            let values = [("courses", whole.courses.into()), ("joint", mm(joint))];
            Phrase::new("lay.whole_joint", values)
        }),
        (None, Some(whole)) => {
            let values = [("courses", whole.courses.into()), ("width", m(whole.width))];
            Some(Phrase::new("lay.whole_width", values))
        }
        (None, None) => None,
    };
    Some(Problem {
        courses: Some([rip.index; 2]),
        place: Some(rip.start),
        proposal: proposal.map(|phrase| Proposal { phrase, mends: true }),
        ..Problem::plain(phrase)
    })
}
