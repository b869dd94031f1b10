//! Readings taken at the car, by thumb: what is asked of each kind, and the change of the sheet that keeps it. A reading of
//! today's pull is a point more of today's entry; the first of a day begins one.

use engine::car::{Car, Date, Inputs, Knee, KnobScale, LeverKind};
use proving::SheetChange;
use quantity::Unit;
use wording::Units;

use crate::onto_sheet::{stands, written};
use crate::trouble::Wrong;

/// A kind of reading.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ReadingForm {
    /// Grip travel, rear pressure, the hand's force.
    Pull,
    /// Setting of the bias valve with a gauge on either side.
    Valve,
    /// Foot force, line pressure, the pedal's travel.
    Pedal,
    /// Pressure held and the torque at which the hub slips.
    Wheel,
}

/// One thing to type or choose.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Field {
    /// Its name in a form.
    pub name: &'static str,
    /// What is asked.
    pub label: &'static str,
    /// The unit that a bare number is taken in, and that stands beside it.
    pub unit: Option<Unit>,
    /// Whether it may be left empty.
    pub optional: bool,
    /// What there is to choose; empty: it is typed.
    pub choices: &'static [&'static str],
}

/// What stands on the sheet of a kind already: the key that takes it off, and what it says, as it is written.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Entered {
    /// `measured.pull[2]`
    pub entry: String,
    /// `2026-04-02: 40 mm, 3 bar; 62 mm, 18 bar`
    pub says: String,
    /// What takes it off.
    pub off: Vec<SheetChange>,
}

impl ReadingForm {
    /// All of them.
    pub const ALL: [Self; 4] = [Self::Pull, Self::Valve, Self::Pedal, Self::Wheel];

