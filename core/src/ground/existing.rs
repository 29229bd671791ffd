//! The ground before the dig: one level, or spots.

use geo::{
    Area as _, BooleanOps, Contains, LineString, LinesIter, MultiPolygon, Polygon, Triangle,
    TriangulateEarcut,
};
use rstar::{AABB, RTree, RTreeObject};

use super::Spots;
use crate::outline::Point;
use crate::units::{Area, Level};

/// The ground before the dig.
#[derive(Debug, Clone, PartialEq)]
pub enum Existing {
    /// Taken as level.
    Flat(Level),
    /// Spots joined to triangles.
    Spots(Spots),
}

/// A polygon cut so that the ground is a plane in each piece.
#[derive(Debug, Clone, PartialEq)]
pub struct Pieces {
    /// The pieces in which the ground is a plane.
    pub triangles: Vec<Triangle>,
    /// The pieces beyond the spots, where the level of the nearest point on their hull is taken, so
    /// that the ground is no plane there.
    pub beyond: Vec<Triangle>,
}

impl Pieces {
    /// Area beyond the spots.
    pub fn area_beyond(&self) -> Area {
        Area::from_m2(self.beyond.iter().map(Triangle::unsigned_area).sum())
    }
}

impl Existing {
    /// The level at a point; beyond the spots that of their hull's nearest point.
    pub fn level(&self, point: Point) -> Level {
        match self {
            Existing::Flat(level) => *level,
            Existing::Spots(spots) => spots.level(point),
        }
    }

    /// A polygon in pieces, cut along the edges of the ground's triangles.
    pub fn pieces(&self, polygon: &Polygon) -> Pieces {
        match self {
            Existing::Flat(_) => {
                Pieces { triangles: polygon.earcut_triangles(), beyond: Vec::new() }
            }
            Existing::Spots(spots) => cut(polygon, spots),
        }
    }
}

fn cut(polygon: &Polygon, spots: &Spots) -> Pieces {
    let edges = RTree::bulk_load(polygon.lines_iter().map(Edge).collect());
    let mut triangles = Vec::new();
    for triangle in spots.ground() {
        let shape = triangle.to_polygon();
        if edges.locate_in_envelope_intersecting(&Edge::around(&triangle)).next().is_some() {
            triangles.extend(triangulated(&polygon.intersection(&shape)));
        } else if polygon.contains(&triangle.v1()) {
            triangles.push(triangle);
        }
    }
    let hull = Polygon::new(LineString::new(spots.hull()), Vec::new());
    Pieces { triangles, beyond: triangulated(&polygon.difference(&hull)) }
}

fn triangulated(shapes: &MultiPolygon) -> Vec<Triangle> {
    shapes.iter().flat_map(TriangulateEarcut::earcut_triangles).collect()
}

/// An edge of the polygon, to be found by where it lies.
struct Edge(geo::Line);

impl Edge {
    fn around(triangle: &Triangle) -> AABB<[f64; 2]> {
        AABB::from_points(triangle.to_array().map(|p| [p.x, p.y]).iter())
    }
}

impl RTreeObject for Edge {
    type Envelope = AABB<[f64; 2]>;

    fn envelope(&self) -> Self::Envelope {
        AABB::from_corners([self.0.start.x, self.0.start.y], [self.0.end.x, self.0.end.y])
    }
}
