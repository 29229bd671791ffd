//! `fairfall lay`.

use std::io::{BufWriter, Write as _};
use std::path::Path;

use fairfall_core::laying::{Laying, sheet, write_pieces};
use fairfall_core::plan::figures::{ClosingWord, CourseFigures, LayingFigures};
use fairfall_core::plan::{Plan, Problem, laying_figures};
use serde_json::json;

use crate::outcome::{Outcome, Trouble, table};
use crate::plan::read_text;

/// Blocks whole and cut, courses, joints; the drawing and the pieces into files where they are asked
/// for. Problems need attention.
pub fn lay(path: &Path, svg: Option<&Path>, pieces: Option<&Path>) -> Result<Outcome, Trouble> {
    if svg.is_some() && svg == pieces {
        let problem = "the drawing and the pieces would go into one file";
        return Err(Trouble::input("--pieces", problem, "another file than that of --svg"));
    }
    let plan = Plan::parse(&read_text(path)?)?;
    let laying = plan.laying().map_err(|too_many| vec![Problem::from(too_many)])?;
    if let Some(file) = svg {
        let drawn = sheet(&plan.title, &laying, &plan.outline, &plan.block);
        std::fs::write(file, drawn).map_err(|error| unwritable(file, &error))?;
    }
    if let Some(file) = pieces {
        write(file, &plan, &laying).map_err(|error| unwritable(file, &error))?;
    }
    let figures = laying_figures(&plan, &laying);
    let text = for_people(&figures);
    let attention = !figures.problems.is_empty();
    Ok(Outcome { json: Some(json!(figures)), text, attention })
}

fn unwritable(file: &Path, error: &std::io::Error) -> Trouble {
    Trouble::Machine(format!("{}: {error}", file.display()))
}

fn write(file: &Path, plan: &Plan, laying: &Laying) -> std::io::Result<()> {
    let mut out = BufWriter::new(std::fs::File::create(file)?);
    write_pieces(laying, &plan.block, &mut out)?;
    out.flush()
}

/// Sizes of the cut list that are shown; the rest is in the JSON.
const SHOWN_SIZES: usize = 12;

fn for_people(figures: &LayingFigures) -> String {
    let cuts = &figures.cuts;
    let row = |name: &str, value: String| [name.to_owned(), value];
    let rows = [
        row("whole blocks", figures.whole.to_string()),
        row("cut pieces", format!("{} out of {} blocks", cuts.pieces, cuts.blocks)),
        row("under a third", figures.small.to_string()),
        row("blocks in all", figures.needed.to_string()),
        row(
            "saw cuts",
            format!(
                "{} in {:.1} m, about {:.0} minutes at {} a cut",
                cuts.saw_cuts, cuts.sawn_m, cuts.saw_min, cuts.cut_min
            ),
        ),
        row("joints", format!("{:.3} m² of {:.2} m²", figures.joints_m2, figures.area_m2)),
    ];
    let mut text = format!("{}\n\n{}", figures.title, table(&rows));
    if let Some(search) = &figures.search {
        text.push_str(&format!("\n{}\n", search.says.text));
    }
    if !figures.courses.is_empty() {
        text.push_str("\nCourses\n");
        text.push_str(&table(&figures.courses.iter().map(course).collect::<Vec<_>>()));
    }
    if !figures.edge_courses.is_empty() {
        text.push_str("\nEdge courses\n");
    }
    for run in &figures.edge_courses {
        let sides: Vec<&str> = run.parts.iter().map(|part| part.side.as_str()).collect();
        let mut sides = sides;
        sides.dedup();
        text.push_str(&format!(
            "  {}: {} units over {:.3} m, {}\n",
            sides.join(", "),
            run.blocks,
            run.length_m,
            closing(run.closing, run.closer_mm)
        ));
    }
    text.push_str("\nCut list, mm\n");
    for size in cuts.sizes.iter().take(SHOWN_SIZES) {
        text.push_str(&format!(
            "  {:4} of {:3.0} and {:3.0} long, {:3.0} wide\n",
            size.count, size.long_mm, size.short_mm, size.width_mm
        ));
    }
    if cuts.sizes.len() > SHOWN_SIZES {
        text.push_str(&format!("  and {} more sizes\n", cuts.sizes.len() - SHOWN_SIZES));
    }
    let packs = &figures.packs;
    text.push_str(&format!(
        "\nOpen {} packs at once and mix them ({})\n",
        packs.open_at_once, packs.source
    ));
    for width in &figures.whole_course_widths {
        let joint = width.joint_mm.filter(|_| width.joint_allowed);
        let joint =
            joint.map_or(String::new(), |mm| format!("; as planned with joints of {mm:.1} mm"));
        text.push_str(&format!(
            "{} whole courses are {:.3} m wide{joint}\n",
            width.courses, width.width_m
        ));
    }
    for problem in &figures.problems {
        text.push_str(&format!("\n{}\n", problem.says.text));
        if let Some(proposal) = &problem.proposal {
            text.push_str(&format!("  {}\n", proposal.says.text));
        }
    }
    text
}

fn course(course: &CourseFigures) -> [String; 2] {
    let radius = course.radius_m.map_or(String::new(), |r| format!("  radius {r:7.3} m"));
    let rip = if course.rip { "  ripped" } else { "" };
    let line = format!(
        "{:4} blocks over {:7.3} m{radius}  joints {:.1} in, {:.1} out  {}{rip}",
        course.blocks,
        course.length_m,
        course.inner_joint_mm,
        course.outer_joint_mm,
        closing(course.closing, course.closer_mm)
    );
    [format!("{:4}", course.index), line]
}

fn closing(closing: ClosingWord, closer_mm: Option<f64>) -> String {
    match closing {
        ClosingWord::Even => "closes even".to_owned(),
        ClosingWord::Closer => format!("closer of {:.0} mm", closer_mm.unwrap_or_default()),
        ClosingWord::AtOutline => "cut at the outline".to_owned(),
    }
}
