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
