//! Parts of a section: layers with their hatching, ground, fall, dimension chains.

use fairfall_core::api::views::{LayerState, Section};
use fairfall_core::buildup::Layer;

use super::figure::{Anchor, Label};
use super::lettering::frame;
use super::material::{self, Body};
use super::pen::{DASHED, FINE, Fill, HEAVY, MEDIUM, Pen, THIN};
use super::section::Drawn;
use super::shape::{Frame, Spot, reading_angle, spot};
use crate::typeface::FACES;
use crate::words;

/// Size of lettering in points.
const SIZE: f64 = 7.5;

/// A layer thinner than this on the sheet has its name beside its measured thickness.
const NAME_FITS: f64 = 3.6;

/// A section being drawn.
pub(super) struct SectionSheet {
    pen: Pen,
    labels: Vec<Label>,
    /// The finished surface, without thickness.
    surface: Body,
    /// All layers together.
    depth: f64,
}

impl SectionSheet {
    pub(super) fn new(surface: Body, depth: f64) -> Self {
        SectionSheet { pen: Pen::default(), labels: Vec::new(), surface, depth }
    }

    pub(super) fn finish(self) -> (Pen, Vec<Label>) {
        (self.pen, self.labels)
    }

    /// The cut face of the ground on both sides, and the existing ground where it is known: at
    /// the edge that the plan is set out from. On the other side it breaks off.
    pub(super) fn ground(&mut self, above: f64) {
        let (left, right) = (self.surface.at(0.0, 0.0), self.surface.at(1.0, 0.0));
        let foot = self.surface.at(0.0, self.depth);
        let near = spot(left.x, (left.y - above).min(foot.y - 1.0));
        let out = spot(left.x - 13.0, near.y);
        self.pen.line(&[out, near], MEDIUM);
        material::turf(&mut self.pen, out, spot(near.x - 0.4, near.y));
        let words = Label::new(near.x - 1.5, near.y - 3.3, 6.5, "existing ground");
        self.labels.push(words.at(Anchor::Right));
        material::ground(&mut self.pen, near, foot);
        self.pen.line(&[near, foot], THIN);
        let far_foot = self.surface.at(1.0, self.depth);
        let far = spot(right.x, right.y);
        material::ground(&mut self.pen, far_foot, far);
        self.pen.line(&[far, far_foot], THIN);
    }

    /// One layer with its hatching and its name.
    pub(super) fn layer(&mut self, drawn: &Drawn<'_>) {
        let label = name(drawn);
        let corners = drawn.body.corners();
        match drawn.state() {
            LayerState::Planned => {
                self.pen.shapes([corners.as_slice()], Fill::Paper, Some(DASHED));
            }
            LayerState::InWork | LayerState::Done => {
                self.pen.shapes([corners.as_slice()], Fill::Paper, None);
                self.hatch(drawn, label.as_ref().map(frame));
                let [_, _, right, left] = corners;
                self.pen.line(&[left, right], THIN);
            }
        }
        self.labels.extend(label);
    }

    /// The material, kept off the layer's name.
    fn hatch(&mut self, drawn: &Drawn<'_>, name: Option<Frame>) {
        let seed = u64::from(drawn.layer.lift.unwrap_or(0)) + 11;
        match drawn.layer.layer {
            Layer::Surface => material::blocks(&mut self.pen, &drawn.body),
            Layer::Bed => material::sand(&mut self.pen, &drawn.body, name, seed),
            Layer::SubBase => material::stones(&mut self.pen, &drawn.body, name, seed),
            Layer::Formation => {}
        }
    }

    /// The trimmed ground that everything stands on.
    pub(super) fn formation(&mut self, name: String) {
        let (from, to) = (self.surface.at(0.0, self.depth), self.surface.at(1.0, self.depth));
        material::ground(&mut self.pen, from, to);
        self.pen.line(&[from, to], HEAVY);
        let below = from.middle(to);
        let slope = reading_angle(from.towards(to));
        self.labels.push(Label::new(below.x, below.y + 5.4, SIZE, name).turned(slope));
    }

    /// The fall over the surface: an arrow down the slope with its words.
    pub(super) fn fall(&mut self, section: &Section) {
        let across = words::metres(section.width_m);
        let words = match section.crossfall_one_in {
            Some(one_in) => format!(
                "fall 1 in {}: {} mm over {across} m",
                words::whole(one_in, 0),
                words::mm(section.drop_mm.abs())
            ),
            None => format!("no crossfall over {across} m"),
        };
        let (a, b) = (self.surface.at(0.2, -3.0), self.surface.at(0.8, -3.0));
        if section.crossfall_one_in.is_some() && section.drop_mm.abs() > 0.0 {
            let (tail, head) = if section.drop_mm > 0.0 { (a, b) } else { (b, a) };
            self.arrow(tail, head);
        }
        let at = a.middle(b);
        let turn = reading_angle(a.towards(b));
        self.labels.push(Label::new(at.x, at.y - 2.4, SIZE, words).turned(turn));
    }

