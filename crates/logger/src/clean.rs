//! What a logger writes that no car does: spikes, figures out of reach, gaps.

use crate::channel::Channel;
use crate::log::Log;

/// A step of time longer than so many middle ones is a gap.
const GAP_STEPS: f64 = 3.5;

#[allow(clippy::cast_possible_truncation, reason = "borders, not figures")]
pub(crate) fn mend(log: &mut Log) {
    log.mended.gaps = log
        .time_s
        .windows(2)
        .filter(|pair| pair[1] - pair[0] > GAP_STEPS * log.step_s)
        .count();
    for channel in Channel::ALL {
        let Some(values) = log.channels[channel.index()].as_mut() else {
            continue;
        };
        let (low, high) = channel.possible();
        let (low, high) = (low as f32, high as f32);
        for value in values.iter_mut() {
            if *value < low || *value > high {
                *value = f32::NAN;
                log.mended.out_of_reach += 1;
            }
        }
        let off = channel.spike() as f32;
        let mut spikes = Vec::new();
        for (place, window) in values.windows(5).enumerate() {
            let here = window[2];
            // Most samples lie near their neighbours: only the others are looked at closely.
            if (here - window[1]).abs() <= off && (here - window[3]).abs() <= off {
                continue;
            }
            let mut others = [window[0], window[1], window[3], window[4]];
            others.sort_by(f32::total_cmp);
            let middle = 0.5 * (others[1] + others[2]);
            if (here - middle).abs() > off && others[2] - others[1] < 0.5 * off {
                spikes.push(place + 2);
            }
        }
        log.mended.spikes += spikes.len();
        for place in spikes {
            values[place] = f32::NAN;
        }
        log.mended.missing += values.iter().filter(|value| value.is_nan()).count();
    }
}

/// Whether two rows that follow one another have a gap between them.
pub(crate) fn gap_before(log: &Log, row: usize) -> bool {
    row > 0 && log.time_s[row] - log.time_s[row - 1] > GAP_STEPS * log.step_s
}
