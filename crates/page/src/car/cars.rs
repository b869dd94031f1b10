//! The cars: each with its answer and its worst finding, fifty a page.
//!
//! A page is made of the folder and of what is kept of each car ([`Board`](super::board::Board)). The fifty that are shown
//! are held against their files; what does not hold any more is shown as what it is, and made anew behind the page.

use std::sync::Arc;

use axum::http::StatusCode;
use axum::response::{IntoResponse as _, Response};
use maud::{Markup, html};
use questions::report::CAUTION;
use questions::{Sheet, Stop};
use records::{CarFolder, Cars};

use super::address::{all_hows, path, segment};
use super::board::{Known, Stands};
use super::desk::{Desk, Listed};
use super::row::{Answered, HowSoon, Row, Says};
use super::{findings, on_the_car, stands};
use crate::shell::{frame, look, parts, trouble};
use crate::web::guard::{Caller, Reach};

/// Cars of one page.
pub(crate) const A_PAGE: usize = 50;
/// What is passed over is told up to here.
const MOST_LEFT_OUT: usize = 50;

/// In which order cars stand.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
enum Order {
    #[default]
    Name,
    /// What stops a car first, then the worst word.
    Verdict,
    /// What falls due soonest.
    Due,
}

impl Order {
    const ALL: [(Self, &'static str, &'static str); 3] = [
        (Self::Name, "name", "name"),
        (Self::Verdict, "verdict", "the worst word first"),
        (Self::Due, "due", "what falls due first"),
    ];

    fn word(self) -> &'static str {
        let named = Self::ALL.iter().find(|(order, ..)| *order == self);
        named.map_or("name", |(_, word, _)| *word)
    }
}

/// What the address of the list says.
#[derive(Debug, Default)]
struct Asked {
    search: String,
    order: Order,
    /// Counted from 1.
    page: usize,
}

impl Asked {
    /// What makes no sense is left out: the list is always there.
    fn read(query: &str) -> Self {
        let mut asked = Self {
            page: 1,
            ..Self::default()
        };
        for (name, value) in form_urlencoded::parse(query.as_bytes()) {
            match &*name {
                "search" => asked.search = value.trim().chars().take(60).collect(),
                "sort" => {
                    let named = Order::ALL.iter().find(|(_, word, _)| *word == value);
                    asked.order = named.map_or(Order::Name, |(order, ..)| *order);
                }
                "page" => asked.page = value.parse::<usize>().unwrap_or(1).max(1),
                _ => {}
            }
        }
        asked
    }

    fn address(&self, page: usize) -> String {
        let mut said = Vec::new();
        if !self.search.is_empty() {
            said.push(format!("search={}", segment(&self.search)));
        }
        if self.order != Order::Name {
            said.push(format!("sort={}", self.order.word()));
        }
        if page > 1 {
            said.push(format!("page={page}"));
        }
        match said.as_slice() {
            [] => "/".to_owned(),
            said => format!("/?{}", said.join("&")),
        }
    }
}

/// A car of the list, with what is known of it, right or not any more.
struct One<'a> {
    car: &'a CarFolder,
    key: &'a str,
    known: Option<Arc<Known>>,
    /// Its sheet was not to be read when it was last looked at.
    unread: bool,
}

impl One<'_> {
    /// Whether nobody knows anything of it yet.
    fn waits(&self) -> bool {
        self.known.is_none() && !self.unread
    }

    fn row(&self) -> Option<&Row> {
        self.known.as_ref().map(|known| &known.row)
    }

    fn holds(&self, wanted: &str) -> bool {
        let has = |text: &str| text.to_lowercase().contains(wanted);
        let row = self.row();
        has(self.car.name()) || row.is_some_and(|row| has(&row.name) || row.build.as_deref().is_some_and(has))
    }

    /// What stops it, then the worst word; a sheet that does not answer before all, what is not known behind all.
    fn by_verdict(&self) -> u8 {
        match self.row().map(|row| &row.says) {
            Some(Says::Faults(_)) => 0,
            Some(Says::Unfinished(_)) => 1,
            Some(Says::Answer(answered)) => 2 + answered.rank,
            None if self.unread => 0,
            None => u8::MAX,
        }
    }

    fn by_due(&self) -> u8 {
        match self.row().map(|row| &row.says) {
            Some(Says::Answer(answered)) => match answered.due {
                Some((HowSoon::Now, ..)) => 0,
                Some((HowSoon::Soon, ..)) => 1,
                Some((HowSoon::NotKnown, ..)) => 2,
                None => 3,
            },
            Some(Says::Unfinished(_) | Says::Faults(_)) => 4,
            None => u8::MAX,
        }
    }
}

