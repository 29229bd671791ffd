//! Levelling and setting out on the screen: the level book as it is typed, and the curve over a
//! chord. Both answer with everything that is wrong beside what can be worked out already.
//!
//! What is typed crosses as it was typed: with a comma or a point, with or without a unit.

use serde::{Deserialize, Serialize};
use ts_rs::TS;

use super::{Desk, Fault};
use crate::levels::{LevelBook, Reduction, Wrong};
use crate::outline::{ArcError, ChordArc, Offset};
use crate::plan::Problem;
use crate::units::{Length, Level, parse_length};
use crate::words::Phrase;

/// A level book as it is typed.
#[derive(Debug, Clone, Deserialize, TS)]
pub struct LevelBookTyped {
    /// The level that the first point has; empty for the datum, 0.
    pub start: String,
    /// The level that the last point is known to have; empty where it is not known.
    pub close: String,
    /// One row a staff position, in booking order; a row with nothing in it is passed over.
    pub rows: Vec<BookRow>,
}

/// A staff position as it is typed. A change point has both its fore sight and its back sight.
#[derive(Debug, Clone, Deserialize, TS)]
pub struct BookRow {
    /// The point's name.
    pub point: String,
    /// Back sight: the first reading from a set-up, in metres.
    pub bs: String,
    /// Intermediate sight.
    pub is: String,
    /// Fore sight: the last reading from a set-up.
    pub fs: String,
}

/// A level book looked over while it is typed.
#[derive(Debug, Clone, Serialize, TS)]
pub struct LevelBookLook {
    /// The level that the first point was taken at.
    pub start_m: f64,
    /// One answer for each row that was typed, as far as the book is sound.
    pub rows: Vec<BookRowLook>,
    /// Everything that is wrong, at `/start`, `/close`, `/rows/2` or `/rows/2/bs`.
    pub problems: Vec<Problem>,
    /// What the book still lacks, where nothing in it is wrong.
    pub unfinished: Option<Phrase>,
    /// The checks, once the book is whole.
    pub checks: Option<BookChecks>,
}

/// The answer for one row of a level book.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, TS)]
pub struct BookRowLook {
    /// Its level as observed.
    pub reduced_m: Option<f64>,
    /// Its level with the misclosure shared, where there is one and it is accepted.
    pub adjusted_m: Option<f64>,
}

/// The three checks of a level book, and how it closes.
#[derive(Debug, Clone, Serialize, TS)]
pub struct BookChecks {
    /// Sum of back sights.
    pub sum_bs_m: f64,
    /// Sum of fore sights.
    pub sum_fs_m: f64,
    /// Sum of rises.
    pub rise_m: f64,
    /// Sum of falls.
    pub fall_m: f64,
    /// The last level less the first.
    pub last_less_first_m: f64,
    /// Whether the three differences are the same.
    pub agree: bool,
    /// Whether it closes within what is allowed, or is not closed at all.
    pub accepted: bool,
    /// How it closes, in words.
    pub says: Phrase,
}

/// Looks a level book over.
///
/// # Errors
/// None of its own; what is wrong with the book is in the answer.
pub fn level_book(_: &mut Desk, typed: LevelBookTyped) -> Result<LevelBookLook, Fault> {
    Ok(book_look(typed))
}

fn book_look(typed: LevelBookTyped) -> LevelBookLook {
    let mut problems = Vec::new();
    let mut level = |at: &str, text: &str| {
        let level = level_of(text);
        if level.is_none() && !text.trim().is_empty() {
            let problem = format!("\"{}\" is no level", text.trim());
            problems.push(Problem::new(at, problem, "metres above the datum, such as 12.345"));
        }
        level
    };
    let (start, close) = (level("/start", &typed.start), level("/close", &typed.close));
    // Levels over a start that cannot be read would be wrong every one.
    let can_start = start.is_some() || typed.start.trim().is_empty();
    let start = start.unwrap_or(Level::ZERO);
    let cells: Vec<[String; 4]> = typed
        .rows
        .into_iter()
        .map(|row| [row.point, row.bs, row.is, row.fs].map(|cell| cell.replace('\u{2212}', "-")))
        .collect();
    let (book, wrong) = LevelBook::typed(&cells);
    let whole = wrong.is_empty() && problems.is_empty();
    let reduction = book.reduce(start, close.filter(|_| whole));
    let mut rows = vec![BookRowLook { reduced_m: None, adjusted_m: None }; cells.len()];
    for (line, reduced) in book.lines().zip(&reduction.rows).filter(|_| can_start) {
        if let Some(row) = usize::try_from(line).ok().and_then(|line| rows.get_mut(line)) {
            row.reduced_m = Some(reduced.reduced.to_m());
            row.adjusted_m = reduced.adjusted.map(Level::to_m);
        }
    }
    let sound = problems.is_empty() && wrong.iter().all(|w| w.unfinished);
    problems.extend(wrong.iter().filter(|w| !w.unfinished).map(in_its_row));
    LevelBookLook {
        start_m: start.to_m(),
        rows,
        problems,
        unfinished: (sound && !whole).then(|| Phrase::new("book.unfinished", [])),
        checks: whole.then(|| checks(&reduction)),
    }
}

