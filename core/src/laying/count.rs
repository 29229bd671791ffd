//! How many blocks a paving takes.

use super::block::{Block, EdgeCourse};
use super::piece::Place;
use super::{Laying, MOST_BLOCKS, TooManyBlocks};
use crate::units::{Area, Length};

/// Blocks of a paving.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BlockCount {
    /// Blocks that are whole.
    pub whole: u32,
    /// Cut pieces.
    pub cut: u32,
    /// Whole blocks and pieces in the field.
    pub field: u32,
    /// Whole units and pieces in the edge courses.
    pub edge: u32,
    /// Blocks that it takes: the whole ones, and those that pieces are sawn from.
    pub needed: u32,
    /// The face of the joints.
    pub joints: Area,
}

impl BlockCount {
    /// As they are laid.
    pub fn of(laying: &Laying) -> Self {
        let in_edge = |place| matches!(place, Place::Edge(_));
        let edge = laying.pieces.iter().filter(|piece| in_edge(piece.place)).count() as u32;
        BlockCount {
            whole: laying.whole,
            cut: laying.cuts.pieces,
            field: laying.pieces.len() as u32 - edge,
            edge,
            needed: laying.blocks(),
            joints: laying.joints,
        }
    }

    /// From the area over the face of a block and its joints, where there are too many to lay: cuts
    /// are not counted apart.
    pub fn by_module(area: Area, block: &Block, course: EdgeCourse, free_edge: Length) -> Self {
        let (edge, under) = course.unit(block).map_or((0, Area::ZERO), |(reach, along)| {
            let under = (reach + block.joint) * free_edge;
            (whole(free_edge / (along + block.joint)), under.min(area))
        });
        let field = whole((area - under) / block.module());
        BlockCount {
            whole: field + edge,
            cut: 0,
            field,
            edge,
            needed: field + edge,
            joints: area * block.joint_share(),
        }
    }
}

/// A count rounded up, forgiving the last bits of a division.
fn whole(count: f64) -> u32 {
    (count - 1e-9).ceil().max(0.0) as u32
}

/// About how many blocks an area takes, where that is more than are laid.
///
/// # Errors
/// [`TooManyBlocks`].
pub fn within_limit(area: Area, block: &Block) -> Result<(), TooManyBlocks> {
    let blocks = (area / block.module()).ceil();
    if blocks > f64::from(MOST_BLOCKS) {
        return Err(TooManyBlocks { blocks: blocks as u64 });
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn pavers_of_a_printed_patio_by_module() {
        // Brick Industry Association leaflet, worked example (Q1): 200 ft2 at 4.5 pavers is 900, and
        // 60 ft of edge at 1.5 is 90. The paver that gives those is 8 in by 4 in without a joint.
        let [length, width] = [8.0, 4.0].map(Length::from_inches);
        let block = Block { length, width, depth: Length::from_mm(60.0), joint: Length::ZERO };
        let foot = Length::from_inches(12.0);
        let area = (foot * 20.0) * (foot * 10.0);
        let field = BlockCount::by_module(area, &block, EdgeCourse::None, foot * 60.0);
        assert_eq!((field.whole, field.edge, field.needed), (900, 0, 900));
        let edged = BlockCount::by_module(area, &block, EdgeCourse::Stretcher, foot * 60.0);
        assert_eq!(edged.edge, 90);
    }
}
