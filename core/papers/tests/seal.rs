//! Sealed records: what a seal holds, and every way it is broken.

// A test that cannot set the scene fails there and then.
#![allow(clippy::unwrap_used, clippy::panic, clippy::indexing_slicing)]

mod common;
#[path = "../../tests/common/mod.rs"]
mod diary;

use std::io::Write as _;
use std::sync::LazyLock;
use std::sync::atomic::{AtomicU32, Ordering};

use common::{OnDisk, picture};
use fairfall_core::api::Sealing;
use fairfall_core::diary::Entry;
use fairfall_core::job::fold;
use fairfall_core::record::{Record, Seal, build, diary_lines, qr_text, sha256};
use fairfall_core::store::DeviceKey;
use fairfall_papers::{
    Made, NoPhoto, PaperSize, PapersError, Unwatched, Verdict, Watch, completion_record, verify,
    verify_with_key,
};
use flate2::Compression;
use flate2::write::ZlibEncoder;
use serde_json::json;

/// A photo of the job by its number.
fn photo(number: u32) -> Vec<u8> {
    picture(number, 320, 240)
}

/// A job of an afternoon: dips, a slip undone, two photos.
fn entries() -> Vec<Entry> {
    let dip = |at: f64, reading: f64| {
        let place = json!({
            "layer": "formation", "from": "R1", "to": "F1", "at_m": at, "raise_mm": 100.0,
            "reading_mm": reading,
        });
        ("dip", place)
    };
    let photo = |number, stage: &str| {
        ("photo", json!({ "sha256": sha256(&photo(number)), "stage": stage, "caption": "Trench" }))
    };
    diary::diary([
        dip(0.3, 351.0),
        dip(0.6, 347.0),
        dip(0.9, 352.0),
        ("note", json!({ "text": "Rain from three; the trench is covered" })),
        photo(1, "excavate"),
        photo(2, "compact_formation"),
    ])
}

fn key(seed: u8) -> DeviceKey {
    DeviceKey::from_bytes(&[seed; 32])
}

fn record(entries: &[Entry]) -> Record {
    build(&fold(entries).unwrap(), entries, Some(1), diary::now(), "Mina Oakhurst")
}

fn sealing(entries: &[Entry], key: DeviceKey) -> Sealing {
    Sealing {
        job: entries[0].job,
        diary: diary_lines(entries).unwrap(),
        entries: u32::try_from(entries.len()).unwrap(),
        key,
    }
}

fn find(sha256: &str) -> Result<Vec<u8>, NoPhoto> {
    let kept = |number: &u32| fairfall_core::record::sha256(&photo(*number)) == sha256;
    (1..3).find(kept).map(photo).ok_or(NoPhoto::NotHere)
}

fn sealed(entries: &[Entry], key: DeviceKey) -> Made {
    let sealing = sealing(entries, key);
    completion_record(&record(entries), &find, PaperSize::A4, Some(&sealing), &Unwatched).unwrap()
}

/// One sealed record for all that break it.
static ISSUED: LazyLock<Vec<u8>> = LazyLock::new(|| sealed(&entries(), key(7)).pdf);

/// What of a verdict does not hold, in one text.
fn broken(verdict: &Verdict) -> String {
    assert_eq!(verdict.ok, verdict.checked.iter().all(|check| check.ok));
    let failed = verdict.checked.iter().filter(|check| !check.ok);
    failed.map(|check| check.what.as_str()).collect::<Vec<_>>().join(" | ")
}

fn position(file: &[u8], bytes: &[u8]) -> usize {
    let found: Vec<usize> = (0..file.len()).filter(|at| file[*at..].starts_with(bytes)).collect();
    assert_eq!(found.len(), 1, "{} places of {:?}", found.len(), String::from_utf8_lossy(bytes));
    found[0]
}

/// The file with some bytes written over others of the same length.
fn with(file: &[u8], was: &[u8], is: &[u8]) -> Vec<u8> {
    assert_eq!(was.len(), is.len());
    let at = position(file, was);
    [&file[..at], is, &file[at + is.len()..]].concat()
}

fn attached(file: &[u8], name: &str) -> Vec<u8> {
    OnDisk::new(file).tool("qpdf", &[&format!("--show-attachment={name}")], &[]).into_bytes()
}

