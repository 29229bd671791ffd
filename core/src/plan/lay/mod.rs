//! The laying of a plan in figures.

pub mod figures;

use super::Plan;
use crate::buildup::{Figure, figure};
use crate::laying::{
    A_CUT, Closing, Course, Cuts, EdgePart, EdgeRun, KERF, Laying, MOST_BLOCKS, Problem, Search,
    Template, TooManyBlocks, Tried, Unit, WholeWidth,
};
use crate::outline::{Offset, Run};
use crate::units::Length;
use figures::*;

/// Longest board that a template is cut from.
pub(super) const BOARD: Length = Length::from_m(1.2);

/// The figures of a plan's laying.
pub fn laying_figures(plan: &Plan, laying: &Laying) -> LayingFigures {
    let limits = &plan.joint_limits;
    let least = |unit: Unit| unit.least_radius(limits).map(Length::to_m);
    LayingFigures {
        title: plan.title.clone(),
        whole: laying.whole,
        cut: laying.cuts.pieces,
        needed: laying.blocks(),
        smallest_cut_fraction: laying.cuts.smallest,
        small: laying.cuts.small,
        area_m2: plan.outline.area().to_m2(),
        covered_m2: laying.covered.to_m2(),
        joints_m2: laying.joints.to_m2(),
        courses: laying.courses.iter().map(course).collect(),
        edge_courses: laying.edges.iter().map(edge_run).collect(),
        cuts: cuts(&laying.cuts),
        search: laying.search.as_ref().map(search),
        whole_course_widths: laying.widths.iter().map(width).collect(),
        joint_limits_mm: [limits.least, limits.most].map(Length::to_mm),
        end_joint_mm: (!plan.bond.pattern.has_courses()).then(|| plan.block.end_joint().to_mm()),
        least_radius_m: LeastRadii {
            stretcher: least(Unit::stretcher(&plan.block)),
            soldier: least(Unit::soldier(&plan.block)),
        },
        templates: templates(plan, laying).iter().map(template).collect(),
        packs: packs(),
        problems: laying.problems.iter().map(problem).collect(),
    }
}

fn packs() -> PackFigures {
    let Figure { value, source, status, .. } = figure("packs_mixed");
    PackFigures { open_at_once: value.parse().unwrap_or_default(), source, status }
}

/// A paving that is not laid out, because of its size.
impl From<TooManyBlocks> for super::Problem {
    fn from(too_many: TooManyBlocks) -> Self {
        let right = format!("at most {MOST_BLOCKS} blocks; lay it out in parts");
        super::Problem::new("/outline", too_many.to_string(), right)
    }
}

fn course(course: &Course) -> CourseFigures {
    let (closing, closer_mm) = closing(course.closing);
    CourseFigures {
        index: course.index,
        radius_m: course.radius.map(Length::to_m),
        length_m: course.length.to_m(),
        blocks: course.blocks(),
        whole: course.whole,
        cut: course.cut,
        inner_joint_mm: course.inner_joint.to_mm(),
        outer_joint_mm: course.outer_joint.to_mm(),
        closing,
        closer_mm,
        rip: course.rip,
        least_lap_mm: course.least_lap.map(Length::to_mm),
    }
}

fn closing(closing: Closing) -> (ClosingWord, Option<f64>) {
    match closing {
        Closing::Even => (ClosingWord::Even, None),
        Closing::Closer(length) => (ClosingWord::Closer, Some(length.to_mm())),
        Closing::AtOutline => (ClosingWord::AtOutline, None),
    }
}

fn edge_run(run: &EdgeRun) -> EdgeCourseFigures {
    let (closing, closer_mm) = closing(run.closing);
    EdgeCourseFigures {
        length_m: run.length.to_m(),
        blocks: run.whole + run.cut,
        whole: run.whole,
        cut: run.cut,
        closing,
        closer_mm,
        finish_joint_mm: run.finish_joint.map(Length::to_mm),
        ring: run.ring,
        parts: run.parts.iter().map(edge_part).collect(),
    }
}

fn edge_part(part: &EdgePart) -> EdgePartFigures {
    EdgePartFigures {
        side: part.side.to_string(),
        radius_m: part.radius.map(Length::to_m),
        length_m: part.length.to_m(),
        inner_joint_mm: part.inner_joint.to_mm(),
        outer_joint_mm: part.outer_joint.to_mm(),
        turn_deg: part.turn_deg,
    }
}

fn cuts(cuts: &Cuts) -> CutFigures {
    let sizes = cuts.sizes.iter().map(|size| CutSizeFigures {
        long_mm: size.long.to_mm(),
        short_mm: size.short.to_mm(),
        width_mm: size.width.to_mm(),
        saw_cuts: size.saw_cuts,
        count: size.count,
        fraction: size.fraction,
    });
    CutFigures {
        pieces: cuts.pieces,
        blocks: cuts.blocks,
        from_off_cuts: cuts.from_off_cuts(),
        small: cuts.small,
        sawn_m: cuts.sawn.to_m(),
        saw_cuts: cuts.count(),
        saw_min: cuts.saw_time().to_min(),
        cut_min: A_CUT.to_min(),
        kerf_mm: KERF.to_mm(),
        sizes: sizes.collect(),
    }
}

fn search(search: &Search) -> SearchFigures {
    let tried = |tried: &Tried| TriedFigures {
        start_mm: tried.start.map(Length::to_mm),
        blocks_cut: tried.cut,
        small: tried.small,
    };
    SearchFigures {
        tried: search.tried,
        plain: tried(&search.plain),
        taken: tried(&search.taken),
        cuts_saved: search.plain.cut - search.taken.cut,
        says: search.says(),
    }
}

fn width(width: &WholeWidth) -> WidthFigures {
    WidthFigures {
        courses: width.courses,
        width_m: width.width.to_m(),
        joint_mm: width.joint.map(Length::to_mm),
        joint_allowed: width.within,
    }
}

/// Boards for every radius that something is set to: the reference edge's, and that of the first
/// course along it.
fn templates(plan: &Plan, laying: &Laying) -> Vec<Template> {
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

fn template(template: &Template) -> TemplateFigures {
    let ordinates = |offsets: Vec<Offset>| {
        offsets
            .iter()
            .map(|o| OrdinateFigures { at_m: o.at.to_m(), mm: o.offset.to_mm() })
            .collect()
    };
    let sheets = template.sheets().into_iter().map(|sheet| SheetFigures {
        corner_mm: [sheet.corner.x, sheet.corner.y].map(|metres| metres * 1000.0),
        size_mm: sheet.size.map(Length::to_mm),
        line_mm: sheet.line.iter().map(|p| [p.x, p.y].map(|metres| metres * 1000.0)).collect(),
    });
    TemplateFigures {
        radius_m: template.radius().to_m(),
        board_m: template.board().to_m(),
        inside: ordinates(template.inside()),
        outside: ordinates(template.outside()),
        sheets: sheets.collect(),
    }
}

fn problem(problem: &Problem) -> LayingProblem {
    let [from_m, to_m] = [0, 1].map(|end| Some(problem.chainage?.get(end)?.to_m()));
    LayingProblem {
        says: problem.phrase.clone(),
        from_m,
        to_m,
        courses: problem.courses,
        place_m: problem.place.map(|p| [p.x, p.y]),
        proposal: problem.proposal.as_ref().map(|proposal| LayingProposal {
            says: proposal.phrase.clone(),
            mends: proposal.mends,
        }),
    }
}
