//! The shape on the ground: straights and arcs, exact area and perimeter, and the way from a point
//! to its chainage and offset along the reference edge.

mod arc;
mod edge;
mod ring;

use geo::Validation;

pub use arc::{ArcError, ChordArc, Offset};
pub use edge::{Edge, EdgePlace, Hand, Point, Run, Station, distance};
pub use ring::{CHORD_TOLERANCE, End, Ring, Side};

use crate::units::{Area, Length};

/// Which side of the paving, named from its reference edge.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum SideName {
    /// The reference edge itself.
    Reference,
    /// The end of the strip at chainage zero is the start.
    Start,
    /// The other end.
    End,
    /// The edge opposite the reference edge.
    Far,
}

impl SideName {
    /// All four, walking round from the reference edge.
    pub const ALL: [SideName; 4] =
        [SideName::Reference, SideName::End, SideName::Far, SideName::Start];
}

/// A band of paving of one width along an edge. A rectangle is one along a straight.
#[derive(Debug, Clone, PartialEq)]
pub struct Outline {
    edge: Edge,
    width: Length,
    side: Hand,
    ends: [End; 2],
    ring: Ring,
}

/// Why an outline cannot be.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
pub enum OutlineError {
    /// The strip is as wide as the radius on the inside of a curve, or wider.
    #[error("the strip is wider than the inside radius of its curve")]
    WiderThanRadius {
        /// Which piece of the edge, from 0.
        run: usize,
        /// The radius there.
        radius: Length,
    },
    /// An arc goes round more than once.
    #[error("the arc is longer than its circle")]
    LongerThanCircle {
        /// Which piece of the edge, from 0.
        run: usize,
        /// The most it can be.
        most: Length,
    },
    /// The outline runs over itself.
    #[error("the outline crosses itself")]
    CrossesItself,
}

impl Outline {
    /// A rectangle with its reference edge along x and the paving on its left.
    pub fn rectangle(length: Length, width: Length) -> Self {
        let edge = Edge::new(&[Run::Straight(length)]);
        Outline::band(edge, width, Hand::Left, [End::Square; 2])
    }

    /// A strip along an edge.
    ///
    /// # Errors
    /// Every reason why the strip cannot be, in order along the edge.
    pub fn strip(
        runs: &[Run],
        width: Length,
        side: Hand,
        ends: [End; 2],
    ) -> Result<Self, Vec<OutlineError>> {
        let mut errors = Vec::new();
        for (index, run) in runs.iter().enumerate() {
            if let Run::Arc { length, radius, turn } = *run {
                let most = radius * std::f64::consts::TAU;
                if length > most {
                    errors.push(OutlineError::LongerThanCircle { run: index, most });
                }
                if turn == side && width >= radius {
                    errors.push(OutlineError::WiderThanRadius { run: index, radius });
                }
            }
        }
        if !errors.is_empty() {
            return Err(errors);
        }
        let outline = Outline::band(Edge::new(runs), width, side, ends);
        if outline.ring.polygon(CHORD_TOLERANCE).is_valid() {
            Ok(outline)
        } else {
            Err(vec![OutlineError::CrossesItself])
        }
    }

    fn band(edge: Edge, width: Length, side: Hand, ends: [End; 2]) -> Self {
        let reach = [Length::ZERO, edge.length()];
        let ring = Ring::band(&edge, reach, offsets(side, Length::ZERO, width), ends);
        Outline { edge, width, side, ends, ring }
    }

    /// The reference edge.
    pub const fn edge(&self) -> &Edge {
        &self.edge
    }

    /// Width across.
    pub const fn width(&self) -> Length {
        self.width
    }

    /// The boundary.
    pub const fn ring(&self) -> &Ring {
        &self.ring
    }

    /// Exact area.
    pub fn area(&self) -> Area {
        self.ring.area()
    }

    /// Exact length around.
    pub fn perimeter(&self) -> Length {
        self.ring.perimeter()
    }

