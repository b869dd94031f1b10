//! The pedal: what the sheet says of it, and what a foot on a scale against a gauge puts in its place.

use quantity::si::{Force, Pressure};

use super::super::Remark;
use super::super::hydraulics::{Booster, Master, Pedal};
use super::super::surroundings::PedalReadings;
use super::{Bench, Replaced};

/// How far points may lie off one line, of their pressure, and still be on it.
const ON_THE_LINE: f64 = 0.05;
/// Feet closer than this are one point twice (N).
const APART_N: f64 = 1.0;

/// A reading: foot (N), pressure of the first chamber (Pa).
type Point = (f64, f64);

impl Bench<'_> {
    pub(super) fn pedal(&mut self, readings: &[PedalReadings], master: Option<&Master>) -> Option<Pedal> {
        let (ratio, efficiency) = (self.read.si("pedal.ratio"), self.read.si("pedal.efficiency"));
        let boosted = self.read.inputs().has_table("pedal.booster");
        if !boosted {
            self.none_taken("pedal.booster");
        }
        let mut pedal = Pedal {
            ratio: ratio?,
            efficiency: efficiency?,
            preload: Force::ZERO,
            booster: None,
        };
        let master = master?;
        self.preload(&mut pedal, readings, master, boosted);
        if boosted {
            pedal.booster = Some(self.booster(&pedal, readings, master)?);
        }
        Some(pedal)
    }

    /// The preload: measured without assistance, or as the sheet has it. Where the points say that the pedal's own
    /// multiplication is another, they put it right too.
    fn preload(&mut self, pedal: &mut Pedal, readings: &[PedalReadings], master: &Master, boosted: bool) {
        let rod_m2 = master.rod_per_pressure()[0].m2();
        let unassisted = |reading: &&PedalReadings| !boosted || !reading.engine_on;
        let newest = newest(readings, unassisted, |points| {
            points.iter().any(|point| point.1 > 0.0)
        });
        let found = newest.and_then(|(entry, reading)| {
            let points = points(reading);
            let tolerance = self
                .off_by_tolerance("pedal.ratio")
                .hypot(self.off_by_tolerance("pedal.efficiency"));
            let fit = unassisted_line(&points, rod_m2, pedal.ratio * pedal.efficiency, tolerance)?;
            Some((entry, fit))
        });
        let Some((entry, fit)) = found else {
            let sheet_n = if boosted {
                // It acts only while the engine is off.
                self.read.value("pedal.preload");
                self.read.nominal_si("pedal.preload")
            } else {
                self.read.si("pedal.preload")
            };
            // A foot that moved nothing is a bound.
            let bound_n = readings
                .iter()
                .filter(unassisted)
                .flat_map(points)
                .filter(|point| point.1 <= 0.0)
                .fold(0.0, |most: f64, point| most.max(point.0));
            pedal.preload = Force::from_n(sheet_n.unwrap_or(0.0).max(bound_n));
            return;
        };
        self.read.value("pedal.preload");
        pedal.preload = Force::from_n(fit.preload_n);
        let mut said = Remark::from("the pedal's preload is ").figure(
            quantity::Dimension::Force,
            fit.preload_n,
            format!("{:.0} N", fit.preload_n),
        );
        let mut keys = vec!["pedal.preload"];
        if let Some(per_foot) = fit.per_foot {
            said = said.words(format!(
                ", and ratio × efficiency is {per_foot:.2}, not {:.2}",
                pedal.ratio * pedal.efficiency
            ));
            pedal.efficiency = per_foot / pedal.ratio;
            keys.push("pedal.efficiency");
        }
        self.replaced(entry, keys, said);
    }

    fn booster(&mut self, pedal: &Pedal, readings: &[PedalReadings], master: &Master) -> Option<Booster> {
        let run_out_pa = self.read.si("pedal.booster.run_out")?;
        let per_foot = pedal.ratio * pedal.efficiency;
        let (rod_m2, boosted_m2) = (master.rod_per_pressure()[0].m2(), master.boosted_area().m2());
        let assisted = |reading: &&PedalReadings| reading.engine_on;
        let newest = newest(readings, assisted, |points| usable(points).len() >= 2);
        if let Some((entry, reading)) = newest {
            let points = usable(&points(reading));
            let said = if points.len() < 2 {
                "fewer than two readings beyond 20 N of foot and above 0 bar: nothing is fitted to them"
            } else {
                match assisted_line(&points, per_foot / rod_m2) {
                    Some(line) => {
                        let to_sheet = rod_m2 / boosted_m2;
                        let booster = Booster {
                            gain: line.slope_pa_n * rod_m2 / per_foot,
                            jump_in: Pressure::from_pa(line.at_zero_pa * to_sheet),
                            run_out: Pressure::from_pa(match line.kink_pa {
                                Some(kink_pa) => kink_pa * to_sheet,
                                None => run_out_pa.max(line.highest_pa * to_sheet),
                            }),
                        };
                        if booster.jump_in + Booster::LEAST_RANGE <= booster.run_out {
                            self.measured_booster(entry, &booster, line.kink_pa.is_some());
                            return Some(booster);
                        }
                        "the readings leap to where the booster ends: nothing is fitted to them"
                    }
                    None => "the readings lie on no boosted line: nothing is fitted to them",
                }
            };
            self.warn(&format!("measured.pedal[{entry}].points"), said);
        }
        let gain = self.read.si("pedal.booster.gain")?;
        let is_given = self.read.given("pedal.booster.jump_in");
        let mut jump_in_pa = self.read.si("pedal.booster.jump_in")?;
        let most_pa = run_out_pa - Booster::LEAST_RANGE.pa();
        if jump_in_pa > most_pa {
            if is_given && !self.read.is_drawn() {
                self.refuse(
                    "pedal.booster.jump_in",
                    "contradiction",
                    format!(
                        "the booster leaps to {:.1} bar, and ends at {:.1} bar",
                        jump_in_pa / 1e5,
                        run_out_pa / 1e5
                    ),
                    "jump_in lies 5 bar or more below run_out: read both with a gauge",
                );
                return None;
            }
            jump_in_pa = most_pa.max(0.0);
        }
        Some(Booster {
            gain,
            run_out: Pressure::from_pa(run_out_pa),
            jump_in: Pressure::from_pa(jump_in_pa),
        })
    }

    fn measured_booster(&mut self, entry: usize, booster: &Booster, kinked: bool) {
        self.read.value("pedal.booster.gain");
        self.read.value("pedal.booster.jump_in");
        let mut said = Remark::from(format!(
            "the booster's gain is {:.2} and its jump-in ",
            booster.gain
        ))
        .bar(booster.jump_in.pa());
        if let Some(sheet) = self.read.given_nominal_si("pedal.booster.gain") {
            said = said.words(format!("; the sheet says a gain of {sheet}"));
        }
        let mut keys = vec!["pedal.booster.gain", "pedal.booster.jump_in"];
        if kinked {
            said = said.words("; it runs out at ").bar(booster.run_out.pa());
            keys.push("pedal.booster.run_out");
        }
        self.replaced(entry, keys, said);
    }

    /// Names what a reading of the pedal put in the place of the sheet's figures.
    fn replaced(&mut self, entry: usize, keys: Vec<&'static str>, said: Remark) {
        self.replaced.push(Replaced {
            by: format!("measured.pedal[{entry}]"),
            keys,
            said,
        });
    }

    /// How far a key's tolerance lets its figure be off.
    fn off_by_tolerance(&self, path: &str) -> f64 {
        match (self.read.upper_si(path), self.read.nominal_si(path)) {
            (Some(upper), Some(nominal)) if nominal > 0.0 => upper / nominal - 1.0,
            _ => 0.0,
        }
    }
}

