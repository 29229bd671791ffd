//! Swell and loads, and falls.

use serde::{Deserialize, Serialize};
use ts_rs::TS;

use super::Typed;
use crate::api::{Desk, Fault};
use crate::buildup::figure;
use crate::quantities::{FilledBy, Vehicle, VehicleKind, loads};
use crate::units::{Density, Mass, Volume};
use crate::words::Phrase;

/// Ground in the solid and what carries it away.
#[derive(Debug, Clone, Deserialize, TS)]
pub struct SwellAsked {
    /// Ground in the solid.
    pub solid_m3: f64,
    /// How much it swells, least and most, per cent.
    pub swell_percent: [f64; 2],
    /// What it weighs in the solid, t/m³; left out, the usual.
    #[ts(optional)]
    pub t_per_m3: Option<f64>,
    /// Loose volume that the vehicle holds.
    pub vehicle_m3: f64,
    /// Mass that it may carry.
    pub vehicle_t: f64,
}

/// The same, loose, in loads.
#[derive(Debug, Clone, Serialize, TS)]
pub struct SwellView {
    /// Loose, least and most.
    pub loose_m3: [f64; 2],
    /// Its mass.
    pub tonnes: f64,
    /// Loads, least and most.
    pub loads: [u32; 2],
    /// What fills the vehicle first at the most swell.
    pub filled_by: FilledBy,
}

/// Ground as it comes loose, and the loads to carry it.
///
/// # Errors
/// `bad_input` with every problem.
pub fn swell(_: &mut Desk, asked: SwellAsked) -> Result<SwellView, Fault> {
    let mut typed = Typed::default();
    typed.within("/solid_m3", asked.solid_m3, 0.001..=1e6, "m³");
    for (index, percent) in asked.swell_percent.into_iter().enumerate() {
        typed.within(&format!("/swell_percent/{index}"), percent, 0.0..=100.0, "%");
    }
    let [low, high] = asked.swell_percent;
    if low > high {
        typed.refuse("/swell_percent", "the least is above the most", "the least first");
    }
    typed.maybe_within("/t_per_m3", asked.t_per_m3, 0.5..=3.0, "t/m³");
    typed.within("/vehicle_m3", asked.vehicle_m3, 0.01..=100.0, "m³");
    typed.within("/vehicle_t", asked.vehicle_t, 0.01..=50.0, "t");
    typed.done(Some(()))?;
    let solid = Volume::from_m3(asked.solid_m3);
    let density = asked.t_per_m3.unwrap_or_else(|| figure("ground_density").usual());
    let mass = solid * Density::from_t_per_m3(density);
    let vehicle = Vehicle {
        name: String::new(),
        kind: VehicleKind::Lorry,
        volume: Volume::from_m3(asked.vehicle_m3),
        mass: Mass::from_t(asked.vehicle_t),
    };
    let loose = asked.swell_percent.map(|percent| solid * (1.0 + percent / 100.0));
    let [few, many] = loose.map(|volume| loads(volume, mass, &vehicle));
    Ok(SwellView {
        loose_m3: loose.map(|volume| volume.to_m3()),
        tonnes: mass.to_t(),
        loads: [few.count, many.count],
        filled_by: many.filled_by,
    })
}

/// A fall over a length, told one way.
#[derive(Debug, Clone, Deserialize, TS)]
pub struct FallAsked {
    /// The length it runs over.
    pub length_m: f64,
    /// How far it drops over that length.
    #[ts(optional)]
    pub drop_mm: Option<f64>,
    /// Or one in so many.
    #[ts(optional)]
    pub one_in: Option<f64>,
    /// Or per cent.
    #[ts(optional)]
    pub percent: Option<f64>,
    /// Length of the person's own level, for the drop under it.
    #[ts(optional)]
    pub level_mm: Option<f64>,
}

/// The same fall, told every way.
#[derive(Debug, Clone, Serialize, TS)]
pub struct FallView {
    /// How far it drops over the length.
    pub drop_mm: f64,
    /// One in so many; none where it is level.
    pub one_in: Option<f64>,
    /// Per cent.
    pub percent: f64,
    /// How far it drops under the person's own level.
    pub under_level_mm: Option<f64>,
    /// What to mind.
    pub cautions: Vec<Phrase>,
}

/// A fall from a drop, a ratio or a percentage.
///
/// # Errors
/// `bad_input` with every problem; also where the fall is told not once or more than once.
pub fn fall(_: &mut Desk, asked: FallAsked) -> Result<FallView, Fault> {
    let mut typed = Typed::default();
    typed.within("/length_m", asked.length_m, 0.01..=10_000.0, "m");
    typed.maybe_within("/drop_mm", asked.drop_mm, 0.0..=100_000.0, "mm");
    typed.maybe_within("/one_in", asked.one_in, 1.0..=100_000.0, "");
    typed.maybe_within("/percent", asked.percent, 0.0..=100.0, "%");
    typed.maybe_within("/level_mm", asked.level_mm, 50.0..=5000.0, "mm");
    let slope = match (asked.drop_mm, asked.one_in, asked.percent) {
        (Some(drop), None, None) => Some(drop / 1000.0 / asked.length_m),
        (None, Some(run), None) => Some(1.0 / run),
        (None, None, Some(percent)) => Some(percent / 100.0),
        _ => {
            typed.refuse("", "the fall is not told once", "one of: drop_mm, one_in, percent");
            None
        }
    };
    let slope = typed.done(slope)?;
    Ok(FallView {
        drop_mm: slope * asked.length_m * 1000.0,
        one_in: (slope > 0.0).then(|| 1.0 / slope),
        percent: slope * 100.0,
        under_level_mm: asked.level_mm.map(|level| level * slope),
        cautions: cautions(slope),
    })
}

/// Slacker than impervious paving should be, or steeper than is walked across in comfort.
fn cautions(slope: f64) -> Vec<Phrase> {
    let run = |key: &str| figure(key).numbers().last().copied().unwrap_or(f64::INFINITY);
    let (slack, steep) = (run("least_fall"), run("steepest_crossfall"));
    let mut list = Vec::new();
    if slope < 1.0 / slack - 1e-9 {
        // The plan's own caution names a place, and here there is none.
        let phrase = if slope > 0.0 {
            Phrase::new(
                "caution.slack_run",
                [("found", (1.0 / slope).round().into()), ("least", slack.into())],
            )
        } else {
            Phrase::new("caution.level_run", [("least", slack.into())])
        };
        list.push(phrase);
    }
    if slope > 1.0 / steep + 1e-9 {
        list.push(Phrase::new("caution.steep_crossfall", [("most", steep.into())]));
    }
    list
}
