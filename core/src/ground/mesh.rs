//! A shape divided into small triangles that meet edge to edge, by constrained Delaunay refinement.

use std::collections::{BTreeMap, BTreeSet};

use geo::{BooleanOps, Contains, Line, LinesIter, MultiLineString, Polygon};
use spade::{
    AngleLimit, ConstrainedDelaunayTriangulation, Point2, RefinementParameters, Triangulation as _,
};

use crate::outline::Point;
use crate::units::Area;

/// Triangles over a polygon.
#[derive(Debug, Clone)]
pub struct Mesh {
    places: Vec<Point>,
    triangles: Vec<[usize; 3]>,
    neighbours: Vec<Vec<usize>>,
    rim: BTreeSet<usize>,
}

/// No triangle has a smaller angle, where the polygon's own corners allow it.
const LEAST_ANGLE_DEG: f64 = 20.0;
/// More points than this are not added.
const MOST_POINTS: usize = 20_000;

impl Mesh {
    /// The polygon in triangles of at most an area each. Holes are left out. No edge crosses one of
    /// the lines, which are drawn in a little from the polygon's boundary.
    pub fn new(polygon: &Polygon, lines: &[Line], largest: Area) -> Self {
        let mut joined = ConstrainedDelaunayTriangulation::<Point2<f64>>::new();
        for ring in std::iter::once(polygon.exterior()).chain(polygon.interiors()) {
            let corners = ring.coords().skip(1).map(|c| Point2::new(c.x, c.y));
            // A ring that meets itself or another was refused as an outline; what of it still
            // cannot be joined is left out.
            let handles: Vec<_> = corners.filter_map(|corner| joined.insert(corner).ok()).collect();
            for (from, to) in handles.iter().zip(handles.iter().cycle().skip(1)) {
                if from != to && joined.can_add_constraint(*from, *to) {
                    joined.add_constraint(*from, *to);
                }
            }
        }
        for [from, to] in drawn_in(polygon, lines) {
            let ends = [from, to].map(|p| joined.insert(Point2::new(p.x, p.y)));
            if let [Ok(from), Ok(to)] = ends
                && from != to
                && joined.can_add_constraint(from, to)
            {
                joined.add_constraint(from, to);
            }
        }
        let parameters = RefinementParameters::new()
            .with_angle_limit(AngleLimit::from_deg(LEAST_ANGLE_DEG))
            .with_max_allowed_area(largest.to_m2())
            .with_max_additional_vertices(MOST_POINTS);
        joined.refine(parameters);
        let mut places = Vec::new();
        let mut numbers = BTreeMap::new();
        // Only the corners of triangles inside the polygon are kept.
        let triangles = joined
            .inner_faces()
            .filter(|face| {
                let centre = face.center();
                polygon.contains(&Point { x: centre.x, y: centre.y })
            })
            .map(|face| {
                face.vertices().map(|vertex| {
                    *numbers.entry(vertex.fix().index()).or_insert_with(|| {
                        let place = vertex.position();
                        places.push(Point { x: place.x, y: place.y });
                        places.len() - 1
                    })
                })
            })
            .collect();
        Mesh::joined(places, triangles)
    }

    /// Which points are neighbours, and which lie on the rim: those of an edge with one triangle.
    fn joined(places: Vec<Point>, triangles: Vec<[usize; 3]>) -> Self {
        let mut edges: BTreeMap<[usize; 2], u32> = BTreeMap::new();
        for &[a, b, c] in &triangles {
            for (from, to) in [(a, b), (b, c), (c, a)] {
                *edges.entry([from.min(to), from.max(to)]).or_default() += 1;
            }
        }
        let mut neighbours = vec![Vec::new(); places.len()];
        let mut rim = BTreeSet::new();
        for (&[from, to], triangles) in &edges {
            for (one, other) in [(from, to), (to, from)] {
                if let Some(list) = neighbours.get_mut(one) {
                    list.push(other);
                }
            }
            if *triangles == 1 {
                rim.extend([from, to]);
            }
        }
        Mesh { places, triangles, neighbours, rim }
    }

    /// Its points.
    pub fn places(&self) -> &[Point] {
        &self.places
    }

    /// For each point, the points that an edge joins it to.
    pub fn neighbours(&self) -> &[Vec<usize>] {
        &self.neighbours
    }

    /// The points on the boundary and around the holes.
    pub fn rim(&self) -> impl Iterator<Item = usize> {
        self.rim.iter().copied()
    }

    /// The middle of each triangle.
    pub fn centres(&self) -> impl Iterator<Item = Point> {
        self.triangles.iter().filter_map(|[a, b, c]| {
            let [a, b, c] = [self.places.get(*a)?, self.places.get(*b)?, self.places.get(*c)?];
            Some((*a + *b + *c) / 3.0)
        })
    }
}

/// Lines are drawn in by this at both ends.
const DRAWN_IN_M: f64 = 0.01;

/// The parts of lines inside a polygon, drawn in so that they do not meet its boundary.
fn drawn_in(polygon: &Polygon, lines: &[Line]) -> Vec<[Point; 2]> {
    let lines = MultiLineString::new(lines.iter().map(|line| (*line).into()).collect());
    let parts = polygon.clip(&lines, false);
    let ends = parts.lines_iter().filter_map(|line| {
        let length = line.dx().hypot(line.dy());
        let unit = line.delta() / length;
        (length > 4.0 * DRAWN_IN_M)
            .then(|| [line.start + unit * DRAWN_IN_M, line.end - unit * DRAWN_IN_M])
    });
    ends.collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use geo::{Area as _, Triangle, polygon};

    #[test]
    fn triangles_cover_the_shape_and_leave_its_holes() {
        let shape = polygon!(
            exterior: [
                (x: 0.0, y: 0.0), (x: 5.0, y: 0.0), (x: 5.0, y: 2.0), (x: 2.0, y: 2.0),
                (x: 2.0, y: 4.0), (x: 0.0, y: 4.0),
            ],
            interiors: [[(x: 1.0, y: 1.0), (x: 1.5, y: 1.0), (x: 1.5, y: 1.5), (x: 1.0, y: 1.5)]],
        );
        let mesh = Mesh::new(&shape, &[], Area::from_m2(0.05));
        let area: f64 = mesh
            .triangles
            .iter()
            .map(|&[a, b, c]| {
                Triangle::new(mesh.places[a], mesh.places[b], mesh.places[c]).unsigned_area()
            })
            .sum();
        assert!((area - (14.0 - 0.25)).abs() < 1e-9, "{area}");
        assert!(mesh.triangles.len() > 275);
        assert!(mesh.neighbours.iter().all(|around| around.len() >= 2));
        assert!(mesh.rim.len() < mesh.places.len());
    }
}
