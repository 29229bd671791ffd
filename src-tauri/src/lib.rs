//! The Fairfall app: opens the store, hands in the clock, shows the screens.
//!
//! A command unpacks, calls one function of the core, and packs. Phone and desktop run the same.

mod captures;
mod commands;
mod handing_out;
mod making;
mod outside;
mod photos;
mod sheets;
mod surroundings;

use std::path::PathBuf;
use std::sync::{Arc, Mutex};

use fairfall_core::api::{Desk, Fault};
use fairfall_core::outside::Outside;
use fairfall_core::store::Store;
use making::{Making, Workshop};
use tauri::Manager as _;

pub use outside::System;
pub use surroundings::{Around, Surroundings};

/// The desk that every command works on. It is opened when first asked for, so that a store that
/// cannot be opened is an answer on the screen and not a window that never shows.
#[derive(Clone)]
pub struct Office {
    folder: PathBuf,
    desk: Arc<Mutex<Option<Desk>>>,
    workshop: Workshop,
}

impl Office {
    /// An office over a store's folder.
    pub fn new(folder: PathBuf) -> Self {
        Office { folder, desk: Arc::new(Mutex::new(None)), workshop: Workshop::default() }
    }

    /// Begins a paper that a screen may follow and stop.
    pub(crate) fn making(&self) -> Making {
        self.workshop.begin()
    }

    /// Steps done and steps in all of the paper in the making.
    pub(crate) fn progress(&self) -> Option<[u32; 2]> {
        self.workshop.progress()
    }

    /// Stops the paper in the making.
    pub(crate) fn stop(&self) -> bool {
        self.workshop.stop()
    }

    /// Works at the desk.
    pub(crate) fn at<T>(
        &self,
        work: impl FnOnce(&mut Desk) -> Result<T, Fault>,
    ) -> Result<T, Fault> {
        // A panic elsewhere leaves the desk as it was: every write is a whole transaction.
        let mut desk = self.desk.lock().unwrap_or_else(std::sync::PoisonError::into_inner);
        let open = match desk.take() {
            Some(open) => open,
            None => {
                let mut outside = System;
                let stamp = outside.now().format("%Y%m%dT%H%M%S").to_string();
                let store = Store::open_or_begin(&self.folder, &stamp)?;
                // Made at the first start; issuing a paper says so where it could not be.
                let _key_or_later = store.device_key(&mut outside);
                Desk { store, outside: Box::new(outside) }
            }
        };
        work(desk.insert(open))
    }
}

/// Builds the app with its commands over an office; tests hand in Tauri's mock runtime.
pub fn build<R: tauri::Runtime>(builder: tauri::Builder<R>) -> tauri::Builder<R> {
    builder.invoke_handler(tauri::generate_handler![
        commands::ask,
        photos::keep_photo,
        photos::left_photo,
        photos::photo,
        commands::make_record,
        sheets::make_sheet,
        sheets::make_data,
        sheets::paper_progress,
        sheets::stop_paper,
        sheets::verify_paper,
        commands::paper_page,
        handing_out::save_paper,
        handing_out::share_paper,
        surroundings::can_share,
        surroundings::keep_awake,
    ])
}

/// Runs the app. The store lies in the app's private data folder; on a desktop the first argument
/// may name another.
#[cfg_attr(mobile, tauri::mobile_entry_point)]
pub fn run() {
    let builder = build(tauri::Builder::default());
    #[cfg(mobile)]
    let builder = surroundings::plugins(builder);
    let started = builder
        .setup(|app| {
            let named = if cfg!(mobile) { None } else { std::env::args_os().nth(1) };
            let folder = match named {
                Some(folder) => PathBuf::from(folder),
                None => app.path().app_data_dir()?.join("store"),
            };
            app.manage(Office::new(folder));
            app.manage(Around::here(app.handle()));
            Ok(())
        })
        .run(tauri::generate_context!());
    if let Err(error) = started {
        eprintln!("Fairfall could not start: {error}");
        std::process::exit(3);
    }
}
