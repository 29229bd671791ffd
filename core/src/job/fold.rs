//! The fold: entries in any order of arrival become one state.

use std::collections::{BTreeMap, BTreeSet};

use chrono::{DateTime, FixedOffset};
use uuid::Uuid;

use super::{SiteLog, Stage};
use crate::buildup::Layer;
use crate::diary::{
    Body, Change, Check, Checked, Delivery, Dip, Entry, Pass, Photo, RecordIssued, Signature,
    StageClosed, Strike, order,
};
use crate::levels::{StringLine, Word};
use crate::outline::{Point, distance};
use crate::plan::Plan;
use crate::units::Length;

/// A job as it stands.
#[derive(Debug, Clone, PartialEq)]
pub struct JobState {
    /// The job.
    pub id: Uuid,
    /// The plan in force.
    pub plan: Plan,
    /// When and by whom plans after the first were put in force.
    pub revisions: Vec<(DateTime<FixedOffset>, String)>,
    /// Dips that are not struck, in the diary's order.
    pub dips: Vec<DipTaken>,
    /// Passes that are not struck.
    pub passes: Vec<PassMade>,
    /// Photos that are not struck.
    pub photos: Vec<PhotoTaken>,
    /// Answers to the gates' questions, the newest of each.
    pub checks: BTreeMap<Checked, (DateTime<FixedOffset>, String)>,
    /// How stages were last closed or opened.
    pub closings: BTreeMap<Stage, Closing>,
    /// Deliveries that are not struck.
    pub deliveries: Vec<DeliveryMade>,
    /// Completion records issued.
    pub records: Vec<RecordMade>,
    /// Extra work that is not struck.
    pub changes: Vec<ChangeMade>,
    /// Signatures that are not struck.
    pub signatures: Vec<SignatureDrawn>,
    /// What happened besides.
    pub site: SiteLog,
    /// The time that it is told for: that of the newest entry, or later where the reader says so.
    pub as_of: DateTime<FixedOffset>,
    /// Struck entries.
    pub struck: BTreeMap<Uuid, Struck>,
    /// Entries that this version cannot read, with why; kept and handed on untouched.
    pub unread: Vec<(Uuid, String)>,
}

impl JobState {
    /// How many completion records were issued.
    pub fn issues(&self) -> u32 {
        u32::try_from(self.records.len()).unwrap_or(u32::MAX)
    }
}

/// A dip with its answer, by the plan in force when it was taken.
#[derive(Debug, Clone, PartialEq)]
pub struct DipTaken {
    /// The entry.
    pub entry: Uuid,
    /// When.
    pub at: DateTime<FixedOffset>,
    /// Who.
    pub who: String,
    /// As logged.
    pub dip: Dip,
    /// Where.
    pub point: Point,
    /// What the tape should have read.
    pub target: Length,
    /// How high the layer stands; negative when low.
    pub high: Length,
    /// In a word.
    pub word: Word,
    /// Whether a newer dip of the same layer was taken at the same place.
    pub superseded: bool,
}

/// A pass.
#[derive(Debug, Clone, PartialEq)]
pub struct PassMade {
    /// The entry.
    pub entry: Uuid,
    /// When.
    pub at: DateTime<FixedOffset>,
    /// Who.
    pub who: String,
    /// As logged.
    pub pass: Pass,
}

/// A photo.
#[derive(Debug, Clone, PartialEq)]
pub struct PhotoTaken {
    /// The entry.
    pub entry: Uuid,
    /// When.
    pub at: DateTime<FixedOffset>,
    /// Who.
    pub who: String,
    /// As logged.
    pub photo: Photo,
}

/// A delivery.
#[derive(Debug, Clone, PartialEq)]
pub struct DeliveryMade {
    /// The entry.
    pub entry: Uuid,
    /// When.
    pub at: DateTime<FixedOffset>,
    /// Who.
    pub who: String,
    /// As logged.
    pub delivery: Delivery,
}

