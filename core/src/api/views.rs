//! What crosses to a screen: plain data, made into TypeScript types.
//!
//! Names end in their unit: `_m` metres, `_mm` millimetres, `_m2`, `_m3`, `_t` tonnes, `_kg`.
//! Levels are relative to the job datum, up positive. Times are RFC 3339 with their offset.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};
use ts_rs::TS;

use super::changes::{ChangeView, SignatureView};
use super::site_view::SiteView;
use crate::buildup::Layer;
use crate::job::{Stage, StageState};
use crate::levels::Word;
use crate::plan::figures::LayingFigures;
use crate::plan::{Problem, Use};
use crate::words::Phrase;

/// The shelf of jobs, newest activity first.
#[derive(Debug, Clone, Serialize, Deserialize, TS)]
pub struct Shelf {
    /// One row a job.
    pub jobs: Vec<ShelfJob>,
    /// Who holds the phone; empty until a name is given.
    pub person: String,
    /// Everyone who has logged on this phone, most recent first.
    pub people: Vec<String>,
    /// What the store has to tell, such as a damaged file moved aside.
    pub notices: Vec<Phrase>,
}

/// One job on the shelf.
#[derive(Debug, Clone, Serialize, Deserialize, TS)]
pub struct ShelfJob {
    /// The job's identity.
    pub id: String,
    /// Its title from the plan in force.
    pub title: String,
    /// Who goes over it.
    pub r#use: Use,
    /// The small section drawing.
    pub section: Section,
    /// What is needed now.
    pub next: Phrase,
    /// Entries in the diary, struck ones included.
    pub entries: u32,
    /// When the newest entry was recorded.
    pub last_at: String,
}

/// The cross-section through the layers, top first.
#[derive(Debug, Clone, Serialize, Deserialize, TS)]
pub struct Section {
    /// Layers from the blocks down to the formation.
    pub layers: Vec<SectionLayer>,
    /// Width of the paving that the section cuts, in metres.
    pub width_m: f64,
    /// How far the surface drops over that width, in millimetres, away from the reference edge.
    pub drop_mm: f64,
    /// "1 in" this many across; none where the surface has no crossfall.
    pub crossfall_one_in: Option<f64>,
    /// The existing ground against the finished level at the reference edge, in millimetres:
    /// positive when the ground stands above the finished surface.
    pub ground_above_finished_mm: f64,
}

/// One layer in the section.
#[derive(Debug, Clone, Serialize, Deserialize, TS)]
pub struct SectionLayer {
    /// Which layer.
    pub layer: Layer,
    /// Which lift of the sub-base, from 1 at the bottom; none for other layers.
    pub lift: Option<u32>,
    /// Designed thickness in millimetres; 0 for the formation, which is a surface.
    pub thickness_mm: f64,
    /// Measured mean thickness, where there are dips of this layer and the one below.
    pub measured_mm: Option<f64>,
    /// Drawn dashed, outlined in marker, or solid.
    pub state: LayerState,
    /// The stage that a tap on this layer opens.
    pub stage: Stage,
}

/// How far a layer has come.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum LayerState {
    /// Not begun: dashed.
    Planned,
    /// Being worked on: outlined in marker.
    InWork,
    /// Finished: solid.
    Done,
}

