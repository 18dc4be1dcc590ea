//! Units against their exact definitions, bases against stoichiometry, and conversions there and back.
#![allow(clippy::unwrap_used)]

use springwright_chem::fault::Fault;
use springwright_chem::quantity::conversion::restate;
use springwright_chem::quantity::reading::read_measured;
use springwright_chem::quantity::{
    Basis, Dimension, Measured, QuantityError, Solution, Subject, Unit, convert,
};

fn unit(symbol: &str) -> Unit {
    Unit::read(symbol).expect("a unit of the table")
}

fn subject(text: &str) -> Subject {
    Subject::read(text).expect("a known subject")
}

/// Converts a written amount; `to` may carry a basis after " as ".
fn converted(text: &str, of: &str, to: &str) -> Result<f64, QuantityError> {
    let (to, basis) = to.split_once(" as ").map_or((to, None), |(to, basis)| (to, Some(basis)));
    let basis = basis.map(|text| Basis::read(text).expect("a known basis"));
    let solution = Solution::new(Some(0.998), Some(0.995)).expect("numbers in range");
    convert(
        &read_measured(text).expect("a written amount").measured,
        &subject(of),
        unit(to),
        basis.as_ref(),
        &solution,
    )
}

fn close(got: f64, expected: f64, relative: f64) -> bool {
    (got - expected).abs() <= relative * expected.abs()
}

/// Exact definitions, reached by another road than the table's: inch 25.4 mm, US gallon 231 cubic inches, imperial
/// gallon 4.54609 L, grain 64.79891 mg, pound 7000 grains (NIST Handbook 44, App. C; UK Weights and Measures Act
/// 1985); degree of hardness by its definition. Tolerance 1e-14 relative: rounding of the products only.
#[test]
fn factors_follow_from_the_exact_definitions() {
    let inch_cubed = 2.54 * 2.54 * 2.54; // mL
    let gallon = 231.0 * inch_cubed; // mL
    let grain = 64.79891; // mg
    let defined: [(&str, f64, &str); 47] = [
        ("gal_us", gallon, "231 cubic inches"),
        ("qt_us", gallon / 4.0, "quarter gallon"),
        ("pint_us", gallon / 8.0, "eighth of a gallon"),
        ("fl_oz_us", gallon / 128.0, "sixteenth of a pint"),
        ("fl_dr_us", gallon / 1024.0, "eighth of a fluid ounce"),
        ("minim_us", gallon / 61440.0, "sixtieth of a fluid drachm"),
        ("tbsp_us", gallon / 256.0, "half a fluid ounce"),
        ("tsp_us", gallon / 768.0, "sixth of a fluid ounce"),
        ("gal_imp", 4546.09, "definition"),
        ("qt_imp", 4546.09 / 4.0, "quarter gallon"),
        ("pint_imp", 4546.09 / 8.0, "eighth of a gallon"),
        ("fl_oz_imp", 4546.09 / 160.0, "twentieth of a pint"),
        ("fl_dr_imp", 4546.09 / 1280.0, "eighth of a fluid ounce"),
        ("minim_imp", 4546.09 / 76800.0, "sixtieth of a fluid drachm"),
        ("in3", inch_cubed, "inch 25.4 mm"),
        ("ft3", 1728.0 * inch_cubed, "foot of 12 inches"),
        ("tsp_metric", 5.0, "5 mL"),
        ("tbsp_metric", 15.0, "15 mL"),
        ("grain", grain, "definition"),
        ("lb", 7000.0 * grain, "7000 grains"),
        ("oz", 7000.0 * grain / 16.0, "sixteenth of a pound"),
        ("dram_av", 7000.0 * grain / 256.0, "sixteenth of an ounce"),
        ("lb_troy", 5760.0 * grain, "5760 grains"),
        ("oz_ap", 480.0 * grain, "480 grains"),
        ("drachm_ap", 60.0 * grain, "60 grains"),
        ("scruple", 20.0 * grain, "20 grains"),
        ("dwt", 24.0 * grain, "24 grains"),
        ("gr/gal_us", 1000.0 * grain / gallon, "grain in a US gallon"),
        ("gr/gal_imp", 1000.0 * grain / 4546.09, "grain in an imperial gallon"),
        ("gr/pint_us", 8000.0 * grain / gallon, "grain in a US pint"),
        ("gr/pint_imp", 8000.0 * grain / 4546.09, "grain in an imperial pint"),
        ("gr/fl_oz_us", 128000.0 * grain / gallon, "grain in a US fluid ounce"),
        ("gr/fl_oz_imp", 160000.0 * grain / 4546.09, "grain in an imperial fluid ounce"),
        ("oz/gal_us", 437.5 * grain * 1000.0 / gallon, "437.5 grains in a US gallon"),
        ("oz/gal_imp", 437.5 * grain * 1000.0 / 4546.09, "437.5 grains in an imperial gallon"),
        ("gr/gal_70000", 1e6 / 7e4, "one in 70,000"),
        ("gr/lb_troy", 1e6 / 5760.0, "one in 5760"),
        ("gr/lb_7680", 1e6 / 7680.0, "one in 7680"),
        ("gr/lb_av", 1e6 / 7000.0, "one in 7000"),
        ("parts/100000", 10.0, "ten in a million"),
        ("parts/1000", 1000.0, "a thousand in a million"),
        ("dH", 10.0, "10 mg/L CaO"),
        ("fH", 10.0, "10 mg/L CaCO3"),
        ("e", 1000.0 * grain / 4546.09, "grain CaCO3 in an imperial gallon"),
        ("gpg", 1000.0 * grain / gallon, "grain CaCO3 in a US gallon"),
        ("atm", 1.01325, "101325 Pa"),
        ("mmHg", 1.01325 / 760.0, "760th of an atmosphere"),
    ];
    for (symbol, factor, why) in defined {
        assert!(close(unit(symbol).factor(), factor, 1e-14), "{symbol}: {why}");
    }
}

