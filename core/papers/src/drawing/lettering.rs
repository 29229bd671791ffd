//! Finding room for lettering, so that no word lies on another or on a line that matters.

use super::figure::{Anchor, Label};
use super::shape::{Frame, Spot, spot};
use crate::typeface::{FACES, MM_PER_PT};

/// Height of capitals over size of type.
const CAPITALS: f64 = 0.66;

/// Free space round a piece of lettering, in millimetres.
const AIR: f64 = 0.35;

/// Less shared area than this, in square millimetres, does not count as a clash.
const TOUCH: f64 = 0.02;

/// Eight ways from a mark, as a hand letters: right first, then left, then above and below.
const WAYS: [(f64, f64, Anchor); 8] = [
    (1.0, 0.0, Anchor::Left),
    (-1.0, 0.0, Anchor::Right),
    (0.0, -1.0, Anchor::Centre),
    (0.0, 1.0, Anchor::Centre),
    (0.75, -0.75, Anchor::Left),
    (0.75, 0.75, Anchor::Left),
    (-0.75, -0.75, Anchor::Right),
    (-0.75, 0.75, Anchor::Right),
];

/// What is taken on a sheet so far.
#[derive(Debug)]
pub(super) struct Room {
    sheet: Frame,
    taken: Vec<Frame>,
}

impl Room {
    /// An empty sheet.
    pub(super) fn new(width_mm: f64, height_mm: f64) -> Room {
        let sheet = Frame { left: 0.0, top: 0.0, right: width_mm, bottom: height_mm };
        Room { sheet, taken: Vec::new() }
    }

    /// Keeps lettering off a mark.
    pub(super) fn keep_mark(&mut self, at: Spot, radius: f64) {
        self.taken.push(Frame {
            left: at.x - radius,
            top: at.y - radius,
            right: at.x + radius,
            bottom: at.y + radius,
        });
    }

    /// Keeps lettering off a line.
    pub(super) fn keep_line(&mut self, from: Spot, to: Spot) {
        let length = from.distance(to);
        let along = from.towards(to);
        let mut gone = 0.0;
        while gone <= length {
            self.keep_mark(from.moved(along, gone), 0.2);
            gone += 0.7;
        }
    }

    /// Puts a label where it stands, whatever is there. One whose place is no place is left out.
    pub(super) fn fix(&mut self, labels: &mut Vec<Label>, label: Label) {
        if !label.x_mm.is_finite() || !label.y_mm.is_finite() {
            return;
        }
        self.taken.push(frame(&label));
        labels.push(label);
    }

    /// Puts the first of several choices that clashes with nothing, else the one that clashes
    /// least.
    pub(super) fn put(
        &mut self,
        labels: &mut Vec<Label>,
        choices: impl IntoIterator<Item = Label>,
    ) {
        let mut best: Option<(f64, Label)> = None;
        for label in choices {
            let cost = self.clash(frame(&label));
            if best.as_ref().is_none_or(|(least, _)| cost < *least - TOUCH) {
                best = Some((cost, label));
            }
            if best.as_ref().is_some_and(|(least, _)| *least < TOUCH) {
                break;
            }
        }
        if let Some((_, label)) = best {
            self.fix(labels, label);
        }
    }

    /// Puts the first of several choices that clashes with nothing; none where there is no room.
    pub(super) fn put_with_room(
        &mut self,
        labels: &mut Vec<Label>,
        choices: impl IntoIterator<Item = Label>,
    ) {
        let free = choices.into_iter().find(|label| self.clash(frame(label)) < TOUCH);
        if let Some(label) = free {
            self.fix(labels, label);
        }
    }

    /// How much of a box is taken or off the sheet, in square millimetres.
    fn clash(&self, frame: Frame) -> f64 {
        let taken: f64 = self.taken.iter().map(|other| frame.shared(*other)).sum();
        taken + 4.0 * (frame.area() - frame.shared(self.sheet))
    }
}

/// A label about a mark in every way at some distances, nearest first.
pub(super) fn about(label: &Label, at: Spot, distances: &[f64]) -> Vec<Label> {
    let mut choices = Vec::new();
    for distance in distances {
        for (dx, dy, anchor) in WAYS {
            let (x_mm, y_mm) = (at.x + dx * distance, at.y + dy * (distance + 0.6));
            choices.push(Label { x_mm, y_mm, at: anchor, ..label.clone() });
        }
    }
    choices
}

/// The box that a label takes, air included.
pub(super) fn frame(label: &Label) -> Frame {
    let weight = if label.strong { 1.06 } else { 1.0 };
    let width = FACES.width_mm(&label.text, label.size_pt) * weight;
    let height = label.size_pt * MM_PER_PT * CAPITALS;
    let start = match label.at {
        Anchor::Left => 0.0,
        Anchor::Centre => -width / 2.0,
        Anchor::Right => -width,
    };
    let turn = label.turn_deg.to_radians();
    let corner = |x: f64, y: f64| {
        // Lettering is turned about its own middle, as the template does.
        let (mx, dx) = (start + width / 2.0, x - width / 2.0);
        spot(
            label.x_mm + mx + dx * turn.cos() - y * turn.sin(),
            label.y_mm + dx * turn.sin() + y * turn.cos(),
        )
    };
    let (half, up) = (width, height / 2.0);
    let corners = [corner(0.0, -up), corner(half, -up), corner(half, up), corner(0.0, up)];
    let frame = Frame::around(corners).unwrap_or(Frame {
        left: label.x_mm,
        top: label.y_mm,
        right: label.x_mm,
        bottom: label.y_mm,
    });
    Frame {
        left: frame.left - AIR,
        top: frame.top - AIR,
        right: frame.right + AIR,
        bottom: frame.bottom + AIR,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lettering_steps_aside() {
        let mut room = Room::new(100.0, 100.0);
        let mut labels = Vec::new();
        let at = spot(50.0, 50.0);
        for text in ["high 4", "low 3", "right", "high 12", "low 9", "right"] {
            let label = Label::new(at.x, at.y, 6.5, text);
            room.put(&mut labels, about(&label, at, &[1.2, 3.0, 5.5]));
        }
        for (i, a) in labels.iter().enumerate() {
            for b in labels.iter().skip(i + 1) {
                assert!(frame(a).shared(frame(b)) < 0.5, "{a:?} lies on {b:?}");
            }
        }
    }

    #[test]
    fn turned_lettering_takes_a_turned_box() {
        let level = frame(&Label::new(0.0, 0.0, 8.0, "2.40"));
        let upright = frame(&Label::new(0.0, 0.0, 8.0, "2.40").turned(-90.0));
        assert!((level.right - level.left - (upright.bottom - upright.top)).abs() < 1e-9);
    }
}
