//! The take-off: what to dig, and how much of everything.

mod dig;
mod forecast;
mod goods;
mod labour;
mod loads;
mod mixes;
mod order;
mod ranges;
mod supply;

pub use dig::{Dig, dig};
pub use forecast::{Forecast, forecast};
pub use goods::{Amount, Goods, Measure};
pub use labour::{Hours, Rate, Task, hours, units_of};
pub use loads::{FilledBy, Loads, Vehicle, VehicleKind, loads};
pub use mixes::{CementClass, Concrete, Mix, bags, dye, most_dye_percent, saturation_percent};
pub use order::{Need, Offer, Order, OrderLine, Quote, SoldIn, SupplierTotal};
pub use ranges::{Assumption, Basis, Headline, Mover, Range, ranges};
pub use supply::{Membrane, Mixed, Mixes, Supplies, Supply, loose_density, supplies};

pub use crate::laying::{Block, BlockCount, EdgeCourse, Pattern};

use crate::buildup::{BuildUp, Use};
use crate::outline::{Outline, SideName};
use crate::units::{Area, Density, Length, Mass, Volume};

/// Rates that turn volumes into what is bought.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Allowances {
    /// Ground in the solid to loose, least and most, per cent.
    pub swell_percent: [f64; 2],
    /// Compacted stone.
    pub sub_base: Density,
    /// Compacted bed sand.
    pub bed: Density,
    /// Joint sand as it lies in the joint.
    pub joint_sand: Density,
    /// Blocks bought beyond those counted, per cent.
    pub blocks_percent: f64,
}

/// What holds the edges, and where.
#[derive(Debug, Clone, PartialEq)]
pub struct Edges {
    /// The edge course.
    pub course: EdgeCourse,
    /// Whether a concrete haunch holds the free edges.
    pub haunch: bool,
    /// Working room dug beyond each free edge.
    pub room: Length,
    /// Sides that something already holds.
    pub held: Vec<SideName>,
}

impl Edges {
    /// Working room beyond a side: none where it is held.
    pub fn room_beyond(&self, side: SideName) -> Length {
        if self.held.contains(&side) { Length::ZERO } else { self.room }
    }

    /// Length of the edges that nothing holds.
    pub fn free_length(&self, outline: &Outline) -> Length {
        outline
            .side_names()
            .into_iter()
            .filter(|side| !self.held.contains(side))
            .map(|side| outline.side_length(side))
            .sum()
    }
}

/// Amounts for a job.
#[derive(Debug, Clone, PartialEq)]
pub struct TakeOff {
    /// The ground.
    pub dig: Dig,
    /// Ground to take away, loose, least and most.
    pub loose: [Volume; 2],
    /// Stone, compacted, over the dig.
    pub sub_base: Volume,
    /// Its mass.
    pub sub_base_mass: Mass,
    /// Stone that brings hollows of the ground up to the formation.
    pub fill_mass: Mass,
    /// Bed sand, compacted, under the paving.
    pub bed: Volume,
    /// Its mass.
    pub bed_mass: Mass,
    /// Blocks as they are laid.
    pub blocks: BlockCount,
    /// Blocks to buy, with the allowance.
    pub buy: u32,
    /// Sand for joints filled to the top.
    pub joint_sand: Mass,
    /// Concrete to haunch the free edges.
    pub haunch: Volume,
}

impl TakeOff {
    /// All the stone that is bought and placed: the sub-base and what is filled under it.
    pub fn stone(&self) -> Mass {
        self.sub_base_mass + self.fill_mass
    }
}

/// Thickness of the concrete under and beside the edge (trade guidance, secondary).
const HAUNCH_BED: Length = Length::from_mm(100.0);
/// How far the edge blocks are undermined for a late haunch, the middle of 30-40 mm (common
/// practice, no source).
const UNDERMINE: Length = Length::from_mm(35.0);

/// What a job is built as.
#[derive(Debug, Clone, Copy)]
pub struct Works<'a> {
    /// The shape.
    pub outline: &'a Outline,
    /// The layers.
    pub layers: &'a BuildUp,
    /// The block.
    pub block: &'a Block,
    /// What holds the edges.
    pub edges: &'a Edges,
    /// Rates.
    pub allowances: &'a Allowances,
    /// What it is for.
    pub r#use: Use,
}

