//! A job on the screen, and its diary.

use std::collections::BTreeMap;

use serde_json::{Value, json};
use uuid::Uuid;

use super::changes;
use super::plan_view::{drawing, section};
use super::requests::{OfJob, OfLayer};
use super::says::says;
use super::site_view::{site_json, site_view};
use super::views::{
    DipView, EntryView, Evidence, IssuedRecord, JobView, LayerView, NextPlace, PassRow, PhotoView,
    Spread, StageView, StruckView, UndoView,
};
use super::{Desk, Fault};
use crate::buildup::Layer;
use crate::diary::{Body, Checked, Entry};
use crate::ground::ThicknessOver;
use crate::job::{
    DipTaken, JobState, LayerStand, MaterialStand, PassCount, Stage, StageStand, StageState, fold,
    layer_stands, material_stands, next, pass_counts, stages, sub_base_stand, thickness_over,
    ticked_order,
};
use crate::plan::cautions;
use crate::record::{ThicknessDrawn, thickness_drawn};
use crate::store;
use crate::units::{Duration, Length, Mass};

/// A late entry happened this long before it was recorded, or longer.
const LATE_MINUTES: i64 = 5;

/// A job's entries and state.
///
/// # Errors
/// `not_found` for an unknown job.
pub(crate) fn load(desk: &Desk, job: &str) -> Result<(Uuid, Vec<Entry>, JobState), Fault> {
    let unknown = || Fault::not_found(&format!("there is no job {job} in this store"));
    let id = Uuid::parse_str(job).map_err(|_| unknown())?;
    let entries = desk.store.read(|connection| store::entries_of(connection, id))?;
    if entries.is_empty() {
        return Err(unknown());
    }
    let state = fold(&entries)?;
    Ok((id, entries, state))
}

/// The same, told for this moment.
///
/// # Errors
/// `not_found` for an unknown job.
pub(crate) fn load_now(desk: &mut Desk, job: &str) -> Result<(Uuid, Vec<Entry>, JobState), Fault> {
    let (id, entries, mut state) = load(desk, job)?;
    state.as_of = state.as_of.max(desk.outside.now());
    Ok((id, entries, state))
}

/// Everything a job's screens show.
///
/// # Errors
/// `not_found` for an unknown job.
pub fn job(desk: &mut Desk, arguments: OfJob) -> Result<JobView, Fault> {
    let (id, entries, state) = load_now(desk, &arguments.job)?;
    let device = desk.store.read(store::device_if_known)?;
    let stages = stages(&state);
    let stage = stages
        .iter()
        .find(|s| s.state == StageState::InWork)
        .map_or(Stage::ReturnVisit, |s| s.stage);
    let mut plants: Vec<String> = Vec::new();
    for made in state.passes.iter().rev() {
        if !plants.contains(&made.pass.plant) {
            plants.push(made.pass.plant.clone());
        }
    }
    Ok(JobView {
        id: id.to_string(),
        title: state.plan.title.clone(),
        r#use: state.plan.r#use,
        place: state.plan.parties.place.clone(),
        customer: state.plan.parties.customer.clone(),
        section: section(&state.plan, Some((&state, &stages))),
        next: next(&stages),
        stage,
        layers: layer_stands(&state).iter().map(layer_view).collect(),
        passes: passes(&state),
        plants,
        drawing: drawing(&state.plan),
        dips: state.dips.iter().map(dip_view).collect(),
        photos: photos(&state),
        cautions: cautions_now(&state, stage),
        undo: undo(&entries, &state, device),
        records: records(&state, &entries),
        changes: changes::changes(&state, &entries),
        signatures: changes::record_signatures(&state, &entries),
        currency: changes::currency(&state),
        stages: stages.iter().map(stage_view).collect(),
        site: site_view(&state, &stages, stage),
        plan: state.plan.file.clone(),
    })
}

