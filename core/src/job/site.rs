//! What happened on the site besides dips and passes, as it stands.

use std::collections::BTreeMap;

use chrono::{DateTime, FixedOffset, NaiveDate};
use uuid::Uuid;

use super::fold::{JobState, find_string};
use crate::buildup::Layer;
use crate::compaction::{DropAnswer, DropTest};
use crate::diary::{
    Body, DayClosed, DropRound, EdgeConcrete, Entry, Forecast, OnString, PackEmptied, PackOpened,
    Sky, Snag, SnagClosed, SoftSpot, SoftSpotFilled, Spread, Weather,
};
use crate::outline::{Point, distance};
use crate::units::Length;

/// Something logged.
#[derive(Debug, Clone, PartialEq)]
pub struct Logged<T> {
    /// The entry.
    pub entry: Uuid,
    /// When.
    pub at: DateTime<FixedOffset>,
    /// Who.
    pub who: String,
    /// As logged.
    pub what: T,
}

impl<T: Clone> Logged<T> {
    fn new(entry: &Entry, what: &T) -> Self {
        Logged { entry: entry.id, at: entry.at, who: entry.who.clone(), what: what.clone() }
    }
}

/// Something found, and how it was closed.
#[derive(Debug, Clone, PartialEq)]
pub struct Found<T, U> {
    /// As found.
    pub found: Logged<T>,
    /// As closed; none while it is open.
    pub closed: Option<Logged<U>>,
}

/// What happened besides dips and passes, in the diary's order; nothing in it is struck.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct SiteLog {
    /// Soft spots of the formation.
    pub soft_spots: Vec<Found<SoftSpot, SoftSpotFilled>>,
    /// The weather as noted.
    pub weather: Vec<Logged<Weather>>,
    /// Stone and sand as spread.
    pub spreads: Vec<Logged<Spread>>,
    /// Concrete placed along the edges.
    pub concrete: Vec<Logged<EdgeConcrete>>,
    /// Rounds of drop tests.
    pub drop_rounds: Vec<Logged<DropRound>>,
    /// Snags.
    pub snags: Vec<Found<Snag, SnagClosed>>,
    /// Packs of blocks.
    pub packs: Vec<Found<PackOpened, PackEmptied>>,
    /// The weather as it was expected.
    pub forecasts: Vec<Logged<Forecast>>,
    /// Days that were closed.
    pub days: Vec<Logged<DayClosed>>,
}

impl SiteLog {
    /// Adds an entry; anything else than its own kinds is let by. What closes an entry that is not
    /// here closes nothing.
    pub(super) fn add(&mut self, entry: &Entry, body: &Body) {
        match body {
            Body::SoftSpot(spot) => {
                self.soft_spots.push(Found { found: Logged::new(entry, spot), closed: None });
            }
            Body::SoftSpotFilled(filled) => {
                close(&mut self.soft_spots, filled.spot, Logged::new(entry, filled));
            }
            Body::Weather(weather) => self.weather.push(Logged::new(entry, weather)),
            Body::Forecast(forecast) => self.forecasts.push(Logged::new(entry, forecast)),
            Body::DayClosed(closed) => self.days.push(Logged::new(entry, closed)),
            Body::Spread(spread) => self.spreads.push(Logged::new(entry, spread)),
            Body::EdgeConcrete(concrete) => self.concrete.push(Logged::new(entry, concrete)),
            Body::DropRound(round) => self.drop_rounds.push(Logged::new(entry, round)),
            Body::Snag(snag) => {
                self.snags.push(Found { found: Logged::new(entry, snag), closed: None });
            }
            Body::PackOpened(pack) => {
                self.packs.push(Found { found: Logged::new(entry, pack), closed: None });
            }
            Body::PackEmptied(emptied) => {
                close(&mut self.packs, emptied.pack, Logged::new(entry, emptied));
            }
            Body::SnagClosed(closed) => {
                close(&mut self.snags, closed.snag, Logged::new(entry, closed));
            }
            _ => {}
        }
    }

    /// Soft spots that are not filled.
    pub fn open_spots(&self) -> impl Iterator<Item = &Found<SoftSpot, SoftSpotFilled>> {
        self.soft_spots.iter().filter(|spot| spot.closed.is_none())
    }

