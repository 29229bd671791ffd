//! Passes for a layer, and the lifts that a machine may compact.

use serde::{Deserialize, Serialize};
use ts_rs::TS;

use super::table::{Held, Row, held};
use super::{Material, Plant, PlantKind, Rating, Specification};
use crate::units::{Length, Speed};
use crate::words::Phrase;

/// A machine on a material under one specification.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Method {
    /// The specification, picked by name.
    pub specification: Specification,
    /// The kind of machine.
    pub plant: PlantKind,
    /// Its rating.
    pub rating: Rating,
    /// What is compacted.
    pub material: Material,
    /// How fast it travels, where that is known.
    pub speed: Option<Speed>,
}

/// What a specification says of a layer.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum Verdict {
    /// A row gives the passes.
    Ok,
    /// The layer is too thick for this machine in one lift.
    NotPermitted,
    /// No row for this machine: it is lighter than the lowest, or its table is not held here.
    NoRow,
}

/// One lift of a layer.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Lift {
    /// Compacted thickness.
    pub thickness: Length,
    /// Passes over it.
    pub passes: u32,
}

/// The answer for one layer.
#[derive(Debug, Clone, PartialEq)]
pub struct Compaction {
    /// Passes over the layer in one lift; none where that is not permitted or no row is held.
    pub passes: Option<u32>,
    /// In a word.
    pub verdict: Verdict,
    /// Equal lifts that the machine may compact, fewest first: one where the whole layer is
    /// permitted, none where no row is held or no lift is permitted.
    pub lifts: Vec<Lift>,
    /// The document.
    pub source: String,
    /// How well its row is known: seen or memory.
    pub status: String,
    /// In words, with what to do.
    pub says: Phrase,
    /// What to mind besides.
    pub cautions: Vec<Phrase>,
}

/// The highway method assumes a plate at no more than this; faster needs proportionally more passes
/// (from memory).
const METHOD_SPEED: Speed = Speed::from_km_per_h(1.0);
/// Layers over 225 mm go down in lifts of at least 110 mm in the highway method (from memory).
const LEAST_LIFT_OVER: Length = Length::from_mm(225.0);
const LEAST_LIFT: Length = Length::from_mm(110.0);
/// Lengths closer than this are the same thickness.
const SAME: Length = Length::from_mm(1e-6);

impl Plant {
    /// This machine on a material under a specification.
    pub fn method(&self, specification: Specification, material: Material) -> Method {
        Method { specification, plant: self.kind, rating: self.rating, material, speed: self.speed }
    }
}

impl Method {
    /// Passes for a layer of this compacted thickness, or the lifts it must be laid in. A layer
    /// between two rows takes the next thicker one; one thicker than every row is not permitted.
    pub fn compaction(&self, layer: Length) -> Compaction {
        match held(self.specification, self.plant, self.material, self.rating) {
            Held::Rows(rows) => self.by_rows(&rows, layer),
            Held::Lighter => {
                let code = match self.plant {
                    PlantKind::VibratingPlate => "passes.no_row_plate",
                    _ => "passes.no_row_machine",
                };
                self.without_row(code)
            }
            Held::Nothing => self.without_row("passes.not_held"),
        }
    }

    /// The thickest lift that the machine may compact; none where no row permits one.
    pub fn thickest_lift(&self) -> Option<Length> {
        match held(self.specification, self.plant, self.material, self.rating) {
            Held::Rows(rows) => thickest(&rows),
            Held::Lighter | Held::Nothing => None,
        }
    }

    fn without_row(&self, code: &str) -> Compaction {
        let (source, status) = self.specification.source();
        Compaction {
            passes: None,
            verdict: Verdict::NoRow,
            lifts: Vec::new(),
            source: source.to_owned(),
            status: status.to_owned(),
            says: Phrase::new(code, [("specification", self.specification.word().into())]),
            cautions: Vec::new(),
        }
    }

