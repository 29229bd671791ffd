//! Digs in triangulated ground against scipy's triangles cut by shapely with the dig and along the
//! line where the depth is nothing.

use fairfall_core::outline::CHORD_TOLERANCE;
use serde_json::Value;

use super::{Case, each, exact, number};

/// Two volumes of a case: cut and fill.
fn pair(case: &Case, key: &str) -> [f64; 2] {
    serde_json::from_value(case.value["expect"][key].clone()).expect("cut and fill")
}

fn volumes(case: &mut Case, answer: &Value, [cut, fill]: [f64; 2], within: f64) {
    for (key, wanted) in [("solid_m3", cut), ("fill_m3", fill)] {
        case.near(key, number(&answer["dig"], key), wanted, within);
    }
}

#[test]
fn digs_within_the_spots() {
    each("ground.json", 50, |case| {
        let Some(answer) = case.answer() else { return };
        let expect = &case.value["expect"];
        case.same(&answer, "/dig/area_m2", &expect["area_m2"], exact);
        let [cut, fill] = pair(case, "inside_m3");
        // Straight sides: a millionth of what is moved. Curved ones are clipped by chords: what they
        // may leave out or take in, along the boundary, by twice the mean depth.
        let mut within = exact(cut + fill);
        if case.value["arcs"] == true {
            let area = number(expect, "area_m2");
            let around = number(&answer["outline"], "perimeter_m");
            within += around * CHORD_TOLERANCE.to_m() * 2.0 * (cut + fill) / area;
        }
        volumes(case, &answer, [cut, fill], within);
        let outside = number(&answer["ground"], "outside_hull_m2");
        case.near("outside the hull", outside, 0.0, 1e-9);
        if fill == 0.0 {
            let mean = number(&answer["dig"], "mean_depth_mm");
            let wanted = cut / number(expect, "area_m2") * 1000.0;
            case.near("mean depth", mean, wanted, within * 1000.0);
        }
    });
}

#[test]
fn digs_that_reach_beyond_the_spots() {
    each("ground_beyond.json", 15, |case| {
        let Some(answer) = case.answer() else { return };
        let expect = &case.value["expect"];
        case.same(&answer, "/dig/area_m2", &expect["area_m2"], exact);
        case.same(&answer, "/ground/outside_hull_m2", &expect["outside_hull_m2"], exact);
        let (inside, beyond) = (pair(case, "inside_m3"), pair(case, "beyond_m3"));
        let whole = [inside[0] + beyond[0], inside[1] + beyond[1]];
        // Beyond the spots the ground is a guess: a thousandth of what lies there.
        let within = exact(whole[0] + whole[1]) + (beyond[0] + beyond[1]) / 1000.0;
        volumes(case, &answer, whole, within);
    });
}
