//! Concrete, mortar and dye, batch by batch.

use serde::{Deserialize, Serialize};
use ts_rs::TS;

use super::Typed;
use crate::api::{Desk, Fault};
use crate::buildup::figure;
use crate::quantities::{
    CementClass, Concrete, Mix, bags, dye, most_dye_percent, saturation_percent,
};
use crate::units::{Density, Mass, Volume};
use crate::words::Phrase;

/// A mix by its name.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, TS)]
pub enum MixName {
    /// Standardised prescribed concrete ST1.
    #[serde(rename = "ST1")]
    St1,
    /// Standardised prescribed concrete ST2.
    #[serde(rename = "ST2")]
    St2,
    /// Standardised prescribed concrete ST4.
    #[serde(rename = "ST4")]
    St4,
    /// Mortar of cement and sand.
    #[serde(rename = "mortar")]
    Mortar,
}

/// A mix and how much of it.
#[derive(Debug, Clone, Deserialize, TS)]
pub struct MixAsked {
    /// Which.
    pub mix: MixName,
    /// How much, mixed.
    pub volume_m3: f64,
    /// Parts of sand to one of cement in mortar, by volume; left out, 3.
    #[ts(optional)]
    pub parts: Option<f64>,
    /// Class of the cement in concrete; left out, 32.5.
    #[ts(optional)]
    pub cement_class: Option<CementClass>,
    /// Concrete mixed by hand, without a mixer.
    #[ts(optional)]
    pub by_hand: Option<bool>,
    /// What one batch of the mixer holds; left out, the usual.
    #[ts(optional)]
    pub mixer_l: Option<f64>,
    /// What one bag of cement holds; left out, the usual.
    #[ts(optional)]
    pub bag_kg: Option<f64>,
    /// Water in the sand, per cent of its dry mass; left out, none.
    #[ts(optional)]
    pub sand_moisture_percent: Option<f64>,
    /// Dye, per cent of the mass of cement; left out, none.
    #[ts(optional)]
    pub dye_percent: Option<f64>,
    /// Its colour.
    #[ts(optional)]
    pub dye_colour: Option<String>,
}

/// A mix, weighed out.
#[derive(Debug, Clone, Serialize, TS)]
pub struct MixView {
    /// All of it.
    pub all: PartsView,
    /// How many batches, all alike.
    pub batches: u32,
    /// One of them.
    pub batch: PartsView,
    /// Whole bags of cement.
    pub bags: u32,
    /// What is left of the last.
    pub cement_left_kg: f64,
    /// The sand of a mortar as loose volume.
    pub sand_m3: Option<f64>,
    /// Where the mix comes from.
    pub source: String,
    /// How well that is known.
    pub status: String,
    /// What to mind besides.
    pub cautions: Vec<Phrase>,
}

/// What goes into a mix.
#[derive(Debug, Clone, Copy, Serialize, TS)]
pub struct PartsView {
    /// Cement.
    pub cement_kg: f64,
    /// Sand, as if it were dry.
    pub sand_kg: f64,
    /// The same sand as it lies, with the water in it.
    pub damp_sand_kg: f64,
    /// Stone.
    pub stone_kg: f64,
    /// Dye.
    pub dye_kg: f64,
}

/// A mix by mass, in equal batches, with whole bags of cement and what is left.
///
/// # Errors
/// `bad_input` with every problem.
pub fn mix(_: &mut Desk, asked: MixAsked) -> Result<MixView, Fault> {
    let mut typed = Typed::default();
    typed.within("/volume_m3", asked.volume_m3, 0.001..=100.0, "m³");
    typed.maybe_within("/parts", asked.parts, 1.0..=12.0, "parts of sand to one of cement");
    typed.maybe_within("/mixer_l", asked.mixer_l, 1.0..=2000.0, "l of mix");
    typed.maybe_within("/bag_kg", asked.bag_kg, 0.1..=2000.0, "kg");
    typed.maybe_within(
        "/sand_moisture_percent",
        asked.sand_moisture_percent,
        0.0..=20.0,
        "% of the dry sand's mass",
    );
    let most = most_dye_percent();
    typed.maybe_within("/dye_percent", asked.dye_percent, 0.0..=most, "% of the mass of cement");
    typed.done(Some(()))?;
    view(&asked).ok_or_else(|| Fault::bad_request("the mix is not held here"))
}

