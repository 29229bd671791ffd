//! Photos on the page, and the files they come from.

use std::collections::BTreeMap;
use std::thread;

use fairfall_core::record::{MissingPhoto, Record, RecordPhoto, SealedPhoto, sha256};
use serde::Serialize;
use typst::foundations::Bytes;

use crate::error::PapersError;
use crate::paper::{NoPhoto, Photos};
use crate::photo::{self, Copy};
use crate::watch::Steps;
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
    /// A JPEG, and its width over its height.
    Copied(Bytes, f64),
    NotHere,
    NoPicture,
    Changed,
}

/// Copies of a record's photos, in the record's order.
pub(super) struct Copies {
    found: Vec<Found>,
}

impl Copies {
    /// Asks for every photo once and makes its copy, several at a time, a step each.
    ///
    /// # Errors
    /// [`PapersError::Stopped`].
    pub(super) fn of(
        record: &Record,
        photos: Photos<'_>,
        steps: &Steps<'_>,
        copy: impl Fn(&[u8]) -> Option<Copy> + Sync,
    ) -> Result<Copies, PapersError> {
        let all: Vec<Result<Vec<u8>, NoPhoto>> =
            record.photos.iter().map(|photo| photos(&photo.sha256)).collect();
        let find = |bytes: &Result<Vec<u8>, NoPhoto>| {
            let found = match bytes {
                Err(NoPhoto::NotHere) => Found::NotHere,
                Err(NoPhoto::Changed) => Found::Changed,
                Ok(bytes) => copy(bytes).map_or(Found::NoPicture, |copy| {
                    Found::Copied(Bytes::new(copy.jpeg), copy.aspect)
                }),
            };
            steps.done().map(|()| found)
        };
        let hands = thread::available_parallelism().map_or(1, |cores| cores.get().min(MOST_HANDS));
        let each = all.len().div_ceil(hands).max(1);
        let found = thread::scope(|scope| {
            let at_work: Vec<_> = all
                .chunks(each)
                .map(|part| {
                    let work = scope.spawn(|| part.iter().map(find).collect::<Result<Vec<_>, _>>());
                    (part.len(), work)
                })
                .collect();
            let mut found = Vec::new();
            for (count, work) in at_work {
                match work.join() {
                    Ok(part) => found.extend(part?),
                    // A picture that a decoder chokes on is one that cannot be read.
                    Err(_) => found.extend((0..count).map(|_| Found::NoPicture)),
                }
            }
            Ok::<_, PapersError>(found)
        })?;
        Ok(Copies { found })
    }

    /// The copies that a sealed paper was printed with, from the pictures on its pages; none where
    /// they are not as many, or not pictures.
    pub(super) fn printed(sealed: &[SealedPhoto], pictures: &[Vec<u8>]) -> Option<Copies> {
        let mut pictures = pictures.iter();
        let found = sealed.iter().map(|photo| match photo.missing {
            None => {
                let jpeg = pictures.next()?;
                Some(Found::Copied(Bytes::new(jpeg.clone()), photo::aspect(jpeg)?))
            }
            Some(MissingPhoto::NotHere) => Some(Found::NotHere),
            Some(MissingPhoto::NoPicture) => Some(Found::NoPicture),
            Some(MissingPhoto::Changed) => Some(Found::Changed),
        });
        let found = found.collect::<Option<Vec<_>>>()?;
        pictures.next().is_none().then_some(Copies { found })
    }

    /// Whether there is one for each photo of a record.
    pub(super) fn are_for(&self, record: &Record) -> bool {
        self.found.len() == record.photos.len()
    }

    /// What a seal says of the photos.
    pub(super) fn sealed(&self, record: &Record) -> Vec<SealedPhoto> {
        let all = record.photos.iter().zip(&self.found);
        all.map(|(photo, found)| SealedPhoto {
            kept: photo.sha256.clone(),
            printed: match found {
                Found::Copied(jpeg, _) => Some(sha256(jpeg)),
                Found::NotHere | Found::NoPicture | Found::Changed => None,
            },
            missing: match found {
                Found::Copied(..) => None,
                Found::NotHere => Some(MissingPhoto::NotHere),
                Found::NoPicture => Some(MissingPhoto::NoPicture),
                Found::Changed => Some(MissingPhoto::Changed),
            },
        })
        .collect()
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
    pub(super) fn files(&self) -> BTreeMap<String, Bytes> {
        let copied = self.found.iter().enumerate().filter_map(|(index, found)| match found {
            Found::Copied(jpeg, _) => Some((file_name(index), jpeg.clone())),
            Found::NotHere | Found::NoPicture | Found::Changed => None,
        });
        copied.collect()
    }
}

fn file_name(index: usize) -> String {
    format!("photo-{index}.jpg")
}

fn in_words(index: usize, photo: &RecordPhoto, found: &Found) -> PhotoWords {
    let (file, aspect, missing) = match found {
        Found::Copied(_, aspect) => (Some(file_name(index)), *aspect, ""),
        Found::NotHere => (None, 1.0, "photo not on this phone"),
        Found::NoPicture => (None, 1.0, "photo cannot be read"),
        Found::Changed => (None, 1.0, "photo is not as it was kept"),
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
