//! Checks of the catalogue as a whole: identities of every row, names, and figures looked up elsewhere.

use std::collections::{BTreeMap, BTreeSet};

use super::*;
use crate::fault::{Fault, Kind};
use crate::matter::component::Component;
use crate::table::Table;

const TABLES: [(&str, &str); 10] = [
    ("salts", include_str!("../../../data/salts.tsv")),
    ("salt_additives", include_str!("../../../data/salt_additives.tsv")),
    ("salt_assays", include_str!("../../../data/salt_assays.tsv")),
    ("salt_bulk_density", include_str!("../../../data/salt_bulk_density.tsv")),
    ("salt_behaviour", include_str!("../../../data/salt_behaviour.tsv")),
    ("salt_needs", include_str!("../../../data/salt_needs.tsv")),
    ("salt_handling", include_str!("../../../data/salt_handling.tsv")),
    ("salt_names", include_str!("../../../data/salt_names.tsv")),
    ("salt_solubility", include_str!("../../../data/salt_solubility.tsv")),
    ("salt_solid_changes", include_str!("../../../data/salt_solid_changes.tsv")),
];

fn of(id: &str) -> &'static Salt {
    salt(id).unwrap_or_else(|| panic!("{id} is in the catalogue"))
}

fn code(text: &str) -> &'static str {
    find(text).expect_err(text).code()
}

#[test]
fn there_are_at_least_110_rows_with_their_own_ids() {
    assert!(salts().len() >= 110);
    let ids: BTreeSet<&str> = salts().iter().map(|salt| salt.id).collect();
    assert_eq!(ids.len(), salts().len());
    for salt in salts() {
        assert!(salt.id.chars().all(|c| c.is_ascii_lowercase() || c == '_'), "{}", salt.id);
    }
}

/// Identity: charge given is 0, and every element of the formula is found again in what is given, in H+ and in
/// water. Boron is written as the element and counted here as B(OH)3.
#[test]
fn every_row_gives_what_its_formula_holds() {
    for salt in salts() {
        let (Some(given), Some(formula)) = (&salt.gives, &salt.formula) else { continue };
        assert_eq!(given.charge(), 0.0, "{}", salt.id);
        if given.components.is_empty() && given.carbonate == 0.0 {
            assert_eq!(salt.form, Form::Gas, "{}", salt.id);
            continue;
        }
        let mut left: BTreeMap<&str, f64> = formula.atoms().clone();
        let mut take = |symbol: &'static str, count: f64| *left.entry(symbol).or_insert(0.0) -= count;
        for (component, count) in &given.components {
            for (symbol, atoms) in component.formula().atoms() {
                take(symbol, atoms * count);
            }
            if *component == Component::B {
                take("O", 3.0 * count);
                take("H", 3.0 * count);
            }
        }
        for (symbol, atoms) in Component::HCO3.formula().atoms() {
            take(symbol, atoms * given.carbonate);
        }
        take("H", given.hydrogen + 2.0 * given.water);
        take("O", given.water);
        assert!(left.values().all(|count| count.abs() < 1e-9), "{}: {left:?}", salt.id);
    }
}

/// Identity within 2e-4 relative: the masses of the ions add up to the molar mass.
#[test]
fn ion_masses_add_up_to_the_molar_mass() {
    const H: f64 = 1.008;
    const WATER: f64 = 18.015;
    for salt in salts() {
        let (Some(given), Some(molar_mass)) = (&salt.gives, salt.molar_mass()) else { continue };
        if given.components.is_empty() && given.carbonate == 0.0 {
            continue;
        }
        let ions: f64 =
            given.components.iter().map(|(component, count)| component.molar_mass() * count).sum();
        let acid_of_boron = 3.0 * given.of(Component::B) * (15.999 + H);
        let rest = given.carbonate * Component::HCO3.molar_mass() + given.hydrogen * H + given.water * WATER;
        let sum = ions + acid_of_boron + rest;
        assert!((sum / molar_mass - 1.0).abs() < 2e-4, "{}: {sum} against {molar_mass}", salt.id);
    }
}

