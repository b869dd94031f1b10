//! Every page opens on every screen: the browser has nothing to complain of, nothing sticks out, what is pressed is large.

use crate::bench::{Bench, Test};
use crate::pages::{self, opened};
use crate::reach::fits;
use crate::screen::{Screen, Theme};
use crate::workshop::{CARS, SAID_TOO};

pub(crate) const ALL: &[Test] = &[
    ("opens::every_room_of_every_car", every_room_of_every_car),
    ("opens::every_other_page", every_other_page),
    ("opens::the_terminal_says_the_same", the_terminal_says_the_same),
];

fn every_room_of_every_car(bench: &Bench) {
    let page = bench.browser();
    for screen in Screen::USUAL {
        page.show(screen, Theme::Light);
        for kind in pages::rooms() {
            page.go(&bench.address(&kind));
            opened(&page, &kind);
            fits(&page, &kind, screen);
            assert_eq!(page.count("nav [aria-current=page]"), 1, "{}", kind.name);
            if kind.path.contains("/tarn/") {
                page.keep(&kind.name, screen, Theme::Light);
            }
        }
    }
}

fn every_other_page(bench: &Bench) {
    let page = bench.browser();
    for screen in Screen::USUAL {
        page.show(screen, Theme::Light);
        for kind in pages::others() {
            page.go(&bench.address(&kind));
            opened(&page, &kind);
            fits(&page, &kind, screen);
            page.keep(&kind.name, screen, Theme::Light);
        }
    }
}

fn the_terminal_says_the_same(bench: &Bench) {
    let page = bench.browser();
    for car in CARS {
        for (room, verb) in SAID_TOO {
            page.go(&bench.demo().address(&format!("/car/{car}/{room}")));
            let sentence = page.text("#answer .sentence");
            assert!(sentence.len() > 12, "{car}, {room}: {sentence:?}");
            // Keys of the sheet stand in marks there, in a face of their own here.
            let terminal = bench.demo().terminal(&[verb, car]).replace('`', "");
            assert!(
                terminal.contains(&sentence),
                "{car}, {room}: {sentence:?} is not in the terminal's {terminal:?}"
            );
        }
    }
}
