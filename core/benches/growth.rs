//! How the fold and the answer to a dip grow with the diary: ratios of medians in one run.
#![expect(
    clippy::unwrap_used,
    clippy::disallowed_methods,
    reason = "a bench measures, and may fail"
)]

#[path = "../tests/common/mod.rs"]
mod common;

use std::hint::black_box;
use std::time::{Duration, Instant};

use fairfall_core::diary::Dip;
use fairfall_core::job::{dip_target, fold};
use serde_json::json;

const SIZES: [u32; 3] = [200, 2_000, 20_000];

/// What is logged as the so-manieth entry after the plan: four dips, then a pass.
fn body(number: u32) -> (&'static str, serde_json::Value) {
    if number.is_multiple_of(5) {
        return ("pass", json!({ "layer": "formation", "plant": "plate", "still_moving": false }));
    }
    ("dip", serde_json::to_value(dip(number)).unwrap())
}

fn dip(number: u32) -> Dip {
    let pin = 1 + number % 5;
    Dip {
        layer: fairfall_core::buildup::Layer::Formation,
        lift: None,
        from: format!("R{pin}"),
        to: format!("F{pin}"),
        at_m: f64::from(number * 7 % 130) / 100.0,
        raise_mm: 100.0,
        reading_mm: 340.0 + f64::from(number % 20),
    }
}

/// The median of some runs.
fn median(runs: u32, mut work: impl FnMut()) -> Duration {
    let mut times: Vec<Duration> = (0..runs)
        .map(|_| {
            let start = Instant::now();
            work();
            start.elapsed()
        })
        .collect();
    times.sort();
    times.get(times.len() / 2).copied().unwrap_or_default()
}

fn main() {
    let mut first: Option<[Duration; 2]> = None;
    println!(
        "{:>8}  {:>12}  {:>8}  {:>12}  {:>8}",
        "entries", "fold", "ratio", "dip answer", "ratio"
    );
    for size in SIZES {
        let entries = common::diary((1..size).map(body));
        let state = fold(&entries).unwrap();
        let folded = median(11, || {
            black_box(fold(black_box(&entries)).unwrap());
        });
        let answered = median(101, || {
            black_box(dip_target(black_box(&state), &dip(7)).unwrap());
        });
        let [fold_base, dip_base] = *first.get_or_insert([folded, answered]);
        println!(
            "{size:>8}  {folded:>12.2?}  {:>8.1}  {answered:>12.2?}  {:>8.1}",
            folded.as_secs_f64() / fold_base.as_secs_f64(),
            answered.as_secs_f64() / dip_base.as_secs_f64()
        );
    }
}
