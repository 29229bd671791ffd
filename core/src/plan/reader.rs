//! A reader of JSON values that gathers every problem instead of stopping at the first.

use std::cell::RefCell;
use std::collections::BTreeMap;
use std::ops::RangeInclusive;
use std::rc::Rc;

use serde_json::{Map, Value};

use super::Problem;

/// Where problems are gathered.
#[derive(Debug, Clone, Default)]
pub struct Problems(Rc<RefCell<Vec<Problem>>>);

/// More problems than this are not listed one by one.
const MOST_PROBLEMS: usize = 200;

impl Problems {
    /// Adds one.
    pub fn add(&self, at: &str, problem: impl Into<String>, right: impl Into<String>) {
        let mut list = self.0.borrow_mut();
        if list.len() < MOST_PROBLEMS {
            list.push(Problem::new(at, problem, right));
        }
    }

    /// All of them, in order of place.
    pub fn take(&self) -> Vec<Problem> {
        std::mem::take(&mut *self.0.borrow_mut())
    }
}

/// A value with its place. Missing values read as none, without a problem.
#[derive(Debug, Clone)]
pub struct At<'a> {
    value: Option<&'a Value>,
    pointer: String,
    problems: Problems,
}

/// The members of an object, each at its place.
pub struct Members<'a>(BTreeMap<&'static str, At<'a>>, At<'a>);

impl<'a> Members<'a> {
    /// A member by its name; one that the object may not have reads as missing.
    pub fn get(&self, key: &str) -> At<'a> {
        self.0.get(key).cloned().unwrap_or_else(|| At { value: None, ..self.1.clone() })
    }
}

impl<'a> At<'a> {
    /// The root of a document.
    pub fn root(value: &'a Value, problems: &Problems) -> Self {
        At { value: Some(value), pointer: String::new(), problems: problems.clone() }
    }

    /// Whether anything is written here. `null` counts as written.
    pub fn is_given(&self) -> bool {
        self.value.is_some()
    }

    /// Whether `null` is written here.
    pub fn is_null(&self) -> bool {
        self.value.is_some_and(Value::is_null)
    }

    /// Its JSON pointer.
    pub fn pointer(&self) -> &str {
        &self.pointer
    }

    /// Adds a problem at this place.
    pub fn refuse(&self, problem: impl Into<String>, right: impl Into<String>) {
        self.problems.add(&self.pointer, problem, right);
    }

    /// Adds a problem at another place.
    pub fn refuse_at(&self, pointer: &str, problem: impl Into<String>, right: impl Into<String>) {
        self.problems.add(pointer, problem, right);
    }

    fn expect<T>(&self, found: Option<T>, right: &str) -> Option<T> {
        if let (None, Some(value)) = (&found, self.value) {
            self.refuse(format!("{} is written here", shown(value)), right);
        }
        found
    }

    /// An object of texts under any keys, at most `most` of them.
    pub fn texts(&self, most: usize) -> Option<BTreeMap<String, String>> {
        let map = self.expect(self.value.and_then(Value::as_object), "an object in braces")?;
        if map.len() > most {
            self.refuse(format!("there are {} members", map.len()), format!("at most {most}"));
            return None;
        }
        let texts = map.iter().map(|(key, value)| {
            let pointer = self.under(key);
            let at = At { value: Some(value), pointer, problems: self.problems.clone() };
            (key.clone(), at.text())
        });
        let texts: Vec<(String, Option<String>)> = texts.collect();
        texts.into_iter().map(|(key, text)| Some((key, text?))).collect()
    }

