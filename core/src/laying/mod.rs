//! Laying: every block placed, on straights and curves.
//!
//! Edge courses first, then the field inside them: a straight bond from a start that is looked for,
//! or courses that follow a curved edge. Every piece is a polygon in the job's frame.

mod block;
mod chain;
mod count;
mod course;
mod curved;
mod cuts;
mod drawing;
mod edging;
mod frame;
mod geojson;
mod joints;
mod laps;
mod lattice;
mod offcuts;
mod piece;
mod problem;
mod region;
mod row;
mod search;
mod set;
mod site;
mod straight;
mod strip;
mod svg;
mod template;
mod widths;

use crate::outline::{Outline, SideName};
use crate::units::{Area, Length};

pub use block::{Along, Block, Bond, EdgeCourse, JointLimits, Pattern};
pub use count::{BlockCount, within_limit};
pub use course::{Closing, Course};
pub use cuts::{A_CUT, CutSize, Cuts};
pub use drawing::{Drawing, Label, UNIT_M, drawing};
pub use edging::{EdgePart, EdgeRun};
pub use frame::Frame;
pub use geojson::write_pieces;
pub use joints::Unit;
pub use offcuts::KERF;
pub use piece::{Cut, Piece, Place, SMALL, Shape, WHOLE};
pub use problem::{Problem, Proposal};
pub use search::{Search, Tried};
pub use straight::{Straight, straight};
pub use svg::sheet;
pub use template::{Sheet, Template};
pub use widths::WholeWidth;

use crate::outline::Point;
use curved::{Curved, curved};
use edging::{Edging, edging};
use region::Region;
use site::Site;
use strip::Strip;

/// The most blocks that are laid at once.
pub const MOST_BLOCKS: u32 = 600_000;

/// What is to be laid, and how.
#[derive(Debug, Clone, Copy)]
pub struct Paving<'a> {
    /// The shape.
    pub outline: &'a Outline,
    /// The block.
    pub block: &'a Block,
    /// The bond of the field.
    pub bond: &'a Bond,
    /// The joints allowed.
    pub limits: &'a JointLimits,
    /// The edge course.
    pub course: EdgeCourse,
    /// Sides that something holds: no edge course runs along them.
    pub held: &'a [SideName],
}

/// A paving with every block in its place.
#[derive(Debug, Clone, PartialEq)]
pub struct Laying {
    /// The pieces: edge courses first, then the field course by course.
    pub pieces: Vec<Piece>,
    /// The courses of the field.
    pub courses: Vec<Course>,
    /// The edge courses.
    pub edges: Vec<EdgeRun>,
    /// How the start of a straight bond was found.
    pub search: Option<Search>,
    /// The cut list.
    pub cuts: Cuts,
    /// Blocks that are whole.
    pub whole: u32,
    /// What the pieces cover.
    pub covered: Area,
    /// What is left between them.
    pub joints: Area,
    /// Widths of whole courses near the one that is planned.
    pub widths: Vec<WholeWidth>,
    /// What is wrong with it, and what would mend it.
    pub problems: Vec<Problem>,
}

impl Laying {
    /// Blocks that it takes: the whole ones, and those that pieces are sawn from.
    pub const fn blocks(&self) -> u32 {
        self.whole + self.cuts.blocks
    }
}

/// A paving that is not laid, because of its size.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
#[error("about {blocks} blocks: more than the {MOST_BLOCKS} that are laid out here at once")]
pub struct TooManyBlocks {
    /// About how many it would take.
    pub blocks: u64,
}

/// Lays a paving.
///
/// # Errors
/// [`TooManyBlocks`].
pub fn lay(paving: &Paving) -> Result<Laying, TooManyBlocks> {
    let Paving { outline, block, bond, limits, .. } = *paving;
    within_limit(outline.area(), block)?;
    let site = Site::new(outline, paving.held);
    let Edging { mut pieces, runs, too_tight, field } = edging(&site, paving.course, block, limits);
    let follows = bond.pattern.has_courses() && bond.along == Along::Edge && site.is_curved();
    let strip = if follows { Strip::new(&site, &field, block) } else { None };
    let not_followed = follows && strip.is_none();
    let (field_pieces, courses, search, curves) = match strip {
        Some(strip) => {
            let region = Region::new(&field, block.length.to_m().hypot(block.width.to_m()) / 2.0);
            let lay = |keep| curved(&strip, &region, block, bond, limits, keep);
            let Curved { pieces, courses, seen } = lay(bond.keep_laps);
            let mended = (!bond.keep_laps && seen.iter().any(|seen| !seen.short.is_empty()))
                .then(|| lay(true).seen);
            (pieces, courses, None, problem::Curves { seen, mended, not_followed })
        }
        None => {
            let laid = straight(&field, &frame(&site, paving), block, bond);
            let curves = problem::Curves { not_followed, ..problem::Curves::default() };
            (laid.pieces, laid.courses, laid.search, curves)
        }
    };
    pieces.extend(field_pieces);
    let cuts = Cuts::of(pieces.iter(), block);
    let whole = pieces.iter().filter(|piece| piece.is_whole()).count() as u32;
    let covered: Area = pieces.iter().map(|piece| piece.area(block)).sum();
    let widths = site.width.map_or(Vec::new(), |width| {
        widths::whole_widths(width, edge_width(&site, paving), block, bond, limits)
    });
    let mut laying = Laying {
        joints: outline.area() - covered,
        pieces,
        courses,
        edges: runs,
        search,
        cuts,
        whole,
        covered,
        widths,
        problems: Vec::new(),
    };
    laying.problems = problem::problems(&site, paving, &laying, &curves, &too_tight);
    Ok(laying)
}

/// What edge courses take of the width between the reference edge and the far one.
fn edge_width(site: &Site, paving: &Paving) -> Length {
    let width = paving.course.width(paving.block).unwrap_or(Length::ZERO);
    let free = [site.reference(), Some(SideName::Far)]
        .into_iter()
        .flatten()
        .filter(|side| !site.held.contains(side));
    width * free.count() as f64
}

/// The axes of a straight bond: from the field's corner where the reference edge starts.
fn frame(site: &Site, paving: &Paving) -> Frame {
    let course = paving.course.width(paving.block).unwrap_or(Length::ZERO);
    let free = |side: Option<SideName>| side.is_some_and(|side| !site.held.contains(&side));
    let has_start = site.sides.iter().any(|(name, _)| *name == SideName::Start);
    let along = if has_start && free(Some(SideName::Start)) { course } else { Length::ZERO };
    let into = if free(site.reference()) { course } else { Length::ZERO };
    let origin: Point = site.edge.point(along, into * site.side);
    let heading = site.edge.at(Length::ZERO).heading;
    let (heading, left) = match paving.bond.along {
        Along::Edge => (heading, site.side > 0.0),
        // Walking into the paving, the edge runs on to the right where that lies left of it.
        Along::Across => (heading + site.side * std::f64::consts::FRAC_PI_2, site.side < 0.0),
        Along::Degrees(degrees) => (degrees.to_radians(), true),
    };
    // A herringbone at 45 degrees has its zigzags along the courses.
    let turned = match paving.bond.pattern {
        Pattern::Herringbone45 => std::f64::consts::FRAC_PI_4 * if left { -1.0 } else { 1.0 },
        _ => 0.0,
    };
    Frame::new(origin, heading + turned, left)
}
