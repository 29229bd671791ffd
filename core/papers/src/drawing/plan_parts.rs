//! Parts of a plan view: dimensions, pins, strings, dips.

use fairfall_core::api::views::{DimensionView, DipView, PinView};
use fairfall_core::levels::Word;

use super::figure::Label;
use super::lettering::{Room, about};
use super::pen::{CHAIN, FINE, Line, MEDIUM, Pen, THIN};
use super::shape::{Spot, centre, inside, reading_angle, sides, spot};
use super::view::View;
use crate::words;

/// How far a dimension line stands off the edge it measures.
const STAND_OFF: f64 = 8.0;

/// Sides shorter than this on the sheet carry no dimension: it would be unreadable.
const LEAST_SIDE: f64 = 4.0;

/// A plan view being drawn.
pub(super) struct PlanSheet {
    pub(super) view: View,
    pub(super) pen: Pen,
    pub(super) room: Room,
    pub(super) labels: Vec<Label>,
    /// The outline on the sheet.
    pub(super) outline: Vec<Spot>,
}

impl PlanSheet {
    /// Keeps later lettering off the outline and the holes.
    pub(super) fn keep_edges(&mut self, holes: &[Vec<Spot>]) {
        for ring in std::iter::once(&self.outline).chain(holes) {
            for (a, b) in sides(ring) {
                self.room.keep_line(a, b);
            }
        }
    }

    /// The dimension of one side: straight with ticks, or along its arc with the radius.
    pub(super) fn dimension(&mut self, side: &DimensionView) {
        let (from, to) = (self.view.place(side.from), self.view.place(side.to));
        let middle = self.view.place(side.middle);
        let on_sheet = side.length_m * 1000.0 / self.view.scale;
        if on_sheet.is_nan() || on_sheet < LEAST_SIDE {
            return;
        }
        let length = words::metres(side.length_m);
        let round = side.radius_m.and_then(|r| Some((r, centre(from, middle, to)?)));
        match round {
            Some((radius_m, hub)) => {
                let radius = format!("R {}", words::metres(radius_m));
                self.along_arc([from, middle, to], hub, [format!("{length} along"), radius]);
            }
            None => self.along_straight(from, to, length),
        }
    }

    fn along_straight(&mut self, from: Spot, to: Spot, text: String) {
        let out = self.outward(from.middle(to), from.towards(to).across());
        let (a, b) = (from.moved(out, STAND_OFF), to.moved(out, STAND_OFF));
        self.dimension_line(&[a, b], &[(from, out), (to, out)]);
        self.dimension_text(a.middle(b), from.towards(to), text);
    }

    fn along_arc(&mut self, [from, middle, to]: [Spot; 3], hub: Spot, texts: [String; 2]) {
        let radius = hub.distance(middle);
        let out = self.outward(middle, hub.towards(middle));
        let away = if hub.towards(middle).x * out.x + hub.towards(middle).y * out.y > 0.0 {
            radius + STAND_OFF
        } else {
            radius - STAND_OFF
        };
        let turn = |p: Spot| (p.y - hub.y).atan2(p.x - hub.x);
        let (start, half) = (turn(from), sweep(turn(from), turn(middle), turn(to)));
        let at = |part: f64| {
            let angle = start + half * part;
            spot(hub.x + away * angle.cos(), hub.y + away * angle.sin())
        };
        // On the inside of a tight curve there is no room for a line: the text alone stands there.
        if away > 4.0 {
            let line: Vec<Spot> = (0..=48).map(|step| at(f64::from(step) / 48.0)).collect();
            let ends = [(from, self.radial(hub, from, away)), (to, self.radial(hub, to, away))];
            self.dimension_line(&line, &ends);
        }
        let middle_of_line = if away > 4.0 { at(0.5) } else { middle.moved(out, 4.0) };
        let along = hub.towards(middle).across();
        let [length, radius] = texts;
        let long = format!("{length}, {radius}");
        // Straight lettering strays off a tight curve: there the radius stands under the length.
        if away * half.abs() > 60.0 && away > 45.0 {
            self.dimension_text(middle_of_line, along, long);
        } else {
            self.dimension_text(middle_of_line, along, length);
            self.dimension_text(middle_of_line.moved(out, -3.6), along, radius);
        }
    }

    /// The direction from a place on an arc to its dimension line.
    fn radial(&self, hub: Spot, place: Spot, away: f64) -> Spot {
        let out = hub.towards(place);
        if hub.distance(place) < away { out } else { out.back() }
    }

