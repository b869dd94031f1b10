//! What a pull does to the lever's bolts, to the floor under it and to its frame.
//!
//! Looked at is not the driver's usual pull but an abuse pull: the lever is also a grab handle.

use quantity::si::{Area, Force, Length, Torque};
use thiserror::Error;

use crate::car::{Car, LeverFrame, Mount};

/// Abuse pull along the car (from memory, judgement).
pub const ABUSE_ALONG: Force = Force::from_n(800.0);
/// Abuse pull across the car, at the same time (from memory, judgement).
pub const ABUSE_ACROSS: Force = Force::from_n(400.0);
/// Shear stress at which mild sheet yields (Pa): 160 MPa in tension over √3 (from memory: soft drawing sheet; a floor
/// pressed from stronger sheet bears more).
pub const SHEET_SHEAR_PA: f64 = 160e6 * 0.577;
/// Thinnest spreader that is taken to spread anything; a thinner one bends round the bolt (from memory, judgement).
pub const THINNEST_SPREADER: Length = Length::from_m(2e-3);
/// How far a spreader is taken to reach beyond the bolts, on every side (from memory, judgement).
pub const SPREADER_MARGIN: Length = Length::from_m(15e-3);
/// The frame's bolt through the push rod's eye, where the sheet says nothing of it (from memory, judgement).
pub const ROD_BOLT: (BoltSize, BoltGrade) = (BoltSize::M8, BoltGrade::G8_8);

/// Size of a bolt with a coarse metric thread.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
#[allow(missing_docs, reason = "each is named after its thread")]
pub enum BoltSize {
    M6,
    M8,
    M10,
    M12,
}

impl BoltSize {
    /// All of them.
    pub const ALL: [Self; 4] = [Self::M6, Self::M8, Self::M10, Self::M12];

    /// As it is written.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::M6 => "M6",
            Self::M8 => "M8",
            Self::M10 => "M10",
            Self::M12 => "M12",
        }
    }

    /// Stress area of its coarse thread (ISO 898-1; from memory).
    #[must_use]
    pub const fn stress_area(self) -> Area {
        Area::from_m2(match self {
            Self::M6 => 20.1e-6,
            Self::M8 => 36.6e-6,
            Self::M10 => 58.0e-6,
            Self::M12 => 84.3e-6,
        })
    }

    /// Outside diameter of its plain washer (ISO 7089; from memory).
    #[must_use]
    pub const fn washer(self) -> Length {
        Length::from_m(match self {
            Self::M6 => 12e-3,
            Self::M8 => 16e-3,
            Self::M10 => 20e-3,
            Self::M12 => 24e-3,
        })
    }
}

/// Property class of a bolt: the two figures on its head.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
#[allow(missing_docs, reason = "each is named after its two figures")]
pub enum BoltGrade {
    G4_6,
    G4_8,
    G5_6,
    G5_8,
    G6_8,
    G8_8,
    G9_8,
    G10_9,
    G12_9,
}

impl BoltGrade {
    /// All of them.
    pub const ALL: [Self; 9] = [
        Self::G4_6,
        Self::G4_8,
        Self::G5_6,
        Self::G5_8,
        Self::G6_8,
        Self::G8_8,
        Self::G9_8,
        Self::G10_9,
        Self::G12_9,
    ];

    /// As it stands on the head.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::G4_6 => "4.6",
            Self::G4_8 => "4.8",
            Self::G5_6 => "5.6",
            Self::G5_8 => "5.8",
            Self::G6_8 => "6.8",
            Self::G8_8 => "8.8",
            Self::G9_8 => "9.8",
            Self::G10_9 => "10.9",
            Self::G12_9 => "12.9",
        }
    }

    /// Proof stress (Pa) up to M16 (ISO 898-1:2013, table 3, as quoted by a seller of fasteners; read).
    #[must_use]
    pub const fn proof_pa(self) -> f64 {
        match self {
            Self::G4_6 => 225e6,
            Self::G4_8 => 310e6,
            Self::G5_6 => 280e6,
            Self::G5_8 => 380e6,
            Self::G6_8 => 440e6,
            Self::G8_8 => 580e6,
            Self::G9_8 => 650e6,
            Self::G10_9 => 830e6,
            Self::G12_9 => 970e6,
        }
    }
}

/// The bolts of a mount.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Bolts {
    /// How many, 2 to 12.
    pub count: u8,
    /// Thread.
    pub size: BoltSize,
    /// Property class.
    pub grade: BoltGrade,
}

