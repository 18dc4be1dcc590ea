//! Tables of waters: hostile rows, and the same bits alone, in lanes and in any chunk.
#![allow(clippy::unwrap_used)]

use springwright_chem::composition::pure_water::kell_1975;
use springwright_chem::equilibrium::{Given, Known, Model, is_known};
use springwright_chem::matter::component::Component;
use springwright_chem::phases::saturation;
use springwright_chem::phases::solids::{Solid, solids};
use springwright_chem::properties::conductivity::conductivity;
use springwright_chem::properties::waters::{Answers, Carbonate, Status, Waters, solve};
use springwright_chem::quantity::bounds::Celsius;

/// A stream of numbers from a fixed seed (xorshift).
struct Stream(u64);

impl Stream {
    fn next(&mut self) -> f64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        (self.0 >> 11) as f64 / (1_u64 << 53) as f64
    }

    fn below(&mut self, n: usize) -> usize {
        ((self.next() * n as f64) as usize).min(n - 1)
    }

    /// Ten to a power between two.
    fn decade(&mut self, low: f64, high: f64) -> f64 {
        10_f64.powf(low + (high - low) * self.next())
    }
}

/// The columns of a table, owned.
struct Columns {
    temperature_c: Vec<f64>,
    totals: Vec<(Component, Vec<f64>)>,
    first: Vec<f64>,
    second: Vec<f64>,
}

/// The nine pairs, by which quantity is first and second.
const PAIRS: [(usize, usize); 9] = [(0, 1), (0, 2), (0, 3), (0, 4), (1, 2), (1, 3), (1, 4), (2, 3), (4, 2)];

fn quantity(which: usize, column: &[f64]) -> Carbonate<'_> {
    match which {
        0 => Carbonate::Alkalinity(column),
        1 => Carbonate::Dic(column),
        2 => Carbonate::Ph(column),
        3 => Carbonate::Pco2(column),
        _ => Carbonate::Co2(column),
    }
}

fn empty() -> f64 {
    -777.0
}

/// What a table answers, by column.
struct Solved {
    status: Vec<Status>,
    columns: Vec<Vec<f64>>,
}

const FIGURES: usize = 9;

fn solve_rows(columns: &Columns, pair: (usize, usize), rows: std::ops::Range<usize>) -> Solved {
    let n = rows.len();
    let totals: Vec<(Component, &[f64])> =
        columns.totals.iter().map(|(component, column)| (*component, &column[rows.clone()])).collect();
    let waters = Waters {
        temperature_c: &columns.temperature_c[rows.clone()],
        totals: &totals,
        carbonate: [
            quantity(pair.0, &columns.first[rows.clone()]),
            quantity(pair.1, &columns.second[rows.clone()]),
        ],
    };
    let mut solved = Solved {
        status: vec![Status::NotConverged; n],
        columns: vec![vec![empty(); n]; FIGURES + solids().len()],
    };
    let water = |_: usize, celsius: f64, _: f64, _: f64| kell_1975(celsius) / 1000.0;
    let mut cells = solved.columns.iter_mut().map(|column| column.as_mut_slice());
    let mut next = || cells.next();
    let mut answers = Answers {
        status: &mut solved.status,
        ph: next(),
        alkalinity: next(),
        dic: next(),
        co2: next(),
        pco2_bar: next(),
        ionic_strength: next(),
        residual: next(),
        conductivity: next(),
        conductivity_25c: next(),
        water_kg_per_l: Some(&water),
        saturation: Vec::new(),
    };
    answers.saturation =
        solids().iter().zip(cells).map(|(solid, cells): (&Solid, _)| (solid, cells)).collect();
    solve(&waters, &mut answers).unwrap();
    solved
}

