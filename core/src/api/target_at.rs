//! What a tape should read at any place: the string beside it, and every layer under it.

use geo::Contains;
use serde::{Deserialize, Serialize};
use ts_rs::TS;

use super::job_view::load;
use super::{Desk, Fault};
use crate::buildup::Layer;
use crate::job::find_string;
use crate::levels::{SHOWN_SAG, StringLine};
use crate::outline::{CHORD_TOLERANCE, Point, distance};
use crate::plan::{Plan, Problem};
use crate::units::Length;

/// A place on the ground: by x and y, or along the reference edge and out from it.
#[derive(Debug, Clone, Deserialize, TS)]
pub struct TargetPlace {
    /// The job's identity.
    pub job: String,
    /// Along the frame's x, in metres.
    #[ts(optional)]
    pub x_m: Option<f64>,
    /// Along the frame's y, in metres.
    #[ts(optional)]
    pub y_m: Option<f64>,
    /// Along the reference edge, in metres, where x and y are left out.
    #[ts(optional)]
    pub along_m: Option<f64>,
    /// From the reference edge into the paving, in metres.
    #[ts(optional)]
    pub out_m: Option<f64>,
    /// Pin at the string's zero; left out, the nearest string that passes beside the place.
    #[ts(optional)]
    pub from: Option<String>,
    /// The string's other pin.
    #[ts(optional)]
    pub to: Option<String>,
    /// How far the string is raised, in millimetres.
    pub raise_mm: f64,
}

/// A place with its levels, and what a tape should read there.
#[derive(Debug, Clone, Serialize, TS)]
pub struct TargetAt {
    /// Along the frame's x.
    pub x_m: f64,
    /// Along the frame's y.
    pub y_m: f64,
    /// Along the reference edge to the foot of the place.
    pub along_m: f64,
    /// From the reference edge into the paving; negative on its other side.
    pub out_m: f64,
    /// Whether it lies in the paving.
    pub inside: bool,
    /// The string, where one passes beside the place.
    pub string: Option<StringBeside>,
    /// Other strings that pass beside the place, the nearest first.
    pub others: Vec<StringBeside>,
    /// Every layer from the formation up.
    pub layers: Vec<LayerAt>,
}

/// A string that passes beside a place.
#[derive(Debug, Clone, PartialEq, Serialize, TS)]
pub struct StringBeside {
    /// Pin at its zero.
    pub from: String,
    /// Pin at its other end.
    pub to: String,
    /// Its straight length.
    pub length_m: f64,
    /// Along the string from its zero to the foot of the place.
    pub at_m: f64,
    /// Square off the string to the place; positive to the left, walking from its zero.
    pub aside_m: f64,
    /// How far the line hangs at the foot, where it hangs more than 2 mm at its middle.
    pub sag_mm: Option<f64>,
}

/// One layer under a place.
#[derive(Debug, Clone, PartialEq, Serialize, TS)]
pub struct LayerAt {
    /// Which layer.
    pub layer: Layer,
    /// Which lift; none for other layers.
    pub lift: Option<u32>,
    /// Level of its top.
    pub level_mm: f64,
    /// What a tape should read from the string, level across to the place.
    pub target_mm: Option<f64>,
    /// Tolerance above design.
    pub high_by_mm: f64,
    /// Tolerance below design.
    pub low_by_mm: f64,
}

/// Places further than this from the frame's zero are a slip of the unit.
const FARTHEST_M: f64 = 2000.0;
/// A string is raised, or lowered, no more than this.
const HIGHEST_RAISE_MM: f64 = 2000.0;
/// So many other strings are offered.
const MOST_OTHERS: usize = 5;

/// What a tape should read at any place, for every layer.
///
/// # Errors
/// `bad_input` for a place or a raise out of bounds, for pins that are not there, and for a string
/// that does not pass beside the place; `not_found` for an unknown job.
pub fn target_at(desk: &mut Desk, place: TargetPlace) -> Result<TargetAt, Fault> {
    let (_, _, state) = load(desk, &place.job)?;
    Ok(look(&state.plan, &place)?)
}

