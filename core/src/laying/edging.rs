//! Edge courses: units side by side along every edge that is not held, round its curves and corners.
//!
//! At a corner the longer edge's course runs through and the other stops against it. Round a corner
//! that points into the paving both are lengthened to where their inner sides meet.

use std::f64::consts::{PI, TAU};

use geo::orient::{Direction, Orient as _};
use geo::{BooleanOps as _, LineString, MultiPolygon, Polygon, unary_union};

use super::block::{Block, EdgeCourse, JointLimits};
use super::chain::{Chain, Reach, STANDS_OUT};
use super::course::Closing;
use super::joints::Unit;
use super::piece::{Piece, Place};
use super::region::Region;
use super::row::{Row, Units};
use super::set::{Stand, set};
use super::site::{SIDE_CHORDS, Site};
use crate::outline::{Edge, Point, Run, Side, SideName};
use crate::units::Length;

/// An edge course along edges that run on into each other without a corner.
#[derive(Debug, Clone, PartialEq)]
pub struct EdgeRun {
    /// Its straights and arcs, in order, with the paving on their left.
    pub parts: Vec<EdgePart>,
    /// Length along its inner side.
    pub length: Length,
    /// Units as they come.
    pub whole: u32,
    /// Cut units.
    pub cut: u32,
    /// How it ends.
    pub closing: Closing,
    /// The joint that would finish it on whole units, where a piece closes it and there is one.
    pub finish_joint: Option<Length>,
    /// Whether it closes on itself.
    pub ring: bool,
}

/// An edge course along one straight or arc.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct EdgePart {
    /// The side of the outline.
    pub side: SideName,
    /// Radius at the inner corners of the units; none on a straight.
    pub radius: Option<Length>,
    /// Length along the inner corners.
    pub length: Length,
    /// The joint at the inner corners.
    pub inner_joint: Length,
    /// The joint at the outer corners.
    pub outer_joint: Length,
    /// How far each unit is turned against the one before, in degrees.
    pub turn_deg: f64,
    /// Its middle.
    pub middle: Point,
}

/// The edge courses of a site, and what is left for the field.
pub struct Edging {
    /// Their pieces.
    pub pieces: Vec<Piece>,
    /// The courses.
    pub runs: Vec<EdgeRun>,
    /// Sides whose curve is too tight for the course: none is laid there.
    pub too_tight: Vec<SideName>,
    /// What is left for the field.
    pub field: MultiPolygon,
}

/// Edges that follow on each other without a corner.
struct Line {
    edge: Edge,
    sides: Vec<SideName>,
    ring: bool,
    /// How far its course reaches beyond its start and its end, round corners that point inward.
    beyond: [f64; 2],
}

/// Where two edges are turned against each other by less, they run on into each other.
const TANGENT: f64 = 1e-6;
/// Sharp corners that point into the paving lengthen a course by no more than this many times its
/// width.
const MOST_BEYOND: f64 = 4.0;
/// Bands are drawn this far beyond the outline, so that no sliver is left along it.
const OVER_OUTLINE: f64 = 0.01;

/// Lays the edge courses of a site.
pub fn edging(site: &Site, course: EdgeCourse, block: &Block, limits: &JointLimits) -> Edging {
    let whole = MultiPolygon::from(site.polygon.clone());
    let mut laid =
        Edging { pieces: Vec::new(), runs: Vec::new(), too_tight: Vec::new(), field: whole };
    let Some((reach, along)) = course.unit(block) else { return laid };
    let (depth, joint) = (reach.to_m(), block.joint.to_m());
    let stand = Stand { along: along.to_m(), across: depth, depth };
    laid.too_tight = too_tight(site, &stand);
    let held: Vec<SideName> = site.held.iter().chain(&laid.too_tight).copied().collect();
    let mut lines = lines(&site.sides, &held, depth);
    lines.sort_by(|a, b| b.edge.length().to_m().total_cmp(&a.edge.length().to_m()));
    let mut bands: Vec<Polygon> = Vec::new();
    for line in lines {
        let [before, after] = line.beyond;
        let length = line.edge.length().to_m();
        let Some(own) = line.band([-before, length + after], depth) else { continue };
        let Some(wide) = line.wide_band(joint, &stand) else { continue };
        let ground = own.intersection(&site.polygon).difference(&unary_union(&bands));
        bands.push(wide);
        let units = Units { whole: stand.along, half: None, joint, limits: *limits };
        let number = Place::Edge(laid.runs.len() as u32);
        if let Some((run, pieces)) = line.lay(&ground, &units, &stand, block, number) {
            laid.runs.push(run);
            laid.pieces.extend(pieces);
        }
    }
    laid.field = laid.field.difference(&unary_union(&bands));
    laid
}

