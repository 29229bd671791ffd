//! The thickness of a layer between its dips and those of the layer below, over the whole shape.

use geo::{Area as _, Polygon, Triangle};

use super::{Existing, Spot, Spots};
use crate::outline::Point;
use crate::units::{Area, Length, Level, Volume};

/// A thickness that is straight between the places it is known at.
#[derive(Debug, Clone, PartialEq)]
pub struct Thickness {
    surface: Existing,
}

/// A thickness summed over a shape.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ThicknessOver {
    /// Area of the shape.
    pub area: Area,
    /// What is in it.
    pub volume: Volume,
    /// Least thickness anywhere.
    pub least: Length,
    /// Greatest thickness anywhere.
    pub greatest: Length,
    /// Area where it is less than a limit.
    pub below: Area,
    /// Area beyond the places, where the thickness of the nearest edge between them is taken.
    pub beyond: Area,
}

impl ThicknessOver {
    /// Volume over area.
    pub fn mean(&self) -> Length {
        self.volume / self.area
    }
}

/// A line of one thickness, in pieces.
#[derive(Debug, Clone, PartialEq)]
pub struct Contour {
    /// The thickness.
    pub thickness: Length,
    /// Its pieces.
    pub pieces: Vec<[Point; 2]>,
}

impl Thickness {
    /// Between two surfaces that are each known at some places, as heights above their design; the
    /// layer is as thick as `design` where both are right.
    ///
    /// Each surface is straight in the triangles between its places, and beyond them as at their
    /// nearest edge; where they lie in one line, straight along it and level across. The thickness is
    /// taken at the places of both and is straight in the triangles between all of them. None where
    /// either is known at one place only.
    pub fn between(
        design: Length,
        lower: &[(Point, Length)],
        upper: &[(Point, Length)],
    ) -> Option<Self> {
        let [below, above] = [lower, upper].map(|dips| spots(dips.iter().copied()));
        let (below, above) = (below?, above?);
        let at = |place: Point| design + above.level(place).above(below.level(place));
        let places = lower.iter().chain(upper).map(|(place, _)| *place);
        let surface = spots(places.map(|place| (place, at(place))))?;
        Some(Thickness { surface: Existing::Spots(surface) })
    }

    /// The thickness at a place.
    pub fn at(&self, place: Point) -> Length {
        self.surface.level(place).above(Level::ZERO)
    }

    /// Sums it over a shape; `limit` parts what is too thin.
    pub fn over(&self, shape: &Polygon, limit: Length) -> ThicknessOver {
        let pieces = self.surface.pieces(shape);
        let (mut area, mut volume, mut below) = (0.0, 0.0, 0.0);
        let (mut least, mut greatest) = (f64::MAX, f64::MIN);
        for triangle in pieces.triangles.iter().chain(&pieces.beyond) {
            let size = triangle.unsigned_area();
            let corners = self.corners(triangle);
            area += size;
            volume += size * corners.iter().sum::<f64>() / 3.0;
            below += size * share_below(corners, limit.to_m());
            least = corners.into_iter().fold(least, f64::min);
            greatest = corners.into_iter().fold(greatest, f64::max);
        }
        ThicknessOver {
            area: Area::from_m2(area),
            volume: Volume::from_m3(volume),
            least: Length::from_m(least),
            greatest: Length::from_m(greatest),
            below: Area::from_m2(below),
            beyond: pieces.area_beyond(),
        }
    }

    /// Lines of equal thickness inside a shape, one for each given. Beyond the places there are none:
    /// nothing was measured there.
    pub fn contours(&self, shape: &Polygon, thicknesses: &[Length]) -> Vec<Contour> {
        let pieces = self.surface.pieces(shape);
        let line = |thickness: &Length| {
            let cut = |triangle: &Triangle| {
                let corners = self.corners(triangle);
                crossing(triangle, corners, thickness.to_m())
            };
            let pieces = pieces.triangles.iter().filter_map(cut).collect();
            Contour { thickness: *thickness, pieces }
        };
        thicknesses.iter().map(line).filter(|contour| !contour.pieces.is_empty()).collect()
    }

    /// Where it is less than a limit inside a shape and between the places, in pieces without hollows
    /// that lie side by side.
    pub fn below(&self, shape: &Polygon, limit: Length) -> Vec<Vec<Point>> {
        let pieces = self.surface.pieces(shape);
        let cut = |triangle: &Triangle| part_below(triangle, self.corners(triangle), limit.to_m());
        pieces.triangles.iter().map(cut).filter(|piece| piece.len() > 2).collect()
    }

