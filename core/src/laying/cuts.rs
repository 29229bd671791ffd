//! The cut list: what is sawn, in which sizes, and from how many blocks.

use std::collections::BTreeMap;

use super::block::Block;
use super::offcuts::{Ends, blocks_for};
use super::piece::{Cut, Piece, Shape};
use crate::outline::Point;
use crate::units::{Duration, Length};

/// One cut through a block with a hand-held wet saw, marked and turned (common practice, no source).
pub const A_CUT: Duration = Duration::from_min(1.5);

/// Pieces of one size.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CutSize {
    /// Length along the longer of its long sides.
    pub long: Length,
    /// Length along the shorter: less where the end is cut at an angle, nothing where it is a point.
    pub short: Length,
    /// Width.
    pub width: Length,
    /// Saw cuts that one takes.
    pub saw_cuts: u32,
    /// How many there are.
    pub count: u32,
    /// How much of a block's face the largest of them is.
    pub fraction: f64,
}

/// Everything that is sawn.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Cuts {
    /// By size, the most frequent first. Sizes are whole millimetres.
    pub sizes: Vec<CutSize>,
    /// Cut pieces.
    pub pieces: u32,
    /// Those of them that are under a third of a block.
    pub small: u32,
    /// The smallest, as a share of a block's face.
    pub smallest: Option<f64>,
    /// Blocks that they are sawn from.
    pub blocks: u32,
    /// Length of all saw cuts.
    pub sawn: Length,
}

impl Cuts {
    /// Pieces that come out of what another left over.
    pub const fn from_off_cuts(&self) -> u32 {
        self.pieces.saturating_sub(self.blocks)
    }

    /// How many times the saw is set to a block.
    pub fn count(&self) -> u32 {
        self.sizes.iter().map(|size| size.saw_cuts * size.count).sum()
    }

    /// How long the saw runs and shakes the hands, at [`A_CUT`].
    pub fn saw_time(&self) -> Duration {
        A_CUT * f64::from(self.count())
    }

    /// The cut list of some pieces.
    pub fn of<'a>(pieces: impl Iterator<Item = &'a Piece>, block: &Block) -> Self {
        let mut cuts = Cuts::default();
        let mut sizes: BTreeMap<[i64; 4], CutSize> = BTreeMap::new();
        let mut ends = Vec::new();
        for piece in pieces.filter(|piece| !piece.is_whole()) {
            let Shape::Cut(cut) = &piece.shape else { continue };
            let (size, sawn) = measure(cut, piece.fraction, block);
            cuts.pieces += 1;
            cuts.small += u32::from(piece.is_small());
            cuts.smallest = Some(cuts.smallest.map_or(piece.fraction, |s| s.min(piece.fraction)));
            cuts.sawn += sawn;
            ends.push(Ends::of(&cut.in_block(), block));
            let key = [size.long, size.short, size.width].map(|length| length.to_mm() as i64);
            let [long, short, width] = key;
            sizes
                .entry([long, short, width, i64::from(size.saw_cuts)])
                .and_modify(|same| {
                    same.count += 1;
                    same.fraction = same.fraction.max(size.fraction);
                })
                .or_insert(size);
        }
        cuts.blocks = blocks_for(ends, block);
        cuts.sizes = sizes.into_values().collect();
        cuts.sizes
            .sort_by(|a, b| b.count.cmp(&a.count).then(b.long.to_m().total_cmp(&a.long.to_m())));
        cuts
    }
}

/// The border of a block is met within this.
const ON_BORDER: f64 = 2e-5;
/// A corner so near to the side of a piece is on it: a side that follows a curve bends by less.
const ALONG_SIDE: f64 = 0.0015;
/// Saw cuts turned against each other by less are one, along a curve.
const ONE_CUT: f64 = 0.26;

/// The size of a piece in whole millimetres, and how far it is sawn.
fn measure(cut: &Cut, fraction: f64, block: &Block) -> (CutSize, Length) {
    let points = cut.in_block();
    let (l, w) = (block.length.to_m(), block.width.to_m());
    let span = |values: &mut dyn Iterator<Item = f64>| {
        let [least, most] =
            values.fold([f64::INFINITY, f64::NEG_INFINITY], |[a, b], v| [a.min(v), b.max(v)]);
        (most - least).max(0.0)
    };
    let low = points.iter().map(|p| p.y).fold(f64::INFINITY, f64::min);
    let high = points.iter().map(|p| p.y).fold(f64::NEG_INFINITY, f64::max);
    let along =
        |y: f64| span(&mut points.iter().filter(|p| (p.y - y).abs() < ALONG_SIDE).map(|p| p.x));
    let (one, other) = (along(low), along(high));
    let widest = span(&mut points.iter().map(|p| p.x));
    let (saw_cuts, sawn) = saw(&points, l, w);
    // A piece whose longest line is between its long sides is sawn to a point: both are given.
    let size = CutSize {
        long: whole_mm(one.max(other).max(if saw_cuts > 1 { widest } else { 0.0 })),
        short: whole_mm(one.min(other)),
        width: whole_mm(high - low),
        saw_cuts,
        count: 1,
        fraction,
    };
    (size, Length::from_m(sawn))
}

/// Halves of a millimetre are taken up, those that rounding left a little short too.
fn whole_mm(metres: f64) -> Length {
    Length::from_mm((metres * 1000.0 + 1e-4).round())
}

/// How many saw cuts make a piece of a block, and how long they are together.
fn saw(points: &[Point], l: f64, w: f64) -> (u32, f64) {
    let on =
        |a: f64, b: f64, place: f64| (a - place).abs() < ON_BORDER && (b - place).abs() < ON_BORDER;
    let is_border = |a: &Point, b: &Point| {
        on(a.x, b.x, 0.0) || on(a.x, b.x, l) || on(a.y, b.y, 0.0) || on(a.y, b.y, w)
    };
    let next = points.iter().cycle().skip(1);
    let sides: Vec<Option<Point>> =
        points.iter().zip(next).map(|(a, b)| (!is_border(a, b)).then(|| *b - *a)).collect();
    let sawn = sides.iter().flatten().map(|side| side.x.hypot(side.y)).sum();
    let before = sides.iter().cycle().skip(sides.len().saturating_sub(1));
    let begins = |(before, side): (&Option<Point>, &Option<Point>)| match (before, side) {
        (_, None) => false,
        (None, Some(_)) => true,
        (Some(a), Some(b)) => (a.x * b.y - a.y * b.x).atan2(a.x * b.x + a.y * b.y).abs() > ONE_CUT,
    };
    let cuts = before.zip(&sides).filter(|pair| begins(*pair)).count() as u32;
    // A curve that closes on itself begins nowhere.
    (if cuts == 0 && sawn > 0.0 { 1 } else { cuts }, sawn)
}
