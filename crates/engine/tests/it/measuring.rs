//! From a reading to its figure, against figures worked by hand.

use engine::measuring::{
    AxleRaised, cable_efficiency, front_share, grip_of_stop, lever_ratio, rolling_radius,
};
use quantity::si::{Force, Length, Mass, Pressure, Speed};

fn m(value: f64) -> Length {
    Length::from_m(value)
}

fn close(found: Option<f64>, by_hand: f64) {
    let found = found.unwrap();
    assert!((found / by_hand - 1.0).abs() < 1e-6, "{found}, by hand {by_hand}");
}

fn raised() -> AxleRaised {
    AxleRaised {
        front: Mass::from_kg(560.0),
        rear: Mass::from_kg(440.0),
        gain: Mass::from_kg(30.0),
        by: m(0.7),
        wheelbase: m(2.5),
        front_radius: m(0.29),
        rear_radius: m(0.31),
    }
}

/// √(2.5² − 0.7²) = 2.4; a = 2.5 · 0.44 = 1.1, b = 1.4; R = (0.29 · 1.4 + 0.31 · 1.1)/2.5 = 0.2988;
/// 30 · 2.5 · 2.4/(1000 · 0.7) = 0.257143.
#[test]
fn the_height_of_the_centre_of_gravity() {
    close(raised().cg_height().map(Length::m), 0.555_942_9);
    let flat = AxleRaised {
        by: m(0.0),
        ..raised()
    };
    assert_eq!(flat.cg_height(), None);
    let over = AxleRaised {
        by: m(2.5),
        ..raised()
    };
    assert_eq!(over.cg_height(), None);
    let unweighed = AxleRaised {
        rear: Mass::from_kg(0.0),
        ..raised()
    };
    assert_eq!(unweighed.cg_height(), None);
}

/// A bar on two wheels, tilted, with its weight at a known height: the scale's reading follows from statics alone, and the
/// height comes back.
#[test]
fn the_height_comes_back_from_the_moments_of_a_tilted_car() {
    let (wheelbase, aft, height, radius, weight) = (2.6_f64, 1.15_f64, 0.52_f64, 0.3_f64, 1100.0_f64);
    for lift in [0.3_f64, 0.6, 0.85] {
        let tilt = (lift / wheelbase).asin();
        // Rear hubs raised: the centre of gravity, seen from the front hub, is turned by the tilt towards the front.
        let behind_the_front_hub = aft * tilt.cos() - (height - radius) * tilt.sin();
        let on_front = weight * (1.0 - behind_the_front_hub / (wheelbase * tilt.cos()));
        let level = weight * (1.0 - aft / wheelbase);
        let read = AxleRaised {
            front: Mass::from_kg(level),
            rear: Mass::from_kg(weight - level),
            gain: Mass::from_kg(on_front - level),
            by: m(lift),
            wheelbase: m(wheelbase),
            front_radius: m(radius),
            rear_radius: m(radius),
        };
        close(read.cg_height().map(Length::m), height);
    }
}

#[test]
fn two_lengths_give_a_ratio() {
    close(lever_ratio(m(0.279), m(0.062)), 4.5);
    assert_eq!(lever_ratio(m(0.279), m(0.0)), None);
}

/// 3.8956/(2 · 6.283185) = 0.31001.
#[test]
fn turns_along_the_floor_give_a_radius() {
    close(rolling_radius(m(3.8956), 2.0).map(Length::m), 0.310_002);
    assert_eq!(rolling_radius(m(3.9), 0.0), None);
}

/// 40 km/h is 11.1111 m/s: 123.457/(19.62 · 9) = 0.699155.
#[test]
fn a_stop_gives_a_grip() {
    close(grip_of_stop(Speed::from_m_s(40.0 / 3.6), m(9.0)), 0.699_155_0);
    assert_eq!(grip_of_stop(Speed::from_m_s(11.0), m(0.0)), None);
}

/// 40 · 20² = 16000 and 50 · 16² = 12800: 16000/28800 = 5/9.
#[test]
fn two_gauges_give_the_share_of_a_bar() {
    let share = front_share(
        Pressure::from_pa(40e5),
        m(0.02),
        Pressure::from_pa(50e5),
        m(0.016),
    );
    close(share, 5.0 / 9.0);
    assert_eq!(
        front_share(Pressure::from_pa(0.0), m(0.02), Pressure::from_pa(5e6), m(0.016)),
        None
    );
}

/// 3000/200 = 15 of 25.
#[test]
fn two_scales_give_the_loss_of_a_cable() {
    close(
        cable_efficiency(Force::from_n(200.0), Force::from_n(3000.0), 25.0),
        0.6,
    );
    assert_eq!(
        cable_efficiency(Force::from_n(200.0), Force::from_n(3000.0), 0.0),
        None
    );
}
