//! Where a circuit leaks: what can explain the sign, and the shortest round of clamps and plugs that halves it each time.
//!
//! The circuit is the engine's. Cutting a run parts it into what the pressure still reaches and what it does not; the cut
//! is made where both halves weigh the same, again and again.

use engine::car::circuit::{Circuit, Piece};
use engine::car::{Car, Pipe, Wheel};
use plumbing::Plumbing;

/// What was seen.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sign {
    /// Pressure closed in behind the lever falls.
    LeverLoses,
    /// The pedal sinks under a steady foot.
    PedalSinks,
    /// One wheel is wet.
    Wet(Wheel),
}

/// What may leak.
#[derive(Clone, Debug, PartialEq)]
pub struct Suspect {
    /// Joint or seal, in words.
    pub what: String,
    /// Name of the joint, where it is one.
    pub joint: Option<String>,
    /// How likely among all, before anything is looked at; all of them make 1.
    pub weight: f64,
}

/// How a run is shut.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum How {
    /// A hose clamp with smooth jaws, on rubber hose only.
    Clamp,
    /// The run unscrewed and its port plugged.
    Plug,
}

/// One step of the round.
#[derive(Clone, Debug, PartialEq)]
pub struct CutStep {
    /// The run, in words.
    pub run: String,
    /// How.
    pub how: How,
    /// Suspects that are left if it still loses: those on the side of the pressure.
    pub still: Vec<Suspect>,
    /// Suspects that are left if it holds now: those behind.
    pub holds: Vec<Suspect>,
}

/// A cut that was made, and what came of it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CutMade {
    /// The run, in words.
    pub run: String,
    /// How.
    pub how: How,
    /// Whether it still lost pressure then.
    pub still: bool,
}

/// Where it may leak.
#[derive(Clone, Debug, PartialEq)]
pub struct Leak {
    /// Everything that explains the sign and what the cuts said, the likeliest first.
    pub suspects: Vec<Suspect>,
    /// Cuts that were made, in order.
    pub made: Vec<CutMade>,
    /// The next step; `None` where looking is all there is to do.
    pub next: Option<CutStep>,
    /// How many steps it takes at most from here until one suspect, or what no cut can part, is left.
    pub steps_at_most: usize,
}

/// Weights before anything is looked at (judgement): a joint that was disturbed and not yet found dry counts most, seals
/// that rub more than fittings that do not move.
const DISTURBED: f64 = 5.0;
const SEAL: f64 = 2.0;
const JOINT: f64 = 1.0;

struct Held {
    suspect: Suspect,
    /// Component, and the run that the joint belongs to with the end that is near the pressure.
    component: usize,
    run: Option<usize>,
}

