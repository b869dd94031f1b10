//! Sensitivities against functions whose indices are known in closed form, each with a bound that it can miss.

use std::f64::consts::PI;

use engine::sensitivity::{Design, Indices, Point, alone, indices};
use statrs::distribution::{ContinuousCDF, Normal};

fn design(base: u32) -> Design {
    Design { base, seed: 1 }
}

fn of_one(inputs: usize, design: Design, function: impl Fn(&Point) -> f64 + Sync) -> Indices {
    let rows = |points: &[Point]| points.iter().map(|point| [function(point)]).collect();
    let [found] = indices(inputs, design, rows, &|_| ());
    found
}

/// The worst of |found − known| over first-order and total-order indices.
fn off(found: &Indices, alone: &[f64], total: &[f64]) -> (f64, f64) {
    assert_eq!(found.of.len(), alone.len());
    let worst = |pairs: Vec<(f64, f64)>| {
        pairs
            .into_iter()
            .map(|(one, other)| (one - other).abs())
            .fold(0.0, f64::max)
    };
    (
        worst(
            found
                .of
                .iter()
                .zip(alone)
                .map(|(index, &known)| (index.alone, known))
                .collect(),
        ),
        worst(
            found
                .of
                .iter()
                .zip(total)
                .map(|(index, &known)| (index.total, known))
                .collect(),
        ),
    )
}

/// A sum of independent inputs: variance is the sum of cᵢ²σᵢ², and each has its share of it, alone and in all.
#[test]
fn a_sum_has_the_shares_of_its_variances() {
    let normal = Normal::new(0.0, 1.0).unwrap();
    let weights = [4.0, 3.0, 2.0, 1.0, 0.5, 0.0];
    let all: f64 = weights.iter().map(|weight| weight * weight).sum();
    let known: Vec<f64> = weights.iter().map(|weight| weight * weight / all).collect();
    let sum = |point: &Point| -> f64 {
        1e5 + weights
            .iter()
            .zip(point)
            .map(|(weight, &share)| weight * normal.inverse_cdf(share))
            .sum::<f64>()
    };
    let found = of_one(weights.len(), design(1024), sum);
    let (alone, total) = off(&found, &known, &known);
    assert!(total < 0.008 && alone < 0.015, "{alone} {total} {found:?}");
    assert!((found.variance / all - 1.0).abs() < 0.01, "{}", found.variance);
    assert!(found.of[5].total == 0.0, "what does nothing has nothing, exactly");
}

/// Ishigami and Homma, An importance quantification technique in uncertainty analysis for computer models, ISUMA 1990;
/// its indices as in Saltelli and others, Global Sensitivity Analysis. The Primer, Wiley 2008 (the closed form from
/// memory, and worked through again): `sin x₁ + 7 sin² x₂ + 0.1 x₃⁴ sin x₁`. The third does nothing alone.
#[test]
fn the_function_of_ishigami_and_homma() {
    let (a, b) = (7.0_f64, 0.1_f64);
    let function = |point: &Point| {
        let x: Vec<f64> = point.iter().map(|share| PI * (2.0 * share - 1.0)).collect();
        x[0].sin() + a * x[1].sin().powi(2) + b * x[2].powi(4) * x[0].sin()
    };
    let variance = a * a / 8.0 + b * PI.powi(4) / 5.0 + b * b * PI.powi(8) / 18.0 + 0.5;
    let first = 0.5 * (1.0 + b * PI.powi(4) / 5.0).powi(2) / variance;
    let second = a * a / 8.0 / variance;
    let both = 8.0 * b * b * PI.powi(8) / 225.0 / variance;
    // The figures that are printed everywhere: 0.3139, 0.4424, 0.2437; 0.5576.
    assert!((first - 0.3139).abs() < 5e-5 && (second - 0.4424).abs() < 5e-5 && (both - 0.2437).abs() < 5e-5);
    for seed in 1..=4 {
        let found = of_one(3, Design { base: 1024, seed }, function);
        let (alone, total) = off(&found, &[first, second, 0.0], &[first + both, second, both]);
        assert!(total < 0.02 && alone < 0.035, "{seed}: {alone} {total} {found:?}");
        assert!((found.variance / variance - 1.0).abs() < 0.02);
    }
}

