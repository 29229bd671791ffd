//! Quantities as ranges, and which assumption moves each of them most.

use serde::{Deserialize, Serialize};
use ts_rs::TS;

use super::{Allowances, Block, Measure, Supply, TakeOff};
use crate::buildup::{BuildUp, Layer, Use, figure, tolerance};
use crate::units::{Area, Density, Length, Volume};

/// A quantity that is told as a range.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum Headline {
    /// Ground to take away, loose.
    SpoilLoose,
    /// Ground to take away, by mass.
    Spoil,
    /// Stone.
    SubBase,
    /// Bed sand, compacted.
    Bed,
    /// Joint sand, joints filled to the top.
    JointSand,
}

impl Headline {
    /// Every one.
    pub const ALL: [Headline; 5] = [
        Headline::SpoilLoose,
        Headline::Spoil,
        Headline::SubBase,
        Headline::Bed,
        Headline::JointSand,
    ];

    /// What it is measured in.
    pub const fn measure(self) -> Measure {
        match self {
            Headline::SpoilLoose => Measure::M3,
            Headline::Spoil | Headline::SubBase | Headline::Bed | Headline::JointSand => {
                Measure::Kg
            }
        }
    }

    /// The key of its name in the catalogue of words.
    pub const fn word(self) -> &'static str {
        match self {
            Headline::SpoilLoose => "@range.spoil_loose",
            Headline::Spoil => "@range.spoil",
            Headline::SubBase => "@range.sub_base",
            Headline::Bed => "@range.bed",
            Headline::JointSand => "@range.joint_sand",
        }
    }
}

/// Something that is assumed and may be otherwise.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum Assumption {
    /// How much ground swells when it is dug, per cent.
    Swell,
    /// What the ground weighs in the solid, t/m³.
    GroundDensity,
    /// How deep the dig comes out, millimetres beyond the plan, within its tolerance.
    DigDepth,
    /// What compacted stone weighs, t/m³.
    StoneDensity,
    /// How low the stone comes out, millimetres below the plan, within its tolerance.
    StoneTop,
    /// What compacted bed sand weighs, t/m³.
    BedDensity,
    /// How wide the joints come out, millimetres.
    Joint,
    /// What joint sand weighs, t/m³.
    JointSandDensity,
}

impl Assumption {
    /// Every one.
    pub const ALL: [Assumption; 8] = [
        Assumption::Swell,
        Assumption::GroundDensity,
        Assumption::DigDepth,
        Assumption::StoneDensity,
        Assumption::StoneTop,
        Assumption::BedDensity,
        Assumption::Joint,
        Assumption::JointSandDensity,
    ];

    /// The key of its name in the catalogue of words.
    pub const fn word(self) -> &'static str {
        match self {
            Assumption::Swell => "@assumption.swell",
            Assumption::GroundDensity => "@assumption.ground_density",
            Assumption::DigDepth => "@assumption.dig_depth",
            Assumption::StoneDensity => "@assumption.stone_density",
            Assumption::StoneTop => "@assumption.stone_top",
            Assumption::BedDensity => "@assumption.bed_density",
            Assumption::Joint => "@assumption.joint",
            Assumption::JointSandDensity => "@assumption.joint_sand_density",
        }
    }
}

/// What one assumption does to a quantity, all others as usual.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Mover {
    /// Which.
    pub assumption: Assumption,
    /// Its least and most.
    pub between: [f64; 2],
    /// The quantity at its least and at its most, the smaller first.
    pub quantity: [f64; 2],
}

/// A quantity as a range.
#[derive(Debug, Clone, PartialEq)]
pub struct Range {
    /// Which.
    pub headline: Headline,
    /// With everything as planned.
    pub usual: f64,
    /// With every assumption at the end that makes least of it, and most.
    pub between: [f64; 2],
    /// Assumptions that move it, the strongest first.
    pub movers: Vec<Mover>,
}

