//! Gates: what must be known before a stage is closed, and what is needed now.

use super::concrete::{CARS_HOURS, ConcreteStand, PLATE_HOURS, concrete_stands};
use super::delivered::{missing_says, ticked_order};
use super::fold::{Closing, JobState};
use super::layers::{LayerStand, PassCount, layer_stands, pass_counts};
use super::site::{DropStand, drop_stands};
use super::{Stage, StageState};
use crate::buildup::{Layer, Use};
use crate::compaction::DropVerdict;
use crate::diary::Checked;
use crate::plan::unanswered;
use crate::units::Length;
use crate::words::Phrase;

/// One line of a gate.
#[derive(Debug, Clone, PartialEq)]
pub struct Evidence {
    /// Whether it is there.
    pub met: bool,
    /// What it is, with its figures; where it is missing, what is missing.
    pub says: Phrase,
    /// The question it is the answer to.
    pub check: Option<Checked>,
}

/// A stage with its gate.
#[derive(Debug, Clone, PartialEq)]
pub struct StageStand {
    /// Which stage.
    pub stage: Stage,
    /// Where it stands.
    pub state: StageState,
    /// The gate's lines.
    pub gate: Vec<Evidence>,
    /// How it was last closed or opened.
    pub closing: Option<Closing>,
}

impl StageStand {
    /// What the gate still lacks.
    pub fn missing(&self) -> impl Iterator<Item = &Evidence> {
        self.gate.iter().filter(|line| !line.met)
    }

    /// Whether the stage is still to be closed.
    pub const fn is_open(&self) -> bool {
        matches!(self.state, StageState::Waiting | StageState::InWork)
    }
}

/// Every stage in working order.
pub fn stages(state: &JobState) -> Vec<StageStand> {
    let layers = layer_stands(state);
    let passes = pass_counts(state);
    let drops = drop_stands(state);
    let concrete = concrete_stands(state);
    let known = Known { layers: &layers, passes: &passes, drops: &drops, concrete: &concrete };
    let mut all_open: Vec<Stage> = Vec::new();
    Stage::in_order(state.plan.r#use)
        .into_iter()
        .map(|stage| {
            let open_before: Vec<Stage> =
                all_open.iter().copied().filter(|before| !stage.may_precede(*before)).collect();
            let mut gate = gate(stage, state, &known);
            if stage != Stage::BeforeStart && (gate.is_empty() || !open_before.is_empty()) {
                gate.insert(0, earlier_closed(&open_before));
            }
            let closing = state.closings.get(&stage).cloned();
            let state = match &closing {
                Some(Closing { done: true, reason, .. }) if reason.is_empty() => StageState::Done,
                Some(Closing { done: true, .. }) => StageState::PassedWithReason,
                _ if open_before.is_empty() => StageState::InWork,
                _ => StageState::Waiting,
            };
            let stand = StageStand { stage, state, gate, closing };
            if stand.is_open() {
                all_open.push(stage);
            }
            stand
        })
        .collect()
}

/// What is needed now: the first thing missing from the first open stage.
pub fn next(stages: &[StageStand]) -> Phrase {
    let Some(open) = stages.iter().find(|s| s.is_open()) else {
        return Phrase::new("next.all_done", []);
    };
    match open.missing().next() {
        Some(line) => line.says.clone(),
        None => Phrase::new("next.close", [("stage", open.stage.word().into())]),
    }
}

/// What the gates look at, worked out once.
struct Known<'a> {
    layers: &'a [LayerStand],
    passes: &'a [PassCount],
    drops: &'a [DropStand],
    concrete: &'a [ConcreteStand],
}

impl<'a> Known<'a> {
    fn of(&self, layer: Layer) -> impl Iterator<Item = &'a LayerStand> + use<'a> {
        self.layers.iter().filter(move |stand| stand.layer == layer)
    }

    /// Passes, and the drop test where one was made.
    fn compacted(&self, stand: &LayerStand) -> impl Iterator<Item = Evidence> + use<'a> {
        std::iter::once(passed(stand, self.passes)).chain(settled(stand, self.drops))
    }
}

