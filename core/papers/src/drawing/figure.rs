//! A finished drawing as the template takes it.

use serde::Serialize;

/// Linework with lettering.
#[derive(Debug, Clone, Serialize)]
pub(crate) struct Figure {
    /// Width on the sheet.
    pub(crate) width_mm: f64,
    /// Height on the sheet.
    pub(crate) height_mm: f64,
    /// The linework as an SVG document.
    #[serde(skip)]
    pub(crate) svg: String,
    /// The name of the file that the template reads the linework from.
    pub(crate) file: String,
    /// The lettering.
    pub(crate) labels: Vec<Label>,
    /// What the drawing shows, in words, for those who cannot see it.
    pub(crate) alt: String,
    /// The scale across, as it is written.
    #[serde(skip)]
    pub(crate) scale: String,
    /// Scales and conventions, one sentence each.
    pub(crate) notes: Vec<String>,
}

/// One piece of lettering.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub(crate) struct Label {
    /// Where it stands.
    pub(crate) x_mm: f64,
    /// The middle of its capitals' height.
    pub(crate) y_mm: f64,
    /// Which part of the text stands there.
    pub(crate) at: Anchor,
    /// How far it is turned clockwise.
    pub(crate) turn_deg: f64,
    /// Size of type in points.
    pub(crate) size_pt: f64,
    /// Heavier type.
    pub(crate) strong: bool,
    /// Whether the linework behind it is cleared away.
    pub(crate) clear: bool,
    /// What it says.
    pub(crate) text: String,
}

/// Which part of a text stands at its place.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub(crate) enum Anchor {
    /// Its left end.
    Left,
    /// Its middle.
    Centre,
    /// Its right end.
    Right,
}

impl Label {
    /// Plain lettering, level, centred on a place.
    pub(crate) fn new(x_mm: f64, y_mm: f64, size_pt: f64, text: impl Into<String>) -> Self {
        Label {
            x_mm,
            y_mm,
            at: Anchor::Centre,
            turn_deg: 0.0,
            size_pt,
            strong: false,
            clear: false,
            text: text.into(),
        }
    }

    /// The same with another part of it at its place.
    pub(crate) fn at(self, at: Anchor) -> Self {
        Label { at, ..self }
    }

    /// The same, turned clockwise.
    pub(crate) fn turned(self, turn_deg: f64) -> Self {
        Label { turn_deg, ..self }
    }

    /// The same in heavier type, or not.
    pub(crate) fn strong(self, strong: bool) -> Self {
        Label { strong, ..self }
    }

    /// The same with the linework behind it cleared away.
    pub(crate) fn cleared(self) -> Self {
        Label { clear: true, ..self }
    }
}
