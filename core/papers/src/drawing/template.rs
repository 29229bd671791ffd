//! Templates at their true size, over as many sheets as their length takes.
//!
//! Along the sheet goes the length of the board, upwards the curve. The chord is the straight edge of
//! the board that lies inside the curve, the tangent that of the board outside it.

use fairfall_core::record::Template;

use super::figure::{Anchor, Figure, Label};
use super::pen::{DASHED, FINE, HEAVY, MEDIUM, Pen, THIN};
use super::shape::{Spot, spot};
use crate::words;

/// Length of a template on one sheet, in millimetres. Sheets meet at whole steps of it from half a
/// step beside the middle.
const STEP: f64 = 240.0;

/// Room beside the step for what both sheets show.
const BESIDE: f64 = 6.0;

/// Room over the tangent, and under the chord for marks and the line to check by.
const ABOVE: f64 = 9.0;
const BELOW: f64 = 20.0;

/// Length of the line that a printed sheet is checked by.
const CHECK: f64 = 100.0;

/// One sheet of a template.
#[derive(Debug, Clone)]
pub(crate) struct Tile {
    /// The drawing, 1:1.
    pub(crate) figure: Figure,
    /// What it is, in words.
    pub(crate) heading: String,
    /// Which sheet of how many.
    pub(crate) place: String,
}

/// The sheets of a template, from left to right. None where it has no curve.
pub(crate) fn tiles(template: &Template, number: usize) -> Vec<Tile> {
    let half = template.board_m * 500.0;
    let rise = template.inside.first().map_or(0.0, |o| o.mm);
    if !(half > 0.0 && rise.is_finite()) || template.profile_mm.len() < 2 {
        return Vec::new();
    }
    let sheets = ((half - STEP / 2.0) / STEP).ceil().max(0.0);
    // A board has at most a few sheets on each side.
    let beside = (sheets as i32).min(20);
    let count = beside * 2 + 1;
    (-beside..=beside)
        .enumerate()
        .map(|(index, sheet)| {
            let middle = f64::from(sheet) * STEP;
            let file = format!("template-{number}-{index}.svg");
            Tile {
                figure: tile(template, (half, rise), middle, file),
                heading: format!(
                    "Template, radius {} m, board {} m",
                    words::metres(template.radius_m),
                    words::metres(template.board_m)
                ),
                place: format!("sheet {} of {count}, from left to right", index + 1),
            }
        })
        .collect()
}

/// One sheet, its middle so far along the board from the board's own.
fn tile(template: &Template, (half, rise): (f64, f64), middle: f64, file: String) -> Figure {
    let (width, height) = (STEP + 2.0 * BESIDE, ABOVE + rise + BELOW);
    let base = ABOVE + rise;
    let place = |along: f64, up: f64| spot(along - middle + width / 2.0, base - up);
    let (from, to) = (middle - STEP / 2.0, middle + STEP / 2.0);
    let (left, right) = (from.max(-half), to.min(half));
    let mut sheet = Sheet { pen: Pen::default(), labels: Vec::new() };
    let curve: Vec<Spot> =
        along(template, left, right).into_iter().map(|[x, y]| place(x, y)).collect();
    sheet.pen.line(&curve, HEAVY);
    sheet.pen.line(&[place(left, 0.0), place(right, 0.0)], MEDIUM);
    sheet.pen.line(&[place(left, rise), place(right, rise)], DASHED);
    for end in [-half, half].into_iter().filter(|end| (left..=right).contains(end)) {
        sheet.pen.line(&[place(end, 0.0), place(end, rise)], MEDIUM);
    }
    for (inside, outside) in template.inside.iter().zip(&template.outside) {
        for side in [-1.0, 1.0] {
            let x = inside.at_m * 1000.0 * side;
            let twice = x == 0.0 && side > 0.0;
            if !twice && x >= left && x <= right {
                sheet.ordinate(place(x, 0.0), place(x, inside.mm), place(x, rise));
                let chord = words::whole(inside.mm, 1);
                let tangent = words::whole(outside.mm, 1);
                sheet.figures(place(x, 0.0), place(x, rise), x, &chord, &tangent);
            }
        }
    }
    // Where sheets meet: the same marks on both.
    for x in [from, to].into_iter().filter(|x| *x > -half && *x < half) {
        for y in [-11.5, rise + ABOVE - 4.2] {
            sheet.registration(place(x, y));
        }
        sheet.pen.line(&[place(x, -3.0), place(x, rise + 3.0)], FINE);
    }
    sheet.check(spot(width / 2.0 - CHECK / 2.0, height - 2.4));
    let ordinates = template.inside.iter().map(|o| {
        format!("{} mm from the middle {} mm", words::mm(o.at_m * 1000.0), words::whole(o.mm, 1))
    });
    Figure {
        width_mm: width,
        height_mm: height,
        svg: sheet.pen.finish(width, height),
        file,
        labels: sheet.labels,
        alt: format!(
            "A part of the template at its true size. The curve stands off the chord: {}.",
            ordinates.collect::<Vec<_>>().join("; ")
        ),
        scale: "1:1".to_owned(),
        notes: Vec::new(),
    }
}

