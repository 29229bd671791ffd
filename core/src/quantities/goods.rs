//! What is bought, and amounts of it.

use serde::{Deserialize, Serialize};
use ts_rs::TS;

use crate::units::{Area, Mass, Volume};

/// What is bought.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum Goods {
    /// Concrete blocks.
    Blocks,
    /// Graded crushed stone.
    SubBase,
    /// Sharp sand for the bed.
    Bed,
    /// Kiln-dried sand for the joints.
    JointSand,
    /// Cement.
    Cement,
    /// Sand for concrete.
    FineAggregate,
    /// Stone for concrete.
    CoarseAggregate,
    /// Concrete that comes mixed.
    Concrete,
    /// Sand for mortar.
    MortarSand,
    /// Dye for concrete or mortar.
    Dye,
    /// A membrane between ground and stone.
    MembraneUnderSubBase,
    /// A membrane between stone and bed.
    MembraneUnderBed,
}

impl Goods {
    /// Everything that is bought, in the order it is needed.
    pub const ALL: [Goods; 12] = [
        Goods::MembraneUnderSubBase,
        Goods::SubBase,
        Goods::MembraneUnderBed,
        Goods::Bed,
        Goods::Blocks,
        Goods::JointSand,
        Goods::Concrete,
        Goods::Cement,
        Goods::FineAggregate,
        Goods::CoarseAggregate,
        Goods::MortarSand,
        Goods::Dye,
    ];

    /// Its name in the plan file and in deliveries.
    pub const fn name(self) -> &'static str {
        match self {
            Goods::Blocks => "blocks",
            Goods::SubBase => "sub_base",
            Goods::Bed => "bed",
            Goods::JointSand => "joint_sand",
            Goods::Cement => "cement",
            Goods::FineAggregate => "fine_aggregate",
            Goods::CoarseAggregate => "coarse_aggregate",
            Goods::Concrete => "concrete",
            Goods::MortarSand => "mortar_sand",
            Goods::Dye => "dye",
            Goods::MembraneUnderSubBase => "membrane_under_sub_base",
            Goods::MembraneUnderBed => "membrane_under_bed",
        }
    }

    /// The key of its name in the catalogue of words.
    pub const fn word(self) -> &'static str {
        match self {
            Goods::Blocks => "@bought.blocks",
            Goods::SubBase => "@bought.sub_base",
            Goods::Bed => "@bought.bed",
            Goods::JointSand => "@bought.joint_sand",
            Goods::Cement => "@bought.cement",
            Goods::FineAggregate => "@bought.fine_aggregate",
            Goods::CoarseAggregate => "@bought.coarse_aggregate",
            Goods::Concrete => "@bought.concrete",
            Goods::MortarSand => "@bought.mortar_sand",
            Goods::Dye => "@bought.dye",
            Goods::MembraneUnderSubBase => "@bought.membrane_under_sub_base",
            Goods::MembraneUnderBed => "@bought.membrane_under_bed",
        }
    }

    /// What it is measured in.
    pub const fn measure(self) -> Measure {
        match self {
            Goods::Blocks => Measure::Pieces,
            Goods::Concrete => Measure::M3,
            Goods::MembraneUnderSubBase | Goods::MembraneUnderBed => Measure::M2,
            Goods::SubBase
            | Goods::Bed
            | Goods::JointSand
            | Goods::Cement
            | Goods::FineAggregate
            | Goods::CoarseAggregate
            | Goods::MortarSand
            | Goods::Dye => Measure::Kg,
        }
    }
}

/// What an amount is measured in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum Measure {
    /// Pieces.
    Pieces,
    /// Kilograms.
    Kg,
    /// Cubic metres.
    M3,
    /// Square metres.
    M2,
}

/// An amount of something bought.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Amount {
    /// Pieces.
    Pieces(f64),
    /// A mass.
    Mass(Mass),
    /// A volume.
    Volume(Volume),
    /// An area.
    Area(Area),
}

impl Amount {
    /// An amount in a measure.
    pub const fn of(measure: Measure, number: f64) -> Amount {
        match measure {
            Measure::Pieces => Amount::Pieces(number),
            Measure::Kg => Amount::Mass(Mass::from_kg(number)),
            Measure::M3 => Amount::Volume(Volume::from_m3(number)),
            Measure::M2 => Amount::Area(Area::from_m2(number)),
        }
    }

    /// Its measure.
    pub const fn measure(self) -> Measure {
        match self {
            Amount::Pieces(_) => Measure::Pieces,
            Amount::Mass(_) => Measure::Kg,
            Amount::Volume(_) => Measure::M3,
            Amount::Area(_) => Measure::M2,
        }
    }

    /// In its measure.
    pub const fn number(self) -> f64 {
        match self {
            Amount::Pieces(pieces) => pieces,
            Amount::Mass(mass) => mass.to_kg(),
            Amount::Volume(volume) => volume.to_m3(),
            Amount::Area(area) => area.to_m2(),
        }
    }

    /// So many times as much.
    #[must_use]
    pub const fn times(self, by: f64) -> Amount {
        Amount::of(self.measure(), self.number() * by)
    }

    /// What is beyond another amount of the same measure; never less than nothing.
    #[must_use]
    pub const fn beyond(self, other: Amount) -> Amount {
        Amount::of(self.measure(), (self.number() - other.number()).max(0.0))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_good_is_listed_once_and_known_by_its_name() {
        let mut all = Goods::ALL.to_vec();
        all.sort();
        all.dedup();
        assert_eq!(all.len(), 12);
        for goods in Goods::ALL {
            let json = serde_json::to_value(goods).unwrap();
            assert_eq!(json, goods.name());
            assert_eq!(Amount::of(goods.measure(), 2.5).number(), 2.5);
        }
    }
}
