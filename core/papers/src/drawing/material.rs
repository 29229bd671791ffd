//! Materials as a site drawing shows them: stones, sand, blocks, ground.
//!
//! A hatch says what a material is, not how big its pieces are. The scatter comes from a fixed
//! sequence, so the same layer is drawn the same every time.

use super::pen::{FINE, Fill, MEDIUM, Pen, THIN};
use super::shape::{Frame, Spot, spot};

/// A layer's body on the sheet: level in depth, falling over its width.
#[derive(Debug, Clone, Copy)]
pub(super) struct Body {
    /// Its upper left corner.
    pub(super) top_left: Spot,
    /// Its width.
    pub(super) width: f64,
    /// How far its right end lies lower than its left.
    pub(super) drop: f64,
    /// Its thickness, measured upright.
    pub(super) thickness: f64,
}

impl Body {
    /// A place in it: a part of the width from the left, and a depth under its top.
    pub(super) fn at(&self, part: f64, depth: f64) -> Spot {
        spot(self.top_left.x + self.width * part, self.top_left.y + self.drop * part + depth)
    }

    /// Its corners in order.
    pub(super) fn corners(&self) -> [Spot; 4] {
        let t = self.thickness;
        [self.at(0.0, 0.0), self.at(1.0, 0.0), self.at(1.0, t), self.at(0.0, t)]
    }

    /// The top of the body `depth` lower, as a body of its own.
    pub(super) fn below(&self, depth: f64, thickness: f64) -> Body {
        Body { top_left: self.at(0.0, depth), thickness, ..*self }
    }
}

/// A fixed sequence of numbers between 0 and 1.
struct Scatter(u64);

impl Scatter {
    fn next(&mut self) -> f64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963);
        f64::from(u32::try_from(self.0 >> 33).unwrap_or(0)) / f64::from(1_u32 << 31)
    }

    fn between(&mut self, least: f64, most: f64) -> f64 {
        least + (most - least) * self.next()
    }
}

/// Throws discs into a body, each clear of those before and of its name; returns centres and
/// radii.
fn throw(
    body: &Body,
    name: Option<Frame>,
    seed: u64,
    tries: usize,
    radius: impl Fn(f64) -> f64,
) -> Vec<(Spot, f64)> {
    let mut scatter = Scatter(seed);
    let mut lying: Vec<(Spot, f64)> = Vec::new();
    for count in 0..tries {
        // Precision is of no matter here: it only steers the size from large to small.
        let done = count as f64 / tries as f64;
        let r = radius(done) * scatter.between(0.85, 1.15);
        let edge = r + 0.12;
        let (inset, deep) = (edge / body.width, body.thickness - edge);
        let (part, depth) = (scatter.between(inset, 1.0 - inset), scatter.between(edge, deep));
        let at = body.at(part, depth);
        let beside = name.is_none_or(|frame| frame.clear_of(at, r + 0.3));
        if deep > edge
            && beside
            && lying.iter().all(|(other, q)| at.distance(*other) > r + q + 0.06)
        {
            lying.push((at, r));
        }
    }
    lying
}

/// How many throws fill an area, in square millimetres, and no more than is worth the time.
fn tries(body: &Body, per_square: f64) -> usize {
    let wanted = (body.width * body.thickness * per_square).clamp(0.0, 9_000.0);
    // Between 0 and 9000.
    wanted as usize
}

/// Crushed stone: angular pieces from large to small.
pub(super) fn stones(pen: &mut Pen, body: &Body, name: Option<Frame>, seed: u64) {
    let largest = (body.thickness * 0.2).clamp(0.5, 1.7);
    let lying =
        throw(body, name, seed, tries(body, 9.0), |done| largest * (1.0 - done).powf(1.4) + 0.26);
    let mut scatter = Scatter(seed ^ 0x5eed);
    let (mut pieces, mut specks) = (Vec::new(), Vec::new());
    for (at, radius) in lying {
        if radius < 0.42 {
            specks.push(at);
            continue;
        }
        let corners = 5 + (scatter.next() * 3.0) as usize;
        let first = scatter.between(0.0, std::f64::consts::TAU);
        let piece: Vec<Spot> = (0..corners)
            .map(|corner| {
                let even = corner as f64 / corners as f64 * std::f64::consts::TAU;
                let angle = first + even + scatter.between(-0.25, 0.25);
                let reach = radius * scatter.between(0.72, 1.08);
                spot(at.x + reach * angle.cos(), at.y + reach * angle.sin())
            })
            .collect();
        pieces.push(piece);
    }
    pen.shapes(pieces.iter().map(Vec::as_slice), Fill::Paper, Some(FINE));
    for at in specks {
        pen.dot(at, 0.11);
    }
}

