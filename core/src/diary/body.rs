//! What entries say, by kind.

use serde::{Deserialize, Serialize};
use serde_json::{Value, json};
use ts_rs::TS;
use uuid::Uuid;

use super::malformed::{Malformed, malformed};
use super::{
    Change, DayClosed, DropRound, EdgeConcrete, Forecast, PackEmptied, PackOpened, Signature, Snag,
    SnagClosed, SoftSpot, SoftSpotFilled, Spread, Weather,
};
use crate::buildup::Layer;
use crate::job::Stage;
use crate::quantities::Goods;

/// What an entry says.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(tag = "kind", content = "body", rename_all = "snake_case")]
pub enum Body {
    /// A plan, the first or a new one.
    Plan(PlanRevision),
    /// Words.
    Note(Note),
    /// A tape down from a string to a layer.
    Dip(Dip),
    /// A plate over a whole layer once.
    Pass(Pass),
    /// A photo.
    Photo(Photo),
    /// A question of a gate, answered.
    Check(Check),
    /// A stage closed or opened again.
    Stage(StageClosed),
    /// Material brought to the site.
    Delivery(Delivery),
    /// A completion record handed out.
    Record(RecordIssued),
    /// An earlier entry struck.
    Strike(Strike),
    /// Extra work, agreed before it goes on.
    Change(Change),
    /// A signature drawn on the phone.
    Signature(Signature),
    /// A soft spot found in the formation.
    SoftSpot(SoftSpot),
    /// A soft spot dug out and filled.
    SoftSpotFilled(SoftSpotFilled),
    /// The weather as it was noted.
    Weather(Weather),
    /// Stone or sand spread.
    Spread(Spread),
    /// Concrete placed along an edge.
    EdgeConcrete(EdgeConcrete),
    /// One round of a drop test.
    DropRound(DropRound),
    /// Something to put right.
    Snag(Snag),
    /// A snag put right.
    SnagClosed(SnagClosed),
    /// A pack of blocks opened.
    PackOpened(PackOpened),
    /// A pack of blocks laid to its last.
    PackEmptied(PackEmptied),
    /// The weather as it is expected on a day.
    Forecast(Forecast),
    /// A day's work closed.
    DayClosed(DayClosed),
}

/// A plan in force from here on.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PlanRevision {
    /// The plan file.
    pub plan: Value,
}

/// Words.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Note {
    /// What was noted.
    pub text: String,
}

/// A tape down from a string to the top of a layer.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Dip {
    /// Which layer.
    pub layer: Layer,
    /// Which lift of the sub-base; left out, its finished top.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub lift: Option<u32>,
    /// Pin at the string's zero.
    pub from: String,
    /// The string's other pin.
    pub to: String,
    /// Distance along the string from its zero, metres.
    pub at_m: f64,
    /// How far the string is raised, millimetres.
    #[serde(default)]
    pub raise_mm: f64,
    /// What the tape reads, millimetres.
    pub reading_mm: f64,
}

/// A plate over a whole layer once.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Pass {
    /// Which layer.
    pub layer: Layer,
    /// Which lift of the sub-base; left out, its last.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub lift: Option<u32>,
    /// The machine, by the name the person gives it.
    pub plant: String,
    /// Whether anything still moved under it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub still_moving: Option<bool>,
}

/// A photo, kept before the entry that names it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Photo {
    /// SHA-256 of the kept bytes, in hexadecimal.
    pub sha256: String,
    /// The stage it proves.
    pub stage: Stage,
    /// What it shows.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub caption: String,
    /// The pin it was taken at.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub pin: String,
}

/// A question that only a person can answer.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Checked {
    /// Buried services asked for, located and marked.
    ServicesMarked,
    /// All materials are on site.
    MaterialsOnSite,
    /// Pins and strings are set and checked against the datum.
    StringsSet,
    /// Soft spots dug out and filled, or none found.
    SoftSpotsDone,
    /// The bed is dry, flat and unwalked after rain.
    BedDry,
    /// The customer has been told how to look after it.
    CareExplained,
    /// Joints topped up at the return visit.
    JointsToppedUp,
}

impl Checked {
    /// Its name in entries and in the catalogue of words.
    pub const fn name(self) -> &'static str {
        match self {
            Checked::ServicesMarked => "services_marked",
            Checked::MaterialsOnSite => "materials_on_site",
            Checked::StringsSet => "strings_set",
            Checked::SoftSpotsDone => "soft_spots_done",
            Checked::BedDry => "bed_dry",
            Checked::CareExplained => "care_explained",
            Checked::JointsToppedUp => "joints_topped_up",
        }
    }
}

/// A question of a gate, answered yes.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Check {
    /// Which question.
    pub check: Checked,
    /// Anything to add.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub text: String,
}

/// A stage closed, or opened again.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct StageClosed {
    /// Which stage.
    pub stage: Stage,
    /// Closed, or opened again.
    pub done: bool,
    /// Why it is passed although something is missing, or why it is opened again.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub reason: String,
    /// How long the crew worked on it, all hands together, in minutes.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub worked_min: Option<u32>,
}

