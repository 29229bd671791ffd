//! Thickness on a plan: lines of one thickness with their figures, and hatching where it is too thin.

use fairfall_core::record::ContourDrawn;

use super::figure::Label;
use super::pen::{FINE, THIN};
use super::plan_parts::PlanSheet;
use super::shape::{Spot, spot};
use crate::words;

/// Space between the lines of a hatch on the sheet, in millimetres.
const HATCH: f64 = 1.3;

/// How many places of one line are tried at most for its figure.
const PLACES: usize = 60;

impl PlanSheet {
    /// Hatches pieces without hollows, one hatch over all of them.
    pub(super) fn thin(&mut self, pieces: &[Vec<[f64; 2]>]) {
        let lines: Vec<[Spot; 2]> =
            pieces.iter().flat_map(|piece| hatch(&self.view.places(piece))).collect();
        self.pen.lines(lines.iter().map(<[Spot; 2]>::as_slice), FINE);
    }

    /// Lines of one thickness.
    pub(super) fn contours(&mut self, contours: &[ContourDrawn]) {
        let pieces = contours.iter().flat_map(|contour| &contour.pieces);
        let lines: Vec<[Spot; 2]> =
            pieces.map(|piece| piece.map(|place| self.view.place(place))).collect();
        self.pen.lines(lines.iter().map(<[Spot; 2]>::as_slice), THIN);
    }

    /// The figure of each line, on the line where there is room.
    pub(super) fn contour_names(&mut self, contours: &[ContourDrawn]) {
        for contour in contours {
            let middles: Vec<Spot> = contour
                .pieces
                .iter()
                .map(|piece| piece.map(|place| self.view.place(place)))
                .flat_map(|[a, b]| {
                    let (along, length) = (a.towards(b), a.distance(b));
                    [0.5, 0.25, 0.75].map(|part| a.moved(along, length * part))
                })
                .collect();
            let text = words::mm(contour.mm);
            let step = middles.len().div_ceil(PLACES).max(1);
            // From the middle of the line outwards: its ends lie on the edge.
            let half = middles.len() / 2;
            let choices = middles.iter().cycle().skip(half).take(middles.len()).step_by(step);
            let labels: Vec<Label> =
                choices.map(|at| Label::new(at.x, at.y, 6.0, text.clone()).cleared()).collect();
            self.room.put_with_room(&mut self.labels, labels);
        }
    }
}

/// Slanting lines over a piece; those of pieces side by side meet.
fn hatch(piece: &[Spot]) -> Vec<[Spot; 2]> {
    let rise = |place: &Spot| place.x + place.y;
    let low = piece.iter().map(rise).fold(f64::MAX, f64::min);
    let high = piece.iter().map(rise).fold(f64::MIN, f64::max);
    let step = HATCH * std::f64::consts::SQRT_2;
    let first = (low / step).ceil();
    // A piece is on a sheet: there are few hundred lines at most.
    let lines = (0_u32..1_000).map(|n| (first + f64::from(n)) * step).take_while(|c| *c <= high);
    lines.filter_map(|c| across(piece, c)).collect()
}

/// The part of the line x + y = c that lies in a piece without hollows.
fn across(piece: &[Spot], c: f64) -> Option<[Spot; 2]> {
    let ends = piece.iter().zip(piece.iter().cycle().skip(1));
    let mut meets = ends.filter_map(|(a, b)| {
        let (low, high) = (a.x + a.y - c, b.x + b.y - c);
        let part = low / (low - high);
        ((low < 0.0) != (high < 0.0))
            .then(|| spot(a.x + (b.x - a.x) * part, a.y + (b.y - a.y) * part))
    });
    Some([meets.next()?, meets.next()?])
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_hatch_keeps_to_its_piece_and_meets_the_next() {
        let square =
            |x: f64| [spot(x, 0.0), spot(x + 10.0, 0.0), spot(x + 10.0, 10.0), spot(x, 10.0)];
        let (left, right) = (hatch(&square(0.0)), hatch(&square(10.0)));
        assert!(left.len() > 8 && left.len() < 13, "{}", left.len());
        assert!(left.iter().flatten().all(|p| p.x > -1e-9 && p.x < 10.0 + 1e-9));
        let on_the_seam = |lines: &[[Spot; 2]]| -> Vec<f64> {
            let ends = lines.iter().flatten().filter(|p| (p.x - 10.0).abs() < 1e-9);
            let mut ends: Vec<f64> = ends.map(|p| p.y).collect();
            ends.sort_by(f64::total_cmp);
            ends
        };
        let (a, b) = (on_the_seam(&left), on_the_seam(&right));
        assert!(!a.is_empty() && a.len() == b.len());
        assert!(a.iter().zip(&b).all(|(a, b)| (a - b).abs() < 1e-9), "{a:?} {b:?}");
    }
}
