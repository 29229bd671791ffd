//! Where water goes: the slackest and the steepest fall of the finished surface, water that stands,
//! and how it lies against buildings.

use std::collections::BinaryHeap;

use super::Surface;
use crate::ground::Mesh;
use crate::outline::{Outline, Point, SideName};
use crate::units::{Length, Level};

/// A building that the paving meets along sides of one name.
#[derive(Debug, Clone, PartialEq)]
pub struct Wall {
    /// Which side.
    pub side: SideName,
    /// Level of its damp course.
    pub damp_course: Option<Level>,
    /// Level of its threshold.
    pub threshold: Option<Level>,
}

/// A slope of the surface with a place where it is found.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Slope {
    /// Drop over run, without sign.
    pub fall: f64,
    /// Where.
    pub place: Point,
}

/// Water that has no way off the paving.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pond {
    /// How deep it stands before it runs over.
    pub depth: Length,
    /// Where it is deepest.
    pub place: Point,
}

/// The falls of a surface over an outline.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Falls {
    /// The slackest fall.
    pub least: Slope,
    /// The steepest fall.
    pub steepest: Slope,
    /// The deepest standing water; none where all of it runs off.
    pub pond: Option<Pond>,
}

/// The surface is looked at in about so many triangles.
const TRIANGLES: f64 = 800.0;
/// Water shallower than this is not said to stand (our default).
const SHALLOWEST: Length = Length::from_mm(1.0);
/// A boundary point this near to a side lies on it: more than the chords of the mesh leave it.
const ON_SIDE: Length = Length::from_mm(8.0);
/// Slopes are taken over this distance.
const STEP_M: f64 = 0.002;

/// The falls of a surface. Water runs off over every side that is no wall, and into holes that
/// drain. None for an outline too small to be divided.
pub fn falls(outline: &Outline, surface: &Surface, walls: &[Wall]) -> Option<Falls> {
    let lines = surface.bends(outline);
    let mesh = Mesh::new(&outline.polygon(ON_SIDE / 2.0), &lines, outline.area() / TRIANGLES);
    let mut slopes =
        mesh.centres().map(|place| Slope { fall: slope(outline, surface, place), place });
    let first = slopes.next()?;
    let (least, steepest) = slopes.fold((first, first), |(least, steepest), slope| {
        (
            if slope.fall < least.fall { slope } else { least },
            if slope.fall > steepest.fall { slope } else { steepest },
        )
    });
    Some(Falls { least, steepest, pond: pond(outline, surface, walls, &mesh) })
}

/// The slope at a place, rise over run.
fn slope(outline: &Outline, surface: &Surface, at: Point) -> f64 {
    let [x, y] = gradient(outline, surface, at);
    x.hypot(y)
}

/// Rise per metre along x and along y, by differences.
pub(super) fn gradient(outline: &Outline, surface: &Surface, at: Point) -> [f64; 2] {
    let level =
        |dx: f64, dy: f64| surface.level_at(outline, Point { x: at.x + dx, y: at.y + dy }).to_m();
    let rise = |a: f64, b: f64| (b - a) / (2.0 * STEP_M);
    [rise(level(-STEP_M, 0.0), level(STEP_M, 0.0)), rise(level(0.0, -STEP_M), level(0.0, STEP_M))]
}

/// The deepest water that stands: every hollow of the triangulated surface filled to where it runs
/// over, from the way out inward (priority flood).
fn pond(outline: &Outline, surface: &Surface, walls: &[Wall], mesh: &Mesh) -> Option<Pond> {
    let free = |name: SideName| walls.iter().all(|wall| wall.side != name);
    let outlets: Vec<_> =
        outline.sides().filter(|(name, _)| free(*name)).map(|(_, side)| *side).collect();
    let drains: Vec<_> = outline
        .holes()
        .iter()
        .filter(|hole| hole.drains())
        .flat_map(|hole| hole.ring().sides().iter().copied())
        .collect();
    let near =
        |point: Point| outlets.iter().chain(&drains).any(|side| side.distance_to(point) < ON_SIDE);
    let places = mesh.places();
    let levels: Vec<f64> = places.iter().map(|p| surface.level_at(outline, *p).to_m()).collect();
    let out = mesh.rim().filter(|index| places.get(*index).is_some_and(|p| near(*p)));
    let filled = flood(&levels, mesh.neighbours(), out);
    let depth = |(full, level): (&f64, &f64)| Length::from_m(full - level);
    let depths = filled.iter().zip(&levels).map(depth).zip(places);
    depths
        .map(|(depth, place)| Pond { depth, place: *place })
        .filter(|pond| pond.depth > SHALLOWEST)
        .max_by(|a, b| a.depth.to_m().total_cmp(&b.depth.to_m()))
}

