//! Blocks, edges, layers and rates of a plan.

use serde_json::{Value, json};

use super::Gaps;
use super::walls::held;
use crate::buildup::{BuildUp, THICKEST_LIFT, Use};
use crate::laying::JointLimits;
use crate::outline::Outline;
use crate::plan::reader::At;
use crate::plan::{Along, Bond, Default};
use crate::quantities::{Allowances, Block, EdgeCourse, Edges, Pattern};
use crate::units::{Density, Length};

pub(super) fn block(at: &At, gaps: &mut Gaps) -> Option<(Block, JointLimits)> {
    let members = if at.is_given() {
        let keys = ["length_mm", "width_mm", "depth_mm", "joint_mm", "joint_limits_mm"];
        Some(at.object(&keys)?)
    } else {
        None
    };
    let mut size = |key, name, bounds, value, from| match members
        .as_ref()
        .map(|m| m.get(key))
        .filter(At::is_given)
    {
        Some(given) => given.number(bounds, "mm"),
        None => Some(gaps.number(None, name, value, from)),
    };
    let length = size("length_mm", "block.length_mm", 40.0..=1000.0, 200.0, "block_size");
    let width = size("width_mm", "block.width_mm", 40.0..=1000.0, 100.0, "block_size");
    let depth = size("depth_mm", "block.depth_mm", 30.0..=200.0, 60.0, "block_depth");
    let joint = size("joint_mm", "block.joint_mm", 0.0..=50.0, 3.0, "joint");
    let limits = members.as_ref().map(|m| m.get("joint_limits_mm")).filter(At::is_given);
    let limits = joint_limits(limits, joint, gaps);
    let block = Block {
        length: Length::from_mm(length?),
        width: Length::from_mm(width?),
        depth: Length::from_mm(depth?),
        joint: Length::from_mm(joint?),
    };
    if block.width > block.length {
        at.refuse(
            "the block is wider than it is long",
            "the longer side as its length, the shorter as its width",
        );
        return None;
    }
    if block.joint >= block.width {
        at.refuse_at(
            &format!("{}/joint_mm", at.pointer()),
            "the joint is as wide as the block",
            "a joint of 2 to 5 mm",
        );
        return None;
    }
    Some((block, limits?))
}

/// The joints that may be laid, which the planned one is among.
fn joint_limits(given: Option<At>, joint: Option<f64>, gaps: &mut Gaps) -> Option<JointLimits> {
    let joint = joint?;
    let limits =
        |least, most| JointLimits { least: Length::from_mm(least), most: Length::from_mm(most) };
    let Some(given) = given else {
        let (least, most) = (joint.min(2.0), joint.max(5.0));
        gaps.note("block.joint_limits_mm", json!([least, most]), "joint");
        return Some(limits(least, most));
    };
    let items = given.list(2, 2)?;
    let mut bounds = items.iter().map(|item| item.number(0.0..=50.0, "mm"));
    let (least, most) = (bounds.next()??, bounds.next()??);
    if least > most {
        given.refuse("the least joint is above the most", "two numbers, the least joint first");
        return None;
    }
    if !(least..=most).contains(&joint) {
        given.refuse(
            format!("the joint of {joint} mm is not between {least} and {most} mm"),
            "the narrowest joint that may be laid, then the widest, with joint_mm between them",
        );
        return None;
    }
    Some(limits(least, most))
}

const PATTERNS: [(&str, Pattern); 5] = [
    ("stretcher", Pattern::Stretcher),
    ("stack", Pattern::Stack),
    ("herringbone_45", Pattern::Herringbone45),
    ("herringbone_90", Pattern::Herringbone90),
    ("basketweave", Pattern::Basketweave),
];

pub(super) fn bond(at: &At, block: Option<&Block>, r#use: Use, gaps: &mut Gaps) -> Option<Bond> {
    let keys = ["pattern", "along", "start_mm", "keep_laps"];
    let members = if at.is_given() { Some(at.object(&keys)?) } else { None };
    let get = |key| members.as_ref().map(|m| m.get(key)).filter(At::is_given);
    let pattern = match get("pattern") {
        Some(given) => given.choice(&PATTERNS),
        None => {
            let (word, pattern) = match r#use {
                Use::Foot => ("stretcher", Pattern::Stretcher),
                Use::Car => ("herringbone_45", Pattern::Herringbone45),
            };
            gaps.note("bond.pattern", json!(word), "bond");
            Some(pattern)
        }
    };
    let along = match get("along") {
        Some(given) => along(&given),
        None => Some(Along::Edge),
    };
    let start = match get("start_mm") {
        Some(given) => Some(start(&given)?),
        None => None,
    };
    let keep_laps = match get("keep_laps") {
        Some(given) => given.yes_or_no(),
        None => Some(false),
    };
    let pattern = pattern?;
    if let Some(block) = block
        && matches!(pattern, Pattern::Herringbone45 | Pattern::Herringbone90 | Pattern::Basketweave)
        && ((block.length - block.width * 2.0).abs() > block.joint + Length::from_mm(1.0)
            || block.end_joint() < Length::ZERO)
    {
        at.refuse_at(
            &format!("{}/pattern", at.pointer()),
            "this block is not twice as long as it is wide, so the pattern does not close",
            "a block of two widths to a length, or stretcher or stack bond",
        );
        return None;
    }
    Some(Bond { pattern, along: along?, start, keep_laps: keep_laps? })
}

/// How far the pattern is shifted along and across its courses.
fn start(at: &At) -> Option<[Length; 2]> {
    let items = at.list(2, 2)?;
    let mut shifts = items.iter().map(|item| item.number(-10_000.0..=10_000.0, "mm"));
    Some([shifts.next()??, shifts.next()??].map(Length::from_mm))
}

