//! From a job's diary to what its completion record says.

use std::collections::BTreeMap;

use chrono::{DateTime, FixedOffset};
use uuid::Uuid;

use super::data::{
    Exception, Record, RecordDelivery, RecordLayer, RecordNote, RecordPasses, RecordPhoto,
    RecordSignature, RecordStage, SurfaceLevel,
};
use crate::api::{defaults, dip_view, drawing, place, says, section, spread};
use crate::buildup::{Layer, Use};
use crate::diary::{Body, ChainFault, Entry, Photo, Role, SignedPaper, check_chains};
use crate::job::{
    DipTaken, JobState, LayerStand, PassCount, Stage, StageStand, StageState, Struck, drop_stands,
    layer_stands, pass_counts, stages,
};
use crate::levels::Word;
use crate::outline::distance;
use crate::plan::Plan;
use crate::units::Length;
use crate::words::{Phrase, word};

/// An entry that was undone within this time is a slip of the thumb (our default).
const UNDONE_WITHIN: chrono::Duration = chrono::Duration::minutes(10);
/// A surface level is that of a pin from a dip this near: so near are two dips at one place.
const PIN_REACH: Length = Length::from_mm(150.0);

/// What a completion record says of a job.
///
/// `number` is the issue; none makes a draft.
pub fn build(
    state: &JobState,
    entries: &[Entry],
    number: Option<u32>,
    made_at: DateTime<FixedOffset>,
    made_by: &str,
) -> Record {
    let plan = &state.plan;
    let stands = layer_stands(state);
    let passes = pass_counts(state);
    let stage_stands = stages(state);
    let changed = check_chains(entries);
    let open = open_stages(&stage_stands);
    let worked: Vec<&Entry> =
        entries.iter().filter(|e| !matches!(e.kind.as_str(), "plan" | "record")).collect();
    let day = |e: Option<&&Entry>| e.map(|e| e.at.date_naive().to_string()).unwrap_or_default();
    Record {
        number,
        replaces: number.and_then(|n| n.checked_sub(1)).filter(|n| *n > 0),
        changed_since: if number.is_none_or(|n| n > 1) {
            since(state, entries)
        } else {
            Vec::new()
        },
        title: plan.title.clone(),
        place: plan.parties.place.clone(),
        customer: plan.parties.customer.clone(),
        by: by(state, &worked),
        made_at: made_at.to_rfc3339(),
        made_by: made_by.to_owned(),
        first_day: day(worked.iter().min_by_key(|e| e.at)),
        last_day: day(worked.iter().max_by_key(|e| e.at)),
        heading: word(if open.is_empty() { "record.heading" } else { "record.heading_so_far" }),
        drawn_heading: word(if open.is_empty() { "record.drawn" } else { "record.drawn_so_far" }),
        standing: if open.is_empty() { String::new() } else { unfinished(&open) },
        built_for: built_for(plan.r#use),
        not_built_for: word(match plan.r#use {
            Use::Foot => "record.not_built_for_foot",
            Use::Car => "record.not_built_for_car",
        }),
        held_to: word("record.held_to"),
        drawing: drawing(plan),
        section: section(plan, Some((state, &stage_stands))),
        layers: stands.iter().map(|stand| layer(state, stand, &passes)).collect(),
        dips: standing(state).map(dip_view).collect(),
        surface: surface(state),
        deliveries: deliveries(state),
        photos: photos(state),
        site: site(state, entries),
        exceptions: standing_exceptions(&open, &changed)
            .map(|(kind, text)| Exception {
                at: made_at.to_rfc3339(),
                who: made_by.to_owned(),
                kind: word(kind),
                text,
            })
            .chain(exceptions(state, entries))
            .collect(),
        unfinished: u32::try_from(open.len()).unwrap_or(u32::MAX),
        changed_entries: u32::try_from(changed.len()).unwrap_or(u32::MAX),
        not_measured: not_measured(state, &stands, &passes),
        stages: stage_stands
            .iter()
            .map(|stand| {
                let closed = stand.closing.as_ref().filter(|c| c.done);
                RecordStage {
                    stage: stand.stage,
                    name: stage_name(stand.stage),
                    state: word(match stand.state {
                        StageState::Done => "record.stage_done",
                        StageState::PassedWithReason => "record.stage_reason",
                        StageState::Waiting | StageState::InWork => "record.stage_open",
                    }),
                    by: closed.map(|c| c.who.clone()).unwrap_or_default(),
                    at: closed.map(|c| c.at.to_rfc3339()).unwrap_or_default(),
                    reason: closed.map(|c| c.reason.clone()).unwrap_or_default(),
                }
            })
            .collect(),
        signatures: signatures(state, entries, SignedPaper::CompletionRecord, None, state.issues()),
        care: (1..=7).map(|n| word(&format!("care.{n}"))).collect(),
        cautions: cautions(plan),
        defaults: defaults(plan),
    }
}

