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
}

/// A new identity (UUID version 7, RFC 9562): the time in milliseconds, then chance.
pub fn new_id(outside: &mut dyn Outside) -> Uuid {
    let millis = u64::try_from(outside.now().timestamp_millis()).unwrap_or(0);
    let random = outside.random();
    Builder::from_unix_timestamp_millis(millis, &random).into_uuid()
}
