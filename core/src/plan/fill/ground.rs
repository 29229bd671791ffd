//! The ground of a plan.

use serde_json::json;

use super::Gaps;
use super::surface::{HIGHEST_MM, spot};
use crate::buildup::{LEAST_CBR_PERCENT, soil_cbr, soils};
use crate::ground::{Existing, Spot, Spots};
use crate::plan::reader::At;
use crate::plan::{Default, Ground};
use crate::units::Level;

const MOST_SPOTS: usize = 20_000;

pub(super) fn ground(at: &At, gaps: &mut Gaps) -> Option<Ground> {
    let members = if at.is_given() {
        Some(at.object(&["existing_mm", "spots", "soil", "cbr_percent"])?)
    } else {
        None
    };
    let get = |key| members.as_ref().map(|m| m.get(key)).filter(At::is_given);
    let existing = match (get("existing_mm"), get("spots")) {
        (Some(level), Some(_)) => {
            level.refuse("one level and spots are given together", "the one or the other");
            None
        }
        (Some(level), None) => level
            .number(-HIGHEST_MM..=HIGHEST_MM, "mm")
            .map(|mm| Existing::Flat(Level::from_mm(mm))),
        (None, Some(list)) => spots(&list).map(Existing::Spots),
        (None, None) => {
            gaps.ours("ground.existing_mm", json!(0), "the ground is taken at the datum");
            Some(Existing::Flat(Level::ZERO))
        }
    };
    let choices: Vec<(&str, &str)> = soils().map(|s| (s, s)).collect();
    let soil = get("soil").and_then(|given| given.choice(&choices)).map(str::to_owned);
    let measured = get("cbr_percent").and_then(|given| given.number(0.1..=200.0, "%"));
    let cbr_percent = measured.or_else(|| of_soil(soil.as_deref()?, gaps));
    if cbr_percent.is_some_and(|cbr| cbr < LEAST_CBR_PERCENT) {
        let place = if measured.is_some() { "cbr_percent" } else { "soil" };
        at.refuse_at(
            &format!("{}/{place}", at.pointer()),
            "ground under CBR 2 % is too weak for the build-ups held here",
            "ask an engineer who knows the ground; CBR of 2 % or more can be worked with",
        );
        return None;
    }
    Some(Ground { existing: existing?, soil, cbr_percent })
}

fn of_soil(soil: &str, gaps: &mut Gaps) -> Option<f64> {
    let cbr = soil_cbr(soil)?;
    gaps.0.push(Default {
        key: "ground.cbr_percent",
        value: json!(cbr),
        source:
            "HD 25 short table in Rogers, Highway Engineering, Tables 7.3 and 7.4; the low end \
                 of the range"
                .to_owned(),
        status: "seen".to_owned(),
    });
    Some(cbr)
}

fn spots(at: &At) -> Option<Spots> {
    let items: Vec<_> = at.list(3, MOST_SPOTS)?.iter().map(spot).collect();
    let spots = items.into_iter().collect::<Option<Vec<_>>>()?;
    let spots: Vec<Spot> =
        spots.into_iter().map(|(place, level)| Spot { x: place.x, y: place.y, level }).collect();
    let refuse = |problems: Vec<crate::plan::Problem>| {
        for problem in problems {
            at.refuse(problem.problem, problem.right);
        }
    };
    Spots::new(&spots).map_err(refuse).ok()
}
