//! Corners by their distances from two ends of a base line, adjusted to check measures.

use nalgebra::{DMatrix, DVector};

use super::edge::{Hand, Point, distance};
use crate::units::Length;

/// A corner measured from both ends of the base line.
#[derive(Debug, Clone, PartialEq)]
pub struct Tie {
    /// Its name, unique among the corners and neither A nor B.
    pub name: String,
    /// Distances from A and from B.
    pub from: [Length; 2],
    /// On which side of the way from A to B it lies.
    pub side: Hand,
}

/// A tape between two corners.
#[derive(Debug, Clone, PartialEq)]
pub struct Check {
    /// The corners by name; A and B are the ends of the base line.
    pub between: [String; 2],
    /// What the tape read.
    pub measured: Length,
}

/// Why ties make no corner.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum TieError {
    /// The two tapes do not reach each other over the base line.
    #[error("the two distances are {} mm too short to meet", whole_mm(*.short))]
    TooShort {
        /// Which corner, from 0.
        corner: usize,
        /// What is missing.
        short: Length,
    },
    /// One tape is longer than the other and the base line together.
    #[error("one distance is {} mm longer than the other and the base line together",
        whole_mm(*.over))]
    TooLong {
        /// Which corner, from 0.
        corner: usize,
        /// What is too much.
        over: Length,
    },
    /// A check names a corner that is not there, or one corner twice.
    #[error("a check runs between two different corners")]
    NoSuchCorner {
        /// Which check, from 0.
        check: usize,
    },
}

/// Millimetres rounded up, the last bits of a sum forgiven.
fn whole_mm(length: Length) -> f64 {
    (length.to_mm() - 1e-6).ceil()
}

/// A distance as measured and as it comes out.
#[derive(Debug, Clone, PartialEq)]
pub struct Residual {
    /// The corners by name.
    pub between: [String; 2],
    /// What the tape read.
    pub measured: Length,
    /// The distance between the adjusted corners.
    pub computed: Length,
}

/// A measure is doubted where it is off by more than the larger of this and 1 in [`ONE_IN`].
const DOUBTED: Length = Length::from_mm(10.0);
const ONE_IN: f64 = 500.0;

impl Residual {
    /// Measured less computed.
    pub fn off(&self) -> Length {
        self.measured - self.computed
    }

    /// How far off is allowed: the larger of 10 mm and 1 in 500.
    pub fn allowed(&self) -> Length {
        DOUBTED.max(self.measured / ONE_IN)
    }

    /// Whether it is within what is allowed.
    pub fn within(&self) -> bool {
        self.off().abs() <= self.allowed()
    }
}

/// Corners from ties.
#[derive(Debug, Clone, PartialEq)]
pub struct Ties {
    /// The length of the base line.
    pub base: Length,
    /// A at the origin, B on x, then the corners in their order.
    pub corners: Vec<(String, Point)>,
    /// Every distance measured, the two of each corner first, then the checks.
    pub residuals: Vec<Residual>,
    /// Which of the residuals to measure again.
    pub again: Again,
}

/// Which measures are to be taken again, by their place among the residuals.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Again {
    /// All agree.
    None,
    /// Without any one of these few the rest agree: one of them is wrong.
    Likely(Vec<usize>),
    /// Some do not agree, and no single one of them can be told from the others.
    Unknown,
}

impl Ties {
    /// Whether a measure is to be taken again: the likely ones, or else all that are off.
    pub fn is_again(&self, residual: usize) -> bool {
        match &self.again {
            Again::None => false,
            Again::Likely(likely) => likely.contains(&residual),
            Again::Unknown => self.residuals.get(residual).is_some_and(|r| !r.within()),
        }
    }
}

/// The adjustment stops when no corner moves by more than this.
const SETTLED_M: f64 = 1e-10;
const MOST_ROUNDS: usize = 50;