fn look(plan: &Plan, place: &TargetPlace) -> Result<TargetAt, Vec<Problem>> {
    let point = point_of(plan, place)?;
    if place.raise_mm.abs() > HIGHEST_RAISE_MM || !place.raise_mm.is_finite() {
        let right = "from -2000 to 2000 mm";
        return Err(vec![Problem::new("/raise_mm", "the string is not raised so far", right)]);
    }
    let strings = plan.strings();
    let mut near: Vec<(Beside, StringLine)> =
        strings.iter().filter_map(|s| Some((Beside::of(s, point)?, s.clone()))).collect();
    near.sort_by(|a, b| a.0.aside.abs().to_m().total_cmp(&b.0.aside.abs().to_m()));
    let chosen = match (&place.from, &place.to) {
        (Some(from), Some(to)) => Some(string_between(&strings, from, to, point)?),
        _ => near.first().cloned(),
    };
    let is_chosen = |s: &StringLine| {
        chosen
            .as_ref()
            .is_some_and(|(_, c)| (&c.from.name, &c.to.name) == (&s.from.name, &s.to.name))
    };
    let others = near.iter().filter(|(_, s)| !is_chosen(s)).take(MOST_OTHERS);
    let on_edge = plan.outline.place(point);
    Ok(TargetAt {
        x_m: point.x,
        y_m: point.y,
        along_m: on_edge.chainage.to_m(),
        out_m: on_edge.offset.to_m(),
        inside: plan.outline.ring().polygon(CHORD_TOLERANCE).contains(&geo::Point(point)),
        others: others.map(|(beside, s)| beside.view(s)).collect(),
        layers: layers(plan, point, chosen.as_ref(), Length::from_mm(place.raise_mm)),
        string: chosen.as_ref().map(|(beside, s)| beside.view(s)),
    })
}

fn point_of(plan: &Plan, place: &TargetPlace) -> Result<Point, Vec<Problem>> {
    let mut problems = Vec::new();
    let mut within = |at: &str, metres: Option<f64>| {
        let found = metres.filter(|m| m.abs() <= FARTHEST_M);
        if found.is_none() {
            problems.push(Problem::new(at, "this is no place on the job", "metres"));
        }
        found.unwrap_or_default()
    };
    let point = if place.along_m.is_some() || place.out_m.is_some() {
        let (along, out) = (within("/along_m", place.along_m), within("/out_m", place.out_m));
        plan.outline.point(Length::from_m(along), Length::from_m(out))
    } else {
        Point { x: within("/x_m", place.x_m), y: within("/y_m", place.y_m) }
    };
    if problems.is_empty() { Ok(point) } else { Err(problems) }
}

fn string_between(
    strings: &[StringLine],
    from: &str,
    to: &str,
    point: Point,
) -> Result<(Beside, StringLine), Vec<Problem>> {
    let Some(string) = find_string(strings, from, to) else {
        let problem = format!("there is no string from {from} to {to}");
        return Err(vec![Problem::new("/from", problem, "two pins of this job")]);
    };
    let Some(beside) = Beside::of(&string, point) else {
        let problem = format!("the place lies beyond the ends of the string {from}–{to}");
        return Err(vec![Problem::new("/from", problem, "a string that passes beside it")]);
    };
    Ok((beside, string))
}

/// Where a place lies against a string that passes beside it.
#[derive(Debug, Clone, Copy)]
struct Beside {
    at: Length,
    aside: Length,
}

impl Beside {
    /// The foot of the place on the string; none where it lies beyond an end by more than 1 mm.
    fn of(string: &StringLine, point: Point) -> Option<Beside> {
        let (a, b) = (string.from.point, string.to.point);
        let length = distance(a, b).to_m();
        let (ux, uy) = ((b.x - a.x) / length, (b.y - a.y) / length);
        let (dx, dy) = (point.x - a.x, point.y - a.y);
        let at = dx * ux + dy * uy;
        (-0.001..=length + 0.001).contains(&at).then(|| Beside {
            at: Length::from_m(at.clamp(0.0, length)),
            aside: Length::from_m(dy * ux - dx * uy),
        })
    }

    fn view(&self, string: &StringLine) -> StringBeside {
        let hangs = string.sag() >= SHOWN_SAG;
        StringBeside {
            from: string.from.name.clone(),
            to: string.to.name.clone(),
            length_m: string.length().to_m(),
            at_m: self.at.to_m(),
            aside_m: self.aside.to_m(),
            sag_mm: hangs.then(|| string.sag_at(self.at).to_mm()),
        }
    }
}

