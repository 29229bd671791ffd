//! What may be logged: every problem of a new entry, before it is written.

use super::accept_site::site_problems;
use super::fold::{JobState, find_string, target_of};
use super::gate::stages;
use crate::buildup::Layer;
use crate::diary::{
    Body, Change, Checked, Dip, Entry, OnString, Pass, Signature, SignedPaper, StageClosed,
};
use crate::levels::Word;
use crate::plan::{Plan, Problem};
use crate::units::Length;

/// Longest text in an entry, characters.
const LONGEST_TEXT: usize = 4000;
/// A tape in a dig reads no more than this, millimetres.
const LONGEST_READING_MM: f64 = 5000.0;
/// A rate is no higher than this, minor units.
const DEAREST_RATE: u64 = 1_000_000_000;
/// A signature has no more places than this: a minute of drawing.
const MOST_PLACES: usize = 20_000;
/// A string is raised, or lowered, no more than this, millimetres.
const HIGHEST_RAISE_MM: f64 = 2000.0;

/// To dig without services located wants a reason of this many words: who looked, and what was done
/// instead.
const FULL_REASON_WORDS: usize = 5;
/// A stage takes no more than this, all hands together, minutes.
const MOST_WORKED_MIN: u32 = 600_000;

/// Every problem of a body against the job as it stands; empty where it may be logged.
pub fn accept(state: &JobState, entries: &[Entry], body: &Body) -> Vec<Problem> {
    let mut found = Vec::new();
    let mut refuse = |at: &str, problem: &str, right: &str| {
        found.push(Problem::new(at, problem, right));
    };
    match body {
        Body::Plan(revision) => return Plan::read(revision.plan.clone()).err().unwrap_or_default(),
        Body::Note(note) => text("/text", &note.text, true, &mut refuse),
        Body::Dip(dip) => dip_problems(state, dip, &mut refuse),
        Body::Pass(pass) => pass_problems(state, pass, &mut refuse),
        Body::Photo(photo) => {
            photo_hash("/sha256", Some(&photo.sha256), &mut refuse);
            text("/caption", &photo.caption, false, &mut refuse);
            if !photo.pin.is_empty() {
                pin_problems(&pin_names(state), "/pin", &photo.pin, &mut refuse);
            }
        }
        Body::Check(check) => text("/text", &check.text, false, &mut refuse),
        Body::Stage(closing) => closing_problems(state, closing, &mut refuse),
        Body::Delivery(delivery) => {
            text("/what", &delivery.what, true, &mut refuse);
            for (at, words) in [
                ("/ticket", &delivery.ticket),
                ("/supplier", &delivery.supplier),
                ("/batch", &delivery.batch),
                ("/colour", &delivery.colour),
                ("/stacked", &delivery.stacked),
            ] {
                text(at, words, false, &mut refuse);
            }
            let photo = Some(delivery.photo.as_str()).filter(|photo| !photo.is_empty());
            photo_hash("/photo", photo, &mut refuse);
            quantity(delivery.quantity, &mut refuse);
            if !delivery.unit.is_of_material() {
                let right = "t, kg, m3, m2, m, packs, bags, pieces or loads";
                refuse("/unit", "nothing is delivered in this unit", right);
            }
        }
        Body::Record(record) => text("/file", &record.file, true, &mut refuse),
        Body::Change(change) => change_problems(change, &mut refuse),
        Body::Signature(signature) => signature_problems(signature, entries, &mut refuse),
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
        | Body::DayClosed(_) => site_problems(state, body, &mut refuse),
        Body::Strike(strike) => {
            text("/reason", &strike.reason, true, &mut refuse);
            match entries.iter().find(|e| e.id == strike.entry) {
                None => refuse("/entry", "there is no such entry", "an entry of this job"),
                Some(entry) if matches!(entry.kind.as_str(), "plan" | "record") => refuse(
                    "/entry",
                    "plans and issued records stay",
                    "a new plan, or a new issue of the record",
                ),
                Some(entry) if state.struck.contains_key(&entry.id) => {
                    refuse("/entry", "this entry is struck already", "an entry that still counts");
                }
                Some(_) => {}
            }
        }
    }
    found
}