/// How thick a layer is over the whole paving; none where its dips do not tell it, and none of the blocks,
/// whose thickness is made.
///
/// # Errors
/// `not_found` for an unknown job.
pub fn layer_thickness(desk: &mut Desk, of: OfLayer) -> Result<Option<ThicknessDrawn>, Fault> {
    let (_, _, state) = load(desk, &of.job)?;
    if of.layer == Layer::Surface {
        return Ok(None);
    }
    let stands = layer_stands(&state);
    let stand = stands.into_iter().find(|stand| (stand.layer, stand.lift) == (of.layer, of.lift));
    let whole = || (of.layer == Layer::SubBase).then(|| sub_base_stand(&state));
    Ok(stand.or_else(whole).and_then(|stand| thickness_drawn(&state, &stand)))
}

fn stage_view(stand: &StageStand) -> StageView {
    let closed = stand.closing.as_ref().filter(|closing| closing.done);
    StageView {
        stage: stand.stage,
        state: stand.state,
        gate: stand
            .gate
            .iter()
            .map(|line| Evidence {
                met: line.met,
                says: line.says.clone(),
                check: line.check.map(|check| check.name().to_owned()),
            })
            .collect(),
        reason: closed.map(|c| c.reason.clone()).unwrap_or_default(),
        closed_by: closed.map(|c| c.who.clone()).unwrap_or_default(),
        closed_at: closed.map(|c| c.at.to_rfc3339()).unwrap_or_default(),
    }
}

/// Least, mean and greatest, in millimetres.
pub(crate) fn spread(stand: &LayerStand) -> Option<Spread> {
    stand.spread().map(|spread| {
        let [least, mean, greatest] = spread.map(Length::to_mm);
        Spread { least, mean, greatest }
    })
}

fn layer_view(stand: &LayerStand) -> LayerView {
    LayerView {
        layer: stand.layer,
        lift: stand.lift,
        below_finished_mm: stand.below_finished.to_mm(),
        high_by_mm: stand.tolerance.high_by.to_mm(),
        low_by_mm: stand.tolerance.low_by.to_mm(),
        dips: stand.standing,
        r#in: stand.standing - stand.standing_out,
        out: stand.standing_out,
        wanted_dips: stand.wanted,
        covered: stand.covered(),
        widest_gap_m: stand.gap.as_ref().map(|gap| gap.radius.to_m()),
        next_place: next_place(stand),
        thickness_mm: spread(stand),
    }
}

fn next_place(stand: &LayerStand) -> Option<NextPlace> {
    let gap = stand.gap.as_ref()?;
    let (string, at) = gap.from.as_ref()?;
    Some(NextPlace {
        x_m: gap.place.x,
        y_m: gap.place.y,
        from: string.from.name.clone(),
        to: string.to.name.clone(),
        at_m: at.to_m(),
    })
}

fn passes(state: &JobState) -> Vec<PassRow> {
    pass_counts(state)
        .into_iter()
        .map(|count| PassRow {
            wanted: state.plan.passes_wanted(count.layer, count.lift, &count.plant),
            pass_min: pass_min(state, &count),
            layer: count.layer,
            lift: count.lift,
            plant: count.plant,
            done: count.done,
            still_moving: count.still_moving,
            last_at: count.between[1].to_rfc3339(),
            quick: count.quick,
        })
        .collect()
}

/// Least minutes of a pass of this machine; none where its width is not in the plan.
fn pass_min(state: &JobState, count: &PassCount) -> Option<f64> {
    let plant = state.plan.kit.plant_named(&count.plant)?;
    state.plan.pass_time(count.layer, plant).map(Duration::to_min)
}

/// A dip as screens and papers show it.
pub(crate) fn dip_view(taken: &DipTaken) -> DipView {
    DipView {
        entry: taken.entry.to_string(),
        layer: taken.dip.layer,
        lift: taken.dip.lift,
        x_m: taken.point.x,
        y_m: taken.point.y,
        from: taken.dip.from.clone(),
        to: taken.dip.to.clone(),
        at_m: taken.dip.at_m,
        raise_mm: taken.dip.raise_mm,
        reading_mm: taken.dip.reading_mm,
        target_mm: taken.target.to_mm(),
        high_mm: taken.high.to_mm(),
        word: taken.word,
        superseded: taken.superseded,
        at: taken.at.to_rfc3339(),
        who: taken.who.clone(),
    }
}

