//! Every page is opened once and looked at in every way: on each screen, by day and by night, with text as people ask for
//! it, by the rules of accessibility. The browser has nothing to complain of, nothing sticks out, what is pressed is large.

use crate::bench::{Bench, Test};
use crate::pages::{Kind, kinds, opened, rooms_of};
use crate::screen::{Screen, Theme};
use crate::workshop::{CARS, ROOMS, demonstrations};
use crate::{browser::Page, reach, rules};

pub(crate) const ALL: &[Test] = &[
    (
        "opens::no_room_and_no_car_is_left_out",
        no_room_and_no_car_is_left_out,
    ),
    (
        "opens::every_kind_of_page_in_every_way",
        every_kind_of_page_in_every_way,
    ),
    (
        "opens::every_room_of_the_other_cars",
        every_room_of_the_other_cars,
    ),
];

/// What the other tests go through is all there is.
fn no_room_and_no_car_is_left_out(bench: &Bench) {
    let page = bench.browser();
    page.go(&bench.demo().address("/car/tarn/assessment"));
    let mut rooms: Vec<String> = page.js(
        "return [...new Set([...document.querySelectorAll('nav a')].map((link) => link.pathname.match(/^\\/car\\/tarn\\/([a-z-]+)$/)?.[1]).filter(Boolean))]",
    );
    rooms.sort();
    let mut known = ROOMS.map(str::to_owned);
    known.sort();
    assert_eq!(rooms, known);
    let mut cars: Vec<String> = std::fs::read_dir(demonstrations())
        .unwrap()
        .map(|folder| folder.unwrap())
        .filter(|folder| folder.path().join("car.toml").is_file())
        .map(|folder| folder.file_name().into_string().unwrap())
        .collect();
    cars.sort();
    assert_eq!(cars, CARS);
}

fn every_kind_of_page_in_every_way(bench: &Bench) {
    let page = bench.browser();
    let mut advice = Vec::new();
    for kind in kinds() {
        page.show(Screen::DESKTOP, Theme::Light);
        page.go(&bench.address(&kind));
        opened(&page, &kind);
        if kind.path.starts_with("/car/tarn/") && kind.status == 200 && !kind.path.contains("/working/") {
            assert_eq!(page.count("nav [aria-current=page]"), 1, "{}", kind.name);
        }
        rules::holds(&page, &kind.name, &mut advice);
        on_every_screen(&page, &kind);
        reach::with_other_text(&page, &kind);
        reach::calm(&page, &kind);
    }
    rules::report("good-practice", &advice);
    page.is_quiet();
}

fn on_every_screen(page: &Page<'_>, kind: &Kind) {
    let screens = [
        Screen::DESKTOP,
        Screen::TABLET,
        Screen::PHONE,
        Screen::NARROWEST,
        Screen::WIDEST,
    ];
    for screen in screens {
        page.show(screen, Theme::Light);
        reach::fits(page, kind, screen);
        if screen.width > 320 {
            reach::well_drawn(page, kind, screen);
        }
        if screen.width < 1400 && screen.width > 320 {
            page.keep(&kind.name, screen, Theme::Light);
        }
    }
    reach::fills(page, kind);
    page.show(Screen::PHONE, Theme::Dark);
    page.keep(&kind.name, Screen::PHONE, Theme::Dark);
    rules::holds(page, &kind.name, &mut Vec::new());
    page.show(Screen::DESKTOP, Theme::Dark);
    reach::by_night(page, kind);
    page.show(Screen::DESKTOP, Theme::Light);
    reach::by_day(page, kind);
}

/// Other arrangements of brakes: what is on their pages is other, how the pages are made is not.
fn every_room_of_the_other_cars(bench: &Bench) {
    let page = bench.browser();
    for kind in CARS
        .iter()
        .filter(|car| **car != "tarn")
        .flat_map(|car| rooms_of(car))
    {
        page.show(Screen::NARROWEST, Theme::Light);
        page.go(&bench.address(&kind));
        opened(&page, &kind);
        assert_eq!(page.count("nav [aria-current=page]"), 1, "{}", kind.name);
        for screen in [Screen::NARROWEST, Screen::TABLET, Screen::DESKTOP] {
            page.show(screen, Theme::Light);
            reach::fits(&page, &kind, screen);
            if screen.width > 320 {
                reach::well_drawn(&page, &kind, screen);
            }
        }
    }
    page.is_quiet();
}
