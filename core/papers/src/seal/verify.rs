//! Whether a sealed paper is as it was issued.

use fairfall_core::diary::{Entry, check_chains};
use fairfall_core::job::fold;
use fairfall_core::record::{
    DIARY_FILE, LARGEST_DIARY_BYTES, LARGEST_SEAL_BYTES, Record, SEAL_FILE, Seal, Sealed, build,
    read_diary_lines, sha256,
};
use fairfall_core::words::{Phrase, Value};
use serde::Serialize;
use sha2::{Digest, Sha256};

use super::reader::{self, Contents};
use super::{Stamp, limits, page_digest};
use crate::error::PapersError;
use crate::words;

/// Sets the pages of a record anew, with the pictures that were printed, and gives their text.
pub(crate) type Reset<'a> =
    &'a dyn Fn(&Record, &Sealed, &[Vec<u8>], &Stamp) -> Result<Vec<String>, PapersError>;

/// One thing that was checked.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Checked {
    /// What, in words.
    pub what: String,
    /// Whether it holds.
    pub ok: bool,
}

/// What came of verifying a paper.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Verdict {
    /// Whether everything that was checked holds.
    pub ok: bool,
    /// What was checked, in order. What could not be checked for what stands before it is left out.
    pub checked: Vec<Checked>,
    /// What the paper says it is, in a sentence; empty where it has no seal to say so.
    pub says: String,
    /// What was not checked, and what to compare by eye, a sentence each.
    pub notes: Vec<String>,
    /// What no seal can prove, a sentence each; empty where there is none.
    pub limits: Vec<String>,
}

/// Verifies a sealed paper.
pub fn verify(file: &[u8]) -> Verdict {
    check(file, None, &crate::completion::pages_again)
}

/// Verifies a sealed paper, and that it was sealed with this public key, in hexadecimal.
pub fn verify_with_key(file: &[u8], key: &str) -> Verdict {
    check(file, Some(key), &crate::completion::pages_again)
}

pub(super) fn check(file: &[u8], key: Option<&str>, again: Reset<'_>) -> Verdict {
    let mut checking = Checking { checked: Vec::new(), says: String::new(), notes: Vec::new() };
    // What cannot be read ends the checking; why is the last thing checked.
    let _ended_early = checking.run(file, key, again);
    let sealed = !checking.says.is_empty();
    Verdict {
        ok: checking.checked.iter().all(|check| check.ok),
        checked: checking.checked,
        says: checking.says,
        notes: checking.notes,
        limits: if sealed { limits() } else { Vec::new() },
    }
}

/// Where bytes stand in a file, if they stand there once.
pub(super) fn place(file: &[u8], bytes: &[u8]) -> Option<usize> {
    let first = *bytes.first()?;
    let mut found = file
        .iter()
        .enumerate()
        .filter(|(at, byte)| {
            **byte == first && file.get(*at..).is_some_and(|f| f.starts_with(bytes))
        })
        .map(|(at, _)| at);
    let at = found.next()?;
    found.next().is_none().then_some(at)
}

struct Checking {
    checked: Vec<Checked>,
    says: String,
    notes: Vec<String>,
}

impl Checking {
    fn say<const N: usize>(&mut self, ok: bool, code: &str, values: [(&str, Value); N]) -> bool {
        let code = if ok { format!("verify.{code}") } else { format!("verify.{code}.not") };
        self.checked.push(Checked { what: Phrase::new(&code, values).text, ok });
        ok
    }

    fn note<const N: usize>(&mut self, code: &str, values: [(&str, Value); N]) {
        self.notes.push(Phrase::new(&format!("verify.{code}"), values).text);
    }

    fn run(&mut self, file: &[u8], key: Option<&str>, again: Reset<'_>) -> Option<()> {
        let contents = match reader::read(file) {
            Ok(contents) => contents,
            Err(why) => {
                self.say(false, "readable", [("why", why.to_string().into())]);
                return None;
            }
        };
        let pages = contents.pages.len() as f64;
        self.say(true, "readable", [("count", pages.into())]);
        let seal = self.seal(&contents)?;
        self.says = said(&seal.sealed);
        self.say(seal.digest_holds(), "digest", []);
        self.say(seal.signature_holds(), "signature", []);
        if let Some(key) = key {
            self.say(key.trim().eq_ignore_ascii_case(&seal.sealed.key), "trusted_key", []);
        }
        self.bytes(file, &contents, &seal);
        self.stamp(&contents, &seal);
        self.pages(&contents, &seal);
        let entries = self.diary(&contents, &seal)?;
        self.photos(&contents, &seal.sealed, &entries);
        self.figures(&contents, &seal, &entries, again);
        self.keys(&seal.sealed, &entries);
        Some(())
    }

