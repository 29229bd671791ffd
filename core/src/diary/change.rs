//! Extra work, agreed before it goes on; and signatures drawn on the phone.

use serde::{Deserialize, Serialize};
use uuid::Uuid;

use super::Unit;

/// Extra work that was found, measured and priced.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Change {
    /// What is to be done, and why.
    pub what: String,
    /// How much of it.
    pub quantity: f64,
    /// In which unit.
    pub unit: Unit,
    /// The agreed price of one unit, in whole minor units (pence, cents).
    pub rate_minor: u64,
    /// The currency's code (ISO 4217), such as `GBP`.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub currency: String,
    /// A photo that shows it: SHA-256 of the kept bytes, in hexadecimal.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub photo: Option<String>,
    /// How and with whom it was agreed.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub agreed: String,
}

impl Change {
    /// The price in whole minor units, rounded half up; none where it is beyond what is counted.
    pub fn price_minor(&self) -> Option<u64> {
        let price = (self.quantity * self.rate_minor as f64).round();
        // Up to here every whole number has a float of its own.
        (0.0..=9e15).contains(&price).then_some(price as u64)
    }
}

/// A paper that is signed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum SignedPaper {
    /// The completion record, before it is issued.
    CompletionRecord,
    /// A change note.
    ChangeNote,
}

/// Who signs.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Role {
    /// The customer, or who signs for them.
    Customer,
    /// The layer.
    Layer,
}

/// A signature as it was drawn.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Signature {
    /// What is signed.
    pub paper: SignedPaper,
    /// The change that a change note is of.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub change: Option<Uuid>,
    /// The signer's name in letters.
    pub name: String,
    /// As whom.
    pub role: Role,
    /// Strokes of the pen, each as places in a box 1000 wide and 400 high, y down.
    pub strokes: Vec<Vec<[u16; 2]>>,
    /// Whether the name was typed in place of drawing it; there are no strokes then, and papers say so.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub typed: bool,
}

impl Signature {
    /// The box that strokes are drawn in: its width and height.
    pub const BOX: [u16; 2] = [1000, 400];

    /// Places of all strokes together.
    pub fn places(&self) -> usize {
        self.strokes.iter().map(Vec::len).sum()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn change(quantity: f64, rate_minor: u64) -> Change {
        Change {
            what: "a soft spot".to_owned(),
            quantity,
            unit: Unit::M3,
            rate_minor,
            currency: "GBP".to_owned(),
            photo: None,
            agreed: String::new(),
        }
    }

    #[test]
    fn a_price_by_hand() {
        // Hand arithmetic: 0.45 m³ at 96.50 is 43.425, which is 43.43 in whole pence.
        assert_eq!(change(0.45, 9650).price_minor(), Some(4343));
        assert_eq!(change(3.0, 0).price_minor(), Some(0));
        assert_eq!(change(1e6, u64::MAX).price_minor(), None);
        assert_eq!(change(f64::NAN, 1).price_minor(), None);
    }
}
