//! Photos on their way from the page to the store.

use std::borrow::Cow;

use base64::Engine as _;
use base64::engine::general_purpose::STANDARD;
use fairfall_core::api::Fault;
use fairfall_core::store::{PhotoCopy, StoreError, prepare_photo};
use serde::Serialize;
use serde_json::Value;
use tauri::State;
use tauri::ipc::{InvokeBody, Request, Response};

use crate::surroundings::Around;
use crate::{Office, captures};

/// A photo that was kept.
#[derive(Serialize)]
pub struct Kept {
    sha256: String,
    width_px: u32,
    height_px: u32,
}

/// The bytes of a file that the page sent: raw, or as `{base64}` from Android's web view, which passes
/// on nothing but text.
///
/// # Errors
/// Where it is neither.
pub(crate) fn sent_bytes<'a>(request: &'a Request<'_>) -> Result<Cow<'a, [u8]>, Fault> {
    let body = match request.body() {
        InvokeBody::Raw(bytes) => return Ok(Cow::Borrowed(bytes)),
        InvokeBody::Json(body) => body,
    };
    let text = body.get("base64").and_then(Value::as_str);
    let bytes = text.and_then(|text| STANDARD.decode(text).ok());
    bytes.map(Cow::Owned).ok_or_else(|| Fault::bad_request("a file comes as bytes"))
}

/// Keeps a photo: shrunk, stripped of position, on disk when this answers. What the camera left of it
/// is removed.
#[tauri::command(async)]
pub fn keep_photo(
    office: State<'_, Office>,
    around: State<'_, Around>,
    request: Request<'_>,
) -> Result<Kept, Fault> {
    keep(&office, &around, &sent_bytes(&request)?)
}

/// Keeps the newest photo that the camera took while the system had ended the app, if there is one.
#[tauri::command(async)]
pub fn left_photo(
    office: State<'_, Office>,
    around: State<'_, Around>,
) -> Result<Option<Kept>, Fault> {
    let Some(folder) = around.captures() else { return Ok(None) };
    let left = captures::newest(&folder).map_err(StoreError::from)?;
    left.map(|bytes| keep(&office, &around, &bytes)).transpose()
}

fn keep(office: &Office, around: &Around, bytes: &[u8]) -> Result<Kept, Fault> {
    let prepared = prepare_photo(bytes)?;
    let kept = office.at(|desk| Ok(desk.store.keep_photo(&prepared)?))?;
    // The photo is safe. What cannot be cleared away now is offered once more, or cleared next time.
    let _cleared = around.captures().map(|folder| captures::clear(&folder, bytes));
    let [width_px, height_px] = kept.size;
    Ok(Kept { sha256: kept.sha256, width_px, height_px })
}

/// The bytes of a kept photo, a JPEG.
#[tauri::command(async)]
pub fn photo(office: State<'_, Office>, sha256: &str, thumb: bool) -> Result<Response, Fault> {
    let copy = if thumb { PhotoCopy::Thumbnail } else { PhotoCopy::Whole };
    office.at(|desk| Ok(Response::new(desk.store.photo(sha256, copy)?)))
}
