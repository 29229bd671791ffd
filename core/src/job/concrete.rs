//! The age of edge concrete, by the temperatures that were noted.

use chrono::{DateTime, Duration, FixedOffset};

use super::fold::JobState;
use super::site::Logged;
use crate::diary::EdgeConcrete;

/// Concrete this old, in hours at 20 C, bears a plate beside it (our default, cautious; the
/// supplier's word goes first).
pub const PLATE_HOURS: f64 = 24.0;
/// Concrete this old, in hours at 20 C, bears cars (our default, cautious).
pub const CARS_HOURS: f64 = 72.0;

/// Concrete along an edge and how far it has hardened.
#[derive(Debug, Clone, PartialEq)]
pub struct ConcreteStand {
    /// As it was placed.
    pub placed: Logged<EdgeConcrete>,
    /// Its age now, in equivalent hours at 20 C.
    pub age_hours: f64,
    /// The temperature it is reckoned to go on at.
    pub temperature_c: f64,
    /// When it bears a plate, if that temperature lasts; none where it hardens no further.
    pub plate_from: Option<DateTime<FixedOffset>>,
    /// When it bears cars.
    pub cars_from: Option<DateTime<FixedOffset>>,
}

impl ConcreteStand {
    /// Hours from now until it has an age, at the temperature it goes on at; nothing once it has,
    /// none where it hardens no further.
    pub fn hours_to(&self, age: f64) -> Option<f64> {
        let left = (age - self.age_hours).max(0.0);
        let rate = rate(self.temperature_c);
        if left <= 0.0 { Some(0.0) } else { (rate > 0.0).then(|| left / rate) }
    }
}

/// Equivalent hours at 20 C for each hour at a temperature: (T + 10) / 30, the Nurse-Saul maturity
/// over its value at 20 C with a datum of -10 C (from memory); nothing below the datum.
pub fn rate(temperature_c: f64) -> f64 {
    ((temperature_c + 10.0) / 30.0).max(0.0)
}

/// All edge concrete, in the diary's order. Between two notes of the temperature it is that of the
/// earlier; from the last one on it lasts.
pub fn concrete_stands(state: &JobState) -> Vec<ConcreteStand> {
    let mut noted: Vec<(DateTime<FixedOffset>, f64)> = state
        .site
        .weather
        .iter()
        .filter_map(|w| Some((w.at, w.what.temperature_c?)))
        .chain(state.site.concrete.iter().map(|c| (c.at, c.what.temperature_c)))
        .collect();
    noted.sort_by_key(|(at, _)| *at);
    state.site.concrete.iter().map(|placed| stand(placed, &noted, state.as_of)).collect()
}

fn stand(
    placed: &Logged<EdgeConcrete>,
    noted: &[(DateTime<FixedOffset>, f64)],
    now: DateTime<FixedOffset>,
) -> ConcreteStand {
    let mut steps: Vec<(DateTime<FixedOffset>, f64)> = vec![(placed.at, placed.what.temperature_c)];
    steps.extend(noted.iter().filter(|(at, _)| *at > placed.at));
    let until = |age: f64| {
        let mut reached = 0.0;
        for (i, (from, temperature)) in steps.iter().enumerate() {
            let rate = rate(*temperature);
            let needed = (age - reached) / rate;
            let next = steps.get(i + 1).map(|(to, _)| hours(*from, *to));
            match next {
                Some(lasts) if needed.is_nan() || needed > lasts => reached += rate * lasts,
                _ if !needed.is_finite() => return None,
                // A temperature that would take longer than this is no forecast.
                _ if needed > 24.0 * 365.0 => return None,
                _ => return Some(*from + Duration::seconds((needed * 3600.0).ceil() as i64)),
            }
        }
        None
    };
    let passed = steps.iter().enumerate().filter(|(_, (from, _))| *from < now);
    let age_hours = passed
        .map(|(i, (from, temperature))| {
            let to = steps.get(i + 1).map_or(now, |(to, _)| (*to).min(now));
            rate(*temperature) * hours(*from, to)
        })
        .sum();
    let temperature_c = steps.iter().rfind(|(from, _)| *from <= now).map_or(0.0, |(_, t)| *t);
    ConcreteStand {
        placed: placed.clone(),
        age_hours,
        temperature_c,
        plate_from: until(PLATE_HOURS),
        cars_from: until(CARS_HOURS),
    }
}

fn hours(from: DateTime<FixedOffset>, to: DateTime<FixedOffset>) -> f64 {
    (to - from).num_seconds() as f64 / 3600.0
}
