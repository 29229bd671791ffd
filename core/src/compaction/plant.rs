//! Machines that compact, and how they are rated.

use serde::{Deserialize, Serialize};
use ts_rs::TS;

use crate::units::{Acceleration, Area, Length, Mass, Speed};

/// A kind of machine, as the compaction tables tell them apart.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum PlantKind {
    /// A vibrating plate, rated by its mass over the area in contact with the ground.
    VibratingPlate,
    /// A vibro-tamper (trench rammer), rated by its mass.
    VibroTamper,
    /// A vibrating roller with one drum, rated by its mass over the drum's width.
    SingleDrumRoller,
    /// A vibrating roller with two drums, rated by its mass over the drums' width.
    TwinDrumRoller,
    /// A vibrating roller as the highway table rates it, by its mass over the drum's width.
    VibratoryRoller,
    /// A hand-held tamper for places nothing else reaches, rated by its mass.
    TightPlacesTamper,
}

impl PlantKind {
    /// Every kind.
    pub const ALL: [PlantKind; 6] = [
        PlantKind::VibratingPlate,
        PlantKind::VibroTamper,
        PlantKind::SingleDrumRoller,
        PlantKind::TwinDrumRoller,
        PlantKind::VibratoryRoller,
        PlantKind::TightPlacesTamper,
    ];

    /// Its name in the tables, the plan file and on the command line.
    pub const fn name(self) -> &'static str {
        match self {
            PlantKind::VibratingPlate => "vibrating_plate",
            PlantKind::VibroTamper => "vibro_tamper",
            PlantKind::SingleDrumRoller => "single_drum_roller",
            PlantKind::TwinDrumRoller => "twin_drum_roller",
            PlantKind::VibratoryRoller => "vibratory_roller",
            PlantKind::TightPlacesTamper => "tight_places_tamper",
        }
    }

    /// The kind of a name, however its words are joined; none for another word.
    pub fn named(name: &str) -> Option<PlantKind> {
        let name = name.trim().to_lowercase().replace(['-', ' '], "_");
        let plate = matches!(name.as_str(), "plate" | "vibro_plate");
        let known = PlantKind::ALL.into_iter().find(|kind| kind.name() == name);
        known.or(plate.then_some(PlantKind::VibratingPlate))
    }

    /// The unit of its rating.
    pub const fn rated_in(self) -> &'static str {
        match self {
            PlantKind::VibratingPlate => "kg/m²",
            PlantKind::VibroTamper | PlantKind::TightPlacesTamper => "kg",
            PlantKind::SingleDrumRoller
            | PlantKind::TwinDrumRoller
            | PlantKind::VibratoryRoller => "kg/m",
        }
    }

    /// The key of its name in the catalogue of words.
    pub const fn word(self) -> &'static str {
        match self {
            PlantKind::VibratingPlate => "@plant.vibrating_plate",
            PlantKind::VibroTamper => "@plant.vibro_tamper",
            PlantKind::SingleDrumRoller => "@plant.single_drum_roller",
            PlantKind::TwinDrumRoller => "@plant.twin_drum_roller",
            PlantKind::VibratoryRoller => "@plant.vibratory_roller",
            PlantKind::TightPlacesTamper => "@plant.tight_places_tamper",
        }
    }
}

/// How a machine is rated, in the unit of its kind: kilograms a square metre of contact for
/// plates, kilograms for tampers, kilograms a metre of drum for rollers.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Rating(f64);

impl Rating {
    /// A rating in the unit of the machine's kind. None unless it is a number above 0.
    pub fn new(value: f64) -> Option<Rating> {
        (value.is_finite() && value > 0.0).then_some(Rating(value))
    }

    /// A plate's: its working mass over the area of its base in contact with the ground, which is
    /// not the length times the width of the machine.
    pub fn of_plate(mass: Mass, contact: Area) -> Option<Rating> {
        Rating::new(mass.to_kg() / contact.to_m2())
    }

