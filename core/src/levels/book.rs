//! The level book: readings on a staff reduced to levels, by rise and fall and by height of
//! collimation.

use crate::plan::Problem;
use crate::tables::{self, Table, Writing, read};
use crate::units::{Length, Level};

/// One staff position.
#[derive(Debug, Clone, PartialEq)]
struct Position {
    line: u64,
    point: String,
    back: Option<f64>,
    between: Option<f64>,
    fore: Option<f64>,
    /// Whether all of its cells could be read.
    read: bool,
}

/// Something wrong with a book.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Wrong {
    /// The line or row it is in, as it was given; none for the whole book.
    pub row: Option<u64>,
    /// The column, by its name in the header, where one cell is wrong.
    pub column: Option<&'static str>,
    /// Whether the book only lacks its end: it is sound so far.
    pub unfinished: bool,
    /// What is wrong.
    pub problem: String,
    /// What would be right.
    pub right: String,
}

impl Wrong {
    fn new(row: Option<u64>, problem: impl Into<String>, right: impl Into<String>) -> Self {
        let (problem, right) = (problem.into(), right.into());
        Wrong { row, column: None, unfinished: false, problem, right }
    }
}

/// The columns of a book.
const COLUMNS: [&str; 4] = ["point", "bs", "is", "fs"];

/// A book of readings in booking order, checked to be one.
#[derive(Debug, Clone, PartialEq)]
pub struct LevelBook {
    positions: Vec<Position>,
    /// How the table was written.
    pub writing: Writing,
}

/// A reduced staff position.
#[derive(Debug, Clone, PartialEq)]
pub struct Reduced {
    /// The point's name.
    pub point: String,
    /// Its level as observed.
    pub reduced: Level,
    /// Its level with the misclosure shared; none without a known close, or beyond what is allowed.
    pub adjusted: Option<Level>,
}

/// A reduced book with its checks.
#[derive(Debug, Clone, PartialEq)]
pub struct Reduction {
    /// Every staff position.
    pub rows: Vec<Reduced>,
    /// Sum of back sights.
    pub sum_back: Length,
    /// Sum of fore sights.
    pub sum_fore: Length,
    /// Sum of rises.
    pub rise: Length,
    /// Sum of falls.
    pub fall: Length,
    /// Set-ups of the instrument.
    pub setups: u32,
    /// Computed close less known close.
    pub misclosure: Option<Length>,
    /// Misclosure allowed: m sqrt(n), m = 5 mm, n set-ups (course reading SKAA 1023).
    pub allowed: Length,
    /// Whether the misclosure, where there is one, is within what is allowed.
    pub accepted: bool,
}

/// Allowed misclosure of a single set-up on a building site.
const ALLOWED_A_SETUP: Length = Length::from_mm(5.0);

/// A staff is no longer than this; held upside down its reading is negative.
const LONGEST_STAFF_M: f64 = 10.0;

impl LevelBook {
    /// Reads a book from a table with the header `point,bs,is,fs`, one row a staff position; a
    /// change point has both its fore sight and its back sight.
    ///
    /// # Errors
    /// Every problem, each with its line.
    pub fn parse(text: &str) -> Result<LevelBook, Vec<Problem>> {
        let table = read(text).map_err(|p| vec![p])?;
        let rows = table.under(&COLUMNS).map_err(|p| vec![p])?;
        let (positions, wrong) = positions(&table, rows);
        if wrong.is_empty() {
            return Ok(LevelBook { positions, writing: table.writing });
        }
        let at_its_line = |w: Wrong| tables::problem(w.row.unwrap_or_default(), w.problem, w.right);
        Err(wrong.into_iter().map(at_its_line).collect())
    }

    /// The book as far as it is sound, and everything that is wrong with it: rows of point, back,
    /// intermediate and fore sight as they are typed, with decimal points or commas, counted from
    /// 0. Rows with nothing in them are passed over.
    pub fn typed(rows: &[[String; 4]]) -> (LevelBook, Vec<Wrong>) {
        let written = |(_, cells): &(u64, Vec<String>)| cells.iter().any(|c| !c.is_empty());
        let rows: Vec<(u64, Vec<String>)> = (0..)
            .zip(rows)
            .map(|(number, cells)| (number, cells.iter().map(|c| c.trim().to_owned()).collect()))
            .filter(written)
            .collect();
        // With semicolons between cells, a number may have a comma or a point.
        let table = Table { writing: Writing::Semicolons, rows: Vec::new() };
        let (mut positions, wrong) = positions(&table, &rows);
        let first = wrong.iter().filter(|w| !w.unfinished).filter_map(|w| w.row).min();
        if let Some(first) = first {
            positions.retain(|p| p.line < first);
        }
        (LevelBook { positions, writing: table.writing }, wrong)
    }

