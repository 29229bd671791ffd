//! Setting-out sheet, order list, care sheet and change note, read back from the PDF.

// A test that cannot set the scene fails there and then.
#![allow(clippy::unwrap_used, clippy::panic, clippy::indexing_slicing)]

mod common;
#[path = "../../tests/common/mod.rs"]
mod diary;

use common::{OnDisk, pages, picture, text};
use fairfall_core::diary::Entry;
use fairfall_core::job::fold;
use fairfall_core::plan::Plan;
use fairfall_core::record::{
    CareSheet, ChangeNote, OrderList, SettingOut, care_sheet, change_note, order_list, setting_out,
    sha256,
};
use fairfall_papers::{Made, NoPhoto, PaperSize, PapersError, Sheet, Unwatched, Watch, sheet};
use hayro_syntax::Pdf;
use hayro_syntax::content::ops::TypedInstruction;
use serde_json::json;

const PLAN: &str = include_str!("../../../fixtures/demo/garden-path.json");

fn set_out() -> SettingOut {
    setting_out(&Plan::parse(PLAN).unwrap(), diary::now()).unwrap()
}

fn made(what: &Sheet<'_>) -> Made {
    sheet(what, PaperSize::A4, &Unwatched).unwrap()
}

fn job() -> Vec<Entry> {
    let strokes = json!([[[100, 200], [500, 100], [900, 300]], [[400, 380]]]);
    diary::diary([
        (
            "change",
            json!({
                "what": "Old concrete under the turf", "quantity": 0.45, "unit": "m3",
                "rate_minor": 9650, "currency": "GBP", "photo": sha256(&picture(3, 400, 300)),
                "agreed": "On site with the customer",
            }),
        ),
        (
            "signature",
            json!({
                "paper": "change_note", "change": uuid::Uuid::from_u128(2), "name": "Odile Farrow",
                "role": "customer", "strokes": strokes,
            }),
        ),
    ])
}

fn note() -> ChangeNote {
    let entries = job();
    let state = fold(&entries).unwrap();
    change_note(&state, &entries, &state.changes[0], diary::now())
}

fn care() -> CareSheet {
    care_sheet(&fold(&job()).unwrap(), diary::now())
}

#[test]
fn every_pin_has_its_figures_on_the_sheet() {
    let sheet = set_out();
    let pages = pages(&made(&Sheet::SettingOut { sheet: &sheet, templates: false }));
    let lines: Vec<String> = pages
        .iter()
        .flat_map(|page| page.lines())
        .map(|line| line.split_whitespace().collect::<Vec<_>>().join(" "))
        .collect();
    assert_eq!(sheet.pins.len(), 10);
    for pin in &sheet.pins {
        let [first, far] = pin.ties_m.unwrap();
        let wanted = [
            format!("{} {:.3} {:.3}", pin.name, pin.x_m, pin.y_m.abs()),
            format!("{first:.3} {far:.3} {:.0}", pin.mark.mm),
            format!(" {:.0}", pin.dig_mm),
        ];
        let row = lines.iter().find(|line| wanted.iter().all(|part| line.contains(part)));
        assert!(row.is_some(), "{wanted:?} is in no line of {lines:#?}");
    }
    let whole = lines.join(" ");
    for line in sheet.strings.iter().chain(&sheet.diagonals) {
        let row = format!("{} to {} {:.3}", line.from, line.to, line.length_m);
        assert!(whole.contains(&row), "{row:?} is missing");
    }
    for arc in &sheet.arcs {
        let row = format!(
            "radius {:.3} m, chord {:.3} m, rise {:.0} mm",
            arc.radius_m, arc.chord_m, arc.mid_ordinate_mm
        );
        assert!(whole.contains(&row), "{row:?} is missing");
    }
    for words in ["Sub-base, lift 2", "Graded crushed stone", "175 250", "board 1.200 m"] {
        assert!(whole.contains(words), "{words:?} is missing");
    }
}

