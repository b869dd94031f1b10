//! "What do I buy and cut?": what comes out, parts to tick off, lengths, joints, the drawing, the layouts side by side.

use engine::balance::FOOT_LIMIT_ROAD;
use maud::{Markup, html};
use plumbing::prices::Prices;
use plumbing::{FOR_BENDS, FOR_HOSE, Made, PER_FLARE, Plumbing, pipe_name, run_words};
use proving::Fact;
use questions::answers::lines::{
    Outcome, band_words, column, counted, cut_words, hand_after_leak, layout_rows, meets_words, money,
    prices, pull_of, spec_words, unlisted, wheels_words,
};
use questions::{History, Stop, Wrong};

use super::{Room, Said};
use crate::car::handles::Handle;
use crate::car::visit::{Visit, told_of};
use crate::car::writing::Writing;
use crate::car::{forms, pictures};
use crate::shell::parts;

const SLUG: &str = "lines";

pub(crate) struct Lines;

impl Room for Lines {
    fn slug(&self) -> &'static str {
        SLUG
    }

    fn question(&self) -> &'static str {
        "What do I buy and cut?"
    }

    fn short(&self, visit: &Visit<'_>) -> String {
        let plumbing = &visit.proving().plumbing;
        if plumbing.unlisted.is_empty() {
            outcome(visit, Prices::default()).short()
        } else {
            "a port is not listed".to_owned()
        }
    }

    fn handles(&self, _visit: &Visit<'_>) -> Vec<Handle> {
        Vec::new()
    }

    fn say(&self, visit: &Visit<'_>) -> Said {
        let none = |answer| Said {
            answer,
            plan: None,
            picture: None,
            more: html! {},
        };
        let plumbing = &visit.proving().plumbing;
        let mut wrong = unlisted(&visit.opened, plumbing);
        if let Some(stop) = &visit.history().lost {
            wrong.add(told_of(stop));
        }
        let prices = match prices(&visit.desk.folder, &mut wrong) {
            Ok(prices) => prices,
            Err(stop) => {
                wrong.add(told_of(&stop));
                Prices::default()
            }
        };
        if !plumbing.unlisted.is_empty() {
            return none(html! { p class="sentence" { "No list can be made." } (parts::wrong(&wrong)) });
        }
        let outcome = outcome(visit, prices);
        Said {
            answer: html! {
                @if let Some(stop) = visit.glanced().and_then(|assessed| assessed.assessment.stop_first()) {
                    p class="finding stop" { strong { (stop) } }
                }
                p class="sentence" { (outcome.sentence()) }
                @if let Some(said) = outcome.idle_prices() { p { "prices: " (said) } }
                @if !wrong.is_empty() { (parts::wrong(&wrong)) }
            },
            plan: Some(html! {
                (pictures::small_picture(visit, "plan-above", |look| questions::picture::circuit(&visit.opened, look)))
                p { a class="key" href="#lines-drawing" { "Enlarge it, with every joint" } }
            }),
            picture: Some(html! {
                @if !outcome.comes_out.is_empty() {
                    h2 { "What comes out" }
                    dl class="facts" {
                        @for part in &outcome.comes_out {
                            div { dt { (part.part) } dd { (part.did) "; in its place: " (part.replaced_by) } }
                        }
                    }
                }
            }),
            more: html! {
                (parts_to_buy(visit, &outcome))
                (cuts(visit, &outcome))
                (joints(visit, &outcome))
                (rules(&outcome))
                (rest(visit, &outcome))
                (layouts(visit, &outcome))
            },
        }
    }

    /// A tick that is set is an entry; one that is taken back strikes it.
    fn write(&self, writing: &Writing<'_>) -> Result<Vec<i64>, Stop> {
        let got = writing.sent.get("got");
        let on = writing.sent.get("now") != "off";
        let Some(visit) = writing.visit() else {
            if on {
                return writing.note(&[Fact::Got { what: got.to_owned() }]);
            }
            let what = "which entry this tick is cannot be seen while the sheet does not read".to_owned();
            let remedy = "put the sheet right; this waits until then".to_owned();
            return Err(Stop::File(Wrong::plain(SLUG, "not-now", what, remedy)));
        };
        let plumbing = &visit.proving().plumbing;
        let known = plumbing.parts.iter().any(|part| part.kind.code() == got)
            || plumbing.cuts.iter().any(|cut| cut.run == got);
        if !known {
            let what = format!("`{got}` is on no list of this car any more");
            return Err(Wrong::plain(SLUG, "not-listed", what, "load the page again".to_owned()).into());
        }
        let ticked = ticked(visit.history().whole().map_err(Clone::clone)?, got);
        match (on, ticked.last()) {
            (false, Some(&entry)) => writing.strike(entry, "ticked by mistake"),
            (false, None) => Ok(Vec::new()),
            (true, Some(&entry)) => Ok(vec![entry]),
            (true, None) => writing.note(&[Fact::Got { what: got.to_owned() }]),
        }
    }
}

