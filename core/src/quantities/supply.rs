//! What a job needs of everything that is bought, from its take-off and the person's own choices.

use std::collections::BTreeMap;

use super::mixes::{CementClass, Concrete, Mix, dye};
use super::{Allowances, Amount, Goods, Need, Offer, TakeOff};
use crate::buildup::figure;
use crate::units::{Area, Density, Length, Mass, Volume};

/// A person's choices of what is bought and how.
#[derive(Debug, Clone, PartialEq)]
pub struct Supply {
    /// Sand spread loose beyond the bed's compacted thickness.
    pub surcharge: Length,
    /// Sharp sand, loose.
    pub loose_sand: Density,
    /// Joint sand kept for the return visit, per cent of the joints filled to the top.
    pub top_up_percent: f64,
    /// Ground in the solid.
    pub ground: Density,
    /// Concrete, mortar and dye.
    pub mixes: Mixes,
    /// Membranes, where any are chosen.
    pub membranes: Vec<Membrane>,
    /// Ordered beyond the need, per cent; what is not named has none.
    pub beyond_percent: BTreeMap<Goods, f64>,
    /// How everything is sold; the first offer of something is the one that is ordered.
    pub offers: Vec<Offer>,
    /// The currency of the prices, by its ISO 4217 code; empty where there are none.
    pub currency: String,
}

/// Concrete, mortar and dye as they are mixed.
#[derive(Debug, Clone, PartialEq)]
pub struct Mixes {
    /// The haunch's concrete.
    pub concrete: Concrete,
    /// Class of the cement.
    pub class: CementClass,
    /// Mixed by hand, without a mixer.
    pub by_hand: bool,
    /// What one batch of the mixer holds.
    pub mixer: Volume,
    /// Mortar the job takes, as the person says.
    pub mortar: Volume,
    /// Parts of sand to one of cement in it, by volume.
    pub mortar_parts: f64,
    /// Dye, per cent of the mass of cement, in the mortar where there is any, else in the concrete.
    pub dye_percent: Option<f64>,
    /// Its colour; empty where that is not said.
    pub colour: String,
}

/// A membrane that comes in rolls.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Membrane {
    /// Where it lies.
    pub goods: Goods,
    /// How far one strip laps over the next, at sides and ends.
    pub lap: Length,
    /// Width of a roll.
    pub width: Length,
    /// Length of a roll.
    pub length: Length,
}

impl Membrane {
    /// What must be bought to cover an area with laps at sides and ends.
    pub fn area(&self, covered: Area) -> Area {
        let across = self.width / (self.width - self.lap);
        let along = self.length / (self.length - self.lap);
        covered * (across * along)
    }

    /// What one roll holds.
    pub fn roll(&self) -> Area {
        self.width * self.length
    }
}

/// A mix for a job, and its batches.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Mixed {
    /// Its volume.
    pub volume: Volume,
    /// What goes into all of it.
    pub mix: Mix,
    /// Dye in all of it.
    pub dye: Mass,
    /// How many batches, all alike.
    pub batches: u32,
    /// What goes into one.
    pub batch: Mix,
    /// Dye in one.
    pub batch_dye: Mass,
}

/// What goes on the site, and what it is bought as.
#[derive(Debug, Clone, PartialEq)]
pub struct Supplies {
    /// Bed sand as it is spread, with the surcharge.
    pub bed_loose: Volume,
    /// Its mass.
    pub bed_spread: Mass,
    /// Joint sand for the return visit.
    pub joint_top_up: Mass,
    /// All stone as loose volume.
    pub sub_base_loose: Volume,
    /// Ground to take away.
    pub spoil: Mass,
    /// The haunch's concrete, where it is mixed on the site.
    pub concrete: Option<Mixed>,
    /// The mortar.
    pub mortar: Option<Mixed>,
    /// What is bought.
    pub needs: Vec<Need>,
}

/// What a cubic metre of something weighs as it comes loose: stone by its compacted density and the
/// ratio of the reference; none for what is not sold by volume.
pub fn loose_density(
    goods: Goods,
    allowances: &Allowances,
    loose_sand: Density,
) -> Option<Density> {
    match goods {
        Goods::SubBase => {
            let ratio = figure("loose_ratio").number();
            Some(Density::from_t_per_m3(allowances.sub_base.to_t_per_m3() / ratio))
        }
        Goods::Bed | Goods::FineAggregate | Goods::MortarSand => Some(loose_sand),
        Goods::JointSand => Some(allowances.joint_sand),
        Goods::Blocks
        | Goods::Cement
        | Goods::CoarseAggregate
        | Goods::Concrete
        | Goods::Dye
        | Goods::MembraneUnderSubBase
        | Goods::MembraneUnderBed => None,
    }
}

