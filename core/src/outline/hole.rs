//! Holes in the paving: covers, gullies, trees, whatever stands in it.

use geo::{Contains, Intersects, Polygon, Rotate, Validation, point, polygon};

use super::OutlineError;
use super::edge::Point;
use super::ring::{CHORD_TOLERANCE, Ring};
use crate::units::Length;

/// A hole: what is in it is neither paved nor dug.
#[derive(Debug, Clone, PartialEq)]
pub struct Hole {
    ring: Ring,
    drain: bool,
}

impl Hole {
    /// A round hole.
    pub fn circle(centre: Point, radius: Length) -> Self {
        Hole { ring: Ring::circle(centre, radius), drain: false }
    }

    /// A rectangle from its first corner, its length along x turned counter-clockwise about that
    /// corner by so many degrees, its width to the left of the length.
    pub fn rectangle(corner: Point, length: Length, width: Length, turn_deg: f64) -> Self {
        let (x, y, l, w) = (corner.x, corner.y, length.to_m(), width.to_m());
        let upright = polygon![
            (x: x, y: y), (x: x + l, y: y), (x: x + l, y: y + w), (x: x, y: y + w),
        ];
        let turned = upright.rotate_around_point(turn_deg, point!(corner));
        let corners: Vec<Point> = turned.exterior().coords().take(4).copied().collect();
        Hole::polygon(&corners)
    }

    /// A hole between corners, either way round.
    pub fn polygon(corners: &[Point]) -> Self {
        Hole { ring: Ring::polygonal(corners), drain: false }
    }

    /// The same, as a gully that water may run into.
    pub fn draining(self, drain: bool) -> Self {
        Hole { drain, ..self }
    }

    /// Its boundary.
    pub const fn ring(&self) -> &Ring {
        &self.ring
    }

    /// Whether water may run into it.
    pub const fn drains(&self) -> bool {
        self.drain
    }
}

/// Every hole that crosses itself, is not inside a boundary, or touches one before it.
pub(super) fn errors(around: &Ring, holes: &[Hole]) -> Vec<OutlineError> {
    let outside = around.polygon(CHORD_TOLERANCE);
    let inner: Vec<Polygon> = holes.iter().map(|h| h.ring.polygon(CHORD_TOLERANCE)).collect();
    let mut errors = Vec::new();
    for (hole, polygon) in inner.iter().enumerate() {
        let place = holes.get(hole).and_then(|h| h.ring.crossing());
        if place.is_some() || !polygon.is_valid() {
            errors.push(OutlineError::HoleCrossesItself { hole, place });
        } else if !outside.contains(polygon) || outside.exterior().intersects(polygon) {
            errors.push(OutlineError::HoleOutside { hole });
        } else {
            let before = inner.iter().take(hole).enumerate();
            let touched = before.filter(|(_, other)| other.is_valid() && other.intersects(polygon));
            errors.extend(touched.map(|(other, _)| OutlineError::HolesTouch { hole, other }));
        }
    }
    errors
}
