//! The sheet of paper, and what comes off the press.

/// Photos by the SHA-256 of their kept bytes; none where the photo is not on this phone.
pub type Photos<'a> = &'a dyn Fn(&str) -> Option<Vec<u8>>;

/// The size of the sheet.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum PaperSize {
    /// 210 by 297 mm, used nearly everywhere.
    #[default]
    A4,
    /// 8.5 by 11 inches (215.9 by 279.4 mm), used in North America.
    Letter,
}

impl PaperSize {
    /// The name that the templates know it by.
    pub(crate) fn name(self) -> &'static str {
        match self {
            PaperSize::A4 => "a4",
            PaperSize::Letter => "us-letter",
        }
    }

    /// Width of the text column in millimetres: the sheet less the templates' margins.
    pub(crate) fn column_mm(self) -> f64 {
        match self {
            PaperSize::A4 => 210.0 - MARGINS_MM,
            PaperSize::Letter => 215.9 - MARGINS_MM,
        }
    }
}

/// Left and right margin together, as in `templates/sheet.typ`.
const MARGINS_MM: f64 = 27.0 + 20.0;

/// A finished paper.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Made {
    /// The PDF file's bytes.
    pub pdf: Vec<u8>,
    /// How many pages it has.
    pub pages: usize,
}
