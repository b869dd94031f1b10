//! Every kind of page there is.

use crate::browser::Page;
use crate::workshop::ROOMS;

/// In which workshop a page is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Shop {
    Demo,
    Empty,
    /// A car among whose neighbours are a torn sheet and a folder without one.
    Faulty,
    /// Served to the network; the browser is not paired.
    Lan,
}

/// A page.
#[derive(Clone, Debug)]
pub(crate) struct Kind {
    pub(crate) name: String,
    pub(crate) shop: Shop,
    pub(crate) path: String,
    pub(crate) status: u16,
    /// What has to stand on it.
    pub(crate) says: &'static str,
}

/// Every room of a car.
pub(crate) fn rooms_of(car: &str) -> Vec<Kind> {
    ROOMS
        .iter()
        .map(|room| Kind {
            name: format!("{car}-{room}"),
            shop: Shop::Demo,
            path: format!("/car/{car}/{room}"),
            status: 200,
            says: "Computed figures do not replace a brake test",
        })
        .collect()
}

/// Every page that is no room.
pub(crate) fn others() -> Vec<Kind> {
    let all: [(&str, Shop, &str, u16, &str); 17] = [
        ("cars", Shop::Demo, "/", 200, "Tarn 4"),
        (
            "moved",
            Shop::Demo,
            "/car/tarn/lever?surface=wet%20clay&hand=210&valve=3.5&no_crew=1&cold=1&with=lever.bore%3D5%2F8%20in",
            200,
            "Other than on the sheet",
        ),
        (
            "working",
            Shop::Demo,
            "/car/tarn/working/travel_m",
            200,
            "How did it come about?",
        ),
        ("no-working", Shop::Demo, "/car/tarn/working/nothing", 404, "Do"),
        ("cards", Shop::Demo, "/how?car=tarn", 200, "One axle raised"),
        (
            "card",
            Shop::Demo,
            "/how/raised-axle?car=tarn&key=weighed.cg_height&sum=0&front=764&rear=556&a=31&H=600&wheelbase=2610&radius=312",
            200,
            "A raised car falls without warning",
        ),
        ("preferences", Shop::Demo, "/preferences", 200, "Pressure"),
        ("devices", Shop::Demo, "/devices", 200, "--lan"),
        (
            "refused",
            Shop::Demo,
            "/car/tarn/lever?hand=sideways&gripp=2",
            400,
            "did you mean",
        ),
        ("no-car", Shop::Demo, "/car/nobody/assessment", 404, "nobody"),
        ("nowhere", Shop::Demo, "/nowhere", 404, "no such page"),
        ("empty", Shop::Empty, "/", 200, "holds no car yet"),
        ("cars-with-faults", Shop::Faulty, "/", 200, "Passed over"),
        ("faults", Shop::Faulty, "/car/torn/assessment", 422, "faults"),
        ("not-paired", Shop::Lan, "/", 403, "not paired"),
        ("pair", Shop::Lan, "/pair", 200, "for five minutes"),
        (
            "pair-with-code",
            Shop::Lan,
            "/pair?code=ABCD2345",
            200,
            "not encrypted",
        ),
    ];
    all.map(|(name, shop, path, status, says)| Kind {
        name: name.to_owned(),
        shop,
        path: path.to_owned(),
        status,
        says,
    })
    .to_vec()
}

/// A page of each kind: the rooms of one car, and everything else.
pub(crate) fn kinds() -> Vec<Kind> {
    [rooms_of("tarn"), others()].concat()
}

/// The page is the one that was meant, and the browser complains of nothing but the status that belongs to it.
pub(crate) fn opened(page: &Page<'_>, kind: &Kind) {
    let said = page.log();
    let text = page.text("body");
    assert!(text.contains(kind.says), "{}: {text}", kind.name);
    assert!(page.count("h1") == 1 && page.count("main") == 1, "{}", kind.name);
    let (top, leads_on): (f64, bool) = page.js(
        "return [document.querySelector('h1').getBoundingClientRect().top + scrollY, document.querySelector('main a, header a, main form') !== null]",
    );
    assert!(top >= 16.0, "{}: the heading sticks to the edge", kind.name);
    assert!(leads_on, "{}: a dead end", kind.name);
    let quoted: Vec<String> = page.js(
        "return [...document.querySelectorAll('body :is(h1, h2, h3, p, li, td, th, summary, span)')]
           .filter((element) => [...element.childNodes].some((node) => node.nodeType === 3 && node.data.includes('`')))
           .map((element) => element.textContent)",
    );
    assert!(
        quoted.is_empty(),
        "{}: marks of the terminal: {quoted:?}",
        kind.name
    );
    let by_its_nature = format!("the server responded with a status of {} ", kind.status);
    let rest: Vec<&String> = said
        .iter()
        .filter(|line| kind.status < 400 || !(line.contains(&by_its_nature) && line.contains(&kind.path)))
        .collect();
    assert!(rest.is_empty(), "{}: {rest:#?}", kind.name);
    if kind.status >= 400 {
        assert_eq!(
            said.len(),
            1,
            "{}: answered otherwise than with {}",
            kind.name,
            kind.status
        );
    }
    let twice: Vec<String> = page.js(
        "const all = [...document.querySelectorAll('[id]')].map((element) => element.id);
         return all.filter((id, index) => all.indexOf(id) !== index)",
    );
    assert!(twice.is_empty(), "{}: the same id twice: {twice:?}", kind.name);
}
