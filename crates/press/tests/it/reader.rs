//! A PDF as poppler reads it.

use std::io::Write as _;
use std::path::Path;
use std::process::Command;

use book::{Edition, Paper};
use engine::car::Date;
use manuscript::Printed;
use tempfile::NamedTempFile;
use wording::Units;

/// The day of every book here.
pub(crate) fn day() -> Date {
    "2026-05-01".parse().unwrap()
}

pub(crate) fn demo() -> &'static Path {
    Path::new(concat!(env!("CARGO_MANIFEST_DIR"), "/../../demo"))
}

pub(crate) fn printed(cars: &Path, car: &str, paper: Paper) -> Printed {
    let edition = Edition {
        cars,
        car,
        day: day(),
        units: Units::default(),
        paper,
        maker: "rearline test",
    };
    press::print(&book::manuscript(&edition).unwrap()).unwrap()
}

/// A page as poppler reads it, in points.
pub(crate) struct Page {
    /// Width and height.
    pub(crate) size: [f64; 2],
    /// Left, top, right and bottom of each word, and what it says.
    pub(crate) words: Vec<([f64; 4], String)>,
}

/// A book on the disk, for tools that read it.
pub(crate) struct Read {
    file: NamedTempFile,
}

impl Read {
    pub(crate) fn of(book: &Printed) -> Self {
        let mut file = NamedTempFile::with_suffix(".pdf").unwrap();
        file.write_all(&book.bytes).unwrap();
        Self { file }
    }

    fn asked(&self, tool: &str, before: &[&str], after: &[&str]) -> String {
        let said = Command::new(tool)
            .args(before)
            .arg(self.file.path())
            .args(after)
            .output()
            .unwrap_or_else(|fault| {
                panic!("{tool} of poppler-utils is needed (e2e/needs installs it): {fault}")
            });
        assert!(
            said.status.success(),
            "{tool}: {}",
            String::from_utf8_lossy(&said.stderr)
        );
        String::from_utf8_lossy(&said.stdout).into_owned()
    }

    /// Its text with every run of blanks as one, and without the marks at which a long word may be broken.
    pub(crate) fn text(&self) -> String {
        plain(&self.asked("pdftotext", &["-enc", "UTF-8"], &["-"]))
    }

    /// The text of some pages.
    pub(crate) fn pages(&self, from: usize, to: usize) -> String {
        let (from, to) = (from.to_string(), to.to_string());
        plain(&self.asked("pdftotext", &["-enc", "UTF-8", "-f", &from, "-l", &to], &["-"]))
    }

    pub(crate) fn info(&self) -> String {
        self.asked("pdfinfo", &[], &[])
    }

    /// What it says of itself to programs, as XML.
    pub(crate) fn meta(&self) -> String {
        self.asked("pdfinfo", &["-meta"], &[])
    }

    /// What everything in it is to a reader of screens, in the order of reading.
    pub(crate) fn structure(&self) -> Vec<String> {
        let told = self.asked("pdfinfo", &["-struct"], &[]);
        let kinds = told.lines().map(str::trim_start);
        kinds
            .filter_map(|line| line.split([' ', ':']).next())
            .filter(|kind| kind.starts_with(char::is_uppercase))
            .map(str::to_owned)
            .collect()
    }

    pub(crate) fn fonts(&self) -> String {
        self.asked("pdffonts", &[], &[])
    }

    /// Every page with its words and where they stand.
    pub(crate) fn words(&self) -> Vec<Page> {
        let marked = self.asked("pdftotext", &["-bbox", "-enc", "UTF-8"], &["-"]);
        let number = |line: &str, name: &str| -> f64 {
            let (_, rest) = line.split_once(&format!(" {name}=\"")).unwrap();
            rest.split_once('"').unwrap().0.parse().unwrap()
        };
        let mut pages: Vec<Page> = Vec::new();
        for line in marked.lines() {
            if line.contains("<page ") {
                pages.push(Page {
                    size: [number(line, "width"), number(line, "height")],
                    words: Vec::new(),
                });
            } else if line.contains("<word ") {
                let sides = ["xMin", "yMin", "xMax", "yMax"].map(|name| number(line, name));
                let word = line.split_once("\">").unwrap().1.replace("</word>", "");
                pages.last_mut().unwrap().words.push((sides, word));
            }
        }
        pages
    }
}

pub(crate) fn plain(text: &str) -> String {
    let text = text.replace(['\u{200b}', '\u{ad}'], "");
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}