fn outcome(visit: &Visit<'_>, prices: Prices) -> Outcome {
    let pull = pull_of(&visit.opened, visit.hand(), visit.speed());
    Outcome::of(&visit.opened, pull, prices)
}

/// Entries that tick something off, oldest first.
fn ticked(history: &History, got: &str) -> Vec<i64> {
    history
        .noted
        .iter()
        .filter(|noted| matches!(&noted.fact, Fact::Got { what } if what == got))
        .map(|noted| noted.id)
        .collect()
}

/// Whether it is ticked off, as far as the logbook reads.
fn has_ticked(visit: &Visit<'_>, got: &str) -> bool {
    !ticked(visit.history(), got).is_empty()
}

/// A key that is on or off, and stays so.
fn tick(visit: &Visit<'_>, number: usize, got: &str, label: &str) -> Markup {
    let on = has_ticked(visit, got);
    forms::writes(
        visit,
        SLUG,
        "tick-off",
        number,
        &html! {
            input type="hidden" name="got" value=(got);
            input type="hidden" name="now" value=(if on { "off" } else { "on" });
            button type="submit" aria-pressed=(on.to_string()) aria-label={ (label) @if on { ": got" } @else { ": not yet" } } {
                (if on { "✓" } else { "\u{a0}" })
            }
        },
    )
}

fn parts_to_buy(visit: &Visit<'_>, outcome: &Outcome) -> Markup {
    let (prices, parts) = (&outcome.prices, &outcome.plumbing.parts);
    let got = parts
        .iter()
        .filter(|part| has_ticked(visit, &part.kind.code()))
        .count();
    html! {
        section aria-labelledby="buy" {
            h2 id="buy" { "What to buy" }
            p { (got) " of " (parts.len()) " kinds are ticked off. A tick is an entry of the logbook." }
            ul class="ticks" {
                @for (number, part) in parts.iter().enumerate() {
                    li {
                        (tick(visit, number, &part.kind.code(), &part.kind.what()))
                        span {
                            strong { (counted(part)) " " (part.kind.what()) } ": " (part.kind.spec())
                            @if let Some(each) = prices.each(part) { " (" (money(each * part.count, &prices.currency)) ")" }
                        }
                    }
                }
            }
            @for missing in outcome.not_listed() { p { strong { (missing) } } }
            @if let Some(stays) = outcome.stays() { p { (stays) } }
            @match prices.cost(parts) {
                Some(cost) => p {
                    "Together " (money(cost.sum, &prices.currency))
                    @if cost.without > 0 { ", without " (cost.without) " that have no price yet" } "."
                },
                None => p { "No prices: write your own under " code { "[prices]" } " in preferences.toml beside the cars." },
            }
        }
    }
}

fn cuts(visit: &Visit<'_>, outcome: &Outcome) -> Markup {
    let first = outcome.plumbing.parts.len();
    html! {
        section aria-labelledby="cut" {
            h2 id="cut" { "How long to cut" }
            ul class="ticks" {
                @for (number, cut) in outcome.plumbing.cuts.iter().enumerate() {
                    @let [measured, to] = cut_words(cut, &visit.units);
                    li {
                        @if cut.cut().is_some() { (tick(visit, first + number, &cut.run, &run_words(&cut.run))) }
                        @else { span class="no-tick" { "–" } }
                        span {
                            strong { (run_words(&cut.run)) }
                            @if cut.made == Made::Direct { ": one part screwed right onto the other" }
                            @else if cut.cut().is_some() { ": measured " (measured) ", cut " strong { (to) } ", " (pipe_name(cut.pipe)) }
                            @else { ": " strong { (to) } ", " (pipe_name(cut.pipe)) }
                        }
                    }
                }
            }
            p class="source" {
                "Pipe: " (format!("{:.0}", 100.0 * FOR_BENDS)) " % for bends and " (format!("{:.0}", 1e3 * PER_FLARE.m()))
                " mm a flare on top. Hose: seat to seat, " (format!("{:.0}", 100.0 * FOR_HOSE))
                " % on top, since it shortens under pressure and has to move."
            }
        }
    }
}

