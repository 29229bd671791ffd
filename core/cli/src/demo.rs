//! `fairfall demo`: two invented jobs worked from plan to completion record, by the same calls that
//! the phone makes. The diaries lie in `fixtures/demo`, a JSON object a line: an entry as `fairfall
//! log` takes it, where a photo names a file of `fixtures/demo/photos`, and an entry that is struck
//! later has a name.

use std::collections::BTreeMap;
use std::path::Path;

use chrono::{DateTime, FixedOffset};
use fairfall_core::api::requests::{LogEntry, PlanText, SetPerson};
use fairfall_core::api::{self, Desk};
use fairfall_core::outside::Outside;
use fairfall_core::store::{Store, prepare_photo};
use fairfall_papers::PaperSize;
use serde::Deserialize;
use serde_json::{Value, json};

use crate::outcome::{Outcome, Trouble, table};
use crate::papers::issue;
use crate::sheets::of_job;
use crate::system::System;

/// A demo job: its plan and its diary.
struct Job {
    plan: &'static str,
    diary: &'static str,
}

const JOBS: [Job; 2] = [
    Job {
        plan: include_str!("../../../fixtures/demo/garden-path.json"),
        diary: include_str!("../../../fixtures/demo/garden-path.jsonl"),
    },
    Job {
        plan: include_str!("../../../fixtures/demo/car-standing.json"),
        diary: include_str!("../../../fixtures/demo/car-standing.jsonl"),
    },
];

const PHOTOS: [(&str, &[u8]); 6] = [
    ("before.jpg", include_bytes!("../../../fixtures/demo/photos/before.jpg")),
    ("formation.jpg", include_bytes!("../../../fixtures/demo/photos/formation.jpg")),
    ("stone.jpg", include_bytes!("../../../fixtures/demo/photos/stone.jpg")),
    ("bed.jpg", include_bytes!("../../../fixtures/demo/photos/bed.jpg")),
    ("blocks.jpg", include_bytes!("../../../fixtures/demo/photos/blocks.jpg")),
    ("haunch.jpg", include_bytes!("../../../fixtures/demo/photos/haunch.jpg")),
];

/// One line of a demo diary.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Line {
    at: DateTime<FixedOffset>,
    who: String,
    kind: String,
    body: Value,
    #[serde(default)]
    name: Option<String>,
}

/// A clock that tells the time of the diary's line.
struct Told {
    now: DateTime<FixedOffset>,
}

impl Outside for Told {
    fn now(&mut self) -> DateTime<FixedOffset> {
        self.now
    }

    fn random(&mut self) -> [u8; 10] {
        System.random()
    }
}

/// Works both jobs into a folder.
pub fn demo(folder: &Path) -> Result<Outcome, Trouble> {
    let broken = |error: std::io::Error| Trouble::Machine(format!("{}: {error}", folder.display()));
    let parts = ["store", "papers", "data", "demo.json"].map(|part| folder.join(part));
    for part in &parts {
        remove(part).map_err(broken)?;
    }
    let [store_folder, papers, data_folder, summary] = parts;
    for made in [&papers, &data_folder] {
        std::fs::create_dir_all(made).map_err(broken)?;
    }
    let store = Store::open_or_begin(&store_folder, "demo")?;
    let start = first_time(JOBS.iter())?;
    let mut desk = Desk { store, outside: Box::new(Told { now: start }) };
    let mut jobs = Vec::new();
    let mut files = Vec::new();
    let mut data = Vec::new();
    let mut rows = Vec::new();
    for job in &JOBS {
        let id = work(&mut desk, job)?;
        let (paper, made) = issue(&mut desk, &id, PaperSize::A4, None)?;
        std::fs::write(papers.join(&paper.file), &made.pdf).map_err(broken)?;
        let record = &paper.record;
        let file = format!("papers/{}", paper.file);
        rows.push([
            record.title.clone(),
            format!(
                "{} dips stand, {} differences from the plan, {} photos, {} pages: {}",
                record.dips.len(),
                record.exceptions.len(),
                record.photos.len(),
                made.pages,
                folder.join(&file).display()
            ),
        ]);
        let state = api::state_json(&desk, &id)?;
        jobs.push(json!({ "id": id, "title": state.get("title"), "use": state.get("use") }));
        files.push(json!({ "job": id, "kind": "completion_record", "file": file }));
        let changes = state.get("changes").and_then(Value::as_array).map_or(0, Vec::len);
        let notes = (1..).take(changes).map(|number| ("change_note", Some(number)));
        for (kind, change) in [("setting_out", None), ("order_list", None), ("care_sheet", None)]
            .into_iter()
            .chain(notes)
        {
            let (file, made) = of_job(&mut desk, &id, kind, change, PaperSize::A4)?;
            std::fs::write(papers.join(&file), &made.pdf).map_err(broken)?;
            files.push(json!({ "job": id, "kind": kind, "file": format!("papers/{file}") }));
        }
        for (file, bytes) in api::job_files(&mut desk, &id)? {
            std::fs::write(data_folder.join(&file), bytes).map_err(broken)?;
            data.push(json!({ "job": id, "name": format!("data/{file}") }));
        }
    }
    let json = json!({ "store": "store", "jobs": jobs, "papers": files, "data": data });
    std::fs::write(summary, format!("{json:#}\n")).map_err(broken)?;
    Ok(Outcome::done(json, table(&rows)))
}

