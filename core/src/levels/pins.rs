//! Pins and the strings between them.

use geo::Contains;

use crate::outline::{CHORD_TOLERANCE, Hand, Outline, Point, Side, distance};
use crate::units::{Length, Level};

use super::Surface;

/// Pins stand no further apart than this along an edge.
pub const PIN_SPACING: Length = Length::from_m(3.0);

/// Sag is shown once it passes this at the middle.
pub const SHOWN_SAG: Length = Length::from_mm(2.0);

/// Mass of the line: 3 g/m of braided builder's line (common practice, no source).
const LINE_KG_PER_M: f64 = 0.003;
/// Pull on the line (common practice, no source).
const PULL_N: f64 = 50.0;
const GRAVITY: f64 = 9.81;

/// A pin with the levels it is marked from.
#[derive(Debug, Clone, PartialEq)]
pub struct Pin {
    /// R and F along a strip, P around any other shape, with a number; or a corner's own name.
    pub name: String,
    /// Where.
    pub point: Point,
    /// Chainage along the reference edge.
    pub at: Length,
    /// Finished level.
    pub finished: Level,
}

/// A string between two pins, each marked at finished level.
#[derive(Debug, Clone, PartialEq)]
pub struct StringLine {
    /// The pin at its zero.
    pub from: Pin,
    /// The pin at its other end.
    pub to: Pin,
}

/// Pins at corners, ends and where straight meets curve, and between, no further apart than
/// [`PIN_SPACING`], in walking order.
///
/// Along a strip: R1, R2… along the reference edge and F1, F2… back along the far edge, in pairs.
/// Around any other shape: P1, P2… from the start of the reference edge, walking it first; a corner
/// that has a name of its own keeps it.
pub fn pins(outline: &Outline, surface: &Surface) -> Vec<Pin> {
    match outline.width() {
        Some(width) => strip_pins(outline, surface, width),
        None => boundary_pins(outline, surface),
    }
}

/// Into how many equal parts a length is divided so that none is longer than the spacing.
fn parts(length: Length) -> u32 {
    (length / PIN_SPACING - 1e-9).ceil().max(1.0) as u32
}

fn strip_pins(outline: &Outline, surface: &Surface, width: Length) -> Vec<Pin> {
    let mut stations = vec![Length::ZERO];
    let mut from = Length::ZERO;
    for (_, run) in outline.edge().runs() {
        // The far edge is the longer one on the outside of a curve.
        let longest = run.length().max(outline.run_length(run, width));
        let parts = parts(longest);
        for i in 1..=parts {
            stations.push(from + run.length() * (f64::from(i) / f64::from(parts)));
        }
        from += run.length();
    }
    let row = |letter: char, into: Length| {
        stations.iter().zip(1_u32..).map(move |(at, number)| {
            let point = outline.point(*at, into);
            let finished = surface.level_at(outline, point);
            Pin { name: format!("{letter}{number}"), point, at: *at, finished }
        })
    };
    let near: Vec<Pin> = row('R', Length::ZERO).collect();
    let far: Vec<Pin> = row('F', width).collect();
    near.into_iter().chain(far.into_iter().rev()).collect()
}

fn boundary_pins(outline: &Outline, surface: &Surface) -> Vec<Pin> {
    let start = outline.edge().at(Length::ZERO).point;
    let sides: Vec<Side> = match outline.side() {
        Hand::Left => outline.ring().sides().to_vec(),
        Hand::Right => outline.ring().sides().iter().rev().map(Side::reversed).collect(),
    };
    let from_start = |side: &Side| distance(side.start.point, start);
    let first = sides
        .iter()
        .enumerate()
        .min_by(|(_, a), (_, b)| from_start(a).to_m().total_cmp(&from_start(b).to_m()))
        .map_or(0, |(index, _)| index);
    let around = sides.iter().cycle().skip(first).take(sides.len());
    let places = around.flat_map(|side| {
        let parts = parts(side.length);
        (0..parts).map(move |i| side.at(side.length * (f64::from(i) / f64::from(parts))))
    });
    let own = |point: Point| {
        let near = |(_, corner): &&(String, Point)| distance(*corner, point) < Length::from_mm(0.5);
        outline.corners().iter().find(near).map(|(name, _)| name.clone())
    };
    places
        .zip(1_u32..)
        .map(|(point, number)| Pin {
            name: own(point).unwrap_or_else(|| format!("P{number}")),
            point,
            at: outline.place(point).chainage,
            finished: surface.level_at(outline, point),
        })
        .collect()
}