#[test]
fn an_issue_carries_its_data_and_holds() {
    let verdict = verify(&ISSUED);
    assert!(verdict.ok, "{}", broken(&verdict));
    assert!(verdict.checked.len() >= 10, "{:#?}", verdict.checked);
    assert!(verdict.says.contains("issue 1, made by Mina Oakhurst"), "{}", verdict.says);
    assert_eq!(verdict.limits.len(), 5);
    assert!(verdict.notes.iter().any(|note| note.contains(&key(7).public())));
    // Another program reads the same diary out of it, and it lies there unpacked.
    let lines = diary_lines(&entries()).unwrap();
    assert_eq!(attached(&ISSUED, "diary.jsonl"), lines);
    position(&ISSUED, &lines);
    let listed = OnDisk::new(&ISSUED).tool("pdfdetach", &["-list"], &[]);
    assert!(listed.contains("diary.jsonl") && listed.contains("seal.json"), "{listed}");
    let checked = OnDisk::new(&ISSUED).tool("qpdf", &["--check"], &[]);
    assert!(checked.contains("No syntax or stream encoding errors found"), "{checked}");
}

#[test]
fn the_same_job_is_sealed_the_same() {
    assert!(sealed(&entries(), key(7)).pdf == *ISSUED, "two sealings differ");
}

#[test]
fn the_page_shows_digest_and_key_and_the_code_holds_both() {
    let seal: Seal = serde_json::from_slice(&attached(&ISSUED, "seal.json")).unwrap();
    let disk = OnDisk::new(&ISSUED);
    let text: String = disk.tool("pdftotext", &["-raw"], &["-"]).split_whitespace().collect();
    assert!(text.contains(&seal.digest) && text.contains(&key(7).public()));
    // The code is read off the page as a phone would, by a reader of bar codes.
    let last = sealed(&entries(), key(7)).pages.to_string();
    let folder = tempfile::tempdir().unwrap();
    let picture = folder.path().join("seal");
    let picture = picture.to_str().unwrap();
    let page = ["-gray", "-r", "150", "-f", &last, "-png", "-singlefile"];
    disk.tool("pdftoppm", &page, &[picture]);
    let codes = std::process::Command::new("zbarimg")
        .args(["--nodbus", "--quiet", "--raw"])
        .arg(format!("{picture}.png"))
        .output()
        .unwrap();
    let codes = String::from_utf8(codes.stdout).unwrap();
    assert_eq!(codes.trim_end(), qr_text(&seal.digest, &key(7).public()));
}

#[test]
fn a_preview_shows_the_seal_too() {
    let made = sealed(&entries(), key(7));
    // The page with the seal is the last; its QR code is drawn there.
    let shown = made.page(made.pages - 1).unwrap();
    assert!(shown.starts_with("<svg") && shown.contains("<image"), "{shown}");
}

#[test]
fn one_changed_digit_in_the_data_is_found() {
    let changed = with(&ISSUED, b"\"reading_mm\":347.0", b"\"reading_mm\":346.0");
    let broken = broken(&verify(&changed));
    for words in ["diary is not as it was sealed", "was changed after it was written", "figures"] {
        assert!(broken.contains(words), "{words:?} is missing in {broken}");
    }
}

#[test]
fn one_entry_dropped_is_found() {
    let lines = diary_lines(&entries()).unwrap();
    let line = lines.split_inclusive(|byte| *byte == b'\n').nth(2).unwrap();
    let dropped = with(&ISSUED, line, &vec![b'\n'; line.len()]);
    let broken = broken(&verify(&dropped));
    for words in ["not hold the 7 entries", "does not follow the one before it", "figures"] {
        assert!(broken.contains(words), "{words:?} is missing in {broken}");
    }
}

#[test]
fn two_entries_swapped_are_found() {
    let lines = diary_lines(&entries()).unwrap();
    let lines: Vec<&[u8]> = lines.split_inclusive(|byte| *byte == b'\n').collect();
    let swapped = [lines[2], lines[1]].concat();
    let broken = broken(&verify(&with(&ISSUED, &[lines[1], lines[2]].concat(), &swapped)));
    assert!(broken.contains("diary is not as it was sealed"), "{broken}");
    // Their places in the chain swapped as well.
    let one = String::from_utf8(lines[1].to_vec()).unwrap();
    let other = one.replace("\"seq\":2", "\"seq\":3");
    let broken = self::broken(&verify(&with(&ISSUED, one.as_bytes(), other.as_bytes())));
    assert!(broken.contains("chains do not hold"), "{broken}");
}

/// The file as another program saves it, its content to be edited by hand, with one edit.
fn edited(file: &[u8], edit: impl Fn(Vec<u8>) -> Vec<u8>) -> Vec<u8> {
    let folder = tempfile::tempdir().unwrap();
    let [from, to] = ["from.pdf", "to.pdf"].map(|name| folder.path().join(name));
    std::fs::write(&from, file).unwrap();
    let paths = [from.to_str().unwrap(), to.to_str().unwrap()];
    let run = std::process::Command::new("qpdf")
        .args(["--qdf", "--object-streams=disable"])
        .args(paths)
        .status()
        .unwrap();
    assert!(run.success());
    edit(std::fs::read(to).unwrap())
}