/// Why nothing can be said about the bolts.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
pub enum BoltsFault {
    /// The sheet does not name them.
    #[error("the sheet does not say what bolts hold the lever")]
    NotGiven,
    /// The sheet does not say how far apart they are.
    #[error("the sheet does not say how far apart the bolts are")]
    NoPattern,
    /// Not of the form that is read.
    #[error("`{written}` does not read as count, size and grade")]
    Unreadable {
        /// As it stands there.
        written: String,
    },
    /// One bolt, none, or too many.
    #[error("a lever stands on 2 to 12 bolts, not on {count}")]
    Count {
        /// As it stands there.
        count: u32,
    },
    /// A size without figures here.
    #[error("bolts of M6, M8, M10 and M12 are computed, not `{written}`")]
    Size {
        /// As it stands there.
        written: String,
    },
    /// No grade.
    #[error("the grade of the bolts is missing: it is stamped on the head")]
    NoGrade,
    /// A grade that the standard does not have.
    #[error("`{written}` is no grade of a bolt: 4.6 to 12.9 are")]
    Grade {
        /// As it stands there.
        written: String,
    },
}

impl core::str::FromStr for Bolts {
    type Err = BoltsFault;

    /// Reads `4 x M8 8.8`: count, size (a length behind it is passed over), grade.
    fn from_str(written: &str) -> Result<Self, BoltsFault> {
        let unreadable = || BoltsFault::Unreadable {
            written: written.trim().to_owned(),
        };
        let text = written
            .trim()
            .to_lowercase()
            .replace(['×', '*'], "x")
            .replace(',', ".");
        let digits = |text: &str| text.chars().take_while(char::is_ascii_digit).count();
        let (count, rest) = text.split_at(digits(&text));
        let rest = rest.trim_start();
        let rest = rest.strip_prefix('x').unwrap_or(rest).trim_start();
        let rest = rest.strip_prefix('m').ok_or_else(unreadable)?;
        let (size, rest) = rest.split_at(digits(rest));
        // A pitch or a length belongs to the size: M8x1.25, M8x30.
        let (behind, rest) = rest.split_once(char::is_whitespace).unwrap_or((rest, ""));
        if count.is_empty() || size.is_empty() || !(behind.is_empty() || behind.starts_with('x')) {
            return Err(unreadable());
        }
        let count: u32 = count.parse().map_err(|_| unreadable())?;
        let few = u8::try_from(count).ok().filter(|count| (2..=12).contains(count));
        let few = few.ok_or(BoltsFault::Count { count })?;
        let named = format!("M{size}");
        let size = BoltSize::ALL.into_iter().find(|known| known.name() == named);
        let size = size.ok_or(BoltsFault::Size { written: named })?;
        let grade = rest
            .trim()
            .trim_start_matches("grade")
            .trim_start_matches("class")
            .trim();
        if grade.is_empty() {
            return Err(BoltsFault::NoGrade);
        }
        let known = BoltGrade::ALL.into_iter().find(|known| known.name() == grade);
        let grade = known.ok_or_else(|| BoltsFault::Grade {
            written: grade.to_owned(),
        })?;
        Ok(Self {
            count: few,
            size,
            grade,
        })
    }
}

/// The worst bolt under the abuse pull.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WorstBolt {
    /// The bolts.
    pub bolts: Bolts,
    /// Its tension.
    pub tension: Force,
    /// Its shear.
    pub shear: Force,
    /// Both as one stress (Pa): `√(σ² + 4 τ²)`, the greatest-shear rule.
    pub stress_pa: f64,
    /// That over the grade's proof stress: from 1 on it stretches for good.
    pub used: f64,
}

/// The floor sheet round the worst bolt.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FloorSheet {
    /// Whether a spreader shares the tension out.
    pub spread: bool,
    /// Length of edge that carries the worst bolt: its share of the spreader's outline, or its washer's.
    pub edge: Length,
    /// Shear along that edge (Pa).
    pub shear_pa: f64,
    /// That over [`SHEET_SHEAR_PA`].
    pub used: f64,
}

/// The bolt of a closed frame through the push rod's eye, in double shear.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RodBolt {
    /// What it passes on: hand × ratio.
    pub force: Force,
    /// Shear (Pa).
    pub shear_pa: f64,
    /// That over 0.577 of the proof stress.
    pub used: f64,
}

