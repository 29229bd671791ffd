//! From a JSON value to a whole plan: every member checked, every gap filled from the reference
//! figures.

use serde_json::{Value, json};

use super::reader::{At, Members, Problems};
use super::{Along, Bond, Default, Ground, PLAN_VERSION, Parties, Plan, Problem};
use crate::buildup::{BuildUp, LEAST_CBR_PERCENT, THICKEST_LIFT, Use, figure, soil_cbr, soils};
use crate::levels::{EdgeLevel, Surface};
use crate::outline::{End, Hand, Outline, OutlineError, Run, SideName};
use crate::quantities::{Allowances, Block, EdgeCourse, Edges, Pattern};
use crate::units::{Density, Gradient, Length, Level};

/// Lengths on plan that are taken for metres: a path of more is taken for a slip of the unit.
const LONGEST_M: f64 = 500.0;
const WIDEST_M: f64 = 50.0;
const MOST_RUNS: usize = 500;

const MEMBERS: [&str; 12] = [
    "fairfall_plan",
    "title",
    "use",
    "outline",
    "surface",
    "ground",
    "block",
    "bond",
    "edges",
    "layers",
    "allowances",
    "parties",
];

/// Defaults taken while a plan is read.
#[derive(std::default::Default)]
struct Gaps(Vec<Default>);

impl Gaps {
    /// The value given, or the default, noted with its figure.
    fn number(&mut self, given: Option<f64>, key: &'static str, value: f64, from: &str) -> f64 {
        given.unwrap_or_else(|| {
            self.note(key, json!(value), from);
            value
        })
    }

    fn note(&mut self, key: &'static str, value: Value, from: &str) {
        let figure = figure(from);
        self.0.push(Default { key, value, source: figure.source, status: figure.status });
    }

    /// A default of our own, said so.
    fn ours(&mut self, key: &'static str, value: Value, why: &str) {
        self.0.push(Default { key, value, source: why.to_owned(), status: "practice".to_owned() });
    }
}

pub(super) fn read(file: Value) -> Result<Plan, Vec<Problem>> {
    let problems = Problems::default();
    let plan = At::root(&file, &problems).object(&MEMBERS).and_then(|plan| whole(&plan));
    let found = problems.take();
    match plan {
        Some(mut plan) if found.is_empty() => {
            plan.file = file;
            Ok(plan)
        }
        _ => Err(found),
    }
}

/// The plan, where every part could be read. All parts are read, so that every problem is found.
fn whole(plan: &Members) -> Option<Plan> {
    let mut gaps = Gaps::default();
    version(&plan.get("fairfall_plan"));
    let title = if plan.get("title").is_given() {
        plan.get("title").text()
    } else {
        plan.get("title").refuse("this is missing", "a title for the job");
        None
    };
    let r#use = use_of(&plan.get("use"));
    let outline = outline(&plan.get("outline"));
    let length = outline.as_ref().map(|o| o.edge().length());
    let surface = surface(&plan.get("surface"), length, &mut gaps);
    let ground = ground(&plan.get("ground"), &mut gaps);
    let assumed = r#use.unwrap_or(Use::Foot);
    let block = block(&plan.get("block"), &mut gaps);
    let bond = bond(&plan.get("bond"), block.as_ref(), assumed, &mut gaps);
    let edges = edges(&plan.get("edges"), &mut gaps);
    let weak = ground.as_ref().and_then(|g| g.cbr_percent).is_some_and(|cbr| cbr < 3.0);
    let depth = block.as_ref().map(|b| b.depth);
    let layers = layers(&plan.get("layers"), depth, assumed, weak, &mut gaps);
    let allowances = allowances(&plan.get("allowances"), &mut gaps);
    let parties = parties(&plan.get("parties"));
    gaps.ours(
        "blocks.count",
        json!("by the bond's module"),
        "the exact area over the face of a block and its joints; cut blocks are not counted apart",
    );
    let plan = Plan {
        title: title?,
        r#use: r#use?,
        outline: outline?,
        surface: surface?,
        ground: ground?,
        block: block?,
        bond: bond?,
        edges: edges?,
        layers: layers?,
        allowances: allowances?,
        parties: parties?,
        defaults: gaps.0,
        file: Value::Null,
    };
    Some(plan)
}

