//! The first questions about a new car, asked at a terminal.

use std::io::BufRead;

use sheet::{Blank, FIRST_QUESTIONS, FirstAnswer, FirstQuestion};

use crate::voice::Voice;

/// The blank sheet with what was answered. An empty line leaves a question open; the end of the input all that are left.
pub(super) fn asked(mut blank: Blank, answers: &mut dyn BufRead, voice: &mut Voice<'_>) -> Blank {
    voice.aside("Six questions, a number each. An empty line leaves one open.\n");
    for question in FIRST_QUESTIONS {
        match one(question, answers, voice) {
            Some(Some(answer)) => blank = blank.answered(answer),
            Some(None) => {}
            None => break,
        }
    }
    voice.aside("\n");
    blank
}

/// `None`: nobody answers any more.
fn one(
    question: &FirstQuestion,
    answers: &mut dyn BufRead,
    voice: &mut Voice<'_>,
) -> Option<Option<&'static FirstAnswer>> {
    let mut text = format!("\n{}\n", question.asks);
    for (number, answer) in (1..).zip(question.answers) {
        text.push_str(&format!("  {number}  {}: {}\n", answer.says, answer.told_by));
    }
    voice.aside(&text);
    loop {
        voice.aside("> ");
        let mut line = String::new();
        if answers.read_line(&mut line).ok()? == 0 {
            return None;
        }
        let said = line.trim();
        if said.is_empty() {
            return Some(None);
        }
        let by_number = said
            .parse::<usize>()
            .ok()
            .and_then(|number| question.answers.get(number.checked_sub(1)?));
        if let Some(answer) = by_number.or_else(|| question.answer(said)) {
            return Some(Some(answer));
        }
        voice.aside(&format!("Type a number from 1 to {}.\n", question.answers.len()));
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn said(typed: &str) -> (String, String) {
        let (mut out, mut aside) = (Vec::new(), Vec::new());
        let mut voice = Voice::new(&mut out, &mut aside);
        let blank = asked(Blank::new("fell"), &mut typed.as_bytes(), &mut voice);
        assert!(out.is_empty(), "questions are no result");
        (blank.to_string(), String::from_utf8(aside).unwrap())
    }

    #[test]
    fn numbers_and_words_are_answers() {
        let (sheet, asked) = said("2\n3\naxle\n1\n2\ncable\n");
        for line in [
            "driven = \"rear\"",
            "drum-in-disc",
            "gain",
            "at_fewest",
            "kind = \"cable\"",
        ] {
            assert!(sheet.contains(line), "{line}: {sheet}");
        }
        assert_eq!(asked.matches("\n> ").count(), 6);
    }

    #[test]
    fn what_is_no_answer_is_asked_again_and_an_empty_line_leaves_it_open() {
        let (sheet, asked) = said("9\nsideways\n\n");
        assert_eq!(asked.matches("Type a number from 1 to 3.").count(), 2);
        assert!(sheet.contains("driven = \"…\""), "{sheet}");
    }
}
