//! A shape cut up into tiles, so that each block is clipped against the few edges near it.
//!
//! Tiles that lie wholly inside or outside need no clipping at all. In the others the shape is
//! clipped half-plane by half-plane (Sutherland and Hodgman). That leaves the right area always, and
//! the right polygon where nothing runs back along the block's sides: there it joined parts that lie
//! apart, which the overlay of `geo` makes.

use geo::orient::{Direction, Orient as _};
use geo::{
    Area as _, BooleanOps as _, BoundingRect as _, Coord, LineString, MultiPolygon, Polygon, Rect,
};

use crate::outline::Point;

/// The corners of a block, counter-clockwise, from one end of a long side to the other.
pub type Corners = [Point; 4];

/// What is smaller is dust, not a piece: a square millimetre.
pub const DUST_M2: f64 = 1e-6;
/// What rounding takes off a whole block, as a share of it.
const ROUNDING: f64 = 1e-9;
/// Tiles are halved down to this many times the reach.
const SMALLEST_TILE: f64 = 4.0;

/// How a block lies in a shape.
#[derive(Debug)]
pub enum Cover {
    /// Outside it.
    None,
    /// Inside it.
    Whole,
    /// Partly inside it: what is left of it.
    Part(Vec<Polygon>),
}

/// A shape that blocks are clipped to.
#[derive(Debug)]
pub struct Region {
    tiles: Vec<Tile>,
    tree: Node,
    bounds: Option<Rect>,
    around: Option<Rect>,
}

/// The way to the tile of a point.
#[derive(Debug)]
enum Node {
    /// A rectangle with no part of the shape.
    Outside(Rect),
    /// A tile by its place in the list.
    Tile(usize),
    /// Points below the border and from it on, along x or along y.
    Split { upright: bool, border: f64, below: Box<Node>, above: Box<Node> },
}

/// A part of the box around a shape: outside it, or a tile of it.
#[derive(Debug, Clone, Copy)]
pub struct Part<'a> {
    rect: &'a Rect,
    /// The tile; none outside the shape.
    pub tile: Option<&'a Tile>,
}

impl Part<'_> {
    /// Whether a point is in it, or on its lower borders.
    pub fn has(&self, point: Point) -> bool {
        has(self.rect, point)
    }
}

/// A tile that is not outside the shape.
#[derive(Debug)]
pub struct Tile {
    /// Blocks whose middle lies here, or on the lower borders, belong to the tile.
    pub rect: Rect,
    /// What is left of the shape in it and around it; none where that is all of it.
    rings: Option<Vec<Vec<Point>>>,
}

/// Room for points while one block is clipped, kept for the next.
#[derive(Debug, Default)]
pub struct Scratch {
    points: Vec<Point>,
    next: Vec<Point>,
}

impl Region {
    /// The shape cut up for blocks whose corners are no farther than `reach` from their middle.
    pub fn new(shape: &MultiPolygon, reach: f64) -> Self {
        let shape = shape.orient(Direction::Default);
        let rings: Vec<Vec<Point>> = shape
            .iter()
            .flat_map(|polygon| std::iter::once(polygon.exterior()).chain(polygon.interiors()))
            .map(|ring| ring.coords().skip(1).copied().collect())
            .collect();
        let bounds = shape.bounding_rect();
        let mut tiles = Vec::new();
        // Wider than the shape by enough that no middle of a block on it is missed.
        let around = bounds.map(|bounds| grown(bounds, reach * 1.01));
        let nowhere = Rect::new((0.0, 0.0), (0.0, 0.0));
        let tree = around.map_or(Node::Outside(nowhere), |around| {
            split(&mut tiles, &rings, around, reach, &mut Scratch::default())
        });
        Region { tiles, tree, bounds, around }
    }

    /// The part that a point of the box around the shape is in.
    pub fn part_at(&self, point: Point) -> Option<Part<'_>> {
        let mut node = &self.tree;
        loop {
            match node {
                Node::Outside(rect) => return Some(Part { rect, tile: None }),
                Node::Tile(index) => {
                    let tile = self.tiles.get(*index)?;
                    return Some(Part { rect: &tile.rect, tile: Some(tile) });
                }
                Node::Split { upright, border, below, above } => {
                    let place = if *upright { point.x } else { point.y };
                    node = if place < *border { below } else { above };
                }
            }
        }
    }

    /// The box around it; none around nothing.
    pub const fn bounds(&self) -> Option<Rect> {
        self.bounds
    }

    /// The box that the middles of all blocks on it are in; none around nothing.
    pub const fn around(&self) -> Option<Rect> {
        self.around
    }

    /// Its tiles.
    pub fn tiles(&self) -> &[Tile] {
        &self.tiles
    }
}