/// Units that deliveries come in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum Unit {
    /// Tonnes.
    T,
    /// Kilograms.
    Kg,
    /// Cubic metres, loose.
    M3,
    /// Square metres.
    M2,
    /// Packs.
    Packs,
    /// Bags.
    Bags,
    /// Pieces.
    Pieces,
    /// Metres along.
    M,
    /// Hours of work.
    Hours,
    /// Loads taken away.
    Loads,
    /// One sum for the whole.
    Sum,
}

impl Unit {
    /// How it is written after a number.
    pub const fn sign(self) -> &'static str {
        match self {
            Unit::T => "t",
            Unit::Kg => "kg",
            Unit::M3 => "m³",
            Unit::M2 => "m²",
            Unit::Packs => "packs",
            Unit::Bags => "bags",
            Unit::Pieces => "pieces",
            Unit::M => "m",
            Unit::Hours => "h",
            Unit::Loads => "loads",
            Unit::Sum => "sum",
        }
    }

    /// Whether material is brought in it; the others are only of use for pricing work.
    pub const fn is_of_material(self) -> bool {
        match self {
            Unit::T
            | Unit::Kg
            | Unit::M3
            | Unit::M2
            | Unit::Packs
            | Unit::Bags
            | Unit::Pieces
            | Unit::M
            | Unit::Loads => true,
            Unit::Hours | Unit::Sum => false,
        }
    }
}

/// Material brought to the site.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Delivery {
    /// What it is.
    pub what: String,
    /// How much.
    pub quantity: f64,
    /// In which unit.
    pub unit: Unit,
    /// Number on the ticket.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub ticket: String,
    /// The line of the order that it is for; left out, the words of `what` say.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub line: Option<Goods>,
    /// Who brought it.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub supplier: String,
    /// SHA-256 of a kept photo of the ticket or the load.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub photo: String,
    /// The maker's batch.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub batch: String,
    /// Its colour.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub colour: String,
    /// Where it is stacked.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub stacked: String,
}

/// A completion record handed out.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct RecordIssued {
    /// Issue number, from 1.
    pub number: u32,
    /// File name in the store's papers folder.
    pub file: String,
    /// SHA-256 of the file's bytes, in hexadecimal.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub sha256: String,
    /// The public key that sealed it, in hexadecimal.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub key: String,
}

/// An earlier entry struck: it stays, and no longer counts.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Strike {
    /// Which entry.
    pub entry: Uuid,
    /// Why.
    pub reason: String,
}

/// Why a body cannot be read.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum BodyError {
    /// This version does not know the kind.
    #[error("\"{0}\" is no kind of entry that this version knows")]
    UnknownKind(String),
    /// The body is not one of its kind.
    #[error("{}: {}", .0.problem, .0.right)]
    Malformed(Malformed),
}

/// Every kind that this version knows.
pub const fn kinds() -> [&'static str; 24] {
    [
        "plan",
        "note",
        "dip",
        "pass",
        "photo",
        "check",
        "stage",
        "delivery",
        "record",
        "strike",
        "change",
        "signature",
        "soft_spot",
        "soft_spot_filled",
        "weather",
        "spread",
        "edge_concrete",
        "drop_round",
        "snag",
        "snag_closed",
        "pack_opened",
        "pack_emptied",
        "forecast",
        "day_closed",
    ]
}

impl Body {
    /// Reads a body of a kind.
    ///
    /// # Errors
    /// [`BodyError`] for an unknown kind, or a body that lacks something, has something unknown,
    /// or has it of the wrong type.
    pub fn read(kind: &str, body: &Value) -> Result<Body, BodyError> {
        if !kinds().contains(&kind) {
            return Err(BodyError::UnknownKind(kind.to_owned()));
        }
        serde_json::from_value(json!({ "kind": kind, "body": body }))
            .map_err(|error| BodyError::Malformed(malformed(kind, body, &error.to_string())))
    }