/// What the quantities are reckoned from.
#[derive(Debug, Clone, Copy)]
pub struct Basis<'a> {
    /// The take-off.
    pub amounts: &'a TakeOff,
    /// The area under the paving.
    pub paved: Area,
    /// The layers.
    pub layers: &'a BuildUp,
    /// The block.
    pub block: &'a Block,
    /// Rates of the plan.
    pub allowances: &'a Allowances,
    /// What is bought.
    pub supply: &'a Supply,
    /// Who goes over it, which sets the tolerances.
    pub r#use: Use,
}

/// Every quantity as a range.
pub fn ranges(basis: &Basis) -> Vec<Range> {
    let usual = basis.usual();
    Headline::ALL.map(|headline| range(basis, headline, usual)).into()
}

fn range(basis: &Basis, headline: Headline, usual: Assumed) -> Range {
    let (mut least, mut most) = (usual, usual);
    let mut movers = Vec::new();
    for assumption in Assumption::ALL {
        let between = basis.between(assumption, usual);
        let ends =
            between.map(|value| (value, basis.quantity(headline, usual.with(assumption, value))));
        let [low, high] = if ends[0].1 <= ends[1].1 { ends } else { [ends[1], ends[0]] };
        least = least.with(assumption, low.0);
        most = most.with(assumption, high.0);
        if high.1 > low.1 {
            movers.push(Mover { assumption, between, quantity: [low.1, high.1] });
        }
    }
    let swing = |mover: &Mover| mover.quantity[1] - mover.quantity[0];
    movers.sort_by(|a, b| swing(b).total_cmp(&swing(a)));
    Range {
        headline,
        usual: basis.quantity(headline, usual),
        between: [least, most].map(|assumed| basis.quantity(headline, assumed)),
        movers,
    }
}

/// Every assumption with a value: per cent, t/m³ or millimetres.
#[derive(Debug, Clone, Copy)]
struct Assumed {
    swell: f64,
    ground: f64,
    deeper: f64,
    stone: f64,
    lower: f64,
    bed: f64,
    joint: f64,
    joint_sand: f64,
}

impl Assumed {
    const fn of(&mut self, assumption: Assumption) -> &mut f64 {
        match assumption {
            Assumption::Swell => &mut self.swell,
            Assumption::GroundDensity => &mut self.ground,
            Assumption::DigDepth => &mut self.deeper,
            Assumption::StoneDensity => &mut self.stone,
            Assumption::StoneTop => &mut self.lower,
            Assumption::BedDensity => &mut self.bed,
            Assumption::Joint => &mut self.joint,
            Assumption::JointSandDensity => &mut self.joint_sand,
        }
    }

    const fn with(mut self, assumption: Assumption, value: f64) -> Assumed {
        *self.of(assumption) = value;
        self
    }
}

