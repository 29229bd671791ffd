//! The machine's clock and chance.

use chrono::{DateTime, FixedOffset};
use fairfall_core::outside::Outside;

/// The system clock and the operating system's random numbers.
#[derive(Debug, Clone, Copy)]
pub struct System;

impl Outside for System {
    #[expect(clippy::disallowed_methods, reason = "here the app hands the clock in")]
    fn now(&mut self) -> DateTime<FixedOffset> {
        chrono::Local::now().fixed_offset()
    }

    fn random(&mut self) -> [u8; 10] {
        let mut bytes = [0; 10];
        if getrandom::fill(&mut bytes).is_err() {
            // Without a source of chance the nanoseconds must do: identities also hold the time.
            let nanos = self.now().timestamp_nanos_opt().unwrap_or_default();
            bytes = std::array::from_fn(|i| nanos.to_be_bytes().get(i % 8).copied().unwrap_or(0));
        }
        bytes
    }

    fn secret(&mut self) -> Option<[u8; 32]> {
        let mut bytes = [0; 32];
        getrandom::fill(&mut bytes).ok().map(|()| bytes)
    }
}