fn in_its_row(wrong: &Wrong) -> Problem {
    let row = wrong.row.map(|row| format!("/rows/{row}")).unwrap_or_default();
    let column = wrong.column.map(|column| format!("/{column}")).unwrap_or_default();
    Problem::new(row + &column, &wrong.problem, &wrong.right)
}

fn checks(reduction: &Reduction) -> BookChecks {
    let ends = match (reduction.rows.first(), reduction.rows.last()) {
        (Some(first), Some(last)) => last.reduced.above(first.reduced),
        _ => Length::ZERO,
    };
    BookChecks {
        sum_bs_m: reduction.sum_back.to_m(),
        sum_fs_m: reduction.sum_fore.to_m(),
        rise_m: reduction.rise.to_m(),
        fall_m: reduction.fall.to_m(),
        last_less_first_m: ends.to_m(),
        agree: reduction.agrees(),
        accepted: reduction.accepted,
        says: closing(reduction),
    }
}

/// How a book closes on its known level.
fn closing(reduction: &Reduction) -> Phrase {
    let Some(misclosure) = reduction.misclosure else {
        return Phrase::new("book.not_closed", []);
    };
    let tenths = |length: Length| (length.to_mm() * 10.0).round() / 10.0;
    let off = tenths(misclosure.abs());
    if off == 0.0 {
        return Phrase::new("book.closes", []);
    }
    let side = if misclosure < Length::ZERO { "@book.low" } else { "@book.high" };
    let code = if reduction.accepted { "book.within" } else { "book.beyond" };
    let allowed = tenths(reduction.allowed);
    Phrase::new(
        code,
        [
            ("off", off.into()),
            ("side", side.into()),
            ("allowed", allowed.into()),
            ("count", reduction.setups.into()),
        ],
    )
}

/// What an arc is known by, besides its chord.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum ArcBy {
    /// Its rise over the middle of the chord.
    Rise,
    /// Its radius.
    Radius,
}

/// A curve over a chord as it is typed.
#[derive(Debug, Clone, Deserialize, TS)]
pub struct ArcTyped {
    /// The chord, in metres where no unit is written.
    pub chord: String,
    /// What is known besides.
    pub by: ArcBy,
    /// The rise, in millimetres where no unit is written.
    pub rise: String,
    /// The radius, in metres where no unit is written.
    pub radius: String,
    /// Spacing of the offsets, in metres where no unit is written; empty for half a metre.
    pub every: String,
}

/// A curve looked over while it is typed.
#[derive(Debug, Clone, Serialize, TS)]
pub struct ArcLook {
    /// Everything that is wrong with what was typed, at `/chord`, `/rise`, `/radius` or `/every`.
    pub problems: Vec<Problem>,
    /// The curve, where there is one.
    pub arc: Option<ArcView>,
}

/// A curve over a chord, ready to be set out.
#[derive(Debug, Clone, Serialize, TS)]
pub struct ArcView {
    /// Its radius.
    pub radius_m: f64,
    /// Its chord.
    pub chord_m: f64,
    /// Its rise over the middle of the chord.
    pub rise_mm: f64,
    /// Its length along the curve.
    pub length_m: f64,
    /// Offsets square to the chord, from its middle to its end.
    pub from_chord: Vec<OffsetView>,
    /// Offsets square to the tangent, from the tangent point.
    pub from_tangent: Vec<OffsetView>,
}

/// An offset square to a line.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, TS)]
pub struct OffsetView {
    /// Distance along the line.
    pub at_m: f64,
    /// Distance square to it, to the curve.
    pub mm: f64,
}

/// Spacing of offsets where none is typed (our default).
const OFFSETS_EVERY: Length = Length::from_mm(500.0);
/// More offsets than this from the middle of a chord are a slip of the unit.
const MOST_OFFSETS: f64 = 200.0;

/// Works a curve out from its chord and its rise or its radius.
///
/// # Errors
/// None of its own; what is wrong with what was typed is in the answer.
pub fn arc(_: &mut Desk, typed: ArcTyped) -> Result<ArcLook, Fault> {
    Ok(arc_look(&typed))
}

