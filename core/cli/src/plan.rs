//! `fairfall plan`.

use std::io::Read as _;
use std::path::Path;

use fairfall_core::api::money;
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
    text.push_str(&goods_for_people(answer));
    text.push_str(&offers_for_people(answer));
    text.push_str("\nCautions:\n");
    for caution in answer.get("cautions").and_then(Value::as_array).into_iter().flatten() {
        let caution = caution.get("text").and_then(Value::as_str).unwrap_or_default();
        text.push_str(&format!("  {caution}\n"));
    }
    text.push_str("\nTaken where the plan says nothing:\n");
    for d in plan.every_default() {
        text.push_str(&format!("  {} = {} ({}; {})\n", d.key, d.value, d.source, d.status));
    }
    text
}

/// What each supplier asks for what is ordered; nothing where the plan has no price.
fn offers_for_people(answer: &Value) -> String {
    let currency = answer.pointer("/orders/currency").and_then(Value::as_str).unwrap_or_default();
    let suppliers = answer.pointer("/orders/suppliers").and_then(Value::as_array);
    let rows: Vec<[String; 2]> = suppliers
        .into_iter()
        .flatten()
        .filter_map(|row| {
            let minor =
                row.get("total_minor").and_then(Value::as_u64).filter(|minor| *minor > 0)?;
            let name = row.get("supplier").and_then(Value::as_str).unwrap_or_default();
            let name = if name.is_empty() { "no supplier named" } else { name };
            Some([name.to_owned(), money(minor, currency)])
        })
        .collect();
    if rows.is_empty() { String::new() } else { format!("\nPrices\n{}", table(&rows)) }
}

/// Loads, order, hours and weight of a plan's answer.
fn goods_for_people(answer: &Value) -> String {
    let rows = |pointer: &str| {
        answer.pointer(pointer).and_then(Value::as_array).cloned().unwrap_or_default()
    };
    let number = |row: &Value, key: &str| row.get(key).and_then(Value::as_f64).unwrap_or_default();
    let name = |row: &Value, key: &str| {
        row.get(key).and_then(Value::as_str).unwrap_or_default().replace('_', " ")
    };
    let mut text = String::from("\nSpoil away\n");
    let loads: Vec<[String; 2]> = rows("/dig/loads")
        .iter()
        .map(|row| {
            let [low, high] = [0, 1].map(|end| {
                row.pointer(&format!("/loads/{end}")).and_then(Value::as_u64).unwrap_or_default()
            });
            let loads = match (low, high) {
                (_, 0) => "none".to_owned(),
                (1, 1) => "1 load".to_owned(),
                (low, high) if low == high => format!("{high} loads"),
                _ => format!("{low} to {high} loads"),
            };
            let filled = if high > 0 {
                format!(", filled by {}", name(row, "filled_by"))
            } else {
                String::new()
            };
            let line = format!("{loads}{filled}");
            [name(row, "vehicle"), line]
        })
        .collect();
    text.push_str(&table(&loads));
    if let Some(words) = answer.pointer("/sub_base/compaction/text").and_then(Value::as_str) {
        text.push_str(&format!("\nCompaction\n{words}\n"));
    }
    text.push_str("\nOrder\n");
    let currency = answer.pointer("/orders/currency").and_then(Value::as_str).unwrap_or_default();
    let lines: Vec<[String; 2]> = rows("/orders/lines")
        .iter()
        .map(|row| {
            let (count, unit) = (number(row, "count"), name(row, "sold_in"));
            let measure = name(row, "measure");
            let price = row.get("total_minor").and_then(Value::as_u64);
            let price =
                price.map_or_else(String::new, |minor| format!(", {}", money(minor, currency)));
            let line = format!(
                "{count:.0} × {unit} ({} {measure} needed, {} % beyond, {} left over){price}",
                short(number(row, "need")),
                short(number(row, "allowance_percent")),
                short(number(row, "left_over")),
            );
            [name(row, "what"), line]
        })
        .collect();
    text.push_str(&table(&lines));
    let hours = answer.pointer("/time/person_hours").and_then(Value::as_f64).unwrap_or_default();
    let tonnes = answer.pointer("/by_hand/tonnes").and_then(Value::as_f64).unwrap_or_default();
    text.push_str(&format!("\n{hours:.0} hours of one person; {tonnes:.1} t moved by hand\n"));
    text
}

/// A number with no more decimals than it needs: none from a hundred up, at most two below.
fn short(number: f64) -> String {
    if number >= 100.0 {
        return format!("{number:.0}");
    }
    format!("{number:.2}").trim_end_matches('0').trim_end_matches('.').to_owned()
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