    /// The rows that are in the book, by the line or number they were given with.
    pub fn lines(&self) -> impl Iterator<Item = u64> {
        self.positions.iter().map(|p| p.line)
    }

    /// Reduces the book from the level of its first point, and closes it on the known level of its
    /// last where there is one.
    pub fn reduce(&self, start: Level, close: Option<Level>) -> Reduction {
        let mut rows = Vec::new();
        let mut collimation = start;
        let mut before: Option<f64> = None;
        let [mut sum_back, mut sum_fore, mut rise, mut fall] = [Length::ZERO; 4];
        let mut setup = 0_u32;
        let mut setups_of_rows = Vec::new();
        for position in &self.positions {
            let seen = position.fore.or(position.between);
            let mut level = start;
            if let Some(reading) = seen {
                level = collimation - Length::from_m(reading);
                // Rise and fall: this reading against the one before in the same set-up.
                let step = Length::from_m(before.unwrap_or(reading) - reading);
                rise += step.max(Length::ZERO);
                fall += (-step).max(Length::ZERO);
                before = seen;
            }
            sum_fore += Length::from_m(position.fore.unwrap_or(0.0));
            rows.push(Reduced { point: position.point.clone(), reduced: level, adjusted: None });
            setups_of_rows.push(setup);
            if let Some(back) = position.back {
                sum_back += Length::from_m(back);
                collimation = level + Length::from_m(back);
                before = Some(back);
                setup += 1;
            }
        }
        let last = rows.last().map_or(start, |row| row.reduced);
        let misclosure = close.map(|known| last.above(known));
        let allowed = ALLOWED_A_SETUP * f64::from(setup).sqrt();
        let accepted = misclosure.is_none_or(|m| m.abs() <= allowed + Length::from_mm(1e-6));
        if let (Some(misclosure), true) = (misclosure, accepted) {
            for (row, done) in rows.iter_mut().zip(&setups_of_rows) {
                let share = misclosure * (f64::from(*done) / f64::from(setup));
                row.adjusted = Some(row.reduced - share);
            }
        }
        Reduction {
            rows,
            sum_back,
            sum_fore,
            rise,
            fall,
            setups: setup,
            misclosure,
            allowed,
            accepted,
        }
    }
}

impl Reduction {
    /// Whether sum BS - sum FS = sum rises - sum falls = last - first.
    pub fn agrees(&self) -> bool {
        let sights = self.sum_back - self.sum_fore;
        let steps = self.rise - self.fall;
        let ends = match (self.rows.first(), self.rows.last()) {
            (Some(first), Some(last)) => last.reduced.above(first.reduced),
            _ => Length::ZERO,
        };
        let near = |a: Length, b: Length| (a - b).abs() < Length::from_mm(1e-6);
        near(sights, steps) && near(sights, ends)
    }
}

/// Every row read, and everything that is wrong in the cells and the order of sights.
fn positions(table: &Table, rows: &[(u64, Vec<String>)]) -> (Vec<Position>, Vec<Wrong>) {
    let mut wrong = Vec::new();
    let positions: Vec<Position> =
        rows.iter().map(|(line, cells)| position(table, *line, cells, &mut wrong)).collect();
    check_order(&positions, &mut wrong);
    wrong.sort_by_key(|w| (w.row.is_none(), w.row));
    (positions, wrong)
}

fn position(table: &Table, line: u64, cells: &[String], wrong: &mut Vec<Wrong>) -> Position {
    let before = wrong.len();
    let mut cell = |index: usize, column: &'static str, sight: &str| {
        let text = cells.get(index).map_or("", String::as_str);
        if text.is_empty() {
            return None;
        }
        let number = table.number(text).filter(|n| n.abs() <= LONGEST_STAFF_M);
        if number.is_none() {
            let problem = format!("\"{text}\" as {sight} sight is not one reading of a staff");
            let right = "one number of metres, at most 10";
            wrong.push(Wrong { column: Some(column), ..Wrong::new(Some(line), problem, right) });
        }
        number
    };
    let (back, between, fore) =
        (cell(1, "bs", "back"), cell(2, "is", "intermediate"), cell(3, "fs", "fore"));
    if cells.len() > COLUMNS.len() {
        let right = "point, bs, is, fs";
        wrong.push(Wrong::new(Some(line), "the row has too many cells", right));
    }
    let point = cells.first().cloned().unwrap_or_default();
    Position { line, point, back, between, fore, read: wrong.len() == before }
}

