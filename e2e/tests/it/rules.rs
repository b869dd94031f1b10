//! The rules of WCAG 2.2 that a machine can check, by the accessibility engine axe-core; what it holds good practice beyond
//! them is reported.

use std::fs;
use std::sync::OnceLock;

use serde::Deserialize;

use crate::bench::{Bench, Test};
use crate::browser::Page;
use crate::screen::{Screen, Theme};
use crate::workshop::ROOMS;

pub(crate) const ALL: &[Test] = &[
    (
        "rules::no_violation_with_everything_unfolded",
        no_violation_with_everything_unfolded,
    ),
    ("rules::the_engine_sees_a_fault", the_engine_sees_a_fault),
];

/// A rule that a page breaks.
#[derive(Debug, Deserialize)]
struct Broken {
    id: String,
    help: String,
    tags: Vec<String>,
    nodes: Vec<Node>,
}

#[derive(Debug, Deserialize)]
struct Node {
    html: String,
    #[serde(rename = "failureSummary")]
    summary: Option<String>,
}

fn engine() -> &'static str {
    static ENGINE: OnceLock<String> = OnceLock::new();
    ENGINE.get_or_init(|| {
        let file = crate::target().join("axe-core/axe.min.js");
        fs::read_to_string(&file)
            .unwrap_or_else(|fault| panic!("{}: {fault}: run e2e/needs first", file.display()))
    })
}

fn broken(page: &Page<'_>) -> Vec<Broken> {
    page.js::<()>(engine());
    let found = page.promised(
        "axe.run(document, {resultTypes: ['violations'], runOnly: {type: 'tag', values: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice']}}).then((found) => found.violations)",
    );
    serde_json::from_value(found.clone()).unwrap_or_else(|fault| panic!("{fault}: {found}"))
}

pub(crate) fn holds(page: &Page<'_>, name: &str, advice: &mut Vec<String>) {
    let (good, rules): (Vec<Broken>, Vec<Broken>) = broken(page)
        .into_iter()
        .partition(|rule| rule.tags.iter().any(|tag| tag == "best-practice"));
    assert!(rules.is_empty(), "{name}: {rules:#?}");
    advice.extend(
        good.iter()
            .map(|rule| format!("{name}: {}, {}: {}", rule.id, rule.help, rule.nodes[0].html)),
    );
}

/// What is advised beyond the rules is kept beside the pictures, for whoever looks.
pub(crate) fn report(name: &str, advice: &[String]) {
    let folder = crate::target().join("e2e-screenshots");
    fs::create_dir_all(&folder).unwrap();
    fs::write(folder.join(format!("{name}.txt")), advice.join("\n")).unwrap();
}

fn no_violation_with_everything_unfolded(bench: &Bench) {
    let page = bench.browser();
    let mut advice = Vec::new();
    for room in ROOMS {
        page.go(&bench.demo().address(&format!("/car/half-known/{room}")));
        page.js::<()>("for (const details of document.querySelectorAll('details')) details.open = true");
        page.until("[...document.querySelectorAll('details.working')].every((details) => details.querySelector('.steps') || details.textContent.includes('no such figure'))");
        holds(&page, room, &mut advice);
        page.keep(&format!("unfolded-{room}"), Screen::DESKTOP, Theme::Light);
    }
    report("good-practice-unfolded", &advice);
}

fn the_engine_sees_a_fault(bench: &Bench) {
    let page = bench.browser();
    page.go(&bench.demo().address("/preferences"));
    page.js::<()>(
        "document.querySelector('label').remove(); document.querySelector('h1').style.color = '#e8e4da'",
    );
    let ids: Vec<String> = broken(&page)
        .into_iter()
        .filter(|rule| rule.nodes.iter().all(|node| node.summary.is_some()))
        .map(|rule| rule.id)
        .collect();
    assert!(
        ids.contains(&"select-name".to_owned()) && ids.contains(&"color-contrast".to_owned()),
        "{ids:?}"
    );
}
