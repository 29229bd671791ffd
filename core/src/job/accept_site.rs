//! What may be logged of the site besides dips and passes.

use super::Found;
use super::accept::{lift_problems, photo_hash, place_problems, text};
use super::fold::JobState;
use uuid::Uuid;

use crate::buildup::Layer;
use crate::diary::{Body, DayClosed, DropRound, Forecast};

/// Air is between these, degrees Celsius.
const AIR_C: std::ops::RangeInclusive<f64> = -40.0..=60.0;
/// A soft spot is dug out no deeper than this by hand, millimetres.
const DEEPEST_SPOT_MM: f64 = 2000.0;
/// Stone or sand lies no thicker than this loose, millimetres.
const THICKEST_LOOSE_MM: f64 = 1000.0;
/// A tape in a dig reads no more than this, millimetres.
const LONGEST_READING_MM: f64 = 5000.0;
/// A crew of ten round the clock, minutes.
const MOST_DAY_MIN: u32 = 14_400;
/// Days that a forecast says anything of (our default).
const FORECAST_REACHES: chrono::Duration = chrono::Duration::days(16);
/// Places of a drop test.
const DROP_PLACES: std::ops::RangeInclusive<usize> = 3..=100;

/// Every problem of an entry about the site.
pub(super) fn site_problems(
    state: &JobState,
    body: &Body,
    refuse: &mut impl FnMut(&str, &str, &str),
) {
    match body {
        Body::SoftSpot(spot) => {
            place_problems(state, "/place", &spot.place, refuse);
            text("/text", &spot.text, false, refuse);
        }
        Body::SoftSpotFilled(filled) => {
            let words = [
                "there is no such soft spot",
                "a soft spot of this job",
                "this soft spot is filled already",
            ];
            still_open(&state.site.soft_spots, filled.spot, "/spot", words, refuse);
            if !(0.0..=DEEPEST_SPOT_MM).contains(&filled.depth_mm) {
                refuse("/depth_mm", "this is no depth of a soft spot", "from 0 to 2000 mm");
            }
            text("/with", &filled.with, true, refuse);
        }
        Body::Weather(weather) => {
            temperature("/temperature_c", weather.temperature_c, refuse);
            text("/text", &weather.text, false, refuse);
        }
        Body::Spread(spread) => {
            if !matches!(spread.layer, Layer::SubBase | Layer::Bed) {
                refuse("/layer", "nothing is spread here", "the sub-base or the bed");
            }
            lift_problems(state, spread.layer, spread.lift, refuse);
            if spread.loose_mm.is_some_and(|mm| !(mm > 0.0 && mm <= THICKEST_LOOSE_MM)) {
                refuse("/loose_mm", "this is no thickness", "from 1 to 1000 mm");
            }
        }
        Body::EdgeConcrete(concrete) => {
            text("/where", &concrete.stretch, true, refuse);
            temperature("/temperature_c", Some(concrete.temperature_c), refuse);
            text("/batch", &concrete.batch, false, refuse);
        }
        Body::DropRound(round) => drop_problems(state, round, refuse),
        Body::Snag(snag) => {
            text("/text", &snag.text, true, refuse);
            photo_hash("/photo", snag.photo.as_deref(), refuse);
        }
        Body::PackOpened(pack) => {
            text("/label", &pack.label, false, refuse);
            photo_hash("/photo", pack.photo.as_deref(), refuse);
        }
        Body::PackEmptied(emptied) => {
            let words =
                ["there is no such pack", "a pack that was opened", "this pack is empty already"];
            still_open(&state.site.packs, emptied.pack, "/pack", words, refuse);
        }
        Body::SnagClosed(closed) => {
            let words =
                ["there is no such snag", "a snag of this job", "this snag is put right already"];
            still_open(&state.site.snags, closed.snag, "/snag", words, refuse);
            text("/text", &closed.text, true, refuse);
        }
        Body::Forecast(forecast) => forecast_problems(state, forecast, refuse),
        Body::DayClosed(closed) => day_problems(closed, refuse),
        _ => {}
    }
}

/// Whether an entry names something found that is not closed yet; in words what it is where there is
/// none, which would be right, and what it is where it is closed.
fn still_open<T, U>(
    list: &[Found<T, U>],
    entry: Uuid,
    at: &str,
    [none, right, closed]: [&str; 3],
    refuse: &mut impl FnMut(&str, &str, &str),
) {
    match list.iter().find(|found| found.found.entry == entry) {
        None => refuse(at, none, right),
        Some(found) if found.closed.is_some() => refuse(at, closed, "one that is open"),
        Some(_) => {}
    }
}

fn temperature(at: &str, celsius: Option<f64>, refuse: &mut impl FnMut(&str, &str, &str)) {
    if celsius.is_some_and(|celsius| !AIR_C.contains(&celsius)) {
        refuse(at, "the air is not so cold or so warm", "from -40 to 60 °C");
    }
}

fn forecast_problems(
    state: &JobState,
    forecast: &Forecast,
    refuse: &mut impl FnMut(&str, &str, &str),
) {
    if forecast.day > state.as_of.date_naive() + FORECAST_REACHES {
        refuse("/day", "no forecast reaches so far", "a day of the next 16");
    }
    temperature("/low_c", forecast.low_c, refuse);
    temperature("/high_c", forecast.high_c, refuse);
    if forecast.low_c.zip(forecast.high_c).is_some_and(|(low, high)| low > high) {
        let problem = "the warmest hour is colder than the coldest";
        refuse("/high_c", problem, "the coldest first, then the warmest");
    }
    text("/text", &forecast.text, false, refuse);
}

fn day_problems(closed: &DayClosed, refuse: &mut impl FnMut(&str, &str, &str)) {
    let open = !(closed.covered && closed.guarded);
    if open && closed.left.trim().is_empty() {
        let problem = "something is left uncovered or unguarded";
        refuse("/left", problem, "what is left so, and why");
    }
    if !open && !closed.left.trim().is_empty() {
        let problem = "all is covered and guarded, so nothing is left";
        refuse("/left", problem, "no words here, or say what is not covered or not guarded");
    }
    text("/left", &closed.left, false, refuse);
    text("/tomorrow", &closed.tomorrow, false, refuse);
    if closed.worked_min.is_some_and(|minutes| minutes > MOST_DAY_MIN) {
        refuse(
            "/worked_min",
            "no crew works so long in a day",
            "at most 240 hours, all hands together",
        );
    }
}

fn drop_problems(state: &JobState, round: &DropRound, refuse: &mut impl FnMut(&str, &str, &str)) {
    lift_problems(state, round.layer, round.lift, refuse);
    text("/plant", &round.plant, false, refuse);
    if !DROP_PLACES.contains(&round.readings.len()) {
        refuse("/readings", "too few or too many places", "3 places at least; 6 or more say more");
    }
    for (i, reading) in round.readings.iter().enumerate() {
        place_problems(state, &format!("/readings/{i}/place"), &reading.place, refuse);
        if !(0.0..=LONGEST_READING_MM).contains(&reading.reading_mm) {
            let at = format!("/readings/{i}/reading_mm");
            refuse(&at, "a tape does not read this in a dig", "from 0 to 5000 mm");
        }
    }
}
