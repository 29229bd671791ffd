//! Concrete, mortar, dye and membranes of a plan.

use serde_json::{Value, json};

use super::Gaps;
use crate::buildup::figure;
use crate::plan::reader::At;
use crate::quantities::{CementClass, Concrete, Goods, Membrane, Mixes, most_dye_percent};
use crate::units::{Length, Volume};

const KEYS: [&str; 8] = [
    "concrete",
    "cement_class",
    "by_hand",
    "mixer_l",
    "mortar_m3",
    "mortar_parts",
    "dye_percent",
    "dye_colour",
];

pub(super) fn mixes(at: &At, haunch: bool, gaps: &mut Gaps) -> Option<Mixes> {
    let members = if at.is_given() { Some(at.object(&KEYS)?) } else { None };
    let get = |key| members.as_ref().map(|m| m.get(key)).filter(At::is_given);
    let number = |key, bounds, unit| match get(key) {
        Some(given) => given.number(bounds, unit).map(Some),
        None => Some(None),
    };
    let concrete = get("concrete").map_or(Some(None), |at| at.choice(&Concrete::NAMED).map(Some));
    let class =
        get("cement_class").map_or(Some(None), |at| at.choice(&CementClass::NAMED).map(Some));
    let by_hand = get("by_hand").map_or(Some(false), |at| yes_or_no(&at));
    let mixer = number("mixer_l", 1.0..=2000.0, "l of mix");
    let mortar = number("mortar_m3", 0.0..=20.0, "m³");
    let parts = number("mortar_parts", 1.0..=12.0, "parts of sand to one of cement");
    let dye = number("dye_percent", 0.0..=most_dye_percent(), "% of the mass of cement");
    let colour = get("dye_colour").map_or(Some(String::new()), |at| at.text());
    let given = Given {
        concrete: concrete?,
        class: class?,
        mixer_l: mixer?,
        mortar_m3: mortar?.unwrap_or(0.0),
        parts: parts?,
    };
    Some(given.filled(haunch, by_hand?, dye?, colour?, gaps))
}

/// What the plan says of its mixes, where it says anything.
struct Given {
    concrete: Option<Concrete>,
    class: Option<CementClass>,
    mixer_l: Option<f64>,
    mortar_m3: f64,
    parts: Option<f64>,
}

impl Given {
    /// Filled up from the reference. A default is noted only where the job takes what it is of.
    fn filled(
        self,
        haunch: bool,
        by_hand: bool,
        dye_percent: Option<f64>,
        colour: String,
        gaps: &mut Gaps,
    ) -> Mixes {
        let concrete = self.concrete.unwrap_or(Concrete::St1);
        let mixed_here = haunch && concrete != Concrete::Delivered;
        let mortar = self.mortar_m3 > 0.0;
        let mixer = figure("mixer").usual();
        let parts = 3.0;
        let missing = [
            (self.concrete.is_none() && haunch, "mixes.concrete", json!("ST1"), "concrete_mix"),
            (
                self.class.is_none() && mixed_here,
                "mixes.cement_class",
                json!("32.5"),
                "concrete_st1",
            ),
            (
                self.mixer_l.is_none() && (mixed_here || mortar),
                "mixes.mixer_l",
                json!(mixer),
                "mixer",
            ),
            (self.parts.is_none() && mortar, "mixes.mortar_parts", json!(parts), "mortar"),
        ];
        for (_, key, value, from) in missing.into_iter().filter(|(is, ..)| *is) {
            gaps.note(key, value, from);
        }
        Mixes {
            concrete,
            class: self.class.unwrap_or_default(),
            by_hand,
            mixer: Volume::from_m3(self.mixer_l.unwrap_or(mixer) / 1000.0),
            mortar: Volume::from_m3(self.mortar_m3),
            mortar_parts: self.parts.unwrap_or(parts),
            dye_percent,
            colour,
        }
    }
}

fn yes_or_no(at: &At) -> Option<bool> {
    let found = at.value().and_then(Value::as_bool);
    if found.is_none() {
        at.refuse("this is neither true nor false", "true or false");
    }
    found
}

pub(super) fn membranes(at: &At, gaps: &mut Gaps) -> Option<Vec<Membrane>> {
    if !at.is_given() {
        return Some(Vec::new());
    }
    let members = at.object(&["under_sub_base", "under_bed"])?;
    let places =
        [("under_sub_base", Goods::MembraneUnderSubBase), ("under_bed", Goods::MembraneUnderBed)];
    let read: Vec<Option<Membrane>> = places
        .into_iter()
        .map(|(key, goods)| (members.get(key), goods))
        .filter(|(at, _)| at.is_given())
        .map(|(at, goods)| membrane(&at, goods, gaps))
        .collect();
    read.into_iter().collect()
}

fn membrane(at: &At, goods: Goods, gaps: &mut Gaps) -> Option<Membrane> {
    let members = at.object(&["lap_mm", "roll_width_m", "roll_length_m"])?;
    let mut number = |key, name, bounds, unit, value, from| {
        let at: At = members.get(key);
        if at.is_given() {
            at.number(bounds, unit)
        } else {
            Some(gaps.number(None, name, value, from))
        }
    };
    let lap = number("lap_mm", "membranes.lap_mm", 0.0..=1000.0, "mm", 300.0, "membrane_lap");
    let width =
        number("roll_width_m", "membranes.roll_width_m", 0.5..=20.0, "m", 4.5, "membrane_roll");
    let length =
        number("roll_length_m", "membranes.roll_length_m", 1.0..=500.0, "m", 11.0, "membrane_roll");
    let (lap, width, length) =
        (Length::from_mm(lap?), Length::from_m(width?), Length::from_m(length?));
    if lap > width / 2.0 || lap > length / 2.0 {
        let place = format!("{}/lap_mm", at.pointer());
        at.refuse_at(&place, "the lap is more than half of the roll", "a lap of 150 to 500 mm");
        return None;
    }
    Some(Membrane { goods, lap, width, length })
}