/// Ordinary waters of several kinds: some without this or that component.
fn ordinary(n: usize, pair: (usize, usize)) -> Columns {
    let mut stream = Stream(0x5eed_0001);
    let ids = ["Ca", "Mg", "Na", "K", "Cl", "SO4", "NO3", "SiO2", "F", "PO4", "citrate", "Fe"];
    let mut columns = Columns {
        temperature_c: (0..n).map(|_| (200.0 * stream.next()).round() / 4.0).collect(),
        totals: ids.iter().map(|id| (Component::read(id).unwrap(), Vec::new())).collect(),
        first: Vec::new(),
        second: Vec::new(),
    };
    for (at, (_, column)) in columns.totals.iter_mut().enumerate() {
        let (low, high) = if at < 6 { (-4.5, -2.0) } else { (-7.0, -3.5) };
        let rare = if at < 6 { 0.02 } else { 0.6 };
        column.extend((0..n).map(|_| if stream.next() < rare { 0.0 } else { stream.decade(low, high) }));
    }
    for _ in 0..n {
        let alkalinity = stream.decade(-4.0, -2.0);
        let of = |which: usize, stream: &mut Stream| match which {
            0 => alkalinity,
            1 => alkalinity * (0.9 + stream.decade(-2.0, 0.3)),
            2 => 5.5 + 4.0 * stream.next(),
            3 => stream.decade(-4.0, 0.7),
            _ => stream.decade(-5.5, -1.5),
        };
        let (first, second) = (of(pair.0, &mut stream), of(pair.1, &mut stream));
        columns.first.push(first);
        columns.second.push(second);
    }
    columns
}

fn bits(solved: &Solved, row: usize) -> (Status, Vec<u64>) {
    (solved.status[row], solved.columns.iter().map(|column| column[row].to_bits()).collect())
}

/// Identity (promise 5): a row has the same bits whatever chunk it stands in, and in every lane.
#[test]
fn same_bits_in_any_chunk() {
    for pair in [(0, 1), (0, 2), (1, 3)] {
        let n = 3_000;
        let columns = ordinary(n, pair);
        let whole = solve_rows(&columns, pair, 0..n);
        assert!(whole.status.iter().filter(|status| **status == Status::Answered).count() > n / 2);
        for size in [1, 3, 64, 999] {
            for from in (0..n).step_by(size).take(300) {
                let rows = from..n.min(from + size);
                let part = solve_rows(&columns, pair, rows.clone());
                for (at, row) in rows.enumerate() {
                    assert_eq!(bits(&part, at), bits(&whole, row), "{pair:?} row {row} by {size}");
                }
            }
        }
    }
}

/// Identity: a row has the bits of the water solved alone, and its fault is the fault of that water; for all nine pairs.
#[test]
fn same_bits_as_alone() {
    for pair in PAIRS {
        let n = 400;
        let columns = ordinary(n, pair);
        let table = solve_rows(&columns, pair, 0..n);
        for row in 0..n {
            let known = |which: usize, value: f64| match which {
                0 => Known::Alkalinity(value),
                1 => Known::Dic(value),
                2 => Known::Ph(value),
                3 => Known::Pco2(value),
                _ => Known::Co2(value),
            };
            let mut given = Given::new(known(pair.0, columns.first[row]), known(pair.1, columns.second[row]));
            for (component, column) in &columns.totals {
                given = given.with(*component, column[row]);
            }
            let celsius = columns.temperature_c[row];
            let model = Model::at(Celsius::new(celsius).unwrap()).unwrap();
            let state = match model.speciate(&given) {
                Ok(state) => state,
                Err(error) => {
                    use springwright_chem::fault::Fault;
                    assert_eq!(table.status[row].code(), Some(error.code()), "{pair:?} {row}: {error}");
                    continue;
                }
            };
            assert_eq!(table.status[row], Status::Answered, "{pair:?} {row}");
            let kappa = conductivity(&state, kell_1975(celsius) / 1000.0).unwrap_or(empty());
            let mut alone = vec![state.ph, state.alkalinity, state.dic, state.co2(), state.pco2()];
            alone.extend([state.ionic_strength, state.residuals.worst(), kappa]);
            for (column, value) in table.columns.iter().zip(&alone) {
                assert_eq!(column[row].to_bits(), value.to_bits(), "{pair:?} {row}: {alone:?}");
            }
            for (solid, column) in solids().iter().zip(&table.columns[FIGURES..]) {
                let index = saturation::of(&state, solid).map_or(empty(), |one| one.index);
                assert_eq!(column[row].to_bits(), index.to_bits(), "{pair:?} {row} {}", solid.id);
            }
        }
    }
}

/// One amount of a hostile row.
fn hostile_amount(stream: &mut Stream) -> f64 {
    match stream.below(40) {
        0 => f64::NAN,
        1 => [f64::INFINITY, f64::NEG_INFINITY, -0.0, f64::MIN_POSITIVE, f64::MAX][stream.below(5)],
        2 => -stream.decade(-12.0, 3.0),
        3..=20 => 0.0,
        _ => stream.decade(-12.0, 3.0),
    }
}

