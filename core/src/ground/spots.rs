//! Spot heights at any places, joined by Delaunay's triangulation.

use std::sync::OnceLock;

use geo::Triangle;
use rstar::{AABB, RTree, RTreeObject};
use spade::{DelaunayTriangulation, HasPosition, Point2, Triangulation as _};

use super::prism;
use crate::outline::Point;
use crate::plan::Problem;
use crate::tables::{Writing, problem, read};
use crate::units::{Area, Level, Volume};

/// A level at a place.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Spot {
    /// Along x, metres.
    pub x: f64,
    /// Along y, metres.
    pub y: f64,
    /// The level there.
    pub level: Level,
}

impl HasPosition for Spot {
    type Scalar = f64;

    fn position(&self) -> Point2<f64> {
        Point2::new(self.x, self.y)
    }
}

/// Spots that span a surface: at least three, not in one line, none with two levels.
#[derive(Debug, Clone)]
pub struct Spots {
    triangulation: DelaunayTriangulation<Spot>,
    /// Its triangles by where they lie, from the first time that a level is asked for.
    faces: OnceLock<RTree<Face>>,
    /// How the table was written, where they came from one.
    pub writing: Option<Writing>,
}

/// Volumes between the ground and a level, over the hull of the spots.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SpotVolume {
    /// Ground above the level.
    pub cut: Volume,
    /// Hollow below it.
    pub fill: Volume,
    /// Area of the hull on plan.
    pub area: Area,
}

/// Places and levels beyond this are taken for a slip of the unit.
const FARTHEST_M: f64 = 100_000.0;
/// Two spots closer than this are one place.
const SAME_PLACE_M: f64 = 1e-6;
/// A site has no more spots than this.
const MOST_SPOTS: usize = 500_000;

impl Spots {
    /// Reads spots from a table with the header `x_m,y_m,level_m`.
    ///
    /// # Errors
    /// Every problem, each with its line.
    pub fn parse(text: &str) -> Result<Spots, Vec<Problem>> {
        let table = read(text).map_err(|p| vec![p])?;
        let rows = table.under(&["x_m", "y_m", "level_m"]).map_err(|p| vec![p])?;
        let mut problems = Vec::new();
        let mut spots = Vec::new();
        for (line, cells) in rows {
            let numbers: Vec<Option<f64>> = cells
                .iter()
                .map(|cell| table.number(cell).filter(|n| n.abs() <= FARTHEST_M))
                .collect();
            match numbers[..] {
                [Some(x), Some(y), Some(level)] => {
                    spots.push((*line, Spot { x, y, level: Level::from_m(level) }));
                }
                _ => problems.push(problem(
                    *line,
                    "this row is not a spot",
                    "three numbers of metres, each at most 100 000: x_m, y_m, level_m",
                )),
            }
        }
        if !problems.is_empty() {
            return Err(problems);
        }
        let mut spots = Spots::with_places(&spots)?;
        spots.writing = Some(table.writing);
        Ok(spots)
    }

    /// A surface through spots.
    ///
    /// # Errors
    /// Every reason why they span none.
    pub fn new(spots: &[Spot]) -> Result<Spots, Vec<Problem>> {
        let placed: Vec<(u64, Spot)> = (1..).zip(spots.iter().copied()).collect();
        Spots::with_places(&placed)
    }