    fn corners(&self, triangle: &Triangle) -> [f64; 3] {
        triangle.to_array().map(|place| self.at(place).to_m())
    }
}

/// Places that keep this close to a line lie in it: what is between them and it was not measured.
const IN_LINE_M: f64 = 0.02;
/// Half the width of the band that stands for a line of places.
const BAND_M: f64 = 0.001;

fn spots(dips: impl Iterator<Item = (Point, Length)>) -> Option<Spots> {
    let mut spots: Vec<Spot> =
        dips.map(|(p, z)| Spot { x: p.x, y: p.y, level: Level::ZERO + z }).collect();
    // Of two dips at one place the first counts.
    spots.sort_by(|a, b| a.x.total_cmp(&b.x).then(a.y.total_cmp(&b.y)));
    spots.dedup_by(|a, b| (a.x - b.x).hypot(a.y - b.y) < 1e-3);
    Spots::new(&banded(&spots).unwrap_or(spots)).ok()
}

/// Spots in one line as a band along it, each spot on both of its sides; none where they span an
/// area or are one.
fn banded(spots: &[Spot]) -> Option<Vec<Spot>> {
    let from = spots.first()?;
    let reach = |spot: &Spot| (spot.x - from.x).hypot(spot.y - from.y);
    let to = spots.iter().max_by(|a, b| reach(a).total_cmp(&reach(b)))?;
    let length = reach(to);
    let (along_x, along_y) = ((to.x - from.x) / length, (to.y - from.y) / length);
    let beside = |spot: &Spot| (spot.y - from.y) * along_x - (spot.x - from.x) * along_y;
    if length < IN_LINE_M || spots.iter().any(|spot| beside(spot).abs() > IN_LINE_M) {
        return None;
    }
    let on_both_sides = |spot: &Spot| {
        let Spot { x, y, level } = *spot;
        [-BAND_M, BAND_M].map(|side| {
            let off = side - beside(spot);
            Spot { x: x - along_y * off, y: y + along_x * off, level }
        })
    };
    Some(spots.iter().flat_map(on_both_sides).collect())
}

/// The share of a triangle where a plane with these heights at its corners is under a limit.
fn share_below(heights: [f64; 3], limit: f64) -> f64 {
    let mut sorted = heights.map(|height| height - limit);
    sorted.sort_by(f64::total_cmp);
    let [low, middle, high] = sorted;
    if low >= 0.0 {
        0.0
    } else if high <= 0.0 {
        1.0
    } else if middle >= 0.0 {
        (low / (low - middle)) * (low / (low - high))
    } else {
        1.0 - (high / (high - middle)) * (high / (high - low))
    }
}

/// The part of a triangle where a plane with these heights at its corners is under a height.
fn part_below(triangle: &Triangle, heights: [f64; 3], height: f64) -> Vec<Point> {
    let [a, b, c] = triangle.to_array();
    let [p, q, r] = heights.map(|corner| corner - height);
    let mut part = Vec::new();
    for ((from, low), (to, high)) in [((a, p), (b, q)), ((b, q), (c, r)), ((c, r), (a, p))] {
        if low < 0.0 {
            part.push(from);
        }
        if (low < 0.0) != (high < 0.0) {
            part.push(from + (to - from) * (low / (low - high)));
        }
    }
    part
}

/// Where a plane over a triangle passes a height.
fn crossing(triangle: &Triangle, heights: [f64; 3], height: f64) -> Option<[Point; 2]> {
    let [a, b, c] = triangle.to_array();
    let [p, q, r] = heights;
    let meets = |(a, p): (Point, f64), (b, q): (Point, f64)| {
        ((p < height) != (q < height)).then(|| a + (b - a) * ((height - p) / (q - p)))
    };
    let mut found =
        [meets((a, p), (b, q)), meets((b, q), (c, r)), meets((c, r), (a, p))].into_iter().flatten();
    Some([found.next()?, found.next()?])
}

#[cfg(test)]
mod tests {
    use super::*;
    use geo::polygon;
    use proptest::prelude::*;

    fn yard() -> Polygon {
        polygon![(x: 0.0, y: 0.0), (x: 4.0, y: 0.0), (x: 4.0, y: 2.0), (x: 0.0, y: 2.0)]
    }

    fn dips(heights: [f64; 4]) -> Vec<(Point, Length)> {
        let corners = [(0.0, 0.0), (4.0, 0.0), (4.0, 2.0), (0.0, 2.0)];
        let dip = |((x, y), mm): ((f64, f64), f64)| (Point { x, y }, Length::from_mm(mm));
        corners.into_iter().zip(heights).map(dip).collect()
    }

