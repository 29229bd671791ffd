//! A boundary moved outward, by its own distance at each side, corners filled.

use geo::{
    Area as _, BooleanOps, Coord, LineString, MultiPolygon, Polygon, Validation, unary_union,
};

use super::edge::{Point, distance};
use super::ring::{CHORD_TOLERANCE, Ring};
use super::side::Side;
use crate::units::Length;

/// Two points closer than this are one.
const SAME: Length = Length::from_m(1e-7);
/// Sides that turn by less than this, as a sine, run on in one line.
const TANGENT: f64 = 1e-6;
/// A corner reaches no farther than this many times the room beside it: a sharper one is cut off.
const SHARPEST: f64 = 5.0;

impl Ring {
    /// The boundary with each side moved outward by its room, the sides lengthened or shortened to
    /// where they meet. Exact where the sides still meet in their order; where the room swallows a
    /// side whole, it is the union of the shape and what lies beside it, with arcs as chords.
    pub fn grown(&self, room: &[Length]) -> Ring {
        if room.iter().all(|r| *r == Length::ZERO) {
            return self.clone();
        }
        let moved: Vec<Side> =
            self.sides().iter().zip(room).map(|(side, room)| side.beside(*room)).collect();
        let exact = self.meeting(&moved, room);
        let polygon = exact.polygon(CHORD_TOLERANCE);
        let forward = exact.sides().iter().all(|side| side.length >= Length::ZERO);
        if forward && exact.area() >= self.area() && polygon.is_valid() {
            exact
        } else {
            self.union_with(&moved)
        }
    }

    /// The moved sides, each from where it meets the one before to where it meets the one after.
    fn meeting(&self, moved: &[Side], room: &[Length]) -> Ring {
        let pairs = moved.iter().zip(moved.iter().cycle().skip(1));
        let rooms = room.iter().zip(room.iter().cycle().skip(1)).map(|(a, b)| a.max(*b));
        let joints: Vec<Joint> = pairs
            .zip(self.sides())
            .zip(rooms)
            .map(|(((side, next), own), room)| Joint::of(side, next, own.end, room * SHARPEST))
            .collect();
        let before = joints.last().into_iter().chain(joints.iter());
        let mut sides = Vec::with_capacity(moved.len() * 2);
        for ((side, from), to) in moved.iter().zip(before).zip(&joints) {
            let own = if side.curvature == 0.0 {
                let run = (side.end - side.start.point, to.leaves - from.arrives);
                let mut own = Side::straight(from.arrives, to.leaves);
                // A side that is walked the wrong way has been swallowed.
                if run.0.x * run.1.x + run.0.y * run.1.y < 0.0 {
                    own.length = -own.length;
                }
                own
            } else {
                side.between(from.arrives, to.leaves)
            };
            sides.push(own);
            let on = [(to.leaves, to.corner), (to.corner, to.arrives)];
            let apart = on.into_iter().filter(|(a, b)| distance(*a, *b) > SAME);
            sides.extend(apart.map(|(a, b)| Side::straight(a, b)));
        }
        Ring::in_order(sides)
    }

    /// The shape and the band beside each side, as one polygon.
    fn union_with(&self, moved: &[Side]) -> Ring {
        let line = |side: &Side| {
            let mut points: Vec<Coord> = Vec::new();
            side.points(CHORD_TOLERANCE, &mut points);
            points.push(side.end);
            points
        };
        let mut parts = vec![self.polygon(CHORD_TOLERANCE)];
        for (side, beside) in self.sides().iter().zip(moved) {
            let mut points = line(side);
            points.extend(line(beside).into_iter().rev());
            let band = Polygon::new(LineString::new(points), Vec::new());
            // Its own union puts a band that folds over itself right.
            parts.extend(band.union(&MultiPolygon::new(Vec::new())));
        }
        let next = self.sides().iter().zip(moved.iter().zip(moved.iter().cycle().skip(1)));
        for (side, (beside, after)) in next {
            let corner = vec![side.end, beside.end, after.start.point];
            parts.push(Polygon::new(LineString::new(corner), Vec::new()));
        }
        let whole = unary_union(&parts);
        let largest =
            whole.into_iter().max_by(|a, b| a.unsigned_area().total_cmp(&b.unsigned_area()));
        let Some(largest) = largest else { return self.clone() };
        let mut corners: Vec<Point> = largest.exterior().coords().copied().collect();
        corners.pop();
        Ring::polygonal(&corners)
    }
}

