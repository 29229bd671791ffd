//! Reading a PDF back: the text of its pages, its pictures, and the files attached to it.

use std::collections::BTreeMap;
use std::panic::{AssertUnwindSafe, catch_unwind};

use hayro_cmap::{BfString, CMap};
use hayro_syntax::content::TypedIter;
use hayro_syntax::content::ops::TypedInstruction;
use hayro_syntax::object::stream::Stream;
use hayro_syntax::object::{Array, Dict, Name, Object, String as PdfString};
use hayro_syntax::page::Resources;
use hayro_syntax::{Filter, Pdf};

use super::bounds::{self, TooMuch};

/// A drawing within a drawing goes no deeper than this.
const DEEPEST: u32 = 12;

/// No paper has more pages than this.
const MOST_PAGES: usize = 2_000;

/// No page shows more signs than this, or goes into more drawings.
const MOST_SIGNS: usize = 4_000_000;
const MOST_DRAWINGS: u32 = 20_000;

/// What a PDF holds.
#[derive(Debug, Default)]
pub(crate) struct Contents {
    /// The text of every page in the order it is drawn.
    pub(crate) pages: Vec<String>,
    /// The JPEG pictures in the order they are drawn.
    pub(crate) pictures: Vec<Vec<u8>>,
    /// The attached files by name; a name that is there twice is in `doubled`.
    pub(crate) attached: BTreeMap<String, Vec<u8>>,
    /// Names of files that are attached more than once.
    pub(crate) doubled: Vec<String>,
}

/// Why a file cannot be read.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub(crate) enum Unreadable {
    #[error("the file is no PDF")]
    NoPdf,
    #[error("the file breaks off, or is damaged")]
    Damaged,
    #[error("{0}")]
    TooMuch(#[from] TooMuch),
    #[error("the file has more pages, or more on a page, than any paper of ours")]
    TooLong,
}

/// Reads a PDF within limits.
///
/// # Errors
/// [`Unreadable`]: no PDF, one that breaks off or is damaged, or one that asks too much.
pub(crate) fn read(file: &[u8]) -> Result<Contents, Unreadable> {
    if !file.starts_with(b"%PDF-") {
        return Err(Unreadable::NoPdf);
    }
    // The last line of a PDF says where it ends (ISO 32000-1, 7.5.5).
    let tail = file.get(file.len().saturating_sub(1024)..).unwrap_or_default();
    if !tail.windows(5).any(|word| word == b"%%EOF") {
        return Err(Unreadable::Damaged);
    }
    bounds::check(file)?;
    // The library is made for damaged files; should one break it all the same, that is an answer.
    catch_unwind(AssertUnwindSafe(|| contents(file))).unwrap_or(Err(Unreadable::Damaged))
}

fn contents(file: &[u8]) -> Result<Contents, Unreadable> {
    let pdf = Pdf::new(file.to_vec()).map_err(|_| Unreadable::Damaged)?;
    let mut contents = Contents::default();
    attached(&pdf, &mut contents);
    let pages = pdf.pages();
    if pages.len() > MOST_PAGES {
        return Err(Unreadable::TooLong);
    }
    for page in pages.iter() {
        let mut walk = Walk { text: String::new(), pictures: &mut contents.pictures, drawings: 0 };
        walk.content(page.page_stream().unwrap_or_default(), page.resources(), 0)?;
        contents.pages.push(walk.text);
    }
    Ok(contents)
}

/// Every file specification with a file in it.
fn attached(pdf: &Pdf, contents: &mut Contents) {
    for object in pdf.objects() {
        let Object::Dict(specification) = object else { continue };
        let Some(file) = specification
            .get::<Dict<'_>>("EF")
            .and_then(|files| files.get::<Stream<'_>>("F").or_else(|| files.get("UF")))
        else {
            continue;
        };
        let name = specification.get::<PdfString<'_>>("F").or_else(|| specification.get("UF"));
        let name = name.map(|name| String::from_utf8_lossy(name.as_bytes()).into_owned());
        let (Some(name), Ok(bytes)) = (name, file.decoded()) else { continue };
        if contents.attached.insert(name.clone(), bytes.into_owned()).is_some() {
            contents.doubled.push(name);
        }
    }
}

/// A walk over what a page draws.
struct Walk<'p> {
    text: String,
    pictures: &'p mut Vec<Vec<u8>>,
    drawings: u32,
}

