/// How grave a finding is, worst first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Weight {
    /// Somebody would be hurt, or scrutineering or road law surely fails.
    Stop,
    /// It wants putting right.
    Fix,
    /// It is worth knowing.
    Know,
}

impl Weight {
    /// The word for it.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Stop => "stop",
            Self::Fix => "fix",
            Self::Know => "know",
        }
    }
}

/// One statement of an assessment.
#[derive(Clone, Debug, PartialEq)]
pub struct Finding {
    /// A word for it that never changes.
    pub slug: &'static str,
    /// How grave it is.
    pub weight: Weight,
    /// What is so, in a few words, without a full stop.
    pub title: String,
    /// Why: the figures in words.
    pub because: String,
    /// What to do about it.
    pub remedy: String,
    /// What to mind while doing so, or while relying on it.
    pub caution: Option<&'static str>,
    /// The figures that it rests on: name with its unit as in machine-read results, and value in SI.
    pub figures: Vec<(&'static str, f64)>,
}

impl Finding {
    pub(crate) fn new(slug: &'static str, weight: Weight, title: impl Into<String>) -> Self {
        Self {
            slug,
            weight,
            title: title.into(),
            because: String::new(),
            remedy: String::new(),
            caution: None,
            figures: Vec::new(),
        }
    }

    pub(crate) fn because(mut self, because: impl Into<String>) -> Self {
        self.because = because.into();
        self
    }

    pub(crate) fn remedy(mut self, remedy: impl Into<String>) -> Self {
        self.remedy = remedy.into();
        self
    }

    pub(crate) fn caution(mut self, caution: &'static str) -> Self {
        self.caution = Some(caution);
        self
    }

    /// Notes a figure; one that is not there, or not finite, is left out.
    pub(crate) fn figure(mut self, key: &'static str, si: impl Into<Option<f64>>) -> Self {
        self.figures
            .extend(si.into().filter(|si| si.is_finite()).map(|si| (key, si)));
        self
    }
}
