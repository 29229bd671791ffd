//! The change note: extra work, priced and signed before it goes on.

use fairfall_core::record::ChangeNote;
use serde::Serialize;
use typst::foundations::Bytes;

use super::{Head, Prepared};
use crate::error::PapersError;
use crate::paper::{NoPhoto, PaperSize, Photos};
use crate::signed::{self, SignatureWords};
use crate::{photo, words};

const TEMPLATE: &str = include_str!("../../templates/change-note.typ");

/// The file that the template reads the photo from.
const PHOTO_FILE: &str = "change.jpg";

/// No more bytes than this for its one photo.
const PHOTO_BYTES: usize = 900_000;

#[derive(Debug, Serialize)]
#[serde(rename_all = "kebab-case")]
struct Page<'a> {
    #[serde(flatten)]
    head: Head,
    number: u32,
    place: String,
    customer: String,
    by: String,
    what: &'a str,
    agreed: String,
    quantity: &'a str,
    rate: &'a str,
    price: String,
    noted: String,
    /// The photo's file; none where there is no picture to show.
    photo: Option<&'static str>,
    /// Why there is no picture; empty where there is, or none was taken.
    no_photo: &'static str,
    signatures: Vec<SignatureWords>,
}

pub(super) fn prepared(
    note: &ChangeNote,
    photos: Photos<'_>,
    size: PaperSize,
) -> Result<Prepared, PapersError> {
    let (signatures, mut files) = signed::words(&note.signatures);
    let (jpeg, no_photo) = picture(note, photos);
    let photo = jpeg.is_some().then_some(PHOTO_FILE);
    files.extend(jpeg.map(|jpeg| (PHOTO_FILE.to_owned(), Bytes::new(jpeg))));
    let noted_by = if note.who.is_empty() { String::new() } else { format!(", {}", note.who) };
    let page = Page {
        head: Head::new(
            format!("Change note {}", note.number),
            &note.title,
            &note.by,
            &note.made_at,
            size,
        ),
        number: note.number,
        place: words::stated(&note.place),
        customer: words::stated(&note.customer),
        by: words::stated(&note.by),
        what: &note.what,
        agreed: words::stated(&note.agreed),
        quantity: &note.quantity,
        rate: &note.rate,
        price: words::stated(&note.price),
        noted: format!("{}{noted_by}", words::when(&note.at)),
        photo,
        no_photo,
        signatures,
    };
    Ok(Prepared {
        template: TEMPLATE,
        data: serde_json::to_value(page)?,
        files,
        identity: format!("change note {} {} {}", note.number, note.made_at, note.title),
        made_at: note.made_at.clone(),
    })
}

/// A copy of the note's photo, or why there is none.
fn picture(note: &ChangeNote, photos: Photos<'_>) -> (Option<Vec<u8>>, &'static str) {
    let Some(sha256) = &note.photo else { return (None, "") };
    match photos(sha256) {
        Err(NoPhoto::NotHere) => (None, "photo not on this phone"),
        Err(NoPhoto::Changed) => (None, "photo is not as it was kept"),
        Ok(bytes) => match photo::for_paper(&bytes, PHOTO_BYTES) {
            Some(copy) => (Some(copy.jpeg), ""),
            None => (None, "photo cannot be read"),
        },
    }
}
