//! Records at their edges: empty, long, full, typed by people with other letters and habits.

// A test that cannot set the scene fails there and then.
#![allow(clippy::unwrap_used, clippy::panic)]

mod common;

use common::{OnDisk, draft, made, made_with, pages, picture, sample, text};
use fairfall_core::api::views::{DipView, Drawing};
use fairfall_core::record::{Record, RecordPhoto};
use fairfall_papers::PaperSize;

/// Text that would be markup, code or a reference if anything read it as such.
const HOSTILE: &str =
    "#panic(\"x\") *a* _b_ @c $d^2$ <e> \\f \"g\" 'h' `i` [j] {k} // l /* m */ = n";

/// As the page shows it: this typesetter's quotes stay as typed.
fn hostile_everywhere() -> Record {
    let text = || HOSTILE.to_owned();
    let mut record = sample();
    record.title = text();
    record.place = text();
    record.customer = text();
    record.by = text();
    record.made_by = text();
    record.built_for = text();
    record.care = vec![text()];
    record.not_measured = vec![text()];
    for layer in &mut record.layers {
        layer.name = text();
        layer.material = text();
        layer.passes.iter_mut().for_each(|passes| passes.plant = text());
    }
    for pin in &mut record.drawing.pins {
        pin.name = format!("<{}#", pin.name);
    }
    for photo in &mut record.photos {
        photo.caption = text();
        photo.who = text();
    }
    for exception in &mut record.exceptions {
        exception.text = text();
    }
    record
}

#[test]
fn what_people_type_is_set_as_typed() {
    let record = hostile_everywhere();
    let made = made_with(&record, &|_| Some(picture(2, 80, 60)), PaperSize::A4).unwrap();
    let text = text(&made);
    assert!(text.matches(HOSTILE).count() >= 12, "{text}");
    assert!(text.contains("<R1#"));
    OnDisk::new(&made.pdf).tool("qpdf", &["--check"], &[]);
}

#[test]
fn names_in_other_letters_come_back_from_the_page() {
    let names = [
        "Zbigniew Gżegżółka, Łąkowice",
        "Vojtěch Křížek, Žďárná",
        "Ștefăniță Țîrlea",
        "Gülşah İğneci, Ağıldere",
        "Gwenllïan Tŵr, Llanfynŷdd",
        "Þórdís Ægisdóttir, Höfðaströnd",
        "Nguyễn Thị Ngọc Ánh",
        "Ευανθία Παπαγεωργίου",
        "Ярослав Щербань, Їжакевича",
        "Љубица Њежић, Џеп",
    ];
    let mut record = sample();
    record.care = names.iter().map(|name| (*name).to_owned()).collect();
    record.title = names[0].to_owned();
    let text = text(&made(&record));
    for name in names {
        assert!(text.contains(name), "{name} did not come back");
    }
    assert!(!text.contains('□'));
}

#[test]
fn a_sign_outside_the_typeface_shows_and_is_explained() {
    let mut record = sample();
    record.photos[0].caption = "Tidy work \u{1F44D}\u{FE0F}".to_owned();
    let text = text(&made(&record));
    assert!(text.contains("Tidy work □"));
    assert!(text.contains("was typed but is not in its typeface"));
}

/// Everything that may be empty is.
fn bare() -> Record {
    let mut record = draft();
    for field in [
        &mut record.title,
        &mut record.place,
        &mut record.customer,
        &mut record.by,
        &mut record.made_by,
        &mut record.first_day,
        &mut record.last_day,
        &mut record.built_for,
        &mut record.not_built_for,
        &mut record.held_to,
    ] {
        field.clear();
    }
    record.drawing = Drawing {
        outline: Vec::new(),
        dig: Vec::new(),
        holes: Vec::new(),
        edge: Vec::new(),
        pins: Vec::new(),
        strings: Vec::new(),
        dimensions: Vec::new(),
        ..record.drawing
    };
    record.section.layers.clear();
    record.layers.clear();
    record.dips.clear();
    record.surface.clear();
    record.deliveries.clear();
    record.photos.clear();
    record.exceptions.clear();
    record.not_measured.clear();
    record.stages.clear();
    record.care.clear();
    record.cautions.clear();
    record.defaults.clear();
    record
}

