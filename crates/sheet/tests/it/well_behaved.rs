//! What has to hold of any input at all.

use sheet::{MOST_SHOWN, Problems, ReadSheet, Styles, slot_of};

/// Parted by zero bytes: a sheet, a key's path and a value to write there. `false` where it is not so parted.
pub(crate) fn any_edit(data: &[u8]) -> bool {
    let parts: Vec<&[u8]> = data.splitn(3, |&byte| byte == 0).collect();
    let [sheet, path, value] = parts[..] else {
        return false;
    };
    let text = |bytes| String::from_utf8_lossy(bytes).into_owned();
    well_edited(&text(sheet), &text(path), &text(value));
    true
}

/// Writes a value into any text, takes it out again and types it as an override: a text that says so, or a reason.
pub(crate) fn well_edited(text: &str, path: &str, typed: &str) {
    let before = sheet::read(text.as_bytes(), "car.toml");
    if let Ok(edited) = sheet::splice(text, path, typed) {
        let slot = slot_of(path.trim()).expect("a key");
        let after = sheet::read(edited.as_bytes(), "car.toml");
        assert!(after.inputs.get(slot).is_some());
        if let Some(place) = before.places.value(slot) {
            assert_eq!(edited[..place.value.start], text[..place.value.start]);
            assert!(edited.ends_with(&text[place.value.end..]));
        }
        let gone = sheet::cut(&edited, path).map(|gone| sheet::read(gone.as_bytes(), "car.toml"));
        // Of a sheet that is not in order, another line may be read as the key that was misspelt for.
        assert!(!before.problems().is_empty() || gone.is_ok_and(|gone| gone.inputs.get(slot).is_none()));
    }
    if let Ok(cut) = sheet::cut(text, path) {
        assert!(cut.len() < text.len());
    }
    let written = format!("{path}={typed}");
    let mut overridden = before.inputs.clone();
    match sheet::override_key(&mut overridden, &written) {
        Ok(slot) => assert!(overridden.get(slot).is_some()),
        Err(problem) => assert!(
            written.get(problem.span.clone()).is_some() && before.inputs.slots().eq(overridden.slots())
        ),
    }
}

/// Reads any bytes as a sheet, puts no car together, and checks what is said of them: nothing, or problems at places
/// that there are.
pub(crate) fn well_read(bytes: &[u8]) -> ReadSheet {
    let read = sheet::read(bytes, "car.toml");
    check(&read.problems(), read.text());
    read
}

/// The same with the car: there is one, or there are problems.
pub(crate) fn well_behaved(bytes: &[u8]) {
    let read = well_read(bytes);
    let text = read.text().to_owned();
    match read.assemble() {
        Ok(_) => assert!(read.problems().is_empty()),
        Err(problems) => {
            assert!(!problems.is_empty());
            check(&problems, &text);
        }
    }
}

fn check(problems: &Problems, text: &str) {
    assert!(problems.shown().len() <= MOST_SHOWN);
    let lines: Vec<&str> = text.split('\n').collect();
    let mut last = 0;
    for problem in problems {
        assert!(problem.span.start >= last, "out of order");
        last = problem.span.start;
        assert!(
            text.get(problem.span.clone()).is_some(),
            "{:?} is not within the text",
            problem.span
        );
        let line = lines.get(problem.line - 1).expect("a line of the text");
        assert!(
            (1..=line.chars().count() + 1).contains(&problem.column),
            "column {} of `{line}`",
            problem.column
        );
        for said in [
            problem.text(),
            problem.remedy(),
            problem.key.clone().unwrap_or_default(),
        ] {
            assert!(!said.contains(char::is_control), "{said:?}");
        }
        let shown = problem.shown(Styles::plain()).to_string();
        assert!(
            !shown.contains(|c: char| c.is_control() && c != '\n'),
            "{shown:?}"
        );
        assert!(!problem.text().is_empty() && !problem.remedy().is_empty());
        assert!(
            !problem.text().ends_with('.') && !problem.remedy().ends_with('.'),
            "{}",
            problem.remedy()
        );
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::well_behaved;
    use crate::FULL;

    /// Pieces that sheets are made of, so that chance finds its way into them.
    const PIECES: &[&str] = &[
        "[",
        "]",
        "[[",
        "]]",
        "{",
        "}",
        "=",
        ",",
        ".",
        "\"",
        "'",
        "\"\"\"",
        "'''",
        "#",
        "\n",
        "\r\n",
        "\r",
        "\t",
        " ",
        "\\",
        "\\u0041",
        "lever",
        "bore",
        "load.item",
        "pedal",
        "bias_valve.knee",
        "format = 1",
        "5/8 in",
        "guess",
        "true",
        "inf",
        "2026-03-14",
        "0x1F",
        "-",
        "±",
        "漢",
        "\u{feff}",
        "\u{7}",
        "…",
        "12",
        "1e400",
        "rear_brake.pad.friction_at",
        "[\"20 C\", 0.3]",
    ];

    proptest! {
        #![proptest_config(crate::cases())]

        #[test]
        fn any_bytes(bytes in proptest::collection::vec(any::<u8>(), 0..300)) {
            well_behaved(&bytes);
        }

        #[test]
        fn any_pieces(pieces in proptest::collection::vec(proptest::sample::select(PIECES), 0..60)) {
            well_behaved(pieces.concat().as_bytes());
        }

        #[test]
        fn the_full_sheet_with_pieces_in_it(
            at in proptest::collection::vec((any::<proptest::sample::Index>(), 0_usize..6, proptest::sample::select(PIECES)), 1..6),
        ) {
            let mut bytes = FULL.as_bytes().to_vec();
            for (place, length, piece) in at {
                let start = place.index(bytes.len());
                let end = (start + length).min(bytes.len());
                bytes.splice(start..end, piece.bytes());
            }
            well_behaved(&bytes);
        }

        #[test]
        fn the_full_sheet_cut_short(end in 0..FULL.len()) {
            well_behaved(&FULL.as_bytes()[..end]);
        }

        #[test]
        fn the_full_sheet_with_lines_moved(from in 0_usize..150, to in 0_usize..150, drop in any::<bool>()) {
            let mut lines: Vec<&str> = FULL.lines().collect();
            let line = if drop { lines.remove(from) } else { lines[from] };
            lines.insert(to, line);
            well_behaved(lines.join("\n").as_bytes());
        }

        #[test]
        fn any_override(key in proptest::sample::select(crate::overrides_pool()), value in "\\PC{0,30}") {
            let read = sheet::read(FULL.as_bytes(), "car.toml");
            for written in [format!("{key}={value}"), format!("{key}{value}")] {
                if let Err(problem) = sheet::override_key(&mut read.inputs.clone(), &written) {
                    assert!(written.get(problem.span.clone()).is_some());
                    assert!(problem.column <= written.chars().count() + 1);
                }
            }
        }
    }
}
