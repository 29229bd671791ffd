//! Fairfall without a screen: plan, diary, store and the sums of a block paving job.
//!
//! One idea carries everything: a job is a plan and a diary. The plan says what should be, the
//! diary is an append-only list of what happened, and all that is shown is computed from the two.

pub mod api;
pub mod buildup;
pub mod compaction;
pub mod diary;
pub mod ground;
pub mod job;
pub mod laying;
pub mod levels;
pub mod outline;
pub mod outside;
pub mod plan;
pub mod quantities;
pub mod record;
pub mod safety;
pub mod store;
pub mod tables;
pub mod units;
pub mod words;
