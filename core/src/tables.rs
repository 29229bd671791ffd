//! Tables as spreadsheets write them: commas with decimal points, or semicolons with decimal
//! commas.

use serde::Serialize;

use crate::plan::Problem;

/// How a table was written.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Writing {
    /// Commas between cells, points in numbers.
    Commas,
    /// Semicolons between cells, commas in numbers.
    Semicolons,
}

/// A table larger than this is refused unread.
pub const LARGEST_TABLE_BYTES: usize = 16 * 1024 * 1024;

/// Rows of cells with the number of the line each stands on.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Table {
    /// How it was written.
    pub writing: Writing,
    /// Line number and cells, trimmed; blank lines left out.
    pub rows: Vec<(u64, Vec<String>)>,
}

/// A problem in a table, at its line.
pub(crate) fn problem(line: u64, problem: impl Into<String>, right: impl Into<String>) -> Problem {
    let at = if line == 0 { String::new() } else { format!("line {line}") };
    Problem::new(at, problem, right)
}

/// Reads a table.
///
/// # Errors
/// A problem for a file that is too large, or no table at all.
pub fn read(text: &str) -> Result<Table, Problem> {
    if text.len() > LARGEST_TABLE_BYTES {
        return Err(problem(0, "the file is too large", "a table of at most 16 MB"));
    }
    let text = text.trim_start_matches('\u{feff}');
    let writing = if text.contains(';') { Writing::Semicolons } else { Writing::Commas };
    let mut reader = csv::ReaderBuilder::new()
        .has_headers(false)
        .flexible(true)
        .delimiter(match writing {
            Writing::Commas => b',',
            Writing::Semicolons => b';',
        })
        .trim(csv::Trim::All)
        .from_reader(text.as_bytes());
    let mut rows = Vec::new();
    for record in reader.records() {
        let record = record.map_err(|e| problem(0, e.to_string(), "a table of text cells"))?;
        let line = record.position().map_or(0, csv::Position::line);
        if record.iter().any(|cell| !cell.is_empty()) {
            rows.push((line, record.iter().map(str::to_owned).collect()));
        }
    }
    if rows.is_empty() {
        return Err(problem(0, "the file is empty", "a table with a header and rows"));
    }
    Ok(Table { writing, rows })
}

impl Table {
    /// The rows under a header of these names, in this order and any case.
    ///
    /// # Errors
    /// A problem where the first row is another.
    pub fn under(&self, header: &[&str]) -> Result<&[(u64, Vec<String>)], Problem> {
        let right = || format!("a first row of: {}", header.join(","));
        match self.rows.split_first() {
            Some(((_, names), rows))
                if names.len() == header.len()
                    && names.iter().zip(header).all(|(a, b)| a.eq_ignore_ascii_case(b)) =>
            {
                self.too_wide(rows, header.len()).map_or(Ok(rows), Err)
            }
            Some(((line, _), _)) => Err(problem(*line, "the header is another", right())),
            None => Err(problem(0, "the header is missing", right())),
        }
    }

    /// A row of more cells than the header has, where commas part cells: most often numbers with
    /// decimal commas, which can then not be told from the next cell.
    fn too_wide(&self, rows: &[(u64, Vec<String>)], columns: usize) -> Option<Problem> {
        let (line, cells) = rows.iter().find(|(_, cells)| cells.len() > columns)?;
        let said = format!(
            "{} cells under a header of {columns}, read with commas between cells and points in \
             numbers: {}",
            cells.len(),
            cells.join(" | ")
        );
        let right = "semicolons between cells where numbers have decimal commas (1,5;0,25)";
        (self.writing == Writing::Commas).then(|| problem(*line, said, right))
    }

    /// A cell as a number; none where it holds none, or more than one.
    pub fn number(&self, cell: &str) -> Option<f64> {
        let plain = match self.writing {
            Writing::Commas => cell.to_owned(),
            Writing::Semicolons => cell.replacen(',', ".", 1),
        };
        let digits = plain.bytes().all(|b| b.is_ascii_digit() || b"+-.eE".contains(&b));
        plain.parse().ok().filter(|number: &f64| digits && number.is_finite())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn both_ways_of_writing_are_read() {
        let commas = read("x_m,y_m\n1.5,2\n").unwrap();
        let semicolons = read("\u{feff}x_m; y_m\r\n1,5;2\r\n\r\n").unwrap();
        for (table, writing) in [(&commas, Writing::Commas), (&semicolons, Writing::Semicolons)] {
            assert_eq!(table.writing, writing);
            let rows = table.under(&["x_m", "y_m"]).unwrap();
            assert_eq!(rows.len(), 1);
            assert_eq!(table.number(&rows[0].1[0]), Some(1.5));
        }
    }

    #[test]
    fn decimal_commas_between_commas_are_answered_with_semicolons() {
        let table = read("x_m,y_m\n1,2\n1,5,2,25\n").unwrap();
        let found = table.under(&["x_m", "y_m"]).unwrap_err();
        assert_eq!(found.at, "line 3");
        assert!(found.problem.contains("4 cells under a header of 2"), "{}", found.problem);
        assert!(found.problem.ends_with("1 | 5 | 2 | 25"), "{}", found.problem);
        assert!(found.right.contains("semicolons"), "{}", found.right);
    }

    #[test]
    fn a_cell_holds_one_number_or_none() {
        let table = read("a\n").unwrap();
        for cell in ["", "1.2 1.3", "1.2/1.3", "nan", "inf", "0x10", "one", "1e999"] {
            assert_eq!(table.number(cell), None, "{cell}");
        }
        assert_eq!(table.number("-0.5"), Some(-0.5));
    }
}
