//! The section: what is under the surface, as built, its depth drawn larger than its width.

use fairfall_core::api::views::{LayerState, Section, SectionLayer};
use fairfall_core::buildup::Layer;

use super::figure::Figure;
use super::material::Body;
use super::scale;
use super::section_parts::SectionSheet;
use super::shape::spot;
use crate::words;

/// Room left of the paving for the design dimensions and the ground.
const LEFT: f64 = 32.0;
/// Room right of the paving for the measured dimensions.
const RIGHT: f64 = 41.0;
/// Room above the surface for the fall and the headings.
const ABOVE: f64 = 10.5;
/// Room under the formation for the ground.
const BELOW: f64 = 8.0;
/// How deep the layers and the fall together may be drawn.
const DEEPEST: f64 = 70.0;

/// What a section tells on its right.
#[derive(Debug, Clone, Copy)]
pub(crate) enum Told<'a> {
    /// Of work begun: how thick each layer was measured, on average.
    Measured,
    /// Of work to come: how far the top of each layer, and at last the formation, lies under the
    /// finished surface, in millimetres.
    Depths(&'a [f64]),
}

/// One layer as it will be drawn.
#[derive(Debug, Clone)]
pub(super) struct Drawn<'a> {
    pub(super) layer: &'a SectionLayer,
    /// Whether it is drawn as it will be.
    pub(super) to_come: bool,
    /// What it is called.
    pub(super) name: String,
    /// Its body on the sheet, as thick as measured, else as designed.
    pub(super) body: Body,
    /// Depth of its top and bottom under the surface on the sheet, by design.
    pub(super) design: (f64, f64),
}

impl Drawn<'_> {
    /// How far it has come. A layer that was measured is there, whatever its stage says.
    pub(super) fn state(&self) -> LayerState {
        if self.to_come {
            return LayerState::Done;
        }
        match (self.layer.state, self.layer.measured_mm) {
            (LayerState::Planned, Some(_)) => LayerState::InWork,
            (state, _) => state,
        }
    }
}

/// The section through the layers. None where the record holds no layer with a thickness.
///
/// `name` gives a layer its words, as the tables of the same paper call it.
pub(crate) fn section(
    section: &Section,
    name: impl Fn(Layer, Option<u32>) -> String,
    width_mm: f64,
    told: Told<'_>,
) -> Option<Figure> {
    let layers: Vec<&SectionLayer> =
        section.layers.iter().filter(|layer| thickness(layer) > 0.0).collect();
    let real_depth: f64 = layers.iter().map(|layer| thickness(layer).max(layer.thickness_mm)).sum();
    let real_drop = if section.drop_mm.is_finite() { section.drop_mm } else { 0.0 };
    let across = scale::fitting(section.width_m * 1000.0, width_mm - LEFT - RIGHT)?;
    let down = scale::fitting(real_depth + real_drop.abs(), DEEPEST)?;
    let width = section.width_m * 1000.0 / across;
    let left = LEFT + (width_mm - LEFT - RIGHT - width) / 2.0;
    let drop = real_drop / down;
    let ground = finite(section.ground_above_finished_mm) / down;
    // A surface that falls to the left starts lower; ground that stands high needs room too.
    let top = ABOVE + (-drop).max(0.0) + (ground.clamp(0.0, 30.0) - 4.0).max(0.0);
    let surface = Body { top_left: spot(left, top), width, drop, thickness: 0.0 };
    let to_come = matches!(told, Told::Depths(_));
    let drawn = stack(&layers, &name, &surface, down, to_come);
    let depth: f64 = drawn.iter().map(|d| d.body.thickness).sum();
    let height = top + depth + drop.max(0.0) + BELOW;

    let mut sheet = SectionSheet::new(surface, depth);
    sheet.ground(ground);
    for layer in &drawn {
        sheet.layer(layer);
    }
    sheet.formation(name(Layer::Formation, None));
    sheet.fall(section);
    sheet.design_chain(&drawn);
    match told {
        Told::Measured => sheet.measured_chain(&drawn),
        Told::Depths(depths) => sheet.depths_chain(&drawn, depths),
    }
    let (pen, labels) = sheet.finish();
    Some(Figure {
        width_mm,
        height_mm: height,
        svg: pen.finish(width_mm, height),
        file: "section.svg".to_owned(),
        labels,
        alt: describe(section, &drawn, told),
        scale: scale::written(across),
        notes: notes(&drawn, across, down, told),
    })
}

/// How thick a layer is drawn, in real millimetres: as measured, else as designed.
fn thickness(layer: &SectionLayer) -> f64 {
    finite(layer.measured_mm.unwrap_or(layer.thickness_mm)).max(0.0)
}

fn finite(value: f64) -> f64 {
    if value.is_finite() { value } else { 0.0 }
}

/// Puts the layers under each other, from the surface down.
fn stack<'a>(
    layers: &[&'a SectionLayer],
    name: impl Fn(Layer, Option<u32>) -> String,
    surface: &Body,
    down: f64,
    to_come: bool,
) -> Vec<Drawn<'a>> {
    let (mut built, mut designed) = (0.0, 0.0);
    let mut drawn = Vec::new();
    for layer in layers {
        let thick = thickness(layer) / down;
        let design = finite(layer.thickness_mm).max(0.0) / down;
        drawn.push(Drawn {
            layer,
            to_come,
            name: name(layer.layer, layer.lift),
            body: surface.below(built, thick),
            design: (designed, designed + design),
        });
        built += thick;
        designed += design;
    }
    drawn
}

/// Scales and conventions.
fn notes(drawn: &[Drawn<'_>], across: f64, down: f64, told: Told<'_>) -> Vec<String> {
    let figures = match told {
        Told::Measured => {
            "Thicknesses in millimetres. Layers are drawn as thick as measured, or as designed where \
             not measured."
        }
        Told::Depths(_) => {
            "Millimetres: thickness of each layer on the left, depth under the finished surface on \
             the right. A raised string adds its raise to every depth."
        }
    };
    let mut notes = vec![format!(
        "Scale {} across and {} in depth. {figures} Hatching shows the material, not the size of \
         its pieces; edge restraints are not drawn.",
        scale::written(across),
        scale::written(down)
    )];
    if drawn.iter().any(|d| d.state() == LayerState::Planned) {
        notes.push("A dashed layer is planned and not built yet.".to_owned());
    }
    notes
}

/// The section in words.
fn describe(section: &Section, drawn: &[Drawn<'_>], told: Told<'_>) -> String {
    let layers: Vec<String> = drawn
        .iter()
        .map(|d| {
            let state = match d.state() {
                LayerState::Planned => ", not built yet",
                LayerState::InWork => ", in work",
                LayerState::Done => "",
            };
            let measured = match (told, d.layer.measured_mm) {
                (Told::Depths(_), _) => String::new(),
                (Told::Measured, None) => format!(", {}", words::NOT_MEASURED),
                (Told::Measured, Some(mm)) => format!(", measured mean {} mm", words::mm(mm)),
            };
            format!("{}: design {} mm{measured}{state}", d.name, words::mm(d.layer.thickness_mm))
        })
        .collect();
    let fall = match section.crossfall_one_in {
        Some(one_in) => format!(
            " The surface falls 1 in {} away from the edge that the plan is set out from, {} mm \
             over {} m.",
            words::whole(one_in, 0),
            words::mm(section.drop_mm.abs()),
            words::metres(section.width_m)
        ),
        None => " The surface has no crossfall.".to_owned(),
    };
    format!("Section through the paving, from the top down. {}.{fall}", layers.join("; "))
}