/// Takes off a job: its works, the ground to move, and the blocks as they are laid.
pub fn take_off(works: &Works, dig: Dig, blocks: BlockCount) -> TakeOff {
    let Works { outline, layers, block, edges, allowances, r#use } = *works;
    let free = edges.free_length(outline);
    let solid = dig.volume;
    let sub_base = dig.area * layers.sub_base();
    let bed = outline.area() * layers.bed;
    let joints = blocks.joints * layers.block;
    TakeOff {
        dig,
        loose: allowances.swell_percent.map(|percent| solid * (1.0 + percent / 100.0)),
        sub_base,
        sub_base_mass: sub_base * allowances.sub_base,
        fill_mass: dig.fill * allowances.sub_base,
        bed,
        bed_mass: bed * allowances.bed,
        blocks,
        buy: to_buy(blocks.needed, allowances),
        joint_sand: joints * allowances.joint_sand,
        haunch: if edges.haunch {
            haunch_section(block, edges, r#use) * free
        } else {
            Volume::ZERO
        },
    }
}

/// Blocks to buy so that there are spares among those that are needed.
pub fn to_buy(needed: u32, allowances: &Allowances) -> u32 {
    whole(f64::from(needed) * (1.0 + allowances.blocks_percent / 100.0))
}

/// A count rounded up, forgiving the last bits of a division.
fn whole(count: f64) -> u32 {
    (count - 1e-9).ceil().max(0.0) as u32
}

/// Section of the haunch: a bed of 100 mm over the working room and under the edge, and a face at
/// 45 degrees up to half the block's height (trade guidance, secondary). Under cars the whole edge
/// course stands on it; under feet it reaches in as far as the edge is undermined.
fn haunch_section(block: &Block, edges: &Edges, r#use: Use) -> Area {
    let under = match r#use {
        Use::Foot => UNDERMINE,
        Use::Car => edges.course.width(block).unwrap_or(block.width),
    };
    let face = block.depth / 2.0;
    HAUNCH_BED * (edges.room + under) + face * face / 2.0
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn block() -> Block {
        Block {
            length: Length::from_mm(200.0),
            width: Length::from_mm(100.0),
            depth: Length::from_mm(60.0),
            joint: Length::from_mm(3.0),
        }
    }

    #[test]
    fn joint_sand_of_a_square_metre() {
        // Geometry: 200 x 100 work size, 3 mm joints, 60 mm deep, 1600 kg/m3 take 4.17 kg/m2.
        let kg = block().joint_share() * 0.060 * 1600.0;
        assert!((kg - 4.17).abs() < 0.005, "{kg}");
    }

    #[test]
    fn pavers_of_a_printed_patio() {
        // Brick Industry Association leaflet, worked example: 200 ft2 at 4.5 pavers/ft2 is 900,
        // 5 % waste 45, 60 ft of edge at 1.5/ft 90, in all 1035. The module that gives 4.5/ft2
        // and 1.5/ft is 8 in x 4 in with no joint.
        let inch = |n| Length::from_inches(n);
        let face = inch(8.0) * inch(4.0);
        let area = Area::from_m2(200.0 * 0.3048 * 0.3048);
        let field = whole(area / face);
        assert_eq!(field, 900);
        assert_eq!(whole(f64::from(field) * 1.05), 945);
    }

    proptest! {
        #[test]
        fn what_is_bought_is_never_less_than_what_is_counted(
            length in 1.0_f64..40.0, width in 0.5_f64..8.0, percent in 0.0_f64..20.0,
        ) {
            let outline = Outline::rectangle(Length::from_m(length), Length::from_m(width));
            let edges = Edges {
                course: EdgeCourse::Soldier,
                haunch: true,
                room: Length::from_mm(100.0),
                held: vec![SideName::Reference],
            };
            let allowances = Allowances {
                swell_percent: [25.0, 30.0],
                sub_base: Density::from_t_per_m3(2.2),
                bed: Density::from_t_per_m3(1.8),
                joint_sand: Density::from_t_per_m3(1.6),
                blocks_percent: percent,
            };
            let layers = BuildUp::new(
                block().depth, Length::from_mm(40.0), Length::from_mm(100.0), Length::from_mm(100.0),
            );
            let dig = Dig {
                area: outline.dig(|s| edges.room_beyond(s)).area(),
                volume: Volume::from_m3(2.0),
                fill: Volume::ZERO,
                beyond: Area::ZERO,
            };
            let blocks = BlockCount::by_module(
                outline.area(), &block(), edges.course, edges.free_length(&outline),
            );
            let works = Works {
                outline: &outline,
                layers: &layers,
                block: &block(),
                edges: &edges,
                allowances: &allowances,
                r#use: Use::Foot,
            };
            let amounts = take_off(&works, dig, blocks);
            let counted = amounts.blocks.needed;
            prop_assert!(amounts.buy >= counted);
            prop_assert!(f64::from(amounts.buy) < f64::from(counted) * (1.0 + percent / 100.0) + 1.0);
            // Solid times swell is loose.
            prop_assert!((amounts.loose[0].to_m3() - 2.5).abs() < 1e-12);
            prop_assert!((amounts.loose[1].to_m3() - 2.6).abs() < 1e-12);
        }
    }
}
