//! Specification, plant and vehicles of a plan, and a person's own.

use std::ops::RangeInclusive;

use serde_json::json;

use super::Gaps;
use crate::buildup::{BuildUp, THICKEST_LIFT, figure};
use crate::compaction::{Material, Plant, PlantKind, Rating, RatingFrom, Shaking, Specification};
use crate::plan::Kit;
use crate::plan::reader::{At, Members};
use crate::quantities::{Vehicle, VehicleKind};
use crate::units::{Acceleration, Area, Length, Mass, Speed, Volume};

/// Most machines or vehicles that are listed.
const MOST: usize = 20;

pub(super) fn kit(
    specification: &At,
    plant_at: &At,
    vehicles_at: &At,
    gaps: &mut Gaps,
) -> Option<Kit> {
    let named = if specification.is_given() {
        specification.choice(&Specification::ALL.map(|spec| (spec.name(), spec))).map(Some)
    } else {
        Some(None)
    };
    let plant = if plant_at.is_given() { plant(plant_at) } else { Some(Vec::new()) };
    let vehicles = if vehicles_at.is_given() { vehicles(vehicles_at) } else { Some(Vec::new()) };
    let mut kit = Kit { specification: named?, plant: plant?, vehicles: vehicles? };
    add_usual_vehicles(&mut kit, gaps);
    Some(kit)
}

/// Loads are told for a usual skip and a usual barrow where the person names none.
fn add_usual_vehicles(kit: &mut Kit, gaps: &mut Gaps) {
    let mut usual = |key, kind, [volume_unit, mass_unit]: [&str; 2], in_m3: f64, in_t: f64| {
        let [volume, mass] = figure(VehicleKind::name(kind)).range();
        gaps.note(
            key,
            json!(format!("{volume} {volume_unit}, {mass} {mass_unit}")),
            VehicleKind::name(kind),
        );
        Vehicle {
            name: VehicleKind::name(kind).to_owned(),
            kind,
            volume: Volume::from_m3(volume * in_m3),
            mass: Mass::from_t(mass * in_t),
        }
    };
    if !kit.vehicles.iter().any(|vehicle| vehicle.kind != VehicleKind::Barrow) {
        let skip = usual("vehicles.skip", VehicleKind::Skip, ["m³", "t"], 1.0, 1.0);
        kit.vehicles.push(skip);
    }
    if !kit.vehicles.iter().any(|vehicle| vehicle.kind == VehicleKind::Barrow) {
        let barrow = usual("vehicles.barrow", VehicleKind::Barrow, ["l", "kg"], 0.001, 0.001);
        kit.vehicles.push(barrow);
    }
}

/// The layers with the sub-base in lifts that the first machine may compact; in lifts of at most
/// 100 mm where no row permits one.
pub(super) fn lifted(layers: BuildUp, kit: &Kit, gaps: &mut Gaps) -> BuildUp {
    let method = kit.specification.zip(kit.plant.first());
    let thickest =
        method.and_then(|(spec, plant)| plant.method(spec, Material::Granular).thickest_lift());
    if thickest.is_none() {
        gaps.ours(
            "layers.lift_mm",
            json!(THICKEST_LIFT.to_mm().round()),
            "no row is held for this plant, or none is named: the lightest plate of the \
             reinstatement table (A8.1) may compact 100 mm and not 150",
        );
    }
    let (block, bed, sub_base) = (layers.block, layers.bed, layers.sub_base());
    BuildUp::new(block, bed, sub_base, thickest.unwrap_or(THICKEST_LIFT))
}

/// A list of machines, each with its own name.
pub(super) fn plant(at: &At) -> Option<Vec<Plant>> {
    let items = at.list(0, MOST)?;
    let read: Vec<Option<Plant>> = items.iter().map(machine).collect();
    let machines = read.into_iter().collect::<Option<Vec<Plant>>>()?;
    names_differ(&items, machines.iter().map(|machine| machine.name.as_str()));
    Some(machines)
}

fn names_differ<'a>(items: &[At], names: impl Iterator<Item = &'a str>) {
    let mut seen: Vec<String> = Vec::new();
    for (item, name) in items.iter().zip(names) {
        let name = name.to_lowercase();
        if seen.contains(&name) {
            let at = format!("{}/name", item.pointer());
            item.refuse_at(&at, "this name is taken already", "a name of its own");
        }
        seen.push(name);
    }
}

const PLANT_KEYS: [&str; 11] = [
    "name",
    "kind",
    "rating",
    "mass_kg",
    "contact_m2",
    "frame_length_mm",
    "width_mm",
    "overlap_mm",
    "speed_m_per_min",
    "vibration_m_s2",
    "vibration",
];