impl Basis<'_> {
    /// Every assumption as the plan has it.
    fn usual(&self) -> Assumed {
        let [low, high] = self.allowances.swell_percent;
        Assumed {
            swell: (low + high) / 2.0,
            ground: self.supply.ground.to_t_per_m3(),
            deeper: 0.0,
            stone: self.allowances.sub_base.to_t_per_m3(),
            lower: 0.0,
            bed: self.allowances.bed.to_t_per_m3(),
            joint: self.block.joint.to_mm(),
            joint_sand: self.allowances.joint_sand.to_t_per_m3(),
        }
    }

    /// An assumption's least and most: the range of its figure or tolerance, widened to hold what
    /// the plan has.
    fn between(&self, assumption: Assumption, mut usual: Assumed) -> [f64; 2] {
        let level = |layer| {
            let limits = tolerance(layer, true, self.r#use);
            [-limits.high_by.to_mm(), limits.low_by.to_mm()]
        };
        let [low, high] = match assumption {
            Assumption::Swell => self.allowances.swell_percent,
            Assumption::GroundDensity => figure("ground_density").range(),
            Assumption::DigDepth => level(Layer::Formation),
            Assumption::StoneDensity => figure("sub_base_density").range(),
            Assumption::StoneTop => level(Layer::SubBase),
            Assumption::BedDensity => figure("bed_density").range(),
            Assumption::Joint => figure("joint").range(),
            Assumption::JointSandDensity => figure("joint_sand_density").range(),
        };
        let usual = *usual.of(assumption);
        [low.min(usual), high.max(usual)]
    }

    /// A quantity under some assumptions, in its measure.
    fn quantity(&self, headline: Headline, assumed: Assumed) -> f64 {
        let mm = Length::from_mm;
        let kg = |volume: Volume, density: f64| {
            (volume.max(Volume::ZERO) * Density::from_t_per_m3(density)).to_kg()
        };
        let deeper = self.amounts.dig.area * mm(assumed.deeper);
        let solid = (self.amounts.dig.volume + deeper).max(Volume::ZERO);
        match headline {
            Headline::SpoilLoose => solid.to_m3() * (1.0 + assumed.swell / 100.0),
            Headline::Spoil => kg(solid, assumed.ground),
            Headline::SubBase => {
                let thickness = self.layers.sub_base() + mm(assumed.deeper - assumed.lower);
                kg(self.amounts.dig.area * thickness, assumed.stone)
            }
            Headline::Bed => kg(self.paved * (self.layers.bed + mm(assumed.lower)), assumed.bed),
            Headline::JointSand => {
                let block = Block { joint: mm(assumed.joint), ..*self.block };
                kg(self.paved * block.joint_share() * self.layers.block, assumed.joint_sand)
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plan::Plan;
    use proptest::prelude::*;
    use serde_json::json;

    fn plan(sub_base_mm: f64, r#use: &str) -> Plan {
        Plan::read(json!({
            "fairfall_plan": 1, "title": "t", "use": r#use,
            "outline": { "rectangle": { "length_m": 5, "width_m": 2 } },
            "layers": { "sub_base_mm": sub_base_mm },
        }))
        .unwrap()
    }

    fn of(plan: &Plan) -> Vec<Range> {
        ranges(&plan.basis(&plan.take_off()))
    }

    #[test]
    fn depth_moves_stone_more_than_density_does() {
        // Hand arithmetic for 100 mm of stone under feet: the dig may come out 20 mm either way
        // (NBS Q20/310, seen), a fifth; compacted density 2.1 to 2.3 (memory) is under a twentieth
        // either way.
        let stone = of(&plan(100.0, "foot")).remove(2);
        assert_eq!(stone.headline, Headline::SubBase);
        let order: Vec<Assumption> = stone.movers.iter().map(|m| m.assumption).collect();
        let expected = [Assumption::DigDepth, Assumption::StoneTop, Assumption::StoneDensity];
        assert_eq!(order, expected);
        let [low, high] = stone.movers[0].quantity;
        assert!((low / stone.usual - 0.8).abs() < 1e-9 && (high / stone.usual - 1.2).abs() < 1e-9);
        // All together: 80 - 12 mm at 2.1, 120 + 12 mm at 2.3, against 100 mm at 2.2.
        let [least, most] = stone.between.map(|kg| kg / stone.usual);
        assert!((least - 0.68 * 2.1 / 2.2).abs() < 1e-9, "{least}");
        assert!((most - 1.32 * 2.3 / 2.2).abs() < 1e-9, "{most}");
    }

    proptest! {
        #[test]
        fn the_usual_lies_between_and_movers_stay_inside(
            sub_base in 50.0_f64..400.0, car in any::<bool>(),
        ) {
            for range in of(&plan(sub_base, if car { "car" } else { "foot" })) {
                let [least, most] = range.between;
                prop_assert!(least <= range.usual && range.usual <= most, "{:?}", range);
                for mover in &range.movers {
                    let [low, high] = mover.quantity;
                    prop_assert!(least <= low && low <= high && high <= most, "{:?}", range);
                }
            }
        }
    }
}