impl Walk<'_> {
    fn content(
        &mut self,
        data: &[u8],
        resources: &Resources<'_>,
        depth: u32,
    ) -> Result<(), Unreadable> {
        self.drawings += 1;
        if depth > DEEPEST || self.drawings > MOST_DRAWINGS || self.text.len() > MOST_SIGNS {
            return Err(Unreadable::TooLong);
        }
        let mut fonts: BTreeMap<String, Letters> = BTreeMap::new();
        let mut font = String::new();
        let mut operations = TypedIter::new(data);
        while let Some(operation) = operations.next() {
            let show = |text: &mut String, bytes: &[u8]| {
                if let Some(letters) = fonts.get(&font) {
                    letters.read(bytes, text);
                }
            };
            match operation {
                TypedInstruction::TextFont(chosen) => {
                    font = chosen.0.as_str().to_owned();
                    if !fonts.contains_key(&font) {
                        fonts.insert(font.clone(), Letters::of(resources, chosen.0));
                    }
                }
                TypedInstruction::ShowText(shown) => show(&mut self.text, shown.0.as_bytes()),
                TypedInstruction::NextLineAndShowText(shown) => {
                    show(&mut self.text, shown.0.as_bytes());
                }
                TypedInstruction::ShowTextWithParameters(shown) => {
                    show(&mut self.text, shown.2.as_bytes());
                }
                TypedInstruction::ShowTexts(shown) => {
                    for part in strings(shown.0) {
                        show(&mut self.text, part.as_bytes());
                    }
                }
                TypedInstruction::XObject(named) => {
                    if let Some(object) = resources.get_x_object(named.0) {
                        self.object(&object, resources, depth)?;
                    }
                }
                _ => {}
            }
        }
        Ok(())
    }

    /// A picture, or a drawing within the drawing.
    fn object(
        &mut self,
        object: &Stream<'_>,
        resources: &Resources<'_>,
        depth: u32,
    ) -> Result<(), Unreadable> {
        let dict = object.dict();
        match dict.get::<Name<'_>>("Subtype").as_ref().map(Name::as_str) {
            Some("Image") if object.filters().as_slice() == [Filter::DctDecode] => {
                self.pictures.push(object.raw_data().into_owned());
            }
            Some("Form") => {
                let data = object.decoded().map_err(|_| Unreadable::Damaged)?;
                let own = dict.get::<Dict<'_>>("Resources").unwrap_or_default();
                let resources = Resources::from_parent(own, resources.clone());
                self.content(&data, &resources, depth + 1)?;
            }
            Some(_) | None => {}
        }
        Ok(())
    }
}

fn strings<'a>(parts: &Array<'a>) -> impl Iterator<Item = PdfString<'a>> {
    parts.iter::<Object<'a>>().filter_map(Object::into_string)
}

/// How a font's codes become letters.
struct Letters {
    codes: Option<CMap>,
    bytes_a_code: usize,
}

impl Letters {
    fn of(resources: &Resources<'_>, name: &Name<'_>) -> Letters {
        let font = resources.get_font(name).unwrap_or_default();
        let composite =
            font.get::<Name<'_>>("Subtype").is_some_and(|kind| kind.as_str() == "Type0");
        let codes = font.get::<Stream<'_>>("ToUnicode").and_then(|map| map.decoded().ok());
        Letters {
            codes: codes.and_then(|codes| CMap::parse(&codes, |_| None)),
            bytes_a_code: if composite { 2 } else { 1 },
        }
    }

    fn read(&self, bytes: &[u8], text: &mut String) {
        for code in bytes.chunks(self.bytes_a_code) {
            let code = code.iter().fold(0, |code, byte| code << 8 | u32::from(*byte));
            match self.codes.as_ref().and_then(|codes| codes.lookup_bf_string(code)) {
                Some(BfString::Char(letter)) => text.push(letter),
                Some(BfString::String(letters)) => text.push_str(&letters),
                // A code without a letter still counts: it stands for a sign that is on the page.
                None => text.push(char::REPLACEMENT_CHARACTER),
            }
        }
    }
}
