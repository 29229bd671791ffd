//! Quantities that carry their unit in the type.
//!
//! Same kinds add and subtract, a kind scales by a number, and two of a kind divide to a ratio.
//! Lengths multiply to areas, areas and lengths to volumes. Numbers enter through [`Length::new`]
//! and its like, which refuse what is not finite; inside, arithmetic is plain.

mod money;
mod text;

use std::ops::{Add, AddAssign, Div, Mul, Neg, Sub, SubAssign};

pub use money::Money;
pub use text::{LengthParseError, format_feet_inches, format_m, format_mm, parse_length};

/// A number that was not finite where a quantity was asked for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
#[error("not a finite number")]
pub struct NotFinite;

macro_rules! quantity {
    ($(#[$doc:meta])* $name:ident in $unit:literal, $(($from:ident, $to:ident, $factor:expr, $what:literal)),+) => {
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Default)]
        pub struct $name(f64);

        impl $name {
            /// Nothing of it.
            pub const ZERO: $name = $name(0.0);

            #[doc = concat!("A quantity in ", $unit, ".\n\n# Errors\n[`NotFinite`] for NaN and the infinities.")]
            pub fn new(value: f64) -> Result<Self, NotFinite> {
                if value.is_finite() { Ok($name(value)) } else { Err(NotFinite) }
            }

            $(
                #[doc = concat!("From ", $what, ". The number must be finite.")]
                pub const fn $from(value: f64) -> Self {
                    $name(value * $factor)
                }

                #[doc = concat!("In ", $what, ".")]
                pub const fn $to(self) -> f64 {
                    self.0 / $factor
                }
            )+

            /// Its size without its sign.
            #[must_use]
            pub const fn abs(self) -> Self {
                $name(self.0.abs())
            }

            /// The smaller of the two.
            #[must_use]
            pub const fn min(self, other: Self) -> Self {
                $name(self.0.min(other.0))
            }

            /// The greater of the two.
            #[must_use]
            pub const fn max(self, other: Self) -> Self {
                $name(self.0.max(other.0))
            }
        }

        impl Add for $name {
            type Output = Self;
            fn add(self, other: Self) -> Self {
                $name(self.0 + other.0)
            }
        }

        impl AddAssign for $name {
            fn add_assign(&mut self, other: Self) {
                self.0 += other.0;
            }
        }

        impl Sub for $name {
            type Output = Self;
            fn sub(self, other: Self) -> Self {
                $name(self.0 - other.0)
            }
        }

        impl SubAssign for $name {
            fn sub_assign(&mut self, other: Self) {
                self.0 -= other.0;
            }
        }

        impl Neg for $name {
            type Output = Self;
            fn neg(self) -> Self {
                $name(-self.0)
            }
        }

        impl Mul<f64> for $name {
            type Output = Self;
            fn mul(self, by: f64) -> Self {
                $name(self.0 * by)
            }
        }

        impl Div<f64> for $name {
            type Output = Self;
            fn div(self, by: f64) -> Self {
                $name(self.0 / by)
            }
        }

        impl Div for $name {
            type Output = f64;
            fn div(self, other: Self) -> f64 {
                self.0 / other.0
            }
        }

        impl std::iter::Sum for $name {
            fn sum<I: Iterator<Item = Self>>(items: I) -> Self {
                items.fold($name::ZERO, Add::add)
            }
        }
    };
}

quantity!(
    /// A distance along the ground, a thickness, a joint.
    Length in "metres",
    (from_m, to_m, 1.0, "metres"),
    (from_mm, to_mm, 0.001, "millimetres"),
    (from_inches, to_inches, 0.0254, "inches of 25.4 mm")
);
quantity!(
    /// A height above the job datum, up positive. Levels differ by lengths.
    Level in "metres",
    (from_m, to_m, 1.0, "metres"),
    (from_mm, to_mm, 0.001, "millimetres")
);
quantity!(
    /// A plan or section area.
    Area in "square metres",
    (from_m2, to_m2, 1.0, "square metres")
);
quantity!(
    /// A volume.
    Volume in "cubic metres",
    (from_m3, to_m3, 1.0, "cubic metres")
);
quantity!(
    /// A mass.
    Mass in "kilograms",
    (from_kg, to_kg, 1.0, "kilograms"),
    (from_t, to_t, 1000.0, "tonnes")
);

