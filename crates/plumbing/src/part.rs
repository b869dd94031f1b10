//! Parts in trade terms, without makers.

use engine::car::Pipe;
use quantity::si::Mass;

use crate::seat::PortSpec;
use crate::thread::Thread;

/// A text as the code of a part: small letters and figures, with a dash for all else.
#[must_use]
pub fn code_of(text: &str) -> String {
    let mut code = String::new();
    for character in text.to_lowercase().chars() {
        match character {
            'a'..='z' | '0'..='9' => code.push(character),
            _ if code.ends_with('-') || code.is_empty() => {}
            _ => code.push('-'),
        }
    }
    code.trim_end_matches('-').to_owned()
}

/// Outside size of rigid pipe.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum PipeSize {
    /// 3/16 in, 4.75 mm.
    ThreeSixteenths,
    /// 1/4 in, 6.35 mm.
    Quarter,
}

impl PipeSize {
    /// As it is sold.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::ThreeSixteenths => "3/16 in",
            Self::Quarter => "1/4 in",
        }
    }
}

/// What a part is counted in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Counted {
    /// Pieces.
    Pieces,
    /// Metres.
    Metres,
    /// Bottles of half a litre.
    Bottles,
}

impl Counted {
    /// The word for it.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Pieces => "piece",
            Self::Metres => "m",
            Self::Bottles => "bottle",
        }
    }
}

/// A kind of part.
#[derive(Clone, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum PartKind {
    /// A lever with its cylinder, as the sheet has it.
    Lever(String),
    /// A bias valve, as the sheet has it.
    BiasValve(String),
    /// A second caliper, as the sheet has it.
    SecondCaliper(String),
    /// Rigid pipe, or hose by the metre.
    Pipe(Pipe),
    /// A rubber hose with its ends on.
    RubberHose {
        /// Length in mm, seat to seat; `None` where nobody measured it.
        length_mm: Option<u32>,
        /// What its ends are.
        ends: String,
    },
    /// A tube nut.
    Nut {
        /// The port that it goes into or onto.
        port: PortSpec,
        /// The pipe that goes through it.
        pipe: PipeSize,
    },
    /// A female swivel of 37° for braided hose of −3.
    HoseSwivel,
    /// A banjo for braided hose of −3.
    HoseBanjo(Thread),
    /// One end of a rubber hose: part of the hose, never bought by itself.
    RubberEnd(PortSpec),
    /// A banjo bolt.
    BanjoBolt(Thread),
    /// A sealing washer.
    Washer(Thread),
    /// An adapter, in words.
    Adapter(String),
    /// A plain union.
    Union(PortSpec),
    /// A tee.
    Tee(PortSpec),
    /// A bulkhead union: pipe on one side, −3 hose on the other.
    BulkheadUnion(PortSpec),
    /// A bracket with a spring clip for a rubber hose's end.
    ClipBracket,
    /// A nipple with two male ends, where one part is screwed right beside another.
    Nipple(PortSpec),
    /// Sealant for tapered threads.
    Sealant,
    /// A clip.
    Clip,
    /// A grommet, or a bulkhead fitting in its place.
    Grommet,
    /// Something over pipe and joints.
    Guard,
    /// Caps for bleed screws.
    BleedCap,
    /// Brake fluid of a grade.
    Fluid(&'static str),
}

/// A part as it is bought.
#[derive(Clone, Debug, PartialEq)]
pub struct Part {
    /// What kind.
    pub kind: PartKind,
    /// How many of what it is counted in.
    pub count: f64,
    /// Runs that take more of it, and nobody knows how much: they were not measured.
    pub to_tape: usize,
}

/// What stands in the place of a length that nobody measured.
pub const NOT_TAPED: &str = "not measured: tape it first";

