//! The laying as a drawing: one path for each kind of piece, whatever their number.
//!
//! Paths are SVG path data in tenths of a millimetre, x along the reference edge, y to its left. A
//! block takes some thirty characters, and one path is one element on a screen.

use geo::LineString;

use super::piece::{Piece, Place, Shape};
use super::{Block, Course, Laying};
use crate::outline::{CHORD_TOLERANCE, Outline, Point};

/// A length of the paths in metres.
pub const UNIT_M: f64 = 1e-4;

/// A laying as paths.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Drawing {
    /// Lower left and upper right corner, metres.
    pub bounds: [Point; 2],
    /// The outline.
    pub outline: String,
    /// Whole blocks of the field.
    pub whole: String,
    /// Cut pieces of the field.
    pub cut: String,
    /// Rips.
    pub rips: String,
    /// Whole units of the edge courses.
    pub edge: String,
    /// Cut units of the edge courses.
    pub edge_cut: String,
    /// Pieces under a third of a block, which are among the cut ones too.
    pub small: String,
    /// The numbers of the courses, at their starts outside the paving.
    pub numbers: Vec<Label>,
}

/// Words at a place.
#[derive(Debug, Clone, PartialEq)]
pub struct Label {
    /// The words.
    pub text: String,
    /// Its middle, metres.
    pub at: Point,
}

/// How far outside the outline a course's number stands.
const NUMBER_OFF_M: f64 = 0.08;

/// Draws a laying.
pub fn drawing(laying: &Laying, outline: &Outline, block: &Block) -> Drawing {
    let polygon = outline.polygon(CHORD_TOLERANCE);
    let mut drawing = Drawing::default();
    ring(&mut drawing.outline, polygon.exterior());
    for hole in polygon.interiors() {
        ring(&mut drawing.outline, hole);
    }
    for piece in &laying.pieces {
        let path = match (piece.place, piece.is_whole()) {
            (Place::Field(_), true) => &mut drawing.whole,
            (Place::Field(_), false) if piece.is_rip(block) => &mut drawing.rips,
            (Place::Field(_), false) => &mut drawing.cut,
            (Place::Edge(_), true) => &mut drawing.edge,
            (Place::Edge(_), false) => &mut drawing.edge_cut,
        };
        outline_of(path, piece);
        if piece.is_small() {
            outline_of(&mut drawing.small, piece);
        }
    }
    let number = |course| number(course, polygon.exterior());
    drawing.numbers = laying.courses.iter().map(number).collect();
    drawing.bounds = bounds(polygon.exterior());
    drawing
}

/// The number of a course, back from its start where it first leaves the outline.
fn number(course: &Course, outline: &LineString) -> Label {
    let (sin, cos) = course.heading.sin_cos();
    let back = |p: Point| -((p.x - course.start.x) * cos + (p.y - course.start.y) * sin);
    let aside = |p: Point| (p.y - course.start.y) * cos - (p.x - course.start.x) * sin;
    let crossed = outline.lines().filter_map(|line| {
        let (a, b) = (aside(line.start), aside(line.end));
        let share = a / (a - b);
        let crosses = (a < 0.0) != (b < 0.0);
        crosses.then(|| back(line.start) + (back(line.end) - back(line.start)) * share)
    });
    let off = crossed.filter(|off| *off > 0.0).fold(f64::INFINITY, f64::min);
    let off = NUMBER_OFF_M + if off.is_finite() { off } else { 0.0 };
    let at = Point { x: course.start.x - cos * off, y: course.start.y - sin * off };
    Label { text: course.index.to_string(), at }
}

fn bounds(ring: &LineString) -> [Point; 2] {
    let first = ring.coords().next().copied().unwrap_or_default();
    ring.coords().fold([first; 2], |[low, high], p| {
        [
            Point { x: low.x.min(p.x), y: low.y.min(p.y) },
            Point { x: high.x.max(p.x), y: high.y.max(p.y) },
        ]
    })
}

fn outline_of(path: &mut String, piece: &Piece) {
    match &piece.shape {
        Shape::Block(corners) => closed(path, corners.iter()),
        Shape::Cut(cut) => {
            ring(path, cut.left.exterior());
            cut.left.interiors().iter().for_each(|hole| ring(path, hole));
        }
    }
}

/// A ring of which the last point is the first.
fn ring(path: &mut String, ring: &LineString) {
    closed(path, ring.coords().skip(1));
}

/// A closed way: where it starts, then each step from the rounded point before, so that rounding
/// does not add up.
fn closed<'a>(path: &mut String, points: impl Iterator<Item = &'a Point>) {
    let mut before: Option<[i64; 2]> = None;
    for point in points {
        let here = [point.x, point.y].map(|metres| (metres / UNIT_M).round() as i64);
        match before {
            None => {
                path.push('M');
                number_into(path, here[0], false);
                number_into(path, here[1], true);
                path.push('l');
            }
            Some(last) if last == here => continue,
            Some([x, y]) => {
                number_into(path, here[0] - x, !path.ends_with('l'));
                number_into(path, here[1] - y, true);
            }
        }
        before = Some(here);
    }
    if path.ends_with('l') {
        path.push_str("0 0");
    }
    path.push('z');
}

/// A number; what parts it from the one before is its sign, where it has one.
fn number_into(path: &mut String, number: i64, parted: bool) {
    if parted && number >= 0 {
        path.push(' ');
    }
    path.push_str(&number.to_string());
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_block_is_a_short_path() {
        let at = |x: f64, y: f64| Point { x, y };
        let mut path = String::new();
        closed(&mut path, [at(1.0, 0.0), at(1.2, 0.0), at(1.2, -0.1), at(1.0, -0.1)].iter());
        assert_eq!(path, "M10000 0l2000 0 0-1000-2000 0z");
    }
}