/// The same factors as printed, rounded, in tables (NIST SP 811, App. B, from memory; project standards page 3.1).
/// Tolerance: half the last printed figure, as a relative bound.
#[test]
fn factors_agree_with_printed_tables() {
    for (symbol, printed, relative) in [
        ("gr/gal_us", 17.11806, 5e-7),
        ("gr/gal_imp", 14.25377, 5e-7),
        ("gr/gal_70000", 14.28571, 5e-7),
        ("gr/lb_troy", 173.6111, 5e-7),
        ("gr/lb_7680", 130.2083, 5e-7),
        ("gr/lb_av", 142.8571, 5e-7),
        ("fl_oz_us", 29.57353, 5e-7),
        ("fl_oz_imp", 28.4130625, 1e-12),
        ("pint_imp", 568.26125, 1e-12),
        ("pint_us", 473.176473, 1e-9),
        ("fl_dr_us", 3.6966912, 1e-8),
        ("minim_us", 0.06161152, 1e-8),
        ("minim_imp", 0.05919388, 1e-8),
        ("oz_ap", 31103.4768, 1e-12),
        ("drachm_ap", 3887.9346, 1e-12),
        ("psi", 0.06894757, 1e-7),
        ("mmHg", 0.001333224, 4e-7),
    ] {
        assert!(close(unit(symbol).factor(), printed, relative), "{symbol}: {}", unit(symbol).factor());
    }
}

/// SI multiples are exact.
#[test]
fn si_multiples_are_exact() {
    for (symbol, factor) in [
        ("ug/L", 1e-3),
        ("g/L", 1e3),
        ("kg/L", 1e6),
        ("g/100mL", 1e4),
        ("mg/100mL", 10.0),
        ("g/hL", 10.0),
        ("g/kg", 1e3),
        ("g/100g", 1e4),
        ("mol/L", 1e3),
        ("umol/L", 1e-3),
        ("mol/kg", 1e3),
        ("eq/L", 1e3),
        ("mS/cm", 1e3),
        ("mS/m", 10.0),
        ("S/m", 1e4),
        ("kPa", 1e-2),
        ("mbar", 1e-3),
        ("kg", 1e6),
        ("t", 1e9),
        ("hL", 1e5),
        ("m3", 1e6),
        ("mol", 1e3),
        ("%", 1e-2),
    ] {
        assert!(close(unit(symbol).factor(), factor, 1e-15), "{symbol}");
    }
}

/// Fixed points: ITS-90 ice and steam points by definition of the scales.
#[test]
fn temperatures_have_their_zeros() {
    for (text, to, expected) in [
        ("0 °C", "degF", 32.0),
        ("100 °C", "degF", 212.0),
        ("-40 °C", "degF", -40.0),
        ("25 °C", "K", 298.15),
        ("60 °F", "degC", 140.0 / 9.0),
        ("298.15 K", "degF", 77.0),
    ] {
        let got = converted(text, "temperature", to).unwrap();
        assert!((got - expected).abs() < 1e-10, "{text} is {got} {to}");
    }
}

