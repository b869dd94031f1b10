//! The plumbing of a car: every joint, part and length.

use engine::car::circuit::Circuit;
use quantity::si::{Mass, Volume};

use crate::cuts::Cut;
use crate::joint::Joint;
use crate::part::Part;
use crate::places::Cabin;
use crate::seat::PortFault;

/// Fluid that stands in a car.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct FluidVolumes {
    /// In pipes and hoses.
    pub lines: Volume,
    /// In calipers and wheel cylinders.
    pub brakes: Volume,
    /// In runs inside the cabin.
    pub cabin_lines: Volume,
    /// In reservoirs inside the cabin (a default of 0.25 L each).
    pub cabin_reservoirs: Volume,
}

/// A port of the sheet whose thread and seat are not listed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Unlisted {
    /// The key: `lines.ports.master`.
    pub key: &'static str,
    /// What is wrong with it.
    pub fault: PortFault,
}

/// The plumbing of one car.
#[derive(Clone, Debug)]
pub struct Plumbing {
    /// The engine's circuit, which all of it reads.
    pub circuit: Circuit,
    /// Every joint, in the order of the runs.
    pub joints: Vec<Joint>,
    /// Every run's length.
    pub cuts: Vec<Cut>,
    /// What is bought, heaviest kinds first as on a list: big parts, pipe, ends, small parts.
    pub parts: Vec<Part>,
    /// Fluid that stands in it.
    pub fluid: FluidVolumes,
    /// Pipes, hoses, fittings and the fluid in them.
    pub mass: Mass,
    /// Ports of the sheet that are not listed: they are treated as not known.
    pub unlisted: Vec<Unlisted>,
    /// What stands in the cabin.
    pub cabin: Cabin,
}

impl Plumbing {
    /// The joints that a component or a run has.
    #[must_use]
    pub fn joints_of(&self, touched: &str) -> Vec<&Joint> {
        self.joints
            .iter()
            .filter(|joint| {
                self.circuit.components[joint.port.component].name == touched
                    || self.circuit.runs[joint.run].name == touched
            })
            .collect()
    }

    /// A joint by its name, or by its number on the list.
    #[must_use]
    pub fn joint(&self, id: &str) -> Option<&Joint> {
        let id = id.trim();
        let plain = id.replace('\u{2013}', "-");
        self.joints.iter().find(|joint| {
            joint.number.to_string() == id || joint.id == id || joint.id.replace('\u{2013}', "-") == plain
        })
    }
}
