use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};

use petgraph::algo::tarjan_scc;
use petgraph::graph::DiGraph;
use proc_macro2::{Delimiter, TokenStream, TokenTree};

use crate::top;

/// A module: its path from the crate's root, its file, its code without tests.
struct Module {
    path: Vec<String>,
    code: TokenStream,
}

/// A name that a module imports, with where it comes from: `("Case", ["question", "Case"])`.
type Imports = BTreeMap<Vec<String>, Vec<(String, Vec<String>)>>;

/// Every module of a crate that has a file.
fn modules(src: &Path) -> Vec<Module> {
    let mut found = Vec::new();
    let mut waiting: Vec<PathBuf> = vec![src.to_path_buf()];
    while let Some(folder) = waiting.pop() {
        for entry in fs::read_dir(folder).unwrap() {
            let file = entry.unwrap().path();
            if file.is_dir() {
                waiting.push(file);
                continue;
            }
            if file.extension().is_none_or(|ending| ending != "rs") {
                continue;
            }
            let below = file.strip_prefix(src).unwrap().with_extension("");
            let mut path: Vec<String> = below
                .iter()
                .map(|part| part.to_str().unwrap().to_owned())
                .collect();
            if path.last().is_some_and(|last| last == "mod") || path == ["lib"] || path == ["main"] {
                path.pop();
            }
            let text = fs::read_to_string(&file).unwrap();
            let code: TokenStream = text.parse().unwrap();
            found.push(Module {
                path,
                code: without_tests(code),
            });
        }
    }
    found
}

/// Code without what stands under `#[cfg(test)]`.
fn without_tests(code: TokenStream) -> TokenStream {
    let mut kept = Vec::new();
    let mut tokens = code.into_iter().peekable();
    while let Some(token) = tokens.next() {
        let is_test = matches!(&token, TokenTree::Punct(mark) if mark.as_char() == '#')
            && matches!(tokens.peek(), Some(TokenTree::Group(group)) if group.to_string().replace(' ', "") == "[cfg(test)]");
        if is_test {
            // Up to the end of the item: its braces, or a semicolon.
            for token in tokens.by_ref() {
                match token {
                    TokenTree::Group(group) if group.delimiter() == Delimiter::Brace => break,
                    TokenTree::Punct(mark) if mark.as_char() == ';' => break,
                    _ => {}
                }
            }
            continue;
        }
        kept.push(token);
    }
    kept.into_iter().collect()
}

/// Reads paths at `tokens[at..]`: `a::b`, `a::{b, c::d}`, `a as b`. The paths, with the name each gets, and where they end.
fn paths_at(tokens: &[TokenTree], mut at: usize, begun: &[String]) -> (Vec<(String, Vec<String>)>, usize) {
    let mut path = begun.to_vec();
    loop {
        match tokens.get(at) {
            Some(TokenTree::Ident(name)) => {
                path.push(name.to_string());
                at += 1;
            }
            Some(TokenTree::Punct(mark)) if mark.as_char() == '*' => {
                path.push("*".to_owned());
                at += 1;
            }
            Some(TokenTree::Group(group)) if group.delimiter() == Delimiter::Brace => {
                let inner: Vec<TokenTree> = group.stream().into_iter().collect();
                let mut all = Vec::new();
                let mut inside = 0;
                while inside < inner.len() {
                    let (found, end) = paths_at(&inner, inside, &path);
                    all.extend(found);
                    inside = end.max(inside + 1);
                }
                return (all, at + 1);
            }
            _ => break,
        }
        let colons =
            |at: usize| matches!(tokens.get(at), Some(TokenTree::Punct(mark)) if mark.as_char() == ':');
        if colons(at) && colons(at + 1) {
            at += 2;
        } else {
            break;
        }
    }
    let mut name = path.last().cloned().unwrap_or_default();
    if let (Some(TokenTree::Ident(word)), Some(TokenTree::Ident(other))) =
        (tokens.get(at), tokens.get(at + 1))
        && *word == "as"
    {
        name = other.to_string();
        at += 2;
    }
    if name == "self" {
        path.pop();
        name = path.last().cloned().unwrap_or_default();
    }
    (vec![(name, path)], at)
}