/// Everything a job's screens show, folded from its diary.
#[derive(Debug, Clone, Serialize, Deserialize, TS)]
pub struct JobView {
    /// The job's identity.
    pub id: String,
    /// Title from the plan in force.
    pub title: String,
    /// Who goes over it.
    pub r#use: Use,
    /// Where it is, for whom and by whom, as the plan says; empty where it does not.
    pub place: String,
    /// The customer as named in the plan.
    pub customer: String,
    /// The section drawing.
    pub section: Section,
    /// What is needed now, in one sentence.
    pub next: Phrase,
    /// The stage in work.
    pub stage: Stage,
    /// Every stage in working order.
    pub stages: Vec<StageView>,
    /// Every layer from the formation up, the sub-base by lift.
    pub layers: Vec<LayerView>,
    /// Passes by layer, lift and plant.
    pub passes: Vec<PassRow>,
    /// Plant that has been logged on this job, most recent first.
    pub plants: Vec<String>,
    /// The plan view.
    pub drawing: Drawing,
    /// Dips in order of logging, struck ones left out.
    pub dips: Vec<DipView>,
    /// Photos in order, struck ones left out.
    pub photos: Vec<PhotoView>,
    /// Cautions for the stage in work.
    pub cautions: Vec<Phrase>,
    /// The last entry that can be undone: by this phone, not struck, not the plan.
    pub undo: Option<UndoView>,
    /// Completion records issued so far.
    pub records: Vec<IssuedRecord>,
    /// What happened besides dips and passes.
    pub site: SiteView,
    /// Extra work, struck ones left out.
    pub changes: Vec<ChangeView>,
    /// Signatures that the next completion record will carry, the customer's first.
    pub signatures: Vec<SignatureView>,
    /// The currency that prices are in; empty where none was named.
    pub currency: String,
    /// The plan in force, as written in the plan file.
    #[ts(type = "unknown")]
    pub plan: serde_json::Value,
}

/// One stage with its gate.
#[derive(Debug, Clone, Serialize, Deserialize, TS)]
pub struct StageView {
    /// Which stage.
    pub stage: Stage,
    /// Where it stands.
    pub state: StageState,
    /// The gate: each line of evidence, met or not.
    pub gate: Vec<Evidence>,
    /// Why it was passed with something missing; empty otherwise.
    pub reason: String,
    /// Who closed it and when; empty while it is open.
    pub closed_by: String,
    /// When it was closed; empty while it is open.
    pub closed_at: String,
}

/// One line of a gate.
#[derive(Debug, Clone, Serialize, Deserialize, TS)]
pub struct Evidence {
    /// Whether it is there.
    pub met: bool,
    /// What it is, with its figures.
    pub says: Phrase,
    /// The question that a `check` entry answers, where this line is answered by the person.
    pub check: Option<String>,
}

/// One layer, or one lift of the sub-base, with what was measured.
#[derive(Debug, Clone, Serialize, Deserialize, TS)]
pub struct LayerView {
    /// Which layer.
    pub layer: Layer,
    /// Which lift; none for other layers.
    pub lift: Option<u32>,
    /// How far its top lies under the finished surface, in millimetres.
    pub below_finished_mm: f64,
    /// Tolerance above design, in millimetres.
    pub high_by_mm: f64,
    /// Tolerance below design, in millimetres.
    pub low_by_mm: f64,
    /// Dips taken, struck ones left out; only the newest at a place counts.
    pub dips: u32,
    /// Dips inside the tolerance.
    pub r#in: u32,
    /// Dips outside it.
    pub out: u32,
    /// The fewest dips that can cover the layer.
    pub wanted_dips: u32,
    /// Whether there are dips enough and none of it is far from one.
    pub covered: bool,
    /// How far its farthest point is from a dip, metres; none before the first.
    pub widest_gap_m: Option<f64>,
    /// Where to dip next: the farthest point, where it is too far from a dip.
    pub next_place: Option<NextPlace>,
    /// Thickness measured against the layer below.
    pub thickness_mm: Option<Spread>,
}

/// A place, and the string from which to dip it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct NextPlace {
    /// Along x, metres.
    pub x_m: f64,
    /// Along y, metres.
    pub y_m: f64,
    /// The pin at the string's zero.
    pub from: String,
    /// The pin at its other end.
    pub to: String,
    /// Distance along the string, metres.
    pub at_m: f64,
}

/// Least, mean and greatest of a measured quantity.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, TS)]
pub struct Spread {
    /// The least.
    pub least: f64,
    /// The mean.
    pub mean: f64,
    /// The greatest.
    pub greatest: f64,
}

