//! What a plan takes of goods, hours and loads, as the command line gives it: keys are added to the
//! plan's answer, never renamed.

use serde_json::{Map, Value, json};

use super::Plan;
use crate::buildup::Layer;
use crate::quantities::{Amount, Loads, Mix, Mixed, Quote, Range, Supplies, TakeOff, loads};
use crate::safety::{by_hand, trips};
use crate::units::{Money, Volume};

/// Adds what the plan takes to its answer.
pub(super) fn add(answer: &mut Value, plan: &Plan, amounts: &TakeOff) {
    let supplies = plan.supplies(amounts);
    merge(answer, dig_and_layers(plan, amounts, &supplies));
    merge(answer, bought(plan, amounts, &supplies));
}

/// Puts the members of one object into another, objects inside them likewise.
fn merge(into: &mut Value, from: Value) {
    match (into, from) {
        (Value::Object(into), Value::Object(from)) => {
            for (key, value) in from {
                merge(into.entry(key).or_insert_with(|| Value::Object(Map::new())), value);
            }
        }
        (into, from) => *into = from,
    }
}

fn dig_and_layers(plan: &Plan, amounts: &TakeOff, supplies: &Supplies) -> Value {
    let carried: Vec<Value> = plan
        .carriers()
        .map(|vehicle| {
            let [low, high]: [Loads; 2] =
                amounts.loose.map(|loose: Volume| loads(loose, supplies.spoil, vehicle));
            json!({
                "vehicle": vehicle.name, "kind": vehicle.kind,
                "loads": [low.count, high.count], "filled_by": high.filled_by,
                "by_volume": [low.by_volume, high.by_volume], "by_mass": high.by_mass,
            })
        })
        .collect();
    let compaction = plan.compaction().map(|answer| {
        json!({
            "specification": plan.kit.specification, "verdict": answer.verdict,
            "passes": answer.passes, "source": answer.source, "status": answer.status,
            "text": answer.says.text,
        })
    });
    let plant = plan.kit.plant.first();
    let lifts: Vec<Value> = (1..)
        .zip(&plan.layers.lifts)
        .map(|(lift, thickness)| {
            let wanted =
                plant.and_then(|plant| plan.passes_wanted(Layer::SubBase, Some(lift), &plant.name));
            json!({ "thickness_mm": thickness.to_mm(), "passes": wanted })
        })
        .collect();
    let pass_min =
        plant.and_then(|plant| plan.pass_time(Layer::SubBase, plant)).map(|time| time.to_min());
    json!({
        "dig": { "tonnes": supplies.spoil.to_t(), "loads": carried },
        "sub_base": {
            "loose_m3": supplies.sub_base_loose.to_m3(),
            "lifts": lifts, "compaction": compaction, "pass_min": pass_min,
        },
        "bed": {
            "surcharge_mm": plan.supply.surcharge.to_mm(),
            "loose_m3": supplies.bed_loose.to_m3(),
            "loose_t": supplies.bed_spread.to_t(),
        },
        "joint_sand": { "top_up_kg": supplies.joint_top_up.to_kg() },
        "concrete": supplies.concrete.as_ref().map(mixed),
        "mortar": supplies.mortar.as_ref().map(mixed),
    })
}

fn mixed(mixed: &Mixed) -> Value {
    let parts = |mix: &Mix, dye: f64| {
        json!({
            "cement_kg": mix.cement.to_kg(), "sand_kg": mix.sand.to_kg(),
            "stone_kg": mix.stone.to_kg(), "dye_kg": dye,
        })
    };
    json!({
        "m3": mixed.volume.to_m3(),
        "all": parts(&mixed.mix, mixed.dye.to_kg()),
        "batches": mixed.batches,
        "batch": parts(&mixed.batch, mixed.batch_dye.to_kg()),
    })
}

fn bought(plan: &Plan, amounts: &TakeOff, supplies: &Supplies) -> Value {
    let hours = plan.hours(amounts, supplies);
    let total: f64 = hours.iter().map(|hours| hours.time.to_h()).sum();
    let rows: Vec<Value> = hours
        .iter()
        .map(|hours| {
            json!({
                "stage": hours.rate.task.stage(), "task": hours.rate.task, "units": hours.units,
                "rate_h": hours.rate.each.to_h(), "hours": hours.time.to_h(),
            })
        })
        .collect();
    json!({
        "time": { "person_hours": total, "tasks": rows },
        "ranges": plan.ranges(amounts).iter().map(range).collect::<Vec<_>>(),
        "by_hand": by_hand_json(plan, amounts, supplies),
        "orders": orders(plan, supplies),
    })
}

fn by_hand_json(plan: &Plan, amounts: &TakeOff, supplies: &Supplies) -> Value {
    let portions = plan.portions(amounts, supplies);
    let rows: Vec<Value> = match plan.kit.barrow() {
        None => Vec::new(),
        Some(barrow) => trips(&portions, barrow)
            .iter()
            .map(|row| {
                json!({
                    "what": row.portion.what, "tonnes": row.portion.mass.to_t(),
                    "barrows": row.trips,
                })
            })
            .collect(),
    };
    json!({ "tonnes": by_hand(&portions).to_t(), "what": rows })
}

fn range(range: &Range) -> Value {
    json!({
        "what": range.headline, "measure": range.headline.measure(), "usual": range.usual,
        "between": range.between,
        "moved_by": range.movers.iter().map(|mover| json!({
            "assumption": mover.assumption, "between": mover.between, "quantity": mover.quantity,
        })).collect::<Vec<_>>(),
    })
}

fn orders(plan: &Plan, supplies: &Supplies) -> Value {
    let order = plan.order(supplies);
    let lines: Vec<Value> = order
        .lines
        .iter()
        .map(|line| {
            let mut row = json!({
                "what": line.need.goods,
                "need": line.need.amount.number(),
                "measure": line.need.goods.measure(),
                "allowance_percent": line.need.allowance_percent,
                "with_allowance": line.need.with_allowance().number(),
                "others": line.others.iter().map(quote).collect::<Vec<_>>(),
            });
            merge(&mut row, quote(&line.order));
            row
        })
        .collect();
    json!({
        "currency": plan.supply.currency,
        "lines": lines,
        "total_minor": order.total().map(Money::to_minor),
        "unpriced": order.unpriced(),
        "suppliers": order.suppliers().iter().map(|supplier| json!({
            "supplier": supplier.supplier, "lines": supplier.lines,
            "unpriced": supplier.unpriced, "total_minor": supplier.total.map(Money::to_minor),
        })).collect::<Vec<_>>(),
    })
}

fn quote(quote: &Quote) -> Value {
    json!({
        "supplier": quote.offer.supplier,
        "sold_in": quote.offer.sold_in,
        "holds": Amount::number(quote.offer.holds),
        "count": quote.count,
        "ordered": quote.ordered.number(),
        "left_over": quote.left_over.number(),
        "price_minor": quote.offer.price.map(Money::to_minor),
        "total_minor": quote.total.map(Money::to_minor),
    })
}
