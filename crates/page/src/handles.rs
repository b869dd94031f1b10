//! Handles: what can be moved on a page, as controls of a plain form. With the script the answer follows while one moves.

use engine::brake::Warmth;
use engine::car::KnobScale;
use maud::{Markup, html};
use quantity::{Dimension, Unit, find_unit, units_of};

use crate::visit::{Visit, turns};

/// One of them.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Handle {
    Surface,
    Grip,
    Fuel,
    Speed,
    /// The foot; where nobody has touched it, so many newtons.
    Foot(f64),
    Hand,
    Valve,
    Wanted,
    Crew,
    Warmth,
    /// Steer of the front wheels, in degrees where nobody has touched it.
    Steer(f64),
    /// When the lever is let go, in seconds where nobody has touched it.
    Release(f64),
    Clutch,
    /// Another car, or the sheet's own, beside this one.
    Against,
}

/// A handle that slides.
struct Slide {
    name: &'static str,
    label: &'static str,
    /// From, to, step, stands at; in the unit of the address.
    low: f64,
    high: f64,
    step: f64,
    stands: f64,
    places: usize,
    /// What the figure is shown in, and how many of them one of the address is.
    shown: &'static str,
    factor: f64,
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
            @for name in crate::asking::names() {
                @if !handles.iter().any(|handle| handle.name() == name)
                    && let Some(said) = visit.asking.get(name)
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
    const fn name(self) -> &'static str {
        match self {
            Self::Surface => "surface",
            Self::Grip => "grip",
            Self::Fuel => "fuel",
            Self::Speed => "speed",
            Self::Foot(_) => "foot",
            Self::Hand => "hand",
            Self::Valve => "valve",
            Self::Wanted => "wanted",
            Self::Crew => "no_crew",
            Self::Warmth => "cold",
            Self::Steer(_) => "steer",
            Self::Release(_) => "release",
            Self::Clutch => "clutch",
            Self::Against => "against",
        }
    }
}

fn one(visit: &Visit<'_>, handle: Handle) -> Markup {
    match handle {
        Handle::Surface => surface(visit),
        Handle::Wanted => wanted(visit),
        Handle::Clutch => clutch(visit),
        Handle::Against => against(visit),
        Handle::Crew => tick(handle, "Nobody aboard", !visit.opened.state.crew),
        Handle::Warmth => tick(handle, "Brakes cold", visit.opened.state.warmth == Warmth::Cold),
        _ => slide_of(visit, handle).map_or_else(|| html! {}, |slide| self::slide(visit, &slide)),
    }
}

fn slide_of(visit: &Visit<'_>, handle: Handle) -> Option<Slide> {
    let force = |unit: Unit| (unit.shown(), unit.from_si(1.0));
    let (force, newton) = force(visit.units.force);
    Some(match handle {
        Handle::Grip => Slide {
            name: "grip",
            label: "Grip",
            low: 0.05,
            high: 1.3,
            step: 0.01,
            stands: visit.opened.state.surface.peak,
            places: 2,
            shown: "",
            factor: 1.0,
        },
        Handle::Fuel => {
            let tank = visit.opened.car().load.tank?;
            let litre = unit("L", Dimension::Volume);
            let mine = visit.units.fuel;
            Slide {
                name: "fuel",
                label: "Fuel",
                low: 0.0,
                high: litre.from_si(tank.capacity.m3()),
                step: 0.5,
                stands: litre.from_si(visit.opened.state.laden.fuel.m3()),
                places: 1,
                shown: mine.shown(),
                factor: mine.from_si(litre.to_si(1.0)),
            }
        }
        Handle::Speed => Slide {
            name: "speed",
            label: "Speed",
            low: 10.0,
            high: 120.0,
            step: 1.0,
            stands: visit.speed().m_s() * 3.6,
            places: 0,
            shown: "km/h",
            factor: 1.0,
        },
        Handle::Foot(untouched_n) => Slide {
            name: "foot",
            label: "Foot",
            low: 0.0,
            high: 1000.0,
            step: 1.0,
            stands: visit.foot().map_or_else(|| untouched_n.round(), |foot| foot.n()),
            places: 0,
            shown: force,
            factor: newton,
        },
        Handle::Hand => {
            visit.opened.car().lever.as_ref()?;
            Slide {
                name: "hand",
                label: "Hand",
                low: 0.0,
                high: 500.0,
                step: 1.0,
                stands: visit.pull().n(),
                places: 0,
                shown: force,
                factor: newton,
            }
        }
        Handle::Valve => {
            let (scale, setting) = visit.knob()?;
            let (low, high, step, places, shown) = match (turns(scale), scale) {
                (Some(most), _) => (0.0, most.turns(), 0.05, 2, "turns"),
                (None, KnobScale::Positions(most)) => (1.0, f64::from(most), 1.0, 0, ""),
                (None, KnobScale::Turns(_)) => return None,
            };
            Slide {
                name: "valve",
                label: if shown.is_empty() {
                    "Valve, position"
                } else {
                    "Valve"
                },
                low,
                high,
                step,
                stands: setting,
                places,
                shown,
                factor: 1.0,
            }
        }
        Handle::Steer(untouched_deg) => Slide {
            name: "steer",
            label: "Steer, left",
            low: 0.0,
            high: 35.0,
            step: 0.5,
            stands: said(visit, "steer", Dimension::Angle, "deg").unwrap_or(untouched_deg),
            places: 1,
            shown: "°",
            factor: 1.0,
        },
        Handle::Release(untouched_s) => Slide {
            name: "release",
            label: "Let go after",
            low: 0.6,
            high: 6.0,
            step: 0.05,
            stands: said(visit, "release", Dimension::Duration, "s").unwrap_or(untouched_s),
            places: 2,
            shown: "s",
            factor: 1.0,
        },
        Handle::Surface
        | Handle::Wanted
        | Handle::Crew
        | Handle::Warmth
        | Handle::Clutch
        | Handle::Against => return None,
    })
}