/// Passes logged on one layer or lift with one machine.
#[derive(Debug, Clone, Serialize, Deserialize, TS)]
pub struct PassRow {
    /// Which layer.
    pub layer: Layer,
    /// Which lift; none for other layers.
    pub lift: Option<u32>,
    /// The machine, as named when logged.
    pub plant: String,
    /// Passes done.
    pub done: u32,
    /// Passes wanted; none where no published figure is held for this machine.
    pub wanted: Option<u32>,
    /// Whether anything still moved under the plate at the last pass; none if not said.
    pub still_moving: Option<bool>,
    /// When the last pass was made.
    pub last_at: String,
    /// How many came sooner after the one before than this machine can go over the layer; none where
    /// its width is not in the plan.
    pub quick: Option<u32>,
    /// The least minutes of a pass; none where its width is not in the plan.
    pub pass_min: Option<f64>,
}

/// The plan view in local metres, x along the reference edge, y to its left.
#[derive(Debug, Clone, Serialize, Deserialize, TS)]
pub struct Drawing {
    /// The outline as a ring; chords keep within 0.5 mm of arcs.
    pub outline: Vec<[f64; 2]>,
    /// The area to dig, working room included.
    pub dig: Vec<[f64; 2]>,
    /// Holes as rings.
    pub holes: Vec<Vec<[f64; 2]>>,
    /// The reference edge as a line.
    pub edge: Vec<[f64; 2]>,
    /// Pins in walking order.
    pub pins: Vec<PinView>,
    /// Strings between pins.
    pub strings: Vec<StringView>,
    /// Sides with their length or radius, for dimensions.
    pub dimensions: Vec<DimensionView>,
    /// Area of the paving.
    pub area_m2: f64,
    /// Perimeter of the paving.
    pub perimeter_m: f64,
}

/// A pin.
#[derive(Debug, Clone, Serialize, Deserialize, TS)]
pub struct PinView {
    /// Its name: R1, R2… along the reference edge, F1… along the far edge.
    pub name: String,
    /// Along the frame's x.
    pub x_m: f64,
    /// Along the frame's y.
    pub y_m: f64,
    /// Distance along the reference edge.
    pub at_m: f64,
    /// Finished level here.
    pub finished_mm: f64,
    /// Formation level here.
    pub formation_mm: f64,
}

/// A string between two pins, marked at finished level.
#[derive(Debug, Clone, Serialize, Deserialize, TS)]
pub struct StringView {
    /// Pin at its zero.
    pub from: String,
    /// Pin at its other end.
    pub to: String,
    /// Straight length.
    pub length_m: f64,
    /// Sag at the middle of a 3 g/m line pulled to 50 N, shown once it passes 2 mm.
    pub sag_mm: Option<f64>,
}

/// One side of the outline for dimensioning.
#[derive(Debug, Clone, Serialize, Deserialize, TS)]
pub struct DimensionView {
    /// Where it starts.
    pub from: [f64; 2],
    /// Where it ends.
    pub to: [f64; 2],
    /// Its middle, on the line itself.
    pub middle: [f64; 2],
    /// Its length along the line.
    pub length_m: f64,
    /// Its radius where it is an arc.
    pub radius_m: Option<f64>,
}

/// A dip with its answer.
#[derive(Debug, Clone, Serialize, Deserialize, TS)]
pub struct DipView {
    /// The entry's identity.
    pub entry: String,
    /// Which layer.
    pub layer: Layer,
    /// Which lift.
    pub lift: Option<u32>,
    /// Where it was taken.
    pub x_m: f64,
    /// Where it was taken.
    pub y_m: f64,
    /// The string it was taken from: pin at its zero.
    pub from: String,
    /// The string's other pin.
    pub to: String,
    /// Distance along the string from its zero.
    pub at_m: f64,
    /// How far the string was raised.
    pub raise_mm: f64,
    /// What the tape read.
    pub reading_mm: f64,
    /// What it should have read.
    pub target_mm: f64,
    /// How high it is; negative when low.
    pub high_mm: f64,
    /// High, right or low.
    pub word: Word,
    /// Whether a newer dip at the same place and layer has taken its place.
    pub superseded: bool,
    /// When it was taken.
    pub at: String,
    /// Who took it.
    pub who: String,
}