fn photos(state: &JobState) -> Vec<PhotoView> {
    state
        .photos
        .iter()
        .map(|taken| PhotoView {
            entry: taken.entry.to_string(),
            sha256: taken.photo.sha256.clone(),
            stage: taken.photo.stage,
            caption: taken.photo.caption.clone(),
            pin: taken.photo.pin.clone(),
            at: taken.at.to_rfc3339(),
            who: taken.who.clone(),
        })
        .collect()
}

fn records(state: &JobState, entries: &[Entry]) -> Vec<IssuedRecord> {
    let issued = entries.iter().enumerate().filter(|(_, entry)| entry.kind == "record");
    let logged_since = issued.map(|(place, _)| entries.len() - place - 1);
    (0_u32..)
        .zip(state.records.iter().zip(logged_since))
        .map(|(before, (made, logged_since))| IssuedRecord {
            number: made.record.number,
            at: made.at.to_rfc3339(),
            who: made.who.clone(),
            file: made.record.file.clone(),
            signed_by: changes::signed_by(state, entries, before),
            logged_since: u32::try_from(logged_since).unwrap_or(u32::MAX),
        })
        .collect()
}

/// The cautions of the plan that the stage in work brings.
fn cautions_now(state: &JobState, stage: Stage) -> Vec<crate::words::Phrase> {
    let codes: &[&str] = match stage {
        Stage::BeforeStart => return cautions(&state.plan, &state.plan.dig()),
        Stage::Excavate => &["caution.services", "caution.lifting", "caution.trees"],
        Stage::CompactFormation | Stage::SubBase => &["caution.vibration", "caution.noise"],
        Stage::RestrainEdges => &["caution.cement"],
        Stage::Bed | Stage::Screed | Stage::Lay => &["caution.lifting"],
        Stage::Cut => &["caution.dust", "caution.noise", "caution.vibration"],
        Stage::Joint => &["caution.vibration", "caution.dust"],
        Stage::HandOver | Stage::ReturnVisit => &[],
    };
    let needs_figures = codes.contains(&"caution.services");
    let of_plan = if needs_figures { cautions(&state.plan, &state.plan.dig()) } else { Vec::new() };
    codes
        .iter()
        .map(|code| {
            // Where nothing is dug, the services have a caution of their own.
            let known = of_plan.iter().find(|c| c.code.starts_with(code)).cloned();
            known.unwrap_or_else(|| crate::words::Phrase::new(code, []))
        })
        .collect()
}

/// The newest entry of this device that still counts and is neither a plan, a record nor a strike.
fn undo(entries: &[Entry], state: &JobState, device: Option<Uuid>) -> Option<UndoView> {
    entries
        .iter()
        .rev()
        .find(|e| {
            Some(e.device) == device && !state.struck.contains_key(&e.id) && e.kind != "strike"
        })
        // A plan and an issued record stay, and so does what stood before them.
        .filter(|e| !matches!(e.kind.as_str(), "plan" | "record"))
        .map(|e| UndoView { entry: e.id.to_string(), says: says(e, state, false) })
}

/// The diary, oldest entry first.
///
/// # Errors
/// `not_found` for an unknown job.
pub fn diary(desk: &mut Desk, arguments: OfJob) -> Result<Vec<EntryView>, Fault> {
    let (_, entries, state) = load(desk, &arguments.job)?;
    let mut plans = 0;
    Ok(entries
        .iter()
        .map(|entry| {
            plans += u32::from(entry.kind == "plan");
            entry_view(entry, &state, plans <= 1)
        })
        .collect())
}

