//! The shape on the ground: straights and arcs, exact area and perimeter, and the way from a point
//! to its chainage and offset along the reference edge.

mod arc;
mod band;
mod edge;
mod grown;
mod hole;
mod offsets;
mod ring;
mod side;
mod ties;

use geo::{Polygon, Validation};

pub use arc::{ArcError, ChordArc, Offset};
pub use band::End;
pub use edge::{Edge, EdgePlace, Hand, Point, Run, Station, distance};
pub use hole::Hole;
pub use offsets::{OffsetAreas, OffsetStation};
pub use ring::{CHORD_TOLERANCE, Ring};
pub use side::Side;
pub use ties::{Again, Check, Residual, Tie, TieError, Ties, ties};

use crate::units::{Area, Length};

/// Which side of the paving.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum SideName {
    /// The reference edge itself, of a strip, a rectangle or offsets.
    Reference,
    /// The end at chainage zero.
    Start,
    /// The other end.
    End,
    /// The edge opposite the reference edge.
    Far,
    /// A side of a boundary or of ties by its number, from 1; the first is the reference edge.
    Number(u32),
}

impl std::fmt::Display for SideName {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            SideName::Reference => f.write_str("reference"),
            SideName::Start => f.write_str("start"),
            SideName::End => f.write_str("end"),
            SideName::Far => f.write_str("far"),
            SideName::Number(number) => write!(f, "{number}"),
        }
    }
}

/// A side with its name.
type SideOf = (SideName, Side);

/// The paved shape: a closed boundary with a reference edge that everything is measured along, and
/// holes in it.
#[derive(Debug, Clone, PartialEq)]
pub struct Outline {
    edge: Edge,
    side: Hand,
    strip: Option<Strip>,
    ring: Ring,
    names: Vec<SideName>,
    holes: Vec<Hole>,
    corners: Vec<(String, Point)>,
}

/// What makes a strip one.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Strip {
    width: Length,
    ends: [End; 2],
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
    #[error("the outline crosses itself{}", at(*.place))]
    CrossesItself {
        /// Where, if it crosses at a point.
        place: Option<Point>,
    },
    /// A hole reaches over the boundary.
    #[error("the hole is not wholly inside the outline")]
    HoleOutside {
        /// Which hole, from 0.
        hole: usize,
    },
    /// A hole reaches over another.
    #[error("the hole touches hole {}", .other + 1)]
    HolesTouch {
        /// Which hole, from 0.
        hole: usize,
        /// The one before that it touches.
        other: usize,
    },
    /// The boundary of a hole crosses itself.
    #[error("the hole crosses itself{}", at(*.place))]
    HoleCrossesItself {
        /// Which hole, from 0.
        hole: usize,
        /// Where, if it crosses at a point.
        place: Option<Point>,
    },
}

fn at(place: Option<Point>) -> String {
    place.map_or_else(String::new, |p| format!(" at x {:.2} m, y {:.2} m", p.x, p.y))
}

impl Outline {
    /// A rectangle with its reference edge along x and the paving on its left.
    pub fn rectangle(length: Length, width: Length) -> Self {
        let edge = Edge::new(&[Run::Straight(length)]);
        Outline::along(edge, width, Hand::Left, [End::Square; 2])
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
        Outline::along(Edge::new(runs), width, side, ends).checked().map_err(|e| vec![e])
    }

    fn along(edge: Edge, width: Length, side: Hand, ends: [End; 2]) -> Self {
        let (names, sides) = band::band(&edge, width, side, ends).into_iter().unzip();
        Outline {
            edge,
            side,
            strip: Some(Strip { width, ends }),
            ring: Ring::in_order(sides),
            names,
            holes: Vec::new(),
            corners: Vec::new(),
        }
    }

    /// A boundary of sides, each beginning where the one before ends, either way round. The first
    /// is the reference edge.
    ///
    /// # Errors
    /// [`OutlineError::CrossesItself`].
    pub fn boundary(sides: &[Side]) -> Result<Self, OutlineError> {
        let named = (1..).map(SideName::Number).zip(sides.iter().copied()).collect();
        let first = sides.first().map(|side| (side.start, side.run()));
        let (start, run) = first.ok_or(OutlineError::CrossesItself { place: None })?;
        Outline::closed(Edge::from_station(start, &[run]), named)
    }

    /// The boundary A, B, then the corners in their order. A to B is the reference edge.
    ///
    /// # Errors
    /// [`OutlineError::CrossesItself`].
    pub fn tied(ties: &Ties) -> Result<Self, OutlineError> {
        let points: Vec<Point> = ties.corners.iter().map(|(_, point)| *point).collect();
        let next = points.iter().cycle().skip(1);
        let sides: Vec<Side> =
            points.iter().zip(next).map(|(a, b)| Side::straight(*a, *b)).collect();
        Ok(Outline { corners: ties.corners.clone(), ..Outline::boundary(&sides)? })
    }

    /// The shape between the ends of offsets from a base line, which is the reference edge.
    ///
    /// # Errors
    /// [`OutlineError::CrossesItself`].
    pub fn offsets(stations: &[OffsetStation]) -> Result<Self, OutlineError> {
        let (edge, named) = offsets::sides(stations);
        Outline::closed(edge, named)
    }

