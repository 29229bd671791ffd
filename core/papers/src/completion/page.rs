//! Everything that stands on the pages, as the words that stand there.

use fairfall_core::buildup::Layer;
use fairfall_core::record::{Exception, Record, RecordDelivery, RecordNote, RecordStage};
use serde::Serialize;
use typst::foundations::Bytes;

use super::dips::{self, DipDay, DipPlan};
use super::layers::{self, LayerWords, PassWords, SurfaceWords};
use super::photos::{Copies, PhotoWords};
use crate::defaults::{self, DefaultWords};
use crate::drawing::{self, Figure, Told};
use crate::error::PapersError;
use crate::paper::PaperSize;
use crate::seal::{Stamp, StampWords};
use crate::signed::{self, SignatureWords};
use crate::words::{self, NOT_STATED};

/// How high the plan may stand on the sheet, in millimetres: it shares a page with the section.
const PLAN_HEIGHT: f64 = 112.0;

/// How many signs of the title the foot of a page has room for.
const FOOT_SIGNS: usize = 64;

/// The data of `templates/completion-record.typ`, named as the template names it.
#[derive(Debug, Serialize)]
#[serde(rename_all = "kebab-case")]
pub(super) struct Page {
    kind: &'static str,
    size: &'static str,
    column_mm: f64,
    draft: bool,
    title: String,
    foot_title: String,
    issue: String,
    author: Vec<String>,
    issued: String,
    changed_heading: String,
    changed: Vec<String>,
    facts: Vec<Fact>,
    plan: Option<Figure>,
    section: Option<Figure>,
    layers: Vec<LayerWords>,
    tolerance_sources: Vec<String>,
    passes: Vec<PassWords>,
    surface: Vec<SurfaceWords>,
    dip_plans: Vec<DipPlan>,
    dip_plans_words: String,
    exceptions: Vec<Happened>,
    not_measured: Vec<String>,
    site: Vec<NotedWords>,
    deliveries: Vec<DeliveryWords>,
    stages: Vec<StageWords>,
    photos_words: String,
    photos: Vec<PhotoWords>,
    cautions: Vec<String>,
    care: Vec<String>,
    dip_days: Vec<DipDay>,
    dips_words: String,
    defaults: Vec<DefaultWords>,
    heading: String,
    drawn_heading: String,
    standing: String,
    signatures: Vec<SignatureWords>,
    #[serde(skip)]
    signature_files: Vec<(String, Bytes)>,
    seal: Option<StampWords>,
    /// Whether the diary and the seal are attached.
    attached: bool,
}

/// A line of what was built.
#[derive(Debug, Serialize)]
struct Fact {
    name: &'static str,
    text: String,
    /// Whether it only says that nothing was stated.
    silent: bool,
}

/// Something that differs from the plan.
#[derive(Debug, Serialize)]
struct Happened {
    at: String,
    who: String,
    kind: String,
    text: String,
}

/// Something noted on the site.
#[derive(Debug, Serialize)]
struct NotedWords {
    at: String,
    who: String,
    text: String,
}

/// A delivery.
#[derive(Debug, Serialize)]
struct DeliveryWords {
    at: String,
    what: String,
    quantity: String,
    ticket: Option<String>,
}

/// A stage.
#[derive(Debug, Serialize)]
struct StageWords {
    name: String,
    state: String,
    by: String,
    at: String,
    reason: String,
}

impl Page {
    /// Writes a record down as the words of its pages.
    ///
    /// # Errors
    /// [`PapersError::MadeAt`] when the record's own date is not a time with an offset.
    pub(super) fn of(
        record: &Record,
        copies: &Copies,
        paper: PaperSize,
        stamp: Option<&Stamp>,
        attached: bool,
    ) -> Result<Page, PapersError> {
        let column_mm = paper.column_mm();
        let surface_dips = dips::of_layer(record, Layer::Surface, None);
        let dip_plans = dips::plans(record, column_mm);
        let (signatures, signature_files) = signed::words(&record.signatures);
        Ok(Page {
            kind: "Completion record",
            size: paper.name(),
            column_mm,
            draft: record.number.is_none(),
            title: words::stated(&record.title),
            foot_title: words::shortened(&words::stated(&record.title), FOOT_SIGNS),
            issue: issue(record),
            author: authors(record),
            issued: issued(record)?,
            changed_heading: changed_heading(record),
            changed: record.changed_since.clone(),
            facts: facts(record),
            plan: drawing::plan(&record.drawing, &surface_dips, column_mm, PLAN_HEIGHT),
            section: drawing::section(
                &record.section,
                |layer, lift| layers::name(record, layer, lift),
                column_mm,
                Told::Measured,
            ),
            layers: layers::layers(record),
            tolerance_sources: layers::tolerance_sources(record),
            passes: layers::passes(record),
            surface: layers::surface(record),
            dip_plans_words: dips::plans_explained(record, &dip_plans),
            dip_plans,
            exceptions: record.exceptions.iter().map(happened).collect(),
            not_measured: record.not_measured.clone(),
            site: record.site.iter().map(noted).collect(),
            deliveries: record.deliveries.iter().map(delivery).collect(),
            stages: record.stages.iter().map(stage).collect(),
            photos_words: copies.words(),
            photos: copies.photos(record),
            cautions: record.cautions.clone(),
            care: record.care.clone(),
            dip_days: dips::days(record),
            dips_words: dips::explained(record),
            defaults: record.defaults.iter().map(defaults::words).collect(),
            heading: record.heading.clone(),
            drawn_heading: record.drawn_heading.clone(),
            standing: record.standing.clone(),
            signatures,
            signature_files,
            seal: stamp.map(Stamp::words),
            attached,
        })
    }

