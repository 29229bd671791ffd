//! The finished surface: levels along the reference edge with a fall away from it, a plane through
//! spots, or two planes that meet in a line.

use geo::Line;

use super::plane::PlaneFit;
use crate::outline::{Outline, Point, distance};
use crate::units::{Gradient, Length, Level};

/// A finished level at a chainage of the reference edge.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct EdgeLevel {
    /// Distance along the reference edge.
    pub at: Length,
    /// Finished level there.
    pub level: Level,
}

/// Levels along an edge, straight between given ones and held beyond the last.
#[derive(Debug, Clone, PartialEq)]
pub struct EdgeLevels(Vec<EdgeLevel>);

impl EdgeLevels {
    /// Levels in any order, at least one, no two at one place.
    pub fn new(mut levels: Vec<EdgeLevel>) -> Self {
        levels.sort_by(|a, b| a.at.to_m().total_cmp(&b.at.to_m()));
        EdgeLevels(levels)
    }

    /// The level at a chainage.
    pub fn at(&self, chainage: Length) -> Level {
        let mut before: Option<EdgeLevel> = None;
        for next in &self.0 {
            if chainage <= next.at {
                let Some(last) = before else { return next.level };
                let share = (chainage - last.at) / (next.at - last.at);
                return last.level + next.level.above(last.level) * share;
            }
            before = Some(*next);
        }
        before.map_or(Level::ZERO, |last| last.level)
    }
}

/// How the surface lies across, away from the reference edge.
#[derive(Debug, Clone, PartialEq)]
pub enum Across {
    /// Level.
    Level,
    /// Falling by so much, or rising where negative: edge level - distance / G.
    Fall(Gradient),
    /// Straight across to levels along the far edge, given by the chainage of the reference edge.
    To {
        /// The levels of the far edge.
        far: EdgeLevels,
        /// The width of the strip.
        width: Length,
    },
}

/// A line with a level at both ends, from which a plane falls away on each side.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ridge {
    /// The ends of the line; the levels run on straight beyond them.
    pub ends: [(Point, Level); 2],
    /// The fall away from the line on its left and on its right; none is level across.
    pub falls: [Option<Gradient>; 2],
}

impl Ridge {
    /// The level at a point.
    pub fn level(&self, point: Point) -> Level {
        let [(a, from), (b, to)] = self.ends;
        let length = distance(a, b).to_m();
        let (dx, dy) = ((b.x - a.x) / length, (b.y - a.y) / length);
        let (x, y) = (point.x - a.x, point.y - a.y);
        let (along, left) = (x * dx + y * dy, y * dx - x * dy);
        let [on_left, on_right] = self.falls;
        let fall = if left >= 0.0 { on_left } else { on_right };
        let drop = fall.map_or(Length::ZERO, |g| g.drop_over(Length::from_m(left.abs())));
        from + to.above(from) * (along / length) - drop
    }
}

/// The finished surface over an outline.
#[derive(Debug, Clone, PartialEq)]
pub enum Surface {
    /// Levels along the reference edge.
    Edge {
        /// The levels.
        levels: EdgeLevels,
        /// How it lies away from the edge.
        across: Across,
    },
    /// The plane nearest to spots.
    Spots(PlaneFit),
    /// Two planes that meet in a line.
    Planes(Ridge),
}

impl Surface {
    /// Levels along the reference edge, in any order, and a crossfall away from it.
    pub fn from_edge(levels: Vec<EdgeLevel>, crossfall: Option<Gradient>) -> Self {
        let across = crossfall.map_or(Across::Level, Across::Fall);
        Surface::Edge { levels: EdgeLevels::new(levels), across }
    }

    /// The level at a point.
    pub fn level_at(&self, outline: &Outline, point: Point) -> Level {
        match self {
            Surface::Edge { levels, across } => {
                let place = outline.place(point);
                let edge = levels.at(place.chainage);
                match across {
                    Across::Level => edge,
                    Across::Fall(fall) => edge - fall.drop_over(place.offset),
                    Across::To { far, width } => {
                        edge + far.at(place.chainage).above(edge) * (place.offset / *width)
                    }
                }
            }
            Surface::Spots(fit) => fit.plane.level(point),
            Surface::Planes(ridge) => ridge.level(point),
        }
    }