/// Swaps two codes of neighbouring signs in the longest run of a page that holds them: a figure such
/// as 16.24 becomes another of the same signs.
fn with_signs_swapped(mut file: Vec<u8>) -> Vec<u8> {
    // In this form a shown text is `[<0012001300…>` or `(…)` before TJ or Tj.
    let at = (0..file.len() - 60)
        .find(|at| file[*at] == b'<' && file[at + 1..at + 25].iter().all(u8::is_ascii_hexdigit))
        .unwrap();
    let (one, two) = (file[at + 1..at + 5].to_vec(), file[at + 5..at + 9].to_vec());
    assert_ne!(one, two);
    file[at + 1..at + 5].copy_from_slice(&two);
    file[at + 5..at + 9].copy_from_slice(&one);
    file
}

#[test]
fn a_changed_figure_on_a_page_is_found() {
    // Saved again by another program and nothing changed: what it says still stands.
    let saved = broken(&verify(&edited(&ISSUED, |file| file)));
    assert!(saved.starts_with("The file is not byte for byte") && !saved.contains('|'), "{saved}");
    let changed = broken(&verify(&edited(&ISSUED, with_signs_swapped)));
    for words in ["text is not as it was sealed on these pages: ", "figures are not those on"] {
        assert!(changed.contains(words), "{words:?} is missing in {changed}");
    }
}

#[test]
fn a_record_of_other_figures_with_this_seal_is_found() {
    // The forger sets the paper anew with one figure changed and puts the true seal and diary in.
    let mut forged = record(&entries());
    forged.dips[0].reading_mm = 301.0;
    let other = sealing(&entries(), key(7));
    let made = completion_record(&forged, &find, PaperSize::A4, Some(&other), &Unwatched);
    // The program does not seal what its data does not say.
    assert!(matches!(&made, Err(PapersError::Seal(why)) if why.contains("figures")), "{made:?}");
}

#[test]
fn a_photo_replaced_is_found() {
    let at = (0..ISSUED.len()).find(|at| ISSUED[*at..].starts_with(&[0xFF, 0xD8, 0xFF])).unwrap();
    let length = ISSUED[at..].windows(2).position(|pair| pair == [0xFF, 0xD9]).unwrap() + 2;
    // Another picture, with empty bytes after its end up to the length of the first.
    let mut other = picture(9, 64, 48);
    assert!(other.len() < length);
    other.resize(length, 0);
    let changed = [&ISSUED[..at], &other, &ISSUED[at + length..]].concat();
    let broken = broken(&verify(&changed));
    assert!(broken.contains("Photos are not as they were sealed: 1."), "{broken}");
}

#[test]
fn a_signature_from_another_key_is_found() {
    let written = attached(&ISSUED, "seal.json");
    let seal: Seal = serde_json::from_slice(&written).unwrap();
    let digest = seal.sealed.digest().unwrap();
    let other = Seal { signature: key(8).sign(&digest), ..seal };
    let changed = with(&ISSUED, &written, &serde_json::to_vec(&other).unwrap());
    let broken = broken(&verify(&changed));
    assert!(broken.contains("another key signed it"), "{broken}");
    // All of it sealed anew with another key holds together: only the key tells them apart.
    let resealed = sealed(&entries(), key(8)).pdf;
    assert!(verify(&resealed).ok);
    assert!(verify_with_key(&ISSUED, &key(7).public()).ok);
    let broken = self::broken(&verify_with_key(&resealed, &key(7).public()));
    assert_eq!(broken, "The key is not the one that was expected.");
}

#[test]
fn what_is_no_whole_record_is_told_apart() {
    let cut = broken(&verify(&ISSUED[..ISSUED.len() / 2]));
    assert!(cut.contains("breaks off"), "{cut}");
    for bytes in [&b""[..], b"%PD", b"Dips of Tuesday", &photo(1)] {
        let none = broken(&verify(bytes));
        assert!(none.contains("the file is no PDF"), "{none}");
    }
    let bare = broken(&verify(b"%PDF-1.7\n%%EOF\n"));
    assert!(bare.contains("is damaged"), "{bare}");
    let draft = completion_record(&record(&entries()), &find, PaperSize::A4, None, &Unwatched);
    let draft = broken(&verify(&draft.unwrap().pdf));
    assert!(draft.contains("it is a draft") && draft.contains("no paper of ours"), "{draft}");
}

