//! What lies around the window: where a copy is saved, who a paper is shared with, whether the screen
//! sleeps. The commands choose what is handed out; the page only asks for it.

#[cfg(desktop)]
mod desktop;
#[cfg(mobile)]
mod mobile;

use std::path::PathBuf;

use fairfall_core::api::Fault;
use tauri::{AppHandle, Runtime, State};

#[cfg(desktop)]
use desktop::Desktop as Here;
#[cfg(mobile)]
use mobile::Mobile as Here;
#[cfg(mobile)]
pub(crate) use mobile::plugins;

/// What the app asks of the machine that it runs on.
pub trait Surroundings: Send + Sync {
    /// Saves a copy of a paper and says where it went; none where the person chose no place.
    ///
    /// # Errors
    /// Where the copy could not be written.
    fn save(&self, file: &str, bytes: &[u8]) -> Result<Option<String>, Fault>;

    /// Whether there is a share sheet.
    fn can_share(&self) -> bool;

    /// Opens the share sheet over a copy of a paper.
    ///
    /// # Errors
    /// Where there is none, or it does not open.
    fn share(&self, file: &str, bytes: &[u8]) -> Result<(), Fault>;

    /// Keeps the screen awake, or lets it sleep again. Answers whether that is in its power.
    ///
    /// # Errors
    /// Where the machine refuses.
    fn keep_awake(&self, on: bool) -> Result<bool, Fault>;

    /// Where the camera leaves the photos that were taken from a page, if they stay somewhere.
    fn captures(&self) -> Option<PathBuf>;
}

/// The surroundings that the commands work in.
pub struct Around(Box<dyn Surroundings>);

impl Around {
    /// Surroundings of one's own, as tests bring.
    pub fn new(surroundings: impl Surroundings + 'static) -> Self {
        Around(Box::new(surroundings))
    }

    /// The phone or the desk that the app runs on.
    pub fn here<R: Runtime>(app: &AppHandle<R>) -> Self {
        Around::new(Here::new(app.clone()))
    }
}

impl std::ops::Deref for Around {
    type Target = dyn Surroundings;

    fn deref(&self) -> &Self::Target {
        self.0.as_ref()
    }
}

/// Whether papers can be shared from here.
#[tauri::command]
pub fn can_share(around: State<'_, Around>) -> bool {
    around.can_share()
}

/// Keeps the screen awake where the page cannot do it by itself. Answers whether it will be.
#[tauri::command(async)]
pub fn keep_awake(around: State<'_, Around>, on: bool) -> Result<bool, Fault> {
    around.keep_awake(on)
}
