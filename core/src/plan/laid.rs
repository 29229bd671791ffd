//! Blocks that were counted already. A job's plan is asked for again with every entry, and laying it
//! takes longer than all the rest.

use std::sync::{Mutex, PoisonError};

use serde_json::Value;

use crate::laying::BlockCount;

/// Plans whose count is remembered: those of a few jobs, and a draft.
const KEPT: usize = 8;

static COUNTED: Mutex<Vec<(Value, BlockCount)>> = Mutex::new(Vec::new());

/// The count for a plan file, worked out the first time. The file says all that it depends on; a plan
/// without one is counted each time.
pub(super) fn once(file: &Value, count: impl FnOnce() -> BlockCount) -> BlockCount {
    if file.is_null() {
        return count();
    }
    let lock = || COUNTED.lock().unwrap_or_else(PoisonError::into_inner);
    if let Some((_, counted)) = lock().iter().find(|(known, _)| known == file) {
        return *counted;
    }
    let counted = count();
    let mut known = lock();
    if known.len() >= KEPT {
        known.remove(0);
    }
    known.push((file.clone(), counted));
    counted
}