/// Every spelling that the table lists is read as its own unit, and every symbol as itself.
#[test]
fn every_symbol_is_read_as_itself() {
    let mut symbols = std::collections::BTreeSet::new();
    for unit in Unit::all() {
        assert_eq!(Unit::read(unit.symbol()), Ok(unit), "{}", unit.symbol());
        assert!(unit.symbol().is_ascii() && symbols.insert(unit.symbol()), "{}", unit.symbol());
    }
}

/// Factors between bases as printed in handbooks and derived from IUPAC abridged weights 2021 (worked out by hand
/// from H 1.008, C 12.011, N 14.007, O 15.999, Na 22.990, Mg 24.305, Si 28.085, P 30.974, S 32.06, Cl 35.45,
/// K 39.098, Ca 40.078). Tolerance: the last printed figure.
#[test]
fn bases_follow_from_stoichiometry() {
    let table = [
        ("1 mg/L as N", "NO3", "mg/L", 62.004 / 14.007),
        ("1 mg/L as N", "NO2", "mg/L", 46.005 / 14.007),
        ("1 mg/L as N", "NH4", "mg/L", 18.039 / 14.007),
        ("1 mg/L as NH3", "NH4", "mg/L", 18.039 / 17.031),
        ("1 mg/L as S", "SO4", "mg/L", 96.056 / 32.06),
        ("1 mg/L as SO3", "SO4", "mg/L", 96.056 / 80.057),
        ("1 mg/L as P", "PO4", "mg/L", 94.970 / 30.974),
        ("1 mg/L as P2O5", "PO4", "mg/L", 2.0 * 94.970 / 141.943),
        ("1 mg/L as Si", "SiO2", "mg/L", 60.083 / 28.085),
        ("1 mg/L as H3BO3", "B", "mg/L", 10.81 / 61.831),
        ("1 mg/L as CaCO3", "HCO3", "mg/L", 2.0 * 61.016 / 100.086),
        ("1 mg/L as CaCO3", "CO3", "mg/L", 60.008 / 100.086),
        ("1 mg/L as CO2", "HCO3", "mg/L", 61.016 / 44.009),
        ("1 mg/L as CaCO3", "Ca", "mg/L", 40.078 / 100.086),
        ("1 mg/L as CaCO3", "Mg", "mg/L", 24.305 / 100.086),
        ("1 mg/L as CaCO3", "Na", "mg/L", 2.0 * 22.990 / 100.086),
        ("1 mg/L as CaCO3", "Cl", "mg/L", 2.0 * 35.45 / 100.086),
        ("1 mg/L as CaO", "Ca", "mg/L", 40.078 / 56.077),
        ("1 mg/L as MgO", "Mg", "mg/L", 24.305 / 40.304),
        ("1 mg/L as Na2O", "Na", "mg/L", 2.0 * 22.990 / 61.979),
        ("1 mg/L as K2O", "K", "mg/L", 2.0 * 39.098 / 94.195),
        ("1 mg/L as Fe2O3", "Fe", "mg/L", 2.0 * 55.845 / 159.687),
        ("1 mg/L as NaCl", "Cl", "mg/L", 35.45 / 58.440),
        ("1 mg/L as citric acid", "citrate", "mg/L", 189.099 / 192.123),
        ("1 mg/L as C", "citrate", "mg/L", 189.099 / 72.066),
        ("100 mg/L as CaCO3", "alkalinity", "meq/L", 200.0 / 100.086),
        ("1 meq/L", "alkalinity", "mg/L as CaCO3", 50.043),
        ("1 meq/L", "alkalinity", "mg/L as HCO3", 61.016),
        ("1 meq/L", "alkalinity", "dH", 2.80385),
        ("1 meq/L", "HCO3", "mg/L", 61.016),
        ("2 meq/L", "CO3", "mg/L", 60.008),
        ("1 mmol/L", "hardness", "mg/L as CaCO3", 100.086),
        ("1 mmol/L", "hardness", "dH", 5.6077),
        ("1 mmol/L", "hardness", "fH", 10.0086),
        ("1 mmol/L", "hardness", "meq/L", 2.0),
        ("1 °dH", "hardness", "mg/L as CaCO3", 1000.86 / 56.077),
        ("1 °dH", "hardness", "mmol/L", 10.0 / 56.077),
        ("1 °dH", "Ca", "mg/L", 10.0 * 40.078 / 56.077),
        ("1 °dH", "Mg", "mg/L", 10.0 * 24.305 / 56.077),
        ("40.078 mg/L", "Ca", "meq/L", 2.0),
        ("96.056 mg/L", "SO4", "mmol/L", 1.0),
        ("189.099 mg/L", "citrate", "meq/L", 3.0),
        ("246.466 g", "MgSO4·7H2O", "mol", 1.0),
        ("246.466 g", "MgSO4·7H2O", "g as Mg", 24.305),
        ("246.466 g", "MgSO4·7H2O", "g as MgSO4", 120.361),
        ("147.008 mg", "CaCl2·2H2O", "mg as Ca", 40.078),
        ("147.008 mg", "CaCl2·2H2O", "mg as CaCl2", 110.978),
    ];
    for (text, of, to, expected) in table {
        let got = converted(text, of, to).unwrap();
        assert!(close(got, expected, 2e-6), "{text} of {of} is {got} {to}, not {expected}");
    }
}

