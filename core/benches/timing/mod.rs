//! Timing for the benches.

#![expect(clippy::disallowed_methods, reason = "a bench measures time")]

use std::time::{Duration, Instant};

/// How long a sample lasts at least. On a machine shared with other work a long sample is held up and
/// a short one slips through, so that only samples of like length make honest ratios.
const SAMPLE: Duration = Duration::from_millis(25);

/// The median time of the work over some samples, each of as many runs as fill it.
pub fn median(samples: u32, mut work: impl FnMut()) -> Duration {
    let mut time = |runs: u32| {
        let start = Instant::now();
        (0..runs).for_each(|_| work());
        start.elapsed()
    };
    let once = time(1).max(Duration::from_nanos(100));
    let runs = SAMPLE.as_nanos().div_ceil(once.as_nanos()) as u32;
    let mut times: Vec<Duration> = (0..samples).map(|_| time(runs) / runs).collect();
    times.sort();
    times.get(times.len() / 2).copied().unwrap_or_default()
}
