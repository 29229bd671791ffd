//! From metres on the ground to millimetres on the sheet.

use super::shape::{Frame, Spot, spot};

/// Where the ground lies on the sheet.
#[derive(Debug, Clone, Copy)]
pub(super) struct View {
    /// "1 to" this many.
    pub(super) scale: f64,
    /// A quarter turn, for what is taller than wide.
    turned: bool,
    /// Added to every place after scaling.
    shift: Spot,
    /// Height that the drawing takes on the sheet, margins included.
    pub(super) height_mm: f64,
}

impl View {
    /// A view in which some ground, in metres, fits a sheet of this width and at most this
    /// height, with a margin all round, at a scale that `scale` finds for so many real
    /// millimetres in so many on the sheet. None where there is nothing to draw.
    pub(super) fn fitting(
        ground: &[[f64; 2]],
        (width_mm, most_height_mm): (f64, f64),
        margin_mm: f64,
        scale: fn(f64, f64) -> Option<f64>,
    ) -> Option<View> {
        let upright = Frame::around(ground.iter().map(|[x, y]| spot(*x, -y)))?;
        let (wide, high) = (upright.right - upright.left, upright.bottom - upright.top);
        let fit = |across: f64, down: f64| {
            let room = (width_mm - 2.0 * margin_mm, most_height_mm - 2.0 * margin_mm);
            let across = scale(across * 1000.0, room.0)?;
            let down = scale(down * 1000.0, room.1)?;
            Some(across.max(down))
        };
        let (straight, quarter) = (fit(wide, high), fit(high, wide));
        let turned = match (straight, quarter) {
            (Some(a), Some(b)) => b < a,
            (None, Some(_)) => true,
            (_, None) => false,
        };
        let scale = if turned { quarter? } else { straight? };
        let unshifted = View { scale, turned, shift: spot(0.0, 0.0), height_mm: 0.0 };
        let frame = Frame::around(ground.iter().map(|place| unshifted.place(*place)))?;
        let spare = width_mm - (frame.right - frame.left);
        Some(View {
            shift: spot(spare / 2.0 - frame.left, margin_mm - frame.top),
            height_mm: frame.bottom - frame.top + 2.0 * margin_mm,
            ..unshifted
        })
    }

    /// A place on the ground, in metres, on the sheet.
    pub(super) fn place(&self, [x_m, y_m]: [f64; 2]) -> Spot {
        let per_metre = 1000.0 / self.scale;
        let (x, y) = if self.turned { (y_m, x_m) } else { (x_m, -y_m) };
        spot(x * per_metre + self.shift.x, y * per_metre + self.shift.y)
    }

    /// Places on the ground, on the sheet.
    pub(super) fn places(&self, ground: &[[f64; 2]]) -> Vec<Spot> {
        ground.iter().map(|place| self.place(*place)).collect()
    }
}
