//! A job as data for other programs: dips and passes as CSV (RFC 4180), shapes as GeoJSON.

use csv::{Terminator, WriterBuilder};
use serde_json::{Value, json};

use crate::api::views::Drawing;
use crate::api::{dip_view, drawing};
use crate::job::JobState;

/// What keeps a table from being written: nothing but a lack of memory.
pub type TableError = csv::Error;

/// Every dip that is not struck, one a row.
///
/// # Errors
/// [`TableError`].
pub fn dips_csv(state: &JobState) -> Result<Vec<u8>, TableError> {
    let head = [
        "entry",
        "at",
        "who",
        "layer",
        "lift",
        "from",
        "to",
        "at_m",
        "x_m",
        "y_m",
        "raise_mm",
        "target_mm",
        "reading_mm",
        "high_mm",
        "word",
        "counts",
    ];
    let rows = state.dips.iter().map(dip_view).map(|dip| {
        vec![
            dip.entry,
            dip.at,
            dip.who,
            name(&dip.layer),
            dip.lift.map(|lift| lift.to_string()).unwrap_or_default(),
            dip.from,
            dip.to,
            figure(dip.at_m),
            figure(dip.x_m),
            figure(dip.y_m),
            figure(dip.raise_mm),
            figure(dip.target_mm),
            figure(dip.reading_mm),
            figure(dip.high_mm),
            name(&dip.word),
            if dip.superseded { "taken again later" } else { "yes" }.to_owned(),
        ]
    });
    table(&head, rows)
}

/// Every pass that is not struck, one a row.
///
/// # Errors
/// [`TableError`].
pub fn passes_csv(state: &JobState) -> Result<Vec<u8>, TableError> {
    let head = ["entry", "at", "who", "layer", "lift", "plant", "still_moving"];
    let rows = state.passes.iter().map(|made| {
        vec![
            made.entry.to_string(),
            made.at.to_rfc3339(),
            made.who.clone(),
            name(&made.pass.layer),
            made.pass.lift.map(|lift| lift.to_string()).unwrap_or_default(),
            made.pass.plant.clone(),
            made.pass.still_moving.map(|moving| moving.to_string()).unwrap_or_default(),
        ]
    });
    table(&head, rows)
}

/// A number to a thousandth, without needless digits.
fn figure(value: f64) -> String {
    let rounded = (value * 1000.0).round() / 1000.0;
    // No minus before nought.
    (rounded + 0.0).to_string()
}

/// The name of a layer or a word as entries write it.
fn name(value: &impl serde::Serialize) -> String {
    match serde_json::to_value(value) {
        Ok(Value::String(name)) => name,
        _ => String::new(),
    }
}

fn table(head: &[&str], rows: impl Iterator<Item = Vec<String>>) -> Result<Vec<u8>, TableError> {
    let mut writer = WriterBuilder::new().terminator(Terminator::CRLF).from_writer(Vec::new());
    writer.write_record(head)?;
    for row in rows {
        writer.write_record(row.iter().map(|cell| safe(cell)))?;
    }
    writer.into_inner().map_err(|error| error.into_error().into())
}

/// A text that a spreadsheet would take for a formula begins with an apostrophe, as spreadsheets
/// themselves mark text; numbers stay numbers.
fn safe(cell: &str) -> String {
    let formula = cell.starts_with(['=', '+', '-', '@', '\t', '\r']);
    if formula && cell.parse::<f64>().is_err() { format!("'{cell}") } else { cell.to_owned() }
}

