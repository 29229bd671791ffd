//! The plan view: what was built, seen from above.

use fairfall_core::api::views::{DipView, Drawing};
use fairfall_core::record::ThicknessDrawn;

use super::figure::{Anchor, Figure, Label};
use super::lettering::Room;
use super::pen::{CHAIN, DASHED, Fill, HEAVY, MEDIUM, Pen, THIN};
use super::plan_parts::{PlanSheet, cross, is_out};
use super::scale;
use super::shape::{Spot, spot};
use super::view::View;
use crate::typeface::FACES;
use crate::words;

/// Margin round the plan for dimensions and names, in millimetres.
const MARGIN: f64 = 11.2;

/// Height of the strip under the plan for scale and key, in millimetres.
const STRIP: f64 = 9.0;

/// The plan with dimensions, pins, strings and the dips of the finished surface. None where the
/// record has no outline.
pub(crate) fn plan(
    drawing: &Drawing,
    dips: &[&DipView],
    width_mm: f64,
    most_height_mm: f64,
) -> Option<Figure> {
    let mut sheet = begin(drawing, view(drawing, (width_mm, most_height_mm - STRIP))?, width_mm)?;
    let holes: Vec<Vec<Spot>> = drawing.holes.iter().map(|h| sheet.view.places(h)).collect();
    let dig = sheet.view.places(&drawing.dig);
    sheet.pen.ring(&dig, DASHED);
    let rings = std::iter::once(sheet.outline.as_slice()).chain(holes.iter().map(Vec::as_slice));
    sheet.pen.shapes(rings, Fill::Paper, Some(MEDIUM));
    let edge = sheet.view.places(&drawing.edge);
    sheet.pen.line(&edge, HEAVY);
    sheet.keep_edges(&holes);
    for string in &drawing.strings {
        let place = |name: &str| {
            let pin = drawing.pins.iter().find(|pin| pin.name == name)?;
            Some(sheet.view.place([pin.x_m, pin.y_m]))
        };
        if let (Some(from), Some(to)) = (place(&string.from), place(&string.to)) {
            sheet.string(from, to);
        }
    }
    for side in &drawing.dimensions {
        sheet.dimension(side);
    }
    for pin in &drawing.pins {
        sheet.pin(pin);
    }
    sheet.dips(dips, 6.5);
    let height_mm = sheet.view.height_mm + STRIP;
    let keyed = [
        (!drawing.pins.is_empty(), Key::Pin, "pin"),
        (!drawing.strings.is_empty(), Key::String, "string"),
        (!drawing.dig.is_empty(), Key::Dig, "edge of the dig"),
        (!dips.is_empty(), Key::Dip, "dip on the surface, mm"),
    ];
    strip(&mut sheet, width_mm, &keyed);
    let alt = describe(drawing, dips, sheet.view.scale);
    Some(Figure {
        width_mm,
        height_mm,
        svg: sheet.pen.finish(width_mm, height_mm),
        file: "plan.svg".to_owned(),
        labels: sheet.labels,
        alt,
        scale: scale::written(sheet.view.scale),
        notes: vec![format!(
            "Scale {}. Lengths in metres. The heavy line is the edge that the plan is set out \
             from.",
            scale::written(sheet.view.scale)
        )],
    })
}

/// A small plan with nothing on it but one layer: its dips, and its thickness where that is known.
/// None where there is no outline or no dip.
pub(crate) fn dips_plan(
    drawing: &Drawing,
    dips: &[&DipView],
    thickness: Option<&ThicknessDrawn>,
    file: &str,
    width_mm: f64,
    most_height_mm: f64,
) -> Option<Figure> {
    if dips.is_empty() {
        return None;
    }
    let view = View::fitting(&drawing.outline, (width_mm, most_height_mm), 2.5, scale::close)?;
    let mut sheet = begin(drawing, view, width_mm)?;
    let holes: Vec<Vec<Spot>> = drawing.holes.iter().map(|h| sheet.view.places(h)).collect();
    if let Some(thickness) = thickness {
        sheet.thin(&thickness.thin);
        sheet.contours(&thickness.contours);
    }
    // What stands in a hole is no layer: it is drawn over the lines.
    sheet.pen.shapes(holes.iter().map(Vec::as_slice), Fill::Paper, Some(THIN));
    sheet.pen.ring(&sheet.outline, THIN);
    let edge = sheet.view.places(&drawing.edge);
    sheet.pen.line(&edge, MEDIUM);
    sheet.keep_edges(&holes);
    sheet.dips(dips, 6.5);
    if let Some(thickness) = thickness {
        sheet.contour_names(&thickness.contours);
    }
    let height_mm = sheet.view.height_mm;
    Some(Figure {
        width_mm,
        height_mm,
        svg: sheet.pen.finish(width_mm, height_mm),
        file: file.to_owned(),
        labels: sheet.labels,
        alt: format!(
            "Plan of the places of these dips. {}{}",
            dips_in_words(dips),
            thickness.map(thickness_in_words).unwrap_or_default()
        ),
        scale: scale::written(sheet.view.scale),
        notes: Vec::new(),
    })
}

