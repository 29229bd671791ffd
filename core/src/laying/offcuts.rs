//! Off-cuts: which pieces come out of one block together.
//!
//! Pieces are put end to end in blocks, longest first, each into the block that it fills best. Two
//! with slanted ends are turned so that the slants face each other. A rip lies beside another rip.
//! What comes out is a number of blocks that is enough; that it is the least is not claimed.

use std::collections::BTreeMap;

use super::block::Block;
use crate::outline::Point;
use crate::units::Length;

/// What the saw takes away (our default; the blade of a common bench saw, no source).
pub const KERF: Length = Length::from_mm(3.0);
const KERF_M: f64 = KERF.to_m();

/// How much of a block a piece takes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Ends {
    /// A length with a square end, and one end that may be slanted: along either long side, with
    /// the square end to the left.
    Length { top: f64, bottom: f64 },
    /// A width along the whole length.
    Width(f64),
}

/// Corners are where they should be within this.
const NEAR: f64 = 2e-4;
/// A rip runs along all of the block but this.
const RIP: f64 = 0.001;
/// What rounding may add to pieces that fit exactly.
const MICRON: f64 = 1e-6;
/// Blocks that are looked into for a piece before a new one is taken.
const LOOKED_INTO: usize = 24;

impl Ends {
    /// What a piece takes, from its corners in the axes of its block.
    pub fn of(points: &[Point], block: &Block) -> Self {
        let (l, w) = (block.length.to_m(), block.width.to_m());
        let spread = |values: &mut dyn Iterator<Item = f64>| {
            values.fold([f64::INFINITY, f64::NEG_INFINITY], |[a, b], v| [a.min(v), b.max(v)])
        };
        let [left, right] = spread(&mut points.iter().map(|p| p.x));
        let [low, high] = spread(&mut points.iter().map(|p| p.y));
        if right - left > l - RIP && high - low < w - RIP {
            return Ends::Width(high - low);
        }
        let along =
            |y: f64| spread(&mut points.iter().filter(|p| (p.y - y).abs() < NEAR).map(|p| p.x));
        let (bottom, top) = (along(0.0), along(w));
        let fits = |from: f64, bottom: f64, top: f64, sign: f64| {
            let inside =
                |p: &Point| (p.x - from) * sign <= bottom + (top - bottom) * p.y / w + NEAR;
            points.iter().all(inside).then_some((bottom, top))
        };
        let slanted = if (bottom[0] - left).abs() < NEAR && (top[0] - left).abs() < NEAR {
            let (bottom, top) = (bottom[1] - left, top[1] - left);
            fits(left, bottom, top, 1.0).map(|(bottom, top)| Ends::Length { top, bottom })
        } else if (bottom[1] - right).abs() < NEAR && (top[1] - right).abs() < NEAR {
            // Turned half round, the square end to the left.
            let (bottom, top) = (right - bottom[0], right - top[0]);
            let turned = |(bottom, top)| Ends::Length { top: bottom, bottom: top };
            fits(right, bottom, top, -1.0).map(turned)
        } else {
            None
        };
        let length = right - left;
        slanted.unwrap_or(Ends::Length { top: length, bottom: length })
    }

    /// What decides the order: the longest first.
    fn size(&self) -> f64 {
        match self {
            Ends::Length { top, bottom } => (top + bottom) / 2.0,
            Ends::Width(width) => *width,
        }
    }
}

/// Blocks with room left, by how much: micrometres, so that they can be ordered.
#[derive(Default)]
struct Shelf<T>(BTreeMap<i64, Vec<T>>);

impl<T: Copy> Shelf<T> {
    fn put(&mut self, room: f64, item: T) {
        self.0.entry((room * 1e6) as i64).or_default().push(item);
    }

    /// Takes out the fullest that fits, of those with room enough.
    fn take(&mut self, need: f64, fits: impl Fn(&T) -> bool) -> Option<(f64, T)> {
        let (room, place) = self
            .0
            .range((need * 1e6).floor() as i64 - 1..)
            .flat_map(|(room, items)| {
                items.iter().enumerate().map(move |(i, item)| (*room, i, item))
            })
            .take(LOOKED_INTO)
            .find_map(|(room, i, item)| fits(item).then_some((room, i)))?;
        let items = self.0.get_mut(&room)?;
        let item = items.swap_remove(place);
        if items.is_empty() {
            self.0.remove(&room);
        }
        Some((room as f64 / 1e6, item))
    }
}

