//! Logging: what happened, checked against the job, then on disk.

use chrono::{DateTime, FixedOffset};
use serde_json::{Value, json};
use uuid::Uuid;

use super::requests::{DipPlace, LogEntry};
use super::views::{Changed, DipAnswer, DipTarget, Logged};
use super::{Desk, Fault, job_view};
use crate::buildup::Layer;
use crate::diary::{Body, BodyError, Dip, Draft, Entry, Malformed, kinds};
use crate::job::{JobState, Target, accept};
use crate::levels::Word;
use crate::outline::distance;
use crate::plan::Problem;
use crate::store::{self, PhotoCopy};
use crate::units::Length;
use crate::words::Phrase;

/// An entry that is on disk, and the answer to it.
#[derive(Debug, Clone, PartialEq)]
pub struct LoggedEntry {
    /// The entry.
    pub entry: Entry,
    /// The answer to a dip.
    pub answer: Option<DipAnswer>,
}

/// Logs one thing.
///
/// # Errors
/// `bad_input` with every problem, `not_found` for an unknown job, `disk_full` with nothing
/// written.
pub fn log(desk: &mut Desk, arguments: LogEntry) -> Result<Logged, Fault> {
    let at = arguments.at.as_deref().map(time).transpose()?;
    let (job, entries, state) = job_view::load_now(desk, &arguments.job)?;
    let body = read_body(&arguments.kind, &arguments.body)?;
    let logged = log_onto(desk, job, (&entries, &state), at, None, body)?;
    Ok(Logged {
        id: logged.entry.id.to_string(),
        answer: logged.answer,
        changed: vec![Changed::Job, Changed::Shelf],
    })
}

fn problem(at: &str, problem: impl Into<String>, right: impl Into<String>) -> Fault {
    Fault::bad_input(&[Problem::new(at, problem, right)])
}

fn time(text: &str) -> Result<DateTime<FixedOffset>, Fault> {
    DateTime::parse_from_rfc3339(text).map_err(|_| {
        let right = "date, time and offset, such as 2026-04-07T08:40:00+01:00";
        problem("/at", format!("\"{text}\" is no time"), right)
    })
}

fn read_body(kind: &str, body: &Value) -> Result<Body, Fault> {
    Body::read(kind, body).map_err(|error| match error {
        BodyError::Malformed(Malformed { at, problem: wrong, right }) => problem(&at, wrong, right),
        BodyError::UnknownKind(_) => {
            problem("/kind", error.to_string(), format!("one of: {}", kinds().join(", ")))
        }
    })
}

fn log_onto(
    desk: &mut Desk,
    job: Uuid,
    (entries, state): (&[Entry], &JobState),
    at: Option<DateTime<FixedOffset>>,
    who: Option<String>,
    body: Body,
) -> Result<LoggedEntry, Fault> {
    let mut problems = accept(state, entries, &body);
    let now = desk.outside.now();
    if at.is_some_and(|at| at > now + chrono::Duration::minutes(10)) {
        problems.push(Problem::new("/at", "this is in the future", "a time that has passed"));
    }
    if at.is_some_and(|at| at < now - OLDEST) {
        problems.push(Problem::new("/at", "this is too long ago", "a time of the last five years"));
    }
    if let Some((at, sha256)) = photo_of(&body)
        && desk.store.photo(sha256, PhotoCopy::Thumbnail).is_err()
    {
        problems.push(Problem::new(at, "no photo is kept under this hash", "keep the photo first"));
    }
    if !problems.is_empty() {
        return Err(Fault::bad_input(&problems));
    }
    let answer = match &body {
        Body::Dip(dip) => crate::job::dip_target(state, dip).ok().map(|target| answer(&target)),
        _ => None,
    };
    let logged = log_draft(desk, job, at, who, body)?;
    Ok(LoggedEntry { answer, ..logged })
}

/// The photo that a body names, and the place where it does.
fn photo_of(body: &Body) -> Option<(&'static str, &str)> {
    match body {
        Body::Photo(photo) => Some(("/sha256", &photo.sha256)),
        Body::Change(change) => change.photo.as_deref().map(|sha256| ("/photo", sha256)),
        Body::Snag(snag) => snag.photo.as_deref().map(|sha256| ("/photo", sha256)),
        Body::PackOpened(pack) => pack.photo.as_deref().map(|sha256| ("/photo", sha256)),
        Body::Delivery(delivery) if !delivery.photo.is_empty() => Some(("/photo", &delivery.photo)),
        _ => None,
    }
}

fn answer(target: &Target) -> DipAnswer {
    DipAnswer { target_mm: target.target.to_mm(), high_mm: target.high.to_mm(), word: target.word }
}