/// The curve between two places along the board, as both halves of the profile give it.
fn along(template: &Template, left: f64, right: f64) -> Vec<[f64; 2]> {
    let profile = &template.profile_mm;
    let before = profile.iter().skip(1).rev().map(|[x, y]| [-x, *y]);
    before.chain(profile.iter().copied()).filter(|[x, _]| *x >= left && *x <= right).collect()
}

struct Sheet {
    pen: Pen,
    labels: Vec<Label>,
}

impl Sheet {
    /// An ordinate: from the chord to the curve, and lighter on to the tangent.
    fn ordinate(&mut self, chord: Spot, curve: Spot, tangent: Spot) {
        self.pen.line(&[chord, curve], THIN);
        self.pen.line(&[curve, tangent], FINE);
    }

    /// The figures of an ordinate: along the chord and off it under the chord, off the tangent over
    /// it.
    fn figures(&mut self, chord: Spot, tangent: Spot, x: f64, off_chord: &str, off_tangent: &str) {
        let middle = if x == 0.0 { "middle".to_owned() } else { words::mm(x.abs()) };
        self.labels.push(Label::new(chord.x, chord.y + 3.0, 7.5, middle));
        self.labels.push(Label::new(chord.x, chord.y + 6.6, 9.0, off_chord).strong(true));
        self.labels.push(Label::new(tangent.x, tangent.y - 2.6, 9.0, off_tangent));
    }

    /// A mark that lies on the same place of the next sheet: a circle with a cross.
    fn registration(&mut self, at: Spot) {
        let arm = 4.0;
        self.pen.circle(at, 2.0, THIN);
        self.pen.line(&[spot(at.x - arm, at.y), spot(at.x + arm, at.y)], THIN);
        self.pen.line(&[spot(at.x, at.y - arm), spot(at.x, at.y + arm)], THIN);
    }

    /// The line to check a print by.
    fn check(&mut self, start: Spot) {
        let end = spot(start.x + CHECK, start.y);
        self.pen.line(&[start, end], MEDIUM);
        for at in [start, end] {
            self.pen.line(&[spot(at.x, at.y - 2.0), spot(at.x, at.y + 2.0)], MEDIUM);
        }
        let words = "100 mm: if it is not, print at 100 %, not fitted to the page";
        self.labels.push(Label::new(end.x + 3.0, end.y, 7.5, words).at(Anchor::Left));
    }
}

#[cfg(test)]
mod tests {
    use fairfall_core::record::Ordinate;

    use super::*;

    fn template(board_m: f64) -> Template {
        let half = board_m * 500.0;
        let rise = 5000.0 - (5000.0_f64.powi(2) - half * half).sqrt();
        let steps = (half / 10.0) as u32;
        let up = |x: f64| (25.0e6 - x * x).sqrt() - 5000.0 + rise;
        Template {
            radius_m: 5.0,
            board_m,
            inside: vec![
                Ordinate { at_m: 0.0, mm: rise },
                Ordinate { at_m: half / 1000.0, mm: 0.0 },
            ],
            outside: vec![Ordinate { at_m: 0.0, mm: 0.0 }],
            profile_mm: (0..=steps).map(|i| f64::from(i) * 10.0).map(|x| [x, up(x)]).collect(),
        }
    }

    #[test]
    fn a_board_takes_as_many_sheets_as_its_length_needs() {
        assert_eq!(tiles(&template(1.2), 1).len(), 5);
        assert_eq!(tiles(&template(0.24), 1).len(), 1);
        assert_eq!(tiles(&template(0.26), 1).len(), 3);
        assert!(tiles(&Template { profile_mm: Vec::new(), ..template(1.2) }, 1).is_empty());
    }

    #[test]
    fn sheets_meet_on_the_same_place_of_the_curve() {
        let template = template(1.2);
        let (left, right) = (along(&template, -120.0, 120.0), along(&template, 120.0, 360.0));
        assert_eq!(left.last(), right.first());
        assert_eq!(along(&template, -600.0, 600.0).len(), 121);
    }
}
