//! The page of `lever`.

use asked::{Opened, Units};
use engine::car::{Car, Centre};
use engine::lever::{Outcome as Happens, ToLock};

use super::page::{Page, Stroke};
use super::{ink, leaned, ranges, title, words};
use asked::answers::lever::{Outcome, what_it_takes};

/// One sentence, warm and cold against what there is, the coupling, the other layout, and what it all rests on.
pub(crate) fn page(opened: &Opened, outcome: &Outcome, units: &Units) -> String {
    let mut page = Page::default();
    title::onto(&mut page, opened, units);
    page.gap();
    let car = opened.car();
    page.paragraph(ink::heavy, &outcome.sentence(car, units));
    ranges::lever(&mut page, outcome.headline.as_ref(), units);
    page.gap();
    page.rule(Stroke::Hand, "handbrake: to stop the rear wheels");
    let Some(lever) = &car.lever else {
        return page.into_text();
    };
    page.labelled(
        "there is",
        &format!(
            "{} of hand, {} of room at the grip",
            words::pull(outcome.pull.hand, units),
            words::figure(lever.room.m(), units.length)
        ),
    );
    page.labelled("warm", &what_it_takes(&outcome.answer.to_lock, units));
    page.labelled("cold", &what_it_takes(&outcome.answer.cold, units));
    page.gap();
    page.rule(Stroke::Rear, "rear axle, standing");
    torque(&mut page, &outcome.answer.to_lock, units);
    coupling(&mut page, car, outcome);
    if let Some((layout, other)) = &outcome.other {
        page.heading(&format!("The {layout} layout instead"));
        page.labelled("warm", &what_it_takes(&other.to_lock, units));
        page.labelled("cold", &what_it_takes(&other.cold, units));
    }
    page.gap();
    page.plain("A lever latched on pressure is not a parking brake: chocks, in gear, level ground.");
    leaned::foot(&mut page, &opened.assembled);
    page.into_text()
}

fn torque(page: &mut Page, to_lock: &ToLock, units: &Units) {
    let torque = |torque_nm: f64| words::figure(torque_nm, units.torque);
    let ground_nm = to_lock.torque_needed.nm() - to_lock.of_which_coupling.nm();
    page.labelled(
        "needed",
        &format!(
            "{}: ground {}, centre {}",
            torque(to_lock.torque_needed.nm()),
            torque(ground_nm),
            torque(to_lock.of_which_coupling.nm())
        ),
    );
    page.labelled(
        "there is",
        &format!("{} at the driver's pull", torque(to_lock.torque_there_is.nm())),
    );
    page.labelled(
        "load",
        &format!(
            "{} on the rear axle, {} deceleration",
            words::scales(to_lock.rear_load, units),
            words::rate(to_lock.rate)
        ),
    );
}

fn coupling(page: &mut Page, car: &Car, outcome: &Outcome) {
    if car.drivetrain.centre == Centre::None {
        return;
    }
    page.heading("Centre");
    let to_lock = &outcome.answer.to_lock;
    page.labelled(
        "drags",
        &match to_lock.drag {
            None => "locked: all four have to be stopped".to_owned(),
            Some(drag) => format!(
                "{} of what the front wheels can give: {}",
                words::per_cent(drag),
                words::graded(drag)
            ),
        },
    );
    if let Some(reading) = &to_lock.reading {
        page.labelled("read", &words::read_as(reading));
    }
    for (reading, other) in &outcome.answer.also {
        let verdict = match other.outcome {
            Happens::Rear => "the rear stops",
            Happens::AllFour => "all four stop",
            Happens::None => "nothing stops",
        };
        let drag = other
            .drag
            .map_or_else(String::new, |drag| format!(", drags {}", words::per_cent(drag)));
        page.labelled("if", &format!("{}: {verdict}{drag}", words::if_read(reading)));
    }
    page.labelled(
        "clutch",
        "takes the engine away, not the centre: pulling it changes nothing of this",
    );
}
