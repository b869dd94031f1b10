//! Draws over tolerances: the same whatever the number of threads, distributed as written, cut off where figures end.

use engine::balance::Balance;
use engine::brake::Warmth;
use engine::car::{Car, KeyId, Slot};
use engine::hydraulics::Hydraulics;
use engine::loads::{Aboard, Laden};
use engine::ranges::{MOST_DRAWS, Sampling, Study, draw, study};
use engine::spread::drawn_si;
use proptest::prelude::*;
use quantity::{Amount, Dimension, Spread, parse};
use statrs::distribution::{ContinuousCDF, Normal};

use crate::bench::{SPEED, written_inputs};

fn amount(text: &str, dimension: Dimension) -> Amount {
    parse(text, dimension).unwrap()
}

/// The front's lead at first lock and the deceleration with it.
fn question(car: &Car) -> Option<[f64; 2]> {
    let laden = Laden::of(car, Aboard::default());
    let balance = Balance::of(car, Hydraulics::of(car, Warmth::Warm), laden, SPEED);
    balance.lock(0.6).at.map(|at| [at.front_first_by, at.rate])
}

fn on_threads(threads: usize, name: &str, sampling: Sampling) -> Study<Option<[f64; 2]>> {
    let (_, inputs) = written_inputs()
        .into_iter()
        .find(|(known, _)| known.contains(name))
        .unwrap();
    let toleranced = Car::assemble(&inputs).unwrap().toleranced;
    let pool = rayon::ThreadPoolBuilder::new()
        .num_threads(threads)
        .build()
        .unwrap();
    pool.install(|| study(&inputs, &toleranced, sampling, question))
}

#[test]
fn the_same_seed_draws_the_same_whatever_the_number_of_threads() {
    for name in ["half-known", "tarn/", "hazel"] {
        let sampling = Sampling { draws: 96, seed: 7 };
        let one = on_threads(1, name, sampling);
        assert!(
            one.answers.len() + one.impossible as usize == 96 && one.answers.len() > 60,
            "{name}"
        );
        assert_eq!(one, on_threads(2, name, sampling), "{name}");
        assert_eq!(one, on_threads(2, name, sampling), "{name}, again");
        assert_ne!(
            one,
            on_threads(2, name, Sampling { seed: 8, ..sampling }),
            "{name}, another seed"
        );
    }
}

/// More draws begin as fewer do: a range grows finer, not different.
#[test]
fn more_draws_begin_alike() {
    let few = on_threads(2, "half-known", Sampling { draws: 32, seed: 3 });
    let many = on_threads(2, "half-known", Sampling { draws: 64, seed: 3 });
    assert_eq!(few.impossible, 0, "the comparison below counts on it");
    assert_eq!(few.answers[..], many.answers[..32]);
    assert_eq!(
        on_threads(1, "half-known", Sampling { draws: 0, seed: 3 })
            .answers
            .len(),
        0
    );
}

/// A car's own figures lie inside the range of what was drawn about them, and the range is that of the middle 90 %.
#[test]
fn the_range_holds_the_figure_and_nine_tenths_of_the_draws() {
    let (_, inputs) = written_inputs()
        .into_iter()
        .find(|(name, _)| name.contains("half-known"))
        .unwrap();
    let assembled = Car::assemble(&inputs).unwrap();
    let found = on_threads(2, "half-known", Sampling { draws: 400, seed: 1 });
    let [nominal, _] = question(&assembled.car).unwrap();
    let range = found.range(|answer| answer.map(|[lead, _]| lead)).unwrap();
    assert!(
        range.low < nominal && nominal < range.high,
        "{nominal} outside {range:?}"
    );
    let inside = found
        .chance(|answer| answer.is_some_and(|[lead, _]| (range.low..=range.high).contains(&lead)))
        .unwrap();
    let with_a_figure = found.chance(Option::is_some).unwrap();
    // 5 % at each end of those that have the figure; the ends themselves count as inside.
    assert!(
        (inside - 0.90 * with_a_figure).abs() < 0.012,
        "{inside} of {with_a_figure}"
    );
}

