//! Straight bonds as lattices: one motif of blocks, repeated along two steps.

use geo::Rect;

use super::block::{Block, Pattern};
use super::region::Corners;
use crate::outline::Point;

/// A block of the motif: its least corner, and whether its long side lies along the courses.
#[derive(Debug, Clone, Copy)]
struct Member {
    corner: Point,
    lies_along: bool,
}

/// A bond that repeats.
#[derive(Debug, Clone)]
pub struct Lattice {
    length: f64,
    width: f64,
    /// The step along the courses.
    along: f64,
    /// The step to the next row.
    row: Point,
    members: Vec<Member>,
    /// Whether a course is a row, or else one of the zigzags that stand side by side in it.
    courses_are_rows: bool,
    start: Point,
}

/// A block where a lattice puts it.
#[derive(Debug, Clone, Copy)]
pub struct Placed {
    /// Its corners, from one end of a long side to the other and round.
    pub corners: Corners,
    /// Its middle.
    pub middle: Point,
}

impl Lattice {
    /// The lattice of a bond whose first block has its corner at the origin.
    pub fn new(block: &Block, pattern: Pattern) -> Self {
        let [l, w, j] = [block.length, block.width, block.joint].map(|length| length.to_m());
        // Patterns that turn blocks lie on a grid of one width and its joint.
        let m = w + j;
        let lying = |x: f64, y: f64| Member { corner: Point { x, y }, lies_along: true };
        let standing = |x: f64, y: f64| Member { corner: Point { x, y }, lies_along: false };
        let (along, row, members) = match pattern {
            Pattern::Stack => (l + j, (0.0, m), vec![lying(0.0, 0.0)]),
            Pattern::Stretcher => (l + j, ((l + j) / 2.0, m), vec![lying(0.0, 0.0)]),
            Pattern::Herringbone45 | Pattern::Herringbone90 => {
                (4.0 * m, (m, m), vec![lying(0.0, 0.0), standing(3.0 * m, 0.0)])
            }
            Pattern::Basketweave => {
                let pairs = [lying(0.0, 0.0), lying(0.0, m), standing(2.0 * m, 0.0)];
                let mut members = pairs.to_vec();
                members.push(standing(3.0 * m, 0.0));
                (4.0 * m, (2.0 * m, 2.0 * m), members)
            }
        };
        Lattice {
            length: l,
            width: w,
            along,
            row: Point { x: row.0, y: row.1 },
            members,
            courses_are_rows: !matches!(pattern, Pattern::Herringbone45 | Pattern::Herringbone90),
            start: Point { x: 0.0, y: 0.0 },
        }
    }

    /// The same moved.
    pub fn moved(&self, start: Point) -> Self {
        Lattice { start, ..self.clone() }
    }

    /// How far it may be moved along and across before it looks the same again.
    pub const fn period(&self) -> Point {
        Point { x: self.along, y: self.row.y }
    }

    /// The courses that blocks in a rectangle may be of.
    pub fn courses_over(&self, rect: Rect) -> std::ops::RangeInclusive<i64> {
        let rows = self.rows_over(rect);
        if self.courses_are_rows {
            return rows;
        }
        let [low, high] = self.middles(|middle| middle.x);
        let [first, last] = [*rows.start(), *rows.end()].map(|row| self.row.x * row as f64);
        let columns = steps(rect.min().x - high - last, rect.max().x - low - first, self.along);
        -columns.end()..=-columns.start()
    }

    /// The blocks of a course whose middles may lie in a rectangle, from one end to the other, and some
    /// just beside it.
    pub fn course_over(&self, course: i64, rect: Rect) -> impl Iterator<Item = Placed> + '_ {
        let [low, high] = self.middles(|middle| middle.x);
        let (min, max) = (rect.min().x - high, rect.max().x - low);
        let by_row = self.courses_are_rows;
        let along = if by_row {
            let across = self.row.x * course as f64;
            steps(min - across, max - across, self.along)
        } else {
            let across = self.along * -course as f64;
            let (rows, there) =
                (self.rows_over(rect), steps(min - across, max - across, self.row.x));
            *rows.start().max(there.start())..=*rows.end().min(there.end())
        };
        along.flat_map(move |step| {
            let (row, column) = if by_row { (course, step) } else { (step, -course) };
            self.members.iter().map(move |member| self.placed(*member, row, column))
        })
    }

    fn rows_over(&self, rect: Rect) -> std::ops::RangeInclusive<i64> {
        let [low, high] = self.middles(|middle| middle.y);
        steps(rect.min().y - high, rect.max().y - low, self.row.y)
    }

    /// The least and the greatest of the motif's middles along one axis.
    fn middles(&self, of: fn(Point) -> f64) -> [f64; 2] {
        let middles = self.members.iter().map(|member| of(self.placed(*member, 0, 0).middle));
        middles
            .fold([f64::INFINITY, f64::NEG_INFINITY], |[low, high], at| [low.min(at), high.max(at)])
    }

    /// Where a block of the motif lies in a row and a column.
    fn placed(&self, member: Member, row: i64, column: i64) -> Placed {
        let (dx, dy) =
            if member.lies_along { (self.length, self.width) } else { (self.width, self.length) };
        let step = self.row * row as f64 + Point { x: self.along * column as f64, y: 0.0 };
        let least = self.start + member.corner + step;
        Placed { corners: corners(least, dx, dy), middle: least + Point { x: dx, y: dy } / 2.0 }
    }

    /// Every block whose middle may lie in a rectangle, and some just beside it.
    pub fn blocks_about(&self, rect: Rect) -> impl Iterator<Item = Placed> + '_ {
        self.members.iter().flat_map(move |member| {
            let middle = self.placed(*member, 0, 0).middle;
            let rows = steps(rect.min().y - middle.y, rect.max().y - middle.y, self.row.y);
            rows.flat_map(move |row| {
                let from = middle.x + self.row.x * row as f64;
                let columns = steps(rect.min().x - from, rect.max().x - from, self.along);
                columns.map(move |column| self.placed(*member, row, column))
            })
        })
    }
}

/// The numbers whose multiples of a step lie between two places, and one more at either end.
fn steps(from: f64, to: f64, step: f64) -> std::ops::RangeInclusive<i64> {
    (from / step).floor() as i64..=(to / step).ceil() as i64
}

/// The corners of a block with its least corner at a point, from a long side on.
fn corners(least: Point, dx: f64, dy: f64) -> Corners {
    let at = |x: f64, y: f64| least + Point { x, y };
    if dx >= dy {
        [at(0.0, 0.0), at(dx, 0.0), at(dx, dy), at(0.0, dy)]
    } else {
        [at(dx, 0.0), at(dx, dy), at(0.0, dy), at(0.0, 0.0)]
    }
}
