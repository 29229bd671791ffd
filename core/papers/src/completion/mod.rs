//! The completion record: a record of the hidden layers for the customer, and for whoever asks
//! later.

mod dips;
mod layers;
mod page;
mod photos;

use chrono::{DateTime, FixedOffset};
use fairfall_core::api::Sealing;
use fairfall_core::record::{Record, Sealed};
use typst::foundations::Bytes;

use crate::error::PapersError;
use crate::paper::{Made, PaperSize, Photos};
use crate::seal::{self, Stamp, ToSeal};
use crate::watch::{Steps, Watch};
use crate::world::Desk;
use crate::{set, text, words};
use page::Page;
use photos::Copies;

/// The template that sets it.
const TEMPLATE: &str = include_str!("../../templates/completion-record.typ");

/// The kind of paper, as seals and `demo.json` name it.
const KIND: &str = "completion_record";

/// Makes the completion record as a PDF of `paper` size: sealed where there is something to seal it
/// with, which an issue has and a draft has not. The same record, photos and key give the same bytes.
///
/// `photos` gives a photo's bytes by the SHA-256 in hexadecimal that the record names it by; a
/// photo that is not to be had is said to be so on the page. Copies in the paper are small
/// enough to send and carry nothing but the picture.
///
/// # Errors
/// [`PapersError::MadeAt`] when [`Record::made_at`] is not a time with an offset;
/// [`PapersError::Stopped`] when `watch` wants no more; the others are faults of this program.
pub fn completion_record(
    record: &Record,
    photos: Photos<'_>,
    paper: PaperSize,
    sealing: Option<&Sealing>,
    watch: &dyn Watch,
) -> Result<Made, PapersError> {
    let made = made_at(record)?;
    // A step a photo, and one for each setting.
    let settings = if sealing.is_some() { 3 } else { 1 };
    let steps = Steps::new(watch, record.photos.len() + settings);
    let copies = Copies::of(record, photos, &steps)?;
    let Some(sealing) = sealing else {
        let made =
            set::pdf(&desk(record, &copies, paper, None, Vec::new())?, identity(record), made);
        steps.done()?;
        return made;
    };
    let set = |stamp: &Stamp, attached: Vec<(String, Bytes)>| {
        let desk = desk(record, &copies, paper, Some(stamp), attached)?;
        let made = set::pdf(&desk, identity(record), made)?;
        steps.done()?;
        Ok(made)
    };
    let what = ToSeal {
        paper: KIND,
        number: record.number.unwrap_or(0),
        made_at: record.made_at.clone(),
        made_by: record.made_by.clone(),
        size: paper.word(),
        photos: copies.sealed(record),
    };
    let sealed = seal::seal(sealing, what, set, &pages_again)?;
    steps.done()?;
    Ok(sealed)
}

/// The text of a sealed record's pages, set anew from what its diary says and with the pictures that
/// were printed.
///
/// # Errors
/// Where the pictures are none or not as many as sealed, and as [`completion_record`].
pub(crate) fn pages_again(
    record: &Record,
    sealed: &Sealed,
    pictures: &[Vec<u8>],
    stamp: &Stamp,
) -> Result<Vec<String>, PapersError> {
    let other = || PapersError::Seal("not a paper of this program".to_owned());
    let paper = PaperSize::of_word(&sealed.size).filter(|_| sealed.paper == KIND);
    let copies = Copies::printed(&sealed.photos, pictures).filter(|c| c.are_for(record));
    let (paper, copies) = (paper.ok_or_else(other)?, copies.ok_or_else(other)?);
    let desk = desk(record, &copies, paper, Some(stamp), Vec::new())?;
    let made = set::pdf(&desk, identity(record), made_at(record)?)?;
    let contents = seal::reader::read(&made.pdf);
    contents.map(|c| c.pages).map_err(|error| PapersError::Seal(error.to_string()))
}

fn made_at(record: &Record) -> Result<DateTime<FixedOffset>, PapersError> {
    words::time(&record.made_at).ok_or_else(|| PapersError::MadeAt(record.made_at.clone()))
}

/// What tells this paper from every other.
fn identity(record: &Record) -> String {
    let number = record.number.unwrap_or(0);
    format!("completion record {number} {} {}", record.made_at, record.title)
}

/// The template with everything it reads.
fn desk(
    record: &Record,
    copies: &Copies,
    paper: PaperSize,
    stamp: Option<&Stamp>,
    attached: Vec<(String, Bytes)>,
) -> Result<Desk, PapersError> {
    let page = Page::of(record, copies, paper, stamp, !attached.is_empty())?;
    let drawings = page.drawings();
    let mut data = serde_json::to_value(&page)?;
    let replaced = text::fit_all(&mut data);
    if let Some(fields) = data.as_object_mut() {
        fields.insert("replaced".to_owned(), replaced.into());
    }
    let page_file = ("page.json".to_owned(), Bytes::new(serde_json::to_vec(&data)?));
    let stamped = stamp.map_or(Ok(Vec::new()), Stamp::files)?;
    let files = std::iter::once(page_file)
        .chain(drawings)
        .chain(copies.files())
        .chain(stamped)
        .chain(attached);
    Desk::new(TEMPLATE, files)
}