fn arc_look(typed: &ArcTyped) -> ArcLook {
    let mut problems = Vec::new();
    let mut length = |at: &str, text: &str, bare: fn(f64) -> Length| {
        let found = length_of(text, bare).filter(|length| *length > Length::ZERO);
        if found.is_none() && !text.trim().is_empty() {
            let problem = format!("\"{}\" is no length", text.trim());
            problems.push(Problem::new(at, problem, "a length above 0, such as 2.4 m or 240 mm"));
        }
        found
    };
    let chord = length("/chord", &typed.chord, Length::from_m);
    let known = match typed.by {
        ArcBy::Rise => length("/rise", &typed.rise, Length::from_mm),
        ArcBy::Radius => length("/radius", &typed.radius, Length::from_m),
    };
    let every = length("/every", &typed.every, Length::from_m).unwrap_or(OFFSETS_EVERY);
    let (Some(chord), Some(known), true) = (chord, known, problems.is_empty()) else {
        return ArcLook { problems, arc: None };
    };
    if chord / every / 2.0 > MOST_OFFSETS {
        let right = format!("at least {:.2} m on this chord", (chord / 2.0 / MOST_OFFSETS).to_m());
        problems.push(Problem::new("/every", "that is hundreds of offsets", right));
        return ArcLook { problems, arc: None };
    }
    let arc = curve(chord, typed.by, known).map_err(|problem| problems.push(problem)).ok();
    ArcLook { problems, arc: arc.map(|arc| arc_view(&arc, every)) }
}

fn curve(chord: Length, by: ArcBy, known: Length) -> Result<ChordArc, Problem> {
    let (at, found) = match by {
        ArcBy::Rise if known > chord / 2.0 => {
            let right = "half the chord at most; a longer curve is measured in two";
            return Err(Problem::new("/rise", "this is more than half a circle", right));
        }
        ArcBy::Rise => ("/rise", ChordArc::from_rise(chord, known)),
        ArcBy::Radius => ("/radius", ChordArc::new(known, chord)),
    };
    found.map_err(|error| {
        let right = match error {
            ArcError::ChordTooLong => {
                format!("at least {:.3} m, half the chord", chord.to_m() / 2.0)
            }
            ArcError::TooLarge => "a straight, or a sharper curve".to_owned(),
            ArcError::NotPositive => "lengths above 0".to_owned(),
        };
        Problem::new(at, error.to_string(), right)
    })
}

fn arc_view(arc: &ChordArc, every: Length) -> ArcView {
    let rows = |offsets: Vec<Offset>| {
        let row = |o: Offset| OffsetView { at_m: o.at.to_m(), mm: o.offset.to_mm() };
        offsets.into_iter().map(row).collect()
    };
    ArcView {
        radius_m: arc.radius().to_m(),
        chord_m: arc.chord().to_m(),
        rise_mm: arc.mid_ordinate().to_mm(),
        length_m: arc.length().to_m(),
        from_chord: rows(arc.from_chord(every)),
        from_tangent: rows(arc.from_tangent(every)),
    }
}

/// A level as typed, in metres where no unit is written; none where it is none.
fn level_of(text: &str) -> Option<Level> {
    length_of(text, Length::from_m).and_then(|height| Level::new(height.to_m()).ok())
}

