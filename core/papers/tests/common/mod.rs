//! A sample record, photos, and the tools that read a PDF back.

#![allow(dead_code, reason = "each file of tests uses its part")]

use std::io::Cursor;
use std::path::PathBuf;
use std::process::Command;

use fairfall_core::record::Record;
use fairfall_papers::{Made, NoPhoto, PaperSize, PapersError, Unwatched, completion_record};
use hayro_syntax::object::{Dict, Name, Object, String as PdfString};
use image::codecs::jpeg::JpegEncoder;
use image::{Rgb, RgbImage};
use tempfile::TempDir;

/// A garden path, invented from end to end.
pub fn sample() -> Record {
    serde_json::from_str(include_str!("../record.json")).unwrap()
}

/// The sample as a draft.
pub fn draft() -> Record {
    Record { number: None, replaces: None, changed_since: Vec::new(), ..sample() }
}

/// A record on A4 without photos at hand.
pub fn made(record: &Record) -> Made {
    made_with(record, &|_| None, PaperSize::A4).unwrap()
}

/// A record without a seal, with the photos that `find` finds.
pub fn made_with(
    record: &Record,
    find: &dyn Fn(&str) -> Option<Vec<u8>>,
    paper: PaperSize,
) -> Result<Made, PapersError> {
    let photos = |sha256: &str| find(sha256).ok_or(NoPhoto::NotHere);
    completion_record(record, &photos, paper, None, &Unwatched)
}

/// A picture as a phone keeps it: speckled ground in a gradient of light, which packs badly.
pub fn picture(seed: u32, width: u32, height: u32) -> Vec<u8> {
    let mut state = seed.wrapping_mul(2_654_435_761).wrapping_add(1);
    let picture = RgbImage::from_fn(width, height, |x, y| {
        state ^= state << 13;
        state ^= state >> 17;
        state ^= state << 5;
        let speck = (state % 60) as f32;
        let stone = (((x / 23) * 7 + (y / 17) * 13 + seed) % 11) as f32 * 9.0;
        let light = 60.0 + 80.0 * (x + y) as f32 / (width + height) as f32;
        let value = (speck + stone + light).min(255.0);
        Rgb([value as u8, (value * 0.94) as u8, (value * 0.85) as u8])
    });
    let mut bytes = Cursor::new(Vec::new());
    JpegEncoder::new_with_quality(&mut bytes, 82).encode_image(&picture).unwrap();
    bytes.into_inner()
}

/// A PDF in a folder of its own, to be read by tools.
pub struct OnDisk {
    _folder: TempDir,
    file: PathBuf,
}

impl OnDisk {
    pub fn new(pdf: &[u8]) -> OnDisk {
        let folder = tempfile::tempdir().unwrap();
        let file = folder.path().join("paper.pdf");
        std::fs::write(&file, pdf).unwrap();
        OnDisk { _folder: folder, file }
    }

    /// What a tool says of the file.
    pub fn tool(&self, tool: &str, before: &[&str], after: &[&str]) -> String {
        let run = Command::new(tool)
            .args(before)
            .arg(&self.file)
            .args(after)
            .output()
            .unwrap_or_else(|problem| panic!("{tool} did not run: {problem}"));
        let said = String::from_utf8_lossy(&run.stdout).into_owned();
        assert!(
            run.status.success(),
            "{tool} failed: {said}{}",
            String::from_utf8_lossy(&run.stderr)
        );
        said
    }
}

/// The text of a paper, page by page.
pub fn pages(made: &Made) -> Vec<String> {
    let text = OnDisk::new(&made.pdf).tool("pdftotext", &["-layout"], &["-"]);
    let mut pages: Vec<String> = text.split('\u{c}').map(str::to_owned).collect();
    assert_eq!(pages.pop().as_deref(), Some(""), "pdftotext ends every page");
    pages
}

/// The text of a paper in one line, single spaces, as a reader would search it.
pub fn text(made: &Made) -> String {
    let text = OnDisk::new(&made.pdf).tool("pdftotext", &[], &["-"]);
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// An element of a paper's structure, as a screen reader walks it.
#[derive(Debug, PartialEq)]
pub struct Element {
    /// Its kind: H1, Table, TH, Figure…
    pub kind: String,
    /// Its description.
    pub alt: Option<String>,
}

/// The structure of a paper in reading order, read by a library (ISO 32000-1, 14.7.2), with its
/// language.
pub fn structure(pdf: &[u8]) -> (String, Vec<Element>) {
    let pdf = hayro_syntax::Pdf::new(pdf.to_vec()).unwrap();
    let catalog = pdf.xref().get::<Dict<'_>>(pdf.xref().root_id()).unwrap();
    let marked = catalog.get::<Dict<'_>>("MarkInfo").and_then(|info| info.get::<bool>("Marked"));
    assert_eq!(marked, Some(true), "the paper is not tagged");
    let language = catalog.get::<PdfString<'_>>("Lang").unwrap();
    let mut elements = Vec::new();
    walk(&catalog.get::<Dict<'_>>("StructTreeRoot").unwrap(), &mut elements);
    (String::from_utf8_lossy(language.as_bytes()).into_owned(), elements)
}

fn walk(element: &Dict<'_>, elements: &mut Vec<Element>) {
    if let Some(kind) = element.get::<Name<'_>>("S") {
        let alt = element.get::<PdfString<'_>>("Alt");
        elements.push(Element {
            kind: kind.as_str().to_owned(),
            alt: alt.map(|alt| String::from_utf8_lossy(alt.as_bytes()).into_owned()),
        });
    }
    let below = match element.get::<Object<'_>>("K") {
        Some(Object::Array(all)) => all.iter::<Object<'_>>().collect(),
        Some(one) => vec![one],
        None => Vec::new(),
    };
    for object in below {
        if let Object::Dict(below) = object {
            walk(&below, elements);
        }
    }
}

/// What a reader relies on: headings that begin at the first level and skip none, and words for every
/// drawing and photo.
pub fn reads_well(pdf: &[u8]) -> Vec<Element> {
    let (language, elements) = structure(pdf);
    assert_eq!(language, "en-GB");
    let mut level = 0;
    for element in &elements {
        if let Some(next) = element.kind.strip_prefix('H').and_then(|n| n.parse::<u32>().ok()) {
            assert!(next <= level + 1, "a heading of level {next} follows one of {level}");
            level = next;
        }
        if element.kind == "Figure" {
            assert!(element.alt.as_ref().is_some_and(|alt| alt.len() > 8), "{element:?}");
        }
    }
    let count = |kind: &str| elements.iter().filter(|element| element.kind == kind).count();
    assert!(count("H1") > 0, "no heading");
    elements
}