impl PartKind {
    /// A word for it that never changes: what a price list is written with.
    #[must_use]
    pub fn code(&self) -> String {
        match self {
            Self::Lever(_) => "lever".to_owned(),
            Self::BiasValve(_) => "bias-valve".to_owned(),
            Self::SecondCaliper(_) => "second-caliper".to_owned(),
            Self::Fluid(grade) => code_of(&format!("fluid {grade}")),
            Self::RubberHose { ends, .. } => code_of(&format!("rubber hose {ends}")),
            other => code_of(&other.what()),
        }
    }

    /// What it is.
    #[must_use]
    pub fn what(&self) -> String {
        match self {
            Self::Lever(_) => "handbrake lever with cylinder".to_owned(),
            Self::BiasValve(_) => "bias valve".to_owned(),
            Self::SecondCaliper(_) => "second rear caliper with bracket and pads".to_owned(),
            Self::Pipe(pipe) => pipe_name(*pipe).to_owned(),
            Self::RubberHose { .. } => "rubber brake hose".to_owned(),
            Self::Nut { port, pipe } => format!("tube nut {} for {} pipe", port_for_nut(*port), pipe.name()),
            Self::HoseSwivel => "hose end, -3 female swivel 37°".to_owned(),
            Self::HoseBanjo(thread) => format!("hose end, -3 banjo for {} bolt", thread.name()),
            Self::RubberEnd(port) => format!("end of a rubber hose for {port}"),
            Self::BanjoBolt(thread) => format!("banjo bolt {}", thread.name()),
            Self::Washer(thread) => format!("sealing washer for {}", thread.name()),
            Self::Adapter(text) => format!("adapter: {text}"),
            Self::Union(port) => format!("union, two ports {port}"),
            Self::Tee(port) => format!("tee, three ports {port}"),
            Self::BulkheadUnion(port) => format!("bulkhead union, {port} to -3 male 37°"),
            Self::ClipBracket => "hose bracket with spring clip".to_owned(),
            Self::Nipple(port) => format!("nipple, male both ends, for {port}"),
            Self::Sealant => "thread sealant".to_owned(),
            Self::Clip => "pipe clip".to_owned(),
            Self::Grommet => "grommet or bulkhead fitting".to_owned(),
            Self::Guard => "cover or guard".to_owned(),
            Self::BleedCap => "bleed screw cap".to_owned(),
            Self::Fluid(grade) => format!("brake fluid, {grade}"),
        }
    }

    /// What to ask for, in trade terms.
    #[must_use]
    pub fn spec(&self) -> String {
        match self {
            Self::Lever(text) | Self::BiasValve(text) | Self::SecondCaliper(text) => text.clone(),
            Self::Pipe(Pipe::Steel316 | Pipe::Steel14) => {
                "seamless or double-wall brake tube, 0.7 mm wall, coated".to_owned()
            }
            Self::Pipe(Pipe::CopperNickel316 | Pipe::CopperNickel14) => {
                "90/10 copper-nickel brake tube, 0.7 mm wall; not plain copper".to_owned()
            }
            Self::Pipe(Pipe::Braided3) => "PTFE core, stainless braid, covered, for brakes".to_owned(),
            Self::Pipe(Pipe::Rubber) => "for brakes, marked as such".to_owned(),
            Self::RubberHose { length_mm, ends } => length_mm.map_or_else(
                || format!("{NOT_TAPED}; {ends}"),
                |length_mm| format!("{length_mm} mm seat to seat, {ends}"),
            ),
            Self::Nut { port, .. } => format!("for {}", port.seat.closes_on()),
            Self::HoseSwivel => "for PTFE hose, with a new olive".to_owned(),
            Self::HoseBanjo(_) => "for PTFE hose; angle by how the hose leaves".to_owned(),
            Self::RubberEnd(_) => "part of the hose".to_owned(),
            Self::BanjoBolt(_) => "drilled, for one banjo".to_owned(),
            Self::Washer(_) => "copper or bonded; used once".to_owned(),
            Self::Adapter(_) => "steel, for brakes".to_owned(),
            Self::Union(_) | Self::Tee(_) | Self::BulkheadUnion(_) => {
                "for brakes, with a hole to fix it".to_owned()
            }
            Self::ClipBracket => "welded or bolted on, hole by the hose".to_owned(),
            Self::Nipple(_) => "steel, for brakes".to_owned(),
            Self::Sealant => "stands brake fluid; never tape".to_owned(),
            Self::Clip => "rubber-lined, for the pipe's size".to_owned(),
            Self::Grommet => "where the line goes through sheet".to_owned(),
            Self::Guard => "over what lies bare; can be taken off to feel joints".to_owned(),
            Self::BleedCap => "one a bleed screw".to_owned(),
            Self::Fluid(_) => "sealed bottles of 0.5 L; what is opened is not kept".to_owned(),
        }
    }

