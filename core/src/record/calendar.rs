//! A job's days as a calendar (iCalendar, RFC 5545): stages as they were closed, and the return
//! visit to come.

use chrono::{DateTime, FixedOffset, NaiveDate, Utc};
use icalendar::{Calendar, Component as _, Event, EventLike as _, Property};

use super::build::stage_name;
use super::care::return_visit;
use crate::job::{JobState, stages};
use crate::words::{Phrase, word};

/// The calendar of a job, as text. The same job at the same time gives the same text.
pub fn calendar(state: &JobState, now: DateTime<FixedOffset>) -> String {
    let mut calendar = Calendar::empty();
    let head =
        [("VERSION", "2.0"), ("PRODID", "-//Fairfall//Fairfall//EN"), ("CALSCALE", "GREGORIAN")];
    for (name, value) in head {
        calendar.append_property(Property::new(name, value));
    }
    calendar.name(&state.plan.title);
    let stamp = now.with_timezone(&Utc);
    let event = |what: &str, day: NaiveDate, summary: &str, words: &str| {
        let mut event = Event::new();
        event
            .uid(&format!("{}-{what}@fairfall", state.id))
            .timestamp(stamp)
            .summary(summary)
            // A day without an end lasts that day (RFC 5545, 3.6.1).
            .starts(day);
        if !words.is_empty() {
            event.description(words);
        }
        if !state.plan.parties.place.is_empty() {
            event.location(&state.plan.parties.place);
        }
        // A day that is noted takes nobody's time.
        event.append_property(Property::new("TRANSP", "TRANSPARENT"));
        event.done()
    };
    let titled = |what: String| {
        let values = [("title", state.plan.title.as_str().into()), ("what", what.into())];
        Phrase::new("calendar.summary", values).text
    };
    for stand in stages(state) {
        if let Some(closed) = stand.closing.filter(|closing| closing.done) {
            let id = stand.stage.word().trim_start_matches("@stage.");
            let summary = titled(stage_name(stand.stage));
            let values = [("who", closed.who.as_str().into())];
            let mut words = Phrase::new("calendar.closed", values).text;
            if !closed.reason.is_empty() {
                words = format!("{words} {}", closed.reason);
            }
            calendar.push(event(id, closed.at.date_naive(), &summary, &words));
        }
    }
    if let Some(day) = return_visit(state, now) {
        let summary = titled(word("calendar.return_visit"));
        let words = word("calendar.return_visit_what");
        calendar.push(event("return", day, &summary, &words));
    }
    calendar.done().to_string()
}
