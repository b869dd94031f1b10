//! What to mind, beside the figure or the finding that it belongs to.

/// Beside every answer.
pub const FIRST_DRIVE: &str = "A computed figure is no brake test. Try the brakes at walking pace first, then slowly, \
     in a place where nothing is in the way.";
/// Beside everything that concerns the road.
pub const ROAD: &str = "A car on public roads needs its mechanical parking brake and its approval. Ask the local rules \
     and a licensed engineer; nothing here stands in for either.";
/// Beside everything that concerns holding.
pub const LATCH: &str = "Pressure behind a latch is not a parking brake: it cools, seeps and lets go with nobody \
     aboard. Chock the wheels, leave it in gear, park on the level.";
/// Beside reservoirs and joints in the cabin.
pub const CABIN: &str = "Brake fluid in the cabin burns and blinds. Upside down, or after a blow, a reservoir or a \
    joint may leak onto the crew.";
/// Beside everything that opens the hydraulics.
pub const FLUID: &str = "Brake fluid strips paint, hurts eyes and skin and draws water. Gloves and glasses; wash \
    spills \
     away with water, and let everything dry before joints are felt for leaks.";
/// Beside work under the car.
pub const STANDS: &str = "Work under the car only on jack stands that carry it, on hard ground.";
/// Beside everything that a scrutineer looks at.
pub const EVENT: &str =
    "What an event accepts is written in the rules of its own body; ask before cutting anything.";
/// Beside whatever raises a wheel.
pub const RAISED: &str = "A raised car falls without warning. Level, hard ground; jack stands rated for it; the other \
    wheels chocked; nobody in it or under it.";
/// Beside whatever turns a wheel or a shaft by hand.
pub const TURNED: &str =
    "Engine off, key out, gearbox in neutral. Keep fingers and sleeves away from what turns.";
/// Beside a gauge in the line.
pub const GAUGE: &str = "Fluid under pressure cuts skin and eyes. A gauge and hose rated for it; glasses; press slowly. \
    Bleed and check for leaks when the gauge is out.";
/// Beside a scale or a wrench that is pulled hard.
pub const PULLED: &str = "What is pulled can slip off. Stand so that neither the tool nor you hit anything.";
/// Beside brake dust and linings.
pub const DUST: &str =
    "Never blow brake dust out: old linings may hold asbestos. Wipe it off damp, with a mask on.";
