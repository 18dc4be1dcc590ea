//! Propagation against the worked examples of the guides.

use super::*;

const DRAWS: usize = 100_000;

fn chance(draws: usize, seed: u64) -> Chance {
    Chance { draws, seed, key: [3; 32] }
}

fn normal(value: f64, standard_uncertainty: f64) -> Input {
    Input { value, standard_uncertainty, spread: Spread::Normal }
}

/// Resistance, reactance and impedance of an element, from voltage, current and phase.
fn element(x: &[f64]) -> Result<Vec<f64>, ()> {
    let (voltage, current, phase) = (x[0], x[1], x[2]);
    Ok(vec![voltage / current * phase.cos(), voltage / current * phase.sin(), voltage / current])
}

/// The measurements of JCGM 100 (GUM), table H.2: five sets of voltage in V, current in mA and phase in rad.
fn measured() -> (Vec<Input>, Correlations) {
    let sets = [
        [5.007, 4.994, 5.005, 4.990, 4.999],
        [19.663e-3, 19.639e-3, 19.640e-3, 19.685e-3, 19.678e-3],
        [1.0456, 1.0438, 1.0468, 1.0428, 1.0433],
    ];
    let mean = |x: &[f64; 5]| x.iter().sum::<f64>() / 5.0;
    let covariance = |x: &[f64; 5], y: &[f64; 5]| {
        x.iter().zip(y).map(|(a, b)| (a - mean(x)) * (b - mean(y))).sum::<f64>() / 20.0
    };
    let u = |x: &[f64; 5]| covariance(x, x).sqrt();
    let r = |a: usize, b: usize| (a, b, covariance(&sets[a], &sets[b]) / (u(&sets[a]) * u(&sets[b])));
    let inputs = sets.iter().map(|set| normal(mean(set), u(set))).collect();
    (inputs, Correlations::of(3, &[r(0, 1), r(0, 2), r(1, 2)]).unwrap())
}

/// JCGM 100, H.2, tables H.2 and H.3: the published inputs, results, standard uncertainties and correlations of the
/// results, each to half of its last figure; the uncertainties of the results to one unit of it, since the guide
/// reckons them from rounded figures.
#[test]
fn correlated_inputs_as_in_the_guide() {
    let (inputs, correlations) = measured();
    for (input, (value, u, digit)) in
        inputs.iter().zip([(4.9990, 0.0032, 5e-5), (19.6610e-3, 0.0095e-3, 5e-8), (1.044_46, 0.000_75, 5e-6)])
    {
        assert!((input.value - value).abs() < digit && (input.standard_uncertainty - u).abs() < digit);
    }
    for (a, b, r) in [(0, 1, -0.36), (0, 2, 0.86), (1, 2, -0.65)] {
        assert!((correlations.coefficient(a, b) - r).abs() < 0.0051, "{a} {b}");
    }
    let estimates: Vec<f64> = inputs.iter().map(|input| input.value).collect();
    let base = element(&estimates).unwrap();
    let linear = Linear::of(&inputs, &correlations, &base, element).unwrap();
    let published = [(127.732, 0.071), (219.847, 0.295), (254.260, 0.236)];
    for (output, (value, u)) in published.into_iter().enumerate() {
        assert!((base[output] - value).abs() < 5.1e-4, "{output}: {}", base[output]);
        let got = linear.standard_uncertainty(output).unwrap();
        assert!((got - u).abs() < 1e-3, "{output}: {got}");
    }
    for (a, b, r) in [(0, 1, -0.588), (0, 2, -0.485), (1, 2, 0.993)] {
        let u = |at| linear.standard_uncertainty(at).unwrap();
        let got = linear.covariance(a, b).unwrap() / (u(a) * u(b));
        assert!((got - r).abs() < 5.1e-4, "{a} {b}: {got}");
    }
    // Monte Carlo agrees within 1 % (its own scatter at 10^5 draws is 0.2 %).
    let drawn = MonteCarlo::of(&inputs, &correlations, &chance(DRAWS, 1), 3, element).unwrap();
    for (output, (_, u)) in published.into_iter().enumerate() {
        let got = drawn.standard_uncertainty(output).unwrap();
        assert!((got / u - 1.0).abs() < 0.01, "{output}: {got}");
    }
}

