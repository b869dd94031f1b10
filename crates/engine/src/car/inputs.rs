use std::cell::RefCell;
use std::collections::{HashMap, HashSet};
use std::sync::Arc;

use quantity::{Amount, Spread};

use super::key::Form;
use super::key_id::KeyId;
use super::tyre_size::TyreSize;

/// A civil date, as a sheet writes it.
pub use jiff::civil::Date;

/// What a sheet says at one key.
#[derive(Clone, Debug, PartialEq)]
pub enum Value {
    /// One quantity.
    Amount(Amount),
    /// A rolling radius that a tyre's designation gives.
    ByLabel(Amount),
    /// The word `guess`: take the key's default.
    Guess,
    /// A list of quantities.
    Amounts(Vec<Amount>),
    /// Rows of quantities; a single row is one row.
    Rows(Vec<Vec<Amount>>),
    /// A whole number: a count, or a position where turns might stand.
    Count(u32),
    /// `true` or `false`.
    Flag(bool),
    /// One of the words of the key.
    Word(&'static str),
    /// Free text.
    Text(Arc<str>),
    /// A list of texts.
    Texts(Vec<Arc<str>>),
    /// A civil date.
    Date(Date),
}

/// The word that says in the place of a table that there is no such thing.
const NONE: &str = "none";

/// A key, and which of a repeated table's entries it stands in (0 where the table is not repeated).
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Slot {
    /// The key.
    pub key: KeyId,
    /// Which entry of its repeated table.
    pub entry: usize,
}

impl Slot {
    /// The path as a person would write it: entries counted from 1 where the table is repeated.
    #[must_use]
    pub fn path(&self) -> String {
        self.key
            .key()
            .path
            .replace("[]", &format!("[{}]", self.entry + 1))
    }
}

/// A sheet's content, key by key, in SI and with tolerances: what [`Car::assemble`](super::Car::assemble) builds a car from.
#[derive(Clone, Debug)]
pub struct Inputs {
    values: Vec<Vec<Option<Value>>>,
    entries: HashMap<String, usize>,
    tables: Vec<String>,
}

impl Default for Inputs {
    fn default() -> Self {
        Self {
            values: vec![Vec::new(); KeyId::all().count()],
            entries: HashMap::new(),
            tables: Vec::new(),
        }
    }
}

impl Inputs {
    /// Writes a value down, in the place of what was there. The word that stands in the place of a table takes the
    /// table out, and a key of the table takes out the word.
    pub fn set(&mut self, slot: Slot, value: Value) {
        let path = slot.key.key().path;
        for (dot, _) in path.match_indices('.') {
            let table = &path[..dot];
            self.note_table(table);
            if let Some(key) = KeyId::of(table)
                && self.get(Slot { key, entry: 0 }) == Some(&Value::Word(NONE))
            {
                self.values[key.row()].clear();
            }
        }
        if value == Value::Word(NONE) {
            self.clear_table(path);
        }
        if let Some((group, _)) = path.split_once("[]") {
            self.note_entries(group, slot.entry + 1);
        }
        let entries = &mut self.values[slot.key.row()];
        if entries.len() <= slot.entry {
            entries.resize(slot.entry + 1, None);
        }
        entries[slot.entry] = Some(value);
    }

    /// Takes out a table and everything in it.
    fn clear_table(&mut self, table: &str) {
        let within = |path: &str| path.strip_prefix(table).is_some_and(|rest| rest.starts_with('.'));
        for key in KeyId::all().filter(|key| within(key.key().path)) {
            self.values[key.row()].clear();
        }
        self.tables.retain(|known| known != table && !within(known));
    }

    /// The same sheet without what was measured. Readings are fitted as a car is put together; whatever fits them again,
    /// sizing and updating, starts from here, so that none counts twice.
    #[must_use]
    pub fn without_measured(&self) -> Self {
        const MEASURED: &str = "measured.";
        let mut without = self.clone();
        for key in KeyId::all().filter(|key| key.key().path.starts_with(MEASURED)) {
            without.values[key.row()].clear();
        }
        without.entries.retain(|group, _| !group.starts_with(MEASURED));
        without
            .tables
            .retain(|table| table != MEASURED.trim_end_matches('.') && !table.starts_with(MEASURED));
        without
    }

    /// Notes that a table stands on the sheet, even if nothing stands in it.
    pub fn note_table(&mut self, table: &str) {
        if !self.has_table(table) {
            self.tables.push(table.to_owned());
        }
    }

    /// Notes that a repeated table (path without `[]`) has at least so many entries.
    pub fn note_entries(&mut self, group: &str, count: usize) {
        let known = self.entries.entry(group.to_owned()).or_insert(0);
        *known = (*known).max(count);
    }