/// How two moved sides join: the one is left, and the next is arrived at, by way of a corner that
/// may be either of these.
struct Joint {
    leaves: Point,
    corner: Point,
    arrives: Point,
}

impl Joint {
    fn of(side: &Side, next: &Side, own: Point, reach: Length) -> Joint {
        let (end, start) = (side.end, next.start.point);
        let met = |corner| Joint { leaves: corner, corner, arrives: corner };
        if distance(end, start) <= SAME {
            return met(end);
        }
        let away = |p: &Point| distance(*p, own).to_m();
        let nearest = |crossings: Vec<Point>| {
            crossings
                .into_iter()
                .filter(|p| away(p) <= reach.to_m())
                .min_by(|a, b| away(a).total_cmp(&away(b)))
        };
        // Outside a corner the sides run on straight until they meet, inside it they are cut short.
        let turned = (next.start.heading - side.end_heading()).sin();
        if turned.abs() < TANGENT {
            // In one line with each other, with another room beside each: a step.
        } else if turned > 0.0 {
            let on = |point, heading| Side::towards(point, heading);
            let tangents = lines(&on(end, side.end_heading()), &on(start, next.start.heading));
            if let Some(corner) = nearest(tangents) {
                let leaves = if side.curvature == 0.0 { corner } else { end };
                let arrives = if next.curvature == 0.0 { corner } else { start };
                return Joint { leaves, corner, arrives };
            }
        } else if let Some(corner) = nearest(crossings(side, next)) {
            return met(corner);
        }
        Joint { leaves: end, corner: start, arrives: start }
    }
}

/// Where the lines or circles that two sides lie on cross.
fn crossings(a: &Side, b: &Side) -> Vec<Point> {
    match (a.centre(), b.centre()) {
        (None, None) => lines(a, b),
        (None, Some(centre)) => line_and_circle(a, centre, radius(b)),
        (Some(centre), None) => line_and_circle(b, centre, radius(a)),
        (Some(p), Some(q)) => super::ties::circles((p, radius(a)), (q, radius(b))),
    }
}

fn radius(side: &Side) -> Length {
    Length::from_m(1.0 / side.curvature.abs())
}

fn lines(a: &Side, b: &Side) -> Vec<Point> {
    let [(ay, ax), (by, bx)] = [a, b].map(|s| s.start.heading.sin_cos());
    let cross = ax * by - ay * bx;
    // Nearly in one line: they meet nowhere near.
    if cross.abs() < 1e-9 {
        return Vec::new();
    }
    let (p, q) = (a.start.point, b.start.point);
    let along = ((q.x - p.x) * by - (q.y - p.y) * bx) / cross;
    vec![Point { x: p.x + ax * along, y: p.y + ay * along }]
}

fn line_and_circle(line: &Side, centre: Point, radius: Length) -> Vec<Point> {
    let (sin, cos) = line.start.heading.sin_cos();
    let p = line.start.point;
    let along = (centre.x - p.x) * cos + (centre.y - p.y) * sin;
    let foot = Point { x: p.x + cos * along, y: p.y + sin * along };
    let half = (radius.to_m().powi(2) - distance(foot, centre).to_m().powi(2)).sqrt();
    if half.is_nan() {
        return Vec::new();
    }
    [-half, half].map(|h| Point { x: foot.x + cos * h, y: foot.y + sin * h }).to_vec()
}