/// A place that water has reached, lowest first.
struct Reached {
    level: f64,
    index: usize,
}

impl PartialEq for Reached {
    fn eq(&self, other: &Self) -> bool {
        self.cmp(other).is_eq()
    }
}

impl Eq for Reached {}

impl PartialOrd for Reached {
    fn partial_cmp(&self, other: &Self) -> Option<std::cmp::Ordering> {
        Some(self.cmp(other))
    }
}

impl Ord for Reached {
    fn cmp(&self, other: &Self) -> std::cmp::Ordering {
        other.level.total_cmp(&self.level).then(other.index.cmp(&self.index))
    }
}

/// Levels with every hollow filled to the lowest rim between it and a way out. Without a way out
/// everything stands under the highest level.
fn flood(levels: &[f64], neighbours: &[Vec<usize>], out: impl Iterator<Item = usize>) -> Vec<f64> {
    let highest = levels.iter().copied().fold(f64::MIN, f64::max);
    let mut filled = vec![highest; levels.len()];
    let mut done = vec![false; levels.len()];
    let level_of = |index: usize| levels.get(index).copied().unwrap_or(highest);
    let mut next: BinaryHeap<Reached> =
        out.map(|index| Reached { level: level_of(index), index }).collect();
    while let Some(Reached { level, index }) = next.pop() {
        let Some(seen) = done.get_mut(index) else { continue };
        if std::mem::replace(seen, true) {
            continue;
        }
        if let Some(full) = filled.get_mut(index) {
            *full = level;
        }
        for neighbour in neighbours.get(index).into_iter().flatten() {
            let level = level.max(level_of(*neighbour));
            next.push(Reached { level, index: *neighbour });
        }
    }
    filled
}

/// How the surface lies against a building.
#[derive(Debug, Clone, PartialEq)]
pub struct WallStand {
    /// The building.
    pub wall: Wall,
    /// Least fall away from it, drop over run, negative where it falls towards it; and where.
    pub away: (f64, Point),
    /// Highest finished level along it, and where.
    pub highest: (Level, Point),
}

impl WallStand {
    /// Least height of the damp course above the paving.
    pub fn clearance(&self) -> Option<Length> {
        self.wall.damp_course.map(|level| level.above(self.highest.0))
    }

    /// How far the paving stands above the threshold; negative below it.
    pub fn over_threshold(&self) -> Option<Length> {
        self.wall.threshold.map(|level| self.highest.0.above(level))
    }
}

/// The wall is looked at every so far, so far in from it.
const ALONG: Length = Length::from_mm(250.0);
const IN_FROM: Length = Length::from_mm(20.0);

/// The surface against each building, in their order.
pub fn walls(outline: &Outline, surface: &Surface, walls: &[Wall]) -> Vec<WallStand> {
    walls.iter().filter_map(|wall| stand(outline, surface, wall)).collect()
}

fn stand(outline: &Outline, surface: &Surface, wall: &Wall) -> Option<WallStand> {
    let mut away: Option<(f64, Point)> = None;
    let mut highest: Option<(Level, Point)> = None;
    for (_, side) in outline.sides().filter(|(name, _)| *name == wall.side) {
        let count = (side.length / ALONG).ceil().max(1.0);
        for i in 0..=(count as u32) {
            let station = side.station(side.length * (f64::from(i) / count));
            let level = surface.level_at(outline, station.point);
            if highest.is_none_or(|(top, _)| level > top) {
                highest = Some((level, station.point));
            }
            // The boundary runs counter-clockwise: the paving is on its left.
            let [x, y] = gradient(outline, surface, station.offset(IN_FROM));
            let (sin, cos) = station.heading.sin_cos();
            let fall = x * sin - y * cos;
            if away.is_none_or(|(least, _)| fall < least) {
                away = Some((fall, station.point));
            }
        }
    }
    Some(WallStand { wall: wall.clone(), away: away?, highest: highest? })
}