    fn with_places(spots: &[(u64, Spot)]) -> Result<Spots, Vec<Problem>> {
        let mut problems = Vec::new();
        if spots.len() > MOST_SPOTS {
            return Err(vec![problem(0, "there are too many spots", "at most 500 000 spots")]);
        }
        let mut sorted = spots.to_vec();
        sorted.sort_by(|(_, a), (_, b)| a.x.total_cmp(&b.x).then(a.y.total_cmp(&b.y)));
        let mut kept: Vec<Spot> = Vec::with_capacity(sorted.len());
        for (line, spot) in sorted {
            let twin = kept.last().filter(|last| {
                (last.x - spot.x).abs() < SAME_PLACE_M && (last.y - spot.y).abs() < SAME_PLACE_M
            });
            match twin {
                None => kept.push(spot),
                // Written twice with one level: once is enough.
                Some(last) if last.level == spot.level => {}
                Some(_) => problems.push(problem(
                    line,
                    format!("there are two levels at {}, {}", spot.x, spot.y),
                    "one level a place",
                )),
            }
        }
        if !problems.is_empty() {
            return Err(problems);
        }
        let flat =
            |why: &str| vec![problem(0, why, "at least three spots that are not in one line")];
        let triangulation = DelaunayTriangulation::bulk_load(kept)
            .map_err(|error| flat(&format!("the spots cannot be joined: {error}")))?;
        if triangulation.num_inner_faces() == 0 {
            return Err(flat("the spots span no area"));
        }
        Ok(Spots { triangulation, faces: OnceLock::new(), writing: None })
    }

    /// Volumes between the ground and a level: in each triangle the ground is a plane, split along
    /// the line where it crosses the level, so that cut and fill are exact for the triangulation.
    pub fn volume(&self, formation: Level) -> SpotVolume {
        let (mut cut, mut fill, mut area) = (0.0, 0.0, 0.0);
        for face in self.triangulation.inner_faces() {
            let size = face.area();
            let depths = face.vertices().map(|corner| corner.data().level.above(formation).to_m());
            let [up, down] = prism(depths);
            cut += up * size;
            fill += down * size;
            area += size;
        }
        SpotVolume {
            cut: Volume::from_m3(cut),
            fill: Volume::from_m3(fill),
            area: Area::from_m2(area),
        }
    }

    /// The level at a point: on the plane of its triangle; beyond the spots that of the nearest
    /// point on their hull.
    pub fn level(&self, point: Point) -> Level {
        let faces = self.faces.get_or_init(|| RTree::bulk_load(self.faces().collect()));
        let within = faces
            .locate_in_envelope_intersecting(&AABB::from_point([point.x, point.y]))
            .map(|face| face.level(point))
            .max_by(|(inside, _), (other, _)| inside.total_cmp(other));
        match within {
            Some((inside, level)) if inside >= -1e-9 => level,
            _ => self.level_of_hull(point),
        }
    }

    fn level_of_hull(&self, point: Point) -> Level {
        let place = Point2::new(point.x, point.y);
        let along = self.triangulation.convex_hull().map(|edge| {
            let [from, to] = edge.vertices().map(|vertex| *vertex.data());
            let share = edge.project_point(place).relative_position().clamp(0.0, 1.0);
            let (x, y) = (from.x + (to.x - from.x) * share, from.y + (to.y - from.y) * share);
            let away = (x - place.x).hypot(y - place.y);
            (away, from.level + to.level.above(from.level) * share)
        });
        along.min_by(|a, b| a.0.total_cmp(&b.0)).map_or(Level::ZERO, |(_, level)| level)
    }

    fn faces(&self) -> impl Iterator<Item = Face> {
        self.triangulation.inner_faces().map(|face| Face(face.vertices().map(|v| *v.data())))
    }

    /// The ground's triangles on plan.
    pub(crate) fn ground(&self) -> impl Iterator<Item = Triangle> {
        self.triangulation.inner_faces().map(|face| {
            let [a, b, c] = face.positions().map(|p| Point { x: p.x, y: p.y });
            Triangle::new(a, b, c)
        })
    }

    /// The corners of the spots' hull, in order.
    pub(crate) fn hull(&self) -> Vec<Point> {
        let corners = self.triangulation.convex_hull().map(|edge| edge.from().position());
        corners.map(|p| Point { x: p.x, y: p.y }).collect()
    }

    /// How many triangles join the spots.
    pub fn triangles(&self) -> usize {
        self.triangulation.num_inner_faces()
    }
}

impl PartialEq for Spots {
    fn eq(&self, other: &Self) -> bool {
        let spots = |s: &Spots| s.triangulation.vertices().map(|v| *v.data()).collect::<Vec<_>>();
        spots(self) == spots(other)
    }
}

