//! Tables of waters: the bits of single requests, bad rows that spoil nothing, bad columns that are all named.
#![cfg(feature = "answer")]
#![allow(clippy::unwrap_used)]

use serde_json::{Value, json};
use springwright_contract::answer::calculate;
use springwright_contract::answer::table::WaterTable;
use springwright_contract::reading::Amounts;

const NAMES: [&str; 8] = ["Ca", "Cl", "Mg", "NO3", "Na", "alkalinity", "ph", "temperature_c"];
const UNITS: [&str; 8] = ["mg/L", "mg/L", "mg/kg", "mg/L as N", "mmol/L", "mg/L as CaCO3", "pH", "°C"];

fn request() -> Value {
    let columns: Value =
        NAMES.iter().zip(UNITS).map(|(name, unit)| (name.to_string(), json!(unit))).collect();
    json!({"columns": columns, "solids": ["calcite", "gypsum", "dolomite"], "missing": {"SO4": "zero", "K": "zero"}})
}

/// Rows between a mountain brook and a hard well, by a fixed rule.
fn columns(rows: usize) -> Vec<Vec<f64>> {
    let wave = |row: usize, beat: f64| 0.5 + 0.5 * (row as f64 * beat).sin();
    let of =
        |low: f64, high: f64, beat: f64| (0..rows).map(|row| low + (high - low) * wave(row, beat)).collect();
    vec![
        of(4.0, 160.0, 0.7),
        of(1.0, 90.0, 1.3),
        of(0.4, 40.0, 2.1),
        of(0.1, 11.0, 0.31),
        of(0.05, 4.0, 1.7),
        of(10.0, 380.0, 0.9),
        of(6.3, 8.4, 0.47),
        of(1.0, 35.0, 0.13),
    ]
}

struct Told {
    names: Vec<String>,
    cells: Vec<Vec<f64>>,
    codes: Vec<Option<&'static str>>,
}

fn solved(request: &Value, columns: &[Vec<f64>], chunk: usize) -> Told {
    let table = WaterTable::read(request.to_string().as_bytes()).unwrap();
    let rows = columns[0].len();
    let names = table.answered();
    let mut cells = vec![vec![0.0; rows]; names.len()];
    let mut codes = vec![None; rows];
    for from in (0..rows).step_by(chunk) {
        let to = rows.min(from + chunk);
        let given: Vec<&[f64]> = columns.iter().map(|column| &column[from..to]).collect();
        let mut out: Vec<&mut [f64]> = cells.iter_mut().map(|column| &mut column[from..to]).collect();
        table.solve(&given, &mut out, &mut codes[from..to]);
    }
    Told { names, cells, codes }
}

fn alone(columns: &[Vec<f64>], row: usize) -> Value {
    let mut analysis = serde_json::Map::new();
    for (at, name) in NAMES.iter().enumerate().take(6) {
        let (unit, basis) = UNITS[at].split_once(" as ").unwrap_or((UNITS[at], ""));
        let mut amount = json!({"value": columns[at][row], "unit": unit});
        if !basis.is_empty() {
            amount["basis"] = json!(basis);
        }
        analysis.insert((*name).to_owned(), amount);
    }
    let request = json!({"water": {"analysis": analysis, "ph": columns[6][row], "temperature_c": columns[7][row],
        "missing": {"SO4": "zero", "K": "zero"}}, "solids": ["calcite", "gypsum", "dolomite"]});
    serde_json::from_str(
        &calculate("saturation", request.to_string().as_bytes(), Amounts::Objects)
            .unwrap_or_else(|e| panic!("{e}")),
    )
    .unwrap()
}

/// Identity: every cell of a row has the bits that the same water has alone, in any chunk.
#[test]
fn a_row_has_the_bits_of_the_same_water_alone() {
    let columns = columns(60);
    let told = solved(&request(), &columns, 7);
    let whole = solved(&request(), &columns, 60);
    let at = |name: &str| told.names.iter().position(|own| own == name).unwrap();
    for row in 0..60 {
        assert_eq!(told.codes[row], None, "{row}");
        let water = alone(&columns, row);
        let single = |field: &str| water["water"][field].as_f64().unwrap();
        let conductivity = &water["water"]["conductivity_us_per_cm"];
        let mut pairs = vec![
            ("conductivity_us_per_cm_at_25c", conductivity["at_25c"].as_f64().unwrap()),
            ("conductivity_us_per_cm_at_temperature", conductivity["at_temperature"].as_f64().unwrap()),
        ];
        for name in springwright_contract::answer::table::ANSWERED.iter().take(7) {
            pairs.push((name, single(name)));
        }
        for one in water["saturation"].as_array().unwrap() {
            let name = format!("si_{}", one["solid"].as_str().unwrap());
            assert_eq!(
                told.cells[at(&name)][row].to_bits(),
                one["si"].as_f64().unwrap().to_bits(),
                "{name} {row}"
            );
        }
        for (name, value) in pairs {
            let cell = told.cells[at(name)][row];
            assert_eq!(cell.to_bits(), value.to_bits(), "{name} {row}: {cell} {value}");
            assert_eq!(cell.to_bits(), whole.cells[at(name)][row].to_bits());
        }
        // sulfate was ruled to be absent: no index of gypsum, and nothing in its place
        assert!(told.cells[at("si_gypsum")][row].is_nan());
    }
}

