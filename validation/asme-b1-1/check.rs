//! Inch threads.

use plumbing::Thread;

use crate::Error;
use crate::source::{Answers, Inputs};

const INCH_M: f64 = 25.4e-3;

pub(crate) fn check(_: &Inputs) -> Result<Answers, Error> {
    let mut answers = Answers::default();
    for thread in [
        Thread::Unf14x28,
        Thread::Unf38x24,
        Thread::Uns716x24,
        Thread::Unf716x20,
        Thread::Npt18,
    ] {
        answers.put("major", thread.major().m());
        answers.put("to_the_inch", INCH_M / thread.pitch().m());
    }
    for thread in [Thread::Unf14x28, Thread::Unf38x24, Thread::Unf716x20] {
        answers.put("hole", thread.hole().m());
    }
    let (inch, metric) = (Thread::Unf38x24, Thread::M10x1);
    answers.put("against_m10", (metric.major() - inch.major()).m());
    answers.put("against_m10", (inch.pitch() - metric.pitch()).m());
    Ok(answers)
}
