//! The finished surface: levels along the reference edge and a crossfall away from it.

use crate::outline::{Outline, Point};
use crate::units::{Gradient, Length, Level};

/// A finished level at a chainage of the reference edge.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct EdgeLevel {
    /// Distance along the reference edge.
    pub at: Length,
    /// Finished level there.
    pub level: Level,
}

/// The finished surface over an outline.
#[derive(Debug, Clone, PartialEq)]
pub struct Surface {
    /// By rising chainage; at least one.
    edge_levels: Vec<EdgeLevel>,
    crossfall: Option<Gradient>,
}

impl Surface {
    /// A surface from levels along the reference edge, in any order, and a crossfall away from it.
    pub fn new(mut edge_levels: Vec<EdgeLevel>, crossfall: Option<Gradient>) -> Self {
        edge_levels.sort_by(|a, b| a.at.to_m().total_cmp(&b.at.to_m()));
        Surface { edge_levels, crossfall }
    }

    /// The crossfall.
    pub const fn crossfall(&self) -> Option<Gradient> {
        self.crossfall
    }

    /// The level on the reference edge: straight between given levels, held beyond the last.
    pub fn edge_level(&self, chainage: Length) -> Level {
        let mut before: Option<EdgeLevel> = None;
        for next in &self.edge_levels {
            if chainage <= next.at {
                let Some(last) = before else { return next.level };
                let share = (chainage - last.at) / (next.at - last.at);
                return last.level + next.level.above(last.level) * share;
            }
            before = Some(*next);
        }
        before.map_or(Level::ZERO, |last| last.level)
    }

    /// The level at a chainage, so far from the reference edge into the paving:
    /// edge level - distance / G.
    pub fn level(&self, chainage: Length, into: Length) -> Level {
        let drop = self.crossfall.map_or(Length::ZERO, |g| g.drop_over(into));
        self.edge_level(chainage) - drop
    }

    /// The level at a point.
    pub fn level_at(&self, outline: &Outline, point: Point) -> Level {
        let place = outline.place(point);
        self.level(place.chainage, place.offset)
    }

    /// Chainages at which the surface bends along the edge.
    pub fn bends(&self) -> impl Iterator<Item = Length> {
        self.edge_levels.iter().map(|l| l.at)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_plane_by_hand() {
        // Hand arithmetic: z = -x/80 - y/60 over 5 m by 6 m has corners 0, -62.5, -162.5, -100.
        let levels = [(0.0, 0.0), (5.0, -62.5)]
            .map(|(at, mm)| EdgeLevel { at: Length::from_m(at), level: Level::from_mm(mm) });
        let surface = Surface::new(levels.to_vec(), Some(Gradient::one_in(60.0)));
        let corners = [(0.0, 0.0, 0.0), (5.0, 0.0, -62.5), (5.0, 6.0, -162.5), (0.0, 6.0, -100.0)];
        for (x, y, mm) in corners {
            let level = surface.level(Length::from_m(x), Length::from_m(y));
            assert!((level.to_mm() - mm).abs() < 1e-9, "{x} {y}: {level:?}");
        }
    }

    #[test]
    fn beyond_the_last_level_it_is_held() {
        let levels = vec![EdgeLevel { at: Length::from_m(1.0), level: Level::from_mm(-5.0) }];
        let surface = Surface::new(levels, None);
        for at in [-2.0, 0.0, 1.0, 9.0] {
            assert_eq!(surface.edge_level(Length::from_m(at)), Level::from_mm(-5.0));
        }
    }
}
