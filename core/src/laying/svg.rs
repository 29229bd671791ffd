//! The laying as a drawing sheet in SVG: joints visible, cuts hatched, courses numbered at the edge,
//! problem places marked and told in words.

use std::fmt::Write as _;

use super::drawing::{UNIT_M, drawing};
use super::{Block, Laying, Problem};
use crate::outline::{Outline, Point};
use crate::words::{Phrase, word};

const INK: &str = "#14171A";
const PAPER: &str = "#FBFAF6";
const MARKER: &str = "#C2185B";

/// Width of the sheet in its own units: millimetres of an A4 sheet laid on its side.
const SHEET: f64 = 277.0;
/// Highest drawing on it.
const HIGHEST: f64 = 400.0;
const MARGIN: f64 = 14.0;
/// Letters of a line of words.
const LINE: usize = 128;
const LINE_HEIGHT: f64 = 5.0;
/// Half the height of a mark.
const RING: f64 = 2.6;
/// Room that a number of a course takes.
const NUMBER_HEIGHT: f64 = 2.5;
/// With more courses than this, every fifth is numbered.
const MOST_NUMBERS: usize = 40;

/// The sheet: title, drawing, what the hatching means, and every problem in words.
pub fn sheet(title: &str, laying: &Laying, outline: &Outline, block: &Block) -> String {
    let drawn = drawing(laying, outline, block);
    let [low, high] = drawn.bounds;
    let (wide, tall) = (high.x - low.x, high.y - low.y);
    let scale = ((SHEET - 4.0 * MARGIN) / wide).min(HIGHEST / tall);
    let left = (SHEET - wide * scale) / 2.0;
    let top = 2.0 * MARGIN + 8.0;
    let place = |p: Point| (left + (p.x - low.x) * scale, top + (high.y - p.y) * scale);
    let below = top + tall * scale + MARGIN;
    let mut words = counts(laying);
    let notes = laying.problems.iter().enumerate().map(|(i, problem)| note(i + 1, problem));
    words.extend(notes.flat_map(|note| wrapped(&note)));
    let height = below + 16.0 + LINE_HEIGHT * words.len() as f64 + MARGIN;

    let mut svg = String::new();
    head(&mut svg, title, height, scale);
    let unit = scale * UNIT_M;
    let (x, y) = place(Point { x: 0.0, y: 0.0 });
    let _ = write!(svg, "<g transform=\"translate({x:.3} {y:.3}) scale({unit:.8} -{unit:.8})\">");
    for (class, path) in [
        ("ground", &drawn.outline),
        ("block", &drawn.whole),
        ("cut", &drawn.cut),
        ("rip", &drawn.rips),
        ("edge", &drawn.edge),
        ("edge cut", &drawn.edge_cut),
        ("small", &drawn.small),
        ("outline", &drawn.outline),
    ] {
        let _ = write!(svg, "<path class=\"{class}\" d=\"{path}\"/>");
    }
    svg.push_str("</g>\n");
    numbers(&mut svg, &drawn.numbers, &place);
    marks(&mut svg, laying, &place);
    bar(&mut svg, left, below, scale);
    legend(&mut svg, below + 8.0);
    for (index, line) in words.iter().enumerate() {
        let y = below + 18.0 + LINE_HEIGHT * index as f64;
        text(&mut svg, "words", MARGIN, y, line);
    }
    svg.push_str("</svg>\n");
    svg
}

fn head(svg: &mut String, title: &str, height: f64, scale: f64) {
    // Hatching is drawn in the paths' own units, two millimetres apart on the sheet.
    let hatch = 1.4 / (scale * UNIT_M);
    let line = hatch / 8.0;
    let _ = write!(
        svg,
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {SHEET} {height:.1}\" \
         font-family=\"sans-serif\" fill=\"{INK}\">\n<title>{title}</title>\n<defs>\n\
         <pattern id=\"cut\" width=\"{hatch:.0}\" height=\"{hatch:.0}\" \
         patternUnits=\"userSpaceOnUse\" patternTransform=\"rotate(45)\">\
         <rect width=\"{hatch:.0}\" height=\"{hatch:.0}\" fill=\"{PAPER}\"/>\
         <rect width=\"{line:.1}\" height=\"{hatch:.0}\"/></pattern>\n\
         <style>path{{vector-effect:non-scaling-stroke;stroke-width:.18;stroke:{INK};fill:{PAPER}}}\
         .ground{{fill:#B9B6AC;fill-rule:evenodd;stroke:none}}.edge{{fill:#E9E6DC}}.cut,.rip{{fill:url(#cut)}}\
         .small{{stroke-width:.6;fill:none}}.outline{{fill:none;stroke-width:.5}}\
         .n{{font-size:2.6px;text-anchor:middle}}.mark{{fill:{PAPER};stroke:{MARKER};stroke-width:.5}}\
         .title{{font-size:6px;font-weight:600}}.words{{font-size:3.4px}}\
         .m{{font-size:3.2px;text-anchor:middle;fill:{MARKER};font-weight:600}}</style></defs>\n\
         <rect width=\"100%\" height=\"100%\" fill=\"{PAPER}\"/>\n",
        title = escaped(title),
    );
    text(svg, "title", MARGIN, MARGIN + 4.0, title);
}

