//! What stands on a completion record, read back from the PDF.

// A test that cannot set the scene fails there and then.
#![allow(clippy::unwrap_used, clippy::panic)]

mod common;

use common::{OnDisk, draft, made, made_with, pages, picture, reads_well, sample, text};
use fairfall_core::api::views::Spread;
use fairfall_core::record::{ContourDrawn, RecordPhoto, ThicknessDrawn};
use fairfall_papers::{Made, NoPhoto, PaperSize, PapersError, Photos, Watch, completion_record};

#[test]
fn it_says_what_was_built_and_what_it_is_not() {
    let text = text(&made(&sample()));
    for words in [
        "Path to the greenhouse",
        "Issue 2, which replaces issue 1, made by Mina Oakhurst on 9 Apr 2026, 16:20",
        "A record of method and measurement, not a test of density.",
        "Ms Ottoline Farthingale",
        "14 Sallow Lane, Netherby Green",
        "Oakhurst & Thackwell, paving by hand",
        "7 Apr 2026 to 9 Apr 2026",
        "8.98 m² of paving, 16.24 m round its edge",
        "People on foot, barrows and bicycles.",
        "a skip or a van must not stand on it",
        "three photos of the laying were added",
    ] {
        assert!(text.contains(words), "{words:?} is missing");
    }
}

#[test]
fn it_gives_the_figures_of_the_hidden_layers() {
    let pages = pages(&made(&sample()));
    let row = |name: &str| {
        let lines = pages.iter().flat_map(|page| page.lines());
        let line =
            lines.map(str::trim).find(|line| line.starts_with(name) && line.contains("high"));
        line.unwrap_or_else(|| panic!("no row for {name}"))
            .split_whitespace()
            .collect::<Vec<_>>()
            .join(" ")
    };
    // The figures of tests/record.json, to whole millimetres.
    assert_eq!(row("Sub-base, lift 1"), "Sub-base, lift 1 50 41 49 66 8 high 10, low 10 8 1");
    assert_eq!(row("Sub-base, lift 2"), "Sub-base, lift 2 50 43 53 60 8 high 10, low 10 8 0");
    assert_eq!(row("Laying course"), "Laying course 40 33 38 45 8 high 10, low 10 8 0");
    assert_eq!(row("Formation"), "Formation a surface, no thickness high 10, low 15 8 1");
}

#[test]
fn a_thickness_is_drawn_with_its_figures_and_hatched_where_too_thin() {
    let mut record = sample();
    let lift = record.layers.iter_mut().find(|row| row.lift == Some(1)).unwrap();
    lift.thickness = Some(ThicknessDrawn {
        over_mm: Spread { least: 37.6, mean: 49.2, greatest: 66.0 },
        limit_mm: 40.0,
        thin_m2: 0.42,
        contours: vec![ContourDrawn { mm: 45.0, pieces: vec![[[1.2, 0.0], [1.2, -1.3]]] }],
        thin: vec![vec![[0.0, 0.0], [0.8, 0.0], [0.8, -1.3], [0.0, -1.3]]],
    });
    let with = made(&record);
    let text = text(&with);
    let words =
        "Thickness over the area: least 38, mean 49, greatest 66 mm; hatched, 0.42 m² under 40 mm";
    assert!(text.contains(words), "{text}");
    assert!(text.contains("Hatched: too thin."), "{text}");
    assert!(text.contains("A surface, no thickness"), "{text}");
    let drawn = reads_well(&with.pdf);
    let told = "Thickness between them: least 38, mean 49, greatest 66 mm, with lines at 45.";
    let alts = drawn.iter().filter_map(|element| element.alt.as_deref());
    assert_eq!(alts.filter(|alt| alt.ends_with(told)).count(), 1);
    // A lift that is 0.8 m of 1.3 m wide thin has some hatching: 1.3 mm apart on the sheet.
    let page =
        |made: &Made| -> usize { (0..made.pages).map(|n| made.page(n).unwrap().len()).sum() };
    assert!(page(&with) > page(&made(&sample())));
}

