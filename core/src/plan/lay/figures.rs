//! The figures of a laying as they cross to the command line and to the screens.
//!
//! `fairfall lay --json` prints [`LayingFigures`]: a contract, so keys are added, never renamed.

use serde::{Deserialize, Serialize};
use ts_rs::TS;

use crate::words::Phrase;

/// A laying without its pieces. Lengths are in metres or millimetres by their name; numbers are not
/// rounded.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct LayingFigures {
    /// The plan's title.
    pub title: String,
    /// Blocks that are whole: 99.5 % of the face or more is left.
    pub whole: u32,
    /// Cut pieces.
    pub cut: u32,
    /// Blocks that it takes: the whole ones, and those that pieces are sawn from.
    pub needed: u32,
    /// Share of a block's face of the smallest cut piece; none where nothing is cut.
    pub smallest_cut_fraction: Option<f64>,
    /// Cut pieces under a third of a block.
    pub small: u32,
    /// Area of the outline.
    pub area_m2: f64,
    /// Area of the pieces.
    pub covered_m2: f64,
    /// What is left: the joints.
    pub joints_m2: f64,
    /// The courses of the field.
    pub courses: Vec<CourseFigures>,
    /// The edge courses, each along sides that run on into each other.
    pub edge_courses: Vec<EdgeCourseFigures>,
    /// The cut list.
    pub cuts: CutFigures,
    /// How the start of a straight bond was found; none where courses follow a curve, or the plan
    /// gives the start.
    pub search: Option<SearchFigures>,
    /// Widths of whole courses near the one that is planned.
    pub whole_course_widths: Vec<WidthFigures>,
    /// The narrowest and the widest joint that may be laid.
    pub joint_limits_mm: [f64; 2],
    /// The joint at the ends of blocks, in patterns that turn them: two widths lie along one length.
    pub end_joint_mm: Option<f64>,
    /// Least inner radius on which the joints stay within these limits.
    pub least_radius_m: LeastRadii,
    /// Boards sawn to the curves.
    pub templates: Vec<TemplateFigures>,
    /// Packs to open at once and mix, so that no colour lies in bands.
    pub packs: PackFigures,
    /// What is wrong, and what would mend it.
    pub problems: Vec<LayingProblem>,
}

/// How many packs to open at once, as a source has it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct PackFigures {
    /// How many at least.
    pub open_at_once: u32,
    /// Where that is from.
    pub source: String,
    /// How it is known.
    pub status: String,
}

/// A course.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct CourseFigures {
    /// Its number from 1.
    pub index: u32,
    /// Radius of its inner side on its tightest curve; none where it is straight.
    pub radius_m: Option<f64>,
    /// Length along its inner side.
    pub length_m: f64,
    /// Blocks and pieces in it.
    pub blocks: u32,
    /// Whole ones.
    pub whole: u32,
    /// Cut ones.
    pub cut: u32,
    /// The joint between ends at the inner side; the joint as planned where it is straight.
    pub inner_joint_mm: f64,
    /// The same at the outer side.
    pub outer_joint_mm: f64,
    /// How it ends.
    pub closing: ClosingWord,
    /// Length of the piece that closes it, where one does.
    pub closer_mm: Option<f64>,
    /// Whether it is not a full width.
    pub rip: bool,
    /// The shortest lap against the course before, where laps are followed.
    pub least_lap_mm: Option<f64>,
}

/// How a course ends.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum ClosingWord {
    /// On whole or half units, its joint making it exact.
    Even,
    /// With one cut piece.
    Closer,
    /// Where the outline cuts it.
    AtOutline,
}

/// An edge course.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct EdgeCourseFigures {
    /// Length along its inner side.
    pub length_m: f64,
    /// Units and pieces.
    pub blocks: u32,
    /// Whole ones.
    pub whole: u32,
    /// Cut ones.
    pub cut: u32,
    /// How it ends.
    pub closing: ClosingWord,
    /// Length along the edge of the piece that closes it, where one does.
    pub closer_mm: Option<f64>,
    /// The joint that would finish it on whole units, where a piece closes it and there is one.
    pub finish_joint_mm: Option<f64>,
    /// Whether it closes on itself.
    pub ring: bool,
    /// Its straights and arcs.
    pub parts: Vec<EdgePartFigures>,
}

/// A straight or an arc of an edge course.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct EdgePartFigures {
    /// The side of the outline, as the plan file names it.
    pub side: String,
    /// Radius at the inner corners; none where it is straight.
    pub radius_m: Option<f64>,
    /// Length along the inner corners.
    pub length_m: f64,
    /// The joint there.
    pub inner_joint_mm: f64,
    /// The joint at the outer corners.
    pub outer_joint_mm: f64,
    /// How far each unit is turned against the one before.
    pub turn_deg: f64,
}

