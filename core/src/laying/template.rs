//! A board sawn to a curve, to set blocks to: its ordinates, and its line at true size over sheets.

use crate::outline::{ArcError, ChordArc, Offset, Point};
use crate::units::Length;

/// Ordinates are given at this spacing.
pub const ORDINATE_EVERY: Length = Length::from_mm(100.0);
/// The line at true size has points at this spacing.
const LINE_EVERY: Length = Length::from_mm(10.0);
/// What can be printed on of a sheet laid on its side, A4 and Letter both.
const SHEET: [Length; 2] = [Length::from_mm(250.0), Length::from_mm(180.0)];
/// How much of a sheet lies under the next.
const OVERLAP: Length = Length::from_mm(10.0);

/// A board's curve.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Template {
    arc: ChordArc,
}

/// One sheet of the line at true size.
#[derive(Debug, Clone, PartialEq)]
pub struct Sheet {
    /// Its lower left corner on the board: from the board's middle, and from its straight side.
    pub corner: Point,
    /// How wide and how high it is.
    pub size: [Length; 2],
    /// The line over it, in the same axes.
    pub line: Vec<Point>,
}

impl Template {
    /// A board so long for a curve; shorter where the curve is too tight for it.
    ///
    /// # Errors
    /// [`ArcError`] for a radius or a board that is none.
    pub fn new(radius: Length, board: Length) -> Result<Self, ArcError> {
        Ok(Template { arc: ChordArc::new(radius, board.min(radius))? })
    }

    /// Its radius.
    pub const fn radius(&self) -> Length {
        self.arc.radius()
    }

    /// Length of the board.
    pub const fn board(&self) -> Length {
        self.arc.chord()
    }

    /// For the board that lies inside the curve: from its straight side, at places from its middle.
    pub fn inside(&self) -> Vec<Offset> {
        self.arc.from_chord(ORDINATE_EVERY)
    }

    /// For the board outside the curve: from the line that touches the curve at its middle.
    pub fn outside(&self) -> Vec<Offset> {
        self.arc
            .from_chord(ORDINATE_EVERY)
            .into_iter()
            .map(|o| Offset { offset: self.arc.from_tangent_at(o.at), ..o })
            .collect()
    }

    /// The curve at true size, metres from the board's middle and from its straight side, over
    /// sheets side by side that overlap.
    pub fn sheets(&self) -> Vec<Sheet> {
        let line = self.line();
        let [wide, high] = SHEET.map(Length::to_m);
        let step = wide - OVERLAP.to_m();
        let (half, rise) = (self.board().to_m() / 2.0, self.arc.mid_ordinate().to_m());
        let across = ((2.0 * half - OVERLAP.to_m()) / step).ceil().max(1.0) as u32;
        let up = ((rise - OVERLAP.to_m()) / (high - OVERLAP.to_m())).ceil().max(1.0) as u32;
        let corners = (0..up).flat_map(|row| (0..across).map(move |column| (row, column)));
        corners
            .map(|(row, column)| Point {
                x: -half + step * f64::from(column),
                y: (high - OVERLAP.to_m()) * f64::from(row),
            })
            .map(|corner| {
                let over = line.iter().filter(|p| {
                    (p.x - corner.x) >= -1e-9
                        && p.x - corner.x <= wide + 1e-9
                        && p.y - corner.y >= -1e-9
                        && p.y - corner.y <= high + 1e-9
                });
                Sheet { corner, size: SHEET, line: over.copied().collect() }
            })
            .filter(|sheet| sheet.line.len() > 1)
            .collect()
    }

    fn line(&self) -> Vec<Point> {
        let half = self.arc.from_chord(LINE_EVERY);
        let right = half.iter().map(|o| Point { x: o.at.to_m(), y: o.offset.to_m() });
        let left = right.clone().skip(1).map(|p| Point { x: -p.x, ..p });
        let mut line: Vec<Point> = left.collect();
        line.reverse();
        line.extend(right);
        line
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ordinates_both_ways_by_hand() {
        // Hand arithmetic: R 3.9 over a board of 1.2: 3.9 - root(3.9^2 - 0.6^2) is 46.4 mm in the
        // middle; at 0.3 from it 34.9 from the chord and 11.6 from the tangent.
        let board = Template::new(Length::from_m(3.9), Length::from_m(1.2)).unwrap();
        let (inside, outside) = (board.inside(), board.outside());
        assert!((inside[0].offset.to_mm() - 46.4).abs() < 0.05, "{inside:?}");
        assert!((inside[3].offset.to_mm() - 34.9).abs() < 0.05, "{inside:?}");
        assert!((outside[3].offset.to_mm() - 11.6).abs() < 0.05, "{outside:?}");
        let rise = inside[0].offset;
        for (one, other) in inside.iter().zip(&outside) {
            assert!((one.offset + other.offset - rise).abs().to_mm() < 1e-9);
        }
    }

    #[test]
    fn sheets_cover_the_whole_line() {
        let board = Template::new(Length::from_m(1.5), Length::from_m(1.2)).unwrap();
        let sheets = board.sheets();
        // 1200 mm over sheets of 250 that overlap by 10: five, in one row, for the curve rises
        // 125 mm.
        assert_eq!(sheets.len(), 5);
        for pair in sheets.windows(2) {
            let end = pair[0].line.last().unwrap().x;
            assert!(end >= pair[1].line[0].x - 1e-9, "a gap between sheets");
        }
        let last = sheets.last().unwrap().line.last().unwrap();
        assert!((last.x - 0.6).abs() < 1e-9 && last.y.abs() < 1e-9);
    }
}
