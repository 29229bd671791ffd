//! One entry, its canonical form and its hash.

use std::collections::BTreeMap;

use chrono::{DateTime, FixedOffset};
use serde::{Deserialize, Serialize};
use sha2::{Digest, Sha256};
use uuid::Uuid;

use super::{Body, BodyError, HybridTime};

/// What one device wrote about one job. Never updated, never deleted.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Entry {
    /// Identity (UUID version 7).
    pub id: Uuid,
    /// The job.
    pub job: Uuid,
    /// The device that wrote it.
    pub device: Uuid,
    /// Place in this device's chain for this job, from 1.
    pub seq: u32,
    /// Hybrid time: the first key of the diary's order.
    pub clock: HybridTime,
    /// When it was written down, with the local offset.
    pub recorded_at: DateTime<FixedOffset>,
    /// When it happened.
    pub at: DateTime<FixedOffset>,
    /// Who logged it.
    pub who: String,
    /// Its kind. A kind from a newer version is kept as it is.
    pub kind: String,
    /// What it says, by kind.
    pub body: serde_json::Value,
    /// Hash of the entry before in this device's chain for this job; empty for the first.
    pub prev: String,
    /// SHA-256 in hexadecimal over the canonical form of all the above.
    pub hash: String,
}

/// What is written of an entry before it takes its place in a chain.
#[derive(Debug, Clone, PartialEq)]
pub struct Draft {
    /// When it happened; none means when it is recorded.
    pub at: Option<DateTime<FixedOffset>>,
    /// Who logs it.
    pub who: String,
    /// What it says.
    pub body: Body,
}

/// Why a set of entries cannot be believed as it stands.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum ChainFault {
    /// The hash does not match the contents.
    #[error("entry {id} was changed after it was written")]
    Changed {
        /// Which.
        id: Uuid,
    },
    /// An entry is missing from a chain, or two have changed places.
    #[error("device {device}: entry {seq} does not follow the one before it")]
    Broken {
        /// Whose chain.
        device: Uuid,
        /// Where.
        seq: u32,
    },
}

impl Entry {
    /// A new entry at the end of a chain.
    ///
    /// # Errors
    /// [`serde_json::Error`] where the body has no JSON form.
    pub fn new(
        ids: (Uuid, Uuid, Uuid),
        previous: Option<(u32, &str)>,
        clock: HybridTime,
        now: DateTime<FixedOffset>,
        draft: Draft,
    ) -> Result<Entry, serde_json::Error> {
        let (id, job, device) = ids;
        let (seq, prev) = previous.map_or((1, ""), |(seq, hash)| (seq.saturating_add(1), hash));
        let (kind, body) = draft.body.to_parts()?;
        let mut entry = Entry {
            id,
            job,
            device,
            seq,
            clock,
            recorded_at: now,
            at: draft.at.unwrap_or(now),
            who: draft.who,
            kind,
            body,
            prev: prev.to_owned(),
            hash: String::new(),
        };
        entry.hash = entry.digest()?;
        Ok(entry)
    }

    /// What the entry says, or why this version does not know.
    ///
    /// # Errors
    /// [`BodyError`] for a kind or body that this version cannot read.
    pub fn read(&self) -> Result<Body, BodyError> {
        Body::read(&self.kind, &self.body)
    }

    /// SHA-256 in hexadecimal over the canonical JSON (RFC 8785) of the entry without its hash.
    ///
    /// # Errors
    /// [`serde_json::Error`] where a part has no canonical form.
    pub fn digest(&self) -> Result<String, serde_json::Error> {
        let mut value = serde_json::to_value(self)?;
        if let Some(members) = value.as_object_mut() {
            members.remove("hash");
        }
        let canonical = serde_json_canonicalizer::to_vec(&value)?;
        Ok(hex(&Sha256::digest(canonical)))
    }
}

/// Bytes in lower-case hexadecimal.
pub(crate) fn hex(bytes: &[u8]) -> String {
    use std::fmt::Write as _;
    bytes.iter().fold(String::with_capacity(bytes.len() * 2), |mut text, byte| {
        let _infallible = write!(text, "{byte:02x}");
        text
    })
}

