//! The typeface that papers are set in, carried inside the program.
//!
//! Source Sans 3, under the SIL Open Font License 1.1 (`fonts/OFL.txt`). It covers Latin with its
//! extensions, Greek and Cyrillic, and its figures stand in columns without being asked to.

use std::sync::LazyLock;

use typst::foundations::Bytes;
use typst::layout::Abs;
use typst::text::{Font, FontBook, FontInstance, FontVariations};
use typst::utils::LazyHash;

/// The faces, in the order that [`FACES`]' book lists them.
static FILES: [&[u8]; 3] = [
    include_bytes!("../fonts/SourceSans3-Regular.ttf"),
    include_bytes!("../fonts/SourceSans3-SemiBold.ttf"),
    include_bytes!("../fonts/SourceSans3-Italic.ttf"),
];

/// Millimetres in a point.
pub(crate) const MM_PER_PT: f64 = 25.4 / 72.0;

/// The faces with their book, read once.
pub(crate) static FACES: LazyLock<Faces> = LazyLock::new(|| {
    let fonts: Vec<Font> =
        FILES.iter().copied().flat_map(|file| Font::iter(Bytes::new(file))).collect();
    let book = LazyHash::new(FontBook::from_fonts(&fonts));
    let regular = fonts.first().map(instance);
    Faces { fonts, book, regular }
});

/// Fonts and what the typesetter must know to choose among them.
pub(crate) struct Faces {
    /// The fonts.
    pub(crate) fonts: Vec<Font>,
    /// Their families, styles and weights.
    pub(crate) book: LazyHash<FontBook>,
    /// The regular face, for measuring.
    regular: Option<FontInstance>,
}

/// A face at its own weight, as it comes.
fn instance(font: &Font) -> FontInstance {
    font.clone().instantiate(font.info().variant, Abs::zero(), &FontVariations::default())
}

impl Faces {
    /// Whether every face can draw this character.
    pub(crate) fn draws(&self, character: char) -> bool {
        self.fonts.iter().all(|font| font.info().coverage.contains(u32::from(character)))
    }

    /// How wide a line of regular type is, in millimetres, kerning left aside.
    pub(crate) fn width_mm(&self, text: &str, size_pt: f64) -> f64 {
        let Some(face) = self.regular.as_ref().map(FontInstance::ttf) else { return 0.0 };
        let units: u32 = text
            .chars()
            .filter_map(|c| face.glyph_index(c).and_then(|id| face.glyph_hor_advance(id)))
            .map(u32::from)
            .sum();
        f64::from(units) / f64::from(face.units_per_em()) * size_pt * MM_PER_PT
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Invented names of people and places, and the signs that our own words use.
    const NAMES: &[&str] = &[
        "Zbigniew Gżegżółka, ulica Źródlana, Łąkowice Święte",
        "Vojtěch Křížek, Žďárná nad Úpou, Šťáhlava, ůťďň",
        "Ștefăniță Țîrlea, Bârgăoani, Șoimești, ĂÂÎȘȚ",
        "Gülşah İğneci, Çığırlı, Ağıldere, ıİğĞşŞ",
        "Gwenllïan Tŵr, Llanfynŷdd, Cwmŵan, ŵŷẁẃẅ",
        "Þórdís Ægisdóttir, Höfðaströnd, Ísólfsskáli, ÞþÐðÆæ",
        "Nguyễn Thị Ngọc Ánh, Phường Đồng Xuân, ẤẦẨẪẬơưứừữự",
        "Óscar Núñez, Straße am Weiher, Ærøby, Ångström, Őrsújfalu, Ūdrija, Ģērmane",
        "Ευανθία Παπαγεωργίου, οδός Ελαιώνος, Άνω Ρέμα, ΐΰϊϋ",
        "Ярослав Щербань, вулиця Їжакевича, Ґанок, Єлизаветівка",
        "Љубица Њежић, Ђурђево, Ћуприја, Џеп; Алёна Съёмщикова",
        "× ² ³ ° – — ’ “ ” → ≥ ≤ ½ ‘ · • … € £ □",
        "0123456789 ABCDEFGHIJKLMNOPQRSTUVWXYZ abcdefghijklmnopqrstuvwxyz",
        "#*_@$<>\\\"'`~^&%{}[]()|/=+-!?;:,.",
    ];

    #[test]
    fn no_face_lacks_a_glyph_for_the_names_people_type() {
        assert_eq!(FACES.fonts.len(), 3);
        for character in NAMES.iter().flat_map(|name| name.chars()).filter(|c| *c != ' ') {
            for font in &FACES.fonts {
                let glyph = instance(font).ttf().glyph_index(character);
                let face = font.post_script_name().unwrap_or_default();
                assert!(glyph.is_some_and(|id| id.0 != 0), "{face} lacks {character:?}");
            }
            assert!(FACES.draws(character), "{character:?} is not in the faces' coverage");
        }
    }
}
