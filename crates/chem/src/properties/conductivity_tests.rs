//! Conductivity against standards, tables and an independent coding of the same equations.

use super::carriers::Carriers;
use super::conductivity::Conductance;
use crate::composition::pure_water::kell_1975;
use crate::equilibrium::lanes::Lanes;
use crate::equilibrium::species_table;
use crate::matter::component::Component;
use crate::quantity::bounds::Celsius;

/// An ion in solution: its name, charge number and concentration, mol/L.
struct Dissolved {
    id: &'static str,
    charge: f64,
    concentration: f64,
}

/// Conductivity of ions, µS/cm; with the pairs of bicarbonate or without.
fn of_ions(kelvin: f64, ions: &[Dissolved], bicarbonate: bool) -> f64 {
    let place = |ion: &Dissolved| {
        let at = species_table().index(ion.id).unwrap();
        assert_eq!(f64::from(species_table().species[at].charge), ion.charge);
        at
    };
    let species: Vec<usize> = ions.iter().map(place).collect();
    let m: Vec<Lanes<1>> = ions.iter().map(|ion| Lanes([ion.concentration])).collect();
    let mut conductance = Conductance::new(Carriers::of(&species, bicarbonate));
    conductance.conductivity(Lanes([kelvin]), &m, Lanes([1.0])).0[0]
}

