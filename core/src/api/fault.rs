//! What crosses to a screen when a request fails: a code, and details for the words.

use serde::Serialize;
use serde_json::{Value, json};

use crate::job::FoldError;
use crate::plan::Problem;
use crate::store::StoreError;

/// A failure as a screen gets it. The screen picks words, loudness and a next step by the code.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Fault {
    /// One of: bad_input, not_found, disk_full, damaged, newer_store, photo_unreadable,
    /// photo_too_large, photo_cut_short, stopped, machine.
    pub code: &'static str,
    /// What the words need: problems for bad input, text for the machine.
    pub details: Value,
}

impl Fault {
    /// Input with these problems.
    pub fn bad_input(problems: &[Problem]) -> Self {
        Fault { code: "bad_input", details: json!({ "problems": problems }) }
    }

    /// A request that no screen of this version sends.
    pub fn bad_request(why: &str) -> Self {
        Fault::bad_input(&[Problem::new("", why, "a request of this version")])
    }

    /// Something that is not there.
    pub fn not_found(what: &str) -> Self {
        Fault { code: "not_found", details: json!({ "text": what }) }
    }

    /// The machine failed.
    pub fn machine(why: &str) -> Self {
        Fault { code: "machine", details: json!({ "text": why }) }
    }
}

impl From<StoreError> for Fault {
    fn from(error: StoreError) -> Self {
        let text = json!({ "text": error.to_string() });
        let code = match error {
            StoreError::NotThere { .. } | StoreError::NoSuchPhoto { .. } => "not_found",
            StoreError::Damaged { .. } | StoreError::PhotoChanged { .. } => "damaged",
            StoreError::Newer => "newer_store",
            StoreError::DiskFull => "disk_full",
            StoreError::PhotoUnreadable { .. } => "photo_unreadable",
            StoreError::PhotoTooLarge { .. } => "photo_too_large",
            StoreError::PhotoCutShort => "photo_cut_short",
            StoreError::Json(_)
            | StoreError::Machine(_)
            | StoreError::Database(_)
            | StoreError::NoChance => "machine",
        };
        Fault { code, details: text }
    }
}

impl From<FoldError> for Fault {
    fn from(error: FoldError) -> Self {
        Fault { code: "damaged", details: json!({ "text": error.to_string() }) }
    }
}
