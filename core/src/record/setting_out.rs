//! What a setting-out sheet says, as plain data.

use chrono::{DateTime, FixedOffset};
use serde::{Deserialize, Serialize};
use serde_json::Value;

use super::build::{layer_name, material};
use crate::api::views::{Drawing, Section};
use crate::api::{drawing, section};
use crate::buildup::Layer;
use crate::outline::ChordArc;
use crate::plan::{Plan, set_out};
use crate::units::Length;

/// Places along a template's curve are given at this spacing.
const PROFILE_EVERY: Length = Length::from_mm(10.0);

/// A setting-out sheet.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub struct SettingOut {
    /// The job's title.
    pub title: String,
    /// Where it is; empty where the plan does not say.
    pub place: String,
    /// Who lays it; empty where the plan does not say.
    pub by: String,
    /// When this paper was made, RFC 3339 with offset.
    pub made_at: String,
    /// Plan view.
    pub drawing: Drawing,
    /// Section as planned.
    pub section: Section,
    /// Layers from the blocks down to the formation.
    pub layers: Vec<PlannedLayer>,
    /// Pins in walking order.
    pub pins: Vec<SetPin>,
    /// The two pins that every pin is tied to; none where there are fewer than two.
    pub ties_from: Option<[String; 2]>,
    /// Strings between pins.
    pub strings: Vec<SetLine>,
    /// Diagonals to check by.
    pub diagonals: Vec<SetLine>,
    /// Curves over their chords.
    pub arcs: Vec<SetArc>,
    /// Templates by radius.
    pub templates: Vec<Template>,
}

/// A layer as planned.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub struct PlannedLayer {
    /// Which layer.
    pub layer: Layer,
    /// Which lift of the sub-base.
    pub lift: Option<u32>,
    /// Its name in words.
    pub name: String,
    /// What it is made of, in words.
    pub material: String,
    /// Its thickness; none for the formation, which is a surface.
    pub thickness_mm: Option<f64>,
    /// How far its top lies under the finished surface.
    pub top_below_mm: f64,
    /// How far its underside lies under the finished surface; none for the formation.
    pub underside_below_mm: Option<f64>,
}

/// A pin to set.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub struct SetPin {
    /// Its name.
    pub name: String,
    /// Along the frame's x.
    pub x_m: f64,
    /// Along the frame's y.
    pub y_m: f64,
    /// Finished level here.
    pub finished_mm: f64,
    /// Formation level here.
    pub formation_mm: f64,
    /// How deep to dig here; negative where it is to be filled.
    pub dig_mm: f64,
    /// How far the mark is from the datum.
    pub mark: Mark,
    /// Distances from the two pins that all are tied to.
    #[serde(default)]
    pub ties_m: Option<[f64; 2]>,
}

/// A mark on a pin.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Mark {
    /// How far, without a sign.
    pub mm: f64,
    /// "above datum", "below datum" or "at datum".
    pub word: String,
}

/// A straight line between two pins.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub struct SetLine {
    /// From this pin.
    pub from: String,
    /// To this one.
    pub to: String,
    /// Its length.
    pub length_m: f64,
    /// How far a line pulled tight hangs at its middle; none for a diagonal.
    #[serde(default)]
    pub sag_mm: Option<f64>,
}

/// A curve over a chord.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub struct SetArc {
    /// The pin at the chord's start, where one stands there.
    pub from: Option<String>,
    /// The pin at its end.
    pub to: Option<String>,
    /// Its radius.
    pub radius_m: f64,
    /// Its chord.
    pub chord_m: f64,
    /// Its rise at the middle.
    pub mid_ordinate_mm: f64,
    /// Offsets from the chord, from its middle to its end.
    pub offsets: Vec<Ordinate>,
}

/// An offset square to a line.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Ordinate {
    /// How far along, from the middle.
    pub at_m: f64,
    /// How far off.
    pub mm: f64,
}

/// A template of a radius.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub struct Template {
    /// The radius.
    pub radius_m: f64,
    /// Length of the board.
    pub board_m: f64,
    /// For the board inside the curve: offsets from its straight edge, the chord.
    pub inside: Vec<Ordinate>,
    /// For the board outside the curve: offsets from its straight edge, the tangent.
    pub outside: Vec<Ordinate>,
    /// The curve at its true size, from the middle to its end: along the chord and off it, closely.
    #[serde(default)]
    pub profile_mm: Vec<[f64; 2]>,
}

