//! Spots triangulated and measured: how it grows from 1,000 to 10,000, and against the same work in
//! scipy, called from a script. Ratios of medians in one run.
//!
//! The script is run by `PYTHON`, or by python3. It is timed inside, without its start and its reading
//! of the spots, and its volumes must be ours.
#![expect(
    clippy::unwrap_used,
    clippy::panic,
    clippy::disallowed_methods,
    reason = "a bench measures, reads its environment, and may fail"
)]

mod timing;

use std::hint::black_box;
use std::path::Path;
use std::process::{Command, Output};
use std::time::Duration;

use fairfall_core::ground::{Spot, SpotVolume, Spots};
use fairfall_core::units::Level;
use timing::median;

const SIZES: [u32; 2] = [1_000, 10_000];
const SAMPLES: u32 = 15;
const SCRIPT: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/benches/ground.py");

/// Places by the additive recurrence of the plastic number's powers: evenly spread, no two alike, no
/// chance needed. The ground rolls about zero, so that cut and fill meet.
fn spots(count: u32) -> Vec<Spot> {
    let side = f64::from(count).sqrt();
    let place = |n: u32, step: f64| (f64::from(n) * step).fract() * side;
    (1..=count)
        .map(|n| {
            let (x, y) = (place(n, 0.754_877_666_246_693), place(n, 0.569_840_290_998_053));
            let level = 0.4 * (x / 7.0).sin() * (y / 5.0).cos() + 0.02 * (x - y) / side;
            Spot { x, y, level: Level::from_m(level) }
        })
        .collect()
}

fn measure(spots: &[Spot]) -> SpotVolume {
    Spots::new(spots).unwrap().volume(Level::ZERO)
}

fn write(spots: &[Spot], file: &Path) {
    let rows = spots.iter().map(|s| format!("{},{},{}\n", s.x, s.y, s.level.to_m()));
    std::fs::write(file, rows.collect::<String>()).unwrap();
}

/// The time that scipy takes, or why there is none.
fn by_scipy(spots: &[Spot], ours: &SpotVolume) -> Result<Duration, String> {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("spots.csv");
    write(spots, &file);
    let python = std::env::var("PYTHON").unwrap_or_else(|_| "python3".to_owned());
    let ended = Command::new(&python)
        .args([SCRIPT.as_ref(), file.as_os_str()])
        .arg(SAMPLES.to_string())
        .output()
        .map_err(|error| format!("{python}: {error}"))?;
    let Output { status, stdout, stderr } = ended;
    if !status.success() {
        let said = String::from_utf8_lossy(&stderr);
        return Err(format!("{python}: {}", said.lines().last().unwrap_or("it failed")));
    }
    let said = String::from_utf8(stdout).unwrap();
    let numbers: Vec<f64> = said.split_whitespace().map(|n| n.parse().unwrap()).collect();
    let [seconds, cut, fill] = numbers[..] else { panic!("three numbers, not {said}") };
    for (theirs, ours) in [(cut, ours.cut.to_m3()), (fill, ours.fill.to_m3())] {
        assert!((theirs - ours).abs() <= 1e-6 * theirs, "scipy gives {theirs} m3, we give {ours}");
    }
    Ok(Duration::from_secs_f64(seconds))
}

fn main() {
    let mut first: Option<Duration> = None;
    println!(
        "{:>8}  {:>12}  {:>8}  {:>12}  {:>14}",
        "spots", "measured", "ratio", "by scipy", "scipy / ours"
    );
    let mut missing = None;
    for size in SIZES {
        let spots = spots(size);
        let ours = median(SAMPLES, || {
            black_box(measure(black_box(&spots)));
        });
        let base = *first.get_or_insert(ours);
        let growth = ours.as_secs_f64() / base.as_secs_f64();
        print!("{size:>8}  {ours:>12.2?}  {growth:>8.1}  ");
        match by_scipy(&spots, &measure(&spots)) {
            Ok(theirs) => {
                let ratio = theirs.as_secs_f64() / ours.as_secs_f64();
                println!("{theirs:>12.2?}  {ratio:>14.2}");
            }
            Err(why) => {
                println!("{:>12}  {:>14}", "-", "-");
                missing = Some(why);
            }
        }
    }
    if let Some(why) = missing {
        println!(
            "scipy was not measured: {why}. Give a Python that has it: make bench PYTHON=… \
             (fixtures/oracle/README.md)"
        );
    }
}