/// A book begins with a back sight, ends with a fore sight, and changes with both.
fn check_order(positions: &[Position], wrong: &mut Vec<Wrong>) {
    if positions.len() < 2 {
        let right = "a back sight, then readings, then a fore sight";
        let few = Wrong::new(None, "the book has fewer than two rows", right);
        wrong.push(Wrong { unfinished: true, ..few });
    }
    let last = positions.len().saturating_sub(1);
    for (index, p) in positions.iter().enumerate().filter(|(_, p)| p.read) {
        let sights = (p.back.is_some(), p.between.is_some(), p.fore.is_some());
        let both = "its fore sight and its back sight on the same row";
        let mut unfinished = false;
        let (problem, right) = match sights {
            (true, false, false) if index == 0 => continue,
            _ if index == 0 => {
                ("the book does not begin with a back sight alone", "a back sight on the start")
            }
            (false, false, true) if index == last => continue,
            (false, true, false) | (true, false, true) if index < last => continue,
            (false, true, false) | (true, false, true) => {
                unfinished = true;
                ("the book does not end with a fore sight alone", "a fore sight on the last point")
            }
            (true, false, false) => ("this change point lacks its fore sight", both),
            (false, false, true) => ("this change point lacks its back sight", both),
            (false, false, false) => {
                ("this row has no reading", "one reading, or a fore sight and a back sight")
            }
            (_, true, _) => (
                "an intermediate sight stands beside another reading",
                "an intermediate sight alone, or a fore sight and a back sight",
            ),
        };
        wrong.push(Wrong { unfinished, ..Wrong::new(Some(p.line), problem, right) });
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn reduce(book: &str, start: f64, close: Option<f64>) -> Reduction {
        let book = LevelBook::parse(&format!("point,bs,is,fs\n{book}")).unwrap();
        let reduction = book.reduce(Level::from_m(start), close.map(Level::from_m));
        assert!(reduction.agrees(), "{reduction:?}");
        reduction
    }

    fn close_to(reduction: &Reduction, printed: &[f64]) {
        let found: Vec<f64> = reduction.rows.iter().skip(1).map(|r| r.reduced.to_m()).collect();
        assert_eq!(found.len(), printed.len());
        for (f, p) in found.iter().zip(printed) {
            assert!((f - p).abs() < 0.0005, "{found:?}");
        }
    }

    #[test]
    fn printed_example_by_height_of_collimation() {
        // Civil engineering course notes, height of collimation example (worked example L1).
        let book = "a,.585,,\nb,,1.010,\nc,,1.735,\nd,,3.295,\ne,.350,,3.775\nf,,1.300,\n\
                    g,,1.795,\nh,,2.575,\ni,,3.375,\nj,1.735,,3.895\nk,,.635,\nl,,,1.605\n";
        let r = reduce(book, 136.440, None);
        let printed = [
            136.015, 135.290, 133.730, 133.250, 132.300, 131.805, 131.025, 130.225, 129.705,
            130.805, 129.835,
        ];
        close_to(&r, &printed);
        assert!((r.sum_back.to_m() - 2.670).abs() < 0.0005);
        assert!((r.sum_fore.to_m() - 9.275).abs() < 0.0005);
        assert_eq!((r.setups, r.misclosure, r.accepted), (3, None, true));
    }

    #[test]
    fn printed_example_by_rise_and_fall_is_refused() {
        // Question in print, rise and fall (worked example L2): known close 168.50.
        let book = "a,1.379,,\nb,,2.795,\nc,,3.215,\nd,,.595,\ne,,1.270,\nf,1.280,,3.215\n\
                    g,,1.030,\nh,,3.045,\ni,2.312,,3.815\nj,1.743,,3.227\nk,,2.735,\nl,,,3.623\n";
        let r = reduce(book, 175.500, Some(168.50));
        let printed = [
            174.084, 173.664, 176.284, 175.609, 173.664, 173.914, 171.899, 171.129, 170.214,
            169.222, 168.334,
        ];
        close_to(&r, &printed);
        assert!((r.rise.to_m() - 2.870).abs() < 0.0005);
        assert!((r.fall.to_m() - 10.036).abs() < 0.0005);
        assert!(r.misclosure.is_some_and(|m| (m.to_m() + 0.166).abs() < 0.0005));
        assert!(!r.accepted && r.setups == 4);
        assert!(r.rows.iter().all(|row| row.adjusted.is_none()));
    }

    #[test]
    fn a_level_printed_wrong_comes_out_right() {
        // Printed 100.415; the readings give 101.305.
        let r = reduce("a,1.855,,\nb,,2.410,\nc,,1.280,\nd,2.165,,.995\ne,,,1.720\n", 100.0, None);
        assert!(r.rows.last().is_some_and(|row| (row.reduced.to_m() - 101.305).abs() < 0.0005));
    }

    #[test]
    fn a_small_misclosure_is_shared_by_setup() {
        // Course reading SKAA 1023: three set-ups allow 9 mm (8.66), and -6 mm is accepted. Shared
        // equally per set-up, cumulative: 2, 4, 6 mm.
        let r = reduce("a,1,,\nb,1,,1\nc,1,,1\nd,,,1.006\n", 10.0, Some(10.0));
        assert!(r.accepted && (r.allowed.to_mm() - 8.660).abs() < 0.001);
        let adjusted: Vec<f64> =
            r.rows.iter().filter_map(|row| row.adjusted).map(|l| l.to_m()).collect();
        for (found, by_hand) in adjusted.iter().zip([10.0, 10.002, 10.004, 10.0]) {
            assert!((found - by_hand).abs() < 1e-9, "{adjusted:?}");
        }
    }

    #[test]
    fn what_is_no_book_is_refused_with_its_line() {
        let cases = [
            ("a,,1.0,\nb,,,1.0\n", "line 2"),
            ("a,1.0,,\nb,,1.0 1.1,\nc,,,1.0\n", "line 3"),
            ("a,1.0,,\nb,,,1.0\nc,,1.0,\nd,,,1.0\n", "line 3"),
            ("a,1.0,,\nb,1.0,,\nc,,,1.0\n", "line 3"),
            ("a,one,,\nb,,,1.0\n", "line 2"),
            ("a,1.0,,\nb,,1.0,\n", "line 3"),
            ("a,1.0,,\nb,,,\nc,,,1.0\n", "line 3"),
            ("", ""),
        ];
        for (book, at) in cases {
            let problems = LevelBook::parse(&format!("point,bs,is,fs\n{book}")).unwrap_err();
            assert_eq!(problems.first().map(|p| p.at.as_str()), Some(at), "{book}");
        }
        // A cell that cannot be read does not hide what is wrong with the order.
        let book = "point,bs,is,fs\na,1,,\nb,,x,\nc,,,\nd,,,1\n";
        let lines: Vec<String> =
            LevelBook::parse(book).unwrap_err().into_iter().map(|p| p.at).collect();
        assert_eq!(lines, ["line 3", "line 4"]);
        assert!(LevelBook::parse("").is_err());
        assert!(LevelBook::parse("name,back,fore\n").is_err());
    }

    fn typed(rows: &[&str]) -> (LevelBook, Vec<Wrong>) {
        let rows: Vec<[String; 4]> = rows
            .iter()
            .map(|row| {
                let mut cells = row.split(' ').map(|cell| cell.trim_matches('_').to_owned());
                std::array::from_fn(|_| cells.next().unwrap_or_default())
            })
            .collect();
        LevelBook::typed(&rows)
    }

    #[test]
    fn a_book_being_typed_is_reduced_as_far_as_it_is_sound() {
        // The first rows of the example by height of collimation (worked example L1).
        let rows = ["a ,585", "b _ 1.010", "_ _ _ _", "c _ 1,735"];
        let (book, wrong) = typed(&rows);
        assert!(matches!(&wrong[..], [w] if w.unfinished && w.row == Some(3)), "{wrong:?}");
        let reduction = book.reduce(Level::from_m(136.440), None);
        close_to(&reduction, &[136.015, 135.290]);
        assert_eq!(book.lines().collect::<Vec<_>>(), [0, 1, 3]);

        let (book, wrong) = typed(&["a 1", "b _ 1,1,1", "c _ 1", "d _ _ 1", "e 1", "f _ _ 1"]);
        let places: Vec<_> = wrong.iter().map(|w| (w.row, w.column)).collect();
        assert_eq!(places, [(Some(1), Some("is")), (Some(3), None), (Some(4), None)]);
        assert_eq!(book.lines().count(), 1);

        let (book, wrong) = typed(&[]);
        assert!(book.lines().next().is_none() && matches!(&wrong[..], [w] if w.unfinished));
    }

    proptest! {
        #[test]
        fn any_rows_typed_are_reduced_without_harm(
            rows in proptest::collection::vec(proptest::array::uniform4("[0-9.,x -]{0,4}"), 0..9)
        ) {
            let (book, wrong) = LevelBook::typed(&rows);
            let reduction = book.reduce(Level::ZERO, None);
            prop_assert_eq!(reduction.rows.len(), book.lines().count());
            prop_assert!(wrong.iter().all(|w| w.row.is_none_or(|row| row < rows.len() as u64)));
            if wrong.is_empty() {
                prop_assert!(reduction.agrees());
                let csv: String = rows.iter().map(|r| format!("{}\n", r.join(";"))).collect();
                let whole = LevelBook::parse(&format!("point;bs;is;fs\n{csv}"));
                prop_assert!(whole.is_ok(), "{:?}", whole);
            }
        }

        #[test]
        fn any_text_is_a_book_or_its_problems(text in "(point,bs,is,fs\n)?[0-9a-c,.;\n -]{0,80}") {
            if let Ok(book) = LevelBook::parse(&text) {
                prop_assert!(book.reduce(Level::ZERO, None).agrees());
            }
        }
    }
}
