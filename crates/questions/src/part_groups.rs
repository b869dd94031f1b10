//! Groups of parts that a search may change, each with its keys of the sheet.

/// What is no part: a knob that is turned.
pub(crate) const VALVE_SETTING: &str = "valve setting";

/// Groups of parts, as `--change` names them, with the parts of each.
pub(crate) const GROUPS: [(&str, &[&str]); 6] = [
    ("lever", &["lever bore", "lever ratio"]),
    (
        "pads",
        &["front pads", "rear pads", "front linings", "rear linings"],
    ),
    (
        "pistons",
        &[
            "front pistons",
            "rear pistons",
            "front wheel cylinders",
            "rear wheel cylinders",
        ],
    ),
    (
        "master",
        &["master bore", "front master bore", "rear master bore"],
    ),
    ("valve", &["bias valve", VALVE_SETTING]),
    ("layout", &["layout"]),
];
