//! What a plan takes: goods, order, hours, ranges, and weight moved by hand.

use super::Plan;
use crate::buildup::{Layer, figure};
use crate::quantities::{
    Basis, Dig, Goods, Hours, Order, Range, Supplies, TakeOff, hours, loose_density, ranges,
    supplies,
};
use crate::safety::{Moved, Portion};
use crate::units::{Area, Density, Mass, Volume};

impl Plan {
    /// What the job needs of everything that is bought.
    pub fn supplies(&self, amounts: &TakeOff) -> Supplies {
        supplies(amounts, self.outline.area(), self.layers.bed, &self.supply)
    }

    /// The order for the job.
    pub fn order(&self, supplies: &Supplies) -> Order {
        Order::new(&supplies.needs, &self.supply.offers)
    }

    /// The order by itself, many times as fast: nothing that is bought depends on the volume of the
    /// dig, which must be summed over its triangles.
    pub fn order_alone(&self) -> Order {
        let area = self.area_of(Layer::SubBase);
        let dig = Dig { area, volume: Volume::ZERO, fill: Volume::ZERO, beyond: Area::ZERO };
        let amounts = self.take_off_of(dig);
        self.order(&self.supplies(&amounts))
    }

    /// One person's hours, task by task.
    pub fn hours(&self, amounts: &TakeOff, supplies: &Supplies) -> Vec<Hours> {
        hours(&self.rates, amounts, supplies, self.outline.area())
    }

    /// What the quantities are reckoned from.
    pub fn basis<'a>(&'a self, amounts: &'a TakeOff) -> Basis<'a> {
        Basis {
            amounts,
            paved: self.outline.area(),
            layers: &self.layers,
            block: &self.block,
            allowances: &self.allowances,
            supply: &self.supply,
            r#use: self.r#use,
        }
    }

    /// The quantities as ranges.
    pub fn ranges(&self, amounts: &TakeOff) -> Vec<Range> {
        ranges(&self.basis(amounts))
    }

    /// Mass of one block.
    pub fn block_mass(&self) -> Mass {
        let block = &self.block;
        block.length * block.width * block.depth * block_density()
    }

    /// What a cubic metre of something weighs as it comes loose; none for what is not sold by
    /// volume.
    pub fn loose_density(&self, goods: Goods) -> Option<Density> {
        loose_density(goods, &self.allowances, self.supply.loose_sand)
    }

    /// What is moved by hand over the whole job, as it lies in the barrow.
    pub fn portions(&self, amounts: &TakeOff, supplies: &Supplies) -> Vec<Portion> {
        let [low, high] = amounts.loose;
        let blocks = f64::from(amounts.blocks.needed);
        let laid = self.block_mass() * blocks;
        let joint_sand = amounts.joint_sand + supplies.joint_top_up;
        let portion = |what, mass, volume| Portion { what, mass, volume };
        let portions = [
            portion(Moved::Spoil, supplies.spoil, (low + high) / 2.0),
            portion(Moved::Stone, amounts.stone(), supplies.sub_base_loose),
            portion(Moved::Sand, supplies.bed_spread, supplies.bed_loose),
            portion(Moved::Blocks, laid, laid / block_density()),
            portion(Moved::JointSand, joint_sand, joint_sand / self.allowances.joint_sand),
            portion(
                Moved::Concrete,
                amounts.haunch * Density::from_t_per_m3(figure("concrete_density").number()),
                amounts.haunch,
            ),
        ];
        portions.into_iter().filter(|portion| portion.volume > Volume::ZERO).collect()
    }
}

fn block_density() -> Density {
    Density::from_t_per_m3(figure("block_density").usual())
}
