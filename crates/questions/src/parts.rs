//! What is tried in the workshop: parts and settings of a car, each with the ones that are sold or that there are. What a car
//! cannot be asked is not among them.

use engine::car::sold::{
    CALIPER_PISTONS, LEVER_BORES, LEVER_RATIOS, MASTER_BORES, Series, Size, WHEEL_CYLINDER_BORES,
};
use engine::car::{
    Axle, BiasValve, Brake, Caliper, Car, Centre, Driven, Knee, KnobScale, LeverKind, Master, ValvePlace,
    circle,
};
use engine::lever::other_layout;
use quantity::si::Length;

use crate::opened::{Opened, SAME_SIZE};
use crate::part_groups::VALVE_SETTING;

/// A part or a setting.
#[derive(Clone, Debug, PartialEq)]
pub struct Exchangeable {
    /// What it is called: `lever bore`.
    pub name: &'static str,
    /// The key of the sheet that it is about first.
    pub key: &'static str,
    /// What is in the car now, the proposal's where one is open.
    pub now: String,
    /// What the sheet has, where that is another one.
    pub was: Option<String>,
    /// What may be tried in its place, from the least where there is a least.
    pub choices: Vec<Alternative>,
}

/// One that may be tried.
#[derive(Clone, Debug, PartialEq)]
pub struct Alternative {
    /// What it is called: `9/16 in`.
    pub label: String,
    /// The series that it is sold in, of a size.
    pub series: Option<Series>,
    /// Keys of the sheet that make it so, `KEY=VALUE`.
    pub sets: Vec<String>,
    /// Whether it is the one that there is now.
    pub is_now: bool,
    /// How large, where it has a size: in SI.
    pub size_si: Option<f64>,
}

impl Exchangeable {
    /// The nearest choices below and above what there is now.
    #[must_use]
    pub fn beside(&self) -> [Option<&Alternative>; 2] {
        let at = self.choices.iter().position(|choice| choice.is_now);
        let sized = self.choices.iter().all(|choice| choice.size_si.is_some());
        match at.filter(|_| sized) {
            None => [None, None],
            Some(at) => [
                at.checked_sub(1).and_then(|below| self.choices.get(below)),
                self.choices.get(at + 1),
            ],
        }
    }

    /// Whether each choice is one key alone.
    #[must_use]
    pub fn is_plain(&self) -> bool {
        self.choices.iter().all(|choice| choice.sets.len() <= 1)
    }
}

/// Pads as they are sold, by what they are made for: warm, cold. Common practice, no source: the maker's curve wins.
const PADS: [(&str, f64, f64); 4] = [
    ("road", 0.38, 0.36),
    ("fast road", 0.42, 0.38),
    ("rally", 0.46, 0.36),
    ("circuit", 0.50, 0.28),
];

/// Everything that can be tried on a car.
#[must_use]
pub fn parts(opened: &Opened) -> Vec<Exchangeable> {
    let car = opened.car();
    let mut parts = Vec::new();
    if let Some(cylinder) = car.lever.as_ref().and_then(engine::car::Lever::cylinder) {
        parts.push(sizes(
            opened,
            "lever bore",
            "lever.bore",
            LEVER_BORES,
            cylinder.bore,
        ));
        parts.push(ratio(opened, cylinder.ratio));
    }
    match car.master {
        Master::Tandem { bore, .. } => {
            parts.push(sizes(opened, "master bore", "master.bore", MASTER_BORES, bore));
        }
        Master::Twin {
            front_bore,
            rear_bore,
            ..
        } => {
            parts.push(sizes(
                opened,
                "front master bore",
                "master.front_bore",
                MASTER_BORES,
                front_bore,
            ));
            parts.push(sizes(
                opened,
                "rear master bore",
                "master.rear_bore",
                MASTER_BORES,
                rear_bore,
            ));
        }
    }
    for axle in [Axle::Front, Axle::Rear] {
        parts.extend(pistons(opened, axle));
        parts.push(pads(opened, axle));
    }
    if let Some(valve) = &car.bias_valve {
        parts.extend(place(opened, valve));
        parts.extend(setting(opened, valve));
    }
    parts.extend(centre(opened));
    parts.extend(rear_differential(opened));
    parts.extend(layout(opened));
    parts.retain(|part| part.choices.iter().any(|choice| !choice.is_now));
    parts
}

/// What the sheet has at a key, where that is not what there is now.
fn was(opened: &Opened, key: &str) -> Option<String> {
    let is_other = opened.overrides.iter().any(|(other, _)| other == key);
    is_other.then(|| {
        let stands = opened.stands(key);
        stands.map_or_else(
            || "not on the sheet".to_owned(),
            |text| text.trim_matches('"').to_owned(),
        )
    })
}

