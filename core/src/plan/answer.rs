//! The answer to a plan as the command line gives it: a contract, so keys are never renamed.

use serde_json::{Value, json};

use super::{Plan, cautions};
use crate::units::Length;

/// The plan's answer as one JSON object: lengths in metres or millimetres by their key, areas in
/// square metres, volumes in cubic metres, masses in tonnes or kilograms. Numbers are not rounded.
pub fn answer(plan: &Plan) -> Value {
    let amounts = plan.take_off();
    let lifts: Vec<Value> =
        plan.layers.lifts.iter().map(|l| json!({ "thickness_mm": l.to_mm() })).collect();
    let defaults: Vec<Value> = plan
        .defaults
        .iter()
        .map(|d| json!({ "key": d.key, "value": d.value, "source": d.source, "status": d.status }))
        .collect();
    let cautions: Vec<Value> = cautions(plan, &amounts)
        .into_iter()
        .map(|c| json!({ "code": c.code, "text": c.text }))
        .collect();
    json!({
        "title": plan.title,
        "use": plan.r#use,
        "outline": {
            "area_m2": plan.outline.area().to_m2(),
            "perimeter_m": plan.outline.perimeter().to_m(),
            "reference_edge_m": plan.outline.edge().length().to_m(),
        },
        "build_up": {
            "block_mm": plan.layers.block.to_mm(),
            "bed_mm": plan.layers.bed.to_mm(),
            "sub_base_mm": plan.layers.sub_base().to_mm(),
            "total_mm": plan.layers.total().to_mm(),
        },
        "dig": {
            "area_m2": amounts.dig.area.to_m2(),
            "mean_depth_mm": amounts.dig.mean_depth().to_mm(),
            "solid_m3": amounts.dig.volume.to_m3(),
            "fill_m3": amounts.dig.fill.to_m3(),
            "loose_m3": amounts.loose.map(|v| v.to_m3()),
        },
        "sub_base": {
            "compacted_m3": amounts.sub_base.to_m3(),
            "tonnes": amounts.sub_base_mass.to_t(),
            "lifts": lifts,
        },
        "bed": { "compacted_m3": amounts.bed.to_m3(), "tonnes": amounts.bed_mass.to_t() },
        "blocks": {
            "whole": amounts.blocks.whole,
            "cut": amounts.blocks.cut,
            "needed": amounts.blocks.needed,
            "buy": amounts.buy,
            "field": amounts.blocks.field,
            "edge_course": amounts.blocks.edge,
        },
        "joint_sand": { "kg": amounts.joint_sand.to_kg() },
        "haunch": {
            "m3": amounts.haunch.to_m3(),
            "free_edge_m": plan.edges.free_length(&plan.outline).to_m(),
        },
        "defaults": defaults,
        "cautions": cautions,
    })
}

/// Greatest depth to dig at a pin.
pub(super) fn deepest(plan: &Plan) -> Length {
    plan.pins()
        .iter()
        .map(|pin| plan.dig_depth(pin.finished))
        .fold(Length::from_mm(f64::MIN), Length::max)
}