fn machine(at: &At) -> Option<Plant> {
    let members = at.object(&PLANT_KEYS)?;
    let name = required_text(&members.get("name"), "the name that passes are logged under");
    let kind = members.get("kind");
    let kind = if kind.is_given() {
        kind.choice(&PlantKind::ALL.map(|kind| (kind.name(), kind)))
    } else {
        Some(PlantKind::VibratingPlate)
    };
    let width = maybe(&members, "width_mm", 10.0..=5000.0, "mm");
    let width = width.map(|mm| mm.map(Length::from_mm));
    let overlap = overlap(at, &members, width.flatten());
    let speed = maybe(&members, "speed_m_per_min", 0.1..=200.0, "m/min");
    let shaking = shaking(&members);
    let rating = rating(at, &members, kind, width.flatten());
    Some(Plant {
        name: name?,
        kind: kind?,
        rating: rating?,
        width: width?,
        overlap: overlap?,
        speed: speed?.map(Speed::from_m_per_min),
        shaking: shaking?,
    })
}

/// A number that may be left out.
fn maybe(
    members: &Members,
    key: &str,
    bounds: RangeInclusive<f64>,
    unit: &str,
) -> Option<Option<f64>> {
    let at = members.get(key);
    if at.is_given() { at.number(bounds, unit).map(Some) } else { Some(None) }
}

fn overlap(at: &At, members: &Members, width: Option<Length>) -> Option<Length> {
    let given = maybe(members, "overlap_mm", 0.0..=2000.0, "mm")?;
    let overlap = given.map_or(Plant::USUAL_OVERLAP, Length::from_mm);
    if width.is_some_and(|width| overlap >= width) {
        let place = format!("{}/overlap_mm", at.pointer());
        at.refuse_at(&place, "the strips lap over their whole width", "less than the width");
        return None;
    }
    Some(overlap)
}

fn shaking(members: &Members) -> Option<Option<Shaking>> {
    let stated = maybe(members, "vibration_m_s2", 0.1..=100.0, "m/s²");
    let how = members.get("vibration");
    let measured = if how.is_given() {
        how.choice(&[("declared", false), ("measured", true)])
    } else {
        Some(false)
    };
    let (stated, measured) = (stated?.map(Acceleration::from_m_per_s2), measured?);
    Some(stated.map(|stated| Shaking { stated, measured }))
}

fn rating(
    at: &At,
    members: &Members,
    kind: Option<PlantKind>,
    width: Option<Length>,
) -> Option<Rating> {
    let given = maybe(members, "rating", 0.0..=100_000.0, "in the unit of its kind");
    let mass = maybe(members, "mass_kg", 1.0..=20_000.0, "kg");
    let contact = maybe(members, "contact_m2", 0.001..=10.0, "m²");
    let frame = maybe(members, "frame_length_mm", 10.0..=5000.0, "mm");
    let (kind, contact) = (kind?, contact?);
    contact_fits(at, contact, frame?, width);
    let from = RatingFrom {
        rating: given?,
        mass: mass?.map(Mass::from_kg),
        contact: contact.map(Area::from_m2),
        drum: width,
    };
    match kind.rating(from) {
        Ok(rating) => Some(rating),
        Err(error) => {
            let place = format!("{}/rating", at.pointer());
            at.refuse_at(&place, error.to_string(), kind.rating_right());
            None
        }
    }
}

/// A plate touches the ground with no more than its own length times its width.
fn contact_fits(at: &At, contact: Option<f64>, frame: Option<f64>, width: Option<Length>) {
    if let (Some(contact), Some(frame), Some(width)) = (contact, frame, width) {
        let whole = Length::from_mm(frame) * width;
        if Area::from_m2(contact) > whole * (1.0 + 1e-9) {
            at.refuse_at(
                &format!("{}/contact_m2", at.pointer()),
                format!(
                    "the contact area is larger than the plate, which is {:.3} m²",
                    whole.to_m2()
                ),
                "the part of the base plate that touches the ground",
            );
        }
    }
}

pub(super) fn required_text(at: &At, right: &str) -> Option<String> {
    if at.is_given() {
        at.text()
    } else {
        at.refuse("this is missing", right);
        None
    }
}

/// A list of vehicles, each with its own name.
pub(super) fn vehicles(at: &At) -> Option<Vec<Vehicle>> {
    let items = at.list(0, MOST)?;
    let read: Vec<Option<Vehicle>> = items.iter().map(vehicle).collect();
    let vehicles = read.into_iter().collect::<Option<Vec<Vehicle>>>()?;
    names_differ(&items, vehicles.iter().map(|vehicle| vehicle.name.as_str()));
    Some(vehicles)
}

fn vehicle(at: &At) -> Option<Vehicle> {
    let members = at.object(&["name", "kind", "volume_m3", "mass_t"])?;
    let name = required_text(&members.get("name"), "what the person calls it");
    let kind = members.get("kind");
    let known = kind.choice(&VehicleKind::ALL.map(|kind| (kind.name(), kind)));
    if !kind.is_given() {
        let words = VehicleKind::ALL.map(VehicleKind::name).join(", ");
        kind.refuse("this is missing", format!("one of: {words}"));
    }
    let volume = members.get("volume_m3").required(0.01..=100.0, "m³");
    let mass = members.get("mass_t").required(0.01..=50.0, "t");
    Some(Vehicle {
        name: name?,
        kind: known?,
        volume: Volume::from_m3(volume?),
        mass: Mass::from_t(mass?),
    })
}
