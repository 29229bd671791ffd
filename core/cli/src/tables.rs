//! The calculators without a job: `passes`, `vibration`.

use fairfall_core::api::tables::{PassesAsked, PassesView, exposure_view};
use fairfall_core::plan::Problem;
use fairfall_core::safety::parse_work;
use fairfall_core::units::Duration;
use serde_json::json;

use crate::arguments::PassesArguments;
use crate::outcome::{Outcome, Trouble, table};

/// Passes for one layer, or the lifts needed.
pub fn passes(asked: PassesArguments) -> Result<Outcome, Trouble> {
    let asked = PassesAsked {
        specification: asked.spec,
        plant: asked.plant,
        rating: asked.rating,
        mass_kg: asked.mass_kg,
        contact_m2: asked.contact_m2,
        width_mm: asked.width_mm,
        overlap_mm: asked.overlap_mm,
        speed_m_per_min: asked.speed_m_per_min,
        layer_mm: asked.layer,
        material: asked.material.map(Into::into),
        area_m2: asked.area_m2,
    };
    let view = PassesView::of(&asked).map_err(|fault| by_flag(fault.into()))?;
    let mut text = format!("{}\n", view.says.text);
    for caution in &view.cautions {
        text.push_str(&format!("{}\n", caution.text));
    }
    let mut rows = vec![
        ["rating".to_owned(), format!("{:.0} {}", view.rating, view.rated_in)],
        ["source".to_owned(), format!("{} ({})", view.source, view.status)],
    ];
    if let Some(minutes) = view.pass_min {
        rows.push(["one pass".to_owned(), format!("at least {minutes:.1} min")]);
    }
    text.push_str(&table(&rows));
    Ok(Outcome::done(json!(view), text))
}

/// The places of problems as the flags that were typed.
fn by_flag(trouble: Trouble) -> Trouble {
    let flag = |problem: Problem| {
        let at = match problem.at.as_str() {
            "/specification" => "--spec".to_owned(),
            "/layer_mm" => "--layer".to_owned(),
            other => format!("--{}", other.trim_start_matches('/').replace('_', "-")),
        };
        Problem::new(at, problem.problem, problem.right)
    };
    match trouble {
        Trouble::BadInput(problems) => Trouble::BadInput(problems.into_iter().map(flag).collect()),
        machine @ Trouble::Machine(_) => machine,
    }
}

/// Exposure points of a day's work, magnitudes taken as given.
pub fn vibration(work: &[String]) -> Result<Outcome, Trouble> {
    let mut problems = Vec::new();
    let mut read = Vec::new();
    for text in work {
        match parse_work(text) {
            Ok(work) => read.push(work),
            Err(error) => {
                let right = "a magnitude in m/s² at a time, such as 4.0@3h or 2.5@45min";
                problems.push(Problem::new(text.as_str(), error.to_string(), right));
            }
        }
    }
    let total: Duration = read.iter().map(|work| work.time).sum();
    if total > Duration::from_h(24.0) {
        let problem = "together that is more than a day";
        problems.push(Problem::new("", problem, "at most 24 h of work"));
    }
    if !problems.is_empty() {
        return Err(problems.into());
    }
    let view = exposure_view(&read);
    let hours = |hours: Option<f64>| hours.map_or("never".to_owned(), |h| format!("{h:.2} h"));
    let rows = [
        ["points".to_owned(), format!("{:.1}", view.points)],
        ["A(8)".to_owned(), format!("{:.2} m/s²", view.a8_m_s2)],
        ["action value after".to_owned(), hours(view.to_action_h)],
        ["limit value after".to_owned(), hours(view.to_limit_h)],
    ];
    let text = format!(
        "{}\n{}\nA maker's value from a laboratory is doubled before it is used here.\n",
        view.says.text,
        table(&rows)
    );
    Ok(Outcome::done(json!(view), text))
}
