//! Where to start a straight bond so that the fewest blocks are cut.

use geo::{Coord, LinesIter as _, MultiPolygon};

use super::block::{Block, Pattern};
use super::lattice::Lattice;
use super::piece::{SMALL, WHOLE};
use super::region::{Region, Scratch};
use crate::outline::Point;
use crate::units::Length;
use crate::words::{Phrase, Value};

/// A start that was tried.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Tried {
    /// How far the pattern is shifted along and across its courses.
    pub start: [Length; 2],
    /// Blocks that are cut.
    pub cut: u32,
    /// Those of them of which less than a third is left.
    pub small: u32,
}

/// What the search did.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Search {
    /// How many starts were tried.
    pub tried: u32,
    /// From the corner where the reference edge starts, with nothing shifted.
    pub plain: Tried,
    /// The start that was taken: the fewest cuts, then the fewest under a third.
    pub taken: Tried,
}

impl Search {
    /// What was tried, and what it gained.
    pub fn says(&self) -> Phrase {
        let [along, across] = self.taken.start.map(|shift| Value::from(shift.to_mm().round()));
        Phrase::new(
            "lay.search",
            [
                ("count", self.tried.into()),
                ("cut", self.taken.cut.into()),
                ("small", self.taken.small.into()),
                ("plain", self.plain.cut.into()),
                ("plain_small", self.plain.small.into()),
                ("along", along),
                ("across", across),
            ],
        )
    }
}

/// Blocks near the edge that are clipped in one search, all starts together: the more there are, the
/// fewer starts are tried.
const MOST_CLIPS: u64 = 40_000;
/// Even the largest field has this many starts tried.
const FEWEST_TRIES: u64 = 8;
/// More starts gain nothing.
const MOST_TRIES: u64 = 160;
/// A square millimetre, or a thousandth of one to a side: nothing.
const DUST: f64 = 1e-6;

/// Looks for the best start. `field` and `region` are the shape in the bond's own axes.
pub fn search(
    field: &MultiPolygon,
    region: &Region,
    lattice: &Lattice,
    block: &Block,
    pattern: Pattern,
) -> Search {
    let mut scratch = Scratch::default();
    let face = block.face().to_m2();
    let mut attempt = |start: Point| {
        let (cut, small, clips) = count(region, &lattice.moved(start), face, &mut scratch);
        (Tried { start: [start.x, start.y].map(Length::from_m), cut, small }, clips)
    };
    let (plain, clips) = attempt(Point { x: 0.0, y: 0.0 });
    let mut search = Search { tried: 1, plain, taken: plain };
    if plain.cut == 0 {
        return search;
    }
    let tries = (MOST_CLIPS / clips.max(1)).clamp(FEWEST_TRIES, MOST_TRIES);
    for start in starts(field, region, lattice, block, pattern).take(tries as usize) {
        let (tried, _) = attempt(start);
        search.tried += 1;
        if (tried.cut, tried.small) < (search.taken.cut, search.taken.small) {
            search.taken = tried;
        }
    }
    search
}

/// Blocks cut, small ones among them, and blocks that were clipped to know it.
fn count(region: &Region, lattice: &Lattice, face: f64, scratch: &mut Scratch) -> (u32, u32, u64) {
    let (mut cut, mut small, mut clipped) = (0, 0, 0);
    for tile in region.tiles().iter().filter(|tile| !tile.is_inside()) {
        for placed in lattice.blocks_about(tile.rect).filter(|placed| tile.has(placed.middle)) {
            let left = tile.area_of(&placed.corners, scratch);
            clipped += 1;
            if left > DUST && left < face * WHOLE {
                cut += 1;
                small += u32::from(left < face * SMALL);
            }
        }
    }
    (cut, small, clipped)
}

/// Starts worth trying: blocks flush with the sides of the field that run with the bond, then evenly
/// spread ones.
fn starts(
    field: &MultiPolygon,
    region: &Region,
    lattice: &Lattice,
    block: &Block,
    pattern: Pattern,
) -> impl Iterator<Item = Point> {
    let period = lattice.period();
    let (w, j) = (block.width.to_m(), block.joint.to_m());
    let grain = grain(block, pattern);
    let axis = |of: fn(Coord) -> f64, along: fn(Coord) -> f64| {
        let mut sides: Vec<f64> = field
            .lines_iter()
            .filter(|line| of(line.delta()).abs() < DUST && along(line.delta()).abs() > w)
            .map(|line| of(line.start))
            .collect();
        if let Some(bounds) = region.bounds() {
            let (low, high) = (of(bounds.min()), of(bounds.max()));
            sides.extend([low, high, (low + high) / 2.0]);
        }
        let mut places: Vec<f64> = Vec::new();
        for side in sides {
            // A block begins at the side, or the joint after one does.
            for flush in [side, side + j] {
                let shifts = (of(period) / of(grain)).round().max(1.0) as u32;
                let shifted = (0..shifts).map(|i| flush + of(grain) * f64::from(i));
                places.extend(shifted.map(|place| place.rem_euclid(of(period))));
            }
        }
        places.sort_by(f64::total_cmp);
        places.dedup_by(|a, b| (*a - *b).abs() < 1e-4);
        places
    };
    let (along, across) = (axis(|c| c.x, |c| c.y), axis(|c| c.y, |c| c.x));
    let flush: Vec<Point> =
        along.iter().flat_map(|x| across.iter().map(|y| Point { x: *x, y: *y })).collect();
    // The additive recurrence of the plastic number: evenly spread, without chance.
    let spread = (1_u32..).map(move |n| Point {
        x: (f64::from(n) * 0.754_877_666_246_693).fract() * period.x,
        y: (f64::from(n) * 0.569_840_290_998_053).fract() * period.y,
    });
    // Taken in turn, so that a field with many sides does not use up the tries on them.
    let flush = flush.into_iter().map(Some).chain(std::iter::repeat(None));
    flush.zip(spread).flat_map(|(flush, spread)| flush.into_iter().chain([spread]))
}

/// The grid that the sides of blocks lie on.
fn grain(block: &Block, pattern: Pattern) -> Point {
    let (l, m) = ((block.length + block.joint).to_m(), (block.width + block.joint).to_m());
    match pattern {
        Pattern::Stack => Point { x: l, y: m },
        Pattern::Stretcher => Point { x: l / 2.0, y: m },
        Pattern::Herringbone45 | Pattern::Herringbone90 => Point { x: m, y: m },
        Pattern::Basketweave => Point { x: 2.0 * m, y: 2.0 * m },
    }
}