/// Identity of the charge form: alkalinity = −(H+ given) − charge of the weak acids and of carbonate as HCO3.
#[test]
fn alkalinity_follows_from_components_alone() {
    for salt in salts() {
        let Some(given) = &salt.gives else { continue };
        let all: f64 = given.components.iter().map(|(c, count)| f64::from(c.charge()) * count).sum();
        assert!((all - given.carbonate + given.hydrogen).abs() < 1e-12, "{}", salt.id);
    }
    for (id, alkalinity, carbonate, hydrogen) in [
        ("sodium_bicarbonate", 1.0, 1.0, 0.0),
        ("sodium_carbonate_decahydrate", 2.0, 1.0, -1.0),
        ("calcium_hydroxide", 2.0, 0.0, -2.0),
        ("magnesium_oxide", 2.0, 0.0, -2.0),
        ("carbon_dioxide", 0.0, 1.0, 1.0),
        ("hydrochloric_acid", -1.0, 0.0, 1.0),
        ("phosphoric_acid", 0.0, 0.0, 3.0),
        ("citric_acid_monohydrate", 0.0, 0.0, 3.0),
        ("monopotassium_phosphate", 1.0, 0.0, 2.0),
        ("trisodium_citrate_dihydrate", 3.0, 0.0, 0.0),
        ("sodium_bisulfate", -1.0, 0.0, 1.0),
        ("magnesium_hydroxide_carbonate_pentahydrate", 10.0, 4.0, -6.0),
    ] {
        let given = of(id).dissolution().unwrap();
        assert_eq!(
            (given.alkalinity(), given.carbonate, given.hydrogen),
            (alkalinity, carbonate, hydrogen),
            "{id}"
        );
    }
}

/// Worked by hand: water set free counts water of crystallisation and of reaction with H+ (CaO + 2 H+ = Ca2+ + H2O).
#[test]
fn water_set_free_is_counted() {
    for (id, water) in [
        ("magnesium_sulfate_heptahydrate", 7.0),
        ("calcium_sulfate_hemihydrate", 0.5),
        ("sodium_chloride", 0.0),
        ("calcium_oxide", 1.0),
        ("sodium_hydroxide", 1.0),
        ("carbon_dioxide", -1.0),
        ("glucono_delta_lactone", -1.0),
        ("sodium_metabisulfite", -1.0),
    ] {
        assert!((of(id).dissolution().unwrap().water - water).abs() < 1e-12, "{id}");
    }
}

/// The last digit of a CAS number is the sum of the others, each times its place from the right, modulo 10.
#[test]
fn cas_numbers_pass_their_check_digit() {
    for salt in salts() {
        let parts: Vec<&str> = salt.cas.split('-').collect();
        assert_eq!((parts.len(), parts[1].len(), parts[2].len()), (3, 2, 1), "{}", salt.id);
        let digits: Vec<u32> = salt.cas.chars().filter_map(|c| c.to_digit(10)).rev().collect();
        let sum: u32 = digits.iter().skip(1).zip(1..).map(|(digit, place)| digit * place).sum();
        assert_eq!(sum % 10, digits[0], "{} {}", salt.id, salt.cas);
    }
    let numbers: BTreeSet<&str> = salts().iter().map(|salt| salt.cas).collect();
    assert_eq!(numbers.len(), salts().len(), "no CAS number stands twice");
}

/// Facts of the trade from standards.md section 2 (computed there from the same weights): mg of an ion in 1 g.
#[test]
fn yields_are_those_of_the_trade() {
    for (id, ion, yields) in [
        ("magnesium_sulfate_heptahydrate", "Mg", 98.6),
        ("magnesium_sulfate_heptahydrate", "SO4", 389.7),
        ("magnesium_chloride_hexahydrate", "Cl", 348.7),
        ("calcium_chloride_dihydrate", "Ca", 272.6),
        ("calcium_sulfate_dihydrate", "SO4", 557.9),
        ("sodium_bicarbonate", "Na", 273.7),
        ("potassium_sulfate", "K", 448.8),
    ] {
        let component = Component::read(ion).unwrap();
        let amount = of(id).dissolution().unwrap().of(component) * component.molar_mass();
        let found = 1000.0 * amount / of(id).molar_mass().unwrap();
        assert!((found - yields).abs() < 0.1, "{id} {ion} {found}");
    }
}

