//! Courses that follow a curved edge.

use super::block::{Block, Bond, JointLimits, Pattern};
use super::chain::{Chain, Reach};
use super::course::{Closing, Course};
use super::laps::{self, Joints, Mend, ShortLap};
use super::piece::{Piece, Place};
use super::region::Region;
use super::row::{LEAST_PIECE, Row, SAME_LENGTH, Units};
use super::set::{Stand, set};
use super::strip::Strip;
use crate::units::Length;

/// A field as it was laid.
pub struct Curved {
    /// Its pieces, course by course.
    pub pieces: Vec<Piece>,
    /// Its courses.
    pub courses: Vec<Course>,
    /// What was seen of each course.
    pub seen: Vec<Seen>,
}

/// A course with what a problem with it would need.
pub struct Seen {
    /// Its number.
    pub index: u32,
    /// Each of its arcs: chainage, and the joints at the inner and the outer corners.
    pub arcs: Vec<ArcJoints>,
    /// Its shortest lap against the course before.
    pub least_lap: Option<Length>,
    /// Its short laps.
    pub short: Vec<ShortLap>,
    /// Cut units in it.
    pub cuts: u32,
    /// What was done to keep its laps.
    pub mend: Mend,
}

/// The joints of a course on one arc.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ArcJoints {
    /// Chainage where the arc starts and ends.
    pub chainage: [Length; 2],
    /// Its length along the inner side of the course.
    pub length: Length,
    /// Its radius there.
    pub radius: Length,
    /// The joint at the inner corners.
    pub inner: Length,
    /// The joint at the outer corners.
    pub outer: Length,
    /// How far the course reaches across.
    pub depth: Length,
}

/// Lays courses along a strip. With `keep_laps` each is laid so that its laps hold, where they can.
pub fn curved(
    strip: &Strip,
    region: &Region,
    block: &Block,
    bond: &Bond,
    limits: &JointLimits,
    keep_laps: bool,
) -> Curved {
    let [l, w, j] = [block.length, block.width, block.joint].map(Length::to_m);
    let laps = bond.pattern == Pattern::Stretcher;
    let mut laid = Curved { pieces: Vec::new(), courses: Vec::new(), seen: Vec::new() };
    let mut before: Option<Joints> = None;
    let [mut near, far] = strip.into;
    while far - near > LEAST_PIECE {
        let depth = w.min(far - near);
        let reach = Reach { chainage: strip.chainage, near, depth };
        let Some(chain) = Chain::new(strip.edge, strip.side, reach) else { break };
        let index = laid.courses.len() as u32 + 1;
        let Some(whole) = longest_unit(chain.tightest(), l) else { break };
        let half = laps.then_some((whole - j) / 2.0);
        let units = Units { whole, half, joint: j, limits: *limits };
        let mut row = row(&chain, index, strip, &units);
        let mut mend = Mend::None;
        let follows = before.as_ref().filter(|_| laps);
        if let (true, Some(before)) = (keep_laps, follows) {
            let kept = laps::keep(&chain, row, before, &units);
            (row, mend) = (kept.row, kept.mend);
        }
        let stand = Stand { along: l, across: w, depth };
        let pieces = set(&chain, &row, &stand, region, block, Place::Field(index));
        let mut course = course(&chain, index, &row, whole);
        course.rip = w - depth > SAME_LENGTH;
        course.least_lap = follows.and_then(|before| laps::least(&chain, &row, before));
        if !strip.square {
            ends_at_outline(&mut course, &chain, &pieces);
        }
        pieces.iter().for_each(|piece| course.count(piece));
        laid.seen.push(Seen {
            index,
            arcs: arcs(&chain, &row, whole, depth),
            least_lap: course.least_lap,
            short: follows.map_or(Vec::new(), |b| laps::short(&chain, &row, b, &units)),
            cuts: course.cut,
            mend,
        });
        before = Some(laps::joints(&chain, &row));
        laid.pieces.extend(pieces);
        laid.courses.push(course);
        // Straight blocks stand out of a tight curve by more than the joint: they need more room.
        near += depth + j.max(chain.rise(whole) * ACROSS_TANGENTS);
    }
    laid
}

/// Where one curve runs into another the other way, the block across both stands out a little more.
const ACROSS_TANGENTS: f64 = 1.15;
/// A unit turns the line by no more than this, in radians, or is halved.
const MOST_TURN: f64 = 0.6;
/// A block is halved so often at most.
const MOST_HALVINGS: u32 = 3;

/// The block, or where its course bends too tightly for it a half, a quarter or an eighth of it; none
/// where even that is too long.
pub fn longest_unit(tightest: Option<f64>, block: f64) -> Option<f64> {
    let most = tightest.map_or(f64::INFINITY, |radius| radius * MOST_TURN);
    (0..=MOST_HALVINGS).map(|times| block / f64::from(1 << times)).find(|unit| *unit <= most)
}

/// A course by itself: every other one of a stretcher bond starts with a half.
fn row(chain: &Chain, index: u32, strip: &Strip, units: &Units) -> Row {
    let half = units.half.filter(|_| index.is_multiple_of(2));
    let even = strip.square.then(|| Row::even(chain, half.is_some(), false, units)).flatten();
    let first = half.unwrap_or(units.whole);
    even.unwrap_or_else(|| Row::closed(chain.length(), first, units, units.joint))
}

fn course(chain: &Chain, index: u32, row: &Row, unit: f64) -> Course {
    Course {
        index,
        radius: chain.tightest().map(Length::from_m),
        length: Length::from_m(chain.length()),
        whole: 0,
        cut: 0,
        inner_joint: Length::from_m(row.joint),
        outer_joint: Length::from_m(chain.outer_joint(unit, row.joint)),
        closing: row.closing,
        rip: false,
        least_lap: None,
        start: chain.middle(0.0),
        heading: chain.heading(0.0),
    }
}

/// A course of which the outline makes the ends: from its first piece to its last.
fn ends_at_outline(course: &mut Course, chain: &Chain, pieces: &[Piece]) {
    course.closing = Closing::AtOutline;
    let nothing = [f64::INFINITY, f64::NEG_INFINITY];
    let [from, to] = pieces.iter().flat_map(Piece::ring).fold(nothing, |[least, most], point| {
        let at = chain.along(*point);
        [least.min(at), most.max(at)]
    });
    if from < to {
        course.length = Length::from_m(to - from);
        (course.start, course.heading) = (chain.middle(from), chain.heading(from));
    }
}

fn arcs(chain: &Chain, row: &Row, unit: f64, depth: f64) -> Vec<ArcJoints> {
    let (along, across) = (Length::from_m(unit), Length::from_m(depth));
    let unit = super::joints::Unit { along, across };
    let inner = Length::from_m(row.joint);
    let arc = |span: &super::chain::Span| {
        let radius = Length::from_m(span.radius?);
        Some(ArcJoints {
            chainage: span.chainage.map(Length::from_m),
            length: Length::from_m(span.inner[1] - span.inner[0]),
            radius,
            inner,
            outer: unit.outer_joint(radius, inner),
            depth: across,
        })
    };
    chain.spans().iter().filter_map(arc).collect()
}