    /// The attached files, and the seal among them.
    fn seal(&mut self, contents: &Contents) -> Option<Seal> {
        let attached = |name: &str| contents.attached.get(name);
        let once = !contents.doubled.iter().any(|name| [DIARY_FILE, SEAL_FILE].contains(&&**name));
        let (diary, seal) = (attached(DIARY_FILE), attached(SEAL_FILE));
        if !self.say(once && diary.is_some() && seal.is_some(), "attached", []) {
            return None;
        }
        let within = diary.is_some_and(|diary| diary.len() <= LARGEST_DIARY_BYTES)
            && seal.is_some_and(|seal| seal.len() <= LARGEST_SEAL_BYTES);
        if !within {
            self.say(false, "size", [("most", (LARGEST_DIARY_BYTES >> 20).to_string().into())]);
            return None;
        }
        // Written in the one way that it is written: nothing can stand in it that is not read.
        let seal = seal.and_then(|written| {
            let seal: Seal = serde_json::from_slice(written).ok()?;
            let again = serde_json::to_vec(&seal).ok()?;
            (seal.fairfall_seal == 1 && again == *written).then_some(seal)
        });
        if seal.is_none() {
            self.say(false, "form", []);
        }
        seal
    }

    /// The file byte for byte, the seal itself left out.
    fn bytes(&mut self, file: &[u8], contents: &Contents, seal: &Seal) {
        let written = contents.attached.get(SEAL_FILE).map(Vec::as_slice).unwrap_or_default();
        let holds = place(file, written).is_some_and(|at| {
            let (before, rest) = file.split_at(at);
            let after = rest.get(written.len()..).unwrap_or_default();
            let mut digest = Sha256::new();
            digest.update(before);
            digest.update(vec![b' '; written.len()]);
            digest.update(after);
            seal.file_holds(&digest.finalize().into())
        });
        self.say(holds, "bytes", []);
    }

    /// The digest and the key that stand on the page.
    fn stamp(&mut self, contents: &Contents, seal: &Seal) {
        let shown: Vec<String> =
            contents.pages.iter().map(|text| fairfall_core::record::normalised(text, "")).collect();
        let stands = |digits: &str| shown.iter().any(|text| text.contains(digits));
        self.say(stands(&seal.digest) && stands(&seal.sealed.key), "stamp", []);
    }

    /// The text of every page.
    fn pages(&mut self, contents: &Contents, seal: &Seal) {
        let sealed = &seal.sealed.pages;
        if contents.pages.len() != sealed.len() {
            let values = [
                ("count", (contents.pages.len() as f64).into()),
                ("sealed", (sealed.len() as f64).into()),
            ];
            self.say(false, "page_count", values);
            return;
        }
        let digests: Vec<String> =
            contents.pages.iter().map(|text| page_digest(text, &seal.digest)).collect();
        let changed = differing(&digests, sealed);
        self.say(changed.is_empty(), "pages", [("pages", changed.into())]);
    }

    /// The attached diary: its bytes, its entries, its chains.
    fn diary(&mut self, contents: &Contents, seal: &Seal) -> Option<Vec<Entry>> {
        let lines = contents.attached.get(DIARY_FILE)?;
        self.say(sha256(lines) == seal.sealed.diary.sha256, "diary", []);
        let entries = match read_diary_lines(lines) {
            Ok(entries) => entries,
            Err((line, why)) => {
                self.say(false, "entries", [("line", (line as f64).into()), ("why", why.into())]);
                return None;
            }
        };
        let count = (entries.len() as f64).into();
        let right = entries.len() == seal.sealed.diary.entries as usize
            && entries.iter().all(|entry| entry.job == seal.sealed.job);
        let values = [("count", count), ("sealed", seal.sealed.diary.entries.into())];
        self.say(right, "entry_count", values);
        let faults = check_chains(&entries);
        let why: Vec<String> = faults.iter().take(5).map(ToString::to_string).collect();
        self.say(faults.is_empty(), "chains", [("why", why.join("; ").into())]);
        Some(entries)
    }