/// The figures under the drawing.
fn counts(laying: &Laying) -> Vec<String> {
    let cuts = &laying.cuts;
    let values = [
        ("whole", laying.whole.into()),
        ("count", cuts.pieces.into()),
        ("blocks", cuts.blocks.into()),
        ("small", cuts.small.into()),
    ];
    let total = [("count", laying.blocks().into())];
    let counts = [Phrase::new("lay.counts", values).text, Phrase::new("lay.total", total).text];
    let searched = laying.search.iter().flat_map(|search| wrapped(&search.says().text));
    counts.into_iter().chain(searched).collect()
}

fn note(number: usize, problem: &Problem) -> String {
    let proposal = problem.proposal.as_ref().map_or("", |p| p.phrase.text.as_str());
    format!("{number}  {} {proposal}", problem.phrase.text)
}

fn wrapped(text: &str) -> Vec<String> {
    let mut lines = vec![String::new()];
    for word in text.split(' ') {
        let full = lines.last().is_some_and(|line| line.chars().count() + word.len() > LINE);
        if full {
            lines.push("   ".to_owned());
        }
        if let Some(line) = lines.last_mut() {
            line.push_str(word);
            line.push(' ');
        }
    }
    lines
}

fn numbers(svg: &mut String, numbers: &[super::Label], place: &impl Fn(Point) -> (f64, f64)) {
    let sparse = numbers.len() > MOST_NUMBERS;
    let mut last: Option<(f64, f64)> = None;
    for (index, label) in numbers.iter().enumerate() {
        let (x, y) = place(label.at);
        let is_clear = last.is_none_or(|at| (x - at.0).hypot(y - at.1) > NUMBER_HEIGHT);
        if is_clear && (!sparse || index == 0 || (index + 1).is_multiple_of(5)) {
            text(svg, "n", x, y + 0.9, &label.text);
            last = Some((x, y));
        }
    }
}

/// A ring with its number at every problem that has a place; those that would lie over each other
/// share one.
fn marks(svg: &mut String, laying: &Laying, place: &impl Fn(Point) -> (f64, f64)) {
    let mut rings: Vec<((f64, f64), Vec<usize>)> = Vec::new();
    for (index, problem) in laying.problems.iter().enumerate() {
        let Some(at) = problem.place.map(place) else { continue };
        let near =
            |((x, y), _): &&mut ((f64, f64), Vec<usize>)| (x - at.0).hypot(y - at.1) < 2.0 * RING;
        match rings.iter_mut().find(near) {
            Some((_, numbers)) => numbers.push(index + 1),
            None => rings.push((at, vec![index + 1])),
        }
    }
    for ((x, y), numbers) in rings {
        let words = in_words(&numbers);
        let wide = 1.1 * words.chars().count() as f64;
        let _ = writeln!(
            svg,
            "<rect class=\"mark\" x=\"{:.2}\" y=\"{:.2}\" width=\"{:.2}\" height=\"{:.2}\" rx=\"{RING}\"/>",
            x - RING - wide + 1.1,
            y - RING,
            2.0 * (RING + wide - 1.1),
            2.0 * RING
        );
        text(svg, "m", x, y + 1.1, &words);
    }
}

/// Numbers in order, those that follow each other joined.
fn in_words(numbers: &[usize]) -> String {
    let mut spans: Vec<[usize; 2]> = Vec::new();
    for number in numbers {
        match spans.last_mut() {
            Some([_, last]) if *last + 1 == *number => *last = *number,
            _ => spans.push([*number; 2]),
        }
    }
    let shown: Vec<String> = spans
        .iter()
        .map(|[from, to]| if from == to { from.to_string() } else { format!("{from}–{to}") })
        .collect();
    shown.join(", ")
}

/// A bar of a metre.
fn bar(svg: &mut String, x: f64, y: f64, scale: f64) {
    let end = x + scale;
    let _ = writeln!(
        svg,
        "<path d=\"M{x:.2} {0:.2}v2h{scale:.2}v-2\" style=\"fill:none;stroke-width:.35\"/>",
        y - 4.0
    );
    text(svg, "words", end + 2.0, y - 2.0, "1 m");
}

fn legend(svg: &mut String, y: f64) {
    // The hatching's units are those of the drawing; here it is drawn by hand.
    let mut x = MARGIN;
    for (class, key) in [
        ("block", "lay.key_whole"),
        ("hatched", "lay.key_cut"),
        ("edge", "lay.key_edge"),
        ("small", "lay.key_small"),
    ] {
        let words = word(key);
        let box_path = format!("M{x:.1} {:.1}h8v4h-8z", y - 3.0);
        if class == "hatched" {
            let strokes: String = (1..5)
                .map(|i| format!("M{:.1} {:.1}l-2-4", x + 1.8 * f64::from(i) + 0.4, y + 1.0))
                .collect();
            let _ = write!(svg, "<path d=\"{box_path}\"/><path d=\"{strokes}\"/>");
        } else {
            let _ = write!(svg, "<path class=\"{class}\" d=\"{box_path}\"/>");
        }
        text(svg, "words", x + 10.0, y, &words);
        x += 18.0 + 2.2 * words.len() as f64;
    }
}

fn text(svg: &mut String, class: &str, x: f64, y: f64, words: &str) {
    let words = escaped(words);
    let _ = writeln!(
        svg,
        "<text class=\"{class}\" x=\"{x:.2}\" y=\"{y:.2}\" xml:space=\"preserve\">{words}</text>"
    );
}

fn escaped(text: &str) -> String {
    text.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;").replace('"', "&quot;")
}
