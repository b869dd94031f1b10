//! The rooms, a question each. A new one is a module here and a line in [`ALL`].

mod lines;
mod logger;
mod next;
mod prove;
pub(crate) mod question;
mod turn;

pub(crate) mod logbook;
pub(crate) mod sheet;

use charts::Look;
use maud::{Markup, html};
use quantity::si::Force;

use engine::hydraulics::Forces;
use questions::pressures;
use questions::{Stop, Wrong};

use super::handles::Handle;
use super::pictures;
use super::visit::Visit;
use super::writing::Writing;

/// What a room says, in the places that the frame has for it.
pub(crate) struct Said {
    /// The answer, in a sentence or two.
    pub(crate) answer: Markup,
    /// The car from above with this question's figures.
    pub(crate) plan: Option<Markup>,
    /// The picture that moves with the handles.
    pub(crate) picture: Option<Markup>,
    /// Everything else.
    pub(crate) more: Markup,
}

/// One question about a car.
pub(crate) trait Room: Sync {
    /// Its part of the address.
    fn slug(&self) -> &'static str;

    /// As people ask it.
    fn question(&self) -> &'static str;

    /// The present answer in a few words, for the index. It is asked for every page, so that it draws nothing.
    fn short(&self, visit: &Visit<'_>) -> String;

    /// What can be moved here.
    fn handles(&self, visit: &Visit<'_>) -> Vec<Handle>;

    /// The whole answer.
    fn say(&self, visit: &Visit<'_>) -> Said;

    /// Writes down what a form of this room sends: the numbers of the entries. Most rooms have none. A car whose sheet
    /// does not read takes entries too.
    ///
    /// # Errors
    /// Why nothing was written.
    fn write(&self, _writing: &Writing<'_>) -> Result<Vec<i64>, Stop> {
        let what = "nothing is written in this room".to_owned();
        Err(Wrong::plain("form", "no-form", what, "load the page again".to_owned()).into())
    }
}

/// Every room, in the order of the index.
pub(crate) static ALL: &[&dyn Room] = &[
    &question::Asked(&questions::assess::Ask),
    &question::Asked(&questions::sure::Ask),
    &turn::Turn,
    &question::Asked(&questions::balance::Ask),
    &question::Asked(&questions::settings::Ask),
    &question::Asked(&questions::lever::Ask),
    &question::Asked(&questions::size::Ask),
    &question::Asked(&questions::conditions::Ask),
    &question::Asked(&questions::compare::Ask),
    &question::Asked(&pressures::Ask),
    &question::Asked(&questions::heat::Ask),
    &question::Asked(&questions::hold::Ask),
    &lines::Lines,
    &prove::Prove,
    &question::Asked(&questions::pull::Ask),
    &logger::Logger,
    &next::Next,
    &question::Asked(&questions::symptom::Ask),
    &question::Asked(&questions::leak::Ask),
    &logbook::Logbook,
    &sheet::OnTheCar,
];

/// The room of that name.
pub(crate) fn named(slug: &str) -> Option<&'static dyn Room> {
    ALL.iter().copied().find(|room| room.slug() == slug)
}

/// The pressures that a foot and a hand make, as a strip of four wheels that unfolds to the car from above.
pub(crate) fn plan(visit: &Visit<'_>, foot: Force, hand: Force) -> Markup {
    let outcome = outcome(visit, foot, hand);
    let draw = |look: &Look<'_>| Some(questions::picture::pressures(&visit.opened, look, &outcome));
    pictures::wheels(visit, "plan-above", draw, &says(visit, &outcome)).unwrap_or_default()
}

/// The car from above, as a picture of its own.
pub(crate) fn plan_in_full(visit: &Visit<'_>, foot: Force, hand: Force) -> Markup {
    let outcome = outcome(visit, foot, hand);
    html! {
        (pictures::small_picture(visit, "plan-above", |look| questions::picture::pressures(&visit.opened, look, &outcome)))
        (says(visit, &outcome))
    }
}

fn outcome(visit: &Visit<'_>, foot: Force, hand: Force) -> pressures::Outcome {
    let asked = Forces { foot, hand };
    pressures::Outcome::of(visit.opened.car(), &visit.opened.state, asked, visit.speed())
}

/// What foot and hand do, in a sentence.
fn says(visit: &Visit<'_>, outcome: &pressures::Outcome) -> Markup {
    let Forces { foot, hand } = outcome.asked;
    let hand_works = hand.n() > 0.0 && visit.opened.car().lever.is_some();
    html! {
        p class="plan-says" {
            @if foot.n() > 0.0 && !hand_works { (outcome.push_sentence(&visit.units)) }
            @else if foot.n() > 0.0 {
                (wording::figure(foot.n(), visit.units.force)) " of foot with "
                (outcome.pull_sentence(&visit.opened, &visit.units))
            }
            @else if hand_works { (outcome.pull_sentence(&visit.opened, &visit.units)) }
            @else { "Nobody brakes." }
        }
    }
}

/// The room that a figure's working leads back to: where it is an answer's own.
pub(crate) fn of_figure(figure: &str) -> &'static dyn Room {
    let slug = match figure {
        "mass_kg" | "cg_height_m" | "front_first_by" | "braking_rate" | "foot_force_n" => "balance",
        "knee_pa" => "settings",
        "disc_peak_k" | "cooling_time_s" | "fluid_running_k" | "fluid_soak_k" | "fluid_margin_now_dk" => {
            "heat"
        }
        "over_needed" | "minutes" | "steepest_for_two_minutes" => "hold",
        _ => "lever",
    };
    let named = ALL.iter().find(|room| room.slug() == slug);
    *named.unwrap_or(&ALL[0])
}
