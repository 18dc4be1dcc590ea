//! Checks of the solver: identities over pairs, order, starts and hostile rows.

use super::lanes::Lanes;
use super::*;
use crate::matter::component::Component;
use proptest::prelude::*;
use std::sync::Arc;

fn c(id: &str) -> Component {
    Component::read(id).unwrap()
}

fn solve(t: f64, given: &Given) -> Result<Speciation, EquilibriumError> {
    let model = Model::at_kelvin(t + 273.15);
    Arc::new(System::of(&model, &given.totals)?).solve(given)
}

fn drink(first: Known, second: Known) -> Given {
    let amounts = [
        ("Ca", 2e-3),
        ("Mg", 1e-3),
        ("Na", 2e-3),
        ("K", 2e-4),
        ("Cl", 2e-3),
        ("SO4", 1e-3),
        ("F", 2e-5),
        ("SiO2", 3e-4),
        ("PO4", 3e-5),
        ("B", 2e-5),
        ("Fe", 1e-6),
        ("citrate", 5e-4),
    ];
    amounts.iter().fold(Given::new(first, second), |given, (id, m)| given.with(c(id), *m))
}

/// Closed drink of 4 mmol/kg CaCl2 and 8 mmol/kg NaHCO3 at 25 °C: pH 7.971 by an independent program with the same
/// parameters; ion-pair engines on public data give 7.969 to 7.970. 0.001.
#[test]
fn closed_drink_agrees_with_an_independent_program() {
    let given = Given::new(Known::Alkalinity(0.008), Known::Dic(0.008))
        .with(c("Ca"), 0.004)
        .with(c("Na"), 0.008)
        .with(c("Cl"), 0.008);
    assert!((solve(25.0, &given).unwrap().ph - 7.971).abs() < 1.5e-3);
}

/// Identity: every pair of carbonate quantities of one water leads to the same water; 1e-9 in every one of them, at
/// 5, 25 and 60 °C, from acid to alkaline.
#[test]
fn all_pairs_close() {
    for (t, alkalinity, dic) in
        [(25.0, 0.004, 0.0045), (5.0, 0.003, 0.02), (60.0, 0.006, 0.0042), (25.0, -0.001, 0.03)]
    {
        let state = solve(t, &drink(Known::Alkalinity(alkalinity), Known::Dic(dic))).unwrap();
        let known = [
            Known::Alkalinity(state.alkalinity),
            Known::Dic(state.dic),
            Known::Ph(state.ph),
            Known::Pco2(state.pco2()),
            Known::Co2(state.co2()),
        ];
        for (i, first) in known.iter().enumerate() {
            for second in &known[i + 1..] {
                let again = solve(t, &drink(*first, *second));
                if matches!((first, second), (Known::Pco2(_), Known::Co2(_))) {
                    assert_eq!(again.unwrap_err().code_of(), "carbonate_stated_twice");
                    continue;
                }
                let again = again.unwrap_or_else(|e| panic!("{t} {first:?} {second:?}: {e}"));
                let near = |a: f64, b: f64| (a - b).abs() <= 1e-9 * b.abs();
                assert!(
                    near(again.alkalinity, state.alkalinity),
                    "{t} {first:?} {second:?}: {}",
                    again.alkalinity
                );
                assert!(near(again.dic, state.dic), "{t} {first:?} {second:?}: {}", again.dic);
                assert!(near(again.ph, state.ph), "{t} {first:?} {second:?}: {}", again.ph);
                assert!(near(again.pco2(), state.pco2()) && near(again.co2(), state.co2()));
            }
        }
    }
}

trait CodeOf {
    fn code_of(&self) -> &'static str;
}

impl CodeOf for EquilibriumError {
    fn code_of(&self) -> &'static str {
        crate::fault::Fault::code(self)
    }
}

/// Identity: solving a solved water again gives the same bits.
#[test]
fn equilibrating_twice_is_once() {
    let given = drink(Known::Alkalinity(0.004), Known::Dic(0.0045));
    let (first, second) = (solve(18.0, &given).unwrap(), solve(18.0, &given).unwrap());
    assert_eq!(first.ph.to_bits(), second.ph.to_bits());
    assert_eq!(first.molality, second.molality);
}

