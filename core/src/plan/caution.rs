//! Every caution for a plan: those of its shape and ground, and those of what it is worked with.

use super::{Plan, check};
use crate::buildup::figure;
use crate::compaction::Verdict;
use crate::quantities::{Dig, saturation_percent};
use crate::words::Phrase;

/// Every caution for a plan, the site's first. They never refuse; a person reads them and decides.
pub fn cautions(plan: &Plan, dig: &Dig) -> Vec<Phrase> {
    let mut list = check::cautions(plan, dig);
    compaction(plan, &mut list);
    dye(plan, &mut list);
    block(plan, &mut list);
    laying(plan, &mut list);
    prices(plan, &mut list);
    list
}

fn compaction(plan: &Plan, list: &mut Vec<Phrase>) {
    match (plan.kit.specification, plan.kit.plant.first(), plan.compaction()) {
        (None, Some(_), _) => list.push(Phrase::new("caution.no_specification", [])),
        (Some(_), None, _) => list.push(Phrase::new("caution.no_plant", [])),
        (_, _, Some(answer)) => {
            let unhelped = answer.verdict == Verdict::NoRow || answer.lifts.is_empty();
            list.extend(unhelped.then_some(answer.says));
            list.extend(answer.cautions);
        }
        (None, None, _) | (Some(_), Some(_), None) => {}
    }
}

fn dye(plan: &Plan, list: &mut Vec<Phrase>) {
    let mixes = &plan.supply.mixes;
    if let (Some(percent), Some(most)) = (mixes.dye_percent, saturation_percent(&mixes.colour))
        && percent > most
    {
        let colour = mixes.colour.as_str().into();
        list.push(Phrase::new(
            "caution.dye_saturated",
            [("colour", colour), ("most", most.into())],
        ));
    }
}

/// A block that one person handles all day weighs no more than this (HSE sheet CIS37, seen).
fn block(plan: &Plan, list: &mut Vec<Phrase>) {
    let most = figure("lifting_block").number();
    let mass = plan.block_mass().to_kg();
    if mass > most {
        let mass = (mass * 10.0).round() / 10.0;
        list.push(Phrase::new(
            "caution.heavy_block",
            [("mass", mass.into()), ("most", most.into())],
        ));
    }
}

/// Of the laying's problems, a plan says no more than these; the laying has them all.
const LAYING_SAID: usize = 3;

/// What the blocks as laid are not as they should be.
fn laying(plan: &Plan, list: &mut Vec<Phrase>) {
    let mut problems = plan.laying_problems();
    let more = problems.len().saturating_sub(LAYING_SAID);
    problems.truncate(LAYING_SAID);
    list.extend(problems);
    if more > 0 {
        list.push(Phrase::new("caution.laying_more", [("count", (more as f64).into())]));
    }
}

fn prices(plan: &Plan, list: &mut Vec<Phrase>) {
    let priced = plan.supply.offers.iter().any(|offer| offer.price.is_some());
    if priced && plan.order_alone().total().is_none() {
        list.push(Phrase::new("caution.prices_overflow", []));
    }
}
