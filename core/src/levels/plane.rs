//! The plane nearest to spot levels by least squares.

use crate::outline::Point;
use crate::units::{Length, Level};

/// A plane: level = at the origin + x times one slope + y times the other.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Plane {
    /// Level at the frame's origin.
    pub origin: Level,
    /// Rise per metre along x and along y, metres: negative falls.
    pub slopes: [f64; 2],
}

impl Plane {
    /// The level at a point.
    pub fn level(&self, point: Point) -> Level {
        let [along_x, along_y] = self.slopes;
        self.origin + Length::from_m(along_x * point.x + along_y * point.y)
    }
}

/// A plane with the spots that it was laid through.
#[derive(Debug, Clone, PartialEq)]
pub struct PlaneFit {
    /// The plane.
    pub plane: Plane,
    /// The spots.
    pub spots: Vec<(Point, Level)>,
}

/// Spots that lie nearer to one line than this, as a share of their spread, make no plane.
const FLATTEST: f64 = 1e-6;

impl PlaneFit {
    /// The plane whose heights above and below the spots have the least sum of squares.
    ///
    /// None where the spots are fewer than three or lie in one line.
    pub fn through(spots: Vec<(Point, Level)>) -> Option<Self> {
        let count = spots.len() as f64;
        let mean = |of: &dyn Fn(&(Point, Level)) -> f64| spots.iter().map(of).sum::<f64>() / count;
        let (x, y) = (mean(&|s| s.0.x), mean(&|s| s.0.y));
        let z = mean(&|s| s.1.to_m());
        // About their middle, so that spots far from the origin lose no digits.
        let [mut xx, mut xy, mut yy, mut xz, mut yz] = [0.0; 5];
        for (point, level) in &spots {
            let (dx, dy, dz) = (point.x - x, point.y - y, level.to_m() - z);
            xx += dx * dx;
            xy += dx * dy;
            yy += dy * dy;
            xz += dx * dz;
            yz += dy * dz;
        }
        let area = xx * yy - xy * xy;
        if spots.len() < 3 || area <= (xx + yy).powi(2) * FLATTEST * FLATTEST {
            return None;
        }
        let slopes = [(xz * yy - yz * xy) / area, (yz * xx - xz * xy) / area];
        let origin = Level::from_m(z - slopes[0] * x - slopes[1] * y);
        Some(PlaneFit { plane: Plane { origin, slopes }, spots })
    }

    /// How far each spot lies above the plane.
    pub fn residuals(&self) -> impl Iterator<Item = Length> {
        self.spots.iter().map(|(point, level)| level.above(self.plane.level(*point)))
    }

    /// The spot farthest from the plane, by its place in the list, and how far it lies above it.
    pub fn worst(&self) -> Option<(usize, Length)> {
        self.residuals()
            .enumerate()
            .max_by(|(_, a), (_, b)| a.abs().to_m().total_cmp(&b.abs().to_m()))
    }
}
