//! What people who make brake lines know.

use engine::car::Pipe;
use plumbing::bleeding::{LeverAt, ValveAt, in_order};
use plumbing::{Meeting, PartKind, Plumbing, PortSpec, Thread, meeting};

use crate::Error;
use crate::car::{LEVER, Plain};
use crate::source::{Answers, Inputs};

pub(crate) fn check(_: &Inputs) -> Result<Answers, Error> {
    let mut answers = Answers::default();
    for (port, nut) in [
        (Thread::Unf38x24, Thread::M10x1),
        (Thread::M10x1, Thread::Unf38x24),
        (Thread::Uns716x24, Thread::M12x1),
        (Thread::M12x1, Thread::M10x1),
    ] {
        answers.tell("strips", port.starts_and_strips(nut));
    }
    let port = |text: &str| PortSpec::read(text).ok();
    let made = |text: &str| port(text).map(|port| meeting(port, Pipe::Steel316).mates());
    let [bubble, japanese] = ["M10x1 bubble", "M10x1 japanese"];
    let thread = |text: &str| port(text).map(|port| port.thread);
    let both = made(bubble) == Some(Some(true)) && made(japanese) == Some(Some(true));
    answers.tell("one_nut", both && thread(bubble) == thread(japanese));
    for (pipe, text) in [
        (Pipe::Braided3, "-3 male 37"),
        (Pipe::Braided3, "3/8-24 inverted"),
        (Pipe::Steel316, "M10x1 bubble"),
        (Pipe::Steel14, "M12x1 bubble"),
        (Pipe::Rubber, "-3 male 37"),
        (Pipe::Steel316, "M10x1 banjo"),
    ] {
        let met = port(text).map(|port| meeting(port, pipe));
        let word = match met {
            Some(Meeting::Mates { .. }) => "yes",
            Some(Meeting::Adapter { .. }) => "adapter",
            Some(Meeting::None { .. }) => "nothing made",
            _ => "not known",
        };
        answers.say("meets", word);
    }
    let washers = port("M10x1 banjo").map_or(0, |port| {
        let meeting = meeting(port, Pipe::Braided3);
        let washers = meeting.needs().iter().filter(|part| matches!(part, PartKind::Washer(_)));
        washers.count()
    });
    answers.put("washers", f64::from(u8::try_from(washers).unwrap_or(u8::MAX)));
    answers.put("volume", Pipe::Steel316.section().m2());
    bleeding(&mut answers)?;
    Ok(answers)
}

fn bleeding(answers: &mut Answers) -> Result<(), Error> {
    let car = Plain::new("fittings")
        .with(LEVER)?
        .with([
            "bias_valve.kind=adjustable",
            "bias_valve.place=before-lever",
            "bias_valve.knee.at_fewest=8 bar",
            "bias_valve.knee.at_most=65 bar",
            "bias_valve.knee.turns=5",
            "bias_valve.slope=0.4",
            "bias_valve.setting=2 turns",
            "routes.tee_to_rear_left=1.2 m",
            "routes.tee_to_rear_right=0.7 m",
        ])?
        .car()?;
    let plan = in_order(&car, &Plumbing::of(&car));
    let Some(first) = plan.corners.first() else {
        return Ok(());
    };
    answers.say("first", &first.name);
    answers.say(
        "while_bleeding",
        if first.valve == ValveAt::Mid { "mid-range" } else { "elsewhere" },
    );
    answers.say(
        "while_bleeding",
        if first.lever == LeverAt::Rest { "at rest" } else { "pulled" },
    );
    Ok(())
}
