//! Laps: how far the joints of a course lie from those of the course before, and what mends them.

use super::chain::Chain;
use super::course::Closing;
use super::row::{LEAST_PIECE, Row, SAME_LENGTH, Units};
use crate::units::Length;

/// A course's joints by their chainage along the edge, in order.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Joints(Vec<f64>);

/// A stretch of a course on which laps are short.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ShortLap {
    /// Chainage from the first short lap to the last.
    pub chainage: [Length; 2],
    /// The shortest.
    pub least: Length,
}

/// What mends the laps of a course.
#[derive(Debug, Clone, PartialEq)]
pub enum Mend {
    /// Nothing is needed.
    None,
    /// Another joint, within the limits.
    Joint(Length),
    /// The course begins with a piece of this length.
    Start(Length),
    /// Cut pieces within the course, at these chainages.
    Closers(Vec<Length>),
}

/// A course with its laps kept.
#[derive(Debug, Clone, PartialEq)]
pub struct Kept {
    /// Its units.
    pub row: Row,
    /// What was done.
    pub mend: Mend,
}

/// The joints of a row.
pub fn joints(chain: &Chain, row: &Row) -> Joints {
    Joints(row.joints().map(|inner| chain.chainage(inner)).collect())
}

impl Joints {
    /// How far a chainage is from the nearest joint.
    fn nearest(&self, chainage: f64) -> f64 {
        let after = self.0.partition_point(|joint| *joint < chainage);
        let near = |index: usize| self.0.get(index).map_or(f64::INFINITY, |j| (j - chainage).abs());
        near(after).min(after.checked_sub(1).map_or(f64::INFINITY, near))
    }
}

/// The lap at a place along the inner side of a course, taken along that side.
fn lap(chain: &Chain, inner: f64, before: &Joints) -> f64 {
    let chainage = chain.chainage(inner);
    let span = chain.spans().iter().find(|span| inner <= span.inner[1]);
    let scale = span.map_or(1.0, |span| {
        (span.inner[1] - span.inner[0]) / (span.chainage[1] - span.chainage[0])
    });
    before.nearest(chainage) * scale
}

/// The shortest lap of a row against the course before; none where it has no joint, or that has
/// none.
pub fn least(chain: &Chain, row: &Row, before: &Joints) -> Option<Length> {
    let laps = row.joints().map(|inner| lap(chain, inner, before));
    laps.filter(|lap| lap.is_finite()).reduce(f64::min).map(Length::from_m)
}

/// Every stretch on which laps are under a quarter of a whole unit.
pub fn short(chain: &Chain, row: &Row, before: &Joints, units: &Units) -> Vec<ShortLap> {
    let mut stretches: Vec<ShortLap> = Vec::new();
    let mut open = false;
    for inner in row.joints() {
        let lap = lap(chain, inner, before);
        if lap >= quarter(units) {
            open = false;
            continue;
        }
        let (at, lap) = (Length::from_m(chain.chainage(inner)), Length::from_m(lap));
        match stretches.last_mut() {
            Some(last) if open => {
                last.chainage[1] = at;
                last.least = last.least.min(lap);
            }
            _ => stretches.push(ShortLap { chainage: [at, at], least: lap }),
        }
        open = true;
    }
    stretches
}

fn quarter(units: &Units) -> f64 {
    // A quarter exactly is enough.
    units.whole / 4.0 - 1e-9
}

/// The row as it is where its laps hold, else the first of these that makes them hold: another joint,
/// another start, closers within it.
pub fn keep(chain: &Chain, row: Row, before: &Joints, units: &Units) -> Kept {
    let holds = |row: &Row| short(chain, row, before, units).is_empty();
    if holds(&row) {
        return Kept { row, mend: Mend::None };
    }
    let length = chain.length();
    let firsts = [units.whole, units.half.unwrap_or(units.whole)];
    let joints = (0_u32..).map(|i| units.limits.least.to_m() + f64::from(i) * JOINT_STEP);
    for joint in joints.take_while(|joint| units.allow(*joint, chain)) {
        let rows = firsts.map(|first| Row::closed(length, first, units, joint));
        if let Some(row) = rows.into_iter().find(|row| holds(row)) {
            return Kept { row, mend: Mend::Joint(Length::from_m(joint)) };
        }
    }
    for share in STARTS {
        let first = units.whole * share;
        let row = Row::closed(length, first, units, units.joint);
        if holds(&row) {
            return Kept { row, mend: Mend::Start(Length::from_m(first)) };
        }
    }
    with_closers(chain, before, units)
}