/// Works out what a job needs.
///
/// `paved` is the area under the paving; stone and the membrane under it go over the dig.
pub fn supplies(amounts: &TakeOff, paved: Area, bed: Length, supply: &Supply) -> Supplies {
    let mixes = &supply.mixes;
    let bed_loose = paved * (bed + supply.surcharge);
    let mortar = (mixes.mortar > Volume::ZERO).then(|| {
        let mix = Mix::mortar(mixes.mortar, mixes.mortar_parts, supply.loose_sand);
        mixed(mixes.mortar, mix, mixes, true)
    });
    let concrete = Mix::concrete(mixes.concrete, amounts.haunch, mixes.class, mixes.by_hand)
        .filter(|_| amounts.haunch > Volume::ZERO)
        .map(|mix| mixed(amounts.haunch, mix, mixes, mortar.is_none()));
    let mut supplies = Supplies {
        bed_loose,
        bed_spread: bed_loose * supply.loose_sand,
        joint_top_up: amounts.joint_sand * (supply.top_up_percent / 100.0),
        sub_base_loose: (amounts.sub_base + amounts.dig.fill) * figure("loose_ratio").number(),
        spoil: amounts.dig.volume * supply.ground,
        concrete,
        mortar,
        needs: Vec::new(),
    };
    supplies.needs = needs(&supplies, amounts, paved, supply);
    supplies
}

fn mixed(volume: Volume, mix: Mix, mixes: &Mixes, dyed: bool) -> Mixed {
    let (batches, batch) = mix.batches(volume, mixes.mixer);
    let percent = mixes.dye_percent.filter(|_| dyed).unwrap_or(0.0);
    Mixed {
        volume,
        dye: dye(mix.cement, percent),
        batch_dye: dye(batch.cement, percent),
        mix,
        batches,
        batch,
    }
}