#[test]
fn no_two_rows_share_a_formula() {
    for (at, salt) in salts().iter().enumerate() {
        let Some(formula) = &salt.formula else { continue };
        assert_eq!(salt_of_formula(formula).map(|own| own.id), Some(salt.id));
        for other in &salts()[at + 1..] {
            assert!(!other.formula.as_ref().is_some_and(|own| own.same_substance(formula)), "{}", other.id);
        }
    }
}

#[test]
fn formulas_find_their_row_however_they_are_written() {
    for (text, id) in [
        ("MgSO4.7H2O", "magnesium_sulfate_heptahydrate"),
        ("MgSO4", "magnesium_sulfate_anhydrous"),
        ("CH3COONa", "sodium_acetate_anhydrous"),
        ("CaSO4·½H2O", "calcium_sulfate_hemihydrate"),
        ("NaCl", "sodium_chloride"),
        ("CO2", "carbon_dioxide"),
        ("H3PO4", "phosphoric_acid"),
        ("KC3H5O3", "potassium_lactate_solution"),
    ] {
        assert_eq!(find(text).map(|salt| salt.id), Ok(id), "{text}");
    }
    assert_eq!(code("2NaCl"), "formula_leading_number");
}

/// Every id and every name with one meaning finds its row; the rest fail as declared in the table of names.
#[test]
fn every_name_finds_its_row_or_says_why_not() {
    for salt in salts() {
        assert_eq!(identify(salt.id).map(|own| own.id), Ok(salt.id));
        let spaced = salt.id.replace('_', " ").to_uppercase();
        assert_eq!(identify(&spaced).map(|own| own.id), Ok(salt.id), "{spaced}");
    }
    let mut meanings: BTreeMap<String, Vec<(&str, &str)>> = BTreeMap::new();
    for row in Table::read(TABLES[7].1).rows() {
        let name = names::normal(row.text("name"));
        meanings.entry(name).or_default().push((row.text("salt"), row.text("kind")));
    }
    for (name, rows) in &meanings {
        let found = identify(name).map(|salt| salt.id);
        match rows.as_slice() {
            [(id, "trade" | "historical")] => assert_eq!(found, Ok(*id), "{name}"),
            [(_, "preparation")] => assert_eq!(found.expect_err(name).code(), "preparation_named"),
            _ => {
                let code = found.expect_err(name).code();
                assert!(matches!(code, "hydrate_unstated" | "salt_name_ambiguous"), "{name} {code}");
            }
        }
        assert!(
            rows.iter().all(|(_, kind)| *kind == "base") || rows.iter().all(|(_, kind)| *kind != "base"),
            "{name}"
        );
        let ids: BTreeSet<&str> = rows.iter().map(|(id, _)| *id).collect();
        assert_eq!(ids.len(), rows.len(), "{name} stands twice for one row");
        // A name that is the id of another row would hide it.
        assert!(salts().iter().all(|salt| names::normal(salt.id) != *name || rows[0].0 == salt.id), "{name}");
    }
}

/// A name in two rows is ambiguous on purpose: each meaning of a name that is no base name says when it holds.
#[test]
fn ambiguous_names_say_when_they_mean_what() {
    for name in ["carbonate of soda", "saleratus", "natron", "potash", "magnesia", "soda"] {
        let MatterError::NameAmbiguous { choices, .. } = find(name).unwrap_err() else {
            panic!("{name} has more than one meaning")
        };
        assert!(choices.len() > 1 && choices.iter().all(|choice| !choice.sense.is_empty()), "{name}");
    }
    assert_eq!(code("muriate of lime"), "hydrate_unstated");
    let rows: Vec<_> =
        Table::read(TABLES[7].1).rows().map(|r| (r.text("name"), r.text("kind"), r.text("sense"))).collect();
    for (name, kind, sense) in &rows {
        let twice = rows.iter().filter(|(own, _, _)| own == name).count() > 1;
        assert!(!twice || *kind == "base" || !sense.is_empty(), "{name}");
    }
}

#[test]
fn a_base_name_shows_each_form_and_the_factor_between_them() {
    let MatterError::HydrateUnstated { forms, .. } = find("Magnesium sulphate").unwrap_err() else {
        panic!("water of crystallisation was not stated")
    };
    assert_eq!(forms.len(), 4);
    let factor = |id: &str| forms.iter().find(|form| form.id == id).map(|form| form.factor).unwrap();
    // 246.466/120.361, molar masses of standards.md section 2.
    assert!((factor("magnesium_sulfate_heptahydrate") - 2.0477).abs() < 2e-4);
    assert_eq!(factor("magnesium_sulfate_anhydrous"), 1.0);
    let fault = find("calcium chloride").unwrap_err();
    assert_eq!(
        (fault.code(), fault.kind(), fault.accepted().len()),
        ("hydrate_unstated", Kind::Ambiguous, 3)
    );
    assert!(fault.to_string().contains("CaCl2·2H2O") && fault.to_string().contains("147.01"), "{fault}");
}