    /// Kind and body as they are kept.
    ///
    /// # Errors
    /// [`serde_json::Error`] where a part has no JSON form.
    pub fn to_parts(&self) -> Result<(String, Value), serde_json::Error> {
        let mut value = serde_json::to_value(self)?;
        let kind = value.get("kind").and_then(Value::as_str).unwrap_or_default().to_owned();
        let body = value.get_mut("body").map(Value::take).unwrap_or_default();
        Ok((kind, body))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn on_string() -> super::super::OnString {
        super::super::OnString { from: "R1".to_owned(), to: "F1".to_owned(), at_m: 0.4 }
    }

    #[test]
    fn every_kind_comes_back_as_it_went() {
        let bodies = [
            Body::Plan(PlanRevision { plan: json!({ "fairfall_plan": 1 }) }),
            Body::Note(Note { text: "rain at ten".to_owned() }),
            Body::Dip(Dip {
                layer: Layer::SubBase,
                lift: Some(1),
                from: "R1".to_owned(),
                to: "R2".to_owned(),
                at_m: 1.8,
                raise_mm: 100.0,
                reading_mm: 287.0,
            }),
            Body::Pass(Pass {
                layer: Layer::Formation,
                lift: None,
                plant: "small plate".to_owned(),
                still_moving: Some(false),
            }),
            Body::Photo(Photo {
                sha256: "00".repeat(32),
                stage: Stage::SubBase,
                caption: String::new(),
                pin: "R4".to_owned(),
            }),
            Body::Check(Check { check: Checked::ServicesMarked, text: String::new() }),
            Body::Stage(StageClosed {
                stage: Stage::Bed,
                done: true,
                reason: "dusk".to_owned(),
                worked_min: Some(210),
            }),
            Body::Delivery(Delivery {
                what: "Type 1".to_owned(),
                quantity: 4.2,
                unit: Unit::T,
                ticket: "1182".to_owned(),
                line: Some(Goods::SubBase),
                supplier: "Quarry".to_owned(),
                photo: "00".repeat(32),
                batch: "7".to_owned(),
                colour: "grey".to_owned(),
                stacked: "beside the gate".to_owned(),
            }),
            Body::Record(RecordIssued {
                number: 1,
                file: "record.pdf".to_owned(),
                sha256: "00".repeat(32),
                key: "11".repeat(32),
            }),
            Body::Strike(Strike { entry: Uuid::nil(), reason: "misread".to_owned() }),
            Body::Change(Change {
                what: "old concrete under the turf".to_owned(),
                quantity: 1.2,
                unit: Unit::Hours,
                rate_minor: 4200,
                currency: "GBP".to_owned(),
                photo: Some("00".repeat(32)),
                agreed: "on site with the customer".to_owned(),
            }),
            Body::Signature(Signature {
                paper: super::super::SignedPaper::ChangeNote,
                change: Some(Uuid::nil()),
                name: "Odile Farrow".to_owned(),
                role: super::super::Role::Customer,
                strokes: vec![vec![[0, 0], [1000, 400]]],
                typed: false,
            }),
            Body::SoftSpot(SoftSpot { place: on_string(), text: "half a metre across".to_owned() }),
            Body::SoftSpotFilled(SoftSpotFilled {
                spot: Uuid::nil(),
                depth_mm: 150.0,
                with: "stone".to_owned(),
            }),
            Body::Weather(Weather {
                sky: super::super::Sky::Wet,
                temperature_c: Some(-0.5),
                text: String::new(),
            }),
            Body::Spread(Spread {
                layer: Layer::SubBase,
                lift: Some(2),
                loose_mm: Some(95.0),
                damp: super::super::Damp::Watered,
            }),
            Body::EdgeConcrete(EdgeConcrete {
                stretch: "far edge".to_owned(),
                temperature_c: 9.0,
                batch: "3".to_owned(),
            }),
            Body::DropRound(DropRound {
                layer: Layer::SubBase,
                lift: None,
                plant: "small plate".to_owned(),
                readings: vec![super::super::DropReading { place: on_string(), reading_mm: 200.0 }],
            }),
            Body::Snag(Snag {
                text: "a lip at the gate".to_owned(),
                photo: None,
                due: chrono::NaiveDate::from_ymd_opt(2026, 5, 2),
            }),
            Body::SnagClosed(SnagClosed { snag: Uuid::nil(), text: "relaid".to_owned() }),
            Body::PackOpened(PackOpened { label: "batch 12".to_owned(), photo: None }),
            Body::PackEmptied(PackEmptied { pack: Uuid::nil() }),
            Body::Forecast(Forecast {
                day: chrono::NaiveDate::from_ymd_opt(2026, 5, 3).unwrap(),
                sky: super::super::Sky::Frost,
                low_c: Some(-2.0),
                high_c: None,
                text: String::new(),
            }),
            Body::DayClosed(DayClosed {
                covered: true,
                guarded: false,
                left: "barriers come at eight".to_owned(),
                worked_min: Some(960),
                tomorrow: "the bed".to_owned(),
            }),
        ];
        let mut seen = Vec::new();
        for body in bodies {
            let (kind, value) = body.to_parts().unwrap();
            assert_eq!(Body::read(&kind, &value), Ok(body));
            seen.push(kind);
        }
        assert_eq!(seen, kinds());
    }

    #[test]
    fn a_delivery_of_an_older_version_reads_and_is_written_as_it_was() {
        let old = json!({ "what": "Type 1", "quantity": 4.2, "unit": "t", "ticket": "1182" });
        let (_, value) = Body::read("delivery", &old).unwrap().to_parts().unwrap();
        assert_eq!(value, old);
        let closed = json!({ "stage": "bed", "done": true });
        let (_, value) = Body::read("stage", &closed).unwrap().to_parts().unwrap();
        assert_eq!(value, closed);
    }

    #[test]
    fn unknown_kinds_and_keys_are_told_apart() {
        assert_eq!(
            Body::read("levitate", &json!({})),
            Err(BodyError::UnknownKind("levitate".to_owned()))
        );
        let extra = json!({ "text": "a", "colour": "red" });
        assert!(matches!(Body::read("note", &extra), Err(BodyError::Malformed(_))));
    }
}