/// Every layer at a point: z_A + (z_B - z_A) d / L + raise - level of the layer at the point itself,
/// which on a curve lies off the chord that the string is.
fn layers(
    plan: &Plan,
    point: Point,
    string: Option<&(Beside, StringLine)>,
    raise: Length,
) -> Vec<LayerAt> {
    let finished = plan.surface.level_at(&plan.outline, point);
    let line = string.map(|(beside, s)| s.level(beside.at) + raise);
    plan.layers
        .steps()
        .into_iter()
        .map(|(layer, lift)| {
            let level = finished - plan.layers.below_finished(layer, lift);
            let limits = plan.tolerance(layer, lift);
            LayerAt {
                layer,
                lift,
                level_mm: level.to_mm(),
                target_mm: line.map(|line| line.above(level).to_mm()),
                high_by_mm: limits.high_by.to_mm(),
                low_by_mm: limits.low_by.to_mm(),
            }
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::{Value, json};

    fn plan(outline: Value, surface: Value) -> Plan {
        Plan::read(json!({
            "fairfall_plan": 1, "title": "t", "use": "foot", "outline": outline,
            "surface": surface, "layers": { "bed_mm": 40, "sub_base_mm": 150 },
        }))
        .unwrap()
    }

    fn place(x: f64, y: f64, string: Option<(&str, &str)>, raise_mm: f64) -> TargetPlace {
        TargetPlace {
            job: String::new(),
            x_m: Some(x),
            y_m: Some(y),
            along_m: None,
            out_m: None,
            from: string.map(|(from, _)| from.to_owned()),
            to: string.map(|(_, to)| to.to_owned()),
            raise_mm,
        }
    }

    fn targets(at: &TargetAt) -> Vec<f64> {
        at.layers.iter().filter_map(|layer| layer.target_mm).collect()
    }

    #[test]
    fn every_layer_under_a_raised_string_by_hand() {
        // Hand arithmetic: a string raised 100 over a build-up of 250: formation 350, first lift
        // of 75 at 275, stone 200, bed 160, finished 100. Half a metre aside of a level string the
        // crossfall of 1 in 50 has dropped 10 more.
        let surface = json!({ "edge_levels": [{ "at_m": 0, "mm": 0 }], "crossfall_one_in": 50 });
        let plan = plan(json!({ "rectangle": { "length_m": 3, "width_m": 2 } }), surface);
        let under = look(&plan, &place(1.2, 0.0, None, 100.0)).unwrap();
        let reads = [350.0, 275.0, 200.0, 160.0, 100.0];
        for (found, by_hand) in targets(&under).iter().zip(reads) {
            assert!((found - by_hand).abs() < 1e-9, "{under:?}");
        }
        let aside = look(&plan, &place(1.2, 0.5, Some(("R1", "R2")), 100.0)).unwrap();
        let string = aside.string.as_ref().unwrap();
        assert!((string.at_m - 1.2).abs() < 1e-12 && (string.aside_m - 0.5).abs() < 1e-12);
        for (found, by_hand) in targets(&aside).iter().zip(reads) {
            assert!((found - by_hand - 10.0).abs() < 1e-9, "{aside:?}");
        }
        assert!(aside.inside && aside.others.iter().any(|s| s.from == "F2" && s.to == "F1"));
    }

    #[test]
    fn a_place_under_a_chord_reads_as_the_dip_there_does() {
        // A quarter of a curve of 4.5 m: under the middle of a chord the paving lies off its edge
        // by the rise, and the surface has the level of that place.
        let outline = json!({ "strip": {
            "edge": [{ "arc_m": 4.0, "radius_m": 4.5, "turn": "left" }], "width_m": 1.2, "side": "left",
        }});
        let plan = plan(outline, json!({ "crossfall_one_in": 60 }));
        let string = find_string(&plan.strings(), "R1", "R2").unwrap();
        let at = string.length() / 2.0;
        let point = string.point(at);
        let found = look(&plan, &place(point.x, point.y, Some(("R1", "R2")), 0.0)).unwrap();
        let below = plan.layers.total();
        let dip = string.target(at, Length::ZERO, below, &plan.surface, &plan.outline);
        assert!((targets(&found)[0] - dip.to_mm()).abs() < 1e-9);
        // Exact circle geometry: an arc of 2 m on 4.5 m rises R (1 - cos(s / 2R)) over its chord.
        let rise = 4.5 * (1.0 - (1.0_f64 / 4.5).cos());
        assert!((found.out_m - rise).abs() < 1e-9, "{found:?}");
        let by_edge = TargetPlace {
            x_m: None,
            y_m: None,
            along_m: Some(found.along_m),
            out_m: Some(found.out_m),
            ..place(0.0, 0.0, Some(("R1", "R2")), 0.0)
        };
        let again = look(&plan, &by_edge).unwrap();
        assert!((again.x_m - point.x).abs() < 1e-9 && (again.y_m - point.y).abs() < 1e-9);
    }

    #[test]
    fn a_place_that_no_string_passes_has_its_levels_only() {
        let plan = plan(json!({ "rectangle": { "length_m": 3, "width_m": 2 } }), json!({}));
        let out = look(&plan, &place(-0.4, -0.4, None, 0.0)).unwrap();
        assert!(out.string.is_none() && !out.inside && targets(&out).is_empty());
        let at = |place| look(&plan, &place).unwrap_err().first().map(|p| p.at.clone());
        assert_eq!(at(place(-0.4, 0.0, Some(("R1", "R2")), 0.0)).as_deref(), Some("/from"));
        assert_eq!(at(place(0.0, 0.0, Some(("R1", "R9")), 0.0)).as_deref(), Some("/from"));
        assert_eq!(at(place(f64::NAN, 0.0, None, 0.0)).as_deref(), Some("/x_m"));
        assert_eq!(at(place(1.0, 0.0, None, 1e9)).as_deref(), Some("/raise_mm"));
    }
}