/// A completion record handed out.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct RecordMade {
    /// When.
    pub at: DateTime<FixedOffset>,
    /// Who.
    pub who: String,
    /// As logged.
    pub record: RecordIssued,
}

/// Extra work.
#[derive(Debug, Clone, PartialEq)]
pub struct ChangeMade {
    /// The entry.
    pub entry: Uuid,
    /// The number of its note, from 1: its place among the job's changes, struck ones counted.
    pub number: u32,
    /// When.
    pub at: DateTime<FixedOffset>,
    /// Who.
    pub who: String,
    /// As logged.
    pub change: Change,
}

/// A signature.
#[derive(Debug, Clone, PartialEq)]
pub struct SignatureDrawn {
    /// The entry.
    pub entry: Uuid,
    /// When.
    pub at: DateTime<FixedOffset>,
    /// As drawn.
    pub signature: Signature,
    /// How many records were issued before it.
    pub after_issues: u32,
}

/// How a stage was last closed or opened.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Closing {
    /// Whether it is closed.
    pub done: bool,
    /// When.
    pub at: DateTime<FixedOffset>,
    /// Who.
    pub who: String,
    /// Why, where something was missing.
    pub reason: String,
    /// How long the crew worked on it, all hands together, minutes.
    pub worked_min: Option<u32>,
}

/// How an entry was struck.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Struck {
    /// The striking entry.
    pub by: Uuid,
    /// When.
    pub at: DateTime<FixedOffset>,
    /// Who.
    pub who: String,
    /// Why.
    pub reason: String,
}

/// Why entries make no job.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum FoldError {
    /// No entry holds a plan that this version can read.
    #[error("the diary holds no plan that this version can read")]
    NoPlan,
}

/// Dips of a layer closer together than this are dips of the same place (our default).
const SAME_PLACE: Length = Length::from_mm(150.0);

/// Folds a job's entries. The same set in any order gives the same state.
///
/// # Errors
/// [`FoldError::NoPlan`] where no plan can be read.
pub fn fold(entries: &[Entry]) -> Result<JobState, FoldError> {
    let mut entries = entries.to_vec();
    order(&mut entries);
    entries.dedup_by(|a, b| a.id == b.id);
    let read: Vec<(&Entry, Result<Body, String>)> =
        entries.iter().map(|e| (e, e.read().map_err(|error| error.to_string()))).collect();
    let struck = strikes(&read);
    let mut folding: Option<Folding> = None;
    let mut unread = Vec::new();
    let mut before_plan = Vec::new();
    for (entry, body) in &read {
        match body {
            Err(why) => unread.push((entry.id, why.clone())),
            Ok(Body::Plan(revision)) => match Plan::read(revision.plan.clone()) {
                Err(_) => {
                    unread.push((entry.id, "the plan cannot be read by this version".to_owned()));
                }
                Ok(plan) => match &mut folding {
                    Some(folding) => folding.revise(plan, entry),
                    None => folding = Some(Folding::new(plan, entry)),
                },
            },
            Ok(body) => match &mut folding {
                Some(folding) => {
                    folding.change_number += u32::from(matches!(body, Body::Change(_)));
                    if !struck.contains_key(&entry.id) {
                        folding.add(entry, body);
                    }
                }
                None => before_plan.push(entry.id),
            },
        }
    }
    let mut state = folding.ok_or(FoldError::NoPlan)?.state;
    state.as_of = entries.iter().map(|e| e.recorded_at).max().unwrap_or(state.as_of);
    unread.extend(before_plan.into_iter().map(|id| (id, "it stands before any plan".to_owned())));
    state.struck = struck;
    state.unread = unread;
    supersede(&mut state.dips);
    Ok(state)
}

