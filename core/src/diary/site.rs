//! What happens on a site besides dips and passes: soft spots, weather and what is expected of it,
//! stone spread, edge concrete, drop tests, snags, the closing of a day.

use chrono::NaiveDate;
use serde::{Deserialize, Serialize};
use ts_rs::TS;
use uuid::Uuid;

use crate::buildup::Layer;

/// A place along a string.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct OnString {
    /// Pin at the string's zero.
    pub from: String,
    /// The string's other pin.
    pub to: String,
    /// Distance along the string from its zero, metres.
    pub at_m: f64,
}

/// A soft spot found in the formation.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SoftSpot {
    /// Where, by the nearest string.
    pub place: OnString,
    /// What it is like: how wide, what came up.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub text: String,
}

/// A soft spot dug out and filled.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SoftSpotFilled {
    /// The entry of the soft spot.
    pub spot: Uuid,
    /// How deep it was dug below the formation, millimetres.
    pub depth_mm: f64,
    /// What it was filled with.
    pub with: String,
}

/// The weather on the site, in a word.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum Sky {
    /// No rain.
    Dry,
    /// Rain, snow or hail.
    Wet,
    /// Freezing.
    Frost,
    /// Hot sun or a drying wind.
    Drying,
}

impl Sky {
    /// The key of its name in the catalogue of words.
    pub const fn word(self) -> &'static str {
        match self {
            Sky::Dry => "@sky.dry",
            Sky::Wet => "@sky.wet",
            Sky::Frost => "@sky.frost",
            Sky::Drying => "@sky.drying",
        }
    }
}

/// The weather as it was noted.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Weather {
    /// In a word.
    pub sky: Sky,
    /// The air, degrees Celsius.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub temperature_c: Option<f64>,
    /// Anything to add.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub text: String,
}

/// The weather as it is expected on a day.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Forecast {
    /// Which day.
    pub day: NaiveDate,
    /// In a word.
    pub sky: Sky,
    /// Its coldest hour, degrees Celsius.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub low_c: Option<f64>,
    /// Its warmest hour, degrees Celsius.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub high_c: Option<f64>,
    /// Anything to add.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub text: String,
}

/// A day's work closed, and how the place is left.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct DayClosed {
    /// Whether the open work is covered, or nothing open needs it.
    pub covered: bool,
    /// Whether barriers and lights stand where somebody could fall.
    pub guarded: bool,
    /// What is left uncovered or unguarded, and why.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub left: String,
    /// How long the crew worked that day, all hands together, in minutes.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub worked_min: Option<u32>,
    /// What comes next.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub tomorrow: String,
}

/// How damp stone or sand is as it is spread.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum Damp {
    /// Too dry to compact.
    Dry,
    /// Damp as it came.
    AsItCame,
    /// Water was put on.
    Watered,
    /// Too wet.
    TooWet,
}

impl Damp {
    /// The key of its name in the catalogue of words.
    pub const fn word(self) -> &'static str {
        match self {
            Damp::Dry => "@damp.dry",
            Damp::AsItCame => "@damp.as_it_came",
            Damp::Watered => "@damp.watered",
            Damp::TooWet => "@damp.too_wet",
        }
    }
}

/// A lift of stone, or the bed, spread.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Spread {
    /// Which layer: sub-base or bed.
    pub layer: Layer,
    /// Which lift of the sub-base; left out, its last.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub lift: Option<u32>,
    /// How thick it lies loose, millimetres.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub loose_mm: Option<f64>,
    /// How damp it is.
    pub damp: Damp,
}

/// Concrete placed along an edge.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct EdgeConcrete {
    /// Which stretch.
    #[serde(rename = "where")]
    pub stretch: String,
    /// The air as it was placed, degrees Celsius.
    pub temperature_c: f64,
    /// The batch or the ticket.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub batch: String,
}

/// One place of a drop test with its reading.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct DropReading {
    /// Where.
    pub place: OnString,
    /// What the tape reads, millimetres.
    pub reading_mm: f64,
}

/// One round of a drop test: the same places dipped before an extra pass, and after each.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct DropRound {
    /// Which layer.
    pub layer: Layer,
    /// Which lift of the sub-base; left out, its last.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub lift: Option<u32>,
    /// The machine, by the name the person gives it.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub plant: String,
    /// The places with their readings, in the same order every round.
    pub readings: Vec<DropReading>,
}

/// A pack of blocks opened to be laid from.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PackOpened {
    /// What its label says: batch, colour, day.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub label: String,
    /// A photo of the label: SHA-256 of the kept bytes, in hexadecimal.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub photo: Option<String>,
}

/// A pack laid to its last block.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PackEmptied {
    /// The entry of the pack.
    pub pack: Uuid,
}

/// Something to put right before the handing over.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Snag {
    /// What, and where.
    pub text: String,
    /// A photo that shows it: SHA-256 of the kept bytes, in hexadecimal.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub photo: Option<String>,
    /// By when.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub due: Option<NaiveDate>,
}

/// A snag put right.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SnagClosed {
    /// The entry of the snag.
    pub snag: Uuid,
    /// What was done.
    pub text: String,
}
