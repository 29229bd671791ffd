//! Plans on the screen: looked over while typed, begun, and put in force anew.

use serde_json::json;

use super::log::{LoggedEntry, log_draft};
use super::requests::{Nothing, PlanText, RevisePlan};
use super::views::{
    Changed, DefaultUsed, DimensionView, Drawing, LayerState, Logged, PinView, PlanFigures,
    PlanLook, Section, SectionLayer, Started, StringView,
};
use super::{Desk, Fault};
use crate::buildup::Layer;
use crate::diary::{Body, PlanRevision};
use crate::job::{JobState, Stage, StageStand, StageState, layer_stands};
use crate::levels::SHOWN_SAG;
use crate::outline::{CHORD_TOLERANCE, Point, Ring};
use crate::outside::new_id;
use crate::plan::{Default, Plan, Problem, answer_with, cautions};
use crate::quantities::TakeOff;
use crate::units::Length;

/// A plan to practise on: an invented garden path.
const SAMPLE: &str = include_str!("../../../fixtures/demo/garden-path.json");

/// Looks a plan over without keeping it.
///
/// # Errors
/// None of its own; the problems of the plan are in the answer.
pub fn look_at_plan(_: &mut Desk, arguments: PlanText) -> Result<PlanLook, Fault> {
    Ok(match Plan::parse(&arguments.text) {
        Err(problems) => {
            PlanLook { problems, drawing: None, section: None, answer: None, figures: None }
        }
        Ok(plan) => {
            let amounts = plan.take_off();
            PlanLook {
                problems: Vec::new(),
                drawing: Some(drawing(&plan)),
                section: Some(section(&plan, None)),
                answer: Some(answer_with(&plan, &amounts)),
                figures: Some(figures(&plan, &amounts)),
            }
        }
    })
}

/// Starts a job from a plan file.
///
/// # Errors
/// `bad_input` with every problem of the plan.
pub fn start_job(desk: &mut Desk, arguments: PlanText) -> Result<Started, Fault> {
    let plan = Plan::parse(&arguments.text).map_err(|p| Fault::bad_input(&p))?;
    let job = new_id(desk.outside.as_mut());
    log_draft(desk, job, None, None, Body::Plan(PlanRevision { plan: plan.file }))?;
    Ok(Started { job: job.to_string(), changed: vec![Changed::Shelf, Changed::Job] })
}

/// Starts the sample job.
///
/// # Errors
/// [`Fault`] where the store cannot be written.
pub fn start_sample(desk: &mut Desk, _: Nothing) -> Result<Started, Fault> {
    start_job(desk, PlanText { text: SAMPLE.to_owned() })
}

/// Puts a new plan in force on a job.
///
/// # Errors
/// `bad_input` with every problem of the plan, `not_found` for an unknown job.
pub fn revise_plan(desk: &mut Desk, arguments: RevisePlan) -> Result<Logged, Fault> {
    let plan = Plan::parse(&arguments.text).map_err(|p| Fault::bad_input(&p))?;
    let (job, _, _) = super::job_view::load(desk, &arguments.job)?;
    let body = Body::Plan(PlanRevision { plan: plan.file });
    let LoggedEntry { entry, .. } = log_draft(desk, job, None, None, body)?;
    Ok(Logged {
        id: entry.id.to_string(),
        answer: None,
        changed: vec![Changed::Job, Changed::Shelf],
    })
}

/// Plan files that are no plans, as one fault.
impl From<Vec<Problem>> for Fault {
    fn from(problems: Vec<Problem>) -> Self {
        Fault::bad_input(&problems)
    }
}

fn figures(plan: &Plan, amounts: &TakeOff) -> PlanFigures {
    PlanFigures {
        area_m2: plan.outline.area().to_m2(),
        perimeter_m: plan.outline.perimeter().to_m(),
        dig_depth_mm: amounts.dig.mean_depth().to_mm(),
        dig_solid_m3: amounts.dig.volume.to_m3(),
        dig_loose_m3: amounts.loose.map(|v| v.to_m3()),
        sub_base_t: amounts.sub_base_mass.to_t(),
        bed_t: amounts.bed_mass.to_t(),
        blocks: amounts.buy,
        joint_sand_kg: amounts.joint_sand.to_kg(),
        haunch_m3: amounts.haunch.to_m3(),
        defaults: plan.every_default().map(default_used).collect(),
        cautions: cautions(plan, &amounts.dig),
    }
}

/// Every default that the work itself leans on; orders and rates have their own.
pub(crate) fn defaults(plan: &Plan) -> Vec<DefaultUsed> {
    plan.defaults.iter().map(default_used).collect()
}

pub(crate) fn default_used(default: &Default) -> DefaultUsed {
    DefaultUsed {
        key: default.key.to_owned(),
        value: default.value.clone(),
        source: default.source.clone(),
        status: default.status.clone(),
    }
}