/// What a tape should read at a place, before and after the reading.
#[derive(Debug, Clone, Serialize, Deserialize, TS)]
pub struct DipTarget {
    /// What the tape should read.
    pub target_mm: f64,
    /// Where that is.
    pub x_m: f64,
    /// Where that is.
    pub y_m: f64,
    /// The string's straight length.
    pub length_m: f64,
    /// Tolerance above design.
    pub high_by_mm: f64,
    /// Tolerance below design.
    pub low_by_mm: f64,
    /// With a reading given: how high it is; negative when low.
    pub high_mm: Option<f64>,
    /// With a reading given: high, right or low.
    pub word: Option<Word>,
    /// With a reading given: what it costs in stone or sand to leave it low everywhere.
    pub costs: Option<Phrase>,
    /// Asked once, kindly: the reading is far from what its neighbours say.
    pub doubt: Option<Phrase>,
}

/// A photo kept on the job.
#[derive(Debug, Clone, Serialize, Deserialize, TS)]
pub struct PhotoView {
    /// The entry's identity.
    pub entry: String,
    /// SHA-256 of the kept bytes, in hexadecimal.
    pub sha256: String,
    /// The stage it proves.
    pub stage: Stage,
    /// What it shows, in the person's words.
    pub caption: String,
    /// The pin it was taken at; empty where it names none.
    pub pin: String,
    /// When it was taken.
    pub at: String,
    /// Who took it.
    pub who: String,
}

/// The last thing done, for undo.
#[derive(Debug, Clone, Serialize, Deserialize, TS)]
pub struct UndoView {
    /// The entry that would be struck.
    pub entry: String,
    /// What it was, in words.
    pub says: Phrase,
}

/// A completion record that was handed out.
#[derive(Debug, Clone, Serialize, Deserialize, TS)]
pub struct IssuedRecord {
    /// Issue number, from 1.
    pub number: u32,
    /// When it was issued.
    pub at: String,
    /// Who issued it.
    pub who: String,
    /// The file's name in the store's papers folder.
    pub file: String,
    /// Who signed it, the customer first.
    pub signed_by: Vec<SignatureView>,
    /// Entries that were logged after it.
    pub logged_since: u32,
}

/// One diary entry as a screen shows it.
#[derive(Debug, Clone, Serialize, Deserialize, TS)]
pub struct EntryView {
    /// The entry's identity.
    pub id: String,
    /// Its kind: note, dip, pass, photo, strike and so on.
    pub kind: String,
    /// When it happened.
    pub at: String,
    /// When it was recorded, where that differs by more than five minutes.
    pub late: Option<String>,
    /// Who logged it.
    pub who: String,
    /// The stage it belongs to.
    pub stage: Option<Stage>,
    /// What it says.
    pub says: Phrase,
    /// The photo, where it is one.
    pub photo: Option<String>,
    /// Who struck it, when and why.
    pub struck: Option<StruckView>,
    /// Whether it may be struck from the diary.
    pub can_strike: bool,
}

/// How an entry was struck.
#[derive(Debug, Clone, Serialize, Deserialize, TS)]
pub struct StruckView {
    /// Who.
    pub who: String,
    /// When.
    pub at: String,
    /// Why.
    pub reason: String,
}

/// What came of logging.
#[derive(Debug, Clone, Serialize, Deserialize, TS)]
pub struct Logged {
    /// The new entry's identity.
    pub id: String,
    /// The answer to a dip.
    pub answer: Option<DipAnswer>,
    /// What kinds of data changed, so that a screen knows what to read again.
    pub changed: Vec<Changed>,
}

/// Kinds of data that an operation can change.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum Changed {
    /// The list of jobs.
    Shelf,
    /// A job's folded state and diary.
    Job,
    /// Photos on disk.
    Photos,
    /// Papers on disk.
    Papers,
    /// The person and other settings.
    Settings,
}

