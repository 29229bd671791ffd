//! Figures and times into words, as the trade says them.
//!
//! A person sees whole millimetres. A sign is a word: "high 4", "low 9", "30 below the datum".

use chrono::{DateTime, FixedOffset, NaiveDate};
use serde::Serialize;

/// What stands where a plan or a diary is silent.
pub(crate) const NOT_STATED: &str = "not stated";

/// What stands where nothing was measured.
pub(crate) const NOT_MEASURED: &str = "not measured";

/// A text, or "not stated" where it is empty.
pub(crate) fn stated(text: &str) -> String {
    if text.trim().is_empty() { NOT_STATED.to_owned() } else { text.to_owned() }
}

/// A text of so many signs at most, the cut marked.
pub(crate) fn shortened(text: &str, signs: usize) -> String {
    if text.chars().count() <= signs {
        return text.to_owned();
    }
    let kept: String = text.chars().take(signs.saturating_sub(1)).collect();
    format!("{}…", kept.trim_end())
}

/// Whole millimetres, without the unit.
pub(crate) fn mm(value: f64) -> String {
    whole(value, 0)
}

/// A number with so many decimals; never "-0", and no figure where there is none.
pub(crate) fn whole(value: f64, decimals: usize) -> String {
    if !value.is_finite() {
        return "no figure".to_owned();
    }
    let text = format!("{:.decimals$}", round(value, decimals));
    match text.strip_prefix('-') {
        Some(rest) if rest.chars().all(|c| c == '0' || c == '.') => rest.to_owned(),
        _ => text,
    }
}

/// Rounds half away from nought, as a person does, and as the core does for its words.
fn round(value: f64, decimals: usize) -> f64 {
    let scale = 10_f64.powi(i32::try_from(decimals).unwrap_or(0));
    (value * scale).round() / scale
}

/// A number with at most one decimal, and none that is nought.
pub(crate) fn plain(value: f64) -> String {
    let text = whole(value, 1);
    text.strip_suffix(".0").map_or_else(|| text.clone(), str::to_owned)
}

/// Metres to the centimetre, without the unit.
pub(crate) fn metres(value: f64) -> String {
    whole(value, 2)
}

/// How a dip came out: "high 4", "low 9", "right".
pub(crate) fn high_or_low(high_mm: f64) -> String {
    let size = mm(high_mm.abs());
    match high_mm.round() {
        high if high >= 1.0 => format!("high {size}"),
        low if low <= -1.0 => format!("low {size}"),
        _ => "right".to_owned(),
    }
}

/// A level against the job datum, its figure apart from its word so that figures stand in a
/// column: ("30", "below"), ("12", "above"), ("0", "at datum").
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub(crate) struct LevelWords {
    /// Whole millimetres; empty where not measured.
    pub(crate) figure: String,
    /// "above", "below", "at datum" or "not measured".
    pub(crate) word: String,
}

/// A level in words; none reads "not measured".
pub(crate) fn level(value: Option<f64>) -> LevelWords {
    let Some(mm_above) = value else {
        return LevelWords { figure: String::new(), word: NOT_MEASURED.to_owned() };
    };
    let word = match mm_above.round() {
        high if high >= 1.0 => "above",
        low if low <= -1.0 => "below",
        _ => "at datum",
    };
    LevelWords { figure: mm(mm_above.abs()), word: word.to_owned() }
}

/// A tolerance in words: "high 10, low 15".
pub(crate) fn tolerance(high_by_mm: f64, low_by_mm: f64) -> String {
    format!("high {}, low {}", mm(high_by_mm), mm(low_by_mm))
}

/// A count with its noun: "1 dip", "8 dips".
pub(crate) fn count(number: u32, one: &str, other: &str) -> String {
    format!("{number} {}", if number == 1 { one } else { other })
}

/// A time as the clock on site showed it: "7 Apr 2026, 08:40". A text that is no time stays as
/// it is, so that nothing is lost.
pub(crate) fn when(text: &str) -> String {
    time(text).map_or_else(|| text.to_owned(), |t| t.format("%-d %b %Y, %H:%M").to_string())
}

/// The day of a time: "7 Apr 2026".
pub(crate) fn day(text: &str) -> String {
    time(text).map_or_else(|| text.to_owned(), |t| t.format("%-d %b %Y").to_string())
}

/// The time of day: "08:40"; the whole text where it is no time.
pub(crate) fn hour(text: &str) -> String {
    time(text).map_or_else(|| text.to_owned(), |t| t.format("%H:%M").to_string())
}

