//! What has to hold of any bytes: a log, or a fault in printable words. Shared with the fuzz target.

use engine::car::Car;
use engine::loads::Laden;
use logger::{Channel, Is, examine, named_columns, read};
use sheet::{ColumnMap, column_map};

/// Reads a map and a log, separated by a zero byte; without one all of it is the log.
pub(crate) fn well_behaved(data: &[u8], car: &Car, laden: &Laden) {
    let (map, bytes) = match data.iter().position(|byte| *byte == 0) {
        Some(at) => {
            let text = String::from_utf8_lossy(&data[..at]);
            (column_map(&text).unwrap_or_default(), &data[at + 1..])
        }
        None => (ColumnMap::default(), data),
    };
    for column in named_columns(bytes, &map) {
        assert!(!column.head.trim().is_empty(), "{column:?}");
        // What is named is what a map may say.
        assert!(
            column.is.is_none_or(|is| Is::named(is.name()) == Some(is)),
            "{column:?}"
        );
    }
    let radius = [car.tyres.front_radius, car.tyres.rear_radius];
    match read(bytes, &map, Some(radius), &mut |_| ()) {
        Err(fault) => {
            let said = fault.to_string();
            assert!(
                !said.is_empty() && !said.chars().any(char::is_control),
                "{said:?}"
            );
        }
        Ok(log) => {
            assert!(log.rows() >= 2 && log.lasts().s() > 0.0 && log.rows_a_second().is_finite());
            for channel in Channel::ALL {
                let (low, high) = (log.lasts().s() * 0.1, log.lasts().s());
                for (at, value) in log.over_time(channel, low, high, 10) {
                    assert!(at.is_finite() && value.is_finite());
                }
            }
            let found = examine(&log, car, laden);
            for offer in &found.offers {
                assert!(
                    !offer.value.contains("NaN") && !offer.value.contains("inf"),
                    "{offer:?}"
                );
            }
            for event in &found.events {
                assert!(
                    event.to.s() > event.from.s() && event.mean_rate.is_finite(),
                    "{event:?}"
                );
            }
        }
    }
}
