//! Setting out and measuring up: `set-out`, `levels`, `arc`, `volume`.

use std::path::Path;

use fairfall_core::ground::{Grid, Spots};
use fairfall_core::levels::{LevelBook, Reduction};
use fairfall_core::outline::{ChordArc, Offset};
use fairfall_core::plan::{Plan, set_out as set_out_json};
use fairfall_core::units::{Length, Level};
use serde_json::{Value, json};

use crate::outcome::{Outcome, Trouble, table};
use crate::plan::{read_table, read_text};

/// Pins, strings, marks, arc offsets, template ordinates and diagonals of a plan.
pub fn set_out(path: &Path) -> Result<Outcome, Trouble> {
    let plan = Plan::parse(&read_text(path)?)?;
    let json = set_out_json(&plan);
    let number = |row: &Value, key: &str| row.get(key).and_then(Value::as_f64).unwrap_or_default();
    let name =
        |row: &Value, key: &str| row.get(key).and_then(Value::as_str).unwrap_or("–").to_owned();
    let rows = |key: &str| json.get(key).and_then(Value::as_array).cloned().unwrap_or_default();
    let mut text = format!("{}\n\nPins, from the reference edge's start\n", plan.title);
    let pins: Vec<[String; 2]> = rows("pins")
        .iter()
        .map(|p| {
            let mark = p.get("mark").cloned().unwrap_or_default();
            let line = format!(
                "x {:7.3} m  y {:7.3} m  mark {:4.0} mm {}  dig {:4.0} mm",
                number(p, "x_m"),
                number(p, "y_m"),
                number(&mark, "mm"),
                name(&mark, "word"),
                number(p, "dig_mm"),
            );
            [name(p, "name"), line]
        })
        .collect();
    text.push_str(&table(&pins));
    for (key, title) in [("strings", "Strings"), ("diagonals", "Diagonals")] {
        let lines: Vec<[String; 2]> = rows(key)
            .iter()
            .map(|s| {
                let ends = format!("{}–{}", name(s, "from"), name(s, "to"));
                [ends, format!("{:.3} m", number(s, "length_m"))]
            })
            .collect();
        text.push_str(&format!("\n{title}\n{}", table(&lines)));
    }
    for arc in rows("arcs") {
        let centre = |key: &str| arc.get("centre").map(|c| number(c, key)).unwrap_or_default();
        text.push_str(&format!(
            "\nArc {}–{}: radius {:.3} m, chord {:.3} m, rise {:.0} mm, centre x {:.3} y {:.3} m\n",
            name(&arc, "from"),
            name(&arc, "to"),
            number(&arc, "radius_m"),
            number(&arc, "chord_m"),
            number(&arc, "mid_ordinate_mm"),
            centre("x_m"),
            centre("y_m"),
        ));
        for o in arc.get("offsets").and_then(Value::as_array).into_iter().flatten() {
            let (at, mm) = (number(o, "at_m"), number(o, "mm"));
            text.push_str(&format!("  {at:.3} m from the middle  {mm:.0} mm\n"));
        }
    }
    for template in rows("templates") {
        text.push_str(&format!(
            "\nTemplate on a board of {:.1} m: radius {:.3} m\n",
            number(&template, "board_m"),
            number(&template, "radius_m"),
        ));
        let ordinates = |key: &str| template.get(key).and_then(Value::as_array).cloned();
        let (inside, outside) = (ordinates("inside"), ordinates("outside"));
        for (inside, outside) in inside.iter().flatten().zip(outside.iter().flatten()) {
            text.push_str(&format!(
                "  {:.3} m from the middle  from the chord {:.0} mm  from the tangent {:.0} mm\n",
                number(inside, "at_m"),
                number(inside, "mm"),
                number(outside, "mm"),
            ));
        }
    }
    Ok(Outcome::done(json, text))
}

/// Reduces a level book.
pub fn levels(path: &Path, start: f64, close: Option<f64>) -> Result<Outcome, Trouble> {
    let book = LevelBook::parse(&read_table(path)?)?;
    let level = |name: &str, metres: f64| {
        Level::new(metres).map_err(|_| Trouble::input(name, "this is no level", "metres"))
    };
    let close = close.map(|metres| level("--close", metres)).transpose()?;
    let reduction = book.reduce(level("--start", start)?, close);
    if !reduction.agrees() {
        return Err(Trouble::Machine("the two methods of reduction differ".to_owned()));
    }
    let json = json!({
        "rows": reduction.rows.iter().map(|row| json!({
            "point": row.point,
            "reduced_m": row.reduced.to_m(),
            "adjusted_m": row.adjusted.map(Level::to_m),
        })).collect::<Vec<_>>(),
        "sum_bs": reduction.sum_back.to_m(),
        "sum_fs": reduction.sum_fore.to_m(),
        "rise": reduction.rise.to_m(),
        "fall": reduction.fall.to_m(),
        "setups": reduction.setups,
        "misclosure_m": reduction.misclosure.map(Length::to_m),
        "allowed_m": reduction.allowed.to_m(),
        "accepted": reduction.accepted,
        "read_as": book.writing,
    });
    let attention = !reduction.accepted;
    Ok(Outcome { json: Some(json), text: levels_for_people(&reduction), attention })
}