/// The straight lines that a page draws, in millimetres on the sheet.
fn lines(page: &hayro_syntax::page::Page<'_>) -> Vec<[[f64; 2]; 2]> {
    let mut stack = Vec::new();
    let mut now = [1.0, 0.0, 0.0, 1.0, 0.0, 0.0];
    let (mut pen, mut found) = ([0.0; 2], Vec::new());
    let mut operations = page.typed_operations();
    while let Some(operation) = operations.next() {
        // A place under the transformation in force (ISO 32000-1, 8.3.4).
        let place = |x: f64, y: f64, [a, b, c, d, e, f]: [f64; 6]| {
            [a * x + c * y + e, b * x + d * y + f].map(|points| points * 25.4 / 72.0)
        };
        match operation {
            TypedInstruction::SaveState(_) => stack.push(now),
            TypedInstruction::RestoreState(_) => now = stack.pop().unwrap(),
            TypedInstruction::Transform(t) => {
                let [a, b, c, d, e, f] = now;
                let [ta, tb, tc, td, te, tf] = [t.0, t.1, t.2, t.3, t.4, t.5].map(|n| n.as_f64());
                now = [
                    a * ta + c * tb,
                    b * ta + d * tb,
                    a * tc + c * td,
                    b * tc + d * td,
                    a * te + c * tf + e,
                    b * te + d * tf + f,
                ];
            }
            TypedInstruction::MoveTo(to) => pen = place(to.0.as_f64(), to.1.as_f64(), now),
            TypedInstruction::LineTo(to) => {
                let end = place(to.0.as_f64(), to.1.as_f64(), now);
                found.push([pen, end]);
                pen = end;
            }
            _ => {}
        }
    }
    found
}

fn length([[ax, ay], [bx, by]]: [[f64; 2]; 2]) -> f64 {
    (bx - ax).hypot(by - ay)
}

/// How exactly a printed length is asked for: a tenth of what a saw cuts to.
const EXACT_MM: f64 = 0.02;

fn is(length: f64, wanted: f64) -> bool {
    (length - wanted).abs() < EXACT_MM
}

#[test]
fn templates_are_at_their_true_size() {
    for size in [PaperSize::A4, PaperSize::Letter] {
        let out = set_out();
        let made =
            sheet(&Sheet::SettingOut { sheet: &out, templates: true }, size, &Unwatched).unwrap();
        let pdf = Pdf::new(made.pdf).unwrap();
        let wide: Vec<_> = pdf.pages().iter().filter(|p| p.media_box().width() > 700.0).collect();
        let drawn: Vec<[[f64; 2]; 2]> = wide.iter().flat_map(|page| lines(page)).collect();
        let level = |line: &&[[f64; 2]; 2]| (line[0][1] - line[1][1]).abs() < 0.01;
        // A line of 100 mm to check by on each of ten sheets.
        let checks = drawn.iter().filter(level).filter(|l| is(length(**l), 100.0)).count();
        assert_eq!(checks, 10, "{size:?}");
        // Marks 240 mm apart where sheets meet on both sides: crosses 8 mm wide.
        let crosses: Vec<[f64; 2]> = drawn
            .iter()
            .filter(level)
            .filter(|line| is(length(**line), 8.0))
            .map(|[a, b]| [f64::midpoint(a[0], b[0]), a[1]])
            .collect();
        assert_eq!(crosses.len(), 2 * (4 * 2 + 4 * 2));
        let apart =
            |a: &[f64; 2], b: &[f64; 2]| (a[1] - b[1]).abs() < 0.01 && is(b[0] - a[0], 240.0);
        let pairs = crosses.iter().map(|a| crosses.iter().filter(|b| apart(a, b)).count());
        assert!(pairs.sum::<usize>() >= 2 * (3 + 3), "{crosses:?}");
        // The ordinate at the middle of each board is as long as the core says it is.
        for template in &out.templates {
            let rise = template.inside[0].mm;
            let upright = |line: &&[[f64; 2]; 2]| (line[0][0] - line[1][0]).abs() < 0.01;
            let found = drawn.iter().filter(upright).any(|line| is(length(*line), rise));
            assert!(found, "no ordinate of {rise} mm");
        }
        // The straight edge of a middle sheet is 240 mm.
        assert!(drawn.iter().filter(level).any(|line| is(length(*line), 240.0)));
    }
}