/// Every row with a hydrate word has its name without that word declared as a base name, unless it is the only
/// row of that salt and holds no water.
#[test]
fn every_hydrate_word_has_its_base_name() {
    let words = ["anhydrous", "dried"];
    for salt in salts() {
        let Some((base, word)) = salt.id.rsplit_once('_') else { continue };
        if !word.ends_with("hydrate") && !words.contains(&word) {
            continue;
        }
        let alone =
            salts().iter().filter(|own| own.id.rsplit_once('_').is_some_and(|(b, _)| b == base)).count() == 1;
        let found = identify(base);
        if alone && word == "anhydrous" {
            assert!(found.is_ok() || found.unwrap_err().kind() == Kind::Ambiguous, "{base}");
        } else if base == "magnesium_hydroxide_carbonate" {
            assert!(found.is_ok(), "{base}: the usual name, its composition is nominal");
        } else {
            assert_eq!(found.expect_err(base).kind(), Kind::Ambiguous, "{base}");
        }
    }
}

#[test]
fn what_may_not_go_into_a_drink_is_known_only_to_be_refused() {
    for text in [
        "sugar of lead",
        "barium chloride",
        "BaCl2·2H2O",
        "borax",
        "saltpetre",
        "lithium carbonate",
        "chloride of lime",
        "alum",
        "sodium fluoride",
        "siderite",
        "oxalic acid",
        "lithia water",
    ] {
        let fault = find(text).expect_err(text);
        assert_eq!((fault.code(), fault.kind()), ("salt_refused", Kind::Refused), "{text}");
        assert!(fault.accepted().is_empty());
    }
    for text in ["calcium bicarbonate", "Mg(HCO3)2", "fluid magnesia"] {
        assert_eq!(code(text), "salt_only_in_solution", "{text}");
    }
    assert_eq!(code("ferric ammonium citrate"), "composition_varies");
    assert_eq!(code("lime water"), "preparation_named");
    for salt in salts() {
        let refused =
            matches!(salt.weighable(), Err(MatterError::Refused { .. } | MatterError::OnlyInSolution { .. }));
        assert_eq!(refused, !salt.refusal.is_empty(), "{} says why", salt.id);
    }
}

#[test]
fn unknown_names_are_answered_with_near_ones() {
    for (text, near) in [
        ("epsom slat", "magnesium_sulfate_heptahydrate"),
        ("sodium bicarbonat", "sodium_bicarbonate"),
        ("magnesium sulfate pentahydrate", "magnesium_sulfate_heptahydrate"),
        ("MgSO4·5H2O", "magnesium_sulfate_heptahydrate"),
        ("pottassium chloride", "potassium_chloride"),
        ("nacl", "sodium_chloride"),
        ("mgso4.7h2o", "magnesium_sulfate_heptahydrate"),
    ] {
        let fault = find(text).expect_err(text);
        assert_eq!((fault.code(), fault.kind()), ("salt_unknown", Kind::Unknown), "{text}");
        assert!(fault.accepted().iter().any(|id| id == near), "{text}: {:?}", fault.accepted());
        assert!(fault.accepted().iter().all(|id| find(id).is_ok()), "{text}");
    }
    for text in ["", " ", "zzzzqqqq", "\u{0}", &"salt ".repeat(10_000)] {
        assert!(find(text).expect_err("not a salt").accepted().is_empty());
    }
}