fn closing_problems(
    state: &JobState,
    closing: &StageClosed,
    refuse: &mut impl FnMut(&str, &str, &str),
) {
    text("/reason", &closing.reason, false, refuse);
    if closing.worked_min.is_some_and(|minutes| minutes > MOST_WORKED_MIN) {
        refuse("/worked_min", "no stage takes this long", "at most 600000 minutes");
    }
    let stands = stages(state);
    let Some(stand) = stands.iter().find(|s| s.stage == closing.stage) else { return };
    if !closing.done {
        if stand.is_open() {
            refuse("/done", "this stage is open already", "a stage that is closed");
        }
        return;
    }
    let words = closing.reason.split_whitespace().count();
    let missing: Vec<&str> = stand.missing().map(|line| line.says.text.as_str()).collect();
    if words == 0 && !missing.is_empty() {
        let problem = format!("something is missing: {}", missing.join("; "));
        refuse("/reason", &problem, "what is missing first, or a reason to carry on");
    }
    // Not located and not answered for: whoever goes on before that has to say more than a word.
    let services = stands.iter().any(|before| {
        (before.stage == closing.stage || before.is_open())
            && before.missing().any(|line| line.check == Some(Checked::ServicesMarked))
    });
    if (1..FULL_REASON_WORDS).contains(&words) && services {
        refuse(
            "/reason",
            "buried services are not passed by with a word",
            "who looked for them, and what was done instead of having them located",
        );
    }
}

fn quantity(quantity: f64, refuse: &mut impl FnMut(&str, &str, &str)) {
    if !(quantity > 0.0 && quantity <= 1e6) {
        refuse("/quantity", "this is no quantity", "a number above 0, at most 1000000");
    }
}

/// Whether a photo, where there is one, is named by its SHA-256 as photos are kept.
pub(super) fn photo_hash(at: &str, photo: Option<&str>, refuse: &mut impl FnMut(&str, &str, &str)) {
    let is_hash = |text: &str| {
        text.len() == 64 && text.bytes().all(|b| matches!(b, b'0'..=b'9' | b'a'..=b'f'))
    };
    if !photo.is_none_or(is_hash) {
        refuse(at, "this is no SHA-256", "64 hexadecimal digits of a kept photo");
    }
}

fn change_problems(change: &Change, refuse: &mut impl FnMut(&str, &str, &str)) {
    text("/what", &change.what, true, refuse);
    text("/agreed", &change.agreed, false, refuse);
    quantity(change.quantity, refuse);
    let code = &change.currency;
    let is_code = code.len() == 3 && code.bytes().all(|b| b.is_ascii_uppercase());
    if !code.is_empty() && !is_code {
        refuse("/currency", "this is no currency's code", "three capitals, such as GBP");
    }
    if change.rate_minor > DEAREST_RATE {
        refuse(
            "/rate_minor",
            "the rate is beyond what is counted",
            "minor units (pence, cents), at most 1000000000",
        );
    }
    photo_hash("/photo", change.photo.as_deref(), refuse);
}

fn signature_problems(
    signature: &Signature,
    entries: &[Entry],
    refuse: &mut impl FnMut(&str, &str, &str),
) {
    text("/name", &signature.name, true, refuse);
    let change = signature.change.map(|id| entries.iter().find(|e| e.id == id));
    match (signature.paper, change) {
        (SignedPaper::ChangeNote, Some(Some(entry))) if entry.kind == "change" => {}
        (SignedPaper::ChangeNote, _) => {
            refuse("/change", "this names no extra work of this job", "the entry of the change");
        }
        (SignedPaper::CompletionRecord, None) => {}
        (SignedPaper::CompletionRecord, Some(_)) => {
            refuse("/change", "a record is not of one change", "no change for this paper");
        }
    }
    let [width, height] = Signature::BOX;
    let drawn = signature.strokes.iter().any(|stroke| stroke.len() > 1);
    let inside = signature.strokes.iter().flatten().all(|[x, y]| *x <= width && *y <= height);
    if signature.typed {
        if !signature.strokes.is_empty() {
            refuse("/strokes", "a typed signature has no strokes", "strokes, or typed, not both");
        }
        return;
    }
    if !drawn || !inside || signature.places() > MOST_PLACES {
        refuse(
            "/strokes",
            "this is no drawn signature",
            "strokes of two places or more in a box 1000 by 400, 20000 places at most",
        );
    }
}

pub(super) fn text(at: &str, text: &str, needed: bool, refuse: &mut impl FnMut(&str, &str, &str)) {
    if needed && text.trim().is_empty() {
        refuse(at, "nothing is written", "some words");
    }
    if text.chars().count() > LONGEST_TEXT {
        refuse(at, "the text is too long", "at most 4000 characters");
    }
}