    /// Those that can be read on a car.
    pub fn of(car: &Car) -> impl Iterator<Item = Self> + '_ {
        Self::ALL.into_iter().filter(|reading| match reading {
            Self::Pull => car
                .lever
                .as_ref()
                .is_some_and(|lever| !matches!(lever.kind, LeverKind::Cable(_))),
            Self::Valve => car.bias_valve.is_some(),
            Self::Pedal | Self::Wheel => true,
        })
    }

    /// The one of a name in a form.
    #[must_use]
    pub fn named(name: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|reading| reading.name() == name)
    }

    /// Its name in a form.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Pull => "pull",
            Self::Valve => "valve",
            Self::Pedal => "pedal",
            Self::Wheel => "wheel",
        }
    }

    /// What it is called.
    #[must_use]
    pub const fn title(self) -> &'static str {
        match self {
            Self::Pull => "A pull of the handbrake",
            Self::Valve => "Two gauges at the bias valve",
            Self::Pedal => "A press of the pedal",
            Self::Wheel => "The torque that turns a held wheel",
        }
    }

    /// How it is taken, in a sentence or two.
    #[must_use]
    pub const fn how(self) -> &'static str {
        match self {
            Self::Pull => {
                "Gauge at a rear bleed nipple, tape along the grip. Pull slowly, stop, read both. Five stops tell most."
            }
            Self::Valve => {
                "A gauge before the valve and one behind it. Press, hold, read both. Change the knob or the foot, and read again."
            }
            Self::Pedal => {
                "A bathroom scale between foot and pedal, a gauge at a bleed nipple. Hold steady, read both. For a reading with the booster off, empty it first."
            }
            Self::Wheel => {
                "Car on stands, wheels chocked, nobody under it. Hold the pressure, and turn the hub with a torque wrench until it slips."
            }
        }
    }

    const fn table(self) -> &'static str {
        match self {
            Self::Pull => "measured.pull",
            Self::Valve => "measured.valve",
            Self::Pedal => "measured.pedal",
            Self::Wheel => "measured.wheel",
        }
    }

    /// What is asked, in the order of the reading.
    #[must_use]
    pub fn fields(self, units: &Units) -> Vec<Field> {
        let typed = |name, label, unit, optional| Field {
            name,
            label,
            unit: Some(unit),
            optional,
            choices: &[],
        };
        let chosen = |name, label, choices| Field {
            name,
            label,
            unit: None,
            optional: false,
            choices,
        };
        match self {
            Self::Pull => vec![
                typed("travel", "grip travel", units.length, false),
                typed("pressure", "rear pressure", units.pressure, false),
                typed("force", "pull at the grip", units.force, true),
            ],
            Self::Valve => vec![
                Field {
                    name: "setting",
                    label: "turns in from fully out, or the position",
                    unit: None,
                    optional: false,
                    choices: &[],
                },
                typed("front", "before the valve", units.pressure, false),
                typed("rear", "behind the valve", units.pressure, false),
            ],
            Self::Pedal => vec![
                chosen("engine", "engine", &["on", "off"]),
                chosen("press", "press", &["first", "second"]),
                typed("foot", "foot", units.force, false),
                typed("pressure", "line pressure", units.pressure, false),
                typed("travel", "pedal travel", units.length, true),
            ],
            Self::Wheel => vec![
                chosen(
                    "wheel",
                    "wheel",
                    &["rear left", "rear right", "front left", "front right"],
                ),
                chosen("brake", "brake", &["cold", "warm"]),
                typed("pressure", "pressure held", units.pressure, false),
                typed("torque", "torque at which it slips", units.torque, false),
            ],
        }
    }

    /// What keeps a reading on a sheet. `said` gives what was typed into a field.
    ///
    /// # Errors
    /// Something that has to be there is not.
    pub fn changes(
        self,
        car: &Car,
        text: &str,
        today: Date,
        units: &Units,
        said: &dyn Fn(&str) -> String,
    ) -> Result<Vec<SheetChange>, Wrong> {
        let mut wrong = Wrong::default();
        let mut read = Vec::new();
        for field in self.fields(units) {
            let typed = said(field.name).trim().to_owned();
            if typed.is_empty() && !field.optional {
                let what = format!("{} is missing", field.label);
                let remedy = format!("read it and type it{}", in_unit(&field));
                wrong.add(Wrong::plain("form", "missing", what, remedy));
            }
            let text = with_unit(&typed, field.unit);
            read.push((field.name, text));
        }
        if !wrong.is_empty() {
            return Err(wrong);
        }
        let value = |name: &str| {
            read.iter()
                .find(|(of, _)| *of == name)
                .map_or_else(String::new, |(_, text)| text.clone())
        };
        let point = |columns: &[&str]| {
            let said: Vec<String> = columns
                .iter()
                .map(|name| value(name))
                .filter(|text| !text.is_empty())
                .map(|text| quoted(&text))
                .collect();
            format!("[{}]", said.join(", "))
        };
        let on = ("on", today.to_string());
        Ok(match self {
            Self::Pull => self.point_more(text, &[on], &point(&["travel", "pressure", "force"])),
            Self::Pedal => {
                let head = [
                    on,
                    ("engine", quoted(&value("engine"))),
                    ("press", quoted(&value("press"))),
                ];
                self.point_more(text, &head, &point(&["foot", "pressure", "travel"]))
            }
            Self::Valve => {
                let setting = value("setting");
                self.entry(
                    text,
                    &[
                        ("setting", as_setting(&setting, has_positions(car))),
                        ("front", quoted(&value("front"))),
                        ("rear", quoted(&value("rear"))),
                        on,
                    ],
                )
            }
            Self::Wheel => self.entry(
                text,
                &[
                    on,
                    ("wheel", quoted(&value("wheel"))),
                    ("brake", quoted(&value("brake"))),
                    ("pressure", quoted(&value("pressure"))),
                    ("torque", quoted(&value("torque"))),
                ],
            ),
        })
    }

    /// A point more of the last entry with that head, or the first of a new one.
    fn point_more(self, text: &str, head: &[(&str, String)], point: &str) -> Vec<SheetChange> {
        let entries = self.count(text);
        let last = format!("{}[{entries}]", self.table());
        let at = |key: &str| written(text, &format!("{last}.{key}"));
        let goes_on = entries > 0
            && head.iter().all(|(key, value)| {
                // What is left out has its usual word.
                let stands = at(key).or_else(|| usual(key).map(quoted));
                stands.as_ref() == Some(value)
            });
        let points = at("points").filter(|_| goes_on);
        match points {
            // Sent once more, or pressed twice.
            Some(was) if was.trim_end().ends_with(&format!("{point}]")) => Vec::new(),
            Some(was) => {
                let now = was.trim_end().strip_suffix(']').map_or_else(
                    || format!("[{point}]"),
                    |open| format!("{}, {point}]", open.trim_end().trim_end_matches(',')),
                );
                vec![SheetChange {
                    key: format!("{last}.points"),
                    was: Some(was),
                    now: Some(now),
                }]
            }
            None => {
                let mut keys: Vec<(&str, String)> = head
                    .iter()
                    .filter(|(key, value)| usual(key).map(quoted).as_ref() != Some(value))
                    .cloned()
                    .collect();
                keys.push(("points", format!("[{point}]")));
                self.entry(text, &keys)
            }
        }
    }

    /// An entry more, of keys and their values as a file writes them; nothing where the last entry says the same.
    #[must_use]
    pub fn entry_more<'k>(
        self,
        text: &str,
        keys: impl Iterator<Item = (&'k str, String)>,
    ) -> Vec<SheetChange> {
        self.entry(text, &keys.collect::<Vec<_>>())
    }

    fn entry(self, text: &str, keys: &[(&str, String)]) -> Vec<SheetChange> {
        let last = format!("{}[{}]", self.table(), self.count(text));
        let there = |key: &str| written(text, &format!("{last}.{key}"));
        // Sent once more, or pressed twice.
        if keys.iter().all(|(key, value)| there(key).as_ref() == Some(value)) {
            return Vec::new();
        }
        let entry = format!("{}[{}]", self.table(), self.count(text) + 1);
        keys.iter()
            .map(|(key, value)| SheetChange {
                key: format!("{entry}.{key}"),
                was: None,
                now: Some(value.clone()),
            })
            .collect()
    }

    fn count(self, text: &str) -> usize {
        let read = sheet::read(text.as_bytes(), "");
        (1..)
            .take_while(|number| {
                read.places
                    .table(&format!("{}[{number}]", self.table()))
                    .is_some()
            })
            .count()
    }

    /// What stands on a sheet of this kind, the newest last.
    #[must_use]
    pub fn entered(self, text: &str) -> Vec<Entered> {
        let read = sheet::read(text.as_bytes(), "");
        (1..=self.count(text))
            .map(|number| {
                let entry = format!("{}[{number}]", self.table());
                let keys = keys_of(&read.inputs, text, &entry);
                let says: Vec<String> = keys
                    .iter()
                    .map(|(key, raw)| {
                        let name = key.rsplit('.').next().unwrap_or_default();
                        let rows = raw.replace("], [", "; ").replace("],[", "; ");
                        let plain = rows.replace(['"', '[', ']'], "");
                        if name == "points" || name == "on" {
                            plain
                        } else {
                            format!("{name} {plain}")
                        }
                    })
                    .collect();
                Entered {
                    says: says.join(": "),
                    off: keys
                        .into_iter()
                        .map(|(key, raw)| SheetChange {
                            key,
                            was: Some(raw),
                            now: None,
                        })
                        .collect(),
                    entry,
                }
            })
            .collect()
    }
}