    /// What it is counted in.
    #[must_use]
    pub const fn counted(&self) -> Counted {
        match self {
            Self::Pipe(_) => Counted::Metres,
            Self::Fluid(_) => Counted::Bottles,
            _ => Counted::Pieces,
        }
    }

    /// What one of it weighs; `None` for what weighs as its maker says and for what is not fitted. Small parts from
    /// memory; pipe from section and density (7850 and 8900 kg/m³).
    #[must_use]
    pub fn mass(&self) -> Option<Mass> {
        let kg = match self {
            Self::Pipe(pipe) => mass_per_metre_kg(*pipe),
            Self::RubberHose { length_mm, .. } => f64::from((*length_mm)?) * 1e-3 * 0.13 + 0.04,
            Self::Nut { .. } => 0.006,
            Self::HoseSwivel => 0.014,
            Self::HoseBanjo(_) => 0.020,
            Self::BanjoBolt(_) => 0.018,
            Self::Washer(_) => 0.001,
            Self::Adapter(_) | Self::Nipple(_) => 0.018,
            Self::Union(_) => 0.025,
            Self::Tee(_) => 0.045,
            Self::BulkheadUnion(_) => 0.030,
            Self::ClipBracket => 0.040,
            Self::Clip => 0.006,
            Self::Grommet => 0.003,
            Self::BleedCap => 0.001,
            Self::RubberEnd(_)
            | Self::Lever(_)
            | Self::BiasValve(_)
            | Self::SecondCaliper(_)
            | Self::Sealant
            | Self::Guard
            | Self::Fluid(_) => return None,
        };
        Some(Mass::from_kg(kg))
    }
}

/// Mass of a metre of pipe or hose (kg): π/4 (d² − b²) ρ for pipe, its bore as the engine has it; braided hose 0.065,
/// rubber hose 0.13, from memory.
fn mass_per_metre_kg(pipe: Pipe) -> f64 {
    let (outside_m, density) = match pipe {
        Pipe::Steel316 => (4.75e-3, 7850.0),
        Pipe::CopperNickel316 => (4.75e-3, 8900.0),
        Pipe::Steel14 => (6.35e-3, 7850.0),
        Pipe::CopperNickel14 => (6.35e-3, 8900.0),
        Pipe::Braided3 => return 0.065,
        Pipe::Rubber => return 0.13,
    };
    let outside_m2: f64 = core::f64::consts::FRAC_PI_4 * outside_m * outside_m;
    (outside_m2 - pipe.section().m2()) * density
}

/// What pipe and hose are called.
#[must_use]
pub const fn pipe_name(pipe: Pipe) -> &'static str {
    match pipe {
        Pipe::Steel316 => "steel pipe 3/16 in",
        Pipe::CopperNickel316 => "copper-nickel pipe 3/16 in",
        Pipe::Steel14 => "steel pipe 1/4 in",
        Pipe::CopperNickel14 => "copper-nickel pipe 1/4 in",
        Pipe::Braided3 => "braided hose -3",
        Pipe::Rubber => "rubber hose",
    }
}

fn port_for_nut(port: PortSpec) -> String {
    match port.seat {
        crate::seat::Seat::Male37 => format!("{} 37°, with sleeve,", port.thread_name()),
        _ => format!("{}, {},", port.thread.name(), port.seat.word()),
    }
}