fn points(reading: &PedalReadings) -> Vec<Point> {
    let mut points: Vec<Point> = reading
        .points
        .iter()
        .map(|&(foot, pressure)| (foot.n(), pressure.pa()))
        .collect();
    points.sort_by(|one, other| one.0.total_cmp(&other.0));
    points
}

/// The newest reading that can be used, with its number counted from 1; where none can, the newest.
fn newest(
    readings: &[PedalReadings],
    of: impl Fn(&&PedalReadings) -> bool,
    can_be_used: impl Fn(&[Point]) -> bool,
) -> Option<(usize, &PedalReadings)> {
    (1..)
        .zip(readings)
        .filter(|(_, reading)| of(reading))
        .max_by_key(|&(entry, reading)| (can_be_used(&points(reading)), reading.on, entry))
}

/// Points with the booster awake: a pressure of nothing, or a foot that does not wake it, says nothing of its line.
fn usable(points: &[Point]) -> Vec<Point> {
    points
        .iter()
        .copied()
        .filter(|&(foot_n, pressure_pa)| foot_n >= Booster::WAKES.n() && pressure_pa > 0.0)
        .collect()
}

struct Unassisted {
    preload_n: f64,
    /// Pedal ratio times efficiency, where the points say that it is another.
    per_foot: Option<f64>,
}

