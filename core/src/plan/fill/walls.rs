//! Sides of a plan: which are held, which meet a building, and what is answered to cautions.

use std::collections::BTreeMap;

use serde_json::Value;

use super::surface::HIGHEST_MM;
use crate::levels::Wall;
use crate::outline::{Outline, SideName};
use crate::plan::check::ANSWERED;
use crate::plan::reader::At;
use crate::units::Level;

const MOST_WALLS: usize = 50;

const NAMED: [(&str, SideName); 4] = [
    ("reference", SideName::Reference),
    ("far", SideName::Far),
    ("start", SideName::Start),
    ("end", SideName::End),
];

/// A side by its name, or by its number from 1 where the sides have numbers. Where the shape is
/// refused, any name or number of a side will do.
pub(super) fn side(at: &At, outline: Option<&Outline>) -> Option<SideName> {
    let name = match at.value() {
        Some(Value::String(text)) => {
            NAMED.iter().find(|(word, _)| word == text).map(|(_, name)| *name)
        }
        Some(Value::Number(number)) => {
            number.as_u64().and_then(|n| u32::try_from(n).ok()).map(SideName::Number)
        }
        _ => None,
    };
    let Some(names) = outline.map(Outline::side_names) else {
        if name.is_none() && at.is_given() {
            at.refuse("this is no side", "reference, far, start, end, or the number of a side");
        }
        return None;
    };
    let first = SideName::Number(1);
    // The reference edge of numbered sides is the first of them.
    let name = match name {
        Some(SideName::Reference) if names.contains(&first) => Some(first),
        other => other,
    };
    let found = name.filter(|name| names.contains(name));
    if found.is_none() && at.is_given() {
        let sides: Vec<String> = names.iter().map(ToString::to_string).collect();
        let right = format!("one of the sides: {}", sides.join(", "));
        let written = at.value().map(ToString::to_string).unwrap_or_default();
        at.refuse(format!("there is no side {written} here"), right);
    }
    found
}

/// Sides that something already holds.
pub(super) fn held(at: &At, outline: Option<&Outline>) -> Option<Vec<SideName>> {
    let list = at.list(0, 600)?;
    let sides: Vec<Option<SideName>> = list.iter().map(|item| side(item, outline)).collect();
    sides.into_iter().collect()
}

/// The buildings that the paving meets.
pub(super) fn against(at: &At, outline: Option<&Outline>) -> Option<Vec<Wall>> {
    if !at.is_given() {
        return Some(Vec::new());
    }
    let list = at.list(0, MOST_WALLS)?;
    let walls: Vec<Option<Wall>> = list.iter().map(|item| wall(item, outline)).collect();
    walls.into_iter().collect()
}

fn wall(at: &At, outline: Option<&Outline>) -> Option<Wall> {
    let members = at.object(&["edge", "damp_course_mm", "threshold_mm"])?;
    let edge = members.get("edge");
    if !edge.is_given() {
        edge.refuse("this is missing", "the side that meets the building");
    }
    let level = |key| {
        let at = members.get(key);
        if at.is_given() {
            at.number(-HIGHEST_MM..=HIGHEST_MM, "mm").map(|mm| Some(Level::from_mm(mm)))
        } else {
            Some(None)
        }
    };
    let (damp_course, threshold) = (level("damp_course_mm"), level("threshold_mm"));
    let side = side(&edge, outline);
    Some(Wall { side: side?, damp_course: damp_course?, threshold: threshold? })
}

/// What is done about cautions that need an answer, by their code.
pub(super) fn answers(at: &At) -> Option<BTreeMap<String, String>> {
    if !at.is_given() {
        return Some(BTreeMap::new());
    }
    let answers = at.texts(ANSWERED.len())?;
    let mut known = true;
    for code in answers.keys().filter(|code| !ANSWERED.contains(&code.as_str())) {
        known = false;
        at.refuse(
            format!("\"{code}\" asks for no answer"),
            format!("one of: {}", ANSWERED.join(", ")),
        );
    }
    known.then_some(answers)
}
