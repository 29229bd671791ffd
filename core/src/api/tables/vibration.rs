//! Vibration of a day's work.

use serde::{Deserialize, Serialize};
use ts_rs::TS;

use super::Typed;
use crate::api::{Desk, Fault};
use crate::compaction::Shaking;
use crate::safety::{ACTION_POINTS, Exposure, LIMIT_POINTS, Work, exposure, whole_minutes};
use crate::units::{Acceleration, Duration};
use crate::words::Phrase;

/// A day's work, tool by tool.
#[derive(Debug, Clone, Deserialize, TS)]
pub struct VibrationAsked {
    /// Every tool.
    pub tools: Vec<WorkAsked>,
}

/// Work with one tool.
#[derive(Debug, Clone, Copy, Deserialize, TS)]
pub struct WorkAsked {
    /// How hard it shakes, m/s².
    pub m_s2: f64,
    /// Whether that was measured at work; otherwise it is the maker's, and is doubled.
    pub measured: bool,
    /// For how long, minutes.
    pub minutes: f64,
}

/// A day's exposure.
#[derive(Debug, Clone, Serialize, TS)]
pub struct VibrationView {
    /// Points of all tools together.
    pub points: f64,
    /// The same as a daily exposure over eight hours.
    pub a8_m_s2: f64,
    /// Total hours of this same mix of work that reach the action value.
    pub to_action_h: Option<f64>,
    /// Total hours of this same mix of work that reach the limit value.
    pub to_limit_h: Option<f64>,
    /// Minutes of this mix that are left before the action value, rounded down.
    pub left_to_action_min: Option<u32>,
    /// Minutes of this mix that are left before the limit value, rounded down.
    pub left_to_limit_min: Option<u32>,
    /// Where it stands against the two values.
    pub says: Phrase,
    /// Tool by tool.
    pub tools: Vec<ToolView>,
}

/// One tool by itself.
#[derive(Debug, Clone, Copy, Serialize, TS)]
pub struct ToolView {
    /// What it was reckoned with.
    pub reckoned_m_s2: f64,
    /// Its points.
    pub points: f64,
    /// How long this tool alone may run before the action value, minutes rounded down.
    pub alone_to_action_min: Option<u32>,
    /// How long this tool alone may run before the limit value, minutes rounded down.
    pub alone_to_limit_min: Option<u32>,
}

/// The exposure of a day's work.
///
/// # Errors
/// `bad_input` with every problem.
pub fn vibration(_: &mut Desk, asked: VibrationAsked) -> Result<VibrationView, Fault> {
    let mut typed = Typed::default();
    for (index, tool) in asked.tools.iter().enumerate() {
        typed.within(&format!("/tools/{index}/m_s2"), tool.m_s2, 0.0..=100.0, "m/s²");
        typed.within(&format!("/tools/{index}/minutes"), tool.minutes, 0.1..=1440.0, "min");
    }
    let total: f64 = asked.tools.iter().map(|tool| tool.minutes).sum();
    if total > 24.0 * 60.0 {
        typed.refuse("/tools", "together that is more than a day", "at most 24 h");
    }
    let work = asked
        .tools
        .iter()
        .map(|tool| {
            let stated = Acceleration::from_m_per_s2(tool.m_s2);
            Work {
                magnitude: Shaking { stated, measured: tool.measured }.reckoned(),
                time: Duration::from_min(tool.minutes),
            }
        })
        .collect::<Vec<_>>();
    typed.done(Some(exposure_view(&work)))
}

/// The exposure of work, its magnitudes taken as they are.
pub fn exposure_view(work: &[Work]) -> VibrationView {
    let day = exposure(work);
    let total: Duration = work.iter().map(|work| work.time).sum();
    let left = |to: Option<Duration>| to.map(|to| whole_minutes((to - total).max(Duration::ZERO)));
    VibrationView {
        points: day.points,
        a8_m_s2: day.a8.to_m_per_s2(),
        to_action_h: day.to_action.map(Duration::to_h),
        to_limit_h: day.to_limit.map(Duration::to_h),
        left_to_action_min: left(day.to_action),
        left_to_limit_min: left(day.to_limit),
        says: day.says(),
        tools: work.iter().map(tool_view).collect(),
    }
}

fn tool_view(work: &Work) -> ToolView {
    let alone = |points| Work::time_to(work.magnitude, points).map(whole_minutes);
    let Exposure { points, .. } = exposure(std::slice::from_ref(work));
    ToolView {
        reckoned_m_s2: work.magnitude.to_m_per_s2(),
        points,
        alone_to_action_min: alone(ACTION_POINTS),
        alone_to_limit_min: alone(LIMIT_POINTS),
    }
}
