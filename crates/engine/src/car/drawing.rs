//! Cards that show how a figure is measured: their names and what stands above them. The table of keys names a card in
//! every row that a person measures.

/// A card with a drawing that shows what is measured, and where.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Drawing {
    /// The car level on four scales.
    Scales,
    /// One axle raised, the other on the scales.
    Raised,
    /// Two plumb lines and the tape between.
    Wheelbase,
    /// Chalk at the middle of both treads.
    Tracks,
    /// A bathroom scale, and a luggage scale.
    Weight,
    /// Crew, tank and items, from the side.
    Aboard,
    /// A tank and a marked can.
    Tank,
    /// A tyre, and one turn of it along the floor.
    Tyre,
    /// A car that stopped, and the tape from where it began.
    Stop,
    /// A pedal, its pad and its push rod.
    Pedal,
    /// A scale under the foot, a gauge at a front nipple.
    Foot,
    /// Tandem and twin; both splits from above.
    Master,
    /// A size cast into a body, a vernier on a piston.
    Bore,
    /// A ruler at the push rod, from rest to the stop.
    Stroke,
    /// A balance bar over two cylinders, each with its gauge.
    Bar,
    /// A valve with a knob, and one with a stepped lever.
    Knob,
    /// A gauge before the valve and one behind it.
    ValveGauges,
    /// Two gauges, and scales under the rear wheels.
    LoadValve,
    /// A lever in the rear line, one with its own calipers, one with a cable.
    LeverKind,
    /// A lever, its grip and its push rod.
    LeverRatio,
    /// The first of the travel, at the grip and at the push rod.
    FreePlay,
    /// A luggage scale on the grip.
    HandPull,
    /// Ruler and scale at the grip, a gauge at a rear nipple.
    SlowPull,
    /// A scale at either end of a cable.
    Cable,
    /// The grip from rest to where something stops it.
    Room,
    /// Bolts, sheet, spreader and two heights.
    Mount,
    /// Opposed and sliding calipers, a drum.
    Caliper,
    /// A disc, and the two edges of the pads' track.
    PadTrack,
    /// A disc from its face and cut through, with its pads.
    Disc,
    /// A raised wheel, a torque wrench on its hub, a gauge.
    Wrench,
    /// A drum opened: its shoes, its cylinder, its inside.
    Drum,
    /// A shoe: its pivot, two angles, two lengths.
    Shoe,
    /// One wheel raised and turned by hand.
    Differential,
    /// One front and one rear wheel raised, one turned by hand.
    Centre,
    /// One rear wheel raised, a torque wrench on its hub.
    CentreWrench,
    /// Where a coupling can sit, and chalk to count turns.
    Shafts,
    /// A phone that films switch and propshaft.
    Film,
    /// A string along a pipe, and its clips.
    Lines,
    /// A vernier across a pipe, a magnet, two hoses.
    Pipe,
    /// A thread gauge, a vernier, and seats to tell apart.
    Thread,
    /// A bottle, its label, the tag on the reservoir.
    Fluid,
    /// A pedal prop, a gauge, a watch and a thermometer.
    Held,
    /// A curve with two points read off.
    Papers,
}

impl Drawing {
    /// All of them, in the order of the table of keys.
    pub const ALL: [Self; 43] = [
        Self::Scales,
        Self::Raised,
        Self::Wheelbase,
        Self::Tracks,
        Self::Weight,
        Self::Aboard,
        Self::Tank,
        Self::Tyre,
        Self::Stop,
        Self::Pedal,
        Self::Foot,
        Self::Master,
        Self::Bore,
        Self::Stroke,
        Self::Bar,
        Self::Knob,
        Self::ValveGauges,
        Self::LoadValve,
        Self::LeverKind,
        Self::LeverRatio,
        Self::FreePlay,
        Self::HandPull,
        Self::SlowPull,
        Self::Cable,
        Self::Room,
        Self::Mount,
        Self::Caliper,
        Self::PadTrack,
        Self::Disc,
        Self::Wrench,
        Self::Drum,
        Self::Shoe,
        Self::Differential,
        Self::Centre,
        Self::CentreWrench,
        Self::Shafts,
        Self::Film,
        Self::Lines,
        Self::Pipe,
        Self::Thread,
        Self::Fluid,
        Self::Held,
        Self::Papers,
    ];

