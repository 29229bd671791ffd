//! Sealing a paper, and reading a sealed one back.
//!
//! A paper states on its own pages the digest that covers those pages. It is therefore set twice: once
//! with a stand-in for the digest, read back, and digested; then with the digest. What is sealed of a
//! page is its text without the digest, which is the same both times; the sealed paper is verified
//! before it is handed out, so a paper whose seal would not hold is never issued.
//!
//! The typesetter packs what is attached, and knows it too early: the files are attached as stand-ins
//! of the same length that cannot be packed, and are put in their place when the file is written.

mod bounds;
mod qr;
pub(crate) mod reader;
mod verify;

use fairfall_core::api::Sealing;
use fairfall_core::record::{
    DIARY_FILE, SEAL_FILE, Seal, Sealed, SealedDiary, SealedPhoto, normalised, sha256,
};
use serde::Serialize;
use sha2::{Digest, Sha256};
use typst::foundations::Bytes;

use crate::error::PapersError;
use crate::paper::Made;
pub use bounds::LARGEST_FILE;
pub(crate) use verify::Reset;
pub use verify::{Checked, Verdict, verify, verify_with_key};

/// Stands on the page for a digest that is not known yet. It has every digit, so that the faces in
/// the file are the same before and after.
const NO_DIGEST: &str = "0123456789abcdef0123456789abcdef0123456789abcdef0123456789abcdef";

/// The seal as it stands on the page.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Stamp {
    /// The digest, 64 digits.
    pub(crate) digest: String,
    /// The public key, 64 digits.
    pub(crate) key: String,
    /// How many entries are attached.
    pub(crate) entries: u32,
}

/// What the template prints of a seal.
#[derive(Debug, Serialize)]
pub(crate) struct StampWords {
    digest: Vec<String>,
    key: Vec<String>,
    entries: String,
    cannot: Vec<String>,
    pub(crate) qr: &'static str,
}

/// The file that the template reads the QR code from.
const QR_FILE: &str = "seal-qr.svg";

impl Stamp {
    /// As the page shows it.
    pub(crate) fn words(&self) -> StampWords {
        StampWords {
            digest: groups(&self.digest),
            key: groups(&self.key),
            entries: crate::words::count(self.entries, "entry", "entries"),
            cannot: limits(),
            qr: QR_FILE,
        }
    }

    /// The QR code as a file.
    ///
    /// # Errors
    /// [`PapersError::Seal`] where it does not fit a QR code: a fault of this program.
    pub(crate) fn files(&self) -> Result<Vec<(String, Bytes)>, PapersError> {
        let code = qr::svg(&fairfall_core::record::qr_text(&self.digest, &self.key))?;
        Ok(vec![(QR_FILE.to_owned(), Bytes::from_string(code))])
    }
}

/// What a seal cannot prove, a sentence each.
pub(crate) fn limits() -> Vec<String> {
    (1..=5).map(|n| fairfall_core::words::word(&format!("seal.limit.{n}"))).collect()
}

/// Digits in groups of eight.
fn groups(digits: &str) -> Vec<String> {
    let digits: Vec<char> = digits.chars().collect();
    digits.chunks(8).map(|group| group.iter().collect()).collect()
}

/// What of a paper is sealed beside its diary and its pages.
pub(crate) struct ToSeal {
    pub(crate) paper: &'static str,
    pub(crate) number: u32,
    pub(crate) made_at: String,
    pub(crate) made_by: String,
    pub(crate) size: &'static str,
    pub(crate) photos: Vec<SealedPhoto>,
}

/// Seals a paper. `set` sets it with a stamp and attached files.
///
/// # Errors
/// Those of `set`; [`PapersError::Seal`] where the seal would not hold, which is a fault of this
/// program.
pub(crate) fn seal(
    sealing: &Sealing,
    what: ToSeal,
    set: impl Fn(&Stamp, Vec<(String, Bytes)>) -> Result<Made, PapersError>,
    again: Reset<'_>,
) -> Result<Made, PapersError> {
    let stamp = |digest: &str| Stamp {
        digest: digest.to_owned(),
        key: sealing.key.public(),
        entries: sealing.entries,
    };
    let broken = |why: &dyn std::fmt::Display| PapersError::Seal(why.to_string());
    let diary = stand_in(DIARY_FILE, sealing.diary.len());
    let attached = |seal: &[u8]| {
        vec![
            (DIARY_FILE.to_owned(), Bytes::new(diary.clone())),
            (SEAL_FILE.to_owned(), Bytes::new(seal.to_vec())),
        ]
    };
    let before = set(&stamp(NO_DIGEST), attached(&stand_in(SEAL_FILE, 1024)))?.pdf;
    let pages = reader::read(&before).map_err(|error| broken(&error))?.pages;
    drop(before);
    let sealed = Sealed {
        paper: what.paper.to_owned(),
        program: env!("CARGO_PKG_VERSION").to_owned(),
        job: sealing.job,
        number: what.number,
        made_at: what.made_at,
        made_by: what.made_by,
        size: what.size.to_owned(),
        diary: SealedDiary { sha256: sha256(&sealing.diary), entries: sealing.entries },
        pages: pages.iter().map(|text| page_digest(text, NO_DIGEST)).collect(),
        photos: what.photos,
        key: sealing.key.public(),
    };
    let seal = Seal::new(sealed, &sealing.key)?;
    let length = serde_json::to_vec(&seal)?.len();
    let hole = stand_in(SEAL_FILE, length);
    let stamp = stamp(&seal.digest);
    let mut made = set(&stamp, attached(&hole))?;
    put(&mut made.pdf, &diary, &sealing.diary)?;
    let spaces = vec![b' '; length];
    let at = put(&mut made.pdf, &hole, &spaces)?;
    let seal = seal.over_file(&Sha256::digest(&made.pdf).into(), &sealing.key);
    let seal = serde_json::to_vec(&seal)?;
    let place = made.pdf.get_mut(at..at + length).filter(|place| place.len() == seal.len());
    place.ok_or_else(|| broken(&"the seal has another length"))?.copy_from_slice(&seal);
    let verdict = verify::check(&made.pdf, None, again);
    match verdict.checked.iter().find(|check| !check.ok) {
        None => Ok(made),
        Some(check) => Err(broken(&check.what)),
    }
}

/// The digest of a page's text, the seal's own digest left out.
fn page_digest(text: &str, digest: &str) -> String {
    sha256(normalised(text, digest).as_bytes())
}

/// Bytes that no packing makes smaller, the same every time: SHA-256 of a name and a count.
fn stand_in(name: &str, length: usize) -> Vec<u8> {
    let block = |count: u64| Sha256::digest([name.as_bytes(), &count.to_be_bytes()].concat());
    (0_u64..).flat_map(block).take(length).collect()
}

/// Puts bytes where a stand-in of the same length is, and says where.
fn put(file: &mut [u8], stand_in: &[u8], bytes: &[u8]) -> Result<usize, PapersError> {
    let missing = || PapersError::Seal("an attached file is not in its place".to_owned());
    let at = verify::place(file, stand_in).ok_or_else(missing)?;
    let place = file.get_mut(at..at + stand_in.len()).filter(|place| place.len() == bytes.len());
    place.ok_or_else(missing)?.copy_from_slice(bytes);
    Ok(at)
}
