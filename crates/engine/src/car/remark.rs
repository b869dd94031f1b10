use core::fmt;

use quantity::Dimension;

/// A sentence of which each figure is kept, so that it can be put into a person's own units.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Remark(Vec<RemarkPart>);

/// A piece of a sentence.
#[derive(Clone, Debug, PartialEq)]
pub enum RemarkPart {
    /// As it stands.
    Words(String),
    /// A figure.
    Figure {
        /// As it is written where nobody chose a unit.
        written: String,
        /// What it is a figure of.
        dimension: Dimension,
        /// In the unit of SI.
        si: f64,
    },
}

impl Remark {
    /// Its pieces, in order.
    #[must_use]
    pub fn parts(&self) -> &[RemarkPart] {
        &self.0
    }

    pub(crate) fn words(mut self, words: impl Into<String>) -> Self {
        self.0.push(RemarkPart::Words(words.into()));
        self
    }

    pub(crate) fn figure(mut self, dimension: Dimension, si: f64, written: impl Into<String>) -> Self {
        let written = written.into();
        self.0.push(RemarkPart::Figure {
            written,
            dimension,
            si,
        });
        self
    }

    pub(crate) fn bar(self, pa: f64) -> Self {
        self.figure(Dimension::Pressure, pa, format!("{:.1} bar", pa / 1e5))
    }
}

impl From<&str> for Remark {
    fn from(words: &str) -> Self {
        Self::default().words(words)
    }
}

impl From<String> for Remark {
    fn from(words: String) -> Self {
        Self::default().words(words)
    }
}

impl fmt::Display for Remark {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.iter().try_for_each(|part| match part {
            RemarkPart::Words(text) | RemarkPart::Figure { written: text, .. } => out.write_str(text),
        })
    }
}