fn gate(stage: Stage, state: &JobState, known: &Known) -> Vec<Evidence> {
    match stage {
        Stage::BeforeStart => {
            let mut lines = vec![answered(state, Checked::ServicesMarked)];
            lines.extend(cautions_answered(state));
            lines.push(materials(state));
            lines.push(answered(state, Checked::StringsSet));
            lines.push(photographed(state, stage));
            lines
        }
        Stage::Excavate => known.of(Layer::Formation).flat_map(dips).collect(),
        Stage::CompactFormation => {
            let mut lines = vec![soft_spots(state)];
            lines.extend(known.of(Layer::Formation).flat_map(|stand| known.compacted(stand)));
            lines.push(photographed(state, stage));
            lines
        }
        Stage::SubBase => known
            .of(Layer::SubBase)
            .flat_map(|lift| known.compacted(lift).chain(dips(lift)))
            .chain([photographed(state, stage)])
            .collect(),
        Stage::Screed => known.of(Layer::Bed).flat_map(dips).chain(rained_on(state)).collect(),
        Stage::Joint => {
            let lines = known.of(Layer::Surface).flat_map(|stand| known.compacted(stand));
            hardened(known.concrete, PLATE_HOURS, "plate").into_iter().chain(lines).collect()
        }
        Stage::RestrainEdges if state.plan.edges.haunch => vec![photographed(state, stage)],
        Stage::RestrainEdges | Stage::Bed | Stage::Lay | Stage::Cut => Vec::new(),
        Stage::HandOver => {
            let mut lines: Vec<Evidence> = known.of(Layer::Surface).flat_map(dips).collect();
            lines.extend(snags(state));
            if state.plan.r#use == Use::Car {
                lines.extend(hardened(known.concrete, CARS_HOURS, "cars"));
            }
            lines.push(answered(state, Checked::CareExplained));
            lines.push(Evidence {
                met: !state.records.is_empty(),
                says: phrase_if(!state.records.is_empty(), "gate.record", "next.record"),
                check: None,
            });
            lines
        }
        Stage::ReturnVisit => vec![answered(state, Checked::JointsToppedUp)],
    }
}

/// The stages before this one are closed: what is covered cannot be put right any more.
fn earlier_closed(open: &[Stage]) -> Evidence {
    let says = match open {
        [] => Phrase::new("gate.earlier_closed", []),
        [first] => Phrase::new("next.earlier_open", [("stage", first.word().into())]),
        [first, rest @ ..] => {
            let values = [("stage", first.word().into()), ("count", (rest.len() as f64).into())];
            Phrase::new("next.earlier_open_more", values)
        }
    };
    Evidence { met: open.is_empty(), says, check: None }
}

/// A line with a count that no person answers.
fn counted(met: bool, code: &str, count: usize) -> Evidence {
    let says = Phrase::new(code, [("count", (count as f64).into())]);
    Evidence { met, says, check: None }
}

/// Soft spots that were logged are filled; where none was, somebody has looked.
fn soft_spots(state: &JobState) -> Evidence {
    let (all, open) = (state.site.soft_spots.len(), state.site.open_spots().count());
    match (all, open) {
        (0, _) => answered(state, Checked::SoftSpotsDone),
        (_, 0) => counted(true, "gate.soft_spots_filled", all),
        _ => counted(false, "next.soft_spots_open", open),
    }
}

/// It rained on the open bed: somebody has looked at it since. No line where it stayed dry.
fn rained_on(state: &JobState) -> Option<Evidence> {
    let begun = state.dips.iter().filter(|d| d.dip.layer == Layer::Bed).map(|d| d.at).min()?;
    let wet = state.site.wet_since(begun)?;
    let seen = state.checks.get(&Checked::BedDry).is_some_and(|(at, _)| *at >= wet);
    let says = phrase_if(seen, "gate.bed_dry", "next.bed_dry");
    Some(Evidence { met: seen, says, check: Some(Checked::BedDry) })
}

/// Edge concrete is old enough for a load; no line where none was logged.
fn hardened(concrete: &[ConcreteStand], age: f64, load: &str) -> Option<Evidence> {
    let youngest = concrete.iter().min_by(|a, b| a.age_hours.total_cmp(&b.age_hours))?;
    let met = youngest.age_hours >= age;
    let code = match (met, youngest.hours_to(age)) {
        (true, _) => format!("gate.concrete_{load}"),
        (false, Some(_)) => format!("next.concrete_{load}"),
        (false, None) => "next.concrete_cold".to_owned(),
    };
    let values = [
        ("age", youngest.age_hours.floor().into()),
        ("hours", youngest.hours_to(age).unwrap_or(0.0).ceil().into()),
        ("temperature", youngest.temperature_c.into()),
    ];
    Some(Evidence { met, says: Phrase::new(&code, values), check: None })
}

/// Snags are put right; no line where there was none.
fn snags(state: &JobState) -> Option<Evidence> {
    let (all, open) = (state.site.snags.len(), state.site.open_snags().count());
    match (all, open) {
        (0, _) => None,
        (_, 0) => Some(counted(true, "gate.snags", all)),
        _ => Some(counted(false, "next.snags", open)),
    }
}

/// The drop test shows that the plate does no more; no line where none was made.
fn settled(stand: &LayerStand, drops: &[DropStand]) -> Option<Evidence> {
    let here = |test: &&DropStand| (test.layer, test.lift) == (stand.layer, stand.lift);
    let answer = drops.iter().find(here)?.answer.as_ref()?;
    let met = answer.verdict == DropVerdict::Done;
    Some(Evidence { met, says: answer.says.clone(), check: None })
}

fn phrase_if(met: bool, yes: &str, no: &str) -> Phrase {
    Phrase::new(if met { yes } else { no }, [])
}

fn answered(state: &JobState, check: Checked) -> Evidence {
    let met = state.checks.contains_key(&check);
    let code = format!("{}.{}", if met { "gate" } else { "next" }, check.name());
    Evidence { met, says: Phrase::new(&code, []), check: Some(check) }
}

