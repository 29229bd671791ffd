//! The volume between the ground and the formation.

use geo::{Area as _, Triangle, TriangulateEarcut};

use crate::ground::prism;
use crate::outline::{Point, Ring};
use crate::units::{Area, Length, Volume};

/// The ground to move.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Dig {
    /// Area of the dig, exact.
    pub area: Area,
    /// Ground above the formation, in the solid.
    pub volume: Volume,
    /// Hollow below the formation, to be filled.
    pub fill: Volume,
}

impl Dig {
    /// Volume over area.
    pub fn mean_depth(&self) -> Length {
        self.volume / self.area
    }
}

/// Chords of the boundary keep this close to its arcs while volumes are summed.
const TOLERANCE: Length = Length::from_mm(0.02);

/// Volumes between the ground and the formation inside a boundary.
///
/// `depth` is the depth to dig at a point, negative where the formation lies above the ground. The
/// boundary's polygon is cut into small triangles; in each the depth is taken as linear between its
/// corners and split along the line where it is zero. The sum is scaled to the exact area.
pub fn dig(ring: &Ring, depth: impl Fn(Point) -> Length) -> Dig {
    let area = ring.area();
    let polygon = ring.polygon(TOLERANCE);
    let reach = (area.to_m2().sqrt() / 40.0).max(0.2);
    let mut sums = [0.0, 0.0];
    let mut drawn = 0.0;
    let mut pending: Vec<Triangle> = polygon.earcut_triangles();
    while let Some(triangle) = pending.pop() {
        match halves(&triangle, reach) {
            Some(halves) => pending.extend(halves),
            None => {
                let size = triangle.unsigned_area();
                let [cut, fill] = prism(triangle.to_array().map(|p| depth(p).to_m()));
                sums = [sums[0] + cut * size, sums[1] + fill * size];
                drawn += size;
            }
        }
    }
    let scale = if drawn > 0.0 { area.to_m2() / drawn } else { 0.0 };
    let [volume, fill] = sums.map(|sum| Volume::from_m3(sum * scale));
    Dig { area, volume, fill }
}

/// The triangle halved across its longest side while that is longer than `reach`.
fn halves(triangle: &Triangle, reach: f64) -> Option<[Triangle; 2]> {
    let [a, b, c] = triangle.to_array();
    let sides = [(a, b, c), (b, c, a), (c, a, b)];
    let length = |(p, q, _): &(Point, Point, Point)| (q.x - p.x).hypot(q.y - p.y);
    let longest = sides.into_iter().max_by(|s, t| length(s).total_cmp(&length(t)))?;
    if length(&longest) <= reach {
        return None;
    }
    let (p, q, r) = longest;
    let middle = (p + q) / 2.0;
    Some([Triangle::new(p, middle, r), Triangle::new(middle, q, r)])
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::outline::Outline;

    #[test]
    fn a_plane_over_a_rectangle_by_hand() {
        // Hand arithmetic: depth 0.25 + x/80 + y/60 over 5 m by 6 m has its mean at the middle.
        let ring = Outline::rectangle(Length::from_m(5.0), Length::from_m(6.0)).ring().clone();
        let sum = dig(&ring, |p| Length::from_m(0.25 + p.x / 80.0 + p.y / 60.0));
        let mean = 0.25 + 2.5 / 80.0 + 3.0 / 60.0;
        assert!((sum.mean_depth().to_m() - mean).abs() < 1e-9, "{sum:?}");
        assert_eq!(sum.fill, Volume::ZERO);
    }

    #[test]
    fn cut_and_fill_part_along_the_zero_line() {
        // Hand arithmetic: depth x - 1 over 2 m by 1 m: half a square metre-metre each side.
        let ring = Outline::rectangle(Length::from_m(2.0), Length::from_m(1.0)).ring().clone();
        let sum = dig(&ring, |p| Length::from_m(p.x - 1.0));
        assert!((sum.volume.to_m3() - 0.5).abs() < 1e-9, "{sum:?}");
        assert!((sum.fill.to_m3() - 0.5).abs() < 1e-9, "{sum:?}");
    }
}