/// Folds the last of some entries onto the state of those before it, as a whole [`fold`] would, but
/// without going through them all again where it changes nothing that they said. It must come after
/// them in the diary's order, as what is appended to a device's chain does.
///
/// # Errors
/// [`FoldError::NoPlan`] where no plan can be read.
pub fn fold_last(state: JobState, entries: &[Entry]) -> Result<JobState, FoldError> {
    let Some((entry, body)) = entries.last().and_then(|e| Some((e, e.read().ok()?))) else {
        return fold(entries);
    };
    // A change takes its number from all before it, struck ones too.
    if matches!(body, Body::Plan(_) | Body::Strike(_) | Body::Change(_)) {
        return fold(entries);
    }
    let mut folding = Folding { strings: state.plan.strings(), state, change_number: 0 };
    let before = folding.state.dips.len();
    folding.add(entry, &body);
    let mut state = folding.state;
    state.as_of = state.as_of.max(entry.recorded_at);
    let Some((new, old)) = state.dips.split_last().filter(|(_, old)| old.len() == before) else {
        return Ok(state);
    };
    if old.iter().any(|dip| !dip.superseded && same_place(dip, new)) {
        supersede(&mut state.dips);
    }
    Ok(state)
}

/// Which entries are struck. A strike that is itself struck no longer strikes; plans and records
/// stay whatever strikes them.
fn strikes(read: &[(&Entry, Result<Body, String>)]) -> BTreeMap<Uuid, Struck> {
    let fixed: BTreeSet<Uuid> = read
        .iter()
        .filter(|(_, body)| matches!(body, Ok(Body::Plan(_) | Body::Record(_))))
        .map(|(entry, _)| entry.id)
        .collect();
    let mut struck = BTreeMap::new();
    for (entry, body) in read.iter().rev() {
        if let Ok(Body::Strike(Strike { entry: target, reason })) = body
            && !struck.contains_key(&entry.id)
            && !fixed.contains(target)
        {
            let strike = Struck {
                by: entry.id,
                at: entry.at,
                who: entry.who.clone(),
                reason: reason.clone(),
            };
            struck.insert(*target, strike);
        }
    }
    struck
}

/// A state being folded, with the strings of the plan in force.
struct Folding {
    state: JobState,
    strings: Vec<StringLine>,
    /// The number of the newest change.
    change_number: u32,
}

impl Folding {
    fn new(plan: Plan, entry: &Entry) -> Self {
        Folding {
            strings: plan.strings(),
            change_number: 0,
            state: JobState {
                id: entry.job,
                plan,
                revisions: Vec::new(),
                dips: Vec::new(),
                passes: Vec::new(),
                photos: Vec::new(),
                checks: BTreeMap::new(),
                closings: BTreeMap::new(),
                deliveries: Vec::new(),
                records: Vec::new(),
                changes: Vec::new(),
                signatures: Vec::new(),
                site: SiteLog::default(),
                as_of: entry.recorded_at,
                struck: BTreeMap::new(),
                unread: Vec::new(),
            },
        }
    }

    fn revise(&mut self, plan: Plan, entry: &Entry) {
        self.strings = plan.strings();
        self.state.plan = plan;
        self.state.revisions.push((entry.at, entry.who.clone()));
    }

