//! Units as sheets write them.

use quantity::Dimension;

use crate::Error;
use crate::source::{Answers, Inputs};

pub(crate) fn check(inputs: &Inputs) -> Result<Answers, Error> {
    let mut answers = Answers::default();
    for (list, key, dimension) in [
        ("lengths", "length", Dimension::Length),
        ("masses", "mass", Dimension::Mass),
        ("forces", "force", Dimension::Force),
        ("pressures", "pressure", Dimension::Pressure),
        ("torques", "torque", Dimension::Torque),
        ("volumes", "volume", Dimension::Volume),
        ("speeds", "speed", Dimension::Speed),
        ("rotations", "rotation", Dimension::Rotation),
        ("temperatures", "temperature", Dimension::Temperature),
    ] {
        for si in inputs.list(list, dimension)? {
            answers.put(key, si);
        }
    }
    Ok(answers)
}
