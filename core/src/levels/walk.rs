//! The way over the paving along its middle: how it climbs, and how it leans.

use geo::Contains;

use super::Surface;
use super::fall::gradient;
use crate::outline::{CHORD_TOLERANCE, Outline, distance};
use crate::units::Length;

/// A stretch that climbs like a ramp.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ramp {
    /// Chainages of its ends.
    pub between: [Length; 2],
    /// Its steepest slope, rise over run.
    pub steepest: f64,
    /// The steepest slope that its going may have; none where it is too long for any.
    pub allowed: Option<f64>,
}

impl Ramp {
    /// Whether it is steeper or longer than the limits.
    pub fn is_over(&self) -> bool {
        self.allowed.is_none_or(|most| self.steepest > most + 1e-9)
    }
}

/// The way along the middle of the paving.
#[derive(Debug, Clone, PartialEq)]
pub struct Walk {
    /// Steepest lean across the way, rise over run.
    pub across: f64,
    /// Stretches of 1 in 20 and steeper.
    pub ramps: Vec<Ramp>,
}

/// A slope from here on is a ramp, and its going is limited: 10 m at 1 in 20, 5 m at 1 in 15, 2 m
/// at 1 in 12 (secondary, Approved Document M), in between by proportion.
const LIMITS: [(f64, f64); 3] = [(2.0, 1.0 / 12.0), (5.0, 1.0 / 15.0), (10.0, 1.0 / 20.0)];
const RAMP: f64 = 1.0 / 20.0;

/// The way is looked at every so far.
const EVERY: Length = Length::from_mm(100.0);

/// The steepest slope that a ramp of a length may have.
fn allowed(going: Length) -> Option<f64> {
    let going = going.to_m();
    let mut before: Option<(f64, f64)> = None;
    for (length, slope) in LIMITS {
        if going <= length + 1e-6 {
            return Some(before.map_or(slope, |(from, steeper)| {
                steeper + (slope - steeper) * ((going - from) / (length - from)).min(1.0)
            }));
        }
        before = Some((length, slope));
    }
    None
}

/// The way half across the paving along its reference edge, where it is inside.
pub fn walk(outline: &Outline, surface: &Surface) -> Walk {
    let polygon = outline.polygon(CHORD_TOLERANCE);
    let edge = outline.edge();
    let into = outline.reach() / 2.0;
    let count = (edge.length() / EVERY).ceil().max(1.0);
    let mut across: f64 = 0.0;
    let mut ramps: Vec<Ramp> = Vec::new();
    let mut open: Option<Ramp> = None;
    let mut going = Length::ZERO;
    for i in 0..(count as u32) {
        let [from, middle, to] =
            [0.0, 0.5, 1.0].map(|part| edge.length() * ((f64::from(i) + part) / count));
        let point = outline.point(middle, into);
        let inside = polygon.contains(&point);
        let [x, y] = if inside { gradient(outline, surface, point) } else { [0.0, 0.0] };
        let (sin, cos) = edge.at(middle).heading.sin_cos();
        let slope = (x * cos + y * sin).abs();
        across = across.max((y * cos - x * sin).abs());
        if slope < RAMP - 1e-9 {
            ramps.extend(open.take().map(|ramp| closed(ramp, going)));
            going = Length::ZERO;
            continue;
        }
        going += distance(outline.point(from, into), outline.point(to, into));
        let begun = open.unwrap_or(Ramp { between: [from, to], steepest: slope, allowed: None });
        open = Some(Ramp {
            between: [begun.between[0], to],
            steepest: begun.steepest.max(slope),
            ..begun
        });
    }
    ramps.extend(open.map(|ramp| closed(ramp, going)));
    Walk { across, ramps }
}

fn closed(ramp: Ramp, going: Length) -> Ramp {
    Ramp { allowed: allowed(going), ..ramp }
}

#[cfg(test)]
mod tests {
    use super::super::EdgeLevel;
    use super::*;
    use crate::units::{Gradient, Level};

    fn way(levels: &[(f64, f64)], length: f64, crossfall: Option<f64>) -> Walk {
        let outline = Outline::rectangle(Length::from_m(length), Length::from_m(1.2));
        let level = |(at, mm): &(f64, f64)| EdgeLevel {
            at: Length::from_m(*at),
            level: Level::from_mm(*mm),
        };
        let levels = levels.iter().map(level).collect();
        walk(&outline, &Surface::from_edge(levels, crossfall.map(Gradient::one_in)))
    }

    #[test]
    fn goings_have_the_slopes_of_the_guidance() {
        // Approved Document M (secondary): 10 m at 1 in 20, 5 m at 1 in 15, 2 m at 1 in 12.
        for (going, one_in) in [(1.0, 12.0), (2.0, 12.0), (5.0, 15.0), (10.0, 20.0)] {
            assert!((allowed(Length::from_m(going)).unwrap() - 1.0 / one_in).abs() < 1e-12);
        }
        assert_eq!(allowed(Length::from_m(10.5)), None);
    }

    #[test]
    fn ramps_are_found_with_their_ends() {
        // Hand arithmetic: level for 2 m, 200 mm up over 2 m (1 in 10), level again.
        let way = way(&[(2.0, 0.0), (4.0, 200.0)], 8.0, Some(60.0));
        assert!((way.across - 1.0 / 60.0).abs() < 1e-6);
        let [ramp] = way.ramps[..] else { panic!("one ramp: {way:?}") };
        assert!((ramp.steepest - 0.1).abs() < 1e-6 && ramp.is_over(), "{ramp:?}");
        assert!((ramp.between[0].to_m() - 2.0).abs() < 0.11, "{ramp:?}");
        assert!((ramp.between[1].to_m() - 4.0).abs() < 0.11, "{ramp:?}");
    }

    #[test]
    fn a_gentle_way_has_no_ramp() {
        assert_eq!(way(&[(0.0, 0.0), (8.0, -200.0)], 8.0, None).ramps, []);
        let just = way(&[(0.0, 0.0), (8.0, -400.0)], 8.0, None);
        assert!(just.ramps.iter().all(|ramp| !ramp.is_over()), "{just:?}");
    }
}
