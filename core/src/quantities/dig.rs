//! The volume between the ground and the formation.

use geo::{Area as _, Triangle};

use crate::ground::{Existing, prism};
use crate::outline::{Outline, Point, Ring};
use crate::units::{Area, Length, Level, Volume};

/// The ground to move.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Dig {
    /// Area of the dig, exact.
    pub area: Area,
    /// Ground above the formation, in the solid.
    pub volume: Volume,
    /// Hollow below the formation, to be filled.
    pub fill: Volume,
    /// Area beyond the spots of the ground, where its level is that of the nearest of them.
    pub beyond: Area,
}

impl Dig {
    /// Volume over area.
    pub fn mean_depth(&self) -> Length {
        self.volume / self.area
    }
}

/// Chords of the boundary keep this close to its arcs while volumes are summed.
const TOLERANCE: Length = Length::from_mm(0.1);

/// Volumes between the ground and the formation inside a boundary, the holes of the outline left
/// out.
///
/// The polygon is cut along the ground's own triangles and then into small ones; in each the depth
/// is taken as linear between its corners and split along the line where it is zero. The sum is
/// scaled to the exact area.
pub fn dig(
    ring: &Ring,
    outline: &Outline,
    ground: &Existing,
    formation: impl Fn(Point) -> Level,
) -> Dig {
    let area = ring.area() - (outline.ring().area() - outline.area());
    let polygon = outline.with_own_holes(ring.polygon(TOLERANCE), TOLERANCE);
    let reach = (area.to_m2().sqrt() / 40.0).max(0.2);
    let pieces = ground.pieces(&polygon);
    let depth = |p: Point| ground.level(p).above(formation(p)).to_m();
    let mut sums = [0.0, 0.0];
    let mut drawn = 0.0;
    let piece = |t: &Triangle| t.to_array().map(|p| (p, depth(p)));
    let within = pieces.triangles.iter().map(|t| (piece(t), reach));
    let beyond = pieces.beyond.iter().map(|t| (piece(t), reach / 4.0));
    let mut pending: Vec<(Piece, f64)> = within.chain(beyond).collect();
    while let Some((piece, reach)) = pending.pop() {
        match halves(piece, reach, depth) {
            Some(halves) => pending.extend(halves.map(|half| (half, reach))),
            None => {
                let [a, b, c] = piece.map(|(p, _)| p);
                let size = Triangle::new(a, b, c).unsigned_area();
                let [cut, fill] = prism(piece.map(|(_, depth)| depth));
                sums = [sums[0] + cut * size, sums[1] + fill * size];
                drawn += size;
            }
        }
    }
    let scale = if drawn > 0.0 { area.to_m2() / drawn } else { 0.0 };
    let [volume, fill] = sums.map(|sum| Volume::from_m3(sum * scale));
    Dig { area, volume, fill, beyond: pieces.area_beyond() }
}

/// A triangle with the depth at each corner.
type Piece = [(Point, f64); 3];

/// The triangle halved across its longest side while that is longer than `reach`.
fn halves(piece: Piece, reach: f64, depth: impl Fn(Point) -> f64) -> Option<[Piece; 2]> {
    let [a, b, c] = piece;
    let length = |side: &Piece| {
        let [(p, _), (q, _), _] = side;
        (q.x - p.x).hypot(q.y - p.y)
    };
    let sides = [[a, b, c], [b, c, a], [c, a, b]];
    let longest = sides.into_iter().max_by(|s, t| length(s).total_cmp(&length(t)))?;
    if length(&longest) <= reach {
        return None;
    }
    let [p, q, r] = longest;
    let place = (p.0 + q.0) / 2.0;
    let middle = (place, depth(place));
    Some([[p, middle, r], [middle, q, r]])
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ground::{Spot, Spots};
    use crate::outline::Hole;

    fn over(outline: &Outline, ground: &Existing, formation: impl Fn(Point) -> f64) -> Dig {
        dig(outline.ring(), outline, ground, |p| Level::from_m(formation(p)))
    }

    fn rectangle(length: f64, width: f64) -> Outline {
        Outline::rectangle(Length::from_m(length), Length::from_m(width))
    }

    const FLAT: Existing = Existing::Flat(Level::ZERO);

    #[test]
    fn a_plane_over_a_rectangle_by_hand() {
        // Hand arithmetic: depth 0.25 + x/80 + y/60 over 5 m by 6 m has its mean at the middle.
        let sum = over(&rectangle(5.0, 6.0), &FLAT, |p| -(0.25 + p.x / 80.0 + p.y / 60.0));
        let mean = 0.25 + 2.5 / 80.0 + 3.0 / 60.0;
        assert!((sum.mean_depth().to_m() - mean).abs() < 1e-9, "{sum:?}");
        assert_eq!(sum.fill, Volume::ZERO);
    }

    #[test]
    fn cut_and_fill_part_along_the_zero_line() {
        // Hand arithmetic: depth x - 1 over 2 m by 1 m: half a square metre-metre each side.
        let sum = over(&rectangle(2.0, 1.0), &FLAT, |p| 1.0 - p.x);
        assert!((sum.volume.to_m3() - 0.5).abs() < 1e-9, "{sum:?}");
        assert!((sum.fill.to_m3() - 0.5).abs() < 1e-9, "{sum:?}");
    }

    #[test]
    fn what_stands_in_a_hole_is_not_dug() {
        // Hand arithmetic: 4 m by 3 m less a cover of 0.6 by 0.45 m, 200 deep.
        let corner = Point { x: 1.0, y: 1.0 };
        let cover = Hole::rectangle(corner, Length::from_mm(600.0), Length::from_mm(450.0), 30.0);
        let outline = rectangle(4.0, 3.0).with_holes(vec![cover]).unwrap();
        let sum = over(&outline, &FLAT, |_| -0.2);
        assert!((sum.area.to_m2() - (12.0 - 0.27)).abs() < 1e-9, "{sum:?}");
        assert!((sum.volume.to_m3() - (12.0 - 0.27) * 0.2).abs() < 1e-9, "{sum:?}");
    }

    #[test]
    fn beyond_the_spots_the_nearest_edge_is_taken_and_said() {
        // Hand arithmetic: spots over the left half of 4 m by 2 m rise from 0 to 0.1 at x = 2; the
        // right half is held at 0.1: 4 m2 at a mean of 0.05 and 4 m2 at 0.1, over a formation at 0.
        let spot = |x: f64, y: f64| Spot { x, y, level: Level::from_m(x * 0.05) };
        let spots = [spot(0.0, 0.0), spot(2.0, 0.0), spot(0.0, 2.0), spot(2.0, 2.0)];
        let ground = Existing::Spots(Spots::new(&spots).unwrap());
        let sum = over(&rectangle(4.0, 2.0), &ground, |_| 0.0);
        assert!((sum.beyond.to_m2() - 4.0).abs() < 1e-9, "{sum:?}");
        assert!((sum.volume.to_m3() - 0.6).abs() < 1e-9, "{sum:?}");
    }
}