/// A PDF of one empty page with two attached files, written by hand (ISO 32000-1, 7.5 and 7.11.4).
fn with_attached(files: [(&str, Vec<u8>); 2]) -> Vec<u8> {
    let [(one, first), (two, second)] = files;
    let file = |data: &[u8]| {
        let head = format!("<< /Type /EmbeddedFile /Filter /FlateDecode /Length {} >>", data.len());
        [head.as_bytes(), b"\nstream\n", data, b"\nendstream"].concat()
    };
    let specification = |name: &str, file: u32| {
        format!("<< /Type /Filespec /F ({name}) /EF << /F {file} 0 R >> >>").into_bytes()
    };
    let objects = [
        b"<< /Type /Catalog /Pages 2 0 R >>".to_vec(),
        b"<< /Type /Pages /Kids [3 0 R] /Count 1 >>".to_vec(),
        b"<< /Type /Page /Parent 2 0 R /MediaBox [0 0 200 200] >>".to_vec(),
        specification(one, 6),
        specification(two, 7),
        file(&first),
        file(&second),
    ];
    let mut pdf = b"%PDF-1.7\n".to_vec();
    let mut offsets = String::new();
    for (index, object) in objects.iter().enumerate() {
        offsets.push_str(&format!("{:010} 00000 n \n", pdf.len()));
        writeln!(pdf, "{} 0 obj", index + 1).unwrap();
        pdf.extend_from_slice(object);
        pdf.extend_from_slice(b"\nendobj\n");
    }
    let xref = pdf.len();
    let count = objects.len() + 1;
    write!(
        pdf,
        "xref\n0 {count}\n0000000000 65535 f \n{offsets}trailer\n<< /Size {count} /Root 1 0 R >>\n\
         startxref\n{xref}\n%%EOF\n"
    )
    .unwrap();
    pdf
}

fn zeros(megabytes: usize) -> Vec<u8> {
    let mut packed = ZlibEncoder::new(Vec::new(), Compression::best());
    for _ in 0..megabytes {
        packed.write_all(&[b' '; 1 << 20]).unwrap();
    }
    packed.finish().unwrap()
}

#[test]
fn attached_data_that_unfolds_without_end_is_refused() {
    let bomb = with_attached([("diary.jsonl", zeros(400)), ("seal.json", zeros(1))]);
    assert!(bomb.len() < 1 << 20);
    let refused = broken(&verify(&bomb));
    assert!(refused.contains("unfolds to more than 256 MB"), "{refused}");
    // Within what a file may unfold to, but no diary is so large.
    let large = with_attached([("diary.jsonl", zeros(80)), ("seal.json", zeros(1))]);
    let refused = broken(&verify(&large));
    assert!(refused.contains("larger than 64 MB"), "{refused}");
    let twice = with_attached([("diary.jsonl", zeros(1)), ("diary.jsonl", zeros(1))]);
    assert!(broken(&verify(&twice)).contains("not in this file, each once"));
}

#[test]
fn no_byte_can_be_changed_unnoticed() {
    let mut state = 12_345_u64;
    let mut chance = |most: usize| {
        state =
            state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        usize::try_from(state >> 33).unwrap() % most
    };
    for _ in 0..120 {
        let mut file = ISSUED.clone();
        let (at, bit) = (chance(file.len()), chance(8));
        file[at] ^= 1 << bit;
        assert!(!verify(&file).ok, "bit {bit} of byte {at} was changed");
    }
}

/// Stops after so many steps, and counts them.
struct StopsAfter(u32, AtomicU32);

impl Watch for StopsAfter {
    fn goes_on(&self, done: u32, of: u32) -> bool {
        assert!(done <= of);
        self.1.fetch_max(done, Ordering::Relaxed);
        done < self.0
    }
}

#[test]
fn a_paper_in_the_making_tells_its_steps_and_can_be_stopped() {
    let entries = entries();
    let sealing = sealing(&entries, key(7));
    let make = |watch: &StopsAfter| {
        completion_record(&record(&entries), &find, PaperSize::A4, Some(&sealing), watch)
    };
    // Two photos, two settings, the seal.
    let whole = StopsAfter(100, AtomicU32::new(0));
    assert!(make(&whole).is_ok());
    assert_eq!(whole.1.load(Ordering::Relaxed), 5);
    for steps in 1..=5 {
        let stopped = make(&StopsAfter(steps, AtomicU32::new(0)));
        assert!(matches!(stopped, Err(PapersError::Stopped)), "not stopped after {steps}");
    }
}