/// Printed conversions of the trade: project standards page 3.2 and 3.1; last printed figure.
#[test]
fn hardness_degrees_agree_with_printed_tables() {
    for (to, printed, relative) in [("e", 7.0217, 1e-5), ("gpg", 5.8468, 1e-5)] {
        assert!(close(converted("1 mmol/L", "hardness", to).unwrap(), printed, relative), "{to}");
    }
    assert!(close(converted("1 dH", "hardness", "mg/L as CaCO3").unwrap(), 17.848, 3e-5));
    assert!(close(converted("2.5 volumes", "co2", "g/L").unwrap(), 2.5 * 1.977, 1e-12));
    // A cubic inch of gas per US gallon at 60 °F is 1/231 volume, times 273.15/288.71 to 0 °C (page 3.1).
    assert!(close(unit("in3/gal_us_60f").factor(), 273.15 / 288.71 / 231.0, 2e-5));
}

/// Density and solvent water: mg/L = mg/kg × density; mol/kg counts solvent water only.
#[test]
fn litres_and_kilograms_meet_in_the_solution() {
    assert!(close(converted("100 mg/kg", "Ca", "mg/L").unwrap(), 99.8, 1e-12));
    assert!(close(converted("40.078 mg/L", "Ca", "mmol/kg").unwrap(), 1.0 / 0.995, 1e-12));
    assert!(close(converted("1 mmol/kg_solution", "Ca", "mmol/kg").unwrap(), 0.998 / 0.995, 1e-12));
    let bare = Solution::default();
    let calcium = read_measured("40 mg/L").unwrap().measured;
    for (to, code) in [("mg/kg", "density_missing"), ("mol/kg", "density_missing")] {
        let error = convert(&calcium, &subject("Ca"), unit(to), None, &bare).unwrap_err();
        assert_eq!(error.code(), code);
    }
    assert!(convert(&calcium, &subject("Ca"), unit("mmol/L"), None, &bare).is_ok());
    assert_eq!(Solution::new(Some(0.5), None).unwrap_err().code(), "out_of_range");
    assert_eq!(Solution::new(Some(0.95), Some(1.0)).unwrap_err().code(), "out_of_range");
}

#[test]
fn what_cannot_be_converted_is_refused_with_its_code() {
    for (text, of, to, code) in [
        ("200 mg/L", "alkalinity", "meq/L", "basis_missing"),
        ("200 mg/L", "hardness", "mmol/L", "basis_missing"),
        ("2 meq/L", "alkalinity", "mg/L", "basis_missing"),
        ("200 mg/L as NaCl", "hardness", "mmol/L", "basis_impossible"),
        ("200 mg/L as CaCl2", "alkalinity", "meq/L", "basis_impossible"),
        ("200 mg/L as CaC2O4", "alkalinity", "meq/L", "basis_impossible"),
        ("200 mg/L as CO3", "HCO3", "mg/L", "basis_impossible"),
        ("1 mg/L as Ca", "Mg", "mg/L", "basis_impossible"),
        ("1 mg/L as N", "SO4", "mg/L", "basis_impossible"),
        ("1 mg/L as CaCO3", "PO4", "mg/L", "basis_impossible"),
        ("1 mg/L as CaCO3", "SiO2", "mg/L", "basis_impossible"),
        ("1 mg/L as NaCl", "tds", "mg/L", "basis_impossible"),
        ("1 mg/L as Na2CO3", "NaHCO3", "mg/L", "basis_impossible"),
        ("1 mmol/L", "PO4", "meq/L", "equivalents_undefined"),
        ("1 mmol/L", "SiO2", "meq/L", "equivalents_undefined"),
        ("1 mmol/L", "MgSO4·7H2O", "meq/L", "equivalents_undefined"),
        ("400 mg/L", "tds", "mmol/L", "unit_mismatch"),
        ("400 mg/L", "Ca", "g", "unit_mismatch"),
        ("400 mg/L", "Ca", "uS/cm", "unit_mismatch"),
        ("2 volumes", "Ca", "mg/L", "unit_mismatch"),
        ("12 °C", "temperature", "bar", "unit_mismatch"),
        ("430 uS/cm", "conductivity", "mg/L", "unit_mismatch"),
        ("9e6 mg/L", "SO4", "mg/kg", "out_of_range"),
    ] {
        match converted(text, of, to) {
            Ok(value) => panic!("{text} of {of} became {value} {to}"),
            Err(error) => assert_eq!(error.code(), code, "{text} of {of} to {to}: {error}"),
        }
    }
}

