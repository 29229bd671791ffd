//! Passes for a layer, the time of a pass, and the drop test.

use serde::{Deserialize, Serialize};
use ts_rs::TS;

use super::Typed;
use crate::api::{Desk, Fault};
use crate::compaction::{
    DropTest, DropVerdict, Material, Method, Plant, PlantKind, Rating, RatingFrom, Specification,
    Verdict, pass_time,
};
use crate::units::{Area, Length, Mass, Speed};
use crate::words::Phrase;

/// A machine and a layer under one specification.
#[derive(Debug, Clone, Deserialize, TS)]
pub struct PassesAsked {
    /// The specification by its name.
    pub specification: String,
    /// The kind of machine by its name.
    pub plant: String,
    /// Its rating: kg/m² of contact for a plate, kg for a tamper, kg/m of drum for a roller.
    #[ts(optional)]
    pub rating: Option<f64>,
    /// Its working mass, where the rating is not given.
    #[ts(optional)]
    pub mass_kg: Option<f64>,
    /// A plate's area in contact with the ground.
    #[ts(optional)]
    pub contact_m2: Option<f64>,
    /// Width of its plate or drum.
    #[ts(optional)]
    pub width_mm: Option<f64>,
    /// How far one strip laps over the last; left out, 75 mm (our default).
    #[ts(optional)]
    pub overlap_mm: Option<f64>,
    /// How fast it travels.
    #[ts(optional)]
    pub speed_m_per_min: Option<f64>,
    /// The layer, compacted.
    pub layer_mm: f64,
    /// What is compacted; left out, stone.
    #[ts(optional)]
    pub material: Option<Material>,
    /// The area of the layer, for the time of a pass.
    #[ts(optional)]
    pub area_m2: Option<f64>,
}

/// Passes for a layer, or the lifts it must be laid in.
#[derive(Debug, Clone, Serialize, TS)]
pub struct PassesView {
    /// Passes over the layer in one lift; none where that is not permitted or there is no row.
    pub passes: Option<u32>,
    /// In a word.
    pub verdict: Verdict,
    /// Lifts that the machine may compact; empty where none can be told.
    pub lifts: Vec<LiftView>,
    /// The document.
    pub source: String,
    /// How well its row is known.
    pub status: String,
    /// In words, with what to do.
    pub says: Phrase,
    /// What to mind besides.
    pub cautions: Vec<Phrase>,
    /// The rating that was looked up.
    pub rating: f64,
    /// Its unit.
    pub rated_in: String,
    /// The least time of one pass, minutes; none without an area and a width.
    pub pass_min: Option<f64>,
}

/// One lift of a layer.
#[derive(Debug, Clone, Copy, Serialize, TS)]
pub struct LiftView {
    /// Compacted thickness.
    pub thickness_mm: f64,
    /// Passes over it.
    pub passes: u32,
}

/// Passes for one layer, or the lifts needed.
///
/// # Errors
/// `bad_input` with every problem.
pub fn passes(_: &mut Desk, asked: PassesAsked) -> Result<PassesView, Fault> {
    PassesView::of(&asked)
}

impl PassesView {
    /// The answer, from what was typed alone.
    ///
    /// # Errors
    /// `bad_input` with every problem.
    pub fn of(asked: &PassesAsked) -> Result<PassesView, Fault> {
        let mut typed = Typed::default();
        let method = method(asked, &mut typed);
        typed.within("/layer_mm", asked.layer_mm, 1.0..=2000.0, "mm");
        let pass_min = pass_min(asked, &mut typed);
        let method = typed.done(method)?;
        let answer = method.compaction(Length::from_mm(asked.layer_mm));
        Ok(PassesView {
            passes: answer.passes,
            verdict: answer.verdict,
            lifts: answer
                .lifts
                .iter()
                .map(|lift| LiftView { thickness_mm: lift.thickness.to_mm(), passes: lift.passes })
                .collect(),
            source: answer.source,
            status: answer.status,
            says: answer.says,
            cautions: answer.cautions,
            rating: method.rating.value(),
            rated_in: method.plant.rated_in().to_owned(),
            pass_min,
        })
    }
}

fn method(asked: &PassesAsked, typed: &mut Typed) -> Option<Method> {
    let specification = Specification::named(&asked.specification);
    if specification.is_none() {
        let names = Specification::ALL.map(Specification::name).join(", ");
        let problem = format!("\"{}\" is no specification held here", asked.specification);
        typed.refuse("/specification", problem, format!("one of: {names}"));
    }
    let plant = PlantKind::named(&asked.plant);
    if plant.is_none() {
        let names = PlantKind::ALL.map(PlantKind::name).join(", ");
        let problem = format!("\"{}\" is no plant held here", asked.plant);
        typed.refuse("/plant", problem, format!("one of: {names}"));
    }
    typed.maybe_within("/mass_kg", asked.mass_kg, 1.0..=20_000.0, "kg");
    typed.maybe_within("/contact_m2", asked.contact_m2, 0.001..=10.0, "m²");
    typed.maybe_within("/width_mm", asked.width_mm, 10.0..=5000.0, "mm");
    typed.maybe_within("/speed_m_per_min", asked.speed_m_per_min, 0.1..=200.0, "m/min");
    let rating = rating(asked, plant?, typed)?;
    Some(Method {
        specification: specification?,
        plant: plant?,
        rating,
        material: asked.material.unwrap_or_default(),
        speed: asked.speed_m_per_min.map(Speed::from_m_per_min),
    })
}

