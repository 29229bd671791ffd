//! A job on a real store, asked as a screen asks.

#![allow(dead_code, reason = "each file of tests uses its part")]
#![expect(clippy::expect_used, clippy::indexing_slicing, reason = "a test's set-up may fail it")]

use chrono::{DateTime, FixedOffset};
use fairfall_core::api::{Desk, Fault, ask};
use fairfall_core::outside::Outside;
use fairfall_core::store::Store;
use serde_json::{Value, json};

/// A clock that moves on a second each time it is asked.
pub struct Clock(DateTime<FixedOffset>, u8);

impl Outside for Clock {
    fn now(&mut self) -> DateTime<FixedOffset> {
        self.0 += chrono::Duration::seconds(1);
        self.0
    }

    fn random(&mut self) -> [u8; 10] {
        self.1 = self.1.wrapping_add(1);
        [self.1; 10]
    }
}

pub struct Site {
    /// The desk it is asked at.
    pub desk: Desk,
    /// The job.
    pub job: String,
    _folder: tempfile::TempDir,
}

impl Site {
    /// A job of 7.4 m by 5.2 m, 38.48 m2, level, with no working room; `more` adds to its plan.
    pub fn new(more: Value) -> Site {
        let folder = tempfile::tempdir().expect("a folder");
        let store = Store::open_or_begin(folder.path(), "t").expect("a store");
        let now = DateTime::parse_from_rfc3339("2026-04-07T08:00:00+01:00").expect("a time");
        let mut desk = Desk { store, outside: Box::new(Clock(now, 0)) };
        let plan = plan(more);
        let started = ask(&mut desk, "start_job", json!({ "text": plan.to_string() }));
        let job = started.expect("a job")["job"].as_str().expect("its identity").to_owned();
        Site { desk, job, _folder: folder }
    }

    pub fn ask(&mut self, request: &str, arguments: Value) -> Value {
        ask(&mut self.desk, request, arguments).expect("an answer")
    }

    pub fn of_job(&mut self, request: &str) -> Value {
        let job = self.job.clone();
        self.ask(request, json!({ "job": job }))
    }

    pub fn try_log(&mut self, kind: &str, body: Value) -> Result<Value, Fault> {
        let entry = json!({ "job": self.job, "kind": kind, "body": body });
        ask(&mut self.desk, "log", entry)
    }

    pub fn log(&mut self, kind: &str, body: Value) -> Value {
        self.try_log(kind, body).expect("an entry")
    }

    pub fn refused(&mut self, kind: &str, body: Value) -> Vec<(String, String)> {
        let fault = self.try_log(kind, body).expect_err("a refusal");
        let problems = fault.details["problems"].as_array().expect("problems").clone();
        let text = |p: &Value, key: &str| p[key].as_str().unwrap_or_default().to_owned();
        problems.iter().map(|p| (text(p, "at"), text(p, "problem"))).collect()
    }
}

pub fn plan(more: Value) -> Value {
    let mut plan = json!({
        "fairfall_plan": 1, "title": "t", "use": "foot",
        "outline": { "rectangle": { "length_m": 7.4, "width_m": 5.2 } },
        "surface": { "edge_levels": [{ "at_m": 0, "mm": 0 }], "crossfall_one_in": null },
        "edges": { "restraint": "none", "overdig_mm": 0 },
        "layers": { "bed_mm": 40, "sub_base_mm": 100 },
        "allowances": { "sub_base_t_per_m3": 2.1 },
    });
    plan.as_object_mut().expect("an object").extend(more.as_object().expect("more").clone());
    plan
}
