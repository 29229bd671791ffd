//! The reference edge: a chain of straights and tangent arcs that everything is measured along.

use std::f64::consts::PI;

use geo::Coord;

use crate::units::Length;

/// A point in the job's frame, metres.
pub type Point = Coord<f64>;

/// The straight distance between two points.
pub fn distance(a: Point, b: Point) -> Length {
    Length::from_m((b.x - a.x).hypot(b.y - a.y))
}

/// Which way an arc bends, or on which side of an edge something lies, walking along it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Hand {
    /// Counter-clockwise, towards positive offsets.
    Left,
    /// Clockwise, towards negative offsets.
    Right,
}

impl Hand {
    /// +1 for left, -1 for right.
    pub const fn sign(self) -> f64 {
        match self {
            Hand::Left => 1.0,
            Hand::Right => -1.0,
        }
    }
}

/// One piece of an edge. Each begins in the direction that the one before ends in.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Run {
    /// A straight of this length.
    Straight(Length),
    /// An arc of this length along itself.
    Arc {
        /// Length along the arc.
        length: Length,
        /// Radius of the edge itself.
        radius: Length,
        /// Which way it bends.
        turn: Hand,
    },
}

impl Run {
    /// Length along the piece.
    pub const fn length(&self) -> Length {
        match *self {
            Run::Straight(length) | Run::Arc { length, .. } => length,
        }
    }

    /// Signed curvature in 1/m: positive bends left, 0 is straight.
    pub const fn curvature(&self) -> f64 {
        match *self {
            Run::Straight(_) => 0.0,
            Run::Arc { radius, turn, .. } => turn.sign() / radius.to_m(),
        }
    }
}

/// A place on the edge with the direction of walking there.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Station {
    /// Where.
    pub point: Point,
    /// Direction of the edge in radians from the frame's x, counter-clockwise.
    pub heading: f64,
}

impl Station {
    /// The point at a signed offset, positive to the left.
    pub fn offset(&self, offset: Length) -> Point {
        let (sin, cos) = self.heading.sin_cos();
        let d = offset.to_m();
        Point { x: self.point.x - sin * d, y: self.point.y + cos * d }
    }

    /// The station so far along a straight or an arc of signed curvature.
    fn advance(&self, distance: f64, curvature: f64) -> Station {
        let turned = distance * curvature;
        // Chord of the arc: length and mean direction. Stable down to no curvature at all.
        let half = turned / 2.0;
        let chord = if half.abs() < 1e-9 { distance } else { distance * half.sin() / half };
        let (sin, cos) = (self.heading + half).sin_cos();
        Station {
            point: Point { x: self.point.x + chord * cos, y: self.point.y + chord * sin },
            heading: self.heading + turned,
        }
    }
}

/// A chain of straights and tangent arcs from the frame's origin along its x.
#[derive(Debug, Clone, PartialEq)]
pub struct Edge {
    start: Station,
    runs: Vec<(Station, Run)>,
    length: Length,
}

/// Where a point lies against the edge.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct EdgePlace {
    /// Distance along the edge to the foot of the point; before the start it is negative, after
    /// the end greater than the length, along the tangent there.
    pub chainage: Length,
    /// Signed distance from the edge, positive to the left. On a curve it is radial.
    pub offset: Length,
}

impl Edge {
    /// A chain from the origin along x.
    pub fn new(runs: &[Run]) -> Self {
        Edge::from_station(Station { point: Point { x: 0.0, y: 0.0 }, heading: 0.0 }, runs)
    }

    /// A chain from any start.
    pub fn from_station(start: Station, runs: &[Run]) -> Self {
        let mut at = start;
        let mut length = Length::ZERO;
        let mut placed = Vec::with_capacity(runs.len());
        for run in runs {
            placed.push((at, *run));
            at = at.advance(run.length().to_m(), run.curvature());
            length += run.length();
        }
        Edge { start, runs: placed, length }
    }

    /// Length along the chain.
    pub const fn length(&self) -> Length {
        self.length
    }

    /// The pieces with the station each starts at.
    pub fn runs(&self) -> &[(Station, Run)] {
        &self.runs
    }

    /// The station at a chainage; beyond either end along the tangent there.
    pub fn at(&self, chainage: Length) -> Station {
        let mut left = chainage.to_m();
        if left < 0.0 {
            return self.start.advance(left, 0.0);
        }
        for (start, run) in &self.runs {
            let length = run.length().to_m();
            if left <= length {
                return start.advance(left, run.curvature());
            }
            left -= length;
        }
        self.end().advance(left, 0.0)
    }