/// From one time to another, the day said once where it is the same: "7 Apr 2026, 08:40 to 09:05".
pub(crate) fn span(first: &str, last: &str) -> String {
    if when(first) == when(last) {
        when(first)
    } else if day(first) == day(last) {
        format!("{} to {}", when(first), hour(last))
    } else {
        format!("{} to {}", when(first), when(last))
    }
}

/// The days between which work was done: "7 Apr 2026 to 9 Apr 2026".
pub(crate) fn days(first: &str, last: &str) -> String {
    match (date(first), date(last)) {
        (first, last) if first == last => stated(&first),
        (first, last) => format!("{} to {}", stated(&first), stated(&last)),
    }
}

/// How far the clock that dated the paper was from universal time, in words.
pub(crate) fn clock(time: DateTime<FixedOffset>) -> String {
    let minutes = time.offset().local_minus_utc() / 60;
    let (hours, rest) = (minutes.abs() / 60, minutes.abs() % 60);
    let size = match (hours, rest) {
        (h, 0) => format!("{h} h"),
        (0, m) => format!("{m} min"),
        (h, m) => format!("{h} h {m} min"),
    };
    match minutes {
        0 => "UTC".to_owned(),
        ahead if ahead > 0 => format!("{size} ahead of UTC"),
        _ => format!("{size} behind UTC"),
    }
}

/// A time with its offset.
pub(crate) fn time(text: &str) -> Option<DateTime<FixedOffset>> {
    DateTime::parse_from_rfc3339(text).ok()
}

/// A day as a date: "7 Apr 2026".
pub(crate) fn date(text: &str) -> String {
    NaiveDate::parse_from_str(text, "%Y-%m-%d")
        .map_or_else(|_| text.to_owned(), |d| d.format("%-d %b %Y").to_string())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn signs_are_words() {
        assert_eq!(high_or_low(4.4), "high 4");
        assert_eq!(high_or_low(-8.5), "low 9");
        assert_eq!(high_or_low(0.4), "right");
        assert_eq!(high_or_low(-0.4), "right");
        assert_eq!(level(Some(-30.2)), LevelWords { figure: "30".into(), word: "below".into() });
        assert_eq!(level(Some(0.0)), LevelWords { figure: "0".into(), word: "at datum".into() });
        assert_eq!(level(None).word, "not measured");
        assert_eq!(tolerance(10.0, 15.0), "high 10, low 15");
    }

    #[test]
    fn a_long_text_is_cut_where_one_sees_it() {
        assert_eq!(shortened("Path to the greenhouse", 12), "Path to the…");
        assert_eq!(shortened("Ścieżka", 7), "Ścieżka");
    }

    #[test]
    fn numbers_are_whole_and_never_a_bare_minus_nought() {
        assert_eq!(mm(-0.2), "0");
        assert_eq!(mm(62.5), "63");
        assert_eq!(metres(1.006), "1.01");
        assert_eq!(metres(-0.001), "0.00");
        assert_eq!(mm(f64::NAN), "no figure");
    }

    #[test]
    fn times_keep_the_clock_on_site() {
        assert_eq!(when("2026-04-07T08:40:00+01:00"), "7 Apr 2026, 08:40");
        assert_eq!(when("2026-12-31T23:59:59-05:00"), "31 Dec 2026, 23:59");
        assert_eq!(when("yesterday"), "yesterday");
        assert_eq!(
            span("2026-04-07T08:40:00+01:00", "2026-04-07T09:05:00+01:00"),
            "7 Apr 2026, 08:40 to 09:05"
        );
        assert_eq!(
            span("2026-04-07T08:40:00+01:00", "2026-04-08T09:05:00+01:00"),
            "7 Apr 2026, 08:40 to 8 Apr 2026, 09:05"
        );
        assert_eq!(days("2026-04-07", "2026-04-09"), "7 Apr 2026 to 9 Apr 2026");
        assert_eq!(days("2026-04-07", "2026-04-07"), "7 Apr 2026");
        assert_eq!(days("", ""), "not stated");
    }

    #[test]
    fn the_clock_is_said_in_words() {
        let at = |text| clock(time(text).unwrap());
        assert_eq!(at("2026-04-07T08:40:00+01:00"), "1 h ahead of UTC");
        assert_eq!(at("2026-04-07T08:40:00-03:30"), "3 h 30 min behind UTC");
        assert_eq!(at("2026-04-07T08:40:00Z"), "UTC");
    }
}