    fn add(&mut self, entry: &Entry, body: &Body) {
        let (at, who) = (entry.at, entry.who.clone());
        let state = &mut self.state;
        match body {
            Body::Dip(dip) => {
                if let Some(taken) = taken(&state.plan, &self.strings, entry, dip) {
                    state.dips.push(taken);
                } else {
                    state.unread.push((entry.id, "its string is not in the plan".to_owned()));
                }
            }
            Body::Pass(pass) => {
                state.passes.push(PassMade { entry: entry.id, at, who, pass: pass.clone() });
            }
            Body::Photo(photo) => {
                state.photos.push(PhotoTaken { entry: entry.id, at, who, photo: photo.clone() });
            }
            Body::Check(Check { check, .. }) => {
                state.checks.insert(*check, (at, who));
            }
            Body::Stage(StageClosed { stage, done, reason, worked_min }) => {
                let (reason, worked_min) = (reason.clone(), *worked_min);
                let closing = Closing { done: *done, at, who, reason, worked_min };
                state.closings.insert(*stage, closing);
            }
            Body::Delivery(delivery) => {
                let (entry, delivery) = (entry.id, delivery.clone());
                state.deliveries.push(DeliveryMade { entry, at, who, delivery });
            }
            Body::Record(record) => {
                state.records.push(RecordMade { at, who, record: record.clone() });
            }
            Body::Change(change) => {
                let number = self.change_number;
                let change = change.clone();
                state.changes.push(ChangeMade { entry: entry.id, number, at, who, change });
            }
            Body::Signature(signature) => state.signatures.push(SignatureDrawn {
                entry: entry.id,
                at,
                signature: signature.clone(),
                after_issues: state.issues(),
            }),
            Body::SoftSpot(_)
            | Body::SoftSpotFilled(_)
            | Body::Weather(_)
            | Body::Spread(_)
            | Body::EdgeConcrete(_)
            | Body::DropRound(_)
            | Body::Snag(_)
            | Body::SnagClosed(_)
            | Body::PackOpened(_)
            | Body::PackEmptied(_)
            | Body::Forecast(_)
            | Body::DayClosed(_) => state.site.add(entry, body),
            Body::Plan(_) | Body::Note(_) | Body::Strike(_) => {}
        }
    }
}

fn taken(plan: &Plan, strings: &[StringLine], entry: &Entry, dip: &Dip) -> Option<DipTaken> {
    let string = find_string(strings, &dip.from, &dip.to)?;
    let at = Length::from_m(dip.at_m);
    let target = target_of(plan, &string, at, dip.raise_mm, dip.layer, dip.lift);
    let high = target - Length::from_mm(dip.reading_mm);
    let limits = plan.tolerance(dip.layer, dip.lift);
    Some(DipTaken {
        entry: entry.id,
        at: entry.at,
        who: entry.who.clone(),
        dip: dip.clone(),
        point: string.point(at),
        target,
        high,
        word: Word::of(high, limits.high_by, limits.low_by),
        superseded: false,
    })
}

/// What a tape should read from a raised string to a layer.
pub(super) fn target_of(
    plan: &Plan,
    string: &StringLine,
    at: Length,
    raise_mm: f64,
    layer: Layer,
    lift: Option<u32>,
) -> Length {
    let below = plan.layers.below_finished(layer, lift);
    string.target(at, Length::from_mm(raise_mm), below, &plan.surface, &plan.outline)
}

/// The string between two pins, from the one to the other. Any two pins make one.
pub(crate) fn find_string(strings: &[StringLine], from: &str, to: &str) -> Option<StringLine> {
    let pin = |name: &str| {
        strings.iter().flat_map(|s| [&s.from, &s.to]).find(|pin| pin.name == name).cloned()
    };
    let (from, to) = (pin(from)?, pin(to)?);
    (from.name != to.name).then_some(StringLine { from, to })
}

/// Whether two dips are of the same layer at the same place.
fn same_place(a: &DipTaken, b: &DipTaken) -> bool {
    (a.dip.layer, a.dip.lift) == (b.dip.layer, b.dip.lift)
        && distance(a.point, b.point) < SAME_PLACE
}

/// Marks dips that a newer one of the same layer and place has replaced.
fn supersede(dips: &mut [DipTaken]) {
    let mut newest: BTreeMap<(Layer, Option<u32>), Vec<Point>> = BTreeMap::new();
    for taken in dips.iter_mut().rev() {
        let places = newest.entry((taken.dip.layer, taken.dip.lift)).or_default();
        let p = taken.point;
        taken.superseded = places.iter().any(|q| distance(p, *q) < SAME_PLACE);
        if !taken.superseded {
            places.push(p);
        }
    }
}
