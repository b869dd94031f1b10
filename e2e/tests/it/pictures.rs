//! The pictures of the README. They are written only where `REARLINE_PICTURES` asks for them; otherwise the same ways are
//! gone and nothing in the tree changes.

use std::fs;
use std::path::Path;

use crate::bench::{Bench, Test};
use crate::browser::Page;
use crate::screen::{Screen, Theme};

pub(crate) const ALL: &[Test] = &[("pictures::of_the_readme", of_the_readme)];

fn of_the_readme(bench: &Bench) {
    let page = bench.browser();
    page.show(Screen::DESKTOP, Theme::Light);
    page.go(&bench.demo().address("/car/tarn/assessment"));
    taken(&page, "assessment");

    page.go(&bench.demo().address("/car/tarn-let-go/turn?against=tarn"));
    page.js::<()>("document.querySelector('#answer').scrollIntoView()");
    taken(&page, "turn");

    page.show(Screen::PHONE, Theme::Dark);
    page.go(&bench.demo().address("/car/tarn/prove"));
    page.js::<()>("document.querySelector('.joint:not([hidden])').scrollIntoView()");
    taken(&page, "prove-on-a-phone");
    page.is_quiet();
}

fn taken(page: &Page<'_>, name: &str) {
    let picture = page.picture(false);
    assert!(
        picture.starts_with(b"\x89PNG") && picture.len() > 10_000,
        "{name}"
    );
    if std::env::var_os("REARLINE_PICTURES").is_some() {
        let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../docs/pictures");
        fs::create_dir_all(&folder).unwrap();
        fs::write(folder.join(format!("{name}.png")), picture).unwrap();
    }
}