fn levels_for_people(reduction: &Reduction) -> String {
    let rows: Vec<[String; 2]> = reduction
        .rows
        .iter()
        .map(|row| {
            let adjusted =
                row.adjusted.map_or(String::new(), |l| format!("  adjusted {:.3}", l.to_m()));
            [row.point.clone(), format!("{:.3}{adjusted}", row.reduced.to_m())]
        })
        .collect();
    let closing = match reduction.misclosure {
        None => "not closed on a known level".to_owned(),
        Some(m) => {
            let verdict = if reduction.accepted {
                "accepted, shared equally over the set-ups"
            } else {
                "more than is allowed: no adjusted levels; level it again"
            };
            let side = if m < Length::ZERO { "low" } else { "high" };
            format!(
                "closes {side} by {:.0} mm; allowed {:.1} mm over {} set-ups: {verdict}",
                m.to_mm().abs(),
                reduction.allowed.to_mm(),
                reduction.setups
            )
        }
    };
    format!(
        "{}\nback sights {:.3}, fore sights {:.3}, rises {:.3}, falls {:.3}\n{closing}\n",
        table(&rows),
        reduction.sum_back.to_m(),
        reduction.sum_fore.to_m(),
        reduction.rise.to_m(),
        reduction.fall.to_m()
    )
}

/// Offsets of an arc from its long chord and from its tangent.
pub fn arc(radius: f64, chord: f64, every: f64) -> Result<Outcome, Trouble> {
    if !(every > 0.0 && chord / every <= 10_000.0) {
        return Err(Trouble::input("--every", "this is no spacing", "metres above 0"));
    }
    let arc = ChordArc::new(Length::from_m(radius), Length::from_m(chord)).map_err(|error| {
        let right = "a radius above 0, and a chord of at most twice the radius";
        Trouble::input("--chord", error.to_string(), right)
    })?;
    let every = Length::from_m(every);
    let rows = |offsets: &[Offset]| {
        let row = |o: &Offset| json!({ "x_m": o.at.to_m(), "y_m": o.offset.to_m() });
        offsets.iter().map(row).collect::<Vec<_>>()
    };
    let (from_chord, from_tangent) = (arc.from_chord(every), arc.from_tangent(every));
    let json = json!({
        "radius_m": radius,
        "chord_m": chord,
        "mid_ordinate_m": arc.mid_ordinate().to_m(),
        "from_chord": rows(&from_chord),
        "from_tangent": rows(&from_tangent),
    });
    let list = |offsets: &[Offset]| {
        let line = |o: &Offset| format!("  {:8.3} m  {:8.3} m\n", o.at.to_m(), o.offset.to_m());
        offsets.iter().map(line).collect::<String>()
    };
    let text = format!(
        "rise {:.3} m\n\nFrom the middle of the chord, square to it\n{}\nFrom the tangent point, \
         square to the tangent\n{}",
        arc.mid_ordinate().to_m(),
        list(&from_chord),
        list(&from_tangent)
    );
    Ok(Outcome::done(json, text))
}

/// Dig and fill volumes between spot levels and a formation.
pub fn volume(
    path: &Path,
    formation: f64,
    grid: bool,
    cell: Option<[f64; 2]>,
) -> Result<Outcome, Trouble> {
    let text = read_table(path)?;
    let formation = Level::new(formation)
        .map_err(|_| Trouble::input("--formation", "this is no level", "metres"))?;
    if grid {
        let cell = cell.ok_or_else(|| {
            Trouble::input("--cell-m", "a grid has cells of a size", "--cell-m A,B in metres")
        })?;
        let grid = Grid::parse(&text, cell.map(Length::from_m))?;
        let volume = grid.volume(formation);
        let json = json!({
            "cut_m3": null,
            "fill_m3": null,
            "net_m3": volume.net.to_m3(),
            "plan_area_m2": volume.area.to_m2(),
            "cells": volume.cells,
            "method": "grid",
            "read_as": grid.writing,
        });
        let text = format!(
            "net {:.3} m³ over {:.2} m² in {} cells, by the grid method, which gives the net only\n",
            volume.net.to_m3(),
            volume.area.to_m2(),
            volume.cells
        );
        return Ok(Outcome::done(json, text));
    }
    let spots = Spots::parse(&text)?;
    let volume = spots.volume(formation);
    let net = volume.cut - volume.fill;
    let json = json!({
        "cut_m3": volume.cut.to_m3(),
        "fill_m3": volume.fill.to_m3(),
        "net_m3": net.to_m3(),
        "plan_area_m2": volume.area.to_m2(),
        "triangles": spots.triangles(),
        "method": "triangulation",
        "read_as": spots.writing,
    });
    let text = format!(
        "dig {:.3} m³, fill {:.3} m³, over {:.2} m² in {} triangles\n",
        volume.cut.to_m3(),
        volume.fill.to_m3(),
        volume.area.to_m2(),
        spots.triangles()
    );
    Ok(Outcome::done(json, text))
}
