//! What a guess costs the answer: how wide the first figure of the answer is with it, and with it known.

use engine::car::{Car, Inputs, Slot, Value};
use engine::headline::{HeadlineFigures, Headlines};
use engine::ranges::{Range, Sampling};
use quantity::{Amount, Spread};

use crate::opened::Opened;

/// Draws for each of the two: enough for the width of a bar.
const DRAWS: u32 = 128;

/// The range of torque there is over torque needed, or, in a car without a lever, of the front's lead at first lock.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CostOfGuess {
    /// With the figure taken as a guess.
    pub guessed: Range,
    /// With the figure known exactly as it stands.
    pub known: Range,
    /// Whether it is torque over torque needed.
    pub is_torque: bool,
}

impl CostOfGuess {
    /// Of a key that may be guessed; `None` where there is no such default, or where nothing locks.
    #[must_use]
    pub fn of(opened: &Opened, path: &str) -> Option<Self> {
        let slot = sheet::slot_of(path)?;
        slot.key.key().default?;
        let inputs = &opened.sheet.read.inputs;
        let mut guessing = inputs.clone();
        if inputs.get(slot) != Some(&Value::Word("guess")) {
            guessing.set(slot, Value::Guess);
        }
        let guessed = Car::assemble(&guessing).ok()?;
        let sampling = Sampling {
            draws: DRAWS,
            ..Sampling::default()
        };
        let conditions = &opened.state.conditions;
        // The same draws of everything else, so that nothing but the guess makes a difference.
        let mut knowing = guessing.clone();
        let mut toleranced = guessed.toleranced.clone();
        match slot.key.default_amount() {
            Some(amount) => knowing.set(
                slot,
                Value::Amount(Amount {
                    spread: Spread::Exact,
                    ..amount
                }),
            ),
            None => toleranced.retain(|known| *known != slot),
        }
        let drawn = |inputs: &Inputs, toleranced: &[Slot]| {
            Headlines::of(&guessed.car, inputs, toleranced, conditions, sampling)
        };
        let with = drawn(&guessing, &guessed.toleranced)?;
        let without = drawn(&knowing, &toleranced)?;
        let is_torque = with.middle.in_hand.is_some();
        let figure = |headline: &HeadlineFigures| {
            if is_torque {
                headline.in_hand
            } else {
                headline.front_first_by
            }
        };
        Some(Self {
            guessed: with.range(figure)?,
            known: without.range(figure)?,
            is_torque,
        })
    }

    /// In a sentence or two.
    #[must_use]
    pub fn in_words(&self) -> String {
        let what = if self.is_torque {
            "Torque there is over torque needed"
        } else {
            "The front's lead at first lock"
        };
        let range = |range: Range| {
            format!(
                "{} to {}",
                wording::per_cent(range.low),
                wording::per_cent(range.high)
            )
        };
        let (guessed, known) = (range(self.guessed), range(self.known));
        if guessed == known {
            return format!("{what}: {guessed}, guessed or measured. It costs the answer nothing.");
        }
        format!("{what}: {guessed} as a guess. Measured, it would be {known}.")
    }
}
