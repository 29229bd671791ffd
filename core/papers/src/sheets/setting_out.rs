//! The setting-out sheet: what a person needs at the pins and strings.

use fairfall_core::record::{Ordinate, PlannedLayer, SetArc, SetPin, SettingOut, Template};
use serde::Serialize;
use typst::foundations::Bytes;

use super::{Head, Prepared};
use crate::drawing::{self, Figure, Tile, Told};
use crate::error::PapersError;
use crate::paper::PaperSize;
use crate::words::{self, LevelWords};

const TEMPLATE: &str = include_str!("../../templates/setting-out.typ");

/// How high the plan may stand: it is what the sheet is for.
const PLAN_HEIGHT: f64 = 158.0;

#[derive(Debug, Serialize)]
#[serde(rename_all = "kebab-case")]
struct Page {
    #[serde(flatten)]
    head: Head,
    place: String,
    by: String,
    plan: Option<Figure>,
    section: Option<Figure>,
    ties_from: Vec<String>,
    pins: Vec<PinWords>,
    /// Whether some place is to be filled, not dug.
    fills: bool,
    strings: Vec<[String; 3]>,
    diagonals: Vec<[String; 3]>,
    arcs: Vec<ArcWords>,
    layers: Vec<LayerWords>,
    templates: Vec<TemplateWords>,
    tiles: Vec<TileWords>,
}

#[derive(Debug, Serialize)]
struct PinWords {
    name: String,
    along: String,
    /// How far off, and to which side.
    off: [String; 2],
    ties: Vec<String>,
    mark: LevelWords,
    formation: LevelWords,
    dig: String,
    fill: bool,
}

#[derive(Debug, Serialize)]
struct ArcWords {
    name: String,
    radius: String,
    chord: String,
    rise: String,
    offsets: Vec<[String; 2]>,
}

#[derive(Debug, Serialize)]
struct LayerWords {
    name: String,
    material: String,
    thickness: String,
    top: String,
    underside: String,
}

#[derive(Debug, Serialize)]
struct TemplateWords {
    radius: String,
    board: String,
    /// Along the board, off the chord, off the tangent.
    rows: Vec<[String; 3]>,
}

#[derive(Debug, Serialize)]
struct TileWords {
    heading: String,
    place: String,
    drawing: Figure,
}

pub(super) fn prepared(
    sheet: &SettingOut,
    templates: bool,
    size: PaperSize,
) -> Result<Prepared, PapersError> {
    let kind = "Setting-out sheet".to_owned();
    let head = Head::new(kind, &sheet.title, &sheet.by, &sheet.made_at, size);
    let depths: Vec<f64> = sheet.layers.iter().map(|layer| layer.top_below_mm).collect();
    let name = |layer, lift| {
        let named = sheet.layers.iter().find(|row| (row.layer, row.lift) == (layer, lift));
        named.map(|row| row.name.clone()).unwrap_or_default()
    };
    let tiles: Vec<Tile> = if templates { all_tiles(&sheet.templates) } else { Vec::new() };
    let column = size.column_mm();
    let page = Page {
        place: words::stated(&sheet.place),
        by: words::stated(&sheet.by),
        plan: drawing::plan(&sheet.drawing, &[], column, PLAN_HEIGHT),
        section: drawing::section(&sheet.section, name, column, Told::Depths(&depths)),
        ties_from: sheet.ties_from.iter().flatten().cloned().collect(),
        pins: sheet.pins.iter().map(pin).collect(),
        fills: sheet.pins.iter().any(|pin| pin.dig_mm < 0.0),
        strings: sheet
            .strings
            .iter()
            .map(|line| {
                let sag = line.sag_mm.map(words::mm).unwrap_or_default();
                [pair(&line.from, &line.to), words::whole(line.length_m, 3), sag]
            })
            .collect(),
        diagonals: sheet
            .diagonals
            .iter()
            .map(|line| [pair(&line.from, &line.to), words::whole(line.length_m, 3), String::new()])
            .collect(),
        arcs: sheet.arcs.iter().map(arc).collect(),
        layers: sheet.layers.iter().map(layer).collect(),
        templates: sheet.templates.iter().map(template).collect(),
        tiles: tiles
            .into_iter()
            .map(|tile| TileWords {
                heading: tile.heading,
                place: tile.place,
                drawing: tile.figure,
            })
            .collect(),
        head,
    };
    let tiles = page.tiles.iter().map(|tile| &tile.drawing);
    let files = page
        .plan
        .iter()
        .chain(&page.section)
        .chain(tiles)
        .map(|figure| (figure.file.clone(), Bytes::from_string(figure.svg.clone())));
    Ok(Prepared {
        template: TEMPLATE,
        files: files.collect(),
        data: serde_json::to_value(&page)?,
        identity: format!("setting-out sheet {} {}", sheet.made_at, sheet.title),
        made_at: sheet.made_at.clone(),
    })
}

fn all_tiles(templates: &[Template]) -> Vec<Tile> {
    let each = templates.iter().enumerate();
    each.flat_map(|(number, template)| drawing::tiles(template, number)).collect()
}

fn pair(from: &str, to: &str) -> String {
    format!("{from} to {to}")
}

fn pin(pin: &SetPin) -> PinWords {
    let ties = pin.ties_m.iter().flatten().map(|tie| words::whole(*tie, 3)).collect();
    PinWords {
        name: pin.name.clone(),
        along: words::whole(pin.x_m, 3),
        off: [words::whole(pin.y_m.abs(), 3), side(pin.y_m).to_owned()],
        ties,
        mark: LevelWords {
            figure: words::mm(pin.mark.mm),
            word: pin.mark.word.replace(" datum", ""),
        },
        formation: words::level(Some(pin.formation_mm)),
        dig: words::mm(pin.dig_mm.abs()),
        fill: pin.dig_mm < 0.0,
    }
}

/// The side that a distance off the first direction is on.
fn side(off_m: f64) -> &'static str {
    match (off_m * 1000.0).round() {
        left if left >= 1.0 => "left",
        right if right <= -1.0 => "right",
        _ => "",
    }
}

fn arc(arc: &SetArc) -> ArcWords {
    let name = match (&arc.from, &arc.to) {
        (Some(from), Some(to)) => pair(from, to),
        (_, _) => "between pins".to_owned(),
    };
    ArcWords {
        name,
        radius: words::whole(arc.radius_m, 3),
        chord: words::whole(arc.chord_m, 3),
        rise: words::mm(arc.mid_ordinate_mm),
        offsets: arc.offsets.iter().map(offset).collect(),
    }
}

fn offset(offset: &Ordinate) -> [String; 2] {
    [words::whole(offset.at_m, 2), words::mm(offset.mm)]
}

fn layer(layer: &PlannedLayer) -> LayerWords {
    let figure = |mm: Option<f64>| mm.map(words::mm).unwrap_or_default();
    LayerWords {
        name: layer.name.clone(),
        material: layer.material.clone(),
        thickness: figure(layer.thickness_mm),
        top: words::mm(layer.top_below_mm),
        underside: figure(layer.underside_below_mm),
    }
}

fn template(template: &Template) -> TemplateWords {
    let rows = template.inside.iter().zip(&template.outside).map(|(inside, outside)| {
        let [along, chord, tangent] = [inside.at_m * 1000.0, inside.mm, outside.mm];
        [words::mm(along), words::whole(chord, 1), words::whole(tangent, 1)]
    });
    TemplateWords {
        radius: words::whole(template.radius_m, 3),
        board: words::whole(template.board_m, 3),
        rows: rows.collect(),
    }
}