/// A triangle between three spots.
#[derive(Debug, Clone)]
struct Face([Spot; 3]);

impl Face {
    /// The level of its plane at a point, and the least of the point's weights: below 0 outside it.
    fn level(&self, point: Point) -> (f64, Level) {
        let [a, b, c] = self.0;
        let cross = |p: [f64; 2], q: [f64; 2], r: [f64; 2]| {
            (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0])
        };
        let ([pa, pb, pc], p) = ([a, b, c].map(|s| [s.x, s.y]), [point.x, point.y]);
        let whole = cross(pa, pb, pc);
        let weights = [cross(p, pb, pc), cross(pa, p, pc), cross(pa, pb, p)].map(|w| w / whole);
        let [_, of_b, of_c] = weights;
        let level = a.level + b.level.above(a.level) * of_b + c.level.above(a.level) * of_c;
        (weights.into_iter().fold(f64::MAX, f64::min), level)
    }
}

impl RTreeObject for Face {
    type Envelope = AABB<[f64; 2]>;

    fn envelope(&self) -> Self::Envelope {
        AABB::from_points(self.0.map(|spot| [spot.x, spot.y]).iter())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn table(rows: &str) -> Result<Spots, Vec<Problem>> {
        Spots::parse(&format!("x_m,y_m,level_m\n{rows}"))
    }

    #[test]
    fn a_wedge_by_hand() {
        // Hand arithmetic: a square of 10 m rising from 0 to 2 across it, over a level of 1: two
        // wedges of 10 x 5 x 1 / 2 = 25 m3 each.
        let spots = table("0,0,0\n10,0,2\n0,10,0\n10,10,2\n").unwrap();
        let v = spots.volume(Level::from_m(1.0));
        assert!((v.cut.to_m3() - 25.0).abs() < 1e-9 && (v.fill.to_m3() - 25.0).abs() < 1e-9);
        assert!((v.area.to_m2() - 100.0).abs() < 1e-9);
    }

    #[test]
    fn what_spans_no_surface_is_refused() {
        for rows in [
            "",
            "0,0,1\n1,1,1\n",
            "0,0,1\n1,1,1\n2,2,1\n",
            "0,0,1\n0,0,2\n1,0,1\n0,1,1\n",
            "0,0,nan\n1,0,1\n0,1,1\n",
            "0,0,inf\n1,0,1\n0,1,1\n",
            "0,0,1\n1e9,0,1\n0,1,1\n",
            "0,0\n1,0,1\n0,1,1\n",
        ] {
            assert!(table(rows).is_err(), "{rows}");
        }
        let twice = table("0,0,1\n0,0,1\n1,0,1\n0,1,1\n").unwrap();
        assert_eq!(twice.triangles(), 1);
    }

    #[test]
    fn semicolons_and_decimal_commas_are_read() {
        let spots = Spots::parse("x_m;y_m;level_m\n0;0;0,5\n2,5;0;0,5\n0;2;0,5\n").unwrap();
        assert_eq!(spots.writing, Some(Writing::Semicolons));
        assert!((spots.volume(Level::ZERO).cut.to_m3() - 1.25).abs() < 1e-9);
    }

    proptest! {
        #[test]
        fn volume_is_conserved_when_the_level_moves(
            spots in prop::collection::vec((0.0_f64..20.0, 0.0_f64..20.0, -1.0_f64..1.0), 4..40),
            formation in -2.0_f64..2.0,
            raise in 0.0_f64..1.0,
        ) {
            let spots: Vec<Spot> = spots
                .into_iter()
                .map(|(x, y, z)| Spot { x, y, level: Level::from_m(z) })
                .collect();
            if let Ok(spots) = Spots::new(&spots) {
                let low = spots.volume(Level::from_m(formation));
                let high = spots.volume(Level::from_m(formation + raise));
                let net = |v: SpotVolume| (v.cut - v.fill).to_m3();
                let slab = low.area.to_m2() * raise;
                prop_assert!((net(low) - net(high) - slab).abs() < 1e-6);
            }
        }
    }
}
