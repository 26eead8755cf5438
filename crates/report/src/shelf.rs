//! The typesetter's world: templates, data, photos and fonts from memory. No disk, no network, no clock.

use std::collections::BTreeMap;
use std::num::NonZeroU16;
use std::sync::LazyLock;

use typst::diag::{FileError, FileResult, SourceDiagnostic};
use typst::foundations::{Bytes, Datetime, Duration};
use typst::syntax::{FileId, RootedPath, Source, VirtualPath, VirtualRoot};
use typst::text::{Font, FontBook};
use typst::utils::LazyHash;
use typst::{Library, LibraryExt as _, World, WorldExt as _};

use crate::places;
use crate::typeface::{BOOK, FONTS};

const MAIN: &str = "/main.typ";
const LETTER: &str = "/letter.typ";
const RUNNING: &str = "/running.typ";

static TEMPLATES: [(&str, &str); 14] = [
    (MAIN, include_str!("../templates/main.typ")),
    ("/look.typ", include_str!("../templates/look.typ")),
    ("/front.typ", include_str!("../templates/front.typ")),
    ("/guide.typ", include_str!("../templates/guide.typ")),
    ("/again.typ", include_str!("../templates/again.typ")),
    ("/findings.typ", include_str!("../templates/findings.typ")),
    ("/readings.typ", include_str!("../templates/readings.typ")),
    ("/released.typ", include_str!("../templates/released.typ")),
    ("/short.typ", include_str!("../templates/short.typ")),
    ("/visit.typ", include_str!("../templates/visit.typ")),
    ("/back.typ", include_str!("../templates/back.typ")),
    ("/part.typ", include_str!("../templates/part.typ")),
    (LETTER, include_str!("../templates/letter.typ")),
    (RUNNING, include_str!("../templates/running.typ")),
];

/// The templates, read once for all reports of the process.
static SOURCES: LazyLock<Vec<Source>> = LazyLock::new(|| {
    TEMPLATES.iter().map(|(path, text)| Source::new(file_id(path), (*text).to_owned())).collect()
});

static LIBRARY: LazyLock<LazyHash<Library>> = LazyLock::new(|| {
    let mut library = Library::builder().build();
    places::define(library.global.scope_mut());
    LazyHash::new(library)
});

/// The files of one report.
pub(crate) struct Shelf {
    main: FileId,
    sources: BTreeMap<NonZeroU16, Source>,
    files: BTreeMap<NonZeroU16, Bytes>,
}

impl Shelf {
    /// A shelf with the templates alone.
    pub(crate) fn new() -> Self {
        Self::beginning_with(MAIN)
    }

    /// The same for a paper between inspector and client.
    pub(crate) fn for_letter() -> Self {
        Self::beginning_with(LETTER)
    }

    fn beginning_with(main: &str) -> Self {
        let sources =
            SOURCES.iter().map(|source| (source.id().into_raw(), source.clone())).collect();
        Self { main: file_id(main), sources, files: BTreeMap::new() }
    }

    /// From now on the running heads are laid out, with the same files.
    pub(crate) fn begin_with_running_heads(&mut self) {
        self.main = file_id(RUNNING);
    }

    /// Puts a file on the shelf. `path` is one of a fixed, small set: paths are never forgotten by the typesetter.
    pub(crate) fn put(&mut self, path: &str, bytes: Vec<u8>) {
        self.files.insert(file_id(path).into_raw(), Bytes::new(bytes));
    }

    /// Takes every file off the shelf; the templates stay, which complaints point into.
    pub(crate) fn clear_files(&mut self) {
        self.files.clear();
    }

    /// What the typesetter complains about, one line each: the template's line, the message, the hints.
    pub(crate) fn complaints(&self, diagnostics: &[SourceDiagnostic]) -> Vec<String> {
        diagnostics
            .iter()
            .map(|diagnostic| {
                let place = diagnostic.span.id().and_then(|id| {
                    let source = self.sources.get(&id.into_raw())?;
                    let range = self.range(diagnostic.span)?;
                    let line = source.lines().byte_to_line(range.start)? + 1;
                    Some(format!("{} line {line}: ", id.vpath().get_without_slash()))
                });
                let hints: String =
                    diagnostic.hints.iter().map(|hint| format!(" ({})", hint.v)).collect();
                format!("{}{}{hints}", place.unwrap_or_default(), diagnostic.message)
            })
            .collect()
    }
}

/// The typesetter's name for a path of ours.
fn file_id(path: &str) -> FileId {
    let path = VirtualPath::new(path).expect("our paths are plain: letters, digits, slashes, dots");
    RootedPath::new(VirtualRoot::Project, path).intern()
}

impl World for Shelf {
    fn library(&self) -> &LazyHash<Library> {
        &LIBRARY
    }

    fn book(&self) -> &LazyHash<FontBook> {
        &BOOK
    }

    fn main(&self) -> FileId {
        self.main
    }

    fn source(&self, id: FileId) -> FileResult<Source> {
        self.sources.get(&id.into_raw()).cloned().ok_or_else(|| missing(id))
    }

    fn file(&self, id: FileId) -> FileResult<Bytes> {
        self.files.get(&id.into_raw()).cloned().ok_or_else(|| missing(id))
    }

    fn font(&self, index: usize) -> Option<Font> {
        FONTS.get(index).cloned()
    }

    fn today(&self, _: Option<Duration>) -> Option<Datetime> {
        None
    }
}

fn missing(id: FileId) -> FileError {
    FileError::NotFound(id.vpath().get_without_slash().into())
}
