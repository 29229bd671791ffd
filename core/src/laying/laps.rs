//! Laps: how far the joints of a course lie from those of the course before, and what mends them.

use super::chain::Chain;
use super::course::Closing;
use super::row::{LEAST_PIECE, Row, Units};
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
/// Pieces that may stand within a course, as shares of a whole unit.
const CLOSERS: [f64; 4] = [0.75, 2.0 / 3.0, 0.5, 0.4];
/// Whole units are looked ahead no farther than this.
const FORESIGHT: u32 = 60;

/// Units in order, with a cut piece wherever a whole one would end in a short lap: the piece after
/// which most whole ones follow.
fn with_closers(chain: &Chain, before: &Joints, units: &Units) -> Kept {
    let (length, joint) = (chain.length(), units.joint);
    let good = |end: f64| end >= length || lap(chain, end + joint / 2.0, before) >= quarter(units);
    let follow = |mut at: f64| {
        let mut count = 0;
        while count < FORESIGHT && at < length && good(at + units.whole) {
            at += units.whole + joint;
            count += 1;
        }
        count
    };
    let (mut lengths, mut places) = (Vec::new(), Vec::new());
    let mut at = 0.0;
    while length - at > LEAST_PIECE {
        let mut next = units.whole;
        if !good(at + next) {
            let pieces = CLOSERS.map(|share| units.whole * share);
            let best = pieces
                .into_iter()
                .filter(|piece| good(at + piece))
                .max_by_key(|piece| follow(at + piece + joint));
            if let Some(piece) = best {
                places.push(Length::from_m(chain.chainage(at)));
                next = piece;
            }
        }
        lengths.push(next.min(length - at));
        at += next + joint;
    }
    let closing = match lengths.last() {
        Some(last) if *last < units.whole - LEAST_PIECE => Closing::Closer(Length::from_m(*last)),
        _ => Closing::Even,
    };
    let row = Row { lengths, joint, closing };
    Kept { row, mend: Mend::Closers(places) }
}
