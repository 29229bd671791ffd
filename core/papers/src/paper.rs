//! The sheet of paper, and what comes off the press.

use typst_layout::PagedDocument;
use typst_svg::SvgOptions;

/// Photos by the SHA-256 of their kept bytes.
pub type Photos<'a> = &'a dyn Fn(&str) -> Result<Vec<u8>, NoPhoto>;

/// Why a photo is not to be had.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NoPhoto {
    /// It is not on this phone.
    NotHere,
    /// The bytes on this phone are not those that were kept.
    Changed,
}

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

    /// The name that faces and seals know it by.
    pub fn word(self) -> &'static str {
        match self {
            PaperSize::A4 => "a4",
            PaperSize::Letter => "letter",
        }
    }

    /// The size of a name.
    pub fn of_word(word: &str) -> Option<PaperSize> {
        [PaperSize::A4, PaperSize::Letter].into_iter().find(|size| size.word() == word)
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
#[derive(Debug)]
pub struct Made {
    /// The PDF file's bytes.
    pub pdf: Vec<u8>,
    /// How many pages it has.
    pub pages: usize,
    /// The pages as they were laid out.
    pub(crate) laid: PagedDocument,
}

impl Made {
    /// One page for a screen, counted from 0, as an SVG document: the page that is in the file. None
    /// beyond the last.
    pub fn page(&self, page: usize) -> Option<String> {
        let page = self.laid.pages().get(page)?;
        Some(typst_svg::svg(page, &SvgOptions::default()))
    }
}