/// Every path of a module's code that begins with `crate`, `super` or `self`, with the module that it stands in, and every import.
fn read(
    module: &[String],
    code: &TokenStream,
    paths: &mut Vec<(Vec<String>, Vec<String>)>,
    imports: &mut Imports,
) {
    let tokens: Vec<TokenTree> = code.clone().into_iter().collect();
    let mut at = 0;
    while at < tokens.len() {
        match &tokens[at] {
            TokenTree::Ident(word) if *word == "use" => {
                let (found, end) = paths_at(&tokens, at + 1, &[]);
                for (name, path) in found {
                    imports
                        .entry(module.to_vec())
                        .or_default()
                        .push((name, path.clone()));
                    paths.push((module.to_vec(), path));
                }
                at = end;
                continue;
            }
            TokenTree::Ident(word) if *word == "mod" => {
                if let (Some(TokenTree::Ident(name)), Some(TokenTree::Group(group))) =
                    (tokens.get(at + 1), tokens.get(at + 2))
                {
                    let inner = [module, &[name.to_string()]].concat();
                    read(&inner, &group.stream(), paths, imports);
                    at += 3;
                    continue;
                }
            }
            TokenTree::Ident(_) => {
                let (found, end) = paths_at(&tokens, at, &[]);
                // A group that follows a plain word belongs to something else.
                if let [(_, path)] = found.as_slice()
                    && path.len() > 1
                {
                    paths.push((module.to_vec(), path.clone()));
                    at = end;
                    continue;
                }
            }
            TokenTree::Group(group) => read(module, &group.stream(), paths, imports),
            _ => {}
        }
        at += 1;
    }
}

/// A path as it stands in a module, from the crate's root; `None` where it leads out of the crate.
fn from_the_root(
    known: &BTreeSet<Vec<String>>,
    imports: &Imports,
    module: &[String],
    path: &[String],
    depth: usize,
) -> Option<Vec<String>> {
    let (mut whole, rest) = match path.first()?.as_str() {
        "crate" => (Vec::new(), &path[1..]),
        "self" => (module.to_vec(), &path[1..]),
        "super" => (module[..module.len().checked_sub(1)?].to_vec(), &path[1..]),
        _ => (module.to_vec(), path),
    };
    let begun_here = whole == module && rest.len() == path.len();
    let mut rest = rest;
    while rest.first().is_some_and(|part| part == "super") {
        whole.pop()?;
        rest = &rest[1..];
    }
    for (index, part) in rest.iter().enumerate() {
        let next = [whole.as_slice(), std::slice::from_ref(part)].concat();
        if known.contains(&next) {
            whole = next;
            continue;
        }
        // A name that the module has from elsewhere stands for where it comes from.
        let from = imports
            .get(&whole)
            .and_then(|all| all.iter().find(|(name, _)| name == part));
        if let Some((_, from)) = from
            && depth > 0
            && !(begun_here && from == path)
        {
            let mut found = from_the_root(known, imports, &whole, from, depth - 1)?;
            found.extend(rest[index + 1..].iter().cloned());
            return Some(found);
        }
        if begun_here && index == 0 {
            return None;
        }
        whole.extend(rest[index..].iter().cloned());
        return Some(whole);
    }
    Some(whole)
}

/// Who imports whom: in each module with others below it, from one of those to another.
fn arrows(src: &Path) -> BTreeMap<Vec<String>, BTreeSet<(String, String)>> {
    let modules = modules(src);
    let known: BTreeSet<Vec<String>> = modules.iter().map(|module| module.path.clone()).collect();
    let (mut paths, mut imports) = (Vec::new(), Imports::new());
    for module in &modules {
        read(&module.path, &module.code, &mut paths, &mut imports);
    }
    let mut arrows: BTreeMap<Vec<String>, BTreeSet<(String, String)>> = BTreeMap::new();
    for (module, path) in paths {
        let Some(target) = from_the_root(&known, &imports, &module, &path, 4) else {
            continue;
        };
        let shared = module
            .iter()
            .zip(&target)
            .take_while(|(here, there)| here == there)
            .count();
        if let (Some(here), Some(there)) = (module.get(shared), target.get(shared))
            && known.contains(&target[..=shared])
        {
            arrows
                .entry(target[..shared].to_vec())
                .or_default()
                .insert((here.clone(), there.clone()));
        }
    }
    arrows
}

