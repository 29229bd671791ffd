//! A second opinion: random and published cases whose answers were worked out by other people's
//! libraries, from `fixtures/oracle` (its README says how). Each tolerance is stated where it is used.
#![cfg(test)]

mod ground;
mod outlines;
mod planes;
mod setting_out;
mod shapes;
mod ties;
mod volumes;

use std::path::Path;

use fairfall_core::plan::{Plan, answer};
use serde_json::Value;

/// Agreement in parts of the expected number.
const RELATIVE: f64 = 1e-6;
/// And of a number that may be nothing: a billionth of a metre, square metre, cubic metre.
const NOTHING: f64 = 1e-9;

/// One millionth of the expected number.
fn exact(wanted: f64) -> f64 {
    RELATIVE * wanted.abs() + NOTHING
}

/// A case, and what differs in it.
struct Case<'a> {
    name: &'a str,
    value: &'a Value,
    differences: Vec<String>,
}

impl Case<'_> {
    fn near(&mut self, what: &str, found: f64, wanted: f64, within: f64) {
        // False for NaN, which so differs.
        let agrees = (found - wanted).abs() <= within;
        if !agrees {
            let off = found - wanted;
            self.differ(format!("{what} is {found}, not {wanted}: off by {off:e}, not {within:e}"));
        }
    }

    /// The number at a pointer of an answer against the one expected.
    fn same(&mut self, answer: &Value, pointer: &str, wanted: &Value, within: impl Fn(f64) -> f64) {
        let wanted = wanted.as_f64().expect("a case expects a number");
        match answer.pointer(pointer).and_then(Value::as_f64) {
            Some(found) => self.near(pointer, found, wanted, within(wanted)),
            None => self.differ(format!("there is no number at {pointer}")),
        }
    }

    fn differ(&mut self, what: String) {
        self.differences.push(format!("{}: {what}", self.name));
    }

    /// The answer to the case's plan; what is wrong with the plan differs.
    fn answer(&mut self) -> Option<Value> {
        match Plan::read(self.value["plan"].clone()) {
            Ok(plan) => Some(answer(&plan)),
            Err(problems) => {
                self.differ(format!("refused: {problems:?}"));
                None
            }
        }
    }
}

/// Puts every case of a file to a check and fails with all that differs. `count` guards against a
/// file that lost its cases.
fn each(file: &str, count: usize, check: impl Fn(&mut Case)) {
    let cases = cases(file);
    assert_eq!(cases.len(), count, "cases in {file}");
    let mut differences = Vec::new();
    for value in &cases {
        let name = value["name"].as_str().expect("a case has a name");
        let mut case = Case { name, value, differences: Vec::new() };
        check(&mut case);
        differences.extend(case.differences);
    }
    assert!(differences.is_empty(), "{} differ:\n{}", differences.len(), differences.join("\n"));
}

fn cases(file: &str) -> Vec<Value> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../fixtures/oracle");
    let text = std::fs::read_to_string(folder.join(file)).expect("the file of cases is there");
    let mut file: Value = serde_json::from_str(&text).expect("the file of cases is JSON");
    serde_json::from_value(file["cases"].take()).expect("a list of cases")
}

/// The list at a key of a case.
fn list<'a>(value: &'a Value, key: &str) -> &'a [Value] {
    value[key].as_array().map_or_else(|| panic!("{key} is a list in {value}"), Vec::as_slice)
}

fn number(value: &Value, key: &str) -> f64 {
    value[key].as_f64().unwrap_or_else(|| panic!("{key} is a number in {value}"))
}
