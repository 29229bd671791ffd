//! Setting out an arc: offsets from its long chord and from its tangent.

use crate::units::Length;

/// A circle's arc over a chord.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ChordArc {
    radius: Length,
    chord: Length,
}

/// Why a radius and a chord make no arc.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
pub enum ArcError {
    /// A length is zero, negative or not finite.
    #[error("a length is not above zero")]
    NotPositive,
    /// The radius is beyond any curve that is set out by hand, and the sums would lose its offsets.
    #[error("the radius is more than 1000 km")]
    TooLarge,
    /// The chord is longer than the circle is wide.
    #[error("the chord is longer than twice the radius")]
    ChordTooLong,
}

/// An offset square to the line that is measured along.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Offset {
    /// Distance along the line: from the middle of the chord, or from the tangent point.
    pub at: Length,
    /// Distance square to it, to the arc.
    pub offset: Length,
}

/// Radii beyond this are refused.
const LARGEST_RADIUS: Length = Length::from_m(1e6);

/// More offsets than this are of no use to anyone.
const MOST_OFFSETS: u32 = 10_000;

impl ChordArc {
    /// The smaller arc of a radius over a chord.
    ///
    /// # Errors
    /// [`ArcError`] where there is none.
    pub fn new(radius: Length, chord: Length) -> Result<Self, ArcError> {
        if !(radius.to_m() > 0.0 && chord.to_m() > 0.0) {
            return Err(ArcError::NotPositive);
        }
        if radius > LARGEST_RADIUS {
            return Err(ArcError::TooLarge);
        }
        if chord > radius * 2.0 {
            return Err(ArcError::ChordTooLong);
        }
        Ok(ChordArc { radius, chord })
    }

    /// The arc over a chord with a rise at its middle: R = c^2 / 8 h + h / 2.
    ///
    /// # Errors
    /// [`ArcError`] where there is none.
    pub fn from_rise(chord: Length, rise: Length) -> Result<Self, ArcError> {
        let (c, h) = (chord.to_m(), rise.to_m());
        if !(c > 0.0 && h > 0.0) {
            return Err(ArcError::NotPositive);
        }
        ChordArc::new(Length::from_m(c * c / (8.0 * h) + h / 2.0), chord)
    }

    /// The radius.
    pub const fn radius(&self) -> Length {
        self.radius
    }

    /// The chord.
    pub const fn chord(&self) -> Length {
        self.chord
    }

    /// Length along the arc: 2 R asin(c / 2 R).
    pub fn length(&self) -> Length {
        let (r, c) = (self.radius.to_m(), self.chord.to_m());
        Length::from_m(2.0 * r * (c / (2.0 * r)).min(1.0).asin())
    }

    /// Rise at the middle: R - sqrt(R^2 - (c/2)^2).
    pub fn mid_ordinate(&self) -> Length {
        self.from_chord_at(Length::ZERO)
    }

    /// Offset from the chord, so far from its middle: sqrt(R^2 - x^2) - sqrt(R^2 - (c/2)^2).
    pub fn from_chord_at(&self, at: Length) -> Length {
        let root = |x: f64| (self.radius.to_m().powi(2) - x * x).max(0.0).sqrt();
        Length::from_m(root(at.to_m()) - root(self.chord.to_m() / 2.0))
    }

    /// Offset from the tangent, so far from the tangent point: R - sqrt(R^2 - x^2).
    pub fn from_tangent_at(&self, at: Length) -> Length {
        let r = self.radius.to_m();
        Length::from_m(r - (r * r - at.to_m().powi(2)).max(0.0).sqrt())
    }

    /// Offsets from the chord at every step from its middle to its end, the end included.
    pub fn from_chord(&self, every: Length) -> Vec<Offset> {
        steps(self.chord / 2.0, every)
            .map(|at| Offset { at, offset: self.from_chord_at(at) })
            .collect()
    }