fn needs(supplies: &Supplies, amounts: &TakeOff, paved: Area, supply: &Supply) -> Vec<Need> {
    let both = [supplies.concrete, supplies.mortar];
    let of_both = |part: fn(&Mixed) -> Mass| both.iter().flatten().map(part).sum::<Mass>();
    let of_concrete =
        |part: fn(&Mixed) -> Mass| supplies.concrete.as_ref().map_or(Mass::ZERO, part);
    let mixed_elsewhere = match supply.mixes.concrete {
        Concrete::Delivered => amounts.haunch,
        Concrete::St1 | Concrete::St2 | Concrete::St4 => Volume::ZERO,
    };
    let membrane = |goods, covered| {
        let chosen = supply.membranes.iter().find(|membrane| membrane.goods == goods);
        chosen.map_or(Area::ZERO, |membrane| membrane.area(covered))
    };
    let amount = |goods: Goods| match goods {
        Goods::Blocks => Amount::Pieces(f64::from(amounts.blocks.needed)),
        Goods::SubBase => Amount::Mass(amounts.stone()),
        Goods::Bed => Amount::Mass(supplies.bed_spread),
        Goods::JointSand => Amount::Mass(amounts.joint_sand + supplies.joint_top_up),
        Goods::Cement => Amount::Mass(of_both(|mixed| mixed.mix.cement)),
        Goods::FineAggregate => Amount::Mass(of_concrete(|mixed| mixed.mix.sand)),
        Goods::CoarseAggregate => Amount::Mass(of_concrete(|mixed| mixed.mix.stone)),
        Goods::Concrete => Amount::Volume(mixed_elsewhere),
        Goods::MortarSand => {
            Amount::Mass(supplies.mortar.as_ref().map_or(Mass::ZERO, |mixed| mixed.mix.sand))
        }
        Goods::Dye => Amount::Mass(of_both(|mixed| mixed.dye)),
        Goods::MembraneUnderSubBase => Amount::Area(membrane(goods, amounts.dig.area)),
        Goods::MembraneUnderBed => Amount::Area(membrane(goods, paved)),
    };
    Goods::ALL
        .into_iter()
        .map(|goods| Need {
            goods,
            amount: amount(goods),
            allowance_percent: supply.beyond_percent.get(&goods).copied().unwrap_or(0.0),
        })
        .filter(|need| need.amount.number() > 0.0)
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::laying::BlockCount;
    use crate::quantities::Dig;
    use proptest::prelude::*;

    fn amounts(haunch: f64) -> TakeOff {
        TakeOff {
            dig: Dig {
                area: Area::from_m2(12.0),
                volume: Volume::from_m3(3.0),
                fill: Volume::ZERO,
                beyond: Area::ZERO,
            },
            loose: [Volume::from_m3(3.75), Volume::from_m3(3.9)],
            sub_base: Volume::from_m3(1.2),
            sub_base_mass: Mass::from_t(2.64),
            fill_mass: Mass::ZERO,
            bed: Volume::from_m3(0.4),
            bed_mass: Mass::from_t(0.72),
            blocks: BlockCount {
                whole: 500,
                cut: 26,
                field: 480,
                edge: 46,
                needed: 520,
                joints: Area::from_m2(0.5),
            },
            buy: 546,
            joint_sand: Mass::from_kg(41.7),
            haunch: Volume::from_m3(haunch),
        }
    }

    fn supply(mortar: f64) -> Supply {
        Supply {
            surcharge: Length::from_mm(15.0),
            loose_sand: Density::from_t_per_m3(1.5),
            top_up_percent: 10.0,
            ground: Density::from_t_per_m3(1.7),
            mixes: Mixes {
                concrete: Concrete::St1,
                class: CementClass::Class32,
                by_hand: false,
                mixer: Volume::from_m3(0.09),
                mortar: Volume::from_m3(mortar),
                mortar_parts: 3.0,
                dye_percent: Some(5.0),
                colour: String::new(),
            },
            membranes: vec![Membrane {
                goods: Goods::MembraneUnderSubBase,
                lap: Length::from_m(0.3),
                width: Length::from_m(4.5),
                length: Length::from_m(11.0),
            }],
            beyond_percent: BTreeMap::from([(Goods::SubBase, 5.0)]),
            offers: Vec::new(),
            currency: String::new(),
        }
    }

    fn need(supplies: &Supplies, goods: Goods) -> f64 {
        supplies.needs.iter().find(|n| n.goods == goods).map_or(0.0, |n| n.amount.number())
    }

    #[test]
    fn a_small_job_by_hand() {
        // Hand arithmetic: 10 m2 of bed 40 and 15 mm loose are 0.55 m3, 825 kg; 41.7 kg of joint
        // sand and a tenth; 0.3 m3 of ST1 take 69 kg of cement in 4 batches of 17.25 kg; dye 5 %.
        let supplies =
            supplies(&amounts(0.3), Area::from_m2(10.0), Length::from_mm(40.0), &supply(0.0));
        assert!((need(&supplies, Goods::Bed) - 825.0).abs() < 1e-9);
        assert!((need(&supplies, Goods::JointSand) - 45.87).abs() < 1e-9);
        assert!((need(&supplies, Goods::Cement) - 69.0).abs() < 1e-9);
        assert!((need(&supplies, Goods::Dye) - 3.45).abs() < 1e-9);
        assert_eq!(need(&supplies, Goods::Blocks), 520.0);
        let concrete = supplies.concrete.unwrap();
        assert_eq!(concrete.batches, 4);
        assert!((concrete.batch.cement.to_kg() - 17.25).abs() < 1e-9);
        // 12 m2 under laps of 0.3 m at sides and ends of a roll of 4.5 by 11 m.
        let lapped = 12.0 * (4.5 / 4.2) * (11.0 / 10.7);
        assert!((need(&supplies, Goods::MembraneUnderSubBase) - lapped).abs() < 1e-9);
        // 3 m3 in the solid at 1.7 t/m3; 1.2 m3 compacted times 1.25.
        assert!((supplies.spoil.to_t() - 5.1).abs() < 1e-12);
        assert!((supplies.sub_base_loose.to_m3() - 1.5).abs() < 1e-12);
    }

    #[test]
    fn dye_goes_into_the_mortar_where_there_is_any() {
        let with =
            supplies(&amounts(0.3), Area::from_m2(10.0), Length::from_mm(40.0), &supply(0.1));
        let mortar = with.mortar.unwrap();
        assert_eq!(with.concrete.unwrap().dye, Mass::ZERO);
        assert!((mortar.dye.to_kg() - 0.05 * 47.88).abs() < 1e-9);
    }

    #[test]
    fn concrete_that_comes_mixed_needs_no_cement() {
        let mut choice = supply(0.0);
        choice.mixes.concrete = Concrete::Delivered;
        let supplies = supplies(&amounts(0.3), Area::from_m2(10.0), Length::from_mm(40.0), &choice);
        assert!((need(&supplies, Goods::Concrete) - 0.3).abs() < 1e-12);
        assert_eq!(need(&supplies, Goods::Cement), 0.0);
    }

    proptest! {
        #[test]
        fn what_goes_into_the_mixes_is_what_is_needed(haunch in 0.0_f64..3.0, mortar in 0.0_f64..2.0) {
            let supplies = supplies(
                &amounts(haunch), Area::from_m2(10.0), Length::from_mm(40.0), &supply(mortar),
            );
            let mixes = [supplies.concrete, supplies.mortar];
            let batched: Mass = mixes
                .iter()
                .flatten()
                .map(|mixed| mixed.batch.cement * f64::from(mixed.batches))
                .sum();
            prop_assert!((need(&supplies, Goods::Cement) - batched.to_kg()).abs() < 1e-6);
        }
    }
}
