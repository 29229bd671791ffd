//! What stands of each layer: dips in and out, thickness, passes.

use geo::Polygon;

use super::fold::{DipTaken, JobState};
use crate::buildup::{Layer, Tolerance};
use crate::diary::Pass;
use crate::ground::{Thickness, ThicknessOver, farthest};
use crate::levels::{Pin, StringLine, Word};
use crate::outline::{CHORD_TOLERANCE, Point, distance};
use crate::units::{Duration, Length};

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
    /// Of these, too high.
    pub standing_high: u32,
    /// The fewest dips that can cover it.
    pub wanted: u32,
    /// The widest part of it without a dip; none before the first dip.
    pub gap: Option<Gap>,
    /// What it lies on; nothing for the formation.
    pub below: Option<(Layer, Option<u32>)>,
    /// Thickness as planned; nothing for the formation.
    pub design: Length,
    /// Thickness at each place that also has a dip of the layer below.
    pub thickness: Vec<Length>,
}

/// The largest circle with its centre in the paving and no dip in it.
#[derive(Debug, Clone, PartialEq)]
pub struct Gap {
    /// Its centre: where a dip would tell most.
    pub place: Point,
    /// Its radius.
    pub radius: Length,
    /// The string from which to dip there, and how far along it.
    pub from: Option<(StringLine, Length)>,
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

    /// Dips still to take before the layer can be covered at all.
    pub const fn missing(&self) -> u32 {
        self.wanted.saturating_sub(self.standing)
    }

    /// Whether there are dips enough, and none of it is farther from one than [`SPACING`].
    pub fn covered(&self) -> bool {
        self.missing() == 0 && self.gap.as_ref().is_none_or(|gap| gap.radius <= SPACING)
    }

    /// How much thinner than planned it is where it is thinnest, where that is too much.
    pub fn thin(&self) -> Option<Length> {
        let short = self.design - self.spread()?[0];
        (short > THINNER).then_some(short)
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
    /// How many came sooner after the one before than this machine can go over the layer; none where
    /// that is not known.
    pub quick: Option<u32>,
}

/// A dip of the layer below is of the same place within this (our default).
const THICKNESS_REACH: Length = Length::from_mm(750.0);

/// A layer is covered by three dips or more, none of it farther from one than this (our default).
pub const SPACING: Length = Length::from_m(1.5);
const LEAST_DIPS: u32 = 3;
/// A layer may be thinner than planned by this; beyond it is out, whatever its levels say (our
/// default).
const THINNER: Length = Length::from_mm(10.0);
/// The boundary's chords may leave its arcs by this where the widest gap is looked for.
const GAP_TOLERANCE: Length = Length::from_mm(10.0);

/// Every layer from the formation up, the sub-base by lift.
pub fn layer_stands(state: &JobState) -> Vec<LayerStand> {
    let steps = state.plan.layers.steps();
    let shape = state.plan.outline.polygon(GAP_TOLERANCE);
    let mut below: Option<(Layer, Option<u32>)> = None;
    steps
        .iter()
        .map(|&step| {
            let stand = stand(state, step, below, &shape);
            below = Some(step);
            stand
        })
        .collect()
}

/// The sub-base as a whole: every dip of it, and its thickness from formation to top.
pub fn sub_base_stand(state: &JobState) -> LayerStand {
    let top = last_lift(state);
    let shape = state.plan.outline.polygon(GAP_TOLERANCE);
    let mut whole = stand(state, (Layer::SubBase, top), Some((Layer::Formation, None)), &shape);
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
    shape: &Polygon,
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
        tolerance: state.plan.tolerance(layer, lift),
        below_finished: state.plan.layers.below_finished(layer, lift),
        dips,
        r#in,
        out: dips - r#in,
        standing: count(standing.iter()),
        standing_out: count(standing.iter().filter(|d| d.word != Word::Right)),
        standing_high: count(standing.iter().filter(|d| d.word == Word::High)),
        wanted: LEAST_DIPS,
        gap: gap(state, &standing, shape),
        below,
        design,
        thickness,
    }
}

