//! What only a run of the turn shows.

use engine::car::Centre;
use engine::figures::Turned;
use engine::thresholds::{FRONT_DRAGGED_FOR, INNER_ALONE_FOR, INNER_ALONE_SHARE, LEVER_GIVES};
use engine::turn::{Turn, TurnFault, TurnVerdict};
use quantity::si::{Angle, Duration};

use super::Seen;
use super::surfaces::OnSurface;
use crate::finding::{Finding, Weight};
use crate::say::{capital, grip, list, percent};

pub(super) fn findings(seen: &Seen<'_>) -> Vec<Finding> {
    let turned = match &seen.figures.turned {
        Ok(turned) => turned,
        Err(TurnFault::NoLever) => return Vec::new(),
        Err(no_turn) => return vec![not_run(no_turn)],
    };
    [
        ploughs(seen, turned),
        little(seen, turned),
        spins(seen, turned),
        front_dragged(seen, turned),
        inner_wheel(seen, turned),
        works_in(seen, turned),
        wavers(turned),
    ]
    .into_iter()
    .flatten()
    .collect()
}

fn not_run(no_turn: &TurnFault) -> Finding {
    Finding::new(
        "turn-not-run",
        Weight::Fix,
        "The turn did not run on this surface",
    )
    .because(format!("Why: {no_turn}."))
    .remedy("Look whether a figure of the sheet is far from what is usual, or ask about another surface.")
}

/// Degrees, without their sign.
pub(crate) fn degrees(angle: Angle) -> String {
    wording::degrees(Angle::from_rad(angle.rad().abs()))
}

/// Heading when the handbrake is let go, or at the end where it is not.
pub(crate) fn heading(turn: &Turn) -> (Angle, Angle) {
    (
        turn.heading.at_release.unwrap_or(turn.heading.end),
        turn.without_lever.at_release.unwrap_or(turn.without_lever.end),
    )
}

/// What keeps a run from coming round, in a sentence; empty where nothing does.
pub(crate) fn short_of(turn: &Turn) -> String {
    let words = turn.judged.short_of.words();
    if words.is_empty() {
        return String::new();
    }
    let words: Vec<String> = words.into_iter().map(str::to_owned).collect();
    format!("{}.", capital(&list(&words)))
}

/// What the pull does to the nose, in a sentence.
pub(crate) fn gave(gave: Angle) -> String {
    let shown = degrees(gave);
    if shown == degrees(Angle::ZERO) {
        "The pull does not move the nose.".to_owned()
    } else if gave > Angle::ZERO {
        format!("The pull points the nose {shown} further into the bend.")
    } else {
        format!("The pull points the nose {shown} out of the bend.")
    }
}

/// How the turn was run.
fn run_from(seen: &Seen<'_>, turn: &Turn) -> String {
    format!(
        "The turn was run from {} on {}, into a bend of {}",
        wording::speed(turn.technique.entry),
        seen.figures.surface.name,
        degrees(turn.technique.bend.angle)
    )
}

fn with_figures(finding: Finding, turn: &Turn) -> Finding {
    let (with, without) = heading(turn);
    finding
        .figure("heading_at_release_rad", with.rad())
        .figure("heading_without_lever_at_release_rad", without.rad())
        .figure("front_speed_ratio", turn.locking.front_speed_ratio)
        .figure("lever_gave_rad", turn.judged.lever_gave.map(Angle::rad))
}

