//! The formulas, edges and figures of UN Regulation 13-H that the engine knows.

use engine::thresholds::{FOOT_LIMIT_ROAD, LEAST_SECONDARY};
use engine::balance::{Balance, RoadRules, failed_circuits};
use engine::brake::{TorqueLaw, Warmth};
use engine::car::Car;
use engine::hydraulics::Hydraulics;
use engine::loads::{Aboard, Grade, Laden};
use quantity::Dimension;
use quantity::si::{Length, Pressure, Speed};

use crate::Error;
use crate::car::plain;
use crate::source::{Answers, Inputs};

/// Torque over pressure of the strongest wheel of the cars below (N·m/Pa).
const GAIN_NM_PA: f64 = 5e-4;

pub(crate) fn check(inputs: &Inputs) -> Result<Answers, Error> {
    let car = plain(
        "un-r13h",
        [
            format!("weighed.front={}", inputs.text("front_mass")?),
            format!("weighed.rear={}", inputs.text("rear_mass")?),
            format!("weighed.cg_height={}", inputs.text("cg_height")?),
            format!("geometry.wheelbase={}", inputs.text("wheelbase")?),
            "pedal.ratio=20".to_owned(),
        ],
    )?;
    let mut answers = Answers::default();
    let bench = Bench { laden: Laden::of(&car, Aboard::AS_WEIGHED), car };
    formulas(inputs, &bench, &mut answers)?;
    floor(&bench, &mut answers);
    order(&bench, &mut answers);
    secondary(inputs, &bench, &mut answers)?;
    Ok(answers)
}

struct Bench {
    car: Car,
    laden: Laden,
}

impl Bench {
    fn hydraulics(&self, front: TorqueLaw, rear: TorqueLaw) -> Hydraulics {
        let mut hydraulics = Hydraulics::of(&self.car, Warmth::Warm);
        hydraulics.wheels = [front, front, rear, rear];
        hydraulics
    }

    fn balance(&self, laden: Laden, front: TorqueLaw, rear: TorqueLaw) -> Balance {
        Balance::of(&self.car, self.hydraulics(front, rear), laden, Speed::from_m_s(14.0))
    }

    fn rules(&self, laden: Laden, front: TorqueLaw, rear: TorqueLaw) -> RoadRules {
        self.balance(laden, front, rear).road_rules()
    }
}

const fn law(gain_nm_pa: f64, threshold_pa: f64) -> TorqueLaw {
    TorqueLaw { gain_nm_pa, threshold: Pressure::from_pa(threshold_pa) }
}

/// Laws that share the braking force so, at every pressure (both radii alike).
fn shared(front_share: f64) -> [TorqueLaw; 2] {
    [law(GAIN_NM_PA * front_share, 0.0), law(GAIN_NM_PA * (1.0 - front_share), 0.0)]
}

/// Where a verdict turns from no (at `no`) to yes (at `yes`).
fn edge(mut no: f64, mut yes: f64, verdict: impl Fn(f64) -> bool) -> f64 {
    if verdict(no) || !verdict(yes) {
        return f64::NAN;
    }
    for _ in 0..50 {
        let middle = 0.5 * (no + yes);
        *(if verdict(middle) { &mut yes } else { &mut no }) = middle;
    }
    yes
}

fn formulas(inputs: &Inputs, bench: &Bench, answers: &mut Answers) -> Result<(), Error> {
    let rate = inputs.number("rate")?;
    let loads = bench.laden.axle_loads(rate);
    answers.put("load", loads.front.n());
    answers.put("load", loads.rear.n());
    let [front, rear] = shared(inputs.number("front_share")?);
    let used = bench.balance(bench.laden, front, rear).utilisation(rate);
    answers.put("utilisation", used.map_or(f64::NAN, |used| used.front));
    answers.put("utilisation", used.map_or(f64::NAN, |used| used.rear));
    Ok(())
}