/// Sand: dots.
pub(super) fn sand(pen: &mut Pen, body: &Body, name: Option<Frame>, seed: u64) {
    for (at, radius) in throw(body, name, seed, tries(body, 6.0), |_| 0.42) {
        pen.dot(at, radius * 0.27);
    }
}

/// Blocks: rows of units with chamfered top edges and joints between them.
pub(super) fn blocks(pen: &mut Pen, body: &Body) {
    let wanted = (body.thickness * 1.5).clamp(5.0, 16.0);
    // An odd number: the layer's name stands on the middle one.
    let count = (body.width / wanted / 2.0).floor() * 2.0 + 1.0;
    let (joint, chamfer) = (0.45 / body.width, 0.5_f64.min(body.thickness / 4.0));
    let mut units = Vec::new();
    for index in 0..(count as usize) {
        let left = index as f64 / count + joint / 2.0;
        let right = (index as f64 + 1.0) / count - joint / 2.0;
        let cut = chamfer / body.width;
        let t = body.thickness;
        units.push(vec![
            body.at(left, chamfer),
            body.at(left + cut, 0.0),
            body.at(right - cut, 0.0),
            body.at(right, chamfer),
            body.at(right, t),
            body.at(left, t),
        ]);
    }
    pen.shapes(units.iter().map(Vec::as_slice), Fill::Wash, Some(MEDIUM));
}

/// Ground along a line: groups of slanting strokes on the side that the line's left hand is not.
///
/// The strokes hang under a line drawn from left to right.
pub(super) fn ground(pen: &mut Pen, from: Spot, to: Spot) {
    let (along, length) = (from.towards(to), from.distance(to));
    let under = along.across();
    let mut strokes = Vec::new();
    let (mut gone, mut count) = (0.3, 0_u32);
    while gone < length {
        // Five strokes, the middle ones longest, then a space.
        let reach = [1.3, 1.9, 2.3, 1.9, 1.3].into_iter().nth(count as usize % 5).unwrap_or(1.3);
        let foot = from.moved(along, gone);
        strokes.push([foot, foot.moved(along, -reach * 0.8).moved(under, reach)]);
        count += 1;
        gone += if count % 5 == 0 { 2.6 } else { 0.85 };
    }
    pen.lines(strokes.iter().map(<[Spot; 2]>::as_slice), FINE);
}

/// Turf on a line: short upright strokes.
pub(super) fn turf(pen: &mut Pen, from: Spot, to: Spot) {
    let (along, length) = (from.towards(to), from.distance(to));
    let mut blades = Vec::new();
    let mut gone = 0.6;
    while gone < length {
        let foot = from.moved(along, gone);
        for (lean, tall) in [(-0.35, 0.8), (0.0, 1.15), (0.35, 0.8)] {
            blades.push([foot, spot(foot.x + lean, foot.y - tall)]);
        }
        gone += 1.9;
    }
    pen.lines(blades.iter().map(<[Spot; 2]>::as_slice), THIN);
}

#[cfg(test)]
mod tests {
    use super::*;

    fn body(thickness: f64) -> Body {
        Body { top_left: spot(10.0, 10.0), width: 80.0, drop: 4.0, thickness }
    }

    #[test]
    fn the_same_layer_is_drawn_the_same() {
        let draw = || {
            let mut pen = Pen::default();
            stones(&mut pen, &body(12.0), None, 3);
            sand(&mut pen, &body(6.0), None, 4);
            pen.finish(100.0, 100.0)
        };
        assert_eq!(draw(), draw());
    }

    #[test]
    fn stones_lie_inside_their_layer_and_apart() {
        let body = body(10.0);
        let lying = throw(&body, None, 5, 2000, |done| 1.7 * (1.0 - done) + 0.3);
        assert!(lying.len() > 60, "only {} stones", lying.len());
        for (index, (at, r)) in lying.iter().enumerate() {
            let part = (at.x - 10.0) / 80.0;
            let depth = at.y - 10.0 - 4.0 * part;
            assert!(depth >= *r && depth <= 10.0 - r, "a stone sticks out");
            let clear = lying.iter().skip(index + 1).all(|(o, q)| at.distance(*o) > r + q);
            assert!(clear, "two stones overlap");
        }
    }

    #[test]
    fn a_layer_of_no_thickness_is_no_trouble() {
        let mut pen = Pen::default();
        stones(&mut pen, &body(0.0), None, 1);
        sand(&mut pen, &body(0.0), None, 1);
        blocks(&mut pen, &body(0.0));
        assert!(!pen.finish(1.0, 1.0).contains("NaN"));
    }
}