fn ploughs(seen: &Seen<'_>, turned: &Turned) -> Option<Finding> {
    let turn = &turned.turn;
    if turn.verdict != TurnVerdict::Ploughs {
        return None;
    }
    let ratio = turn.locking.front_speed_ratio?;
    let stands = if turn.locking.front_for > Duration::ZERO {
        format!(
            " They are locked for {}.",
            wording::seconds(turn.locking.front_for)
        )
    } else {
        String::new()
    };
    let title = if turn.judged.lever_gave.is_some_and(|gave| gave >= LEVER_GIVES) {
        "The car rotates but ploughs"
    } else {
        "The car ploughs on"
    };
    let free = turned.uncoupled.map_or_else(String::new, |free| {
        format!(" With the axles free it {}.", free.verdict.words())
    });
    let remedy = if seen.car.drivetrain.centre == Centre::None {
        "Pull less, or shorter, or put the clutch down first. What drags the front has to be taken away."
    } else {
        "Fit a centre that lets go while the lever is pulled, or a softer one. A shorter pull ploughs less."
    };
    Some(with_figures(
        Finding::new("turn-ploughs", Weight::Fix, title)
            .because(format!(
                "{}. The front wheels are dragged to {} of their own speed.{stands} Below {} they give no more to the side, \
                 and the car slides straight on.{}{free}",
                run_from(seen, turn),
                percent(ratio),
                percent(turn.front_keeps),
                turn.judged.lever_gave.map_or_else(String::new, |angle| format!(" {}", gave(angle)))
            ))
            .remedy(remedy)
            .figure("front_dragged_for_s", turn.locking.front_dragged_for.s())
            .figure("front_locked_for_s", turn.locking.front_for.s())
            .figure("front_keeps", turn.front_keeps),
        turn,
    ))
}

fn little(seen: &Seen<'_>, turned: &Turned) -> Option<Finding> {
    let turn = &turned.turn;
    if turn.verdict != TurnVerdict::RotatesLittle {
        return None;
    }
    let rear = turn.locking.rear_from.map_or_else(
        || "The rear wheels never both stop".to_owned(),
        |from| {
            format!(
                "The rear locks at {}, for {}",
                wording::seconds(from),
                wording::seconds(turn.locking.rear_for)
            )
        },
    );
    let title = if turn.judged.short_of.lever_gave_less {
        "The handbrake hardly turns the car"
    } else {
        "It turns, and misses the bend"
    };
    Some(with_figures(
        Finding::new("turn-little", Weight::Fix, title)
            .because(format!(
                "{}. {}{} {rear}.",
                run_from(seen, turn),
                short_of(turn),
                turn.judged.lever_gave.map_or_else(String::new, |angle| format!(" {}", gave(angle)))
            ))
            .remedy(
                "Fit more brake behind for the same hand. Or leave it less to hold: a centre that lets go, the \
                 clutch down. Or bring more speed and steer before the pull.",
            ),
        turn,
    ))
}

fn spins(seen: &Seen<'_>, turned: &Turned) -> Option<Finding> {
    let turn = &turned.turn;
    if turn.verdict != TurnVerdict::Spins {
        return None;
    }
    Some(with_figures(
        Finding::new("turn-spins", Weight::Fix, "It spins, whenever the lever is let go")
            .because(format!(
                "{}. It rolls backwards before it is out of the bend, at every moment of letting go that was tried.",
                run_from(seen, turn)
            ))
            .remedy("Come in slower, steer less before the pull, or pull less; there is rotation to spare.")
            .caution("Try it where there is room to spin."),
        turn,
    ))
}

fn front_dragged(seen: &Seen<'_>, turned: &Turned) -> Option<Finding> {
    let turn = &turned.turn;
    let for_s = turn.locking.front_dragged_for;
    if turn.verdict == TurnVerdict::Ploughs || for_s < FRONT_DRAGGED_FOR {
        return None;
    }
    Some(with_figures(
        Finding::new(
            "front-dragged",
            Weight::Know,
            "The pull drags the front for a while",
        )
        .because(format!(
            "{}. Both front wheels roll below {} of their own speed for {}, and do not steer meanwhile.",
            run_from(seen, turn),
            percent(turn.front_keeps),
            wording::seconds(for_s)
        ))
        .remedy("Pull shorter, or take away what ties the front to the rear while the lever is pulled.")
        .figure("front_dragged_for_s", for_s.s()),
        turn,
    ))
}