/// The newest signature of each role under a paper: for a record those drawn when it had so many issues,
/// for a change note those of its change.
pub(crate) fn signatures(
    state: &JobState,
    entries: &[Entry],
    paper: SignedPaper,
    change: Option<Uuid>,
    issues: u32,
) -> Vec<RecordSignature> {
    let mut newest: BTreeMap<Role, RecordSignature> = BTreeMap::new();
    for drawn in &state.signatures {
        let signature = &drawn.signature;
        let in_time = paper == SignedPaper::ChangeNote || drawn.after_issues == issues;
        if signature.paper != paper || signature.change != change || !in_time {
            continue;
        }
        let place = entries.iter().position(|e| e.id == drawn.entry).unwrap_or(entries.len());
        // A change note says what it said when it was signed; a record may say more by now.
        let later = match paper {
            SignedPaper::ChangeNote => 0,
            SignedPaper::CompletionRecord => {
                entries.iter().skip(place + 1).filter(|e| e.kind != "signature").count()
            }
        };
        newest.insert(
            signature.role,
            RecordSignature {
                role: word(match signature.role {
                    Role::Customer => "role.customer",
                    Role::Layer => "role.layer",
                }),
                name: signature.name.clone(),
                at: drawn.at.to_rfc3339(),
                strokes: signature.strokes.clone(),
                logged_since: u32::try_from(later).unwrap_or(u32::MAX),
            },
        );
    }
    newest.into_values().collect()
}

pub(super) fn stage_name(stage: Stage) -> String {
    word(stage.word().trim_start_matches('@'))
}

fn standing(state: &JobState) -> impl Iterator<Item = &DipTaken> {
    state.dips.iter().filter(|d| !d.superseded)
}

/// The firm or person of the plan, else everyone who logged, in order of first entry.
fn by(state: &JobState, worked: &[&Entry]) -> String {
    if !state.plan.parties.by.is_empty() {
        return state.plan.parties.by.clone();
    }
    let mut names: Vec<&str> = Vec::new();
    for entry in worked {
        if !entry.who.is_empty() && !names.contains(&entry.who.as_str()) {
            names.push(&entry.who);
        }
    }
    names.join(", ")
}

/// What was logged after the newest issue.
fn since(state: &JobState, entries: &[Entry]) -> Vec<String> {
    let Some(last) = entries.iter().rposition(|e| e.kind == "record") else { return Vec::new() };
    entries.iter().skip(last + 1).map(|e| says(e, state, false).text).collect()
}

/// The use that paving is built for, in words.
pub(super) fn built_for(r#use: Use) -> String {
    word(match r#use {
        Use::Foot => "record.built_for_foot",
        Use::Car => "record.built_for_car",
    })
}

/// A layer or lift as papers call it.
pub(super) fn layer_name(layer: Layer, lift: Option<u32>) -> String {
    match lift {
        Some(lift) => Phrase::new("record.lift", [("lift", lift.into())]).text,
        None => word(match layer {
            Layer::Formation => "record.formation",
            Layer::SubBase => "record.sub_base",
            Layer::Bed => "record.bed",
            Layer::Surface => "record.surface",
        }),
    }
}

