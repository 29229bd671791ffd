//! Papers that leave the app: saved where the person chooses, or shared.

use fairfall_core::api::Fault;
use fairfall_core::store::StoreError;
use serde::Serialize;
use tauri::State;

use crate::Office;
use crate::commands::paper_path;
use crate::surroundings::Around;

/// Where a paper was saved; none where the person chose no place.
#[derive(Serialize)]
pub struct Saved {
    path: Option<String>,
}

/// Saves a copy of a paper, and says where.
#[tauri::command(async)]
pub fn save_paper(
    office: State<'_, Office>,
    around: State<'_, Around>,
    file: &str,
) -> Result<Saved, Fault> {
    Ok(Saved { path: around.save(file, &paper(&office, file)?)? })
}

/// Opens the share sheet over a copy of a paper.
#[tauri::command(async)]
pub fn share_paper(
    office: State<'_, Office>,
    around: State<'_, Around>,
    file: &str,
) -> Result<(), Fault> {
    around.share(file, &paper(&office, file)?)
}

/// The bytes of a paper. The desk is free again before any dialog opens.
fn paper(office: &Office, file: &str) -> Result<Vec<u8>, Fault> {
    let path = office.at(|desk| paper_path(&desk.store.papers(), file))?;
    Ok(std::fs::read(path).map_err(StoreError::from)?)
}
