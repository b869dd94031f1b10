//! How the lever is bolted down.

use engine::mount::{ABUSE_ALONG, BoltsFault, MountAnswer};
use engine::thresholds::FLOOR_TIRES;

use super::Seen;
use crate::cautions;
use crate::finding::{Finding, Weight};
use crate::say::percent;

pub(super) fn findings(seen: &Seen<'_>) -> Vec<Finding> {
    if seen.car.lever.is_none() {
        return Vec::new();
    }
    let Some(mount) = &seen.figures.mount else {
        return vec![
            Finding::new(
                "mount-unknown",
                Weight::Know,
                "How the lever is mounted is not known",
            )
            .because("A lever is also a grab handle, and a floor is thin sheet.")
            .remedy("Put the mount on the sheet: bolts, their spacing, floor sheet, spreader, heights."),
        ];
    };
    [apart(seen, mount), bolts(seen, mount), floor(seen, mount)]
        .into_iter()
        .flatten()
        .collect()
}

fn apart(seen: &Seen<'_>, mount: &MountAnswer) -> Option<Finding> {
    let on_shell = mount.on_shell?;
    Some(
        Finding::new("cylinder-apart", Weight::Fix, "Cylinder and pivot are bolted down apart")
            .because(format!(
                "The lever's own multiplication then pulls the shell. At an abuse pull of {} the shell has to hold \
                 {} between pivot and cylinder. What it gives is travel. In a closed frame the floor feels the hand alone.",
                seen.say.force(ABUSE_ALONG),
                seen.say.force(on_shell)
            ))
            .remedy("Put pivot and cylinder on one plate or frame.")
            .figure("on_shell_n", on_shell.n()),
    )
}

fn bolts(seen: &Seen<'_>, mount: &MountAnswer) -> Option<Finding> {
    match &mount.bolts {
        Err(fault) => {
            let title = match fault {
                BoltsFault::NotGiven | BoltsFault::NoPattern | BoltsFault::NoGrade => {
                    "Too little is known of the lever's bolts"
                }
                _ => "The lever's bolts cannot be read",
            };
            Some(
                Finding::new("mount-bolts-unclear", Weight::Know, title)
                    .because(format!("{fault}."))
                    .remedy("Write count, size and grade as in `bolts = \"4 x M8 8.8\"`. Write `pattern` with both \
                        spacings."),
            )
        }
        Ok(worst) => (worst.used >= 1.0).then(|| {
            Finding::new("mount-bolts", Weight::Fix, "The lever's bolts stretch at an abuse pull")
                .because(format!(
                    "{} along and {} across at the grip load the worst of {} {} {} with {} of tension. That is {} of \
                     what its grade bears before it stretches for good.",
                    seen.say.force(ABUSE_ALONG),
                    seen.say.force(engine::mount::ABUSE_ACROSS),
                    worst.bolts.count,
                    worst.bolts.size.name(),
                    worst.bolts.grade.name(),
                    seen.say.force(worst.tension),
                    percent(worst.used)
                ))
                .remedy("Fit M8 of grade 8.8 or better, farther apart; or a lower pivot or a shorter grip.")
                .figure("bolt_tension_n", worst.tension.n())
                .figure("bolt_shear_n", worst.shear.n())
                .figure("bolt_used", worst.used)
        }),
    }
}

fn floor(seen: &Seen<'_>, mount: &MountAnswer) -> Option<Finding> {
    let floor = mount.floor.filter(|floor| floor.used >= FLOOR_TIRES)?;
    let sheet = seen.car.lever.as_ref()?.mount.as_ref()?.floor_sheet;
    let title = if floor.used >= 1.0 {
        "The floor gives way under the lever"
    } else {
        "The floor under the lever will crack"
    };
    let (spread, no_spreader) = if floor.spread {
        ("round the spreader", "")
    } else {
        ("round the bolts", " No spreader is thick enough to help.")
    };
    Some(
        Finding::new("thin-floor", Weight::Fix, title)
            .because(format!(
                "At an abuse pull the sheet of {} is sheared {spread} with {} of what mild sheet bears.{no_spreader} \
                 It is the thin floor that usually goes first, cracking round the edge.",
                seen.say.fine(sheet, 1),
                percent(floor.used)
            ))
            .remedy("Fit a spreader of 3 mm or more on both sides. It has to reach well past the bolts to a sill, a \
                tunnel or a cross-member.")
            .caution(cautions::STANDS)
            .figure("floor_used", floor.used)
            .figure("floor_shear_pa", floor.shear_pa),
    )
}