/// What a layer is made of, in words.
pub(super) fn material(plan: &Plan, layer: Layer) -> String {
    let key = match layer {
        Layer::Formation => "record.material_formation",
        Layer::SubBase => "record.material_sub_base",
        Layer::Bed => "record.material_bed",
        Layer::Surface => "record.material_surface",
    };
    let block = &plan.block;
    let sizes = [
        ("length", block.length.to_mm().into()),
        ("width", block.width.to_mm().into()),
        ("depth", block.depth.to_mm().into()),
    ];
    Phrase::new(key, sizes).text
}

fn layer(state: &JobState, stand: &LayerStand, passes: &[PassCount]) -> RecordLayer {
    let plan = &state.plan;
    let limits = stand.tolerance.clone();
    RecordLayer {
        layer: stand.layer,
        lift: stand.lift,
        name: layer_name(stand.layer, stand.lift),
        material: material(plan, stand.layer),
        design_mm: (stand.layer != Layer::Formation)
            .then(|| plan.layers.thickness(stand.layer, stand.lift).to_mm()),
        measured_mm: spread(stand),
        thickness: super::thickness::drawn(state, stand),
        measured_places: u32::try_from(stand.thickness.len()).unwrap_or(u32::MAX),
        high_by_mm: limits.high_by.to_mm(),
        low_by_mm: limits.low_by.to_mm(),
        tolerance_source: limits.source,
        dips: stand.standing,
        out: stand.standing_out,
        passes: passes
            .iter()
            .filter(|count| (count.layer, count.lift) == (stand.layer, stand.lift))
            .map(|count| RecordPasses {
                plant: count.plant.clone(),
                done: count.done,
                wanted: plan.passes_wanted(count.layer, count.lift, &count.plant),
                first_at: count.between[0].to_rfc3339(),
                last_at: count.between[1].to_rfc3339(),
                still_moving: count.still_moving,
            })
            .collect(),
    }
}

fn surface(state: &JobState) -> Vec<SurfaceLevel> {
    let dips: Vec<&DipTaken> = standing(state).filter(|d| d.dip.layer == Layer::Surface).collect();
    state
        .plan
        .pins()
        .into_iter()
        .map(|pin| {
            let away = |d: &DipTaken| distance(d.point, pin.point);
            let near = dips
                .iter()
                .filter(|d| away(d) <= PIN_REACH)
                .min_by(|a, b| away(a).to_m().total_cmp(&away(b).to_m()));
            SurfaceLevel {
                design_mm: pin.finished.to_mm(),
                measured_mm: near.map(|d| (pin.finished + d.high).to_mm()),
                pin: pin.name,
            }
        })
        .collect()
}

fn deliveries(state: &JobState) -> Vec<RecordDelivery> {
    state
        .deliveries
        .iter()
        .map(|made| RecordDelivery {
            at: made.at.to_rfc3339(),
            what: made.delivery.what.clone(),
            quantity: format!("{} {}", made.delivery.quantity, made.delivery.unit.sign()),
            ticket: made.delivery.ticket.clone(),
        })
        .collect()
}