fn remove(path: &Path) -> std::io::Result<()> {
    let removed =
        if path.is_dir() { std::fs::remove_dir_all(path) } else { std::fs::remove_file(path) };
    match removed {
        Err(error) if error.kind() == std::io::ErrorKind::NotFound => Ok(()),
        other => other,
    }
}

fn lines(job: &Job) -> Result<Vec<Line>, Trouble> {
    let read = |line| {
        serde_json::from_str(line)
            .map_err(|error| Trouble::Machine(format!("the demo's diary: {error}: {line}")))
    };
    job.diary.lines().filter(|line| !line.trim().is_empty()).map(read).collect()
}

fn first_time<'a>(
    mut jobs: impl Iterator<Item = &'a Job>,
) -> Result<DateTime<FixedOffset>, Trouble> {
    let first = jobs.next().map(lines).transpose()?;
    let first = first.and_then(|lines| lines.first().map(|line| line.at));
    first.ok_or_else(|| Trouble::Machine("the demo has no diary".to_owned()))
}

/// Starts a job and logs its diary, each line at its own time.
fn work(desk: &mut Desk, job: &Job) -> Result<String, Trouble> {
    let lines = lines(job)?;
    let mut names: BTreeMap<String, String> = BTreeMap::new();
    let mut started = None;
    for line in lines {
        desk.outside = Box::new(Told { now: line.at });
        api::set_person(desk, SetPerson { name: line.who })?;
        let id = match &started {
            Some(id) => id,
            None => {
                let plan = PlanText { text: job.plan.to_owned() };
                started.insert(api::start_job(desk, plan)?.job)
            }
        };
        let body = resolved(desk, &names, &line.kind, line.body)?;
        let entry = LogEntry { job: id.clone(), kind: line.kind, body, at: None };
        let logged = api::log(desk, entry)?;
        if let Some(name) = line.name {
            names.insert(name, logged.id);
        }
    }
    started.ok_or_else(|| Trouble::Machine("the demo's diary is empty".to_owned()))
}

/// The body with photo files kept and names of entries turned into their identities.
fn resolved(
    desk: &Desk,
    names: &BTreeMap<String, String>,
    kind: &str,
    mut body: Value,
) -> Result<Value, Trouble> {
    let missing = |what: &str| Trouble::Machine(format!("the demo's diary names no {what}"));
    let Some(members) = body.as_object_mut() else { return Err(missing("body")) };
    match kind {
        "photo" => {
            let file = members.remove("file").unwrap_or_default();
            let sha256 = kept(desk, &file).ok_or_else(|| missing("photo that is there"))??;
            members.insert("sha256".to_owned(), Value::String(sha256));
        }
        "change" => {
            if let Some(file) = members.remove("file") {
                let sha256 = kept(desk, &file).ok_or_else(|| missing("photo that is there"))??;
                members.insert("photo".to_owned(), Value::String(sha256));
            }
        }
        _ => {}
    }
    // What an entry is about, by the name of the line that it is about.
    let about = match kind {
        "signature" => "change",
        "strike" => "entry",
        "soft_spot_filled" => "spot",
        "snag_closed" => "snag",
        "pack_emptied" => "pack",
        _ => return Ok(body),
    };
    if let Some(name) = members.get(about).and_then(Value::as_str) {
        let id = names.get(name).ok_or_else(|| missing("entry that is there"))?;
        members.insert(about.to_owned(), Value::String(id.clone()));
    }
    Ok(body)
}

/// Keeps a photo of the demo and gives its hash; none where there is no such file.
fn kept(desk: &Desk, file: &Value) -> Option<Result<String, Trouble>> {
    let (_, bytes) = PHOTOS.iter().find(|(name, _)| file.as_str() == Some(name))?;
    let keep = || Ok(desk.store.keep_photo(&prepare_photo(bytes)?)?.sha256);
    Some(keep())
}
