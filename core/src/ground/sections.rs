//! Volumes from cross-sections.

use crate::units::{Area, Length, Volume};

/// Volume between two sections by their mean: L (A1 + A2) / 2; by the pyramid rule, L A / 3, where
/// one of them is nothing.
pub fn end_areas(sections: &[(Length, Area)]) -> Volume {
    sections
        .windows(2)
        .filter_map(|pair| {
            let &[(from, a), (to, b)] = pair else { return None };
            let share = if a == Area::ZERO || b == Area::ZERO { 3.0 } else { 2.0 };
            Some((a + b) * (to - from) / share)
        })
        .sum()
}

/// Volume of sections at an even spacing by Simpson's rule on an odd number of them, the last pair
/// by their mean where the number is even.
pub fn prismoidal(spacing: Length, areas: &[Area]) -> Volume {
    let odd = areas.len() - usize::from(areas.len().is_multiple_of(2)).min(areas.len());
    let mut volume = Volume::ZERO;
    let mut index = 0;
    while index + 2 < odd {
        if let Some([a, m, b]) = areas.get(index..index + 3) {
            volume += (*a + *m * 4.0 + *b) * spacing / 3.0;
        }
        index += 2;
    }
    if let Some([a, b]) = areas.get(odd.saturating_sub(1)..).filter(|rest| rest.len() == 2) {
        volume += (*a + *b) * spacing / 2.0;
    }
    volume
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn printed_embankment() {
        // Open textbook Fundamentals of Transportation, Earthwork (worked example V3): 4087.5 m3.
        let sections = [(0.0, 60.0), (50.0, 50.0), (75.0, 25.0), (100.0, 5.0), (115.0, 0.0)]
            .map(|(at, area)| (Length::from_m(at), Area::from_m2(area)));
        assert!((end_areas(&sections).to_m3() - 4087.5).abs() < 0.05);
    }

    #[test]
    fn a_volume_printed_wrong_comes_out_right() {
        // Printed as 16 535 by the prismoidal rule; right is 18 760, Simpson on five sections and
        // the mean on the last; by the mean throughout 18 847.5.
        let areas = [375.0, 620.0, 945.0, 1365.0, 1880.0, 2570.0].map(Area::from_m2);
        let spacing = Length::from_m(3.0);
        assert!((prismoidal(spacing, &areas).to_m3() - 18_760.0).abs() < 0.5);
        let placed: Vec<_> = (0_u32..).map(|i| spacing * f64::from(i)).zip(areas).collect();
        assert!((end_areas(&placed).to_m3() - 18_847.5).abs() < 0.05);
    }

    #[test]
    fn a_prismoid_by_its_formula() {
        // Standard prismoid: L (A1 + 4 Am + A2) / 6 with Am from averaged sides: 4 x 2 to 2 x 1
        // over 6 m, Am = 3 x 1.5: (8 + 18 + 2) = 28 m3.
        let areas = [8.0, 4.5, 2.0].map(Area::from_m2);
        assert!((prismoidal(Length::from_m(3.0), &areas).to_m3() - 28.0).abs() < 1e-9);
        assert_eq!(prismoidal(Length::from_m(3.0), &[]), Volume::ZERO);
    }
}