/// Tables looked up for standards.md section 2, g without water in 100 g of water at 0, 20, 40, 60 °C; that page
/// states that the curves agree to 2 %, sodium bicarbonate at 60 °C to 3 %.
#[test]
fn solubilities_agree_with_the_checked_lines() {
    let blank = f64::NAN;
    for (id, line) in [
        ("sodium_bicarbonate", [6.9, 9.6, 12.7, 16.4]),
        ("sodium_chloride", [35.7, 36.0, 36.6, 37.3]),
        ("sodium_carbonate_anhydrous", [7.0, 21.5, 48.5, 46.4]),
        ("calcium_chloride_anhydrous", [59.5, 74.5, blank, 136.8]),
        ("calcium_hydroxide", [0.185, 0.165, 0.141, 0.116]),
    ] {
        for (celsius, checked) in [0.0, 20.0, 40.0, 60.0].into_iter().zip(line).filter(|(_, g)| g.is_finite())
        {
            let found = of(id).solubility_g_per_100g(celsius).unwrap();
            let tolerance = if id == "sodium_bicarbonate" && celsius == 60.0 { 0.035 } else { 0.02 };
            assert!((found / checked - 1.0).abs() <= tolerance, "{id} {celsius} {found}");
        }
    }
}

/// Gypsum as the dihydrate in 100 g of water, from an open encyclopaedia's table of handbook values: 2 %.
/// Potassium dihydrogen phosphate, from the published fit of Vogel, Figurski and Vohland 1983 (IUPAC-NIST
/// Solubility Database, system 66_22): ln x = −4.810 − 1510.549/T + 1.128 ln T, mole fraction: 2 %.
#[test]
fn solubilities_agree_with_other_tables() {
    for (celsius, grams) in [(0.0, 0.223), (10.0, 0.244), (20.0, 0.255), (40.0, 0.265)] {
        let found = of("calcium_sulfate_dihydrate").solubility_g_per_100g(celsius).unwrap();
        assert!((found / grams - 1.0).abs() < 0.02, "{celsius} {found}");
    }
    for celsius in [20.0, 25.0, 40.0, 60.0] {
        let kelvin: f64 = celsius + 273.15;
        let x = libm::exp(-4.810 - 1510.549 / kelvin + 1.128 * libm::log(kelvin));
        let molality = 1000.0 / 18.015 * x / (1.0 - x);
        let found = of("monopotassium_phosphate").solubility(celsius).unwrap().mol_per_kg_water;
        assert!((found / molality - 1.0).abs() < 0.02, "{celsius} {found} {molality}");
    }
}

/// Identities: every hydrate of a salt saturates the same water; what dissolves, with the water it brings, is that
/// water again; a hydrate that melts into its own water has no limit.
#[test]
fn hydrates_share_one_saturated_water() {
    for salt in salts().iter().filter(|salt| salt.form == Form::Solid) {
        let Some(curve) = salt.solubility_curve() else { continue };
        for point in &curve.points {
            let at = salt.solubility(point.celsius).unwrap();
            let Some(grams) = at.grams_per_100_g else { continue };
            let mol = grams / salt.molar_mass().unwrap();
            let water = 100.0 + mol * (salt.molar_mass().unwrap() - curve.of.anhydrous().molar_mass());
            let again = 1000.0 * mol / water;
            assert!((again / at.mol_per_kg_water - 1.0).abs() < 1e-12, "{} {}", salt.id, point.celsius);
        }
    }
    // 120.361 and 246.466 g/mol, 33.5 g without water in 100 g: by hand 105.7 g of Epsom salt in 100 g of poured water.
    let epsom = of("magnesium_sulfate_heptahydrate").solubility_g_per_100g(20.0).unwrap();
    assert!((epsom - 105.7).abs() < 0.1, "{epsom}");
    // Quicklime binds water: 0.165 g of Ca(OH)2 is 0.165·56.077/74.092 g of CaO.
    let lime = of("calcium_oxide").solubility_g_per_100g(20.0).unwrap();
    assert!((lime - 0.165 * 56.077 / 74.092).abs() < 1e-3, "{lime}");
    let melts = of("calcium_chloride_hexahydrate").solubility(40.0).unwrap();
    assert_eq!(melts.grams_per_100_g, None);
}

