//! Units of a row set along a chain, each clipped to the ground it is laid on.

use geo::{BooleanOps as _, MultiPolygon};

use super::block::Block;
use super::chain::Chain;
use super::piece::{Piece, Place};
use super::region::{Corners, Cover, Region, Scratch, polygon, shared_area};
use super::row::Row;
use crate::outline::Point;

/// A unit is the block itself where it differs from it by less than this each way.
const SAME: f64 = 1e-6;

/// Units that share less than this touch.
const SHARED_M2: f64 = 1e-9;

/// How blocks stand in a line.
#[derive(Debug, Clone, Copy)]
pub struct Stand {
    /// Length of a whole unit along the line.
    pub along: f64,
    /// How far a whole unit reaches across it.
    pub across: f64,
    /// How far the units reach across in this line: less where they are ripped.
    pub depth: f64,
}

/// Sets the units of a row. Where a tight curve turns one into the one before it, it is cut back.
pub fn set(
    chain: &Chain,
    row: &Row,
    stand: &Stand,
    region: &Region,
    block: &Block,
    place: Place,
) -> Vec<Piece> {
    let mut scratch = Scratch::default();
    let mut pieces = Vec::with_capacity(row.lengths.len());
    let mut before: Option<Corners> = None;
    for (start, length) in row.units() {
        let unit = chain.corners(start, length, stand.depth);
        let last = before.replace(unit);
        let part = region.part_at((unit[0] + unit[2]) / 2.0);
        let Some(tile) = part.and_then(|part| part.tile) else { continue };
        let whole = whole_block(&unit, stand);
        let overlapped = last.filter(|last| shared_area(&unit, last, &mut scratch) > SHARED_M2);
        let is_whole = stand.along - length < SAME && (stand.across - stand.depth).abs() < SAME;
        let left = match tile.cover(&unit, &mut scratch) {
            Cover::None => continue,
            Cover::Whole if is_whole && overlapped.is_none() => {
                pieces.push(Piece::block(unit, place));
                continue;
            }
            Cover::Whole => vec![polygon(unit.to_vec())],
            Cover::Part(parts) => parts,
        };
        let left = match overlapped {
            None => left,
            Some(last) => MultiPolygon(left).difference(&polygon(last.to_vec())).0,
        };
        pieces.extend(left.into_iter().map(|left| Piece::cut(whole, left, block.face(), place)));
    }
    pieces
}

/// The whole block that a unit is sawn from, from a long side on: it shares the unit's first corner.
fn whole_block(unit: &Corners, stand: &Stand) -> Corners {
    let [a, b, _, d] = *unit;
    let direction = |v: Point| v / v.x.hypot(v.y);
    let (along, across) = (direction(b - a) * stand.along, direction(d - a) * stand.across);
    let corners = [a, a + along, a + along + across, a + across];
    if stand.along >= stand.across {
        corners
    } else {
        let [a, b, c, d] = corners;
        [b, c, d, a]
    }
}