fn photos(state: &JobState) -> Vec<RecordPhoto> {
    let mut photos: Vec<RecordPhoto> = state
        .photos
        .iter()
        .map(|taken| RecordPhoto {
            sha256: taken.photo.sha256.clone(),
            stage: taken.photo.stage,
            stage_name: stage_name(taken.photo.stage),
            caption: photo_caption(&taken.photo),
            at: taken.at.to_rfc3339(),
            who: taken.who.clone(),
        })
        .collect();
    let order = Stage::in_order(state.plan.r#use);
    photos.sort_by_key(|photo| order.iter().position(|stage| *stage == photo.stage));
    photos
}

/// What a photo shows, with the pin it was taken at.
fn photo_caption(photo: &Photo) -> String {
    let values = [("pin", photo.pin.as_str().into()), ("caption", photo.caption.as_str().into())];
    match (photo.pin.is_empty(), photo.caption.is_empty()) {
        (true, _) => photo.caption.clone(),
        (false, true) => Phrase::new("record.photo_at", values).text,
        (false, false) => Phrase::new("record.photo_at_caption", values).text,
    }
}

/// The stages before the handing over that are open, by name.
fn open_stages(stands: &[StageStand]) -> Vec<String> {
    stands
        .iter()
        .filter(|s| s.is_open() && !matches!(s.stage, Stage::HandOver | Stage::ReturnVisit))
        .map(|s| stage_name(s.stage))
        .collect()
}

/// Which stages are open, in a sentence.
fn unfinished(open: &[String]) -> String {
    let count = (open.len() as f64).into();
    let values = [("count", count), ("stages", open.join(", ").into())];
    Phrase::new("exception.unfinished_text", values).text
}

/// What is wrong as the record is made, each with the key of its kind: work that is not finished,
/// and entries that are not as they were written.
fn standing_exceptions(
    open: &[String],
    changed: &[ChainFault],
) -> impl Iterator<Item = (&'static str, String)> {
    let unfinished = (!open.is_empty()).then(|| ("exception.unfinished", unfinished(open)));
    let changed = changed.iter().map(|fault| ("exception.changed", fault.to_string()));
    unfinished.into_iter().chain(changed)
}

/// Whether an entry was undone at once by the phone that wrote it: struck with the reason of Undo,
/// which is "undone" in the first word, soon after it was written.
fn undone(entry: &Entry, struck: &Struck, entries: &[Entry]) -> bool {
    let strike = entries.iter().find(|e| e.id == struck.by);
    strike.is_some_and(|strike| {
        strike.device == entry.device
            && struck.reason.split_whitespace().next() == Some("undone")
            && strike.recorded_at - entry.recorded_at <= UNDONE_WITHIN
    })
}

/// What differs from the plan, in the order it happened: dips outside the tolerance (those put
/// right as well), gates passed with a reason, entries struck, plans changed, late entries, and a
/// clock that was set back. Slips undone at once are counted in one line at the end.
/// What was noted of ground, weather and concrete, in the diary's order.
fn site(state: &JobState, entries: &[Entry]) -> Vec<RecordNote> {
    let of_site = |entry: &&Entry| {
        !state.struck.contains_key(&entry.id)
            && matches!(
                entry.read(),
                Ok(Body::SoftSpot(_)
                    | Body::SoftSpotFilled(_)
                    | Body::Weather(_)
                    | Body::Spread(_)
                    | Body::EdgeConcrete(_)
                    | Body::Snag(_)
                    | Body::SnagClosed(_)
                    | Body::PackOpened(_))
            )
    };
    let noted = entries.iter().filter(of_site).map(|entry| RecordNote {
        at: entry.at.to_rfc3339(),
        who: entry.who.clone(),
        text: says(entry, state, false).text,
    });
    let drops = drop_stands(state).into_iter().filter_map(|test| {
        let last = state.site.drop_rounds.iter().rfind(|round| round.what.layer == test.layer)?;
        let values = [
            ("where", place(test.layer, test.lift).into()),
            ("says", test.answer?.says.text.into()),
        ];
        Some(RecordNote {
            at: last.at.to_rfc3339(),
            who: last.who.clone(),
            text: Phrase::new("record.drop_test", values).text,
        })
    });
    let mut list: Vec<RecordNote> = noted.chain(drops).collect();
    list.sort_by_key(|note| DateTime::parse_from_rfc3339(&note.at).ok());
    list
}

fn exceptions(state: &JobState, entries: &[Entry]) -> Vec<Exception> {
    let mut list = Vec::new();
    let mut slips: Vec<&Entry> = Vec::new();
    let mut plans = 0;
    let mut newest: Option<DateTime<FixedOffset>> = None;
    for entry in entries {
        plans += u32::from(entry.kind == "plan");
        let sentence = says(entry, state, plans <= 1).text;
        let mut add = |kind: &str, text: String| {
            list.push(Exception {
                at: entry.at.to_rfc3339(),
                who: entry.who.clone(),
                kind: word(kind),
                text,
            });
        };
        if newest.is_some_and(|newest| entry.recorded_at < newest - chrono::Duration::minutes(1)) {
            add("exception.clock", word("exception.clock_text"));
        }
        newest = newest.max(Some(entry.recorded_at));
        if let Some(struck) = state.struck.get(&entry.id) {
            if undone(entry, struck, entries) {
                slips.push(entry);
                continue;
            }
            let values = [
                ("what", sentence.into()),
                ("who", struck.who.as_str().into()),
                ("reason", struck.reason.as_str().into()),
            ];
            add("exception.struck", Phrase::new("exception.struck_text", values).text);
            continue;
        }
        match entry.read() {
            Ok(Body::Plan(_)) if plans > 1 => add("exception.plan", sentence),
            Ok(Body::Stage(closed)) if closed.done && !closed.reason.is_empty() => {
                add("exception.reason", sentence);
            }
            Ok(Body::Stage(closed)) if !closed.done => add("exception.reopened", sentence),
            Ok(Body::Dip(_)) => {
                let taken = state.dips.iter().find(|d| d.entry == entry.id);
                if let Some(taken) = taken.filter(|d| d.word != Word::Right) {
                    let code = if taken.superseded {
                        "exception.out_later_again"
                    } else {
                        "exception.out_stands"
                    };
                    let values = [("what", sentence.into())];
                    add("exception.out", Phrase::new(code, values).text);
                }
            }
            Ok(Body::Change(_)) => add("exception.change", sentence),
            Ok(Body::SoftSpot(_)) if state.site.open_spots().any(|s| s.found.entry == entry.id) => {
                add("exception.open", sentence);
            }
            Ok(Body::Snag(_)) if state.site.open_snags().any(|s| s.found.entry == entry.id) => {
                add("exception.open", sentence);
            }
            Err(_) => add("exception.unread", sentence),
            Ok(_) => {}
        }
    }
    list.extend(slips_in_one_line(&slips));
    list
}

/// How many entries were undone at once, and by whom; none where there are none.
fn slips_in_one_line(slips: &[&Entry]) -> Option<Exception> {
    let last = slips.last()?;
    let mut names: Vec<&str> = Vec::new();
    for slip in slips.iter().filter(|slip| !slip.who.is_empty()) {
        if !names.contains(&slip.who.as_str()) {
            names.push(&slip.who);
        }
    }
    let values = [
        ("count", (slips.len() as f64).into()),
        ("minutes", (UNDONE_WITHIN.num_minutes() as f64).into()),
    ];
    Some(Exception {
        at: last.at.to_rfc3339(),
        who: names.join(", "),
        kind: word("exception.undone"),
        text: Phrase::new("exception.undone_text", values).text,
    })
}

fn not_measured(state: &JobState, stands: &[LayerStand], passes: &[PassCount]) -> Vec<String> {
    let mut list = Vec::new();
    let mut say = |code: &str, stand: &LayerStand| {
        let at = place(stand.layer, stand.lift);
        let gap = stand.gap.as_ref().map_or(0.0, |gap| (gap.radius.to_m() * 10.0).round() / 10.0);
        let values = [("where", at.into()), ("count", stand.missing().into()), ("gap", gap.into())];
        list.push(Phrase::new(code, values).text);
    };
    for stand in stands {
        match (stand.standing, stand.missing()) {
            (0, _) => say("not_measured.level", stand),
            (_, 0) if stand.covered() => {}
            (_, 0) => say("not_measured.gap", stand),
            (_, _) => say("not_measured.fewer", stand),
        }
        if stand.layer != Layer::Formation && stand.standing > 0 && stand.thickness.is_empty() {
            say("not_measured.thickness", stand);
        }
        let passed = passes.iter().any(|p| (p.layer, p.lift) == (stand.layer, stand.lift));
        if stand.layer != Layer::Bed && !passed {
            say("not_measured.passes", stand);
        }
    }
    list.push(word("not_measured.density"));
    if !state.unread.is_empty() {
        list.push(word("not_measured.unread"));
    }
    list
}

/// What anyone who uses or digs the paving should know.
pub(super) fn cautions(plan: &Plan) -> Vec<String> {
    let use_key = match plan.r#use {
        Use::Foot => "record.caution_foot",
        Use::Car => "record.caution_car",
    };
    [use_key, "record.caution_dig", "record.caution_cut"].map(word).to_vec()
}