/// Free sides on whose curve a unit would turn by more than a radian, or leave a gap outside as wide
/// as the unit is deep.
fn too_tight(site: &Site, stand: &Stand) -> Vec<SideName> {
    let least = stand.along.max(stand.depth);
    let inner = |side: &Side| {
        let radius = side.radius()?.to_m();
        Some(if side.curvature > 0.0 { radius - stand.depth } else { radius })
    };
    let free = site.sides.iter().filter(|(name, _)| !site.held.contains(name));
    let tight = free.filter(|(_, side)| inner(side).is_some_and(|radius| radius < least));
    let mut names: Vec<SideName> = tight.map(|(name, _)| *name).collect();
    names.dedup();
    names
}

/// The free sides of an outline, joined where they run on into each other.
fn lines(sides: &[(SideName, Side)], held: &[SideName], depth: f64) -> Vec<Line> {
    let count = sides.len();
    let before = |index: usize| sides.get((index + count - 1) % count);
    let after = |index: usize| sides.get((index + 1) % count);
    let free = |name: &SideName| !held.contains(name);
    // The turn from one side to the next where both have a course; none where either is held.
    let turn = |from: Option<&(SideName, Side)>, to: Option<&(SideName, Side)>| {
        let ((from_name, from), (to_name, to)) = from.zip(to)?;
        let turn = to.start.heading - from.end_heading();
        (free(from_name) && free(to_name)).then(|| (turn + PI).rem_euclid(TAU) - PI)
    };
    let runs_on = |turn: Option<f64>| turn.is_some_and(|turn| turn.abs() < TANGENT);
    let beyond = |turn: Option<f64>| {
        let inward = turn.filter(|turn| *turn < 0.0).unwrap_or_default();
        depth * (-inward / 2.0).tan().min(MOST_BEYOND)
    };
    let starts: Vec<usize> = (0..count)
        .filter(|i| sides.get(*i).is_some_and(|(name, _)| free(name)))
        .filter(|i| !runs_on(turn(before(*i), sides.get(*i))))
        .collect();
    let ring = starts.is_empty() && sides.iter().any(|(name, _)| free(name));
    let starts = if ring { vec![0] } else { starts };
    starts
        .into_iter()
        .filter_map(|start| {
            let mut joined = vec![*sides.get(start)?];
            let mut at = start;
            while joined.len() < count && runs_on(turn(sides.get(at), after(at))) {
                at = (at + 1) % count;
                joined.push(*sides.get(at)?);
            }
            let runs: Vec<Run> = joined.iter().map(|(_, side)| side.run()).collect();
            let (_, first) = joined.first()?;
            let beyond = [turn(before(start), sides.get(start)), turn(sides.get(at), after(at))]
                .map(|turn| if ring { 0.0 } else { beyond(turn) });
            let edge = Edge::from_station(first.start, &runs);
            Some(Line { edge, sides: joined.iter().map(|(name, _)| *name).collect(), ring, beyond })
        })
        .collect()
}

impl Line {
    /// The ground from the edge so far into the paving; none over the centre of a curve.
    fn band(&self, chainage: [f64; 2], depth: f64) -> Option<Polygon> {
        let reach = Reach { chainage, near: 0.0, depth };
        let chain = Chain::new(&self.edge, 1.0, reach)?;
        let mut places: Vec<f64> = Vec::new();
        for span in chain.spans() {
            let [from, to] = span.chainage;
            let angle = span.radius.map_or(0.0, |radius| (span.inner[1] - span.inner[0]) / radius);
            let wide = span.radius.map_or(1.0, |radius| radius + depth);
            let chord = 2.0 * (1.0 - SIDE_CHORDS.to_m() / wide).max(0.0).acos();
            let chords = (angle / chord).ceil().max(1.0);
            places.extend((0..chords as u32).map(|i| from + (to - from) * f64::from(i) / chords));
        }
        places.push(chainage[1]);
        let line = |into: f64| {
            let into = Length::from_m(into);
            places.iter().map(move |at| self.edge.point(Length::from_m(*at), into))
        };
        let mut ring: Vec<Point> = line(-OVER_OUTLINE).collect();
        let inner: Vec<Point> = line(depth).collect();
        if self.ring {
            // All the way round: a ring with the field as its hole.
            let ring = Polygon::new(LineString::new(ring), vec![LineString::new(inner)]);
            return Some(ring.orient(Direction::Default));
        }
        ring.extend(inner.into_iter().rev());
        Some(Polygon::new(LineString::new(ring), Vec::new()))
    }

