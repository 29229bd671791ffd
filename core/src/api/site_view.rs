//! What happened on the site besides dips and passes, as screens and sentences have it.

use geo::MultiPolygon;
use serde::{Deserialize, Serialize};
use serde_json::{Value, json};
use ts_rs::TS;

use super::day_view::{ForecastView, closed_says, forecast_says, forecasts};
use super::says::place;
use crate::buildup::{Layer, figure};
use crate::diary::{Body, Damp, OnString, Sky};
use crate::job::{
    CARS_HOURS, ConcreteStand, DropStand, JobState, PLATE_HOURS, SiteLog, Stage, StageStand,
    concrete_stands, drop_stands, plate_region,
};
use crate::units::Length;
use crate::words::Phrase;

/// What happened besides dips and passes, and what follows from it now.
#[derive(Debug, Clone, Serialize, Deserialize, TS)]
pub struct SiteView {
    /// Soft spots of the formation, in order.
    pub soft_spots: Vec<SoftSpotView>,
    /// The weather as last noted.
    pub weather: Option<WeatherView>,
    /// Layers and lifts as they were last spread.
    pub spreads: Vec<SpreadView>,
    /// Edge concrete with its age.
    pub concrete: Vec<ConcreteView>,
    /// Drop tests, the newest of each layer and lift.
    pub drop_tests: Vec<DropTestStand>,
    /// Snags, in order.
    pub snags: Vec<SnagView>,
    /// Packs of blocks.
    pub packs: PacksView,
    /// What is expected of the days from today on.
    pub forecasts: Vec<ForecastView>,
    /// Where the plate may go now; none where the stage in work uses none.
    pub plate: Option<PlateView>,
}

/// A soft spot.
#[derive(Debug, Clone, Serialize, Deserialize, TS)]
pub struct SoftSpotView {
    /// The entry.
    pub entry: String,
    /// Pin at the string's zero.
    pub from: String,
    /// The string's other pin.
    pub to: String,
    /// Along it, metres.
    pub at_m: f64,
    /// What it is like.
    pub text: String,
    /// How it was filled; none while it is open.
    pub filled: Option<Phrase>,
}

/// The weather as noted.
#[derive(Debug, Clone, Serialize, Deserialize, TS)]
pub struct WeatherView {
    /// In a word.
    pub sky: Sky,
    /// The air, degrees Celsius.
    pub temperature_c: Option<f64>,
    /// Anything added.
    pub text: String,
    /// When.
    pub at: String,
}

/// A layer or lift as it was spread.
#[derive(Debug, Clone, Serialize, Deserialize, TS)]
pub struct SpreadView {
    /// Which layer.
    pub layer: Layer,
    /// Which lift of the sub-base.
    pub lift: Option<u32>,
    /// How thick it lay loose, millimetres.
    pub loose_mm: Option<f64>,
    /// How damp it was.
    pub damp: Damp,
    /// When.
    pub at: String,
}

/// Concrete along an edge.
#[derive(Debug, Clone, Serialize, Deserialize, TS)]
pub struct ConcreteView {
    /// The entry.
    pub entry: String,
    /// Which stretch.
    pub stretch: String,
    /// When it was placed.
    pub at: String,
    /// The air as it was placed, degrees Celsius.
    pub temperature_c: f64,
    /// Its age now, hours at 20 C.
    pub age_h: f64,
    /// When it bears a plate, if the last temperature lasts; none where it hardens no further.
    pub plate_from: Option<String>,
    /// When it bears cars.
    pub cars_from: Option<String>,
    /// In words.
    pub says: Phrase,
}

/// A drop test as it stands.
#[derive(Debug, Clone, Serialize, Deserialize, TS)]
pub struct DropTestStand {
    /// Which layer.
    pub layer: Layer,
    /// Which lift of the sub-base.
    pub lift: Option<u32>,
    /// Rounds of readings so far.
    pub rounds: u32,
    /// What they show; none before the second round.
    pub says: Option<Phrase>,
    /// What to mind besides.
    pub cautions: Vec<Phrase>,
}