fn view(asked: &MixAsked) -> Option<MixView> {
    let volume = Volume::from_m3(asked.volume_m3);
    let parts = asked.parts.unwrap_or(3.0);
    let concrete = match asked.mix {
        MixName::St1 => Some(Concrete::St1),
        MixName::St2 => Some(Concrete::St2),
        MixName::St4 => Some(Concrete::St4),
        MixName::Mortar => None,
    };
    let mix = match concrete {
        Some(concrete) => Mix::concrete(
            concrete,
            volume,
            asked.cement_class.unwrap_or_default(),
            asked.by_hand.unwrap_or(false),
        )?,
        None => {
            let loose = Density::from_t_per_m3(figure("sharp_sand_loose").usual());
            Mix::mortar(volume, parts, loose)
        }
    };
    let mixer = asked.mixer_l.unwrap_or_else(|| figure("mixer").usual());
    let (batches, batch) = mix.batches(volume, Volume::from_m3(mixer / 1000.0));
    let bag = asked.bag_kg.unwrap_or_else(|| figure("bag_cement").usual());
    let (bags, left) = bags(mix.cement, Mass::from_kg(bag));
    let from = figure(concrete.and_then(Concrete::figure).unwrap_or("mortar"));
    Some(MixView {
        all: parts_view(&mix, asked),
        batches,
        batch: parts_view(&batch, asked),
        bags,
        cement_left_kg: left.to_kg(),
        sand_m3: concrete.is_none().then(|| Mix::mortar_sand(volume, parts).to_m3()),
        source: from.source,
        status: from.status,
        cautions: cautions(asked),
    })
}

fn parts_view(mix: &Mix, asked: &MixAsked) -> PartsView {
    PartsView {
        cement_kg: mix.cement.to_kg(),
        sand_kg: mix.sand.to_kg(),
        damp_sand_kg: mix.damp_sand(asked.sand_moisture_percent.unwrap_or(0.0)).to_kg(),
        stone_kg: mix.stone.to_kg(),
        dye_kg: dye(mix.cement, asked.dye_percent.unwrap_or(0.0)).to_kg(),
    }
}

fn cautions(asked: &MixAsked) -> Vec<Phrase> {
    let mut list = vec![Phrase::new("caution.cement", [])];
    let colour = asked.dye_colour.as_deref().unwrap_or_default();
    if let (Some(percent), Some(most)) = (asked.dye_percent, saturation_percent(colour))
        && percent > most
    {
        let values = [("colour", colour.into()), ("most", most.into())];
        list.push(Phrase::new("caution.dye_saturated", values));
    }
    list
}

#[cfg(test)]
mod tests {
    use super::*;

    fn asked(mix: MixName, volume_m3: f64) -> MixAsked {
        MixAsked {
            mix,
            volume_m3,
            parts: None,
            cement_class: None,
            by_hand: None,
            mixer_l: None,
            bag_kg: None,
            sand_moisture_percent: None,
            dye_percent: None,
            dye_colour: None,
        }
    }

    #[test]
    fn a_haunch_in_bags_and_batches() {
        // NHBC Standards 3.1.4 after BS 8500-2 (seen): ST1 230 kg of cement a cubic metre. Hand
        // arithmetic: 0.3 m3 are 69 kg, 3 bags of 25 with 6 left; batches of at most 90 l: 4.
        let view = view(&MixAsked {
            sand_moisture_percent: Some(5.0),
            dye_percent: Some(9.0),
            dye_colour: Some("red".to_owned()),
            ..asked(MixName::St1, 0.3)
        })
        .unwrap();
        assert_eq!((view.bags, view.batches), (3, 4));
        assert!((view.cement_left_kg - 6.0).abs() < 1e-9);
        assert!((view.batch.cement_kg - 17.25).abs() < 1e-9);
        assert!((view.all.damp_sand_kg - 231.0 * 1.05).abs() < 1e-9);
        assert!((view.all.dye_kg - 6.21).abs() < 1e-9);
        assert_eq!((view.status.as_str(), view.cautions.len()), ("seen", 2));
    }

    #[test]
    fn a_mortar_as_printed() {
        // Worked example in print (seen): 1 m3 of mortar 1:3 takes 478.8 kg and 0.9975 m3.
        let view = view(&asked(MixName::Mortar, 1.0)).unwrap();
        assert!((view.all.cement_kg - 478.8).abs() < 0.05);
        assert!((view.sand_m3.unwrap() - 0.9975).abs() < 0.00005);
    }
}