/// Adds the tiles of a rectangle, and gives the way to them.
fn split(
    tiles: &mut Vec<Tile>,
    rings: &[Vec<Point>],
    rect: Rect,
    reach: f64,
    scratch: &mut Scratch,
) -> Node {
    let around = grown(rect, reach);
    let rings: Vec<Vec<Point>> = rings
        .iter()
        .map(|ring| {
            clip(ring, &corners_of(around), scratch);
            scratch.points.clone()
        })
        .filter(|ring| ring.len() > 2)
        .collect();
    let area: f64 = rings.iter().map(|ring| signed_area(ring)).sum();
    if area < DUST_M2 / 10.0 {
        return Node::Outside(rect);
    }
    let is_inside = area > around.unsigned_area() * (1.0 - ROUNDING);
    if is_inside || rect.width().max(rect.height()) < reach * SMALLEST_TILE {
        tiles.push(Tile { rect, rings: (!is_inside).then_some(rings) });
        return Node::Tile(tiles.len() - 1);
    }
    let upright = rect.width() > rect.height();
    let [low, high] = if upright { rect.split_x() } else { rect.split_y() };
    let border = if upright { high.min().x } else { high.min().y };
    let mut half = |rect| Box::new(split(tiles, &rings, rect, reach, scratch));
    Node::Split { upright, border, below: half(low), above: half(high) }
}

impl Tile {
    /// Whether the shape has no edge near here.
    pub const fn is_inside(&self) -> bool {
        self.rings.is_none()
    }

    /// Whether the middle of a block is in the tile.
    pub fn has(&self, middle: Point) -> bool {
        has(&self.rect, middle)
    }

    /// The share of a block of the tile that is inside the shape, as an area.
    pub fn area_of(&self, block: &Corners, scratch: &mut Scratch) -> f64 {
        let Some(rings) = &self.rings else { return signed_area(block) };
        rings
            .iter()
            .map(|ring| {
                clip(ring, block, scratch);
                signed_area(&scratch.points)
            })
            .sum()
    }

    /// What is left of a block of the tile.
    pub fn cover(&self, block: &Corners, scratch: &mut Scratch) -> Cover {
        let Some(rings) = &self.rings else { return Cover::Whole };
        let mut left: Vec<Vec<Point>> = Vec::new();
        for ring in rings {
            clip(ring, block, scratch);
            if scratch.points.len() > 2 {
                left.push(scratch.points.clone());
            }
        }
        let area: f64 = left.iter().map(|ring| signed_area(ring)).sum();
        if area < DUST_M2 {
            return Cover::None;
        }
        if area > signed_area(block) * (1.0 - ROUNDING) {
            return Cover::Whole;
        }
        match <[Vec<Point>; 1]>::try_from(left) {
            Ok([ring]) if is_one_part(&ring, block) => Cover::Part(vec![polygon(ring)]),
            Ok(_) | Err(_) => Cover::Part(overlaid(rings, block)),
        }
    }
}

/// Whether a point is in a rectangle, or on its lower borders.
fn has(rect: &Rect, point: Point) -> bool {
    let (min, max) = (rect.min(), rect.max());
    point.x >= min.x && point.x < max.x && point.y >= min.y && point.y < max.y
}

/// The area that two blocks share.
pub fn shared_area(one: &Corners, other: &Corners, scratch: &mut Scratch) -> f64 {
    clip(one, other, scratch);
    signed_area(&scratch.points)
}

/// What is left of a block by overlay. The rings are those of the tile, for what was clipped to the block
/// has edges along its border, which overlay would part from it by a hair.
fn overlaid(rings: &[Vec<Point>], block: &Corners) -> Vec<Polygon> {
    let mut rings = rings.iter().map(|ring| LineString::new(ring.clone()));
    let Some(first) = rings.next() else { return Vec::new() };
    let shape = Polygon::new(first, rings.collect());
    let parts = polygon(block.to_vec()).intersection(&shape);
    parts.into_iter().filter(|part| part.unsigned_area() >= DUST_M2).collect()
}

