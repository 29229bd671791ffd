//! A signature as it was drawn, as a vector.

use fairfall_core::diary::Signature;

use super::pen::{MEDIUM, Pen};
use super::shape::{Spot, spot};

/// How wide and high a signature stands on the sheet, in millimetres.
pub(crate) const WIDTH_MM: f64 = 60.0;
const HEIGHT_MM: f64 = 24.0;

/// The strokes as an SVG document.
pub(crate) fn signature(strokes: &[Vec<[u16; 2]>]) -> String {
    let [wide, high] = Signature::BOX.map(f64::from);
    let place =
        |[x, y]: &[u16; 2]| spot(f64::from(*x) / wide * WIDTH_MM, f64::from(*y) / high * HEIGHT_MM);
    let lines: Vec<Vec<Spot>> =
        strokes.iter().map(|stroke| stroke.iter().map(place).collect()).collect();
    let mut pen = Pen::default();
    pen.lines(lines.iter().map(Vec::as_slice), MEDIUM);
    for dot in lines.iter().filter(|line| line.len() == 1).flatten() {
        pen.dot(*dot, 0.25);
    }
    pen.finish(WIDTH_MM, HEIGHT_MM)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn strokes_and_dots_are_drawn_where_they_were() {
        let svg = signature(&[vec![[0, 0], [1000, 400]], vec![[500, 200]]]);
        assert!(svg.contains("M0.000 0.000L60.000 24.000"), "{svg}");
        assert!(svg.contains("cx=\"30.000\" cy=\"12.000\""), "{svg}");
    }
}
