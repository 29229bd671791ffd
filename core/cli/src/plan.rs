//! `fairfall plan`.

use std::io::Read as _;
use std::path::Path;

use fairfall_core::plan::{LARGEST_PLAN_BYTES, Plan, answer, unanswered};
use fairfall_core::tables::LARGEST_TABLE_BYTES;
use serde_json::Value;

use crate::outcome::{Outcome, Trouble, table};

/// Reads a plan file, no more of it than a plan can have.
pub fn read_text(path: &Path) -> Result<String, Trouble> {
    read_at_most(path, LARGEST_PLAN_BYTES, "a plan file")
}

/// Reads a table, no more of it than a table can have.
pub fn read_table(path: &Path) -> Result<String, Trouble> {
    read_at_most(path, LARGEST_TABLE_BYTES, "a table")
}

/// Reads a file up to just past a limit, so that what takes it can say it is too large.
fn read_at_most(path: &Path, most: usize, what: &str) -> Result<String, Trouble> {
    let shown = path.display().to_string();
    let unreadable = |error: std::io::Error| {
        Trouble::input("", format!("{shown}: {error}"), format!("{what} that can be read"))
    };
    let file = std::fs::File::open(path).map_err(unreadable)?;
    let mut bytes = Vec::new();
    file.take(most as u64 + 1).read_to_end(&mut bytes).map_err(unreadable)?;
    String::from_utf8(bytes).map_err(|_| {
        Trouble::input("", format!("{shown} is not text in UTF-8"), format!("{what} in UTF-8"))
    })
}

/// Take-off, build-up and cautions of a plan. Measures that do not agree, and cautions that want an
/// answer, want attention.
pub fn plan(path: &Path) -> Result<Outcome, Trouble> {
    let plan = Plan::parse(&read_text(path)?)?;
    let json = answer(&plan);
    let text = for_people(&plan, &json);
    let off = plan.survey.ties.iter().flat_map(|ties| &ties.residuals).any(|r| !r.within());
    let attention = off || !unanswered(&plan).is_empty();
    Ok(Outcome { json: Some(json), text, attention })
}

fn for_people(plan: &Plan, answer: &Value) -> String {
    let number = |pointer: &str, decimals: usize| {
        let value = answer.pointer(pointer).and_then(Value::as_f64).unwrap_or_default();
        format!("{value:.decimals$}")
    };
    let row = |name: &str, value: String| [name.to_owned(), value];
    let rows = [
        row("area", format!("{} m²", number("/outline/area_m2", 2))),
        row("perimeter", format!("{} m", number("/outline/perimeter_m", 2))),
        row("least fall", fall(answer, "/surface/least_fall/one_in")),
        row("steepest fall", fall(answer, "/surface/steepest_fall/one_in")),
        row("build-up", format!("{} mm", number("/build_up/total_mm", 0))),
        row("dig, area", format!("{} m²", number("/dig/area_m2", 2))),
        row("dig, mean depth", format!("{} mm", number("/dig/mean_depth_mm", 0))),
        row("dig, solid", format!("{} m³", number("/dig/solid_m3", 2))),
        row(
            "dig, loose",
            format!("{} to {} m³", number("/dig/loose_m3/0", 2), number("/dig/loose_m3/1", 2)),
        ),
        row(
            "sub-base",
            format!(
                "{} m³ compacted, {} t, {}",
                number("/sub_base/compacted_m3", 2),
                number("/sub_base/tonnes", 2),
                match plan.layers.lifts.len() {
                    1 => "in one lift".to_owned(),
                    lifts => format!("in {lifts} lifts"),
                }
            ),
        ),
        row(
            "bed",
            format!(
                "{} m³ compacted, {} t",
                number("/bed/compacted_m3", 2),
                number("/bed/tonnes", 2)
            ),
        ),
        row("blocks", format!("{} to buy", number("/blocks/buy", 0))),
        row("joint sand", format!("{} kg", number("/joint_sand/kg", 0))),
        row("haunch", format!("{} m³", number("/haunch/m3", 2))),
    ];
    let mut text = format!("{}\n\n{}{}", plan.title, table(&rows), measured(answer));
    text.push_str("\nTaken where the plan says nothing:\n");
    for d in &plan.defaults {
        text.push_str(&format!("  {} = {} ({}; {})\n", d.key, d.value, d.source, d.status));
    }
    text.push_str("\nCautions:\n");
    for caution in answer.get("cautions").and_then(Value::as_array).into_iter().flatten() {
        let caution = caution.get("text").and_then(Value::as_str).unwrap_or_default();
        text.push_str(&format!("  {caution}\n"));
    }
    text
}

fn fall(answer: &Value, pointer: &str) -> String {
    let run = answer.pointer(pointer).and_then(Value::as_f64);
    run.map_or("level".to_owned(), |run| format!("1 in {run:.0}"))
}

/// What more was measured than makes up the shape and the surface, with what does not agree.
fn measured(answer: &Value) -> String {
    let rows =
        |pointer: &str| answer.pointer(pointer).and_then(Value::as_array).into_iter().flatten();
    let number = |row: &Value, key: &str| row.get(key).and_then(Value::as_f64).unwrap_or_default();
    let name =
        |row: &Value, key: &str| row.get(key).and_then(Value::as_str).unwrap_or("").to_owned();
    let mut text = String::new();
    for row in rows("/outline/ties/residuals") {
        let off = number(row, "residual_mm");
        let word =
            if row.get("within") == Some(&Value::Bool(true)) { "" } else { "  MEASURE AGAIN" };
        text.push_str(&format!(
            "  {}–{}  {:.3} m, off by {off:+.0} mm{word}\n",
            name(row, "from"),
            name(row, "to"),
            number(row, "measured_m"),
        ));
    }
    if let Some(areas) = answer.pointer("/outline/offsets").filter(|a| !a.is_null()) {
        text.push_str(&format!(
            "  {:.2} m² by the trapezoidal rule, {:.2} m² by Simpson's rule\n",
            number(areas, "trapezoid_m2"),
            number(areas, "simpson_m2"),
        ));
    }
    for (row, spot) in rows("/surface/plane/residuals").zip(1..) {
        let off = number(row, "residual_mm");
        text.push_str(&format!("  spot {spot}, {off:+.0} mm from the plane through all\n"));
    }
    if text.is_empty() { text } else { format!("\nAs measured:\n{text}") }
}