    /// The boundary of the dig: the paving and the working room beyond each edge, corners filled.
    pub fn dig(&self, room: impl Fn(SideName) -> Length) -> Ring {
        let across =
            offsets(self.side, -room(SideName::Reference), self.width + room(SideName::Far));
        let along = [-room(SideName::Start), self.edge.length() + room(SideName::End)];
        Ring::band(&self.edge, along, across, self.ends)
    }

    /// Least radius of the curves that bend towards the paving (`inward`), or away from it.
    pub fn least_radius(&self, inward: bool) -> Option<Length> {
        let radii = self.edge.runs().iter().filter_map(|(_, run)| match *run {
            Run::Arc { radius, turn, .. } if (turn == self.side) == inward => Some(radius),
            Run::Arc { .. } | Run::Straight(_) => None,
        });
        radii.reduce(Length::min)
    }

    /// Length of one side. A round end counts its half round.
    pub fn side_length(&self, name: SideName) -> Length {
        match name {
            SideName::Reference => self.edge.length(),
            SideName::Far => self.line_length(self.width),
            SideName::Start | SideName::End => {
                let [start, end] = self.ends;
                match if name == SideName::Start { start } else { end } {
                    End::Square => self.width,
                    End::Round => self.width * (std::f64::consts::PI / 2.0),
                }
            }
        }
    }

    /// Length of the line parallel to the reference edge, so far into the paving.
    pub fn line_length(&self, into: Length) -> Length {
        self.edge.runs().iter().map(|(_, run)| self.run_length(run, into)).sum()
    }

    /// The same for one piece of the edge: length (1 - offset x curvature).
    pub fn run_length(&self, run: &Run, into: Length) -> Length {
        run.length() * (1.0 - into.to_m() * self.side.sign() * run.curvature())
    }

    /// The point so far along the reference edge and so far from it into the paving.
    pub fn point(&self, chainage: Length, into: Length) -> Point {
        self.edge.point(chainage, into * self.side.sign())
    }

    /// Chainage along the reference edge, and distance from it into the paving: negative on the
    /// other side of the edge.
    pub fn place(&self, point: Point) -> EdgePlace {
        let place = self.edge.place(point);
        EdgePlace { chainage: place.chainage, offset: place.offset * self.side.sign() }
    }
}

/// Signed offsets of two distances into the paving, low before high.
fn offsets(side: Hand, near: Length, far: Length) -> [Length; 2] {
    match side {
        Hand::Left => [near, far],
        Hand::Right => [-far, -near],
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_dig_of_a_rectangle_has_filled_corners() {
        let outline = Outline::rectangle(Length::from_m(6.0), Length::from_m(5.0));
        let room = Length::from_mm(100.0);
        assert!((outline.dig(|_| room).area().to_m2() - 6.2 * 5.2).abs() < 1e-12);
        let held = |name| if name == SideName::Reference { Length::ZERO } else { room };
        assert!((outline.dig(held).area().to_m2() - 6.2 * 5.1).abs() < 1e-12);
    }

    #[test]
    fn a_strip_wider_than_its_inside_radius_is_refused() {
        let runs = [Run::Arc {
            length: Length::from_m(1.0),
            radius: Length::from_m(1.2),
            turn: Hand::Left,
        }];
        let strip = |side| Outline::strip(&runs, Length::from_m(1.3), side, [End::Square; 2]);
        assert!(
            matches!(strip(Hand::Left), Err(e) if matches!(e[..], [OutlineError::WiderThanRadius { run: 0, .. }]))
        );
        assert!(strip(Hand::Right).is_ok());
    }

    #[test]
    fn a_strip_over_itself_is_refused() {
        let runs = [Run::Arc {
            length: Length::from_m(18.0),
            radius: Length::from_m(3.0),
            turn: Hand::Left,
        }];
        let strip = Outline::strip(&runs, Length::from_m(1.5), Hand::Right, [End::Square; 2]);
        assert!(strip.is_ok(), "18 m round a circle of 18.85 m leaves a gap: {strip:?}");
        let straight = Run::Straight(Length::from_m(4.0));
        let runs = [straight, runs[0], straight];
        let strip = Outline::strip(&runs, Length::from_m(1.5), Hand::Right, [End::Square; 2]);
        assert_eq!(strip, Err(vec![OutlineError::CrossesItself]));
    }
}