#[test]
fn solubility_is_never_extrapolated_and_says_what_is_rough() {
    let glauber = of("sodium_sulfate_decahydrate");
    assert!(glauber.solubility(-0.1).is_none() && glauber.solubility(60.1).is_none());
    assert!(glauber.solubility(f64::NAN).is_none());
    assert!(glauber.solubility(30.0).unwrap().notes[0].contains("32.38"));
    assert!(glauber.solubility(15.0).unwrap().notes.is_empty());
    assert_eq!(of("sodium_bisulfate").solubility_g_per_100g(20.0), None, "one point at 25 °C");
    assert!(of("phosphoric_acid").is_miscible() && of("phosphoric_acid").solubility(20.0).is_none());
    assert!(
        of("carbon_dioxide").solubility(20.0).is_none() && of("carbon_dioxide").solubility_curve().is_some()
    );
    let middle = of("potassium_chloride").solubility(15.0).unwrap();
    assert!((middle.mol_per_kg_water - 10.0 * (31.2 + 34.2) / 2.0 / 74.548).abs() < 1e-3);
}

#[test]
fn curves_rise_in_temperature_and_fit_their_salts() {
    for salt in salts() {
        let Some(curve) = salt.solubility_curve() else { continue };
        assert!(curve.points.windows(2).all(|pair| pair[0].celsius < pair[1].celsius), "{}", curve.id);
        assert!(
            curve.points.iter().all(|point| point.grams > 0.0 && point.uncertainty_percent > 0.0),
            "{}",
            curve.id
        );
        assert!(curve.changes.iter().all(|change| change.lo <= change.hi), "{}", curve.id);
        // The salt is the curve's salt with some water more or less.
        let waters = (salt.molar_mass().unwrap() - curve.of.anhydrous().molar_mass()) / 18.015;
        assert!((waters * 2.0 - (waters * 2.0).round()).abs() < 1e-6, "{} {waters}", salt.id);
    }
    let ids: BTreeSet<&str> = Table::read(TABLES[8].1).rows().map(|row| row.text("curve")).collect();
    assert_eq!(CATALOGUE.curves.len(), ids.len(), "the points of a curve stand together");
}

#[test]
fn what_plain_water_does_not_take_up_is_marked() {
    for text in
        ["chalk", "magnesia alba", "MgO", "Mg(OH)2", "magnesite", "Ca(OH)2", "CaO", "CaHPO4·2H2O", "TCP"]
    {
        let need = find(text).unwrap().needs.expect(text);
        assert!(need.bars_plain_water() && !need.why.is_empty(), "{text}");
    }
    assert!(!find("gypsum").unwrap().needs.unwrap().bars_plain_water());
    assert!(find("Epsom salt").unwrap().needs.is_none());
    // Whatever 100 g of water take up less than 0.05 g of, at every point, and is for drinks, has its need stated.
    for salt in salts().iter().filter(|salt| salt.weighable().is_ok() && salt.form == Form::Solid) {
        let Some(curve) = salt.solubility_curve() else { continue };
        if curve.points.iter().all(|point| point.grams < 0.05) {
            assert!(salt.needs.is_some_and(|need| need.bars_plain_water()), "{}", salt.id);
        }
    }
}

#[test]
fn liquids_are_what_is_dissolved_and_their_share() {
    for salt in salts().iter().filter(|salt| salt.form == Form::Solution) {
        assert!(salt.assay_must_be_stated() && salt.formula_is == FormulaIs::Dissolved, "{}", salt.id);
        let assay = salt.assay.expect(salt.id);
        assert!(assay.percent.hi.is_some_and(|hi| assay.percent.lo < hi && hi < 100.0), "{}", salt.id);
    }
    let lactate = find("potassium lactate").unwrap();
    assert_eq!(lactate.dissolution().unwrap().of(Component::K), 1.0);
    assert!(!find("sodium chloride").unwrap().assay_must_be_stated());
    assert!(find("magnesium bisglycinate").unwrap().assay_must_be_stated());
}