/// Bad rows have their code and empty cells; their neighbours keep their bits.
#[test]
fn bad_rows_spoil_nothing() {
    let good = columns(40);
    let mut bad = good.clone();
    bad[0][3] = -1.0;
    bad[1][4] = f64::NAN;
    bad[2][5] = f64::INFINITY;
    bad[5][6] = 1e12;
    bad[6][7] = 15.0;
    bad[7][8] = -3.0;
    bad[0][9] = 5e5;
    let (one, other) = (solved(&request(), &good, 40), solved(&request(), &bad, 40));
    for row in 0..40 {
        if (3..=9).contains(&row) {
            assert!(other.codes[row].is_some(), "{row}");
            assert!(other.cells.iter().all(|column| column[row].is_nan()), "{row}");
        } else {
            let same = |(a, b): (&Vec<f64>, &Vec<f64>)| a[row].to_bits() == b[row].to_bits();
            assert!(one.cells.iter().zip(&other.cells).all(same), "{row}");
        }
    }
}

/// Waters under a gas and waters brought elsewhere are those of the single request too.
#[test]
fn a_gas_over_all_waters() {
    let columns = columns(12);
    let mut request = request();
    request["co2"] = json!({"state": "open_to_air", "altitude_m": 0});
    request["brought_to_c"] = json!(30);
    let told = solved(&request, &columns, 12);
    assert!(told.codes.iter().all(Option::is_none));
    let ph = &told.cells[0];
    assert!(ph.iter().all(|ph| (7.0..10.0).contains(ph)), "{ph:?}");
}

/// Every fault of the columns comes at once, at its column.
#[test]
fn bad_columns_are_all_named() {
    let request = json!({"columns": {"Ca": "ppm", "Calcium": "mg/L", "alkalinity": "mg/L", "ph": "mg/L", "temperature_c": "°C"},
        "temperature_c": 12, "solids": ["calcit"], "co2": {"state": "keg"}});
    let problem = WaterTable::read(request.to_string().as_bytes()).unwrap_err();
    let places: Vec<(&str, &str)> =
        problem.faults.iter().map(|fault| (fault.pointer.as_str(), fault.code.as_str())).collect();
    for wanted in [
        ("/columns/Ca", "unit_ambiguous"),
        ("/columns/Calcium", "component_unknown"),
        ("/columns/alkalinity", "basis_missing"),
        ("/columns/ph", "unit_mismatch"),
        ("/temperature_c", "temperature_stated_twice"),
        ("/solids/0", "solid_unknown"),
        ("/co2/gauge_bar", "field_missing"),
    ] {
        assert!(places.contains(&wanted), "{wanted:?} in {places:?}");
    }
}

/// Identity: what is asked for alone has the bits that it has among all; the indices stay; an unknown column is told.
#[test]
fn columns_that_are_asked_for_are_those_of_the_whole_table() {
    let columns = columns(40);
    let whole = solved(&request(), &columns, 9);
    let mut asked = request();
    let names = ["conductivity_us_per_cm_at_temperature", "ph", "pco2_bar"];
    asked["answers"] = json!(names);
    let some = solved(&asked, &columns, 9);
    assert_eq!(&some.names[..3], ["ph", "pco2_bar", "conductivity_us_per_cm_at_temperature"]);
    assert_eq!(some.names[3..], whole.names[9..]);
    for (name, cells) in some.names.iter().zip(&some.cells) {
        let at = whole.names.iter().position(|known| known == name).unwrap();
        assert!(
            cells.iter().zip(&whole.cells[at]).all(|(one, other)| one.to_bits() == other.to_bits()),
            "{name}"
        );
    }
    assert_eq!(some.codes, whole.codes);
    asked["answers"] = json!(["ph", "colour"]);
    let problem = WaterTable::read(asked.to_string().as_bytes()).unwrap_err();
    assert_eq!(
        (problem.faults[0].pointer.as_str(), problem.faults[0].code.as_str()),
        ("/answers/1", "column_unknown")
    );
}
