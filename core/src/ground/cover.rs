//! How well places cover a shape: the largest circle with its centre in the shape and no place in it.

use geo::{Contains, CoordsIter, Line, LinesIter, Polygon, line_intersection};
use rstar::RTree;
use spade::{DelaunayTriangulation, Point2, Triangulation as _};

use crate::outline::Point;
use crate::units::Length;

/// The point of a polygon that is farthest from every place, and how far it is from the nearest.
/// None without places.
///
/// The distance to the nearest place is convex over the part of the polygon that is nearest to one
/// place, so it is greatest at a corner of such a part: a corner of the polygon, a point with three
/// nearest places, or a point of the boundary with two.
pub fn farthest(polygon: &Polygon, places: &[Point]) -> Option<(Point, Length)> {
    let found = RTree::bulk_load(places.iter().map(|p| [p.x, p.y]).collect());
    let away = |p: &Point| {
        let nearest = found.nearest_neighbor(&[p.x, p.y])?;
        Some((nearest[0] - p.x).hypot(nearest[1] - p.y))
    };
    let corners = polygon.coords_iter();
    let joined = DelaunayTriangulation::<Point2<f64>>::bulk_load(
        places.iter().map(|p| Point2::new(p.x, p.y)).collect(),
    )
    .ok()?;
    let thirds = joined.inner_faces().map(|face| {
        let centre = face.circumcenter();
        Point { x: centre.x, y: centre.y }
    });
    let inside = thirds.filter(|p| polygon.contains(p));
    let boundary: Vec<Line> = polygon.lines_iter().collect();
    let halves = joined.undirected_edges().map(|edge| {
        let [a, b] = edge.positions();
        bisector(Point { x: a.x, y: a.y }, Point { x: b.x, y: b.y }, &boundary)
    });
    corners
        .chain(inside)
        .chain(halves.flatten())
        .filter_map(|p| Some((p, away(&p)?)))
        .max_by(|(_, a), (_, b)| a.total_cmp(b))
        .map(|(p, away)| (p, Length::from_m(away)))
}

/// Farther than any shape reaches, metres.
const FAR_M: f64 = 4000.0;

/// Where the line of the points as near to one place as to another crosses a boundary.
fn bisector(a: Point, b: Point, boundary: &[Line]) -> Vec<Point> {
    let (middle, way) = ((a + b) / 2.0, b - a);
    let length = way.x.hypot(way.y);
    let out = Point { x: -way.y, y: way.x } * (FAR_M / length);
    let line = Line::new(middle - out, middle + out);
    let crossing = |side: &Line| match line_intersection::line_intersection(line, *side)? {
        line_intersection::LineIntersection::SinglePoint { intersection, .. } => Some(intersection),
        line_intersection::LineIntersection::Collinear { .. } => None,
    };
    boundary.iter().filter_map(crossing).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use geo::polygon;
    use proptest::prelude::*;

    fn shape() -> Polygon {
        polygon!(
            exterior: [
                (x: 0.0, y: 0.0), (x: 6.0, y: 0.0), (x: 6.0, y: 3.0), (x: 3.0, y: 3.0),
                (x: 3.0, y: 5.0), (x: 0.0, y: 5.0),
            ],
            interiors: [[(x: 1.0, y: 1.0), (x: 1.0, y: 2.0), (x: 2.0, y: 2.0), (x: 2.0, y: 1.0)]],
        )
    }

    fn at(x: f64, y: f64) -> Point {
        Point { x, y }
    }

    #[test]
    fn one_place_leaves_the_farthest_corner() {
        // Geometry: from the corner at the origin the farthest corner of the L is (6, 3).
        let (place, away) = farthest(&shape(), &[at(0.0, 0.0)]).unwrap();
        assert_eq!(place, at(6.0, 3.0));
        assert!((away.to_m() - 45_f64.sqrt()).abs() < 1e-12);
        assert_eq!(farthest(&shape(), &[]), None);
    }

    #[test]
    fn places_in_one_line_are_no_trouble() {
        // Geometry: along a strip of 4 by 2 with dips on its middle line at 0, 2 and 4, the
        // farthest point is on an edge half way between two: the square root of 2 away.
        let strip =
            polygon![(x: 0.0, y: -1.0), (x: 4.0, y: -1.0), (x: 4.0, y: 1.0), (x: 0.0, y: 1.0)];
        let (place, away) = farthest(&strip, &[at(0.0, 0.0), at(2.0, 0.0), at(4.0, 0.0)]).unwrap();
        assert!((away.to_m() - 2_f64.sqrt()).abs() < 1e-12, "{place:?}");
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(48))]

        #[test]
        fn no_point_of_a_fine_grid_is_farther(
            places in prop::collection::vec((-0.5_f64..6.5, -0.5_f64..5.5), 1..30),
        ) {
            let shape = shape();
            let places: Vec<Point> = places.into_iter().map(|(x, y)| at(x, y)).collect();
            let (place, most) = farthest(&shape, &places).expect("there are places");
            let away = |p: Point| {
                places.iter().map(|q| (q.x - p.x).hypot(q.y - p.y)).fold(f64::MAX, f64::min)
            };
            prop_assert!((away(place) - most.to_m()).abs() < 1e-9);
            let mut greatest: f64 = 0.0;
            for i in 0..=120 {
                for j in 0..=100 {
                    let p = at(f64::from(i) * 0.05, f64::from(j) * 0.05);
                    if shape.contains(&p) {
                        greatest = greatest.max(away(p));
                    }
                }
            }
            prop_assert!(greatest <= most.to_m() + 1e-9);
            prop_assert!(greatest >= most.to_m() - 0.08, "{} {}", greatest, most.to_m());
        }
    }
}
