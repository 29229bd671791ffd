//! Cautions that a plan brings with it. They never refuse; a person reads them and decides. Those
//! of [`ANSWERED`] want to be told what is done about them.

use super::answer::deepest;
use super::{Plan, Use};
use crate::levels::{Falls, Wall, WallStand, falls, walk, walls};
use crate::outline::{Again, Point, SideName, Ties};
use crate::quantities::{Dig, Pattern};
use crate::units::{Area, Length, Volume};
use crate::words::{Phrase, Value};

/// Steepest crossfall for walking: 1 in 40 (seen, Approved Document M landing rule).
const STEEPEST_CROSSFALL_ONE_IN: f64 = 40.0;
/// Steepest drive: 1 in 6 (seen, NHBC 10.2.6).
const STEEPEST_DRIVE_ONE_IN: f64 = 6.0;
/// Paving stays this far under the damp course of a building (seen, NHBC 10.2.6).
const UNDER_DAMP_COURSE: Length = Length::from_mm(150.0);
/// No machine digs nearer to a service than this (after HSG47, secondary).
const SERVICES: Length = Length::from_mm(500.0);
/// A spot farther than this from the plane through all of them is doubted (our default).
const SPOT_OFF: Length = Length::from_mm(10.0);
/// A fall slacker than 1 in this is called level.
const LEVEL_ONE_IN: f64 = 2000.0;

/// Cautions that want an answer before the start.
pub(super) const ANSWERED: [&str; 4] = [
    "caution.damp_course",
    "caution.fall_towards_building",
    "caution.standing_water",
    "caution.threshold",
];

/// Whether a caution of this code wants an answer.
pub fn needs_answer(code: &str) -> bool {
    ANSWERED.contains(&code)
}

/// Cautions of the plan's levels that want an answer and have none.
pub fn unanswered(plan: &Plan) -> Vec<Phrase> {
    let mut list = Vec::new();
    levels(plan, &mut list);
    list.retain(|c| needs_answer(&c.code) && !plan.answers.contains_key(&c.code));
    list
}

/// Every caution for a plan, the site's first.
pub fn cautions(plan: &Plan, dig: &Dig) -> Vec<Phrase> {
    let depth = deepest(plan);
    let code = if depth > Length::ZERO { "caution.services" } else { "caution.services_no_dig" };
    let values = [("depth", depth.to_mm().round().into()), ("keep_back", SERVICES.to_mm().into())];
    let mut list = vec![Phrase::new(code, values)];
    ground(plan, dig, &mut list);
    measures(plan, &mut list);
    levels(plan, &mut list);
    if plan.r#use == Use::Car
        && !matches!(plan.bond.pattern, Pattern::Herringbone45 | Pattern::Herringbone90)
    {
        list.push(Phrase::new("caution.bond_for_cars", []));
    }
    if !plan.edges.haunch {
        list.push(Phrase::new("caution.no_restraint", []));
    }
    if plan.edges.haunch && plan.edges.free_length(&plan.outline) > Length::ZERO {
        list.push(Phrase::new("caution.cement", []));
    }
    for code in ["caution.dust", "caution.vibration", "caution.lifting", "caution.trees"] {
        list.push(Phrase::new(code, []));
    }
    list
}

fn ground(plan: &Plan, dig: &Dig, list: &mut Vec<Phrase>) {
    if plan.ground.cbr_percent.is_none() {
        list.push(Phrase::new("caution.soil_unknown", []));
    }
    if let Some(cbr) = plan.ground.cbr_percent
        && cbr < 3.0
    {
        list.push(Phrase::new("caution.weak_ground", [("cbr", cbr.into())]));
    }
    if dig.fill > Volume::from_m3(0.001) {
        let tonnes = (dig.fill * plan.allowances.sub_base).to_t();
        let values = [("volume", dig.fill.to_m3().into()), ("tonnes", tonnes.into())];
        list.push(Phrase::new("caution.fill", values));
    }
    if dig.beyond > Area::from_m2(0.01) {
        let m2 = dig.beyond.to_m2();
        list.push(Phrase::new("caution.beyond_spots", [("area", m2.into())]));
    }
}

/// Measures that do not agree with each other.
fn measures(plan: &Plan, list: &mut Vec<Phrase>) {
    if let Some(ties) = &plan.survey.ties {
        tapes(ties, list);
    }
    if let crate::levels::Surface::Spots(fit) = &plan.surface
        && let Some((spot, off)) = fit.worst()
        && off.abs() > SPOT_OFF
    {
        let code = if off > Length::ZERO { "caution.spot_high" } else { "caution.spot_low" };
        let number = spot as f64 + 1.0;
        let values = [("number", number.into()), ("off", off.to_mm().abs().round().into())];
        list.push(Phrase::new(code, values));
    }
}