/// The polygon of a ring.
pub fn polygon(ring: Vec<Point>) -> Polygon {
    Polygon::new(LineString::new(ring), Vec::new())
}

fn grown(rect: Rect, by: f64) -> Rect {
    let by = Coord { x: by, y: by };
    Rect::new(rect.min() - by, rect.max() + by)
}

fn corners_of(rect: Rect) -> Corners {
    let (min, max) = (rect.min(), rect.max());
    [min, Coord { x: max.x, y: min.y }, max, Coord { x: min.x, y: max.y }]
}

/// A ring clipped to a convex shape, left in `scratch.points`.
fn clip(ring: &[Point], shape: &Corners, scratch: &mut Scratch) {
    scratch.points.clear();
    scratch.points.extend_from_slice(ring);
    let next = shape.iter().cycle().skip(1);
    for (a, b) in shape.iter().zip(next) {
        if scratch.points.is_empty() {
            return;
        }
        keep_left(&scratch.points, *a, *b, &mut scratch.next);
        std::mem::swap(&mut scratch.points, &mut scratch.next);
    }
}

/// The part of a ring on the left of a line.
fn keep_left(ring: &[Point], a: Point, b: Point, kept: &mut Vec<Point>) {
    kept.clear();
    let side = |p: Point| (b.x - a.x) * (p.y - a.y) - (b.y - a.y) * (p.x - a.x);
    let Some(last) = ring.last() else { return };
    let (mut from, mut from_side) = (*last, side(*last));
    for to in ring {
        let to_side = side(*to);
        if (from_side < 0.0) != (to_side < 0.0) {
            kept.push(from + (*to - from) * (from_side / (from_side - to_side)));
        }
        if to_side >= 0.0 {
            kept.push(*to);
        }
        (from, from_side) = (*to, to_side);
    }
}

/// The area of a ring, positive where it runs counter-clockwise.
fn signed_area(ring: &[Point]) -> f64 {
    let Some(origin) = ring.first().copied() else { return 0.0 };
    let next = ring.iter().skip(1);
    ring.iter().zip(next).map(|(a, b)| cross(*a - origin, *b - origin)).sum::<f64>() / 2.0
}

fn cross(a: Coord, b: Coord) -> f64 {
    a.x * b.y - a.y * b.x
}

/// What is closer to a side of a block lies on it, in metres.
const ON_SIDE: f64 = 1e-9;