    fn by_rows(&self, rows: &[&Row], layer: Length) -> Compaction {
        let row = row_for(rows, layer).or(rows.last().copied());
        let passes = row_for(rows, layer).and_then(|row| row.passes).map(|n| self.at_speed(n));
        let lifts = match passes {
            Some(passes) => vec![Lift { thickness: layer, passes }],
            None => self.lifts(rows, layer),
        };
        Compaction {
            passes,
            verdict: if passes.is_some() { Verdict::Ok } else { Verdict::NotPermitted },
            source: row.map(|row| row.source.clone()).unwrap_or_default(),
            status: row.map(|row| row.status.clone()).unwrap_or_default(),
            says: self.says(layer, passes, &lifts),
            cautions: self.cautions(layer, &lifts),
            lifts,
        }
    }

    /// The fewest equal lifts of which each is permitted.
    fn lifts(&self, rows: &[&Row], layer: Length) -> Vec<Lift> {
        let Some(most) = thickest(rows) else { return Vec::new() };
        let count = ((layer - SAME) / most).ceil().max(1.0);
        let thickness = layer / count;
        let passes = row_for(rows, thickness).and_then(|row| row.passes);
        let lift = passes.map(|n| Lift { thickness, passes: self.at_speed(n) });
        lift.map_or_else(Vec::new, |lift| vec![lift; count as usize])
    }

    /// Passes at the speed the machine travels: more where a plate is faster than the highway
    /// method assumes, as printed otherwise.
    fn at_speed(&self, passes: u32) -> u32 {
        let faster = self.faster().map_or(1.0, |speed| speed / METHOD_SPEED);
        (f64::from(passes) * faster - 1e-9).ceil() as u32
    }

    /// The machine's speed where it is above what the specification assumes.
    fn faster(&self) -> Option<Speed> {
        let assumes = self.specification == Specification::Highway800
            && self.plant == PlantKind::VibratingPlate;
        self.speed.filter(|speed| assumes && *speed > METHOD_SPEED)
    }

    fn says(&self, layer: Length, passes: Option<u32>, lifts: &[Lift]) -> Phrase {
        let specification = self.specification.word().into();
        let mm = |length: Length| (length.to_mm() * 10.0).round() / 10.0;
        match (passes, lifts.first()) {
            (Some(count), _) => Phrase::new(
                "passes.ok",
                [
                    ("count", count.into()),
                    ("layer", mm(layer).into()),
                    ("specification", specification),
                ],
            ),
            (None, Some(lift)) => Phrase::new(
                "passes.not_permitted",
                [
                    ("layer", mm(layer).into()),
                    ("specification", specification),
                    ("lifts", (lifts.len() as f64).into()),
                    ("lift", mm(lift.thickness).into()),
                    ("count", lift.passes.into()),
                ],
            ),
            (None, None) => Phrase::new(
                "passes.never_permitted",
                [("specification", specification), ("material", self.material.word().into())],
            ),
        }
    }

    fn cautions(&self, layer: Length, lifts: &[Lift]) -> Vec<Phrase> {
        let mut list = Vec::new();
        if let Some(speed) = self.faster() {
            let speed = (speed.to_km_per_h() * 10.0).round() / 10.0;
            list.push(Phrase::new("passes.faster", [("speed", speed.into())]));
        }
        let thin = lifts.iter().any(|lift| lift.thickness < LEAST_LIFT - SAME);
        if self.specification == Specification::Highway800 && layer > LEAST_LIFT_OVER && thin {
            let least = LEAST_LIFT.to_mm().round();
            list.push(Phrase::new("passes.thin_lifts", [("least", least.into())]));
        }
        list
    }
}

/// The row for a layer: the thinnest that is no thinner.
fn row_for<'a>(rows: &[&'a Row], layer: Length) -> Option<&'a Row> {
    rows.iter().copied().find(|row| layer <= row.layer + SAME)
}