/// The plan view.
pub(crate) fn drawing(plan: &Plan) -> Drawing {
    let outline = &plan.outline;
    let edge = outline.edge();
    let steps = (edge.length() / Length::from_m(0.1)).ceil().max(1.0);
    let along = (0..=(steps as u32))
        .map(|i| xy(edge.at(edge.length() * (f64::from(i) / steps)).point))
        .collect();
    Drawing {
        outline: points(outline.ring()),
        dig: points(&outline.dig(|side| plan.edges.room_beyond(side))),
        holes: outline.holes().iter().map(|hole| points(hole.ring())).collect(),
        edge: along,
        pins: pins(plan),
        strings: strings(plan),
        dimensions: outline
            .ring()
            .sides()
            .iter()
            .map(|side| DimensionView {
                from: xy(side.start.point),
                to: xy(side.end),
                middle: xy(side.at(side.length / 2.0)),
                length_m: side.length.to_m(),
                radius_m: side.radius().map(Length::to_m),
            })
            .collect(),
        area_m2: outline.area().to_m2(),
        perimeter_m: outline.perimeter().to_m(),
    }
}

const fn xy(point: Point) -> [f64; 2] {
    [point.x, point.y]
}

fn points(ring: &Ring) -> Vec<[f64; 2]> {
    ring.polygon(CHORD_TOLERANCE).exterior().coords().map(|c| xy(*c)).collect()
}

/// Pins as a screen and the set-out answer give them.
pub(crate) fn pins(plan: &Plan) -> Vec<PinView> {
    plan.pins()
        .into_iter()
        .map(|pin| PinView {
            x_m: pin.point.x,
            y_m: pin.point.y,
            at_m: pin.at.to_m(),
            finished_mm: pin.finished.to_mm(),
            formation_mm: (pin.finished - plan.layers.total()).to_mm(),
            name: pin.name,
        })
        .collect()
}

fn strings(plan: &Plan) -> Vec<StringView> {
    plan.strings()
        .iter()
        .map(|string| StringView {
            from: string.from.name.clone(),
            to: string.to.name.clone(),
            length_m: string.length().to_m(),
            sag_mm: Some(string.sag()).filter(|sag| *sag >= SHOWN_SAG).map(Length::to_mm),
        })
        .collect()
}

/// The section, with the state of each layer where the job has begun.
pub(crate) fn section(plan: &Plan, job: Option<(&JobState, &[StageStand])>) -> Section {
    let stands = job.map(|(state, _)| layer_stands(state)).unwrap_or_default();
    let layers = plan
        .layers
        .steps()
        .into_iter()
        .rev()
        .map(|(layer, lift)| {
            let stand = stands.iter().find(|s| (s.layer, s.lift) == (layer, lift));
            SectionLayer {
                layer,
                lift,
                thickness_mm: plan.layers.thickness(layer, lift).to_mm(),
                measured_mm: stand.and_then(|s| s.spread()).map(|[_, mean, _]| mean.to_mm()),
                state: job
                    .map_or(LayerState::Planned, |(_, stages)| layer_state(stages, layer, lift)),
                stage: stage_of(stages_open(job, layer), layer),
            }
        })
        .collect();
    let middle = plan.outline.edge().length() / 2.0;
    let width = plan.outline.reach();
    let near = plan.outline.point(middle, Length::ZERO);
    let drop = plan.finished(near).above(plan.finished(plan.outline.point(middle, width)));
    Section {
        layers,
        width_m: width.to_m(),
        drop_mm: drop.to_mm(),
        crossfall_one_in: (drop.abs() > Length::from_mm(0.1)).then(|| width / drop),
        ground_above_finished_mm: plan
            .ground
            .existing
            .level(near)
            .above(plan.finished(near))
            .to_mm(),
    }
}

/// The stages that make a layer, in order.
const fn stages_of(layer: Layer) -> &'static [Stage] {
    match layer {
        Layer::Formation => &[Stage::Excavate, Stage::CompactFormation],
        Layer::SubBase => &[Stage::SubBase],
        Layer::Bed => &[Stage::Bed, Stage::Screed],
        Layer::Surface => &[Stage::Lay, Stage::Cut, Stage::Joint],
    }
}

fn stages_open(job: Option<(&JobState, &[StageStand])>, layer: Layer) -> Option<Stage> {
    let (_, stages) = job?;
    let open = |stage: &&Stage| stages.iter().any(|s| s.stage == **stage && s.is_open());
    stages_of(layer).iter().find(open).copied()
}

/// The stage that a tap on a layer opens: the first one open, else its last.
fn stage_of(open: Option<Stage>, layer: Layer) -> Stage {
    let last = stages_of(layer).last().copied().unwrap_or(Stage::BeforeStart);
    open.unwrap_or(last)
}

fn layer_state(stages: &[StageStand], layer: Layer, lift: Option<u32>) -> LayerState {
    let of = |stage: &Stage| stages.iter().find(|s| s.stage == *stage);
    let stands: Vec<&StageStand> = stages_of(layer).iter().filter_map(of).collect();
    if stands.iter().all(|s| !s.is_open()) {
        return LayerState::Done;
    }
    if !stands.iter().any(|s| s.state == StageState::InWork) {
        return LayerState::Planned;
    }
    let Some(lift) = lift else { return LayerState::InWork };
    // Lifts are worked from the bottom: the first with something missing is the one in work.
    let number = json!(f64::from(lift));
    let lacks = |number: &serde_json::Value| {
        stands
            .iter()
            .flat_map(|s| s.missing())
            .any(|line| line.says.values.get("lift").is_some_and(|v| json!(v) == *number))
    };
    let earlier = (1..lift).any(|l| lacks(&json!(f64::from(l))));
    match (earlier, lacks(&number)) {
        (true, _) => LayerState::Planned,
        (false, true) => LayerState::InWork,
        (false, false) => LayerState::Done,
    }
}
