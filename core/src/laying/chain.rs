//! A line of straight units along a chain of straights and arcs.
//!
//! Lengths are taken along the inner side of the line, the one nearer to the centre of each curve:
//! there the units stand closest, and there the joint is what it is asked to be.

use super::joints::Unit;
use super::region::Corners;
use crate::outline::{Edge, Point};
use crate::units::Length;

/// A line along an edge: between two chainages, from one distance into the paving to another.
#[derive(Debug, Clone)]
pub struct Chain<'a> {
    edge: &'a Edge,
    /// +1 where the paving lies to the left of the edge, -1 to its right.
    side: f64,
    near: f64,
    depth: f64,
    spans: Vec<Span>,
}

/// How much of its rise a straight unit stands out of a curve at its corners; the rest it stands back
/// at its middle.
pub const STANDS_OUT: f64 = 2.0 / 3.0;

/// A straight or an arc that is shorter is none.
const NOTHING: f64 = 1e-6;

/// A straight or an arc of the line.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Span {
    /// Chainage along the edge where it starts and ends.
    pub chainage: [f64; 2],
    /// The same along the inner side of the line.
    pub inner: [f64; 2],
    /// Inner radius; none on a straight.
    pub radius: Option<f64>,
}

/// Where a line runs along an edge.
#[derive(Debug, Clone, Copy)]
pub struct Reach {
    /// From this chainage to that, beyond the ends of the edge along its tangents.
    pub chainage: [f64; 2],
    /// From this distance into the paving.
    pub near: f64,
    /// So far across.
    pub depth: f64,
}

impl<'a> Chain<'a> {
    /// The line in its reach; none where it would run over the centre of a curve.
    pub fn new(edge: &'a Edge, side: f64, reach: Reach) -> Option<Self> {
        let [from, to] = reach.chainage;
        let mut spans: Vec<Span> = Vec::new();
        let mut inner = 0.0;
        for (start, end, curvature) in pieces(edge) {
            let (start, end) = (start.max(from), end.min(to));
            if end - start < NOTHING {
                continue;
            }
            let scale = |into: f64| 1.0 - into * side * curvature;
            let scale = scale(reach.near).min(scale(reach.near + reach.depth));
            if scale <= 0.0 {
                return None;
            }
            let length = (end - start) * scale;
            spans.push(Span {
                chainage: [start, end],
                inner: [inner, inner + length],
                radius: (curvature != 0.0).then(|| scale / curvature.abs()),
            });
            inner += length;
        }
        let Reach { near, depth, .. } = reach;
        (!spans.is_empty()).then_some(Chain { edge, side, near, depth, spans })
    }

    /// Length along the inner side.
    pub fn length(&self) -> f64 {
        self.spans.last().map_or(0.0, |span| span.inner[1])
    }

    /// Its straights and arcs.
    pub fn spans(&self) -> &[Span] {
        &self.spans
    }

    /// The tightest inner radius; none where all of it is straight.
    pub fn tightest(&self) -> Option<f64> {
        self.spans.iter().filter_map(|span| span.radius).reduce(f64::min)
    }

    /// The joint at the outer corners of units so long on its tightest curve.
    pub fn outer_joint(&self, unit: f64, inner: f64) -> f64 {
        let [along, across, joint] = [unit, self.depth, inner].map(Length::from_m);
        let unit = Unit { along, across };
        self.tightest()
            .map_or(joint, |radius| unit.outer_joint(Length::from_m(radius), joint))
            .to_m()
    }

    /// How far straight units stand out of the line at their corners or their middles on its
    /// tightest curve: l^2 / 8 r.
    pub fn rise(&self, unit: f64) -> f64 {
        self.tightest().map_or(0.0, |radius| unit * unit / (8.0 * radius))
    }

    /// The chainage of a place along the inner side.
    pub fn chainage(&self, inner: f64) -> f64 {
        let span = self.spans.iter().find(|span| inner <= span.inner[1]).or(self.spans.last());
        span.map_or(inner, |span| {
            let [from, to] = span.inner;
            let [start, end] = span.chainage;
            start + (inner - from) * (end - start) / (to - from)
        })
    }

    /// The place along the inner side that a point is beside, no farther than its ends.
    pub fn along(&self, point: Point) -> f64 {
        let chainage = self.edge.place(point).chainage.to_m();
        let span = self.spans.iter().find(|span| chainage <= span.chainage[1]);
        span.or(self.spans.last()).map_or(chainage, |span| {
            let ([start, end], [from, to]) = (span.chainage, span.inner);
            from + (chainage.clamp(start, end) - start) * (to - from) / (end - start)
        })
    }

    /// The corners of a unit that starts at a place along the inner side and is so long and so
    /// wide: counter-clockwise from a long side of the line on.
    ///
    /// On a curve it stands a third of its rise back from the circle at its middle and two thirds
    /// out at its corners, so that neither side of the line stands out more than the other.
    pub fn corners(&self, inner: f64, length: f64, width: f64) -> Corners {
        let [start, middle, end] = [0.0, 0.5, 1.0].map(|share| {
            let chainage = self.chainage(inner + length * share);
            let into = (self.near + width / 2.0) * self.side;
            self.edge.point(Length::from_m(chainage), Length::from_m(into))
        });
        let chord = end - start;
        let along = chord / chord.x.hypot(chord.y);
        let left = Point { x: -along.y, y: along.x };
        let between = (start + end) / 2.0;
        let centre = between + (middle - between) * STANDS_OUT;
        let (dx, dy) = (along * (length / 2.0), left * (width / 2.0));
        let ring = [centre - dx - dy, centre + dx - dy, centre + dx + dy, centre - dx + dy];
        // Walked from the side of the edge, whichever that is, so that a rip loses its far side.
        if self.side > 0.0 { ring } else { [ring[2], ring[3], ring[0], ring[1]] }
    }

    /// The direction of the line at a place along its inner side, in radians.
    pub fn heading(&self, inner: f64) -> f64 {
        self.edge.at(Length::from_m(self.chainage(inner))).heading
    }

    /// The point at a place along the inner side, in the middle of the line.
    pub fn middle(&self, inner: f64) -> Point {
        let into = (self.near + self.depth / 2.0) * self.side;
        self.edge.point(Length::from_m(self.chainage(inner)), Length::from_m(into))
    }
}

/// Start, end and curvature of each piece of an edge, with endless straights before and after it.
fn pieces(edge: &Edge) -> impl Iterator<Item = (f64, f64, f64)> {
    let mut at = 0.0;
    let own = edge.runs().iter().map(move |(_, run)| {
        let start = at;
        at += run.length().to_m();
        (start, at, run.curvature())
    });
    let before = std::iter::once((f64::NEG_INFINITY, 0.0, 0.0));
    before.chain(own).chain([(edge.length().to_m(), f64::INFINITY, 0.0)])
}