/// The line `p = (F − preload) · ratio · η/A` through points above 0; a point at 0 is a bound from below.
fn unassisted_line(points: &[Point], rod_m2: f64, per_foot: f64, tolerance: f64) -> Option<Unassisted> {
    let bound_n = points
        .iter()
        .filter(|point| point.1 <= 0.0)
        .fold(0.0, |most: f64, point| most.max(point.0));
    let above: Vec<Point> = points.iter().copied().filter(|point| point.1 > 0.0).collect();
    let count = f64::from(u32::try_from(above.len()).ok().filter(|&count| count > 0)?);
    let mean_n = above
        .iter()
        .map(|&(foot_n, pressure_pa)| foot_n - pressure_pa * rod_m2 / per_foot)
        .sum::<f64>()
        / count;
    let preload_n = mean_n.max(bound_n).max(0.0);
    let misfit = above
        .iter()
        .map(|&(foot_n, pressure_pa)| ((foot_n - preload_n) * per_foot / rod_m2 / pressure_pa - 1.0).abs())
        .fold(0.0, f64::max);
    let line = line_through(&above).filter(|line| line.0 > 0.0 && misfit > tolerance.max(ON_THE_LINE));
    Some(match line {
        Some((slope_pa_n, at_zero_pa)) => Unassisted {
            preload_n: (-at_zero_pa / slope_pa_n).max(bound_n).max(0.0),
            per_foot: Some(slope_pa_n * rod_m2),
        },
        None => Unassisted {
            preload_n,
            per_foot: None,
        },
    })
}

struct Assisted {
    slope_pa_n: f64,
    at_zero_pa: f64,
    /// Where the slope falls to that of the pedal alone; `None`: not reached.
    kink_pa: Option<f64>,
    highest_pa: f64,
}

/// The boosted line through points, up to a kink if there is one; beyond it they rise as the pedal alone lets them.
fn assisted_line(points: &[Point], unassisted_pa_n: f64) -> Option<Assisted> {
    let highest_pa = points.iter().fold(0.0, |most: f64, point| most.max(point.1));
    let helped = |points: &[Point]| {
        let (slope, at_zero) = line_through(points)?;
        // A line that meets zero foot below nothing is drawn through nothing.
        let (slope, at_zero) = if at_zero < 0.0 {
            let squares: f64 = points.iter().map(|point| point.0 * point.0).sum();
            (
                points.iter().map(|point| point.0 * point.1).sum::<f64>() / squares,
                0.0,
            )
        } else {
            (slope, at_zero)
        };
        (slope >= unassisted_pa_n).then_some((slope, at_zero))
    };
    let worst = |points: &[Point], line: &dyn Fn(f64) -> f64| {
        points
            .iter()
            .map(|&(foot_n, pressure_pa)| (line(foot_n) / pressure_pa - 1.0).abs())
            .fold(0.0, f64::max)
    };
    let straight = |(slope_pa_n, at_zero_pa): (f64, f64), kink_pa| Assisted {
        slope_pa_n,
        at_zero_pa,
        kink_pa,
        highest_pa,
    };
    if let Some((slope, at_zero)) = helped(points)
        && worst(points, &|foot_n| at_zero + slope * foot_n) <= ON_THE_LINE
    {
        return Some(straight((slope, at_zero), None));
    }
    (2..points.len())
        .filter_map(|parted| {
            let (below, beyond) = points.split_at(parted);
            let (slope, at_zero) = helped(below)?;
            let count = f64::from(u32::try_from(beyond.len()).ok()?);
            let beyond_at_zero = beyond
                .iter()
                .map(|&(foot_n, pressure_pa)| pressure_pa - unassisted_pa_n * foot_n)
                .sum::<f64>()
                / count;
            let kink_n = (beyond_at_zero - at_zero) / (slope - unassisted_pa_n);
            let line =
                |foot_n: f64| (at_zero + slope * foot_n).min(beyond_at_zero + unassisted_pa_n * foot_n);
            let off = worst(points, &line);
            (kink_n > 0.0 && off <= ON_THE_LINE)
                .then(|| (off, straight((slope, at_zero), Some(at_zero + slope * kink_n))))
        })
        .min_by(|one, other| one.0.total_cmp(&other.0))
        .map(|(_, line)| line)
}

/// Slope and height at zero of the line of least squares; `None` where the points do not lie apart.
fn line_through(points: &[Point]) -> Option<(f64, f64)> {
    let (first, last) = (points.first()?, points.last()?);
    if last.0 - first.0 < APART_N {
        return None;
    }
    let count = f64::from(u32::try_from(points.len()).ok()?);
    let foot = points.iter().map(|point| point.0).sum::<f64>() / count;
    let pressure = points.iter().map(|point| point.1).sum::<f64>() / count;
    let slope = points
        .iter()
        .map(|point| (point.0 - foot) * (point.1 - pressure))
        .sum::<f64>()
        / points.iter().map(|point| (point.0 - foot).powi(2)).sum::<f64>();
    Some((slope, pressure - slope * foot))
}
