//! What the core takes from outside: the time and chance. The faces hand them in; tests hand in
//! their own.

use chrono::{DateTime, FixedOffset};
use uuid::{Builder, Uuid};

/// The clock and the dice.
pub trait Outside: Send {
    /// The time now with the local offset.
    fn now(&mut self) -> DateTime<FixedOffset>;
    /// Random bytes for a new identity.
    fn random(&mut self) -> [u8; 10];
    /// Random bytes for a new key; none where the machine has no chance that nobody can guess.
    fn secret(&mut self) -> Option<[u8; 32]> {
        let mut bytes = [0; 32];
        for part in bytes.chunks_mut(10) {
            let random = self.random();
            part.iter_mut().zip(random).for_each(|(byte, chance)| *byte = chance);
        }
        Some(bytes)
    }
}

/// A new identity (UUID version 7, RFC 9562): the time in milliseconds, then chance.
pub fn new_id(outside: &mut dyn Outside) -> Uuid {
    let millis = u64::try_from(outside.now().timestamp_millis()).unwrap_or(0);
    let random = outside.random();
    Builder::from_unix_timestamp_millis(millis, &random).into_uuid()
}