pub(super) fn lift_problems(
    state: &JobState,
    layer: Layer,
    lift: Option<u32>,
    refuse: &mut impl FnMut(&str, &str, &str),
) {
    let lifts = state.plan.layers.lifts.len();
    match (layer, lift) {
        (_, None) => {}
        (Layer::SubBase, Some(lift)) if lift >= 1 && lift as usize <= lifts => {}
        (Layer::SubBase, Some(_)) => {
            refuse("/lift", "the sub-base has no such lift", &format!("a lift from 1 to {lifts}"));
        }
        (Layer::Formation | Layer::Bed | Layer::Surface, Some(_)) => {
            refuse("/lift", "only the sub-base is laid in lifts", "no lift for this layer");
        }
    }
}

/// Every problem of a place along a string, whose keys stand under a pointer.
pub(super) fn place_problems(
    state: &JobState,
    under: &str,
    place: &OnString,
    refuse: &mut impl FnMut(&str, &str, &str),
) {
    let pins = pin_names(state);
    pin_problems(&pins, &format!("{under}/from"), &place.from, refuse);
    pin_problems(&pins, &format!("{under}/to"), &place.to, refuse);
    if place.from == place.to {
        refuse(
            &format!("{under}/to"),
            "a string runs between two pins",
            "another pin than the first",
        );
    } else if let Some(string) = find_string(&state.plan.strings(), &place.from, &place.to) {
        let length = string.length().to_m();
        if !(0.0..=length + 0.0005).contains(&place.at_m) {
            let right = format!("from 0 to {length:.2} m along this string");
            refuse(
                &format!("{under}/at_m"),
                &format!("{} m is not on the string", place.at_m),
                &right,
            );
        }
    }
}

fn pin_names(state: &JobState) -> Vec<String> {
    state.plan.pins().into_iter().map(|pin| pin.name).collect()
}

/// Whether there is such a pin.
fn pin_problems(pins: &[String], at: &str, name: &str, refuse: &mut impl FnMut(&str, &str, &str)) {
    if !pins.iter().any(|pin| pin == name) {
        let list = format!("one of the pins: {}", pins.join(", "));
        refuse(at, &format!("there is no pin {name}"), &list);
    }
}

fn dip_problems(state: &JobState, dip: &Dip, refuse: &mut impl FnMut(&str, &str, &str)) {
    lift_problems(state, dip.layer, dip.lift, refuse);
    let place = OnString { from: dip.from.clone(), to: dip.to.clone(), at_m: dip.at_m };
    place_problems(state, "", &place, refuse);
    if dip.raise_mm.abs() > HIGHEST_RAISE_MM {
        refuse("/raise_mm", "the string is not raised so far", "from -2000 to 2000 mm");
    }
    if !(0.0..=LONGEST_READING_MM).contains(&dip.reading_mm) {
        refuse("/reading_mm", "a tape does not read this in a dig", "from 0 to 5000 mm");
    }
}

fn pass_problems(state: &JobState, pass: &Pass, refuse: &mut impl FnMut(&str, &str, &str)) {
    lift_problems(state, pass.layer, pass.lift, refuse);
    text("/plant", &pass.plant, true, refuse);
}

/// What the tape should read for a dip, and with its reading, what it says.
///
/// # Errors
/// Every problem of the place; the reading is not looked at.
pub fn dip_target(state: &JobState, dip: &Dip) -> Result<Target, Vec<Problem>> {
    let mut found = Vec::new();
    dip_problems(state, dip, &mut |at: &str, problem: &str, right: &str| {
        found.push(Problem::new(at, problem, right));
    });
    let Some(string) = find_string(&state.plan.strings(), &dip.from, &dip.to) else {
        return Err(found);
    };
    if !found.is_empty() {
        return Err(found);
    }
    let at = Length::from_m(dip.at_m);
    let target = target_of(&state.plan, &string, at, dip.raise_mm, dip.layer, dip.lift);
    let limits = state.plan.tolerance(dip.layer, dip.lift);
    let high = target - Length::from_mm(dip.reading_mm);
    Ok(Target {
        target,
        point: string.point(at),
        length: string.length(),
        high,
        word: Word::of(high, limits.high_by, limits.low_by),
        high_by: limits.high_by,
        low_by: limits.low_by,
    })
}

/// The answer to a dip.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Target {
    /// What the tape should read.
    pub target: Length,
    /// Where that is.
    pub point: crate::outline::Point,
    /// The string's straight length.
    pub length: Length,
    /// How high the reading says the layer is; negative when low.
    pub high: Length,
    /// In a word.
    pub word: Word,
    /// Tolerance above design.
    pub high_by: Length,
    /// Tolerance below design.
    pub low_by: Length,
}