fn sizes(opened: &Opened, name: &'static str, key: &'static str, sold: &[Size], now: Length) -> Exchangeable {
    let is = opened.size_as_written(key, now);
    let mut choices: Vec<Alternative> = sold
        .iter()
        .map(|size| {
            let is_now = (size.length().m() - now.m()).abs() <= SAME_SIZE.m();
            Alternative {
                label: size.text.to_owned(),
                series: Some(size.series),
                sets: vec![format!("{key}={}", size.text)],
                is_now,
                size_si: Some(size.length().m()),
            }
        })
        .collect();
    if !choices.iter().any(|choice| choice.is_now) {
        choices.push(Alternative {
            label: is.clone(),
            series: Some(if is.ends_with("in") {
                Series::Inch
            } else {
                Series::Metric
            }),
            sets: vec![format!("{key}={is}")],
            is_now: true,
            size_si: Some(now.m()),
        });
        in_order(&mut choices);
    }
    Exchangeable {
        name,
        key,
        now: is,
        was: was(opened, key),
        choices,
    }
}

fn in_order(choices: &mut [Alternative]) {
    choices.sort_by(|one, other| {
        let size = |choice: &Alternative| choice.size_si.unwrap_or(0.0);
        size(one).total_cmp(&size(other))
    });
}

fn ratio(opened: &Opened, now: f64) -> Exchangeable {
    const KEY: &str = "lever.ratio";
    let choice = |ratio: f64| Alternative {
        label: wording::entered(ratio),
        series: None,
        sets: vec![format!("{KEY}={}", wording::entered(ratio))],
        is_now: (ratio - now).abs() < 5e-3,
        size_si: Some(ratio),
    };
    let mut choices: Vec<Alternative> = LEVER_RATIOS.iter().map(|ratio| choice(*ratio)).collect();
    if !choices.iter().any(|choice| choice.is_now) {
        choices.push(choice(now));
        in_order(&mut choices);
    }
    Exchangeable {
        name: "lever ratio",
        key: KEY,
        now: wording::entered(now),
        was: was(opened, KEY),
        choices,
    }
}

/// The pistons of a caliper, all of one size larger or smaller; the cylinder of a drum.
fn pistons(opened: &Opened, axle: Axle) -> Option<Exchangeable> {
    let (name, key, cylinder) = match axle {
        Axle::Front => (
            "front pistons",
            "front_brake.caliper.pistons",
            "front_brake.cylinder_bore",
        ),
        Axle::Rear => (
            "rear pistons",
            "rear_brake.caliper.pistons",
            "rear_brake.cylinder_bore",
        ),
    };
    match opened.car().brake(axle) {
        Brake::Drum(drum) => Some(sizes(
            opened,
            match axle {
                Axle::Front => "front wheel cylinders",
                Axle::Rear => "rear wheel cylinders",
            },
            cylinder,
            WHEEL_CYLINDER_BORES,
            drum.cylinder_bore,
        )),
        Brake::Disc(disc) => {
            let Caliper { pistons, .. } = &disc.caliper;
            let first = *pistons.first()?;
            let alike = pistons
                .iter()
                .all(|piston| (piston.m() - first.m()).abs() <= SAME_SIZE.m());
            let now: Vec<String> = pistons.iter().map(|piston| plain(*piston)).collect();
            let choices: Vec<Alternative> = if alike {
                let mut part = sizes(opened, name, key, CALIPER_PISTONS, first);
                for choice in &mut part.choices {
                    let size = choice.label.clone();
                    choice.sets = vec![format!("{key}={}", vec![size.as_str(); pistons.len()].join(", "))];
                }
                part.choices
            } else {
                stepped(key, pistons)
            };
            Some(Exchangeable {
                name,
                key,
                now: if alike && now.len() > 1 {
                    format!("{} of {}", now.len(), now.first()?)
                } else {
                    now.join(", ")
                },
                was: was(opened, key),
                choices,
            })
        }
    }
}

