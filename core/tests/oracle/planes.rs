//! Finished surfaces from spots against numpy's least squares: both solve the same three equations,
//! so levels and residuals agree to a millionth of a millimetre or of themselves.

use serde_json::Value;

use super::{Case, each, exact, list, number};

/// Millimetres: the levels from which a residual is the small difference are up to 2000 mm.
const LEVEL_MM: f64 = 1e-6;

fn residual(case: &mut Case, found: &Value, wanted: &Value) {
    for key in ["x_m", "y_m"] {
        case.near(key, number(found, key), number(wanted, key), 1e-9);
    }
    let [found, wanted] = [found, wanted].map(|row| number(row, "residual_mm"));
    case.near("residual", found, wanted, LEVEL_MM);
}

#[test]
fn surfaces_from_spots() {
    each("planes.json", 36, |case| {
        let Some(answer) = case.answer() else { return };
        let (found, expect) = (&answer["surface"]["plane"], &case.value["expect"]);
        let keys = ["level_mm_at_origin", "rise_x_mm_per_m", "rise_y_mm_per_m"];
        for (key, theirs) in keys.into_iter().zip(["level_mm_at_origin", "fall_x", "fall_y"]) {
            let wanted = &expect["plane"][theirs];
            case.same(found, &format!("/{key}"), wanted, |w| exact(w).max(LEVEL_MM));
        }
        let (rows, wanted) = (list(found, "residuals"), list(expect, "residuals"));
        assert_eq!(rows.len(), wanted.len(), "{found}");
        for (row, wanted) in rows.iter().zip(wanted) {
            residual(case, row, wanted);
        }
        if expect["worst"].is_object() {
            residual(case, &found["worst"], &expect["worst"]);
        }
        for key in ["area_m2", "solid_m3"] {
            case.same(&answer, &format!("/dig/{key}"), &expect["dig"][key], exact);
        }
    });
}