    /// The ground that the course takes from the field and from other courses: its joint with it, and
    /// the room by which straight units stand out of its tightest curve.
    fn wide_band(&self, joint: f64, stand: &Stand) -> Option<Polygon> {
        let [before, after] = self.beyond;
        let length = self.edge.length().to_m();
        let reach = Reach { chainage: [0.0, length], near: 0.0, depth: stand.depth };
        let out = Chain::new(&self.edge, 1.0, reach)?.rise(stand.along) * STANDS_OUT;
        let past = if self.ring { 0.0 } else { joint };
        self.band([-before - past, length + after + past], stand.depth + joint.max(out))
    }

    /// The course on its ground; none where there is none.
    fn lay(
        &self,
        ground: &MultiPolygon,
        units: &Units,
        stand: &Stand,
        block: &Block,
        place: Place,
    ) -> Option<(EdgeRun, Vec<Piece>)> {
        let reach = Reach { chainage: self.extent(ground)?, near: 0.0, depth: stand.depth };
        let chain = Chain::new(&self.edge, 1.0, reach)?;
        let closed = || {
            let length = chain.length() - if self.ring { units.joint } else { 0.0 };
            Row::closed(length, units.whole, units, units.joint)
        };
        let row = Row::even(&chain, false, self.ring, units).unwrap_or_else(closed);
        let region = Region::new(ground, stand.along.hypot(stand.across) / 2.0);
        let pieces = set(&chain, &row, stand, &region, block, place);
        let whole = pieces.iter().filter(|piece| piece.is_whole()).count() as u32;
        let finish_joint = match row.closing {
            Closing::Closer(_) => Row::finishing_joint(chain.length(), self.ring, units),
            Closing::Even | Closing::AtOutline => None,
        };
        let run = EdgeRun {
            parts: self.parts(&chain, &row, stand),
            length: Length::from_m(chain.length()),
            whole,
            cut: pieces.len() as u32 - whole,
            closing: row.closing,
            finish_joint: finish_joint.map(Length::from_m),
            ring: self.ring,
        };
        (!pieces.is_empty()).then_some((run, pieces))
    }

    /// The chainages between which the ground lies.
    fn extent(&self, ground: &MultiPolygon) -> Option<[f64; 2]> {
        use geo::CoordsIter as _;
        if self.ring {
            return Some([0.0, self.edge.length().to_m()]);
        }
        // No farther than the course may run: beyond its ends other ground may lie by its tangents.
        let [before, after] = self.beyond;
        let most = self.edge.length().to_m() + after;
        let places = ground
            .exterior_coords_iter()
            .map(|p| self.edge.place(p).chainage.to_m().clamp(-before, most));
        let spread = |[least, most]: [f64; 2], at: f64| [least.min(at), most.max(at)];
        let extent = places.fold([f64::INFINITY, f64::NEG_INFINITY], spread);
        (extent[0] < extent[1]).then_some(extent)
    }

    /// The parts of a course between the ends of the sides.
    fn parts(&self, chain: &Chain, row: &Row, stand: &Stand) -> Vec<EdgePart> {
        let joint = Length::from_m(row.joint);
        let [along, across] = [stand.along, stand.depth].map(Length::from_m);
        let unit = Unit { along, across };
        let mut ends = 0.0;
        let ends: Vec<f64> = self
            .edge
            .runs()
            .iter()
            .map(|(_, run)| {
                ends += run.length().to_m();
                ends
            })
            .collect();
        let side_at = |chainage: f64| {
            let index = ends.partition_point(|end| *end < chainage);
            self.sides.get(index).or(self.sides.last()).copied()
        };
        chain
            .spans()
            .iter()
            .filter_map(|span| {
                let [from, to] = span.inner;
                let radius = span.radius.map(Length::from_m);
                Some(EdgePart {
                    side: side_at((span.chainage[0] + span.chainage[1]) / 2.0)?,
                    radius,
                    length: Length::from_m(to - from),
                    inner_joint: joint,
                    outer_joint: radius.map_or(joint, |r| unit.outer_joint(r, joint)),
                    turn_deg: radius.map_or(0.0, |r| ((along + joint) / r).to_degrees()),
                    middle: chain.middle((from + to) / 2.0),
                })
            })
            .collect()
    }
}
