//! What the page may call for papers beside the record: sheets, data, how far a paper is, and whether
//! one that was opened is as it was issued.

use fairfall_core::api::{self, Fault, SheetData};
use fairfall_core::store::PhotoCopy;
use fairfall_papers::{Sheet, sheet};
use serde::Serialize;
use tauri::State;
use tauri::ipc::Request;

use crate::Office;
use crate::commands::{Paper, failed, keep_pages, paper_size, photo_of};
use crate::photos::sent_bytes;

/// Makes a paper that is not sealed, by its kind: `setting_out`, `order_list`, `care_sheet`, or
/// `change_note` with the change's number. It lies in the papers folder, beside one SVG a page.
#[tauri::command(async)]
pub fn make_sheet(
    office: State<'_, Office>,
    job: &str,
    kind: &str,
    change: Option<u32>,
    templates: bool,
    paper: &str,
) -> Result<Paper, Fault> {
    let paper = paper_size(paper)?;
    let to_make = office.at(|desk| api::sheet_data(desk, job, kind, change))?;
    let photos = |sha256: &str| photo_of(&office, sha256, PhotoCopy::Whole);
    let what = match &to_make.says {
        SheetData::SettingOut(sheet) => Sheet::SettingOut { sheet, templates },
        SheetData::OrderList(list) => Sheet::OrderList(list),
        SheetData::CareSheet(sheet) => Sheet::Care(sheet),
        SheetData::ChangeNote(note) => Sheet::ChangeNote { note, photos: &photos },
    };
    let making = office.making();
    let made = sheet(&what, paper, &making).map_err(failed)?;
    making.stop_no_more().map_err(failed)?;
    keep_pages(&office, &to_make.file, &made)?;
    office.at(|desk| Ok(desk.store.keep_paper(&to_make.file, &made.pdf).map(drop)?))?;
    Ok(Paper { pages: made.pages, number: None, file: to_make.file })
}

/// A file of data that was made.
#[derive(Serialize)]
pub struct DataFile {
    file: String,
    bytes: usize,
    /// How it begins, so that a person sees what is in it.
    begins: String,
}

/// How many signs of a file are shown.
const SIGNS_SHOWN: usize = 400;

/// Writes a job as data into the papers folder.
#[tauri::command(async)]
pub fn make_data(office: State<'_, Office>, job: &str) -> Result<Vec<DataFile>, Fault> {
    office.at(|desk| {
        let files = api::job_files(desk, job)?;
        for (name, bytes) in &files {
            desk.store.keep_paper(name, bytes)?;
        }
        let shown = |(file, bytes): (String, Vec<u8>)| DataFile {
            begins: String::from_utf8_lossy(&bytes).chars().take(SIGNS_SHOWN).collect(),
            bytes: bytes.len(),
            file,
        };
        Ok(files.into_iter().map(shown).collect())
    })
}

/// How far the paper in the making is: steps done, of how many; none where none is being made.
#[tauri::command]
pub fn paper_progress(office: State<'_, Office>) -> Option<[u32; 2]> {
    office.progress()
}

/// Stops the paper in the making; nothing is issued then. Answers whether there was one.
#[tauri::command]
pub fn stop_paper(office: State<'_, Office>) -> bool {
    office.stop()
}

/// Verifies a sealed paper that was opened.
#[tauri::command(async)]
pub fn verify_paper(request: Request<'_>) -> Result<fairfall_papers::Verdict, Fault> {
    Ok(fairfall_papers::verify(&sent_bytes(&request)?))
}
