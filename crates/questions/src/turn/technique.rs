//! What the driver does, as a person asks for it: what is said, and for the rest what a driver usually does.

use engine::turn::{After, Clutch, Footwork, Release, Technique, Throttle};
use quantity::si::{Angle, Duration, Speed, Torque};

use crate::options::turn::{Pressed, after, bend, pressed, release};
use crate::options::{
    AFTER, BEND, CLUTCH, CLUTCH_AT, ENTRY, FOOT, FOOT_AT, FOOT_OFF, HAND, LEVER_AT, LEVER_RISE, RELEASE, Row,
    SPEED, STEER, STEER_AT, STEER_IN, Said, THROTTLE, THROTTLE_AT, UNTIL,
};
use crate::question::Case;
use crate::trouble::Wrong;

/// The technique that is meant, on the surface that the car stands on: what is not said is what a driver usually does
/// there, moved along with what is said.
///
/// # Errors
/// What cannot be read or driven.
pub(super) fn technique(case: &Case<'_>) -> Result<Technique, Wrong> {
    let said = case.said;
    let usual = Technique::on(&case.opened.state.surface, case.opened.car());
    let moment = |row: &Row| said.figure_si(row).map(Duration::from_s);
    let lever_at = moment(&LEVER_AT).unwrap_or(usual.lever_at);
    // Who says only what is done then lets go when a driver usually does.
    let held = match usual.release {
        Release::At(at) => at - usual.lever_at,
        Release::Heading(_) | Release::Never | Release::Best => Duration::ZERO,
    };
    let then = said.text(&AFTER).map(after).transpose()?;
    let release = match said.text(&RELEASE).map(release).transpose()? {
        Some(release) => release,
        None if then.is_some_and(|then| then != After::Drives) => Release::At(lever_at + held),
        None => Release::Best,
    };
    let pressed = match said.text(&CLUTCH) {
        Some(text) => pressed(text)?,
        None => Pressed::Down,
    };
    let technique = Technique {
        entry: entry(said)?.unwrap_or(usual.entry),
        steer: said.figure_si(&STEER).map_or(usual.steer, Angle::from_rad),
        steer_at: moment(&STEER_AT).unwrap_or(usual.steer_at),
        steer_in: moment(&STEER_IN).unwrap_or(usual.steer_in),
        hand: said.force(&HAND).unwrap_or(usual.hand),
        lever_at,
        lever_rise: moment(&LEVER_RISE).unwrap_or(usual.lever_rise),
        clutch: match pressed {
            Pressed::Up => Clutch::Up,
            Pressed::Down => {
                let before = (lever_at - Duration::from_s(0.1)).max(Duration::ZERO);
                Clutch::DownAt(moment(&CLUTCH_AT).unwrap_or(before))
            }
        },
        release,
        after: then.unwrap_or(After::Drives),
        bend: said.text(&BEND).map_or(Ok(usual.bend), bend)?,
        throttle: said.figure_si(&THROTTLE).map(|torque| Throttle {
            torque: Torque::from_nm(torque),
            at: moment(&THROTTLE_AT),
            wait: Duration::ZERO,
            rise: Duration::from_s(0.3),
            eases: false,
        }),
        foot: said.force(&FOOT).map(|force| Footwork {
            force,
            at: moment(&FOOT_AT).unwrap_or(Duration::ZERO),
            rise: Duration::from_s(0.1),
            off: Some(moment(&FOOT_OFF).unwrap_or(lever_at)),
        }),
        until: moment(&UNTIL).unwrap_or(Technique::LONGEST),
        ..usual
    };
    technique.check().map_err(|out| {
        Wrong::plain(
            "turn",
            "out-of-range",
            out.to_string(),
            "choose a figure between the two".to_owned(),
        )
    })?;
    Ok(technique)
}

/// The speed at the start, which has two names.
fn entry(said: &Said) -> Result<Option<Speed>, Wrong> {
    if let Some(text) = said.text(&ENTRY).filter(|_| said.has(&SPEED)) {
        let what = "`--entry` and `--speed` say the same here".to_owned();
        let remedy = "leave one of them out".to_owned();
        return Err(Wrong::option(
            "--entry",
            text,
            0..text.len(),
            "option-conflict",
            what,
            remedy,
        ));
    }
    Ok(said
        .figure_si(&ENTRY)
        .or(said.figure_si(&SPEED))
        .map(Speed::from_m_s))
}