fn joints(visit: &Visit<'_>, outcome: &Outcome) -> Markup {
    let plumbing: &Plumbing = &outcome.plumbing;
    let rows: Vec<Vec<String>> = plumbing
        .joints
        .iter()
        .map(|joint| {
            vec![
                joint.number.to_string(),
                format!(
                    "{}, {}",
                    joint.place,
                    run_words(&plumbing.circuit.runs[joint.run].name)
                ),
                spec_words(joint),
                meets_words(joint),
                band_words(joint, &visit.units).unwrap_or_else(|| "–".to_owned()),
                if joint.in_cabin { "in the cabin" } else { "–" }.to_owned(),
            ]
        })
        .collect();
    html! {
        section aria-labelledby="joints" {
            h2 id="joints" { "Every joint" }
            figure class="drawn lines" id="lines-drawing" role="region" tabindex="0" aria-label="Drawing of the pipes" {
                (maud::PreEscaped(questions::picture::lines(&visit.opened, &charts::Look {
                    prefix: "lines",
                    car: &visit.opened.car().name,
                    units: questions::picture::units(&visit.units),
                    head: false,
                    ..charts::Look::default()
                }, plumbing).svg))
            }
            (parts::rows_of_words(
                "Joints as numbered on the drawing; torque is common practice, the maker's figure wins",
                &["No.", "Where", "Thread and seat", "Meets", "Torque", "Cabin"],
                &rows,
            ))
        }
    }
}

fn rules(outcome: &Outcome) -> Markup {
    html! {
        @if !outcome.caught.is_empty() {
            section aria-labelledby="minded" {
                h2 id="minded" { "Mind" }
                @for caught in &outcome.caught {
                    article class="finding fix" {
                        h3 { (caught.rule.title) }
                        p { (parts::coded(caught.rule.because)) }
                        p class="do" { strong { "Do: " } (parts::coded(caught.rule.remedy)) }
                        p class="source" { "At: " (wording::list(&caught.places)) "." }
                    }
                }
            }
        }
    }
}

fn rest(visit: &Visit<'_>, outcome: &Outcome) -> Markup {
    let fluid = &outcome.plumbing.fluid;
    let volume = |m3: f64| wording::figure(m3, visit.units.fluid);
    let mut facts = vec![
        (
            "Fluid",
            format!(
                "{} stand in the lines, {} in the brakes; {} of the lines' in the cabin",
                volume(fluid.lines.m3()),
                volume(fluid.brakes.m3()),
                volume(fluid.cabin_lines.m3())
            ),
        ),
        (
            "Weight",
            format!(
                "{} for pipes, hoses, fittings and the fluid in them",
                wording::figure(outcome.plumbing.mass.kg(), visit.units.mass)
            ),
        ),
    ];
    if let Some(hoses) = &outcome.hoses {
        facts.push((
            "Hoses",
            format!(
                "grow by {} at the driver's pull: {} at the grip, {} of its travel",
                volume(hoses.volume.m3()),
                wording::figure(hoses.travel.m(), visit.units.length),
                wording::per_cent(hoses.share)
            ),
        ));
    }
    html! {
        section aria-labelledby="fluid" { h2 id="fluid" { "Fluid, weight, hoses" } (parts::facts(&facts)) }
        p class="caution" { "Fluid strips paint and hurts eyes: gloves, glasses, water at hand." }
    }
}

fn layouts(visit: &Visit<'_>, outcome: &Outcome) -> Markup {
    let can = || outcome.can.iter().map(|of| &of.layout);
    let head: Vec<&str> = std::iter::once("Compared").chain(can().map(column)).collect();
    let rows: Vec<Vec<String>> = layout_rows(outcome, &visit.units)
        .into_iter()
        .map(|(label, cells)| std::iter::once(label.to_owned()).chain(cells).collect())
        .collect();
    html! {
        section aria-labelledby="layouts" {
            h2 id="layouts" { "Layouts side by side" }
            (parts::rows("The sheet's own first", &head, &rows))
            ul {
                @for layout in can() { @for note in &layout.notes { li { (layout.name()) ": " (note) } } }
                @for other in &outcome.cannot { li { "Not on this car: " (other.name) ": " (other.why) } }
            }
        }
        @if let Some(own) = outcome.can.first() {
            section aria-labelledby="leaks" {
                h2 id="leaks" { "If a run leaks, at " (wording::figure(FOOT_LIMIT_ROAD.n(), visit.units.force)) " of foot" }
                ul {
                    @for failed in &own.leaking {
                        li {
                            (run_words(&failed.run)) ": the foot has " (wheels_words(&failed.foot)) ", "
                            (format!("{:.1}\u{a0}m/s²", failed.rate.m_s2())) "; the hand " (hand_after_leak(failed))
                        }
                    }
                }
            }
        }
    }
}