    /// A dimension line with its extension lines and ticks.
    fn dimension_line(&mut self, line: &[Spot], ends: &[(Spot, Spot)]) {
        self.pen.line(line, FINE);
        for pair in line.windows(2) {
            if let [a, b] = pair {
                self.room.keep_line(*a, *b);
            }
        }
        for (foot, out) in ends {
            let (near, far) = (foot.moved(*out, 1.4), foot.moved(*out, STAND_OFF + 1.2));
            self.pen.line(&[near, far], FINE);
            self.room.keep_line(near, far);
            let tick = foot.moved(*out, STAND_OFF);
            let slant = spot(0.75, -0.75);
            self.pen.line(&[tick.moved(slant, -1.0), tick.moved(slant, 1.0)], MEDIUM);
        }
    }

    /// The figure on a dimension line: in a gap of it, read from below or from the right.
    fn dimension_text(&mut self, at: Spot, along: Spot, text: String) {
        let turn = reading_angle(along);
        let label = Label::new(at.x, at.y, 7.5, text).turned(turn).cleared();
        self.room.fix(&mut self.labels, label);
    }

    /// Of a direction and its opposite, the one that leads out of the outline.
    fn outward(&self, at: Spot, way: Spot) -> Spot {
        if inside(&self.outline, at.moved(way, 0.3)) { way.back() } else { way }
    }

    /// A string between two places.
    pub(super) fn string(&mut self, from: Spot, to: Spot) {
        self.pen.line(&[from, to], CHAIN);
        self.room.keep_line(from, to);
    }

    /// A pin: a dot with its name, outside the outline where there is room.
    pub(super) fn pin(&mut self, pin: &PinView) {
        let at = self.view.place([pin.x_m, pin.y_m]);
        self.pen.dot(at, 0.75);
        self.room.keep_mark(at, 0.9);
        let label = Label::new(at.x, at.y, 7.5, pin.name.clone()).strong(true).cleared();
        let mut choices = about(&label, at, &[2.0, 3.2]);
        choices.sort_by_key(|c| inside(&self.outline, spot(c.x_mm, c.y_mm)));
        self.room.put(&mut self.labels, choices);
    }

    /// A dip: a small cross with its words; one that is out has a ring and heavier words.
    pub(super) fn dips<'a>(&mut self, dips: &[&'a DipView], size_pt: f64) {
        let placed: Vec<(Spot, &'a DipView)> =
            dips.iter().map(|dip| (self.view.place([dip.x_m, dip.y_m]), *dip)).collect();
        for (at, dip) in &placed {
            cross(&mut self.pen, *at, if is_out(dip) { MEDIUM } else { THIN });
            if is_out(dip) {
                self.pen.circle(*at, 1.5, MEDIUM);
            }
            self.room.keep_mark(*at, if is_out(dip) { 1.6 } else { 0.8 });
        }
        for (at, dip) in placed {
            let gap = if is_out(dip) { 2.1 } else { 1.2 };
            let text = words::high_or_low(dip.high_mm);
            let label = Label::new(at.x, at.y, size_pt, text).strong(is_out(dip)).cleared();
            self.room.put(&mut self.labels, about(&label, at, &[gap, gap + 1.3, gap + 3.0]));
        }
    }
}

/// The mark of a dip: a slanting cross, which shows on an edge as well as beside it.
pub(super) fn cross(pen: &mut Pen, at: Spot, line: Line) {
    let arm = 0.65;
    pen.line(&[spot(at.x - arm, at.y - arm), spot(at.x + arm, at.y + arm)], line);
    pen.line(&[spot(at.x - arm, at.y + arm), spot(at.x + arm, at.y - arm)], line);
}

/// Whether a dip is outside its tolerance.
pub(super) fn is_out(dip: &DipView) -> bool {
    match dip.word {
        Word::High | Word::Low => true,
        Word::Right => false,
    }
}

/// The turn from one angle to another that goes by way of a third, in radians.
fn sweep(from: f64, by: f64, to: f64) -> f64 {
    let forward = |angle: f64| (angle - from).rem_euclid(std::f64::consts::TAU);
    if forward(by) <= forward(to) { forward(to) } else { forward(to) - std::f64::consts::TAU }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_sweep_goes_by_way_of_the_middle() {
        assert!((sweep(0.0, 0.5, 1.0) - 1.0).abs() < 1e-12);
        assert!((sweep(1.0, 0.5, 0.0) + 1.0).abs() < 1e-12);
        assert!((sweep(3.0, 3.5, -2.5) - 0.783).abs() < 1e-2);
    }
}
