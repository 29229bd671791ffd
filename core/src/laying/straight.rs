//! Straight bonds laid over a field.

use geo::{Area as _, MultiPolygon};

use super::block::{Block, Bond};
use super::course::{Closing, Course};
use super::frame::Frame;
use super::lattice::{Lattice, Placed};
use super::piece::{Piece, Place};
use super::region::{Corners, Cover, Part, Region, Scratch};
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
    let lattice = lattice.moved(Point { x, y });
    let room = (shape.unsigned_area() / block.face().to_m2()) as usize;
    let laid = Laid {
        pieces: Vec::with_capacity(room),
        courses: Vec::new(),
        frame,
        block,
        along: if bond.pattern.is_herringbone() { ZIGZAG } else { Point { x: 1.0, y: 0.0 } },
        rows: bond.pattern.has_courses().then(|| block.width.to_m() - RIP),
    };
    let (pieces, courses) = laid.all(&region, &lattice);
    Straight { pieces, courses, search: found }
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

    /// Counts a piece in, by its points in the frame; `along` is the way of the course there.
    fn add(&mut self, piece: &Piece, points: &[Point], along: Point) {
        self.course.count(piece);
        let spread = |[least, most]: [f64; 2], at: f64| [least.min(at), most.max(at)];
        for p in points {
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

/// A field that is being laid, course by course.
struct Laid<'a> {
    pieces: Vec<Piece>,
    courses: Vec<Course>,
    frame: &'a Frame,
    block: &'a Block,
    /// The way of the courses in the frame.
    along: Point,
    /// How wide a full course is, where there are courses; one less than that is a rip.
    rows: Option<f64>,
}

impl Laid<'_> {
    /// Every piece in the order of the courses, which are numbered from 1, and the courses.
    fn all(mut self, region: &Region, lattice: &Lattice) -> (Vec<Piece>, Vec<Course>) {
        let mut scratch = Scratch::default();
        if let Some(around) = region.around() {
            for course in lattice.courses_over(around) {
                self.course(region, lattice.course_over(course, around), &mut scratch);
            }
        }
        (self.pieces, self.courses)
    }

    fn course(
        &mut self,
        region: &Region,
        blocks: impl Iterator<Item = Placed>,
        scratch: &mut Scratch,
    ) {
        let index = self.courses.len() as u32 + 1;
        let mut spread = Spread::new(index, self.frame.heading(self.along), self.block.joint);
        let place = Place::Field(index);
        let before = self.pieces.len();
        let mut part: Option<Part> = None;
        for Placed { corners, middle } in blocks {
            // The next block is most often in the part of the one before.
            part = part.filter(|part| part.has(middle)).or_else(|| region.part_at(middle));
            let Some(tile) = part.and_then(|part| part.tile) else { continue };
            match tile.cover(&corners, scratch) {
                Cover::None => {}
                Cover::Whole => {
                    let piece = Piece::block(outward(self.frame, corners), place);
                    spread.add(&piece, &corners, self.along);
                    self.pieces.push(piece);
                }
                Cover::Part(parts) => {
                    let block_at = outward(self.frame, corners);
                    for part in parts {
                        let left = self.frame.polygon(&part);
                        let piece = Piece::cut(block_at, left, self.block.face(), place);
                        spread.add(&piece, &part.exterior().0, self.along);
                        self.pieces.push(piece);
                    }
                }
            }
        }
        if self.pieces.len() > before {
            self.courses.push(spread.finish(self.frame, self.along, self.rows));
        }
    }
}

/// The corners of a block in the job's frame, still counter-clockwise.
fn outward(frame: &Frame, corners: Corners) -> Corners {
    let [a, b, c, d] = corners.map(|corner| frame.outward(corner));
    if frame.is_mirrored() { [d, c, b, a] } else { [a, b, c, d] }
}