    /// The photos: as printed, and named by the diary.
    fn photos(&mut self, contents: &Contents, sealed: &Sealed, entries: &[Entry]) {
        let wanted: Vec<String> =
            sealed.photos.iter().filter_map(|photo| photo.printed.clone()).collect();
        let found: Vec<String> = contents.pictures.iter().map(|jpeg| sha256(jpeg)).collect();
        let changed = if wanted.len() == found.len() {
            differing(&found, &wanted)
        } else {
            format!("{} of {}", found.len(), wanted.len())
        };
        let count = (found.len() as f64).into();
        self.say(wanted == found, "photos", [("count", count), ("which", changed.into())]);
        let named = sealed.photos.iter().all(|photo| {
            entries.iter().any(|e| {
                e.kind == "photo"
                    && e.body.get("sha256").and_then(|name| name.as_str()) == Some(&*photo.kept)
            })
        });
        if !named {
            self.say(false, "named", []);
        }
    }

    /// The figures: worked out again from the diary, set again, and held against the pages.
    fn figures(&mut self, contents: &Contents, seal: &Seal, entries: &[Entry], again: Reset<'_>) {
        let sealed = &seal.sealed;
        let Some(pages) = recomputed(contents, seal, entries, again) else {
            self.say(false, "figures", [("pages", String::new().into())]);
            return;
        };
        let digests: Vec<String> =
            pages.iter().map(|text| page_digest(text, &seal.digest)).collect();
        let found: Vec<String> =
            contents.pages.iter().map(|text| page_digest(text, &seal.digest)).collect();
        let here = env!("CARGO_PKG_VERSION");
        if digests != found && sealed.program != here {
            let values = [("made", sealed.program.as_str().into()), ("here", here.into())];
            self.note("other_version", values);
            return;
        }
        let changed = differing(&found, &digests);
        self.say(digests == found, "figures", [("pages", changed.into())]);
    }

    /// Which key it was, and whether it sealed earlier issues.
    fn keys(&mut self, sealed: &Sealed, entries: &[Entry]) {
        let earlier: Vec<&str> = entries
            .iter()
            .filter(|e| e.kind == "record")
            .filter_map(|e| e.body.get("key")?.as_str())
            .filter(|key| !key.is_empty())
            .collect();
        let key: Value = sealed.key.as_str().into();
        match (earlier.is_empty(), earlier.iter().any(|key| *key == sealed.key)) {
            (true, _) => self.note("key_first", [("key", key)]),
            (false, true) => self.note("key_known", [("key", key)]),
            (false, false) => self.note("key_new", [("key", key)]),
        }
    }
}

/// The pages as they would be set from the attached diary.
fn recomputed(
    contents: &Contents,
    seal: &Seal,
    entries: &[Entry],
    again: Reset<'_>,
) -> Option<Vec<String>> {
    let sealed = &seal.sealed;
    let state = fold(entries).ok()?;
    let made_at = words::time(&sealed.made_at)?;
    let record = build(&state, entries, Some(sealed.number), made_at, &sealed.made_by);
    let stamp = Stamp {
        digest: seal.digest.clone(),
        key: sealed.key.clone(),
        entries: sealed.diary.entries,
    };
    again(&record, sealed, &contents.pictures, &stamp).ok()
}

/// The numbers, from 1, of what differs: "2, 5".
fn differing(found: &[String], wanted: &[String]) -> String {
    let longest = found.len().max(wanted.len());
    let numbers: Vec<String> = (0..longest)
        .filter(|index| found.get(*index) != wanted.get(*index))
        .map(|index| (index + 1).to_string())
        .collect();
    numbers.join(", ")
}

/// What a sealed paper says it is.
fn said(sealed: &Sealed) -> String {
    let values = [
        ("number", sealed.number.into()),
        ("at", words::when(&sealed.made_at).into()),
        ("who", sealed.made_by.as_str().into()),
    ];
    let nobody = sealed.made_by.trim().is_empty();
    Phrase::new(if nobody { "verify.says_unnamed" } else { "verify.says" }, values).text
}
