//! The licences of everything that is linked into the programs, from the metadata of its crates and the files that come
//! with them. Each text stands once, under the names of all packages that it belongs to.

use core::fmt;
use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::io;
use std::path::{Path, PathBuf};

use cargo_metadata::{DependencyKind, Metadata, MetadataCommand, Package, PackageId, TargetKind};

/// The programs: that of the terminal and the page, and the press of its books.
const PROGRAMS: [&str; 2] = ["rearline", "press"];
/// How the name of a file begins that says under which licence something is.
const BEGINNINGS: [&str; 7] = [
    "licence",
    "license",
    "copying",
    "copyright",
    "notice",
    "ofl",
    "unlicense",
];
/// Endings of files that only look as if they did.
const NOT_ENDINGS: [&str; 4] = ["rs", "py", "toml", "json"];
/// Folders of a package of which nothing is linked in.
const NOT_LINKED: [&str; 4] = ["tests", "benches", "examples", "scripts"];

/// Said of a crate of ours that brings the work of others along, such as the fonts of the build book.
const OF_OTHERS: &str = "ours, but for what it brings along, whose terms are below";

const APACHE: &str = include_str!("../../LICENSE-APACHE");
const MIT: &str = include_str!("../../LICENSE-MIT");
/// SPDX: 0BSD.
const ZERO_BSD: &str = "\
Permission to use, copy, modify, and/or distribute this software for any purpose with or without fee is hereby granted.

THE SOFTWARE IS PROVIDED \"AS IS\" AND THE AUTHOR DISCLAIMS ALL WARRANTIES WITH REGARD TO THIS SOFTWARE INCLUDING ALL
IMPLIED WARRANTIES OF MERCHANTABILITY AND FITNESS. IN NO EVENT SHALL THE AUTHOR BE LIABLE FOR ANY SPECIAL, DIRECT,
INDIRECT, OR CONSEQUENTIAL DAMAGES OR ANY DAMAGES WHATSOEVER RESULTING FROM LOSS OF USE, DATA OR PROFITS, WHETHER IN AN
ACTION OF CONTRACT, NEGLIGENCE OR OTHER TORTIOUS ACTION, ARISING OUT OF OR IN CONNECTION WITH THE USE OR PERFORMANCE OF
THIS SOFTWARE.
";

/// Why no notices can be made.
#[derive(Debug, thiserror::Error)]
pub enum Fault {
    /// What the program is made of cannot be found out.
    #[error("what the program is made of cannot be found out: {0}")]
    Metadata(#[from] cargo_metadata::Error),
    /// A program has no package.
    #[error("there is no package of each program: {}", PROGRAMS.join(", "))]
    NoProgram,
    /// A file that came with a package does not read.
    #[error("{}: {source}", path.display())]
    File {
        /// Which.
        path: PathBuf,
        /// Why.
        source: io::Error,
    },
    /// A package brings no text, and none is known for what it names.
    #[error("{package} brings no text of its licence, {licence}: write the text into `release/src/lib.rs`")]
    NoText {
        /// Which.
        package: String,
        /// What its metadata says.
        licence: String,
    },
}

/// A package that is linked in.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Linked {
    /// Name and version.
    pub name: String,
    /// Its licence, as an SPDX expression.
    pub licence: String,
    /// Where it comes from; empty if it does not say.
    pub from: String,
}

/// What is linked in, and under which texts.
#[derive(Clone, Debug)]
pub struct Notices {
    /// In the order of their names.
    pub packages: Vec<Linked>,
    /// Each text, and the files that hold it: `name version: file`.
    pub texts: Vec<(String, Vec<String>)>,
}

impl Notices {
    /// Of the workspace of that manifest, built for that target.
    ///
    /// # Errors
    /// If the workspace or a file of a package does not read, or a package brings no text of its licence.
    pub fn of(manifest: &Path, target: &str) -> Result<Self, Fault> {
        let metadata = MetadataCommand::new()
            .manifest_path(manifest)
            .other_options(vec!["--locked".into(), "--filter-platform".into(), target.into()])
            .exec()?;
        let mut texts: BTreeMap<String, Vec<String>> = BTreeMap::new();
        let mut packages = Vec::new();
        let mut linked: Vec<&Package> = linked(&metadata)?;
        linked.sort_by(|one, other| {
            (one.name.as_str(), &one.version).cmp(&(other.name.as_str(), &other.version))
        });
        for package in linked {
            let name = format!("{} {}", package.name, package.version);
            let ours = package.source.is_none();
            let found = if ours {
                brought_along(package)?
            } else {
                texts_of(package, &name)?
            };
            // What is ours is told of only where it brings somebody else's work along.
            if found.is_empty() {
                continue;
            }
            for (file, text) in found {
                texts.entry(text).or_default().push(format!("{name}: {file}"));
            }
            packages.push(if ours {
                Linked {
                    name,
                    licence: OF_OTHERS.to_owned(),
                    from: String::new(),
                }
            } else {
                Linked {
                    name,
                    licence: package.license.clone().unwrap_or_default(),
                    from: package.repository.clone().unwrap_or_default(),
                }
            });
        }
        let mut texts: Vec<(String, Vec<String>)> = texts.into_iter().collect();
        texts.sort_by(|(_, one), (_, other)| one.cmp(other));
        Ok(Self { packages, texts })
    }
}

