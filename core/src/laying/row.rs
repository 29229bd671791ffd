//! How units follow one another along a course, and how it closes on its length.

use super::block::JointLimits;
use super::chain::Chain;
use super::course::Closing;
use crate::units::Length;

/// No piece is sawn that is thinner than the widest gap that is filled rather than cut: 5 mm (seen,
/// SROH (England) A12.2.7).
pub const LEAST_PIECE: f64 = 0.005;
/// Lengths that differ by less are the same.
pub const SAME_LENGTH: f64 = 1e-6;

/// The units of a course, one after the other.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// Their lengths.
    pub lengths: Vec<f64>,
    /// The joint between them, at the inner side.
    pub joint: f64,
    /// How it ends.
    pub closing: Closing,
}

/// What a course is laid from.
#[derive(Debug, Clone, Copy)]
pub struct Units {
    /// Length of a whole unit.
    pub whole: f64,
    /// Length of the half unit that may end a course; none where halves are not laid.
    pub half: Option<f64>,
    /// The joint as planned.
    pub joint: f64,
    /// The joints allowed.
    pub limits: JointLimits,
}

impl Units {
    /// Whether a joint may be laid along a chain, at both sides of it.
    pub fn allow(&self, joint: f64, chain: &Chain) -> bool {
        let slack = 1e-9;
        joint >= self.limits.least.to_m() - slack
            && chain.outer_joint(self.whole, joint) <= self.limits.most.to_m() + slack
    }
}

impl Row {
    /// A piece, whole units after it, and one cut closer where the length leaves a rest.
    pub fn closed(length: f64, first: f64, units: &Units, joint: f64) -> Self {
        let mut lengths = Vec::new();
        let mut left = length;
        let mut next = first;
        while left >= next - 1e-9 {
            lengths.push(next);
            left -= next + joint;
            next = units.whole;
        }
        let closing = if left > LEAST_PIECE {
            lengths.push(left);
            Closing::Closer(Length::from_m(left))
        } else {
            Closing::Even
        };
        Row { lengths, joint, closing }
    }

    /// Whole units, and halves at its ends, with the joint that makes them fill the length exactly:
    /// the nearest to the joint planned that is allowed. Round a closed ring there is a joint more.
    pub fn even(chain: &Chain, starts_half: bool, ring: bool, units: &Units) -> Option<Self> {
        let length = chain.length();
        let first = if starts_half { units.half? } else { units.whole };
        let about = ((length + units.joint) / (units.whole + units.joint)) as usize;
        let lasts = std::iter::once(units.whole).chain(units.half.filter(|_| !ring));
        lasts
            .flat_map(|last| (about.saturating_sub(1)..=about + 1).map(move |n| (last, n)))
            .filter(|(_, between)| *between > 0)
            .filter_map(|(last, between)| {
                let mut lengths = vec![units.whole; between - 1];
                lengths.insert(0, first);
                lengths.push(last);
                let joints = if ring { lengths.len() } else { lengths.len() - 1 };
                let joint = (length - lengths.iter().sum::<f64>()) / joints as f64;
                let closing = Closing::Even;
                units.allow(joint, chain).then_some(Row { lengths, joint, closing })
            })
            .min_by(|a, b| {
                let off = |row: &Row| (row.joint - units.joint).abs();
                off(a).total_cmp(&off(b))
            })
    }

    /// The joint nearest to the one planned that finishes a length on whole units, within its limits
    /// at the inner side, whatever comes of it at the outer.
    pub fn finishing_joint(length: f64, ring: bool, units: &Units) -> Option<f64> {
        let about = ((length + units.joint) / (units.whole + units.joint)) as u32;
        let [least, most] = [units.limits.least, units.limits.most].map(Length::to_m);
        [about, about + 1]
            .into_iter()
            .filter_map(|count| {
                let joints = if ring { count } else { count.checked_sub(1)? };
                (joints > 0).then(|| (length - units.whole * f64::from(count)) / f64::from(joints))
            })
            .filter(|joint| (least..=most).contains(joint))
            .min_by(|a, b| (a - units.joint).abs().total_cmp(&(b - units.joint).abs()))
    }

    /// Where each unit starts, and its length.
    pub fn units(&self) -> impl Iterator<Item = (f64, f64)> + '_ {
        self.lengths.iter().scan(0.0, |at, length| {
            let start = *at;
            *at += length + self.joint;
            Some((start, *length))
        })
    }

    /// Where the middle of each joint is.
    pub fn joints(&self) -> impl Iterator<Item = f64> + '_ {
        let last = self.lengths.len().saturating_sub(1);
        self.units().take(last).map(|(start, length)| start + length + self.joint / 2.0)
    }
}