/// Tapes that do not agree: the likely wrong one, or all that are off where that cannot be told.
fn tapes(ties: &Ties, list: &mut Vec<Phrase>) {
    let again = ties.residuals.iter().enumerate().filter(|(index, _)| ties.is_again(*index));
    for (_, tape) in again {
        let [from, to] = tape.between.clone();
        let values = [
            ("from", from.into()),
            ("to", to.into()),
            ("measured", tape.measured.to_m().into()),
            ("off", tape.off().to_mm().abs().round().into()),
            ("allowed", tape.allowed().to_mm().round().into()),
        ];
        let code = match &ties.again {
            Again::Likely(likely) if likely.len() == 1 => {
                if tape.off() > Length::ZERO {
                    "caution.tie_long"
                } else {
                    "caution.tie_short"
                }
            }
            Again::Likely(_) => "caution.tie_one_of",
            Again::None | Again::Unknown => "caution.tie_off",
        };
        list.push(Phrase::new(code, values));
    }
    if ties.again == Again::Unknown {
        list.push(Phrase::new("caution.tie_untold", []));
    }
}

/// How the finished surface lies.
fn levels(plan: &Plan, list: &mut Vec<Phrase>) {
    if let Some(found) = falls(&plan.outline, &plan.surface, &plan.walls) {
        slack(plan, &found, list);
        steep(plan, &found, list);
    }
    for stand in walls(&plan.outline, &plan.surface, &plan.walls) {
        against(&stand, list);
    }
    // A held side that is not said to be a building may be one.
    let known = |name: &SideName| plan.walls.iter().any(|wall| wall.side == *name);
    let held: Vec<Wall> = plan
        .edges
        .held
        .iter()
        .filter(|name| !known(name))
        .map(|side| Wall { side: *side, damp_course: None, threshold: None })
        .collect();
    for stand in walls(&plan.outline, &plan.surface, &held) {
        if stand.away.0 < -1e-6 {
            list.push(Phrase::new("caution.fall_towards_held", [("side", stand.wall.side.into())]));
        }
    }
}

fn one_in(slope: f64) -> Value {
    (1.0 / slope).round().into()
}

/// The values `x` and `y` of a place, to a decimetre.
fn place(point: Point) -> [(&'static str, Value); 2] {
    [("x", point.x), ("y", point.y)].map(|(key, m)| (key, ((m * 10.0).round() / 10.0).into()))
}

/// A fall is the one asked for down to this part of it: triangles along a curve fall a hair less than
/// the surface they stand for.
const SAME_FALL: f64 = 0.999;

fn slack(plan: &Plan, found: &Falls, list: &mut Vec<Phrase>) {
    let least = plan.least_fall.run();
    let fall = found.least.fall;
    if fall < SAME_FALL / least {
        let [x, y] = place(found.least.place);
        list.push(if fall < 1.0 / LEVEL_ONE_IN {
            Phrase::new("caution.level", [x, y, ("least", least.into())])
        } else {
            Phrase::new(
                "caution.slack_fall",
                [x, y, ("least", least.into()), ("found", one_in(fall))],
            )
        });
    }
    if let Some(pond) = &found.pond {
        let [x, y] = place(pond.place);
        let depth = pond.depth.to_mm().ceil().into();
        list.push(Phrase::new("caution.standing_water", [x, y, ("depth", depth)]));
    }
}

fn steep(plan: &Plan, found: &Falls, list: &mut Vec<Phrase>) {
    match plan.r#use {
        Use::Foot => walked(plan, list),
        Use::Car if found.steepest.fall > 1.0 / STEEPEST_DRIVE_ONE_IN + 1e-9 => {
            let most = STEEPEST_DRIVE_ONE_IN;
            list.push(Phrase::new("caution.steep_drive", [("most", most.into())]));
        }
        Use::Car => {}
    }
}

fn walked(plan: &Plan, list: &mut Vec<Phrase>) {
    let way = walk(&plan.outline, &plan.surface);
    if way.across > 1.0 / STEEPEST_CROSSFALL_ONE_IN + 1e-9 {
        let most = STEEPEST_CROSSFALL_ONE_IN;
        list.push(Phrase::new("caution.steep_crossfall", [("most", most.into())]));
    }
    for ramp in way.ramps.iter().filter(|ramp| ramp.is_over()) {
        let [from, to] = ramp.between.map(|at| Value::from((at.to_m() * 10.0).round() / 10.0));
        let found = one_in(ramp.steepest);
        list.push(match ramp.allowed {
            Some(most) => Phrase::new(
                "caution.ramp",
                [("from", from), ("to", to), ("found", found), ("most", one_in(most))],
            ),
            None => {
                Phrase::new("caution.ramp_long", [("from", from), ("to", to), ("found", found)])
            }
        });
    }
}

fn against(stand: &WallStand, list: &mut Vec<Phrase>) {
    let name = || ("side", stand.wall.side.into());
    let (away, at) = stand.away;
    if away < -1e-6 {
        let [x, y] = place(at);
        let found = ("found", one_in(-away));
        list.push(Phrase::new("caution.fall_towards_building", [name(), x, y, found]));
    }
    let [x, y] = place(stand.highest.1);
    if let Some(clearance) = stand.clearance().filter(|c| *c < UNDER_DAMP_COURSE) {
        let values = [
            name(),
            x.clone(),
            y.clone(),
            ("clearance", clearance.to_mm().floor().into()),
            ("least", UNDER_DAMP_COURSE.to_mm().into()),
        ];
        list.push(Phrase::new("caution.damp_course", values));
    }
    if let Some(over) = stand.over_threshold().filter(|over| *over > Length::ZERO) {
        let values = [name(), x, y, ("over", over.to_mm().ceil().into())];
        list.push(Phrase::new("caution.threshold", values));
    }
}