fn thickest(rows: &[&Row]) -> Option<Length> {
    rows.iter().rev().find(|row| row.passes.is_some()).map(|row| row.layer)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn method(spec: &str, plant: &str, rating: f64) -> Method {
        Method {
            specification: Specification::named(spec).unwrap(),
            plant: PlantKind::named(plant).unwrap(),
            rating: Rating::new(rating).unwrap(),
            material: Material::Granular,
            speed: None,
        }
    }

    fn mm(value: f64) -> Length {
        Length::from_mm(value)
    }

    const A81: &str = "reinstatement_A8.1";
    const HIGHWAY: &str = "highway_800";

    #[test]
    fn passes_as_the_reinstatement_table_prints_them() {
        // Specification for the Reinstatement of Openings in Roads (Scotland) 3rd ed., Table A8.1.
        let printed = [
            ("vibrating_plate", 1400.0, 100.0, Some(5)),
            ("vibrating_plate", 1500.0, 150.0, None),
            ("vibrating_plate", 1800.0, 100.0, Some(5)),
            ("vibrating_plate", 1801.0, 100.0, Some(3)),
            ("vibrating_plate", 2000.0, 150.0, Some(5)),
            ("vibrating_plate", 2000.0, 200.0, Some(7)),
            ("vibro_tamper", 50.0, 100.0, Some(4)),
            ("vibro_tamper", 62.0, 150.0, Some(8)),
            ("vibro_tamper", 62.0, 200.0, None),
            ("single_drum_roller", 600.0, 100.0, Some(12)),
            ("single_drum_roller", 1000.0, 100.0, Some(12)),
            ("single_drum_roller", 2000.0, 100.0, Some(6)),
            ("twin_drum_roller", 2000.0, 150.0, Some(6)),
            ("twin_drum_roller", 2500.0, 200.0, Some(4)),
            ("tight_places_tamper", 25.0, 100.0, Some(6)),
        ];
        for (plant, rating, layer, passes) in printed {
            let answer = method(A81, plant, rating).compaction(mm(layer));
            assert_eq!(answer.passes, passes, "{plant} {rating} {layer}");
            assert_eq!(answer.status, "seen");
            assert!(answer.source.contains("A8.1"));
        }
    }

    #[test]
    fn passes_of_the_highway_table() {
        // Specification for Highway Works Series 800, table 8/4, from memory. "Over 1400 up to
        // 1800": 1400 itself has no row, 1800 has the lower one.
        let rows = [
            ("vibrating_plate", 1800.0, 110.0, Some(8)),
            ("vibrating_plate", 1801.0, 110.0, Some(5)),
            ("vibrating_plate", 2100.0, 150.0, Some(8)),
            ("vibrating_plate", 2101.0, 225.0, Some(10)),
            ("vibro_tamper", 70.0, 225.0, Some(10)),
            ("vibratory_roller", 1300.0, 110.0, Some(16)),
            ("vibratory_roller", 2900.0, 225.0, Some(9)),
        ];
        for (plant, rating, layer, passes) in rows {
            let answer = method(HIGHWAY, plant, rating).compaction(mm(layer));
            assert_eq!(answer.passes, passes, "{plant} {rating} {layer}");
            assert_eq!(answer.status, "memory");
        }
        assert_eq!(
            method(HIGHWAY, "vibrating_plate", 1400.0).compaction(mm(100.0)).verdict,
            Verdict::NoRow
        );
        assert_eq!(
            method(HIGHWAY, "vibro_tamper", 50.0).compaction(mm(100.0)).verdict,
            Verdict::NoRow
        );
    }

    #[test]
    fn a_light_plate_has_no_published_row_and_is_told_what_to_do() {
        let answer = method(A81, "vibrating_plate", 500.0).compaction(mm(75.0));
        assert_eq!((answer.verdict, answer.passes), (Verdict::NoRow, None));
        assert!(answer.lifts.is_empty());
        let words = "no published row for a plate this light: thin lifts, damp stone, go on until \
                     nothing moves; about four passes is common practice, no source";
        assert!(answer.says.text.to_lowercase().contains(words), "{}", answer.says.text);
    }

    #[test]
    fn what_is_not_held_is_never_called_unpublished() {
        let beyond = [
            method(HIGHWAY, "vibratory_roller", 3000.0),
            method(HIGHWAY, "twin_drum_roller", 1000.0),
            method(A81, "vibratory_roller", 1000.0),
            Method { material: Material::Cohesive, ..method(HIGHWAY, "vibrating_plate", 2000.0) },
        ];
        for method in beyond {
            let answer = method.compaction(mm(100.0));
            assert_eq!(answer.verdict, Verdict::NoRow);
            assert!(answer.says.text.contains("not held here"), "{}", answer.says.text);
            assert!(!answer.says.text.contains("published"), "{}", answer.says.text);
        }
    }

    #[test]
    fn between_rows_the_thicker_and_beyond_them_lifts() {
        let plate = method(A81, "vibrating_plate", 1500.0);
        assert_eq!(plate.compaction(mm(75.0)).passes, Some(5));
        assert_eq!(plate.compaction(mm(101.0)).verdict, Verdict::NotPermitted);
        let answer = plate.compaction(mm(250.0));
        assert_eq!((answer.verdict, answer.lifts.len()), (Verdict::NotPermitted, 3));
        assert!(answer.lifts.iter().all(|lift| lift.passes == 5));
        // A row of every thickness that is held, and none for what is thicker.
        let roller = method(A81, "single_drum_roller", 1500.0);
        assert_eq!(roller.compaction(mm(150.0)).verdict, Verdict::NotPermitted);
        let clay = Method { material: Material::Cohesive, ..plate };
        let never = clay.compaction(mm(100.0));
        assert_eq!((never.verdict, never.lifts.len()), (Verdict::NotPermitted, 0));
    }

    #[test]
    fn a_plate_faster_than_the_highway_method_makes_more_passes() {
        // From memory: at most 1 km/h, and proportionally more when faster. 20 m/min is 1.2 km/h:
        // 8 passes become 9.6, that is 10.
        let at = |speed, spec| {
            let plate = method(spec, "vibrating_plate", 1500.0);
            Method { speed: Some(Speed::from_km_per_h(speed)), ..plate }.compaction(mm(100.0))
        };
        assert_eq!(at(1.0, HIGHWAY).passes, Some(8));
        assert_eq!(at(1.2, HIGHWAY).passes, Some(10));
        assert_eq!(at(2.0, HIGHWAY).passes, Some(16));
        assert_eq!(at(1.2, HIGHWAY).cautions.len(), 1);
        // The reinstatement table says nothing of speed.
        assert_eq!(at(2.0, A81).passes, Some(5));
    }

    #[test]
    fn lifts_thinner_than_the_highway_method_asks_for_are_said() {
        // 250 mm in three lifts of 83 mm, where lifts of at least 110 mm are asked for.
        let answer = method(HIGHWAY, "vibrating_plate", 1500.0).compaction(mm(250.0));
        assert_eq!(answer.lifts.len(), 3);
        assert_eq!(answer.cautions.len(), 1);
    }

    proptest! {
        #[test]
        fn lifts_add_up_to_the_layer_and_each_is_permitted(
            spec in 0_usize..2, plant in 0_usize..6, rating in 1.0_f64..4000.0,
            layer in 1.0_f64..800.0,
        ) {
            let method = Method {
                specification: Specification::ALL[spec],
                plant: PlantKind::ALL[plant],
                rating: Rating::new(rating).unwrap(),
                material: Material::Granular,
                speed: None,
            };
            let answer = method.compaction(mm(layer));
            prop_assert_eq!(answer.passes.is_some(), answer.verdict == Verdict::Ok);
            if !answer.lifts.is_empty() {
                let sum: Length = answer.lifts.iter().map(|l| l.thickness).sum();
                prop_assert!((sum.to_mm() - layer).abs() < 1e-6);
                let most = method.thickest_lift().unwrap();
                for lift in &answer.lifts {
                    prop_assert!(lift.thickness <= most + SAME * 2.0);
                    prop_assert_eq!(method.compaction(lift.thickness).passes, Some(lift.passes));
                }
            }
        }
    }
}
