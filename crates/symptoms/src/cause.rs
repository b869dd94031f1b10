//! What may be wrong.

use crate::effect::Effect;
use crate::said::Symptom;

/// Where it is known from that a cause does this.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum CauseSource {
    /// The trade knows it; no source.
    CommonPractice,
    /// This program computes it.
    Computed,
    /// A published one.
    Published(&'static str),
}

impl CauseSource {
    /// In words.
    #[must_use]
    pub const fn said(self) -> &'static str {
        match self {
            Self::CommonPractice => "common practice, no source",
            Self::Computed => "computed for this car",
            Self::Published(source) => source,
        }
    }
}

/// A cause.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
#[allow(missing_docs, reason = "each is said by `said`")]
pub enum Cause {
    AirRear,
    AirFront,
    KnockBack,
    ShoesFarOff,
    SoftHose,
    PadsCold,
    PadsGlazed,
    PadsOiled,
    FluidBoils,
    ByPassCovered,
    LeverSeal,
    MasterSeal,
    Leak,
    Centre,
    EngineDrives,
    ValveCuts,
    ValveOpen,
    PistonSticks,
    HoseShut,
    NoVacuum,
    SideWeak,
    LightRear,
}

impl Cause {
    /// All of them.
    pub const ALL: [Self; 22] = [
        Self::AirRear,
        Self::AirFront,
        Self::KnockBack,
        Self::ShoesFarOff,
        Self::SoftHose,
        Self::PadsCold,
        Self::PadsGlazed,
        Self::PadsOiled,
        Self::FluidBoils,
        Self::ByPassCovered,
        Self::LeverSeal,
        Self::MasterSeal,
        Self::Leak,
        Self::Centre,
        Self::EngineDrives,
        Self::ValveCuts,
        Self::ValveOpen,
        Self::PistonSticks,
        Self::HoseShut,
        Self::NoVacuum,
        Self::SideWeak,
        Self::LightRear,
    ];

