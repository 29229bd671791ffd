//! A clock that is told the time, and dice that fall the same way every time.

use chrono::{DateTime, Duration, FixedOffset};
use fairfall_core::api::Desk;
use fairfall_core::outside::Outside;
use fairfall_core::store::{Store, StoreError};

/// Chance with a seed (SplitMix64 of Steele, Lea and Flood, 2014).
#[derive(Debug, Clone)]
pub struct Dice(u64);

impl Dice {
    /// Dice that fall as this seed has them fall.
    pub const fn new(seed: u64) -> Self {
        Dice(seed)
    }

    /// Any number.
    pub fn roll(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }

    /// A number below another, which is above 0.
    pub fn below(&mut self, bound: u64) -> u64 {
        self.roll() % bound
    }
}

/// A clock that shows the time it was told, and a second more each time it is looked at.
#[derive(Debug, Clone)]
pub struct Told {
    now: DateTime<FixedOffset>,
    dice: Dice,
}

impl Told {
    /// A clock that shows this time next (RFC 3339).
    ///
    /// # Errors
    /// Where this is no time.
    pub fn at(time: &str, seed: u64) -> Result<Told, chrono::ParseError> {
        Ok(Told { now: DateTime::parse_from_rfc3339(time)?, dice: Dice::new(seed) })
    }
}

impl Outside for Told {
    fn now(&mut self) -> DateTime<FixedOffset> {
        let shown = self.now;
        self.now += Duration::seconds(1);
        shown
    }

    fn random(&mut self) -> [u8; 10] {
        let [a, b] = [self.dice.roll().to_be_bytes(), self.dice.roll().to_be_bytes()];
        let bytes = [a, b].concat();
        std::array::from_fn(|i| bytes.get(i).copied().unwrap_or_default())
    }
}

/// A desk over a store in a folder, with a clock that was told the time.
///
/// # Errors
/// Where the store cannot be opened.
pub fn desk(folder: &std::path::Path, told: Told) -> Result<Desk, StoreError> {
    let store = Store::open_or_begin(folder, "test")?;
    Ok(Desk { store, outside: Box::new(told) })
}