    /// Offsets from the tangent at every step from the tangent point to the foot of the arc's end,
    /// or as far as the arc goes away from the tangent point, the end included.
    pub fn from_tangent(&self, every: Length) -> Vec<Offset> {
        let half = (self.chord.to_m() / (2.0 * self.radius.to_m())).min(1.0).asin();
        let reach = if half * 2.0 < std::f64::consts::FRAC_PI_2 {
            self.radius * (half * 2.0).sin()
        } else {
            self.radius
        };
        steps(reach, every).map(|at| Offset { at, offset: self.from_tangent_at(at) }).collect()
    }
}

fn steps(reach: Length, every: Length) -> impl Iterator<Item = Length> {
    let whole = if every > Length::ZERO { (reach / every - 1e-9).floor().max(0.0) } else { 0.0 };
    let count = (whole as u32).min(MOST_OFFSETS);
    (0..=count).map(move |i| every * f64::from(i)).chain([reach])
}

#[cfg(test)]
mod tests {
    use super::*;

    fn arc(radius: f64, chord: f64) -> ChordArc {
        ChordArc::new(Length::from_m(radius), Length::from_m(chord)).unwrap()
    }

    fn offsets(arc: &ChordArc, every: f64) -> Vec<f64> {
        arc.from_chord(Length::from_m(every)).iter().map(|o| o.offset.to_m()).collect()
    }

    fn near(found: &[f64], printed: &[f64], half_digit: f64) {
        assert_eq!(found.len(), printed.len(), "{found:?}");
        for (f, p) in found.iter().zip(printed) {
            assert!((f - p).abs() <= half_digit + 1e-9, "{found:?}");
        }
    }

    #[test]
    fn printed_offsets_from_the_long_chord() {
        // Indian surveying textbooks, worked examples A2 and A3.
        let by_rise = ChordArc::from_rise(Length::from_m(80.0), Length::from_m(4.0)).unwrap();
        assert!((by_rise.radius().to_m() - 202.0).abs() < 1e-9);
        near(&offsets(&by_rise, 10.0), &[4.00, 3.75, 3.01, 1.76, 0.0], 0.005);
        near(&offsets(&arc(80.0, 60.0), 10.0), &[5.84, 5.21, 3.30, 0.0], 0.005);
    }

    #[test]
    fn printed_offset_from_the_tangent() {
        // Engineering mathematics course, simple curve problem (worked example A1): R 198.17 m,
        // arc 36.58 m from the tangent point, printed 3.37 m.
        let (radius, along) = (198.17_f64, 36.58);
        let foot = Length::from_m(radius * (along / radius).sin());
        let offset = arc(radius, 100.0).from_tangent_at(foot);
        assert!((offset.to_m() - 3.37).abs() <= 0.005, "{offset:?}");
    }

    #[test]
    fn printed_radius_of_an_arch() {
        // Arch radius example (worked example A4): chord 6, rise 1, radius 5.
        let arc = ChordArc::from_rise(Length::from_m(6.0), Length::from_m(1.0)).unwrap();
        assert!((arc.radius().to_m() - 5.0).abs() < 1e-12);
    }

    #[test]
    fn a_path_curve_by_hand() {
        // Hand arithmetic: chord 3.0, R 4.5: rise 257; 229 at 0.5 and 145 at 1.0 from the middle.
        near(&offsets(&arc(4.5, 3.0), 0.5), &[0.257, 0.229, 0.145, 0.0], 0.0005);
        // Exact circle geometry: over a chord as long as its radius an arc is R pi / 3.
        assert!((arc(4.5, 4.5).length().to_m() - 4.5 * std::f64::consts::PI / 3.0).abs() < 1e-12);
    }

    #[test]
    fn what_is_no_arc_is_refused() {
        let m = Length::from_m;
        assert_eq!(ChordArc::new(m(1.0), m(2.1)), Err(ArcError::ChordTooLong));
        assert_eq!(ChordArc::new(m(0.0), m(1.0)), Err(ArcError::NotPositive));
        assert_eq!(ChordArc::new(m(1e300), m(4.0)), Err(ArcError::TooLarge));
        assert_eq!(ChordArc::new(m(f64::NAN), m(4.0)), Err(ArcError::NotPositive));
        assert_eq!(ChordArc::from_rise(m(1.0), m(0.0)), Err(ArcError::NotPositive));
    }
}