    /// Its name for other programs and for the logbook.
    #[must_use]
    pub const fn slug(self) -> &'static str {
        match self {
            Self::AirRear => "air-rear",
            Self::AirFront => "air-front",
            Self::KnockBack => "knock-back",
            Self::ShoesFarOff => "shoes-far-off",
            Self::SoftHose => "soft-hose",
            Self::PadsCold => "pads-cold",
            Self::PadsGlazed => "pads-glazed",
            Self::PadsOiled => "pads-oiled",
            Self::FluidBoils => "fluid-boils",
            Self::ByPassCovered => "by-pass-covered",
            Self::LeverSeal => "lever-seal",
            Self::MasterSeal => "master-seal",
            Self::Leak => "leak",
            Self::Centre => "centre",
            Self::EngineDrives => "engine-drives",
            Self::ValveCuts => "valve-cuts",
            Self::ValveOpen => "valve-open",
            Self::PistonSticks => "piston-sticks",
            Self::HoseShut => "hose-shut",
            Self::NoVacuum => "no-vacuum",
            Self::SideWeak => "side-weak",
            Self::LightRear => "light-rear",
        }
    }

    /// In trade words.
    #[must_use]
    pub const fn said(self) -> &'static str {
        match self {
            Self::AirRear => "air in the rear line",
            Self::AirFront => "air in the front line",
            Self::KnockBack => "pads knocked back by disc or bearing play",
            Self::ShoesFarOff => "shoes too far from the drum",
            Self::SoftHose => "a hose or bracket that gives",
            Self::PadsCold => "pads that do not bite cold",
            Self::PadsGlazed => "pads glazed or worn out",
            Self::PadsOiled => "oil or fluid on a pad or shoe",
            Self::FluidBoils => "fluid that boils: old, wet or too hot",
            Self::ByPassCovered => "a lever cylinder that never opens its by-pass",
            Self::LeverSeal => "the lever cylinder's seal lets fluid past",
            Self::MasterSeal => "the master cylinder's seal lets fluid past",
            Self::Leak => "a leak to the outside",
            Self::Centre => "the centre ties the front wheels to the rear",
            Self::EngineDrives => "the engine drives on: clutch not down",
            Self::ValveCuts => "the bias valve takes too much away",
            Self::ValveOpen => "the bias valve lets too much through",
            Self::PistonSticks => "a piston or slide that sticks",
            Self::HoseShut => "a hose swollen shut inside",
            Self::NoVacuum => "no vacuum at the booster",
            Self::SideWeak => "one side weaker than the other",
            Self::LightRear => "a lighter rear than it was set for",
        }
    }

    /// In at most four words, for a stamp.
    #[must_use]
    pub const fn brief(self) -> &'static str {
        match self {
            Self::AirRear => "Air behind",
            Self::AirFront => "Air in front",
            Self::KnockBack => "Pads knocked back",
            Self::ShoesFarOff => "Shoes too far off",
            Self::SoftHose => "A hose gives",
            Self::PadsCold => "Pads too cold",
            Self::PadsGlazed => "Pads glazed",
            Self::PadsOiled => "Oil on a pad",
            Self::FluidBoils => "The fluid boils",
            Self::ByPassCovered => "By-pass stays shut",
            Self::LeverSeal => "Lever's seal passes",
            Self::MasterSeal => "Master's seal passes",
            Self::Leak => "It leaks",
            Self::Centre => "The centre ties",
            Self::EngineDrives => "The engine drives",
            Self::ValveCuts => "Valve takes too much",
            Self::ValveOpen => "Valve lets through",
            Self::PistonSticks => "A piston sticks",
            Self::HoseShut => "Hose shut inside",
            Self::NoVacuum => "No vacuum",
            Self::SideWeak => "One side weak",
            Self::LightRear => "Rear too light",
        }
    }

    /// What is done about it.
    #[must_use]
    pub const fn remedy(self) -> &'static str {
        match self {
            Self::AirRear | Self::AirFront => "Bleed again, the lever cylinder's outlet uppermost.",
            Self::KnockBack => "Measure run-out and bearing play; press once before the stage.",
            Self::ShoesFarOff => "Adjust the shoes until they rub, then back off.",
            Self::SoftHose => "Watch each hose while a helper pulls; change the one that swells.",
            Self::PadsCold => "Drag them warm before the start, or fit pads that bite cold.",
            Self::PadsGlazed => "Take them out: rough them or change them, and bed them in.",
            Self::PadsOiled => "Find where it comes from, then change pads on both sides.",
            Self::FluidBoils => "Let it cool, change the fluid, look at ducts and pads.",
            Self::ByPassCovered => "Give the push rod its free play back.",
            Self::LeverSeal => "Strip the lever cylinder: new seals, look at the bore.",
            Self::MasterSeal => "Change the master cylinder or its seals.",
            Self::Leak => "Find the joint, remake it, prove the round again.",
            Self::Centre => "Part the centre while the lever is pulled, or accept a slower turn.",
            Self::EngineDrives => "Clutch down before the pull; look at its free play.",
            Self::ValveCuts | Self::ValveOpen => "Set the valve anew: see its settings.",
            Self::PistonSticks => "Free or change the caliper or wheel cylinder, both sides.",
            Self::HoseShut => "Change the hose, and its twin.",
            Self::NoVacuum => "Look at hose and one-way valve between engine and booster.",
            Self::SideWeak => "Read both wheels with torque wrench and gauge.",
            Self::LightRear => "Set the valve for the load that is aboard now.",
        }
    }

    /// What it does, to be computed for a car.
    #[must_use]
    pub(crate) const fn effect(self) -> Effect {
        match self {
            Self::AirRear => Effect::AirRear,
            Self::AirFront => Effect::AirFront,
            Self::KnockBack => Effect::KnockBack,
            Self::ShoesFarOff => Effect::ShoesFarOff,
            Self::SoftHose => Effect::Flex,
            Self::PadsCold => Effect::Cold,
            Self::PadsGlazed => Effect::Friction(0.75),
            Self::PadsOiled => Effect::Friction(0.5),
            Self::FluidBoils => Effect::Vapour,
            Self::Centre => Effect::Centre,
            Self::ValveCuts => Effect::Knee(0.6),
            Self::ValveOpen => Effect::Knee(1.6),
            Self::NoVacuum => Effect::NoVacuum,
            Self::SideWeak => Effect::Friction(0.85),
            Self::LightRear => Effect::LightRear,
            Self::ByPassCovered
            | Self::LeverSeal
            | Self::MasterSeal
            | Self::Leak
            | Self::EngineDrives
            | Self::PistonSticks
            | Self::HoseShut => Effect::Nothing,
        }
    }

    /// Where it is known from.
    #[must_use]
    pub const fn source(self) -> CauseSource {
        match self {
            Self::Centre | Self::LightRear => CauseSource::Computed,
            Self::FluidBoils => CauseSource::Published(
                "Emery, Kumar, Firey, WSDOT WA-RD 434.1 (1997): boiling tied to moisture, severity, time (its abstract)",
            ),
            Self::SideWeak => CauseSource::Published(
                "MOT reason for rejection 1.2.1.b.i: a wheel below 70 % of its axle's other (as listed in public code)",
            ),
            _ => CauseSource::CommonPractice,
        }
    }
}

