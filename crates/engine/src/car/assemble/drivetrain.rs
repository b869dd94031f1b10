use quantity::si::{Duration, Inertia, Rotation, Torque};

use super::super::drivetrain::{Centre, Coupling, Curve, Driven, Drivetrain};
use super::super::key_id::KeyId;
use super::Bench;

impl Bench<'_> {
    pub(super) fn drivetrain(&mut self) -> Option<Drivetrain> {
        let driven = match self.read.word("drivetrain.driven") {
            Some("rear") => Driven::Rear,
            Some("all") => Driven::All,
            Some(_) => Driven::Front,
            None if self.read.is_first_format() => {
                self.read.note_rule(
                    "drivetrain.driven",
                    "front",
                    "left out: the first format took it as front-driven",
                );
                Driven::Front
            }
            None => return None,
        };
        let front_diff = self.coupling("drivetrain.front_diff");
        let rear_diff = self.coupling("drivetrain.rear_diff");
        let centre = self.centre(driven);
        let turns_per_wheel_turn = self.read.given_si("drivetrain.centre.turns_per_wheel_turn");
        let reading_drawn = self.reading_drawn(centre.as_ref());
        let front_share = match driven {
            Driven::Front => 1.0,
            Driven::Rear => 0.0,
            Driven::All => self.read.si("drivetrain.front_share")?,
        };
        Some(Drivetrain {
            driven,
            front_diff: front_diff?,
            rear_diff: rear_diff?,
            centre: centre?,
            turns_per_wheel_turn,
            reading_drawn,
            front_share,
            final_drive: self.read.si("drivetrain.final_drive")?,
            input_inertia: Inertia::from_kg_m2(self.read.si("drivetrain.input_inertia")?),
            engine_inertia: Inertia::from_kg_m2(self.read.si("drivetrain.engine_inertia")?),
            gear: self.read.si("drivetrain.gear")?,
        })
    }

    /// Where the coupling turns, if the sheet does not say, and how its curve goes on are read in several ways; a drawn car
    /// takes one of them.
    fn reading_drawn(&mut self, centre: Option<&Centre>) -> Option<f64> {
        let (coupling, curve) = match centre? {
            Centre::None => return None,
            // Which of its kinds it is is drawn too.
            Centre::Guess { .. } => return self.read.reading_share("drivetrain.centre.kind"),
            Centre::Fixed(coupling) => (coupling, "drivetrain.centre.torque_at"),
            Centre::Disengaging {
                held: coupling @ Coupling::Viscous(_),
                ..
            } => (coupling, "drivetrain.centre.held.torque_at"),
            Centre::Disengaging { let_go, .. } => (let_go, "drivetrain.centre.let_go.torque_at"),
        };
        match coupling {
            Coupling::Open | Coupling::Locked => None,
            Coupling::Plates { .. } | Coupling::Viscous(_)
                if !self.read.given("drivetrain.centre.turns_per_wheel_turn") =>
            {
                self.read.reading_share("drivetrain.centre.turns_per_wheel_turn")
            }
            Coupling::Viscous(curve_of) if !curve_of.guessed => self.read.reading_share(curve),
            Coupling::Plates { .. } | Coupling::Viscous(_) => None,
        }
    }

    fn centre(&mut self, driven: Driven) -> Option<Centre> {
        if driven != Driven::All {
            if self.read.given("drivetrain.centre.kind")
                && self.read.word("drivetrain.centre.kind") != Some("none")
            {
                self.warn(
                    "drivetrain.centre.kind",
                    "has no effect: a centre coupling ties two driven axles, and only one axle is driven",
                );
            }
            return Some(Centre::None);
        }
        if !self.read.given("drivetrain.centre.kind") {
            if !self.read.is_first_format() {
                self.missing(
                    "drivetrain.centre.kind",
                    "on a car that drives all wheels it decides whether the hand alone can stop the rear",
                );
                return None;
            }
            self.read.note_rule(
                "drivetrain.centre.kind",
                "viscous, of middling feel",
                "left out on a car that drives all wheels: a wide guess",
            );
            let scale = self.read.feel_scale("drivetrain.centre.feel", FEEL_HALF_WIDTH);
            return Some(Centre::Fixed(Coupling::Viscous(felt(scale))));
        }
        match self.read.word("drivetrain.centre.kind")? {
            "none" => {
                if !self.read.is_first_format() {
                    self.refuse(
                        "drivetrain.centre.kind",
                        "contradiction",
                        "all wheels are driven, and nothing between front and rear would drive one axle only",
                        "write kind = \"open\" for a differential that ties nothing, \"guess\" where it is not known",
                    );
                }
                Some(Centre::None)
            }
            "guess" => {
                self.read.note_unknown(
                    "drivetrain.centre.kind",
                    "open, viscous (soft and stiff) and locked: each is computed",
                    "said to be a guess",
                );
                let scale = self.read.feel_scale("drivetrain.centre.feel", FEEL_HALF_WIDTH);
                Some(Centre::Guess {
                    soft: felt(SOFT * scale),
                    stiff: felt(STIFF * scale),
                })
            }
            "disengaging" => {
                let held = if self.read.given("drivetrain.centre.held.kind") {
                    self.coupling("drivetrain.centre.held")
                } else {
                    self.read.note_rule(
                        "drivetrain.centre.held.kind",
                        "locked",
                        "left out: taken as locked while held",
                    );
                    Some(Coupling::Locked)
                };
                let let_go = self.coupling("drivetrain.centre.let_go");
                let delay = Duration::from_s(self.read.si("drivetrain.centre.in")?);
                Some(Centre::Disengaging {
                    held: held?,
                    let_go: let_go?,
                    delay,
                })
            }
            _ => self.coupling("drivetrain.centre").map(Centre::Fixed),
        }
    }

    fn coupling(&mut self, table: &str) -> Option<Coupling> {
        match self.read.word(&KeyId::path_in(table, "kind"))? {
            "locked" => Some(Coupling::Locked),
            "plates" => Some(Coupling::Plates {
                preload: Torque::from_nm(self.read.si(&KeyId::path_in(table, "preload"))?),
                bias: self.read.si(&KeyId::path_in(table, "bias"))?,
            }),
            "viscous" => self.viscous(table).map(Coupling::Viscous),
            _ => Some(Coupling::Open),
        }
    }

    fn viscous(&mut self, table: &str) -> Option<Curve> {
        let (curve, feel) = (KeyId::path_in(table, "torque_at"), KeyId::path_in(table, "feel"));
        if !self.read.given(&curve) {
            let Some(word) = self.read.word(&feel) else {
                self.missing(&curve, "a viscous coupling needs its curve; or, in the centre, feel = \"soft\", \"middle\" or \"stiff\" (a wide guess)");
                return None;
            };
            let (middle, half_width) = match word {
                "soft" => (SOFT, SOFT_HALF_WIDTH),
                "stiff" => (STIFF, FEEL_HALF_WIDTH),
                _ => (1.0, FEEL_HALF_WIDTH),
            };
            return Some(felt(middle * self.read.feel_scale(&feel, half_width)));
        }
        self.only_one(&curve, &feel);
        let scale = self.read.curve_scale(&curve);
        let points: Vec<(Rotation, Torque)> = self
            .read
            .rows(&curve)?
            .iter()
            .filter_map(|row| match row[..] {
                [difference, torque] => {
                    Some((Rotation::from_rad_s(difference), Torque::from_nm(torque * scale)))
                }
                _ => None,
            })
            .collect();
        let rising = points.windows(2).all(|pair| pair[0].0 < pair[1].0);
        let sane = points.iter().all(|point| point.1 >= Torque::ZERO);
        let zero_at_rest = points
            .first()
            .is_none_or(|&(difference, torque)| difference > Rotation::ZERO || torque.nm() <= 1e-9);
        if points.len() < 2 || !rising || !sane || !zero_at_rest {
            self.refuse(
                &curve,
                "bad-curve",
                "the curve needs two points or more, speed differences rising, torques not negative, and none at rest",
                "torque_at = [[\"0 rpm\", \"0 N m\"], [\"50 rpm\", \"90 N m\"], [\"200 rpm\", \"170 N m\"]]",
            );
            return None;
        }
        Some(Curve {
            points,
            guessed: false,
        })
    }
}

/// A curve guessed from how the coupling feels; 1 is middling.
fn felt(scale: f64) -> Curve {
    let points = MIDDLE_FEEL.iter().map(|&(rpm, torque_nm)| {
        (
            Rotation::from_rad_s(rpm * core::f64::consts::TAU / 60.0),
            Torque::from_nm(torque_nm * scale),
        )
    });
    Curve {
        points: points.collect(),
        guessed: true,
    }
}

/// A soft coupling, as road cars have it, over a middling one; and how far such a guess may be off (from memory,
/// judgement).
const SOFT: f64 = 0.2;
const SOFT_HALF_WIDTH: f64 = 0.8;
/// A stiff one over a middling one.
const STIFF: f64 = 2.0;
/// How far the guess of any other may be off, of its middle.
const FEEL_HALF_WIDTH: f64 = 0.6;

/// Torque (N·m) over speed difference (rpm) of a viscous coupling of middling feel (from memory, judgement).
const MIDDLE_FEEL: [(f64, f64); 5] = [
    (0.0, 0.0),
    (50.0, 60.0),
    (200.0, 120.0),
    (1000.0, 220.0),
    (2000.0, 270.0),
];
