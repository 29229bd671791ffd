//! The care sheet: how to look after the paving, for the customer.

use fairfall_core::record::CareSheet;
use serde::Serialize;

use super::{Head, Prepared};
use crate::error::PapersError;
use crate::paper::PaperSize;
use crate::words;

const TEMPLATE: &str = include_str!("../../templates/care-sheet.typ");

#[derive(Debug, Serialize)]
#[serde(rename_all = "kebab-case")]
struct Page<'a> {
    #[serde(flatten)]
    head: Head,
    place: String,
    customer: String,
    by: String,
    built_for: &'a str,
    return_visit: Option<String>,
    parts: Vec<(&'a str, &'a [String])>,
    cautions: &'a [String],
}

pub(super) fn prepared(sheet: &CareSheet, size: PaperSize) -> Result<Prepared, PapersError> {
    let page = Page {
        head: Head::new("Care sheet".to_owned(), &sheet.title, &sheet.by, &sheet.made_at, size),
        place: words::stated(&sheet.place),
        customer: words::stated(&sheet.customer),
        by: words::stated(&sheet.by),
        built_for: &sheet.built_for,
        return_visit: sheet.return_visit.as_deref().map(words::date),
        parts: sheet.parts.iter().map(|p| (p.heading.as_str(), p.says.as_slice())).collect(),
        cautions: &sheet.cautions,
    };
    Ok(Prepared {
        template: TEMPLATE,
        data: serde_json::to_value(page)?,
        files: Vec::new(),
        identity: format!("care sheet {} {}", sheet.made_at, sheet.title),
        made_at: sheet.made_at.clone(),
    })
}
