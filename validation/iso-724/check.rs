//! Metric threads.

use plumbing::Thread;

use crate::Error;
use crate::source::{Answers, Inputs};

pub(crate) fn check(_: &Inputs) -> Result<Answers, Error> {
    let mut answers = Answers::default();
    for thread in [
        Thread::M7x1,
        Thread::M8x125,
        Thread::M10x1,
        Thread::M10x125,
        Thread::M12x1,
    ] {
        answers.put("major", thread.major().m());
        answers.put("pitch", thread.pitch().m());
        answers.put("hole", thread.hole().m());
    }
    Ok(answers)
}