/// Modules that import one another, each circle sorted.
fn circles(arrows: &BTreeSet<(String, String)>) -> Vec<Vec<String>> {
    let mut graph: DiGraph<&str, ()> = DiGraph::new();
    let mut nodes = BTreeMap::new();
    for (from, to) in arrows {
        let mut node = |name| {
            *nodes
                .entry(name)
                .or_insert_with_key(|name: &&str| graph.add_node(name))
        };
        let (from, to) = (node(from.as_str()), node(to.as_str()));
        graph.add_edge(from, to, ());
    }
    let mut found: Vec<Vec<String>> = tarjan_scc(&graph)
        .into_iter()
        .filter(|circle| circle.len() > 1)
        .map(|circle| {
            let mut names: Vec<String> = circle.into_iter().map(|node| graph[node].to_owned()).collect();
            names.sort();
            names
        })
        .collect();
    found.sort();
    found
}

#[test]
fn no_modules_import_one_another() {
    let mut found: Vec<(String, Vec<String>)> = Vec::new();
    for entry in fs::read_dir(top().join("crates")).unwrap() {
        let folder = entry.unwrap().path();
        let name = folder.file_name().unwrap().to_str().unwrap().to_owned();
        for (module, arrows) in arrows(&folder.join("src")) {
            let within = [&[name.clone()][..], &module].concat().join("::");
            found.extend(
                circles(&arrows)
                    .into_iter()
                    .map(|circle| (within.clone(), circle)),
            );
        }
    }
    assert!(found.is_empty(), "modules that import one another: {found:#?}");
}

#[test]
fn a_circle_is_seen_through_renamed_imports_and_macros() {
    let write = |files: &[(&str, &str)]| {
        let folder = tempfile::tempdir().unwrap();
        for (name, text) in files {
            let path = folder.path().join(name);
            fs::create_dir_all(path.parent().unwrap()).unwrap();
            fs::write(path, text).unwrap();
        }
        let found = arrows(folder.path());
        found
            .into_iter()
            .flat_map(|(module, arrows)| {
                circles(&arrows)
                    .into_iter()
                    .map(move |circle| (module.join("::"), circle))
            })
            .collect::<Vec<_>>()
    };
    let root = ("lib.rs", "mod a; mod b; pub use b::{Thing as Named, other};");
    let ab = vec![(String::new(), vec!["a".to_owned(), "b".to_owned()])];
    let b = ("b.rs", "use super::a::f; pub struct Thing;");
    assert_eq!(write(&[root, b, ("a.rs", "use crate::Named;")]), ab);
    assert_eq!(
        write(&[root, b, ("a.rs", "fn f() { html! { p { (crate::b::g()) } } }")]),
        ab
    );
    assert_eq!(
        write(&[
            root,
            b,
            ("a/mod.rs", "mod c;"),
            ("a/c.rs", "use super::super::b;")
        ]),
        ab
    );
    // Tests may look at what stands above them; a parent may name its child.
    assert!(
        write(&[
            root,
            b,
            ("a.rs", "#[cfg(test)] mod tests { use crate::b::Thing; }")
        ])
        .is_empty()
    );
    assert!(
        write(&[
            ("lib.rs", "mod a; use a::f; fn g() {}"),
            ("a.rs", "use crate::g;")
        ])
        .is_empty()
    );
    let inner = [
        ("lib.rs", "mod a;"),
        ("a/mod.rs", "mod c; mod d;"),
        ("a/c.rs", "use super::d::{self, e};"),
        ("a/d.rs", "use crate::a::c;"),
    ];
    assert_eq!(
        write(&inner),
        [("a".to_owned(), vec!["c".to_owned(), "d".to_owned()])]
    );
}