fn version(at: &At) {
    match at.value().map(Value::as_u64) {
        Some(Some(PLAN_VERSION)) => {}
        Some(Some(newer)) if newer > PLAN_VERSION => at.refuse(
            format!("this plan is of version {newer}, made by a newer Fairfall"),
            format!("version {PLAN_VERSION}, or a newer Fairfall to read it"),
        ),
        _ => at.refuse("the version of the plan file is missing or wrong", "\"fairfall_plan\": 1"),
    }
}

fn use_of(at: &At) -> Option<Use> {
    let right = "foot, or car (up to 3.5 t)";
    match at.value() {
        None => {
            at.refuse("this is missing", right);
            None
        }
        Some(Value::String(text)) if text == "foot" => Some(Use::Foot),
        Some(Value::String(text)) if text == "car" => Some(Use::Car),
        Some(_) => {
            at.refuse(
                "the build-up for any other use is not worked out here: vehicles over 3.5 t, \
                 shared and public roads are an engineer's to design",
                right,
            );
            None
        }
    }
}

fn outline(at: &At) -> Option<Outline> {
    if !at.is_given() {
        at.refuse("this is missing", "a rectangle or a strip");
        return None;
    }
    let kinds = at.object(&["rectangle", "strip"])?;
    match (kinds.get("rectangle"), kinds.get("strip")) {
        (rectangle, strip) if rectangle.is_given() && !strip.is_given() => {
            let sizes = rectangle.object(&["length_m", "width_m"])?;
            let length = sizes.get("length_m").required(0.1..=LONGEST_M, "m");
            let width = sizes.get("width_m").required(0.1..=LONGEST_M, "m");
            Some(Outline::rectangle(Length::from_m(length?), Length::from_m(width?)))
        }
        (rectangle, strip) if strip.is_given() && !rectangle.is_given() => strip_of(&strip),
        _ => {
            at.refuse("no shape, or more than one, is given", "one of: rectangle, strip");
            None
        }
    }
}

fn strip_of(at: &At) -> Option<Outline> {
    let strip = at.object(&["edge", "width_m", "side", "start", "end"])?;
    let edge = strip.get("edge");
    if !edge.is_given() {
        edge.refuse("this is missing", "a list of straights and arcs");
    }
    let runs = edge.list(1, MOST_RUNS).map(|runs| runs.iter().map(run).collect::<Vec<_>>());
    let width = strip.get("width_m").required(0.1..=WIDEST_M, "m");
    let hands = [("left", Hand::Left), ("right", Hand::Right)];
    let side = strip.get("side");
    if !side.is_given() {
        side.refuse("this is missing", "left or right: the side of the edge that is paved");
    }
    let side = side.choice(&hands);
    let ends = [("square", End::Square), ("round", End::Round)];
    let end = |key| {
        let at = strip.get(key);
        if at.is_given() { at.choice(&ends) } else { Some(End::Square) }
    };
    let ends = [end("start"), end("end")];
    let runs = runs?.into_iter().collect::<Option<Vec<Run>>>()?;
    let total: Length = runs.iter().map(Run::length).sum();
    if total.to_m() > LONGEST_M {
        edge.refuse(format!("the edge is {:.0} m long", total.to_m()), "at most 500 m, in metres");
        return None;
    }
    let [start, end] = ends;
    let outline = Outline::strip(&runs, Length::from_m(width?), side?, [start?, end?]);
    outline.map_err(|errors| errors.iter().for_each(|error| refuse_strip(at, error))).ok()
}

fn refuse_strip(at: &At, error: &OutlineError) {
    let place = match error {
        OutlineError::WiderThanRadius { run, .. } | OutlineError::LongerThanCircle { run, .. } => {
            format!("{}/edge/{run}", at.pointer())
        }
        OutlineError::CrossesItself => at.pointer().to_owned(),
    };
    let right = match error {
        OutlineError::WiderThanRadius { radius, .. } => {
            format!("a strip narrower than {} m, or a wider curve", radius.to_m())
        }
        OutlineError::LongerThanCircle { most, .. } => {
            format!("an arc of at most {:.2} m", most.to_m())
        }
        OutlineError::CrossesItself => "an edge whose strip does not run over itself".to_owned(),
    };
    at.refuse_at(&place, error.to_string(), right);
}