/// A mount under the abuse pull.
#[derive(Clone, Debug, PartialEq)]
pub struct MountAnswer {
    /// Grip over the floor.
    pub arm: Length,
    /// Moment of the pull along, at the floor.
    pub moment_along: Torque,
    /// Moment of the pull across.
    pub moment_across: Torque,
    /// What the shell has to hold between pivot and cylinder: hand × ratio; `None` inside a closed frame.
    pub on_shell: Option<Force>,
    /// The worst bolt, or why it cannot be told.
    pub bolts: Result<WorstBolt, BoltsFault>,
    /// The floor round it; `None` where the bolts cannot be told.
    pub floor: Option<FloorSheet>,
    /// The frame's own bolt; `None` without a frame or a cylinder.
    pub rod_bolt: Option<RodBolt>,
}

/// Where the bolts are: distances from the two edges that the lever tilts about. Two: at opposite corners. Three: one in
/// front, two behind. More: two rows along the car; an odd one out is left out.
fn places(count: u8, along: Length, across: Length) -> Vec<(f64, f64)> {
    let (along, across) = (along.m(), across.m());
    match count {
        2 => vec![(0.0, 0.0), (along, across)],
        3 => vec![(along, across / 2.0), (0.0, 0.0), (0.0, across)],
        _ => {
            let in_row = count / 2;
            (0..in_row)
                .map(|place| along * f64::from(place) / f64::from(in_row - 1))
                .flat_map(|x| [(x, 0.0), (x, across)])
                .collect()
        }
    }
}

/// Greatest tension of a bolt group under two moments that tilt it about its edges (N):
///
/// `T = M_a x/Σx² + M_b y/Σy²`, x and y distances from the edge that it tilts about (m).
///
/// No preload, no prying; the floor is taken as rigid. Source: Bhandari, Design of Machine Elements, eccentric load
/// perpendicular to the axis of the bolts (examples 7.5 and 7.6 in a test).
fn greatest_tension_n(places: &[(f64, f64)], along: Torque, across: Torque) -> f64 {
    let squares = |pick: fn(&(f64, f64)) -> f64| places.iter().map(|place| pick(place).powi(2)).sum::<f64>();
    let (xx, yy) = (squares(|place| place.0), squares(|place| place.1));
    let share = |moment: Torque, at: f64, all: f64| if all > 0.0 { moment.nm() * at / all } else { 0.0 };
    places
        .iter()
        .map(|&(x, y)| share(along, x, xx) + share(across, y, yy))
        .fold(0.0, f64::max)
}

/// The worst bolt: its tension as above, the shear shared evenly, both as one stress by the greatest shear.
fn worst(bolts: Bolts, mount: (Length, Length), along: Torque, across: Torque, shear: Force) -> WorstBolt {
    let tension_n = greatest_tension_n(&places(bolts.count, mount.0, mount.1), along, across);
    let shear = shear / f64::from(bolts.count);
    let area_m2 = bolts.size.stress_area().m2();
    let stress_pa = (tension_n / area_m2).hypot(2.0 * shear.n() / area_m2);
    let used = stress_pa / bolts.grade.proof_pa();
    WorstBolt {
        bolts,
        tension: Force::from_n(tension_n),
        shear,
        stress_pa,
        used,
    }
}

fn floor_sheet(mount: &Mount, pattern: (Length, Length), worst: &WorstBolt) -> FloorSheet {
    let spread = mount.spreader >= THINNEST_SPREADER;
    let edge = if spread {
        let margins = SPREADER_MARGIN * 4.0;
        (pattern.0 + pattern.1 + margins) * 2.0 / f64::from(worst.bolts.count)
    } else {
        worst.bolts.size.washer() * core::f64::consts::PI
    };
    let shear_pa = worst.tension.n() / (edge.m() * mount.floor_sheet.m());
    FloorSheet {
        spread,
        edge,
        shear_pa,
        used: shear_pa / SHEET_SHEAR_PA,
    }
}

