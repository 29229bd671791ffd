//! The laying of a plan as the command line gives it: a contract, so keys are never renamed.

use serde_json::{Value, json};

use super::Plan;
use crate::laying::{
    Closing, Course, Cuts, EdgePart, EdgeRun, Laying, Problem, Search, Template, Tried, Unit,
    WholeWidth,
};
use crate::outline::{Offset, Run};
use crate::units::Length;

/// Longest board that a template is cut from.
pub(super) const BOARD: Length = Length::from_m(1.2);

/// The laying as one JSON object: lengths in metres or millimetres by their key. Numbers are not
/// rounded.
pub fn lay_answer(plan: &Plan, laying: &Laying) -> Value {
    let block = &plan.block;
    let limits = &plan.joint_limits;
    let least = |unit: Unit| unit.least_radius(limits).map(Length::to_m);
    json!({
        "title": plan.title,
        "whole": laying.whole,
        "cut": laying.cuts.pieces,
        "needed": laying.blocks(),
        "smallest_cut_fraction": laying.cuts.smallest,
        "small": laying.cuts.small,
        "area_m2": plan.outline.area().to_m2(),
        "covered_m2": laying.covered.to_m2(),
        "joints_m2": laying.joints.to_m2(),
        "courses": laying.courses.iter().map(course).collect::<Vec<_>>(),
        "edge_courses": laying.edges.iter().map(edge_run).collect::<Vec<_>>(),
        "cuts": cuts(&laying.cuts),
        "search": laying.search.as_ref().map(search),
        "whole_course_widths": laying.widths.iter().map(width).collect::<Vec<_>>(),
        "joint_limits_mm": [limits.least.to_mm(), limits.most.to_mm()],
        "least_radius_m": {
            "stretcher": least(Unit::stretcher(block)),
            "soldier": least(Unit::soldier(block)),
        },
        "templates": templates(plan, laying).iter().map(template).collect::<Vec<_>>(),
        "problems": laying.problems.iter().map(problem).collect::<Vec<_>>(),
    })
}

fn course(course: &Course) -> Value {
    let (closing, closer) = closing(course.closing);
    json!({
        "index": course.index,
        "radius_m": course.radius.map(Length::to_m),
        "length_m": course.length.to_m(),
        "blocks": course.blocks(),
        "whole": course.whole,
        "cut": course.cut,
        "inner_joint_mm": course.inner_joint.to_mm(),
        "outer_joint_mm": course.outer_joint.to_mm(),
        "closing": closing,
        "closer_mm": closer,
        "rip": course.rip,
        "least_lap_mm": course.least_lap.map(Length::to_mm),
    })
}

/// How a course closes in a word, and the length of its closer in millimetres.
pub(crate) fn closing(closing: Closing) -> (&'static str, Option<f64>) {
    match closing {
        Closing::Even => ("even", None),
        Closing::Closer(length) => ("closer", Some(length.to_mm())),
        Closing::AtOutline => ("at_outline", None),
    }
}

fn edge_run(run: &EdgeRun) -> Value {
    let (closing, closer) = closing(run.closing);
    let part = |part: &EdgePart| {
        json!({
            "side": side(part),
            "radius_m": part.radius.map(Length::to_m),
            "length_m": part.length.to_m(),
            "inner_joint_mm": part.inner_joint.to_mm(),
            "outer_joint_mm": part.outer_joint.to_mm(),
            "turn_deg": part.turn_deg,
        })
    };
    json!({
        "length_m": run.length.to_m(),
        "blocks": run.whole + run.cut,
        "whole": run.whole,
        "cut": run.cut,
        "closing": closing,
        "closer_mm": closer,
        "ring": run.ring,
        "parts": run.parts.iter().map(part).collect::<Vec<_>>(),
    })
}

/// The name of a side as the plan file writes it.
pub(crate) const fn side(part: &EdgePart) -> &'static str {
    use crate::outline::SideName;
    match part.side {
        SideName::Reference => "reference",
        SideName::Far => "far",
        SideName::Start => "start",
        SideName::End => "end",
    }
}