fn run(at: &At) -> Option<Run> {
    let members = at.object(&["straight_m", "arc_m", "radius_m", "turn"])?;
    let [straight, arc, radius, turn] =
        ["straight_m", "arc_m", "radius_m", "turn"].map(|key| members.get(key));
    match (straight.is_given(), arc.is_given()) {
        (true, false) if !radius.is_given() && !turn.is_given() => {
            let length = straight.number(0.01..=LONGEST_M, "m");
            Some(Run::Straight(Length::from_m(length?)))
        }
        (false, true) => {
            let length = arc.number(0.01..=LONGEST_M, "m");
            let radius = radius.required(0.1..=10_000.0, "m");
            if !turn.is_given() {
                turn.refuse("this is missing", "left or right");
            }
            let turn = turn.choice(&[("left", Hand::Left), ("right", Hand::Right)]);
            Some(Run::Arc {
                length: Length::from_m(length?),
                radius: Length::from_m(radius?),
                turn: turn?,
            })
        }
        _ => {
            at.refuse(
                "this is neither a straight nor an arc",
                "{\"straight_m\"} alone, or {\"arc_m\", \"radius_m\", \"turn\"}",
            );
            None
        }
    }
}

fn surface(at: &At, edge: Option<Length>, gaps: &mut Gaps) -> Option<Surface> {
    let members =
        if at.is_given() { Some(at.object(&["edge_levels", "crossfall_one_in"])?) } else { None };
    let levels = members.as_ref().map(|m| m.get("edge_levels")).filter(At::is_given);
    let levels = match levels {
        Some(list) => list
            .list(1, MOST_RUNS)
            .map(|items| items.iter().map(|item| edge_level(item, edge)).collect::<Vec<_>>()),
        None => {
            gaps.ours("surface.edge_levels", json!(0), "the reference edge is taken at the datum");
            Some(vec![Some(EdgeLevel { at: Length::ZERO, level: Level::ZERO })])
        }
    };
    let crossfall = match members.map(|m| m.get("crossfall_one_in")).filter(At::is_given) {
        Some(given) if given.is_null() => Some(None),
        Some(given) => crossfall(&given).map(Some),
        None => Some(Some(gaps.number(None, "surface.crossfall_one_in", 60.0, "least_fall"))),
    };
    let levels = levels?.into_iter().collect::<Option<Vec<_>>>()?;
    let mut chainages: Vec<f64> = levels.iter().map(|l| l.at.to_m()).collect();
    chainages.sort_by(f64::total_cmp);
    if chainages.windows(2).any(|pair| matches!(pair, [a, b] if b - a < 1e-6)) {
        at.refuse("two levels are given at the same place of the edge", "one level a place");
        return None;
    }
    Some(Surface::new(levels, crossfall?.map(Gradient::one_in)))
}

/// "1 in so many", falling away from the edge; negative falls towards it.
fn crossfall(at: &At) -> Option<f64> {
    let run = at.number(-1000.0..=1000.0, "(1 in so many; null for none)")?;
    if run.abs() < 4.0 {
        at.refuse(format!("1 in {run} is no paving"), "1 in 4 at the steepest; null for none");
        return None;
    }
    Some(run)
}

fn edge_level(at: &At, edge: Option<Length>) -> Option<EdgeLevel> {
    let members = at.object(&["at_m", "mm"])?;
    let place = members.get("at_m").required(0.0..=LONGEST_M, "m");
    let level = members.get("mm").required(-20_000.0..=20_000.0, "mm");
    let place = Length::from_m(place?);
    if let Some(edge) = edge
        && place > edge + Length::from_mm(0.5)
    {
        members.get("at_m").refuse(
            format!("{} m is beyond the end of the reference edge", place.to_m()),
            format!("at most {:.3} m", edge.to_m()),
        );
        return None;
    }
    Some(EdgeLevel { at: place, level: Level::from_mm(level?) })
}

