//! The layers under the blocks: their order, thickness and tolerances, with where each figure
//! comes from.

mod reference;

use serde::{Deserialize, Serialize};
use ts_rs::TS;

pub use reference::{Figure, figure, soil_cbr, soils};

use crate::units::Length;

/// A layer whose top is measured from the string.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum Layer {
    /// The trimmed, compacted ground.
    Formation,
    /// Graded crushed stone, in lifts.
    SubBase,
    /// The laying course of sand.
    Bed,
    /// The tops of the blocks.
    Surface,
}

impl Layer {
    /// From the ground up.
    pub const ALL: [Layer; 4] = [Layer::Formation, Layer::SubBase, Layer::Bed, Layer::Surface];

    /// The key of its name in the catalogue of words.
    pub const fn word(self) -> &'static str {
        match self {
            Layer::Formation => "@layer.formation",
            Layer::SubBase => "@layer.sub_base",
            Layer::Bed => "@layer.bed",
            Layer::Surface => "@layer.surface",
        }
    }
}

/// Who or what goes over the paving.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum Use {
    /// On foot.
    Foot,
    /// Cars, up to 3.5 t.
    Car,
}

/// Ground weaker than this, in per cent CBR, is an engineer's to judge.
pub const LEAST_CBR_PERCENT: f64 = 2.0;

/// The thickest lift where no machine has been named. The lightest plate in the reinstatement
/// table compacts 100 mm and is not permitted 150 (Specification for the Reinstatement of Openings
/// in Roads (Scotland) 3rd ed., Table A8.1, seen).
pub const THICKEST_LIFT: Length = Length::from_mm(100.0);

/// How far a layer may stand above and below its design level.
#[derive(Debug, Clone, PartialEq)]
pub struct Tolerance {
    /// Above.
    pub high_by: Length,
    /// Below.
    pub low_by: Length,
    /// Where that comes from.
    pub source: String,
    /// How well that is known.
    pub status: String,
}

/// Tolerance of a layer's top for a use; of the sub-base, of its finished top or of a lift below it.
pub fn tolerance(layer: Layer, finished: bool, r#use: Use) -> Tolerance {
    let (key, high, low) = match (layer, r#use) {
        (Layer::SubBase, _) if !finished => return ours(),
        (Layer::Bed, _) => return ours(),
        (Layer::Formation, Use::Foot) => ("formation_tolerance_foot", 20.0, 20.0),
        (Layer::Formation, Use::Car) => ("formation_tolerance_car", 20.0, 30.0),
        (Layer::SubBase, Use::Foot) => ("sub_base_tolerance_foot", 12.0, 12.0),
        (Layer::SubBase, Use::Car) => ("sub_base_tolerance_car", 20.0, 20.0),
        (Layer::Surface, _) => ("surface_tolerance", 6.0, 6.0),
    };
    let Figure { source, status, .. } = figure(key);
    Tolerance { high_by: Length::from_mm(high), low_by: Length::from_mm(low), source, status }
}

/// The tolerance where no published figure is held: of the bed, and of lifts below the finished top.
fn ours() -> Tolerance {
    let by = Length::from_mm(10.0);
    let source = "our own default; no published figure is held".to_owned();
    Tolerance { high_by: by, low_by: by, source, status: "practice".to_owned() }
}

/// The layers of a job, thickness by thickness.
#[derive(Debug, Clone, PartialEq)]
pub struct BuildUp {
    /// Block depth.
    pub block: Length,
    /// Bed, compacted.
    pub bed: Length,
    /// Lifts of the sub-base from the bottom up, compacted.
    pub lifts: Vec<Length>,
}

impl BuildUp {
    /// A build-up with the sub-base in equal lifts, none thicker than `thickest`.
    pub fn new(block: Length, bed: Length, sub_base: Length, thickest: Length) -> Self {
        let count = (sub_base / thickest - 1e-9).ceil().max(1.0) as usize;
        let lift = sub_base / count as f64;
        let lifts = if sub_base > Length::ZERO { vec![lift; count] } else { Vec::new() };
        BuildUp { block, bed, lifts }
    }

    /// The whole sub-base.
    pub fn sub_base(&self) -> Length {
        self.lifts.iter().copied().sum()
    }

    /// From the finished surface to the formation.
    pub fn total(&self) -> Length {
        self.block + self.bed + self.sub_base()
    }

    /// How far the top of a layer lies under the finished surface. A lift of none, or one beyond
    /// the last, is the finished top of the sub-base.
    pub fn below_finished(&self, layer: Layer, lift: Option<u32>) -> Length {
        let sub_base_top = self.block + self.bed;
        match layer {
            Layer::Formation => self.total(),
            Layer::SubBase => match lift {
                None => sub_base_top,
                Some(number) => {
                    let above = self.lifts.iter().skip(number as usize).copied().sum();
                    sub_base_top + above
                }
            },
            Layer::Bed => self.block,
            Layer::Surface => Length::ZERO,
        }
    }

    /// Designed thickness of a layer, or of one of its lifts.
    pub fn thickness(&self, layer: Layer, lift: Option<u32>) -> Length {
        match layer {
            Layer::Formation => Length::ZERO,
            Layer::SubBase => match lift {
                None => self.sub_base(),
                Some(number) => {
                    let index = (number as usize).saturating_sub(1);
                    self.lifts.get(index).copied().unwrap_or_default()
                }
            },
            Layer::Bed => self.bed,
            Layer::Surface => self.block,
        }
    }

    /// Layers from the formation up, the sub-base by lift.
    pub fn steps(&self) -> Vec<(Layer, Option<u32>)> {
        let lifts = (1..).take(self.lifts.len()).map(|lift| (Layer::SubBase, Some(lift)));
        [(Layer::Formation, None)]
            .into_iter()
            .chain(lifts)
            .chain([(Layer::Bed, None), (Layer::Surface, None)])
            .collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn mm(value: f64) -> Length {
        Length::from_mm(value)
    }

    #[test]
    fn depths_under_the_string_by_hand() {
        // Hand arithmetic: 60 block, 40 bed, 150 stone in two lifts of 75 make 250.
        let layers = BuildUp::new(mm(60.0), mm(40.0), mm(150.0), THICKEST_LIFT);
        let below = |layer, lift| layers.below_finished(layer, lift).to_mm().round();
        assert_eq!(below(Layer::Formation, None), 250.0);
        assert_eq!(below(Layer::SubBase, Some(1)), 175.0);
        assert_eq!(below(Layer::SubBase, Some(2)), 100.0);
        assert_eq!(below(Layer::SubBase, None), 100.0);
        assert_eq!(below(Layer::Bed, None), 60.0);
        assert_eq!(below(Layer::Surface, None), 0.0);
    }

    proptest! {
        #[test]
        fn lifts_add_up_and_none_is_too_thick(stone in 1.0_f64..600.0) {
            let layers = BuildUp::new(mm(60.0), mm(40.0), mm(stone), THICKEST_LIFT);
            prop_assert!((layers.sub_base().to_mm() - stone).abs() < 1e-9);
            prop_assert!(layers.lifts.iter().all(|l| *l <= THICKEST_LIFT + mm(1e-6)));
        }
    }
}
