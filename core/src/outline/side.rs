//! One side of a boundary: a straight or an arc between two corners.

use std::f64::consts::PI;

use super::edge::{Edge, Hand, Point, Run, Station, distance, foot_on};
use crate::units::Length;

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
    pub(super) fn along(start: Station, length: Length, curvature: f64) -> Self {
        let side = Side { start, length, curvature, end: start.point };
        Side { end: side.at(length), ..side }
    }

    /// A half turn from one point to another, on the right of the way between them, so that it
    /// bulges outward from a boundary walked counter-clockwise.
    pub(super) fn half_turn(from: Point, to: Point) -> Self {
        let (dx, dy) = (to.x - from.x, to.y - from.y);
        let radius = dx.hypot(dy) / 2.0;
        let start = Station { point: from, heading: (-dx).atan2(dy) };
        Side { start, length: Length::from_m(radius * PI), curvature: 1.0 / radius, end: to }
    }

    /// A straight of a metre in a direction.
    pub(super) fn towards(from: Point, heading: f64) -> Self {
        let start = Station { point: from, heading };
        Side::along(start, Length::from_m(1.0), 0.0)
    }

    /// The shorter arc between two points; none where the chord is longer than the circle is wide,
    /// or where either is nothing.
    pub fn arc(from: Point, to: Point, radius: Length, turn: Hand) -> Option<Self> {
        let chord = distance(from, to);
        if chord <= Length::ZERO || chord > radius * 2.0 {
            return None;
        }
        let half = (chord / (radius * 2.0)).min(1.0).asin();
        let heading = (to.y - from.y).atan2(to.x - from.x) - turn.sign() * half;
        Some(Side {
            start: Station { point: from, heading },
            length: radius * (2.0 * half),
            curvature: turn.sign() / radius.to_m(),
            end: to,
        })
    }

    /// A circle as two half turns, walked counter-clockwise.
    pub(super) fn circle(centre: Point, radius: Length) -> [Side; 2] {
        let r = radius.to_m();
        let (east, west) =
            (Point { x: centre.x + r, y: centre.y }, Point { x: centre.x - r, y: centre.y });
        [Side::half_turn(east, west), Side::half_turn(west, east)]
    }

    /// The side as a piece of an edge.
    pub fn run(&self) -> Run {
        let turn = if self.curvature > 0.0 { Hand::Left } else { Hand::Right };
        self.radius().map_or(Run::Straight(self.length), |radius| Run::Arc {
            length: self.length,
            radius,
            turn,
        })
    }

    /// The centre of the circle it lies on, where it is an arc.
    pub fn centre(&self) -> Option<Point> {
        (self.curvature != 0.0).then(|| self.start.offset(Length::from_m(1.0 / self.curvature)))
    }

    /// The direction of walking at its end.
    pub fn end_heading(&self) -> f64 {
        self.start.heading + self.length.to_m() * self.curvature
    }

    /// The side parallel to it, so far to its right, between the same radii. On an arc that bends
    /// right the distance is less than the radius.
    pub(super) fn beside(&self, right: Length) -> Self {
        let scale = 1.0 + right.to_m() * self.curvature;
        let end = Station { point: self.end, heading: self.end_heading() };
        Side {
            start: Station { point: self.start.offset(-right), heading: self.start.heading },
            length: self.length * scale,
            curvature: self.curvature / scale,
            end: end.offset(-right),
        }
    }

    /// The piece of the line or circle that the side lies on, between two points of it. Of an
    /// arc's two sweeps the one nearer to the side's own is taken.
    pub(super) fn between(&self, from: Point, to: Point) -> Self {
        let Some(centre) = self.centre() else { return Side::straight(from, to) };
        let radius = 1.0 / self.curvature.abs();
        let angle = |p: Point| (p.y - centre.y).atan2(p.x - centre.x);
        let sign = self.curvature.signum();
        let (own, raw) = (self.length.to_m() / radius, (angle(to) - angle(from)) * sign);
        let swept = raw + ((own - raw) / (2.0 * PI)).round() * 2.0 * PI;
        let heading = angle(from) + sign * PI / 2.0;
        Side {
            start: Station { point: from, heading },
            length: Length::from_m(swept * radius),
            curvature: self.curvature,
            end: to,
        }
    }

    /// The radius where the side is an arc.
    pub fn radius(&self) -> Option<Length> {
        (self.curvature != 0.0).then(|| Length::from_m(1.0 / self.curvature.abs()))
    }

    /// The point so far along the side.
    pub fn at(&self, distance: Length) -> Point {
        self.station(distance).point
    }

    /// The place so far along the side, with the direction of walking there.
    pub fn station(&self, distance: Length) -> Station {
        Edge::from_station(self.start, &[self.run()]).at(distance)
    }

    /// How far a point is from the side.
    pub fn distance_to(&self, point: Point) -> Length {
        let foot = foot_on(self.start, &self.run(), point).clamp(0.0, self.length.to_m());
        distance(point, self.at(Length::from_m(foot)))
    }

    /// The same side walked the other way.
    pub fn reversed(&self) -> Self {
        let turned = self.length.to_m() * self.curvature;
        Side {
            start: Station { point: self.end, heading: self.start.heading + turned + PI },
            length: self.length,
            curvature: -self.curvature,
            end: self.start.point,
        }
    }

    /// Points along the side from its start, its end left out, chords within a tolerance.
    pub(super) fn points(&self, tolerance: Length, into: &mut Vec<Point>) {
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
    pub(super) fn segment_area(&self) -> f64 {
        self.radius().map_or(0.0, |radius| {
            let angle = self.length / radius;
            let area = radius.to_m().powi(2) * (angle - angle.sin()) / 2.0;
            area.copysign(self.curvature)
        })
    }
}
