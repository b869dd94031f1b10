//! Questions that may be asked of two cars: those whose answer is the car's alone, without what was done or read.

use crate::trouble::Wrong;

/// Their names.
pub static COMPARED: [&str; 8] = [
    "assess",
    "lever",
    "balance",
    "pressures",
    "settings",
    "turn",
    "heat",
    "hold",
];

/// One of them.
///
/// # Errors
/// No such question, or one that is not compared.
pub(crate) fn asked(name: &str) -> Result<&'static str, Wrong> {
    let name = name.trim();
    let known = COMPARED.iter().copied().find(|known| *known == name);
    known.ok_or_else(|| {
        let remedy = nearest::nearest_one(name, COMPARED).map_or_else(
            || format!("one of: {}", COMPARED.join(", ")),
            |near| format!("did you mean `{near}`?"),
        );
        let what = format!("`{name}` is no question that is compared");
        Wrong::option(
            "--question",
            name,
            0..name.len(),
            "unknown-question",
            what,
            remedy,
        )
    })
}
