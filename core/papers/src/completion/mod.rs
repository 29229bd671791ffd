//! The completion record: a record of the hidden layers for the customer, and for whoever asks
//! later.

mod defaults;
mod dips;
mod layers;
mod page;
mod photos;

use fairfall_core::record::Record;

use crate::error::PapersError;
use crate::paper::{Made, PaperSize, Photos};
use crate::world::Desk;
use crate::{photo, set, text, words};
use page::Page;
use photos::Copies;

/// The template that sets it.
const TEMPLATE: &str = include_str!("../../templates/completion-record.typ");

/// Makes the completion record as a PDF of `paper` size. The same record and photos give the same
/// bytes.
///
/// `photos` gives a photo's bytes by the SHA-256 in hexadecimal that the record names it by; a
/// photo that is not on this phone is said to be so on the page. Copies in the paper are small
/// enough to send and carry nothing but the picture.
///
/// # Errors
/// [`PapersError::MadeAt`] when [`Record::made_at`] is not a time with an offset; the others are
/// faults of this program.
pub fn completion_record(
    record: &Record,
    photos: Photos<'_>,
    paper: PaperSize,
) -> Result<Made, PapersError> {
    let made =
        words::time(&record.made_at).ok_or_else(|| PapersError::MadeAt(record.made_at.clone()))?;
    let share = photo::share(record.photos.len());
    let copies = Copies::of(record, photos, |bytes| photo::for_paper(bytes, share));
    let desk = desk(record, copies, paper)?;
    let number = record.number.unwrap_or(0);
    let identity = format!("completion record {number} {} {}", record.made_at, record.title);
    set::pdf(&desk, identity, made)
}

/// The pages of the completion record, each as an SVG document, with smaller photos than the PDF.
///
/// # Errors
/// As [`completion_record`].
pub fn preview(
    record: &Record,
    photos: Photos<'_>,
    paper: PaperSize,
) -> Result<Vec<String>, PapersError> {
    let copies = Copies::of(record, photos, photo::for_preview);
    set::svg(&desk(record, copies, paper)?)
}

/// The template with everything it reads.
fn desk(record: &Record, copies: Copies, paper: PaperSize) -> Result<Desk, PapersError> {
    let page = Page::of(record, &copies, paper)?;
    let drawings = page.drawings();
    let mut data = serde_json::to_value(&page)?;
    let replaced = text::fit_all(&mut data);
    if let Some(fields) = data.as_object_mut() {
        fields.insert("replaced".to_owned(), replaced.into());
    }
    let page_file = ("page.json".to_owned(), serde_json::to_vec(&data)?);
    let files = std::iter::once(page_file).chain(drawings).chain(copies.into_files());
    Desk::new(TEMPLATE, files)
}