/// Bytes from exactly as many hexadecimal digits, small letters among them, so that bytes have one
/// text; none where the text is anything else.
pub(crate) fn from_hex<const N: usize>(text: &str) -> Option<[u8; N]> {
    let digits = text.as_bytes();
    if digits.len() != N * 2 {
        return None;
    }
    let mut bytes = [0; N];
    for (byte, pair) in bytes.iter_mut().zip(digits.chunks_exact(2)) {
        for digit in pair {
            let value = match digit {
                b'0'..=b'9' => digit - b'0',
                b'a'..=b'f' => digit - b'a' + 10,
                _ => return None,
            };
            *byte = (*byte << 4) | value;
        }
    }
    Some(bytes)
}

/// Puts entries in the diary's order: hybrid clock, then device, then sequence.
pub fn order(entries: &mut [Entry]) {
    entries.sort_by_key(|entry| (entry.clock, entry.device, entry.seq));
}

/// Checks every device's chain: hashes, and that none is missing or out of place.
pub fn check_chains(entries: &[Entry]) -> Vec<ChainFault> {
    let mut faults = Vec::new();
    let mut chains: BTreeMap<(Uuid, Uuid), Vec<&Entry>> = BTreeMap::new();
    for entry in entries {
        if entry.digest().ok().as_deref() != Some(entry.hash.as_str()) {
            faults.push(ChainFault::Changed { id: entry.id });
        }
        chains.entry((entry.device, entry.job)).or_default().push(entry);
    }
    for ((device, _), mut chain) in chains {
        chain.sort_by_key(|entry| entry.seq);
        let mut before: (u32, &str) = (0, "");
        for entry in chain {
            if entry.seq != before.0.saturating_add(1) || entry.prev != before.1 {
                faults.push(ChainFault::Broken { device, seq: entry.seq });
            }
            before = (entry.seq, &entry.hash);
        }
    }
    faults
}

#[cfg(test)]
mod tests {
    use super::super::Note;
    use super::*;

    fn note(seq: u32, previous: Option<(u32, &str)>) -> Entry {
        let now = DateTime::parse_from_rfc3339("2026-04-07T08:40:00+01:00").unwrap();
        let draft = Draft {
            at: None,
            who: "Mina".to_owned(),
            body: Body::Note(Note { text: format!("note {seq}") }),
        };
        let clock = HybridTime { millis: i64::from(seq), counter: 0 };
        Entry::new(
            (Uuid::from_u128(seq.into()), Uuid::nil(), Uuid::nil()),
            previous,
            clock,
            now,
            draft,
        )
        .unwrap()
    }

    fn chain() -> Vec<Entry> {
        let first = note(1, None);
        let second = note(2, Some((1, &first.hash)));
        let third = note(3, Some((2, &second.hash)));
        vec![first, second, third]
    }

    #[test]
    fn a_whole_chain_holds_and_survives_json() {
        let entries = chain();
        assert_eq!(check_chains(&entries), []);
        let text = serde_json::to_string(&entries).unwrap();
        let back: Vec<Entry> = serde_json::from_str(&text).unwrap();
        assert_eq!(check_chains(&back), []);
    }

    #[test]
    fn every_change_to_a_chain_is_found() {
        let mut changed = chain();
        changed[1].body = serde_json::json!({ "text": "another" });
        assert!(matches!(check_chains(&changed)[..], [ChainFault::Changed { .. }]));
        let mut dropped = chain();
        dropped.remove(1);
        assert!(matches!(check_chains(&dropped)[..], [ChainFault::Broken { seq: 3, .. }]));
        let mut swapped = chain();
        let (one, two) = (swapped[1].seq, swapped[2].seq);
        swapped[1].seq = two;
        swapped[2].seq = one;
        assert!(!check_chains(&swapped).is_empty());
    }

    #[test]
    fn the_canonical_form_is_that_of_rfc_8785() {
        // RFC 8785 section 3.2.2, number serialisation, and 3.2.3, sorting of members.
        let value = serde_json::json!({ "b": 333_333_333.333_333_3_f64, "a": [1e30, 4.50, 2e-3] });
        let canonical = serde_json_canonicalizer::to_string(&value).unwrap();
        assert_eq!(canonical, r#"{"a":[1e+30,4.5,0.002],"b":333333333.3333333}"#);
    }
}
