//! Places and simple shapes on the sheet.

/// A place on the sheet, in millimetres, y down.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Spot {
    pub(super) x: f64,
    pub(super) y: f64,
}

/// A place from its two distances.
pub(super) fn spot(x: f64, y: f64) -> Spot {
    Spot { x, y }
}

impl Spot {
    /// Whether both distances are numbers.
    pub(super) fn is_somewhere(self) -> bool {
        self.x.is_finite() && self.y.is_finite()
    }

    /// This place moved by a distance in a direction.
    pub(super) fn moved(self, along: Spot, by: f64) -> Spot {
        spot(self.x + along.x * by, self.y + along.y * by)
    }

    /// How far another place is.
    pub(super) fn distance(self, other: Spot) -> f64 {
        (other.x - self.x).hypot(other.y - self.y)
    }

    /// The direction to another place, one millimetre long; to the right where they coincide.
    pub(super) fn towards(self, other: Spot) -> Spot {
        let length = self.distance(other);
        if length > 0.0 {
            spot((other.x - self.x) / length, (other.y - self.y) / length)
        } else {
            spot(1.0, 0.0)
        }
    }

    /// This direction turned a quarter.
    pub(super) fn across(self) -> Spot {
        spot(-self.y, self.x)
    }

    /// This direction the other way round.
    pub(super) fn back(self) -> Spot {
        spot(-self.x, -self.y)
    }

    /// The middle between this place and another.
    pub(super) fn middle(self, other: Spot) -> Spot {
        spot(f64::midpoint(self.x, other.x), f64::midpoint(self.y, other.y))
    }
}

/// Pairs of neighbouring places of a ring, the last with the first.
pub(super) fn sides(ring: &[Spot]) -> impl Iterator<Item = (Spot, Spot)> {
    ring.iter().copied().zip(ring.iter().copied().cycle().skip(1))
}

/// Whether a place is inside a ring.
pub(super) fn inside(ring: &[Spot], place: Spot) -> bool {
    sides(ring).fold(false, |within, (a, b)| {
        let straddles = (a.y > place.y) != (b.y > place.y);
        let crossing = a.x + (place.y - a.y) / (b.y - a.y) * (b.x - a.x);
        if straddles && place.x < crossing { !within } else { within }
    })
}

/// The centre of the circle through three places; none where they lie on a line.
pub(super) fn centre(a: Spot, b: Spot, c: Spot) -> Option<Spot> {
    let (bx, by, cx, cy) = (b.x - a.x, b.y - a.y, c.x - a.x, c.y - a.y);
    let twice = 2.0 * (bx * cy - by * cx);
    if twice.abs() < 1e-9 {
        return None;
    }
    let (bb, cc) = (bx * bx + by * by, cx * cx + cy * cy);
    Some(spot(a.x + (cy * bb - by * cc) / twice, a.y + (bx * cc - cx * bb) / twice))
}

/// The angle of a text along a direction, in degrees clockwise, such that it reads from below or
/// from the right.
pub(super) fn reading_angle(along: Spot) -> f64 {
    let angle = along.y.atan2(along.x).to_degrees();
    if angle > 89.0 {
        angle - 180.0
    } else if angle <= -91.0 {
        angle + 180.0
    } else {
        angle
    }
}

/// A box on the sheet.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Frame {
    pub(super) left: f64,
    pub(super) top: f64,
    pub(super) right: f64,
    pub(super) bottom: f64,
}

impl Frame {
    /// The box around all places; none where there are none.
    pub(super) fn around(places: impl IntoIterator<Item = Spot>) -> Option<Frame> {
        places.into_iter().fold(None, |frame: Option<Frame>, p| {
            let f = frame.unwrap_or(Frame { left: p.x, top: p.y, right: p.x, bottom: p.y });
            Some(Frame {
                left: f.left.min(p.x),
                top: f.top.min(p.y),
                right: f.right.max(p.x),
                bottom: f.bottom.max(p.y),
            })
        })
    }

    /// The area that two boxes share.
    pub(super) fn shared(self, other: Frame) -> f64 {
        let width = self.right.min(other.right) - self.left.max(other.left);
        let height = self.bottom.min(other.bottom) - self.top.max(other.top);
        width.max(0.0) * height.max(0.0)
    }

    /// Whether a disc lies wholly outside.
    pub(super) fn clear_of(self, centre: Spot, radius: f64) -> bool {
        centre.x + radius < self.left
            || centre.x - radius > self.right
            || centre.y + radius < self.top
            || centre.y - radius > self.bottom
    }

    /// Its area.
    pub(super) fn area(self) -> f64 {
        (self.right - self.left) * (self.bottom - self.top)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn inside_and_outside_a_ring() {
        let ring = [spot(0.0, 0.0), spot(4.0, 0.0), spot(4.0, 2.0), spot(0.0, 2.0)];
        assert!(inside(&ring, spot(1.0, 1.0)));
        assert!(!inside(&ring, spot(5.0, 1.0)));
        assert!(!inside(&[], spot(0.0, 0.0)));
    }

    #[test]
    fn the_centre_of_three_places_is_as_far_from_each() {
        let c = centre(spot(1.0, 0.0), spot(0.0, 1.0), spot(-1.0, 0.0)).unwrap();
        assert!(c.distance(spot(0.0, 0.0)) < 1e-9);
        assert!(centre(spot(0.0, 0.0), spot(1.0, 1.0), spot(2.0, 2.0)).is_none());
    }

    #[test]
    fn lettering_reads_from_below_or_from_the_right() {
        for degrees in (-180..=180).step_by(15) {
            let turn = f64::from(degrees).to_radians();
            let angle = reading_angle(spot(turn.cos(), turn.sin()));
            assert!((-91.0..=89.0).contains(&angle), "{degrees} gave {angle}");
        }
    }
}
