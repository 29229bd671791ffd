//! Stone and bed sand as they stand: planned, needed by what was measured, delivered, placed.

use super::delivered::TickedOrder;
use super::fold::JobState;
use super::layers::{LayerStand, layer_stands};
use crate::buildup::Layer;
use crate::quantities::{Amount, Forecast, Goods, forecast};
use crate::units::{Area, Density, Length, Mass};

/// Stone or bed sand of a job.
#[derive(Debug, Clone, PartialEq)]
pub struct MaterialStand {
    /// Which.
    pub goods: Goods,
    /// The need as planned.
    pub planned: Mass,
    /// What the dips of the layer below say beyond it; none before the first.
    pub forecast: Option<Forecast>,
    /// The need by what was measured.
    pub needed: Mass,
    /// Delivered so far.
    pub delivered: Mass,
    /// In the ground, by the thickness of the lifts that are measured whole; none before one is.
    pub placed: Option<Mass>,
    /// How much more than was delivered is needed; negative where there is more than that.
    pub short: Mass,
    /// The area that what is delivered and not yet placed covers, of all that is still to be
    /// covered to its full depth.
    pub covers: Area,
}

/// The stone, then the bed sand.
pub fn material_stands(state: &JobState, order: &TickedOrder) -> [MaterialStand; 2] {
    let plan = &state.plan;
    let stands = layer_stands(state);
    let of = |layer: Layer| stands.iter().filter(move |stand| stand.layer == layer);
    let lows = |layer: Layer, lift: Option<u32>| -> Vec<Length> {
        state
            .dips
            .iter()
            .filter(|d| !d.superseded && d.dip.layer == layer)
            .filter(|d| layer != Layer::SubBase || d.dip.lift.or(lift) == lift)
            .map(|d| -d.high)
            .collect()
    };
    let last = u32::try_from(plan.layers.lifts.len()).ok();
    let area = plan.area_of(Layer::SubBase);
    let stone = Reckoned {
        goods: Goods::SubBase,
        area,
        density: plan.allowances.sub_base,
        low: lows(Layer::Formation, None),
        placed: placed(of(Layer::SubBase), area, plan.allowances.sub_base),
    };
    let sand = Reckoned {
        goods: Goods::Bed,
        area: plan.outline.area(),
        density: plan.supply.loose_sand,
        low: lows(Layer::SubBase, last),
        placed: placed(of(Layer::Bed), plan.outline.area(), plan.allowances.bed),
    };
    [stone.stand(order), sand.stand(order)]
}

/// What a stand is reckoned from.
struct Reckoned {
    goods: Goods,
    area: Area,
    density: Density,
    low: Vec<Length>,
    placed: Option<Mass>,
}

impl Reckoned {
    fn stand(self, order: &TickedOrder) -> MaterialStand {
        let forecast = forecast(&self.low, self.area, self.density);
        let beyond = forecast.map_or(Mass::ZERO, |forecast| forecast.short);
        let line = order.lines.iter().find(|ticked| ticked.line.need.goods == self.goods);
        let planned = line.map_or(Mass::ZERO, |ticked| mass_of(ticked.line.need.amount));
        let delivered = line.map_or(Mass::ZERO, |ticked| mass_of(ticked.delivered));
        let needed = (planned + beyond).max(Mass::ZERO);
        let placed = self.placed.unwrap_or(Mass::ZERO);
        let (rest, to_place) = (delivered - placed, needed - placed);
        let share = if to_place > Mass::ZERO { rest / to_place } else { 1.0 };
        MaterialStand {
            goods: self.goods,
            planned,
            forecast,
            needed,
            delivered,
            placed: self.placed,
            short: needed - delivered,
            covers: self.area * share.clamp(0.0, 1.0),
        }
    }
}

/// An amount of what is measured by mass.
const fn mass_of(amount: Amount) -> Mass {
    match amount {
        Amount::Mass(mass) => mass,
        Amount::Pieces(_) | Amount::Volume(_) | Amount::Area(_) => Mass::ZERO,
    }
}

/// Mass in the ground by the mean thickness of every lift that has all its dips.
fn placed<'a>(
    lifts: impl Iterator<Item = &'a LayerStand>,
    area: Area,
    density: Density,
) -> Option<Mass> {
    let measured: Vec<Mass> = lifts
        .filter(|lift| lift.missing() == 0)
        .filter_map(LayerStand::spread)
        .map(|[_, mean, _]| area * mean.max(Length::ZERO) * density)
        .collect();
    (!measured.is_empty()).then(|| measured.into_iter().sum())
}