    /// Snags that are not put right.
    pub fn open_snags(&self) -> impl Iterator<Item = &Found<Snag, SnagClosed>> {
        self.snags.iter().filter(|snag| snag.closed.is_none())
    }

    /// Packs that are laid from.
    pub fn open_packs(&self) -> impl Iterator<Item = &Found<PackOpened, PackEmptied>> {
        self.packs.iter().filter(|pack| pack.closed.is_none())
    }

    /// What is expected of each day from one on, by the newest word of it, in the order of the days.
    pub fn expected_from(&self, day: NaiveDate) -> Vec<&Logged<Forecast>> {
        let mut days: BTreeMap<NaiveDate, &Logged<Forecast>> = BTreeMap::new();
        for forecast in self.forecasts.iter().filter(|forecast| forecast.what.day >= day) {
            days.insert(forecast.what.day, forecast);
        }
        days.into_values().collect()
    }

    /// When it was last noted wet, from a time on.
    pub fn wet_since(&self, from: DateTime<FixedOffset>) -> Option<DateTime<FixedOffset>> {
        let wet = |noted: &&Logged<Weather>| noted.what.sky == Sky::Wet && noted.at >= from;
        self.weather.iter().filter(wet).map(|noted| noted.at).max()
    }
}

fn close<T, U>(list: &mut [Found<T, U>], entry: Uuid, closed: Logged<U>) {
    if let Some(found) = list.iter_mut().find(|found| found.found.entry == entry) {
        found.closed = Some(closed);
    }
}

/// A drop test of a layer or lift.
#[derive(Debug, Clone, PartialEq)]
pub struct DropStand {
    /// Which layer.
    pub layer: Layer,
    /// Which lift of the sub-base.
    pub lift: Option<u32>,
    /// Readings round by round, each of the same places.
    pub rounds: Vec<Vec<Length>>,
    /// What they show; none before the second round.
    pub answer: Option<DropAnswer>,
}

/// Places nearer than this are the same place of a drop test (our default).
const SAME_PLACE: Length = Length::from_mm(150.0);

/// The drop tests as they stand, the newest of each layer and lift. A round at other places begins
/// the test anew.
pub fn drop_stands(state: &JobState) -> Vec<DropStand> {
    let strings = state.plan.strings();
    let point = |place: &OnString| -> Option<Point> {
        let string = find_string(&strings, &place.from, &place.to)?;
        Some(string.point(Length::from_m(place.at_m)))
    };
    let last = u32::try_from(state.plan.layers.lifts.len()).ok();
    let mut tests: Vec<(DropStand, Vec<Point>)> = Vec::new();
    for logged in &state.site.drop_rounds {
        let round = &logged.what;
        let lift = if round.layer == Layer::SubBase { round.lift.or(last) } else { None };
        let places: Option<Vec<Point>> = round.readings.iter().map(|r| point(&r.place)).collect();
        let Some(places) = places else { continue };
        let readings: Vec<Length> =
            round.readings.iter().map(|r| Length::from_mm(r.reading_mm)).collect();
        let same = |(stand, at): &(DropStand, Vec<Point>)| {
            (stand.layer, stand.lift) == (round.layer, lift)
                && at.len() == places.len()
                && at.iter().zip(&places).all(|(a, b)| distance(*a, *b) < SAME_PLACE)
        };
        if let Some((stand, _)) = tests.iter_mut().find(|test| same(test)) {
            stand.rounds.push(readings);
        } else {
            tests.retain(|(stand, _)| (stand.layer, stand.lift) != (round.layer, lift));
            let stand =
                DropStand { layer: round.layer, lift, rounds: vec![readings], answer: None };
            tests.push((stand, places));
        }
    }
    let answered = |(mut stand, _): (DropStand, Vec<Point>)| {
        stand.answer = DropTest::new(stand.rounds.clone()).ok().map(|test| test.answer());
        stand
    };
    let mut stands: Vec<DropStand> = tests.into_iter().map(answered).collect();
    stands.sort_by_key(|stand| (stand.layer, stand.lift));
    stands
}
