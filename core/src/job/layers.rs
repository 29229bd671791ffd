//! What stands of each layer: dips in and out, thickness, passes.

use crate::buildup::{Layer, Tolerance, tolerance};
use crate::units::Length;

use super::fold::{DipTaken, JobState};
use crate::levels::Word;
use crate::outline::distance;

/// A layer, or one lift of the sub-base, as measured.
#[derive(Debug, Clone, PartialEq)]
pub struct LayerStand {
    /// Which layer.
    pub layer: Layer,
    /// Which lift; none for other layers, and for the sub-base as a whole.
    pub lift: Option<u32>,
    /// Its tolerance.
    pub tolerance: Tolerance,
    /// How far its top lies under the finished surface.
    pub below_finished: Length,
    /// Every dip that is not struck.
    pub dips: u32,
    /// Of these, inside the tolerance.
    pub r#in: u32,
    /// Of these, outside.
    pub out: u32,
    /// The newest dip of each place.
    pub standing: u32,
    /// Of these, outside the tolerance.
    pub standing_out: u32,
    /// Dips asked for.
    pub wanted: u32,
    /// Thickness at each place that also has a dip of the layer below.
    pub thickness: Vec<Length>,
}

impl LayerStand {
    /// Least, mean and greatest thickness.
    pub fn spread(&self) -> Option<[Length; 3]> {
        let first = *self.thickness.first()?;
        let least = self.thickness.iter().copied().fold(first, Length::min);
        let greatest = self.thickness.iter().copied().fold(first, Length::max);
        let sum: Length = self.thickness.iter().copied().sum();
        Some([least, sum / self.thickness.len() as f64, greatest])
    }

    /// Dips still to take.
    pub const fn missing(&self) -> u32 {
        self.wanted.saturating_sub(self.standing)
    }
}

/// Passes of one machine on one layer or lift.
#[derive(Debug, Clone, PartialEq)]
pub struct PassCount {
    /// Which layer.
    pub layer: Layer,
    /// Which lift.
    pub lift: Option<u32>,
    /// The machine.
    pub plant: String,
    /// How many.
    pub done: u32,
    /// Whether anything still moved at the last one that says.
    pub still_moving: Option<bool>,
    /// When the first and the last were made.
    pub between: [chrono::DateTime<chrono::FixedOffset>; 2],
}

/// A dip of the layer below is of the same place within this (our default).
const THICKNESS_REACH: Length = Length::from_mm(750.0);

/// One dip is asked for each so many square metres, and never fewer than three (our default).
const AREA_A_DIP_M2: f64 = 4.0;
const LEAST_DIPS: u32 = 3;

/// Every layer from the formation up, the sub-base by lift.
pub fn layer_stands(state: &JobState) -> Vec<LayerStand> {
    let steps = state.plan.layers.steps();
    let mut below: Option<(Layer, Option<u32>)> = None;
    steps
        .iter()
        .map(|&step| {
            let stand = stand(state, step, below);
            below = Some(step);
            stand
        })
        .collect()
}

/// The sub-base as a whole: every dip of it, and its thickness from formation to top.
pub fn sub_base_stand(state: &JobState) -> LayerStand {
    let top = last_lift(state);
    let mut whole = stand(state, (Layer::SubBase, top), Some((Layer::Formation, None)));
    whole.lift = None;
    let all = || state.dips.iter().filter(|d| d.dip.layer == Layer::SubBase);
    whole.dips = count(all());
    whole.r#in = count(all().filter(|d| d.word == Word::Right));
    whole.out = whole.dips - whole.r#in;
    whole
}

fn last_lift(state: &JobState) -> Option<u32> {
    u32::try_from(state.plan.layers.lifts.len()).ok()
}

fn count<T>(items: impl Iterator<Item = T>) -> u32 {
    u32::try_from(items.count()).unwrap_or(u32::MAX)
}

/// Dips of a layer or lift. A dip that names no lift is of the sub-base's finished top.
fn dips_of(
    state: &JobState,
    (layer, lift): (Layer, Option<u32>),
) -> impl Iterator<Item = &DipTaken> {
    let last = last_lift(state);
    state.dips.iter().filter(move |d| {
        d.dip.layer == layer && (layer != Layer::SubBase || d.dip.lift.or(last) == lift)
    })
}

fn stand(
    state: &JobState,
    step: (Layer, Option<u32>),
    below: Option<(Layer, Option<u32>)>,
) -> LayerStand {
    let (layer, lift) = step;
    let dips = count(dips_of(state, step));
    let r#in = count(dips_of(state, step).filter(|d| d.word == Word::Right));
    let standing: Vec<&DipTaken> = dips_of(state, step).filter(|d| !d.superseded).collect();
    let design = below.map_or(Length::ZERO, |below| {
        state.plan.layers.below_finished(below.0, below.1)
            - state.plan.layers.below_finished(layer, lift)
    });
    let under: Vec<&DipTaken> = below
        .map(|below| dips_of(state, below).filter(|d| !d.superseded).collect())
        .unwrap_or_default();
    let thickness = standing
        .iter()
        .filter_map(|top| nearest(&under, top).map(|bottom| design + top.high - bottom.high))
        .collect();
    LayerStand {
        layer,
        lift,
        tolerance: tolerance(layer, state.plan.r#use),
        below_finished: state.plan.layers.below_finished(layer, lift),
        dips,
        r#in,
        out: dips - r#in,
        standing: count(standing.iter()),
        standing_out: count(standing.iter().filter(|d| d.word != Word::Right)),
        wanted: wanted_dips(state),
        thickness,
    }
}

fn wanted_dips(state: &JobState) -> u32 {
    let by_area = (state.plan.outline.area().to_m2() / AREA_A_DIP_M2).ceil();
    LEAST_DIPS.max(by_area as u32)
}

fn nearest<'a>(dips: &[&'a DipTaken], to: &DipTaken) -> Option<&'a DipTaken> {
    let away = |d: &DipTaken| distance(d.point, to.point);
    dips.iter()
        .copied()
        .min_by(|a, b| away(a).to_m().total_cmp(&away(b).to_m()))
        .filter(|d| away(d) <= THICKNESS_REACH)
}

/// Passes by layer, lift and machine, in order of the layers.
pub fn pass_counts(state: &JobState) -> Vec<PassCount> {
    let mut counts: Vec<PassCount> = Vec::new();
    let last = last_lift(state);
    for made in &state.passes {
        let pass = &made.pass;
        let lift = if pass.layer == Layer::SubBase { pass.lift.or(last) } else { None };
        let known = counts.iter_mut().find(|count| {
            (count.layer, count.lift, count.plant.as_str())
                == (pass.layer, lift, pass.plant.as_str())
        });
        if let Some(count) = known {
            count.done += 1;
            count.still_moving = pass.still_moving.or(count.still_moving);
            count.between = [count.between[0].min(made.at), count.between[1].max(made.at)];
        } else {
            counts.push(PassCount {
                layer: pass.layer,
                lift,
                plant: pass.plant.clone(),
                done: 1,
                still_moving: pass.still_moving,
                between: [made.at, made.at],
            });
        }
    }
    counts.sort_by_key(|count| (count.layer, count.lift));
    counts
}
