//! Blocks as they lie: whole, or what is left of them.

use geo::{Area as _, LineString, Polygon};

use super::block::Block;
use super::region::Corners;
use crate::outline::Point;
use crate::units::Area;

/// A block is whole while this much of its face is left.
pub const WHOLE: f64 = 0.995;
/// Pieces under this share of a block are small: they tip under a foot and break at the saw.
pub const SMALL: f64 = 1.0 / 3.0;

/// Where a piece belongs.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Place {
    /// In the field, in the course of this number, from 1.
    Field(u32),
    /// In the edge course of this number, from 0.
    Edge(u32),
}

/// A block that was cut.
#[derive(Debug, Clone, PartialEq)]
pub struct Cut {
    /// The block it was cut from, where that lay: counter-clockwise from the start of a long side.
    pub block: Corners,
    /// What is left of it.
    pub left: Polygon,
}

/// The shape of a piece.
#[derive(Debug, Clone, PartialEq)]
pub enum Shape {
    /// A block as it comes.
    Block(Corners),
    /// What is left of one.
    Cut(Box<Cut>),
}

/// A block or what is left of one, where it lies.
#[derive(Debug, Clone, PartialEq)]
pub struct Piece {
    /// Its outline.
    pub shape: Shape,
    /// Where it belongs.
    pub place: Place,
    /// How much of a block's face it is, 0 to 1.
    pub fraction: f64,
}

impl Piece {
    /// A block as it comes.
    pub const fn block(corners: Corners, place: Place) -> Self {
        Piece { shape: Shape::Block(corners), place, fraction: 1.0 }
    }

    /// What is left of a block.
    pub fn cut(block: Corners, left: Polygon, face: Area, place: Place) -> Self {
        let fraction = (left.unsigned_area() / face.to_m2()).min(1.0);
        Piece { shape: Shape::Cut(Box::new(Cut { block, left })), place, fraction }
    }

    /// Whether it counts as a whole block.
    pub fn is_whole(&self) -> bool {
        self.fraction >= WHOLE
    }

    /// Whether it is under a third of a block.
    pub fn is_small(&self) -> bool {
        self.fraction < SMALL
    }

    /// Whether it is a rip: a block of its length, sawn along it.
    pub fn is_rip(&self, block: &Block) -> bool {
        match &self.shape {
            Shape::Block(_) => false,
            Shape::Cut(cut) => !self.is_whole() && cut.is_rip(block),
        }
    }

    /// The points of its outline; the last may be the first again.
    pub fn ring(&self) -> &[Point] {
        match &self.shape {
            Shape::Block(corners) => corners,
            Shape::Cut(cut) => &cut.left.exterior().0,
        }
    }

    /// Its outline and the holes in it.
    pub fn polygon(&self) -> Polygon {
        match &self.shape {
            Shape::Block(corners) => Polygon::new(LineString::new(corners.to_vec()), Vec::new()),
            Shape::Cut(cut) => cut.left.clone(),
        }
    }

    /// Its area.
    pub fn area(&self, block: &Block) -> Area {
        match &self.shape {
            Shape::Block(_) => block.face(),
            Shape::Cut(cut) => Area::from_m2(cut.left.unsigned_area()),
        }
    }
}

/// A rip is shortened by less than this, or is cut both ways.
const RIP_MM: f64 = 1.0;

impl Cut {
    /// The piece in the axes of its block: along its length from 0, across its width from 0.
    pub fn in_block(&self) -> Vec<Point> {
        let [a, b, _, d] = self.block;
        let unit = |v: Point| v / v.x.hypot(v.y);
        let (along, across) = (unit(b - a), unit(d - a));
        let inward = |p: Point| {
            let v = p - a;
            Point { x: v.x * along.x + v.y * along.y, y: v.x * across.x + v.y * across.y }
        };
        self.left.exterior().coords().skip(1).map(|p| inward(*p)).collect()
    }

    fn is_rip(&self, block: &Block) -> bool {
        let points = self.in_block();
        let span = |of: fn(&Point) -> f64| {
            let [least, most] = points
                .iter()
                .fold([f64::INFINITY, f64::NEG_INFINITY], |[a, b], p| [a.min(of(p)), b.max(of(p))]);
            (most - least) * 1000.0
        };
        let (length, width) = (span(|p| p.x), span(|p| p.y));
        length > block.length.to_mm() - RIP_MM && width < block.width.to_mm() - RIP_MM
    }
}