    /// A roller's: its mass over the width of its drum.
    pub fn of_roller(mass: Mass, drum: Length) -> Option<Rating> {
        Rating::new(mass.to_kg() / drum.to_m())
    }

    /// A tamper's: its mass.
    pub fn of_tamper(mass: Mass) -> Option<Rating> {
        Rating::new(mass.to_kg())
    }

    /// In the unit of the machine's kind.
    pub const fn value(self) -> f64 {
        self.0
    }
}

/// What a rating is taken from.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct RatingFrom {
    /// The maker's, in the unit of the kind.
    pub rating: Option<f64>,
    /// Working mass.
    pub mass: Option<Mass>,
    /// A plate's area in contact with the ground.
    pub contact: Option<Area>,
    /// A roller's width of drum.
    pub drum: Option<Length>,
}

/// Why there is no rating.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
pub enum RatingError {
    /// Nothing to take it from.
    #[error("this plant has no rating")]
    None,
    /// The rating given is no number above 0.
    #[error("{0} is no rating")]
    NotARating(f64),
    /// The maker's and the one reckoned differ.
    #[error("the rating given is {given}, and mass over contact or drum gives {reckoned:.0}")]
    Differ {
        /// The maker's.
        given: f64,
        /// Mass over contact area or drum.
        reckoned: f64,
    },
}

/// A maker's rating and a reckoned one may differ by this share before it is asked about.
const SAME_RATING: f64 = 0.05;

impl PlantKind {
    /// The rating of a machine of this kind: the maker's where it is given, else its mass by what
    /// the kind is rated on.
    ///
    /// # Errors
    /// [`RatingError`] where there is nothing to take it from, where it is no number above 0, or
    /// where the two differ by more than 5 %.
    pub fn rating(self, from: RatingFrom) -> Result<Rating, RatingError> {
        let mass = from.mass;
        let reckoned = match self {
            PlantKind::VibratingPlate => {
                mass.zip(from.contact).and_then(|(mass, area)| Rating::of_plate(mass, area))
            }
            PlantKind::VibroTamper | PlantKind::TightPlacesTamper => {
                mass.and_then(Rating::of_tamper)
            }
            PlantKind::SingleDrumRoller
            | PlantKind::TwinDrumRoller
            | PlantKind::VibratoryRoller => {
                mass.zip(from.drum).and_then(|(mass, drum)| Rating::of_roller(mass, drum))
            }
        };
        let Some(given) = from.rating else { return reckoned.ok_or(RatingError::None) };
        let rating = Rating::new(given).ok_or(RatingError::NotARating(given))?;
        match reckoned {
            Some(other) if (other.value() / given - 1.0).abs() > SAME_RATING => {
                Err(RatingError::Differ { given, reckoned: other.value() })
            }
            _ => Ok(rating),
        }
    }

    /// What would give a machine of this kind a rating, in words.
    pub const fn rating_right(self) -> &'static str {
        match self {
            PlantKind::VibratingPlate => {
                "the maker's kg/m², or the working mass and the area of base plate in contact with \
                 the ground"
            }
            PlantKind::VibroTamper | PlantKind::TightPlacesTamper => "its working mass in kg",
            PlantKind::SingleDrumRoller
            | PlantKind::TwinDrumRoller
            | PlantKind::VibratoryRoller => {
                "the maker's kg a metre of drum, or the working mass and the width of the drum"
            }
        }
    }
}

/// How hard a machine shakes the hands that hold it, and how that is known.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Shaking {
    /// The magnitude as stated.
    pub stated: Acceleration,
    /// Whether it was measured at work; otherwise it is the maker's value from a laboratory.
    pub measured: bool,
}

impl Shaking {
    /// What a day's exposure is reckoned with: the maker's laboratory value is doubled (HSE advice
    /// restated, secondary), a measured one is taken as it is.
    pub fn reckoned(self) -> Acceleration {
        if self.measured { self.stated } else { self.stated * 2.0 }
    }
}

