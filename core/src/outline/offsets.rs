//! A shape by offsets from a base line.

use super::edge::{Edge, Point, Run};
use super::side::Side;
use super::{SideName, SideOf};
use crate::units::{Area, Length};

/// How far the shape reaches on both sides of the base line at a place of it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OffsetStation {
    /// Distance along the base line.
    pub at: Length,
    /// Reach to its left, towards positive y.
    pub left: Length,
    /// Reach to its right.
    pub right: Length,
}

/// The area under offsets by the two rules of the trade.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OffsetAreas {
    /// By the trapezoidal rule: the area of the shape as it is drawn, with straights between the
    /// ends of the offsets.
    pub trapezoid: Area,
    /// By Simpson's rule, as if a curve ran through the ends: a parabola over each pair of spaces,
    /// whose two lengths may differ; a last single space by the trapezoidal rule.
    pub simpson: Area,
}

impl OffsetAreas {
    /// Both areas of stations in order along the base line.
    pub fn of(stations: &[OffsetStation]) -> Self {
        let place = |s: &OffsetStation| (s.at.to_m(), (s.left + s.right).to_m());
        let rows: Vec<(f64, f64)> = stations.iter().map(place).collect();
        let trapezoid = |pair: &[(f64, f64)]| match *pair {
            [(a, f), (b, g)] => (b - a) * (f + g) / 2.0,
            _ => 0.0,
        };
        let whole: f64 = rows.windows(2).map(trapezoid).sum();
        let mut pieces = rows.windows(3).step_by(2).map(simpson).sum::<f64>();
        if rows.len().is_multiple_of(2) {
            pieces += rows.windows(2).last().map_or(0.0, trapezoid);
        }
        OffsetAreas { trapezoid: Area::from_m2(whole), simpson: Area::from_m2(pieces) }
    }
}

/// The integral of the parabola through three points (Simpson's rule for two spaces h and k):
/// (h + k)/6 [(2 - k/h) f + (h + k)^2/(h k) g + (2 - h/k) e].
fn simpson(points: &[(f64, f64)]) -> f64 {
    let &[(a, f), (b, g), (c, e)] = points else { return 0.0 };
    let (h, k) = (b - a, c - b);
    (h + k) / 6.0 * ((2.0 - k / h) * f + (h + k).powi(2) / (h * k) * g + (2.0 - h / k) * e)
}

/// The base line as an edge, and the sides around: the right ends along it are the reference side,
/// the left ends the far side. A start or an end of no width has no side.
pub(super) fn sides(stations: &[OffsetStation]) -> (Edge, Vec<SideOf>) {
    let point = |s: &OffsetStation, y: Length| Point { x: s.at.to_m(), y: y.to_m() };
    let right: Vec<Point> = stations.iter().map(|s| point(s, -s.right)).collect();
    let left: Vec<Point> = stations.iter().rev().map(|s| point(s, s.left)).collect();
    let mut named = Vec::new();
    let mut push = |name, line: &[Point]| {
        let straights = line.windows(2).filter_map(|pair| {
            let &[a, b] = pair else { return None };
            (a != b).then(|| (name, Side::straight(a, b)))
        });
        named.extend(straights);
    };
    let ends = |a: Option<&Point>, b: Option<&Point>| a.into_iter().chain(b).copied().collect();
    let (end, start): (Vec<Point>, Vec<Point>) =
        (ends(right.last(), left.first()), ends(left.last(), right.first()));
    push(SideName::Reference, &right);
    push(SideName::End, &end);
    push(SideName::Far, &left);
    push(SideName::Start, &start);
    let length = stations.last().map_or(Length::ZERO, |s| s.at);
    (Edge::new(&[Run::Straight(length)]), named)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::outline::Outline;

    #[test]
    fn printed_areas_of_offsets() {
        // Surveying notes (worked example V1): offsets every 10 m, printed 460.75 and 461.167 m2.
        let read = [3.15, 4.3, 8.2, 5.6, 6.85, 7.6, 4.2, 5.6, 4.3];
        let stations: Vec<OffsetStation> = (0_u32..)
            .zip(read)
            .map(|(i, left)| OffsetStation {
                at: Length::from_m(10.0 * f64::from(i)),
                left: Length::from_m(left),
                right: Length::ZERO,
            })
            .collect();
        let areas = OffsetAreas::of(&stations);
        assert!((areas.trapezoid.to_m2() - 460.75).abs() < 0.005, "{areas:?}");
        assert!((areas.simpson.to_m2() - 461.167).abs() < 0.0005, "{areas:?}");
        let outline = Outline::offsets(&stations).unwrap();
        assert!((outline.area() - areas.trapezoid).abs().to_m2() < 1e-9);
        assert_eq!(outline.edge().length(), Length::from_m(80.0));
    }
}
