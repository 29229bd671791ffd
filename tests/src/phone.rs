//! A phone made of folders, in place of the one that the app would run on: what is saved or shared, and
//! whether the screen is held awake, can be looked at; the camera's folder can be filled.

use std::io;
use std::path::{Path, PathBuf};

use fairfall_app::Surroundings;
use fairfall_core::api::Fault;

/// The phone. `saved` and `shared` take what leaves the app, `Pictures` is the camera's, `awake` is
/// there while the screen is held. While `no-place` is there, the person puts the save dialog away.
#[derive(Debug, Clone)]
pub struct Folders(PathBuf);

impl Folders {
    /// A phone in a folder, which is made when something comes into it.
    pub fn new(folder: PathBuf) -> Self {
        Folders(folder)
    }
}

impl Surroundings for Folders {
    fn save(&self, file: &str, bytes: &[u8]) -> Result<Option<String>, Fault> {
        if self.0.join("no-place").exists() {
            return Ok(None);
        }
        let path = put(&self.0.join("saved"), file, bytes).map_err(machine)?;
        Ok(Some(path.to_string_lossy().into_owned()))
    }

    fn can_share(&self) -> bool {
        true
    }

    fn share(&self, file: &str, bytes: &[u8]) -> Result<(), Fault> {
        put(&self.0.join("shared"), file, bytes).map(drop).map_err(machine)
    }

    fn keep_awake(&self, on: bool) -> Result<bool, Fault> {
        let done = if on {
            put(&self.0, "awake", b"").map(drop)
        } else {
            std::fs::remove_file(self.0.join("awake"))
        };
        done.map(|()| true).map_err(machine)
    }

    fn captures(&self) -> Option<PathBuf> {
        Some(self.0.join("Pictures"))
    }
}

fn put(folder: &Path, file: &str, bytes: &[u8]) -> io::Result<PathBuf> {
    std::fs::create_dir_all(folder)?;
    let path = folder.join(file);
    std::fs::write(&path, bytes)?;
    Ok(path)
}

fn machine(error: io::Error) -> Fault {
    Fault::machine(&error.to_string())
}
