//! Photos on the page, and the files they come from.

use std::collections::BTreeMap;
use std::thread;

use fairfall_core::record::{Record, RecordPhoto};
use serde::Serialize;

use crate::paper::Photos;
use crate::photo::Copy;
use crate::words;

/// A photo as the template takes it.
#[derive(Debug, Serialize)]
pub(super) struct PhotoWords {
    /// The file to read; none where there is no picture to show.
    file: Option<String>,
    /// Why there is none.
    missing: &'static str,
    /// Width over height.
    aspect: f64,
    alt: String,
    caption: String,
    stage: String,
    at: String,
    who: String,
}

/// How many photos are copied at a time: each takes some 20 MB while it is open.
const MOST_HANDS: usize = 4;

/// What became of a photo.
enum Found {
    Copied(Copy),
    NotHere,
    NoPicture,
}

/// Copies of a record's photos, in the record's order.
pub(super) struct Copies {
    found: Vec<Found>,
}

impl Copies {
    /// Asks for every photo once and makes its copy, several at a time.
    pub(super) fn of(
        record: &Record,
        photos: Photos<'_>,
        copy: impl Fn(&[u8]) -> Option<Copy> + Sync,
    ) -> Copies {
        let all: Vec<Option<Vec<u8>>> =
            record.photos.iter().map(|photo| photos(&photo.sha256)).collect();
        let find = |bytes: &Option<Vec<u8>>| match bytes {
            None => Found::NotHere,
            Some(bytes) => copy(bytes).map_or(Found::NoPicture, Found::Copied),
        };
        let hands = thread::available_parallelism().map_or(1, |cores| cores.get().min(MOST_HANDS));
        let each = all.len().div_ceil(hands).max(1);
        let found = thread::scope(|scope| {
            let at_work: Vec<_> = all
                .chunks(each)
                .map(|part| (part, scope.spawn(|| part.iter().map(find).collect::<Vec<_>>())))
                .collect();
            let done = at_work.into_iter().flat_map(|(part, work)| {
                // A picture that a decoder chokes on is one that cannot be read.
                work.join().unwrap_or_else(|_| part.iter().map(|_| Found::NoPicture).collect())
            });
            done.collect()
        });
        Copies { found }
    }

    /// The photos with their words.
    pub(super) fn photos(&self, record: &Record) -> Vec<PhotoWords> {
        let all = record.photos.iter().zip(&self.found).enumerate();
        all.map(|(index, (photo, found))| in_words(index, photo, found)).collect()
    }

    /// How many photos there are and how they are ordered, in words.
    pub(super) fn words(&self) -> String {
        let number = u32::try_from(self.found.len()).unwrap_or(u32::MAX);
        let away = self.found.iter().filter(|found| matches!(found, Found::NotHere)).count();
        let rest = match away {
            0 => String::new(),
            all if all == self.found.len() => "; none of them is on this phone".to_owned(),
            some => format!("; {some} of them not on this phone"),
        };
        format!("{} by stage{rest}.", words::count(number, "photo", "photos"))
    }

    /// The copies as files.
    pub(super) fn into_files(self) -> BTreeMap<String, Vec<u8>> {
        let copied = self.found.into_iter().enumerate().filter_map(|(index, found)| match found {
            Found::Copied(copy) => Some((file_name(index), copy.jpeg)),
            Found::NotHere | Found::NoPicture => None,
        });
        copied.collect()
    }
}

fn file_name(index: usize) -> String {
    format!("photo-{index}.jpg")
}

fn in_words(index: usize, photo: &RecordPhoto, found: &Found) -> PhotoWords {
    let (file, aspect, missing) = match found {
        Found::Copied(copy) => (Some(file_name(index)), copy.aspect, ""),
        Found::NotHere => (None, 1.0, "photo not on this phone"),
        Found::NoPicture => (None, 1.0, "photo cannot be read"),
    };
    let caption = if photo.caption.trim().is_empty() {
        "No caption".to_owned()
    } else {
        photo.caption.clone()
    };
    PhotoWords {
        file,
        missing,
        aspect,
        alt: format!("Photo at the stage {}: {caption}", photo.stage_name),
        caption,
        stage: photo.stage_name.clone(),
        at: words::when(&photo.at),
        who: photo.who.clone(),
    }
}
