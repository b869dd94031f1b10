//! `docs/sources.md`: every source that a check or a default names, as it is named there.

use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write as _;
use std::fs;
use std::path::Path;

use engine::car::KEYS;

const HEAD: &str = "\
# Where figures come from

<!-- Written from validation/*/data.toml and the table of keys; do not edit. -->

A source is cited with edition and page where a copy was read. *Read*: seen in a copy of what is named. *From memory*:
recalled, to be confirmed, never to be quoted as read. *Recomputed*: our own arithmetic from the source's inputs. *Common
practice*: what the trade knows, with no source.

## What the checks stand on

A folder of `validation` each.

| source | its rows are | folder |
| --- | --- | --- |
";

fn page() -> String {
    let mut page = HEAD.to_owned();
    let top = Path::new(env!("CARGO_MANIFEST_DIR"));
    let mut folders: Vec<_> = fs::read_dir(top)
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .collect();
    folders.sort();
    for folder in folders {
        let Ok(text) = fs::read_to_string(folder.join("data.toml")) else {
            continue;
        };
        let data: toml::Table = text.parse().unwrap();
        let mut statuses: BTreeMap<&str, usize> = BTreeMap::new();
        for value in data.values() {
            for row in value.as_array().into_iter().flatten() {
                if let Some(status) = row.get("status").and_then(toml::Value::as_str) {
                    *statuses.entry(status).or_default() += 1;
                }
            }
        }
        let rows: Vec<String> = statuses
            .iter()
            .map(|(status, count)| format!("{count} {status}"))
            .collect();
        writeln!(
            page,
            "| {} | {} | `{}` |",
            data["source"].as_str().unwrap().replace('|', "\\|"),
            rows.join(", "),
            folder.file_name().unwrap().to_str().unwrap()
        )
        .unwrap();
    }
    page.push_str(
        "\n## What the defaults stand on\n\nOf keys that the sheet may leave out. Those that only say what is meant by leaving out are not \
         listed.\n\n| source | keys |\n| --- | --- |\n",
    );
    let mut sources: BTreeMap<&str, BTreeSet<&str>> = BTreeMap::new();
    for key in KEYS {
        if !key.source.is_empty() && !key.source.starts_with("left out") {
            sources.entry(key.source).or_default().insert(key.path);
        }
    }
    for (source, keys) in sources {
        let keys: Vec<String> = keys.into_iter().map(|key| format!("`{key}`")).collect();
        writeln!(page, "| {source} | {} |", keys.join(", ")).unwrap();
    }
    page
}

#[test]
fn the_page_of_sources_is_current() {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/../docs/sources.md");
    let page = page();
    if std::env::var_os("REARLINE_WRITE_DOCS").is_some() {
        fs::write(path, &page).unwrap();
    }
    assert!(
        fs::read_to_string(path).is_ok_and(|kept| kept == page),
        "docs/sources.md is not what checks and keys say; write it with REARLINE_WRITE_DOCS=1"
    );
    assert!(page.lines().count() > 40, "sources are missing");
}