/// Against the inverse of the normal distribution as statrs has it, where no range cuts anything off.
#[test]
fn quantiles_are_those_of_the_normal_distribution() {
    let pad = amount("0.42 ± 0.04", Dimension::Ratio);
    // 95 % lie within the half-width: 1.959964 standard deviations (any table of the normal distribution).
    let normal = Normal::new(0.42, 0.04 / 1.959_963_984_540_054).unwrap();
    for thousandth in 1..1000 {
        let share = f64::from(thousandth) / 1000.0;
        let (ours, theirs) = (drawn_si(&pad, share, None), normal.inverse_cdf(share));
        assert!((ours - theirs).abs() < 1e-12, "{share}: {ours} {theirs}");
    }
    for (share, drawn) in [(0.025, 0.38), (0.5, 0.42), (0.975, 0.46)] {
        assert!((drawn_si(&pad, share, None) - drawn).abs() < 1e-12, "{share}");
    }
}

/// A normal distribution cut off at both ends: the quantile at a share is the plain one at the share between what lies
/// below the lower end and below the upper.
#[test]
fn quantiles_are_cut_off_at_the_hard_range() {
    let wide = amount("0.30 ± 0.40", Dimension::Ratio);
    let normal = Normal::new(0.30, 0.40 / 1.959_963_984_540_054).unwrap();
    let (low, high) = (0.05, 1.0);
    let (below, above) = (normal.cdf(low), normal.cdf(high));
    for thousandth in 0..=1000 {
        let share = f64::from(thousandth) / 1000.0;
        let ours = drawn_si(&wide, share, Some((low, high)));
        let theirs = normal
            .inverse_cdf(below + (above - below) * share)
            .clamp(low, high);
        assert!((ours - theirs).abs() < 1e-9, "{share}: {ours} {theirs}");
        assert!((low..=high).contains(&ours), "{share}");
    }
    let between = amount("between 0.38 and 0.46", Dimension::Ratio);
    for (share, drawn) in [(0.0, 0.38), (0.25, 0.40), (0.5, 0.42), (1.0, 0.46)] {
        assert!((drawn_si(&between, share, None) - drawn).abs() < 1e-15, "{share}");
    }
    assert!(
        (drawn_si(&between, 0.5, Some((0.05, 0.42))) - 0.40).abs() < 1e-15,
        "cut off, then even"
    );
}

/// One number a key: shares fill every dimension evenly, and two keys do not go together.
#[test]
fn shares_fill_the_space_evenly() {
    let slots: Vec<Slot> = KeyId::all().take(8).map(|key| Slot { key, entry: 0 }).collect();
    let sampling = Sampling { draws: 512, seed: 1 };
    let exact = Amount {
        spread: Spread::Uniform {
            low_si: 0.0,
            high_si: 1.0,
        },
        ..Amount::exact(Dimension::Ratio, 0.5)
    };
    let shares: Vec<Vec<f64>> = (0..sampling.draws)
        .map(|number| {
            let draw = draw(&slots, sampling, number);
            slots
                .iter()
                .map(|&slot| drawn_si(&exact, draw.share(slot).unwrap(), None))
                .collect()
        })
        .collect();
    for dimension in 0..slots.len() {
        // 512 points of such a sequence lie one in each 512th.
        let mut cells: Vec<usize> = shares
            .iter()
            .map(|share| (share[dimension] * 512.0) as usize)
            .collect();
        cells.sort_unstable();
        cells.dedup();
        assert_eq!(cells.len(), 512, "dimension {dimension}");
        for other in 0..dimension {
            let covariance: f64 = shares
                .iter()
                .map(|share| (share[dimension] - 0.5) * (share[other] - 0.5))
                .sum::<f64>()
                / 512.0;
            assert!(
                (covariance * 12.0).abs() < 0.05,
                "{dimension} and {other}: {}",
                covariance * 12.0
            );
        }
    }
    assert_eq!(MOST_DRAWS, 65_536);
}

proptest! {
    #![proptest_config(crate::bench::cases())]

    #[test]
    fn a_higher_share_never_draws_less(middle in -3.0..3.0, half in 0.001..2.0, share in 0.0..1.0, more in 0.0..1.0, low in -4.0..0.0) {
        let amount = Amount { spread: Spread::Normal { half_width_si: half }, ..Amount::exact(Dimension::Ratio, middle) };
        let hard = Some((low, low + 5.0));
        let (share, more) = if share <= more { (share, more) } else { (more, share) };
        let (one, other) = (drawn_si(&amount, share, hard), drawn_si(&amount, more, hard));
        prop_assert!(one <= other, "{one} {other}");
        prop_assert!((low..=low + 5.0).contains(&one) && one.is_finite());
    }
}