/// The strings that dips are taken from: along the edges and across between them.
pub fn strings(outline: &Outline, pins: &[Pin]) -> Vec<StringLine> {
    let join = |from: &Pin, to: &Pin| StringLine { from: from.clone(), to: to.clone() };
    let along = |row: &[Pin]| {
        let pairs = row.iter().zip(row.iter().skip(1));
        pairs.map(|(from, to)| join(from, to)).collect::<Vec<_>>()
    };
    if outline.width().is_some() {
        let (near, far) = pins.split_at(pins.len() / 2);
        let across = near.iter().zip(far.iter().rev()).map(|(from, to)| join(from, to));
        return along(near).into_iter().chain(along(far)).chain(across).collect();
    }
    let mut strings = along(pins);
    strings.extend(pins.last().zip(pins.first()).map(|(last, first)| join(last, first)));
    let joined = |from: &Pin, to: &Pin| {
        let pair = [&from.name, &to.name];
        strings
            .iter()
            .any(|s| pair == [&s.from.name, &s.to.name] || pair == [&s.to.name, &s.from.name])
    };
    let across = crossing(outline, pins).into_iter().filter(|(from, to)| !joined(from, to));
    let across: Vec<StringLine> = across.map(|(from, to)| join(from, to)).collect();
    strings.extend(across);
    strings
}

/// A string across runs at more than this to the reference edge: 30 degrees.
const LEAST_TURN: f64 = 0.5;

/// Pairs across a shape that is no strip: from each pin on the reference edge to the pin over the
/// way whose chainage is nearest, where the string stays inside and runs across the edge.
fn crossing<'a>(outline: &Outline, pins: &'a [Pin]) -> Vec<(&'a Pin, &'a Pin)> {
    let polygon = outline.ring().polygon(CHORD_TOLERANCE);
    let edge = outline.edge();
    let on_edge = |pin: &&Pin| distance(edge.point(pin.at, Length::ZERO), pin.point).to_mm() < 0.5;
    let (near, over): (Vec<&Pin>, Vec<&Pin>) = pins.iter().partition(on_edge);
    let mut pairs: Vec<(&Pin, &Pin)> = Vec::new();
    for from in near {
        let heading = edge.at(from.at).heading;
        let across = |to: &&&Pin| {
            let (dx, dy) = (to.point.x - from.point.x, to.point.y - from.point.y);
            let turn = (heading.cos() * dy - heading.sin() * dx).abs() / dx.hypot(dy);
            // Ends drawn in a little, so that the boundary itself is not met.
            let inside = [0.02, 0.98].map(|share| from.point + (to.point - from.point) * share);
            turn > LEAST_TURN && polygon.contains(&geo::Line::new(inside[0], inside[1]))
        };
        let away = |to: &&Pin| (to.at - from.at).abs().to_m();
        let best = over.iter().filter(across).min_by(|a, b| away(a).total_cmp(&away(b))).copied();
        pairs.extend(best.map(|to| (from, to)));
    }
    pairs
}

impl StringLine {
    /// Straight length.
    pub fn length(&self) -> Length {
        distance(self.from.point, self.to.point)
    }

    /// The point under the string so far from its zero.
    pub fn point(&self, at: Length) -> Point {
        let share = at / self.length();
        let (a, b) = (self.from.point, self.to.point);
        Point { x: a.x + (b.x - a.x) * share, y: a.y + (b.y - a.y) * share }
    }

    /// Of a point, how far along the string is nearest, and how far away that is.
    pub fn nearest(&self, point: Point) -> (Length, Length) {
        let (a, b) = (self.from.point, self.to.point);
        let (way, to) = (b - a, point - a);
        let length = self.length();
        let share = (way.x * to.x + way.y * to.y) / length.to_m().powi(2);
        let along = length * share.clamp(0.0, 1.0);
        (along, distance(self.point(along), point))
    }

    /// Level of the unraised string so far from its zero: z_A + (z_B - z_A) d / L.
    pub fn level(&self, at: Length) -> Level {
        let share = at / self.length();
        self.from.finished + self.to.finished.above(self.from.finished) * share
    }

    /// What the tape should read from the string to a layer:
    /// z_A + (z_B - z_A) d / L + raise - level of the layer at that point.
    pub fn target(
        &self,
        at: Length,
        raise: Length,
        below_finished: Length,
        surface: &Surface,
        outline: &Outline,
    ) -> Length {
        let layer = surface.level_at(outline, self.point(at)) - below_finished;
        (self.level(at) + raise).above(layer)
    }

    /// How far the line hangs at its middle: w L^2 / 8 T, the parabola of a tight line.
    pub fn sag(&self) -> Length {
        let length = self.length().to_m();
        Length::from_m(LINE_KG_PER_M * GRAVITY * length * length / (8.0 * PULL_N))
    }

