//! What a turn is called.
//!
//! The borders are judgement; no standard knows them. Each stands once, in [`thresholds`](crate::thresholds), with
//! [`Bend`] and [`front_keeps`]. They are asked in one order and the first that fits is the word, so that every run has one.

use quantity::si::{Angle, Length};

use super::TurnVerdict;
use super::bend::Bend;
use super::through::Through;
use crate::car::Surface;
use crate::thresholds::{LATE_WIDTHS, LEVER_GIVES};

/// A front wheel dragged below this share of its own speed is past the slip at which the surface gives most: what
/// it gives points backward and no longer to the side. `1/(1 + slip at peak)`, from the definition of slip.
#[must_use]
pub fn front_keeps(surface: &Surface) -> f64 {
    1.0 / (1.0 + surface.slip_at_peak.max(0.0))
}

/// What a run in a bend amounts to.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Judged {
    /// In a word.
    pub verdict: TurnVerdict,
    /// How it goes through the bend.
    pub through: Through,
    /// How much further into the bend the car looks at letting go for the lever; `None` where it is not let go, or so slow
    /// that its path has no direction.
    pub lever_gave: Option<Angle>,
    /// What is left to the nearer edge of the road at the worst moment, below zero beyond it; `None` where the car does not
    /// come out of the bend.
    pub to_spare: Option<Length>,
    /// How far beyond the edge of the road the worst wheel is; `None` where the car does not come out of the bend.
    pub off_the_road: Option<Length>,
    /// What keeps it from coming round.
    pub short_of: ShortOf,
}

/// What keeps a run from coming round; all that is so.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct ShortOf {
    /// The lever gave less than [`LEVER_GIVES`].
    pub lever_gave_less: bool,
    /// The car came to rest before it was out.
    pub stood: bool,
    /// It left the road, and by more than a road's width.
    pub left_wide: bool,
}

impl ShortOf {
    /// Names in machine-read results.
    #[must_use]
    pub fn names(self) -> Vec<&'static str> {
        [
            (self.lever_gave_less, "lever-gave-less"),
            (self.stood, "stood"),
            (self.left_wide, "left-wide"),
        ]
        .into_iter()
        .filter_map(|(is_so, name)| is_so.then_some(name))
        .collect()
    }

    /// In words.
    #[must_use]
    pub fn words(self) -> Vec<&'static str> {
        [
            (self.lever_gave_less, "the lever gave less than 30°"),
            (self.stood, "it stood before it was out"),
            (self.left_wide, "it left wide"),
        ]
        .into_iter()
        .filter_map(|(is_so, words)| is_so.then_some(words))
        .collect()
    }
}

impl Judged {
    pub(super) fn of(
        bend: &Bend,
        through: Through,
        lever_gave: Option<Angle>,
        front_speed_ratio: Option<f64>,
        front_keeps: f64,
    ) -> Self {
        let width_m = bend.width.m();
        let off_m = through
            .off_m
            .filter(|_| through.out_s.is_some())
            .map(|off_m| (off_m - 0.5 * width_m).max(0.0));
        let gave = lever_gave.is_some_and(|gave| gave >= LEVER_GIVES);
        let dragged = front_speed_ratio.is_some_and(|ratio| ratio < front_keeps);
        let verdict = match off_m {
            _ if through.backwards => TurnVerdict::Spins,
            Some(off_m) if gave && off_m <= 0.0 => TurnVerdict::ComesRound,
            Some(off_m) if gave && off_m <= LATE_WIDTHS * width_m => TurnVerdict::ComesRoundLate,
            _ if dragged => TurnVerdict::Ploughs,
            _ => TurnVerdict::RotatesLittle,
        };
        Self {
            verdict,
            through,
            lever_gave,
            to_spare: through
                .off_m
                .filter(|_| through.out_s.is_some())
                .map(|off_m| Length::from_m(0.5 * width_m - off_m)),
            off_the_road: off_m.map(Length::from_m),
            short_of: ShortOf {
                lever_gave_less: !gave,
                stood: through.stood,
                left_wide: off_m.is_none_or(|off_m| off_m > LATE_WIDTHS * width_m) && !through.stood,
            },
        }
    }

    /// The most that [`rank`](Self::rank) begins with: of a car that comes round, and of one that does not.
    pub(super) const BEST: u8 = 5;
    pub(super) const BEST_NOT_ROUND: u8 = 3;

    /// Which of two moments of letting go is the better: by its word; then, coming round, by the room that it leaves; else
    /// by whether it comes out, and how far it comes round. More is better.
    pub(crate) fn rank(&self) -> (u8, f64) {
        let off_m = self.through.off_m.unwrap_or(f64::MAX);
        match self.verdict {
            TurnVerdict::ComesRound => (Self::BEST, -off_m),
            TurnVerdict::ComesRoundLate => (4, -off_m),
            TurnVerdict::Ploughs | TurnVerdict::RotatesLittle if self.through.out_s.is_some() => {
                (Self::BEST_NOT_ROUND, -off_m)
            }
            TurnVerdict::Ploughs | TurnVerdict::RotatesLittle => (2, self.through.furthest_rad),
            TurnVerdict::Spins => (1, -self.through.furthest_rad),
        }
    }
}