    /// The one of a name; `None` where there is none.
    #[must_use]
    pub fn named(name: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|drawing| drawing.name() == name)
    }

    /// Its name in addresses and commands.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Scales => "scales",
            Self::Raised => "raised-axle",
            Self::Wheelbase => "wheelbase",
            Self::Tracks => "tracks",
            Self::Weight => "weight",
            Self::Aboard => "aboard",
            Self::Tank => "tank",
            Self::Tyre => "tyre",
            Self::Stop => "stop",
            Self::Pedal => "pedal-ratio",
            Self::Foot => "foot",
            Self::Master => "master",
            Self::Bore => "bore",
            Self::Stroke => "stroke",
            Self::Bar => "balance-bar",
            Self::Knob => "knob",
            Self::ValveGauges => "valve-gauges",
            Self::LoadValve => "load-valve",
            Self::LeverKind => "lever-kind",
            Self::LeverRatio => "lever-ratio",
            Self::FreePlay => "free-play",
            Self::HandPull => "hand-pull",
            Self::SlowPull => "slow-pull",
            Self::Cable => "cable",
            Self::Room => "room",
            Self::Mount => "mount",
            Self::Caliper => "caliper-kind",
            Self::PadTrack => "pad-track",
            Self::Disc => "disc",
            Self::Wrench => "torque-wrench",
            Self::Drum => "drum",
            Self::Shoe => "shoe",
            Self::Differential => "differential",
            Self::Centre => "centre",
            Self::CentreWrench => "centre-wrench",
            Self::Shafts => "shafts",
            Self::Film => "film",
            Self::Lines => "lines",
            Self::Pipe => "pipe",
            Self::Thread => "thread",
            Self::Fluid => "fluid",
            Self::Held => "held-pressure",
            Self::Papers => "papers",
        }
    }

    /// What stands above it.
    #[must_use]
    pub const fn title(self) -> &'static str {
        match self {
            Self::Scales => "On four scales",
            Self::Raised => "One axle raised",
            Self::Wheelbase => "Wheelbase",
            Self::Tracks => "Track width",
            Self::Weight => "Weight of a part or a person",
            Self::Aboard => "Where a weight sits",
            Self::Tank => "What the tank holds",
            Self::Tyre => "One turn of a tyre",
            Self::Stop => "A stop along the tape",
            Self::Pedal => "Pedal ratio",
            Self::Foot => "Foot against gauge",
            Self::Master => "Which master cylinder, which split",
            Self::Bore => "Bore of a cylinder",
            Self::Stroke => "Stroke of a cylinder",
            Self::Bar => "Share of a balance bar",
            Self::Knob => "Knob of the bias valve",
            Self::ValveGauges => "Two gauges at the bias valve",
            Self::LoadValve => "A valve that feels the load",
            Self::LeverKind => "How the lever works",
            Self::LeverRatio => "Lever ratio",
            Self::FreePlay => "Free play and free stroke",
            Self::HandPull => "What the driver pulls",
            Self::SlowPull => "A slow pull",
            Self::Cable => "A cable handbrake",
            Self::Room => "Room for the grip",
            Self::Mount => "Lever mount",
            Self::Caliper => "Which brake it is",
            Self::PadTrack => "Where the pads rub",
            Self::Disc => "Disc and pads",
            Self::Wrench => "Torque wrench on the hub",
            Self::Drum => "Drum brake",
            Self::Shoe => "Geometry of a shoe",
            Self::Differential => "What a differential does",
            Self::Centre => "Whether the centre ties",
            Self::CentreWrench => "What the centre carries",
            Self::Shafts => "Shafts and the centre coupling",
            Self::Film => "Time to let go",
            Self::Lines => "Along the line",
            Self::Pipe => "Which pipe, which hose",
            Self::Thread => "Thread and seat",
            Self::Fluid => "What the fluid is",
            Self::Held => "A pressure held",
            Self::Papers => "From the maker's papers",
        }
    }
}
