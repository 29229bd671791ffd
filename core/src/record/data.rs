//! What a completion record says, as plain data. Papers set it in type and compute nothing.

use serde::{Deserialize, Serialize};

use super::ThicknessDrawn;
use crate::api::views::{DefaultUsed, DipView, Drawing, Section, Spread};
use crate::buildup::Layer;
use crate::job::Stage;

/// A completion record, issued or in draft.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub struct Record {
    /// Issue number from 1; none for a draft, which says so on every page.
    pub number: Option<u32>,
    /// The issue that this one replaces.
    pub replaces: Option<u32>,
    /// What has been logged since the replaced issue, a sentence each.
    pub changed_since: Vec<String>,
    /// The job's title.
    pub title: String,
    /// Where it is; empty where the plan does not say.
    pub place: String,
    /// For whom; empty where the plan does not say.
    pub customer: String,
    /// By whom: the firm or person of the plan, else everyone who logged.
    pub by: String,
    /// When this paper was made, RFC 3339 with offset.
    pub made_at: String,
    /// Who made it.
    pub made_by: String,
    /// First day of the diary after the plan, as a date (2026-04-07); empty with no entries.
    pub first_day: String,
    /// Last day of the diary; empty with no entries.
    pub last_day: String,
    /// What stands over the facts of the first page: what was built, or so far.
    pub heading: String,
    /// What stands over the drawings: as built, or as far as built.
    pub drawn_heading: String,
    /// What is not finished, in a sentence; empty where every stage is closed.
    pub standing: String,
    /// The use it was built for, in words.
    pub built_for: String,
    /// What it was not built for, in words.
    pub not_built_for: String,
    /// The documents that its limits are taken from, in words.
    pub held_to: String,
    /// Plan view with pins.
    pub drawing: Drawing,
    /// Section, design against measured.
    pub section: Section,
    /// Layer by layer from the formation up, the sub-base by lift.
    pub layers: Vec<RecordLayer>,
    /// Every dip that counts, in the order they were taken.
    pub dips: Vec<DipView>,
    /// Levels of the finished surface at its pins.
    pub surface: Vec<SurfaceLevel>,
    /// Materials delivered, in order.
    pub deliveries: Vec<RecordDelivery>,
    /// Photos in order, by stage.
    pub photos: Vec<RecordPhoto>,
    /// What was noted of ground, weather and concrete, in order.
    #[serde(default)]
    pub site: Vec<RecordNote>,
    /// What differs from the plan, in the open.
    pub exceptions: Vec<Exception>,
    /// Stages before the handing over that are not closed.
    pub unfinished: u32,
    /// Entries that are not as they were written, or do not follow the one before.
    pub changed_entries: u32,
    /// What was not measured, a sentence each.
    pub not_measured: Vec<String>,
    /// Stages with who closed them and when.
    pub stages: Vec<RecordStage>,
    /// Signatures drawn under it, the customer's first; none leaves lines to sign on.
    pub signatures: Vec<RecordSignature>,
    /// Care advice in plain words; general advice, deferring to makers.
    pub care: Vec<String>,
    /// Cautions that apply to the paving from now on.
    pub cautions: Vec<String>,
    /// Figures that the plan did not give, with their source.
    pub defaults: Vec<DefaultUsed>,
}

/// One layer, or one lift, as built.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub struct RecordLayer {
    /// Which layer.
    pub layer: Layer,
    /// Which lift of the sub-base.
    pub lift: Option<u32>,
    /// Its name in words: "Sub-base, lift 1".
    pub name: String,
    /// What it is made of, in words.
    pub material: String,
    /// Designed thickness; none for the formation.
    pub design_mm: Option<f64>,
    /// Measured thickness; none reads "not measured".
    pub measured_mm: Option<Spread>,
    /// Its thickness over the whole paving; none where its dips do not tell it.
    #[serde(default)]
    pub thickness: Option<ThicknessDrawn>,
    /// How many places the thickness was measured at.
    pub measured_places: u32,
    /// Tolerance above design.
    pub high_by_mm: f64,
    /// Tolerance below design.
    pub low_by_mm: f64,
    /// Where the tolerance comes from.
    pub tolerance_source: String,
    /// Dips that count.
    pub dips: u32,
    /// Those outside the tolerance.
    pub out: u32,
    /// Passes, by machine.
    pub passes: Vec<RecordPasses>,
}

/// Passes of one machine on one layer or lift.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub struct RecordPasses {
    /// The machine as named when logged.
    pub plant: String,
    /// Passes done.
    pub done: u32,
    /// Passes wanted; none reads "no published figure held for this machine".
    pub wanted: Option<u32>,
    /// When the first was made, RFC 3339 with offset.
    pub first_at: String,
    /// When the last was made.
    pub last_at: String,
    /// Whether anything still moved under the plate at the last pass; none reads "not said".
    pub still_moving: Option<bool>,
}

/// The finished surface at a pin: design against the nearest dip within a stated reach.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub struct SurfaceLevel {
    /// The pin.
    pub pin: String,
    /// Designed finished level against the job datum.
    pub design_mm: f64,
    /// Measured level; none reads "not measured".
    pub measured_mm: Option<f64>,
}

/// A delivery.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub struct RecordDelivery {
    /// When, RFC 3339 with offset.
    pub at: String,
    /// What, in words.
    pub what: String,
    /// How much, with its unit.
    pub quantity: String,
    /// Ticket number; empty where none was noted.
    pub ticket: String,
}

/// A photo for the record.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub struct RecordPhoto {
    /// SHA-256 of the kept bytes, in hexadecimal.
    pub sha256: String,
    /// The stage it proves.
    pub stage: Stage,
    /// The stage in words.
    pub stage_name: String,
    /// What it shows.
    pub caption: String,
    /// When it was taken.
    pub at: String,
    /// Who took it.
    pub who: String,
}

/// Something noted on the site.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub struct RecordNote {
    /// When, RFC 3339 with offset.
    pub at: String,
    /// Who.
    pub who: String,
    /// A sentence.
    pub text: String,
}

/// Something that differs from the plan.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub struct Exception {
    /// When, RFC 3339 with offset.
    pub at: String,
    /// Who.
    pub who: String,
    /// "out of tolerance", "passed with a reason", "struck", "plan changed", "clock".
    pub kind: String,
    /// A sentence.
    pub text: String,
}

/// A stage as closed.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub struct RecordStage {
    /// Which stage.
    pub stage: Stage,
    /// Its name in words.
    pub name: String,
    /// "done", "passed with a reason", "not done".
    pub state: String,
    /// Who closed it; empty while open.
    pub by: String,
    /// When; empty while open.
    pub at: String,
    /// The reason, where something was missing.
    pub reason: String,
}

/// A signature as drawn.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub struct RecordSignature {
    /// As whom, in words.
    pub role: String,
    /// The signer's name in letters.
    pub name: String,
    /// When, RFC 3339 with offset.
    pub at: String,
    /// Strokes, each as places in a box 1000 wide and 400 high, y down.
    pub strokes: Vec<Vec<[u16; 2]>>,
    /// Entries other than signatures that were logged after it.
    pub logged_since: u32,
}
