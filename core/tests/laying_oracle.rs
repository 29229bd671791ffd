//! The laying against shapely: counts and areas of random outlines in every bond, from cases that
//! `fixtures/oracle/laying/generate.py` wrote.

#![expect(clippy::expect_used, reason = "the cases are ours to read")]

use fairfall_core::laying::{Along, Block, Bond, Frame, Pattern, Straight, straight};
use fairfall_core::outline::Point;
use fairfall_core::units::Length;
use geo::{Area, LineString, MultiPolygon, Polygon};
use serde::Deserialize;

#[derive(Deserialize)]
struct Cases {
    cases: Vec<Case>,
}

#[derive(Deserialize)]
struct Case {
    rings: Vec<Vec<[f64; 2]>>,
    area_m2: f64,
    layings: Vec<Laid>,
}

/// A bond, and what shapely makes of it.
#[derive(Deserialize, Debug)]
struct Laid {
    pattern: String,
    block: [f64; 2],
    joint: f64,
    origin: [f64; 2],
    heading: f64,
    mirrored: bool,
    start: [f64; 2],
    whole: usize,
    cut: usize,
    small: usize,
    area_m2: f64,
    union_m2: f64,
    squares: f64,
    smallest: Option<f64>,
}

fn shape(rings: &[Vec<[f64; 2]>]) -> Polygon {
    let ring = |ring: &Vec<[f64; 2]>| {
        LineString::new(ring.iter().map(|[x, y]| Point { x: *x, y: *y }).collect())
    };
    let mut rings = rings.iter().map(ring);
    let outside = rings.next().expect("an outline");
    Polygon::new(outside, rings.collect())
}

fn lay(shape: &Polygon, case: &Laid) -> Straight {
    let pattern = match case.pattern.as_str() {
        "stretcher" => Pattern::Stretcher,
        "stack" => Pattern::Stack,
        "herringbone_45" => Pattern::Herringbone45,
        "herringbone_90" => Pattern::Herringbone90,
        "basketweave" => Pattern::Basketweave,
        other => unreachable!("{other} is no pattern"),
    };
    let [length, width] = case.block.map(Length::from_m);
    let joint = Length::from_m(case.joint);
    let block = Block { length, width, depth: Length::from_mm(60.0), joint };
    let start = Some(case.start.map(Length::from_m));
    let bond = Bond { pattern, along: Along::Edge, start, keep_laps: false };
    let [x, y] = case.origin;
    let frame = Frame::new(Point { x, y }, case.heading, !case.mirrored);
    straight(&MultiPolygon::from(shape.clone()), &frame, &block, &bond)
}

#[test]
fn shapely_lays_the_same_blocks() {
    let text = include_str!("../../fixtures/oracle/laying/cases.json");
    let Cases { cases } = serde_json::from_str(text).expect("the cases");
    assert!(cases.len() >= 100, "the issue asks for a hundred outlines");
    for (index, case) in cases.iter().enumerate() {
        let shape = shape(&case.rings);
        assert!((shape.unsigned_area() - case.area_m2).abs() < 1e-9, "outline {index}");
        assert_eq!(case.layings.len(), 5, "every bond");
        for theirs in &case.layings {
            let ours = lay(&shape, theirs).pieces;
            let said = format!("outline {index}, {}", theirs.pattern);
            let of =
                |holds: &dyn Fn(f64) -> bool| ours.iter().filter(|p| holds(p.fraction)).count();
            assert_eq!(of(&|f| f >= 0.995), theirs.whole, "{said}: whole");
            assert_eq!(of(&|f| f < 0.995), theirs.cut, "{said}: cut");
            assert_eq!(of(&|f| f < 1.0 / 3.0), theirs.small, "{said}: small");
            // Relative to the outline: overlay rounds each corner to some 1e-9 of the block.
            let within = 1e-6 * case.area_m2;
            let area: f64 = ours.iter().map(|piece| piece.polygon().unsigned_area()).sum();
            assert!((area - theirs.area_m2).abs() < within, "{said}: {area} m2");
            // Shapely's union of its own pieces is as large as their sum: none overlap.
            assert!((area - theirs.union_m2).abs() < within, "{said}: {area} m2 of union");
            let squares: f64 = ours.iter().map(|piece| piece.fraction.powi(2)).sum();
            let relative = (squares - theirs.squares).abs() / theirs.squares;
            assert!(relative < 1e-6, "{said}: {squares} for {}", theirs.squares);
            let cut = ours.iter().map(|piece| piece.fraction).filter(|f| *f < 0.995);
            let smallest = cut.reduce(f64::min);
            let gap = smallest.zip(theirs.smallest).map_or(0.0, |(a, b)| (a - b).abs());
            assert_eq!(smallest.is_some(), theirs.smallest.is_some(), "{said}: smallest");
            assert!(gap < 1e-6, "{said}: smallest differs by {gap}");
        }
    }
}