fn ions(list: &[(&'static str, f64, f64)], scale: f64) -> Vec<Dissolved> {
    list.iter().map(|(id, charge, c)| Dissolved { id, charge: *charge, concentration: c * scale }).collect()
}

/// The same equations coded apart from this crate, mmol/L, 5, 25 and 45 °C; 0.01 %.
#[test]
fn agrees_with_an_independent_coding() {
    type Case<'a> = (&'a [(&'static str, f64, f64)], [f64; 3]);
    let table: [Case<'_>; 6] = [
        (&[("Na", 1.0, 30.0), ("Cl", -1.0, 30.0)], [2110.97, 3420.90, 4905.80]),
        (&[("Ca", 2.0, 3.0), ("Cl", -1.0, 6.0)], [460.57, 743.86, 1072.42]),
        (&[("Mg", 2.0, 4.0), ("SO4", -2.0, 4.0)], [444.95, 730.99, 1047.15]),
        (&[("Ca", 2.0, 8.0), ("SO4", -2.0, 8.0)], [816.14, 1312.85, 1867.80]),
        (
            &[("Ca", 2.0, 0.3), ("Mg", 2.0, 0.2), ("Cl", -1.0, 1.0), ("H", 1.0, 0.22), ("HCO3", -1.0, 0.22)],
            [138.55, 213.05, 294.33],
        ),
        (
            &[
                ("Ca", 2.0, 2.0),
                ("Mg", 2.0, 1.0),
                ("Na", 1.0, 2.0),
                ("Cl", -1.0, 2.0),
                ("HCO3", -1.0, 4.0),
                ("SO4", -2.0, 1.0),
            ],
            [478.39, 783.02, 1139.19],
        ),
    ];
    for (list, kappas) in table {
        for (t, kappa) in [5.0, 25.0, 45.0].iter().zip(kappas) {
            let got = of_ions(t + 273.15, &ions(list, 1e-3), false);
            assert!((got / kappa - 1.0).abs() < 1e-4, "{list:?} {t} °C: {got} for {kappa}");
        }
    }
    for (list, kappa) in [(table[5].0, 774.71), (table[4].0, 212.92)] {
        let got = of_ions(298.15, &ions(list, 1e-3), true);
        assert!((got / kappa - 1.0).abs() < 1e-4, "{list:?}: {got} for {kappa}");
    }
}

/// kg of water in a litre: the density of the salt solution by the ion-additive volumes of this crate.
fn water_in_a_litre(t: f64, salt: &[(Component, f64)]) -> f64 {
    let strength: f64 = 0.5 * salt.iter().map(|(c, m)| f64::from(c.charge().pow(2)) * m).sum::<f64>();
    let volumes: f64 = salt
        .iter()
        .map(|(c, m)| (crate::composition::dissolved::form(*c).volume, m))
        .map(|(volume, m)| m * (volume.at(t) + strength * volume.per_strength()) * 1e-3)
        .sum();
    let litres =
        1000.0 / kell_1975(t) + volumes + 1.88e-3 / 1.2 * strength * libm::log(1.0 + 1.2 * strength.sqrt());
    1.0 / litres
}

fn salt(t: f64, list: &[(&'static str, Component, f64, f64)]) -> f64 {
    let amounts: Vec<(Component, f64)> = list.iter().map(|(_, c, _, m)| (*c, *m)).collect();
    let water = water_in_a_litre(t, &amounts);
    let ions: Vec<Dissolved> =
        list.iter().map(|(id, _, z, m)| Dissolved { id, charge: *z, concentration: m * water }).collect();
    of_ions(t + 273.15, &ions, true)
}

/// KCl standards of NIST (CRC Handbook, µS/cm, water taken off): 0.01, 0.1 and 1 mol/kg; 0.3 %. Half of the points were
/// used in the fit.
#[test]
fn potassium_chloride_standards() {
    let points = [
        (0.01, 0.0, 772.92),
        (0.01, 10.0, 1013.95),
        (0.01, 18.0, 1219.93),
        (0.01, 20.0, 1273.03),
        (0.01, 25.0, 1408.23),
        (0.01, 30.0, 1546.63),
        (0.01, 40.0, 1831.27),
        (0.01, 50.0, 2123.43),
        (0.1, 0.0, 7116.85),
        (0.1, 10.0, 9291.72),
        (0.1, 18.0, 11140.6),
        (0.1, 25.0, 12824.6),
        (0.1, 50.0, 19180.9),
        (1.0, 0.0, 63488.0),
        (1.0, 20.0, 99170.0),
        (1.0, 25.0, 108620.0),
    ];
    for (m, t, kappa) in points {
        let got = salt(t, &[("K", Component::K, 1.0, m), ("Cl", Component::CL, -1.0, m)]);
        assert!((got / kappa - 1.0).abs() < 3e-3, "{m} mol/kg {t} °C: {got} for {kappa}");
    }
}

/// Equivalent conductivities at 25 °C, S cm²/eq at mol/L (CRC Handbook, after Shedlovsky; from memory): 1.5 %, K2SO4 and
/// MgSO4 3 %.
#[test]
fn single_salts_at_25_degrees() {
    type Curve = (&'static str, f64, &'static str, f64, [(f64, f64); 4], f64);
    let table: [Curve; 6] = [
        ("Na", 1.0, "Cl", -1.0, [(0.001, 123.68), (0.01, 118.45), (0.05, 111.01), (0.1, 106.69)], 0.015),
        ("K", 1.0, "Cl", -1.0, [(0.001, 146.88), (0.01, 141.20), (0.05, 133.30), (0.1, 128.90)], 0.015),
        ("Ca", 2.0, "Cl", -1.0, [(0.001, 130.30), (0.01, 120.30), (0.05, 108.42), (0.1, 102.41)], 0.015),
        ("Mg", 2.0, "Cl", -1.0, [(0.001, 124.15), (0.01, 114.49), (0.05, 103.03), (0.1, 97.05)], 0.015),
        ("Na", 1.0, "SO4", -2.0, [(0.001, 124.09), (0.01, 112.38), (0.05, 97.70), (0.1, 89.94)], 0.02),
        ("H", 1.0, "Cl", -1.0, [(0.001, 421.15), (0.01, 411.80), (0.05, 398.89), (0.1, 391.13)], 0.015),
    ];
    for (cation, z, anion, w, points, tolerance) in table {
        for (equivalents, lambda) in points {
            let list = ions(&[(cation, z, equivalents / z.abs()), (anion, w, equivalents / w.abs())], 1.0);
            let got = of_ions(298.15, &list, true) / 1000.0 / equivalents;
            assert!(
                (got / lambda - 1.0_f64).abs() < tolerance,
                "{cation}{anion} {equivalents}: {got} for {lambda}"
            );
        }
    }
}

/// Gypsum at saturation, 25 °C: best value of the open sources 2.19 ± 0.03 mS/cm; 3 %.
#[test]
fn saturated_gypsum() {
    use crate::equilibrium::{Given, Known, Model};
    use crate::phases::{dissolution::saturate, solids::find};
    let model = Model::at(Celsius::new(25.0).unwrap()).unwrap();
    let given = Given::new(Known::Alkalinity(0.0), Known::Dic(0.0));
    let saturated = saturate(&model, &given, find("gypsum").unwrap()).unwrap().unwrap();
    let kappa = super::conductivity::conductivity(&saturated.state, 0.9970).unwrap();
    assert!((kappa / 2190.0 - 1.0).abs() < 0.03, "{kappa}");
}

/// Temperature factors κ(25)/κ(t) of natural waters by ISO 7888 (from memory), on a calcium bicarbonate water closed to
/// the air: 1 % at 10 to 35 °C.
#[test]
fn temperature_factors_of_iso_7888() {
    use crate::equilibrium::{Given, Known, Model};
    let at = |t: f64| {
        let given = Given::new(Known::Alkalinity(0.004), Known::Dic(0.0044))
            .with(Component::CA, 0.0015)
            .with(Component::MG, 0.0005)
            .with(Component::NA, 0.0006)
            .with(Component::CL, 0.0006);
        let state = Model::at(Celsius::new(t).unwrap()).unwrap().speciate(&given).unwrap();
        super::conductivity::conductivity(&state, kell_1975(t) / 1000.0).unwrap()
    };
    for (t, factor) in [(10.0, 1.428), (15.0, 1.254), (20.0, 1.116), (30.0, 0.903), (35.0, 0.822)] {
        let got = at(25.0) / at(t);
        assert!((got / factor - 1.0).abs() < 0.01, "{t} °C: {got} for {factor}");
    }
}
