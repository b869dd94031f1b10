//! What help teaches is shown as it is written.

use questions::ALL;

/// Help is wrapped to so many columns; a longer line would be broken once more, by a word.
const WIDTH: usize = 80;

#[test]
fn no_line_of_help_is_wider_than_help_is() {
    let long: Vec<String> = ALL
        .iter()
        .flat_map(|question| question.help().teaches.lines())
        .filter(|line| line.chars().count() > WIDTH)
        .map(str::to_owned)
        .collect();
    assert!(long.is_empty(), "{long:#?}");
}