/// What a setting-out sheet of a plan says. The rows are those of [`set_out`].
///
/// # Errors
/// [`serde_json::Error`] where the rows lack what a sheet needs: a fault of this program.
pub fn setting_out(
    plan: &Plan,
    made_at: DateTime<FixedOffset>,
) -> Result<SettingOut, serde_json::Error> {
    let rows = set_out(plan);
    let row = |key: &str| rows.get(key).cloned().unwrap_or(Value::Array(Vec::new()));
    let mut pins: Vec<SetPin> = serde_json::from_value(row("pins"))?;
    let ties_from = tie(&mut pins);
    let mut templates: Vec<Template> = serde_json::from_value(row("templates"))?;
    for template in &mut templates {
        template.profile_mm = profile(template);
    }
    Ok(SettingOut {
        title: plan.title.clone(),
        place: plan.parties.place.clone(),
        by: plan.parties.by.clone(),
        made_at: made_at.to_rfc3339(),
        drawing: drawing(plan),
        section: section(plan, None),
        layers: layers(plan),
        pins,
        ties_from,
        strings: serde_json::from_value(row("strings"))?,
        diagonals: serde_json::from_value(row("diagonals"))?,
        arcs: serde_json::from_value(row("arcs"))?,
        templates,
    })
}

/// Ties every pin to the first and to the one farthest from it, and names the two.
fn tie(pins: &mut [SetPin]) -> Option<[String; 2]> {
    let apart = |a: [f64; 2], b: [f64; 2]| (a[0] - b[0]).hypot(a[1] - b[1]);
    let place = |pin: &SetPin| [pin.x_m, pin.y_m];
    let (first, others) = pins.split_first()?;
    let from = place(first);
    let far =
        others.iter().max_by(|a, b| apart(from, place(a)).total_cmp(&apart(from, place(b))))?;
    let (names, to) = ([first.name.clone(), far.name.clone()], place(far));
    for pin in pins {
        let here = place(pin);
        pin.ties_m = Some([apart(from, here), apart(to, here)]);
    }
    Some(names)
}

/// The curve of a template, closely: from the middle of the chord to its end.
fn profile(template: &Template) -> Vec<[f64; 2]> {
    let (radius, board) = (Length::from_m(template.radius_m), Length::from_m(template.board_m));
    let Ok(arc) = ChordArc::new(radius, board) else { return Vec::new() };
    arc.from_chord(PROFILE_EVERY).iter().map(|o| [o.at.to_mm(), o.offset.to_mm()]).collect()
}

/// The layers of a plan from the blocks down.
fn layers(plan: &Plan) -> Vec<PlannedLayer> {
    let steps = plan.layers.steps();
    steps
        .into_iter()
        .rev()
        .map(|(layer, lift)| {
            let top = plan.layers.below_finished(layer, lift);
            let solid = layer != Layer::Formation;
            let thick = solid.then(|| plan.layers.thickness(layer, lift));
            PlannedLayer {
                layer,
                lift,
                name: layer_name(layer, lift),
                material: material(plan, layer),
                thickness_mm: thick.map(Length::to_mm),
                top_below_mm: top.to_mm(),
                underside_below_mm: thick.map(|thick| (top + thick).to_mm()),
            }
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use super::*;

    fn sheet() -> SettingOut {
        let plan = json!({
            "fairfall_plan": 1, "title": "t", "use": "foot",
            "outline": { "rectangle": { "length_m": 5, "width_m": 6 } },
            "layers": { "bed_mm": 40, "sub_base_mm": 150 },
        });
        let made = DateTime::parse_from_rfc3339("2026-04-07T08:40:00+01:00").unwrap();
        setting_out(&Plan::read(plan).unwrap(), made).unwrap()
    }

    #[test]
    fn ties_by_hand() {
        // Hand arithmetic: the diagonal of 5 x 6 is 7,810 mm.
        let sheet = sheet();
        let [first, far] = sheet.ties_from.clone().unwrap();
        assert_eq!((first.as_str(), far.as_str()), ("R1", "F3"));
        let of = |name: &str| sheet.pins.iter().find(|p| p.name == name).unwrap().ties_m.unwrap();
        assert_eq!(of("R1")[0], 0.0);
        assert!((of("F3")[0] - 7.8102).abs() < 0.00005);
        assert!((of("R3")[0] - 5.0).abs() < 1e-9 && (of("R3")[1] - 6.0).abs() < 1e-9);
    }

    #[test]
    fn depths_by_hand() {
        // Hand arithmetic: 60 of block, 40 of bed, two lifts of 75 make 250.
        let sheet = sheet();
        let whole = |mm: f64| (mm * 1e6).round() / 1e6;
        let depths: Vec<(f64, Option<f64>)> = sheet
            .layers
            .iter()
            .map(|l| (whole(l.top_below_mm), l.underside_below_mm.map(whole)))
            .collect();
        let wanted = [
            (0.0, Some(60.0)),
            (60.0, Some(100.0)),
            (100.0, Some(175.0)),
            (175.0, Some(250.0)),
            (250.0, None),
        ];
        assert_eq!(depths, wanted);
    }
}