/// What explains a sign, and the round that finds it. `disturbed` says of a joint, by its name, whether it was opened and
/// not found dry since. `still` says of each cut of the round so far whether it still lost pressure; answers beyond the
/// end of the round are not looked at.
#[must_use]
pub fn leak(car: &Car, sign: Sign, disturbed: &dyn Fn(&str) -> bool, still: &[bool]) -> Leak {
    let plumbing = Plumbing::of(car);
    let circuit = &plumbing.circuit;
    let roots = roots(circuit, sign);
    let tree = Tree::from(circuit, &roots, sign);
    let mut held: Vec<Held> = Vec::new();
    let one_wheel = match sign {
        Sign::Wet(wheel) => Some(wheel),
        _ => None,
    };
    for joint in &plumbing.joints {
        let run = &circuit.runs[joint.run];
        if !tree.reaches_run(joint.run) {
            continue;
        }
        if let Some(wheel) = one_wheel {
            // What can wet a wheel hangs on the last run to it.
            let at_wheel = [run.from, run.to]
                .iter()
                .any(|port| is_brake_of(circuit, port.component, wheel));
            let hose = car_hose(run.run.pipe) && at_wheel;
            if !(at_wheel || hose) {
                continue;
            }
        }
        held.push(Held {
            suspect: Suspect {
                what: format!("joint {}: {}", joint.number, joint.place),
                joint: Some(joint.id.clone()),
                weight: if disturbed(&joint.id) { DISTURBED } else { JOINT },
            },
            component: joint.port.component,
            run: Some(joint.run),
        });
    }
    for (number, component) in circuit.components.iter().enumerate() {
        let seal = match component.part {
            Piece::Brake(wheel) | Piece::LeverBrake(wheel) => (one_wheel
                .is_none_or(|wanted| wanted == wheel))
            .then(|| format!("seal of the {} brake", wheel.name().replace('_', " "))),
            Piece::Master if sign == Sign::PedalSinks => {
                Some("seals of the master cylinder, inside".to_owned())
            }
            Piece::LeverCylinder | Piece::LeverMaster if one_wheel.is_none() => {
                Some("seals of the lever's cylinder".to_owned())
            }
            _ => None,
        };
        if let Some(what) = seal
            && tree.reaches(number)
        {
            held.push(Held {
                suspect: Suspect {
                    what,
                    joint: None,
                    weight: SEAL,
                },
                component: number,
                run: None,
            });
        }
    }
    let all: f64 = held.iter().map(|held| held.suspect.weight).sum();
    held.iter_mut()
        .for_each(|held| held.suspect.weight /= all.max(1e-12));
    held.sort_by(|one, other| {
        other
            .suspect
            .weight
            .total_cmp(&one.suspect.weight)
            .then(one.suspect.what.cmp(&other.suspect.what))
    });
    let mut among: Vec<usize> = (0..held.len()).collect();
    let mut made = Vec::new();
    // A wet wheel shows where it leaks; nothing is cut.
    let cuts = one_wheel.is_none();
    for &still in still.iter().filter(|_| cuts) {
        let Some((run, how, behind)) = tree.best(&held, &among) else {
            break;
        };
        among.retain(|number| behind.contains(number) != still);
        made.push(CutMade {
            run: in_words(circuit, run),
            how,
            still,
        });
    }
    let (next, steps_at_most) = if cuts {
        (tree.step(circuit, &held, &among), tree.depth(&held, &among, 0))
    } else {
        (None, 0)
    };
    let left: f64 = among.iter().map(|&number| held[number].suspect.weight).sum();
    let suspects = among
        .iter()
        .map(|&number| Suspect {
            weight: held[number].suspect.weight / left.max(1e-12),
            ..held[number].suspect.clone()
        })
        .collect();
    Leak {
        suspects,
        made,
        next,
        steps_at_most,
    }
}

fn in_words(circuit: &Circuit, run: usize) -> String {
    circuit.runs[run].name.replace('_', " ")
}

fn is_brake_of(circuit: &Circuit, component: usize, wheel: Wheel) -> bool {
    circuit.components.get(component).is_some_and(|component| {
        component.part == Piece::Brake(wheel) || component.part == Piece::LeverBrake(wheel)
    })
}

const fn car_hose(pipe: Pipe) -> bool {
    matches!(pipe, Pipe::Rubber | Pipe::Braided3)
}

/// Where the pressure comes from.
fn roots(circuit: &Circuit, sign: Sign) -> Vec<usize> {
    let has = |wanted: &[Piece]| -> Vec<usize> {
        circuit
            .components
            .iter()
            .enumerate()
            .filter(|(_, component)| wanted.contains(&component.part))
            .map(|(number, _)| number)
            .collect()
    };
    let lever = has(&[Piece::LeverCylinder, Piece::LeverMaster]);
    match sign {
        Sign::LeverLoses if !lever.is_empty() => lever,
        Sign::LeverLoses | Sign::PedalSinks => has(&[Piece::Master]),
        Sign::Wet(_) => [has(&[Piece::Master]), lever].concat(),
    }
}

/// The circuit as it hangs on where the pressure comes from: for each run, which end is near.
struct Tree {
    /// Component that each is fed through, with the run.
    fed_by: Vec<Option<(usize, usize)>>,
    roots: Vec<usize>,
    rubber: Vec<bool>,
}

