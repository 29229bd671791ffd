//! Concrete, mortar and dye by mass, batch by batch, so that two batches match.

use serde::{Deserialize, Serialize};
use ts_rs::TS;

use crate::buildup::figure;
use crate::units::{Density, Mass, Volume};

/// A concrete by its standard mix, or one that comes mixed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, TS)]
pub enum Concrete {
    /// Standardised prescribed concrete ST1.
    #[serde(rename = "ST1")]
    St1,
    /// Standardised prescribed concrete ST2.
    #[serde(rename = "ST2")]
    St2,
    /// Standardised prescribed concrete ST4.
    #[serde(rename = "ST4")]
    St4,
    /// Delivered mixed.
    #[serde(rename = "delivered")]
    Delivered,
}

impl Concrete {
    /// Every concrete by its name in the plan file.
    pub const NAMED: [(&'static str, Concrete); 4] = [
        ("ST1", Concrete::St1),
        ("ST2", Concrete::St2),
        ("ST4", Concrete::St4),
        ("delivered", Concrete::Delivered),
    ];

    /// The key of its figure; none for one that comes mixed.
    pub const fn figure(self) -> Option<&'static str> {
        match self {
            Concrete::St1 => Some("concrete_st1"),
            Concrete::St2 => Some("concrete_st2"),
            Concrete::St4 => Some("concrete_st4"),
            Concrete::Delivered => None,
        }
    }
}

/// Strength class of a cement.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize, TS)]
pub enum CementClass {
    /// 32.5, which the standard mixes are printed for.
    #[default]
    #[serde(rename = "32.5")]
    Class32,
    /// 42.5: 10 % less cement.
    #[serde(rename = "42.5")]
    Class42,
}

impl CementClass {
    /// Every class by its name in the plan file.
    pub const NAMED: [(&'static str, CementClass); 2] =
        [("32.5", CementClass::Class32), ("42.5", CementClass::Class42)];
}

/// What goes into a mix.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Mix {
    /// Cement.
    pub cement: Mass,
    /// Sand, dry.
    pub sand: Mass,
    /// Stone; none in mortar.
    pub stone: Mass,
}

/// Cement loose, as the printed example of a mortar takes it.
const CEMENT: Density = Density::from_t_per_m3(1.44);
/// Dry volume that makes one of mortar, in the same example.
const DRY_FACTOR: f64 = 1.33;

impl Mix {
    /// A volume of concrete by a standard mix, as printed for cement of class 32.5 and a mixer
    /// (NHBC Standards 3.1.4 after BS 8500-2, seen): class 42.5 takes 10 % less cement, mixing by
    /// hand 10 % more. None for concrete that comes mixed.
    pub fn concrete(
        concrete: Concrete,
        volume: Volume,
        class: CementClass,
        by_hand: bool,
    ) -> Option<Mix> {
        let numbers = figure(concrete.figure()?).numbers();
        let [cement, sand, stone] = numbers.as_slice() else { return None };
        let class = match class {
            CementClass::Class32 => 1.0,
            CementClass::Class42 => 0.9,
        };
        let hand = if by_hand { 1.1 } else { 1.0 };
        let kg = |a_cubic_metre: f64| Mass::from_kg(a_cubic_metre * volume.to_m3());
        Some(Mix { cement: kg(cement * class * hand), sand: kg(*sand), stone: kg(*stone) })
    }

    /// A volume of mortar of one part cement to so many parts sand by volume, the sand at a loose
    /// density. Dry factor 1.33 and cement at 1440 kg/m³ as in the worked example in print (seen).
    pub fn mortar(volume: Volume, parts: f64, sand: Density) -> Mix {
        Mix {
            cement: volume * (DRY_FACTOR / (1.0 + parts)) * CEMENT,
            sand: Mix::mortar_sand(volume, parts) * sand,
            stone: Mass::ZERO,
        }
    }

    /// The sand of that mortar as loose volume.
    pub fn mortar_sand(volume: Volume, parts: f64) -> Volume {
        volume * (DRY_FACTOR * parts / (1.0 + parts))
    }

    /// Equal batches that a mixer holds, so that each is like the others.
    pub fn batches(&self, volume: Volume, mixer: Volume) -> (u32, Mix) {
        let count = super::whole(volume / mixer).max(1);
        (count, self.times(1.0 / f64::from(count)))
    }

    /// The sand as it lies, damp: its mass with the water in it.
    pub fn damp_sand(&self, moisture_percent: f64) -> Mass {
        self.sand * (1.0 + moisture_percent / 100.0)
    }