/// The thickness of a layer over the whole paving, from its dips that stand and those of the layer
/// below; none for the formation, and where either was dipped at no more than one place.
pub fn thickness(state: &JobState, stand: &LayerStand) -> Option<Thickness> {
    let heights = |step| -> Vec<(Point, Length)> {
        let standing = dips_of(state, step).filter(|dip| !dip.superseded);
        standing.map(|dip| (dip.point, dip.high)).collect()
    };
    let lift = if stand.layer == Layer::SubBase { stand.lift.or(last_lift(state)) } else { None };
    Thickness::between(stand.design, &heights(stand.below?), &heights((stand.layer, lift)))
}

/// The same summed over the paving, with the area that is thinner than planned by too much.
pub fn thickness_over(state: &JobState, stand: &LayerStand) -> Option<ThicknessOver> {
    let shape = state.plan.outline.polygon(CHORD_TOLERANCE);
    thickness(state, stand).map(|thickness| thickness.over(&shape, thin_limit(stand)))
}

/// A layer that is thinner than this is too thin.
pub fn thin_limit(stand: &LayerStand) -> Length {
    stand.design - THINNER
}

fn gap(state: &JobState, standing: &[&DipTaken], shape: &Polygon) -> Option<Gap> {
    let places: Vec<Point> = standing.iter().map(|dip| dip.point).collect();
    let (place, radius) = farthest(shape, &places)?;
    let from = if radius > SPACING { string_near(&state.plan.pins(), place) } else { None };
    Some(Gap { place, radius, from })
}

/// A string is taken across a bay where it runs this near to the place; the shorter the better.
const NEAR: Length = Length::from_mm(150.0);

/// Of all strings between two pins, the one to dip a place from: the shortest that runs near it, or
/// the nearest.
fn string_near(pins: &[Pin], place: Point) -> Option<(StringLine, Length)> {
    let pairs =
        pins.iter().enumerate().flat_map(|(i, a)| pins.iter().skip(i + 1).map(move |b| (a, b)));
    let strings = pairs.map(|(from, to)| {
        let string = StringLine { from: from.clone(), to: to.clone() };
        let (along, away) = string.nearest(place);
        (string, along, away)
    });
    let cost = |(string, _, away): &(StringLine, Length, Length)| {
        let far = if *away > NEAR { *away * 100.0 } else { Length::ZERO };
        (far + string.length()).to_m()
    };
    strings.min_by(|a, b| cost(a).total_cmp(&cost(b))).map(|(string, along, _)| (string, along))
}

fn nearest<'a>(dips: &[&'a DipTaken], to: &DipTaken) -> Option<&'a DipTaken> {
    let away = |d: &DipTaken| distance(d.point, to.point);
    dips.iter()
        .copied()
        .min_by(|a, b| away(a).to_m().total_cmp(&away(b).to_m()))
        .filter(|d| away(d) <= THICKNESS_REACH)
}

/// The least time of a pass; none where the machine's width is not in the plan.
fn least_time(state: &JobState, pass: &Pass) -> Option<Duration> {
    state.plan.pass_time(pass.layer, state.plan.kit.plant_named(&pass.plant)?)
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
            if let (Some(quick), Some(least)) = (&mut count.quick, least_time(state, pass)) {
                let since = (made.at - count.between[1]).num_milliseconds();
                *quick += u32::from(Duration::from_h(since as f64 / 3.6e6) < least);
            }
            count.between = [count.between[0].min(made.at), count.between[1].max(made.at)];
        } else {
            counts.push(PassCount {
                layer: pass.layer,
                lift,
                plant: pass.plant.clone(),
                done: 1,
                still_moving: pass.still_moving,
                between: [made.at, made.at],
                quick: least_time(state, pass).map(|_| 0),
            });
        }
    }
    counts.sort_by_key(|count| (count.layer, count.lift));
    counts
}
