//! What changes between two texts, line by line, as a unified diff: the shortest way from one to the other (by Myers: *An O(ND)
//! difference algorithm and its variations*, 1986).

use core::fmt::Write as _;
use core::ops::Range;

/// Lines that stand around a change.
const AROUND: usize = 3;
/// Beyond so many changed lines the shortest way is not looked for: what lies between the first and the last is replaced.
const MOST: usize = 2000;

/// A stretch of lines of the first text that stands for one of the second.
#[derive(Clone, Debug, PartialEq, Eq)]
struct Change {
    out: Range<usize>,
    put: Range<usize>,
}

/// The unified diff of two texts under two names; empty where they are the same.
pub(crate) fn unified(before: &str, after: &str, names: (&str, &str)) -> String {
    let old: Vec<&str> = before.split_inclusive('\n').collect();
    let new: Vec<&str> = after.split_inclusive('\n').collect();
    let changes = changes(&old, &new);
    let mut text = String::new();
    if changes.is_empty() {
        return text;
    }
    let _ = write!(text, "--- {}\n+++ {}\n", names.0, names.1);
    let mut rest = changes.as_slice();
    while let Some(first) = rest.first() {
        // Changes whose surroundings meet stand together.
        let meet = |pair: &[Change]| pair[1].out.start - pair[0].out.end <= 2 * AROUND;
        let together = 1 + rest.windows(2).take_while(|pair| meet(pair)).count();
        let (hunk, others) = rest.split_at(together);
        let last = hunk.last().unwrap_or(first);
        let lead = AROUND.min(first.out.start);
        let trail = AROUND.min(old.len() - last.out.end);
        let out = first.out.start - lead..last.out.end + trail;
        let put = first.put.start - lead..last.put.end + trail;
        let _ = writeln!(text, "@@ -{} +{} @@", place(&out), place(&put));
        let mut at = out.start;
        for change in hunk {
            lines(&mut text, ' ', &old[at..change.out.start]);
            lines(&mut text, '-', &old[change.out.clone()]);
            lines(&mut text, '+', &new[change.put.clone()]);
            at = change.out.end;
        }
        lines(&mut text, ' ', &old[at..out.end]);
        rest = others;
    }
    text
}

/// `12,7`: the first line, counted from 1, and how many; of one line its number alone, of none the line before it.
fn place(lines: &Range<usize>) -> String {
    match lines.len() {
        0 => format!("{},0", lines.start),
        1 => format!("{}", lines.start + 1),
        many => format!("{},{many}", lines.start + 1),
    }
}

fn lines(text: &mut String, sign: char, lines: &[&str]) {
    for line in lines {
        text.push(sign);
        text.push_str(line);
        if !line.ends_with('\n') {
            text.push_str("\n\\ No newline at end of file\n");
        }
    }
}

fn changes(old: &[&str], new: &[&str]) -> Vec<Change> {
    let begin = old
        .iter()
        .zip(new)
        .take_while(|(one, other)| one == other)
        .count();
    let (old, new) = (&old[begin..], &new[begin..]);
    let end = old
        .iter()
        .rev()
        .zip(new.iter().rev())
        .take_while(|(one, other)| one == other)
        .count();
    let (old, new) = (&old[..old.len() - end], &new[..new.len() - end]);
    let mut changes: Vec<Change> = Vec::new();
    let mut put = |out: Range<usize>, put: Range<usize>| match changes.last_mut() {
        Some(last) if last.out.end == out.start && last.put.end == put.start => {
            last.out.end = out.end;
            last.put.end = put.end;
        }
        _ => changes.push(Change { out, put }),
    };
    match kept(old, new) {
        Some(kept) => {
            let (mut x, mut y) = (0, 0);
            for (kept_x, kept_y) in kept.into_iter().chain([(old.len(), new.len())]) {
                if x < kept_x || y < kept_y {
                    put(begin + x..begin + kept_x, begin + y..begin + kept_y);
                }
                (x, y) = (kept_x + 1, kept_y + 1);
            }
        }
        None => put(begin..begin + old.len(), begin..begin + new.len()),
    }
    changes
}

/// Pairs of lines that stay, in order; `None`: too much changes.
fn kept(old: &[&str], new: &[&str]) -> Option<Vec<(usize, usize)>> {
    if old.is_empty() || new.is_empty() {
        return Some(Vec::new());
    }
    let most = (old.len() + new.len()).min(MOST);
    // How far one gets in the first text on each diagonal with so many changes; on diagonal `k` the second text is at `x - k`.
    let mut ways: Vec<Vec<usize>> = Vec::new();
    let at = |way: &[usize], changes: usize, index: usize| {
        // Diagonals -changes, -changes + 2, … stand at 0, 1, …
        way.get(index).copied().filter(|_| index <= changes)
    };
    for changes in 0..=most {
        let before = ways.last();
        let mut way = Vec::with_capacity(changes + 1);
        for index in 0..=changes {
            // From the diagonal above a line was put in, from the one below a line was taken out.
            let put_in = before.and_then(|before| at(before, changes - 1, index));
            let taken_out = index
                .checked_sub(1)
                .and_then(|index| at(before?, changes - 1, index))
                .map(|x| x + 1);
            let mut x = match (put_in, taken_out) {
                (None, None) => 0,
                (put_in, taken_out) => put_in.max(taken_out).unwrap_or(0),
            };
            // k = 2 index - changes
            let y_of = |x: usize| (x + changes).checked_sub(2 * index);
            while let Some(y) = y_of(x)
                && old
                    .get(x)
                    .zip(new.get(y))
                    .is_some_and(|(one, other)| one == other)
            {
                x += 1;
            }
            if x == old.len() && y_of(x) == Some(new.len()) {
                way.push(x);
                ways.push(way);
                return Some(back(&ways, old, new, index));
            }
            way.push(x);
        }
        ways.push(way);
    }
    None
}