/// The list.
pub(crate) fn list(desk: &Desk, caller: &Caller, query: &str) -> Response {
    let read = desk.list().and_then(|listed| Ok((listed, desk.cars()?)));
    let (listed, cars) = match read {
        Ok(read) => read,
        Err(stop) => return trouble::stop(&stop, caller),
    };
    let mut asked = Asked::read(query);
    let all = every_one(desk, &cars, &listed);
    let wanted = asked.search.to_lowercase();
    let mut found: Vec<&One<'_>> = all.iter().filter(|one| one.holds(&wanted)).collect();
    // The folder's order is that of the names; a stable sort keeps it among equals.
    match asked.order {
        Order::Name => {}
        Order::Verdict => found.sort_by_key(|one| one.by_verdict()),
        Order::Due => found.sort_by_key(|one| one.by_due()),
    }
    let pages = found.len().div_ceil(A_PAGE).max(1);
    asked.page = asked.page.min(pages);
    let from = (asked.page - 1) * A_PAGE;
    let shown = &found[from..(from + A_PAGE).min(found.len())];
    // How the files stand is noted before they are read.
    let shown_cars: Vec<(&CarFolder, &str)> = shown.iter().map(|one| (one.car, one.key)).collect();
    let stands = stands::of_the_list(&listed, &shown_cars);
    let rows = rows(desk, &cars, &shown_cars);
    let waiting = all.iter().filter(|one| one.waits()).count();
    let main = html! {
        @if listed.cars.is_empty() {
            p class="sentence" { "This folder holds no car yet." }
            p { "Begin one: six taps, then its figures one by one." }
        } @else {
            (choice(&asked, listed.cars.len()))
            (told(&asked, &found, all.len(), waiting))
        }
        div id="cars" { @for row in &rows { (row) } }
        (turned(&asked, pages))
        @if !listed.left_out.is_empty() && asked.page == 1 {
            section class="left-out" {
                h2 { "Passed over" }
                ul {
                    @for left in listed.left_out.iter().take(MOST_LEFT_OUT) {
                        li { code { (left.path.display()) } ": " (parts::coded(&left.why.to_string())) }
                    }
                    @if listed.left_out.len() > MOST_LEFT_OUT { li { "and " (listed.left_out.len() - MOST_LEFT_OUT) " more" } }
                }
            }
        }
        p class="keys" {
            a class="key" href="/cars/new" { "A new car" }
            a class="key" href="/cars/bring" { "Bring a sheet" }
        }
        p class="caution" { (CAUTION) }
        p class="keys" {
            a class="key" href=(all_hows(None)) { "How to measure" }
            a class="key" href="/preferences" { "Units" }
            @if desk.gate.reach == Reach::Network { a class="key" href="/devices" { "Devices" } }
        }
        p class="source" { "Cars are kept in " code { (desk.folder.display()) } "." }
    };
    frame::plain("Cars", &caller.token, Some(&stands), &main).into_response()
}

fn every_one<'a>(desk: &Desk, cars: &Cars, listed: &'a Listed) -> Vec<One<'a>> {
    let known = desk.board.of(cars, listed.cars.iter().map(|(car, _)| car.name()));
    let each = listed.cars.iter().zip(known);
    each.map(|((car, key), (known, unread))| One {
        car,
        key,
        known,
        unread,
    })
    .collect()
}