/// Unlike pistons go a size up or down together.
fn stepped(key: &str, pistons: &[Length]) -> Vec<Alternative> {
    let area = |pistons: &[Length]| pistons.iter().map(|piston| circle(*piston).m2()).sum::<f64>();
    let label = |pistons: &[Length]| {
        pistons
            .iter()
            .map(|piston| plain(*piston))
            .collect::<Vec<_>>()
            .join(", ")
    };
    let of = |sizes: Vec<&Size>| {
        let lengths: Vec<Length> = sizes.iter().map(|size| size.length()).collect();
        let texts: Vec<&str> = sizes.iter().map(|size| size.text).collect();
        Alternative {
            label: texts.join(", "),
            series: None,
            sets: vec![format!("{key}={}", texts.join(", "))],
            is_now: false,
            size_si: Some(area(&lengths)),
        }
    };
    let next = |piston: &Length, above: bool| {
        let mut sold = CALIPER_PISTONS.iter();
        if above {
            sold.find(|size| size.length().m() > piston.m() + 5e-4)
        } else {
            sold.rfind(|size| size.length().m() < piston.m() - 5e-4)
        }
    };
    let mut choices = Vec::new();
    for above in [false, true] {
        let sizes: Option<Vec<&Size>> = pistons.iter().map(|piston| next(piston, above)).collect();
        choices.extend(sizes.map(of));
    }
    choices.push(Alternative {
        label: label(pistons),
        series: None,
        sets: Vec::new(),
        is_now: true,
        size_si: Some(area(pistons)),
    });
    in_order(&mut choices);
    choices
}

fn plain(size: Length) -> String {
    wording::figure(size.m(), quantity::units_of(quantity::Dimension::Length)[0])
}

fn pads(opened: &Opened, axle: Axle) -> Exchangeable {
    let car = opened.car();
    let (friction, (name, key, table)) = match (car.brake(axle), axle) {
        (Brake::Disc(disc), Axle::Front) => (
            &disc.friction,
            ("front pads", "front_brake.pad.friction", "front_brake.pad"),
        ),
        (Brake::Disc(disc), Axle::Rear) => (
            &disc.friction,
            ("rear pads", "rear_brake.pad.friction", "rear_brake.pad"),
        ),
        (Brake::Drum(drum), Axle::Front) => (
            &drum.friction,
            (
                "front linings",
                "front_brake.lining.friction",
                "front_brake.lining",
            ),
        ),
        (Brake::Drum(drum), Axle::Rear) => (
            &drum.friction,
            ("rear linings", "rear_brake.lining.friction", "rear_brake.lining"),
        ),
    };
    let (warm, cold) = (friction.warm, friction.cold);
    // A curve over temperature goes up and down with the figure: of another pad nobody has one.
    let curve = opened.stands(&format!("{table}.friction_at")).is_some();
    let of = |(label, of_warm, of_cold): (&str, f64, f64)| {
        let mut sets = vec![format!("{key}={of_warm:.2}")];
        let mut said = format!("{label}, {of_warm:.2}");
        if !curve {
            sets.push(format!("{table}.cold_friction={of_cold:.2}"));
            said.push_str(&format!(", cold {of_cold:.2}"));
        }
        Alternative {
            label: said,
            series: None,
            is_now: (of_warm - warm).abs() < 1e-6 && (curve || (of_cold - cold).abs() < 1e-6),
            sets,
            size_si: None,
        }
    };
    Exchangeable {
        name,
        key,
        now: format!("{}, cold {}", wording::ratio(warm), wording::ratio(cold)),
        was: was(opened, key),
        choices: PADS.into_iter().map(of).collect(),
    }
}

fn place(opened: &Opened, valve: &BiasValve) -> Option<Exchangeable> {
    const KEY: &str = "bias_valve.place";
    let lever = opened.car().lever.as_ref()?;
    if !matches!(lever.kind, LeverKind::Inline(_)) {
        return None;
    }
    let of = |place: ValvePlace, label: &str, word: &str| Alternative {
        label: label.to_owned(),
        series: None,
        sets: vec![format!("{KEY}={word}")],
        is_now: valve.place == place,
        size_si: None,
    };
    let choices = vec![
        of(ValvePlace::BeforeLever, "before the lever", "before-lever"),
        of(ValvePlace::AfterLever, "behind the lever", "after-lever"),
    ];
    Some(chosen(opened, "bias valve", KEY, choices))
}

/// A part of which one choice is the one that there is.
fn chosen(opened: &Opened, name: &'static str, key: &'static str, choices: Vec<Alternative>) -> Exchangeable {
    let now = choices.iter().find(|choice| choice.is_now);
    Exchangeable {
        name,
        key,
        now: now.map_or_else(|| "as it is".to_owned(), |choice| choice.label.clone()),
        was: was(opened, key),
        choices,
    }
}

