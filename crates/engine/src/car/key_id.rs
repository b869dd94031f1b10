//! Where a key stands in the table of keys.

use std::borrow::Cow;
use std::collections::HashMap;
use std::hash::{BuildHasherDefault, Hasher};
use std::sync::OnceLock;

use quantity::Amount;

use super::key::{Figures, Key};
use super::keys::KEYS;

/// Longest path that is put together without asking for memory.
const LONGEST: usize = 64;

/// Hashes paths of keys, eight bytes at a time: they are ours, and nobody chooses them to collide.
#[derive(Default)]
struct Paths(u64);

impl Hasher for Paths {
    fn write(&mut self, bytes: &[u8]) {
        for piece in bytes.chunks(8) {
            let mut word = [0; 8];
            word[..piece.len()].copy_from_slice(piece);
            self.0 = (self.0.rotate_left(5) ^ u64::from_le_bytes(word)).wrapping_mul(0x517c_c1b7_2722_0a95);
        }
    }

    fn finish(&self) -> u64 {
        // The best bits are the upper ones, and a table takes the lower.
        self.0.rotate_left(26)
    }
}

/// A key's place in the table.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct KeyId(u16);

impl KeyId {
    /// The key that stands at this path; `None` where there is none.
    #[must_use]
    pub fn of(path: &str) -> Option<Self> {
        static INDEX: OnceLock<HashMap<&'static str, KeyId, BuildHasherDefault<Paths>>> = OnceLock::new();
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

    /// The path of a key in a table: `rear_brake` and `pad.friction`. The table's own text, where there is such a key.
    pub(super) fn path_in(table: &str, name: &str) -> Cow<'static, str> {
        let mut joined = [0; LONGEST];
        let (dot, end) = (table.len(), table.len() + 1 + name.len());
        let known = joined.get_mut(..end).and_then(|path| {
            path[..dot].copy_from_slice(table.as_bytes());
            path[dot] = b'.';
            path[dot + 1..].copy_from_slice(name.as_bytes());
            Self::of(core::str::from_utf8(path).ok()?)
        });
        known.map_or_else(
            || Cow::Owned(format!("{table}.{name}")),
            |id| Cow::Borrowed(id.key().path),
        )
    }

    /// Whether it stands in a table that is repeated.
    pub(super) fn is_repeated(self) -> bool {
        static REPEATED: OnceLock<KeySet> = OnceLock::new();
        REPEATED
            .get_or_init(|| Self::all().filter(|id| id.key().path.contains("[]")).collect())
            .has(self)
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

    /// Whether a key is in it.
    fn has(&self, key: KeyId) -> bool {
        self.meets(&Self::default().with(key))
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
