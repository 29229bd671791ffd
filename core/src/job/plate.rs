//! Where the plate may go now.

use geo::{Area as _, BooleanOps, Buffer, LineString, MultiPolygon};

use super::fold::JobState;
use super::stage::Stage;
use crate::buildup::Layer;
use crate::outline::{CHORD_TOLERANCE, Side};
use crate::units::{Area, Length};

/// The plate keeps back this far from an edge that nothing holds yet (the common rule for laying
/// courses; our design's figure, no source).
pub const KEEP_BACK: Length = Length::from_m(1.0);

/// Where the plate may go now.
#[derive(Debug, Clone, PartialEq)]
pub struct PlateRegion {
    /// On which layer.
    pub layer: Layer,
    /// The ground that it may go over; empty where that is none.
    pub region: MultiPolygon,
    /// Its area.
    pub area: Area,
    /// Whether it keeps back from edges that are open.
    pub keeps_back: bool,
}

/// Where the plate may go in a stage; none where no plate is used. On blocks it keeps back from every
/// edge that is neither held nor restrained yet.
pub fn plate_region(state: &JobState, stage: Stage) -> Option<PlateRegion> {
    let plan = &state.plan;
    let layer = match stage {
        Stage::CompactFormation => Layer::Formation,
        Stage::SubBase => Layer::SubBase,
        Stage::Joint => Layer::Surface,
        _ => return None,
    };
    let whole = match layer {
        Layer::Surface => plan.outline.polygon(CHORD_TOLERANCE),
        _ => plan.outline.dig(|side| plan.edges.room_beyond(side)).polygon(CHORD_TOLERANCE),
    };
    let restrained = state.closings.get(&Stage::RestrainEdges).is_some_and(|c| c.done);
    let open: Vec<LineString> = if layer == Layer::Surface && !restrained {
        let held = &plan.edges.held;
        plan.outline
            .sides()
            .filter(|(name, _)| !held.contains(name))
            .map(|(_, side)| line(side))
            .collect()
    } else {
        Vec::new()
    };
    let keeps_back = !open.is_empty();
    let region = open.iter().fold(MultiPolygon::new(vec![whole]), |region, side| {
        region.difference(&side.buffer(KEEP_BACK.to_m()))
    });
    let area = Area::from_m2(region.unsigned_area());
    Some(PlateRegion { layer, region, area, keeps_back })
}

/// A side as chords.
fn line(side: &Side) -> LineString {
    let mut points = Vec::new();
    side.points(CHORD_TOLERANCE, &mut points);
    points.push(side.end);
    LineString::new(points)
}
