//! The plan file: what should be. Parsed, checked whole, and filled up with defaults that each say
//! where they come from.

mod answer;
mod caution;
mod check;
mod fill;
mod kit;
mod laid;
mod lay;
mod reader;
mod set_out;
mod supplies;
mod supply_answer;

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};
use ts_rs::TS;

pub use crate::buildup::Use;
pub use crate::laying::{Along, Bond};
pub use answer::{answer, answer_with, outline_answer};
pub use caution::cautions;
pub use check::{needs_answer, unanswered};
pub use fill::Survey;
pub use kit::{Kit, OwnKit};
pub use lay::{figures, laying_figures};
pub use set_out::set_out;

use laid::Laid;

use crate::buildup::{BuildUp, Layer, Tolerance, tolerance};
use crate::ground::Existing;
use crate::laying::{BlockCount, JointLimits, Laying, Paving, TooManyBlocks, lay};
use crate::levels::{Pin, StringLine, Surface, Wall, pins, strings};
use crate::outline::{Outline, Point};
use crate::quantities::{
    Allowances, Block, Dig, Edges, Rate, Supply, TakeOff, Works, dig, take_off,
};
use crate::units::{Gradient, Length, Level};
use crate::words::Phrase;

/// The version of the plan file that this program writes and reads.
pub const PLAN_VERSION: u64 = 1;

/// A plan file larger than this is refused unread.
pub const LARGEST_PLAN_BYTES: usize = 2 * 1024 * 1024;

/// Something in a plan that cannot be, in words, with its place.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, TS)]
pub struct Problem {
    /// JSON pointer (RFC 6901) to the value; empty for the whole file.
    pub at: String,
    /// What is wrong.
    pub problem: String,
    /// What would be right.
    pub right: String,
}

impl Problem {
    /// A problem at a place, with what would be right there.
    pub fn new(
        at: impl Into<String>,
        problem: impl Into<String>,
        right: impl Into<String>,
    ) -> Self {
        Problem { at: at.into(), problem: problem.into(), right: right.into() }
    }
}

/// A value that the plan left out, with what was taken instead.
#[derive(Debug, Clone, PartialEq)]
pub struct Default {
    /// Its path in the plan file, with dots.
    pub key: &'static str,
    /// What was taken.
    pub value: serde_json::Value,
    /// Where that comes from.
    pub source: String,
    /// seen, secondary, memory, practice or computed.
    pub status: String,
}

/// The ground before the dig.
#[derive(Debug, Clone, PartialEq)]
pub struct Ground {
    /// Its levels.
    pub existing: Existing,
    /// Its soil, by the name of the soils table.
    pub soil: Option<String>,
    /// Its bearing ratio in per cent, given or from the soil.
    pub cbr_percent: Option<f64>,
}

/// Who the job is for, where it is, and who lays it. Empty where the plan does not say.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Parties {
    /// The customer.
    pub customer: String,
    /// Where it is.
    pub place: String,
    /// Who lays it.
    pub by: String,
}

/// A whole plan, checked and filled up.
#[derive(Debug, Clone, PartialEq)]
pub struct Plan {
    /// Its title.
    pub title: String,
    /// Who goes over it.
    pub r#use: Use,
    /// The shape.
    pub outline: Outline,
    /// How it was measured.
    pub survey: Survey,
    /// The finished surface.
    pub surface: Surface,
    /// The slackest fall that it may have.
    pub least_fall: Gradient,
    /// Buildings that it meets.
    pub walls: Vec<Wall>,
    /// What is done about cautions that need an answer, by their code.
    pub answers: BTreeMap<String, String>,
    /// The ground.
    pub ground: Ground,
    /// The block.
    pub block: Block,
    /// The joints that may be laid.
    pub joint_limits: JointLimits,
    /// The bond.
    pub bond: Bond,
    /// The edges.
    pub edges: Edges,
    /// The layers.
    pub layers: BuildUp,
    /// Rates.
    pub allowances: Allowances,
    /// Specification, plant, vehicles.
    pub kit: Kit,
    /// What is bought and how.
    pub supply: Supply,
    /// One person's hours by task.
    pub rates: Vec<Rate>,
    /// Names.
    pub parties: Parties,
    /// What was left out.
    pub defaults: Vec<Default>,
    /// What was left out of orders, mixes, rates and vehicles, which say nothing of the work itself.
    pub supply_defaults: Vec<Default>,
    /// The file as it was read.
    pub file: serde_json::Value,
}

