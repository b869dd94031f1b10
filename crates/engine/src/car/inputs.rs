use std::cell::{Cell, RefCell};
use std::collections::{HashMap, HashSet};
use std::sync::Arc;

use quantity::{Amount, Spread};

use super::key::Form;
use super::key_id::{KeyId, KeySet};
use super::tyre_size::TyreSize;
use crate::spread::Law;

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

/// A value that stood for both ends of the car, and the end that keeps it ([`Inputs::keeps`]).
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Kept {
    /// Where it stood for both.
    pub stood: Slot,
    /// The end that keeps it.
    pub end: Slot,
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
    /// Writes a value down, in the place of what was there. A value that stands in the place of a table takes the table
    /// out, and a key of the table takes out the value: the other end of the car keeps what stood for both.
    pub fn set(&mut self, slot: Slot, value: Value) {
        let path = slot.key.key().path;
        let kept = self.keeps(slot);
        for (dot, _) in path.match_indices('.') {
            let table = &path[..dot];
            self.note_table(table);
            if let Some(key) = KeyId::of(table) {
                let stood = std::mem::take(&mut self.values[key.row()]);
                if let Some(kept) = kept
                    && kept.stood.key == key
                {
                    self.values[kept.end.key.row()] = stood;
                }
            }
        }
        if self.has_table(path) {
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
        self.without("measured")
    }

    /// The same sheet without a table and everything in it, repeated or not: `measured`, `measured.pedal`.
    #[must_use]
    pub fn without(&self, table: &str) -> Self {
        let within = |path: &str| {
            path.strip_prefix(table)
                .is_some_and(|rest| rest.is_empty() || rest.starts_with(['.', '[']))
        };
        let mut without = self.clone();
        for key in KeyId::all().filter(|key| within(key.key().path)) {
            without.values[key.row()].clear();
        }
        without.entries.retain(|group, _| !within(group));
        without.tables.retain(|known| !within(known));
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

    /// What the other end of the car keeps where a value that stands for both is written for one end; `None` where
    /// nothing stands for both.
    #[must_use]
    pub fn keeps(&self, slot: Slot) -> Option<Kept> {
        let (both, end) = slot.key.key().path.rsplit_once('.')?;
        let other = match end {
            "front" => "rear",
            "rear" => "front",
            _ => return None,
        };
        let of = |path: &str| {
            Some(Slot {
                key: KeyId::of(path)?,
                entry: slot.entry,
            })
        };
        let stood = of(both)?;
        let end = of(&format!("{both}.{other}"))?;
        (*self.get(stood)? != Value::Word(NONE)).then_some(Kept { stood, end })
    }

    /// Whether [`set`](Self::set) would do no more than write a value down: no table comes or goes with it.
    pub(super) fn takes(&self, slot: Slot, value: &Value) -> bool {
        let path = slot.key.key().path;
        let tables = path.match_indices('.').map(|(dot, _)| &path[..dot]);
        let gives_way =
            |table: &str| KeyId::of(table).is_some_and(|key| self.get(Slot { key, entry: 0 }).is_some());
        let in_a_group = path.split_once("[]").map(|(group, _)| group);
        *value != Value::Word(NONE)
            && self.get(slot) != Some(&Value::Word(NONE))
            && !self.has_table(path)
            && tables
                .into_iter()
                .all(|table| self.has_table(table) && !gives_way(table))
            && in_a_group.is_none_or(|group| slot.entry < self.entries(group))
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
    shares: Vec<(Slot, f64)>,
}

impl Draw {
    /// Draws of several slots, each named once.
    #[must_use]
    pub(crate) const fn of(shares: Vec<(Slot, f64)>) -> Self {
        Self { shares }
    }

    /// Sets the share for a slot. 0.5 draws the middle.
    pub fn set(&mut self, slot: Slot, share: f64) {
        match self.shares.iter_mut().find(|(known, _)| *known == slot) {
            Some((_, known)) => *known = share,
            None => self.shares.push((slot, share)),
        }
    }

    /// The share that was set for a slot.
    #[must_use]
    pub fn share(&self, slot: Slot) -> Option<f64> {
        let (_, share) = self.shares.iter().find(|(known, _)| *known == slot)?;
        Some(*share)
    }

    /// Keys that are drawn.
    pub(super) fn keys(&self) -> KeySet {
        self.shares.iter().map(|(slot, _)| slot.key).collect()
    }

    /// Place and share of a slot. The look begins at a place: slots are mostly drawn in the order in which they are read.
    fn place_of(&self, begin: usize, slot: Slot) -> Option<(usize, f64)> {
        let (before, behind) = self.shares.split_at(begin.min(self.shares.len()));
        let at = |shares: &[(Slot, f64)]| shares.iter().position(|&(known, _)| known == slot);
        let place = match at(behind) {
            Some(place) => before.len() + place,
            None => at(before)?,
        };
        Some((place, self.shares[place].1))
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
    /// Values that stand in the place of the sheet's.
    patch: &'a [(Slot, Value)],
    draw: Option<&'a Draw>,
    laws: Option<&'a Laws>,
    /// Whether what was handed out is remembered: a car that is one of many tells nothing.
    pub(super) tells: bool,
    /// Which entry of a repeated table is being read.
    pub(super) entry: usize,
    pub(super) defaults_used: Vec<DefaultUsed>,
    pub(super) toleranced: Vec<Slot>,
    /// How each toleranced slot is drawn.
    pub(super) drawable: Vec<(Slot, Law)>,
    /// Fallbacks that hang on the arrangement, as they read.
    pub(super) fallbacks: Vec<(&'static str, Amount)>,
    seen: RefCell<HashSet<Slot>>,
    asked: Cell<KeySet>,
    next: Cell<usize>,
}

/// What is worked out once for many cars: how toleranced slots are drawn, slot by slot in the order of their draws, and
/// fallbacks as they read.
#[derive(Clone, Debug, Default)]
pub(super) struct Laws {
    of: Vec<(Slot, Vec<Law>)>,
    fallbacks: Vec<(&'static str, Amount)>,
}

impl Laws {
    /// From what a reader of the sheet handed out.
    pub(super) fn of(toleranced: &[Slot], read: Reader<'_>) -> Self {
        let of = toleranced.iter().map(|&slot| {
            let of_slot = read.drawable.iter().filter(|(known, _)| *known == slot);
            (slot, of_slot.map(|&(_, law)| law).collect())
        });
        Self {
            of: of.collect(),
            fallbacks: read.fallbacks,
        }
    }

    fn fallback(&self, text: &str) -> Option<Amount> {
        let (_, amount) = self.fallbacks.iter().find(|(known, _)| *known == text)?;
        Some(*amount)
    }

    fn at(&self, place: usize, slot: Slot, amount: &Amount) -> Option<&Law> {
        let (known, laws) = self.of.get(place)?;
        if *known != slot {
            return None;
        }
        laws.iter().find(|law| law.is_of(amount))
    }
}

impl<'a> Reader<'a> {
    /// A reader of a sheet as it stands, that remembers what it hands out.
    pub(super) fn new(inputs: &'a Inputs) -> Self {
        Self {
            inputs,
            patch: &[],
            draw: None,
            laws: None,
            tells: true,
            entry: 0,
            defaults_used: Vec::new(),
            toleranced: Vec::new(),
            drawable: Vec::new(),
            fallbacks: Vec::new(),
            seen: RefCell::default(),
            asked: Cell::default(),
            next: Cell::new(0),
        }
    }

    /// A reader for one car of many.
    pub(super) fn silent(
        inputs: &'a Inputs,
        patch: &'a [(Slot, Value)],
        draw: Option<&'a Draw>,
        laws: Option<&'a Laws>,
    ) -> Self {
        Self {
            patch,
            draw,
            laws,
            tells: false,
            ..Self::new(inputs)
        }
    }

    pub(super) fn inputs(&self) -> &'a Inputs {
        self.inputs
    }

    /// Keys that were asked for since this was last asked.
    pub(super) fn take_asked(&self) -> KeySet {
        self.asked.take()
    }

    /// What stands at a slot, whatever is seen.
    fn get(&self, slot: Slot) -> Option<&'a Value> {
        match self.patch.iter().find(|(patched, _)| *patched == slot) {
            Some((_, value)) => Some(value),
            None => self.inputs.get(slot),
        }
    }

    pub(super) fn slot(&self, path: &str) -> Option<Slot> {
        let key = KeyId::of(path)?;
        if self.tells {
            self.asked.set(self.asked.get().with(key));
        }
        Some(Slot {
            key,
            entry: if key.is_repeated() { self.entry } else { 0 },
        })
    }

    /// What stands at a slot; it counts as seen from now on.
    fn look(&self, slot: Slot) -> Option<&'a Value> {
        if self.tells {
            self.seen.borrow_mut().insert(slot);
        }
        self.get(slot)
    }

    pub(super) fn value(&self, path: &str) -> Option<&'a Value> {
        self.look(self.slot(path)?)
    }

    /// Whether something stands at a key; asking does not count as seeing it.
    pub(super) fn given(&self, path: &str) -> bool {
        self.slot(path).is_some_and(|slot| self.get(slot).is_some())
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
        let given = self.slot(path).and_then(|slot| self.get(slot));
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
        match self.get(slot) {
            Some(Value::Amount(amount)) => Some(amount.si),
            _ => slot.key.default_amount().map(|amount| amount.si),
        }
    }

    /// The highest value that a key's tolerance allows (95 % or the upper end).
    pub(super) fn upper_si(&self, path: &str) -> Option<f64> {
        let slot = self.slot(path)?;
        let amount = match self.get(slot) {
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
        let known = self.laws.and_then(|laws| laws.fallback(fallback));
        let amount = match known {
            Some(amount) => amount,
            None => quantity::parse(fallback, slot.key.key().dimension()?).ok()?,
        };
        if self.tells {
            self.fallbacks.push((fallback, amount));
        }
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
        let carries_its_own =
            self.slot(path)
                .and_then(|slot| self.get(slot))
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
        if self.get(slot).is_none() {
            let source = "left out: the worst of them decides";
            self.note(slot, "every place that the coupling may turn at", source, false);
        }
        if self.tells && !self.toleranced.contains(&slot) {
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
        if self.tells && !self.toleranced.contains(&slot) {
            self.toleranced.push(slot);
        }
        self.at_share(slot, &amount, Some((0.05 * middle, 3.0 * middle)))
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
        let guess = guess || self.get(slot) == Some(&Value::Guess);
        if self.tells && !self.defaults_used.iter().any(|known| known.slot == slot) {
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
        if self.tells && !self.toleranced.contains(&slot) {
            self.toleranced.push(slot);
        }
        let hard = if matches!(slot.key.key().form, Form::Rows { .. } | Form::Row(_)) {
            None
        } else {
            slot.key.hard_si()
        };
        self.at_share(slot, amount, hard)
    }

    /// An amount where the draw has it; its middle where nothing is drawn.
    fn at_share(&mut self, slot: Slot, amount: &Amount, hard_si: Option<(f64, f64)>) -> f64 {
        if self.tells {
            self.drawable.push((slot, Law::of(amount, hard_si)));
        }
        let drawn = self.draw.and_then(|draw| draw.place_of(self.next.get(), slot));
        let Some((place, share)) = drawn else {
            return amount.si;
        };
        self.next.set(place + 1);
        let known = self.laws.and_then(|laws| laws.at(place, slot, amount));
        known.map_or_else(|| Law::of(amount, hard_si).at(share), |law| law.at(share))
    }
}
