//! Volumes over spots, grids and sections against scipy and numpy. All are exact for the same
//! triangles, cells or sections, so they agree to a millionth.

use std::fmt::Write as _;

use fairfall_core::ground::{Grid, Spot, Spots, end_areas, prismoidal};
use fairfall_core::units::{Area, Length, Level, Volume};
use serde_json::Value;

use super::{Case, cases, each, exact, list, number};

fn formation(value: &Value) -> Level {
    Level::from_m(number(value, "formation_m"))
}

/// Cut, fill and area over the hull. Cut and fill are millionths of the two together: where nearly
/// all is one of them, the other is a small difference.
fn measured(case: &mut Case, spots: &Spots, formation: Level, expect: &Value) {
    let found = spots.volume(formation);
    let [cut, fill, area] = ["cut_m3", "fill_m3", "plan_area_m2"].map(|key| number(expect, key));
    case.near("cut", found.cut.to_m3(), cut, exact(cut + fill));
    case.near("fill", found.fill.to_m3(), fill, exact(cut + fill));
    case.near("area", found.area.to_m2(), area, exact(area));
}

fn coordinates(row: &Value) -> [f64; 3] {
    serde_json::from_value(row.clone()).expect("three numbers")
}

#[test]
fn cut_and_fill_over_random_spots() {
    each("spots.json", 50, |case| {
        let spots: Vec<Spot> = list(case.value, "spots")
            .iter()
            .map(|row| {
                let [x, y, level] = coordinates(row);
                Spot { x, y, level: Level::from_m(level) }
            })
            .collect();
        let spots = Spots::new(&spots).expect("the spots span a surface");
        measured(case, &spots, formation(case.value), &case.value["expect"]);
    });
}

fn grid(value: &Value) -> Grid {
    let [along, across] = [0, 1].map(|i| value["cell_m"][i].as_f64().expect("a size"));
    let rows = list(value, "rows").iter().map(|row| {
        let cells = row.as_array().expect("a row").iter();
        let cells: Vec<String> = cells
            .map(|cell| cell.as_f64().map_or_else(|| "nan".to_owned(), |z| z.to_string()))
            .collect();
        cells.join(",")
    });
    let text: Vec<String> = rows.collect();
    Grid::parse(&text.join("\n"), [along, across].map(Length::from_m)).expect("a grid")
}

fn netted(case: &mut Case, grid: &Grid, formation: Level, expect: &Value) {
    let found = grid.volume(formation);
    let [net, area] = ["net_m3", "plan_area_m2"].map(|key| number(expect, key));
    case.near("net", found.net.to_m3(), net, exact(net));
    case.near("area", found.area.to_m2(), area, exact(area));
    case.near("cells", found.cells.into(), number(expect, "cells"), 0.0);
}

#[test]
fn net_volumes_of_grids() {
    each("grids.json", 15, |case| {
        let grid = grid(case.value);
        netted(case, &grid, formation(case.value), &case.value["expect"]);
    });
}

#[test]
fn end_areas_and_prismoids() {
    each("sections.json", 15, |case| {
        let spacing = Length::from_m(number(case.value, "spacing_m"));
        let areas: Vec<Area> = list(case.value, "areas_m2")
            .iter()
            .map(|area| Area::from_m2(area.as_f64().expect("an area")))
            .collect();
        let placed: Vec<(Length, Area)> =
            (0_u32..).map(|i| spacing * f64::from(i)).zip(areas.iter().copied()).collect();
        let found: [(&str, Volume); 2] =
            [("end_areas_m3", end_areas(&placed)), ("prismoidal_m3", prismoidal(spacing, &areas))];
        for (key, volume) in found {
            let wanted = number(&case.value["expect"], key);
            case.near(key, volume.to_m3(), wanted, exact(wanted));
        }
    });
}

/// A case of the published data by its name.
fn published(name: &str, check: impl Fn(&mut Case)) {
    assert!(cases("published.json").iter().any(|case| case["name"] == name));
    each("published.json", 2, |case| {
        if case.name == name {
            check(case);
        }
    });
}

#[test]
fn maunga_whau_by_the_grid_method() {
    // The grid `volcano`: 87 by 61 levels at 10 m, digitised by Ross Ihaka, R's package datasets.
    published("volcano", |case| {
        let grid = grid(case.value);
        for expect in list(case.value, "grid") {
            netted(case, &grid, formation(expect), expect);
        }
    });
}

#[test]
fn maunga_whau_triangulated() {
    // The same, each row moved on by 3 m: on a square grid either diagonal may be Delaunay's.
    published("volcano", |case| {
        let mut text = "x_m,y_m,level_m\n".to_owned();
        for (row, levels) in list(case.value, "rows").iter().enumerate() {
            for (column, level) in levels.as_array().expect("a row").iter().enumerate() {
                let _ = writeln!(text, "{},{},{level}", 10 * column + 3 * row, 10 * row);
            }
        }
        let spots = Spots::parse(&text).expect("a table of spots");
        for expect in list(case.value, "sheared") {
            measured(case, &spots, formation(expect), expect);
        }
    });
}

#[test]
fn davis_s_hillside_triangulated() {
    // The 52 spots `topo`: Davis, Statistics and Data Analysis in Geology, Wiley 1973; R's MASS.
    published("topo", |case| {
        let mut text = "x_m,y_m,level_m\n".to_owned();
        for row in list(case.value, "spots") {
            let [x, y, level] = coordinates(row);
            let _ = writeln!(text, "{x},{y},{level}");
        }
        let spots = Spots::parse(&text).expect("a table of spots");
        for expect in list(case.value, "triangulated") {
            measured(case, &spots, formation(expect), expect);
        }
    });
}