/// Every word of the tables is one that the reader knows, every row is of a salt, and every source key resolves.
#[test]
fn the_tables_are_whole() {
    let keys: BTreeSet<&str> =
        Table::read(include_str!("../../../data/sources.tsv")).rows().map(|row| row.text("key")).collect();
    let known: [(&str, &[&str]); 10] = [
        ("form", &["solid", "solution", "gas", "only_in_solution", "phase"]),
        ("formula_is", &["exact", "nominal", "dissolved", "repeat_unit", "varies"]),
        ("food_use", &["yes", "not_food", "poison_in_old_recipes"]),
        ("use_class", &["food", "process", "restricted", "history", "concept", "lab_only"]),
        ("trust", &["H", "M", "L"]),
        ("needs", &["co2_or_acid", "acid", "time", "never"]),
        ("kind", &["trade", "historical", "base", "preparation", "measured", "estimated", "fitted"]),
        ("unit", &["%", "g/mL", "g/100 g water", "C"]),
        ("confidence", &["V", "C", "M"]),
        (
            "hazard",
            &[
                "caustic",
                "acid",
                "oxidising",
                "dust",
                "heat",
                "fumes",
                "harmful",
                "allergen",
                "asphyxiant",
                "pressure",
                "flammable",
            ],
        ),
    ];
    for (table, text) in TABLES {
        let head = text.lines().find(|line| !line.starts_with('#')).unwrap();
        for row in Table::read(text).rows() {
            let place = format!("{table} {}", row.text(head.split('\t').next().unwrap()));
            for column in head.split('\t') {
                let cell = row.text(column);
                if let Some((_, words)) = known.iter().find(|(name, _)| *name == column) {
                    assert!(words.contains(&cell), "{place} {column} {cell}");
                }
                if column == "salt" {
                    assert!(salt(cell).is_some(), "{place}");
                }
                if column.ends_with("source") && !cell.is_empty() {
                    assert!(keys.contains(cell), "{place}: source {cell}");
                }
            }
            assert!(
                head.split('\t').any(|c| c.ends_with("source") && !row.text(c).is_empty()),
                "{place} has a source"
            );
        }
    }
    assert!(salts().iter().flat_map(Salt::sources).all(|key| keys.contains(key)));
}

/// Ranges run upwards and stay physical: assay of hydrates may pass 100 %, powders float or hardly sink.
#[test]
fn ranges_are_physical() {
    let within = |range: Option<Range>, lo: f64, hi: f64, id: &str| {
        let Some(range) = range else { return };
        assert!(
            range.lo >= lo && range.lo <= range.hi.unwrap_or(range.lo) && range.hi.unwrap_or(lo) <= hi,
            "{id}"
        );
    };
    for salt in salts() {
        within(salt.assay.map(|assay| assay.percent), 10.0, 110.0, salt.id);
        within(salt.bulk_density, 0.02, 2.0, salt.id);
        within(salt.ph_of_1_percent, 1.0, 13.5, salt.id);
        within(salt.deliquesces_at, 5.0, 100.0, salt.id);
    }
}

/// A label may print an E number only from the Union list; magnesium sulfate has an INS number alone
/// (standards.md 1.9).
#[test]
fn magnesium_sulfate_has_no_e_number() {
    for salt in hydrates_of(of("magnesium_sulfate_heptahydrate").formula.as_ref().unwrap()) {
        assert_eq!(salt.ins.map(|ins| ins.text), Some("518"));
        assert!(salt.eu_e.is_none());
    }
    assert_eq!(of("sodium_bicarbonate").eu_e.map(|e| e.text), Some("E500(ii)"));
}

proptest::proptest! {
    #[test]
    fn any_text_is_answered(text in "\\PC{0,40}|[A-Za-z0-9 ·.()'-]{0,40}") {
        let found = find(&text);
        if let Err(fault) = &found {
            proptest::prop_assert!(!fault.to_string().is_empty() && !fault.mend().is_empty());
        }
        let id = |salt: &Salt| salt.id;
        proptest::prop_assert!(found.is_err() || found.map(id) == identify(&text).map(id));
    }
}

/// Common practice, no published source: a level spoon holds its volume times the loose bulk density, and lots of one
/// salt differ by tens of percent; so both ends of a range stand in a row, and a 5 mL spoon tells no mass.
#[test]
fn a_level_spoon_differs_between_lots_by_tens_of_percent() {
    let mut spreads: Vec<f64> = salts()
        .iter()
        .filter(|salt| salt.form == Form::Solid)
        .filter_map(|salt| salt.bulk_density)
        .filter_map(|density| Some((5.0 * density.hi?) / (5.0 * density.lo) - 1.0))
        .collect();
    spreads.sort_by(f64::total_cmp);
    assert!(spreads.len() > 60, "{} rows have both ends", spreads.len());
    assert!(spreads[0] > 0.05, "the narrowest range is {:.0} %", 100.0 * spreads[0]);
    let median = spreads[spreads.len() / 2];
    assert!((0.1..1.0).contains(&median), "the median range is {:.0} %", 100.0 * median);
}
