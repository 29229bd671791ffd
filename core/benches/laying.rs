//! Blocks laid in herringbone at 45 degrees inside 40 curved sides: how it grows from 100 to 10,000
//! square metres, against the same clipping in shapely, and the memory a block takes. Ratios of medians
//! in one run.
//!
//! The script is run by `PYTHON`, or by python3. It is timed inside, without its start and without the
//! making of its blocks, which ours includes; its counts must be ours.
#![expect(
    clippy::unwrap_used,
    clippy::panic,
    clippy::disallowed_methods,
    reason = "a bench measures, reads its environment, and may fail"
)]

mod timing;

use std::f64::consts::TAU;
use std::fmt::Write as _;
use std::hint::black_box;
use std::path::Path;
use std::process::{Command, Output};
use std::time::Duration;

use fairfall_core::laying::{Along, Block, Bond, Frame, Pattern, Piece, Shape, Straight, straight};
use fairfall_core::outline::{CHORD_TOLERANCE, Point, Ring, Side, Station};
use fairfall_core::units::Length;
use geo::{CoordsIter, MultiPolygon, Polygon};
use timing::median;

const SIZES_M2: [f64; 3] = [100.0, 1_000.0, 10_000.0];
const CURVED_SIDES: u32 = 40;
/// A plain loop in Python is not run over larger fields: it would take minutes.
const LARGEST_LOOP_M2: f64 = 1_000.0;
const SAMPLES: u32 = 5;
const SCRIPT: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/benches/laying.py");

/// A flower of arcs that bend out and in by turns, of about this area.
fn outline(area_m2: f64) -> Polygon {
    let reach = (area_m2 / std::f64::consts::PI).sqrt();
    let corner = |i: u32| {
        let angle = TAU * f64::from(i) / f64::from(CURVED_SIDES);
        Point { x: reach * angle.cos(), y: reach * angle.sin() }
    };
    let sides = (0..CURVED_SIDES).map(|i| {
        let (from, to) = (corner(i), corner((i + 1) % CURVED_SIDES));
        let chord = (to.x - from.x).hypot(to.y - from.y);
        // Every side turns by a radian, left and right by turns.
        let turn = if i % 2 == 0 { 1.0 } else { -1.0 };
        let radius = chord / 2.0 / 0.5_f64.sin();
        let heading = (to.y - from.y).atan2(to.x - from.x) - turn * 0.5;
        Side {
            start: Station { point: from, heading },
            length: Length::from_m(radius),
            curvature: turn / radius,
            end: to,
        }
    });
    Ring::new(sides.collect()).polygon(CHORD_TOLERANCE)
}

fn block() -> Block {
    let [length, width, depth, joint] = [200.0, 100.0, 60.0, 3.0].map(Length::from_mm);
    Block { length, width, depth, joint }
}

fn lay(field: &MultiPolygon) -> Straight {
    let bond = Bond {
        pattern: Pattern::Herringbone45,
        along: Along::Edge,
        start: Some([Length::ZERO; 2]),
        keep_laps: false,
    };
    let frame = Frame::new(Point { x: 0.0, y: 0.0 }, std::f64::consts::FRAC_PI_4, true);
    straight(field, &frame, &block(), &bond)
}

fn counts(pieces: &[Piece]) -> [usize; 2] {
    let whole = pieces.iter().filter(|piece| piece.is_whole()).count();
    [whole, pieces.len() - whole]
}

/// Bytes that the pieces take, with what they own.
fn memory(pieces: &[Piece]) -> usize {
    let owned: usize = pieces
        .iter()
        .map(|piece| match &piece.shape {
            Shape::Block(_) => 0,
            Shape::Cut(cut) => {
                size_of_val(cut.as_ref()) + cut.left.coords_count() * size_of::<Point>()
            }
        })
        .sum();
    size_of_val(pieces) + owned
}

/// What shapely takes: all at once, and block by block where that is asked for.
fn by_shapely(
    field: &Polygon,
    ours: [usize; 2],
    by_loop: bool,
) -> Result<[Option<f64>; 2], String> {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("outline.csv");
    write(field, &file);
    let python = std::env::var("PYTHON").unwrap_or_else(|_| "python3".to_owned());
    let ended = Command::new(&python)
        .args([SCRIPT.as_ref(), file.as_os_str()])
        .args([SAMPLES.to_string(), u8::from(by_loop).to_string()])
        .output()
        .map_err(|error| format!("{python}: {error}"))?;
    let Output { status, stdout, stderr } = ended;
    if !status.success() {
        let said = String::from_utf8_lossy(&stderr);
        return Err(format!("{python}: {}", said.lines().last().unwrap_or("it failed")));
    }
    let said = String::from_utf8(stdout).unwrap();
    let words: Vec<&str> = said.split_whitespace().collect();
    let [at_once, looped, whole, cut] = words[..] else { panic!("four numbers, not {said}") };
    assert_eq!(
        [whole, cut].map(|n| n.parse::<usize>().unwrap()),
        ours,
        "shapely lays other blocks"
    );
    Ok([at_once, looped].map(|seconds| seconds.parse().ok()))
}

fn write(field: &Polygon, file: &Path) {
    let mut text = String::new();
    for p in field.exterior().coords() {
        writeln!(text, "{},{}", p.x, p.y).unwrap();
    }
    std::fs::write(file, text).unwrap();
}

fn main() {
    println!(
        "{:>9}  {:>8}  {:>7}  {:>10}  {:>7}  {:>9}  {:>16}  {:>16}",
        "m2", "blocks", "cut", "laid", "ratio", "B a block", "shapely / ours", "by loop / ours"
    );
    let mut first: Option<Duration> = None;
    let mut missing = None;
    for area in SIZES_M2 {
        let polygon = outline(area);
        let field = MultiPolygon::from(polygon.clone());
        let laid = lay(&field).pieces;
        let found = counts(&laid);
        let ours = median(SAMPLES, || {
            black_box(lay(black_box(&field)));
        });
        let growth = ours.as_secs_f64() / first.get_or_insert(ours).as_secs_f64();
        let ratios = match by_shapely(&polygon, found, area <= LARGEST_LOOP_M2) {
            Ok(theirs) => theirs.map(|seconds| seconds.map(|s| s / ours.as_secs_f64())),
            Err(why) => {
                missing = Some(why);
                [None; 2]
            }
        };
        let [at_once, looped] =
            ratios.map(|ratio| ratio.map_or_else(|| "-".to_owned(), |r| format!("{r:.1}")));
        println!(
            "{area:>9}  {:>8}  {:>7}  {ours:>10.2?}  {growth:>7.1}  {:>9}  {at_once:>16}  {looped:>16}",
            laid.len(),
            found[1],
            memory(&laid) / laid.len(),
        );
    }
    if let Some(why) = missing {
        println!(
            "shapely was not measured: {why}. Give a Python that has it: make bench PYTHON=… \
             (fixtures/oracle/laying/README.md)"
        );
    }
}