/// Identity: the answer does not depend on where the search starts; from the states of very different waters every
/// molality comes out the same to 1e-11.
#[test]
fn answer_does_not_depend_on_the_start() {
    let given = drink(Known::Alkalinity(0.004), Known::Dic(0.0045));
    let system = Arc::new(System::of(&Model::at_kelvin(291.15), &given.totals).unwrap());
    let (mut amounts, weak) = system.scheme.amounts(&given.totals);
    amounts[scheme::HYDROGEN] = -0.004 - weak;
    amounts[scheme::CARBON] = 0.0045;
    let problem = start::Problem { amounts, ph: None, gas: None };
    let usual = system.search(&problem, None);
    for (hydrogen, carbon) in [(0.3, 0.5), (-0.2, 1e-9), (0.02, 1e-3)] {
        let mut other = problem.clone();
        other.amounts[scheme::HYDROGEN] += hydrogen;
        other.amounts[scheme::CARBON] = carbon;
        let far = system.search(&other, None);
        let again = system.search(&problem, Some(&far));
        for (a, b) in usual.m.iter().zip(&again.m) {
            assert!((a - b).abs() <= 1e-11 * a, "{hydrogen} {carbon}: {a} {b}");
        }
    }
}

/// A drink side by side in two lanes, with the starts of its logarithms moved; answers the molalities of the first.
fn solved_from(scheme: &Scheme, given: &Given, mut moved: impl FnMut() -> f64) -> Vec<f64> {
    let mut values = scheme.courses.values();
    scheme.courses.move_to(Lanes::all(291.15), &mut values);
    let question = plan::Question::of(given.carbonate).unwrap();
    let mut together = together::Together::<2>::new(scheme);
    let plan = scheme.plan(question);
    (0..2).for_each(|lane| together.state(scheme, lane, &given.totals, given.carbonate));
    together.points.begin(scheme, plan, &values, &mut together.stated);
    for lambda in &mut together.points.lambda {
        *lambda += Lanes([moved(), 0.0]);
    }
    together.points.search(scheme, plan, &values, &together.stated);
    assert_eq!(together.points.settled, [true; 2]);
    together.points.m.iter().map(|m| m.0[0]).collect()
}

/// Identity: the short way leads to the same water from wherever it begins (logarithms of the start moved by up to 0.5,
/// sixty ways) and whatever the order of components and species: every molality to 1e-12.
#[test]
fn short_way_does_not_depend_on_start_or_order() {
    let given = drink(Known::Alkalinity(0.004), Known::Dic(0.0045));
    let scheme = Scheme::of(&given.totals).unwrap();
    let usual = solved_from(&scheme, &given, || 0.0);
    let mut seed = 0x2545_f491_4f6c_dd1d_u64;
    let mut random = || {
        seed ^= seed << 13;
        seed ^= seed >> 7;
        seed ^= seed << 17;
        (seed >> 11) as f64 / (1_u64 << 53) as f64 - 0.5
    };
    for _ in 0..60 {
        let again = solved_from(&scheme, &given, &mut random);
        for (a, b) in usual.iter().zip(&again) {
            assert!((a - b).abs() <= 1e-12 * a, "{a} {b}");
        }
    }
    let all = species::table();
    let place = |master: &scheme::Master| (scheme.species[master.place], master.component);
    let mut masters: Vec<(usize, Option<Component>)> = scheme.masters.iter().map(place).collect();
    masters[2..].reverse();
    let other = Scheme::among(&masters);
    let again = solved_from(&other, &given, || 0.0);
    for (species, b) in other.species.iter().zip(&again) {
        let a = usual[scheme.places[*species].unwrap()];
        assert!((a - b).abs() <= 1e-12 * a, "{}: {a} {b}", all.species[*species].id);
    }
}

/// Identity: the guarded search and the short way find the same water, every molality to 1e-10, for every pair.
#[test]
fn both_ways_meet() {
    let base = solve(18.0, &drink(Known::Alkalinity(0.004), Known::Dic(0.0045))).unwrap();
    let known = [
        Known::Alkalinity(base.alkalinity),
        Known::Dic(base.dic),
        Known::Ph(base.ph),
        Known::Pco2(base.pco2()),
        Known::Co2(base.co2()),
    ];
    for (first, second) in (0..5).flat_map(|a| (a + 1..5).map(move |b| (a, b))).filter(|pair| *pair != (3, 4))
    {
        let given = drink(known[first], known[second]);
        let system = System::of(&Model::at_kelvin(291.15), &given.totals).unwrap();
        let (amounts, weak) = system.scheme.amounts(&given.totals);
        let point = system.guarded_way(&given, amounts, weak).unwrap();
        for (a, b) in base.molality.iter().zip(&point.m) {
            assert!((a - b).abs() <= 1e-10 * a, "{:?} {:?}: {a} {b}", known[first], known[second]);
        }
    }
}

