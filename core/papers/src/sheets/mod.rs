//! Papers without a seal: the setting-out sheet, the order list, the care sheet, the change note.

mod care;
mod change_note;
mod order_list;
mod setting_out;

use fairfall_core::record::{CareSheet, ChangeNote, OrderList, SettingOut};
use serde::Serialize;
use typst::foundations::Bytes;

use crate::error::PapersError;
use crate::paper::{Made, PaperSize, Photos};
use crate::watch::{Steps, Watch};
use crate::world::Desk;
use crate::{set, text, words};

/// A paper to set.
pub enum Sheet<'a> {
    /// What a person needs at the pins and strings.
    SettingOut {
        /// What it says.
        sheet: &'a SettingOut,
        /// Whether templates at their true size follow it.
        templates: bool,
    },
    /// How to look after the paving.
    Care(&'a CareSheet),
    /// What is ordered, and what came of it.
    OrderList(&'a OrderList),
    /// Extra work, agreed before it goes on.
    ChangeNote {
        /// What it says.
        note: &'a ChangeNote,
        /// Where its photo is found.
        photos: Photos<'a>,
    },
}

/// A template with its data and its files.
pub(crate) struct Prepared {
    template: &'static str,
    data: serde_json::Value,
    files: Vec<(String, Bytes)>,
    identity: String,
    made_at: String,
}

/// What every sheet has on its head and foot, as `templates/sheet.typ` names it.
#[derive(Debug, Serialize)]
#[serde(rename_all = "kebab-case")]
struct Head {
    kind: String,
    size: &'static str,
    column_mm: f64,
    draft: bool,
    title: String,
    foot_title: String,
    issue: String,
    author: Vec<String>,
    made: String,
}

/// How many signs of the title the foot of a page has room for.
const FOOT_SIGNS: usize = 64;

impl Head {
    fn new(kind: String, title: &str, by: &str, made_at: &str, size: PaperSize) -> Head {
        let title = words::stated(title);
        Head {
            kind,
            size: size.name(),
            column_mm: size.column_mm(),
            draft: false,
            foot_title: words::shortened(&title, FOOT_SIGNS),
            title,
            issue: words::day(made_at),
            author: if by.trim().is_empty() { Vec::new() } else { vec![by.trim().to_owned()] },
            made: words::when(made_at),
        }
    }
}

/// Makes a paper as a PDF. The same data gives the same bytes.
///
/// # Errors
/// [`PapersError::MadeAt`] when it is not dated; [`PapersError::Stopped`] when `watch` wants no more;
/// the others are faults of this program.
pub fn sheet(sheet: &Sheet<'_>, size: PaperSize, watch: &dyn Watch) -> Result<Made, PapersError> {
    // Its drawings, and the setting.
    let steps = Steps::new(watch, 2);
    let prepared = prepared(sheet, size)?;
    let made = words::time(&prepared.made_at)
        .ok_or_else(|| PapersError::MadeAt(prepared.made_at.clone()))?;
    let identity = prepared.identity.clone();
    steps.done()?;
    let made = set::pdf(&prepared.desk()?, identity, made)?;
    steps.done()?;
    Ok(made)
}

fn prepared(sheet: &Sheet<'_>, size: PaperSize) -> Result<Prepared, PapersError> {
    match sheet {
        Sheet::SettingOut { sheet, templates } => setting_out::prepared(sheet, *templates, size),
        Sheet::Care(sheet) => care::prepared(sheet, size),
        Sheet::OrderList(list) => order_list::prepared(list, size),
        Sheet::ChangeNote { note, photos } => change_note::prepared(note, *photos, size),
    }
}

impl Prepared {
    fn desk(self) -> Result<Desk, PapersError> {
        let mut data = self.data;
        let replaced = text::fit_all(&mut data);
        if let Some(fields) = data.as_object_mut() {
            fields.insert("replaced".to_owned(), replaced.into());
        }
        let page = ("page.json".to_owned(), Bytes::new(serde_json::to_vec(&data)?));
        Desk::new(self.template, std::iter::once(page).chain(self.files))
    }
}