fn rating(asked: &PassesAsked, plant: PlantKind, typed: &mut Typed) -> Option<Rating> {
    let from = RatingFrom {
        rating: asked.rating,
        mass: asked.mass_kg.map(Mass::from_kg),
        contact: asked.contact_m2.map(Area::from_m2),
        drum: asked.width_mm.map(Length::from_mm),
    };
    match plant.rating(from) {
        Ok(rating) => Some(rating),
        Err(error) => {
            typed.refuse("/rating", error.to_string(), plant.rating_right());
            None
        }
    }
}

fn pass_min(asked: &PassesAsked, typed: &mut Typed) -> Option<f64> {
    typed.maybe_within("/area_m2", asked.area_m2, 0.01..=1e6, "m²");
    typed.maybe_within("/overlap_mm", asked.overlap_mm, 0.0..=2000.0, "mm");
    let (area, width) = (Area::from_m2(asked.area_m2?), Length::from_mm(asked.width_mm?));
    let overlap = asked.overlap_mm.map_or(Plant::USUAL_OVERLAP, Length::from_mm);
    let speed = asked.speed_m_per_min.map_or(Plant::USUAL_SPEED, Speed::from_m_per_min);
    match pass_time(area, width, overlap, speed) {
        Ok(time) => Some(time.to_min()),
        Err(error) => {
            typed.refuse("/overlap_mm", error.to_string(), "an overlap narrower than the plate");
            None
        }
    }
}

/// Tape readings of the same places, round by round.
#[derive(Debug, Clone, Deserialize, TS)]
pub struct DropTestAsked {
    /// What the tape read at each place, millimetres: the first round before any extra pass, then
    /// one after each.
    pub rounds_mm: Vec<Vec<f64>>,
}

/// What a drop test shows.
#[derive(Debug, Clone, Serialize, TS)]
pub struct DropTestView {
    /// Pass by pass.
    pub passes: Vec<DropView>,
    /// In a word.
    pub verdict: DropVerdict,
    /// About how many passes are left; none where that cannot be told.
    pub passes_left: Option<u32>,
    /// In words.
    pub says: Phrase,
    /// What to mind besides.
    pub cautions: Vec<Phrase>,
}

/// What one pass did.
#[derive(Debug, Clone, Copy, Serialize, TS)]
pub struct DropView {
    /// Mean drop of the places.
    pub mean_mm: f64,
    /// The place that moved most; negative where it rose.
    pub most_mm: f64,
    /// Standard deviation of the drops.
    pub spread_mm: f64,
}

/// What dips at the same places before and after each pass show.
///
/// # Errors
/// `bad_input` for readings that make no drop test.
pub fn drop_test(_: &mut Desk, asked: DropTestAsked) -> Result<DropTestView, Fault> {
    let mut typed = Typed::default();
    for (r, round) in asked.rounds_mm.iter().enumerate() {
        for (p, reading) in round.iter().enumerate() {
            typed.within(&format!("/rounds_mm/{r}/{p}"), *reading, 0.0..=5000.0, "mm");
        }
    }
    let rounds = asked
        .rounds_mm
        .iter()
        .map(|round| round.iter().map(|reading| Length::from_mm(*reading)).collect())
        .collect();
    let test = DropTest::new(rounds);
    if let Err(error) = &test {
        typed.refuse(
            "/rounds_mm",
            error.to_string(),
            "the same places, before and after each pass",
        );
    }
    let answer = typed.done(test.ok())?.answer();
    Ok(DropTestView {
        passes: answer
            .passes
            .iter()
            .map(|pass| DropView {
                mean_mm: pass.mean.to_mm(),
                most_mm: pass.most.to_mm(),
                spread_mm: pass.spread.to_mm(),
            })
            .collect(),
        verdict: answer.verdict,
        passes_left: answer.passes_left,
        says: answer.says,
        cautions: answer.cautions,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn asked() -> PassesAsked {
        PassesAsked {
            specification: "reinstatement_A8.1".to_owned(),
            plant: "vibrating_plate".to_owned(),
            rating: None,
            mass_kg: Some(280.0),
            contact_m2: Some(0.18),
            width_mm: Some(500.0),
            overlap_mm: Some(80.0),
            speed_m_per_min: Some(20.0),
            layer_mm: 100.0,
            material: None,
            area_m2: Some(38.5),
        }
    }

    #[test]
    fn a_rating_of_mass_over_contact() {
        // Hand arithmetic: 280 / 0.18 is 1556 kg/m2, a row of 1400 to 1800; 38.5 m2 in strips of
        // 0.42 m at 20 m/min take 4.6 min.
        let view = PassesView::of(&asked()).unwrap();
        assert_eq!((view.passes, view.verdict), (Some(5), Verdict::Ok));
        assert!((view.rating - 1555.56).abs() < 0.01);
        assert!((view.pass_min.unwrap() - 4.58).abs() < 0.005);
    }

    #[test]
    fn every_problem_at_once() {
        let bad = PassesAsked {
            specification: "mine".to_owned(),
            plant: "vibrating_plate".to_owned(),
            mass_kg: Some(0.0),
            contact_m2: None,
            layer_mm: f64::NAN,
            overlap_mm: Some(500.0),
            ..asked()
        };
        let fault = PassesView::of(&bad).unwrap_err();
        let problems = fault.details["problems"].as_array().unwrap();
        let places: Vec<&str> = problems.iter().map(|p| p["at"].as_str().unwrap()).collect();
        assert_eq!(places, ["/specification", "/mass_kg", "/rating", "/layer_mm", "/overlap_mm"]);
    }
}
