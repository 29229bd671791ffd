//! The bond's own axes: along its courses, and across them away from where they are numbered.

use geo::orient::{Direction, Orient as _};
use geo::{MapCoords as _, MultiPolygon, Polygon};

use crate::outline::Point;

/// Axes with an origin. The second may be turned either way, so the axes may be mirrored.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Frame {
    origin: Point,
    along: Point,
    across: Point,
}

impl Frame {
    /// Axes from a direction in radians; the second to its left, or to its right.
    pub fn new(origin: Point, heading: f64, left: bool) -> Self {
        let (sin, cos) = heading.sin_cos();
        let across = if left { Point { x: -sin, y: cos } } else { Point { x: sin, y: -cos } };
        Frame { origin, along: Point { x: cos, y: sin }, across }
    }

    /// Whether the axes are mirrored.
    pub const fn is_mirrored(&self) -> bool {
        self.along.x * self.across.y - self.along.y * self.across.x < 0.0
    }

    /// A point of the job's frame in these axes.
    pub fn inward(&self, point: Point) -> Point {
        let d = point - self.origin;
        Point {
            x: d.x * self.along.x + d.y * self.along.y,
            y: d.x * self.across.x + d.y * self.across.y,
        }
    }

    /// A point of these axes in the job's frame.
    pub fn outward(&self, point: Point) -> Point {
        self.origin + self.along * point.x + self.across * point.y
    }

    /// The direction of a way in these axes, in radians from the job's x.
    pub fn heading(&self, way: Point) -> f64 {
        let way = self.outward(way) - self.origin;
        way.y.atan2(way.x)
    }

    /// A polygon of these axes in the job's frame, walked the same way round.
    pub fn polygon(&self, polygon: &Polygon) -> Polygon {
        let turned = polygon.map_coords(|point| self.outward(point));
        if self.is_mirrored() { turned.orient(Direction::Default) } else { turned }
    }

    /// A shape of the job's frame in these axes.
    pub fn shape(&self, shape: &MultiPolygon) -> MultiPolygon {
        shape.map_coords(|point| self.inward(point))
    }
}