/// Everything that is sawn.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct CutFigures {
    /// Cut pieces.
    pub pieces: u32,
    /// Blocks that they are sawn from.
    pub blocks: u32,
    /// Pieces that come out of what another left over.
    pub from_off_cuts: u32,
    /// Pieces under a third of a block.
    pub small: u32,
    /// Length of all saw cuts.
    pub sawn_m: f64,
    /// How many saw cuts there are.
    pub saw_cuts: u32,
    /// How long they take, minutes.
    pub saw_min: f64,
    /// At so many minutes each (common practice, no source).
    pub cut_min: f64,
    /// What the saw takes away.
    pub kerf_mm: f64,
    /// By size, the most frequent first.
    pub sizes: Vec<CutSizeFigures>,
}

/// Pieces of one size, in whole millimetres.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct CutSizeFigures {
    /// Along the longer of its long sides.
    pub long_mm: f64,
    /// Along the shorter: less where the end is cut at an angle, nothing where it is a point.
    pub short_mm: f64,
    /// Its width.
    pub width_mm: f64,
    /// Saw cuts that one takes.
    pub saw_cuts: u32,
    /// How many.
    pub count: u32,
    /// Share of a block's face of the largest of them.
    pub fraction: f64,
}

/// What the search for a start did.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct SearchFigures {
    /// Starts that were tried.
    pub tried: u32,
    /// From the corner, nothing shifted.
    pub plain: TriedFigures,
    /// The start that was taken.
    pub taken: TriedFigures,
    /// Blocks that need no cut because of it.
    pub cuts_saved: u32,
    /// The same in words.
    pub says: Phrase,
}

/// A start that was tried.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct TriedFigures {
    /// How far the pattern is shifted along and across its courses.
    pub start_mm: [f64; 2],
    /// Blocks of the field that are cut.
    pub blocks_cut: u32,
    /// Those of which less than a third is left.
    pub small: u32,
}

/// A width of whole courses.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct WidthFigures {
    /// How many courses.
    pub courses: u32,
    /// The width over all, with the joint as planned.
    pub width_m: f64,
    /// The joint with which they fill the width that is planned; none for a single course.
    pub joint_mm: Option<f64>,
    /// Whether that joint is within its limits.
    pub joint_allowed: bool,
}

/// Least inner radii; none where the limits leave nothing between them.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, TS)]
pub struct LeastRadii {
    /// With the long side along the course.
    pub stretcher: Option<f64>,
    /// Set radially.
    pub soldier: Option<f64>,
}

/// A board sawn to a curve.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct TemplateFigures {
    /// The curve.
    pub radius_m: f64,
    /// Length of the board.
    pub board_m: f64,
    /// For the board inside the curve: from its straight side.
    pub inside: Vec<OrdinateFigures>,
    /// For the board outside it: from the line that touches the curve at its middle.
    pub outside: Vec<OrdinateFigures>,
    /// The curve of the board inside at true size, over sheets that overlap.
    pub sheets: Vec<SheetFigures>,
}

/// An ordinate.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, TS)]
pub struct OrdinateFigures {
    /// Distance from the middle of the board.
    pub at_m: f64,
    /// The ordinate there.
    pub mm: f64,
}

/// A sheet of a curve at true size: millimetres from the board's middle and from its straight side.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct SheetFigures {
    /// Its lower left corner.
    pub corner_mm: [f64; 2],
    /// Its width and height.
    pub size_mm: [f64; 2],
    /// Points of the curve.
    pub line_mm: Vec<[f64; 2]>,
}

/// Something wrong with a laying: `code`, `values` and `text`, and where.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct LayingProblem {
    /// What it is.
    #[serde(flatten)]
    pub says: Phrase,
    /// Chainage along the reference edge where it begins.
    pub from_m: Option<f64>,
    /// Chainage where it ends.
    pub to_m: Option<f64>,
    /// The first and the last course it is in.
    pub courses: Option<[u32; 2]>,
    /// The place to mark on a drawing, metres.
    pub place_m: Option<[f64; 2]>,
    /// What would mend it, worked out again.
    pub proposal: Option<LayingProposal>,
}

/// What would mend a problem: `code`, `values` and `text`.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct LayingProposal {
    /// What to do, with what comes of it.
    #[serde(flatten)]
    pub says: Phrase,
    /// Whether it mends all of it.
    pub mends: bool,
}
