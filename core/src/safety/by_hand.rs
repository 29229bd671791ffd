//! Weight moved by hand: tonnes, and trips with the person's own barrow.

use serde::{Deserialize, Serialize};
use ts_rs::TS;

use crate::quantities::{Vehicle, loads};
use crate::units::{Mass, Volume};

/// What is moved.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum Moved {
    /// Ground from the dig.
    Spoil,
    /// Stone for the sub-base.
    Stone,
    /// Sand for the bed.
    Sand,
    /// Blocks.
    Blocks,
    /// Sand for the joints.
    JointSand,
    /// Concrete for the haunch.
    Concrete,
}

impl Moved {
    /// The key of its name in the catalogue of words.
    pub const fn word(self) -> &'static str {
        match self {
            Moved::Spoil => "@moved.spoil",
            Moved::Stone => "@moved.stone",
            Moved::Sand => "@moved.sand",
            Moved::Blocks => "@moved.blocks",
            Moved::JointSand => "@moved.joint_sand",
            Moved::Concrete => "@moved.concrete",
        }
    }
}

/// Some of it, as it lies in the barrow.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Portion {
    /// What it is.
    pub what: Moved,
    /// Its mass.
    pub mass: Mass,
    /// Its loose volume.
    pub volume: Volume,
}

/// A portion with its trips.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Trips {
    /// What is moved.
    pub portion: Portion,
    /// Trips with the barrow, by volume or mass, whichever fills it first.
    pub trips: u32,
}

/// Trips with a barrow for each portion.
pub fn trips(portions: &[Portion], barrow: &Vehicle) -> Vec<Trips> {
    portions
        .iter()
        .map(|portion| Trips {
            portion: *portion,
            trips: loads(portion.volume, portion.mass, barrow).count,
        })
        .collect()
}

/// The mass of all portions together.
pub fn by_hand(portions: &[Portion]) -> Mass {
    portions.iter().map(|portion| portion.mass).sum()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantities::VehicleKind;

    #[test]
    fn trips_by_what_fills_the_barrow_first() {
        // Hand arithmetic: 1.2 m3 of spoil at 1.4 t/m3 in a barrow of 85 l and 120 kg: 15 by volume,
        // 14 by mass. 600 kg of blocks in 0.26 m3: 4 by volume, 5 by mass.
        let barrow = Vehicle {
            name: "barrow".to_owned(),
            kind: VehicleKind::Barrow,
            volume: Volume::from_m3(0.085),
            mass: Mass::from_kg(120.0),
        };
        let portion =
            |what, kg, m3| Portion { what, mass: Mass::from_kg(kg), volume: Volume::from_m3(m3) };
        let portions = [portion(Moved::Spoil, 1680.0, 1.2), portion(Moved::Blocks, 600.0, 0.26)];
        let counts: Vec<u32> = trips(&portions, &barrow).iter().map(|t| t.trips).collect();
        assert_eq!(counts, [15, 5]);
        assert!((by_hand(&portions).to_t() - 2.28).abs() < 1e-12);
    }
}