#[test]
fn what_differs_comes_before_the_photos_and_in_full() {
    let text = text(&made(&sample()));
    let at = |words: &str| text.find(words).unwrap_or_else(|| panic!("{words:?} is missing"));
    let order = [
        "What was built",
        "Plan and section as built",
        "Layer by layer",
        "What differs from the plan",
        "What was not measured",
        "Materials delivered",
        "Stages",
        "Photos",
        "Cautions",
        "Care",
        "Signatures",
        "Every dip that counts",
        "Figures taken by default",
    ];
    assert!(order.windows(2).all(|pair| at(pair[0]) < at(pair[1])), "sections out of order");
    at("low 18, outside low 15. Filled with stone, not with spoil.");
    at("the plate had to go back to the hire shop");
    at("The finished level at F3 was not measured.");
    at("no published figure held for this machine");
    at("movement not said");
    at("7 Apr 2026, 16:20 to 8 Apr 2026, 09:40");
    at("BS 7533-102:2023, as quoted in the plan");
}

#[test]
fn signs_are_words_everywhere() {
    let text = text(&made(&sample()));
    assert!(text.contains("30 below") && text.contains("1 above") && text.contains("at datum"));
    for word in text.split(' ') {
        let number = word.strip_prefix(['-', '+', '−', '±']);
        let bare = number.is_some_and(|n| n.starts_with(|c: char| c.is_ascii_digit()));
        assert!(!bare, "{word:?} has a bare sign");
    }
}

#[test]
fn every_dip_is_in_the_table() {
    let record = sample();
    let pages = pages(&made(&record));
    let rows = pages.iter().flat_map(|page| page.lines()).filter(|line| {
        let line = line.trim_start();
        line.get(2..3) == Some(":") && line.contains(" to ")
    });
    assert_eq!(rows.count(), record.dips.len());
    assert!(pages.concat().contains("7 Apr 2026, taken by Mina Oakhurst"));
}

#[test]
fn an_issue_and_a_draft_say_so_on_every_page() {
    let issued = pages(&made(&sample()));
    let count = issued.len();
    for (index, page) in issued.iter().enumerate() {
        assert!(page.contains("issue 2"), "page {index} has no issue number");
        assert!(page.contains(&format!("page {} of {count}", index + 1)));
        assert!(!page.to_lowercase().contains("draft"), "page {index} calls itself a draft");
    }
    for (index, page) in pages(&made(&draft())).iter().enumerate() {
        assert!(page.contains("DRAFT, not issued"), "page {index} has no draft mark");
        assert!(!page.contains("issue 2"));
    }
}

#[test]
fn photos_stand_on_the_page_with_who_and_when() {
    let record = sample();
    let (here, away) = record.photos.split_at(4);
    let find = |sha256: &str| {
        let index = here.iter().position(|photo| photo.sha256 == sha256)?;
        Some(picture(u32::try_from(index).unwrap(), 800, if index == 1 { 1200 } else { 600 }))
    };
    let made = made_with(&record, &find, PaperSize::A4).unwrap();
    let images = OnDisk::new(&made.pdf).tool("pdfimages", &["-list"], &[]);
    assert_eq!(images.lines().filter(|line| line.contains(" jpeg ")).count(), here.len());
    let text = text(&made);
    assert_eq!(text.matches("photo not on this phone").count(), away.len());
    assert!(text.contains("Lift 1 plated, near end"));
    assert!(text.contains("Sub-base. 7 Apr 2026, 14:55, Mina Oakhurst"));
    assert!(text.contains("6 photos by stage; 2 of them not on this phone."));
}

#[test]
fn bytes_that_are_no_picture_are_told_apart() {
    let made = made_with(&sample(), &|_| Some(vec![1, 2, 3]), PaperSize::A4).unwrap();
    assert_eq!(text(&made).matches("photo cannot be read").count(), 6);
}

