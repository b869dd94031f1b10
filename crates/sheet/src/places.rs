//! Where the keys and tables of a sheet stand.

use core::ops::Range;
use std::collections::HashMap;

use engine::car::Slot;

/// Where a key and its value stand: bytes of the text.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ValuePlace {
    /// The key's name, without the tables that dots join to it.
    pub key: Range<usize>,
    /// The value, with its quotes or brackets.
    pub value: Range<usize>,
    /// Which text: 0 is the sheet, overrides follow.
    pub(crate) source: usize,
}

impl ValuePlace {
    /// Whether it stands in an override and not on the sheet.
    #[must_use]
    pub const fn is_override(&self) -> bool {
        self.source > 0
    }
}

/// How a table is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TableStyle {
    /// `[car]`, or `[[surface]]`.
    Header,
    /// `{ ... }`.
    Inline,
    /// Not by itself: as part of another table's header, or of a key with dots.
    Implied,
}

/// Where a table stands: bytes of the text.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TablePlace {
    /// The header with its brackets; all of a table in curly brackets; the name that implies it.
    pub span: Range<usize>,
    /// How it is written.
    pub style: TableStyle,
    pub(crate) source: usize,
}

/// Where everything on a sheet stands. What an override says takes the place of what the sheet says.
#[derive(Clone, Debug, Default)]
pub struct SheetPlaces {
    values: HashMap<Slot, ValuePlace>,
    tables: HashMap<String, TablePlace>,
}

impl SheetPlaces {
    /// Where a key stands.
    #[must_use]
    pub fn value(&self, slot: Slot) -> Option<&ValuePlace> {
        self.values.get(&slot)
    }

    /// Where a table stands; its path with entries counted from 1, such as `load.item[2]`.
    #[must_use]
    pub fn table(&self, path: &str) -> Option<&TablePlace> {
        self.tables.get(path)
    }

    /// Every table, in no order.
    pub fn tables(&self) -> impl Iterator<Item = (&str, &TablePlace)> {
        self.tables.iter().map(|(path, place)| (path.as_str(), place))
    }

    pub(crate) fn set_value(&mut self, slot: Slot, place: ValuePlace) {
        self.values.insert(slot, place);
    }

    /// What stood at one slot stands for another now.
    pub(crate) fn move_value(&mut self, from: Slot, to: Slot) {
        if let Some(place) = self.values.remove(&from) {
            self.values.insert(to, place);
        }
    }

    pub(crate) fn set_table(&mut self, path: String, place: TablePlace) {
        self.tables.entry(path).or_insert(place);
    }

    /// The table nearest above a path that stands somewhere.
    pub(crate) fn table_above(&self, path: &str) -> Option<&TablePlace> {
        let mut path = path;
        loop {
            let above = path.rfind(['.', '['])?;
            path = &path[..above];
            if let Some(place) = self.tables.get(path) {
                return Some(place);
            }
        }
    }
}

/// The slot that a path names, entries counted from 1; `None` where no key has it.
#[must_use]
pub fn slot_of(path: &str) -> Option<Slot> {
    let (plain, entry) = match (path.find('['), path.find(']')) {
        (Some(open), Some(close)) if open < close => {
            let number = entry_number(&path[open + 1..close])?;
            (
                format!("{}[]{}", &path[..open], &path[close + 1..]),
                number.checked_sub(1)?,
            )
        }
        _ => (path.to_owned(), 0),
    };
    Some(Slot {
        key: engine::car::KeyId::of(&plain)?,
        entry,
    })
}

/// The number of an entry, written in the one way that there is.
pub(crate) fn entry_number(written: &str) -> Option<usize> {
    let number: usize = written.parse().ok()?;
    (number.to_string() == written).then_some(number)
}
