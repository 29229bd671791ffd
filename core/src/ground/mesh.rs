//! A shape divided into small triangles that meet edge to edge, by constrained Delaunay triangulation
//! of its boundary and a grid inside it.

use std::collections::{BTreeMap, BTreeSet};

use geo::line_intersection::{LineIntersection, line_intersection};
use geo::{BooleanOps, BoundingRect, Contains, Line, LinesIter, MultiLineString, Polygon};
use rstar::RTree;
use spade::{ConstrainedDelaunayTriangulation, Point2, Triangulation as _};

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

impl Mesh {
    /// The polygon in triangles of about an area each. Holes are left out. No edge crosses one of
    /// the lines, which are drawn in a little from the polygon's boundary.
    pub fn new(polygon: &Polygon, lines: &[Line], size: Area) -> Self {
        let spacing = (size.to_m2() * 2.0).sqrt();
        let mut points = Points::default();
        for ring in std::iter::once(polygon.exterior()).chain(polygon.interiors()) {
            let parts = ring.lines().flat_map(|side| cut(side, lines));
            parts.for_each(|part| points.along(part, spacing));
        }
        drawn_in(polygon, lines).for_each(|line| points.along(line, spacing));
        points.fill(polygon, spacing);
        let Points { list, edges, .. } = points;
        let spade_points = list.iter().map(|p| Point2::new(p.x, p.y)).collect();
        // Lines of the surface that cross each other are not both followed.
        let joined = ConstrainedDelaunayTriangulation::<Point2<f64>>::try_bulk_load_cdt(
            spade_points,
            edges,
            |_| {},
        );
        let Ok(joined) = joined else { return Mesh::joined(Vec::new(), Vec::new()) };
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

/// Points to be joined, each place once, and the edges that must be there.
#[derive(Default)]
struct Points {
    list: Vec<Point>,
    edges: Vec<[usize; 2]>,
    numbers: BTreeMap<[i64; 2], usize>,
}

impl Points {
    fn number(&mut self, point: Point) -> usize {
        // To a micrometre.
        let key = [point.x, point.y].map(|m| (m * 1e6).round() as i64);
        *self.numbers.entry(key).or_insert_with(|| {
            self.list.push(point);
            self.list.len() - 1
        })
    }

    /// A line in parts no longer than a spacing.
    fn along(&mut self, line: Line, spacing: f64) {
        let parts = (line.delta().x.hypot(line.delta().y) / spacing).ceil().max(1.0);
        let mut from = self.number(line.start);
        for i in 1..=(parts as u32) {
            let to = self.number(line.start + line.delta() * (f64::from(i) / parts));
            if from != to {
                self.edges.push([from, to]);
            }
            from = to;
        }
    }

    /// A grid inside a polygon, not too near to the edges that are there.
    fn fill(&mut self, polygon: &Polygon, spacing: f64) {
        let Some(around) = polygon.bounding_rect() else { return };
        let known = RTree::bulk_load(self.list.iter().map(|p| [p.x, p.y]).collect());
        let steps = |length: f64| (length / spacing) as u32;
        for i in 0..=steps(around.width()) {
            for j in 0..=steps(around.height()) {
                // Every second row is moved by half a step, so that the triangles come out even.
                let shift = if j.is_multiple_of(2) { 0.25 } else { 0.75 };
                let x = around.min().x + (f64::from(i) + shift) * spacing;
                let y = around.min().y + (f64::from(j) + 0.5) * spacing;
                let near = known
                    .nearest_neighbor(&[x, y])
                    .map_or(f64::MAX, |p| (p[0] - x).hypot(p[1] - y));
                if near > spacing * 0.6 && polygon.contains(&Point { x, y }) {
                    self.number(Point { x, y });
                }
            }
        }
    }
}

/// A side of the polygon, cut where lines cross it, so that they have a point to end at.
fn cut(side: Line, lines: &[Line]) -> Vec<Line> {
    let along = |p: Point| {
        let (way, to) = (side.delta(), p - side.start);
        way.x * to.x + way.y * to.y
    };
    let crossing = |line: &Line| match line_intersection(side, *line)? {
        LineIntersection::SinglePoint { intersection, .. } => Some(intersection),
        LineIntersection::Collinear { .. } => None,
    };
    let mut stops: Vec<Point> = lines.iter().filter_map(crossing).collect();
    stops.sort_by(|a, b| along(*a).total_cmp(&along(*b)));
    let ends = stops.iter().copied().chain([side.end]);
    let starts = [side.start].into_iter().chain(stops.iter().copied());
    starts.zip(ends).map(|(from, to)| Line::new(from, to)).collect()
}

/// Lines are drawn in by this at both ends.
const DRAWN_IN_M: f64 = 0.01;

/// The parts of lines inside a polygon, drawn in so that they do not meet its boundary.
fn drawn_in(polygon: &Polygon, lines: &[Line]) -> impl Iterator<Item = Line> {
    let lines = MultiLineString::new(lines.iter().map(|line| (*line).into()).collect());
    let parts: Vec<Line> = polygon.clip(&lines, false).lines_iter().collect();
    parts.into_iter().filter_map(|line| {
        let length = line.dx().hypot(line.dy());
        let unit = line.delta() / length;
        (length > 4.0 * DRAWN_IN_M)
            .then(|| Line::new(line.start + unit * DRAWN_IN_M, line.end - unit * DRAWN_IN_M))
    })
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
