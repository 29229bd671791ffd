//! Pins and the strings between them.

use crate::outline::{Outline, Point, distance};
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
    /// R1, R2… along the reference edge, F1, F2… along the far edge.
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

/// Pins at the ends, where straight meets curve, and between, no further apart than
/// [`PIN_SPACING`]; in walking order: along the reference edge and back along the far edge.
pub fn pins(outline: &Outline, surface: &Surface) -> Vec<Pin> {
    let mut stations = vec![Length::ZERO];
    let mut from = Length::ZERO;
    for (_, run) in outline.edge().runs() {
        // The far edge is the longer one on the outside of a curve.
        let longest = run.length().max(outline.run_length(run, outline.width()));
        let parts = (longest / PIN_SPACING - 1e-9).ceil().max(1.0);
        for i in 1..=(parts as u32) {
            stations.push(from + run.length() * (f64::from(i) / parts));
        }
        from += run.length();
    }
    let row = |letter: char, into: Length| {
        stations.iter().zip(1_u32..).map(move |(at, number)| Pin {
            name: format!("{letter}{number}"),
            point: outline.point(*at, into),
            at: *at,
            finished: surface.level(*at, into),
        })
    };
    let near: Vec<Pin> = row('R', Length::ZERO).collect();
    let far: Vec<Pin> = row('F', outline.width()).collect();
    near.into_iter().chain(far.into_iter().rev()).collect()
}

/// The strings that dips are taken from: along both edges, and across at every pair of pins.
pub fn strings(pins: &[Pin]) -> Vec<StringLine> {
    let half = pins.len() / 2;
    let (near, far) = pins.split_at(half);
    let join = |pair: &[Pin]| match pair {
        [from, to] => Some(StringLine { from: from.clone(), to: to.clone() }),
        _ => None,
    };
    let along = |row: &[Pin]| row.windows(2).filter_map(join).collect::<Vec<_>>();
    let across = near
        .iter()
        .zip(far.iter().rev())
        .map(|(from, to)| StringLine { from: from.clone(), to: to.clone() });
    along(near).into_iter().chain(along(far)).chain(across).collect()
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
        Surface::new(vec![EdgeLevel { at: Length::ZERO, level: Level::ZERO }], None)
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
        let surface = Surface::new(levels, Some(Gradient::one_in(60.0)));
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
        let strings = strings(&pins);
        assert_eq!(strings.len(), 4 + 4 + 5);
        assert!(strings.iter().all(|s| s.length() <= PIN_SPACING + Length::from_mm(0.001)));
        let across = strings.last().map(|s| (s.from.name.clone(), s.to.name.clone()));
        assert_eq!(across, Some(("R5".to_owned(), "F5".to_owned())));
    }
}