/// A snag.
#[derive(Debug, Clone, Serialize, Deserialize, TS)]
pub struct SnagView {
    /// The entry.
    pub entry: String,
    /// What, and where.
    pub text: String,
    /// A photo that shows it.
    pub photo: Option<String>,
    /// By when, as a date.
    pub due: Option<String>,
    /// What was done; none while it is open.
    pub closed: Option<String>,
}

/// The packs of blocks.
#[derive(Debug, Clone, Serialize, Deserialize, TS)]
pub struct PacksView {
    /// Every pack that was opened, in order.
    pub list: Vec<PackView>,
    /// How many are laid from now.
    pub open: u32,
    /// What to mind: how many to lay from, or that too few are open.
    pub says: Phrase,
    /// Whether too few are open.
    pub few: bool,
}

/// A pack of blocks.
#[derive(Debug, Clone, Serialize, Deserialize, TS)]
pub struct PackView {
    /// The entry.
    pub entry: String,
    /// Which it is, from 1.
    pub number: u32,
    /// What its label says.
    pub label: String,
    /// A photo of the label.
    pub photo: Option<String>,
    /// When it was opened.
    pub opened_at: String,
    /// When it was laid to its last block; none while it is open.
    pub emptied_at: Option<String>,
}

/// Where the plate may go now.
#[derive(Debug, Clone, Serialize, Deserialize, TS)]
pub struct PlateView {
    /// On which layer.
    pub layer: Layer,
    /// Rings, outer ones and holes alike, to be filled by the even-odd rule.
    pub rings: Vec<Vec<[f64; 2]>>,
    /// Its area.
    pub area_m2: f64,
    /// In words.
    pub says: Phrase,
}

/// What happened besides dips and passes, for the job's screens.
pub(super) fn site_view(state: &JobState, stands: &[StageStand], stage: Stage) -> SiteView {
    let site = &state.site;
    SiteView {
        soft_spots: site
            .soft_spots
            .iter()
            .map(|spot| {
                let OnString { from, to, at_m } = spot.found.what.place.clone();
                SoftSpotView {
                    entry: spot.found.entry.to_string(),
                    from,
                    to,
                    at_m,
                    text: spot.found.what.text.clone(),
                    filled: spot.closed.as_ref().map(|closed| {
                        filled_says("spot.filled", closed.what.depth_mm, &closed.what.with)
                    }),
                }
            })
            .collect(),
        weather: site.weather.last().map(|noted| WeatherView {
            sky: noted.what.sky,
            temperature_c: noted.what.temperature_c,
            text: noted.what.text.clone(),
            at: noted.at.to_rfc3339(),
        }),
        spreads: spreads(state),
        concrete: concrete_stands(state).iter().map(concrete_view).collect(),
        drop_tests: drop_stands(state).into_iter().map(drop_view).collect(),
        snags: site
            .snags
            .iter()
            .map(|snag| SnagView {
                entry: snag.found.entry.to_string(),
                text: snag.found.what.text.clone(),
                photo: snag.found.what.photo.clone(),
                due: snag.found.what.due.map(|day| day.to_string()),
                closed: snag.closed.as_ref().map(|closed| closed.what.text.clone()),
            })
            .collect(),
        packs: packs(site),
        forecasts: forecasts(state, stands),
        plate: plate_region(state, stage).map(|plate| PlateView {
            layer: plate.layer,
            area_m2: plate.area.to_m2(),
            says: plate_says(plate.keeps_back, plate.area.to_m2()),
            rings: rings(&plate.region),
        }),
    }
}

/// Fewer packs than this band the colour: common practice, no source; a published specification mixes
/// more, which the words say.
const PACKS_LEAST: u32 = 3;

fn packs(site: &SiteLog) -> PacksView {
    let list: Vec<PackView> = (1..)
        .zip(&site.packs)
        .map(|(number, pack)| PackView {
            entry: pack.found.entry.to_string(),
            number,
            label: pack.found.what.label.clone(),
            photo: pack.found.what.photo.clone(),
            opened_at: pack.found.at.to_rfc3339(),
            emptied_at: pack.closed.as_ref().map(|closed| closed.at.to_rfc3339()),
        })
        .collect();
    let open = u32::try_from(site.open_packs().count()).unwrap_or(u32::MAX);
    let few = open > 0 && open < PACKS_LEAST;
    let code = match open {
        0 => "packs.none",
        _ if few => "packs.few",
        _ => "packs.enough",
    };
    let published = figure("packs_mixed").number();
    let values =
        [("count", open.into()), ("least", PACKS_LEAST.into()), ("published", published.into())];
    PacksView { says: Phrase::new(code, values), list, open, few }
}