    /// Whether a table stands on the sheet.
    #[must_use]
    pub fn has_table(&self, table: &str) -> bool {
        self.tables.iter().any(|known| known == table)
    }

    /// How many entries a repeated table has.
    #[must_use]
    pub fn entries(&self, group: &str) -> usize {
        self.entries.get(group).copied().unwrap_or(0)
    }

    /// What stands at a slot.
    #[must_use]
    pub fn get(&self, slot: Slot) -> Option<&Value> {
        self.values[slot.key.row()].get(slot.entry)?.as_ref()
    }

    /// Every slot that has a value, in the order of the table of keys.
    pub fn slots(&self) -> impl Iterator<Item = (Slot, &Value)> {
        KeyId::all().flat_map(|key| {
            self.values[key.row()]
                .iter()
                .enumerate()
                .filter_map(move |(entry, value)| Some((Slot { key, entry }, value.as_ref()?)))
        })
    }
}

/// Draws of toleranced keys: one number between 0 and 1 a slot, the share of the tolerance's distribution that lies
/// below the value drawn.
#[derive(Clone, Debug, Default)]
pub struct Draw {
    shares: Vec<Vec<Option<f64>>>,
}

impl Draw {
    /// Sets the share for a slot. 0.5 draws the middle.
    pub fn set(&mut self, slot: Slot, share: f64) {
        if self.shares.is_empty() {
            self.shares = vec![Vec::new(); KeyId::all().count()];
        }
        let entries = &mut self.shares[slot.key.row()];
        if entries.len() <= slot.entry {
            entries.resize(slot.entry + 1, None);
        }
        entries[slot.entry] = Some(share);
    }

    /// The share that was set for a slot.
    #[must_use]
    pub fn share(&self, slot: Slot) -> Option<f64> {
        *self.shares.get(slot.key.row())?.get(slot.entry)?
    }
}

/// A default that was taken.
#[derive(Clone, Debug, PartialEq)]
pub struct DefaultUsed {
    /// Where.
    pub slot: Slot,
    /// As the table of keys writes it.
    pub value: &'static str,
    /// Where the default comes from.
    pub source: &'static str,
    /// Whether the sheet says `guess`, or left the key out.
    pub guess: bool,
}

/// Reads inputs while a car is assembled: hands out values and defaults, and remembers what it handed out.
pub(super) struct Reader<'a> {
    inputs: &'a Inputs,
    draw: Option<&'a Draw>,
    /// Which entry of a repeated table is being read.
    pub(super) entry: usize,
    pub(super) defaults_used: Vec<DefaultUsed>,
    pub(super) toleranced: Vec<Slot>,
    seen: RefCell<HashSet<Slot>>,
}

impl<'a> Reader<'a> {
    pub(super) fn new(inputs: &'a Inputs, draw: Option<&'a Draw>) -> Self {
        Self {
            inputs,
            draw,
            entry: 0,
            defaults_used: Vec::new(),
            toleranced: Vec::new(),
            seen: RefCell::default(),
        }
    }