fn cuts(cuts: &Cuts) -> Value {
    let sizes: Vec<Value> = cuts
        .sizes
        .iter()
        .map(|size| {
            json!({
                "long_mm": size.long.to_mm(),
                "short_mm": size.short.to_mm(),
                "width_mm": size.width.to_mm(),
                "saw_cuts": size.saw_cuts,
                "count": size.count,
                "fraction": size.fraction,
            })
        })
        .collect();
    json!({
        "pieces": cuts.pieces,
        "blocks": cuts.blocks,
        "from_off_cuts": cuts.from_off_cuts(),
        "small": cuts.small,
        "sawn_m": cuts.sawn.to_m(),
        "kerf_mm": crate::laying::KERF.to_mm(),
        "sizes": sizes,
    })
}

fn search(search: &Search) -> Value {
    let tried = |tried: &Tried| {
        json!({
            "start_mm": tried.start.map(Length::to_mm),
            "blocks_cut": tried.cut,
            "small": tried.small,
        })
    };
    json!({
        "tried": search.tried,
        "plain": tried(&search.plain),
        "taken": tried(&search.taken),
        "cuts_saved": search.plain.cut - search.taken.cut,
    })
}

fn width(width: &WholeWidth) -> Value {
    json!({
        "courses": width.courses,
        "width_m": width.width.to_m(),
        "joint_mm": width.joint.map(Length::to_mm),
        "joint_allowed": width.within,
    })
}

/// Boards for every radius that something is set to: the reference edge's, and where courses follow
/// it those of their inner sides nearest to it.
pub(crate) fn templates(plan: &Plan, laying: &Laying) -> Vec<Template> {
    let edge = plan.outline.edge().runs().iter().filter_map(|(_, run)| match run {
        Run::Arc { radius, .. } => Some(*radius),
        Run::Straight(_) => None,
    });
    let first = laying.courses.first().and_then(|course| course.radius);
    let mut radii: Vec<Length> = edge.chain(first).collect();
    radii.sort_by(|a, b| a.to_m().total_cmp(&b.to_m()));
    radii.dedup_by(|a, b| (*a - *b).abs() < Length::from_mm(0.1));
    radii.into_iter().filter_map(|radius| Template::new(radius, BOARD).ok()).collect()
}

fn template(template: &Template) -> Value {
    let ordinate = |o: &Offset| json!({ "at_m": o.at.to_m(), "mm": o.offset.to_mm() });
    let sheets: Vec<Value> = template
        .sheets()
        .iter()
        .map(|sheet| {
            let [x, y] = [sheet.corner.x, sheet.corner.y].map(|metres| metres * 1000.0);
            let line: Vec<[f64; 2]> =
                sheet.line.iter().map(|p| [p.x * 1000.0, p.y * 1000.0]).collect();
            json!({ "corner_mm": [x, y], "size_mm": sheet.size.map(Length::to_mm), "line_mm": line })
        })
        .collect();
    json!({
        "radius_m": template.radius().to_m(),
        "board_m": template.board().to_m(),
        "inside": template.inside().iter().map(ordinate).collect::<Vec<_>>(),
        "outside": template.outside().iter().map(ordinate).collect::<Vec<_>>(),
        "sheets": sheets,
    })
}

fn problem(problem: &Problem) -> Value {
    let proposal = problem.proposal.as_ref().map(|proposal| {
        json!({
            "code": proposal.phrase.code,
            "text": proposal.phrase.text,
            "values": proposal.phrase.values,
            "mends": proposal.mends,
        })
    });
    json!({
        "code": problem.phrase.code,
        "text": problem.phrase.text,
        "from_m": problem.chainage.map(|[from, _]| from.to_m()),
        "to_m": problem.chainage.map(|[_, to]| to.to_m()),
        "courses": problem.courses,
        "proposal": proposal,
    })
}
