//! What a plan takes of what is bought, put together; and rates.

use std::ops::RangeInclusive;

use serde_json::json;

use super::{Gaps, mixes, orders};
use crate::buildup::{Figure, figure};
use crate::plan::reader::{At, Members};
use crate::quantities::{
    Allowances, Block, Concrete, Edges, Goods, Membrane, Mixes, Pattern, Rate, Supply, Task,
};
use crate::units::{Density, Duration, Length, Volume};

/// What else of the plan the supply is read with.
pub(super) struct Beside<'a> {
    pub(super) allowances_at: At<'a>,
    pub(super) layers_at: At<'a>,
    pub(super) allowances: Option<&'a Allowances>,
    pub(super) block: Option<&'a Block>,
    pub(super) edges: Option<&'a Edges>,
}

pub(super) fn supply(plan: &Members, beside: &Beside, gaps: &mut Gaps) -> Option<Supply> {
    let haunch = beside.edges.is_none_or(|edges| edges.haunch);
    let mixes = mixes::mixes(&plan.get("mixes"), haunch, gaps);
    let membranes = mixes::membranes(&plan.get("membranes"), gaps);
    let bags = orders::bags(&plan.get("bags"));
    let (layers, allowances) = (&beside.layers_at, &beside.allowances_at);
    let mut usual =
        |given: Option<f64>, key, from| gaps.number(given, key, figure(from).usual(), from);
    let surcharge = optional(layers, "surcharge_mm", 0.0..=50.0, "mm");
    let surcharge = usual(surcharge, "layers.surcharge_mm", "surcharge");
    let top_up = optional(allowances, "joint_top_up_percent", 0.0..=100.0, "%");
    let top_up = usual(top_up, "allowances.joint_top_up_percent", "joint_top_up");
    let ground = optional(allowances, "ground_t_per_m3", 0.5..=3.0, "t/m3");
    let ground = usual(ground, "allowances.ground_t_per_m3", "ground_density");
    let sand = optional(allowances, "loose_sand_t_per_m3", 0.5..=2.5, "t/m3");
    let sand = usual(sand, "allowances.loose_sand_t_per_m3", "sharp_sand_loose");
    // What could not be read is left aside here, so that the problems of the orders are found too.
    let laid = membranes.as_deref().unwrap_or_default();
    let units = orders::Units {
        bags: bags.clone().unwrap_or_default(),
        membranes: laid,
        block: beside.block,
        allowances: beside.allowances,
        loose_sand: Density::from_t_per_m3(sand),
    };
    let wanted = wanted(mixes.as_ref(), laid, haunch);
    let orders = orders::orders(&plan.get("orders"), &wanted, &units, gaps);
    let (orders, mixes, membranes) = (orders?, mixes?, membranes?);
    let mut beyond_percent = orders.beyond_percent;
    if let Some(allowances) = beside.allowances {
        beyond_percent.insert(Goods::Blocks, allowances.blocks_percent);
    }
    bags.map(|_| Supply {
        surcharge: Length::from_mm(surcharge),
        loose_sand: Density::from_t_per_m3(sand),
        top_up_percent: top_up,
        ground: Density::from_t_per_m3(ground),
        mixes,
        membranes,
        beyond_percent,
        offers: orders.offers,
        currency: orders.currency,
    })
}

/// A member of an object whose other members are read elsewhere; none where it is left out, and
/// where it is a problem.
fn optional(at: &At, key: &str, bounds: RangeInclusive<f64>, unit: &str) -> Option<f64> {
    Some(at.member(key)).filter(At::is_given)?.number(bounds, unit)
}

/// What the plan may have to buy.
fn wanted(mixes: Option<&Mixes>, membranes: &[Membrane], haunch: bool) -> Vec<Goods> {
    let Some(mixes) = mixes else { return Vec::new() };
    let mixed_here = haunch && mixes.concrete != Concrete::Delivered;
    let mortar = mixes.mortar > Volume::ZERO;
    Goods::ALL
        .into_iter()
        .filter(|goods| match goods {
            Goods::Blocks | Goods::SubBase | Goods::Bed | Goods::JointSand => true,
            Goods::Cement => mixed_here || mortar,
            Goods::FineAggregate | Goods::CoarseAggregate => mixed_here,
            Goods::Concrete => haunch && !mixed_here,
            Goods::MortarSand => mortar,
            Goods::Dye => mixes.dye_percent.is_some_and(|p| p > 0.0) && (mixed_here || mortar),
            Goods::MembraneUnderSubBase | Goods::MembraneUnderBed => {
                membranes.iter().any(|membrane| membrane.goods == *goods)
            }
        })
        .collect()
}

/// The rate of every task, the book's where the person has none.
pub(super) fn rates(at: &At, pattern: Pattern, gaps: &mut Gaps) -> Option<Vec<Rate>> {
    const NAMES: [(Task, &str); 7] = [
        (Task::Dig, "rates.dig_h_per_m3"),
        (Task::Spoil, "rates.spoil_h_per_m3"),
        (Task::Formation, "rates.formation_h_per_m2"),
        (Task::SubBase, "rates.sub_base_h_per_t"),
        (Task::Lay, "rates.lay_h_per_m2"),
        (Task::Joint, "rates.joint_h_per_m2"),
        (Task::Haunch, "rates.haunch_h_per_m3"),
    ];
    let members =
        if at.is_given() { Some(at.object(&NAMES.map(|(task, _)| task.key()))?) } else { None };
    let read: Vec<Option<Rate>> = NAMES
        .into_iter()
        .map(|(task, name)| {
            let given = members.as_ref().map(|m| m.get(task.key())).filter(At::is_given);
            let Some(at) = given else {
                let rate = Rate::of_the_book(task, pattern);
                note_rate(&rate, name, pattern, gaps);
                return Some(rate);
            };
            let hours = at.number(0.001..=100.0, "h")?;
            Some(Rate { task, each: Duration::from_h(hours) })
        })
        .collect();
    read.into_iter().collect()
}

fn note_rate(rate: &Rate, name: &'static str, pattern: Pattern, gaps: &mut Gaps) {
    let hours = json!(rate.each.to_h());
    let Figure { source, status, .. } = figure(rate.task.figure(pattern));
    match (rate.task, pattern) {
        (Task::Lay, Pattern::Stretcher | Pattern::Stack) => gaps.ours(
            name,
            hours,
            &format!("no printed rate is held for this bond; as basketweave in {source}"),
        ),
        _ => gaps.0.push(crate::plan::Default { key: name, value: hours, source, status }),
    }
}