/// Writes a body that has been checked to the end of this device's chain.
///
/// # Errors
/// [`Fault`] where the store cannot be written; nothing is written then.
pub fn log_draft(
    desk: &mut Desk,
    job: Uuid,
    at: Option<DateTime<FixedOffset>>,
    who: Option<String>,
    body: Body,
) -> Result<LoggedEntry, Fault> {
    let Desk { store, outside } = desk;
    let entry = store.write(|transaction| {
        let who = match who {
            Some(who) => who,
            None => store::person(transaction)?,
        };
        store::append(transaction, outside.as_mut(), job, Draft { at, who, body })
    })?;
    Ok(LoggedEntry { entry, answer: None })
}

/// What is entered late happened no longer ago than this: a job and its return visits.
const OLDEST: chrono::Duration = chrono::Duration::days(5 * 366);

/// One line of a file of entries: `{"kind", "body", "at"?, "who"?}`.
#[derive(Debug, serde::Deserialize)]
#[serde(deny_unknown_fields)]
struct Line {
    kind: String,
    body: Value,
    #[serde(default)]
    at: Option<String>,
    #[serde(default)]
    who: Option<String>,
}

/// Logs lines of JSON one by one and hands each answer to `answered` once it is safe on disk:
/// `{"id", "answer"?}`, or `{"problem"}` for a bad line, the rest going on. Blank lines are passed
/// over. Returns how many lines were bad.
///
/// # Errors
/// `not_found` for an unknown job; [`Fault`] where the store fails, with the lines before it kept;
/// and what `answered` fails with.
pub fn log_lines(
    desk: &mut Desk,
    job: &str,
    lines: impl Iterator<Item = std::io::Result<String>>,
    mut answered: impl FnMut(&Value) -> std::io::Result<()>,
) -> Result<u32, Fault> {
    let (id, mut entries, mut state) = job_view::load_now(desk, job)?;
    let mut bad = 0;
    let broken = |error: std::io::Error| Fault::machine(&error.to_string());
    for (number, line) in (1_u32..).zip(lines) {
        let line = match line {
            Err(error) if error.kind() == std::io::ErrorKind::InvalidData => {
                bad += 1;
                let problem = "this is no text in UTF-8";
                answered(&json!({ "line": number, "problem": problem })).map_err(broken)?;
                continue;
            }
            other => other.map_err(broken)?,
        };
        if line.trim().is_empty() {
            continue;
        }
        match log_line(desk, id, (&entries, &state), &line) {
            Ok(logged) => {
                let mut answer = json!({ "id": logged.entry.id });
                if let (Some(said), Some(members)) = (logged.answer, answer.as_object_mut()) {
                    members.insert("answer".to_owned(), json!(said));
                }
                answered(&answer).map_err(broken)?;
                entries.push(logged.entry);
                state = crate::job::fold_last(state, &entries)?;
            }
            Err(fault) if fault.code == "bad_input" => {
                bad += 1;
                answered(&json!({ "line": number, "problem": in_one(&fault) })).map_err(broken)?;
            }
            Err(fault) => return Err(fault),
        }
    }
    Ok(bad)
}

fn log_line(
    desk: &mut Desk,
    job: Uuid,
    so_far: (&[Entry], &JobState),
    line: &str,
) -> Result<LoggedEntry, Fault> {
    let line: Line = serde_json::from_str(line).map_err(|error| {
        let wrong = if error.is_data() {
            "this is no entry: its keys are kind and body, and at and who where wanted".to_owned()
        } else {
            format!("this is no JSON from column {} on", error.column())
        };
        problem("", wrong, "{\"kind\": \"note\", \"body\": {\"text\": \"rain at ten\"}}")
    })?;
    let at = line.at.as_deref().map(time).transpose()?;
    let body = read_body(&line.kind, &line.body)?;
    log_onto(desk, job, so_far, at, line.who, body)
}

/// The problems of a fault in one sentence.
fn in_one(fault: &Fault) -> String {
    let problems: Vec<Problem> = fault
        .details
        .get("problems")
        .and_then(|p| serde_json::from_value(p.clone()).ok())
        .unwrap_or_default();
    let said: Vec<String> =
        problems.iter().map(|p| format!("{} {}: {}", p.at, p.problem, p.right)).collect();
    said.join("; ").trim().to_owned()
}

/// A reading this far from what the nearest dips of its layer say is asked about (our default).
const DOUBTFUL_MM: f64 = 40.0;

/// What the tape should read at a place, and what a reading says.
///
/// # Errors
/// `bad_input` with every problem of the place or the reading, `not_found` for an unknown job.
pub fn dip_target(desk: &mut Desk, arguments: DipPlace) -> Result<DipTarget, Fault> {
    let (_, _, state) = job_view::load(desk, &arguments.job)?;
    let dip = Dip {
        layer: arguments.layer,
        lift: arguments.lift,
        from: arguments.from,
        to: arguments.to,
        at_m: arguments.at_m,
        raise_mm: arguments.raise_mm,
        reading_mm: arguments.reading_mm.unwrap_or(0.0),
    };
    let target = crate::job::dip_target(&state, &dip)?;
    let read = arguments.reading_mm.is_some();
    Ok(DipTarget {
        target_mm: target.target.to_mm(),
        x_m: target.point.x,
        y_m: target.point.y,
        length_m: target.length.to_m(),
        high_by_mm: target.high_by.to_mm(),
        low_by_mm: target.low_by.to_mm(),
        high_mm: read.then(|| target.high.to_mm()),
        word: read.then_some(target.word),
        costs: if read { costs(&state, &dip, target.high) } else { None },
        doubt: if read { doubt(&state, &dip, &target) } else { None },
    })
}