/// Rows of some cars alone, named by their keys: for a page that fills in what was not answered.
pub(crate) fn some(desk: &Desk, query: &str) -> Response {
    let read = desk.list_of_late().and_then(|listed| Ok((listed, desk.cars()?)));
    let Ok((listed, cars)) = read else {
        return StatusCode::SERVICE_UNAVAILABLE.into_response();
    };
    let shown = named(&listed, query);
    let waiting = every_one(desk, &cars, &listed)
        .iter()
        .filter(|one| one.waits())
        .count();
    html! { (unanswered(waiting)) @for row in rows(desk, &cars, &shown) { (row) } }.into_response()
}

/// How the cars of a list stand that are named by their keys.
pub(crate) fn how_they_stand(desk: &Desk, query: &str) -> Response {
    let Ok(listed) = desk.list_of_late() else {
        return stands::GONE.into_response();
    };
    stands::of_the_list(&listed, &named(&listed, query))
        .word
        .into_response()
}

/// The cars that an address names by their keys, in the folder's order, at most a page of them.
fn named<'l>(listed: &'l Listed, query: &str) -> Vec<(&'l CarFolder, &'l str)> {
    let keys = form_urlencoded::parse(query.as_bytes()).find(|(name, _)| name == "cars");
    let keys = keys.map_or_else(String::new, |(_, keys)| keys.into_owned());
    let keys: Vec<&str> = keys.split('.').take(A_PAGE).collect();
    let wanted = listed.cars.iter().filter(|(_, key)| keys.contains(&key.as_str()));
    wanted
        .map(|(car, key)| (car, key.as_str()))
        .take(A_PAGE)
        .collect()
}

/// Search and order: a form that works without script.
fn choice(asked: &Asked, all: usize) -> Markup {
    html! {
        @if all > 1 {
            form class="choose-cars" method="get" action="/" role="search" {
                span class="field" {
                    label for="search" { "Name" }
                    input type="text" id="search" name="search" maxlength="60" autocomplete="off" value=(asked.search);
                }
                span class="field" {
                    label for="sort" { "Sorted by" }
                    select id="sort" name="sort" {
                        @for (order, word, says) in Order::ALL { option value=(word) selected[order == asked.order] { (says) } }
                    }
                }
                button type="submit" { "Show" }
            }
        }
    }
}

