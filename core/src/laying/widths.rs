//! Widths that whole courses fill, so that nothing is cut along the length.

use super::block::{Along, Block, Bond, JointLimits, Pattern};
use crate::units::Length;

/// A width of whole courses near the one that is planned.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WholeWidth {
    /// How many courses.
    pub courses: u32,
    /// The width over all, edge courses included, with the joint as planned.
    pub width: Length,
    /// The joint with which as many courses fill the width that is planned exactly; none for a
    /// single course.
    pub joint: Option<Length>,
    /// Whether that joint is within its limits.
    pub within: bool,
}

/// The whole-course widths on either side of a width. `edging` is what edge courses and their
/// joints take of it. Empty for bonds that are cut along their sides whatever the width.
pub fn whole_widths(
    width: Length,
    edging: Length,
    block: &Block,
    bond: &Bond,
    limits: &JointLimits,
) -> Vec<WholeWidth> {
    // What one course takes between joints, and the joint in it.
    let (course, inside) = match (bond.pattern, bond.along) {
        (Pattern::Stretcher | Pattern::Stack, Along::Edge) => (block.width, Length::ZERO),
        (Pattern::Stack, Along::Across) => (block.length, Length::ZERO),
        (Pattern::Basketweave, Along::Edge | Along::Across) => (block.width * 2.0, block.joint),
        _ => return Vec::new(),
    };
    let field = width - edging;
    let pitch = course + inside + block.joint;
    let below = ((field + block.joint) / pitch + 1e-9).floor().max(0.0) as u32;
    (below..=below + 1)
        .filter(|courses| *courses > 0)
        .map(|courses| {
            let n = f64::from(courses);
            let joints = if inside > Length::ZERO { 2.0 * n - 1.0 } else { n - 1.0 };
            let joint = (joints > 0.0).then(|| (field - course * n) / joints);
            let slack = Length::from_mm(1e-6);
            let allowed = |j: Length| j >= limits.least - slack && j <= limits.most + slack;
            WholeWidth {
                courses,
                width: pitch * n - block.joint + edging,
                joint,
                within: joint.is_some_and(allowed),
            }
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    const fn mm(value: f64) -> Length {
        Length::from_mm(value)
    }

    fn near(width: f64, edging: f64, pattern: Pattern, along: Along) -> Vec<WholeWidth> {
        let block = Block { length: mm(200.0), width: mm(100.0), depth: mm(60.0), joint: mm(3.0) };
        let bond = Bond { pattern, along, start: None, keep_laps: false };
        let limits = JointLimits { least: mm(2.0), most: mm(5.0) };
        whole_widths(mm(width), mm(edging), &block, &bond, &limits)
    }

    #[test]
    fn courses_in_a_path_by_hand() {
        // Hand arithmetic: 12 courses of 100 and 11 joints of 3 are 1233; 13 are 1336. 1250 asks 12
        // courses for joints of 50 / 11 = 4.545, which is allowed, and 13 for -50 / 12.
        let found = near(1250.0, 0.0, Pattern::Stretcher, Along::Edge);
        assert_eq!(found.iter().map(|w| w.courses).collect::<Vec<_>>(), [12, 13]);
        assert!((found[0].width.to_mm() - 1233.0).abs() < 1e-9);
        assert!((found[1].width.to_mm() - 1336.0).abs() < 1e-9);
        assert!((found[0].joint.unwrap().to_mm() - 50.0 / 11.0).abs() < 1e-9);
        assert!(found[0].within && !found[1].within);
    }

    #[test]
    fn soldiers_at_both_edges_by_hand() {
        // Hand arithmetic: 2 x 203 of soldiers leave 894 of 1300: 8 courses are 821, 9 are 924.
        let found = near(1300.0, 406.0, Pattern::Stack, Along::Edge);
        let widths: Vec<f64> = found.iter().map(|w| w.width.to_mm().round()).collect();
        assert_eq!(widths, [1227.0, 1330.0]);
    }

    #[test]
    fn pairs_have_a_joint_inside() {
        // Hand arithmetic: 5 pairs of 203 and 4 joints of 3 are 1027.
        let found = near(1030.0, 0.0, Pattern::Basketweave, Along::Edge);
        assert_eq!((found[0].courses, found[0].width.to_mm().round()), (5, 1027.0));
        assert!(near(1030.0, 0.0, Pattern::Herringbone45, Along::Edge).is_empty());
    }
}