/// JCGM 101, 9.2: the sum of four quantities of expectation 0 and standard deviation 1, normal (9.2.2) or rectangular
/// (9.2.3), has the standard uncertainty 2.0; with one of standard deviation 10 (9.2.4) it is √103.
#[test]
fn the_additive_model_of_the_supplement() {
    let sum = |x: &[f64]| Ok::<_, ()>(vec![x.iter().sum()]);
    let none = Correlations::none(4);
    for spread in [Spread::Normal, Spread::Uniform] {
        for wide in [1.0, 10.0] {
            let input = |standard_uncertainty| Input { value: 0.0, standard_uncertainty, spread };
            let inputs = [input(1.0), input(1.0), input(1.0), input(wide)];
            let expected = (3.0 + wide * wide).sqrt();
            let linear = Linear::of(&inputs, &none, &[0.0], sum).unwrap();
            assert!((linear.standard_uncertainty(0).unwrap() / expected - 1.0).abs() < 1e-9);
            let drawn = MonteCarlo::of(&inputs, &none, &chance(DRAWS, 1), 1, sum).unwrap();
            let got = drawn.standard_uncertainty(0).unwrap();
            assert!((got / expected - 1.0).abs() < 0.01, "{spread:?} {wide}: {got}");
            assert!(drawn.mean(0).unwrap().abs() < 5.0 * expected / 316.0);
            assert_eq!((drawn.solved, drawn.unsolved, drawn.cut), (DRAWS, 0, 0));
        }
    }
}

/// A rectangular input never leaves its limits, here 0 and 1 (JCGM 100, 4.3.7: half-width a, u = a/√3).
#[test]
fn a_rectangular_input_keeps_within_its_limits() {
    let input = Input { value: 0.5, standard_uncertainty: 0.5 / 3.0_f64.sqrt(), spread: Spread::Uniform };
    let (mut least, mut most) = (1.0_f64, 0.0_f64);
    let look = |x: &[f64]| {
        (least, most) = (least.min(x[0]), most.max(x[0]));
        Ok::<_, ()>(vec![x[0]])
    };
    let drawn = MonteCarlo::of(&[input], &Correlations::none(1), &chance(10_000, 1), 1, look).unwrap();
    assert!((0.0..1e-3).contains(&least) && (0.999..=1.0).contains(&most), "{least} {most}");
    assert!((drawn.standard_uncertainty(0).unwrap() / input.standard_uncertainty - 1.0).abs() < 0.01);
}

/// JCGM 101, 9.3 speaks of such a case: near a stationary point the linear law sees nothing (u = 0), while the square
/// of a standard normal has the standard deviation √2.
#[test]
fn where_the_two_ways_differ() {
    let square = |x: &[f64]| Ok::<_, ()>(vec![x[0] * x[0]]);
    let (input, none) = ([normal(0.0, 1.0)], Correlations::none(1));
    let linear = Linear::of(&input, &none, &[0.0], square).unwrap();
    assert!(linear.standard_uncertainty(0).unwrap() < 1e-12);
    assert_eq!(linear.shares(0), None);
    let drawn = MonteCarlo::of(&input, &none, &chance(DRAWS, 1), 1, square).unwrap();
    assert!((drawn.standard_uncertainty(0).unwrap() / 2.0_f64.sqrt() - 1.0).abs() < 0.02);
}

/// Identities: shares add up to 1, without correlation each is (c u)² over the variance; an input that moves as one
/// with another and against it takes its part away.
#[test]
fn shares_add_up() {
    let inputs = [normal(1.0, 0.3), normal(2.0, 0.4)];
    let sum = |x: &[f64]| Ok::<_, ()>(vec![x[0] + x[1], x[0] - x[1]]);
    let base = [3.0, -1.0];
    let free = Linear::of(&inputs, &Correlations::none(2), &base, sum).unwrap();
    let shares = free.shares(0).unwrap();
    assert!((shares[0] - 0.36).abs() < 1e-9 && (shares[1] - 0.64).abs() < 1e-9, "{shares:?}");
    let bound = Linear::of(&inputs, &Correlations::of(2, &[(0, 1, 1.0)]).unwrap(), &base, sum).unwrap();
    assert!((bound.standard_uncertainty(0).unwrap() - 0.7).abs() < 1e-9);
    assert!((bound.standard_uncertainty(1).unwrap() - 0.1).abs() < 1e-9);
    let shares = bound.shares(1).unwrap();
    assert!((shares[0] + 3.0).abs() < 1e-7 && (shares[1] - 4.0).abs() < 1e-7, "{shares:?}");
}

