//! Where a key stands in the table of keys.

use std::collections::HashMap;
use std::sync::OnceLock;

use quantity::Amount;

use super::key::{Figures, Key};
use super::keys::KEYS;

/// A key's place in the table.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct KeyId(u16);

impl KeyId {
    /// The key that stands at this path; `None` where there is none.
    #[must_use]
    pub fn of(path: &str) -> Option<Self> {
        static INDEX: OnceLock<HashMap<&'static str, KeyId>> = OnceLock::new();
        INDEX
            .get_or_init(|| {
                (0_u16..)
                    .zip(KEYS)
                    .map(|(row, key)| (key.path, Self(row)))
                    .collect()
            })
            .get(path)
            .copied()
    }

    /// All keys, in the order of the table.
    pub fn all() -> impl Iterator<Item = Self> {
        (0_u16..).zip(KEYS).map(|(row, _)| Self(row))
    }

    /// The row of the table.
    #[must_use]
    pub fn key(self) -> &'static Key {
        &KEYS[usize::from(self.0)]
    }

    pub(super) fn row(self) -> usize {
        usize::from(self.0)
    }

    /// Range outside which a value is refused, in SI.
    #[must_use]
    pub fn hard_si(self) -> Option<(f64, f64)> {
        self.figures().hard_si
    }

    /// Range outside which a value earns a warning, in SI.
    #[must_use]
    pub fn usual_si(self) -> Option<(f64, f64)> {
        self.figures().usual_si
    }

    /// The default as a quantity, where the key has one that is a quantity.
    #[must_use]
    pub fn default_amount(self) -> Option<Amount> {
        self.figures().default
    }

    pub(super) fn figures(self) -> Figures {
        static FIGURES: OnceLock<Vec<Figures>> = OnceLock::new();
        FIGURES.get_or_init(|| KEYS.iter().map(Key::figures).collect())[usize::from(self.0)]
    }
}

/// A set of keys.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) struct KeySet([u64; Self::WORDS]);

impl KeySet {
    const WORDS: usize = KEYS.len().div_ceil(64);

    /// The set with one more.
    pub(super) const fn with(mut self, key: KeyId) -> Self {
        let row = key.0 as usize;
        self.0[row / 64] |= 1 << (row % 64);
        self
    }

    /// Whether two sets share a key.
    pub(super) fn meets(&self, other: &Self) -> bool {
        self.0.iter().zip(other.0).any(|(one, other)| one & other != 0)
    }
}

impl FromIterator<KeyId> for KeySet {
    fn from_iter<I: IntoIterator<Item = KeyId>>(keys: I) -> Self {
        keys.into_iter().fold(Self::default(), Self::with)
    }
}
