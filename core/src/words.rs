//! The catalogue of what the core says: keys with values, and the English for them.
//!
//! A screen picks words by key from the same file (`core/words/en.json`); the command line and
//! the papers take the English from here. A text may have the forms `one` and `other`, chosen by
//! the value `count`. Places for values are written `{name}`.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use serde::{Deserialize, Serialize};
use ts_rs::TS;

use crate::outline::SideName;

/// A sentence as a key with values, and its English.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct Phrase {
    /// The key in the catalogue.
    pub code: String,
    /// Values for the places in the text, already in the units the text names.
    pub values: BTreeMap<String, Value>,
    /// The English, for the command line and the papers.
    pub text: String,
}

/// A value in a phrase.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
#[serde(untagged)]
pub enum Value {
    /// A count or a measure, shown without needless decimals.
    Number(f64),
    /// A name, a place, or another word of the catalogue written as `@key`.
    Text(String),
}

impl From<f64> for Value {
    fn from(number: f64) -> Self {
        Value::Number(number)
    }
}

impl From<u32> for Value {
    fn from(number: u32) -> Self {
        Value::Number(f64::from(number))
    }
}

impl From<&str> for Value {
    fn from(text: &str) -> Self {
        Value::Text(text.to_owned())
    }
}

impl From<String> for Value {
    fn from(text: String) -> Self {
        Value::Text(text)
    }
}

/// A side by its name, or its number where it has no name.
impl From<SideName> for Value {
    fn from(side: SideName) -> Self {
        match side {
            SideName::Number(number) => number.into(),
            SideName::Reference | SideName::Start | SideName::End | SideName::Far => {
                format!("@side.{side}").into()
            }
        }
    }
}

#[derive(Debug, Deserialize)]
#[serde(untagged)]
enum Text {
    Plain(String),
    Counted { one: String, other: String },
}

static ENGLISH: LazyLock<BTreeMap<String, Text>> =
    LazyLock::new(|| serde_json::from_str(include_str!("../words/en.json")).unwrap_or_default());

impl Phrase {
    /// A phrase from its key and values. A key that the catalogue lacks reads as the key itself,
    /// which a test forbids.
    pub fn new<const N: usize>(code: &str, values: [(&str, Value); N]) -> Self {
        let values: BTreeMap<String, Value> =
            values.into_iter().map(|(k, v)| (k.to_owned(), v)).collect();
        let text = fill(code, &values);
        Phrase { code: code.to_owned(), values, text }
    }
}

/// The English for a key without values.
pub fn word(code: &str) -> String {
    fill(code, &BTreeMap::new())
}

fn fill(code: &str, values: &BTreeMap<String, Value>) -> String {
    let template =
        match ENGLISH.get(code) {
            None => return code.to_owned(),
            Some(Text::Plain(text)) => text,
            Some(Text::Counted { one, other }) => {
                if values.get("count") == Some(&Value::Number(1.0)) { one } else { other }
            }
        };
    let mut text = template.clone();
    for (name, value) in values {
        let shown = match value {
            Value::Number(number) => number_in_words(*number),
            Value::Text(t) => t.strip_prefix('@').map_or_else(|| t.clone(), word),
        };
        text = text.replace(&format!("{{{name}}}"), &shown);
    }
    text
}

/// A number with at most two decimals and no trailing zeros.
fn number_in_words(number: f64) -> String {
    let text = format!("{number:.2}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_catalogue_reads_and_counts() {
        assert!(ENGLISH.len() > 20, "the catalogue did not parse");
        let one =
            Phrase::new("next.dips", [("count", 1_u32.into()), ("layer", "@layer.bed".into())]);
        let two =
            Phrase::new("next.dips", [("count", 2_u32.into()), ("layer", "@layer.bed".into())]);
        assert!(one.text.starts_with("1 more dip of"), "{}", one.text);
        assert!(two.text.starts_with("2 more dips of"), "{}", two.text);
        assert!(!two.text.contains(['{', '@']), "{}", two.text);
    }

    #[test]
    fn numbers_have_no_needless_decimals() {
        assert_eq!(number_in_words(3.0), "3");
        assert_eq!(number_in_words(0.254), "0.25");
        assert_eq!(number_in_words(-0.001), "0");
    }
}
