//! How thick a layer is over the whole paving, as a drawing shows it.

use serde::{Deserialize, Serialize};
use ts_rs::TS;

use crate::api::views::Spread;
use crate::job::{JobState, LayerStand, thickness, thin_limit};
use crate::outline::{CHORD_TOLERANCE, Point};
use crate::units::Length;

/// No more lines than this on one drawing: more cannot be told apart.
const MOST_LINES: f64 = 6.0;
/// Steps between lines, in millimetres, as levels are drawn.
const STEPS_MM: [f64; 6] = [2.0, 5.0, 10.0, 20.0, 50.0, 100.0];

/// The thickness of a layer between its dips and those of the layer below, straight from place to place.
#[derive(Debug, Clone, Serialize, Deserialize, TS)]
pub struct ThicknessDrawn {
    /// Least, mean and greatest over the whole paving.
    pub over_mm: Spread,
    /// What is under this is too thin.
    pub limit_mm: f64,
    /// How much of the paving is.
    pub thin_m2: f64,
    /// Lines of equal thickness.
    pub contours: Vec<ContourDrawn>,
    /// Where it is too thin, in pieces that have no hollows.
    pub thin: Vec<Vec<[f64; 2]>>,
}

/// A line of one thickness, in pieces that follow each other in no order.
#[derive(Debug, Clone, Serialize, Deserialize, TS)]
pub struct ContourDrawn {
    /// The thickness.
    pub mm: f64,
    /// Its pieces, from place to place in metres.
    pub pieces: Vec<[[f64; 2]; 2]>,
}

/// The thickness of a layer; none where it cannot be told between its dips.
pub(crate) fn drawn(state: &JobState, stand: &LayerStand) -> Option<ThicknessDrawn> {
    let thickness = thickness(state, stand)?;
    let shape = state.plan.outline.polygon(CHORD_TOLERANCE);
    let limit = thin_limit(stand);
    let over = thickness.over(&shape, limit);
    let [least, mean, greatest] = [over.least, over.mean(), over.greatest].map(Length::to_mm);
    let lines: Vec<Length> = lines(least, greatest).map(Length::from_mm).collect();
    let contours = thickness.contours(&shape, &lines);
    Some(ThicknessDrawn {
        over_mm: Spread { least, mean, greatest },
        limit_mm: limit.to_mm(),
        thin_m2: over.below.to_m2(),
        contours: contours
            .iter()
            .map(|contour| ContourDrawn {
                mm: contour.thickness.to_mm().round(),
                pieces: contour.pieces.iter().map(|piece| piece.map(place)).collect(),
            })
            .collect(),
        thin: thickness
            .below(&shape, limit)
            .iter()
            .map(|piece| piece.iter().copied().map(place).collect())
            .collect(),
    })
}

fn place(point: Point) -> [f64; 2] {
    [point.x, point.y]
}

/// The thicknesses that get a line: whole steps between the least and the greatest.
fn lines(least: f64, greatest: f64) -> impl Iterator<Item = f64> {
    let few = |step: &&f64| (greatest - least) / **step <= MOST_LINES;
    let step = STEPS_MM.iter().find(few).copied().unwrap_or(1_000.0);
    let first = (least / step).floor() + 1.0;
    (0..=MOST_LINES as u32)
        .map(move |n| (first + f64::from(n)) * step)
        .take_while(move |mm| *mm < greatest)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_stand_at_whole_steps_and_are_few() {
        let at = |least, greatest| lines(least, greatest).collect::<Vec<f64>>();
        assert_eq!(at(91.0, 99.0), [92.0, 94.0, 96.0, 98.0]);
        assert_eq!(at(88.5, 112.0), [90.0, 95.0, 100.0, 105.0, 110.0]);
        assert_eq!(at(90.0, 150.0), [100.0, 110.0, 120.0, 130.0, 140.0]);
        assert_eq!(at(40.0, 41.0), Vec::<f64>::new());
        assert!(at(0.0, 1e9).len() <= 7);
    }
}