/// The answer to a dip.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, TS)]
pub struct DipAnswer {
    /// What the tape should have read.
    pub target_mm: f64,
    /// How high it is; negative when low.
    pub high_mm: f64,
    /// High, right or low.
    pub word: Word,
}

/// A plan looked over while it is being typed.
#[derive(Debug, Clone, Serialize, Deserialize, TS)]
pub struct PlanLook {
    /// Every problem; empty when the plan is good.
    pub problems: Vec<Problem>,
    /// The drawing, where the plan is good.
    pub drawing: Option<Drawing>,
    /// The section, where the plan is good.
    pub section: Option<Section>,
    /// The take-off as `fairfall plan --json` gives it, where the plan is good.
    #[ts(type = "unknown")]
    pub answer: Option<serde_json::Value>,
    /// Headline figures, where the plan is good.
    pub figures: Option<PlanFigures>,
}

/// Headline figures of a plan.
#[derive(Debug, Clone, Serialize, Deserialize, TS)]
pub struct PlanFigures {
    /// Area of the paving.
    pub area_m2: f64,
    /// Perimeter of the paving.
    pub perimeter_m: f64,
    /// Mean depth to dig.
    pub dig_depth_mm: f64,
    /// Ground to dig, in the solid.
    pub dig_solid_m3: f64,
    /// Ground to take away, loose, least and most.
    pub dig_loose_m3: [f64; 2],
    /// Stone.
    pub sub_base_t: f64,
    /// Bed sand.
    pub bed_t: f64,
    /// Blocks to buy.
    pub blocks: u32,
    /// Joint sand.
    pub joint_sand_kg: f64,
    /// Haunch concrete.
    pub haunch_m3: f64,
    /// Every default used, with its source.
    pub defaults: Vec<DefaultUsed>,
    /// Cautions that apply.
    pub cautions: Vec<Phrase>,
}

/// A laying to be drawn, with its figures.
#[derive(Debug, Clone, Serialize, Deserialize, TS)]
pub struct LayingView {
    /// Its figures, as `fairfall lay --json` gives them.
    #[serde(flatten)]
    pub figures: LayingFigures,
    /// Blocks to buy, with the allowance.
    pub buy: u32,
    /// What one unit of the paths is in metres.
    pub unit_m: f64,
    /// Lower left and upper right corner of the outline, metres.
    pub bounds_m: [[f64; 2]; 2],
    /// The numbers of the courses, at their starts outside the paving.
    pub numbers: Vec<LabelView>,
    /// The pieces, one path a kind.
    pub paths: LayingPaths,
}

/// SVG path data, x along the reference edge, y to its left: to be turned over for a screen whose y
/// runs down.
#[derive(Debug, Clone, Serialize, Deserialize, TS)]
pub struct LayingPaths {
    /// The outline and its holes.
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
    /// Pieces under a third of a block, which are among the others too.
    pub small: String,
}

/// Words at a place.
#[derive(Debug, Clone, Serialize, Deserialize, TS)]
pub struct LabelView {
    /// The words.
    pub text: String,
    /// Their middle, metres.
    pub x_m: f64,
    /// The same.
    pub y_m: f64,
}

/// A value that the plan did not give.
#[derive(Debug, Clone, Serialize, Deserialize, TS)]
pub struct DefaultUsed {
    /// Which value, as a path in the plan file.
    pub key: String,
    /// What was used.
    #[ts(type = "number | string | number[]")]
    pub value: serde_json::Value,
    /// Where it comes from.
    pub source: String,
    /// How well that is known: seen, secondary, memory, practice or computed.
    pub status: String,
}

/// Unsaved input by key, kept so that nothing typed is lost when the app is ended.
#[derive(Debug, Clone, Serialize, Deserialize, TS)]
#[ts(type = "Record<string, unknown>")]
pub struct Drafts(pub BTreeMap<String, serde_json::Value>);

/// A job that was begun.
#[derive(Debug, Clone, Serialize, Deserialize, TS)]
pub struct Started {
    /// Its identity.
    pub job: String,
    /// What kinds of data changed.
    pub changed: Vec<Changed>,
}
