//! Layers, passes and surface levels in words.

use fairfall_core::buildup::Layer;
use fairfall_core::record::{Record, RecordLayer, RecordPasses, SurfaceLevel};
use serde::Serialize;

use crate::words::{self, LevelWords, NOT_MEASURED};

/// A row of the table of layers.
#[derive(Debug, Serialize)]
#[serde(rename_all = "kebab-case")]
pub(super) struct LayerWords {
    name: String,
    material: String,
    /// None for the formation, which is a surface.
    design: Option<String>,
    /// Least, mean, greatest and places; none where not measured.
    measured: Option<[String; 4]>,
    /// What stands where there is no figure.
    thickness: &'static str,
    tolerance: String,
    dips: String,
    out: String,
    any_out: bool,
}

/// A row of the table of passes.
#[derive(Debug, Serialize)]
pub(super) struct PassWords {
    layer: String,
    plant: String,
    done: String,
    wanted: String,
    when: String,
    last: &'static str,
}

/// The surface at a pin.
#[derive(Debug, Serialize)]
pub(super) struct SurfaceWords {
    pin: String,
    design: LevelWords,
    measured: LevelWords,
}

/// What a layer or lift is called in this record.
pub(super) fn name(record: &Record, layer: Layer, lift: Option<u32>) -> String {
    let named = record.layers.iter().find(|row| row.layer == layer && row.lift == lift);
    if let Some(row) = named {
        return row.name.clone();
    }
    match (layer, lift) {
        (Layer::Formation, _) => "Formation".to_owned(),
        (Layer::SubBase, Some(lift)) => format!("Sub-base, lift {lift}"),
        (Layer::SubBase, None) => "Sub-base".to_owned(),
        (Layer::Bed, _) => "Laying course".to_owned(),
        (Layer::Surface, _) => "Blocks".to_owned(),
    }
}

/// Every layer from the formation up.
pub(super) fn layers(record: &Record) -> Vec<LayerWords> {
    record.layers.iter().map(layer).collect()
}

fn layer(row: &RecordLayer) -> LayerWords {
    let measured = row.measured_mm.map(|spread| {
        [
            words::mm(spread.least),
            words::mm(spread.mean),
            words::mm(spread.greatest),
            row.measured_places.to_string(),
        ]
    });
    LayerWords {
        name: row.name.clone(),
        material: row.material.clone(),
        design: row.design_mm.map(words::mm),
        measured,
        thickness: if row.design_mm.is_none() { "a surface, no thickness" } else { NOT_MEASURED },
        tolerance: words::tolerance(row.high_by_mm, row.low_by_mm),
        dips: row.dips.to_string(),
        out: row.out.to_string(),
        any_out: row.out > 0,
    }
}

/// Where the tolerances come from, a sentence for each source, naming its layers.
pub(super) fn tolerance_sources(record: &Record) -> Vec<String> {
    let mut sources: Vec<(&str, Vec<&str>)> = Vec::new();
    for row in &record.layers {
        let source = row.tolerance_source.trim().trim_end_matches('.');
        if source.is_empty() {
            continue;
        }
        match sources.iter_mut().find(|(known, _)| *known == source) {
            Some((_, names)) => names.push(&row.name),
            None => sources.push((source, vec![&row.name])),
        }
    }
    sources
        .into_iter()
        .map(|(source, names)| {
            format!("Tolerance of {}: {source}.", names.join("; ").to_lowercase())
        })
        .collect()
}

/// Passes by layer and machine.
pub(super) fn passes(record: &Record) -> Vec<PassWords> {
    let of_layer = |row: &RecordLayer| {
        let name = row.name.clone();
        row.passes.iter().map(move |passes| pass(name.clone(), passes)).collect::<Vec<_>>()
    };
    record.layers.iter().flat_map(of_layer).collect()
}

fn pass(layer: String, passes: &RecordPasses) -> PassWords {
    PassWords {
        layer,
        plant: passes.plant.clone(),
        done: passes.done.to_string(),
        wanted: passes.wanted.map_or_else(
            || "no published figure held for this machine".to_owned(),
            |wanted| wanted.to_string(),
        ),
        when: words::span(&passes.first_at, &passes.last_at),
        last: match passes.still_moving {
            Some(true) => "still moving under the plate",
            Some(false) => "nothing moved under the plate",
            None => "movement not said",
        },
    }
}

/// The finished surface at its pins.
pub(super) fn surface(record: &Record) -> Vec<SurfaceWords> {
    let at_pin = |level: &SurfaceLevel| SurfaceWords {
        pin: level.pin.clone(),
        design: words::level(Some(level.design_mm)),
        measured: words::level(level.measured_mm),
    };
    record.surface.iter().map(at_pin).collect()
}