/// A car that brakes in front only uses `k = z/(b/L + z h/L)` of its front axle's load. With b and h chosen so that this
/// curve touches the floor line at a point and lies below it elsewhere, b is moved until the verdict turns over.
fn floor(bench: &Bench, answers: &mut Answers) {
    let (front, none) = (law(GAIN_NM_PA, 0.0), law(0.0, 0.0));
    for (rate, used) in [(0.10, 0.2), (0.17, 0.3), (0.24, 0.4), (0.31, 0.5), (0.38, 0.6), (0.45, 0.7), (0.52, 0.8)] {
        let ahead = rate * rate / (0.7 * used * used);
        let height = 1.0 / used - ahead / rate;
        let laden = |ahead: f64| Laden {
            grade: Grade::LEVEL,
            wheelbase: Length::from_m(1.0),
            cg_aft: Length::from_m(1.0 - ahead),
            cg_height: Length::from_m(height),
            ..bench.laden
        };
        let met = |ahead: f64| bench.rules(laden(ahead), front, none).least_rate_met;
        let at_edge = edge(0.98 * ahead, 1.02 * ahead, met);
        let key = if used < 0.8 { "floor" } else { "floor_end" };
        answers.put(key, rate / (at_edge + rate * height));
    }
}

/// A fixed split leads behind from the rate on at which it is the ideal one; brakes that bite late in front lead behind
/// up to such a rate.
fn order(bench: &Bench, answers: &mut Answers) {
    let laden = bench.laden;
    let (wheelbase, height) = (laden.wheelbase.m(), laden.cg_height.m());
    let ahead = wheelbase - laden.cg_aft.m();
    let upper = edge(0.5, 0.95, |front_share| {
        let [front, rear] = shared(front_share);
        bench.rules(laden, front, rear).rear_below_front
    });
    answers.put("order", (upper * wheelbase - ahead) / height);

    let (front_gain, rear_gain) = (0.9 * GAIN_NM_PA, 0.1 * GAIN_NM_PA);
    let below = |threshold_pa: f64| {
        bench.rules(laden, law(front_gain, threshold_pa), law(rear_gain, 0.0)).rear_below_front
    };
    let threshold_pa = edge(5e6, 0.0, below);
    // The rate at which such brakes are the ideal ones.
    let radius = bench.car.tyres.front_radius.m();
    let at = |rate: f64| {
        let loads = laden.axle_loads(rate);
        rate * radius / 2.0 * (loads.rear.n() / rear_gain - loads.front.n() / front_gain)
    };
    answers.put("order", edge(0.0, 0.4, |rate| at(rate) >= threshold_pa));
}

fn secondary(inputs: &Inputs, bench: &Bench, answers: &mut Answers) -> Result<(), Error> {
    answers.put("foot", FOOT_LIMIT_ROAD.n());
    let least = LEAST_SECONDARY.m_s2();
    answers.put("secondary", least);
    let none = law(0.0, 0.0);
    for off in [-1e-6, 1e-6] {
        let probe = bench.hydraulics(none, none);
        let pressure_pa = probe.foot.pressures(probe.foot.push_rod(FOOT_LIMIT_ROAD))[0].pa();
        let kg = inputs.si("front_mass", Dimension::Mass)? + inputs.si("rear_mass", Dimension::Mass)?;
        let gain = least * (1.0 + off) * kg * bench.car.tyres.front_radius.m() / (2.0 * pressure_pa);
        let hydraulics = bench.hydraulics(law(gain, 0.0), none);
        let [front_left, _] = failed_circuits(&bench.car, &hydraulics, &bench.laden, 1.2);
        answers.say(
            "secondary_met",
            match front_left.met {
                Some(true) => "yes",
                Some(false) => "no",
                None => "no rule",
            },
        );
    }
    let term = 1.0 / (25.92 * least);
    answers.put("secondary_term", term);
    answers.put("secondary_distance", 0.1 * 100.0 + term * 100.0 * 100.0);
    Ok(())
}
