//! Double flares.

use plumbing::PortSpec;

use crate::Error;
use crate::source::{Answers, Inputs};

pub(crate) fn check(_: &Inputs) -> Result<Answers, Error> {
    let mut answers = Answers::default();
    for port in ["3/8-24 inverted", "7/16-24 inverted"] {
        let across = PortSpec::read(port).ok().and_then(|port| Some((port, port.flare_across()?)));
        let Some((port, (from, to))) = across else { continue };
        answers.put("across", from.m());
        answers.put("across", to.m());
        answers.put("through", port.thread.hole() / to);
    }
    Ok(answers)
}
