//! Cars: the demonstration cars, and any car that a sheet can describe, as far as its plumbing goes.

use engine::car::{
    BiasValve, Cable, Car, LeverKind, Line, Master, Outlets, Pipe, Place, Route, Split, ValvePlace,
};
use engine::lever::other_layout;
use plumbing::LISTED;
use proptest::prelude::*;
use quantity::si::Length;

/// The demonstration cars, by folder.
pub(crate) const DEMO: [&str; 6] = ["bin", "half-known", "scree", "sedge", "tarn", "tarn-let-go"];

/// A demonstration car.
pub(crate) fn demo(name: &str) -> Car {
    let path = path(name);
    assembled(&std::fs::read(&path).unwrap(), &path)
}

/// A demonstration car with one line of its sheet written otherwise; an empty value leaves the key out.
pub(crate) fn demo_with(name: &str, line: &str, value: &str, key: &str) -> Car {
    let path = path(name);
    let sheet = std::fs::read_to_string(&path).unwrap();
    assert!(sheet.contains(line), "{line}");
    let written = if value.is_empty() {
        String::new()
    } else {
        format!("{key}{value}")
    };
    assembled(sheet.replace(line, &written).as_bytes(), &path)
}

fn path(name: &str) -> String {
    format!("{}/../../demo/{name}/car.toml", env!("CARGO_MANIFEST_DIR"))
}

fn assembled(bytes: &[u8], path: &str) -> Car {
    match sheet::assemble(bytes, path) {
        Ok((assembled, _)) => assembled.car,
        Err(problems) => panic!("{problems}"),
    }
}

pub(crate) fn set_outlets(car: &mut Car, to: Outlets) {
    if let Some(lever) = &mut car.lever
        && let LeverKind::Inline(cylinder) | LeverKind::Separate(cylinder, _) = &mut lever.kind
    {
        cylinder.outlets = to;
    }
}

pub(crate) fn set_split(car: &mut Car, to: Split) {
    if let Master::Tandem { split, .. } = &mut car.master {
        *split = to;
    }
}

/// A route that somebody measured.
pub(crate) const fn taped_m(length_m: f64) -> Route {
    Route {
        length: Length::from_m(length_m),
        taped: true,
    }
}

fn pipe() -> impl Strategy<Value = Pipe> {
    prop::sample::select(vec![
        Pipe::Steel316,
        Pipe::CopperNickel316,
        Pipe::Steel14,
        Pipe::CopperNickel14,
        Pipe::Braided3,
        Pipe::Rubber,
    ])
}

fn line() -> impl Strategy<Value = Line> {
    let hose = prop::sample::select(vec![Pipe::Braided3, Pipe::Rubber]);
    (pipe(), 0.0..1.2_f64, hose).prop_map(|(pipe, last_m, flexible)| Line {
        pipe,
        flexible_last: taped_m(if last_m < 0.1 { 0.0 } else { last_m }),
        flexible,
    })
}

fn port() -> impl Strategy<Value = Option<std::sync::Arc<str>>> {
    prop::option::weighted(0.9, prop::sample::select(LISTED.to_vec()))
        .prop_map(|port| port.map(|port| port.to_string().into()))
}

/// Any arrangement of lever, split, valve, lines and ports.
pub(crate) fn any_car() -> impl Strategy<Value = Car> {
    let arrangement = (0..5_usize, 0..3_usize, any::<bool>(), 0..3_usize);
    let lines = (line(), line(), line());
    let ports = (port(), port(), port(), port(), port());
    let routes = prop::array::uniform11(0.0..4.0_f64);
    let places = (any::<bool>(), any::<bool>(), prop::option::of(0..20_u32));
    (arrangement, lines, ports, routes, places).prop_map(|(arrangement, lines, ports, routes, places)| {
        let (kind, outlets, diagonal, valve) = arrangement;
        let mut car = demo("tarn");
        match kind {
            0 => car.lever = None,
            1 => {
                car.lever.as_mut().unwrap().kind = LeverKind::Cable(Cable {
                    ratio: 20.0,
                    efficiency: 0.6,
                });
            }
            2 => car = other_layout(&car).unwrap().1,
            _ => {}
        }
        set_outlets(
            &mut car,
            [Outlets::One, Outlets::Tandem, Outlets::SideBySide][outlets],
        );
        if diagonal {
            set_split(&mut car, Split::Diagonal);
        }
        match (&mut car.bias_valve, valve) {
            (valve, 0) => *valve = None,
            (Some(BiasValve { place, .. }), 1) => *place = ValvePlace::AfterLever,
            _ => {}
        }
        (car.front_line, car.rear_line, car.lever_line) = lines;
        let written = &mut car.ports;
        (
            written.master,
            written.bias_valve,
            written.lever,
            written.caliper,
            written.tee,
        ) = ports;
        let at = |index: usize| Route {
            taped: routes[index] < 3.6,
            ..taped_m(if routes[index] < 0.05 { 0.0 } else { routes[index] })
        };
        let all = &mut car.routes;
        for (index, route) in [
            &mut all.master_to_bulkhead,
            &mut all.bulkhead_to_lever,
            &mut all.lever_to_rear_tee,
            &mut all.bulkhead_to_rear_tee,
            &mut all.tee_to_rear_left,
            &mut all.tee_to_rear_right,
            &mut all.master_to_front_left,
            &mut all.master_to_front_right,
            &mut all.lever_to_lever_tee,
            &mut all.lever_tee_to_left,
            &mut all.lever_tee_to_right,
        ]
        .into_iter()
        .enumerate()
        {
            *route = at(index);
        }
        car.places.rear_run = if places.0 { Place::Cabin } else { Place::Outside };
        car.places.rear_guard = places.1;
        car.places.rear_clips = places.2;
        car
    })
}