fn inner_wheel(seen: &Seen<'_>, turned: &Turned) -> Option<Finding> {
    let locking = &turned.turn.locking;
    if locking.inner_only_for < INNER_ALONE_FOR
        || locking.inner_only_for < locking.rear_for * INNER_ALONE_SHARE
    {
        return None;
    }
    let both = if locking.rear_for > Duration::ZERO {
        format!("Both are locked for {}.", wording::seconds(locking.rear_for))
    } else {
        "Both are never locked at once.".to_owned()
    };
    Some(
        Finding::new(
            "inner-wheel",
            Weight::Know,
            "Mostly the inner rear wheel locks alone",
        )
        .because(format!(
            "{}. The wheel inside the turn is locked for {} while the loaded one outside still rolls. {both}",
            run_from(seen, &turned.turn),
            wording::seconds(locking.inner_only_for)
        ))
        .remedy(
            "Fit more brake behind for the same hand. A rear differential that ties the two wheels also \
                brings the outer one down.",
        )
        .figure("inner_rear_only_for_s", locking.inner_only_for.s())
        .figure("rear_locked_for_s", locking.rear_for.s()),
    )
}

fn works_in(seen: &Seen<'_>, turned: &Turned) -> Option<Finding> {
    let works = turned.works_in();
    let (lowest, highest) = (turned.over_grip.first()?.0, turned.over_grip.last()?.0);
    let all = works.len() == 1
        && works
            .first()
            .is_some_and(|stretch| stretch.0 <= lowest && stretch.1 >= highest);
    if all {
        return None;
    }
    let surfaces = OnSurface::all(seen);
    let on = |wanted: bool| -> Vec<String> {
        surfaces
            .iter()
            .filter(|surface| surface.run.is_some() && surface.works() == wanted)
            .map(OnSurface::words)
            .collect()
    };
    let (does, does_not) = (on(true), on(false));
    let mut because = format!(
        "It was run over grips from {} to {} with the pull as it is. It comes round {}.",
        grip(lowest),
        grip(highest),
        if works.is_empty() {
            "at none of them".to_owned()
        } else {
            let stretches: Vec<String> = works
                .iter()
                .map(|&(from, to)| {
                    if to > from {
                        format!("from {} to {}", grip(from), grip(to))
                    } else {
                        format!("at {}", grip(from))
                    }
                })
                .collect();
            list(&stretches)
        }
    );
    if !does.is_empty() {
        because.push_str(&format!(" Of the car's surfaces it does on {}.", list(&does)));
    }
    if !does_not.is_empty() {
        because.push_str(&format!(" It does not on {}.", list(&does_not)));
    }
    let title = if works.is_empty() {
        "At no grip does it come round"
    } else {
        "It comes round on some grips only"
    };
    Some(
        Finding::new("turn-grips", Weight::Know, title)
            .because(because)
            .remedy("See the map of entry speed and pull for a surface before its first corner.")
            .figure("from_grip", works.first().map(|stretch| stretch.0))
            .figure("to_grip", works.last().map(|stretch| stretch.1)),
    )
}

fn wavers(turned: &Turned) -> Option<Finding> {
    let middle = turned.turn.verdict;
    let said: Vec<String> = turned
        .swings
        .iter()
        .filter(|swing| swing.less.verdict != middle || swing.more.verdict != middle)
        .map(|swing| {
            let (name, by) = match swing.varied {
                engine::turn::Varied::YawInertia => ("yaw inertia", "15 %"),
                engine::turn::Varied::Grip => ("grip", "10 %"),
                engine::turn::Varied::RollShare => ("the front's share of the roll", "0.10"),
            };
            format!(
                "With {by} less {name} it {}; with {by} more it {}",
                swing.less.verdict.words(),
                swing.more.verdict.words()
            )
        })
        .collect();
    if said.is_empty() {
        return None;
    }
    Some(
        Finding::new("turn-wavers", Weight::Know, "What nobody knows decides the turn")
            .because(format!(
                "As it is written it {}. {}.",
                middle.words(),
                said.join(". ")
            ))
            .remedy("Leave something to spare: a little more brake behind, or less for it to hold."),
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_nose_goes_into_the_bend_out_of_it_or_nowhere() {
        let said = |degrees: f64| gave(Angle::from_rad(degrees.to_radians()));
        assert_eq!(said(35.2), "The pull points the nose 35° further into the bend.");
        assert_eq!(said(-4.1), "The pull points the nose 4° out of the bend.");
        assert_eq!(said(-0.3), "The pull does not move the nose.");
    }
}