quantity!(
    /// A time that something takes.
    Duration in "seconds",
    (from_s, to_s, 1.0, "seconds"),
    (from_min, to_min, 60.0, "minutes"),
    (from_h, to_h, 3600.0, "hours")
);
quantity!(
    /// How fast plant travels.
    Speed in "metres a second",
    (from_m_per_s, to_m_per_s, 1.0, "metres a second"),
    (from_m_per_min, to_m_per_min, 1.0 / 60.0, "metres a minute"),
    (from_km_per_h, to_km_per_h, 1.0 / 3.6, "kilometres an hour")
);
quantity!(
    /// How hard a tool shakes the hands.
    Acceleration in "metres a second squared",
    (from_m_per_s2, to_m_per_s2, 1.0, "metres a second squared")
);

impl Mul<Length> for Length {
    type Output = Area;
    fn mul(self, other: Length) -> Area {
        Area(self.0 * other.0)
    }
}

impl Mul<Length> for Area {
    type Output = Volume;
    fn mul(self, other: Length) -> Volume {
        Volume(self.0 * other.0)
    }
}

impl Div<Area> for Volume {
    type Output = Length;
    fn div(self, other: Area) -> Length {
        Length(self.0 / other.0)
    }
}

impl Div<Length> for Area {
    type Output = Length;
    fn div(self, other: Length) -> Length {
        Length(self.0 / other.0)
    }
}

impl Div<Speed> for Length {
    type Output = Duration;
    fn div(self, other: Speed) -> Duration {
        Duration(self.0 / other.0)
    }
}

impl Sub<Length> for Level {
    type Output = Level;
    fn sub(self, below: Length) -> Level {
        Level(self.0 - below.0)
    }
}

impl Add<Length> for Level {
    type Output = Level;
    fn add(self, above: Length) -> Level {
        Level(self.0 + above.0)
    }
}

impl Level {
    /// How far this level stands above another; negative when below.
    pub const fn above(self, other: Level) -> Length {
        Length(self.0 - other.0)
    }
}

/// Mass of a unit volume.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Density(f64);

impl Density {
    /// From tonnes a cubic metre. The number must be finite.
    pub const fn from_t_per_m3(value: f64) -> Self {
        Density(value)
    }

    /// In tonnes a cubic metre.
    pub const fn to_t_per_m3(self) -> f64 {
        self.0
    }
}

impl Mul<Density> for Volume {
    type Output = Mass;
    fn mul(self, density: Density) -> Mass {
        Mass::from_t(self.0 * density.0)
    }
}

impl Div<Density> for Mass {
    type Output = Volume;
    fn div(self, density: Density) -> Volume {
        Volume(self.to_t() / density.0)
    }
}

/// A slope as "1 in so many".
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Gradient(f64);

impl Gradient {
    /// From the run over which the surface drops by one.
    pub const fn one_in(run: f64) -> Self {
        Gradient(run)
    }

    /// The run over which the surface drops by one.
    pub const fn run(self) -> f64 {
        self.0
    }

    /// The drop over a distance along the slope's direction.
    pub fn drop_over(self, distance: Length) -> Length {
        distance / self.0
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn units_come_back_as_they_went_in() {
        assert_eq!(Length::from_mm(75.0).to_m(), 0.075);
        assert!((Length::from_inches(12.0).to_mm() - 304.8).abs() < 1e-9);
        assert_eq!(Mass::from_t(2.2).to_kg(), 2200.0);
    }

    #[test]
    fn kinds_multiply_and_divide() {
        let area = Length::from_m(4.0) * Length::from_m(2.5);
        assert_eq!(area.to_m2(), 10.0);
        let volume = area * Length::from_mm(100.0);
        assert!((volume.to_m3() - 1.0).abs() < 1e-12);
        assert!((volume / area - Length::from_mm(100.0)).abs().to_mm() < 1e-9);
        assert!(((volume * Density::from_t_per_m3(2.2)).to_t() - 2.2).abs() < 1e-12);
    }

    #[test]
    fn speeds_turn_lengths_into_times() {
        assert!((Speed::from_km_per_h(1.2).to_m_per_min() - 20.0).abs() < 1e-12);
        let time = Area::from_m2(6.0) / Length::from_m(0.5) / Speed::from_m_per_min(4.0);
        assert!((time.to_min() - 3.0).abs() < 1e-12);
        let volume = Mass::from_t(4.4) / Density::from_t_per_m3(2.2);
        assert!((volume.to_m3() - 2.0).abs() < 1e-12);
    }

    #[test]
    fn what_is_not_finite_is_refused() {
        assert_eq!(Length::new(f64::NAN), Err(NotFinite));
        assert_eq!(Mass::new(f64::INFINITY), Err(NotFinite));
    }

    #[test]
    fn one_in_sixty_over_three_metres_is_fifty_millimetres() {
        let drop = Gradient::one_in(60.0).drop_over(Length::from_m(3.0));
        assert!((drop.to_mm() - 50.0).abs() < 1e-9);
    }
}