impl Tree {
    fn from(circuit: &Circuit, roots: &[usize], sign: Sign) -> Self {
        let mut fed_by = vec![None; circuit.components.len()];
        let mut seen = vec![false; circuit.components.len()];
        let mut waiting: Vec<usize> = roots.to_vec();
        for &root in roots {
            seen[root] = true;
        }
        while let Some(here) = waiting.pop() {
            for (number, run) in circuit.runs.iter().enumerate() {
                for (near, far) in [(run.from, run.to), (run.to, run.from)] {
                    if near.component != here || seen[far.component] {
                        continue;
                    }
                    // Behind the lever only: what feeds its cylinder is not under its pressure.
                    let is_inlet = sign == Sign::LeverLoses
                        && circuit.components[here].part == Piece::LeverCylinder
                        && is_inlet(circuit, near);
                    if is_inlet {
                        continue;
                    }
                    seen[far.component] = true;
                    fed_by[far.component] = Some((here, number));
                    waiting.push(far.component);
                }
            }
        }
        Self {
            fed_by,
            roots: roots.to_vec(),
            rubber: circuit
                .runs
                .iter()
                .map(|run| run.run.pipe == Pipe::Rubber)
                .collect(),
        }
    }

    fn reaches(&self, component: usize) -> bool {
        self.roots.contains(&component) || self.fed_by[component].is_some()
    }

    fn reaches_run(&self, run: usize) -> bool {
        self.fed_by.iter().flatten().any(|(_, by)| *by == run)
    }

    /// Whether a component hangs behind a run.
    fn is_behind(&self, component: usize, run: usize) -> bool {
        let mut at = component;
        while let Some((from, by)) = self.fed_by[at] {
            if by == run {
                return true;
            }
            at = from;
        }
        false
    }

    /// Suspects behind a cut. A plug takes the whole run out; a clamp leaves its near joint under pressure.
    fn behind(&self, held: &[Held], among: &[usize], run: usize, how: How) -> Vec<usize> {
        among
            .iter()
            .copied()
            .filter(|&number| {
                let one = &held[number];
                let near_joint_of_it = one.run == Some(run) && !self.is_behind(one.component, run);
                if near_joint_of_it {
                    how == How::Plug
                } else {
                    self.is_behind(one.component, run)
                }
            })
            .collect()
    }

    /// The cut that comes nearest to halving the weight; of equals a clamp, which opens nothing.
    fn best(&self, held: &[Held], among: &[usize]) -> Option<(usize, How, Vec<usize>)> {
        let weight = |of: &[usize]| of.iter().map(|&number| held[number].suspect.weight).sum::<f64>();
        let all = weight(among);
        let mut best: Option<(f64, usize, How, Vec<usize>)> = None;
        for run in 0..self.rubber.len() {
            for how in [How::Clamp, How::Plug] {
                if how == How::Clamp && !self.rubber[run] {
                    continue;
                }
                let behind = self.behind(held, among, run, how);
                if behind.is_empty() || behind.len() == among.len() {
                    continue;
                }
                // A plug opens a joint: it has to be a tenth better than a clamp.
                let off = (weight(&behind) / all - 0.5).abs() + if how == How::Plug { 0.1 } else { 0.0 };
                if best.as_ref().is_none_or(|(least, ..)| off < *least - 1e-12) {
                    best = Some((off, run, how, behind));
                }
            }
        }
        best.map(|(_, run, how, behind)| (run, how, behind))
    }

    fn step(&self, circuit: &Circuit, held: &[Held], among: &[usize]) -> Option<CutStep> {
        let (run, how, behind) = self.best(held, among)?;
        let of = |numbers: &mut dyn Iterator<Item = usize>| {
            numbers.map(|number| held[number].suspect.clone()).collect()
        };
        Some(CutStep {
            run: in_words(circuit, run),
            how,
            still: of(&mut among.iter().copied().filter(|number| !behind.contains(number))),
            holds: of(&mut behind.iter().copied()),
        })
    }

    fn depth(&self, held: &[Held], among: &[usize], deep: usize) -> usize {
        if among.len() < 2 || deep > 12 {
            return 0;
        }
        let Some((_, _, behind)) = self.best(held, among) else {
            return 0;
        };
        let before: Vec<usize> = among
            .iter()
            .copied()
            .filter(|number| !behind.contains(number))
            .collect();
        1 + self
            .depth(held, &behind, deep + 1)
            .max(self.depth(held, &before, deep + 1))
    }
}

fn is_inlet(circuit: &Circuit, port: engine::car::circuit::Port) -> bool {
    circuit.components[port.component]
        .passages
        .iter()
        .any(|&(from, _, _)| from == port.port)
}
