//! Stone or sand short or over, from what the dips say of the layer that it lies on.

use crate::units::{Area, Density, Length, Mass};

/// What a layer wants beyond its plan, by the dips of the layer below it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Forecast {
    /// Dips it rests on.
    pub dips: u32,
    /// Mean depth to fill beyond the plan; negative where the layer below stands high.
    pub mean: Length,
    /// Mass to fill it, short where above nothing, over where below.
    pub short: Mass,
    /// Two standard errors of that mass: what lies between the dips is not measured. None for a
    /// single dip, which says nothing of the spread.
    pub uncertainty: Option<Mass>,
}

/// The forecast from how far each dip stands low, over an area; none without a dip.
pub fn forecast(low: &[Length], area: Area, density: Density) -> Option<Forecast> {
    let count = low.len() as f64;
    if low.is_empty() {
        return None;
    }
    let mean = low.iter().copied().sum::<Length>() / count;
    let squares: f64 = low.iter().map(|one| (*one - mean).to_m().powi(2)).sum();
    let error = |squares: f64| Length::from_m((squares / (count - 1.0) / count).sqrt());
    let mass = |depth: Length| area * depth * density;
    Some(Forecast {
        dips: u32::try_from(low.len()).unwrap_or(u32::MAX),
        mean,
        short: mass(mean),
        uncertainty: (low.len() > 1).then(|| mass(error(squares) * 2.0)),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn twelve_dips_of_a_formation() {
        // Hand arithmetic (capability C19): 12 dips, mean 27.58 mm short, standard deviation
        // 6.53 mm, over 38.48 m2 at 2.1 t/m3: 2.23 t, two standard errors 0.30 t.
        let low =
            [34, 32, 22, 18, 33, 25, 17, 34, 31, 21, 31, 33].map(|mm| Length::from_mm(mm.into()));
        let forecast = forecast(&low, Area::from_m2(38.48), Density::from_t_per_m3(2.1)).unwrap();
        assert_eq!(forecast.dips, 12);
        assert!((forecast.mean.to_mm() - 27.58).abs() < 0.005, "{forecast:?}");
        assert!((forecast.short.to_t() - 2.23).abs() < 0.005, "{forecast:?}");
        assert!((forecast.uncertainty.unwrap().to_t() - 0.30).abs() < 0.005, "{forecast:?}");
    }

    #[test]
    fn one_dip_says_nothing_of_the_spread() {
        let one = |low: &[Length]| forecast(low, Area::from_m2(10.0), Density::from_t_per_m3(2.2));
        assert_eq!(one(&[]), None);
        let single = one(&[Length::from_mm(-10.0)]).unwrap();
        assert!((single.short.to_t() + 0.22).abs() < 1e-12);
        assert_eq!(single.uncertainty, None);
    }

    proptest! {
        #[test]
        fn twice_the_area_is_twice_the_stone(
            low in prop::collection::vec(-50.0_f64..80.0, 2..30), area in 1.0_f64..200.0,
        ) {
            let low: Vec<Length> = low.into_iter().map(Length::from_mm).collect();
            let density = Density::from_t_per_m3(2.2);
            let once = forecast(&low, Area::from_m2(area), density).unwrap();
            let twice = forecast(&low, Area::from_m2(2.0 * area), density).unwrap();
            prop_assert!((twice.short.to_t() - 2.0 * once.short.to_t()).abs() < 1e-9);
            prop_assert!(once.uncertainty.unwrap() >= Mass::ZERO);
        }
    }
}