fn along(at: &At) -> Option<Along> {
    match at.value() {
        Some(Value::String(text)) if text == "edge" => Some(Along::Edge),
        Some(Value::String(text)) if text == "across" => Some(Along::Across),
        Some(Value::Number(_)) => at.number(-360.0..=360.0, "degrees").map(Along::Degrees),
        _ => {
            at.refuse("this is no direction", "edge, across, or an angle in degrees");
            None
        }
    }
}

pub(super) fn edges(at: &At, outline: Option<&Outline>, gaps: &mut Gaps) -> Option<Edges> {
    let members = if at.is_given() {
        Some(at.object(&["course", "restraint", "overdig_mm", "held"])?)
    } else {
        None
    };
    let get = |key| members.as_ref().map(|m| m.get(key)).filter(At::is_given);
    let courses = [
        ("none", EdgeCourse::None),
        ("soldier", EdgeCourse::Soldier),
        ("header", EdgeCourse::Header),
        ("stretcher", EdgeCourse::Stretcher),
    ];
    let course = match get("course") {
        Some(given) => given.choice(&courses),
        None => {
            gaps.ours("edges.course", json!("none"), "no edge course is taken unless one is named");
            Some(EdgeCourse::None)
        }
    };
    let haunch = match get("restraint") {
        Some(given) => given.choice(&[("haunch", true), ("none", false)]),
        None => {
            gaps.note("edges.restraint", json!("haunch"), "haunch");
            Some(true)
        }
    };
    let room = match get("overdig_mm") {
        Some(given) => given.number(0.0..=1000.0, "mm"),
        None => Some(gaps.number(None, "edges.overdig_mm", 100.0, "working_room")),
    };
    let held = get("held").map_or_else(|| Some(Vec::new()), |given| held(&given, outline));
    Some(Edges { course: course?, haunch: haunch?, room: Length::from_mm(room?), held: held? })
}

pub(super) fn layers(
    at: &At,
    block: Option<Length>,
    r#use: Use,
    weak: bool,
    gaps: &mut Gaps,
) -> Option<BuildUp> {
    let members = if at.is_given() {
        Some(at.object(&["bed_mm", "sub_base_mm", "surcharge_mm"])?)
    } else {
        None
    };
    let mut layer = |key, name, bounds, value, from| match members
        .as_ref()
        .map(|m| m.get(key))
        .filter(At::is_given)
    {
        Some(given) => given.number(bounds, "mm"),
        None => Some(gaps.number(None, name, value, from)),
    };
    let (bed, bed_from) = match r#use {
        Use::Foot => (40.0, "bed_foot"),
        Use::Car => (50.0, "bed_car"),
    };
    let (stone, stone_from) = match (r#use, weak) {
        (Use::Foot, _) => (100.0, "sub_base_foot"),
        (Use::Car, false) => (150.0, "sub_base_car"),
        (Use::Car, true) => (225.0, "sub_base_car"),
    };
    let bed = layer("bed_mm", "layers.bed_mm", 10.0..=100.0, bed, bed_from);
    let stone = layer("sub_base_mm", "layers.sub_base_mm", 50.0..=1000.0, stone, stone_from);
    Some(BuildUp::new(block?, Length::from_mm(bed?), Length::from_mm(stone?), THICKEST_LIFT))
}

pub(super) fn allowances(at: &At, gaps: &mut Gaps) -> Option<Allowances> {
    let keys = [
        "swell_percent",
        "sub_base_t_per_m3",
        "bed_t_per_m3",
        "joint_sand_t_per_m3",
        "blocks_percent",
        "loose_sand_t_per_m3",
        "ground_t_per_m3",
        "joint_top_up_percent",
    ];
    let members = if at.is_given() { Some(at.object(&keys)?) } else { None };
    let get = |key| members.as_ref().map(|m| m.get(key)).filter(At::is_given);
    let swell = match get("swell_percent") {
        Some(given) => swell(&given),
        None => {
            gaps.note("allowances.swell_percent", json!([25.0, 30.0]), "swell");
            Some([25.0, 30.0])
        }
    };
    let mut density = |key, name, bounds, value, from| match get(key) {
        Some(given) => given.number(bounds, "t/m3"),
        None => Some(gaps.number(None, name, value, from)),
    };
    let stone = density(
        "sub_base_t_per_m3",
        "allowances.sub_base_t_per_m3",
        1.0..=3.0,
        2.2,
        "sub_base_density",
    );
    let bed = density("bed_t_per_m3", "allowances.bed_t_per_m3", 1.0..=2.5, 1.8, "bed_density");
    let joint = density(
        "joint_sand_t_per_m3",
        "allowances.joint_sand_t_per_m3",
        1.0..=2.5,
        1.6,
        "joint_sand_density",
    );
    let percent = match get("blocks_percent") {
        Some(given) => given.number(0.0..=50.0, "%"),
        None => {
            gaps.0.push(Default {
                key: "allowances.blocks_percent",
                value: json!(5.0),
                source: "Brick Industry Association leaflet, worked example: 5 % for waste"
                    .to_owned(),
                status: "seen".to_owned(),
            });
            Some(5.0)
        }
    };
    Some(Allowances {
        swell_percent: swell?,
        sub_base: Density::from_t_per_m3(stone?),
        bed: Density::from_t_per_m3(bed?),
        joint_sand: Density::from_t_per_m3(joint?),
        blocks_percent: percent?,
    })
}

fn swell(at: &At) -> Option<[f64; 2]> {
    let items = at.list(2, 2)?;
    let mut bounds = items.iter().map(|item| item.number(0.0..=100.0, "%"));
    let (low, high) = (bounds.next()??, bounds.next()??);
    if low > high {
        at.refuse("the least swell is above the most", "the least first, then the most");
        return None;
    }
    Some([low, high])
}
