//! A shape looked over while it is being taped: drawn as far as it can be, whatever else the plan
//! still lacks.

use std::collections::BTreeSet;

use serde::{Deserialize, Serialize};
use serde_json::{Value, json};
use ts_rs::TS;

use super::plan_view::drawing;
use super::views::Drawing;
use super::{Desk, Fault};
use crate::plan::{Plan, Problem, outline_answer};

/// A shape as it is typed, in the words of the plan file.
#[derive(Debug, Clone, Deserialize, TS)]
pub struct ShapeTyped {
    /// The plan's `outline`.
    #[ts(type = "unknown")]
    pub outline: Value,
    /// The plan's `holes`; null where there are none.
    #[ts(type = "unknown")]
    pub holes: Value,
}

/// A shape looked over.
#[derive(Debug, Clone, Serialize, TS)]
pub struct ShapeLook {
    /// The shape as far as it can be drawn.
    pub drawing: Option<Drawing>,
    /// The `outline` of the plan's answer for what is drawn: area, sides, residuals of ties.
    #[ts(type = "unknown")]
    pub outline: Value,
    /// Whether everything that was typed is in the drawing.
    pub whole: bool,
}

/// Looks a shape over without the rest of a plan. Rows that cannot be read yet are left out, and
/// with a row of a chain all that comes after it.
///
/// # Errors
/// None of its own; what is wrong is said where the whole plan is looked over.
pub fn look_at_shape(_: &mut Desk, typed: ShapeTyped) -> Result<ShapeLook, Fault> {
    Ok(look(typed))
}

fn look(typed: ShapeTyped) -> ShapeLook {
    let mut plan = json!({
        "fairfall_plan": 1, "title": "shape", "use": "foot", "edges": { "overdig_mm": 0 },
        "outline": typed.outline,
    });
    if !typed.holes.is_null()
        && let Some(members) = plan.as_object_mut()
    {
        members.insert("holes".to_owned(), typed.holes);
    }
    for round in 0..MOST_ROUNDS {
        match Plan::read(plan.clone()) {
            Ok(read) => {
                let outline = outline_answer(&read);
                return ShapeLook { drawing: Some(drawing(&read)), outline, whole: round == 0 };
            }
            Err(problems) if leave_out(&mut plan, &problems) => {}
            Err(_) => break,
        }
    }
    ShapeLook { drawing: None, outline: Value::Null, whole: false }
}

/// So often something is left out before a shape is given up.
const MOST_ROUNDS: u32 = 40;

/// Lists whose rows stand for themselves; the rows of every other list lead from one to the next.
const APART: [&str; 3] = ["corners", "checks", "holes"];

/// Takes out of the plan what has problems; says whether anything was left out. A list that is
/// wrong as a whole loses its last row.
fn leave_out(plan: &mut Value, problems: &[Problem]) -> bool {
    let mut out: BTreeSet<(String, usize)> = BTreeSet::new();
    for problem in problems {
        if let Some(row) = row_of(plan, &problem.at) {
            out.insert(row);
        }
    }
    let mut left = false;
    // From the last row, so that those before keep their numbers.
    for (list, row) in out.into_iter().rev() {
        let apart = APART.iter().any(|name| list.ends_with(name));
        let Some(rows) = plan.pointer_mut(&list).and_then(Value::as_array_mut) else { continue };
        if row < rows.len() {
            left = true;
            if apart {
                rows.remove(row);
            } else {
                rows.truncate(row);
            }
        }
    }
    left
}

/// The list and the row that a problem is in; for a shape that is wrong as a whole, the last row of
/// the list that makes it.
fn row_of(plan: &Value, at: &str) -> Option<(String, usize)> {
    let lists = ["edge", "sides", "corners", "stations"];
    let mut list = String::new();
    let mut steps = at.split('/').skip(1);
    while let Some(step) = steps.next() {
        list.push('/');
        list.push_str(step);
        if plan.pointer(&list).is_some_and(Value::is_array) {
            let row = steps.next().and_then(|row| row.parse().ok());
            return Some((list.clone(), row.or_else(|| last_row(plan, &list))?));
        }
    }
    let shape = plan.pointer("/outline")?.as_object()?.keys().next()?;
    let list = lists
        .iter()
        .map(|name| format!("/outline/{shape}/{name}"))
        .find(|list| at.starts_with("/outline") && plan.pointer(list).is_some())?;
    Some((list.clone(), last_row(plan, &list)?))
}

fn last_row(plan: &Value, list: &str) -> Option<usize> {
    plan.pointer(list)?.as_array()?.len().checked_sub(1)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn shape(outline: Value) -> ShapeLook {
        look(ShapeTyped { outline, holes: Value::Null })
    }

    #[test]
    fn a_shape_is_drawn_without_the_rest_of_its_plan() {
        let look = shape(json!({ "rectangle": { "length_m": 4, "width_m": 3 } }));
        assert!(look.whole && (look.drawing.expect("drawn").area_m2 - 12.0).abs() < 1e-12);
        assert!((look.outline["area_m2"].as_f64().unwrap() - 12.0).abs() < 1e-12);
    }

    #[test]
    fn a_strip_is_drawn_as_far_as_it_is_taped() {
        let edge =
            |pieces: Value| json!({ "strip": { "edge": pieces, "width_m": 1.5, "side": "left" } });
        let look = shape(edge(json!([
            { "straight_m": 2 },
            { "arc_m": "1.", "radius_m": 4, "turn": "left" },
            { "straight_m": 9 },
        ])));
        // The straight after the curve has no place before the curve has one.
        assert!(!look.whole && (look.drawing.expect("drawn").area_m2 - 3.0).abs() < 1e-12);
        // A strip wider than its curve keeps what comes before the curve.
        let tight = edge(json!([
            { "straight_m": 2 }, { "arc_m": 1, "radius_m": 1, "turn": "left" },
        ]));
        assert!((shape(tight).drawing.expect("drawn").area_m2 - 3.0).abs() < 1e-12);
    }

    #[test]
    fn what_is_no_shape_is_not_drawn() {
        let shapes = [
            json!({}),
            json!({ "rectangle": { "length_m": "four" } }),
            json!({ "strip": { "edge": [], "width_m": 1, "side": "left" } }),
            json!({ "strip": { "edge": [{}], "width_m": 1, "side": "left" } }),
            json!(3),
            Value::Null,
        ];
        for outline in shapes {
            let look = shape(outline.clone());
            assert!(look.drawing.is_none() && !look.whole, "{outline}");
        }
    }
}