/// The newest spread of each layer and lift, from the bottom up.
fn spreads(state: &JobState) -> Vec<SpreadView> {
    let last = u32::try_from(state.plan.layers.lifts.len()).ok();
    let mut list: Vec<SpreadView> = Vec::new();
    for logged in &state.site.spreads {
        let spread = &logged.what;
        let lift = if spread.layer == Layer::SubBase { spread.lift.or(last) } else { None };
        list.retain(|known| (known.layer, known.lift) != (spread.layer, lift));
        list.push(SpreadView {
            layer: spread.layer,
            lift,
            loose_mm: spread.loose_mm,
            damp: spread.damp,
            at: logged.at.to_rfc3339(),
        });
    }
    list.sort_by_key(|spread| (spread.layer, spread.lift));
    list
}

fn concrete_view(stand: &ConcreteStand) -> ConcreteView {
    let placed = &stand.placed;
    ConcreteView {
        entry: placed.entry.to_string(),
        stretch: placed.what.stretch.clone(),
        at: placed.at.to_rfc3339(),
        temperature_c: placed.what.temperature_c,
        age_h: stand.age_hours,
        plate_from: stand.plate_from.map(|at| at.to_rfc3339()),
        cars_from: stand.cars_from.map(|at| at.to_rfc3339()),
        says: concrete_says(stand),
    }
}

/// How old the concrete is, and what it does not bear yet.
fn concrete_says(stand: &ConcreteStand) -> Phrase {
    let age = stand.age_hours;
    let (code, hours) = if age >= CARS_HOURS {
        ("concrete.bears_cars", Some(0.0))
    } else if age >= PLATE_HOURS {
        ("concrete.bears_plate", stand.hours_to(CARS_HOURS))
    } else {
        ("concrete.bears_nothing", stand.hours_to(PLATE_HOURS))
    };
    let values = [
        ("age", age.floor().into()),
        ("hours", hours.unwrap_or(0.0).ceil().into()),
        ("temperature", stand.temperature_c.into()),
    ];
    Phrase::new(if hours.is_some() { code } else { "concrete.too_cold" }, values)
}

fn drop_view(stand: DropStand) -> DropTestStand {
    let (says, cautions) = stand.answer.map_or((None, Vec::new()), |a| (Some(a.says), a.cautions));
    DropTestStand {
        layer: stand.layer,
        lift: stand.lift,
        rounds: u32::try_from(stand.rounds.len()).unwrap_or(u32::MAX),
        says,
        cautions,
    }
}

fn plate_says(keeps_back: bool, area_m2: f64) -> Phrase {
    let area = ((area_m2 * 10.0).round() / 10.0).into();
    let code = match (keeps_back, area_m2 > 0.05) {
        (false, _) => "plate.everywhere",
        (true, true) => "plate.keeps_back",
        (true, false) => "plate.nowhere",
    };
    Phrase::new(code, [("area", area)])
}

fn rings(region: &MultiPolygon) -> Vec<Vec<[f64; 2]>> {
    let ring = |ring: &geo::LineString| ring.coords().map(|c| [c.x, c.y]).collect();
    region
        .iter()
        .flat_map(|part| std::iter::once(part.exterior()).chain(part.interiors()).map(ring))
        .collect()
}

/// What happened besides dips and passes, as the command line's state gives it.
pub(super) fn site_json(state: &JobState, stands: &[StageStand]) -> Value {
    let view = site_view(state, stands, Stage::BeforeStart);
    json!({
        "soft_spots": view.soft_spots.len(),
        "soft_spots_open": state.site.open_spots().count(),
        "weather": view.weather,
        "forecasts": view.forecasts,
        "spreads": view.spreads,
        "concrete": view.concrete,
        "drop_tests": view.drop_tests,
        "snags": view.snags.len(),
        "packs": view.packs.list.len(),
        "packs_open": view.packs.open,
        "snags_open": state.site.open_snags().count(),
    })
}