/// Joints are tried in steps of half a millimetre.
const JOINT_STEP: f64 = 0.0005;
/// Starts that are tried, as shares of a whole unit.
const STARTS: [f64; 4] = [0.75, 2.0 / 3.0, 0.5, 0.4];
/// Places along a course are told apart by so much while the fewest closers are looked for.
const PLACE: f64 = 0.002;
/// Closers are tried in steps of this share of a whole unit, from two fifths up.
const CLOSER_STEP: f64 = 0.05;
const SHORTEST_CLOSER: u32 = 8;
const LONGEST_CLOSER: u32 = 19;

/// What stands in a course, as it is weighed against other ways: a short lap is worse than any
/// number of cuts, and a short piece within the course worse than a long one, for the joints beside it
/// leave the next course less room for its own.
const SHORT: u64 = 1_000_000;
const CUT: u64 = 100;
const SQUEEZE: f64 = 400.0;
/// A piece of this share of a whole unit or more squeezes nothing.
const ROOMY: f64 = 0.75;

/// A place that units may follow on from.
#[derive(Clone, Copy)]
struct Reached {
    at: f64,
    cost: u64,
    before: usize,
    length: f64,
}

/// The units with the fewest short laps, and of those the fewest cuts: the cheapest way along the
/// course, from each place with a whole unit or a piece.
fn with_closers(chain: &Chain, before: &Joints, units: &Units) -> Kept {
    let (length, joint) = (chain.length(), units.joint);
    let steps = (SHORTEST_CLOSER..=LONGEST_CLOSER).map(f64::from);
    let pieces = steps.map(|step| units.whole * step * CLOSER_STEP).chain(units.half);
    let squeeze = |piece: f64| (SQUEEZE * (ROOMY - piece / units.whole).max(0.0)) as u64;
    let mut choices: Vec<(f64, u64)> = pieces.map(|piece| (piece, CUT + squeeze(piece))).collect();
    choices.push((units.whole, 0));
    let place = |at: f64| (at / PLACE).round() as usize;
    let mut reached: Vec<Option<Reached>> = vec![None; place(length) + 1];
    let start = Reached { at: 0.0, cost: 0, before: 0, length: 0.0 };
    if let Some(first) = reached.first_mut() {
        *first = Some(start);
    }
    let mut best: Option<Reached> = None;
    let mut offer = |way: Reached| {
        if best.is_none_or(|best| way.cost < best.cost) {
            best = Some(way);
        }
    };
    for here in 0..reached.len() {
        let Some(Some(from)) = reached.get(here).copied() else { continue };
        if from.at + units.whole >= length - SAME_LENGTH {
            // The last unit: what is left of the course.
            let is_cut = length - from.at < units.whole - SAME_LENGTH;
            let cost = from.cost + if is_cut { CUT } else { 0 };
            offer(Reached { at: length, cost, before: here, length: length - from.at });
        }
        for (unit, cost) in &choices {
            let end = from.at + unit;
            let at = end + joint;
            let closes = at >= length - LEAST_PIECE;
            let short = !closes && lap(chain, end + joint / 2.0, before) < quarter(units);
            // Nothing is squeezed by the piece that a course starts with.
            let cost = if from.at > 0.0 { *cost } else { (*cost).min(CUT) };
            let cost = from.cost + cost + if short { SHORT } else { 0 };
            if end > length + SAME_LENGTH {
                continue;
            }
            if closes {
                // What is left is joint.
                offer(Reached { at: length, cost, before: here, length: *unit });
                continue;
            }
            if let Some(next) = reached.get_mut(place(at))
                && next.is_none_or(|next| cost < next.cost)
            {
                *next = Some(Reached { at, cost, before: here, length: *unit });
            }
        }
    }
    let mut lengths = Vec::new();
    let mut back = best;
    while let Some(unit) = back.filter(|unit| unit.length > 0.0) {
        lengths.push(unit.length);
        back = reached.get(unit.before).copied().flatten();
    }
    lengths.reverse();
    closed_on(chain, units, lengths)
}