/// Identity: there and back within 1e-12 relative, for every pair of units that a subject can be stated in.
#[test]
fn there_and_back_is_the_same() {
    let solution = Solution::new(Some(1.0123), Some(0.9871)).unwrap();
    let mut pairs = 0;
    for (of, basis) in [
        ("Ca", None),
        ("Mg", Some("CaCO3")),
        ("NO3", Some("N")),
        ("HCO3", Some("CaCO3")),
        ("alkalinity", Some("HCO3")),
        ("hardness", Some("CaO")),
        ("citrate", Some("C6H8O7")),
        ("MgSO4·7H2O", Some("MgSO4")),
        ("tds", None),
        ("co2", None),
        ("temperature", None),
    ] {
        let of = subject(of);
        let basis = basis.map(|text| Basis::read(text).unwrap());
        for from in Unit::all() {
            let basis_of = |unit: Unit| {
                if unit.states_mass() && unit.own_basis().is_none() { basis.as_ref() } else { None }
            };
            let value = if from.symbol() == "K" { 280.25 } else { 7.25 };
            let mut there = Measured::new(value, from).unwrap();
            if let Some(basis) = basis_of(from) {
                there = there.with_basis(basis.clone()).unwrap();
            }
            for to in Unit::all() {
                let Ok(moved) = restate(&there, &of, to, basis_of(to), &solution) else { continue };
                let back = convert(&moved, &of, from, basis_of(from), &solution).unwrap();
                // A temperature goes through its zero: 1e-12 of the absolute temperature.
                let slack = if from.dimension() == Dimension::Temperature { 300.0 } else { value };
                assert!((back - value).abs() <= 1e-12 * slack, "{} to {}", from.symbol(), to.symbol());
                pairs += 1;
            }
        }
    }
    assert!(pairs > 5000, "{pairs} pairs");
}

/// The uncertainty scales with its amount; "<" and k stay; a temperature difference has no zero.
#[test]
fn uncertainty_goes_along() {
    let solution = Solution::default();
    let read = read_measured("190 ± 4 mg/L as CaCO3").unwrap().measured;
    let moved = restate(&read, &subject("alkalinity"), Unit::MEQ_PER_L, None, &solution).unwrap();
    assert!(close(moved.uncertainty().unwrap() / moved.value(), 4.0 / 190.0, 1e-12));
    assert_eq!(
        (moved.coverage_factor(), moved.standard_uncertainty()),
        (Some(2.0), moved.uncertainty().map(|u| u / 2.0))
    );
    let warm = read_measured("25 ± 0.5 °C").unwrap().measured;
    let moved = restate(&warm, &Subject::Plain, unit("degF"), None, &solution).unwrap();
    assert!(close(moved.uncertainty().unwrap(), 0.9, 1e-12));
    let limit = read_measured("<0.1 mg/L as N").unwrap().measured;
    let moved = restate(&limit, &subject("NO3"), Unit::MG_PER_L, None, &solution).unwrap();
    assert!(moved.comparator().is_some());
}

/// World Health Organization oral rehydration salts (2002): grams per litre and the mmol/L printed beside them;
/// within 1 mmol/L. NaCl 2.6, glucose 13.5, KCl 1.5, trisodium citrate dihydrate 2.9 (from memory).
#[test]
fn rehydration_salts_give_the_printed_millimoles() {
    let mmol = |text: &str, salt: &str| converted(text, salt, "mmol/L").unwrap();
    let citrate = mmol("2.9 g/L", "Na3C6H5O7·2H2O");
    assert!((mmol("2.6 g/L", "NaCl") + 3.0 * citrate - 75.0).abs() < 1.0);
    assert!((mmol("2.6 g/L", "NaCl") + mmol("1.5 g/L", "KCl") - 65.0).abs() < 1.0);
    assert!((mmol("1.5 g/L", "KCl") - 20.0).abs() < 1.0);
    assert!((citrate - 10.0).abs() < 1.0);
    assert!((mmol("13.5 g/L", "C6H12O6") - 75.0).abs() < 1.0);
}
