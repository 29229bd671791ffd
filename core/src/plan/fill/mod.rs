//! From a JSON value to a whole plan: every member checked, every gap filled from the reference
//! figures.

mod ground;
mod holes;
mod kit;
mod layers;
mod mixes;
mod orders;
mod outline;
mod supply;
mod surface;
mod walls;

use serde_json::{Value, json};

use super::reader::{At, Members, Problems};
use super::{Default, OwnKit, PLAN_VERSION, Parties, Plan, Problem};
use crate::buildup::{Use, figure};
use crate::laying::within_limit;
use crate::outline::Outline;
use crate::quantities::{Edges, Pattern};
use ground::ground;
use layers::{allowances, block, bond, edges, layers};
pub use outline::Survey;
use outline::outline;
use surface::surface;
use walls::{against, answers};

const MEMBERS: [&str; 23] = [
    "fairfall_plan",
    "title",
    "use",
    "outline",
    "holes",
    "surface",
    "against",
    "answers",
    "ground",
    "block",
    "bond",
    "edges",
    "layers",
    "allowances",
    "parties",
    "specification",
    "plant",
    "vehicles",
    "bags",
    "mixes",
    "membranes",
    "rates",
    "orders",
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
    let shape = outline(&plan.get("outline"), &plan.get("holes"), &mut gaps);
    let (outline, survey) = shape.unzip();
    let surface = surface(&plan.get("surface"), outline.as_ref(), &mut gaps);
    let walls = against(&plan.get("against"), outline.as_ref());
    let answers = answers(&plan.get("answers"));
    let ground = ground(&plan.get("ground"), &mut gaps);
    let assumed = r#use.unwrap_or(Use::Foot);
    let (block, joint_limits) = block(&plan.get("block"), &mut gaps).unzip();
    let bond = bond(&plan.get("bond"), block.as_ref(), assumed, &mut gaps);
    let edges = edges(&plan.get("edges"), outline.as_ref(), &mut gaps);
    if let (Some(outline), Some(edges)) = (&outline, &edges) {
        room_fits(&plan.get("edges"), outline, edges);
    }
    let weak = ground.as_ref().and_then(|g| g.cbr_percent).is_some_and(|cbr| cbr < 3.0);
    let depth = block.as_ref().map(|b| b.depth);
    let layers = layers(&plan.get("layers"), depth, assumed, weak, &mut gaps);
    let allowances = allowances(&plan.get("allowances"), &mut gaps);
    let mut supply_gaps = Gaps::default();
    let (specification, plant) = (plan.get("specification"), plan.get("plant"));
    let kit = kit::kit(&specification, &plant, &plan.get("vehicles"), &mut supply_gaps);
    let layers = match (layers, &kit) {
        (Some(layers), Some(kit)) => Some(kit::lifted(layers, kit, &mut gaps)),
        _ => None,
    };
    let beside = supply::Beside {
        allowances_at: plan.get("allowances"),
        layers_at: plan.get("layers"),
        allowances: allowances.as_ref(),
        block: block.as_ref(),
        edges: edges.as_ref(),
    };
    let supply = supply::supply(plan, &beside, &mut supply_gaps);
    let pattern = bond.map_or(Pattern::Stretcher, |bond| bond.pattern);
    let rates = supply::rates(&plan.get("rates"), pattern, &mut supply_gaps);
    let parties = parties(&plan.get("parties"));
    if let (Some(outline), Some(block)) = (&outline, &block)
        && let Err(too_many) = within_limit(outline.area(), block)
    {
        let why = format!(
            "{too_many}: the exact area over the face of a block and its joints, cuts not counted apart"
        );
        gaps.ours("blocks.count", json!("by the bond's module"), &why);
    }
    let surface = surface?;
    let plan = Plan {
        title: title?,
        r#use: r#use?,
        outline: outline?,
        survey: survey?,
        surface: surface.0,
        least_fall: surface.1,
        walls: walls?,
        answers: answers?,
        ground: ground?,
        block: block?,
        joint_limits: joint_limits?,
        bond: bond?,
        edges: edges?,
        layers: layers?,
        allowances: allowances?,
        kit: kit?,
        supply: supply?,
        rates: rates?,
        parties: parties?,
        defaults: gaps.0,
        supply_defaults: supply_gaps.0,
        file: Value::Null,
    };
    Some(plan)
}

/// A person's own plant, bags and vehicles.
pub(super) fn own_kit(at: &At) -> Option<OwnKit> {
    let members = at.object(&["plant", "bags", "vehicles"])?;
    let get = |key| Some(members.get(key)).filter(At::is_given);
    let plant = get("plant").map_or(Some(Vec::new()), |at| kit::plant(&at));
    let bags_kg = orders::bags(&members.get("bags"));
    let vehicles = get("vehicles").map_or(Some(Vec::new()), |at| kit::vehicles(&at));
    Some(OwnKit { plant: plant?, bags_kg: bags_kg?, vehicles: vehicles? })
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

/// The working room, too, must keep outside the centre of every curve that bends outward.
fn room_fits(at: &At, outline: &Outline, edges: &Edges) {
    for (name, side) in outline.sides().filter(|(_, side)| side.curvature < 0.0) {
        if let Some(radius) = side.radius()
            && edges.room_beyond(name) >= radius
        {
            at.refuse_at(
                &format!("{}/overdig_mm", at.pointer()),
                format!(
                    "the working room reaches past the centre of a curve of {} m",
                    radius.to_m()
                ),
                "less working room, a narrower strip, or a wider curve",
            );
        }
    }
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
