//! The pen: lines, shapes and dots as an SVG document, in the line weights of a drawing office.

use std::fmt::Write;

use super::shape::Spot;

/// The ink of every drawing.
const INK: &str = "#14171A";

/// A kind of line: its weight in millimetres, and its dashes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Line {
    weight_mm: f64,
    dashes: &'static str,
}

/// The edge of what was built.
pub(super) const HEAVY: Line = Line { weight_mm: 0.5, dashes: "" };
/// Edges inside it, and marks that must be seen.
pub(super) const MEDIUM: Line = Line { weight_mm: 0.3, dashes: "" };
/// Dimensions and marks.
pub(super) const THIN: Line = Line { weight_mm: 0.18, dashes: "" };
/// Hatching and stones.
pub(super) const FINE: Line = Line { weight_mm: 0.13, dashes: "" };
/// Planned, or out of sight.
pub(super) const DASHED: Line = Line { weight_mm: 0.18, dashes: "1.8 1" };
/// Strings.
pub(super) const CHAIN: Line = Line { weight_mm: 0.15, dashes: "4 0.8 0.5 0.8" };

/// What a shape is filled with.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Fill {
    /// The sheet's white, which hides what is under it.
    Paper,
    /// The lightest wash, for what was laid.
    Wash,
    /// Full ink.
    Ink,
}

impl Fill {
    fn colour(self) -> &'static str {
        match self {
            Fill::Paper => "#FFFFFF",
            Fill::Wash => "#F3F2EE",
            Fill::Ink => INK,
        }
    }
}

/// Draws, one shape over the other.
#[derive(Debug, Default)]
pub(super) struct Pen {
    body: String,
}

impl Pen {
    /// A line through places.
    pub(super) fn line(&mut self, places: &[Spot], line: Line) {
        self.lines([places], line);
    }

    /// Many lines of one kind.
    pub(super) fn lines<'a>(&mut self, all: impl IntoIterator<Item = &'a [Spot]>, line: Line) {
        let mut path = String::new();
        for places in all {
            trace(&mut path, places, false);
        }
        self.path(&path, "none", Some(line));
    }

    /// A ring with no filling.
    pub(super) fn ring(&mut self, ring: &[Spot], line: Line) {
        let mut path = String::new();
        trace(&mut path, ring, true);
        self.path(&path, "none", Some(line));
    }

    /// Filled rings; where one lies in another it is a hole.
    pub(super) fn shapes<'a>(
        &mut self,
        rings: impl IntoIterator<Item = &'a [Spot]>,
        fill: Fill,
        line: Option<Line>,
    ) {
        let mut path = String::new();
        for ring in rings {
            trace(&mut path, ring, true);
        }
        self.path(&path, fill.colour(), line);
    }

    /// A filled dot.
    pub(super) fn dot(&mut self, centre: Spot, radius: f64) {
        if !centre.is_somewhere() {
            return;
        }
        let (x, y) = (centre.x, centre.y);
        // Writing to a String cannot fail.
        let _ = write!(
            self.body,
            "<circle cx=\"{x:.3}\" cy=\"{y:.3}\" r=\"{radius:.3}\" fill=\"{INK}\"/>"
        );
    }

    /// An open circle.
    pub(super) fn circle(&mut self, centre: Spot, radius: f64, line: Line) {
        if !centre.is_somewhere() {
            return;
        }
        let (x, y, weight) = (centre.x, centre.y, line.weight_mm);
        let _ = write!(
            self.body,
            "<circle cx=\"{x:.3}\" cy=\"{y:.3}\" r=\"{radius:.3}\" fill=\"none\" \
             stroke=\"{INK}\" stroke-width=\"{weight}\"/>"
        );
    }

    /// The finished sheet of linework.
    pub(super) fn finish(self, width_mm: f64, height_mm: f64) -> String {
        format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{width_mm:.3}mm\" \
             height=\"{height_mm:.3}mm\" viewBox=\"0 0 {width_mm:.3} {height_mm:.3}\">{}</svg>",
            self.body
        )
    }

    fn path(&mut self, path: &str, fill: &str, line: Option<Line>) {
        if path.is_empty() {
            return;
        }
        let _ = write!(self.body, "<path d=\"{path}\" fill=\"{fill}\" fill-rule=\"evenodd\"");
        if let Some(Line { weight_mm, dashes }) = line {
            let _ = write!(
                self.body,
                " stroke=\"{INK}\" stroke-width=\"{weight_mm}\" stroke-linejoin=\"round\" \
                 stroke-linecap=\"round\""
            );
            if !dashes.is_empty() {
                let _ = write!(self.body, " stroke-dasharray=\"{dashes}\"");
            }
        }
        self.body.push_str("/>");
    }
}

/// Adds places to a path; fewer than two make no mark.
fn trace(path: &mut String, places: &[Spot], closed: bool) {
    if places.len() < 2 || !places.iter().all(|p| p.is_somewhere()) {
        return;
    }
    for (index, place) in places.iter().enumerate() {
        let command = if index == 0 { 'M' } else { 'L' };
        let _ = write!(path, "{command}{:.3} {:.3}", place.x, place.y);
    }
    if closed {
        path.push('Z');
    }
}

#[cfg(test)]
mod tests {
    use super::super::shape::spot;
    use super::*;

    #[test]
    fn a_sheet_holds_what_was_drawn() {
        let mut pen = Pen::default();
        pen.line(&[spot(0.0, 0.0), spot(1.0, 2.0)], DASHED);
        pen.line(&[spot(0.0, f64::NAN), spot(1.0, 2.0)], THIN);
        let svg = pen.finish(10.0, 20.0);
        assert!(svg.contains("M0.000 0.000L1.000 2.000"));
        assert!(svg.contains("stroke-dasharray"));
        assert!(!svg.contains("NaN"));
    }
}