/// The view of the plan: as large as the outline allows, if the edge of the dig keeps within the
/// margin; else as large as both allow.
fn view(drawing: &Drawing, sheet: (f64, f64)) -> Option<View> {
    let view = View::fitting(&drawing.outline, sheet, MARGIN, scale::fitting)?;
    let on_sheet = |place: Spot| {
        place.x > 1.0 && place.x < sheet.0 - 1.0 && place.y > 1.0 && place.y < view.height_mm - 1.0
    };
    if view.places(&drawing.dig).into_iter().all(on_sheet) {
        return Some(view);
    }
    let both: Vec<[f64; 2]> = drawing.outline.iter().chain(&drawing.dig).copied().collect();
    View::fitting(&both, sheet, MARGIN, scale::fitting)
}

/// An empty sheet with the outline in view. None where there is no outline.
fn begin(drawing: &Drawing, view: View, width_mm: f64) -> Option<PlanSheet> {
    (drawing.outline.len() >= 3).then(|| PlanSheet {
        view,
        pen: Pen::default(),
        room: Room::new(width_mm, view.height_mm),
        labels: Vec::new(),
        outline: view.places(&drawing.outline),
    })
}

/// A sign that the key explains.
#[derive(Debug, Clone, Copy)]
enum Key {
    Pin,
    String,
    Dig,
    Dip,
}

/// The strip under the plan: the scale bar, and a key to the signs that are on it.
fn strip(sheet: &mut PlanSheet, width_mm: f64, keyed: &[(bool, Key, &str)]) {
    let line = sheet.view.height_mm + STRIP - 2.6;
    let start = spot(0.4, line - 0.55);
    let bar_end = scale::bar(&mut sheet.pen, &mut sheet.labels, start, sheet.view.scale);
    let shown = || keyed.iter().filter(|(there, _, _)| *there).map(|(_, key, name)| (*key, *name));
    let sign = |key: Key| match key {
        Key::Pin | Key::Dip => 1.6,
        Key::String | Key::Dig => 9.0,
    };
    let width = |key: Key, name: &str| sign(key) + 1.3 + FACES.width_mm(name, 7.0) + 4.5;
    let whole: f64 = shown().map(|(key, name)| width(key, name)).sum();
    let mut left = (width_mm - whole + 4.5).max(bar_end);
    for (key, name) in shown() {
        let (a, b) = (spot(left, line), spot(left + sign(key), line));
        let middle = a.middle(b);
        match key {
            Key::Pin => sheet.pen.dot(middle, 0.75),
            Key::String => sheet.pen.line(&[a, b], CHAIN),
            Key::Dig => sheet.pen.line(&[a, b], DASHED),
            Key::Dip => cross(&mut sheet.pen, middle, THIN),
        }
        sheet.labels.push(Label::new(b.x + 1.3, line, 7.0, name).at(Anchor::Left));
        left += width(key, name);
    }
}

/// The plan in words.
fn describe(drawing: &Drawing, dips: &[&DipView], scale: f64) -> String {
    let sides: Vec<String> = drawing
        .dimensions
        .iter()
        .map(|side| match side.radius_m {
            Some(radius) => format!(
                "{} m along an arc of radius {} m",
                words::metres(side.length_m),
                words::metres(radius)
            ),
            None => format!("{} m straight", words::metres(side.length_m)),
        })
        .collect();
    let mut text = format!("Plan of the paving at a scale of {}.", scale::written(scale));
    if !sides.is_empty() {
        text.push_str(&format!(" Sides in order: {}.", sides.join("; ")));
    }
    if !drawing.pins.is_empty() {
        let names: Vec<&str> = drawing.pins.iter().map(|pin| pin.name.as_str()).collect();
        text.push_str(&format!(" Pins in walking order: {}.", names.join(", ")));
    }
    if !dips.is_empty() {
        text.push_str(&format!(" On the finished surface: {}", dips_in_words(dips)));
    }
    text
}

/// What the lines say, in words.
fn thickness_in_words(thickness: &ThicknessDrawn) -> String {
    let over = &thickness.over_mm;
    let [least, mean, greatest] = [over.least, over.mean, over.greatest].map(words::mm);
    let lines: Vec<String> = thickness.contours.iter().map(|line| words::mm(line.mm)).collect();
    let lines = match lines.as_slice() {
        [] => String::new(),
        some => format!(", with lines at {}", some.join(", ")),
    };
    format!(" Thickness between them: least {least}, mean {mean}, greatest {greatest} mm{lines}.")
}

/// Dips one after the other, in words.
fn dips_in_words(dips: &[&DipView]) -> String {
    let all: Vec<String> = dips
        .iter()
        .map(|dip| {
            let out = if is_out(dip) { ", outside the stated tolerance" } else { "" };
            format!(
                "{} m from {} towards {}: {}{out}",
                words::metres(dip.at_m),
                dip.from,
                dip.to,
                words::high_or_low(dip.high_mm)
            )
        })
        .collect();
    format!("{}.", all.join("; "))
}