/// How many there are, and of what the order is made.
fn told(asked: &Asked, found: &[&One<'_>], all: usize, waiting: usize) -> Markup {
    let oldest = found
        .iter()
        .filter_map(|one| one.known.as_ref())
        .map(|known| known.answer.made_on)
        .min();
    html! {
        p class="source" id="counted" role="status" {
            @if asked.search.is_empty() { (all) " " (wording::counted(all, "car", "cars")) "." }
            @else { (found.len()) " of " (all) " cars with “" (asked.search) "”." }
            (unanswered(waiting))
            @if asked.order != Order::Name {
                @if let Some(oldest) = oldest { " Sorted by answers as of " (oldest) " and later; a car that is shown is looked at anew." }
            }
        }
    }
}

/// How many cars nobody knows anything of yet.
fn unanswered(waiting: usize) -> Markup {
    html! { span id="unanswered" { @if waiting > 0 { " " (waiting) " not answered yet." } } }
}

/// From page to page.
fn turned(asked: &Asked, pages: usize) -> Markup {
    html! {
        @if pages > 1 {
            nav class="keys" aria-label="Pages" {
                @if asked.page > 1 { a class="key" rel="prev" href=(asked.address(asked.page - 1)) { "Page " (asked.page - 1) } }
                span class="now" { "Page " (asked.page) " of " (pages) }
                @if asked.page < pages { a class="key" rel="next" href=(asked.address(asked.page + 1)) { "Page " (asked.page + 1) } }
            }
        }
    }
}

/// Rows, each held against its files; what does not hold is wanted anew, these first.
fn rows(desk: &Desk, cars: &Cars, shown: &[(&CarFolder, &str)]) -> Vec<Markup> {
    let made_for = desk.made_for();
    let mut wanted = Vec::new();
    let rows = shown
        .iter()
        .map(|(car, key)| {
            let stands = desk.board.check(cars, car, &made_for);
            if matches!(stands, Stands::AsOf(..) | Stands::NotYet) {
                wanted.push(car.name().to_owned());
            }
            one(desk, car, key, &stands)
        })
        .collect();
    desk.board.want_at_once(&wanted);
    rows
}

fn one(desk: &Desk, car: &CarFolder, key: &str, stands: &Stands) -> Markup {
    let name = car.name();
    let waits = matches!(stands, Stands::AsOf(..) | Stands::NotYet);
    html! {
        article class="one-car" id={ "car-" (key) } data-waits=[waits.then_some(key)] {
            @match stands {
                Stands::Good(known) => (says(name, &known.row)),
                Stands::AsOf(known, older) => {
                    (says(name, &known.row))
                    p class="as-of" {
                        strong { "As of " (known.answer.made_on) "." } " Since then " (older.words()) ". It is being answered anew" span class="without-script" { "; load the page again to see" } "."
                    }
                },
                Stands::NotYet => {
                    (head(name, &glance(desk, car), "assessment"))
                    p class="as-of" { strong { "Not answered yet." } " It is being worked out" span class="without-script" { "; load the page again to see" } "." }
                },
                Stands::Unread(Stop::Wrong(wrong) | Stop::File(wrong)) => {
                    h2 { a href=(path(name, "assessment")) { (name) } }
                    p class="sentence" { "Its sheet is not read." }
                    @for trouble in &wrong.troubles {
                        p { (wording::capital(&trouble.text)) "." }
                        p class="do" { strong { "Do: " } (trouble.remedy) }
                    }
                },
            }
        }
    }
}

/// What a car is called that is not answered: as its sheet says, where that reads.
fn glance(desk: &Desk, car: &CarFolder) -> (String, Option<String>) {
    desk.counts.opened();
    let assembled = Sheet::read(car.clone())
        .ok()
        .and_then(|sheet| sheet.read.assemble().ok());
    assembled.map_or_else(
        || (car.name().to_owned(), None),
        |assembled| {
            let car = assembled.car;
            (car.name.to_string(), car.build.map(|build| build.to_string()))
        },
    )
}

fn head(folder: &str, (name, build): &(String, Option<String>), room: &str) -> Markup {
    html! {
        div class="who" {
            h2 { a href=(path(folder, room)) { (name) } }
            @if let Some(build) = build { p class="build" { (build) } }
        }
    }
}

fn says(folder: &str, row: &Row) -> Markup {
    let link = path(folder, "assessment");
    html! {
        @match &row.says {
            Says::Answer(answered) => {
                (head(folder, &(row.name.clone(), row.build.clone()), "assessment"))
                (answer(answered, &link))
            },
            Says::Unfinished(short) => {
                h2 { a href=(path(folder, on_the_car::SLUG)) { (row.name) } }
                p class="sentence" { (short) "." }
            },
            Says::Faults(count) => {
                h2 { a href=(link) { (row.name) } }
                p class="sentence" { "Its sheet has " (count) " " (wording::counted(*count, "fault", "faults")) "." }
            },
        }
    }
}

fn answer(answered: &Answered, link: &str) -> Markup {
    html! {
        div class="word" {
            @if let Some((slug, title, more)) = &answered.stop { (findings::stop_line(slug, title, *more, link)) }
            (look::stamp(&answered.word, answered.frame.into()))
        }
        dl class="row-figures" {
            @for (name, text) in &answered.figures { div { dt { (name) } dd { (text) } } }
        }
        div class="then" {
            p { strong { "Next: " } (answered.next) }
            @if let Some((soon, what, more)) = &answered.due
                && *soon != HowSoon::NotKnown
            {
                p { strong class="weight" { "due " (soon.word()) } " " (what) @if *more > 0 { ", and " (more) " more" } }
            }
            @if let Some((weight, title)) = &answered.worst { p { strong class="weight" { (weight) } " " (title) } }
        }
    }
}