fn filled_says(code: &str, depth_mm: f64, with: &str) -> Phrase {
    Phrase::new(code, [("depth", Length::from_mm(depth_mm).to_mm().into()), ("with", with.into())])
}

/// What an entry about the site says; nothing for another.
pub(super) fn site_says(body: &Body, state: &JobState) -> Phrase {
    match body {
        Body::SoftSpot(spot) => {
            let OnString { from, to, at_m } = &spot.place;
            let values = [
                ("from", from.as_str().into()),
                ("to", to.as_str().into()),
                ("at", (*at_m).into()),
                ("text", spot.text.as_str().into()),
            ];
            let code =
                if spot.text.is_empty() { "entry.soft_spot" } else { "entry.soft_spot_text" };
            Phrase::new(code, values)
        }
        Body::SoftSpotFilled(filled) => {
            filled_says("entry.soft_spot_filled", filled.depth_mm, &filled.with)
        }
        Body::Weather(weather) => {
            let code = match (weather.temperature_c, weather.text.is_empty()) {
                (None, true) => "entry.weather",
                (None, false) => "entry.weather_text",
                (Some(_), true) => "entry.weather_at",
                (Some(_), false) => "entry.weather_at_text",
            };
            let values = [
                ("sky", weather.sky.word().into()),
                ("temperature", weather.temperature_c.unwrap_or(0.0).into()),
                ("text", weather.text.as_str().into()),
            ];
            Phrase::new(code, values)
        }
        Body::Spread(spread) => {
            let values = [
                ("where", place(spread.layer, spread.lift).into()),
                ("loose", spread.loose_mm.unwrap_or(0.0).into()),
                ("damp", spread.damp.word().into()),
            ];
            let code =
                if spread.loose_mm.is_some() { "entry.spread_loose" } else { "entry.spread" };
            Phrase::new(code, values)
        }
        Body::EdgeConcrete(concrete) => {
            let values = [
                ("where", concrete.stretch.as_str().into()),
                ("temperature", concrete.temperature_c.into()),
                ("batch", concrete.batch.as_str().into()),
            ];
            let plain = concrete.batch.is_empty();
            Phrase::new(
                if plain { "entry.edge_concrete" } else { "entry.edge_concrete_batch" },
                values,
            )
        }
        Body::DropRound(round) => {
            let last = u32::try_from(state.plan.layers.lifts.len()).ok();
            let lift = if round.layer == Layer::SubBase { round.lift.or(last) } else { None };
            let values = [
                ("where", place(round.layer, lift).into()),
                ("places", (round.readings.len() as f64).into()),
            ];
            Phrase::new("entry.drop_round", values)
        }
        Body::Snag(snag) => {
            let due = snag.due.map(|day| day.to_string());
            let code = if due.is_some() { "entry.snag_due" } else { "entry.snag" };
            let values =
                [("text", snag.text.as_str().into()), ("due", due.unwrap_or_default().into())];
            Phrase::new(code, values)
        }
        Body::PackOpened(pack) if pack.label.is_empty() => Phrase::new("entry.pack_opened", []),
        Body::PackOpened(pack) => {
            Phrase::new("entry.pack_opened_label", [("label", pack.label.as_str().into())])
        }
        Body::PackEmptied(emptied) => {
            let mut packs = (1_u32..).zip(&state.site.packs);
            match packs.find(|(_, pack)| pack.found.entry == emptied.pack) {
                Some((number, _)) => Phrase::new("entry.pack_emptied", [("number", number.into())]),
                None => Phrase::new("entry.pack_emptied_gone", []),
            }
        }
        Body::Forecast(forecast) => forecast_says(forecast),
        Body::DayClosed(closed) => closed_says(closed),
        Body::SnagClosed(closed) => {
            Phrase::new("entry.snag_closed", [("text", closed.text.as_str().into())])
        }
        _ => Phrase::new("entry.unknown", [("kind", "".into())]),
    }
}