/// Whether what is left of a ring in a block is one part. Between two parts the clipping goes to and fro
/// along a side of the block, so an edge there runs against that side.
fn is_one_part(ring: &[Point], block: &Corners) -> bool {
    let sides = || block.iter().zip(block.iter().cycle().skip(1));
    let edges = ring.iter().zip(ring.iter().cycle().skip(1));
    edges.filter(|(from, to)| (**to - **from).x.hypot((**to - **from).y) > ON_SIDE).all(
        |(from, to)| {
            sides().all(|(a, b)| {
                let side = *b - *a;
                let on = |p: Point| cross(side, p - *a).abs() < ON_SIDE * side.x.hypot(side.y);
                let way = *to - *from;
                !(on(*from) && on(*to)) || side.x * way.x + side.y * way.y > 0.0
            })
        },
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use geo::{line_string, polygon};
    use proptest::prelude::*;

    fn block(x: f64, y: f64) -> Corners {
        let at = |dx, dy| Coord { x: x + dx, y: y + dy };
        [at(0.0, 0.0), at(0.2, 0.0), at(0.2, 0.1), at(0.0, 0.1)]
    }

    /// What is left of a block, wherever its middle is.
    fn cover(region: &Region, block: &Corners) -> Cover {
        let part = region.part_at((block[0] + block[2]) / 2.0);
        let tile = part.and_then(|part| part.tile);
        tile.map_or(Cover::None, |tile| tile.cover(block, &mut Scratch::default()))
    }

    fn pieces(region: &Region, block: &Corners) -> Vec<Polygon> {
        match cover(region, block) {
            Cover::Part(parts) => parts,
            other => panic!("{other:?}"),
        }
    }

    #[test]
    fn a_notch_parts_a_block_in_two() {
        // Hand arithmetic: a notch of 40 mm across the middle leaves 80 mm at either end.
        let shape = polygon![
            (x: -1.0, y: -1.0), (x: 1.0, y: -1.0), (x: 1.0, y: 1.0), (x: 0.12, y: 1.0),
            (x: 0.12, y: -0.5), (x: 0.08, y: -0.5), (x: 0.08, y: 1.0), (x: -1.0, y: 1.0),
        ];
        let region = Region::new(&shape.into(), 0.12);
        let parts = pieces(&region, &block(0.0, 0.0));
        assert_eq!(parts.len(), 2);
        for part in parts {
            assert!((part.unsigned_area() - 0.08 * 0.1).abs() < 1e-9, "{part:?}");
        }
        assert!(matches!(cover(&region, &block(0.3, 0.0)), Cover::Whole));
        assert!(matches!(cover(&region, &block(1.5, 0.0)), Cover::None));
    }

    #[test]
    fn a_hole_inside_a_block_is_a_hole_in_the_piece() {
        // Hand arithmetic: 200 x 100 less 20 x 20.
        let shape = Polygon::new(
            line_string![(x: -1.0, y: -1.0), (x: 1.0, y: -1.0), (x: 1.0, y: 1.0), (x: -1.0, y: 1.0)],
            vec![line_string![
                (x: 0.09, y: 0.04), (x: 0.09, y: 0.06), (x: 0.11, y: 0.06), (x: 0.11, y: 0.04)
            ]],
        );
        let region = Region::new(&shape.into(), 0.12);
        let parts = pieces(&region, &block(0.0, 0.0));
        assert_eq!(parts.len(), 1);
        assert_eq!(parts[0].interiors().len(), 1);
        assert!((parts[0].unsigned_area() - (0.02 - 0.0004)).abs() < 1e-9);
    }

    proptest! {
        /// Spikes and bays about as wide as a block: what clipping leaves as one part is what overlay
        /// leaves, and so is what it parts.
        #[test]
        fn clipping_leaves_the_parts_that_overlay_leaves(
            reaches in proptest::collection::vec(0.05_f64..0.6, 5..40),
            x in -0.5_f64..0.4,
            y in -0.5_f64..0.4,
        ) {
            let count = reaches.len() as f64;
            let corner = |(i, reach): (usize, &f64)| {
                let angle = std::f64::consts::TAU * i as f64 / count;
                Coord { x: reach * angle.cos(), y: reach * angle.sin() }
            };
            let star = polygon(reaches.iter().enumerate().map(corner).collect());
            let region = Region::new(&MultiPolygon::from(star.clone()), 0.12);
            let block = block(x, y);
            let ours = match cover(&region, &block) {
                Cover::None => Vec::new(),
                Cover::Whole => vec![polygon(block.to_vec())],
                Cover::Part(parts) => parts,
            };
            let theirs: Vec<Polygon> = polygon(block.to_vec())
                .intersection(&star)
                .into_iter()
                .filter(|part| part.unsigned_area() >= DUST_M2)
                .collect();
            let mut areas = [&ours, &theirs].map(|parts| {
                parts.iter().map(|part| part.unsigned_area()).collect::<Vec<f64>>()
            });
            areas.iter_mut().for_each(|areas| areas.sort_by(f64::total_cmp));
            let [ours, theirs] = areas;
            prop_assert_eq!(ours.len(), theirs.len(), "{:?} {:?}", &ours, &theirs);
            for (a, b) in ours.iter().zip(&theirs) {
                prop_assert!((a - b).abs() < 1e-7, "{} {}", a, b);
            }
        }
    }

    #[test]
    fn the_tiles_hold_the_whole_shape_once() {
        let shape = polygon![
            (x: 0.0, y: 0.0), (x: 7.0, y: 0.5), (x: 6.0, y: 5.0), (x: 3.0, y: 2.0), (x: 0.5, y: 6.0),
        ];
        let region = Region::new(&MultiPolygon::from(shape.clone()), 0.12);
        let mut scratch = Scratch::default();
        let area: f64 = region
            .tiles()
            .iter()
            .map(|tile| tile.area_of(&corners_of(tile.rect), &mut scratch))
            .sum();
        assert!((area - shape.unsigned_area()).abs() < 1e-9);
    }
}
