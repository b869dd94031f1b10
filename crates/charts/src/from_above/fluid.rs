//! Whose fluid is in which run.

use engine::car::circuit::{Circuit, Port, PressureSource};

use crate::ink::Line;

/// What feeds a run.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Fed {
    /// The first chamber.
    First,
    /// The second chamber.
    Second,
    /// Both, since their fluid meets before it.
    Both,
    /// A separate lever.
    Lever,
    /// Nothing: it hangs from nothing that makes pressure.
    Nothing,
}

impl Fed {
    pub(crate) const ALL: [Self; 5] = [Self::First, Self::Second, Self::Both, Self::Lever, Self::Nothing];

    pub(crate) const fn line(self) -> Line {
        match self {
            Self::First => Line::Front,
            Self::Second => Line::Rear,
            Self::Both => Line::Joined,
            Self::Lever => Line::Hand,
            Self::Nothing => Line::Outline,
        }
    }

    pub(crate) const fn class(self) -> &'static str {
        match self {
            Self::First => "first-circuit",
            Self::Second => "second-circuit",
            Self::Both => "both-circuits",
            Self::Lever => "lever-circuit",
            Self::Nothing => "no-circuit",
        }
    }

    pub(crate) const fn name(self, diagonal: bool) -> &'static str {
        match (self, diagonal) {
            (Self::First, false) => "front circuit",
            (Self::Second, false) => "rear circuit",
            (Self::First, true) => "first circuit",
            (Self::Second, true) => "second circuit",
            (Self::Both, _) => "both circuits joined",
            (Self::Lever, _) => "lever's own circuit",
            (Self::Nothing, _) => "not connected",
        }
    }
}

const FIRST: u8 = 1;
const SECOND: u8 = 2;
const LEVER: u8 = 4;

/// What feeds each run: fluid is followed away from whatever makes its pressure, through runs and passages, and
/// never back towards another source.
pub(crate) fn feeds(circuit: &Circuit) -> Vec<Fed> {
    let mut first = Vec::with_capacity(circuit.components.len());
    let mut count = 0;
    for component in &circuit.components {
        first.push(count);
        count += component.ports.len();
    }
    let index = |port: Port| {
        first
            .get(port.component)
            .map_or(usize::MAX, |first| first + port.port)
    };
    let mut joined: Vec<(usize, usize)> = circuit
        .runs
        .iter()
        .map(|run| (index(run.from), index(run.to)))
        .collect();
    let mut masks = vec![0_u8; count];
    let mut far = vec![usize::MAX; count];
    let mut next: Vec<usize> = Vec::new();
    for (component, &start) in circuit.components.iter().zip(&first) {
        joined.extend(
            component
                .passages
                .iter()
                .map(|&(from, to, _)| (start + from, start + to)),
        );
        for &(port, source) in component.sources {
            masks[start + port] |= match source {
                PressureSource::First => FIRST,
                PressureSource::Second => SECOND,
                PressureSource::Lever => LEVER,
            };
            far[start + port] = 0;
            next.push(start + port);
        }
    }
    joined.retain(|&(from, to)| from < count && to < count);
    // In rings of growing distance, so that every port has its whole mask before it hands it on.
    let mut ring = 0;
    while !next.is_empty() {
        let here = core::mem::take(&mut next);
        ring += 1;
        for &(one, other) in &joined {
            for (from, to) in [(one, other), (other, one)] {
                if far[from] == ring - 1 && far[to] >= ring && here.contains(&from) {
                    if far[to] > ring {
                        far[to] = ring;
                        next.push(to);
                    }
                    masks[to] |= masks[from];
                }
            }
        }
    }
    circuit
        .runs
        .iter()
        .map(|run| {
            let (from, to) = (index(run.from), index(run.to));
            let nearer = if far.get(from) <= far.get(to) { from } else { to };
            match masks.get(nearer).copied().unwrap_or(0) {
                FIRST => Fed::First,
                SECOND => Fed::Second,
                LEVER => Fed::Lever,
                0 => Fed::Nothing,
                _ => Fed::Both,
            }
        })
        .collect()
}