/// What the programs link: what it depends on in turn, but for what only builds or tests, and what only writes code.
fn linked(metadata: &Metadata) -> Result<Vec<&Package>, Fault> {
    let programs: Vec<&PackageId> = metadata
        .workspace_packages()
        .into_iter()
        .filter(|package| PROGRAMS.contains(&package.name.as_str()))
        .map(|package| &package.id)
        .collect();
    if programs.len() < PROGRAMS.len() {
        return Err(Fault::NoProgram);
    }
    let needs: BTreeMap<&PackageId, Vec<&PackageId>> = metadata
        .resolve
        .iter()
        .flat_map(|resolve| &resolve.nodes)
        .map(|node| {
            let linked = node.deps.iter().filter(|needed| {
                needed
                    .dep_kinds
                    .iter()
                    .any(|kind| kind.kind == DependencyKind::Normal)
            });
            (&node.id, linked.map(|needed| &needed.pkg).collect())
        })
        .collect();
    let mut found = BTreeSet::new();
    let mut waiting = programs;
    while let Some(id) = waiting.pop() {
        let writes_code = metadata[id]
            .targets
            .iter()
            .any(|target| target.kind.contains(&TargetKind::ProcMacro));
        if !writes_code && found.insert(id) {
            waiting.extend(needs.get(id).into_iter().flatten());
        }
    }
    Ok(found.into_iter().map(|id| &metadata[id]).collect())
}

/// The texts of licences that a package brings along, by their files; one of ours where it names a licence and brings none.
fn texts_of(package: &Package, name: &str) -> Result<Vec<(String, String)>, Fault> {
    let mut found = brought_along(package)?;
    // A licence of a part of it is none of the whole.
    if !found.iter().any(|(file, _)| !file.contains(['/', '\\'])) {
        let licence = package.license.as_deref().unwrap_or_default();
        let text = standard(licence, &package.authors).ok_or_else(|| Fault::NoText {
            package: name.to_owned(),
            licence: licence.to_owned(),
        })?;
        found.push(("named in its metadata".to_owned(), tidy(&text)));
    }
    Ok(found)
}

/// The files of a package that say under which licence something in it is.
fn brought_along(package: &Package) -> Result<Vec<(String, String)>, Fault> {
    let folder = package
        .manifest_path
        .parent()
        .map(|folder| folder.as_std_path().to_owned())
        .unwrap_or_default();
    let mut files = Vec::new();
    let mut waiting = vec![folder.clone()];
    while let Some(here) = waiting.pop() {
        let broken = |source| Fault::File {
            path: here.clone(),
            source,
        };
        for entry in fs::read_dir(&here).map_err(broken)? {
            let path = entry.map_err(broken)?.path();
            let name = path
                .file_name()
                .map(|name| name.to_string_lossy().to_lowercase())
                .unwrap_or_default();
            if path.is_dir() {
                if !NOT_LINKED.contains(&name.as_str()) {
                    waiting.push(path);
                }
            } else if tells_a_licence(&name) {
                files.push(path);
            }
        }
    }
    files.sort();
    files
        .into_iter()
        .map(|path| {
            let bytes = fs::read(&path).map_err(|source| Fault::File {
                path: path.clone(),
                source,
            })?;
            let shown = path.strip_prefix(&folder).unwrap_or(&path).display().to_string();
            Ok((shown, tidy(&String::from_utf8_lossy(&bytes))))
        })
        .collect()
}

fn tells_a_licence(file: &str) -> bool {
    let ending = file.rsplit_once('.').map_or("", |(_, ending)| ending);
    BEGINNINGS.iter().any(|beginning| file.starts_with(beginning)) && !NOT_ENDINGS.contains(&ending)
}

/// The text of one of the licences that an expression gives the choice of.
fn standard(expression: &str, authors: &[String]) -> Option<String> {
    let plain = expression.replace(['(', ')'], " ").replace('/', " OR ");
    if plain.contains(" AND ") {
        return None;
    }
    let choices: Vec<&str> = plain.split(" OR ").map(str::trim).collect();
    let offers = |licence: &str| choices.contains(&licence);
    let owners = format!("Copyright (c) {}", authors.join(", "));
    if offers("Apache-2.0") {
        Some(APACHE.to_owned())
    } else if offers("MIT") {
        // Our own text below their names.
        let (_, permission) = MIT.split_once("Permission is hereby granted")?;
        Some(format!(
            "MIT License\n\n{owners}\n\nPermission is hereby granted{permission}"
        ))
    } else if offers("0BSD") {
        Some(format!("{owners}\n\n{ZERO_BSD}"))
    } else {
        None
    }
}

/// Line ends and blanks at line ends do not make another text.
fn tidy(text: &str) -> String {
    let lines: Vec<&str> = text
        .trim_start_matches('\u{feff}')
        .lines()
        .map(str::trim_end)
        .collect();
    lines.join("\n").trim_matches('\n').to_owned()
}

impl fmt::Display for Notices {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        writeln!(
            out,
            "What is linked into rearline and its press, and under which licences.\n"
        )?;
        for package in &self.packages {
            write!(out, "{}: {}", package.name, package.licence)?;
            match package.from.as_str() {
                "" => writeln!(out)?,
                from => writeln!(out, "; {from}")?,
            }
        }
        for (text, files) in &self.texts {
            writeln!(out, "\n{}", "=".repeat(78))?;
            files.iter().try_for_each(|file| writeln!(out, "{file}"))?;
            writeln!(out, "{}\n\n{text}", "-".repeat(78))?;
        }
        Ok(())
    }
}
