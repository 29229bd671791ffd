//! Watching a paper being made, and stopping it.

use std::sync::atomic::{AtomicU32, Ordering};

use crate::error::PapersError;

/// Someone who watches a paper being made. It may be told from several threads.
pub trait Watch: Sync {
    /// Told how many steps are done, of how many. Answers whether to go on.
    fn goes_on(&self, done: u32, of: u32) -> bool;
}

/// Nobody watches, nobody stops.
#[derive(Debug, Clone, Copy, Default)]
pub struct Unwatched;

impl Watch for Unwatched {
    fn goes_on(&self, _: u32, _: u32) -> bool {
        true
    }
}

/// The steps of one paper.
pub(crate) struct Steps<'w> {
    watch: &'w dyn Watch,
    of: u32,
    done: AtomicU32,
}

impl<'w> Steps<'w> {
    /// So many steps, none of them done.
    pub(crate) fn new(watch: &'w dyn Watch, of: usize) -> Self {
        Steps { watch, of: u32::try_from(of).unwrap_or(u32::MAX), done: AtomicU32::new(0) }
    }

    /// One more step is done.
    ///
    /// # Errors
    /// [`PapersError::Stopped`] where whoever watches wants no more.
    pub(crate) fn done(&self) -> Result<(), PapersError> {
        let done = self.done.fetch_add(1, Ordering::Relaxed).saturating_add(1);
        if self.watch.goes_on(done.min(self.of), self.of) {
            Ok(())
        } else {
            Err(PapersError::Stopped)
        }
    }
}
