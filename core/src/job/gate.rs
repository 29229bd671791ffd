//! Gates: what must be known before a stage is closed, and what is needed now.

use super::fold::{Closing, JobState};
use super::layers::{LayerStand, PassCount, layer_stands, pass_counts};
use super::{Stage, StageState};
use crate::buildup::Layer;
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
    let mut open_before = false;
    Stage::in_order(state.plan.r#use)
        .into_iter()
        .map(|stage| {
            let gate = gate(stage, state, &layers, &passes);
            let closing = state.closings.get(&stage).cloned();
            let state = match &closing {
                Some(Closing { done: true, reason, .. }) if reason.is_empty() => StageState::Done,
                Some(Closing { done: true, .. }) => StageState::PassedWithReason,
                _ if open_before => StageState::Waiting,
                _ => StageState::InWork,
            };
            open_before |= matches!(state, StageState::InWork);
            StageStand { stage, state, gate, closing }
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

fn gate(
    stage: Stage,
    state: &JobState,
    layers: &[LayerStand],
    passes: &[PassCount],
) -> Vec<Evidence> {
    let of = |layer: Layer| layers.iter().filter(move |stand| stand.layer == layer);
    match stage {
        Stage::BeforeStart => {
            let mut lines = vec![answered(state, Checked::ServicesMarked)];
            lines.extend(cautions_answered(state));
            lines.push(answered(state, Checked::MaterialsOnSite));
            lines.push(answered(state, Checked::StringsSet));
            lines.push(photographed(state, stage));
            lines
        }
        Stage::Excavate => of(Layer::Formation).flat_map(dips).collect(),
        Stage::CompactFormation => {
            let mut lines = vec![answered(state, Checked::SoftSpotsDone)];
            lines.extend(of(Layer::Formation).map(|stand| passed(stand, passes)));
            lines.push(photographed(state, stage));
            lines
        }
        Stage::SubBase => of(Layer::SubBase)
            .flat_map(|lift| {
                let passed = passed(lift, passes);
                std::iter::once(passed).chain(dips(lift))
            })
            .chain([photographed(state, stage)])
            .collect(),
        Stage::Screed => of(Layer::Bed).flat_map(dips).collect(),
        Stage::Joint => of(Layer::Surface).map(|stand| passed(stand, passes)).collect(),
        Stage::RestrainEdges if state.plan.edges.haunch => vec![photographed(state, stage)],
        Stage::RestrainEdges | Stage::Bed | Stage::Lay | Stage::Cut => Vec::new(),
        Stage::HandOver => {
            let mut lines: Vec<Evidence> = of(Layer::Surface).flat_map(dips).collect();
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

fn phrase_if(met: bool, yes: &str, no: &str) -> Phrase {
    Phrase::new(if met { yes } else { no }, [])
}

fn answered(state: &JobState, check: Checked) -> Evidence {
    let met = state.checks.contains_key(&check);
    let code = format!("{}.{}", if met { "gate" } else { "next" }, check.name());
    Evidence { met, says: Phrase::new(&code, []), check: Some(check) }
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
