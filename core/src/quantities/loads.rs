//! Loads of the person's own vehicles, by volume or by mass, whichever fills first.

use serde::{Deserialize, Serialize};
use ts_rs::TS;

use crate::units::{Mass, Volume};

/// What carries.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum VehicleKind {
    /// A skip that is fetched.
    Skip,
    /// A trailer behind a van.
    Trailer,
    /// A lorry that loads with its own grab, or is loaded.
    Lorry,
    /// A van.
    Van,
    /// A barrow.
    Barrow,
}

impl VehicleKind {
    /// Every kind.
    pub const ALL: [VehicleKind; 5] = [
        VehicleKind::Skip,
        VehicleKind::Trailer,
        VehicleKind::Lorry,
        VehicleKind::Van,
        VehicleKind::Barrow,
    ];

    /// Its name in the plan file.
    pub const fn name(self) -> &'static str {
        match self {
            VehicleKind::Skip => "skip",
            VehicleKind::Trailer => "trailer",
            VehicleKind::Lorry => "lorry",
            VehicleKind::Van => "van",
            VehicleKind::Barrow => "barrow",
        }
    }
}

/// Something that carries, by what it holds.
#[derive(Debug, Clone, PartialEq)]
pub struct Vehicle {
    /// The person's name for it.
    pub name: String,
    /// What it is.
    pub kind: VehicleKind,
    /// Loose volume it holds.
    pub volume: Volume,
    /// Mass it may carry.
    pub mass: Mass,
}

/// What fills a vehicle first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum FilledBy {
    /// It is full before it is too heavy.
    Volume,
    /// It is too heavy before it is full.
    Mass,
}

/// Loads to carry something away.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Loads {
    /// How many, the last one part full.
    pub count: u32,
    /// Full loads by volume alone.
    pub by_volume: f64,
    /// Full loads by mass alone.
    pub by_mass: f64,
    /// What fills first.
    pub filled_by: FilledBy,
}

/// Loads for a loose volume of a mass.
pub fn loads(volume: Volume, mass: Mass, vehicle: &Vehicle) -> Loads {
    let (by_volume, by_mass) = (volume / vehicle.volume, mass / vehicle.mass);
    Loads {
        count: super::whole(by_volume.max(by_mass)),
        by_volume,
        by_mass,
        filled_by: if by_mass > by_volume { FilledBy::Mass } else { FilledBy::Volume },
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn skip(m3: f64, t: f64) -> Vehicle {
        Vehicle {
            name: "skip".to_owned(),
            kind: VehicleKind::Skip,
            volume: Volume::from_m3(m3),
            mass: Mass::from_t(t),
        }
    }

    #[test]
    fn skips_of_a_dig() {
        // Hand arithmetic: 14.5 m3 and 19.7 t into skips of 6.1 m3 and 8 t: three, by mass.
        let loads = loads(Volume::from_m3(14.5), Mass::from_t(19.7), &skip(6.1, 8.0));
        assert_eq!((loads.count, loads.filled_by), (3, FilledBy::Mass));
    }

    proptest! {
        #[test]
        fn loads_carry_everything_and_one_fewer_does_not(
            m3 in 0.01_f64..200.0, density in 0.3_f64..2.5, holds in 0.05_f64..20.0, t in 0.05_f64..30.0,
        ) {
            let (volume, mass) = (Volume::from_m3(m3), Mass::from_t(m3 * density));
            let loads = loads(volume, mass, &skip(holds, t));
            let count = f64::from(loads.count);
            prop_assert!(count * holds >= m3 - 1e-6 && count * t >= m3 * density - 1e-6);
            let fewer = count - 1.0;
            prop_assert!(fewer * holds < m3 || fewer * t < m3 * density);
        }
    }
}
