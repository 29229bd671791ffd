//! What the page may call for papers beside the record: sheets, data, how far a paper is, and whether
//! one that was opened is as it was issued.

use fairfall_core::api::{self, Fault, SheetData};
use fairfall_papers::{Sheet, sheet, sheet_preview};
use tauri::State;
use tauri::ipc::{InvokeBody, Request};

use crate::Office;
use crate::commands::{Paper, failed, page_file, paper_size, photo_of};

/// Makes a paper that is not sealed, by its kind: `setting_out`, `care_sheet`, or `change_note` with
/// the change's number. It lies in the papers folder, beside one SVG a page.
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
    let photos = |sha256: &str| photo_of(&office, sha256);
    let what = match &to_make.says {
        SheetData::SettingOut(sheet) => Sheet::SettingOut { sheet, templates },
        SheetData::CareSheet(sheet) => Sheet::Care(sheet),
        SheetData::ChangeNote(note) => Sheet::ChangeNote { note, photos: &photos },
    };
    let made = sheet(&what, paper).map_err(failed)?;
    let pages = sheet_preview(&what, paper).map_err(failed)?;
    office.at(|desk| {
        for (page, svg) in pages.iter().enumerate() {
            desk.store.keep_paper(&page_file(&to_make.file, page), svg.as_bytes())?;
        }
        desk.store.keep_paper(&to_make.file, &made.pdf)?;
        Ok(())
    })?;
    Ok(Paper { pages: pages.len(), number: None, file: to_make.file })
}

/// Writes a job as data into the papers folder and gives the files' names.
#[tauri::command(async)]
pub fn make_data(office: State<'_, Office>, job: &str) -> Result<Vec<String>, Fault> {
    office.at(|desk| {
        let files = api::job_files(desk, job)?;
        for (name, bytes) in &files {
            desk.store.keep_paper(name, bytes)?;
        }
        Ok(files.into_iter().map(|(name, _)| name).collect())
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

/// Verifies a sealed paper that was opened: its bytes come as they are.
#[tauri::command(async)]
pub fn verify_paper(request: Request<'_>) -> Result<fairfall_papers::Verdict, Fault> {
    let InvokeBody::Raw(bytes) = request.body() else {
        return Err(Fault::bad_request("a paper comes as bytes"));
    };
    Ok(fairfall_papers::verify(bytes))
}