/// All materials are on site: by a person's word, or by the deliveries that were logged. Until then
/// the line says what is missing.
fn materials(state: &JobState) -> Evidence {
    if state.checks.contains_key(&Checked::MaterialsOnSite) {
        return answered(state, Checked::MaterialsOnSite);
    }
    let lines = ticked_order(state).lines;
    let missing = missing_says(&lines);
    let met = missing.is_empty();
    let code = if met {
        "gate.materials_delivered"
    } else if state.deliveries.is_empty() {
        "next.materials_none"
    } else {
        "next.materials_missing"
    };
    let says = Phrase::new(code, [("list", missing.into())]);
    Evidence { met, says, check: Some(Checked::MaterialsOnSite) }
}

/// Cautions of the plan that want an answer; no line where it brings none.
fn cautions_answered(state: &JobState) -> Option<Evidence> {
    let open = unanswered(&state.plan).len();
    if open == 0 && state.plan.answers.is_empty() {
        return None;
    }
    let says = if open == 0 {
        Phrase::new("gate.caution_answered", [])
    } else {
        Phrase::new("next.caution_answered", [("count", (open as f64).into())])
    };
    Some(Evidence { met: open == 0, says, check: None })
}

fn photographed(state: &JobState, stage: Stage) -> Evidence {
    let photos = state.photos.iter().filter(|taken| taken.photo.stage == stage).count();
    let says = if photos > 0 {
        Phrase::new("gate.photos", [("count", (photos as f64).into())])
    } else {
        Phrase::new("next.photo", [("stage", stage.word().into())])
    };
    Evidence { met: photos > 0, says, check: None }
}

/// The key of a layer's name, and the number of the lift, for phrases about it.
fn named(stand: &LayerStand) -> [(&'static str, crate::words::Value); 2] {
    [("layer", stand.layer.word().into()), ("lift", stand.lift.unwrap_or(0).into())]
}

fn with_lift(code: &str, stand: &LayerStand) -> String {
    if stand.lift.is_some() { format!("{code}_lift") } else { code.to_owned() }
}

/// The lines of a layer: dips enough and nowhere far from one, none of those that stand outside the
/// tolerance, none too thin. Before the first dip there is only the first line.
fn dips(stand: &LayerStand) -> Vec<Evidence> {
    let line = |met, code: &str, count: u32| {
        let [layer, lift] = named(stand);
        let says = Phrase::new(&with_lift(code, stand), [layer, lift, ("count", count.into())]);
        Evidence { met, says, check: None }
    };
    let enough = match stand.missing() {
        0 if stand.covered() => line(true, "gate.dips", stand.standing),
        0 => Evidence { met: false, says: uncovered(stand), check: None },
        missing if stand.standing == 0 => line(false, "next.dips_first", missing),
        missing => line(false, "next.dips", missing),
    };
    if stand.standing == 0 {
        return vec![enough];
    }
    let right = match stand.standing_out {
        0 => line(true, "gate.none_out", stand.standing),
        // What was dug too deep is not put right: stone fills it.
        out if stand.layer == Layer::Formation && stand.standing_high == 0 => {
            line(false, "next.overdug", out)
        }
        out => line(false, "next.out", out),
    };
    let thin = stand.thin().map(|short| {
        let [layer, lift] = named(stand);
        let values = [layer, lift, ("short", short.to_mm().ceil().into())];
        Evidence {
            met: false,
            says: Phrase::new(&with_lift("next.thin", stand), values),
            check: None,
        }
    });
    [enough, right].into_iter().chain(thin).collect()
}

/// Where the widest part without a dip is, and how to dip there.
fn uncovered(stand: &LayerStand) -> Phrase {
    let decimetres = |length: Length| ((length.to_m() * 10.0).round() / 10.0).into();
    let [layer, lift] = named(stand);
    let Some((gap, (string, at))) =
        stand.gap.as_ref().and_then(|gap| Some((gap, gap.from.as_ref()?)))
    else {
        return Phrase::new(&with_lift("next.dips", stand), [layer, lift, ("count", 1_u32.into())]);
    };
    let values = [
        layer,
        lift,
        ("gap", decimetres(gap.radius)),
        ("from", string.from.name.clone().into()),
        ("to", string.to.name.clone().into()),
        ("at", ((at.to_m() * 20.0).round() / 20.0).into()),
    ];
    Phrase::new(&with_lift("next.cover", stand), values)
}

/// A layer has been passed over, and nothing moved at the last pass.
fn passed(stand: &LayerStand, passes: &[PassCount]) -> Evidence {
    let [layer, lift] = named(stand);
    let here: Vec<&PassCount> = passes
        .iter()
        .filter(|count| (count.layer, count.lift) == (stand.layer, stand.lift))
        .collect();
    let done: u32 = here.iter().map(|count| count.done).sum();
    let moving = here
        .iter()
        .max_by_key(|count| count.between[1])
        .and_then(|count| count.still_moving)
        .unwrap_or(false);
    let (met, code) = match (done, moving) {
        (0, _) => (false, "next.passes"),
        (_, true) => (false, "next.still_moving"),
        (_, false) => (true, "gate.passes"),
    };
    let says = Phrase::new(&with_lift(code, stand), [layer, lift, ("count", done.into())]);
    Evidence { met, says, check: None }
}
