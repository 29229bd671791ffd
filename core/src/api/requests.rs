//! What a screen sends: one struct of arguments a request.

use serde::Deserialize;
use ts_rs::TS;

use crate::buildup::Layer;

/// No arguments.
#[derive(Debug, Clone, Copy, Deserialize, TS)]
pub struct Nothing {}

/// Which job.
#[derive(Debug, Clone, Deserialize, TS)]
pub struct OfJob {
    /// The job's identity.
    pub job: String,
}

/// A layer of a job.
#[derive(Debug, Clone, Deserialize, TS)]
pub struct OfLayer {
    /// The job's identity.
    pub job: String,
    /// Which layer.
    pub layer: Layer,
    /// Which lift of the sub-base; left out, its finished top.
    #[ts(optional)]
    pub lift: Option<u32>,
}

/// Who holds the phone now.
#[derive(Debug, Clone, Deserialize, TS)]
pub struct SetPerson {
    /// The name that entries carry from now on.
    pub name: String,
}

/// A plan as it stands on the screen, to be looked over without keeping it.
#[derive(Debug, Clone, Deserialize, TS)]
pub struct PlanText {
    /// The plan file's text.
    pub text: String,
}

/// A new plan for a job that is under way.
#[derive(Debug, Clone, Deserialize, TS)]
pub struct RevisePlan {
    /// The job's identity.
    pub job: String,
    /// The plan file's text.
    pub text: String,
}

/// A place on a string for a layer, with the reading once there is one.
#[derive(Debug, Clone, Deserialize, TS)]
pub struct DipPlace {
    /// The job's identity.
    pub job: String,
    /// Which layer.
    pub layer: Layer,
    /// Which lift of the sub-base; left out, its finished top.
    #[ts(optional)]
    pub lift: Option<u32>,
    /// Pin at the string's zero.
    pub from: String,
    /// The string's other pin.
    pub to: String,
    /// Distance along the string from its zero, in metres.
    pub at_m: f64,
    /// How far the string is raised, in millimetres.
    pub raise_mm: f64,
    /// What the tape reads, in millimetres.
    #[ts(optional)]
    pub reading_mm: Option<f64>,
}

/// One thing that happened.
#[derive(Debug, Clone, Deserialize, TS)]
pub struct LogEntry {
    /// The job's identity.
    pub job: String,
    /// The kind of entry: note, dip, pass, photo, check, stage, delivery, strike.
    pub kind: String,
    /// What it says, by kind.
    #[ts(type = "unknown")]
    pub body: serde_json::Value,
    /// When it happened, where that is not now: RFC 3339 with offset.
    #[ts(optional)]
    pub at: Option<String>,
}

/// Unsaved input to keep, or to forget when the value is null.
#[derive(Debug, Clone, Deserialize, TS)]
pub struct KeepDraft {
    /// Which input.
    pub key: String,
    /// What was typed.
    #[ts(type = "unknown")]
    pub value: serde_json::Value,
}
