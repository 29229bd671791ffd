//! Joints on a curve: plane geometry of straight units set round a circle.

use super::block::{Block, JointLimits};
use crate::units::Length;

/// A straight unit set in a curve: how much of the curve it takes, and how far it reaches across.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Unit {
    /// Along the course.
    pub along: Length,
    /// Across it, along the radius.
    pub across: Length,
}

impl Unit {
    /// A block with its long side along the course.
    pub const fn stretcher(block: &Block) -> Self {
        Unit { along: block.length, across: block.width }
    }

    /// A block set radially, its short side along the course.
    pub const fn soldier(block: &Block) -> Self {
        Unit { along: block.width, across: block.length }
    }

    /// The joint at the outer corners where it is `inner` at the inner ones, on a circle whose
    /// radius at the inner side is given: (l + j)(r + w) / r - l.
    pub fn outer_joint(&self, radius: Length, inner: Length) -> Length {
        (self.along + inner) * ((radius + self.across) / radius) - self.along
    }

    /// The least inner radius on which the joint stays within its limits:
    /// w (l + j_in) / (j_out - j_in). None where no curve does, because the limits leave nothing
    /// between them.
    pub fn least_radius(&self, limits: &JointLimits) -> Option<Length> {
        let room = limits.most - limits.least;
        (room > Length::ZERO).then(|| self.across * ((self.along + limits.least) / room))
    }

    /// How much narrower the inner end is to be cut so that the joints are parallel, the outer end
    /// left whole: l - ((l + j) r / (r + w) - j).
    pub fn taper(&self, radius: Length, joint: Length) -> Length {
        self.along + joint - (self.along + joint) * (radius / (radius + self.across))
    }

    /// How many units with the joint at their inner corners go round an angle.
    pub fn count(&self, radius: Length, inner: Length, radians: f64) -> f64 {
        radius * radians / (self.along + inner)
    }
}

#[cfg(test)]
mod tests {
    use std::f64::consts::FRAC_PI_2;

    use super::*;

    const fn mm(value: f64) -> Length {
        Length::from_mm(value)
    }

    const fn limits(least: f64, most: f64) -> JointLimits {
        JointLimits { least: mm(least), most: mm(most) }
    }

    const SOLDIER: Unit = Unit { along: mm(100.0), across: mm(200.0) };
    const HALF: Unit = Unit { along: mm(100.0), across: mm(100.0) };

    fn near(found: Length, mm: f64, within: f64) {
        assert!((found.to_mm() - mm).abs() <= within, "{} is not {mm}", found.to_mm());
    }

    #[test]
    fn joints_on_a_curve_by_hand() {
        // Hand arithmetic: a unit 100 wide and 200 long set radially, 2 mm inside, opens to 7.2 mm
        // outside at R 3.9 and 6.2 at R 4.9; one 100 long radially to 4.6 at R 3.9.
        near(SOLDIER.outer_joint(mm(3900.0), mm(2.0)), 7.2, 0.05);
        near(SOLDIER.outer_joint(mm(4900.0), mm(2.0)), 6.2, 0.05);
        near(HALF.outer_joint(mm(3900.0), mm(2.0)), 4.6, 0.05);
    }

    #[test]
    fn units_in_a_quarter_turn_by_hand() {
        // Hand arithmetic: 3.9 x pi/2 over 102 mm is 60.06.
        let count = SOLDIER.count(mm(3900.0), mm(2.0), FRAC_PI_2);
        assert!((count - 60.06).abs() <= 0.005, "{count}");
    }

    #[test]
    fn least_radii_by_hand() {
        // Hand arithmetic: 6.8 m for joints of 2 to 5, 10.3 for 3 to 5, 5.05 for 1 to 5.
        for (least, most, radius, within) in
            [(2.0, 5.0, 6.8, 0.05), (3.0, 5.0, 10.3, 0.05), (1.0, 5.0, 5.05, 0.005)]
        {
            let found = SOLDIER.least_radius(&limits(least, most)).unwrap();
            near(found, radius * 1000.0, within * 1000.0);
        }
        assert_eq!(SOLDIER.least_radius(&limits(3.0, 3.0)), None);
    }

    #[test]
    fn printed_blocks_on_edge_to_an_arc() {
        // Trade guidance (worked example Q6): 200 x 100 blocks on edge to an arc, joints 1 mm
        // inside and 5 mm outside: about 5.1 m inner radius; 5.05 by geometry.
        let found = SOLDIER.least_radius(&limits(1.0, 5.0)).unwrap();
        near(found, 5100.0, 50.0);
        near(SOLDIER.outer_joint(found, mm(1.0)), 5.0, 1e-9);
    }

    #[test]
    fn taper_by_hand() {
        // Hand arithmetic: at R 3.9 a 100 x 200 unit with parallel 2 mm joints loses 5.0 mm at its
        // inner end in all.
        near(SOLDIER.taper(mm(3900.0), mm(2.0)), 5.0, 0.05);
    }
}