/// How many blocks the pieces are sawn from.
pub fn blocks_for(mut pieces: Vec<Ends>, block: &Block) -> u32 {
    let (l, w) = (block.length.to_m(), block.width.to_m());
    pieces.sort_by(|a, b| b.size().total_cmp(&a.size()));
    let mut blocks = 0;
    // Blocks with one piece at their left end, with a rest between two pieces, and with rips.
    let mut ended: Shelf<(f64, f64)> = Shelf::default();
    let mut rest: Shelf<()> = Shelf::default();
    let mut ripped: Shelf<()> = Shelf::default();
    for piece in pieces {
        match piece {
            Ends::Width(width) => {
                let room = match ripped.take(width + KERF_M, |()| true) {
                    Some((room, ())) => room - KERF_M,
                    None => {
                        blocks += 1;
                        w
                    }
                };
                ripped.put(room - width, ());
            }
            Ends::Length { top, bottom } => {
                let length = top.max(bottom);
                let facing = |(t, b): &(f64, f64)| {
                    let slant = (t - b).abs().max((top - bottom).abs());
                    let kerf = KERF_M * slant.hypot(w) / w;
                    (t + bottom).max(b + top) + kerf <= l + MICRON
                };
                if let Some((_, (t, b))) = ended.take((top + bottom) / 2.0 + KERF_M, facing) {
                    rest.put(l - t.max(b) - length - 2.0 * KERF_M, ());
                } else if let Some((room, ())) = rest.take(length, |()| true) {
                    rest.put(room - length - KERF_M, ());
                } else {
                    blocks += 1;
                    ended.put(l - (top + bottom) / 2.0, (top, bottom));
                }
            }
        }
    }
    blocks
}

#[cfg(test)]
mod tests {
    use super::*;

    fn block() -> Block {
        let [length, width, depth, joint] = [200.0, 100.0, 60.0, 3.0].map(Length::from_mm);
        Block { length, width, depth, joint }
    }

    fn lengths(mm: &[f64]) -> Vec<Ends> {
        mm.iter().map(|mm| Ends::Length { top: mm / 1000.0, bottom: mm / 1000.0 }).collect()
    }

    #[test]
    fn two_halves_come_out_of_one_block() {
        // Hand arithmetic: 98.5 + 3 + 98.5 is 200; 99 + 3 + 98.5 is more.
        assert_eq!(blocks_for(lengths(&[98.5, 98.5]), &block()), 1);
        assert_eq!(blocks_for(lengths(&[99.0, 98.5]), &block()), 2);
    }

    #[test]
    fn three_pieces_and_two_kerfs() {
        // Hand arithmetic: 100 + 50 + 44 + 2 x 3 is 200, and 45 is too long.
        assert_eq!(blocks_for(lengths(&[44.0, 100.0, 50.0]), &block()), 1);
        assert_eq!(blocks_for(lengths(&[45.0, 100.0, 50.0]), &block()), 2);
    }

    #[test]
    fn slants_face_each_other() {
        // Hand arithmetic: cut at 45 degrees, 150 and 50 long at the long sides; two of them turned
        // against each other need 150 + 50 either side and no room for the saw; 147 and 47 with
        // 148 and 48 leave 5 mm, and the saw takes 3 x root 2 = 4.24.
        let slant = |long: f64, short: f64| Ends::Length { top: long / 1e3, bottom: short / 1e3 };
        assert_eq!(blocks_for(vec![slant(150.0, 50.0), slant(150.0, 50.0)], &block()), 2);
        assert_eq!(blocks_for(vec![slant(147.0, 47.0), slant(148.0, 48.0)], &block()), 1);
        assert_eq!(blocks_for(vec![slant(148.0, 48.0), slant(148.0, 48.0)], &block()), 2);
    }

    #[test]
    fn rips_lie_side_by_side() {
        // Hand arithmetic: 40 + 3 + 57 is 100.
        assert_eq!(blocks_for(vec![Ends::Width(0.040), Ends::Width(0.057)], &block()), 1);
        assert_eq!(blocks_for(vec![Ends::Width(0.040), Ends::Width(0.058)], &block()), 2);
    }

    #[test]
    fn the_ends_of_pieces() {
        let at = |x: f64, y: f64| Point { x, y };
        let near = |found: Ends, top: f64, bottom: f64| match found {
            Ends::Length { top: t, bottom: b } => {
                assert!((t - top).abs() < 1e-9 && (b - bottom).abs() < 1e-9, "{found:?}");
            }
            Ends::Width(_) => panic!("{found:?}"),
        };
        // Square to the left, 120 long below and 40 above.
        let left = [at(0.0, 0.0), at(0.12, 0.0), at(0.04, 0.1), at(0.0, 0.1)];
        near(Ends::of(&left, &block()), 0.04, 0.12);
        // The same turned half round.
        let right = left.map(|p| at(0.2 - p.x, 0.1 - p.y));
        near(Ends::of(&right, &block()), 0.04, 0.12);
        // Slanted at both ends: its whole length.
        let both = [at(0.03, 0.0), at(0.12, 0.0), at(0.04, 0.1), at(0.0, 0.1)];
        near(Ends::of(&both, &block()), 0.12, 0.12);
        let rip = [at(0.0, 0.0), at(0.2, 0.0), at(0.2, 0.04), at(0.0, 0.04)];
        assert_eq!(Ends::of(&rip, &block()), Ends::Width(0.04));
    }
}
