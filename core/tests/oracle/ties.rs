//! Ties against scipy's least squares. Places agree to a micrometre and residuals to a thousandth of
//! a millimetre: both sides go on until the sum of squares no longer falls.

use fairfall_core::plan::Plan;
use serde_json::Value;

use super::outlines::shape;
use super::{Case, each, list, number};

const PLACE_M: f64 = 1e-6;
const RESIDUAL_MM: f64 = 1e-3;

/// What is flagged: over 10 mm or 1 in 500. Between the two the program's own word stands.
fn flagged(case: &mut Case, row: &Value, residual: f64, length: f64) {
    let bounds = [10.0, length * 1000.0 / 500.0];
    let within = row["within"].as_bool();
    let (least, most) = (bounds[0].min(bounds[1]), bounds[0].max(bounds[1]));
    let allowed = number(row, "allowed_mm");
    if within != Some(residual.abs() <= allowed) {
        case.differ(format!("{row} is not flagged by its own allowance"));
    }
    if (residual.abs() > most && within != Some(false))
        || (residual.abs() <= least && within != Some(true))
    {
        case.differ(format!("{row} is flagged wrongly"));
    }
}

/// The row of an answer for a measure: the same two ends, either way round, and the same tape.
fn row<'a>(rows: &'a [Value], wanted: &Value) -> Option<&'a Value> {
    let ends = |row: &Value| {
        let mut ends = [row["from"].to_string(), row["to"].to_string()];
        ends.sort();
        ends
    };
    let measured = number(wanted, "measured_m");
    rows.iter().find(|row| {
        ends(row) == ends(wanted) && (number(row, "measured_m") - measured).abs() < 1e-9
    })
}

#[test]
fn corners_by_least_squares() {
    each("ties.json", 48, |case| {
        let Some(answer) = case.answer() else { return };
        shape(case, &answer);
        let (ties, expect) = (&answer["outline"]["ties"], &case.value["expect"]);
        let (corners, wanted) = (list(ties, "corners"), list(expect, "corners"));
        assert_eq!(corners.len(), wanted.len(), "{ties}");
        for (corner, wanted) in corners.iter().zip(wanted) {
            assert_eq!(corner["name"], wanted["name"], "{ties}");
            for key in ["x_m", "y_m"] {
                let what = format!("{key} of {}", wanted["name"]);
                case.near(&what, number(corner, key), number(wanted, key), PLACE_M);
            }
        }
        let (rows, wanted) = (list(ties, "residuals"), list(expect, "residuals"));
        assert_eq!(rows.len(), wanted.len(), "{ties}");
        for wanted in wanted {
            let Some(row) = row(rows, wanted) else {
                case.differ(format!("no residual for {wanted}"));
                continue;
            };
            let (measured, residual) = (number(row, "measured_m"), number(row, "residual_mm"));
            let what = format!("residual {}-{}", wanted["from"], wanted["to"]);
            case.near(&what, residual, number(wanted, "residual_mm"), RESIDUAL_MM);
            let computed = number(row, "computed_m");
            case.near("computed", computed, measured - residual / 1000.0, PLACE_M);
            flagged(case, row, residual, measured);
        }
    });
}

#[test]
fn distances_that_cannot_meet_are_refused_with_the_shortfall() {
    each("ties_impossible.json", 12, |case| {
        let Err(problems) = Plan::read(case.value["plan"].clone()) else {
            case.differ("not refused".to_owned());
            return;
        };
        let expect = &case.value["expect"];
        let at = expect["at"].as_str().expect("a place");
        let shortfall = format!("{} mm", expect["shortfall_mm"]);
        let said = problems.iter().any(|p| {
            p.at.starts_with(at) && format!("{} {}", p.problem, p.right).contains(&shortfall)
        });
        if !said || problems.len() != 1 {
            case.differ(format!("{shortfall} is not what is said at {at}: {problems:?}"));
        }
    });
}