fn hostile(n: usize, pair: (usize, usize), seed: u64) -> Columns {
    let mut stream = Stream(seed);
    let mut columns = Columns {
        temperature_c: (0..n)
            .map(|_| match stream.below(20) {
                0 => [f64::NAN, -1.0, 96.0, 1e300, f64::NEG_INFINITY][stream.below(5)],
                _ => 95.0 * stream.next(),
            })
            .collect(),
        totals: Vec::new(),
        first: Vec::new(),
        second: Vec::new(),
    };
    // few components to a row, and those without constants in one table of eight, so that sound rows are among them
    let every = stream.below(8) == 0;
    let fits = |component: &Component| every || is_known(*component);
    let chosen: Vec<Component> =
        Component::ALL.into_iter().filter(fits).filter(|_| stream.next() < 0.2).collect();
    columns.totals =
        chosen.iter().map(|c| (*c, (0..n).map(|_| hostile_amount(&mut stream)).collect())).collect();
    let mut carbonate = |which: usize| -> Vec<f64> {
        let one = |stream: &mut Stream| match (which, stream.below(20)) {
            (2, 0) => [-300.0, 300.0, 1e9, f64::NAN][stream.below(4)],
            (2, _) => 20.0 * stream.next() - 3.0,
            (0, _) => hostile_amount(stream) * if stream.next() < 0.5 { -1.0 } else { 1.0 },
            _ => hostile_amount(stream),
        };
        (0..n).map(|_| one(&mut stream)).collect()
    };
    (columns.first, columns.second) = (carbonate(pair.0), carbonate(pair.1));
    columns
}

/// One row in words, for the message of a failure.
fn told(columns: &Columns, row: usize) -> String {
    let there = columns.totals.iter().filter(|(_, column)| column[row] != 0.0);
    let totals: Vec<String> = there.map(|(c, column)| format!("{} {:e}", c.id(), column[row])).collect();
    let (first, second) = (columns.first[row], columns.second[row]);
    format!("{} °C, {first:e}, {second:e}, {}", columns.temperature_c[row], totals.join(", "))
}

/// Hostile rows: amounts over fifteen decades, negative, infinite, not a number, absurd pH and temperatures, every mix of
/// components and every pair. Each ends within its counted limits with a status; answered rows hold numbers and residuals
/// to 1e-10, the cells of the others were not touched. `SPRINGWRIGHT_HOSTILE_ROWS` asks for more of them.
#[test]
fn hostile_rows_end() {
    let asked = std::env::var("SPRINGWRIGHT_HOSTILE_ROWS").ok().and_then(|rows| rows.parse().ok());
    let rows: usize = asked.unwrap_or(100_000);
    let each = 500;
    let mut counts = [0_usize; 7];
    for table in 0..rows.div_ceil(each) {
        let pair = PAIRS[table % PAIRS.len()];
        let columns = hostile(each, pair, 0x0dd_ba11 + table as u64 * 0x9e37_79b9);
        let solved = solve_rows(&columns, pair, 0..each);
        for row in 0..each {
            let status = solved.status[row];
            counts[status as usize] += 1;
            let cells = solved.columns.iter().map(|column| column[row]);
            if status == Status::Answered {
                let odd = cells.clone().position(|cell| !cell.is_finite());
                assert!(
                    odd.is_none(),
                    "{pair:?} table {table} row {row} cell {odd:?}: {}",
                    told(&columns, row)
                );
                assert!(solved.columns[6][row] <= 1e-10);
                assert!(cells.take(4).all(|cell| cell != empty()));
            } else {
                assert!(cells.clone().all(|cell| cell == empty()), "{pair:?} table {table} row {row}");
            }
            let bad = columns.totals.iter().any(|(component, column)| {
                let carbonate = matches!(component.id(), "HCO3" | "CO3");
                let amount = column[row].is_finite() && column[row] >= 0.0;
                !carbonate && !amount
            });
            assert!(!bad || status == Status::Amount, "{pair:?} table {table} row {row}: {status:?}");
        }
    }
    println!("answered, temperature, component, strong, amount, no such water, not converged: {counts:?}");
    assert!(counts[0] > rows / 100, "{counts:?}");
}
