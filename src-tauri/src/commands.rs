//! What the page may call. JSON requests go through one command, by name, to the core's table of
//! requests; photos and pages cross as raw bytes.

use std::path::{Path, PathBuf};

use fairfall_core::api::{self, Fault};
use fairfall_core::store::{PhotoCopy, StoreError};
use fairfall_papers::{Made, NoPhoto, PaperSize, PapersError, completion_record, copy_for};
use serde::Serialize;
use serde_json::Value;
use tauri::State;
use tauri::ipc::Response;

use crate::Office;

/// A request of the core's table.
#[tauri::command(async)]
pub fn ask(office: State<'_, Office>, request: &str, args: Value) -> Result<Value, Fault> {
    office.at(|desk| api::ask(desk, request, args))
}

/// A paper that was made.
#[derive(Serialize)]
pub struct Paper {
    pub(crate) file: String,
    pub(crate) pages: usize,
    pub(crate) number: Option<u32>,
}

/// Makes a completion record: a draft, or the next issue, which is sealed and logged. It lies in the
/// store's papers folder when this answers, beside one SVG a page for the screen. It runs beside the
/// window; `paper_progress` tells how far it is and `stop_paper` stops it.
#[tauri::command(async)]
pub fn make_record(
    office: State<'_, Office>,
    job: &str,
    issue: bool,
    paper: &str,
) -> Result<Paper, Fault> {
    let paper = paper_size(paper)?;
    let to_make = office.at(|desk| api::record_data(desk, job, issue))?;
    let copy = copy_for(to_make.record.photos.len());
    let photos = |sha256: &str| photo_of(&office, sha256, copy);
    let making = office.making();
    let sealing = to_make.sealing.as_ref();
    let made =
        completion_record(&to_make.record, &photos, paper, sealing, &making).map_err(failed)?;
    making.stop_no_more().map_err(failed)?;
    keep_pages(&office, &to_make.file, &made)?;
    office.at(|desk| api::issue_record(desk, job, &to_make, &made.pdf))?;
    Ok(Paper { pages: made.pages, number: to_make.record.number, file: to_make.file })
}

/// Keeps every page of a paper as a drawing for the screen, one in memory at a time.
pub(crate) fn keep_pages(office: &Office, file: &str, made: &Made) -> Result<(), Fault> {
    for (page, svg) in (0..made.pages).map_while(|page| Some((page, made.page(page)?))) {
        office.at(|desk| {
            Ok(desk.store.keep_paper(&page_file(file, page), svg.as_bytes()).map(drop)?)
        })?;
    }
    Ok(())
}

pub(crate) fn photo_of(office: &Office, sha256: &str, copy: PhotoCopy) -> Result<Vec<u8>, NoPhoto> {
    match office.at(|desk| Ok(desk.store.photo(sha256, copy))) {
        Ok(Ok(bytes)) => Ok(bytes),
        Ok(Err(StoreError::PhotoChanged { .. })) => Err(NoPhoto::Changed),
        Ok(Err(_)) | Err(_) => Err(NoPhoto::NotHere),
    }
}

pub(crate) fn failed(error: PapersError) -> Fault {
    match error {
        PapersError::Stopped => {
            Fault { code: "stopped", details: serde_json::json!({ "text": error.to_string() }) }
        }
        other => Fault::machine(&other.to_string()),
    }
}

pub(crate) fn paper_size(name: &str) -> Result<PaperSize, Fault> {
    PaperSize::of_word(name)
        .ok_or_else(|| Fault::bad_request(&format!("there is no paper {name}: a4 or letter")))
}

pub(crate) fn page_file(file: &str, page: usize) -> String {
    format!("{}.page-{page}.svg", file.trim_end_matches(".pdf"))
}

/// A file of the papers folder, if it is one.
pub(crate) fn paper_path(folder: &Path, file: &str) -> Result<PathBuf, Fault> {
    let plain = Path::new(file).file_name().is_some_and(|name| name == file);
    let path = folder.join(file);
    if plain && path.is_file() { Ok(path) } else { Err(Fault::not_found("no such paper")) }
}

/// One page of a paper that was made, an SVG.
#[tauri::command(async)]
pub fn paper_page(office: State<'_, Office>, file: &str, page: usize) -> Result<Response, Fault> {
    let path = office.at(|desk| paper_path(&desk.store.papers(), &page_file(file, page)))?;
    Ok(Response::new(std::fs::read(path).map_err(StoreError::from)?))
}