    /// An object with no other members than these.
    pub fn object(&self, keys: &[&'static str]) -> Option<Members<'a>> {
        let map = self.expect(self.value.and_then(Value::as_object), "an object in braces")?;
        self.unknown_keys(map, keys);
        let members = keys
            .iter()
            .map(|key| {
                let at = At {
                    value: map.get(*key),
                    pointer: format!("{}/{key}", self.pointer),
                    problems: self.problems.clone(),
                };
                (*key, at)
            })
            .collect();
        Some(Members(members, self.clone()))
    }

    /// The pointer to a member, its key escaped (RFC 6901).
    fn under(&self, key: &str) -> String {
        format!("{}/{}", self.pointer, key.replace('~', "~0").replace('/', "~1"))
    }

    fn unknown_keys(&self, map: &Map<String, Value>, keys: &[&str]) {
        for key in map.keys().filter(|key| !keys.contains(&key.as_str())) {
            self.problems.add(
                &self.under(key),
                format!("\"{key}\" is not known here"),
                format!("one of: {}", keys.join(", ")),
            );
        }
    }

    /// The items of a list, at most `most` of them.
    pub fn list(&self, least: usize, most: usize) -> Option<Vec<At<'a>>> {
        let items = self.expect(self.value.and_then(Value::as_array), "a list in brackets")?;
        if items.len() < least || items.len() > most {
            self.refuse(
                format!("the list has {} items", items.len()),
                format!("from {least} to {most} items"),
            );
            return None;
        }
        let at = |(index, value)| At {
            value: Some(value),
            pointer: format!("{}/{index}", self.pointer),
            problems: self.problems.clone(),
        };
        Some(items.iter().enumerate().map(at).collect())
    }

    /// A number within bounds.
    pub fn number(&self, bounds: RangeInclusive<f64>, unit: &str) -> Option<f64> {
        let right = format!("a number from {} to {} {unit}", bounds.start(), bounds.end());
        let right = right.trim_end();
        let number = self.expect(self.value.and_then(Value::as_f64), right)?;
        if bounds.contains(&number) {
            return Some(number);
        }
        self.refuse(format!("{number} is out of bounds"), right);
        None
    }

    /// A number that must be there.
    pub fn required(&self, bounds: RangeInclusive<f64>, unit: &str) -> Option<f64> {
        if !self.is_given() {
            let (from, to) = (bounds.start(), bounds.end());
            self.refuse("this is missing", format!("a number from {from} to {to} {unit}"));
            return None;
        }
        self.number(bounds, unit)
    }

    /// A text of at most 200 characters without control characters.
    pub fn text(&self) -> Option<String> {
        let right = "a text of 1 to 200 characters on one line";
        let text = self.expect(self.value.and_then(Value::as_str), right)?;
        let clean = text.trim();
        if clean.is_empty() || clean.chars().count() > 200 || clean.chars().any(char::is_control) {
            self.refuse("the text is empty, too long or has control characters", right);
            return None;
        }
        Some(clean.to_owned())
    }

    /// One of some words.
    pub fn choice<T: Copy>(&self, choices: &[(&str, T)]) -> Option<T> {
        let value = self.value?;
        let found = value.as_str().and_then(|text| choices.iter().find(|(word, _)| *word == text));
        if found.is_none() {
            let words: Vec<&str> = choices.iter().map(|(word, _)| *word).collect();
            self.refuse(
                format!("{} is not known here", shown(value)),
                format!("one of: {}", words.join(", ")),
            );
        }
        found.map(|(_, choice)| *choice)
    }

    /// True or false.
    pub fn yes_or_no(&self) -> Option<bool> {
        self.expect(self.value.and_then(Value::as_bool), "true or false")
    }

    /// The value itself.
    pub fn value(&self) -> Option<&'a Value> {
        self.value
    }
}

/// A value as it is named in a problem: short.
fn shown(value: &Value) -> String {
    match value {
        Value::Null => "null".to_owned(),
        Value::Array(_) => "a list".to_owned(),
        Value::Object(_) => "an object".to_owned(),
        Value::String(text) if text.is_empty() => "nothing".to_owned(),
        Value::Bool(_) | Value::Number(_) | Value::String(_) => {
            let text = value.to_string();
            let mut short: String = text.chars().take(40).collect();
            if short.len() < text.len() {
                short.push('…');
            }
            short
        }
    }
}