    /// The drawings' linework, signatures among them, as files.
    pub(super) fn drawings(&self) -> Vec<(String, Bytes)> {
        let small = self.dip_plans.iter().map(|plan| &plan.drawing);
        let all = self.plan.iter().chain(&self.section).chain(small);
        let drawn = all.map(|figure| (figure.file.clone(), Bytes::from_string(figure.svg.clone())));
        drawn.chain(self.signature_files.iter().cloned()).collect()
    }
}

/// The issue as it stands in the foot of every page.
fn issue(record: &Record) -> String {
    match record.number {
        Some(number) => format!("issue {number}"),
        None => "draft, not issued".to_owned(),
    }
}

/// When and by whom the paper was made, and what it replaces.
fn issued(record: &Record) -> Result<String, PapersError> {
    let made =
        words::time(&record.made_at).ok_or_else(|| PapersError::MadeAt(record.made_at.clone()))?;
    let (when, clock) = (words::when(&record.made_at), words::clock(made));
    let what = match (record.number, record.replaces) {
        (Some(number), Some(old)) => format!("Issue {number}, which replaces issue {old}"),
        (Some(number), None) => format!("Issue {number}"),
        (None, _) => "Draft".to_owned(),
    };
    let by = if record.made_by.trim().is_empty() {
        String::new()
    } else {
        format!(" by {}", record.made_by)
    };
    Ok(format!("{what}, made{by} on {when} ({clock})."))
}

fn changed_heading(record: &Record) -> String {
    match record.replaces {
        Some(old) => format!("Logged since issue {old}"),
        None => "Logged since the last issue".to_owned(),
    }
}

fn authors(record: &Record) -> Vec<String> {
    let by = record.by.trim();
    if by.is_empty() { Vec::new() } else { vec![by.to_owned()] }
}

/// Where it is, for whom, by whom, when, how large, and for what; the title says what it is.
fn facts(record: &Record) -> Vec<Fact> {
    let fact = |name, text: String| {
        let silent = text == NOT_STATED;
        Fact { name, text, silent }
    };
    vec![
        fact("Where", words::stated(&record.place)),
        fact("For whom", words::stated(&record.customer)),
        fact("By whom", words::stated(&record.by)),
        fact("When", words::days(&record.first_day, &record.last_day)),
        fact("Size", size(record)),
        fact("Built for", words::stated(&record.built_for)),
        fact("Not built for", words::stated(&record.not_built_for)),
        fact("Held to", words::stated(&record.held_to)),
    ]
}

/// Area and perimeter.
fn size(record: &Record) -> String {
    let (area, round) = (record.drawing.area_m2, record.drawing.perimeter_m);
    format!("{} m² of paving, {} m round its edge", words::metres(area), words::metres(round))
}

fn happened(exception: &Exception) -> Happened {
    Happened {
        at: words::when(&exception.at),
        who: exception.who.clone(),
        kind: exception.kind.clone(),
        text: exception.text.clone(),
    }
}

fn noted(note: &RecordNote) -> NotedWords {
    NotedWords { at: words::when(&note.at), who: note.who.clone(), text: note.text.clone() }
}

fn delivery(delivery: &RecordDelivery) -> DeliveryWords {
    let ticket = delivery.ticket.trim();
    DeliveryWords {
        at: words::when(&delivery.at),
        what: delivery.what.clone(),
        quantity: delivery.quantity.clone(),
        ticket: (!ticket.is_empty()).then(|| ticket.to_owned()),
    }
}

fn stage(stage: &RecordStage) -> StageWords {
    StageWords {
        name: stage.name.clone(),
        state: stage.state.clone(),
        by: stage.by.clone(),
        at: words::when(&stage.at),
        reason: stage.reason.clone(),
    }
}
