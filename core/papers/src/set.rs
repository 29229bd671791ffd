//! Setting: from a desk to pages, and from pages to a file.

use chrono::{DateTime, Datelike, FixedOffset, Timelike};
use typst::foundations::{Datetime, Smart};
use typst_layout::PagedDocument;
use typst_pdf::{PdfOptions, PdfStandard, PdfStandards, Timestamp};

use crate::error::PapersError;
use crate::paper::Made;
use crate::world::Desk;

/// How many papers set since may pass before what the typesetter remembers of one is let go.
const REMEMBER: usize = 3;

/// Lays out the pages and writes them as a PDF: tagged, PDF/A-3a and PDF/UA-1, so that it opens
/// in ten years, can be read aloud, and may carry files.
///
/// # Errors
/// [`PapersError::Set`] or [`PapersError::Write`] when the template is at fault.
pub(crate) fn pdf(
    desk: &Desk,
    identity: String,
    made: DateTime<FixedOffset>,
) -> Result<Made, PapersError> {
    let document = pages(desk)?;
    let standards = PdfStandards::new(&[PdfStandard::A_3a, PdfStandard::Ua_1])
        .map_err(|problem| PapersError::Write(problem.message().to_string()))?;
    let options = PdfOptions {
        ident: Smart::Custom(identity),
        creator: Smart::Custom(Some("Fairfall".to_owned())),
        timestamp: timestamp(made),
        standards,
        ..PdfOptions::default()
    };
    let pdf = typst_pdf::pdf(&document, &options)
        .map_err(|problems| PapersError::Write(PapersError::messages(&problems)))?;
    let pages = document.pages().len();
    comemo::evict(REMEMBER);
    Ok(Made { pdf, pages, laid: document })
}

fn pages(desk: &Desk) -> Result<PagedDocument, PapersError> {
    typst::compile::<PagedDocument>(desk)
        .output
        .map_err(|problems| PapersError::Set(PapersError::messages(&problems)))
}

/// The moment a paper was made, with the offset of the clock it was made by.
fn timestamp(made: DateTime<FixedOffset>) -> Option<Timestamp> {
    let minutes = made.offset().local_minus_utc() / 60;
    // The file format cannot say "half an hour west" through this library: that goes as UTC.
    if (-59..0).contains(&minutes) {
        return Some(Timestamp::new_utc(datetime(&made.to_utc())?));
    }
    Timestamp::new_local(datetime(&made)?, minutes)
}

/// A date and time as the typesetter holds it.
fn datetime(time: &(impl Datelike + Timelike)) -> Option<Datetime> {
    let small = |number: u32| u8::try_from(number).ok();
    Datetime::from_ymd_hms(
        time.year(),
        small(time.month())?,
        small(time.day())?,
        small(time.hour())?,
        small(time.minute())?,
        small(time.second())?,
    )
}
