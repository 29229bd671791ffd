//! A journey: a plan, what is logged, and what must come of it, as a case file says. How to write
//! one is told in `tests/journeys/README.md`.

use std::collections::BTreeMap;
use std::path::Path;

use fairfall_core::api::requests::PlanText;
use fairfall_core::api::{Desk, log_lines, start_job, state_json};
use fairfall_core::store::prepare_photo;
use serde::Deserialize;
use serde_json::{Value, json};

use crate::outside::{Told, desk};
use crate::program::{Trouble, root};

/// A case file.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Journey {
    /// What happens, in a sentence.
    pub what: String,
    /// Where the expected numbers come from.
    pub source: String,
    /// The plan, or the name of a plan file from the project's root.
    plan: Value,
    /// When the job is started.
    start: String,
    /// What is logged, in order.
    entries: Vec<Step>,
    /// What must be so at the end.
    state: Value,
}

/// One entry of a case file.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Step {
    /// When it happened.
    at: String,
    /// When it was written down, where that is not when it happened.
    #[serde(default)]
    recorded: Option<String>,
    who: String,
    kind: String,
    body: Value,
    /// A name by which a later entry may strike this one.
    #[serde(default)]
    name: Option<String>,
    /// What the program must answer.
    #[serde(default)]
    answer: Option<Value>,
    /// Words of the problem, where the entry must be refused.
    #[serde(default)]
    refused: Option<String>,
}

/// A journey that was walked.
pub struct Walked {
    /// The desk it was walked at.
    pub desk: Desk,
    /// The job.
    pub job: String,
}

/// Reads a case file.
///
/// # Errors
/// Where it is none.
pub fn read(file: &Path) -> Result<Journey, Trouble> {
    Ok(serde_json::from_str(&std::fs::read_to_string(file)?)?)
}

impl Journey {
    /// Walks it on a store in this folder.
    ///
    /// # Errors
    /// At the first entry that is not answered as it must be.
    pub fn walk(&self, folder: &Path) -> Result<Walked, Trouble> {
        let text = match &self.plan {
            Value::String(file) => std::fs::read_to_string(root().join(file))?,
            plan => plan.to_string(),
        };
        let mut desk = desk(folder, Told::at(&self.start, 0)?)?;
        let started = start_job(&mut desk, PlanText { text });
        let job = started.map_err(|fault| format!("the plan: {fault:?}"))?.job;
        let mut names = BTreeMap::new();
        for (step, seed) in self.entries.iter().zip(1..) {
            let at = step.recorded.as_ref().unwrap_or(&step.at);
            desk.outside = Box::new(Told::at(at, seed)?);
            let told = step.log(&mut desk, &job, &mut names);
            told.map_err(|trouble| format!("entry {seed}: {trouble}"))?;
        }
        Ok(Walked { desk, job })
    }

    /// Everything in which the state at the end is not what it must be.
    ///
    /// # Errors
    /// Where there is no state.
    pub fn differences(&self, walked: &Walked) -> Result<Vec<String>, Trouble> {
        let state = state_json(&walked.desk, &walked.job).map_err(|f| format!("{f:?}"))?;
        let mut found = Vec::new();
        compare("", &self.state, &by_name(&state), &mut found);
        Ok(found)
    }
}

impl Step {
    fn log(
        &self,
        desk: &mut Desk,
        job: &str,
        names: &mut BTreeMap<String, String>,
    ) -> Result<(), Trouble> {
        let mut line =
            json!({ "kind": self.kind, "who": self.who, "body": self.body(desk, names)? });
        if let (Some(_), Some(members)) = (&self.recorded, line.as_object_mut()) {
            members.insert("at".to_owned(), json!(self.at));
        }
        let mut answers = Vec::new();
        let logged = log_lines(desk, job, [Ok(line.to_string())].into_iter(), |answer| {
            answers.push(answer.clone());
            Ok(())
        });
        logged.map_err(|fault| format!("{fault:?}"))?;
        let answer = answers.pop().ok_or("no answer")?;
        let refused = answer.get("problem").and_then(Value::as_str);
        match (&self.refused, refused) {
            (Some(words), Some(problem)) if problem.contains(words) => Ok(()),
            (Some(words), told) => Err(format!("not refused with \"{words}\" but {told:?}").into()),
            (None, Some(problem)) => Err(format!("refused: {problem}").into()),
            (None, None) => {
                if let (Some(name), Some(id)) = (&self.name, text(&answer, "id")) {
                    names.insert(name.clone(), id.to_owned());
                }
                let mut found = Vec::new();
                let wanted = self.answer.clone().unwrap_or(json!({}));
                compare("", &wanted, answer.get("answer").unwrap_or(&json!({})), &mut found);
                if found.is_empty() { Ok(()) } else { Err(found.join("; ").into()) }
            }
        }
    }