#[test]
fn a_change_note_says_what_was_agreed_and_shows_who_signed() {
    let find = |_: &str| Ok(picture(3, 400, 300));
    let note = note();
    let signed = made(&Sheet::ChangeNote { note: &note, photos: &find });
    let text = text(&signed);
    for words in [
        "Change note 1",
        "Old concrete under the turf",
        "0.45 m³",
        "96.50 GBP",
        "43.43 GBP",
        "On site with the customer",
        "Signed before this work goes on",
        "Odile Farrow",
        "Back garden, 9 Thornlea Rise",
    ] {
        assert!(text.contains(words), "{words:?} is missing in {text}");
    }
    // One signature is drawn, the other has lines to sign on.
    assert_eq!(text.matches("Signed Date").count() + text.matches("Date").count(), 1, "{text}");
    assert_eq!(signed.pages, 1);
    let images = OnDisk::new(&signed.pdf).tool("pdfimages", &["-list"], &[]);
    assert_eq!(images.lines().filter(|line| line.contains(" jpeg ")).count(), 1);
    // The strokes are lines of the page, not a picture: 60 mm wide for 1000.
    let pdf = Pdf::new(signed.pdf).unwrap();
    let drawn = lines(&pdf.pages()[0]);
    let stroke = (24.0_f64).hypot(6.0);
    assert!(drawn.iter().any(|line| is(length(*line), stroke)), "no stroke of {stroke} mm");
    for (why, words) in [
        (NoPhoto::NotHere, "photo not on this phone"),
        (NoPhoto::Changed, "photo is not as it was kept"),
    ] {
        let none = |_: &str| Err(why);
        let made = made(&Sheet::ChangeNote { note: &note, photos: &none });
        assert!(common::text(&made).contains(words));
    }
}

#[test]
fn a_care_sheet_fits_a_page_and_calls_itself_general() {
    for size in [PaperSize::A4, PaperSize::Letter] {
        let made = sheet(&Sheet::Care(&care()), size, &Unwatched).unwrap();
        assert_eq!(made.pages, 1, "{size:?}");
        let text = text(&made);
        for words in [
            "General advice on looking after block paving",
            "makers’ own instructions",
            "about 19 May 2026",
            "When to call",
            "Use as little salt as will do",
        ] {
            let plain = words.replace('’', "'");
            assert!(text.contains(words) || text.contains(&plain), "{words:?} is missing: {text}");
        }
    }
}

/// The order of the garden path from two suppliers, with stone delivered.
fn ordered() -> OrderList {
    let mut plan: serde_json::Value = serde_json::from_str(PLAN).unwrap();
    plan["orders"] = json!({ "currency": "GBP", "offers": [
        { "what": "sub_base", "supplier": "Harrow Lane Yard", "sold_in": "bulk_bag", "holds_kg": 850, "price_minor": 5200 },
        { "what": "bed", "supplier": "Harrow Lane Yard", "sold_in": "bulk_bag", "holds_kg": 850, "price_minor": 4800 },
        { "what": "sub_base", "supplier": "Pit & Quay", "sold_in": "tonne", "price_minor": 3850 },
    ] });
    let entries = diary::diary([
        ("plan", json!({ "plan": plan })),
        (
            "delivery",
            json!({ "what": "Graded crushed stone", "quantity": 3.4, "unit": "t", "ticket": "40417" }),
        ),
        ("delivery", json!({ "what": "Timber pegs", "quantity": 12, "unit": "pieces" })),
    ]);
    order_list(&fold(&entries).unwrap(), diary::now())
}

