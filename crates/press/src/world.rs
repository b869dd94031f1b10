//! What the typesetter is let to see: one template, the data, the fonts that come with it. No file, no clock, no network.

use std::sync::LazyLock;

use typst::diag::{FileError, FileResult};
use typst::foundations::{Bytes, Datetime, Dict, Duration};
use typst::syntax::{FileId, RootedPath, Source, VirtualPath, VirtualRoot};
use typst::text::{Font, FontBook};
use typst::utils::LazyHash;
use typst::{Library, LibraryExt as _, World};

/// Text, what a machine reads, and mathematics. `fonts/LICENCES.txt` says under which terms they come along.
const FILES: [&[u8]; 6] = [
    include_bytes!("../fonts/LibertinusSerif-Regular.otf"),
    include_bytes!("../fonts/LibertinusSerif-Bold.otf"),
    include_bytes!("../fonts/LibertinusSerif-Italic.otf"),
    include_bytes!("../fonts/LibertinusSerif-BoldItalic.otf"),
    include_bytes!("../fonts/DejaVuSansMono.ttf"),
    include_bytes!("../fonts/NewCMMath-Book.otf"),
];

/// The fonts: read once, and the same on every machine.
static FONTS: LazyLock<(LazyHash<FontBook>, Vec<Font>)> = LazyLock::new(|| {
    let fonts: Vec<Font> = FILES
        .iter()
        .flat_map(|data| Font::iter(Bytes::new(*data)))
        .collect();
    (LazyHash::new(FontBook::from_fonts(&fonts)), fonts)
});

/// Whether a font has a sign for a character.
pub(crate) fn can_be_set(letter: char) -> bool {
    let (_, fonts) = &*FONTS;
    fonts
        .iter()
        .any(|font| font.info().coverage.contains(u32::from(letter)))
}

/// One book's world.
pub(crate) struct OneBook {
    library: LazyHash<Library>,
    source: Source,
}

impl OneBook {
    /// A template, with the data that it prints.
    pub(crate) fn of(template: &str, data: Dict) -> Option<Self> {
        let path = VirtualPath::new("book.typ").ok()?;
        let id = FileId::new(RootedPath::new(VirtualRoot::Project, path));
        Some(Self {
            library: LazyHash::new(Library::builder().with_inputs(data).build()),
            source: Source::new(id, template.to_owned()),
        })
    }

    /// The line of the template that something happened in.
    pub(crate) fn line_of(&self, byte: usize) -> usize {
        let template = self.source.text();
        template[..byte.min(template.len())].matches('\n').count() + 1
    }
}

impl World for OneBook {
    fn library(&self) -> &LazyHash<Library> {
        &self.library
    }

    fn book(&self) -> &LazyHash<FontBook> {
        &FONTS.0
    }

    fn main(&self) -> FileId {
        self.source.id()
    }

    fn source(&self, id: FileId) -> FileResult<Source> {
        if id == self.source.id() {
            Ok(self.source.clone())
        } else {
            Err(FileError::AccessDenied)
        }
    }

    fn file(&self, _id: FileId) -> FileResult<Bytes> {
        Err(FileError::AccessDenied)
    }

    fn font(&self, index: usize) -> Option<Font> {
        FONTS.1.get(index).cloned()
    }

    fn today(&self, _offset: Option<Duration>) -> Option<Datetime> {
        None
    }
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use super::*;

    /// A book says what it is set in, by the names that the fonts have themselves.
    #[test]
    fn the_families_that_are_named_are_those_of_the_fonts() {
        let named: BTreeSet<&str> = manuscript::FAMILIES.iter().map(|(family, _)| *family).collect();
        let there: BTreeSet<&str> = FONTS.1.iter().map(|font| font.info().family.as_str()).collect();
        assert_eq!(named, there);
    }
}