    /// The lines in which the surface bends, at least as long as the paving.
    pub(super) fn bends(&self, outline: &Outline) -> Vec<Line> {
        match self {
            Surface::Edge { levels, across } => {
                let reach = outline.reach();
                let across = match across {
                    Across::Level | Across::Fall(_) => &[],
                    Across::To { far, .. } => &far.0[..],
                };
                let end = outline.edge().length();
                let inner = |at: &Length| *at > Length::ZERO && *at < end;
                let places = levels.0.iter().chain(across).map(|level| level.at).filter(inner);
                let line = |at| Line::new(outline.point(at, -reach), outline.point(at, reach));
                places.map(line).collect()
            }
            Surface::Spots(_) => Vec::new(),
            Surface::Planes(ridge) => {
                let [(a, _), (b, _)] = ridge.ends;
                let reach = FARTHEST / distance(a, b);
                vec![Line::new(a - (b - a) * reach, b + (b - a) * reach)]
            }
        }
    }
}

/// Farther than any paving reaches.
const FARTHEST: Length = Length::from_m(2000.0);

#[cfg(test)]
mod tests {
    use super::*;

    fn levels(list: &[(f64, f64)]) -> Vec<EdgeLevel> {
        let level = |(at, mm): &(f64, f64)| EdgeLevel {
            at: Length::from_m(*at),
            level: Level::from_mm(*mm),
        };
        list.iter().map(level).collect()
    }

    fn at(surface: &Surface, outline: &Outline, x: f64, y: f64) -> f64 {
        surface.level_at(outline, Point { x, y }).to_mm()
    }

    #[test]
    fn a_plane_by_hand() {
        // Hand arithmetic: z = -x/80 - y/60 over 5 m by 6 m has corners 0, -62.5, -162.5, -100.
        let outline = Outline::rectangle(Length::from_m(5.0), Length::from_m(6.0));
        let surface =
            Surface::from_edge(levels(&[(0.0, 0.0), (5.0, -62.5)]), Some(Gradient::one_in(60.0)));
        let corners = [(0.0, 0.0, 0.0), (5.0, 0.0, -62.5), (5.0, 6.0, -162.5), (0.0, 6.0, -100.0)];
        for (x, y, mm) in corners {
            assert!((at(&surface, &outline, x, y) - mm).abs() < 1e-9, "{x} {y}");
        }
    }

    #[test]
    fn beyond_the_last_level_it_is_held() {
        let levels = EdgeLevels::new(levels(&[(1.0, -5.0)]));
        for at in [-2.0, 0.0, 1.0, 9.0] {
            assert_eq!(levels.at(Length::from_m(at)), Level::from_mm(-5.0));
        }
    }

    #[test]
    fn a_warped_strip_runs_straight_across() {
        // Hand arithmetic: level at the near edge, 0 to -60 along the far edge of a strip of 6 by
        // 2 m: half way along and half way across it is a quarter of -60.
        let outline = Outline::rectangle(Length::from_m(6.0), Length::from_m(2.0));
        let far = EdgeLevels::new(levels(&[(0.0, 0.0), (6.0, -60.0)]));
        let across = Across::To { far, width: Length::from_m(2.0) };
        let surface = Surface::Edge { levels: EdgeLevels::new(levels(&[(0.0, 0.0)])), across };
        for (x, y, mm) in [(3.0, 1.0, -15.0), (6.0, 2.0, -60.0), (6.0, 0.0, 0.0)] {
            assert!((at(&surface, &outline, x, y) - mm).abs() < 1e-9, "{x} {y}");
        }
    }

    #[test]
    fn two_planes_fall_away_from_their_line() {
        // Hand arithmetic: a ridge along x from 0 to -100 over 10 m, 1 in 50 to its left and level
        // to its right.
        let outline = Outline::rectangle(Length::from_m(10.0), Length::from_m(4.0));
        let end = |x, mm| (Point { x, y: 2.0 }, Level::from_mm(mm));
        let ridge = Ridge {
            ends: [end(0.0, 0.0), end(10.0, -100.0)],
            falls: [Some(Gradient::one_in(50.0)), None],
        };
        let surface = Surface::Planes(ridge);
        for (x, y, mm) in
            [(5.0, 2.0, -50.0), (5.0, 4.0, -90.0), (5.0, 0.0, -50.0), (12.0, 2.0, -120.0)]
        {
            assert!((at(&surface, &outline, x, y) - mm).abs() < 1e-9, "{x} {y}");
        }
    }
}
