//! How the fold and the answer to a dip grow with the diary: ratios of medians in one run.
//!
//! The fold and the answer on what is folded are timed by themselves; the request is all that a
//! screen waits for, from the diary on disk to the answer. A dip that is kept is written to disk and
//! the whole job read again for the screen: of that the 95th percentile.
#![expect(clippy::unwrap_used, reason = "a bench measures, and may fail")]

#[path = "../tests/common/mod.rs"]
mod common;
mod timing;

use std::hint::black_box;
use std::path::Path;
use std::time::Duration;

use chrono::{DateTime, FixedOffset};
use fairfall_core::api::requests::{DipPlace, Nothing};
use fairfall_core::api::{Desk, ask, dip_target as ask_dip_target, start_sample};
use fairfall_core::diary::{Body, Dip, Draft};
use fairfall_core::job::{dip_target, fold};
use fairfall_core::outside::Outside;
use fairfall_core::store::{Store, append};
use serde_json::json;
use timing::{median, slow};
use uuid::Uuid;

const SIZES: [u32; 3] = [200, 2_000, 20_000];

/// What is logged as the so-manieth entry after the plan: dips, every fifth a pass, three in twenty a
/// photo.
fn body(number: u32) -> (&'static str, serde_json::Value) {
    if matches!(number % 20, 3 | 9 | 16) {
        let sha256 = format!("{number:064x}");
        return ("photo", json!({ "sha256": sha256, "stage": "excavate" }));
    }
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

/// A clock that stands still, and numbers that count on.
struct Still(u64);

impl Outside for Still {
    fn now(&mut self) -> DateTime<FixedOffset> {
        common::now()
    }

    fn random(&mut self) -> [u8; 10] {
        self.0 += 1;
        let mut bytes = [0; 10];
        bytes.iter_mut().zip(self.0.to_be_bytes()).for_each(|(to, from)| *to = from);
        bytes
    }
}

/// A store with one job of so many entries, and the dip that is asked for.
fn on_disk(folder: &Path, size: u32) -> (Desk, DipPlace) {
    let store = Store::open_or_begin(folder, "bench").unwrap();
    let mut desk = Desk { store, outside: Box::new(Still(0)) };
    let job = start_sample(&mut desk, Nothing {}).unwrap().job;
    let id = Uuid::parse_str(&job).unwrap();
    let Desk { store, outside } = &mut desk;
    store
        .write(|transaction| {
            for (kind, body) in (1..size).map(body) {
                let body = Body::read(kind, &body).unwrap();
                let draft = Draft { at: None, who: "Mina".to_owned(), body };
                append(transaction, outside.as_mut(), id, draft)?;
            }
            Ok(())
        })
        .unwrap();
    let Dip { layer, lift, from, to, at_m, raise_mm, reading_mm } = dip(7);
    let reading_mm = Some(reading_mm);
    (desk, DipPlace { job, layer, lift, from, to, at_m, raise_mm, reading_mm })
}

/// What a press of the key that keeps a dip costs, until the screen has the job as it then stands.
fn keep(desk: &mut Desk, place: &DipPlace) {
    let DipPlace { job, layer, from, to, at_m, raise_mm, reading_mm, .. } = place;
    let body = json!({
        "layer": layer, "from": from, "to": to, "at_m": at_m, "raise_mm": raise_mm,
        "reading_mm": reading_mm,
    });
    black_box(ask(desk, "log", json!({ "job": job, "kind": "dip", "body": body })).unwrap());
    black_box(ask(desk, "job", json!({ "job": job })).unwrap());
}

fn main() {
    let mut first: Option<[Duration; 4]> = None;
    println!(
        "{:>8}  {:>12}  {:>8}  {:>12}  {:>8}  {:>12}  {:>8}  {:>12}  {:>8}",
        "entries",
        "fold",
        "ratio",
        "dip answer",
        "ratio",
        "dip request",
        "ratio",
        "dip kept, 95 %",
        "ratio"
    );
    for size in SIZES {
        let entries = common::diary((1..size).map(body));
        let state = fold(&entries).unwrap();
        let folded = median(11, || {
            black_box(fold(black_box(&entries)).unwrap());
        });
        let answered = median(11, || {
            black_box(dip_target(black_box(&state), &dip(7)).unwrap());
        });
        let folder = tempfile::tempdir().unwrap();
        let (mut desk, place) = on_disk(folder.path(), size);
        let asked = median(11, || {
            black_box(ask_dip_target(&mut desk, black_box(place.clone())).unwrap());
        });
        let kept = slow(41, || keep(&mut desk, &place));
        let base = *first.get_or_insert([folded, answered, asked, kept]);
        let [fold_ratio, dip_ratio, ask_ratio, keep_ratio] =
            [(folded, base[0]), (answered, base[1]), (asked, base[2]), (kept, base[3])]
                .map(|(time, base)| time.as_secs_f64() / base.as_secs_f64());
        println!(
            "{size:>8}  {folded:>12.2?}  {fold_ratio:>8.1}  {answered:>12.2?}  {dip_ratio:>8.1}  \
             {asked:>12.2?}  {ask_ratio:>8.1}  {kept:>12.2?}  {keep_ratio:>8.1}"
        );
    }
}
