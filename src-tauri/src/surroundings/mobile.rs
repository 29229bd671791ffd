//! A phone: a copy is saved where its own dialog says. On Android there are the share sheet and the
//! camera's folder as well; on an iPhone the page keeps the screen awake by itself, and sharing has no
//! way down yet.

use std::io::Write as _;
use std::path::PathBuf;

use fairfall_core::api::Fault;
use tauri::{AppHandle, Builder, Manager as _, Runtime};
use tauri_plugin_dialog::DialogExt as _;
use tauri_plugin_fs::{FilePath, FsExt as _, OpenOptions};

use super::Surroundings;

/// The plugins that a phone needs. They are used from Rust alone: the page has no permission for any.
pub fn plugins<R: Runtime>(builder: Builder<R>) -> Builder<R> {
    let builder = builder.plugin(tauri_plugin_dialog::init()).plugin(tauri_plugin_fs::init());
    #[cfg(target_os = "android")]
    let builder = builder.plugin(android::plugin());
    builder
}

/// The phone that the app runs on.
pub struct Mobile<R: Runtime>(AppHandle<R>);

impl<R: Runtime> Mobile<R> {
    pub fn new(app: AppHandle<R>) -> Self {
        Mobile(app)
    }

    /// Writes over whatever lies at a place that the person chose.
    fn write(&self, place: &FilePath, bytes: &[u8]) -> std::io::Result<()> {
        let mut options = OpenOptions::new();
        options.write(true).truncate(true).create(true);
        // A place may be a pipe to some cloud, which cannot be synced.
        self.0.fs().open(place.clone(), options)?.write_all(bytes)
    }
}

impl<R: Runtime> Surroundings for Mobile<R> {
    fn save(&self, file: &str, bytes: &[u8]) -> Result<Option<String>, Fault> {
        let (name, end, _) = kind_of(file);
        let dialog = self.0.dialog().file().set_file_name(file).add_filter(name, &[end]);
        let Some(place) = dialog.blocking_save_file() else { return Ok(None) };
        let written = self.write(&place, bytes);
        #[cfg(target_os = "ios")]
        let _not_held = self.0.fs().stop_accessing_security_scoped_resource(place.clone());
        written.map_err(machine)?;
        let named = self.0.path().file_name(&place.to_string());
        Ok(Some(named.unwrap_or_else(|| file.to_owned())))
    }

    #[cfg(target_os = "android")]
    fn can_share(&self) -> bool {
        true
    }

    #[cfg(not(target_os = "android"))]
    fn can_share(&self) -> bool {
        false
    }

    #[cfg(target_os = "android")]
    fn share(&self, file: &str, bytes: &[u8]) -> Result<(), Fault> {
        // The file provider hands out what lies in the cache; the system empties it when it needs room.
        let folder = self.0.path().app_cache_dir().map_err(machine)?.join("shared");
        std::fs::create_dir_all(&folder).map_err(machine)?;
        let path = folder.join(file);
        std::fs::write(&path, bytes).map_err(machine)?;
        android::ask(&self.0, "share", android::Share { path, mime: kind_of(file).2 })
    }

    #[cfg(not(target_os = "android"))]
    fn share(&self, _file: &str, _bytes: &[u8]) -> Result<(), Fault> {
        Err(Fault::bad_request("there is no way to the share sheet of this phone yet"))
    }

    #[cfg(target_os = "android")]
    fn keep_awake(&self, on: bool) -> Result<bool, Fault> {
        android::ask(&self.0, "keepAwake", android::KeepAwake { on }).map(|()| true)
    }

    #[cfg(not(target_os = "android"))]
    fn keep_awake(&self, _on: bool) -> Result<bool, Fault> {
        Ok(false)
    }

    #[cfg(target_os = "android")]
    fn captures(&self) -> Option<PathBuf> {
        self.0.path().picture_dir().ok()
    }

    #[cfg(not(target_os = "android"))]
    fn captures(&self) -> Option<PathBuf> {
        None
    }
}

/// What a file is by the end of its name: in a dialog, its end, its media type.
fn kind_of(file: &str) -> (&'static str, &'static str, &'static str) {
    match file.rsplit('.').next() {
        Some("csv") => ("CSV", "csv", "text/csv"),
        Some("geojson") => ("GeoJSON", "geojson", "application/geo+json"),
        Some("ics") => ("iCalendar", "ics", "text/calendar"),
        Some(_) | None => ("PDF", "pdf", "application/pdf"),
    }
}

fn machine(error: impl std::fmt::Display) -> Fault {
    Fault::machine(&error.to_string())
}

/// Our own few lines of Kotlin: `PhonePlugin.kt` beside the app's activity.
#[cfg(target_os = "android")]
mod android {
    use std::path::PathBuf;

    use fairfall_core::api::Fault;
    use serde::Serialize;
    use tauri::plugin::{Builder, PluginHandle, TauriPlugin};
    use tauri::{AppHandle, Manager as _, Runtime};

    /// The plugin's Kotlin side.
    struct Phone<R: Runtime>(PluginHandle<R>);

    #[derive(Serialize)]
    pub struct Share {
        pub path: PathBuf,
        pub mime: &'static str,
    }

    #[derive(Serialize)]
    pub struct KeepAwake {
        pub on: bool,
    }

    pub fn plugin<R: Runtime>() -> TauriPlugin<R> {
        Builder::new("phone")
            .setup(|app, api| {
                app.manage(Phone(api.register_android_plugin("org.fairfall.app", "PhonePlugin")?));
                Ok(())
            })
            .build()
    }

    /// Runs one command of the Kotlin side.
    pub fn ask<R: Runtime>(
        app: &AppHandle<R>,
        command: &str,
        what: impl Serialize,
    ) -> Result<(), Fault> {
        let phone = app.state::<Phone<R>>();
        phone.0.run_mobile_plugin::<()>(command, what).map_err(super::machine)
    }
}