/// The lever's mount under an abuse pull of [`ABUSE_ALONG`] and [`ABUSE_ACROSS`] at once; `None` without a lever, or
/// where the sheet does not describe its mount.
///
/// Closed frame: the lever's multiplied force stays inside, the floor sees the hand alone, `M = F (h_pivot + h_grip)`.
/// Cylinder apart: the rod pushes against the shell with F·ratio, and the pivot's bracket is left with
/// `M = F h_pivot (1 + ratio)` along the car and a shear of `F (1 + ratio)` (rod below the pivot, the worse of the two
/// arrangements). Source: statics. A cable's pull is not followed: its ratio is not the lever's alone.
#[must_use]
pub fn mount_under_abuse(car: &Car) -> Option<MountAnswer> {
    let lever = car.lever.as_ref()?;
    let mount = lever.mount.as_ref()?;
    let arm = mount.pivot_above_floor + mount.grip_above_pivot;
    let ratio = lever.cylinder().map(|cylinder| cylinder.ratio);
    let moment = |force: Force, arm: Length| Torque::from_nm(force.n() * arm.m());
    let apart = ratio.filter(|_| lever.frame == LeverFrame::Apart);
    let (moment_along, along) = match apart {
        Some(ratio) => (
            moment(ABUSE_ALONG, mount.pivot_above_floor) * (1.0 + ratio),
            ABUSE_ALONG * (1.0 + ratio),
        ),
        None => (moment(ABUSE_ALONG, arm), ABUSE_ALONG),
    };
    let moment_across = moment(ABUSE_ACROSS, arm);
    let shear = Force::from_n(along.n().hypot(ABUSE_ACROSS.n()));
    let read = || {
        let written = mount.bolts.as_deref().ok_or(BoltsFault::NotGiven)?;
        let bolts: Bolts = written.parse()?;
        let pattern = mount.pattern.ok_or(BoltsFault::NoPattern)?;
        Ok(worst(bolts, pattern, moment_along, moment_across, shear))
    };
    let bolts = read();
    let floor = match (&bolts, mount.pattern) {
        (Ok(worst), Some(pattern)) => Some(floor_sheet(mount, pattern, worst)),
        _ => None,
    };
    let rod_bolt = ratio.filter(|_| lever.frame == LeverFrame::Closed).map(|ratio| {
        let force = ABUSE_ALONG * ratio;
        let shear_pa = force.n() / (2.0 * ROD_BOLT.0.stress_area().m2());
        RodBolt {
            force,
            shear_pa,
            used: shear_pa / (0.577 * ROD_BOLT.1.proof_pa()),
        }
    });
    Some(MountAnswer {
        arm,
        moment_along,
        moment_across,
        on_shell: apart.map(|ratio| ABUSE_ALONG * ratio),
        bolts,
        floor,
        rod_bolt,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn near(one: f64, other: f64) -> bool {
        (one / other - 1.0).abs() < 1e-9
    }

    /// Bhandari, Design of Machine Elements, examples 7.5 and 7.6: the inputs and the formula as read in the book's
    /// published Scilab companion (FOSSEE, textbook 764); there is no answer printed there, so it is worked out below.
    #[test]
    fn tension_of_a_tilting_bracket_follows_the_textbook() {
        let tension_n = |moment_nm: f64, far: f64, close: f64| {
            let places = [(far, 0.0), (far, 0.0), (close, 0.0), (close, 0.0)];
            greatest_tension_n(&places, Torque::from_nm(moment_nm), Torque::ZERO)
        };
        // 7.6: 25 kN at 500 mm; two bolts 550 mm from the edge, two 50 mm:
        // 25000·0.5·0.55/(2·(0.3025 + 0.0025)) = 11 270.5 N.
        assert!((tension_n(12_500.0, 0.55, 0.05) - 11_270.492).abs() < 1e-3);
        // 7.5: 25 kN at 100 mm, bolts at 150 and 25 mm: 25000·0.1·0.15/(2·(0.0225 + 0.000625)) = 8108.1 N, and a shear
        // of 6250 N each. The book sizes the bolts by the greatest shear, √((T/2)² + S²) = 7449.7 N; ours is twice that.
        let tension = tension_n(2500.0, 0.15, 0.025);
        assert!((tension - 8108.108).abs() < 1e-3);
        assert!((tension.hypot(2.0 * 6250.0) / 2.0 - 7449.688).abs() < 1e-3);
    }

    /// 800 N at 355 mm is 284 N·m, two of four bolts 80 mm from the edge: 1775 N each. 400 N across is 142 N·m over
    /// 60 mm: 1183 N. The corner bolt has both. Shear: √(800² + 400²)/4 = 223.6 N.
    #[test]
    fn a_closed_frame_by_hand() {
        let bolts: Bolts = "4 x M8 8.8".parse().unwrap();
        let pattern = (Length::from_m(0.080), Length::from_m(0.060));
        let shear = Force::from_n(800.0_f64.hypot(400.0));
        let here = worst(
            bolts,
            pattern,
            Torque::from_nm(284.0),
            Torque::from_nm(142.0),
            shear,
        );
        assert!((here.tension.n() - 2958.333).abs() < 1e-3);
        assert!((here.shear.n() - 223.607).abs() < 1e-3);
        // σ = 2958.3/36.6 = 80.83 MPa, τ = 6.11 MPa: √(80.83² + 4·6.11²) = 81.75 MPa of 580.
        assert!((here.used - 81.75 / 580.0).abs() < 1e-4);
        let mount = Mount {
            bolts: None,
            pattern: Some(pattern),
            floor_sheet: Length::from_m(0.9e-3),
            spreader: Length::from_m(3e-3),
            pivot_above_floor: Length::ZERO,
            grip_above_pivot: Length::ZERO,
        };
        // Spreader 110 × 90 mm, a quarter of its 400 mm outline: 2958.3/(100·0.9) = 32.87 MPa of 92.3.
        let floor = floor_sheet(&mount, pattern, &here);
        assert!((floor.edge.m() - 0.100).abs() < 1e-12 && (floor.shear_pa / 1e6 - 32.870).abs() < 1e-3);
        // Without one: round a 16 mm washer, 2958.3/(50.27·0.9) = 65.4 MPa.
        let bare = floor_sheet(
            &Mount {
                spreader: Length::from_m(1e-3),
                ..mount
            },
            pattern,
            &here,
        );
        assert!(!bare.spread && (bare.shear_pa / 1e6 - 65.393).abs() < 1e-3);
    }

    #[test]
    fn more_bolts_and_a_wider_pattern_never_load_the_worst_bolt_more() {
        let under = |count: u8, along: f64| {
            let bolts = Bolts {
                count,
                size: BoltSize::M8,
                grade: BoltGrade::G8_8,
            };
            let pattern = (Length::from_m(along), Length::from_m(0.06));
            worst(
                bolts,
                pattern,
                Torque::from_nm(284.0),
                Torque::from_nm(142.0),
                Force::from_n(894.0),
            )
        };
        for pair in [2, 3, 4, 6, 8, 10, 12].windows(2) {
            let (few, many) = (under(pair[0], 0.08), under(pair[1], 0.08));
            assert!(
                many.stress_pa <= few.stress_pa * (1.0 + 1e-12),
                "{} then {}",
                pair[0],
                pair[1]
            );
        }
        assert!(under(4, 0.10).tension < under(4, 0.08).tension);
        assert!(
            near(under(5, 0.08).tension.n(), under(4, 0.08).tension.n()),
            "the fifth is left out"
        );
    }

    #[test]
    fn bolts_are_read_as_people_write_them() {
        let wanted = Bolts {
            count: 4,
            size: BoltSize::M8,
            grade: BoltGrade::G8_8,
        };
        for written in [
            "4 x M8 8.8",
            "4xM8 8.8",
            "4 × m8 8,8",
            " 4 M8x30 grade 8.8 ",
            "4 x M8x1.25 8.8",
        ] {
            assert_eq!(written.parse(), Ok(wanted), "{written}");
        }
        assert_eq!(
            "2 x M12 12.9".parse(),
            Ok(Bolts {
                count: 2,
                size: BoltSize::M12,
                grade: BoltGrade::G12_9
            })
        );
        let fault = |written: &str| written.parse::<Bolts>().unwrap_err();
        assert_eq!(fault("4 x M8"), BoltsFault::NoGrade);
        assert_eq!(fault("1 x M8 8.8"), BoltsFault::Count { count: 1 });
        assert_eq!(
            fault("4 x M7 8.8"),
            BoltsFault::Size {
                written: "M7".to_owned()
            }
        );
        assert_eq!(
            fault("4 x M8 7.7"),
            BoltsFault::Grade {
                written: "7.7".to_owned()
            }
        );
        for odd in [
            "",
            "four M8",
            "4 x 5/16 in",
            "x",
            "4 x M 8.8",
            "99999999999 x M8 8.8",
            "4 × ✗",
            "4 x M8ü 8.8",
        ] {
            assert!(matches!(fault(odd), BoltsFault::Unreadable { .. }), "{odd}");
        }
    }

    #[test]
    fn every_size_and_grade_is_stronger_than_the_one_before() {
        let areas = BoltSize::ALL.map(|size| size.stress_area().m2());
        assert!(areas.windows(2).all(|pair| pair[0] < pair[1]));
        // A grade's first figure is a hundredth of its strength, the second the tenths at which it yields: proof stress
        // is 0.88 to 0.94 of the minimum yield, itself at most 8 % over the nominal (ISO 898-1; from memory).
        for grade in BoltGrade::ALL {
            let (strength, tenths) = grade.name().split_once('.').unwrap();
            let nominal = strength.parse::<f64>().unwrap() * 1e8 * tenths.parse::<f64>().unwrap() / 10.0;
            let share = grade.proof_pa() / nominal;
            assert!((0.87..0.97).contains(&share), "{}: {share}", grade.name());
        }
    }
}
