//! A closed boundary of straights and arcs, with its exact area and perimeter.

use geo::line_intersection::LineIntersection;
use geo::sweep::Intersections;
use geo::{Line, LineString, Polygon};

use super::edge::Point;
use super::side::Side;
use crate::units::{Area, Length};

/// How far the chords of a drawn arc may leave it.
pub const CHORD_TOLERANCE: Length = Length::from_mm(0.5);

/// A closed boundary.
#[derive(Debug, Clone, PartialEq)]
pub struct Ring {
    sides: Vec<Side>,
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

    /// A boundary from sides that run counter-clockwise already.
    pub(super) const fn in_order(sides: Vec<Side>) -> Self {
        Ring { sides }
    }

    /// A polygon's outline.
    pub fn polygonal(corners: &[Point]) -> Self {
        let next = corners.iter().cycle().skip(1);
        Ring::new(corners.iter().zip(next).map(|(a, b)| Side::straight(*a, *b)).collect())
    }

    /// A circle.
    pub fn circle(centre: Point, radius: Length) -> Self {
        Ring { sides: Side::circle(centre, radius).to_vec() }
    }

    /// The sides in counter-clockwise order.
    pub fn sides(&self) -> &[Side] {
        &self.sides
    }

    /// Exact area: the polygon of the corners by the shoelace rule, and the circular segments.
    pub fn area(&self) -> Area {
        Area::from_m2(self.signed_area().abs())
    }

    /// Positive where the sides run counter-clockwise.
    pub(super) fn signed_area(&self) -> f64 {
        let Some(from) = self.sides.first().map(|side| side.start.point) else { return 0.0 };
        // From a corner of its own, so that a shape far from the origin loses no digits.
        self.sides
            .iter()
            .map(|s| {
                let (a, b) = (s.start.point - from, s.end - from);
                (a.x * b.y - b.x * a.y) / 2.0 + s.segment_area()
            })
            .sum()
    }

    /// A point where the boundary crosses itself.
    pub(super) fn crossing(&self) -> Option<Point> {
        let polygon = self.polygon(CHORD_TOLERANCE);
        let lines: Vec<Line> = polygon.exterior().lines().collect();
        Intersections::from_iter(lines).find_map(|(_, _, crossing)| match crossing {
            LineIntersection::SinglePoint { intersection, is_proper: true } => Some(intersection),
            LineIntersection::SinglePoint { .. } | LineIntersection::Collinear { .. } => None,
        })
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

#[cfg(test)]
mod tests {
    use super::super::edge::Station;
    use super::*;

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

    #[test]
    fn a_boundary_knows_where_it_crosses_itself() {
        let corner = |x, y| Point { x, y };
        let bow = [corner(0.0, 0.0), corner(2.0, 2.0), corner(2.0, 0.0), corner(0.0, 2.0)];
        let place = Ring::polygonal(&bow).crossing().expect("it crosses");
        assert!((place.x - 1.0).abs() < 1e-9 && (place.y - 1.0).abs() < 1e-9, "{place:?}");
    }
}
