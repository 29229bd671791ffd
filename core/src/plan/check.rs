//! Cautions that a plan brings with it. They never refuse; a person reads them and decides.

use super::answer::deepest;
use super::{Plan, Use};
use crate::outline::SideName;
use crate::quantities::{Pattern, TakeOff};
use crate::units::{Length, Volume};
use crate::words::Phrase;

/// Slackest fall for paving that does not let water through: 1 in 60 (from memory, Approved
/// Document H3).
const LEAST_FALL_ONE_IN: f64 = 60.0;
/// Steepest crossfall for walking: 1 in 40 (seen, Approved Document M landing rule).
const STEEPEST_CROSSFALL_ONE_IN: f64 = 40.0;
/// Steepest drive: 1 in 6 (seen, NHBC 10.2.6).
const STEEPEST_DRIVE_ONE_IN: f64 = 6.0;
/// No machine digs nearer to a service than this (after HSG47, secondary).
const SERVICES: Length = Length::from_mm(500.0);

/// Every caution for a plan, the site's first.
pub fn cautions(plan: &Plan, amounts: &TakeOff) -> Vec<Phrase> {
    let mut list = vec![Phrase::new(
        "caution.services",
        [("depth", deepest(plan).to_mm().round().into()), ("keep_back", SERVICES.to_mm().into())],
    )];
    ground(plan, amounts, &mut list);
    falls(plan, &mut list);
    if plan.r#use == Use::Car
        && !matches!(plan.bond.pattern, Pattern::Herringbone45 | Pattern::Herringbone90)
    {
        list.push(Phrase::new("caution.bond_for_cars", []));
    }
    if !plan.edges.haunch {
        list.push(Phrase::new("caution.no_restraint", []));
    }
    if amounts.haunch > Volume::ZERO {
        list.push(Phrase::new("caution.cement", []));
    }
    for code in ["caution.dust", "caution.vibration", "caution.lifting", "caution.trees"] {
        list.push(Phrase::new(code, []));
    }
    list
}

fn ground(plan: &Plan, amounts: &TakeOff, list: &mut Vec<Phrase>) {
    if plan.ground.cbr_percent.is_none() {
        list.push(Phrase::new("caution.soil_unknown", []));
    }
    if let Some(cbr) = plan.ground.cbr_percent
        && cbr < 3.0
    {
        list.push(Phrase::new("caution.weak_ground", [("cbr", cbr.into())]));
    }
    if amounts.dig.fill > Volume::from_m3(0.001) {
        let m3 = amounts.dig.fill.to_m3();
        list.push(Phrase::new("caution.fill", [("volume", m3.into())]));
    }
}

fn falls(plan: &Plan, list: &mut Vec<Phrase>) {
    let across = plan.surface.crossfall().map_or(f64::INFINITY, |g| g.run());
    let (flattest, steepest) = longfalls(plan);
    // The two falls are square to each other: the true fall is their hypotenuse.
    let true_fall = |along: f64| along.hypot(1.0 / across);
    if true_fall(flattest) < 1.0 / LEAST_FALL_ONE_IN - 1e-9 {
        list.push(Phrase::new("caution.slack_fall", [("least", LEAST_FALL_ONE_IN.into())]));
    }
    if across < 0.0 && plan.edges.held.contains(&SideName::Reference) {
        list.push(Phrase::new("caution.fall_towards_held", []));
    }
    match plan.r#use {
        Use::Foot if 1.0 / across.abs() > 1.0 / STEEPEST_CROSSFALL_ONE_IN + 1e-9 => {
            let most = STEEPEST_CROSSFALL_ONE_IN;
            list.push(Phrase::new("caution.steep_crossfall", [("most", most.into())]));
        }
        Use::Car if true_fall(steepest) > 1.0 / STEEPEST_DRIVE_ONE_IN + 1e-9 => {
            let most = STEEPEST_DRIVE_ONE_IN;
            list.push(Phrase::new("caution.steep_drive", [("most", most.into())]));
        }
        Use::Foot | Use::Car => {}
    }
}

/// Flattest and steepest slope along the reference edge, without sign.
fn longfalls(plan: &Plan) -> (f64, f64) {
    let end = plan.outline.edge().length();
    let mut stops = vec![Length::ZERO, end];
    stops.extend(plan.surface.bends().filter(|at| *at > Length::ZERO && *at < end));
    stops.sort_by(|a, b| a.to_m().total_cmp(&b.to_m()));
    let slopes = stops.windows(2).filter_map(|pair| {
        let &[from, to] = pair else { return None };
        let run = to - from;
        let drop = plan.surface.edge_level(to).above(plan.surface.edge_level(from));
        (run > Length::from_mm(1.0)).then(|| (drop / run).abs())
    });
    slopes.fold((f64::INFINITY, 0.0), |(least, most), slope| (least.min(slope), most.max(slope)))
}