impl Plan {
    /// Reads a plan file.
    ///
    /// # Errors
    /// Every problem at once, each with its place and what would be right.
    pub fn parse(text: &str) -> Result<Plan, Vec<Problem>> {
        if text.len() > LARGEST_PLAN_BYTES {
            return Err(vec![Problem::new(
                "",
                "the file has more than 2 MB",
                "a plan file of at most 2 MB",
            )]);
        }
        // Some editors begin a text file with a byte-order mark.
        match serde_json::from_str(text.trim_start_matches('\u{feff}')) {
            Ok(value) => Plan::read(value),
            Err(error) => Err(vec![Problem::new(
                "",
                format!("this is not JSON: {error}"),
                "a plan file in JSON",
            )]),
        }
    }

    /// Reads a plan from its JSON value.
    ///
    /// # Errors
    /// Every problem at once, each with its place and what would be right.
    pub fn read(file: serde_json::Value) -> Result<Plan, Vec<Problem>> {
        fill::read(file)
    }

    /// Every value that was left out, those of the work first.
    pub fn every_default(&self) -> impl Iterator<Item = &Default> {
        self.defaults.iter().chain(&self.supply_defaults)
    }

    /// Pins in walking order.
    pub fn pins(&self) -> Vec<Pin> {
        pins(&self.outline, &self.surface)
    }

    /// The strings that dips are taken from.
    pub fn strings(&self) -> Vec<StringLine> {
        strings(&self.outline, &self.pins())
    }

    /// The finished level at a point.
    pub fn finished(&self, point: Point) -> Level {
        self.surface.level_at(&self.outline, point)
    }

    /// The ground to move.
    pub fn dig(&self) -> Dig {
        let ring = self.outline.dig(|side| self.edges.room_beyond(side));
        let formation = |point| self.finished(point) - self.layers.total();
        dig(&ring, &self.outline, &self.ground.existing, formation)
    }

    /// Depth to dig at a point; negative where it is to be filled.
    pub fn dig_depth(&self, point: Point) -> Length {
        self.ground.existing.level(point).above(self.finished(point) - self.layers.total())
    }

    /// How far the top of a layer or lift may stand off its level. A dip that names no lift is of the
    /// sub-base's finished top.
    pub fn tolerance(&self, layer: Layer, lift: Option<u32>) -> Tolerance {
        let top = lift.is_none_or(|lift| lift as usize >= self.layers.lifts.len());
        tolerance(layer, top, self.r#use)
    }

    /// Amounts for the job.
    pub fn take_off(&self) -> TakeOff {
        self.take_off_of(self.dig())
    }

    /// Amounts for the job with this dig.
    fn take_off_of(&self, dig: Dig) -> TakeOff {
        let works = Works {
            outline: &self.outline,
            layers: &self.layers,
            block: &self.block,
            edges: &self.edges,
            allowances: &self.allowances,
            r#use: self.r#use,
        };
        take_off(&works, dig, self.blocks())
    }

    /// Every block in its place.
    ///
    /// # Errors
    /// [`TooManyBlocks`].
    pub fn laying(&self) -> Result<Laying, TooManyBlocks> {
        lay(&Paving {
            outline: &self.outline,
            block: &self.block,
            bond: &self.bond,
            limits: &self.joint_limits,
            course: self.edges.course,
            held: &self.edges.held,
        })
    }

    /// Blocks as they are laid; by the bond's module where there are too many to lay.
    pub fn blocks(&self) -> BlockCount {
        self.laid().count
    }

    /// What is wrong with the laying; nothing where there are too many blocks to lay.
    pub fn laying_problems(&self) -> Vec<Phrase> {
        self.laid().problems
    }

    fn laid(&self) -> Laid {
        laid::once(&self.file, || match self.laying() {
            Ok(laying) => Laid {
                count: BlockCount::of(&laying),
                problems: laying.problems.into_iter().map(|problem| problem.phrase).collect(),
            },
            Err(_) => {
                let (area, free) = (self.outline.area(), self.edges.free_length(&self.outline));
                let count = BlockCount::by_module(area, &self.block, self.edges.course, free);
                Laid { count, problems: Vec::new() }
            }
        })
    }
}