/// A slide between two keys, with its figure. The keys work with the script alone; without it the slide does.
fn slide(visit: &Visit<'_>, slide: &Slide) -> Markup {
    let id = format!("handle-{}", slide.name);
    let stands = plain(slide.stands);
    let steps = (slide.stands - slide.low) / slide.step;
    let on_a_step = (steps - steps.round()).abs() < 1e-6;
    let step = if on_a_step {
        plain(slide.step)
    } else {
        "any".to_owned()
    };
    let said = figure(slide, slide.stands);
    let touched = visit.asking.get(slide.name).is_some();
    // A figure beyond the slide's ends is still the figure.
    let (low, high) = (slide.low.min(slide.stands), slide.high.max(slide.stands));
    html! {
        div class="handle" {
            label for=(id) { (slide.label) }
            output for=(id) { (said) }
            div class="track" {
                button type="button" class="nudge with-script" data-nudge=(plain(-slide.step)) data-of=(id)
                    aria-label={ (slide.label) ", less" } hidden { "−" }
                input type="range" id=(id) name=(slide.name) min=(plain(low)) max=(plain(high)) step=(step)
                    value=(stands) aria-valuetext=(said) data-places=(slide.places)
                    data-unit=(slide.shown) data-factor=(plain(slide.factor)) data-touched[touched];
                button type="button" class="nudge with-script" data-nudge=(plain(slide.step)) data-of=(id)
                    aria-label={ (slide.label) ", more" } hidden { "+" }
            }
            @if !touched { input type="hidden" name={ "stood." (slide.name) } value=(stands); }
        }
    }
}

fn figure(slide: &Slide, value: f64) -> String {
    let shown = format!("{:.*}", slide.places, value * slide.factor);
    if slide.shown.is_empty() {
        shown
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

fn wanted(visit: &Visit<'_>) -> Markup {
    const WISHES: [&str; 7] = [
        "front-first 10 %",
        "front-first 7 %",
        "front-first 5 %",
        "front-first 3 %",
        "even",
        "rear-first 3 %",
        "rear-first 5 %",
    ];
    let now = visit.wanted();
    html! {
        div class="handle" {
            label for="handle-wanted" { "Wanted at first lock" }
            select id="handle-wanted" name="wanted" {
                @if !WISHES.contains(&now) { option value=(now) selected { (now) } }
                @for wish in WISHES { option value=(wish) selected[wish == now] { (wish) } }
            }
            @if visit.asking.get("wanted").is_none() {
                input type="hidden" name="stood.wanted" value=(now);
            }
        }
    }
}

fn clutch(visit: &Visit<'_>) -> Markup {
    let up = visit.asking.get("clutch") == Some("up");
    html! {
        div class="handle" {
            label for="handle-clutch" { "Clutch" }
            select id="handle-clutch" name="clutch" {
                option value="down" selected[!up] { "down" }
                option value="up" selected[up] { "up" }
            }
            @if visit.asking.get("clutch").is_none() { input type="hidden" name="stood.clutch" value="down"; }
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

/// A figure of the address in a unit; `None` where it is not said, or not so.
fn said(visit: &Visit<'_>, name: &str, dimension: Dimension, symbol: &str) -> Option<f64> {
    let amount = quantity::parse(&visit.asking.text(name)?, dimension).ok()?;
    Some(unit(symbol, dimension).from_si(amount.si))
}

fn tick(handle: Handle, label: &str, on: bool) -> Markup {
    html! {
        label class="tick" {
            input type="checkbox" name=(handle.name()) value="1" checked[on];
            span { (label) }
        }
    }
}

fn unit(symbol: &str, dimension: Dimension) -> Unit {
    find_unit(symbol, dimension).unwrap_or(units_of(dimension)[0])
}