/// Corners from their distances, adjusted by least squares on all distances where there are checks:
/// Gauss-Newton from the crossings of the circles, all measures of one weight, A and B fixed. Where
/// one measure alone is off, the corners come from the rest, and its residual says what it should
/// have read.
///
/// # Errors
/// Every tie that cannot be and every check that names no two corners.
pub fn ties(base: Length, ties: &[Tie], checks: &[Check]) -> Result<Ties, Vec<TieError>> {
    let ends = [Point { x: 0.0, y: 0.0 }, Point { x: base.to_m(), y: 0.0 }];
    let mut errors = Vec::new();
    let mut points = ends.to_vec();
    for (index, tie) in ties.iter().enumerate() {
        match crossing(base, tie, index) {
            Ok(point) => points.push(point),
            Err(error) => errors.push(error),
        }
    }
    let names: Vec<String> = ["A", "B"]
        .into_iter()
        .map(str::to_owned)
        .chain(ties.iter().map(|t| t.name.clone()))
        .collect();
    let find = |name: &String| names.iter().position(|n| n == name);
    let mut lines: Vec<Line> = Vec::new();
    for (index, tie) in ties.iter().enumerate() {
        let [a, b] = tie.from;
        lines.extend(
            [(0, a), (1, b)].map(|(end, measured)| Line { of: [end, index + 2], measured }),
        );
    }
    for (index, check) in checks.iter().enumerate() {
        let [from, to] = &check.between;
        match (find(from), find(to)) {
            (Some(from), Some(to)) if from != to => {
                lines.push(Line { of: [from, to], measured: check.measured });
            }
            _ => errors.push(TieError::NoSuchCorner { check: index }),
        }
    }
    if !errors.is_empty() {
        return Err(errors);
    }
    if !checks.is_empty() {
        adjust(&mut points, &lines);
    }
    let left_over = |points: &[Point]| -> Vec<Residual> {
        let residual = |line: &Line| Residual {
            between: line.of.map(|i| names.get(i).cloned().unwrap_or_default()),
            measured: line.measured,
            computed: line.computed(points).unwrap_or(line.measured),
        };
        lines.iter().map(residual).collect()
    };
    let mut residuals = left_over(&points);
    let again = if residuals.iter().all(Residual::within) {
        Again::None
    } else {
        likely(&points, &lines, left_over)
    };
    if let Again::Likely(likely) = &again
        && let [only] = likely[..]
    {
        points = without(&points, &lines, only);
        residuals = left_over(&points);
    }
    Ok(Ties { base, corners: names.into_iter().zip(points).collect(), residuals, again })
}

/// More measures than this that may each be the wrong one say nothing.
const FEW: usize = 3;

/// The points adjusted to every measure but one.
fn without(points: &[Point], lines: &[Line], left_out: usize) -> Vec<Point> {
    let rest: Vec<Line> =
        lines.iter().enumerate().filter(|(i, _)| *i != left_out).map(|(_, line)| *line).collect();
    let mut points = points.to_vec();
    adjust(&mut points, &rest);
    points
}

/// The measures that are each the likely wrong one: left out, the rest agree. One wrong tape of
/// several pulls on all others in a fit, so that the largest residual need not be its own.
fn likely(
    points: &[Point],
    lines: &[Line],
    left_over: impl Fn(&[Point]) -> Vec<Residual>,
) -> Again {
    let agree = |out: &usize| {
        let rest = left_over(&without(points, lines, *out));
        rest.iter().enumerate().all(|(i, r)| i == *out || r.within())
    };
    let found: Vec<usize> = (0..lines.len()).filter(agree).collect();
    if (1..=FEW).contains(&found.len()) { Again::Likely(found) } else { Again::Unknown }
}

/// The crossing of the two circles on the tie's side of the base line.
fn crossing(base: Length, tie: &Tie, corner: usize) -> Result<Point, TieError> {
    let [a, b] = tie.from;
    let short = base - a - b;
    let over = (a - b).abs() - base;
    if short > Length::ZERO {
        return Err(TieError::TooShort { corner, short });
    }
    if over > Length::ZERO {
        return Err(TieError::TooLong { corner, over });
    }
    let (a, b, c) = (a.to_m(), b.to_m(), base.to_m());
    let x = (a * a - b * b + c * c) / (2.0 * c);
    let y = (a * a - x * x).max(0.0).sqrt();
    Ok(Point { x, y: y * tie.side.sign() })
}

