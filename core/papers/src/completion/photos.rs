//! Photos on the page, and the files they come from.

use std::collections::{BTreeMap, HashMap};
use std::panic;
use std::sync::{Mutex, MutexGuard, PoisonError, mpsc};
use std::thread;

use fairfall_core::record::{MissingPhoto, Record, RecordPhoto, SealedPhoto, sha256};
use serde::Serialize;
use typst::foundations::Bytes;

use crate::error::PapersError;
use crate::paper::{NoPhoto, Photos};
use crate::photo;
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

/// Copies by the name of the photo, which tells its bytes, and by their share of the paper.
type LastCopies = HashMap<(String, usize), (Bytes, f64)>;

/// The copies of the paper made last, some 6 MB at most: a record is looked at before it is issued.
static LAST_COPIES: Mutex<Option<LastCopies>> = Mutex::new(None);

fn last_copies() -> MutexGuard<'static, Option<LastCopies>> {
    LAST_COPIES.lock().unwrap_or_else(PoisonError::into_inner)
}

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
    /// Asks for every photo once and makes its copy, several at a time, a step each. Only what is being
    /// copied is in memory whole; copies that the paper made last has too are taken from it.
    ///
    /// # Errors
    /// [`PapersError::Stopped`].
    pub(super) fn of(
        record: &Record,
        photos: Photos<'_>,
        steps: &Steps<'_>,
    ) -> Result<Copies, PapersError> {
        let share = photo::share(record.photos.len());
        let last = last_copies().take().unwrap_or_default();
        let hands = thread::available_parallelism().map_or(1, |cores| cores.get().min(MOST_HANDS));
        let (give, taken) = mpsc::sync_channel::<(usize, Vec<u8>)>(hands);
        let taken = Mutex::new(taken);
        let work = || {
            let (mut done, mut goes_on) = (Vec::new(), Ok(()));
            // Once stopped, what is still handed over is taken and left: nobody waits for this hand.
            while let Some((index, bytes)) = next(&taken) {
                if goes_on.is_ok() {
                    done.push((index, copied(&bytes, share)));
                    goes_on = steps.done();
                }
            }
            goes_on.map(|()| done)
        };
        let mut found: Vec<Found> = record.photos.iter().map(|_| Found::NoPicture).collect();
        thread::scope(|scope| {
            let at_work: Vec<_> = (0..hands).map(|_| scope.spawn(work)).collect();
            for (index, photo) in record.photos.iter().enumerate() {
                let known = last.get(&(photo.sha256.clone(), share));
                let found_now = match photos(&photo.sha256).map(|bytes| (bytes, known)) {
                    Ok((_, Some((jpeg, aspect)))) => Found::Copied(jpeg.clone(), *aspect),
                    Ok((bytes, None)) => {
                        // It is taken as long as the hands live, which is until there is no more.
                        let _taken = give.send((index, bytes));
                        continue;
                    }
                    Err(NoPhoto::NotHere) => Found::NotHere,
                    Err(NoPhoto::Changed) => Found::Changed,
                };
                put(&mut found, index, found_now);
                if steps.done().is_err() {
                    break;
                }
            }
            drop(give);
            for hand in at_work {
                // A hand that breaks off leaves its photos as ones that cannot be read.
                for (index, copy) in hand.join().unwrap_or_else(|_| Ok(Vec::new()))? {
                    put(&mut found, index, copy);
                }
            }
            let copies = Copies { found };
            *last_copies() = Some(copies.by_name(record, share));
            Ok(copies)
        })
    }

    /// The copies by the photo and the share that they were made for.
    fn by_name(&self, record: &Record, share: usize) -> LastCopies {
        let all = record.photos.iter().zip(&self.found).filter_map(|(photo, found)| match found {
            Found::Copied(jpeg, aspect) => {
                Some(((photo.sha256.clone(), share), (jpeg.clone(), *aspect)))
            }
            Found::NotHere | Found::NoPicture | Found::Changed => None,
        });
        all.collect()
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

/// The next photo to copy; none once all are taken. Whoever waits for it waits alone.
fn next(taken: &Mutex<mpsc::Receiver<(usize, Vec<u8>)>>) -> Option<(usize, Vec<u8>)> {
    taken.lock().unwrap_or_else(PoisonError::into_inner).recv().ok()
}

/// A photo's copy. A picture that a decoder chokes on is one that cannot be read.
fn copied(bytes: &[u8], share: usize) -> Found {
    let made = panic::catch_unwind(|| photo::for_paper(bytes, share)).ok().flatten();
    made.map_or(Found::NoPicture, |copy| Found::Copied(Bytes::new(copy.jpeg), copy.aspect))
}

fn put(found: &mut [Found], index: usize, what: Found) {
    if let Some(place) = found.get_mut(index) {
        *place = what;
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