fn entry_view(entry: &Entry, state: &JobState, first: bool) -> EntryView {
    let late = (entry.recorded_at - entry.at).num_minutes() > LATE_MINUTES;
    let struck = state.struck.get(&entry.id);
    EntryView {
        id: entry.id.to_string(),
        kind: entry.kind.clone(),
        at: entry.at.to_rfc3339(),
        late: late.then(|| entry.recorded_at.to_rfc3339()),
        who: entry.who.clone(),
        stage: stage_of(entry),
        says: says(entry, state, first),
        photo: match entry.read() {
            Ok(Body::Photo(photo)) => Some(photo.sha256),
            _ => None,
        },
        struck: struck.map(|s| StruckView {
            who: s.who.clone(),
            at: s.at.to_rfc3339(),
            reason: s.reason.clone(),
        }),
        can_strike: struck.is_none()
            && !matches!(entry.kind.as_str(), "plan" | "record" | "strike"),
    }
}

/// The stage that a layer is plated in.
const fn plated_in(layer: Layer) -> Stage {
    match layer {
        Layer::Formation => Stage::CompactFormation,
        Layer::SubBase => Stage::SubBase,
        Layer::Bed => Stage::Screed,
        Layer::Surface => Stage::Joint,
    }
}

/// The stage an entry belongs to, where its body says so.
fn stage_of(entry: &Entry) -> Option<Stage> {
    match entry.read().ok()? {
        Body::Photo(photo) => Some(photo.stage),
        Body::Stage(closed) => Some(closed.stage),
        Body::Dip(dip) => Some(match dip.layer {
            Layer::Formation => Stage::Excavate,
            Layer::SubBase => Stage::SubBase,
            Layer::Bed => Stage::Screed,
            Layer::Surface => Stage::HandOver,
        }),
        Body::Pass(pass) => Some(plated_in(pass.layer)),
        Body::Check(check) => Some(match check.check {
            Checked::ServicesMarked | Checked::MaterialsOnSite | Checked::StringsSet => {
                Stage::BeforeStart
            }
            Checked::SoftSpotsDone => Stage::CompactFormation,
            Checked::BedDry => Stage::Screed,
            Checked::CareExplained => Stage::HandOver,
            Checked::JointsToppedUp => Stage::ReturnVisit,
        }),
        Body::SoftSpot(_) | Body::SoftSpotFilled(_) => Some(Stage::CompactFormation),
        Body::Spread(spread) => Some(match spread.layer {
            Layer::Bed => Stage::Bed,
            _ => Stage::SubBase,
        }),
        Body::DropRound(round) => Some(plated_in(round.layer)),
        Body::EdgeConcrete(_) => Some(Stage::RestrainEdges),
        Body::Snag(_) | Body::SnagClosed(_) => Some(Stage::HandOver),
        Body::PackOpened(_) | Body::PackEmptied(_) => Some(Stage::Lay),
        Body::Weather(_)
        | Body::Forecast(_)
        | Body::DayClosed(_)
        | Body::Plan(_)
        | Body::Note(_)
        | Body::Delivery(_)
        | Body::Record(_)
        | Body::Strike(_)
        | Body::Change(_)
        | Body::Signature(_) => None,
    }
}