/// A machine.
#[derive(Debug, Clone, PartialEq)]
pub struct Plant {
    /// The name by which passes are logged.
    pub name: String,
    /// What it is.
    pub kind: PlantKind,
    /// Its rating.
    pub rating: Rating,
    /// Width of its plate or drum.
    pub width: Option<Length>,
    /// How far one strip laps over the last.
    pub overlap: Length,
    /// How fast it travels, where the person has said so.
    pub speed: Option<Speed>,
    /// How hard it shakes, where that is known.
    pub shaking: Option<Shaking>,
}

impl Plant {
    /// How fast a plate is taken to travel where nobody has said (our default).
    pub const USUAL_SPEED: Speed = Speed::from_m_per_min(20.0);
    /// How far one strip laps over the last where nobody has said (our default).
    pub const USUAL_OVERLAP: Length = Length::from_mm(75.0);

    /// The speed that times are reckoned with.
    pub fn travels(&self) -> Speed {
        self.speed.unwrap_or(Plant::USUAL_SPEED)
    }

    /// Whether a name that a pass was logged under is this machine's.
    pub fn is_named(&self, name: &str) -> bool {
        self.name.trim().to_lowercase() == name.trim().to_lowercase()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_plate_is_rated_on_its_contact_area() {
        // Hand arithmetic (capability C20): 90 kg on 0.50 x 0.36 m is 500 kg/m2.
        let contact = Length::from_m(0.50) * Length::from_m(0.36);
        let rating = Rating::of_plate(Mass::from_kg(90.0), contact).unwrap();
        assert!((rating.value() - 500.0).abs() < 1e-9);
    }

    #[test]
    fn no_rating_comes_of_nothing() {
        assert_eq!(Rating::of_plate(Mass::from_kg(90.0), Area::ZERO), None);
        for value in [0.0, -1.0, f64::NAN, f64::INFINITY] {
            assert_eq!(Rating::new(value), None, "{value}");
        }
    }

    #[test]
    fn a_rating_comes_from_the_maker_or_from_the_mass() {
        let mass = Some(Mass::from_kg(280.0));
        let plate = |rating, contact| RatingFrom {
            rating,
            mass,
            contact: Some(Area::from_m2(contact)),
            drum: None,
        };
        let kind = PlantKind::VibratingPlate;
        let value = |from| kind.rating(from).map(Rating::value);
        assert_eq!(value(plate(None, 0.175)), Ok(1600.0));
        assert_eq!(value(plate(Some(1580.0), 0.175)), Ok(1580.0));
        assert!(matches!(value(plate(Some(800.0), 0.175)), Err(RatingError::Differ { .. })));
        assert_eq!(value(plate(Some(0.0), 0.175)), Err(RatingError::NotARating(0.0)));
        assert_eq!(value(RatingFrom { mass, ..RatingFrom::default() }), Err(RatingError::None));
        let rammer = PlantKind::VibroTamper.rating(RatingFrom { mass, ..RatingFrom::default() });
        assert_eq!(rammer.map(Rating::value), Ok(280.0));
    }

    #[test]
    fn kinds_are_known_by_their_names() {
        for kind in PlantKind::ALL {
            assert_eq!(PlantKind::named(kind.name()), Some(kind));
        }
        assert_eq!(PlantKind::named("Vibro-plate"), Some(PlantKind::VibratingPlate));
        assert_eq!(PlantKind::named("steamroller"), None);
    }

    #[test]
    fn a_makers_value_is_doubled_and_a_measured_one_is_not() {
        // HSE advice restated (secondary): double it.
        let stated = Acceleration::from_m_per_s2(4.0);
        assert_eq!(Shaking { stated, measured: false }.reckoned().to_m_per_s2(), 8.0);
        assert_eq!(Shaking { stated, measured: true }.reckoned().to_m_per_s2(), 4.0);
    }
}