/// The way back from the end: the lines that were passed on a diagonal.
fn back(ways: &[Vec<usize>], old: &[&str], new: &[&str], last: usize) -> Vec<(usize, usize)> {
    let mut kept = Vec::new();
    let (mut x, mut y, mut index) = (old.len(), new.len(), last);
    for changes in (0..ways.len()).rev() {
        let (from, next) = if changes == 0 {
            ((0, 0), 0)
        } else {
            let before = &ways[changes - 1];
            let put_in = before.get(index).copied().filter(|_| index < changes);
            let taken_out = index
                .checked_sub(1)
                .and_then(|index| before.get(index))
                .map(|x| x + 1);
            let (x, next) = if put_in >= taken_out {
                (put_in.unwrap_or(0), index)
            } else {
                (taken_out.unwrap_or(0), index - 1)
            };
            ((x, (x + changes).saturating_sub(2 * index)), next)
        };
        while x > from.0 && y > from.1 {
            (x, y) = (x - 1, y - 1);
            kept.push((x, y));
        }
        if changes > 0 {
            // One step to the diagonal that it came from.
            if next == index {
                (x, y) = (from.0, from.1.saturating_sub(1));
            } else {
                (x, y) = (from.0 - 1, from.1);
            }
        }
        index = next;
    }
    kept.reverse();
    kept
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    /// Puts a diff onto the text that it was made of.
    fn applied(before: &str, diff: &str) -> String {
        let old: Vec<&str> = before.split_inclusive('\n').collect();
        let (mut text, mut at) = (String::new(), 0);
        let mut lines = diff.lines().skip(2).peekable();
        while let Some(line) = lines.next() {
            if let Some(head) = line.strip_prefix("@@ -") {
                let place = head.split(' ').next().unwrap();
                let (from, many) = place.split_once(',').unwrap_or((place, "1"));
                let from: usize = from.parse().unwrap();
                let from = if many == "0" { from } else { from - 1 };
                text.extend(old[at..from].iter().copied());
                at = from;
                continue;
            }
            let Some(sign) = line.chars().next().filter(|sign| *sign != '\\') else {
                continue;
            };
            let end = if lines.peek().is_some_and(|next| next.starts_with('\\')) {
                ""
            } else {
                "\n"
            };
            let said = format!("{}{end}", &line[1..]);
            if sign != '+' {
                assert_eq!(old[at], said);
                at += 1;
            }
            if sign != '-' {
                text.push_str(&said);
            }
        }
        text.extend(old[at..].iter().copied());
        text
    }

    fn changed(diff: &str) -> usize {
        let lines = diff.lines().skip(2);
        lines.filter(|line| line.starts_with(['+', '-'])).count()
    }

    proptest! {
        #![proptest_config(ProptestConfig { cases: 256, ..ProptestConfig::default() })]

        /// Held against a library that does the same: no more lines are changed, and what comes out is the other text.
        #[test]
        fn a_diff_leads_from_one_text_to_the_other_by_the_shortest_way(
            before in "([abc]\n){0,14}[ab]?", after in "([abc]\n){0,14}[ab]?",
        ) {
            let diff = unified(&before, &after, ("a", "b"));
            prop_assert_eq!(applied(&before, &diff), after.clone());
            let other = similar::TextDiff::from_lines(&before, &after);
            let most = other
                .iter_all_changes()
                .filter(|change| change.tag() != similar::ChangeTag::Equal)
                .count();
            prop_assert!(changed(&diff) <= most, "{}", diff);
            prop_assert_eq!(diff.is_empty(), before == after);
        }
    }

    #[test]
    fn a_few_changes_stand_with_three_lines_around_them() {
        let before: String = (1..30).map(|line| format!("line {line}\n")).collect();
        let after = before.replace("line 5\n", "line five\n").replace("line 25\n", "") + "end";
        let library = similar::TextDiff::from_lines(&before, &after);
        let library = library.unified_diff().header("old", "new").to_string();
        assert_eq!(unified(&before, &after, ("old", "new")), library);
        assert_eq!(
            unified("", "a\n", ("o", "n")),
            "--- o\n+++ n\n@@ -0,0 +1 @@\n+a\n"
        );
    }

    #[test]
    fn texts_that_have_nothing_in_common_are_replaced() {
        let before: String = (0..3000).map(|line| format!("a{line}\n")).collect();
        let diff = unified(&before, "b\n", ("o", "n"));
        assert!(changed(&diff) == 3001 && applied(&before, &diff) == "b\n");
    }
}
