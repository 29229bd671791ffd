//! What a record of 40 photos and 1,000 dips costs against the same record without photos: ratios of
//! medians in one run, and the most memory the whole took.
#![expect(
    clippy::unwrap_used,
    clippy::disallowed_methods,
    reason = "a bench measures, and may fail"
)]

#[path = "../../tests/common/mod.rs"]
mod diary;

use std::hint::black_box;
use std::time::{Duration, Instant};

use fairfall_core::api::Sealing;
use fairfall_core::diary::Entry;
use fairfall_core::job::fold;
use fairfall_core::record::{build, diary_lines};
use fairfall_core::store::{DeviceKey, PhotoCopy, Store, prepare_photo};
use fairfall_papers::{NoPhoto, PaperSize, Unwatched, completion_record, copy_for, verify};
use image::codecs::jpeg::JpegEncoder;
use serde_json::json;

const PHOTOS: u32 = 40;
const DIPS: u32 = 1_000;

/// A photo as the phone keeps it: 2048 px, speckled ground, which packs badly.
fn photo(seed: u32) -> Vec<u8> {
    let mut state = seed.wrapping_mul(2_654_435_761).wrapping_add(1);
    let picture = image::RgbImage::from_fn(2048, 1536, |x, y| {
        state ^= state << 13;
        state ^= state >> 17;
        state ^= state << 5;
        let value = (state % 48) + ((x / 23) * 7 + (y / 17) * 13 + seed) % 90 + 60;
        let value = u8::try_from(value).unwrap_or(255);
        image::Rgb([value, value / 10 * 9, value / 8 * 7])
    });
    let mut bytes = Vec::new();
    JpegEncoder::new_with_quality(&mut bytes, 82).encode_image(&picture).unwrap();
    bytes
}

fn job(photos: &[String]) -> Vec<Entry> {
    let dip = |number: u32| {
        let pin = 1 + number % 5;
        let body = json!({
            "layer": "formation", "from": format!("R{pin}"), "to": format!("F{pin}"),
            "at_m": f64::from(number * 7 % 130) / 100.0, "raise_mm": 100.0,
            "reading_mm": 340 + number % 20,
        });
        ("dip", body)
    };
    let taken = |sha256: &String| {
        ("photo", json!({ "sha256": sha256, "stage": "sub_base", "caption": "Lift 1" }))
    };
    diary::diary((0..DIPS).map(dip).chain(photos.iter().map(taken)))
}

/// The median of some runs, each without what the typesetter remembers of the ones before, and after
/// something that is not measured.
fn median(runs: u32, before: &dyn Fn(), mut work: impl FnMut()) -> Duration {
    let mut times: Vec<Duration> = (0..runs)
        .map(|_| {
            before();
            comemo::evict(0);
            let start = Instant::now();
            work();
            start.elapsed()
        })
        .collect();
    times.sort();
    times.get(times.len() / 2).copied().unwrap_or_default()
}

/// The most memory that this process has held, in megabytes; none where the system does not say.
fn most_memory() -> Option<u64> {
    let status = std::fs::read_to_string("/proc/self/status").ok()?;
    let line = status.lines().find(|line| line.starts_with("VmHWM:"))?;
    Some(line.split_whitespace().nth(1)?.parse::<u64>().ok()? / 1024)
}

fn main() {
    // On disk, so that the memory is that of making papers.
    let folder = tempfile::tempdir().unwrap();
    let store = Store::open_or_begin(folder.path(), "t").unwrap();
    let photos: Vec<String> = (0..PHOTOS)
        .map(|seed| store.keep_photo(&prepare_photo(&photo(seed)).unwrap()).unwrap().sha256)
        .collect();
    let size = |name: &String| store.photo(name, PhotoCopy::Whole).unwrap().len();
    let kept: usize = photos.iter().map(size).sum();
    let entries = job(&photos);
    let record = build(&fold(&entries).unwrap(), &entries, Some(1), diary::now(), "Mina");
    let sealing = Sealing {
        job: entries.first().unwrap().job,
        diary: diary_lines(&entries).unwrap(),
        entries: u32::try_from(entries.len()).unwrap(),
        key: DeviceKey::from_bytes(&[7; 32]),
    };
    let copy = copy_for(photos.len());
    let here = |wanted: &str| store.photo(wanted, copy).map_err(|_| NoPhoto::NotHere);
    let whole = |wanted: &str| store.photo(wanted, PhotoCopy::Whole).map_err(|_| NoPhoto::NotHere);
    let away = |_: &str| Err(NoPhoto::NotHere);
    let a4 = PaperSize::A4;
    let without = || {
        black_box(completion_record(&record, &away, a4, None, &Unwatched).unwrap());
    };
    let plain = median(5, &|| (), without);
    let before = most_memory();
    let draft = median(3, &without, || {
        black_box(completion_record(&record, &here, a4, None, &Unwatched).unwrap());
    });
    let mut made = None;
    // A record made without photos leaves no copies behind; one with them leaves all.
    let sealed = median(3, &without, || {
        made = Some(completion_record(&record, &here, a4, Some(&sealing), &Unwatched).unwrap());
    });
    let made = made.unwrap();
    let again = median(3, &|| (), || {
        black_box(completion_record(&record, &here, a4, Some(&sealing), &Unwatched).unwrap());
    });
    let mut drawn = 0;
    let shown = median(3, &|| (), || {
        drawn = (0..made.pages).map(|page| made.page(page).unwrap().len()).sum();
    });
    let checked = median(3, &|| (), || assert!(verify(black_box(&made.pdf)).ok));
    let most = most_memory();
    let from_whole = median(3, &without, || {
        black_box(completion_record(&record, &whole, a4, None, &Unwatched).unwrap());
    });
    let ratio = |time: Duration| time.as_secs_f64() / plain.as_secs_f64();
    println!("record of {DIPS} dips, no photos, no seal   {plain:>9.2?}   1.0");
    println!("the same with {PHOTOS} photos, no seal        {draft:>9.2?}  {:>4.1}", ratio(draft));
    println!(
        "the same, of a store without copies      {from_whole:>9.2?}  {:>4.1}",
        ratio(from_whole)
    );
    println!(
        "the same, {PHOTOS} photos, sealed             {sealed:>9.2?}  {:>4.1}",
        ratio(sealed)
    );
    println!("the same again, as after a draft         {again:>9.2?}  {:>4.1}", ratio(again));
    println!("its pages for a screen                  {shown:>9.2?}  {:>4.1}", ratio(shown));
    println!("its verification                        {checked:>9.2?}  {:>4.1}", ratio(checked));
    let mb = |bytes: usize| bytes as f64 / 1e6;
    println!(
        "photos kept {:.1} MB, record {:.1} MB, its pages for a screen {:.1} MB",
        mb(kept),
        mb(made.pdf.len()),
        mb(drawn)
    );
    if let (Some(before), Some(most)) = (before, most) {
        println!("most memory: {before} MB without photos, {most} MB with");
    }
}
