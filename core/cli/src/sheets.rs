//! Papers that are not sealed, and a job as data: `sheet`, `care`, `order-list`, `change-note`,
//! `data`.

use std::path::Path;

use fairfall_core::api::{self, Desk, SheetData};
use fairfall_core::outside::Outside as _;
use fairfall_core::plan::Plan;
use fairfall_core::record;
use fairfall_core::store::PhotoCopy;
use fairfall_papers::{Made, PaperSize, Sheet, Unwatched, sheet};
use serde_json::json;

use crate::arguments::Paper;
use crate::outcome::{Outcome, Trouble};
use crate::papers::photo_of;
use crate::plan::read_text;
use crate::system::{System, open};

/// The setting-out sheet of a plan file.
pub fn setting_out(
    plan: &Path,
    out: &Path,
    templates: bool,
    paper: Paper,
) -> Result<Outcome, Trouble> {
    let plan = Plan::parse(&read_text(plan)?)?;
    let says = record::setting_out(&plan, System.now())
        .map_err(|error| Trouble::Machine(error.to_string()))?;
    let made = set(&Sheet::SettingOut { sheet: &says, templates }, paper.into())?;
    written("setting-out sheet", out, &made)
}

/// The care sheet of a job.
pub fn care(store: &Path, job: &str, out: &Path, paper: Paper) -> Result<Outcome, Trouble> {
    let (_, made) = of_job(&mut open(store)?, job, "care_sheet", None, paper.into())?;
    written("care sheet", out, &made)
}

/// The order list of a job.
pub fn order_list(store: &Path, job: &str, out: &Path, paper: Paper) -> Result<Outcome, Trouble> {
    let (_, made) = of_job(&mut open(store)?, job, "order_list", None, paper.into())?;
    written("order list", out, &made)
}

/// The note of a change.
pub fn change_note(
    store: &Path,
    job: &str,
    number: u32,
    out: &Path,
    paper: Paper,
) -> Result<Outcome, Trouble> {
    let (_, made) = of_job(&mut open(store)?, job, "change_note", Some(number), paper.into())?;
    written("change note", out, &made)
}

/// A job as data for other programs.
pub fn data(store: &Path, job: &str, out: &Path) -> Result<Outcome, Trouble> {
    let files = api::job_files(&mut open(store)?, job)?;
    let mut paths = Vec::new();
    std::fs::create_dir_all(out).map_err(|error| machine(out, &error))?;
    for (name, bytes) in files {
        let path = out.join(name);
        std::fs::write(&path, bytes).map_err(|error| machine(&path, &error))?;
        paths.push(path);
    }
    let text = paths.iter().map(|path| format!("{}\n", path.display())).collect();
    Ok(Outcome::done(json!({ "files": paths }), text))
}

/// Sets a paper of a job, and says under which name it is kept.
pub fn of_job(
    desk: &mut Desk,
    job: &str,
    kind: &str,
    change: Option<u32>,
    paper: PaperSize,
) -> Result<(String, Made), Trouble> {
    let to_make = api::sheet_data(desk, job, kind, change)?;
    let photos = |sha256: &str| photo_of(desk, sha256, PhotoCopy::Whole);
    let made = match &to_make.says {
        SheetData::SettingOut(says) => {
            set(&Sheet::SettingOut { sheet: says, templates: true }, paper)
        }
        SheetData::CareSheet(says) => set(&Sheet::Care(says), paper),
        SheetData::OrderList(says) => set(&Sheet::OrderList(says), paper),
        SheetData::ChangeNote(note) => set(&Sheet::ChangeNote { note, photos: &photos }, paper),
    }?;
    Ok((to_make.file, made))
}

fn set(what: &Sheet<'_>, paper: PaperSize) -> Result<Made, Trouble> {
    sheet(what, paper, &Unwatched).map_err(|error| Trouble::Machine(error.to_string()))
}

fn written(what: &str, out: &Path, made: &Made) -> Result<Outcome, Trouble> {
    std::fs::write(out, &made.pdf).map_err(|error| machine(out, &error))?;
    let json = json!({ "file": out, "pages": made.pages });
    Ok(Outcome::done(json, format!("{what}, {} pages: {}", made.pages, out.display())))
}

fn machine(path: &Path, error: &std::io::Error) -> Trouble {
    Trouble::Machine(format!("{}: {error}", path.display()))
}