#[test]
fn an_empty_record_says_what_it_does_not_hold() {
    let made = made(&bare());
    let text = text(&made);
    for words in [
        "not stated",
        "No dips were taken.",
        "No photos are in this record.",
        "No deliveries are recorded.",
        "The record holds no outline to draw.",
        "Nothing is recorded as different from the plan.",
        "Every figure was given in the plan.",
    ] {
        assert!(text.contains(words), "{words:?} is missing");
    }
    OnDisk::new(&made.pdf).tool("qpdf", &["--check"], &[]);
}

#[test]
fn what_was_not_measured_says_so() {
    let mut record = sample();
    for layer in &mut record.layers {
        layer.measured_mm = None;
        layer.measured_places = 0;
    }
    for layer in &mut record.section.layers {
        layer.measured_mm = None;
    }
    for level in &mut record.surface {
        level.measured_mm = None;
    }
    // Four layers in the section, four in the table, eight pins, and the sentence on F3.
    assert!(text(&made(&record)).matches("not measured").count() >= 17);
}

#[test]
fn figures_that_are_no_numbers_do_no_harm() {
    let mut record = sample();
    record.section.width_m = f64::NAN;
    record.section.drop_mm = f64::INFINITY;
    record.drawing.area_m2 = f64::NAN;
    record.drawing.pins[0].x_m = f64::NAN;
    record.drawing.dimensions[0].length_m = f64::INFINITY;
    record.dips[0].x_m = f64::NAN;
    record.dips[1].high_mm = f64::NAN;
    let text = text(&made(&record));
    assert!(!text.contains("NaN") && !text.contains("inf "), "{text}");
}

#[test]
fn long_titles_stay_on_the_sheet() {
    let mut record = draft();
    record.title = format!(
        "Path, patio and turning place with a drive for one car behind the old bakehouse {}",
        "x".repeat(140)
    );
    let made = made(&record);
    let file = OnDisk::new(&made.pdf);
    let boxes = file.tool("pdftotext", &["-bbox"], &["-"]);
    let rightmost = boxes
        .split("xMax=\"")
        .skip(1)
        .filter_map(|rest| rest.split('"').next()?.parse::<f64>().ok())
        .fold(0.0, f64::max);
    // A4 is 595.3 points wide.
    assert!(rightmost < 595.3, "a word ends at {rightmost}");
}

#[test]
fn a_dip_that_names_no_lift_is_of_the_finished_top() {
    let mut record = sample();
    record.dips.iter_mut().filter(|dip| dip.lift == Some(2)).for_each(|dip| dip.lift = None);
    assert_eq!(text(&made(&record)), text(&made(&sample())));
}

#[test]
fn sixty_dips_fill_their_table() {
    let mut record = sample();
    let dips = record.dips.clone();
    record.dips = dips.iter().cycle().take(60).cloned().collect::<Vec<DipView>>();
    let pages = pages(&made(&record));
    let heads = pages.iter().filter(|page| page.contains("Raised")).count();
    assert!(heads >= 2, "the table's head is not repeated");
}

#[test]
fn forty_photos_stay_small_enough_to_send() {
    let mut record = sample();
    let photo = record.photos[0].clone();
    record.photos = (0..40)
        .map(|index| RecordPhoto { sha256: format!("{index:064x}"), ..photo.clone() })
        .collect();
    let find = |sha256: &str| {
        let seed = u32::from_str_radix(sha256, 16).ok()?;
        Some(picture(seed, 1280, 960))
    };
    let made = made_with(&record, &find, PaperSize::A4).unwrap();
    assert!(made.pdf.len() < 8_000_000, "{} bytes", made.pdf.len());
    let images = OnDisk::new(&made.pdf).tool("pdfimages", &["-list"], &[]);
    assert_eq!(images.lines().filter(|line| line.contains(" jpeg ")).count(), 40);
}
