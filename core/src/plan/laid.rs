//! Layings that were worked out already, in short. A job's plan is asked for again with every entry, and laying it
//! takes longer than all the rest.

use std::sync::{Mutex, PoisonError};

use serde_json::Value;

use crate::laying::BlockCount;
use crate::words::Phrase;

/// What the rest of a plan wants to know of its laying.
#[derive(Debug, Clone)]
pub struct Laid {
    /// How many blocks.
    pub count: BlockCount,
    /// What is wrong with it, the worst first as the laying has them.
    pub problems: Vec<Phrase>,
}

/// Plans whose laying is remembered: those of a few jobs, and a draft.
const KEPT: usize = 8;

static LAID: Mutex<Vec<(Value, Laid)>> = Mutex::new(Vec::new());

/// The laying of a plan file, worked out the first time. The file says all that it depends on; a plan
/// without one is laid each time.
pub(super) fn once(file: &Value, lay: impl FnOnce() -> Laid) -> Laid {
    if file.is_null() {
        return lay();
    }
    let lock = || LAID.lock().unwrap_or_else(PoisonError::into_inner);
    if let Some((_, laid)) = lock().iter().find(|(known, _)| known == file) {
        return laid.clone();
    }
    let laid = lay();
    let mut known = lock();
    if known.len() >= KEPT {
        known.remove(0);
    }
    known.push((file.clone(), laid.clone()));
    laid
}