/// What it costs to leave a layer as low as this all over: stone where the formation is low, sand
/// where the finished sub-base is. None where the tape finds it no lower than planned.
fn costs(state: &JobState, dip: &Dip, high: Length) -> Option<Phrase> {
    let low = -high;
    let plan = &state.plan;
    let lifts = u32::try_from(plan.layers.lifts.len()).unwrap_or(u32::MAX);
    let (code, density) = match dip.layer {
        Layer::Formation => ("dip.costs_stone", plan.allowances.sub_base),
        Layer::SubBase if dip.lift.is_none_or(|lift| lift == lifts) => {
            ("dip.costs_sand", plan.allowances.bed)
        }
        _ => return None,
    };
    let tonnes = (plan.area_of(dip.layer) * low * density).to_t();
    let shown = (tonnes * 10.0).round() / 10.0;
    (shown > 0.0).then(|| Phrase::new(code, [("t", shown.into())]))
}

/// Whether a reading is asked about: outside the tolerance, and far from what the nearest dips of
/// its layer say, or, for the first dip of a layer, from what the tape should read.
fn doubt(state: &JobState, dip: &Dip, target: &Target) -> Option<Phrase> {
    if target.word == Word::Right {
        return None;
    }
    let mut near: Vec<(f64, f64)> = state
        .dips
        .iter()
        .filter(|d| (d.dip.layer, d.dip.lift) == (dip.layer, dip.lift) && !d.superseded)
        .map(|d| (distance(d.point, target.point).to_m(), d.high.to_mm()))
        .collect();
    near.sort_by(|a, b| a.0.total_cmp(&b.0));
    near.truncate(3);
    let (code, expected) = if near.is_empty() {
        ("doubt.far_from_target", 0.0)
    } else {
        ("doubt.far_off", near.iter().map(|(_, high)| high).sum::<f64>() / near.len() as f64)
    };
    let off = (target.high.to_mm() - expected).abs();
    (off > DOUBTFUL_MM).then(|| {
        let reading = dip.reading_mm.round().into();
        Phrase::new(code, [("reading", reading), ("off", off.round().into())])
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::diary::{HybridTime, PlanRevision};
    use crate::job::fold;

    /// A level rectangle under a build-up of 250, with dips of its formation already taken.
    fn doubted(taken: &[f64], reading: f64) -> Option<String> {
        let plan = json!({
            "fairfall_plan": 1, "title": "t", "use": "foot",
            "outline": { "rectangle": { "length_m": 4, "width_m": 2 } },
            "surface": { "edge_levels": [{ "at_m": 0, "mm": 0 }], "crossfall_one_in": null },
            "layers": { "bed_mm": 40, "sub_base_mm": 150 },
        });
        let dip = |reading_mm| Dip {
            layer: Layer::Formation,
            lift: None,
            from: "R1".to_owned(),
            to: "F1".to_owned(),
            at_m: 1.0,
            raise_mm: 0.0,
            reading_mm,
        };
        let bodies = std::iter::once(Body::Plan(PlanRevision { plan }))
            .chain(taken.iter().map(|reading| Body::Dip(dip(*reading))));
        let now = time("2026-04-07T08:40:00+01:00").unwrap();
        let mut entries: Vec<Entry> = Vec::new();
        for (index, body) in (1_u128..).zip(bodies) {
            let clock = HybridTime { millis: entries.len() as i64, counter: 0 };
            let previous = entries.last().map(|e| (e.seq, e.hash.as_str()));
            let draft = Draft { at: None, who: String::new(), body };
            let ids = (Uuid::from_u128(index), Uuid::nil(), Uuid::nil());
            entries.push(Entry::new(ids, previous, clock, now, draft).unwrap());
        }
        let state = fold(&entries).unwrap();
        let target = crate::job::dip_target(&state, &dip(reading)).unwrap();
        doubt(&state, &dip(reading), &target).map(|phrase| phrase.code)
    }

    #[test]
    fn a_reading_is_doubted_for_what_is_true_of_it() {
        let code = |text: &str| Some(text.to_owned());
        assert_eq!(doubted(&[], 0.0), code("doubt.far_from_target"));
        assert_eq!(doubted(&[252.0], 400.0), code("doubt.far_off"));
        // Right is right, whatever the neighbour says.
        assert_eq!(doubted(&[300.0], 250.0), None);
        assert_eq!(doubted(&[], 225.0), None);
    }
}
