//! The ground that courses along the reference edge run over.

use std::f64::consts::PI;

use geo::{Closest, ClosestPoint as _, CoordsIter as _, MultiPolygon};

use super::block::Block;
use super::curved::longest_unit;
use super::site::Site;
use crate::outline::{Edge, Hand, Point, Run, SideName};
use crate::units::Length;

/// What goes on by less than this ends there, in metres.
const NOTHING: f64 = 1e-6;

/// The strip of a field along an edge.
#[derive(Debug, Clone, Copy)]
pub struct Strip<'a> {
    /// The reference edge.
    pub edge: &'a Edge,
    /// +1 where the paving lies to its left, -1 to its right.
    pub side: f64,
    /// Chainage where the field starts and ends.
    pub chainage: [f64; 2],
    /// Distance into the paving where it starts and ends.
    pub into: [f64; 2],
    /// Whether both ends are straight across, so that courses close on their length.
    pub square: bool,
}

impl<'a> Strip<'a> {
    /// The strip that holds a field: none where nothing is left of that, where it reaches so near
    /// to the centre of a curve that not even the eighth of a block could be laid round it, or where it
    /// may come back upon itself.
    pub fn new(site: &Site<'a>, field: &MultiPolygon, block: &Block) -> Option<Self> {
        let nothing = [f64::INFINITY, f64::NEG_INFINITY];
        let spread = |[least, most]: [f64; 2], at: f64| [least.min(at), most.max(at)];
        let points = field.exterior_coords_iter().chain(nearest_to_centres(site.edge, field));
        let (mut chainage, mut into) = points.fold((nothing, nothing), |sum, point| {
            let place = site.edge.place(point);
            let into = place.offset.to_m() * site.side;
            (spread(sum.0, place.chainage.to_m()), spread(sum.1, into))
        });
        let straight = |name| site.is_straight(name);
        if let Some(width) = site.width.map(Length::to_m) {
            // A point of a strip may lie nearer to another leg of its edge than to its own, or to
            // the tangents beyond its ends.
            into = into.map(|into| into.clamp(0.0, width));
            let [before, after] = [SideName::Start, SideName::End]
                .map(|end| if straight(end) { 0.0 } else { width / 2.0 });
            let most = site.edge.length().to_m() + after;
            chainage = chainage.map(|at| at.clamp(-before, most));
        }
        let square = site.width.is_some() && straight(SideName::Start) && straight(SideName::End);
        let strip = Strip { edge: site.edge, side: site.side, chainage, into, square };
        let may_be_followed = strip.is_clear(block) && !strip.meets_itself();
        (chainage[0] < chainage[1] && may_be_followed).then_some(strip)
    }

    /// Whether it goes on beyond an end of its edge, along the tangent there, after more than half a turn:
    /// then it may come back upon its other end.
    fn meets_itself(&self) -> bool {
        let length = self.edge.length().to_m();
        let goes_on = self.chainage[0] < -NOTHING || self.chainage[1] > length + NOTHING;
        let turns = self.edge.runs().iter().map(|(_, run)| run.curvature() * run.length().to_m());
        goes_on && turns.sum::<f64>().abs() > PI
    }

    /// Whether a block, or what it may be halved down to, goes round every curve of it.
    fn is_clear(&self, block: &Block) -> bool {
        self.edge.runs().iter().map(|(_, run)| run.curvature()).filter(|c| *c != 0.0).all(
            |curvature| {
                self.into.iter().all(|into| {
                    let radius = (1.0 - into * self.side * curvature) / curvature.abs();
                    longest_unit(Some(radius), block.length.to_m()).is_some()
                })
            },
        )
    }
}

/// The points on the outside of a field that are nearest to the centres of an edge's arcs: no corner
/// need be among them. A field that holds a centre comes as near to it as can be.
fn nearest_to_centres(edge: &Edge, field: &MultiPolygon) -> Vec<Point> {
    let centres = edge.runs().iter().filter_map(|(start, run)| match *run {
        Run::Arc { radius, turn: Hand::Left, .. } => Some(start.offset(radius)),
        Run::Arc { radius, turn: Hand::Right, .. } => Some(start.offset(-radius)),
        Run::Straight(_) => None,
    });
    centres
        .filter_map(|centre| match field.closest_point(&geo::Point(centre)) {
            Closest::Intersection(point) | Closest::SinglePoint(point) => Some(point.0),
            Closest::Indeterminate => None,
        })
        .collect()
}
