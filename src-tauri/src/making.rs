//! The paper in the making: how far it is, and whether it is still wanted.

use std::sync::atomic::{AtomicBool, AtomicU32, Ordering};
use std::sync::{Arc, Mutex, PoisonError};

use fairfall_papers::{PapersError, Watch};

/// How far one paper is.
#[derive(Debug, Default)]
struct Progress {
    done: AtomicU32,
    of: AtomicU32,
    stopped: AtomicBool,
    past_stopping: AtomicBool,
}

/// The papers in the making, of which a screen knows the newest.
#[derive(Debug, Clone, Default)]
pub struct Workshop(Arc<Mutex<Option<Arc<Progress>>>>);

/// One paper in the making; it is forgotten when this goes.
#[derive(Debug)]
pub struct Making {
    workshop: Workshop,
    progress: Arc<Progress>,
}

impl Workshop {
    fn newest(&self) -> std::sync::MutexGuard<'_, Option<Arc<Progress>>> {
        self.0.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// Begins a paper.
    pub fn begin(&self) -> Making {
        let progress = Arc::new(Progress::default());
        *self.newest() = Some(Arc::clone(&progress));
        Making { workshop: self.clone(), progress }
    }

    /// Steps done and steps in all of the newest paper in the making.
    pub fn progress(&self) -> Option<[u32; 2]> {
        let newest = self.newest();
        let progress = newest.as_ref()?;
        Some([&progress.done, &progress.of].map(|steps| steps.load(Ordering::Relaxed)))
    }

    /// Stops the newest paper, if it is not past stopping.
    pub fn stop(&self) -> bool {
        let newest = self.newest();
        let Some(progress) = newest.as_ref() else { return false };
        progress.stopped.store(true, Ordering::SeqCst);
        !progress.past_stopping.load(Ordering::SeqCst)
    }
}

impl Making {
    /// From here on the paper is kept and issued, unless it was stopped until now.
    ///
    /// # Errors
    /// [`PapersError::Stopped`].
    pub fn stop_no_more(&self) -> Result<(), PapersError> {
        // Held while deciding: a stop that was answered with yes is never overtaken.
        let _newest = self.workshop.newest();
        if self.progress.stopped.load(Ordering::SeqCst) {
            return Err(PapersError::Stopped);
        }
        self.progress.past_stopping.store(true, Ordering::SeqCst);
        Ok(())
    }
}

impl Watch for Making {
    fn goes_on(&self, done: u32, of: u32) -> bool {
        self.progress.done.fetch_max(done, Ordering::Relaxed);
        self.progress.of.store(of, Ordering::Relaxed);
        !self.progress.stopped.load(Ordering::SeqCst)
    }
}

impl Drop for Making {
    fn drop(&mut self) {
        let mut newest = self.workshop.newest();
        if newest.as_ref().is_some_and(|newest| Arc::ptr_eq(newest, &self.progress)) {
            *newest = None;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_paper_tells_how_far_it_is_and_can_be_stopped() {
        let workshop = Workshop::default();
        assert_eq!((workshop.progress(), workshop.stop()), (None, false));
        let making = workshop.begin();
        assert!(making.goes_on(2, 5));
        assert_eq!(workshop.progress(), Some([2, 5]));
        assert!(workshop.stop());
        assert!(!making.goes_on(3, 5));
        assert!(matches!(making.stop_no_more(), Err(PapersError::Stopped)));
        drop(making);
        assert_eq!(workshop.progress(), None);
    }

    #[test]
    fn what_is_being_issued_is_not_stopped() {
        let workshop = Workshop::default();
        let making = workshop.begin();
        making.stop_no_more().unwrap();
        assert!(!workshop.stop());
    }
}