    /// How far the line hangs so far from its zero: w d (L - d) / 2 T.
    pub fn sag_at(&self, at: Length) -> Length {
        let share = at / self.length();
        self.sag() * (4.0 * share * (1.0 - share))
    }
}

#[cfg(test)]
mod tests {
    use super::super::EdgeLevel;
    use super::*;
    use crate::outline::{End, Hand, Run};
    use crate::units::Gradient;

    fn level_surface() -> Surface {
        Surface::from_edge(vec![EdgeLevel { at: Length::ZERO, level: Level::ZERO }], None)
    }

    fn string(length: f64) -> StringLine {
        let pin = |x| Pin {
            name: String::new(),
            point: Point { x, y: 0.0 },
            at: Length::from_m(x),
            finished: Level::ZERO,
        };
        StringLine { from: pin(0.0), to: pin(length) }
    }

    #[test]
    fn sag_by_hand() {
        // Hand arithmetic: 3 g/m over 8 m at 50 N hangs 4.7 mm.
        assert!((string(8.0).sag().to_mm() - 4.7).abs() < 0.05);
        // w d (L - d) / 2 T at 2 m: 0.02943 x 2 x 6 / 100 = 3.53 mm.
        assert!((string(8.0).sag_at(Length::from_m(2.0)).to_mm() - 3.53).abs() < 0.005);
    }

    #[test]
    fn targets_by_hand() {
        // Hand arithmetic: a string raised 100 over a build-up of 250: formation 350, first lift
        // of 75 at 275, stone 200, finished 100.
        let outline = Outline::rectangle(Length::from_m(4.0), Length::from_m(1.0));
        let cases = [(250.0, 350.0), (175.0, 275.0), (100.0, 200.0), (0.0, 100.0)];
        for (below, reads) in cases {
            let target = string(4.0).target(
                Length::from_m(1.8),
                Length::from_mm(100.0),
                Length::from_mm(below),
                &level_surface(),
                &outline,
            );
            assert!((target.to_mm() - reads).abs() < 1e-9, "{target:?}");
        }
    }

    #[test]
    fn under_a_chord_the_surface_is_that_of_the_point() {
        // A chord of 3 m on a radius of 4.5 m stands 257 mm off the arc at its middle (hand
        // arithmetic). With a fall of 1 in 60 away from the edge on the inside of the curve, the
        // surface under the chord is 257/60 = 4.29 mm under the level edge.
        let radius = Length::from_m(4.5);
        let arc =
            Run::Arc { length: radius * (2.0 * (1.5_f64 / 4.5).asin()), radius, turn: Hand::Left };
        let outline = Outline::strip(&[arc], Length::from_m(1.2), Hand::Left, [End::Square; 2]);
        let outline = outline.expect("the strip is good");
        let levels = vec![EdgeLevel { at: Length::ZERO, level: Level::ZERO }];
        let surface = Surface::from_edge(levels, Some(Gradient::one_in(60.0)));
        let pin = |at: Length| Pin {
            name: String::new(),
            point: outline.point(at, Length::ZERO),
            at,
            finished: Level::ZERO,
        };
        let string = StringLine { from: pin(Length::ZERO), to: pin(outline.edge().length()) };
        assert!((string.length().to_m() - 3.0).abs() < 1e-9);
        let target =
            string.target(Length::from_m(1.5), Length::ZERO, Length::ZERO, &surface, &outline);
        assert!((target.to_mm() - 257.36 / 60.0).abs() < 0.01, "{target:?}");
    }

    #[test]
    fn pins_stand_at_joints_and_close_enough() {
        let runs = [
            Run::Straight(Length::from_m(2.4)),
            Run::Arc { length: Length::from_m(6.5), radius: Length::from_m(5.2), turn: Hand::Left },
        ];
        let outline = Outline::strip(&runs, Length::from_m(1.3), Hand::Right, [End::Square; 2]);
        let outline = outline.expect("the strip is good");
        let pins = pins(&outline, &level_surface());
        let names: Vec<&str> = pins.iter().map(|p| p.name.as_str()).collect();
        assert_eq!(names, ["R1", "R2", "R3", "R4", "R5", "F5", "F4", "F3", "F2", "F1"]);
        let strings = strings(&outline, &pins);
        assert_eq!(strings.len(), 4 + 4 + 5);
        assert!(strings.iter().all(|s| s.length() <= PIN_SPACING + Length::from_mm(0.001)));
        let across = strings.last().map(|s| (s.from.name.clone(), s.to.name.clone()));
        assert_eq!(across, Some(("R5".to_owned(), "F5".to_owned())));
    }
}
