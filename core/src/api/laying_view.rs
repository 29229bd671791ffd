//! The laying as a screen draws it: one path for each kind of piece, and its figures.

use super::requests::{OfJob, PlanText};
use super::views::{LabelView, LayingPaths, LayingView};
use super::{Desk, Fault};
use crate::laying::{UNIT_M, drawing};
use crate::plan::{Plan, Problem, laying_figures};
use crate::quantities::to_buy;

/// Lays the plan that is on the screen, without keeping it.
///
/// # Errors
/// `bad_input` with every problem of the plan, or where it takes too many blocks.
pub fn laying(_: &mut Desk, arguments: PlanText) -> Result<LayingView, Fault> {
    view(&Plan::parse(&arguments.text)?)
}

/// Lays the plan of a job.
///
/// # Errors
/// `not_found` for an unknown job, `bad_input` where it takes too many blocks.
pub fn job_laying(desk: &mut Desk, arguments: OfJob) -> Result<LayingView, Fault> {
    let (_, _, state) = super::job_view::load(desk, &arguments.job)?;
    view(&state.plan)
}

fn view(plan: &Plan) -> Result<LayingView, Fault> {
    let laying = plan.laying().map_err(|too_many| vec![Problem::from(too_many)])?;
    let drawn = drawing(&laying, &plan.outline, &plan.block);
    let numbers = drawn.numbers.into_iter().map(|label| LabelView {
        text: label.text,
        x_m: label.at.x,
        y_m: label.at.y,
    });
    Ok(LayingView {
        figures: laying_figures(plan, &laying),
        buy: to_buy(laying.blocks(), &plan.allowances),
        unit_m: UNIT_M,
        bounds_m: drawn.bounds.map(|corner| [corner.x, corner.y]),
        numbers: numbers.collect(),
        paths: LayingPaths {
            outline: drawn.outline,
            whole: drawn.whole,
            cut: drawn.cut,
            rips: drawn.rips,
            edge: drawn.edge,
            edge_cut: drawn.edge_cut,
            small: drawn.small,
        },
    })
}