/// The job's state as the command line gives it: a contract, so keys are never renamed.
///
/// # Errors
/// `not_found` for an unknown job.
pub fn state_json(desk: &Desk, job: &str) -> Result<Value, Fault> {
    let (id, entries, state) = load(desk, job)?;
    let stands = stages(&state);
    let stage_rows: Vec<Value> = stands
        .iter()
        .map(|stand| {
            let missing: Vec<&str> = stand.missing().map(|l| l.says.text.as_str()).collect();
            let reason = stand.closing.as_ref().map(|c| c.reason.as_str()).unwrap_or_default();
            json!({
                "stage": stand.stage, "state": stand.state, "missing": missing, "reason": reason,
            })
        })
        .collect();
    let next = next(&stands);
    let [stone, sand] = material_stands(&state, &ticked_order(&state));
    let lifts: Vec<LayerStand> = layer_stands(&state);
    let layer_json = |stand: &LayerStand| layer_json(stand, thickness_over(&state, stand));
    let mut layers: BTreeMap<_, Value> = BTreeMap::new();
    for stand in &lifts {
        if stand.lift.is_none() {
            layers.insert(stand.layer, layer_json(stand));
        }
    }
    let mut sub_base = layer_json(&sub_base_stand(&state));
    if let Some(members) = sub_base.as_object_mut() {
        let rows = lifts.iter().filter(|s| s.lift.is_some()).map(layer_json).collect();
        members.insert("lifts".to_owned(), Value::Array(rows));
    }
    layers.insert(Layer::SubBase, sub_base);
    Ok(json!({
        "id": id,
        "title": state.plan.title,
        "use": state.plan.r#use,
        "entries": entries.len(),
        "struck": state.struck.len(),
        "stages": stage_rows,
        "layers": layers.into_values().collect::<Vec<_>>(),
        "passes": passes(&state).iter().map(|row| json!({
            "layer": row.layer, "lift": row.lift, "plant": row.plant, "done": row.done,
            "wanted": row.wanted, "still_moving": row.still_moving, "quick": row.quick,
            "pass_min": row.pass_min,
        })).collect::<Vec<_>>(),
        "stone": material_json(&stone),
        "sand": material_json(&sand),
        "site": site_json(&state, &stands),
        "photos": state.photos.len(),
        "records": state.records.iter().map(|r| &r.record).collect::<Vec<_>>(),
        "changes": state.changes.iter().map(|made| json!({
            "entry": made.entry, "number": made.number, "what": made.change.what,
            "quantity": made.change.quantity, "unit": made.change.unit,
            "rate_minor": made.change.rate_minor, "price_minor": made.change.price_minor(),
            "currency": made.change.currency,
        })).collect::<Vec<_>>(),
        "next": { "code": next.code, "text": next.text },
    }))
}

fn material_json(stand: &MaterialStand) -> Value {
    json!({
        "planned_t": stand.planned.to_t(),
        "needed_t": stand.needed.to_t(),
        "uncertainty_t": stand.forecast.and_then(|f| f.uncertainty).map(Mass::to_t),
        "delivered_t": stand.delivered.to_t(),
        "placed_t": stand.placed.map(Mass::to_t),
        "short_t": stand.short.to_t(),
        "covers_m2": stand.covers.to_m2(),
    })
}

fn layer_json(stand: &LayerStand, over: Option<ThicknessOver>) -> Value {
    json!({
        "layer": stand.layer,
        "lift": stand.lift,
        "dips": stand.dips,
        "in": stand.r#in,
        "out": stand.out,
        "standing": stand.standing,
        "standing_out": stand.standing_out,
        "wanted_dips": stand.wanted,
        "covered": stand.covered(),
        "widest_gap_m": stand.gap.as_ref().map(|gap| gap.radius.to_m()),
        "next_place": next_place(stand),
        "thickness_mm": spread(stand),
        "thickness_area": over.map(|over| json!({
            "least_mm": over.least.to_mm(),
            "mean_mm": over.mean().to_mm(),
            "greatest_mm": over.greatest.to_mm(),
            "below_tolerance_m2": over.below.to_m2(),
            "volume_m3": over.volume.to_m3(),
            "extended_m2": over.beyond.to_m2(),
        })),
    })
}

/// The diary as the command line gives it: a contract, so keys are never renamed.
///
/// # Errors
/// `not_found` for an unknown job.
pub fn diary_json(desk: &Desk, job: &str) -> Result<Value, Fault> {
    let (_, entries, state) = load(desk, job)?;
    let rows: Vec<Value> = entries
        .iter()
        .map(|entry| {
            json!({
                "id": entry.id,
                "kind": entry.kind,
                "at": entry.at.to_rfc3339(),
                "recorded_at": entry.recorded_at.to_rfc3339(),
                "who": entry.who,
                "body": entry.body,
                "struck_by": state.struck.get(&entry.id).map(|s| s.by),
                "device": entry.device,
                "seq": entry.seq,
                "hash": entry.hash,
            })
        })
        .collect();
    Ok(json!({ "entries": rows }))
}
