//! Straight bonds laid over a field.

use geo::MultiPolygon;

use super::block::{Block, Bond, Pattern};
use super::course::{Closing, Course};
use super::frame::Frame;
use super::lattice::{Lattice, Placed};
use super::piece::{Piece, Place};
use super::region::{Corners, Cover, Region, Scratch};
use super::search::{Search, search};
use crate::outline::Point;
use crate::units::Length;

/// A field as it was laid.
pub struct Straight {
    /// Its pieces, course by course.
    pub pieces: Vec<Piece>,
    /// Its courses.
    pub courses: Vec<Course>,
    /// How the start was found, where it was looked for.
    pub search: Option<Search>,
}

/// Lays a bond over a field along the axes of a frame.
pub fn straight(field: &MultiPolygon, frame: &Frame, block: &Block, bond: &Bond) -> Straight {
    let shape = frame.shape(field);
    let region = Region::new(&shape, block.length.to_m().hypot(block.width.to_m()) / 2.0);
    let lattice = Lattice::new(block, bond.pattern);
    let found = match bond.start {
        Some(_) => None,
        None => Some(search(&shape, &region, &lattice, block, bond.pattern)),
    };
    let start = bond.start.or(found.map(|found| found.taken.start)).unwrap_or_default();
    let [x, y] = start.map(Length::to_m);
    let mut laid = lay(&region, &lattice.moved(Point { x, y }), frame, block);
    // By key first: pieces are large, and moving them through a merge is most of its time.
    laid.sort_by_cached_key(|(course, _)| *course);
    let (pieces, courses) = numbered(laid, frame, block, bond.pattern);
    Straight { pieces, courses, search: found }
}

/// Pieces in the order of their courses, numbered from 1, and the courses that they make.
fn numbered(
    laid: Vec<(i64, Piece)>,
    frame: &Frame,
    block: &Block,
    pattern: Pattern,
) -> (Vec<Piece>, Vec<Course>) {
    let mut courses: Vec<Spread> = Vec::new();
    let mut last = None;
    let along = if pattern.is_herringbone() { ZIGZAG } else { Point { x: 1.0, y: 0.0 } };
    let heading = frame.heading(along);
    let mut pieces = Vec::with_capacity(laid.len());
    for (course, mut piece) in laid {
        if last != Some(course) {
            last = Some(course);
            let index = courses.len() as u32 + 1;
            courses.push(Spread::new(index, heading, block.joint));
        }
        if let Some(spread) = courses.last_mut() {
            piece.place = Place::Field(spread.course.index);
            spread.add(&piece, frame, along);
        }
        pieces.push(piece);
    }
    let rows = pattern.has_courses().then(|| block.width.to_m() - RIP);
    let courses = courses.into_iter().map(|spread| spread.finish(frame, along, rows));
    (pieces, courses.collect())
}

/// The way a herringbone's zigzags run, in its blocks' own axes.
const ZIGZAG: Point =
    Point { x: std::f64::consts::FRAC_1_SQRT_2, y: std::f64::consts::FRAC_1_SQRT_2 };
/// A course narrower than a block by more than this is a rip.
const RIP: f64 = 0.0005;

/// A course with how far it spreads along and across.
struct Spread {
    course: Course,
    along: [f64; 2],
    across: [f64; 2],
}

impl Spread {
    fn new(index: u32, heading: f64, joint: Length) -> Self {
        let nowhere = [f64::INFINITY, f64::NEG_INFINITY];
        let course = Course {
            index,
            radius: None,
            length: Length::ZERO,
            whole: 0,
            cut: 0,
            inner_joint: joint,
            outer_joint: joint,
            closing: Closing::AtOutline,
            rip: false,
            least_lap: None,
            start: Point { x: 0.0, y: 0.0 },
            heading,
        };
        Spread { course, along: nowhere, across: nowhere }
    }

    /// Counts a piece in; `along` is the way of the course in the frame.
    fn add(&mut self, piece: &Piece, frame: &Frame, along: Point) {
        self.course.count(piece);
        let spread = |[least, most]: [f64; 2], at: f64| [least.min(at), most.max(at)];
        for point in piece.ring() {
            let p = frame.inward(*point);
            self.along = spread(self.along, p.x * along.x + p.y * along.y);
            self.across = spread(self.across, p.y * along.x - p.x * along.y);
        }
    }

    fn finish(self, frame: &Frame, along: Point, full_row: Option<f64>) -> Course {
        let ([from, to], [low, high]) = (self.along, self.across);
        let across = Point { x: -along.y, y: along.x };
        Course {
            length: Length::from_m(to - from),
            rip: full_row.is_some_and(|width| high - low < width),
            start: frame.outward(along * from + across * ((low + high) / 2.0)),
            ..self.course
        }
    }
}

/// Every piece with its course as the lattice counts, in the job's frame.
fn lay(region: &Region, lattice: &Lattice, frame: &Frame, block: &Block) -> Vec<(i64, Piece)> {
    let mut scratch = Scratch::default();
    let mut laid = Vec::new();
    for tile in region.tiles() {
        for placed in lattice.blocks_about(tile.rect).filter(|placed| tile.has(placed.middle)) {
            let Placed { corners, course, .. } = placed;
            let place = Place::Field(0);
            match tile.cover(&corners, &mut scratch) {
                Cover::None => {}
                Cover::Whole => laid.push((course, Piece::block(outward(frame, corners), place))),
                Cover::Part(parts) => {
                    let block_at = outward(frame, corners);
                    laid.extend(parts.into_iter().map(|part| {
                        let left = frame.polygon(&part);
                        (course, Piece::cut(block_at, left, block.face(), place))
                    }));
                }
            }
        }
    }
    laid
}

/// The corners of a block in the job's frame, still counter-clockwise.
fn outward(frame: &Frame, corners: Corners) -> Corners {
    let [a, b, c, d] = corners.map(|corner| frame.outward(corner));
    if frame.is_mirrored() { [d, c, b, a] } else { [a, b, c, d] }
}