    pub(super) fn inputs(&self) -> &'a Inputs {
        self.inputs
    }

    pub(super) fn slot(&self, path: &str) -> Option<Slot> {
        let key = KeyId::of(path)?;
        Some(Slot {
            key,
            entry: if key.key().path.contains("[]") {
                self.entry
            } else {
                0
            },
        })
    }

    /// What stands at a slot; it counts as seen from now on.
    fn look(&self, slot: Slot) -> Option<&'a Value> {
        if self.draw.is_none() {
            self.seen.borrow_mut().insert(slot);
        }
        self.inputs.get(slot)
    }

    pub(super) fn value(&self, path: &str) -> Option<&'a Value> {
        self.look(self.slot(path)?)
    }

    /// Whether something stands at a key; asking does not count as seeing it.
    pub(super) fn given(&self, path: &str) -> bool {
        self.slot(path)
            .is_some_and(|slot| self.inputs.get(slot).is_some())
    }

    /// Slots with a value that nothing has looked at.
    pub(super) fn unread(&self) -> Vec<Slot> {
        let seen = self.seen.borrow();
        self.inputs
            .slots()
            .map(|(slot, _)| slot)
            .filter(|slot| !seen.contains(slot))
            .collect()
    }

    /// The figure at a key: as given, or its default; `None` where there is neither.
    pub(super) fn si(&mut self, path: &str) -> Option<f64> {
        let slot = self.slot(path)?;
        match self.look(slot) {
            Some(Value::Amount(amount)) => Some(self.drawn(slot, amount)),
            Some(Value::ByLabel(amount)) => {
                self.note(slot, TyreSize::TAKEN, TyreSize::SOURCE, false);
                Some(self.drawn(slot, amount))
            }
            Some(Value::Guess) => self.lean(slot, true),
            Some(Value::Count(count)) => Some(f64::from(*count)),
            Some(_) => None,
            None => self.lean(slot, false),
        }
    }

    /// The figure at a key that was given; its default is not taken.
    pub(super) fn given_si(&mut self, path: &str) -> Option<f64> {
        if self.given(path) { self.si(path) } else { None }
    }

    /// Whether one car of many is drawn.
    pub(super) fn is_drawn(&self) -> bool {
        self.draw.is_some()
    }

    /// The figure at a key as written, where it is written.
    pub(super) fn given_nominal_si(&self, path: &str) -> Option<f64> {
        if self.given(path) {
            self.nominal_si(path)
        } else {
            None
        }
    }

    /// Whether a key was given as a figure that is known to within so much, and not left out or guessed.
    pub(super) fn measured(&self, path: &str, within_si: f64) -> bool {
        let given = self.slot(path).and_then(|slot| self.inputs.get(slot));
        let Some(Value::Amount(amount)) = given else {
            return false;
        };
        let off_si = match amount.spread {
            Spread::Exact => 0.0,
            Spread::Normal { half_width_si } => half_width_si,
            Spread::Uniform { low_si, high_si } => (high_si - low_si) / 2.0,
        };
        off_si <= within_si
    }

    /// The figure at a key as written, whatever is drawn.
    pub(super) fn nominal_si(&self, path: &str) -> Option<f64> {
        let slot = self.slot(path)?;
        match self.inputs.get(slot) {
            Some(Value::Amount(amount)) => Some(amount.si),
            _ => slot.key.default_amount().map(|amount| amount.si),
        }
    }

    /// The highest value that a key's tolerance allows (95 % or the upper end).
    pub(super) fn upper_si(&self, path: &str) -> Option<f64> {
        let slot = self.slot(path)?;
        let amount = match self.inputs.get(slot) {
            Some(Value::Amount(amount) | Value::ByLabel(amount)) => *amount,
            _ => slot.key.default_amount()?,
        };
        let upper = match amount.spread {
            Spread::Exact => amount.si,
            Spread::Normal { half_width_si } => amount.si + half_width_si,
            Spread::Uniform { high_si, .. } => high_si,
        };
        Some(slot.key.hard_si().map_or(upper, |(_, high)| upper.min(high)))
    }

    pub(super) fn list(&mut self, path: &str) -> Option<Vec<f64>> {
        let slot = self.slot(path)?;
        match self.look(slot)? {
            Value::Amounts(amounts) => Some(amounts.iter().map(|amount| self.drawn(slot, amount)).collect()),
            _ => None,
        }
    }

    pub(super) fn rows(&mut self, path: &str) -> Option<Vec<Vec<f64>>> {
        let slot = self.slot(path)?;
        match self.look(slot)? {
            Value::Rows(rows) => Some(
                rows.iter()
                    .map(|row| row.iter().map(|amount| self.drawn(slot, amount)).collect())
                    .collect(),
            ),
            _ => None,
        }
    }

    pub(super) fn word(&mut self, path: &str) -> Option<&'static str> {
        let slot = self.slot(path)?;
        match self.look(slot) {
            Some(Value::Word(word)) => Some(word),
            _ => {
                let key = slot.key.key();
                let word = key.default?;
                self.note(slot, word, key.source, false);
                Some(word)
            }
        }
    }

    pub(super) fn flag(&mut self, path: &str) -> bool {
        match self.value(path) {
            Some(Value::Flag(flag)) => *flag,
            _ => self.word(path) == Some("true"),
        }
    }

    pub(super) fn text(&self, path: &str) -> Option<Arc<str>> {
        match self.value(path)? {
            Value::Text(text) => Some(Arc::clone(text)),
            _ => None,
        }
    }

    pub(super) fn texts(&self, path: &str) -> Vec<Arc<str>> {
        match self.value(path) {
            Some(Value::Texts(texts)) => texts.clone(),
            _ => Vec::new(),
        }
    }

    pub(super) fn count(&self, path: &str) -> Option<u32> {
        match self.value(path)? {
            Value::Count(count) => Some(*count),
            _ => None,
        }
    }

    pub(super) fn date(&self, path: &str) -> Option<Date> {
        match self.value(path)? {
            Value::Date(date) => Some(*date),
            _ => None,
        }
    }

    /// The figure at a key; where it is left out or guessed, one that hangs on the arrangement instead of the table.
    pub(super) fn si_or(&mut self, path: &str, fallback: &'static str, source: &'static str) -> Option<f64> {
        let slot = self.slot(path)?;
        let guess = match self.look(slot) {
            Some(Value::Amount(amount)) => return Some(self.drawn(slot, amount)),
            found => found.is_some(),
        };
        let amount = quantity::parse(fallback, slot.key.key().dimension()?).ok()?;
        self.note(slot, fallback, source, guess);
        Some(self.drawn(slot, &amount))
    }

    /// Notes a default that follows from another key.
    pub(super) fn note_rule(&mut self, path: &str, value: &'static str, source: &'static str) {
        if let Some(slot) = self.slot(path) {
            self.note(slot, value, source, false);
        }
    }

    /// Notes that something is not known and more than one reading of it is computed.
    pub(super) fn note_unknown(&mut self, path: &str, value: &'static str, source: &'static str) {
        if let Some(slot) = self.slot(path) {
            self.note(slot, value, source, true);
        }
    }

    /// Whether the sheet says `none` in the place of a table.
    pub(super) fn says_none(&self, table: &str) -> bool {
        self.value(table) == Some(&Value::Word(NONE))
    }

    /// Whether a sheet is of the first format, in which a table or word that is left out says `none` in silence.
    pub(super) fn is_first_format(&self) -> bool {
        self.count("format") == Some(1)
    }

    /// How much a coupling known only by its feel may differ from the middle of its kind.
    pub(super) fn feel_scale(&mut self, path: &str, half_width: f64) -> f64 {
        self.rule(path, "a wide guess from how it feels", 1.0, half_width)
    }

    /// How much a curve whose torques carry no tolerance may be off: they are drawn together.
    pub(super) fn curve_scale(&mut self, path: &str) -> f64 {
        let carries_its_own = self
            .slot(path)
            .and_then(|slot| self.inputs.get(slot))
            .is_some_and(|value| match value {
                Value::Rows(rows) => rows.iter().flatten().any(|amount| amount.spread != Spread::Exact),
                _ => false,
            });
        if carries_its_own {
            return 1.0;
        }
        self.scale(path, 1.0, 0.3)
    }

    /// Which of several readings that a sheet leaves open a drawn car takes: a number between 0 and 1. `None` where nothing
    /// is drawn.
    pub(super) fn reading_share(&mut self, path: &str) -> Option<f64> {
        let slot = self.slot(path)?;
        if self.inputs.get(slot).is_none() {
            let source = "left out: the worst of them decides";
            self.note(slot, "every place that the coupling may turn at", source, false);
        }
        if self.draw.is_none() && !self.toleranced.contains(&slot) {
            self.toleranced.push(slot);
        }
        self.draw?.share(slot)
    }

    /// The factor of a rule that stands in for a key: noted as a default, and drawn.
    pub(super) fn rule(&mut self, path: &str, said: &'static str, middle: f64, half_width: f64) -> f64 {
        if let Some(slot) = self.slot(path) {
            self.note(slot, said, "from memory, judgement", false);
        }
        self.scale(path, middle, half_width)
    }

    /// A factor that is drawn with a key, 95 % of it within `half_width` of its middle.
    fn scale(&mut self, path: &str, middle: f64, half_width: f64) -> f64 {
        let Some(slot) = self.slot(path) else {
            return middle;
        };
        let spread = Spread::Normal {
            half_width_si: half_width,
        };
        let amount = Amount {
            dimension: quantity::Dimension::Ratio,
            si: middle,
            spread,
        };
        if self.draw.is_none() && !self.toleranced.contains(&slot) {
            self.toleranced.push(slot);
        }
        match self.draw.and_then(|draw| draw.share(slot)) {
            Some(share) => crate::spread::drawn_si(&amount, share, Some((0.05 * middle, 3.0 * middle))),
            None => middle,
        }
    }

    fn lean(&mut self, slot: Slot, guess: bool) -> Option<f64> {
        let key = slot.key.key();
        let (text, amount) = (key.default?, slot.key.default_amount()?);
        if key.need == super::key::Need::Always && !guess {
            return None;
        }
        self.note(slot, text, key.source, guess);
        Some(self.drawn(slot, &amount))
    }

    fn note(&mut self, slot: Slot, value: &'static str, source: &'static str, guess: bool) {
        let guess = guess || self.inputs.get(slot) == Some(&Value::Guess);
        if self.draw.is_none() && !self.defaults_used.iter().any(|known| known.slot == slot) {
            self.defaults_used.push(DefaultUsed {
                slot,
                value,
                source,
                guess,
            });
        }
    }

    fn drawn(&mut self, slot: Slot, amount: &Amount) -> f64 {
        if amount.spread == Spread::Exact {
            return amount.si;
        }
        match self.draw {
            None => {
                if !self.toleranced.contains(&slot) {
                    self.toleranced.push(slot);
                }
                amount.si
            }
            Some(draw) => draw.share(slot).map_or(amount.si, |share| {
                let hard = if matches!(slot.key.key().form, Form::Rows { .. } | Form::Row(_)) {
                    None
                } else {
                    slot.key.hard_si()
                };
                crate::spread::drawn_si(amount, share, hard)
            }),
        }
    }
}
