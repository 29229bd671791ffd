//! The answer to a plan as the command line gives it: a contract, so keys are never renamed.

use serde_json::{Value, json};

use super::{Plan, cautions, needs_answer, supply_answer};
use crate::levels::{PlaneFit, Slope, Surface, falls, walls};
use crate::outline::{Point, Ties};
use crate::quantities::TakeOff;
use crate::units::Length;

/// The plan's answer as one JSON object: lengths in metres or millimetres by their key, areas in
/// square metres, volumes in cubic metres, masses in tonnes or kilograms. Numbers are not rounded.
pub fn answer(plan: &Plan) -> Value {
    answer_with(plan, &plan.take_off())
}

/// The same from amounts that are worked out already.
pub fn answer_with(plan: &Plan, amounts: &TakeOff) -> Value {
    let lifts: Vec<Value> =
        plan.layers.lifts.iter().map(|l| json!({ "thickness_mm": l.to_mm() })).collect();
    let defaults: Vec<Value> = plan
        .every_default()
        .map(|d| json!({ "key": d.key, "value": d.value, "source": d.source, "status": d.status }))
        .collect();
    let cautions: Vec<Value> = cautions(plan, &amounts.dig)
        .into_iter()
        .map(|c| {
            json!({
                "code": c.code, "text": c.text,
                "answer_needed": needs_answer(&c.code), "answer": plan.answers.get(&c.code),
            })
        })
        .collect();
    let mut answer = json!({
        "title": plan.title,
        "use": plan.r#use,
        "outline": outline_answer(plan),
        "surface": surface(plan),
        "ground": { "outside_hull_m2": amounts.dig.beyond.to_m2() },
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
    });
    supply_answer::add(&mut answer, plan, amounts);
    answer
}

/// The shape; how it was measured, where it was measured by ties or offsets; and its sides, by whose
/// names they are held.
pub fn outline_answer(plan: &Plan) -> Value {
    let outline = &plan.outline;
    let sides: Vec<Value> = outline
        .side_names()
        .into_iter()
        .map(|name| json!({ "side": name.to_string(), "length_m": outline.side_length(name).to_m() }))
        .collect();
    json!({
        "area_m2": outline.area().to_m2(),
        "perimeter_m": outline.perimeter().to_m(),
        "holes_perimeter_m": outline.holes_perimeter().to_m(),
        "reference_edge_m": outline.edge().length().to_m(),
        "sides": sides,
        "ties": plan.survey.ties.as_ref().map(ties),
        "offsets": plan.survey.offsets.map(|areas| json!({
            "trapezoid_m2": areas.trapezoid.to_m2(), "simpson_m2": areas.simpson.to_m2(),
        })),
    })
}

fn ties(found: &Ties) -> Value {
    // A and B are the ends of the base line, which is given.
    let corners = found.corners.iter().skip(2);
    let residuals = found.residuals.iter().enumerate().map(|(index, r)| {
        let [from, to] = &r.between;
        json!({
            "from": from, "to": to,
            "measured_m": r.measured.to_m(), "computed_m": r.computed.to_m(),
            "residual_mm": r.off().to_mm(), "allowed_mm": r.allowed().to_mm(),
            "within": r.within(), "again": found.is_again(index),
        })
    });
    json!({
        "corners": corners
            .map(|(name, p)| json!({ "name": name, "x_m": p.x, "y_m": p.y }))
            .collect::<Vec<_>>(),
        "residuals": residuals.collect::<Vec<_>>(),
    })
}

/// How the finished surface falls, how it lies against buildings, and what is left of spots over
/// their plane. Slopes are "1 in"; one that is null is level.
fn surface(plan: &Plan) -> Value {
    let place = |p: Point| json!({ "x_m": p.x, "y_m": p.y });
    let one_in = |slope: f64| (slope.abs() > 1e-9).then(|| 1.0 / slope);
    let slope = |s: &Slope| json!({ "one_in": one_in(s.fall), "at": place(s.place) });
    let found = falls(&plan.outline, &plan.surface, &plan.walls);
    let against: Vec<Value> = walls(&plan.outline, &plan.surface, &plan.walls)
        .iter()
        .map(|stand| {
            json!({
                "edge": stand.wall.side.to_string(),
                "away_one_in": one_in(stand.away.0),
                "clearance_mm": stand.clearance().map(Length::to_mm),
                "over_threshold_mm": stand.over_threshold().map(Length::to_mm),
            })
        })
        .collect();
    let water = found.and_then(|f| f.pond);
    let fit = match &plan.surface {
        Surface::Spots(fit) => Some(fit),
        Surface::Edge { .. } | Surface::Planes(_) => None,
    };
    json!({
        "least_fall": found.map(|f| slope(&f.least)),
        "steepest_fall": found.map(|f| slope(&f.steepest)),
        "standing_water": water.map(|w| json!({ "mm": w.depth.to_mm(), "at": place(w.place) })),
        "against": against,
        "plane": fit.map(plane),
    })
}

/// The plane through spots, with what is left over of each.
fn plane(fit: &PlaneFit) -> Value {
    let [x, y] = fit.plane.slopes.map(|slope| slope * 1000.0);
    let spots = fit.spots.iter().zip(fit.residuals());
    let residuals: Vec<Value> = spots
        .map(|((p, _), off)| json!({ "x_m": p.x, "y_m": p.y, "residual_mm": off.to_mm() }))
        .collect();
    let worst = fit.worst().and_then(|(spot, _)| {
        let mut worst = residuals.get(spot)?.clone();
        worst.as_object_mut()?.insert("spot".to_owned(), json!(spot + 1));
        Some(worst)
    });
    json!({
        "level_mm_at_origin": fit.plane.origin.to_mm(),
        "rise_x_mm_per_m": x,
        "rise_y_mm_per_m": y,
        "residuals": residuals,
        "worst": worst,
    })
}

/// Greatest depth to dig at a pin; zero where the ground lies below the formation at all of them.
pub(super) fn deepest(plan: &Plan) -> Length {
    plan.pins().iter().map(|pin| plan.dig_depth(pin.point)).fold(Length::ZERO, Length::max)
}