fn keys_of(inputs: &Inputs, text: &str, entry: &str) -> Vec<(String, String)> {
    let under = format!("{entry}.");
    let read = sheet::read(text.as_bytes(), "");
    inputs
        .slots()
        .map(|(slot, _)| slot.path())
        .filter(|path| path.starts_with(&under))
        .filter_map(|path| stands(&read, &path).map(|raw| (path, raw)))
        .collect()
}

/// What is taken where a key is left out.
fn usual(key: &str) -> Option<&'static str> {
    match key {
        "engine" => Some("on"),
        "press" => Some("first"),
        _ => None,
    }
}

fn in_unit(field: &Field) -> String {
    field.unit.map_or_else(String::new, |unit| {
        format!(", a bare number in {}", unit.symbol())
    })
}

/// A bare number is in the unit that stands beside the field.
fn with_unit(typed: &str, unit: Option<Unit>) -> String {
    let bare = !typed.is_empty() && !typed.chars().any(char::is_alphabetic) && !typed.contains(['"', '%']);
    match unit {
        Some(unit) if bare => format!("{typed} {}", unit.symbol()),
        _ => typed.to_owned(),
    }
}

/// Whether a bare number at the valve is a position of its knob rather than turns.
fn has_positions(car: &Car) -> bool {
    matches!(
        car.bias_valve.as_ref().map(|valve| &valve.knee),
        Some(Knee::Knob { scale, .. }) if !matches!(scale, KnobScale::Turns(_))
    )
}

fn as_setting(typed: &str, position: bool) -> String {
    if position && typed.bytes().all(|byte| byte.is_ascii_digit()) {
        typed.to_owned()
    } else if typed.chars().any(char::is_alphabetic) {
        quoted(typed)
    } else {
        quoted(&format!("{typed} turns"))
    }
}

/// As a string of the file.
fn quoted(text: &str) -> String {
    let mut out = String::with_capacity(text.len() + 2);
    out.push('"');
    for letter in text.chars() {
        match letter {
            '"' => out.push_str("\\\""),
            '\\' => out.push_str("\\\\"),
            letter if letter.is_control() => out.push(' '),
            letter => out.push(letter),
        }
    }
    out.push('"');
    out
}