/// The shapes of a job's plan, its pins, strings and dips as GeoJSON. The places are metres in the
/// job's own frame, not degrees on the Earth as RFC 7946 has them; the file says so.
pub fn geojson(state: &JobState) -> Value {
    let shapes = drawing(&state.plan);
    let mut features = vec![polygon("outline", &shapes.outline, &shapes.holes)];
    features.push(polygon("dig", &shapes.dig, &[]));
    features.push(feature("reference_edge", "LineString", json!(shapes.edge), json!({})));
    features.extend(pins_and_strings(&shapes));
    features.extend(state.dips.iter().map(dip_view).map(|dip| {
        let told = json!({
            "entry": dip.entry, "layer": dip.layer, "lift": dip.lift, "high_mm": dip.high_mm,
            "word": dip.word, "at": dip.at, "superseded": dip.superseded,
        });
        feature("dip", "Point", json!([dip.x_m, dip.y_m]), told)
    }));
    json!({
        "type": "FeatureCollection",
        "title": state.plan.title,
        "frame": "Local metres: x along the reference edge from its start, y to its left. Not \
                  longitude and latitude.",
        "features": features,
    })
}

fn pins_and_strings(shapes: &Drawing) -> Vec<Value> {
    let place = |name: &str| {
        let pin = shapes.pins.iter().find(|pin| pin.name == name);
        pin.map(|pin| json!([pin.x_m, pin.y_m]))
    };
    let pins = shapes.pins.iter().map(|pin| {
        let told = json!({
            "name": pin.name, "finished_mm": pin.finished_mm, "formation_mm": pin.formation_mm,
        });
        feature("pin", "Point", json!([pin.x_m, pin.y_m]), told)
    });
    let strings = shapes.strings.iter().filter_map(|string| {
        let line = json!([place(&string.from)?, place(&string.to)?]);
        let told = json!({ "from": string.from, "to": string.to, "length_m": string.length_m });
        Some(feature("string", "LineString", line, told))
    });
    pins.chain(strings).collect()
}

/// A polygon, its rings closed and the outer one counterclockwise (RFC 7946, 3.1.6).
fn polygon(what: &str, outline: &[[f64; 2]], holes: &[Vec<[f64; 2]>]) -> Value {
    let outer = std::iter::once(ring(outline, true));
    let rings: Vec<_> = outer.chain(holes.iter().map(|hole| ring(hole, false))).collect();
    feature(what, "Polygon", json!(rings), json!({}))
}

fn ring(places: &[[f64; 2]], counterclockwise: bool) -> Vec<[f64; 2]> {
    let mut ring = places.to_vec();
    if ring.first() == ring.last() {
        ring.pop();
    }
    let next = ring.iter().cycle().skip(1);
    let twice: f64 = ring.iter().zip(next).map(|([ax, ay], [bx, by])| ax * by - bx * ay).sum();
    if (twice > 0.0) != counterclockwise {
        ring.reverse();
    }
    ring.extend(ring.first().copied());
    ring
}

fn feature(what: &str, kind: &str, places: Value, mut told: Value) -> Value {
    if let Some(told) = told.as_object_mut() {
        told.insert("what".to_owned(), what.into());
    }
    json!({
        "type": "Feature",
        "geometry": { "type": kind, "coordinates": places },
        "properties": told,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rings_are_closed_and_turn_the_right_way() {
        // RFC 7946, 3.1.6: the first and last positions are equal, outer rings counterclockwise.
        let square = [[0.0, 0.0], [0.0, 1.0], [1.0, 1.0], [1.0, 0.0]];
        let turned = ring(&square, true);
        assert_eq!(turned.first(), turned.last());
        assert_eq!(turned[1], [1.0, 1.0]);
        assert_eq!(ring(&square, false).len(), 5);
        assert_eq!(ring(&square, false)[1], [0.0, 1.0]);
    }

    #[test]
    fn no_cell_is_a_formula() {
        assert_eq!(safe("=1+1"), "'=1+1");
        assert_eq!(safe("-12.5"), "-12.5");
        assert_eq!(safe("Mina, \"the\" layer"), "Mina, \"the\" layer");
    }

    #[test]
    fn figures_have_no_needless_digits() {
        assert_eq!(figure(349.999_999_999_999_94), "350");
        assert_eq!(figure(-0.000_01), "0");
        assert_eq!(figure(0.45), "0.45");
    }
}
