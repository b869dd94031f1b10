//! Handles: what can be moved on a page, as controls of a plain form. With the script the answer follows while one moves.

use maud::{Markup, html};
use questions::options::{self, NO_CREW, Row, Slide};

use super::asking::names;
use super::visit::Visit;

/// One of them.
#[derive(Clone, Copy)]
pub(crate) struct Handle {
    row: &'static Row,
    /// Where it stands while nobody has touched it, where the room alone knows.
    untouched: Option<f64>,
}

/// The form with its handles.
pub(crate) fn form(visit: &Visit<'_>, path: &str, handles: &[Handle]) -> Markup {
    if handles.is_empty() {
        return html! {};
    }
    html! {
        form class="handles" id="handles" method="get" action=(path) data-live {
            @for handle in handles { (one(visit, *handle)) }
            @for with in visit.asking.with() { input type="hidden" name="with" value=(with); }
            // What another room asks stays said.
            @for name in names() {
                @if !handles.iter().any(|handle| handle.name() == name)
                    && let Some(said) = visit.asking.get(&name)
                {
                    input type="hidden" name=(name) value=(said);
                }
            }
            div class="keys" {
                button type="submit" class="without-script" { "Ask" }
                @if !visit.asking.says_nothing() {
                    a class="key" href=(path) { "As the sheet has it" }
                }
            }
        }
    }
}

impl Handle {
    /// The handle of an option.
    pub(crate) const fn of(row: &'static Row) -> Self {
        Self { row, untouched: None }
    }

    /// One that stands somewhere of the room's own while nobody has touched it.
    pub(crate) const fn untouched(row: &'static Row, stands: f64) -> Self {
        Self {
            row,
            untouched: Some(stands),
        }
    }

    fn is_said(self, visit: &Visit<'_>) -> bool {
        visit.said.has(self.row)
    }

    fn name(self) -> String {
        self.row.name.replace('-', "_")
    }
}

fn one(visit: &Visit<'_>, handle: Handle) -> Markup {
    match handle.row.handle {
        None => html! {},
        Some(options::Handle::Surfaces) => surface(visit),
        Some(options::Handle::Cars) => against(visit),
        Some(options::Handle::Stages) => {
            let own = questions::heat::own_stages(&visit.opened);
            let built_in = sheet::BUILT_IN_STAGES.iter().map(|(name, _)| *name);
            let all: Vec<&str> = built_in.chain(own.iter().map(String::as_str)).collect();
            choice(visit, &handle.name(), "Stage", &all)
        }
        Some(options::Handle::Choice(label, choices)) => choice(visit, &handle.name(), label, choices),
        Some(options::Handle::Tick(label)) => {
            let state = &visit.opened.state;
            let on = if core::ptr::eq(handle.row, &NO_CREW) {
                !state.conditions.aboard.crew
            } else {
                state.conditions.warmth == engine::brake::Warmth::Cold
            };
            tick(&handle.name(), label, on)
        }
        Some(options::Handle::Slide(slide)) => slide(&visit.case()).map_or_else(
            || html! {},
            |slide| {
                let stands = slide
                    .stands
                    .filter(|_| handle.is_said(visit))
                    .or(handle.untouched)
                    .or(slide.stands)
                    .unwrap_or(slide.low);
                self::slide(visit, &handle.name(), &slide, stands)
            },
        ),
    }
}

/// A slide between two keys, with its figure. The keys work with the script alone; without it the slide does.
fn slide(visit: &Visit<'_>, name: &str, slide: &Slide, at: f64) -> Markup {
    let id = format!("handle-{name}");
    let stands = plain(at);
    let steps = (at - slide.low) / slide.step;
    let on_a_step = (steps - steps.round()).abs() < 1e-6;
    let step = if on_a_step {
        plain(slide.step)
    } else {
        "any".to_owned()
    };
    let said = figure(slide, at);
    let touched = visit.asking.get(name).is_some();
    // A figure beyond the slide's ends is still the figure.
    let (low, high) = (slide.low.min(at), slide.high.max(at));
    html! {
        div class="handle" {
            label for=(id) { (slide.label) }
            output for=(id) { (said) }
            div class="track" {
                button type="button" class="nudge with-script" data-nudge=(plain(-slide.step)) data-of=(id)
                    aria-label={ (slide.label) ", less" } hidden { "−" }
                input type="range" id=(id) name=(name) min=(plain(low)) max=(plain(high)) step=(step)
                    value=(stands) aria-valuetext=(said) data-places=(slide.places)
                    data-unit=(slide.shown) data-factor=(plain(slide.factor)) data-touched[touched];
                button type="button" class="nudge with-script" data-nudge=(plain(slide.step)) data-of=(id)
                    aria-label={ (slide.label) ", more" } hidden { "+" }
            }
            @if !touched { input type="hidden" name={ "stood." (name) } value=(stands); }
        }
    }
}

fn figure(slide: &Slide, value: f64) -> String {
    let shown = format!("{:.*}", slide.places, value * slide.factor);
    // Degrees of an angle follow the number at once.
    if matches!(slide.shown, "" | "°") {
        format!("{shown}{}", slide.shown)
    } else {
        format!("{shown}\u{a0}{}", slide.shown)
    }
}

/// As a form sends it: digits enough, none too many.
fn plain(value: f64) -> String {
    let text = format!("{value:.6}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

fn surface(visit: &Visit<'_>) -> Markup {
    let now = &visit.opened.state.surface.name;
    html! {
        div class="handle" {
            label for="handle-surface" { "Ground" }
            select id="handle-surface" name="surface" {
                @for surface in &visit.opened.car().surfaces {
                    option value=(surface.name) selected[surface.name == *now] { (surface.name) }
                }
            }
            @if visit.asking.get("surface").is_none() {
                input type="hidden" name="stood.surface" value=(now);
            }
        }
    }
}

fn choice(visit: &Visit<'_>, name: &str, label: &str, choices: &[&str]) -> Markup {
    let usual = choices.first().copied().unwrap_or_default();
    let said = visit.asking.get(name);
    let now = said.unwrap_or(usual);
    let id = format!("handle-{name}");
    html! {
        div class="handle" {
            label for=(id) { (label) }
            select id=(id) name=(name) {
                @if !choices.contains(&now) { option value=(now) selected { (now) } }
                @for choice in choices { option value=(choice) selected[*choice == now] { (choice) } }
            }
            @if said.is_none() { input type="hidden" name={ "stood." (name) } value=(usual); }
        }
    }
}

fn against(visit: &Visit<'_>) -> Markup {
    let now = visit.asking.get("against").unwrap_or_default();
    let cars: Vec<String> = visit
        .desk
        .cars()
        .map(|cars| cars.list().map(|list| list.found).unwrap_or_default())
        .unwrap_or_default()
        .iter()
        .map(|car| car.name().to_owned())
        .collect();
    html! {
        div class="handle" {
            label for="handle-against" { "Beside it" }
            select id="handle-against" name="against" {
                option value="" selected[now.is_empty()] { "nothing" }
                @for car in &cars {
                    option value=(car) selected[car == now] {
                        (car) @if car == visit.name() { ", as its sheet has it" }
                    }
                }
            }
        }
    }
}

fn tick(name: &str, label: &str, on: bool) -> Markup {
    html! {
        label class="tick" {
            input type="checkbox" name=(name) value="1" checked[on];
            span { (label) }
        }
    }
}
