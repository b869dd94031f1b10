//! A list of stops, with ways down between them.

use core::ops::Range;
use std::sync::Arc;

use engine::GRAVITY_M_S2;
use engine::heat::{By, Descent, Stage, StagePart, Stops};
use nearest::{nearest, nearest_one};
use quantity::si::{Duration, Speed};
use quantity::{Amount, Dimension, Spread};
use toml::de::{DeTable, DeValue};

use super::{
    FASTEST_M_S, HARDEST, HARDEST_START, LONGEST_STAGE, MOST_STOPS, OF_DESCENT, OF_FILE, OF_STOP, Reader,
    STEEPEST, Value, kind,
};
use crate::fault::{Fault, Meant};
use crate::syntax::{self, SyntaxFault};

impl Reader<'_> {
    pub(super) fn stops(&mut self, called: &str) -> Option<Stage> {
        if let Some(at) = syntax::too_many_signs(self.text) {
            self.fault(at, None, Fault::SyntaxFault(SyntaxFault::TooManySigns));
            return None;
        }
        let (tree, errors) = DeTable::parse_recoverable(self.text);
        if !errors.is_empty() {
            drop((tree, errors));
            let (mended, mut trouble) = syntax::mend(self.text);
            let (_, errors) = DeTable::parse_recoverable(&mended.text);
            trouble.sort_in(self.text, &mended.statements, &errors);
            let all = trouble.faults.iter().cloned().chain(trouble.unclaimed(&[]));
            for (span, fault) in all.collect::<Vec<_>>() {
                self.fault(span, None, Fault::SyntaxFault(fault));
            }
            return None;
        }
        let table = tree.get_ref();
        let (mut name, mut about) = (called.to_owned(), String::new());
        let mut parts: Vec<(usize, StagePart)> = Vec::new();
        let mut entries = 0_usize;
        for (key, value) in table {
            match (key.get_ref().as_ref(), value.get_ref()) {
                ("name", DeValue::String(said)) if !said.trim().is_empty() => {
                    said.trim().clone_into(&mut name)
                }
                ("about", DeValue::String(said)) => said.trim().clone_into(&mut about),
                ("stop" | "descent", DeValue::Array(list)) => {
                    let is_stop = key.get_ref() == "stop";
                    for entry in list {
                        entries += 1;
                        let DeValue::Table(keys) = entry.get_ref() else {
                            self.not_a_table(key.get_ref(), entry);
                            continue;
                        };
                        let part = if is_stop {
                            self.stop(keys, entry.span())
                        } else {
                            self.descent(keys, entry.span())
                        };
                        parts.extend(part.map(|part| (entry.span().start, part)));
                    }
                }
                (known @ ("stop" | "descent"), _) => self.fault(
                    key.span(),
                    Some(known),
                    Fault::Brackets {
                        name: known.to_owned(),
                        repeats: true,
                    },
                ),
                ("name" | "about", _) => self.refuse(
                    value.span(),
                    "wrong-type",
                    format!("{} is a text in quotes", key.get_ref()),
                    "write it in quotes, on one line",
                ),
                (unknown, _) => {
                    let near = nearest_one(unknown, OF_FILE).map(|near| format!("did you mean `{near}`?"));
                    self.refuse(
                        key.span(),
                        "unknown-key",
                        format!("a stage has no `{unknown}`"),
                        near.unwrap_or_else(|| format!("there are: {}", OF_FILE.join(", "))),
                    );
                }
            }
        }
        if entries == 0 {
            self.refuse(
                0..0,
                "stage-empty",
                "it has no stop",
                "write [[stop]] above each kind of stop, then from, to, rate, every and repeat",
            );
        }
        // The order of the file is the order of the road.
        parts.sort_by_key(|&(start, _)| start);
        self.between(&parts);
        let stage = Stage {
            name: Arc::from(name.as_str()),
            about: Arc::from(about.as_str()),
            parts: parts.into_iter().map(|(_, part)| part).collect(),
        };
        if stage.lasts() > LONGEST_STAGE {
            self.refuse(
                0..0,
                "stage-too-long",
                "the stage lasts more than six hours",
                "look at every and repeat, or part it in two",
            );
        }
        Some(stage)
    }

    fn not_a_table(&mut self, name: &str, entry: &Value<'_>) {
        self.fault(
            entry.span(),
            Some(name),
            Fault::NotATable {
                name: name.to_owned(),
                found: kind(entry.get_ref()),
                written: format!("[[{name}]] above its keys"),
            },
        );
    }

    fn stop(&mut self, keys: &DeTable<'_>, whole: Range<usize>) -> Option<StagePart> {
        self.known(keys, "stop", &OF_STOP);
        let header = whole.start..whole.start + "[[stop]]".len();
        let from = self.needed(keys, &header, "from", Dimension::Speed, "\"120 km/h\"");
        let to = self.needed(keys, &header, "to", Dimension::Speed, "\"50 km/h\"");
        let rate = self.needed(keys, &header, "rate", Dimension::Ratio, "0.7");
        let repeat = self.count(keys);
        let every = if repeat == Some(1) && keys.get("every").is_none() {
            None
        } else {
            self.needed(keys, &header, "every", Dimension::Duration, "\"18 s\"")
        };
        let slope = self.amount(keys, "slope", Dimension::Slope);
        let by = self.by(keys);
        let (from, to, rate) = (from?, to?, rate?);
        let mut fits = true;
        for (speed, key) in [(&from, "from"), (&to, "to")] {
            if !(0.0..=FASTEST_M_S).contains(&speed.0) {
                self.refuse(
                    speed.1.clone(),
                    "out-of-range",
                    format!("`{key}` is not between 0 and 400 km/h"),
                    "look at number and unit",
                );
                fits = false;
            }
        }
        if fits && to.0 >= from.0 {
            self.refuse(
                to.1.clone(),
                "contradiction",
                "a stop ends slower than it begins",
                "`to` is the lower of the two speeds",
            );
            fits = false;
        }
        if !(0.02..=HARDEST).contains(&rate.0) {
            self.refuse(
                rate.1.clone(),
                "out-of-range",
                "the braking is not between 0.02 and 1.6 of g",
                "rate is deceleration over g: gravel 0.3 to 0.5, dry tarmac up to 1",
            );
            fits = false;
        }
        if let Some((slope, span)) = &slope
            && slope.abs() > STEEPEST
        {
            self.refuse(
                span.clone(),
                "out-of-range",
                "the road is steeper than 40 %",
                "uphill is positive, downhill negative: slope = \"-8 %\"",
            );
            fits = false;
        }
        if !fits {
            return None;
        }
        let takes_s = (from.0 - to.0) / (rate.0 * GRAVITY_M_S2);
        let every_s = match every {
            Some((every_s, span)) if every_s < takes_s => {
                self.refuse(
                    span,
                    "contradiction",
                    format!("the stop itself takes {takes_s:.1} s, and the next is to begin before"),
                    "every counts from the start of one stop to the start of the next",
                );
                return None;
            }
            Some((every_s, _)) => every_s,
            None if keys.get("every").is_none() && repeat == Some(1) => takes_s,
            None => return None,
        };
        Some(StagePart::Stops(Stops {
            from: Speed::from_m_s(from.0),
            to: Speed::from_m_s(to.0),
            rate: rate.0,
            every: Duration::from_s(every_s),
            repeat: repeat?,
            slope: slope.map_or(0.0, |(slope, _)| slope),
            by: by?,
        }))
    }

    fn descent(&mut self, keys: &DeTable<'_>, whole: Range<usize>) -> Option<StagePart> {
        self.known(keys, "descent", &OF_DESCENT);
        let header = whole.start..whole.start + "[[descent]]".len();
        let at = self.needed(keys, &header, "at", Dimension::Speed, "\"50 km/h\"");
        let slope = self.needed(keys, &header, "slope", Dimension::Slope, "\"-8 %\"");
        let lasts = self.needed(keys, &header, "for", Dimension::Duration, "\"90 s\"");
        let (at, slope, lasts) = (at?, slope?, lasts?);
        let mut fits = true;
        if !(at.0 > 0.0 && at.0 <= FASTEST_M_S) {
            self.refuse(
                at.1,
                "out-of-range",
                "the speed is not between 0 and 400 km/h",
                "look at number and unit",
            );
            fits = false;
        }
        if !(-STEEPEST..0.0).contains(&slope.0) {
            self.refuse(
                slope.1,
                "out-of-range",
                "a way down has a slope below zero, down to -40 %",
                "write slope = \"-8 %\"",
            );
            fits = false;
        }
        if lasts.0 <= 0.0 {
            self.refuse(
                lasts.1,
                "out-of-range",
                "a way down lasts longer than nothing",
                "write for = \"90 s\"",
            );
            fits = false;
        }
        fits.then(|| {
            StagePart::Descent(Descent {
                at: Speed::from_m_s(at.0),
                slope: slope.0,
                lasts: Duration::from_s(lasts.0),
            })
        })
    }

    /// Nothing speeds up between two stops faster than a car can.
    fn between(&mut self, parts: &[(usize, StagePart)]) {
        for (number, (start, part)) in parts.iter().enumerate() {
            let StagePart::Stops(stops) = part else { continue };
            let next = parts.get(number + 1).map(|(_, next)| match next {
                StagePart::Stops(next) => next.from,
                StagePart::Descent(next) => next.at,
                StagePart::Trace(points) => points.first().map_or(Speed::ZERO, |point| point.speed),
            });
            let time_s = (stops.every - stops.lasts()).s();
            let up_to = if stops.repeat > 1 {
                stops.from.max(next.unwrap_or(stops.from))
            } else {
                next.unwrap_or(stops.from)
            };
            let gains = (up_to - stops.to).m_s();
            let alone = stops.repeat == 1 && next.is_none();
            if !alone && gains > HARDEST_START * GRAVITY_M_S2 * time_s + 1e-9 {
                self.refuse(
                    *start..*start + "[[stop]]".len(),
                    "contradiction",
                    format!(
                        "{time_s:.1} s are left to go from {:.0} km/h up to {:.0} km/h, and no car does that",
                        stops.to.m_s() * 3.6,
                        up_to.m_s() * 3.6
                    ),
                    "give it more time with every",
                );
            }
        }
    }

    fn known(&mut self, keys: &DeTable<'_>, table: &str, known: &[&str]) {
        for (key, _) in keys {
            let name = key.get_ref().as_ref();
            if known.contains(&name) {
                continue;
            }
            let near = nearest(name, known.iter().copied());
            let offer = if near.is_empty() {
                Meant::All(known.iter().map(|&name| name.to_owned()).collect())
            } else {
                Meant::Near(near.into_iter().map(str::to_owned).collect())
            };
            self.fault(
                key.span(),
                Some(&format!("{table}.{name}")),
                Fault::Unknown {
                    name: name.to_owned(),
                    table: table.to_owned(),
                    is_table: false,
                    offer,
                },
            );
        }
    }

    fn needed(
        &mut self,
        keys: &DeTable<'_>,
        header: &Range<usize>,
        key: &str,
        dimension: Dimension,
        example: &str,
    ) -> Option<(f64, Range<usize>)> {
        if keys.get(key).is_none() {
            self.refuse(
                header.clone(),
                "missing-key",
                format!("`{key}` is missing here"),
                format!("write {key} = {example}"),
            );
            return None;
        }
        self.amount(keys, key, dimension)
    }

    /// A quantity in SI, and where it stands.
    fn amount(&mut self, keys: &DeTable<'_>, key: &str, dimension: Dimension) -> Option<(f64, Range<usize>)> {
        let value = keys.get(key)?;
        let span = value.span();
        let written = match value.get_ref() {
            DeValue::String(text) => text.to_string(),
            DeValue::Float(number) if dimension == Dimension::Ratio => number.as_str().to_owned(),
            DeValue::Integer(number) if dimension == Dimension::Ratio => number.as_str().to_owned(),
            other => {
                self.refuse(
                    span,
                    "wrong-type",
                    format!(
                        "`{key}` is {}, but here it is {}",
                        dimension.with_article(),
                        kind(other).with_article()
                    ),
                    format!("write {key} = \"…\" with its unit"),
                );
                return None;
            }
        };
        match quantity::parse(&written, dimension) {
            Ok(Amount {
                si,
                spread: Spread::Exact,
                ..
            }) => Some((si, span)),
            Ok(_) => {
                self.refuse(
                    span,
                    "stage-tolerance",
                    "a stage has no tolerances",
                    "write the figure alone; what is unsure about the car belongs on its sheet",
                );
                None
            }
            Err(fault) => {
                let quote = usize::from(matches!(value.get_ref(), DeValue::String(_)));
                self.fault(
                    span.start + quote..span.end - quote,
                    Some(key),
                    Fault::Quantity(fault),
                );
                None
            }
        }
    }

    fn count(&mut self, keys: &DeTable<'_>) -> Option<u32> {
        let Some(value) = keys.get("repeat") else {
            return Some(1);
        };
        let number = match value.get_ref() {
            DeValue::Integer(number) => number.as_str().replace('_', "").parse::<u32>().ok(),
            _ => None,
        };
        let count = number.filter(|count| (1..=MOST_STOPS).contains(count));
        if count.is_none() {
            self.refuse(
                value.span(),
                "not-a-count",
                "`repeat` is how often, a whole number from 1 to 1000",
                "write repeat = 20",
            );
        }
        count
    }

    fn by(&mut self, keys: &DeTable<'_>) -> Option<By> {
        const WORDS: &[&str] = &["pedal", "handbrake"];
        let Some(value) = keys.get("by") else {
            return Some(By::Pedal);
        };
        match value.get_ref() {
            DeValue::String(word) if word.as_ref() == "pedal" => Some(By::Pedal),
            DeValue::String(word) if word.as_ref() == "handbrake" => Some(By::Handbrake),
            DeValue::String(word) => {
                let near = nearest_one(word, WORDS.iter().copied());
                let fault = Fault::UnknownWord {
                    found: word.to_string(),
                    words: WORDS,
                    near: near.and_then(|near| WORDS.iter().copied().find(|word| *word == near)),
                };
                self.fault(value.span(), Some("stop.by"), fault);
                None
            }
            other => {
                let found = kind(other).with_article();
                self.refuse(
                    value.span(),
                    "wrong-type",
                    format!("`by` is a word, but here it is {found}"),
                    "write by = \"pedal\" or by = \"handbrake\"",
                );
                None
            }
        }
    }
}
