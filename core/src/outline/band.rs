//! The boundary of a strip: one width along an edge.

use super::edge::{Edge, Hand, Station};
use super::side::Side;
use super::{SideName, SideOf};
use crate::units::Length;

/// How a strip ends.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum End {
    /// Straight across.
    Square,
    /// A half round over the width, beyond the end of the edge.
    Round,
}

/// The sides of a strip with their names, counter-clockwise.
pub(super) fn band(edge: &Edge, width: Length, side: Hand, ends: [End; 2]) -> Vec<SideOf> {
    // The lower line is walked with the edge, the upper one against it.
    let [low, high] = match side {
        Hand::Left => [(SideName::Reference, Length::ZERO), (SideName::Far, width)],
        Hand::Right => [(SideName::Far, -width), (SideName::Reference, Length::ZERO)],
    };
    let line = |(name, offset): (SideName, Length)| parallel(edge, offset).map(move |s| (name, s));
    let across = [low.1, high.1];
    let mut sides: Vec<SideOf> = line(low).collect();
    sides.push((SideName::End, cap(edge, edge.length(), across, ends[1])));
    let upper: Vec<SideOf> = line(high).collect();
    sides.extend(upper.iter().rev().map(|(name, side)| (*name, side.reversed())));
    sides.push((SideName::Start, cap(edge, Length::ZERO, [across[1], across[0]], ends[0])));
    sides
}

/// The line parallel to an edge at a signed offset: at offset o from a curve the length scales by
/// 1 - o k and the curvature by its inverse.
fn parallel(edge: &Edge, offset: Length) -> impl DoubleEndedIterator<Item = Side> {
    edge.runs().iter().map(move |(station, run)| {
        let curvature = run.curvature();
        let scale = 1.0 - offset.to_m() * curvature;
        let start = Station { point: station.offset(offset), heading: station.heading };
        Side::along(start, run.length() * scale, curvature / scale)
    })
}

fn cap(edge: &Edge, chainage: Length, offsets: [Length; 2], end: End) -> Side {
    let [a, b] = offsets.map(|o| edge.point(chainage, o));
    match end {
        End::Square => Side::straight(a, b),
        End::Round => Side::half_turn(a, b),
    }
}

#[cfg(test)]
mod tests {
    use std::f64::consts::PI;

    use super::super::edge::Run;
    use super::super::{CHORD_TOLERANCE, Outline};
    use super::*;
    use geo::Area as _;
    use proptest::prelude::*;

    fn strip(runs: &[Run], width: f64, side: Hand, ends: [End; 2]) -> Outline {
        Outline::strip(runs, Length::from_m(width), side, ends).expect("the strip is good")
    }

    fn arc(length: f64, radius: f64, turn: Hand) -> Run {
        Run::Arc { length: Length::from_m(length), radius: Length::from_m(radius), turn }
    }

    #[test]
    fn a_round_ended_strip_is_a_rectangle_and_a_circle() {
        let ring = strip(&[Run::Straight(Length::from_m(5.0))], 1.2, Hand::Left, [End::Round; 2]);
        let circle = PI * 0.36;
        assert!((ring.area().to_m2() - (6.0 + circle)).abs() < 1e-12);
        assert!((ring.perimeter().to_m() - (10.0 + PI * 1.2)).abs() < 1e-12);
    }

    proptest! {
        #[test]
        fn a_strip_on_an_arc_has_its_closed_form(
            length in 0.5_f64..6.0, radius in 2.0_f64..20.0, width in 0.3_f64..1.9, left: bool,
        ) {
            // Area w s (1 -/+ w / 2R), outer length s (1 -/+ w / R): sums of plane geometry.
            let turn = if left { Hand::Left } else { Hand::Right };
            prop_assume!(width < radius && length < radius * 5.0);
            let ring = strip(&[arc(length, radius, turn)], width, Hand::Left, [End::Square; 2]);
            let sign = turn.sign();
            let area = width * length * (1.0 - sign * width / (2.0 * radius));
            let around = length + length * (1.0 - sign * width / radius) + 2.0 * width;
            prop_assert!((ring.area().to_m2() - area).abs() < 1e-9);
            prop_assert!((ring.perimeter().to_m() - around).abs() < 1e-9);
        }

        #[test]
        fn left_and_right_strips_make_the_double_strip(
            length in 0.5_f64..6.0, radius in 2.0_f64..20.0, width in 0.3_f64..1.9,
        ) {
            prop_assume!(width < radius / 2.0 && length < radius * 5.0);
            // The double strip is walked along its outer edge, whose radius is wider by the width.
            let wide = arc(length * (1.0 + width / radius), radius + width, Hand::Left);
            let run = [arc(length, radius, Hand::Left)];
            let square = [End::Square; 2];
            let both = strip(&[wide], 2.0 * width, Hand::Left, square).area();
            let parts = strip(&run, width, Hand::Left, square).area()
                + strip(&run, width, Hand::Right, square).area();
            prop_assert!((both - parts).abs().to_m2() < 1e-9);
        }

        #[test]
        fn the_polygon_keeps_to_the_arc(radius in 0.5_f64..50.0, length in 0.5_f64..3.0) {
            prop_assume!(length < radius * 5.0);
            let ring = strip(&[arc(length, radius, Hand::Right)], 0.4, Hand::Left, [End::Round; 2]);
            let polygon = ring.polygon(CHORD_TOLERANCE);
            // Each chord loses at most its length times two thirds of the tolerance.
            let most = ring.perimeter().to_m() * CHORD_TOLERANCE.to_m();
            prop_assert!((polygon.unsigned_area() - ring.area().to_m2()).abs() < most);
        }
    }
}