    /// The body, with a photo's file kept and the name of an entry turned into its identity.
    fn body(&self, desk: &Desk, names: &BTreeMap<String, String>) -> Result<Value, Trouble> {
        let mut body = self.body.clone();
        match (self.kind.as_str(), body.as_object_mut()) {
            ("photo", Some(members)) => {
                if let Some(Value::String(file)) = members.remove("file") {
                    let photo = prepare_photo(&std::fs::read(root().join(file))?)?;
                    members.insert("sha256".into(), json!(desk.store.keep_photo(&photo)?.sha256));
                }
            }
            ("strike", Some(members)) => {
                let named = members.get("entry").and_then(Value::as_str);
                if let Some(id) = named.and_then(|name| names.get(name)) {
                    members.insert("entry".into(), json!(id));
                }
            }
            _ => {}
        }
        Ok(body)
    }
}

fn text<'a>(value: &'a Value, key: &str) -> Option<&'a str> {
    value.get(key).and_then(Value::as_str)
}

fn list<'a>(value: &'a Value, key: &str) -> &'a [Value] {
    value.get(key).and_then(Value::as_array).map_or(&[], Vec::as_slice)
}

/// A layer's name, with the number of its lift where it is one.
fn layer_name(row: &Value) -> String {
    let layer = text(row, "layer").unwrap_or_default();
    match row.get("lift").and_then(Value::as_u64) {
        Some(lift) => format!("{layer} {lift}"),
        None => layer.to_owned(),
    }
}

/// The state with its lists turned into members by name, which is how a case file has them.
fn by_name(state: &Value) -> Value {
    let member = |row: &Value, key: &str| row.get(key).cloned().unwrap_or_default();
    let layers = list(state, "layers").iter().flat_map(|layer| {
        let rows = list(layer, "lifts").iter().chain([layer]);
        rows.map(|row| (layer_name(row), row.clone())).collect::<Vec<_>>()
    });
    let passes = list(state, "passes").iter().map(|row| {
        let plant = text(row, "plant").unwrap_or_default();
        (format!("{}, {plant}", layer_name(row)), member(row, "done"))
    });
    let of_stages = |value: &dyn Fn(&Value) -> Value| -> Value {
        let named = |row| (text(row, "stage").unwrap_or_default().to_owned(), value(row));
        Value::Object(list(state, "stages").iter().map(named).collect())
    };
    let mut named = state.as_object().cloned().unwrap_or_default();
    for (key, value) in [
        ("layers", Value::Object(layers.collect())),
        ("passes", Value::Object(passes.collect())),
        ("stages", of_stages(&|row| member(row, "state"))),
        ("missing", of_stages(&|row| json!(list(row, "missing").len()))),
        ("reasons", of_stages(&|row| member(row, "reason"))),
        ("next", state.pointer("/next/text").cloned().unwrap_or_default()),
    ] {
        named.insert(key.to_owned(), value);
    }
    Value::Object(named)
}

/// Half a tenth of a millimetre: numbers in case files are written to a tenth.
const NEAR: f64 = 0.05;

/// Compares what must be with what is; members that the case file leaves out may be anything.
fn compare(at: &str, wanted: &Value, given: &Value, found: &mut Vec<String>) {
    match (wanted, given) {
        (Value::Object(wanted), _) => {
            for (key, value) in wanted {
                let place = format!("{at}/{key}");
                match given.get(key) {
                    Some(given) => compare(&place, value, given, found),
                    None => found.push(format!("{place} is not there")),
                }
            }
        }
        (Value::Number(wanted), Value::Number(given)) => {
            let off = wanted.as_f64().zip(given.as_f64()).map(|(w, g)| (w - g).abs());
            if off.is_none_or(|off| off > NEAR) {
                found.push(format!("{at} is {given}, not {wanted}"));
            }
        }
        (wanted, given) if wanted == given => {}
        (wanted, given) => found.push(format!("{at} is {given}, not {wanted}")),
    }
}
