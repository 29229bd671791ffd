//! The ground and what lies on it: spot heights triangulated, volumes between them and a level, the
//! thickness between two dipped surfaces, how well dips cover a shape, the grid method, end areas.

mod between;
mod cover;
mod existing;
mod grid;
mod mesh;
mod sections;
mod spots;

pub use between::{Contour, Thickness, ThicknessOver};
pub use cover::farthest;
pub use existing::{Existing, Pieces};
pub use grid::{Grid, GridVolume};
pub use mesh::Mesh;
pub use sections::{end_areas, prismoidal};
pub use spots::{Spot, SpotVolume, Spots};

/// Mean depth of cut and of fill over a triangle whose corners have these depths, split along its
/// zero line: exact for a plane.
pub(crate) fn prism(depths: [f64; 3]) -> [f64; 2] {
    let mean = depths.iter().sum::<f64>() / 3.0;
    let mut sorted = depths;
    sorted.sort_by(f64::total_cmp);
    let [low, middle, high] = sorted;
    if low >= 0.0 {
        return [mean, 0.0];
    }
    if high <= 0.0 {
        return [0.0, -mean];
    }
    // The corner alone on its side of the zero line is the tip of a pyramid.
    let tip = |tip: f64, a: f64, b: f64| tip / 3.0 * (tip / (tip - a)) * (tip / (tip - b));
    if middle > 0.0 {
        let fill = -tip(low, middle, high);
        [mean + fill, fill]
    } else {
        let cut = tip(high, low, middle);
        [cut, cut - mean]
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn cut_less_fill_is_the_mean(depths in proptest::array::uniform3(-2.0_f64..2.0)) {
            let [cut, fill] = prism(depths);
            let mean = depths.iter().sum::<f64>() / 3.0;
            prop_assert!((cut - fill - mean).abs() < 1e-12);
            prop_assert!(cut >= -1e-12 && fill >= -1e-12);
        }
    }
}
