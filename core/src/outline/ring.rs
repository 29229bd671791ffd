//! A closed boundary of straights and arcs, with its exact area and perimeter.

use geo::{LineString, Polygon};

use super::edge::{Edge, Point, Run, Station};
use crate::units::{Area, Length};

/// How far the chords of a drawn arc may leave it.
pub const CHORD_TOLERANCE: Length = Length::from_mm(0.5);

/// One side of a boundary, walked from one corner to the next.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Side {
    /// Where it starts and in which direction.
    pub start: Station,
    /// Its length along itself.
    pub length: Length,
    /// Signed curvature in 1/m, positive bending left.
    pub curvature: f64,
    /// Where it ends.
    pub end: Point,
}

impl Side {
    /// A straight side between two points.
    pub fn straight(from: Point, to: Point) -> Self {
        let (dx, dy) = (to.x - from.x, to.y - from.y);
        Side {
            start: Station { point: from, heading: dy.atan2(dx) },
            length: Length::from_m(dx.hypot(dy)),
            curvature: 0.0,
            end: to,
        }
    }

    /// The side along a piece of an edge.
    fn along(start: Station, length: Length, curvature: f64) -> Self {
        let run = if curvature == 0.0 {
            Run::Straight(length)
        } else {
            let turn = if curvature > 0.0 { super::Hand::Left } else { super::Hand::Right };
            Run::Arc { length, radius: Length::from_m(1.0 / curvature.abs()), turn }
        };
        let end = Edge::from_station(start, &[run]).at(length).point;
        Side { start, length, curvature, end }
    }

    /// A half turn from one point to another, on the right of the way between them, so that it
    /// bulges outward from a boundary walked counter-clockwise.
    fn half_turn(from: Point, to: Point) -> Self {
        let (dx, dy) = (to.x - from.x, to.y - from.y);
        let radius = dx.hypot(dy) / 2.0;
        let start = Station { point: from, heading: (-dx).atan2(dy) };
        Side {
            start,
            length: Length::from_m(radius * std::f64::consts::PI),
            curvature: 1.0 / radius,
            end: to,
        }
    }

    /// The radius where the side is an arc.
    pub fn radius(&self) -> Option<Length> {
        (self.curvature != 0.0).then(|| Length::from_m(1.0 / self.curvature.abs()))
    }

    /// The point so far along the side.
    pub fn at(&self, distance: Length) -> Point {
        Side::along(self.start, distance, self.curvature).end
    }

    /// The same side walked the other way.
    fn reversed(&self) -> Self {
        let turned = self.length.to_m() * self.curvature;
        Side {
            start: Station {
                point: self.end,
                heading: self.start.heading + turned + std::f64::consts::PI,
            },
            length: self.length,
            curvature: -self.curvature,
            end: self.start.point,
        }
    }

    /// Points along the side from its start, its end left out, chords within a tolerance.
    fn points(&self, tolerance: Length, into: &mut Vec<Point>) {
        into.push(self.start.point);
        let Some(radius) = self.radius() else { return };
        let widest = 2.0 * (1.0 - (tolerance / radius).min(1.0)).acos();
        let turned = self.length / radius;
        let chords = (turned / widest).ceil().max(1.0);
        for i in 1..(chords as u32) {
            into.push(self.at(self.length * (f64::from(i) / chords)));
        }
    }

    /// Area between the side and its chord, positive where the side bulges to the right of the
    /// chord, which is outward on a boundary walked counter-clockwise.
    ///
    /// The circular segment: R^2 (a - sin a) / 2 with a the angle turned.
    fn segment_area(&self) -> f64 {
        self.radius().map_or(0.0, |radius| {
            let angle = self.length / radius;
            let area = radius.to_m().powi(2) * (angle - angle.sin()) / 2.0;
            area.copysign(self.curvature)
        })
    }
}

/// A closed boundary.
#[derive(Debug, Clone, PartialEq)]
pub struct Ring {
    sides: Vec<Side>,
}

/// How a strip ends.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum End {
    /// Straight across.
    Square,
    /// A half round over the width, beyond the end of the edge.
    Round,
}

impl Ring {
    /// A boundary from its sides, each beginning where the one before ends, turned to run
    /// counter-clockwise.
    pub fn new(sides: Vec<Side>) -> Self {
        let ring = Ring { sides };
        if ring.signed_area() >= 0.0 {
            return ring;
        }
        Ring { sides: ring.sides.iter().rev().map(Side::reversed).collect() }
    }

    /// The boundary between two offsets from an edge (positive left, `low` under `high`), from one
    /// chainage to another; beyond the ends of the edge along its tangents.
    pub fn band(edge: &Edge, chainage: [Length; 2], offset: [Length; 2], ends: [End; 2]) -> Self {
        let [from, to] = chainage;
        let [low, high] = offset;
        let lower = parallel(edge, from, to, low);
        let upper = parallel(edge, from, to, high);
        let mut sides = lower;
        sides.push(cap(edge, to, [low, high], ends[1]));
        sides.extend(upper.iter().rev().map(Side::reversed));
        sides.push(cap(edge, from, [high, low], ends[0]));
        Ring::new(sides)
    }

    /// The sides in counter-clockwise order.
    pub fn sides(&self) -> &[Side] {
        &self.sides
    }

    /// Exact area: the polygon of the corners by the shoelace rule, and the circular segments.
    pub fn area(&self) -> Area {
        Area::from_m2(self.signed_area().abs())
    }

    fn signed_area(&self) -> f64 {
        self.sides
            .iter()
            .map(|s| {
                let (a, b) = (s.start.point, s.end);
                (a.x * b.y - b.x * a.y) / 2.0 + s.segment_area()
            })
            .sum()
    }