#[test]
fn the_file_is_sound_tagged_and_dated() {
    let file = OnDisk::new(&made(&sample()).pdf);
    let checked = file.tool("qpdf", &["--check"], &[]);
    assert!(checked.contains("No syntax or stream encoding errors found"), "{checked}");
    let info = file.tool("pdfinfo", &["-isodates"], &[]);
    let field = |name: &str| {
        let line = info.lines().find(|line| line.starts_with(name)).unwrap_or_default();
        line.split_once(':').map(|(_, value)| value.trim().to_owned()).unwrap_or_default()
    };
    assert_eq!(field("Title"), "Completion record: Path to the greenhouse");
    assert_eq!(field("Tagged"), "yes");
    assert_eq!(field("CreationDate"), "2026-04-09T16:20:00+01");
    assert!(field("Page size").contains("A4"), "{info}");
    let metadata = file.tool("pdfinfo", &["-meta"], &[]);
    for mark in ["<pdfaid:part>3<", "<pdfaid:conformance>A<", "<pdfuaid:part>1<", "en-GB"] {
        assert!(metadata.contains(mark), "{mark} is not in {metadata}");
    }
    let fonts = file.tool("pdffonts", &[], &[]);
    assert!(fonts.lines().skip(2).all(|line| line.contains("SourceSans3") && line.contains("yes")));
}

#[test]
fn drawings_and_photos_are_described_for_those_who_cannot_see_them() {
    let made = made_with(&sample(), &|_| Some(picture(1, 80, 60)), PaperSize::A4).unwrap();
    let elements = reads_well(&made.pdf);
    let count = |kind: &str| elements.iter().filter(|element| element.kind == kind).count();
    // Plan and section, the dips of four layers, six photos.
    assert_eq!(count("Figure"), 2 + 4 + 6);
    assert!(count("TH") >= 30 && count("H1") >= 13, "{elements:?}");
}

#[test]
fn it_sets_on_letter_paper() {
    let made = made_with(&sample(), &|_| None, PaperSize::Letter).unwrap();
    let info = OnDisk::new(&made.pdf).tool("pdfinfo", &[], &[]);
    assert!(info.contains("612 x 792 pts (letter)"), "{info}");
    assert_eq!(pages(&made).len(), made.pages);
}

#[test]
fn the_same_record_makes_the_same_bytes() {
    let find = |_: &str| Some(picture(5, 400, 300));
    let once = made_with(&sample(), &find, PaperSize::A4).unwrap();
    let twice = made_with(&sample(), &find, PaperSize::A4).unwrap();
    assert!(once.pdf == twice.pdf, "two settings differ");
}

#[test]
fn a_preview_has_the_same_pages() {
    let made = made_with(&sample(), &|_| Some(picture(5, 400, 300)), PaperSize::A4).unwrap();
    let drawn: Vec<String> = (0..made.pages).map(|page| made.page(page).unwrap()).collect();
    assert!(drawn.iter().all(|page| page.starts_with("<svg")));
    assert_eq!(made.page(made.pages), None);
}

/// Wants no more after the first step.
struct Stop;

impl Watch for Stop {
    fn goes_on(&self, _: u32, _: u32) -> bool {
        false
    }
}

#[test]
fn a_record_of_many_photos_ends_when_it_is_stopped() {
    let mut record = sample();
    let one = record.photos.first().unwrap().clone();
    record.photos =
        (0..60).map(|n| RecordPhoto { sha256: format!("{n:064}"), ..one.clone() }).collect();
    let here = |_: &str| Ok(picture(5, 64, 48));
    let away = |_: &str| Err(NoPhoto::NotHere);
    for photos in [&here as Photos<'_>, &away] {
        let stopped = completion_record(&record, photos, PaperSize::A4, None, &Stop);
        assert!(matches!(stopped, Err(PapersError::Stopped)), "{stopped:?}");
    }
}

#[test]
fn a_record_without_a_date_is_refused() {
    let mut record = sample();
    record.made_at = "9 April".to_owned();
    let refused = made_with(&record, &|_| None, PaperSize::A4);
    assert!(matches!(refused, Err(PapersError::MadeAt(text)) if text == "9 April"));
}
