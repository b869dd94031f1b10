//! What has to hold whatever the text is. The fuzzer runs this too.

use quantity::{Dimension, Written, find_unit, parse, parse_written, print, units_of};

/// Panics where a text is neither read nor refused in words, or where what is read does not survive being printed in
/// each unit of its dimension. Gives whether it was read.
#[track_caller]
pub(crate) fn well_behaved(text: &str, wanted: Dimension) -> bool {
    let read = parse_written(text, wanted);
    match &read {
        Ok(Written::Guess) => assert!(parse(text, wanted).is_err()),
        Ok(Written::Amount(amount)) => {
            assert_eq!(amount.dimension, wanted);
            assert!(amount.si.is_finite());
            for unit in units_of(wanted) {
                let cold = wanted == Dimension::Temperature && amount.ends_si().0 < 1e-3;
                if cold && unit.symbol() != "K" {
                    continue;
                }
                let printed = print(amount, *unit);
                assert_eq!(
                    parse(&printed, wanted).as_ref(),
                    Ok(amount),
                    "{text:?} printed as {printed:?}"
                );
            }
        }
        Err(fault) => {
            assert!(
                text.get(fault.span()).is_some(),
                "{:?} is no part of {text:?}",
                fault.span()
            );
            let (says, help) = (fault.to_string(), fault.help());
            assert!(!says.is_empty() && !help.is_empty());
            assert!(
                !says.chars().chain(help.chars()).any(char::is_control),
                "{says:?} {help:?}"
            );
            assert!(
                says.chars().count() < 300 && help.chars().count() < 400,
                "{says} {help}"
            );
        }
    }
    let _ = find_unit(text, wanted);
    read.is_ok()
}