    fn arrow(&mut self, tail: Spot, head: Spot) {
        self.pen.line(&[tail, head], THIN);
        let back = head.towards(tail);
        let side = back.across();
        let base = head.moved(back, 2.2);
        let tip = [head, base.moved(side, 0.45), base.moved(side, -0.45)];
        self.pen.shapes([tip.as_slice()], Fill::Ink, None);
    }

    /// Thicknesses by design, on the left.
    pub(super) fn design_chain(&mut self, drawn: &[Drawn<'_>]) {
        let x = self.surface.at(0.0, 0.0).x - 20.5;
        let start = self.surface.at(0.0, 0.0).y;
        let levels: Vec<f64> =
            std::iter::once(start).chain(drawn.iter().map(|d| start + d.design.1)).collect();
        self.chain(x, &levels);
        for d in drawn {
            let y = start + f64::midpoint(d.design.0, d.design.1);
            let figure = words::mm(d.layer.thickness_mm);
            self.labels.push(Label::new(x - 2.0, y, SIZE, figure).at(Anchor::Right));
        }
        self.labels.push(Label::new(x, start - 4.6, SIZE, "design").strong(true));
    }

    /// Mean thicknesses as measured, on the right.
    pub(super) fn measured_chain(&mut self, drawn: &[Drawn<'_>]) {
        let x = self.surface.at(1.0, 0.0).x + 7.0;
        let start = self.surface.at(1.0, 0.0).y;
        let mut levels = vec![start];
        for d in drawn {
            let top = levels.last().copied().unwrap_or(start);
            levels.push(top + d.body.thickness);
            let y = top + d.body.thickness / 2.0;
            let text =
                d.layer.measured_mm.map_or_else(|| words::NOT_MEASURED.to_owned(), words::mm);
            let end = x + 2.0 + FACES.width_mm(&text, SIZE);
            self.labels.push(Label::new(x + 2.0, y, SIZE, text).at(Anchor::Left));
            if name(d).is_none() {
                let beside = Label::new(end + 2.0, y, SIZE, words::shortened(&d.name, 18));
                self.labels.push(beside.at(Anchor::Left));
            }
        }
        self.chain(x, &levels);
        let heading = Label::new(x, start - 4.6, SIZE, "measured, mean").strong(true);
        self.labels.push(heading.at(Anchor::Left));
    }

    /// How deep the top of each layer, and the formation, lies under the finished surface, on the
    /// right: at its level, so that it reads as the tape does.
    pub(super) fn depths_chain(&mut self, drawn: &[Drawn<'_>], depths: &[f64]) {
        let x = self.surface.at(1.0, 0.0).x + 7.0;
        let start = self.surface.at(1.0, 0.0).y;
        let levels: Vec<f64> =
            std::iter::once(start).chain(drawn.iter().map(|d| start + d.design.1)).collect();
        self.chain(x, &levels);
        let names = drawn.iter().map(|d| d.name.as_str()).chain(["Formation"]);
        for ((y, depth), name) in levels.iter().zip(depths).zip(names) {
            let text = format!("{}  {}", words::mm(*depth), words::shortened(name, 20));
            self.labels.push(Label::new(x + 3.0, *y, SIZE, text).at(Anchor::Left));
        }
        let heading = Label::new(x, start - 5.6, SIZE, "top, below finished").strong(true);
        self.labels.push(heading.at(Anchor::Left));
    }

    /// A chain of dimensions down the sheet, with a tick at every level.
    fn chain(&mut self, x: f64, levels: &[f64]) {
        let (Some(first), Some(last)) = (levels.first(), levels.last()) else { return };
        self.pen.line(&[spot(x, *first - 1.2), spot(x, *last + 1.2)], FINE);
        for y in levels {
            self.pen.line(&[spot(x - 1.6, *y), spot(x + 1.6, *y)], FINE);
            self.pen.line(&[spot(x - 0.75, y + 0.75), spot(x + 0.75, y - 0.75)], MEDIUM);
        }
    }
}

/// A layer's name and state inside the layer; none where it is too thin or too narrow for it.
fn name(drawn: &Drawn<'_>) -> Option<Label> {
    let name = match drawn.state() {
        LayerState::Planned => format!("{}, not built yet", drawn.name),
        LayerState::InWork => format!("{}, in work", drawn.name),
        LayerState::Done => drawn.name.clone(),
    };
    let middle = drawn.body.at(0.5, drawn.body.thickness / 2.0);
    let fits =
        drawn.body.thickness >= NAME_FITS && FACES.width_mm(&name, SIZE) < drawn.body.width - 2.0;
    let slope = reading_angle(drawn.body.at(0.0, 0.0).towards(drawn.body.at(1.0, 0.0)));
    fits.then(|| Label::new(middle.x, middle.y, SIZE, name).turned(slope).cleared())
}
