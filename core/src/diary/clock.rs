//! The hybrid logical clock: wall time that never runs backwards along a diary.

use serde::{Deserialize, Serialize};

/// Milliseconds since 1970 and a counter for entries within one.
///
/// After Kulkarni and others, "Logical Physical Clocks" (2014): an entry's time is the wall clock
/// or just after the newest entry seen, whichever is later.
#[derive(
    Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default, Serialize, Deserialize,
)]
pub struct HybridTime {
    /// Milliseconds since 1970-01-01T00:00Z.
    pub millis: i64,
    /// Position among entries with the same milliseconds.
    pub counter: u32,
}

impl HybridTime {
    /// The time of a new entry, given the newest seen and the wall clock.
    #[must_use]
    pub fn next(newest: Option<HybridTime>, wall_millis: i64) -> Self {
        match newest {
            Some(newest) if newest.millis >= wall_millis => match newest.counter.checked_add(1) {
                Some(counter) => HybridTime { millis: newest.millis, counter },
                None => HybridTime { millis: newest.millis.saturating_add(1), counter: 0 },
            },
            _ => HybridTime { millis: wall_millis, counter: 0 },
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn it_never_runs_backwards(walls in proptest::collection::vec(-5_i64..5, 1..50)) {
            let mut newest = None;
            for wall in walls {
                let next = HybridTime::next(newest, wall);
                prop_assert!(newest.is_none_or(|n| next > n));
                prop_assert!(next.millis >= wall);
                newest = Some(next);
            }
        }
    }
}