/// Where two circles cross; nowhere, or in two points that may be one.
pub(super) fn circles(first: (Point, Length), second: (Point, Length)) -> Vec<Point> {
    let ((p, r), (q, s)) = (first, second);
    let tie = |side| Tie { name: String::new(), from: [r, s], side };
    let base = distance(p, q);
    let (dx, dy) = ((q.x - p.x) / base.to_m(), (q.y - p.y) / base.to_m());
    [Hand::Left, Hand::Right]
        .into_iter()
        .filter_map(|side| crossing(base, &tie(side), 0).ok())
        .filter(|_| base > Length::ZERO)
        .map(|c| Point { x: p.x + c.x * dx - c.y * dy, y: p.y + c.x * dy + c.y * dx })
        .collect()
}

/// A measured distance between two points of the list.
#[derive(Clone, Copy)]
struct Line {
    of: [usize; 2],
    measured: Length,
}

impl Line {
    fn ends(&self, points: &[Point]) -> Option<[Point; 2]> {
        let [from, to] = self.of;
        Some([*points.get(from)?, *points.get(to)?])
    }

    fn computed(&self, points: &[Point]) -> Option<Length> {
        self.ends(points).map(|[from, to]| distance(from, to))
    }

    /// What is off, and how the distance grows with each unknown: the coordinates of every point
    /// but A and B.
    fn slopes(&self, points: &[Point], unknowns: usize) -> Option<(f64, Vec<f64>)> {
        let [from, to] = self.ends(points)?;
        let length = distance(from, to).to_m().max(1e-9);
        let unit = [(to.x - from.x) / length, (to.y - from.y) / length];
        let mut row = vec![0.0; unknowns];
        for (point, sign) in self.of.into_iter().zip([-1.0, 1.0]) {
            let Some(first) = point.checked_sub(2).map(|p| p * 2) else { continue };
            for (slope, along) in row.iter_mut().skip(first).zip(unit) {
                *slope += sign * along;
            }
        }
        Some((self.measured.to_m() - length, row))
    }
}

