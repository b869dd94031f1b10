//! Stages: a list of stops (`stages/*.toml`), or a speed over time (`stages/*.csv`).

mod stops;
mod trace;

use core::ops::Range;
use std::sync::LazyLock;

use engine::car::{Refusal, Remedy};
use engine::heat::Stage;
use quantity::si::Duration;
use toml::Spanned;
use toml::de::DeValue;

use crate::fault::{Fault, Kind};
use crate::problem::{Finding, Findings, Problems};
use crate::read::decode;
use crate::source::Source;

/// The most that a stage may last.
pub const LONGEST_STAGE: Duration = Duration::from_s(6.0 * 3600.0);

/// The most stops of one entry.
pub const MOST_STOPS: u32 = 1_000;

/// The most rows of a speed trace.
pub const MOST_ROWS: usize = 200_000;

/// Faster than this nothing here is driven (m/s).
const FASTEST_M_S: f64 = 400.0 / 3.6;

/// The hardest braking that is taken (over g), and the hardest speeding up between two stops.
const HARDEST: f64 = 1.6;
const HARDEST_START: f64 = 1.0;

/// The steepest road that is taken.
const STEEPEST: f64 = 0.40;

/// Keys of a stop, of a way down, and of the top of the file.
const OF_STOP: [&str; 7] = ["from", "to", "rate", "every", "repeat", "slope", "by"];
const OF_DESCENT: [&str; 3] = ["at", "slope", "for"];
const OF_FILE: [&str; 4] = ["name", "about", "stop", "descent"];

/// The stages that come with the program, by name. All are invented.
pub const BUILT_IN_STAGES: [(&str, &str); 3] = [
    (
        "twisty gravel",
        include_str!("../../../../demo/stages/twisty-gravel.toml"),
    ),
    (
        "fast tarmac",
        include_str!("../../../../demo/stages/fast-tarmac.toml"),
    ),
    (
        "downhill road",
        include_str!("../../../../demo/stages/downhill-road.toml"),
    ),
];

/// A stage that comes with the program, by its name, letter case aside.
#[must_use]
pub fn built_in_stage(name: &str) -> Option<Stage> {
    // Read once: a handle asks for one again and again.
    static READ: LazyLock<[Option<Stage>; BUILT_IN_STAGES.len()]> =
        LazyLock::new(|| BUILT_IN_STAGES.map(|(name, text)| stage(text.as_bytes(), name).ok()));
    let wanted = name.trim().to_lowercase();
    let place = BUILT_IN_STAGES.iter().position(|(name, _)| *name == wanted)?;
    READ.get(place)?.clone()
}

/// Reads a stage. `file` is the name that problems carry: one that ends in `.csv` is read as a speed over time, any other
/// as a list of stops. A stage without a name of its own is called after its file.
///
/// ```
/// let text = "[[stop]]\nfrom = \"120 km/h\"\nto = \"50 km/h\"\nrate = 0.7\nevery = \"18 s\"\nrepeat = 20\n";
/// let stage = sheet::stage(text.as_bytes(), "climb.toml")?;
/// assert_eq!((&*stage.name, stage.lasts().s()), ("climb", 360.0));
///
/// let problems = sheet::stage(b"[[stop]]\nfrom = \"120 km\"\nto = \"0 km/h\"\nrate = 0.7\n", "climb.toml").unwrap_err();
/// let problem = &problems.shown()[0];
/// assert_eq!((problem.line, problem.column), (2, 9));
/// # Ok::<(), sheet::Problems>(())
/// ```
///
/// # Errors
/// Everything that is wrong with it, each with its place.
pub fn stage(bytes: &[u8], file: &str) -> Result<Stage, Problems> {
    let mut findings = Findings::default();
    let Some(text) = decode(bytes, &mut findings) else {
        return Err(findings.into_problems(&[Source::new(file, "")]));
    };
    let bare = file.rsplit(['/', '\\']).next().unwrap_or(file);
    let (called, trace) = match bare.rsplit_once('.') {
        Some((name, "csv" | "CSV")) => (name, true),
        Some((name, "toml")) => (name, false),
        _ => (bare, false),
    };
    let mut reader = Reader {
        text: &text,
        findings,
    };
    let stage = if trace {
        reader.trace(called)
    } else {
        reader.stops(called)
    };
    match stage {
        Some(stage) if reader.findings.is_empty() => Ok(stage),
        _ => {
            let findings = reader.findings;
            Err(findings.into_problems(&[Source::new(file, text)]))
        }
    }
}

struct Reader<'t> {
    text: &'t str,
    findings: Findings,
}

type Value<'i> = Spanned<DeValue<'i>>;

impl Reader<'_> {
    fn fault(&mut self, span: Range<usize>, key: Option<&str>, fault: Fault) {
        self.findings.push(Finding {
            source: 0,
            span,
            key: key.map(str::to_owned),
            fault,
        });
    }

    fn refuse(
        &mut self,
        span: Range<usize>,
        slug: &'static str,
        text: impl Into<String>,
        remedy: impl Into<String>,
    ) {
        let refusal = Refusal {
            path: String::new(),
            slug,
            text: text.into(),
            names_its_key: false,
            remedy: Remedy::Do(remedy.into()),
        };
        self.fault(span, None, Fault::Refused(refusal));
    }
}

fn kind(value: &DeValue<'_>) -> Kind {
    match value {
        DeValue::String(_) => Kind::Text,
        DeValue::Integer(_) | DeValue::Float(_) => Kind::Number,
        DeValue::Boolean(_) => Kind::Flag,
        DeValue::Datetime(_) => Kind::Date,
        DeValue::Array(_) => Kind::List,
        DeValue::Table(_) => Kind::Table,
    }
}