    fn end(&self) -> Station {
        self.runs
            .last()
            .map_or(self.start, |(start, run)| start.advance(run.length().to_m(), run.curvature()))
    }

    /// The point at a chainage and a signed offset, positive to the left.
    pub fn point(&self, chainage: Length, offset: Length) -> Point {
        self.at(chainage).offset(offset)
    }

    /// Chainage and offset of a point: of all feet on the chain and its tangents beyond the ends,
    /// the nearest.
    pub fn place(&self, point: Point) -> EdgePlace {
        let mut best = (f64::INFINITY, EdgePlace { chainage: Length::ZERO, offset: Length::ZERO });
        let mut offer = |chainage: f64, station: Station| {
            let (sin, cos) = station.heading.sin_cos();
            let (dx, dy) = (point.x - station.point.x, point.y - station.point.y);
            let distance = dx.hypot(dy);
            if distance < best.0 {
                let left = dy * cos - dx * sin;
                let offset = Length::from_m(distance.copysign(left));
                best = (distance, EdgePlace { chainage: Length::from_m(chainage), offset });
            }
        };
        let before = along(self.start, point);
        if before < 0.0 {
            offer(before, self.start.advance(before, 0.0));
        }
        let mut done = 0.0;
        for (start, run) in &self.runs {
            let length = run.length().to_m();
            let foot = foot_on(*start, run, point).clamp(0.0, length);
            offer(done + foot, start.advance(foot, run.curvature()));
            done += length;
        }
        let end = self.end();
        let after = along(end, point);
        if after > 0.0 || self.runs.is_empty() {
            offer(done + after, end.advance(after, 0.0));
        }
        best.1
    }
}

/// Signed distance of a point along a station's direction.
fn along(station: Station, point: Point) -> f64 {
    let (sin, cos) = station.heading.sin_cos();
    (point.x - station.point.x) * cos + (point.y - station.point.y) * sin
}

/// Distance along the piece to the foot of a point, which may lie outside the piece.
pub(super) fn foot_on(start: Station, run: &Run, point: Point) -> f64 {
    match *run {
        Run::Straight(_) => along(start, point),
        Run::Arc { length, radius, turn } => {
            let centre = start.offset(radius * turn.sign());
            let from = (start.point.y - centre.y).atan2(start.point.x - centre.x);
            let to = (point.y - centre.y).atan2(point.x - centre.x);
            let swept = (to - from) * turn.sign();
            // The sweep nearest to the middle of the piece, so that a point just before its start
            // is not taken for one a whole turn later.
            let middle = length / radius / 2.0;
            let turns = ((swept - middle) / (2.0 * PI)).round();
            (swept - turns * 2.0 * PI) * radius.to_m()
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn curved() -> Edge {
        Edge::new(&[
            Run::Straight(Length::from_m(2.4)),
            Run::Arc { length: Length::from_m(3.6), radius: Length::from_m(5.2), turn: Hand::Left },
            Run::Straight(Length::from_m(1.5)),
        ])
    }

    #[test]
    fn a_quarter_turn_ends_where_geometry_says() {
        // Exact circle geometry: a left quarter of radius R ends at (R, R) heading along y.
        let radius = Length::from_m(4.0);
        let edge = Edge::new(&[Run::Arc { length: radius * (PI / 2.0), radius, turn: Hand::Left }]);
        let end = edge.at(edge.length());
        assert!((end.point.x - 4.0).abs() < 1e-12 && (end.point.y - 4.0).abs() < 1e-12);
        assert!((end.heading - PI / 2.0).abs() < 1e-12);
    }

    #[test]
    fn beyond_the_ends_the_tangent_goes_on() {
        let edge = curved();
        assert_eq!(edge.at(Length::from_m(-1.0)).point, Point { x: -1.0, y: 0.0 });
        let place = edge.place(Point { x: -1.0, y: 0.3 });
        assert!((place.chainage.to_m() + 1.0).abs() < 1e-12);
        assert!((place.offset.to_m() - 0.3).abs() < 1e-12);
    }

    proptest! {
        #[test]
        fn chainage_and_offset_there_and_back(chainage in -1.0_f64..8.5, offset in -2.0_f64..2.0) {
            let edge = curved();
            let point = edge.point(Length::from_m(chainage), Length::from_m(offset));
            let place = edge.place(point);
            prop_assert!((place.chainage.to_m() - chainage).abs() < 1e-9, "{place:?}");
            prop_assert!((place.offset.to_m() - offset).abs() < 1e-9, "{place:?}");
        }
    }
}
