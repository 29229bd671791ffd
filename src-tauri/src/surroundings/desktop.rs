//! A desk: copies go to the person's documents; there is no share sheet, and nothing to keep awake.

use std::path::{Path, PathBuf};

use fairfall_core::api::Fault;
use fairfall_core::store::StoreError;
use tauri::{AppHandle, Manager as _, Runtime};

use super::Surroundings;

/// The desk that the app runs on.
pub struct Desktop<R: Runtime>(AppHandle<R>);

impl<R: Runtime> Desktop<R> {
    pub fn new(app: AppHandle<R>) -> Self {
        Desktop(app)
    }
}

impl<R: Runtime> Surroundings for Desktop<R> {
    fn save(&self, file: &str, bytes: &[u8]) -> Result<Option<String>, Fault> {
        let machine = |error: tauri::Error| Fault::machine(&error.to_string());
        let path = self.0.path();
        let documents = path.document_dir().or_else(|_| path.home_dir()).map_err(machine)?;
        let copy = save_beside(&documents, file, bytes).map_err(StoreError::from)?;
        Ok(Some(copy.to_string_lossy().into_owned()))
    }

    fn can_share(&self) -> bool {
        false
    }

    fn share(&self, _file: &str, _bytes: &[u8]) -> Result<(), Fault> {
        Err(Fault::bad_request("there is no share sheet on this machine"))
    }

    fn keep_awake(&self, _on: bool) -> Result<bool, Fault> {
        Ok(false)
    }

    fn captures(&self) -> Option<PathBuf> {
        None
    }
}

/// Saves a copy into a folder, which is made where there is none. An earlier copy of the same name
/// stays.
fn save_beside(folder: &Path, file: &str, bytes: &[u8]) -> std::io::Result<PathBuf> {
    std::fs::create_dir_all(folder)?;
    let copy = free_name(folder, file);
    std::fs::write(&copy, bytes)?;
    Ok(copy)
}

fn free_name(folder: &Path, file: &str) -> PathBuf {
    let stem = file.trim_end_matches(".pdf");
    let numbered = |n: u32| folder.join(format!("{stem} ({n}).pdf"));
    let first = folder.join(file);
    if !first.exists() {
        return first;
    }
    (2..).map(numbered).find(|path| !path.exists()).unwrap_or(first)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_earlier_copy_stays() {
        let home = tempfile::tempdir().unwrap();
        let documents = home.path().join("Documents");
        let first = save_beside(&documents, "record-1.pdf", b"one").unwrap();
        let second = save_beside(&documents, "record-1.pdf", b"two").unwrap();
        assert_eq!(std::fs::read(first).unwrap(), b"one");
        assert_eq!(std::fs::read(&second).unwrap(), b"two");
        assert!(second.ends_with("record-1 (2).pdf"));
    }
}
