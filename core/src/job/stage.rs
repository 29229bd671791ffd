//! The stages of a job and the order they are worked in.

use serde::{Deserialize, Serialize};
use ts_rs::TS;

use crate::buildup::Use;

/// A stage of the work.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum Stage {
    /// Services, materials, condition of the place.
    BeforeStart,
    /// The dig.
    Excavate,
    /// Formation compacted.
    CompactFormation,
    /// Stone, lift by lift.
    SubBase,
    /// Edges haunched.
    RestrainEdges,
    /// Sand brought in.
    Bed,
    /// Sand screeded.
    Screed,
    /// Blocks laid.
    Lay,
    /// Cuts made.
    Cut,
    /// Joints filled, blocks vibrated.
    Joint,
    /// Handed over.
    HandOver,
    /// Joint sand topped up, levels looked at again.
    ReturnVisit,
}

impl Stage {
    /// The stages in working order. Under cars the edges are restrained before the bed; under feet
    /// the edge concrete may follow the laying (common practice, no source).
    pub const fn in_order(r#use: Use) -> [Stage; 12] {
        use Stage::*;
        match r#use {
            Use::Foot => [
                BeforeStart,
                Excavate,
                CompactFormation,
                SubBase,
                Bed,
                Screed,
                Lay,
                Cut,
                Joint,
                RestrainEdges,
                HandOver,
                ReturnVisit,
            ],
            Use::Car => [
                BeforeStart,
                Excavate,
                CompactFormation,
                SubBase,
                RestrainEdges,
                Bed,
                Screed,
                Lay,
                Cut,
                Joint,
                HandOver,
                ReturnVisit,
            ],
        }
    }

    /// Whether it may be closed while another that is worked before it is open: where the plate has to
    /// keep back from open edges, the joints wait for the concrete (our design's rule).
    pub const fn may_precede(self, other: Stage) -> bool {
        matches!((self, other), (Stage::RestrainEdges, Stage::Joint))
    }

    /// The key of its name in the catalogue of words.
    pub const fn word(self) -> &'static str {
        match self {
            Stage::BeforeStart => "@stage.before_start",
            Stage::Excavate => "@stage.excavate",
            Stage::CompactFormation => "@stage.compact_formation",
            Stage::SubBase => "@stage.sub_base",
            Stage::RestrainEdges => "@stage.restrain_edges",
            Stage::Bed => "@stage.bed",
            Stage::Screed => "@stage.screed",
            Stage::Lay => "@stage.lay",
            Stage::Cut => "@stage.cut",
            Stage::Joint => "@stage.joint",
            Stage::HandOver => "@stage.hand_over",
            Stage::ReturnVisit => "@stage.return_visit",
        }
    }
}

/// Where a stage stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum StageState {
    /// An earlier stage is still open.
    Waiting,
    /// The first open stage.
    InWork,
    /// Closed with everything there.
    Done,
    /// Closed with something missing, and a reason.
    PassedWithReason,
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn edges_are_restrained_before_laying_only_under_cars() {
        let place = |r#use, stage| Stage::in_order(r#use).iter().position(|s| *s == stage);
        assert!(place(Use::Car, Stage::RestrainEdges) < place(Use::Car, Stage::Lay));
        assert!(place(Use::Foot, Stage::RestrainEdges) > place(Use::Foot, Stage::Lay));
        for r#use in [Use::Foot, Use::Car] {
            let mut stages = Stage::in_order(r#use).to_vec();
            stages.sort();
            stages.dedup();
            assert_eq!(stages.len(), 12);
        }
    }
}