/// An amount that cannot be negative: its derivative at zero is one-sided and exact for a square law, and half of its
/// draws are taken as zero. The half-normal distribution has the variance (1 - 1/π)/2.
#[test]
fn an_amount_near_zero() {
    let input = [Input { value: 0.0, standard_uncertainty: 1.0, spread: Spread::NotNegative }];
    let law = |x: &[f64]| if x[0] < 0.0 { Err(()) } else { Ok(vec![3.0 * x[0] + x[0] * x[0], x[0]]) };
    let none = Correlations::none(1);
    let linear = Linear::of(&input, &none, &[0.0, 0.0], law).unwrap();
    assert!((linear.sensitivity(0, 0).unwrap() - 3.0).abs() < 1e-9);
    let drawn = MonteCarlo::of(&input, &none, &chance(DRAWS, 1), 2, law).unwrap();
    assert!((drawn.cut as f64 / DRAWS as f64 - 0.5).abs() < 0.01);
    let expected = (0.5 - 0.5 / core::f64::consts::PI).sqrt();
    assert!((drawn.standard_uncertainty(1).unwrap() / expected - 1.0).abs() < 0.01);
}

/// Draws without a result are counted, and more than one in a hundred are too many; an output that some draws lack has
/// no uncertainty; a function that has no result beside an estimate names the input.
#[test]
fn what_has_no_result_is_told() {
    let input = [normal(0.0, 1.0)];
    let none = Correlations::none(1);
    // beyond 3 lies 0.135 % of a normal distribution, beyond 2 lies 2.3 %
    let until = |limit: f64| {
        move |x: &[f64]| {
            if x[0] > limit {
                Err("beyond")
            } else {
                Ok(vec![x[0], if x[0] > 1.0 { f64::NAN } else { x[0] }])
            }
        }
    };
    let drawn = MonteCarlo::of(&input, &none, &chance(10_000, 1), 2, until(3.0)).unwrap();
    assert!((1..40).contains(&drawn.unsolved) && drawn.solved + drawn.unsolved == 10_000);
    assert!(drawn.standard_uncertainty(0).is_some());
    assert_eq!((drawn.standard_uncertainty(1), drawn.mean(1)), (None, None));
    let refused = MonteCarlo::of(&input, &none, &chance(10_000, 1), 2, until(2.0)).unwrap_err();
    assert!(matches!(refused, PropagationError::Unsolved { failed: 101, tried } if tried < 10_000));
    let cut_off = Linear::of(&input, &none, &[0.0, 0.0], until(0.0)).unwrap_err();
    assert_eq!(cut_off, Unreachable { input: 0, why: "beyond" });
    for draws in [LEAST_DRAWS - 1, MOST_DRAWS + 1] {
        let refused = MonteCarlo::of(&input, &none, &chance(draws, 1), 2, until(3.0)).unwrap_err();
        assert!(matches!(refused, PropagationError::Draws { .. }));
    }
}

/// Promise: the same key and seed give the same bits; another seed gives other draws and nearly the same result.
#[test]
fn the_same_chance_gives_the_same_bits() {
    let (inputs, correlations) = measured();
    let of = |seed| MonteCarlo::of(&inputs, &correlations, &chance(1000, seed), 3, element).unwrap();
    assert_eq!(of(1), of(1));
    let (one, two) = (of(1).standard_uncertainty(0).unwrap(), of(2).standard_uncertainty(0).unwrap());
    // 1000 draws scatter by 2.2 %: five times that
    assert!(one != two && (one / two - 1.0).abs() < 0.16);
}