#[test]
fn an_order_list_says_how_many_what_is_left_and_what_it_costs() {
    let list = ordered();
    // Small lettering is read back with some of its spaces or without.
    let close = |text: &str| text.split_whitespace().collect::<String>();
    let text = close(&text(&made(&Sheet::OrderList(&list))));
    // Hand arithmetic: 4.709 t of stone and 5 % are 4.944 t: six bags of 850 kg hold 5.1 t, 156 kg
    // over; 6 at 52.00 are 312.00. Loose by the tonne it takes five, at 38.50: 192.50. Sand for the
    // bed, 1.01 t and 5 %: two bags, 96.00. Both together 408.00. Of the stone 3.4 t came.
    for words in [
        "Order list, made on 7 Apr 2026",
        "Back garden, 9 Thornlea Rise",
        "Harrow Lane Yard",
        "4.71 t",
        "+ 5 %",
        "6 bulk bags",
        "of 850 kg",
        "155.7 kg",
        "52.00 GBP",
        "312.00 GBP",
        "2 bulk bags",
        "96.00 GBP",
        "The whole order: 408.00 GBP.",
        "lines have no price",
        "Pit & Quay",
        "5 tonnes, loose",
        "192.50 GBP",
        "3.4 t came, 1.31 t still missing",
        "40417",
        "Timber pegs",
        "not on the order",
        "Orders: allowance: sub base",
    ] {
        assert!(text.contains(&close(words)), "{words:?} is missing in {text}");
    }
    // Every line of the core's list is on the paper, under its supplier.
    for from in &list.suppliers {
        for line in &from.lines {
            for words in [&line.what, &line.need, &line.order, &line.left_over] {
                assert!(text.contains(&close(words)), "{words:?} is missing in {text}");
            }
        }
    }
    assert!(!text.contains("Rates"), "hours change nothing that is ordered");
}

#[test]
fn a_name_that_was_typed_is_not_passed_off_as_a_signature() {
    let mut note = note();
    note.signatures[0].strokes = Vec::new();
    let none = |_: &str| Err(NoPhoto::NotHere);
    let made = made(&Sheet::ChangeNote { note: &note, photos: &none });
    let text = text(&made);
    assert!(text.contains("name typed on the phone, not drawn"), "{text}");
    assert!(text.contains("Odile Farrow"));
}

#[test]
fn a_sheet_that_is_stopped_is_not_made() {
    struct Stop;
    impl Watch for Stop {
        fn goes_on(&self, _: u32, _: u32) -> bool {
            false
        }
    }
    let stopped = sheet(&Sheet::Care(&care()), PaperSize::A4, &Stop);
    assert!(matches!(stopped, Err(PapersError::Stopped)));
}

#[test]
fn every_sheet_is_sound_tagged_and_previewed() {
    let (out, note, care, list) = (set_out(), note(), care(), ordered());
    let none = |_: &str| Err(NoPhoto::NotHere);
    let sheets = [
        Sheet::SettingOut { sheet: &out, templates: true },
        Sheet::ChangeNote { note: &note, photos: &none },
        Sheet::Care(&care),
        Sheet::OrderList(&list),
    ];
    for what in &sheets {
        for size in [PaperSize::A4, PaperSize::Letter] {
            let made = sheet(what, size, &Unwatched).unwrap();
            let file = OnDisk::new(&made.pdf);
            let checked = file.tool("qpdf", &["--check"], &[]);
            assert!(checked.contains("No syntax or stream encoding errors found"), "{checked}");
            let info = file.tool("pdfinfo", &[], &[]);
            assert!(info.contains("Tagged:          yes"), "{info}");
            assert!(file.tool("pdfinfo", &["-meta"], &[]).contains("<pdfuaid:part>1<"));
            let elements = common::reads_well(&made.pdf);
            assert!(elements.iter().any(|element| element.kind == "Table"), "{elements:?}");
            assert!((0..made.pages).all(|page| made.page(page).is_some()));
        }
    }
}

#[test]
fn what_people_type_is_set_as_typed_and_covered() {
    let hostile = "#panic(\"x\") *a* _b_ @c $d^2$ <e> \\f Żółć Ευανθία Љубица";
    let mut note = note();
    note.what = hostile.to_owned();
    note.signatures[0].name = hostile.to_owned();
    let none = |_: &str| Err(NoPhoto::NotHere);
    let text = text(&made(&Sheet::ChangeNote { note: &note, photos: &none }));
    assert!(text.matches(hostile).count() >= 2, "{text}");
}