/// Moves every point but A and B so that the sum of the squares of what is off is least.
fn adjust(points: &mut [Point], lines: &[Line]) {
    let unknowns = (points.len() - 2) * 2;
    for _ in 0..MOST_ROUNDS {
        let rows: Vec<(f64, Vec<f64>)> =
            lines.iter().filter_map(|line| line.slopes(points, unknowns)).collect();
        let off = DVector::from_iterator(rows.len(), rows.iter().map(|(off, _)| *off));
        let slopes = rows.iter().flat_map(|(_, row)| row.iter().copied());
        let slopes = DMatrix::from_row_iterator(rows.len(), unknowns, slopes);
        // A corner in one line with A and B has no slope square to it: the pseudo-inverse of the
        // decomposition leaves it where it is.
        let Ok(step) = slopes.svd(true, true).solve(&off, 1e-9) else { return };
        for (point, by) in points.iter_mut().skip(2).zip(step.as_slice().chunks_exact(2)) {
            if let [x, y] = *by {
                *point = Point { x: point.x + x, y: point.y + y };
            }
        }
        if step.amax() < SETTLED_M {
            return;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn tie(name: &str, a: f64, b: f64, side: Hand) -> Tie {
        Tie { name: name.to_owned(), from: [Length::from_m(a), Length::from_m(b)], side }
    }

    fn check(from: &str, to: &str, measured: f64) -> Check {
        Check { between: [from, to].map(str::to_owned), measured: Length::from_m(measured) }
    }

    #[test]
    fn corners_of_a_three_four_five_triangle() {
        // Geometry: base 4, 3 from A and 5 from B is square at A.
        let found = ties(Length::from_m(4.0), &[tie("C", 3.0, 5.0, Hand::Left)], &[]).unwrap();
        let (name, point) = &found.corners[2];
        assert_eq!(name, "C");
        assert!(point.x.abs() < 1e-12 && (point.y - 3.0).abs() < 1e-12, "{point:?}");
        assert!(found.residuals.iter().all(Residual::within));
    }

    #[test]
    fn tapes_that_do_not_meet_are_refused_with_what_is_missing() {
        let base = Length::from_m(6.0);
        let bad = [tie("C", 2.0, 3.9, Hand::Left), tie("D", 9.0, 2.5, Hand::Left)];
        let errors = ties(base, &bad, &[check("A", "X", 1.0)]).unwrap_err();
        let said: Vec<String> = errors.iter().map(ToString::to_string).collect();
        assert_eq!(said[0], "the two distances are 100 mm too short to meet");
        assert_eq!(
            said[1],
            "one distance is 500 mm longer than the other and the base line together"
        );
        assert_eq!(said.len(), 3);
    }

    #[test]
    fn a_check_that_is_off_is_shared_and_flagged() {
        // By symmetry: a rectangle 4 by 3 whose far side is read 60 mm long. Every tape gives a
        // little, the far side most of all, and it is over the larger of 10 mm and 1 in 500.
        let corners = [tie("C", 5.0, 3.0, Hand::Left), tie("D", 3.0, 5.0, Hand::Left)];
        let found = ties(Length::from_m(4.0), &corners, &[check("C", "D", 4.06)]).unwrap();
        let off: Vec<f64> = found.residuals.iter().map(|r| r.off().to_mm()).collect();
        assert!((off[0] - off[3]).abs() < 1e-6 && (off[1] - off[2]).abs() < 1e-6, "{off:?}");
        assert!(off[4] > 10.0 && off[4] < 60.0 && !found.residuals[4].within(), "{off:?}");
        let [c, d] = [found.corners[2].1, found.corners[3].1];
        assert!((c.x + d.x - 4.0).abs() < 1e-9 && (c.y - d.y).abs() < 1e-9);
    }

    #[test]
    fn one_wrong_tape_is_named_and_the_rest_make_the_corners() {
        // Geometry: a rectangle 4 by 3 with both its far corners checked against a third beyond.
        let corners = [
            tie("C", 5.0, 3.0, Hand::Left),
            tie("D", 3.0, 5.3, Hand::Left),
            tie("E", 52.0_f64.sqrt(), 6.0, Hand::Left),
        ];
        let checks = [check("C", "D", 4.0), check("C", "E", 3.0), check("D", "E", 5.0)];
        let found = ties(Length::from_m(4.0), &corners, &checks).unwrap();
        assert_eq!(found.again, Again::Likely(vec![3]), "{:?}", found.residuals);
        let wrong = &found.residuals[3];
        assert_eq!(wrong.between, ["B", "D"].map(str::to_owned));
        assert!((wrong.computed.to_m() - 5.0).abs() < 1e-6, "{wrong:?}");
        assert!((0..found.residuals.len()).filter(|i| found.is_again(*i)).eq([3]));
    }

    #[test]
    fn with_one_check_the_wrong_tape_cannot_be_told() {
        let corners = [tie("C", 5.0, 3.0, Hand::Left), tie("D", 3.0, 5.0, Hand::Left)];
        let found = ties(Length::from_m(4.0), &corners, &[check("C", "D", 4.06)]).unwrap();
        assert_eq!(found.again, Again::Unknown);
    }

    proptest! {
        #[test]
        fn true_measures_leave_nothing_over(
            base in 2.0_f64..20.0,
            places in prop::collection::vec((-10.0_f64..20.0, 0.5_f64..15.0), 2..6),
        ) {
            let at = |(x, y): (f64, f64)| Point { x, y };
            let [a, b] = [at((0.0, 0.0)), at((base, 0.0))];
            let name = |i: usize| format!("C{i}");
            let corners: Vec<Tie> = places.iter().enumerate().map(|(i, p)| Tie {
                name: name(i),
                from: [distance(a, at(*p)), distance(b, at(*p))],
                side: Hand::Left,
            }).collect();
            let checks: Vec<Check> = (1..places.len()).map(|i| Check {
                between: [name(i - 1), name(i)],
                measured: distance(at(places[i - 1]), at(places[i])),
            }).collect();
            if let Ok(found) = ties(Length::from_m(base), &corners, &checks) {
                for ((_, point), place) in found.corners.iter().skip(2).zip(&places) {
                    prop_assert!(distance(*point, at(*place)).to_mm() < 0.01);
                }
            }
        }
    }
}
