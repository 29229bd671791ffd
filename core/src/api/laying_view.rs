//! The laying as a screen draws it: one path for each kind of piece, and its figures.

use serde_json::{Map, Value};

use super::requests::{OfJob, PlanText};
use super::views::{LabelView, LayingPaths, LayingView};
use super::{Desk, Fault};
use crate::laying::{UNIT_M, drawing};
use crate::plan::{LARGEST_PLAN_BYTES, Plan, Problem, laying_figures};
use crate::quantities::to_buy;

/// Lays the plan that is on the screen, without keeping it. Only what the laying depends on is read: a
/// title or levels that are still to come do not hold up the drawing.
///
/// # Errors
/// `bad_input` with every problem of those parts, or where it takes too many blocks.
pub fn laying(_: &mut Desk, arguments: PlanText) -> Result<LayingView, Fault> {
    view(&draft(&arguments.text)?)
}

/// What the laying of a plan depends on.
const PARTS: [&str; 8] =
    ["fairfall_plan", "use", "outline", "holes", "block", "bond", "edges", "allowances"];

/// A plan of the parts of a draft that the laying depends on.
fn draft(text: &str) -> Result<Plan, Vec<Problem>> {
    let given = match serde_json::from_str::<Value>(text) {
        Ok(Value::Object(given)) if text.len() <= LARGEST_PLAN_BYTES => given,
        Ok(_) | Err(_) => return Plan::parse(text),
    };
    let title =
        given.get("title").filter(|title| title.as_str().is_some_and(|t| !t.trim().is_empty()));
    let title = title.cloned().unwrap_or_else(|| "-".into());
    let mut parts: Map<String, Value> =
        given.into_iter().filter(|(key, _)| PARTS.contains(&key.as_str())).collect();
    parts.insert("title".to_owned(), title);
    Plan::read(Value::Object(parts))
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

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    fn of(plan: &Value) -> Result<LayingView, Vec<Problem>> {
        let plan = draft(&plan.to_string())?;
        Ok(view(&plan).expect("not too many"))
    }

    fn starts(path: &str) -> usize {
        path.matches('M').count()
    }

    #[test]
    fn a_draft_is_laid_before_the_rest_of_it_is_there() {
        // Hand arithmetic: ten blocks of 200 with nine joints of 3 by five of 100 with four.
        let view = of(&json!({
            "fairfall_plan": 1, "use": "foot", "ground": { "soil": "cheese" },
            "outline": { "rectangle": { "length_m": 2.027, "width_m": 0.512 } },
            "bond": { "pattern": "stack" },
        }))
        .expect("laid");
        assert_eq!((view.figures.whole, view.figures.cut, view.buy), (50, 0, 53));
        assert_eq!((starts(&view.paths.whole), view.numbers.len()), (50, 5));
        assert!(view.paths.cut.is_empty() && view.paths.edge.is_empty());
        assert_eq!(view.figures.packs.open_at_once, 5);
        let size =
            [view.bounds_m[1][0] - view.bounds_m[0][0], view.bounds_m[1][1] - view.bounds_m[0][1]];
        assert!((size[0] - 2.027).abs() < 1e-9 && (size[1] - 0.512).abs() < 1e-9);
    }

    #[test]
    fn every_piece_is_in_one_path_of_its_kind() {
        let view = of(&json!({
            "fairfall_plan": 1, "use": "foot",
            "outline": { "strip": {
                "edge": [{ "straight_m": 2.4 }, { "arc_m": 3.6, "radius_m": 5.2, "turn": "left" }],
                "width_m": 1.3, "side": "right", "end": "round",
            } },
            "edges": { "course": "soldier", "held": ["reference"] },
        }))
        .expect("laid");
        let LayingPaths { whole, cut, rips, edge, edge_cut, .. } = &view.paths;
        assert_eq!(starts(whole) + starts(edge), view.figures.whole as usize);
        assert_eq!(starts(cut) + starts(rips) + starts(edge_cut), view.figures.cut as usize);
        // The reference edge's own radius, and that of the first course, which is the same.
        let radii: Vec<f64> = view.figures.templates.iter().map(|t| t.radius_m).collect();
        assert_eq!(radii, [5.2]);
        assert!(view.figures.problems.iter().any(|p| p.place_m.is_some() && p.proposal.is_some()));
    }

    #[test]
    fn what_is_wrong_with_the_parts_is_said_all_at_once() {
        let problems = of(&json!({
            "fairfall_plan": 1, "use": "foot",
            "outline": { "rectangle": { "length_m": -2, "width_m": 1 } },
            "block": { "joint_mm": 120 }, "bond": { "along": 720 },
        }))
        .expect_err("three problems");
        let at: Vec<&str> = problems.iter().map(|problem| problem.at.as_str()).collect();
        assert_eq!(at, ["/outline/rectangle/length_m", "/block/joint_mm", "/bond/along"]);
    }
}
