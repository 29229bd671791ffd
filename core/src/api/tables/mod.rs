//! The calculators without a job: passes, drop test, mixes, swell and loads, vibration, falls. Each
//! is a pure function of what is typed, for the screens and for the command line.

mod choices;
mod ground;
mod mix;
mod passes;
mod vibration;

use std::ops::RangeInclusive;

pub use choices::{ChoicesView, FigureView, GoodsView, PlantView, SpecificationView, choices};
pub use ground::{FallAsked, FallView, SwellAsked, SwellView, fall, swell};
pub use mix::{MixAsked, MixName, MixView, PartsView, mix};
pub use passes::{DropTestAsked, DropTestView, DropView, LiftView, PassesAsked, PassesView};
pub use passes::{drop_test, passes};
pub use vibration::{ToolView, VibrationAsked, VibrationView, WorkAsked, exposure_view, vibration};

use super::Fault;
use crate::plan::Problem;

/// Problems of what was typed, gathered.
#[derive(Debug, Default)]
pub(crate) struct Typed(Vec<Problem>);

impl Typed {
    /// Adds a problem.
    pub(crate) fn refuse(
        &mut self,
        at: &str,
        problem: impl Into<String>,
        right: impl Into<String>,
    ) {
        self.0.push(Problem::new(at, problem, right));
    }

    /// A number within bounds; what is outside is a problem.
    pub(crate) fn within(&mut self, at: &str, value: f64, bounds: RangeInclusive<f64>, unit: &str) {
        if !bounds.contains(&value) {
            let right = format!("a number from {} to {} {unit}", bounds.start(), bounds.end());
            self.refuse(at, format!("{value} is out of bounds"), right.trim_end());
        }
    }

    /// The same for a number that may be left out.
    pub(crate) fn maybe_within(
        &mut self,
        at: &str,
        value: Option<f64>,
        bounds: RangeInclusive<f64>,
        unit: &str,
    ) {
        if let Some(value) = value {
            self.within(at, value, bounds, unit);
        }
    }

    /// The value, unless there are problems.
    ///
    /// # Errors
    /// `bad_input` with every problem.
    pub(crate) fn done<T>(self, value: Option<T>) -> Result<T, Fault> {
        match value {
            Some(value) if self.0.is_empty() => Ok(value),
            _ => Err(Fault::bad_input(&self.0)),
        }
    }
}
