//! What the calculators and the plan's forms may choose from, each with its source.

use serde::Serialize;
use ts_rs::TS;

use crate::api::requests::Nothing;
use crate::api::{Desk, Fault};
use crate::buildup::{Figure, figure};
use crate::compaction::{PlantKind, Specification};
use crate::quantities::{Goods, Measure};
use crate::words::Phrase;

/// Everything there is to choose from.
#[derive(Debug, Clone, Serialize, TS)]
pub struct ChoicesView {
    /// Specifications that passes may be held against; one is picked by name, for each job.
    pub specifications: Vec<SpecificationView>,
    /// Kinds of machine.
    pub plant: Vec<PlantView>,
    /// Swell of ground by its kind.
    pub swell: Vec<FigureView>,
    /// Concretes and mortar.
    pub mixes: Vec<FigureView>,
    /// Dye: the limit, the usual dose, where colours saturate.
    pub dye: Vec<FigureView>,
    /// Vibration: action and limit values, doubling, plates.
    pub vibration: Vec<FigureView>,
    /// What is bought, with its measure.
    pub goods: Vec<GoodsView>,
    /// Keys of `bags`: what one bag of each holds.
    pub bags: Vec<String>,
}

/// A specification.
#[derive(Debug, Clone, Serialize, TS)]
pub struct SpecificationView {
    /// Its name in the plan file.
    pub name: String,
    /// Its title.
    pub says: Phrase,
    /// The document.
    pub source: String,
    /// How well its rows are known.
    pub status: String,
}

/// A kind of machine.
#[derive(Debug, Clone, Serialize, TS)]
pub struct PlantView {
    /// Which.
    pub kind: PlantKind,
    /// Its name.
    pub says: Phrase,
    /// What its rating is in.
    pub rated_in: String,
}

/// A figure of the reference, with where it comes from.
#[derive(Debug, Clone, Serialize, TS)]
pub struct FigureView {
    /// Its key.
    pub key: String,
    /// What it is of.
    pub topic: String,
    /// As the source gives it.
    pub value: String,
    /// Its unit.
    pub unit: String,
    /// Where it applies.
    pub context: String,
    /// The numbers in it: both ends of a range, each part of a mix.
    pub numbers: Vec<f64>,
    /// Where it comes from.
    pub source: String,
    /// How well that is known.
    pub status: String,
}

/// Something that is bought.
#[derive(Debug, Clone, Serialize, TS)]
pub struct GoodsView {
    /// Which.
    pub what: Goods,
    /// Its name.
    pub says: Phrase,
    /// What it is measured in.
    pub measure: Measure,
}

const SWELL: [&str; 7] = [
    "swell",
    "swell_sand",
    "swell_topsoil",
    "swell_loam",
    "swell_earth",
    "swell_clay",
    "swell_rock",
];
const MIXES: [&str; 4] = ["concrete_st1", "concrete_st2", "concrete_st4", "mortar"];
const DYE: [&str; 3] = ["dye_limit", "dye_dose", "dye_saturation"];
const VIBRATION: [&str; 4] =
    ["vibration_action", "vibration_limit", "vibration_declared", "vibration_plate"];

/// Everything there is to choose from.
///
/// # Errors
/// None of its own.
pub fn choices(_: &mut Desk, _: Nothing) -> Result<ChoicesView, Fault> {
    let named = |word: &str| Phrase::new(word.trim_start_matches('@'), []);
    Ok(ChoicesView {
        specifications: Specification::ALL
            .map(|specification| {
                let (source, status) = specification.source();
                SpecificationView {
                    name: specification.name().to_owned(),
                    says: named(specification.word()),
                    source: source.to_owned(),
                    status: status.to_owned(),
                }
            })
            .into(),
        plant: PlantKind::ALL
            .map(|kind| PlantView {
                kind,
                says: named(kind.word()),
                rated_in: kind.rated_in().to_owned(),
            })
            .into(),
        swell: SWELL.map(figure_view).into(),
        mixes: MIXES.map(figure_view).into(),
        dye: DYE.map(figure_view).into(),
        vibration: VIBRATION.map(figure_view).into(),
        goods: Goods::ALL
            .map(|what| GoodsView { what, says: named(what.word()), measure: what.measure() })
            .into(),
        bags: Goods::ALL
            .into_iter()
            .filter(|goods| goods.measure() == Measure::Kg)
            .map(|goods| format!("{}_kg", goods.name()))
            .collect(),
    })
}

fn figure_view(key: &str) -> FigureView {
    let figure = figure(key);
    let numbers = figure.numbers();
    let Figure { topic, value, unit, context, status, source, .. } = figure;
    FigureView { key: key.to_owned(), topic, value, unit, context, numbers, source, status }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_choice_is_in_the_data() {
        for key in SWELL.iter().chain(&MIXES).chain(&DYE).chain(&VIBRATION) {
            let view = figure_view(key);
            assert!(!view.topic.is_empty() && !view.source.is_empty(), "{view:?}");
        }
    }
}