/// The course of these units, with its pieces by chainage.
fn closed_on(chain: &Chain, units: &Units, lengths: Vec<f64>) -> Kept {
    let is_cut = |length: f64| length < units.whole - SAME_LENGTH;
    let closing = match lengths.last() {
        Some(last) if is_cut(*last) => Closing::Closer(Length::from_m(*last)),
        _ => Closing::Even,
    };
    let row = Row { lengths, joint: units.joint, closing };
    let within = row.lengths.len().saturating_sub(1);
    let pieces = row.units().take(within).filter(|(_, length)| is_cut(*length));
    let places: Vec<_> = pieces.map(|(start, _)| Length::from_m(chain.chainage(start))).collect();
    // Only its last piece may differ: there is nothing to set.
    let mend = if places.is_empty() { Mend::None } else { Mend::Closers(places) };
    Kept { row, mend }
}

#[cfg(test)]
mod tests {
    use super::super::block::JointLimits;
    use super::super::chain::Reach;
    use super::*;
    use crate::outline::{Edge, Hand, Run};

    fn units() -> Units {
        let limits = JointLimits { least: Length::from_mm(2.0), most: Length::from_mm(5.0) };
        Units { whole: 0.2, half: Some(0.0985), joint: 0.003, limits }
    }

    fn quarter_turn() -> Edge {
        let radius = Length::from_m(3.9);
        let length = radius * std::f64::consts::FRAC_PI_2;
        Edge::new(&[Run::Arc { length, radius, turn: Hand::Left }])
    }

    fn course(edge: &Edge, index: u32) -> Chain<'_> {
        let reach = Reach {
            chainage: [0.0, edge.length().to_m()],
            near: 0.103 * f64::from(index),
            depth: 0.1,
        };
        Chain::new(edge, -1.0, reach).expect("outside the curve")
    }

    #[test]
    fn laps_drift_as_courses_lengthen() {
        // Hand arithmetic: at R 3.9 a course 103 mm farther out is longer by 0.103 x pi / 2 = 162 mm
        // a quarter turn. A half lap of 101.5 mm is used up when that reaches 101.5: at 0.63 of the
        // way. Laps fall under 50 mm when 51.5 of it are gone, at 0.32 of the way, 1.95 m along the
        // edge of 6.13 m; the nearest joints before and after are within a block of that.
        let edge = quarter_turn();
        let (first, second) = (course(&edge, 0), course(&edge, 1));
        let whole = Row::closed(first.length(), 0.2, &units(), 0.003);
        let half = Row::closed(second.length(), 0.0985, &units(), 0.003);
        let before = joints(&first, &whole);
        let short = short(&second, &half, &before, &units());
        assert_eq!(short.len(), 1, "{short:?}");
        assert!((short[0].chainage[0].to_m() - 1.95).abs() < 0.21, "{short:?}");
        assert!(short[0].least.to_mm() < 3.0, "{short:?}");
    }

    #[test]
    fn closers_keep_every_lap() {
        let edge = quarter_turn();
        let mut before = None;
        for index in 0..12 {
            let chain = course(&edge, index);
            let first = if index % 2 == 0 { 0.2 } else { 0.0985 };
            let mut row = Row::closed(chain.length(), first, &units(), 0.003);
            if let Some(before) = &before {
                row = keep(&chain, row, before, &units()).row;
                assert!(short(&chain, &row, before, &units()).is_empty(), "course {index}");
                let length: f64 =
                    row.lengths.iter().sum::<f64>() + row.joint * (row.lengths.len() - 1) as f64;
                let gap = chain.length() - length;
                assert!((-1e-6..LEAST_PIECE + 0.003).contains(&gap), "course {index}: {gap}");
            }
            before = Some(joints(&chain, &row));
        }
    }
}
