//! Dips in words, by day, and drawn by layer.

use fairfall_core::api::views::DipView;
use fairfall_core::buildup::Layer;
use fairfall_core::levels::Word;
use fairfall_core::record::{Record, RecordLayer};
use serde::Serialize;

use super::layers;
use crate::drawing::{self, Figure};
use crate::words;

/// Space between two small plans side by side, in millimetres, as in the template.
const GAP: f64 = 6.0;

/// How high a small plan may stand.
const SMALL_HEIGHT: f64 = 78.0;

/// Dips taken one after the other on one day by one person.
#[derive(Debug, Serialize)]
pub(super) struct DipDay {
    /// The day and who took them.
    heading: String,
    dips: Vec<DipWords>,
}

/// One dip.
#[derive(Debug, Serialize)]
struct DipWords {
    at: String,
    layer: String,
    string: String,
    along: String,
    raise: String,
    target: String,
    reading: String,
    result: String,
    out: bool,
}

/// The places of one layer's dips.
#[derive(Debug, Serialize)]
pub(super) struct DipPlan {
    name: String,
    words: String,
    /// Its thickness over the whole paving, or why there is none.
    thickness: String,
    pub(super) drawing: Figure,
}

/// The dips of a layer or lift.
pub(super) fn of_layer(record: &Record, layer: Layer, lift: Option<u32>) -> Vec<&DipView> {
    record.dips.iter().filter(|dip| dip.layer == layer && lift_of(record, dip) == lift).collect()
}

/// The lift that a dip is of: one that names none is of the sub-base's finished top.
fn lift_of(record: &Record, dip: &DipView) -> Option<u32> {
    let top = || {
        let rows = record.layers.iter().filter(|row| row.layer == dip.layer);
        rows.filter_map(|row| row.lift).max()
    };
    dip.lift.or_else(top)
}

/// A small plan for every layer under the surface that has dips. The surface's own dips stand on
/// the large plan.
pub(super) fn plans(record: &Record, column_mm: f64) -> Vec<DipPlan> {
    let width = (column_mm - GAP) / 2.0;
    let hidden = record.layers.iter().filter(|row| match row.layer {
        Layer::Formation | Layer::SubBase | Layer::Bed => true,
        Layer::Surface => false,
    });
    hidden
        .enumerate()
        .filter_map(|(index, row)| {
            let dips = of_layer(record, row.layer, row.lift);
            let file = format!("dips-{index}.svg");
            let drawing = drawing::dips_plan(
                &record.drawing,
                &dips,
                row.thickness.as_ref(),
                &file,
                width,
                SMALL_HEIGHT,
            )?;
            let out = match row.out {
                0 => "none outside the stated tolerance".to_owned(),
                some => format!("{some} outside the stated tolerance"),
            };
            let words = format!("{}, {out}", words::count(row.dips, "dip", "dips"));
            let thickness = thickness(row);
            Some(DipPlan { name: row.name.clone(), words, thickness, drawing })
        })
        .collect()
}

/// The thickness of a layer over the whole paving, in words.
fn thickness(row: &RecordLayer) -> String {
    if row.design_mm.is_none() {
        return "A surface, no thickness".to_owned();
    }
    let Some(thickness) = &row.thickness else {
        return "Thickness: too few dips to draw it from".to_owned();
    };
    let over = &thickness.over_mm;
    let [least, mean, greatest] = [over.least, over.mean, over.greatest].map(words::mm);
    let mut text =
        format!("Thickness over the area: least {least}, mean {mean}, greatest {greatest} mm");
    // Less than a tenth of a block is no area to speak of.
    if thickness.thin_m2 >= 0.005 {
        let (area, limit) = (words::metres(thickness.thin_m2), words::mm(thickness.limit_mm));
        text.push_str(&format!("; hatched, {area} m² under {limit} mm"));
    }
    text
}

/// What the small plans have in common, in words.
pub(super) fn plans_explained(record: &Record, plans: &[DipPlan]) -> String {
    let any_thickness = record.layers.iter().any(|row| row.thickness.is_some());
    let scale = plans.first().map(|plan| plan.drawing.scale.as_str()).unwrap_or_default();
    let mut text = format!(
        "Scale {scale}. Millimetres against the design. A ring and heavy type: outside the stated \
         tolerance."
    );
    if any_thickness {
        text.push_str(
            " Lines: one thickness, in millimetres, taken as straight between the dips of the layer \
             and of the one below; none beyond the outermost dips. Hatched: too thin.",
        );
    }
    text
}

/// Every dip in the order they were taken, under its day and who took it.
pub(super) fn days(record: &Record) -> Vec<DipDay> {
    let mut days: Vec<DipDay> = Vec::new();
    for dip in &record.dips {
        let day = words::day(&dip.at);
        let heading = match dip.who.trim() {
            "" => day,
            who => format!("{day}, taken by {who}"),
        };
        let words = in_words(record, dip);
        match days.last_mut() {
            Some(last) if last.heading == heading => last.dips.push(words),
            Some(_) | None => days.push(DipDay { heading, dips: vec![words] }),
        }
    }
    days
}

fn in_words(record: &Record, dip: &DipView) -> DipWords {
    let again = if dip.superseded { ", taken again later" } else { "" };
    DipWords {
        at: words::hour(&dip.at),
        layer: layers::name(record, dip.layer, lift_of(record, dip)),
        string: format!("{} to {}{again}", dip.from, dip.to),
        along: words::metres(dip.at_m),
        raise: words::mm(dip.raise_mm),
        target: words::mm(dip.target_mm),
        reading: words::mm(dip.reading_mm),
        result: words::high_or_low(dip.high_mm),
        out: match dip.word {
            Word::High | Word::Low => true,
            Word::Right => false,
        },
    }
}

/// How to read the table of dips.
pub(super) fn explained(record: &Record) -> String {
    let mut text = "A dip is measured down from a string between two pins, at a distance from the \
                    first of them. Raised, should, read and result are in millimetres. Heavy type: \
                    outside the stated tolerance."
        .to_owned();
    if record.dips.iter().any(|dip| dip.superseded) {
        text.push_str(" Where a dip was taken again at its place, the later one counts.");
    }
    text
}