/// A length as typed: a bare number in the unit beside its field, or with a unit of its own; none
/// where it is none.
fn length_of(text: &str, bare: fn(f64) -> Length) -> Option<Length> {
    let text = text.trim().replace('\u{2212}', "-").replace(',', ".");
    let plain = text.bytes().all(|b| b.is_ascii_digit() || b"-.".contains(&b));
    match text.parse() {
        Ok(number) if plain => Some(bare(number)),
        _ => parse_length(&text).ok(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn look(start: &str, close: &str, rows: &[[&str; 4]]) -> LevelBookLook {
        let rows = rows
            .iter()
            .map(|row| {
                let [point, bs, is, fs] = row.map(str::to_owned);
                BookRow { point, bs, is, fs }
            })
            .collect();
        let typed = LevelBookTyped { start: start.to_owned(), close: close.to_owned(), rows };
        book_look(typed)
    }

    fn at(look: &[Problem]) -> Vec<&str> {
        look.iter().map(|p| p.at.as_str()).collect()
    }

    fn typed_arc(chord: &str, by: ArcBy, known: &str, every: &str) -> ArcLook {
        let [chord, known, every] = [chord, known, every].map(str::to_owned);
        arc_look(&ArcTyped { chord, by, rise: known.clone(), radius: known, every })
    }

    #[test]
    fn a_book_in_print_is_refused_in_words() {
        // Question in print, rise and fall (worked example L2): known close 168.50, closes 166 mm
        // low over 4 set-ups; 5 mm times the root of 4 is allowed (course reading SKAA 1023).
        let rows = [
            ["a", "1,379", "", ""],
            ["b", "", "2,795", ""],
            ["c", "", "3,215", ""],
            ["d", "", ",595", ""],
            ["e", "", "1.270", ""],
            ["f", "1,280", "", "3,215"],
            ["g", "", "1,030", ""],
            ["h", "", "3,045", ""],
            ["i", "2,312", "", "3,815"],
            ["j", "1,743", "", "3,227"],
            ["k", "", "2,735", ""],
            ["l", "", "", "3,623"],
        ];
        let whole = look("175,500", "168.50", &rows);
        let checks = whole.checks.expect("the book is whole");
        assert!(checks.agree && !checks.accepted);
        assert!((checks.last_less_first_m + 7.166).abs() < 0.0005);
        assert_eq!(checks.says.code, "book.beyond");
        assert!(checks.says.text.contains("166 mm low"), "{}", checks.says.text);
        assert!(checks.says.text.contains("10 mm is allowed"), "{}", checks.says.text);
        assert!(whole.rows.iter().all(|row| row.adjusted_m.is_none()));
        let last = whole.rows.last().and_then(|row| row.reduced_m).unwrap();
        assert!((last - 168.334).abs() < 0.0005);
    }

    #[test]
    fn a_book_half_typed_has_the_levels_it_can_have() {
        let look = look("", "", &[["a", "1", "", ""], ["", "", "", ""], ["b", "", "1,25", ""]]);
        let levels: Vec<_> = look.rows.iter().map(|row| row.reduced_m).collect();
        assert_eq!(levels, [Some(0.0), None, Some(-0.25)]);
        assert!(look.problems.is_empty() && look.unfinished.is_some() && look.checks.is_none());
    }

    #[test]
    fn what_is_wrong_stands_in_its_row() {
        let rows = [["a", "one", "", ""], ["b", "", "1", ""], ["c", "", "", ""], ["", "", "", "1"]];
        let look = look("high", "", &[rows[0], rows[1], ["c", "1", "", ""], rows[3]]);
        assert_eq!(at(&look.problems), ["/start", "/rows/0/bs", "/rows/2"]);
        assert!(look.rows.iter().all(|row| row.reduced_m.is_none()) && look.unfinished.is_none());
    }

    #[test]
    fn over_a_start_that_cannot_be_read_there_are_no_levels() {
        let look = look("high", "", &[["a", "1", "", ""], ["b", "", "", "1"]]);
        assert_eq!(at(&look.problems), ["/start"]);
        assert!(look.rows.iter().all(|row| row.reduced_m.is_none()) && look.checks.is_none());
    }

    #[test]
    fn a_curve_in_print() {
        // Indian surveying textbooks (worked example A2): chord 80, rise 4, radius 202.
        let look = typed_arc("80", ArcBy::Rise, "4 m", "10");
        let view = look.arc.expect("a curve");
        assert!((view.radius_m - 202.0).abs() < 1e-9 && (view.rise_mm - 4000.0).abs() < 1e-6);
        let printed = [4.00, 3.75, 3.01, 1.76, 0.0];
        for (offset, printed) in view.from_chord.iter().zip(printed) {
            assert!((offset.mm / 1000.0 - printed).abs() <= 0.005, "{offset:?}");
        }
        // Exact circle geometry: half a circle over a chord of 2 m is pi long.
        let half = typed_arc("2", ArcBy::Rise, "1000", "").arc.expect("half a circle");
        assert!((half.length_m - std::f64::consts::PI).abs() < 1e-12);
    }

    #[test]
    fn what_makes_no_curve_is_said_beside_it() {
        let cases = [
            ("3", ArcBy::Rise, "1600", "", "/rise"),
            ("3", ArcBy::Radius, "1,4", "", "/radius"),
            ("3", ArcBy::Radius, "2e9", "", "/radius"),
            ("3", ArcBy::Radius, "2000000", "", "/radius"),
            ("-3", ArcBy::Rise, "100", "", "/chord"),
            ("3", ArcBy::Rise, "100", "1 mm", "/every"),
        ];
        for (chord, by, known, every, place) in cases {
            let look = typed_arc(chord, by, known, every);
            assert_eq!((at(&look.problems), look.arc.is_none()), (vec![place], true), "{known}");
        }
        let nothing = typed_arc("", ArcBy::Rise, "", "");
        assert!(nothing.problems.is_empty() && nothing.arc.is_none());
    }
}
