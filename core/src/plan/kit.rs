//! What a job is worked with: specification, plant, vehicles; and a person's own, kept apart from
//! any job.

use std::collections::BTreeMap;

use serde_json::Value;

use super::reader::{At, Problems};
use super::{Plan, Problem, fill};
use crate::buildup::Layer;
use crate::compaction::{Compaction, Material, NoStrip, Plant, Specification, pass_time};
use crate::quantities::{Goods, Vehicle, VehicleKind};
use crate::units::{Area, Duration};

/// What a job is worked with.
#[derive(Debug, Clone, PartialEq)]
pub struct Kit {
    /// The specification that passes are held against, where one is named.
    pub specification: Option<Specification>,
    /// Machines; the first compacts the stone.
    pub plant: Vec<Plant>,
    /// The person's own vehicles, or a usual skip and barrow.
    pub vehicles: Vec<Vehicle>,
}

impl Kit {
    /// The machine that a pass was logged under.
    pub fn plant_named(&self, name: &str) -> Option<&Plant> {
        self.plant.iter().find(|plant| plant.is_named(name))
    }

    /// The barrow that trips are told for.
    pub fn barrow(&self) -> Option<&Vehicle> {
        self.vehicles.iter().find(|vehicle| vehicle.kind == VehicleKind::Barrow)
    }
}

impl Plan {
    /// The vehicles that carry away.
    pub fn carriers(&self) -> impl Iterator<Item = &Vehicle> {
        self.kit.vehicles.iter().filter(|vehicle| vehicle.kind != VehicleKind::Barrow)
    }

    /// What the specification says of the sub-base in one lift under the first machine; none until
    /// both are named.
    pub fn compaction(&self) -> Option<Compaction> {
        let (specification, plant) = self.kit.specification.zip(self.kit.plant.first())?;
        let method = plant.method(specification, Material::Granular);
        Some(method.compaction(self.layers.sub_base()))
    }

    /// Passes that a machine owes a lift of the sub-base, by the name it was logged under; none
    /// where no row says.
    pub fn passes_wanted(&self, layer: Layer, lift: Option<u32>, plant: &str) -> Option<u32> {
        if layer != Layer::SubBase {
            return None;
        }
        let plant = self.kit.plant_named(plant)?;
        let method = plant.method(self.kit.specification?, Material::Granular);
        method.compaction(self.layers.thickness(layer, lift)).passes
    }

    /// The area that a pass goes over: formation and stone over the dig, bed and blocks over the
    /// paving.
    pub fn area_of(&self, layer: Layer) -> Area {
        match layer {
            Layer::Formation | Layer::SubBase => {
                self.outline.dig(|side| self.edges.room_beyond(side)).area()
            }
            Layer::Bed | Layer::Surface => self.outline.area(),
        }
    }

    /// The least time of a pass over a layer with a machine whose width is known.
    pub fn pass_time(&self, layer: Layer, plant: &Plant) -> Option<Duration> {
        let time: Result<Duration, NoStrip> =
            pass_time(self.area_of(layer), plant.width?, plant.overlap, plant.travels());
        time.ok()
    }
}

/// A person's own plant, bags and vehicles, as they are written into new plans.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct OwnKit {
    /// Machines.
    pub plant: Vec<Plant>,
    /// Bag sizes, kilograms.
    pub bags_kg: BTreeMap<Goods, f64>,
    /// Vehicles.
    pub vehicles: Vec<Vehicle>,
}

impl OwnKit {
    /// Reads `{"plant", "bags", "vehicles"}`, each written as in a plan file.
    ///
    /// # Errors
    /// Every problem at once, each with its place and what would be right.
    pub fn read(value: &Value) -> Result<OwnKit, Vec<Problem>> {
        let problems = Problems::default();
        let kit = fill::own_kit(&At::root(value, &problems));
        let found = problems.take();
        match kit {
            Some(kit) if found.is_empty() => Ok(kit),
            _ => Err(found),
        }
    }
}