    #[test]
    fn a_wedge_by_hand() {
        // Hand arithmetic: right below, rising above from 20 mm thin at one end of 4 m to 20 mm
        // thick at the other, 100 planned: 100 on average, from 80 to 120, a quarter under 90.
        let (lower, upper) = (dips([0.0; 4]), dips([-20.0, 20.0, 20.0, -20.0]));
        let thickness = Thickness::between(Length::from_mm(100.0), &lower, &upper).unwrap();
        let over = thickness.over(&yard(), Length::from_mm(90.0));
        assert!((over.mean().to_mm() - 100.0).abs() < 1e-9, "{over:?}");
        assert!(
            (over.least.to_mm() - 80.0).abs() < 1e-9
                && (over.greatest.to_mm() - 120.0).abs() < 1e-9
        );
        assert!((over.below.to_m2() - 2.0).abs() < 1e-9, "{over:?}");
        assert!(over.beyond.to_m2() < 1e-9);
        let thin = thickness.below(&yard(), Length::from_mm(90.0));
        let ring = |piece: &Vec<Point>| Polygon::new(piece.clone().into(), vec![]).unsigned_area();
        assert!((thin.iter().map(ring).sum::<f64>() - 2.0).abs() < 1e-9, "{thin:?}");
        assert!(thin.iter().flatten().all(|p| p.x < 1.0 + 1e-9), "{thin:?}");
        let contours =
            thickness.contours(&yard(), &[Length::from_mm(90.0), Length::from_mm(130.0)]);
        let [contour] = &contours[..] else { panic!("one line: {contours:?}") };
        assert!(contour.pieces.iter().flatten().all(|p| (p.x - 1.0).abs() < 1e-9), "{contour:?}");
    }

    #[test]
    fn dips_in_one_line_are_level_across_it() {
        // Hand arithmetic: below right all over; above measured along one slanting line only, 30 mm
        // more at each metre of it. The rest is beyond what was measured.
        let slanting = |i: u32, beside: f64| {
            let s = f64::from(i);
            let place = Point { x: 0.8 * s - 0.6 * beside, y: 0.6 * s + 0.8 * beside };
            (place, Length::from_mm(30.0 * s))
        };
        let line = [slanting(0, 0.0), slanting(1, 0.006), slanting(2, -0.006), slanting(3, 0.0)];
        let design = Length::from_mm(100.0);
        for (lower, upper, sign) in
            [(dips([0.0; 4]), line.to_vec(), 1.0), (line.to_vec(), dips([0.0; 4]), -1.0)]
        {
            let thickness = Thickness::between(design, &lower, &upper).unwrap();
            for (place, rise) in line {
                let off = thickness.at(place).to_mm() - 100.0 - sign * rise.to_mm();
                assert!(off.abs() < 0.5, "{place:?}: {off}");
            }
        }
        let alone = Thickness::between(design, &line, &line).unwrap();
        let over = alone.over(&yard(), Length::from_mm(90.0));
        assert!((over.mean().to_mm() - 100.0).abs() < 1e-9, "{over:?}");
        assert!(over.beyond.to_m2() > 7.9, "{over:?}");
    }

    #[test]
    fn dips_at_one_place_make_no_thickness() {
        let place = [(Point { x: 1.0, y: 1.0 }, Length::ZERO); 3];
        let design = Length::from_mm(100.0);
        assert_eq!(Thickness::between(design, &place, &dips([0.0; 4])), None);
        assert_eq!(Thickness::between(design, &dips([0.0; 4]), &place), None);
    }

    proptest! {
        #[test]
        fn raising_a_surface_adds_a_slab(
            lower in prop::collection::vec((0.0_f64..4.0, 0.0_f64..2.0, -20.0_f64..20.0), 4..20),
            raise in 1.0_f64..50.0,
        ) {
            let lower: Vec<(Point, Length)> = lower
                .into_iter()
                .map(|(x, y, mm)| (Point { x, y }, Length::from_mm(mm)))
                .collect();
            let over = |mm: f64| {
                let thickness = Thickness::between(Length::from_mm(100.0), &lower, &dips([mm; 4]))?;
                Some(thickness.over(&yard(), Length::ZERO))
            };
            if let (Some(low), Some(high)) = (over(0.0), over(raise)) {
                let slab = 8.0 * raise / 1000.0;
                prop_assert!((low.area.to_m2() - 8.0).abs() < 1e-6, "{:?}", low);
                prop_assert!((high.volume.to_m3() - low.volume.to_m3() - slab).abs() < 1e-6);
            }
        }
    }
}