/// Alkali bicarbonates give a pH of 8 to 9 and potassium carbonate about 11 in still water; soft water under 3 bar of
/// CO2 stands near pH 4 (common practice, no published source).
#[test]
fn waters_behave_as_practice_knows_them() {
    let salt = |alkalinity: f64, dic: f64, metal: &str| {
        let given = Given::new(Known::Alkalinity(alkalinity), Known::Dic(dic)).with(c(metal), alkalinity);
        solve(20.0, &given).unwrap().ph
    };
    assert!((8.0..9.0).contains(&salt(0.01, 0.01, "Na")) && (8.0..9.0).contains(&salt(0.01, 0.01, "K")));
    assert!((10.7..11.3).contains(&salt(0.02, 0.01, "K")));
    let soft = Given::new(Known::Alkalinity(0.0003), Known::Pco2(3.0)).with(c("Ca"), 0.00015);
    assert!((3.7..4.3).contains(&solve(8.0, &soft).unwrap().ph));
    let pure = Given::new(Known::Alkalinity(0.0), Known::Dic(0.0));
    // pKw/2 of IAPWS at 25 °C: 6.998
    assert!((solve(25.0, &pure).unwrap().ph - 6.998).abs() < 0.002);
}

#[test]
fn impossible_questions_are_refused_with_their_reason() {
    let at = |first, second| solve(25.0, &drink(first, second)).unwrap_err().code_of();
    assert_eq!(at(Known::Alkalinity(1e-5), Known::Ph(11.0)), "no_such_water");
    assert_eq!(at(Known::Dic(0.001), Known::Co2(0.002)), "no_such_water");
    assert_eq!(at(Known::Ph(7.0), Known::Ph(7.0)), "carbonate_stated_twice");
    assert_eq!(at(Known::Dic(-1.0), Known::Ph(7.0)), "amount_out_of_range");
    let given = Given::new(Known::Alkalinity(0.001), Known::Dic(0.001)).with(c("Cu"), 1e-5);
    assert_eq!(solve(25.0, &given).unwrap_err().code_of(), "outside_model");
    let strong = Given::new(Known::Alkalinity(0.0), Known::Dic(0.0)).with(c("Na"), 6.5).with(c("Cl"), 6.5);
    assert_eq!(Model::at_kelvin(298.15).speciate(&strong).unwrap_err().code_of(), "too_strong_for_model");
}

fn amount() -> impl Strategy<Value = f64> {
    prop_oneof![3 => Just(0.0), 7 => (-12.0..0.3_f64).prop_map(|x| libm::pow(10.0, x))]
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 600, failure_persistence: None, ..ProptestConfig::default() })]

    /// Hostile rows: amounts over twelve decades, balanced or not, acid or alkaline. Each ends within the counted limit
    /// with residuals at most 1e-10, or with its status; no NaN.
    #[test]
    fn hostile_rows_end(
        t in 0.0..95.0_f64,
        amounts in proptest::collection::vec(amount(), 24),
        alkalinity in prop_oneof![(-1.0..1.0_f64), (-0.01..0.01_f64)],
        dic in amount(),
    ) {
        let ids = ["Ca", "Mg", "Na", "K", "Fe", "Sr", "Zn", "NH4", "Cl", "SO4", "NO3", "F", "PO4", "SiO2", "B", "citrate",
            "lactate", "gluconate", "malate", "tartrate", "glycinate", "ascorbate", "oxalate", "acetate"];
        let mut given = Given::new(Known::Alkalinity(alkalinity), Known::Dic(dic));
        for (id, m) in ids.iter().zip(&amounts) {
            given = given.with(c(id), *m);
        }
        let state = solve(t, &given);
        match state {
            Ok(state) => {
                prop_assert!(state.ph.is_finite() && state.ionic_strength.is_finite());
                prop_assert!(state.residuals.mass <= 1e-10 && state.residuals.charge <= 1e-10);
            }
            Err(error) => {
                prop_assert!(matches!(error, EquilibriumError::TooStrong { .. }), "{error}: {given:?} {t}");
            }
        }
    }
}
