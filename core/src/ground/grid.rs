//! Levels on a rectangular grid, by the weights of the grid method.

use crate::plan::Problem;
use crate::tables::{Writing, problem, read};
use crate::units::{Area, Length, Level, Volume};

/// Levels by row; none where the grid has no point.
#[derive(Debug, Clone, PartialEq)]
pub struct Grid {
    rows: Vec<Vec<Option<Level>>>,
    cell: [Length; 2],
    /// How the table was written.
    pub writing: Writing,
}

/// The net volume of a grid: the method cannot part cut from fill.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct GridVolume {
    /// Cut less fill.
    pub net: Volume,
    /// Area of the cells that have all four corners.
    pub area: Area,
    /// How many there are.
    pub cells: u32,
}

impl Grid {
    /// Reads a grid: no header, a level a cell, `nan` where there is none. `cell` is the size of a
    /// cell along the rows and across them.
    ///
    /// # Errors
    /// Every problem, each with its line.
    pub fn parse(text: &str, cell: [Length; 2]) -> Result<Grid, Vec<Problem>> {
        let table = read(text).map_err(|p| vec![p])?;
        let mut problems = Vec::new();
        if cell.iter().any(|side| *side <= Length::ZERO) {
            problems.push(problem(0, "a side of the cell is not above zero", "two lengths"));
        }
        let width = table.rows.first().map_or(0, |(_, cells)| cells.len());
        let mut rows = Vec::new();
        for (line, cells) in &table.rows {
            if cells.len() != width {
                problems.push(problem(
                    *line,
                    format!("the row has {} cells", cells.len()),
                    format!("{width} cells, as the first row has"),
                ));
            }
            let levels = cells.iter().map(|cell| match table.number(cell) {
                Some(level) => Some(Level::from_m(level)),
                None if cell.eq_ignore_ascii_case("nan") => None,
                None => {
                    problems.push(problem(
                        *line,
                        format!("\"{cell}\" is no level"),
                        "a number of metres, or nan where there is none",
                    ));
                    None
                }
            });
            rows.push(levels.collect());
        }
        if !problems.is_empty() {
            return Err(problems);
        }
        let grid = Grid { rows, cell, writing: table.writing };
        if grid.volume(Level::ZERO).cells == 0 {
            let right = "at least one cell with four levels";
            return Err(vec![problem(0, "no cell of the grid has all four corners", right)]);
        }
        Ok(grid)
    }

    /// V = A/4 (h1 + 2 h2 + 3 h3 + 4 h4), the heights weighted by how many whole cells meet at
    /// each: the same as the mean of its corners for every cell.
    pub fn volume(&self, formation: Level) -> GridVolume {
        let mut heights = 0.0;
        let mut cells = 0_u32;
        for pair in self.rows.windows(2) {
            let [above, below] = pair else { continue };
            for (a, b) in above.windows(2).zip(below.windows(2)) {
                if let ([Some(p), Some(q)], [Some(r), Some(s)]) = (a, b) {
                    heights += [p, q, r, s].map(|l| l.above(formation).to_m()).iter().sum::<f64>();
                    cells += 1;
                }
            }
        }
        let [along, across] = self.cell;
        let size = along * across;
        GridVolume {
            net: Volume::from_m3(size.to_m2() * heights / 4.0),
            area: size * f64::from(cells),
            cells,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const CELL: [Length; 2] = [Length::from_m(10.0); 2];

    #[test]
    fn printed_spot_grid() {
        // Lecture notes on the grid method (worked example V2): 13 cells of 10 x 10 m, 3775 m3.
        let grid = Grid::parse(
            "nan,4,2,4,nan,nan\n4,3,2,3,4,5\n4,3,5,2,2,3\n5,4,2,2,2,nan\nnan,3,1,1,nan,nan\n",
            CELL,
        )
        .unwrap();
        let volume = grid.volume(Level::ZERO);
        assert_eq!(volume.cells, 13);
        assert!((volume.net.to_m3() - 3775.0).abs() < 0.5, "{volume:?}");
        assert_eq!(volume.area.to_m2(), 1300.0);
    }

    #[test]
    fn what_is_no_grid_is_refused() {
        for text in ["", "1,2\n3\n", "1,x\n2,3\n", "1,nan\n2,3\n", "1,2,3\n"] {
            assert!(Grid::parse(text, CELL).is_err(), "{text}");
        }
        assert!(Grid::parse("1,2\n3,4\n", [Length::ZERO, CELL[1]]).is_err());
    }
}