/// Sobol's g function, `Π (|4xᵢ − 2| + aᵢ)/(1 + aᵢ)`, with the a of Saltelli and Sobol, About the use of rank
/// transformation in sensitivity analysis, Reliability Engineering and System Safety 50 (1995) 225–239 (a = 0, 1, 4.5, 9 and
/// 99; from memory). `Vᵢ = 1/(3(1 + aᵢ)²)`, V = Π(1 + Vᵢ) − 1, `S_Ti = Vᵢ Π(1 + Vⱼ)/V` over the others.
#[test]
fn the_g_function_of_sobol() {
    let a = [0.0, 1.0, 4.5, 9.0, 99.0, 99.0, 99.0, 99.0];
    let function = |point: &Point| -> f64 {
        a.iter()
            .zip(point)
            .map(|(a, share)| ((4.0 * share - 2.0).abs() + a) / (1.0 + a))
            .product()
    };
    let parts = a.map(|a: f64| 1.0 / (3.0 * (1.0 + a).powi(2)));
    let all: f64 = parts.iter().map(|part| 1.0 + part).product();
    let variance = all - 1.0;
    let alone_known: Vec<f64> = parts.iter().map(|part| part / variance).collect();
    let total_known: Vec<f64> = parts
        .iter()
        .map(|part| part * all / (1.0 + part) / variance)
        .collect();
    assert!((alone_known[0] - 0.716).abs() < 5e-4 && (total_known[0] - 0.787).abs() < 5e-4);
    for seed in 1..=4 {
        let found = of_one(a.len(), Design { base: 1024, seed }, function);
        let (alone, total) = off(&found, &alone_known, &total_known);
        assert!(total < 0.02 && alone < 0.03, "{seed}: {alone} {total} {found:?}");
        // It errs by less than it says it may.
        for (index, known) in found.of.iter().zip(&total_known) {
            assert!(
                (index.total - known).abs() <= index.unsure + 1e-4,
                "{index:?} {known}"
            );
        }
    }
}

/// A product of two inputs about zero: neither does anything alone, and each does all of it together with the other.
#[test]
fn what_inputs_do_only_together() {
    let product = |point: &Point| (point[0] - 0.5) * (point[1] - 0.5);
    let found = of_one(2, design(1024), product);
    let (alone_off, total) = off(&found, &[0.0, 0.0], &[1.0, 1.0]);
    assert!(alone_off < 0.05 && total < 0.03, "{alone_off} {total}");
    // A rank correlation sees nothing of a figure that falls and rises; the correlation ratio does.
    let shares: Vec<f64> = (0..1024_u32).map(|at| (f64::from(at) + 0.5) / 1024.0).collect();
    let figures: Vec<f64> = shares.iter().map(|share| (share - 0.5).powi(2)).collect();
    assert!(alone(&shares, &figures).unwrap() > 0.98);
}

#[test]
fn what_some_points_do_not_have_is_left_out() {
    // In half of them there is no figure; in the others it is the second input.
    let rows = |points: &[Point]| {
        points
            .iter()
            .map(|point| [if point[0] < 0.5 { point[1] } else { f64::NAN }, 7.0])
            .collect()
    };
    let [found, constant] = indices(2, design(512), rows, &|_| ());
    assert!(
        found.of[0].total == 0.0 && (found.of[1].total - 1.0).abs() < 0.03,
        "{found:?}"
    );
    assert!(constant.variance == 0.0 && constant.of.iter().all(|index| index.total == 0.0));
    let none = |points: &[Point]| vec![[f64::NAN]; points.len()];
    let [none] = indices(2, design(64), none, &|_| ());
    assert!(none.of.is_empty());
    assert_eq!(alone(&[0.5; 31], &[1.0; 31]), None, "too few");
    assert_eq!(alone(&[0.5; 64], &[1.0; 64]), None, "it does not vary");
}

/// By hand: 64 draws in four classes of 16, the figure 0 or 1 by class in turn and nothing within: all of it. Of noise
/// that has nothing to do with the input, on average nothing.
#[test]
fn alone_by_hand() {
    let shares: Vec<f64> = (0..64_u32).map(|at| f64::from(at) / 64.0).collect();
    let steps: Vec<f64> = (0..64_u32).map(|at| f64::from(at / 16 % 2)).collect();
    assert!((alone(&shares, &steps).unwrap() - 1.0).abs() < 1e-12);
    // One outlier of 1 among zeros: variance within = 1 − 1/16 over 60, of all = 1 − 1/64 over 63.
    let mut one = vec![0.0; 64];
    one[5] = 1.0;
    let by_hand: f64 = 1.0 - (15.0 / 16.0 / 60.0) / (63.0 / 64.0 / 63.0);
    assert!((alone(&shares, &one).unwrap() - by_hand.max(0.0)).abs() < 1e-12);
}

#[test]
fn the_same_design_gives_the_same_whatever_the_number_of_threads() {
    let product = |point: &Point| point.iter().product::<f64>();
    let on = |threads: usize| {
        let pool = rayon::ThreadPoolBuilder::new()
            .num_threads(threads)
            .build()
            .unwrap();
        pool.install(|| of_one(5, design(64), product))
    };
    assert_eq!(on(1), on(2));
}
