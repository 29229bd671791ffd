//! Jobs in a store: `jobs`, `new`, `log`, `diary`, `state`.

use std::io::{BufRead as _, Write as _};
use std::path::Path;

use fairfall_core::api::requests::{Nothing, OfJob, PlanText};
use fairfall_core::api::{self, Fault};
use fairfall_core::plan::Plan;
use serde_json::{Value, json};

use crate::outcome::{Outcome, Trouble, table};
use crate::plan::read_text;
use crate::system::{open, open_or_begin};

/// The jobs in a store.
pub fn jobs(store: &Path) -> Result<Outcome, Trouble> {
    let mut desk = open(store)?;
    let shelf = api::shelf(&mut desk, Nothing {})?;
    let rows: Vec<Value> = shelf
        .jobs
        .iter()
        .map(|j| json!({ "id": j.id, "title": j.title, "use": j.r#use, "entries": j.entries }))
        .collect();
    let lines: Vec<[String; 2]> = shelf
        .jobs
        .iter()
        .map(|j| [j.id.clone(), format!("{} ({}). {}", j.title, counted(j.entries), j.next.text)])
        .collect();
    let text = if lines.is_empty() { "no jobs yet".to_owned() } else { table(&lines) };
    Ok(Outcome::done(json!({ "jobs": rows }), text))
}

/// Starts a job from a plan.
pub fn new(store: &Path, plan: &Path) -> Result<Outcome, Trouble> {
    let text = read_text(plan)?;
    // A bad plan leaves no store behind.
    Plan::parse(&text)?;
    if store.is_file() {
        let problem = format!("{} is a file; a store is a folder", store.display());
        return Err(Trouble::input("", problem, "a folder, which is made if there is none"));
    }
    let begun = !store.exists();
    let parent = store.parent().filter(|parent| !parent.as_os_str().is_empty());
    if let Some(parent) = parent.filter(|parent| begun && !parent.is_dir()) {
        let problem = format!("there is no folder {}", parent.display());
        return Err(Trouble::input("", problem, "a store in a folder that is there"));
    }
    let mut desk = open_or_begin(store)?;
    let attention = !desk.store.notices().is_empty();
    let started = api::start_job(&mut desk, PlanText { text })?;
    Ok(Outcome {
        json: Some(json!({ "job": started.job })),
        text: if begun {
            format!("A new store was begun in {}.\njob {}", store.display(), started.job)
        } else {
            format!("job {}", started.job)
        },
        attention,
    })
}

/// Entries with their count.
fn counted(entries: u32) -> String {
    if entries == 1 { "1 entry".to_owned() } else { format!("{entries} entries") }
}

/// Appends entries from standard input and answers each line once it is safe on disk.
pub fn log(store: &Path, job: &str) -> Result<Outcome, Trouble> {
    let mut desk = open(store)?;
    let lines = std::io::stdin().lock().lines();
    let mut out = std::io::stdout().lock();
    let bad = api::log_lines(&mut desk, job, lines, |answer| {
        writeln!(out, "{answer}")?;
        out.flush()
    })?;
    Ok(Outcome { json: None, text: String::new(), attention: bad > 0 })
}

/// A job's entries in order.
pub fn diary(store: &Path, job: &str) -> Result<Outcome, Trouble> {
    let mut desk = open(store)?;
    let json = api::diary_json(&desk, job)?;
    let entries = api::diary(&mut desk, OfJob { job: job.to_owned() })?;
    let mut text = String::new();
    for entry in &entries {
        let struck = entry
            .struck
            .as_ref()
            .map_or(String::new(), |s| format!(" [struck by {}: {}]", s.who, s.reason));
        let at = minute(&entry.at);
        text.push_str(&format!("{at}  {}  {}{struck}\n", entry.who, entry.says.text));
    }
    Ok(Outcome::done(json, text))
}

/// A time to the minute, by the clock of the place where it was written; as it is where it is none.
fn minute(at: &str) -> String {
    chrono::DateTime::parse_from_rfc3339(at)
        .map_or_else(|_| at.to_owned(), |at| at.format("%Y-%m-%d %H:%M").to_string())
}

/// A job as it stands.
pub fn state(store: &Path, job: &str) -> Result<Outcome, Trouble> {
    let desk = open(store)?;
    let json = api::state_json(&desk, job)?;
    let text = state_for_people(&json).ok_or_else(|| Fault::machine("the state has no form"))?;
    Ok(Outcome::done(json, text))
}

fn state_for_people(state: &Value) -> Option<String> {
    let mut rows = Vec::new();
    for stage in state.get("stages")?.as_array()? {
        let missing: Vec<&str> =
            stage.get("missing")?.as_array()?.iter().filter_map(Value::as_str).collect();
        let word = |key: &str| Some(stage.get(key)?.as_str()?.replace('_', " "));
        rows.push([word("stage")?, format!("{}  {}", word("state")?, missing.join(" "))]);
    }
    let next = state.pointer("/next/text")?.as_str()?;
    Some(format!("{}\n\n{}\nNext: {next}\n", state.get("title")?.as_str()?, table(&rows)))
}