#[cfg(test)]
mod tests {
    use super::super::{EdgeLevel, PlaneFit, Ridge};
    use super::*;
    use crate::outline::Hole;
    use crate::units::Gradient;

    fn yard() -> Outline {
        Outline::rectangle(Length::from_m(5.0), Length::from_m(6.0))
    }

    fn plane(x_one_in: f64, y_one_in: f64) -> Surface {
        let end = |x: f64| EdgeLevel { at: Length::from_m(x), level: Level::from_m(-x / x_one_in) };
        Surface::from_edge(vec![end(0.0), end(5.0)], Some(Gradient::one_in(y_one_in)))
    }

    fn wall(side: SideName) -> Wall {
        Wall { side, damp_course: Some(Level::from_mm(150.0)), threshold: None }
    }

    #[test]
    fn two_falls_combine_by_hand() {
        // Hand arithmetic: z = -x/80 - y/60 has a true fall of 1 in 48.
        let falls = falls(&yard(), &plane(80.0, 60.0), &[]).unwrap();
        for slope in [falls.least, falls.steepest] {
            assert!((1.0 / slope.fall - 48.0).abs() < 0.01, "{slope:?}");
        }
        assert_eq!(falls.pond, None);
    }

    #[test]
    fn water_stands_in_a_valley_that_walls_close() {
        // A valley line across the middle of the yard, level along it, falling to it 1 in 60: with
        // both its ends against walls nothing runs off, and the water is as deep as the lower rim
        // over the line: 2.5 m / 60 = 41.7 mm. A gully in the line takes it away.
        let line = [(2.5, 0.0), (2.5, 6.0)].map(|(x, y)| (Point { x, y }, Level::ZERO));
        let towards = Some(Gradient::one_in(-60.0));
        let valley = Surface::Planes(Ridge { ends: line, falls: [towards; 2] });
        let closed = [wall(SideName::Reference), wall(SideName::Far)];
        let pond = falls(&yard(), &valley, &closed).unwrap().pond.unwrap();
        assert!((pond.depth.to_mm() - 41.7).abs() < 3.0, "{pond:?}");
        assert!((pond.place.x - 2.5).abs() < 0.3, "{pond:?}");
        assert_eq!(falls(&yard(), &valley, &closed[..1]).unwrap().pond, None);
        let gully = Hole::circle(Point { x: 2.5, y: 3.0 }, Length::from_mm(150.0)).draining(true);
        let drained = yard().with_holes(vec![gully]).unwrap();
        assert_eq!(falls(&drained, &valley, &closed).unwrap().pond, None);
    }

    #[test]
    fn a_wall_is_measured_along_its_whole_length() {
        let stands =
            walls(&yard(), &plane(80.0, 60.0), &[wall(SideName::Reference), wall(SideName::Far)]);
        let [near, far] = &stands[..] else { panic!("two walls") };
        assert!((near.away.0 - 1.0 / 60.0).abs() < 1e-6, "{near:?}");
        assert!((far.away.0 + 1.0 / 60.0).abs() < 1e-6, "{far:?}");
        assert!((near.clearance().unwrap().to_mm() - 150.0).abs() < 1e-9);
        assert!((far.clearance().unwrap().to_mm() - 250.0).abs() < 1e-9);
    }

    #[test]
    fn a_plane_through_spots_falls_as_they_do() {
        let spot = |x: f64, y: f64| (Point { x, y }, Level::from_m(-x / 80.0 - y / 60.0));
        let fit =
            PlaneFit::through(vec![spot(0.0, 0.0), spot(5.0, 0.0), spot(1.0, 6.0), spot(4.0, 2.0)]);
        let falls = falls(&yard(), &Surface::Spots(fit.unwrap()), &[]).unwrap();
        assert!((1.0 / falls.least.fall - 48.0).abs() < 1e-6, "{falls:?}");
    }
}
