//! What the weather of a coming day speaks against.

use super::gate::StageStand;
use super::stage::Stage;
use crate::buildup::figure;
use crate::diary::{Forecast, Sky};
use crate::words::Phrase;

/// Stages that a crew may get through in a day, the one in work among them (our default).
const AHEAD: usize = 4;
/// Water freezes, degrees Celsius.
const FREEZES_C: f64 = 0.0;

/// Work of the stages ahead that the weather of a day speaks against, in working order. Cold and heat
/// for concrete are of `core/data`; the rest is common practice, no source.
pub fn holds(stands: &[StageStand], forecast: &Forecast) -> Vec<Phrase> {
    let open = stands.iter().filter(|stand| stand.is_open());
    // The return visit is weeks away until everything else is done.
    let ahead = open
        .enumerate()
        .filter(|(place, stand)| *place == 0 || stand.stage != Stage::ReturnVisit)
        .map(|(_, stand)| stand)
        .take(AHEAD);
    let mut holds: Vec<Phrase> = Vec::new();
    for hold in ahead.flat_map(|stand| of_stage(stand.stage, forecast)) {
        if !holds.contains(&hold) {
            holds.push(hold);
        }
    }
    holds
}

fn of_stage(stage: Stage, forecast: &Forecast) -> Vec<Phrase> {
    let wet = forecast.sky == Sky::Wet;
    let frost = forecast.sky == Sky::Frost || forecast.low_c.is_some_and(|low| low <= FREEZES_C);
    let [when_wet, when_frost] = match stage {
        Stage::Excavate | Stage::CompactFormation => ["hold.formation_wet", "hold.formation_frost"],
        Stage::SubBase => ["hold.stone_wet", "hold.stone_frost"],
        Stage::RestrainEdges => return of_concrete(forecast, frost),
        Stage::Bed | Stage::Screed | Stage::Lay => ["hold.bed_wet", "hold.bed_frost"],
        Stage::Joint | Stage::ReturnVisit => ["hold.joints_damp", "hold.joints_damp"],
        Stage::BeforeStart | Stage::Cut | Stage::HandOver => return Vec::new(),
    };
    let codes = [(wet, when_wet), (frost, when_frost)];
    codes.into_iter().filter(|(is, _)| *is).map(|(_, code)| Phrase::new(code, [])).collect()
}

fn of_concrete(forecast: &Forecast, frost: bool) -> Vec<Phrase> {
    let [coldest, hottest] =
        ["concrete_coldest", "concrete_hottest"].map(|key| figure(key).number());
    let cold = frost || forecast.low_c.is_some_and(|low| low < coldest);
    let hot = forecast.sky == Sky::Drying || forecast.high_c.is_some_and(|high| high > hottest);
    let wet = forecast.sky == Sky::Wet;
    [
        (cold, Phrase::new("hold.concrete_cold", [("least", coldest.into())])),
        (hot, Phrase::new("hold.concrete_hot", [])),
        (wet, Phrase::new("hold.concrete_wet", [])),
    ]
    .into_iter()
    .filter_map(|(is, hold)| is.then_some(hold))
    .collect()
}