fn ground(at: &At, gaps: &mut Gaps) -> Option<Ground> {
    let members = if at.is_given() {
        Some(at.object(&["existing_mm", "soil", "cbr_percent"])?)
    } else {
        None
    };
    let get = |key| members.as_ref().map(|m| m.get(key)).filter(At::is_given);
    let existing = match get("existing_mm") {
        Some(given) => given.number(-20_000.0..=20_000.0, "mm"),
        None => {
            gaps.ours("ground.existing_mm", json!(0), "the ground is taken at the datum");
            Some(0.0)
        }
    };
    let soil = match get("soil") {
        Some(given) => {
            let choices: Vec<(&str, &str)> = soils().map(|s| (s, s)).collect();
            Some(given.choice(&choices)?.to_owned())
        }
        None => None,
    };
    let measured = match get("cbr_percent") {
        Some(given) => Some(given.number(0.1..=200.0, "%")?),
        None => None,
    };
    let cbr_percent = measured.or_else(|| {
        let cbr = soil_cbr(soil.as_deref()?)?;
        gaps.0.push(Default {
            key: "ground.cbr_percent",
            value: json!(cbr),
            source:
                "HD 25 short table in Rogers, Highway Engineering, Tables 7.3 and 7.4; the low \
                     end of the range"
                    .to_owned(),
            status: "seen".to_owned(),
        });
        Some(cbr)
    });
    if cbr_percent.is_some_and(|cbr| cbr < LEAST_CBR_PERCENT) {
        let place = if measured.is_some() { "cbr_percent" } else { "soil" };
        at.refuse_at(
            &format!("{}/{place}", at.pointer()),
            "ground under CBR 2 % is too weak for the build-ups held here",
            "ask an engineer who knows the ground; CBR of 2 % or more can be worked with",
        );
        return None;
    }
    Some(Ground { existing: Level::from_mm(existing?), soil, cbr_percent })
}

fn block(at: &At, gaps: &mut Gaps) -> Option<Block> {
    let members = if at.is_given() {
        Some(at.object(&["length_mm", "width_mm", "depth_mm", "joint_mm"])?)
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
    let block = Block {
        length: Length::from_mm(length?),
        width: Length::from_mm(width?),
        depth: Length::from_mm(depth?),
        joint: Length::from_mm(joint?),
    };
    if block.width > block.length {
        at.refuse(
            "the block is wider than it is long",
            "the longer side as length_mm, the shorter as width_mm",
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
    Some(block)
}

const PATTERNS: [(&str, Pattern); 5] = [
    ("stretcher", Pattern::Stretcher),
    ("stack", Pattern::Stack),
    ("herringbone_45", Pattern::Herringbone45),
    ("herringbone_90", Pattern::Herringbone90),
    ("basketweave", Pattern::Basketweave),
];

fn bond(at: &At, block: Option<&Block>, r#use: Use, gaps: &mut Gaps) -> Option<Bond> {
    let members = if at.is_given() { Some(at.object(&["pattern", "along"])?) } else { None };
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
    let pattern = pattern?;
    if let Some(block) = block
        && matches!(pattern, Pattern::Herringbone45 | Pattern::Herringbone90 | Pattern::Basketweave)
        && (block.length - block.width * 2.0).abs() > block.joint + Length::from_mm(1.0)
    {
        at.refuse_at(
            &format!("{}/pattern", at.pointer()),
            "this block is not twice as long as it is wide, so the pattern does not close",
            "a block of two widths to a length, or stretcher or stack bond",
        );
        return None;
    }
    Some(Bond { pattern, along: along? })
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

const SIDES: [(&str, SideName); 4] = [
    ("reference", SideName::Reference),
    ("far", SideName::Far),
    ("start", SideName::Start),
    ("end", SideName::End),
];

fn edges(at: &At, gaps: &mut Gaps) -> Option<Edges> {
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
    let held = match get("held") {
        Some(given) => {
            given.list(0, 4)?.iter().map(|side| side.choice(&SIDES)).collect::<Option<Vec<_>>>()
        }
        None => Some(Vec::new()),
    };
    Some(Edges { course: course?, haunch: haunch?, room: Length::from_mm(room?), held: held? })
}

fn layers(
    at: &At,
    block: Option<Length>,
    r#use: Use,
    weak: bool,
    gaps: &mut Gaps,
) -> Option<BuildUp> {
    let members = if at.is_given() { Some(at.object(&["bed_mm", "sub_base_mm"])?) } else { None };
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

fn allowances(at: &At, gaps: &mut Gaps) -> Option<Allowances> {
    let keys = [
        "swell_percent",
        "sub_base_t_per_m3",
        "bed_t_per_m3",
        "joint_sand_t_per_m3",
        "blocks_percent",
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

fn parties(at: &At) -> Option<Parties> {
    if !at.is_given() {
        return Some(Parties::default());
    }
    let members = at.object(&["customer", "place", "by"])?;
    let name = |key| {
        let at = members.get(key);
        if at.is_given() { at.text() } else { Some(String::new()) }
    };
    let (customer, place, by) = (name("customer"), name("place"), name("by"));
    Some(Parties { customer: customer?, place: place?, by: by? })
}