/// How likely each cause is with a symptom before anything is looked at, in parts (common practice, judgement).
pub(crate) fn causes(symptom: Symptom) -> &'static [(Cause, f64)] {
    use Cause as C;
    match symptom {
        Symptom::LongThenFirm => &[
            (C::AirRear, 4.0),
            (C::KnockBack, 4.0),
            (C::ShoesFarOff, 4.0),
            (C::LeverSeal, 1.0),
            (C::Leak, 1.0),
        ],
        Symptom::ComesUpFurther => &[
            (C::AirRear, 4.0),
            (C::KnockBack, 3.0),
            (C::ShoesFarOff, 4.0),
            (C::SoftHose, 2.0),
            (C::LeverSeal, 1.0),
            (C::Leak, 2.0),
        ],
        Symptom::LeverSoft => &[
            (C::AirRear, 5.0),
            (C::SoftHose, 3.0),
            (C::FluidBoils, 1.0),
            (C::LeverSeal, 1.0),
        ],
        Symptom::FirmNoLock => &[
            (C::PadsCold, 4.0),
            (C::Centre, 4.0),
            (C::PadsGlazed, 2.0),
            (C::PadsOiled, 2.0),
            (C::EngineDrives, 2.0),
            (C::ValveCuts, 2.0),
            (C::PistonSticks, 1.0),
        ],
        Symptom::WalkingPace => &[
            (C::Centre, 6.0),
            (C::EngineDrives, 3.0),
            (C::PadsCold, 2.0),
            (C::PadsGlazed, 1.0),
        ],
        Symptom::LongHot => &[
            (C::FluidBoils, 4.0),
            (C::AirRear, 3.0),
            (C::SoftHose, 2.0),
            (C::KnockBack, 2.0),
        ],
        Symptom::OneSide => &[
            (C::PistonSticks, 4.0),
            (C::PadsOiled, 3.0),
            (C::SideWeak, 3.0),
            (C::HoseShut, 1.0),
            (C::ShoesFarOff, 2.0),
        ],
        Symptom::Drags => &[
            (C::ByPassCovered, 5.0),
            (C::PistonSticks, 3.0),
            (C::HoseShut, 2.0),
            (C::ShoesFarOff, 0.5),
        ],
        Symptom::WillNotHold => &[
            (C::LeverSeal, 4.0),
            (C::Leak, 4.0),
            (C::AirRear, 1.0),
            (C::SoftHose, 1.0),
        ],
        Symptom::PedalPumps => &[
            (C::KnockBack, 4.0),
            (C::ShoesFarOff, 4.0),
            (C::AirFront, 3.0),
            (C::AirRear, 3.0),
            (C::MasterSeal, 1.0),
        ],
        Symptom::PedalSinks => &[(C::MasterSeal, 5.0), (C::Leak, 5.0), (C::LeverSeal, 1.0)],
        Symptom::PedalSoft => &[
            (C::AirFront, 4.0),
            (C::AirRear, 4.0),
            (C::SoftHose, 2.0),
            (C::FluidBoils, 2.0),
        ],
        Symptom::PedalHard => &[
            (C::NoVacuum, 5.0),
            (C::PadsGlazed, 3.0),
            (C::PadsOiled, 2.0),
            (C::PistonSticks, 2.0),
        ],
        Symptom::PedalGone => &[
            (C::FluidBoils, 6.0),
            (C::Leak, 3.0),
            (C::MasterSeal, 2.0),
            (C::KnockBack, 1.0),
        ],
        Symptom::Pulls => &[
            (C::PistonSticks, 4.0),
            (C::PadsOiled, 3.0),
            (C::SideWeak, 3.0),
            (C::HoseShut, 1.0),
        ],
        Symptom::RearFirst => &[
            (C::ValveOpen, 5.0),
            (C::LightRear, 3.0),
            (C::PadsCold, 1.0),
            (C::PadsOiled, 1.0),
        ],
        Symptom::Wet => &[(C::Leak, 8.0), (C::MasterSeal, 1.0)],
    }
}
