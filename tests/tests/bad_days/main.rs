//! Bad days: the disk is full, the store comes from the future or is all zeros, the clock is wrong,
//! the photo is none, the plan is nonsense. Each gets a clear error, and nothing is lost.
#![cfg(test)]

mod clock;
mod disk;
mod entries;
mod photos;
mod plans;
mod stores;

use std::path::{Path, PathBuf};

use fairfall_acceptance::http::{Answer, send};
use fairfall_acceptance::program::{Fairfall, Trouble, root};
use serde_json::{Value, json};
use tempfile::TempDir;

/// A store with one job in it.
struct Site {
    fairfall: Fairfall,
    store: PathBuf,
    job: String,
    // The folder goes with the site.
    _folder: Option<TempDir>,
}

impl Site {
    fn begin() -> Result<Site, Trouble> {
        let folder = tempfile::tempdir()?;
        let site = Site::begin_in(folder.path())?;
        Ok(Site { _folder: Some(folder), ..site })
    }

    fn begin_in(folder: &Path) -> Result<Site, Trouble> {
        let fairfall = Fairfall::built()?;
        let store = folder.join("store");
        let job = fairfall.new_job(&store, &root().join("fixtures/demo/garden-path.json"))?;
        Ok(Site { fairfall, store, job, _folder: None })
    }

    fn database(&self) -> PathBuf {
        self.store.join("fairfall.db")
    }

    /// Arguments of a command on this job.
    fn on_job(&self, command: &str) -> [String; 4] {
        let store = self.store.to_string_lossy().into_owned();
        [command.to_owned(), store, self.job.clone(), "--json".to_owned()]
    }

    /// The identities in the diary, in its order, after a whole check of the store.
    fn diary(&self) -> Result<Vec<String>, Trouble> {
        let verified =
            self.fairfall.run(["verify".as_ref(), self.store.as_os_str(), "--json".as_ref()])?;
        if verified.status != Some(0) || verified.json()?.get("ok") != Some(&Value::Bool(true)) {
            return Err(format!("the store does not hold: {verified:?}").into());
        }
        let diary = self.fairfall.run(self.on_job("diary"))?.json()?;
        let entries = diary.get("entries").and_then(Value::as_array).ok_or("no entries")?;
        entries.iter().map(|e| Ok(text(e, "id")?.to_owned())).collect()
    }

    /// Logs notes and gives the identities answered.
    fn log_notes(&self, notes: &[&str]) -> Result<Vec<String>, Trouble> {
        let ended = self.fairfall.run_with(self.on_job("log"), lines_of(notes).as_bytes())?;
        if ended.status != Some(0) {
            return Err(format!("not logged: {ended:?}").into());
        }
        ended.lines()?.iter().map(|answer| Ok(text(answer, "id")?.to_owned())).collect()
    }
}

/// Notes as `fairfall log` reads them.
fn lines_of(notes: &[&str]) -> String {
    let line = |text: &&str| format!("{}\n", json!({ "kind": "note", "body": { "text": text } }));
    notes.iter().map(line).collect()
}

/// A member that is text.
fn text<'a>(value: &'a Value, key: &str) -> Result<&'a str, Trouble> {
    let text = value.get(key).and_then(Value::as_str);
    text.ok_or_else(|| format!("no {key} in {value}").into())
}

/// Asks the bridge for a command with JSON.
fn ask(url: &str, command: &str, arguments: &Value) -> Result<Answer, Trouble> {
    let body = arguments.to_string();
    send(url, "POST", &format!("/ipc/{command}"), ("application/json", body.as_bytes()))
}

/// Hands the bridge a photo.
fn keep_photo(url: &str, bytes: &[u8]) -> Result<Answer, Trouble> {
    send(url, "POST", "/ipc/keep_photo", ("application/octet-stream", bytes))
}

/// The code of the fault that came back.
fn code(answer: &Answer) -> Result<String, Trouble> {
    if answer.status != 400 {
        let body = String::from_utf8_lossy(&answer.body);
        return Err(format!("no fault but {}: {body}", answer.status).into());
    }
    Ok(text(&serde_json::from_slice(&answer.body)?, "code")?.to_owned())
}