    /// Exact length around.
    pub fn perimeter(&self) -> Length {
        self.sides.iter().map(|s| s.length).sum()
    }

    /// The boundary as a polygon whose chords keep within a tolerance of its arcs. For drawing,
    /// clipping and triangulating only.
    pub fn polygon(&self, tolerance: Length) -> Polygon {
        let mut points = Vec::new();
        for side in &self.sides {
            side.points(tolerance, &mut points);
        }
        Polygon::new(LineString::new(points), Vec::new())
    }
}

/// The line parallel to an edge at an offset, from one chainage to another.
fn parallel(edge: &Edge, from: Length, to: Length, offset: Length) -> Vec<Side> {
    let mut sides = Vec::new();
    let mut push = |start: Length, length: Length, curvature: f64| {
        if length > Length::ZERO {
            let station = edge.at(start);
            // At offset o from a curve the length scales by 1 - o k and the curvature by its inverse.
            let scale = 1.0 - offset.to_m() * curvature;
            let start = Station { point: station.offset(offset), heading: station.heading };
            sides.push(Side::along(start, length * scale, curvature / scale));
        }
    };
    push(from, (-from).max(Length::ZERO), 0.0);
    let mut at = Length::ZERO;
    for (_, run) in edge.runs() {
        push(at, run.length(), run.curvature());
        at += run.length();
    }
    push(edge.length(), (to - edge.length()).max(Length::ZERO), 0.0);
    sides
}

fn cap(edge: &Edge, chainage: Length, offsets: [Length; 2], end: End) -> Side {
    let [a, b] = offsets.map(|o| edge.point(chainage, o));
    match end {
        End::Square => Side::straight(a, b),
        End::Round => Side::half_turn(a, b),
    }
}

#[cfg(test)]
mod tests {
    use std::f64::consts::PI;

    use super::super::edge::Hand;
    use super::*;
    use geo::Area as _;
    use proptest::prelude::*;

    fn band(runs: &[Run], low: f64, high: f64, ends: [End; 2]) -> Ring {
        let edge = Edge::new(runs);
        let offsets = [Length::from_m(low), Length::from_m(high)];
        Ring::band(&edge, [Length::ZERO, edge.length()], offsets, ends)
    }

    fn arc(length: f64, radius: f64, turn: Hand) -> Run {
        Run::Arc { length: Length::from_m(length), radius: Length::from_m(radius), turn }
    }

    #[test]
    fn a_round_ended_strip_is_a_rectangle_and_a_circle() {
        let ring = band(&[Run::Straight(Length::from_m(5.0))], 0.0, 1.2, [End::Round; 2]);
        let circle = PI * 0.36;
        assert!((ring.area().to_m2() - (6.0 + circle)).abs() < 1e-12);
        assert!((ring.perimeter().to_m() - (10.0 + PI * 1.2)).abs() < 1e-12);
    }

    #[test]
    fn printed_segment_of_a_circle() {
        // National mathematics textbook, worked example A5: r 12, 120 degrees, printed 88.44
        // with pi taken as 3.14 and the root as 1.73; exact geometry gives 88.443.
        let angle = 120_f64.to_radians();
        let start = Station { point: Point { x: 0.0, y: 0.0 }, heading: 0.0 };
        let side = Side::along(start, Length::from_m(12.0 * angle), 1.0 / 12.0);
        let ring = Ring::new(vec![side, Side::straight(side.end, start.point)]);
        assert!((ring.area().to_m2() - 88.44).abs() < 0.005, "{:?}", ring.area());
    }

    proptest! {
        #[test]
        fn a_strip_on_an_arc_has_its_closed_form(
            length in 0.5_f64..6.0, radius in 2.0_f64..20.0, width in 0.3_f64..1.9, left: bool,
        ) {
            // Area w s (1 -/+ w / 2R), outer length s (1 -/+ w / R): sums of plane geometry.
            let turn = if left { Hand::Left } else { Hand::Right };
            let ring = band(&[arc(length, radius, turn)], 0.0, width, [End::Square; 2]);
            let sign = turn.sign();
            let area = width * length * (1.0 - sign * width / (2.0 * radius));
            let around = length + length * (1.0 - sign * width / radius) + 2.0 * width;
            prop_assert!((ring.area().to_m2() - area).abs() < 1e-9);
            prop_assert!((ring.perimeter().to_m() - around).abs() < 1e-9);
        }

        #[test]
        fn left_and_right_strips_make_the_double_strip(
            length in 0.5_f64..6.0, radius in 2.0_f64..20.0, width in 0.3_f64..1.9,
        ) {
            let runs = [arc(length, radius, Hand::Left), Run::Straight(Length::from_m(1.0))];
            let square = [End::Square; 2];
            let both = band(&runs, -width, width, square).area();
            let parts = band(&runs, -width, 0.0, square).area() + band(&runs, 0.0, width, square).area();
            prop_assert!((both - parts).abs().to_m2() < 1e-9);
        }

        #[test]
        fn the_polygon_keeps_to_the_arc(radius in 0.5_f64..50.0, length in 0.5_f64..3.0) {
            let ring = band(&[arc(length, radius, Hand::Right)], 0.0, 0.4, [End::Round; 2]);
            let polygon = ring.polygon(CHORD_TOLERANCE);
            // Each chord loses at most its length times two thirds of the tolerance.
            let most = ring.perimeter().to_m() * CHORD_TOLERANCE.to_m();
            prop_assert!((polygon.unsigned_area() - ring.area().to_m2()).abs() < most);
        }
    }
}