    /// So many times as much.
    #[must_use]
    pub fn times(&self, by: f64) -> Mix {
        Mix { cement: self.cement * by, sand: self.sand * by, stone: self.stone * by }
    }
}

/// Dye as a share of the cement's mass.
pub fn dye(cement: Mass, percent: f64) -> Mass {
    cement * (percent / 100.0)
}

/// No more dye than this, per cent of the cement's mass (BS EN 12878 as restated; ASTM C979; seen).
pub fn most_dye_percent() -> f64 {
    figure("dye_limit").number()
}

/// The share beyond which more dye of a colour changes little (pigment maker's guidance, seen);
/// none for a colour that is not held.
pub fn saturation_percent(colour: &str) -> Option<f64> {
    let value = figure("dye_saturation").value;
    let colours = value.split(';').filter_map(|part| part.trim().rsplit_once(' '));
    colours.filter(|(name, _)| *name == colour).find_map(|(_, percent)| percent.parse().ok())
}

/// Whole bags for a mass, and what is left in the last.
pub fn bags(need: Mass, bag: Mass) -> (u32, Mass) {
    let count = super::whole(need / bag);
    (count, (bag * f64::from(count) - need).max(Mass::ZERO))
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn m3(value: f64) -> Volume {
        Volume::from_m3(value)
    }

    #[test]
    fn a_cubic_metre_of_mortar() {
        // Worked example in print (seen): mortar 1:3, 1 m3: 0.3325 m3 of cement is 478.8 kg, and
        // 0.9975 m3 of sand.
        let mix = Mix::mortar(m3(1.0), 3.0, Density::from_t_per_m3(1.5));
        assert!((mix.cement.to_kg() - 478.8).abs() < 0.05, "{mix:?}");
        assert!(((mix.cement / CEMENT).to_m3() - 0.3325).abs() < 0.00005);
        assert!((Mix::mortar_sand(m3(1.0), 3.0).to_m3() - 0.9975).abs() < 0.00005);
    }

    #[test]
    fn standard_concretes_as_printed() {
        // NHBC Standards 3.1.4 after BS 8500-2 (seen).
        let mix =
            |concrete, class, by_hand| Mix::concrete(concrete, m3(1.0), class, by_hand).unwrap();
        let st1 = mix(Concrete::St1, CementClass::Class32, false);
        assert_eq!(
            (st1.cement.to_kg(), st1.sand.to_kg(), st1.stone.to_kg()),
            (230.0, 770.0, 1155.0)
        );
        assert_eq!(mix(Concrete::St4, CementClass::Class32, false).cement.to_kg(), 330.0);
        let less = mix(Concrete::St1, CementClass::Class42, false).cement.to_kg();
        assert!((less - 207.0).abs() < 1e-9);
        let more = mix(Concrete::St1, CementClass::Class32, true).cement.to_kg();
        assert!((more - 253.0).abs() < 1e-9);
        assert_eq!(Mix::concrete(Concrete::Delivered, m3(1.0), CementClass::Class32, false), None);
    }

    #[test]
    fn dye_by_the_mass_of_cement() {
        // Pigment maker's guidance (seen): 5 % of 350 kg is 17.5 kg. Hand arithmetic: of 25 kg,
        // 1.25 kg.
        assert!((dye(Mass::from_kg(350.0), 5.0).to_kg() - 17.5).abs() < 1e-9);
        assert!((dye(Mass::from_kg(25.0), 5.0).to_kg() - 1.25).abs() < 1e-9);
        assert_eq!(most_dye_percent(), 10.0);
        assert_eq!(saturation_percent("red"), Some(8.0));
        assert_eq!(saturation_percent("blue"), None);
    }

    #[test]
    fn damp_sand_weighs_its_water() {
        let mix = Mix { cement: Mass::ZERO, sand: Mass::from_kg(100.0), stone: Mass::ZERO };
        assert!((mix.damp_sand(6.0).to_kg() - 106.0).abs() < 1e-9);
    }

    proptest! {
        #[test]
        fn batches_are_alike_and_make_the_whole(volume in 0.001_f64..20.0, mixer in 0.02_f64..0.5) {
            let mix = Mix::concrete(Concrete::St1, m3(volume), CementClass::Class32, false).unwrap();
            let (count, batch) = mix.batches(m3(volume), m3(mixer));
            prop_assert!(volume / f64::from(count) <= mixer + 1e-6);
            let whole = batch.times(f64::from(count));
            prop_assert!((whole.cement.to_kg() - mix.cement.to_kg()).abs() < 1e-9 * volume.max(1.0) * 1e3);
        }

        #[test]
        fn bags_hold_the_need_and_less_than_one_is_left(need in 0.01_f64..5000.0, bag in 0.5_f64..50.0) {
            let (count, left) = bags(Mass::from_kg(need), Mass::from_kg(bag));
            prop_assert!(f64::from(count) * bag >= need - 1e-6);
            prop_assert!(left.to_kg() < bag + 1e-6);
            prop_assert!((f64::from(count) * bag - need - left.to_kg()).abs() < 1e-6);
        }
    }
}
