//! A log that was read.

use crate::channel::Channel;

/// A log: times that rise, and a column for each channel that was found.
#[derive(Clone, Debug)]
pub struct Log {
    /// Seconds from the first row.
    pub(crate) time_s: Vec<f64>,
    /// By the place of the channel; a figure that is missing is not a number.
    pub(crate) channels: Vec<Option<Vec<f32>>>,
    /// What had to be mended.
    pub mended: Mended,
    /// Columns that were passed over, with why.
    pub passed_over: Vec<(String, &'static str)>,
    /// Time between rows, the middle one (s).
    pub(crate) step_s: f64,
}

impl Log {
    /// How many rows.
    #[must_use]
    pub fn rows(&self) -> usize {
        self.time_s.len()
    }

    /// From the first row to the last.
    #[must_use]
    pub fn lasts(&self) -> quantity::si::Duration {
        quantity::si::Duration::from_s(self.time_s.last().copied().unwrap_or(0.0))
    }

    /// Rows a second, by the middle one of all steps.
    #[must_use]
    pub fn rows_a_second(&self) -> f64 {
        1.0 / self.step_s
    }

    /// Whether a channel is there.
    #[must_use]
    pub fn has(&self, channel: Channel) -> bool {
        self.column(channel).is_some()
    }

    pub(crate) fn column(&self, channel: Channel) -> Option<&[f32]> {
        self.channels.get(channel.index())?.as_deref()
    }

    /// A channel at a row; `None` where it is not there or missing.
    pub(crate) fn at(&self, channel: Channel, row: usize) -> Option<f64> {
        let value = f64::from(*self.column(channel)?.get(row)?);
        value.is_finite().then_some(value)
    }

    /// A channel over time, for a picture: at most so many points, each the middle of its stretch.
    #[must_use]
    pub fn over_time(&self, channel: Channel, from_s: f64, to_s: f64, most: usize) -> Vec<(f64, f64)> {
        let Some(column) = self.column(channel) else {
            return Vec::new();
        };
        let first = self.time_s.partition_point(|&time| time < from_s);
        let last = self.time_s.partition_point(|&time| time <= to_s);
        let every = ((last.saturating_sub(first)) / most.max(1)).max(1);
        (first..last)
            .step_by(every)
            .filter_map(|row| {
                let value = f64::from(column[row]);
                value.is_finite().then(|| (self.time_s[row], value))
            })
            .collect()
    }
}

/// What had to be mended or passed over, counted.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Mended {
    /// Rows without a time that can be read.
    pub rows_without_time: usize,
    /// Rows whose time was there already.
    pub times_twice: usize,
    /// Rows whose time lies a little before the last.
    pub times_backward: usize,
    /// The logger's clock began again; what follows was put behind.
    pub clock_set_anew: usize,
    /// Stretches without rows.
    pub gaps: usize,
    /// Single figures that stand off both neighbours as nothing on a car can.
    pub spikes: usize,
    /// Figures that no car shows.
    pub out_of_reach: usize,
    /// Figures that are missing, spikes and those out of reach among them.
    pub missing: usize,
}