impl TurnVerdict {
    /// All of them, in the order in which they are asked.
    pub const ALL: [Self; 5] = [
        Self::Spins,
        Self::ComesRound,
        Self::ComesRoundLate,
        Self::Ploughs,
        Self::RotatesLittle,
    ];

    /// Name in machine-read results.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::ComesRound => "comes-round",
            Self::ComesRoundLate => "comes-round-late",
            Self::RotatesLittle => "rotates-little",
            Self::Ploughs => "ploughs",
            Self::Spins => "spins",
        }
    }

    /// In words: what the car does.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::ComesRound => "comes round",
            Self::ComesRoundLate => "comes round late",
            Self::RotatesLittle => "rotates little",
            Self::Ploughs => "ploughs",
            Self::Spins => "spins",
        }
    }

    /// Whether the car comes round, on the road or late.
    #[must_use]
    pub const fn is_round(self) -> bool {
        matches!(self, Self::ComesRound | Self::ComesRoundLate)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Out of a hairpin 5 m wide with its worst wheel so far off the middle.
    fn out(off_m: f64) -> Through {
        Through {
            out_s: Some(3.0),
            off_m: Some(off_m),
            ..Through::default()
        }
    }

    fn called(through: Through, gave_deg: Option<f64>, front: f64) -> TurnVerdict {
        let gave = gave_deg.map(|deg| Angle::from_rad(deg.to_radians()));
        Judged::of(&Bend::HAIRPIN, through, gave, Some(front), 0.8).verdict
    }

    #[test]
    fn each_border_lies_where_it_is_said_to_and_every_run_has_a_word() {
        let never = Through::default();
        let backwards = Through {
            backwards: true,
            ..Through::default()
        };
        for (through, gave, front, wanted) in [
            // The edge: 2.5 m off the middle.
            (out(2.499), Some(40.0), 1.0, TurnVerdict::ComesRound),
            (out(2.501), Some(40.0), 1.0, TurnVerdict::ComesRoundLate),
            // A road's width beyond it.
            (out(7.499), Some(40.0), 1.0, TurnVerdict::ComesRoundLate),
            (out(7.501), Some(40.0), 1.0, TurnVerdict::RotatesLittle),
            // What the lever gave.
            (out(1.0), Some(30.01), 1.0, TurnVerdict::ComesRound),
            (out(1.0), Some(29.99), 1.0, TurnVerdict::RotatesLittle),
            (out(1.0), None, 1.0, TurnVerdict::RotatesLittle),
            (out(1.0), Some(-40.0), 1.0, TurnVerdict::RotatesLittle),
            // A dragged front ploughs only where the car does not come round all the same.
            (out(1.0), Some(40.0), 0.5, TurnVerdict::ComesRound),
            (out(1.0), Some(29.99), 0.801, TurnVerdict::RotatesLittle),
            (out(1.0), Some(29.99), 0.799, TurnVerdict::Ploughs),
            (never, Some(40.0), 0.801, TurnVerdict::RotatesLittle),
            (never, Some(40.0), 0.799, TurnVerdict::Ploughs),
            // Backwards goes before everything.
            (backwards, Some(90.0), 0.1, TurnVerdict::Spins),
        ] {
            assert_eq!(
                called(through, gave, front),
                wanted,
                "{through:?} {gave:?} {front}"
            );
        }
        // A front whose ratio is not known does not plough.
        let gave = Some(Angle::ZERO);
        assert_eq!(
            Judged::of(&Bend::HAIRPIN, never, gave, None, 0.8).verdict,
            TurnVerdict::RotatesLittle
        );
    }

    #[test]
    fn rotating_little_says_what_was_lacking() {
        let short = |through: Through, gave_deg: f64| {
            let gave = Some(Angle::from_rad(gave_deg.to_radians()));
            let short = Judged::of(&Bend::HAIRPIN, through, gave, Some(1.0), 0.8).short_of;
            (short.lever_gave_less, short.stood, short.left_wide)
        };
        let stood = Through {
            stood: true,
            ..Through::default()
        };
        assert_eq!(short(out(1.0), 10.0), (true, false, false));
        assert_eq!(short(stood, 40.0), (false, true, false));
        assert_eq!(short(out(9.0), 40.0), (false, false, true));
        assert_eq!(short(Through::default(), 10.0), (true, false, true));
    }

    #[test]
    fn the_better_moment_is_the_one_with_the_better_word_then_with_more_room() {
        let judged = |through, gave_deg: f64| {
            let gave = Some(Angle::from_rad(gave_deg.to_radians()));
            Judged::of(&Bend::HAIRPIN, through, gave, Some(1.0), 0.8).rank()
        };
        let short = |deg: f64| Through {
            furthest_rad: deg.to_radians(),
            ..Through::default()
        };
        let backwards = Through {
            backwards: true,
            ..short(170.0)
        };
        let rising = [
            judged(backwards, 60.0),
            judged(short(80.0), 60.0),
            judged(short(120.0), 60.0),
            judged(out(9.0), 40.0),
            judged(out(1.0), 10.0),
            judged(out(4.0), 40.0),
            judged(out(3.0), 40.0),
            judged(out(2.0), 40.0),
            judged(out(1.5), 40.0),
        ];
        for pair in rising.windows(2) {
            assert!(pair[0] < pair[1], "{pair:?}");
        }
    }
}