    fn closed(edge: Edge, mut named: Vec<SideOf>) -> Result<Self, OutlineError> {
        let turned = Ring::in_order(named.iter().map(|(_, side)| *side).collect());
        let side = if turned.signed_area() < 0.0 { Hand::Right } else { Hand::Left };
        if side == Hand::Right {
            named.reverse();
            named.iter_mut().for_each(|(_, side)| *side = side.reversed());
        }
        let (names, sides) = named.into_iter().unzip();
        let ring = Ring::in_order(sides);
        let (holes, corners) = (Vec::new(), Vec::new());
        Outline { edge, side, strip: None, ring, names, holes, corners }.checked()
    }

    fn checked(self) -> Result<Self, OutlineError> {
        match self.ring.crossing() {
            Some(place) => Err(OutlineError::CrossesItself { place: Some(place) }),
            None if self.ring.polygon(CHORD_TOLERANCE).is_valid() => Ok(self),
            None => Err(OutlineError::CrossesItself { place: None }),
        }
    }

    /// The outline with holes in it.
    ///
    /// # Errors
    /// Every hole that is not inside the outline and apart from the others.
    pub fn with_holes(self, holes: Vec<Hole>) -> Result<Self, Vec<OutlineError>> {
        let errors = hole::errors(&self.ring, &holes);
        if errors.is_empty() { Ok(Outline { holes, ..self }) } else { Err(errors) }
    }

    /// The reference edge.
    pub const fn edge(&self) -> &Edge {
        &self.edge
    }

    /// The side of the reference edge that is paved.
    pub const fn side(&self) -> Hand {
        self.side
    }

    /// Width across, where it is a strip or a rectangle.
    pub fn width(&self) -> Option<Length> {
        self.strip.map(|strip| strip.width)
    }

    /// How the strip starts and ends, where it is one.
    pub fn ends(&self) -> Option<[End; 2]> {
        self.strip.map(|strip| strip.ends)
    }

    /// How far the paving reaches from its reference edge: the width of a strip.
    pub fn reach(&self) -> Length {
        self.width().unwrap_or_else(|| {
            let polygon = self.ring.polygon(CHORD_TOLERANCE);
            polygon
                .exterior()
                .coords()
                .map(|p| self.place(*p).offset)
                .fold(Length::ZERO, Length::max)
        })
    }

    /// The boundary.
    pub const fn ring(&self) -> &Ring {
        &self.ring
    }

    /// The sides of the boundary with their names, counter-clockwise.
    pub fn sides(&self) -> impl Iterator<Item = (SideName, &Side)> {
        self.names.iter().copied().zip(self.ring.sides())
    }

    /// The holes.
    pub fn holes(&self) -> &[Hole] {
        &self.holes
    }

    /// Corners that have a name of their own.
    pub fn corners(&self) -> &[(String, Point)] {
        &self.corners
    }

    /// Exact area, holes left out.
    pub fn area(&self) -> Area {
        self.holes.iter().fold(self.ring.area(), |area, hole| area - hole.ring().area())
    }

    /// Exact length around the boundary, without its holes.
    pub fn perimeter(&self) -> Length {
        self.ring.perimeter()
    }

    /// Exact length around the holes.
    pub fn holes_perimeter(&self) -> Length {
        self.holes.iter().map(|hole| hole.ring().perimeter()).sum()
    }

    /// The shape as a polygon with its holes, chords within a tolerance of the arcs. For drawing,
    /// clipping and triangulating only.
    pub fn polygon(&self, tolerance: Length) -> Polygon {
        self.with_own_holes(self.ring.polygon(tolerance), tolerance)
    }

    /// The same for another boundary around the same holes.
    pub(crate) fn with_own_holes(&self, around: Polygon, tolerance: Length) -> Polygon {
        let (exterior, _) = around.into_inner();
        let holes = self.holes.iter().map(|hole| hole.ring().polygon(tolerance).into_inner().0);
        Polygon::new(exterior, holes.collect())
    }

    /// The boundary of the dig: the paving and the working room beyond each side, corners filled.
    pub fn dig(&self, room: impl Fn(SideName) -> Length) -> Ring {
        let room: Vec<Length> = self.names.iter().map(|name| room(*name)).collect();
        self.ring.grown(&room)
    }

    /// The names of the sides, each once.
    pub fn side_names(&self) -> Vec<SideName> {
        let mut names = self.names.clone();
        names.sort_unstable();
        names.dedup();
        names
    }

    /// Length of all sides of one name. A round end counts its half round.
    pub fn side_length(&self, name: SideName) -> Length {
        self.sides().filter(|(n, _)| *n == name).map(|(_, side)| side.length).sum()
    }

    /// The length of the line parallel to a piece of the reference edge, so far into the paving:
    /// length (1 - offset x curvature).
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
        assert!(
            matches!(&strip, Err(e) if matches!(e[..], [OutlineError::CrossesItself { place: Some(_) }])),
            "{strip:?}"
        );
    }
}
