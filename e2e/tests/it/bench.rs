//! What all tests share: the browsers, and workshops that nobody changes.

use std::sync::OnceLock;

use crate::browser::{Browsers, Page};
use crate::pages::{Kind, Shop};
use crate::workshop::{Workshop, demonstration};

/// A test of this binary.
pub(crate) type Test = (&'static str, fn(&Bench));

/// The browsers and the workshops, each begun by whoever needs it first.
pub(crate) struct Bench {
    pub(crate) browsers: Browsers,
    demo: OnceLock<Workshop>,
    empty: OnceLock<Workshop>,
    faulty: OnceLock<Workshop>,
    lan: OnceLock<Workshop>,
}

impl Bench {
    pub(crate) fn new() -> Self {
        Self {
            browsers: Browsers::new(),
            demo: OnceLock::new(),
            empty: OnceLock::new(),
            faulty: OnceLock::new(),
            lan: OnceLock::new(),
        }
    }

    /// A browser, as new.
    pub(crate) fn browser(&self) -> Page<'_> {
        self.browsers.take()
    }

    /// The demonstration cars.
    pub(crate) fn demo(&self) -> &Workshop {
        self.shop(Shop::Demo)
    }

    /// One of the workshops, served.
    pub(crate) fn shop(&self, shop: Shop) -> &Workshop {
        match shop {
            Shop::Demo => self.demo.get_or_init(|| Workshop::with_cars().serve(&[])),
            Shop::Empty => self.empty.get_or_init(|| Workshop::empty().serve(&[])),
            Shop::Faulty => self.faulty.get_or_init(|| {
                let workshop = Workshop::empty();
                workshop.add("tarn", &demonstration("tarn"));
                workshop.add("torn", &torn());
                workshop.add("aux", "format = 1\n"); // a name that not every system can keep
                workshop.serve(&[])
            }),
            Shop::Lan => self.lan.get_or_init(|| Workshop::with_cars().serve(&["--lan"])),
        }
    }

    /// Every workshop that was begun is served still, and nothing was told aside but codes for the network's.
    pub(crate) fn all_live(&self) {
        for (name, workshop) in [
            ("demo", &self.demo),
            ("empty", &self.empty),
            ("faulty", &self.faulty),
            ("lan", &self.lan),
        ] {
            if let Some(workshop) = workshop.get() {
                let told = workshop.told();
                assert!(workshop.lives(), "{name} has ended: {told}");
                assert!(name == "lan" || told.is_empty(), "{name}: {told}");
            }
        }
    }

    /// The whole address of a page.
    pub(crate) fn address(&self, kind: &Kind) -> String {
        self.shop(kind.shop).address(&kind.path)
    }
}

/// A sheet with faults of every sort: no number, no unit, a key that is none, text where TOML wants another.
fn torn() -> String {
    let sheet = demonstration("tarn");
    let torn = sheet
        .replacen("wheelbase   = \"2.61 m\"", "wheelbase   = \"2.61 apples\"", 1)
        .replacen("front_track =", "frunt_track =", 1)
        .replacen("ratio      = 4.3", "ratio      = \"four\"", 1)
        .replacen("[tyres]", "[tyres", 1);
    assert_ne!(torn, sheet);
    torn
}
