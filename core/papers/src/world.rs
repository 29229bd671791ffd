//! The small world that the typesetter sees: our typeface, our templates, and one paper's files.

use std::collections::HashMap;
use std::sync::LazyLock;

use typst::diag::{FileError, FileResult};
use typst::foundations::{Bytes, Datetime, Duration};
use typst::syntax::{FileId, RootedPath, Source, VirtualPath, VirtualRoot};
use typst::text::{Font, FontBook};
use typst::utils::LazyHash;
use typst::{Library, LibraryExt, World};

use crate::error::PapersError;
use crate::typeface::FACES;

/// What every template may import.
const SHARED: [(&str, &str); 4] = [
    ("sheet.typ", include_str!("../templates/sheet.typ")),
    ("figures.typ", include_str!("../templates/figures.typ")),
    ("seal.typ", include_str!("../templates/seal.typ")),
    ("signatures.typ", include_str!("../templates/signatures.typ")),
];

/// The typesetter's own functions, built once.
static LIBRARY: LazyLock<LazyHash<Library>> =
    LazyLock::new(|| LazyHash::new(Library::builder().build()));

/// A template with the files of one paper. Nothing else can be read from inside it: no disk, no
/// network, no packages, no clock.
pub(crate) struct Desk {
    main: FileId,
    sources: HashMap<FileId, Source>,
    files: HashMap<FileId, Bytes>,
}

impl Desk {
    /// A desk with a template on it, and files by the names that the template reads them under.
    ///
    /// # Errors
    /// [`PapersError::Set`] when a name is no file name.
    pub(crate) fn new(
        template: &'static str,
        files: impl IntoIterator<Item = (String, Bytes)>,
    ) -> Result<Self, PapersError> {
        let main = file_id("main.typ")?;
        let mut sources = HashMap::from([(main, Source::new(main, template.to_owned()))]);
        for (name, text) in SHARED {
            let id = file_id(name)?;
            sources.insert(id, Source::new(id, text.to_owned()));
        }
        let files = files
            .into_iter()
            .map(|(name, bytes)| Ok((file_id(&name)?, bytes)))
            .collect::<Result<_, PapersError>>()?;
        Ok(Desk { main, sources, files })
    }
}

/// The typesetter's name for one of our files.
fn file_id(name: &str) -> Result<FileId, PapersError> {
    let path = VirtualPath::new(name)
        .map_err(|_| PapersError::Set(format!("{name:?} is not a file name")))?;
    Ok(RootedPath::new(VirtualRoot::Project, path).intern())
}

/// The answer for a file that is not on the desk.
fn missing(id: FileId) -> FileError {
    FileError::NotFound(id.get().vpath().get_without_slash().into())
}

impl World for Desk {
    fn library(&self) -> &LazyHash<Library> {
        &LIBRARY
    }

    fn book(&self) -> &LazyHash<FontBook> {
        &FACES.book
    }

    fn main(&self) -> FileId {
        self.main
    }

    fn source(&self, id: FileId) -> FileResult<Source> {
        self.sources.get(&id).cloned().ok_or_else(|| missing(id))
    }

    fn file(&self, id: FileId) -> FileResult<Bytes> {
        let source = || self.sources.get(&id).map(|s| Bytes::from_string(s.text().to_owned()));
        self.files.get(&id).cloned().or_else(source).ok_or_else(|| missing(id))
    }

    fn font(&self, index: usize) -> Option<Font> {
        FACES.fonts.get(index).cloned()
    }

    fn today(&self, _offset: Option<Duration>) -> Option<Datetime> {
        None
    }
}