fn setting(opened: &Opened, valve: &BiasValve) -> Option<Exchangeable> {
    const KEY: &str = "bias_valve.setting";
    let Knee::Knob { scale, setting, .. } = &valve.knee else {
        return None;
    };
    let (first, last, step, unit) = match scale {
        KnobScale::Turns(most) => (0.0, most.turns(), 0.5, " turns"),
        KnobScale::Positions(most) => (1.0, f64::from(*most), 1.0, ""),
    };
    // The sheet takes `1 turns`; nobody says it.
    let said = |at: f64| match (unit, wording::entered(at)) {
        (" turns", one) if one == "1" => "1 turn".to_owned(),
        (unit, at) => format!("{at}{unit}"),
    };
    let choice = |at: f64| Alternative {
        label: said(at),
        series: None,
        sets: vec![format!("{KEY}={}{unit}", wording::entered(at))],
        is_now: (at - setting).abs() < 5e-3,
        size_si: Some(at),
    };
    let mut at = first;
    let mut choices = Vec::new();
    while at <= last + 1e-9 {
        choices.push(choice(at));
        at += step;
    }
    if !choices.iter().any(|choice| choice.is_now) {
        choices.push(choice(*setting));
        in_order(&mut choices);
    }
    Some(Exchangeable {
        name: VALVE_SETTING,
        key: KEY,
        now: said(*setting),
        was: was(opened, KEY),
        choices,
    })
}

fn centre(opened: &Opened) -> Option<Exchangeable> {
    let drivetrain = &opened.car().drivetrain;
    if drivetrain.driven != Driven::All || drivetrain.centre == Centre::None {
        return None;
    }
    let kinds = [("let go", "open"), ("locked", "locked")];
    Some(of_kind(opened, "centre", "drivetrain.centre.kind", &kinds))
}

fn rear_differential(opened: &Opened) -> Option<Exchangeable> {
    if opened.car().drivetrain.driven == Driven::Front {
        return None;
    }
    let kinds = [("open", "open"), ("locked", "locked")];
    Some(of_kind(
        opened,
        "rear differential",
        "drivetrain.rear_diff.kind",
        &kinds,
    ))
}

/// A part that is one of a few kinds: what each is called, and its word on the sheet.
fn of_kind(opened: &Opened, name: &'static str, key: &'static str, kinds: &[(&str, &str)]) -> Exchangeable {
    let now = opened.says(key);
    let of = |(label, word): &(&str, &str)| Alternative {
        label: (*label).to_owned(),
        series: None,
        sets: vec![format!("{key}={word}")],
        is_now: now.as_deref() == Some(*word),
        size_si: None,
    };
    let mut part = chosen(opened, name, key, kinds.iter().map(of).collect());
    if part.now == "as it is" {
        part.now = now.unwrap_or(part.now);
    }
    part
}

/// The lever's own line and calipers, or the rear line: with what has to be said of the second calipers, like the first.
fn layout(opened: &Opened) -> Option<Exchangeable> {
    const KEY: &str = "lever.kind";
    let car = opened.car();
    let lever = car.lever.as_ref()?;
    let (other, _) = other_layout(car)?;
    let is_separate = matches!(lever.kind, LeverKind::Separate(..));
    let words = |separate: bool| {
        if separate {
            "calipers of its own"
        } else {
            "in the rear line"
        }
    };
    let mut sets = vec![format!("{KEY}={other}")];
    if other == "separate" && car.lever_brake.is_none() {
        sets.extend(second_calipers(opened, car));
    }
    // With what the sheet lacks it may make no car: then it is not offered.
    if opened.fitted(&sets).is_err() {
        return None;
    }
    let of = |separate: bool, sets: Vec<String>| Alternative {
        label: words(separate).to_owned(),
        series: None,
        sets,
        is_now: separate == is_separate,
        size_si: None,
    };
    let now = of(
        is_separate,
        vec![format!(
            "{KEY}={}",
            if is_separate { "separate" } else { "inline" }
        )],
    );
    Some(chosen(opened, "layout", KEY, vec![now, of(!is_separate, sets)]))
}

/// The rear calipers once more, as the sheet writes them.
fn second_calipers(opened: &Opened, car: &Car) -> Vec<String> {
    const KEYS: [&str; 10] = [
        "kind",
        "caliper.layout",
        "caliper.pistons",
        "effective_radius",
        "pad_edges",
        "pad.friction",
        "pad.cold_friction",
        "pad.friction_at",
        "volume.clearance",
        "volume.flex",
    ];
    if !matches!(car.rear_brake, Brake::Disc(_)) {
        return Vec::new();
    }
    KEYS.iter()
        .filter_map(|key| {
            let value = opened.stands(&format!("rear_brake.{key}"))?;
            Some(format!("lever_brake.{key}={}", value.trim_matches('"')))
        })
        .collect()
}
