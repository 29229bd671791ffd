//! Scales, and the bar that shows one.

use super::figure::{Anchor, Label};
use super::pen::{Fill, Pen, THIN};
use super::shape::{Spot, spot};

/// The scales on a metric scale rule, largest first, and their tenfolds.
const SCALES: [f64; 20] = [
    2.0, 2.5, 5.0, 7.5, 10.0, 12.5, 20.0, 25.0, 50.0, 75.0, 100.0, 125.0, 200.0, 250.0, 500.0,
    750.0, 1000.0, 1250.0, 2000.0, 2500.0,
];

/// The largest scale, as "1 to" this many, at which so many real millimetres fit into so many on
/// the sheet; none where even the smallest is too large.
pub(super) fn fitting(real_mm: f64, sheet_mm: f64) -> Option<f64> {
    if !(real_mm.is_finite() && real_mm > 0.0 && sheet_mm > 0.0) {
        return None;
    }
    SCALES.iter().copied().find(|scale| real_mm / scale <= sheet_mm)
}

/// As [`fitting`], but as large as two figures can say: for small drawings, where a scale rule's
/// next step would waste half the room.
pub(super) fn close(real_mm: f64, sheet_mm: f64) -> Option<f64> {
    if !(real_mm.is_finite() && real_mm > 0.0 && sheet_mm > 0.0) {
        return None;
    }
    let exact = real_mm / sheet_mm;
    let step = 10_f64.powi(exact.log10().floor() as i32 - 1);
    // A hair is taken off, so that a scale that fits exactly is not passed over.
    Some((exact / step - 1e-9).ceil() * step)
}

/// A scale as it is written: "1:50", "1:12.5".
pub(super) fn written(scale: f64) -> String {
    format!("1:{scale}")
}

/// Draws a scale bar of about 40 mm from a place to the right, and returns where it ends.
pub(super) fn bar(pen: &mut Pen, labels: &mut Vec<Label>, at: Spot, scale: f64) -> f64 {
    let per_metre = 1000.0 / scale;
    let step_m = [0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0]
        .into_iter()
        .find(|step| step * per_metre >= 9.0)
        .unwrap_or(50.0);
    let step = step_m * per_metre;
    let height = 0.9;
    for (index, count) in [0.0, 1.0, 2.0, 3.0].into_iter().enumerate() {
        let left = at.x + step * count;
        let part = [
            spot(left, at.y),
            spot(left + step, at.y),
            spot(left + step, at.y + height),
            spot(left, at.y + height),
        ];
        let fill = if index % 2 == 0 { Fill::Ink } else { Fill::Paper };
        pen.shapes([part.as_slice()], fill, Some(THIN));
    }
    let label = |x: f64, text: String| Label::new(x, at.y - 1.9, 6.5, text);
    labels.push(label(at.x, "0".to_owned()));
    labels.push(label(at.x + step * 2.0, format!("{}", round(step_m * 2.0))));
    let end = at.x + step * 4.0;
    labels.push(label(end, format!("{}", round(step_m * 4.0))));
    labels.push(label(end + 1.5, "m".to_owned()).at(Anchor::Left));
    labels.push(
        Label::new(end + 5.5, at.y + height / 2.0, 7.5, written(scale))
            .at(Anchor::Left)
            .strong(true),
    );
    end + 16.0
}

/// Two decimals at most, so that 0.4 is not 0.4000000001.
fn round(value: f64) -> f64 {
    (value * 100.0).round() / 100.0
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_largest_scale_that_fits_is_taken() {
        assert_eq!(fitting(6000.0, 120.0), Some(50.0));
        assert_eq!(fitting(6001.0, 120.0), Some(75.0));
        assert_eq!(fitting(1300.0, 104.0), Some(12.5));
        assert_eq!(fitting(0.0, 120.0), None);
        assert_eq!(fitting(f64::NAN, 120.0), None);
        assert_eq!(fitting(1e9, 120.0), None);
        assert_eq!(written(12.5), "1:12.5");
    }

    #[test]
    fn a_close_scale_has_two_figures() {
        assert_eq!(close(9200.0, 70.0), Some(140.0));
        assert_eq!(close(6980.0, 72.0), Some(97.0));
        assert_eq!(close(700.0, 70.0), Some(10.0));
        assert_eq!(close(f64::NAN, 70.0), None);
    }
}
