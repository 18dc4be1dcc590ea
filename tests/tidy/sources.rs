//! Every number has a source: each row of a data table that holds one names at least one key of `sources.tsv`, and
//! each key there is used.

use crate::{demand_none, demand_one, tree};
use std::collections::{BTreeMap, BTreeSet};

const FOLDER: &str = "crates/chem/data/";
const LIST: &str = "crates/chem/data/sources.tsv";
const CONFIDENCE: [&str; 3] = ["V", "C", "M"];

/// A table as it stands in the file: its column names, and its rows with their line numbers.
struct Table<'a> {
    columns: Vec<&'a str>,
    rows: Vec<(usize, Vec<&'a str>)>,
}

fn cells(line: &str) -> Vec<&str> {
    line.split('\t').map(str::trim).collect()
}

fn read(text: &str) -> Table<'_> {
    let mut lines =
        (1..).zip(text.lines()).filter(|(_, line)| !line.trim().is_empty() && !line.starts_with('#'));
    let columns = lines.next().map_or(Vec::new(), |(_, line)| cells(line));
    Table { columns, rows: lines.map(|(number, line)| (number, cells(line))).collect() }
}

impl<'a> Table<'a> {
    fn columns_where(&self, wanted: impl Fn(&str) -> bool) -> Vec<usize> {
        (0..self.columns.len()).filter(|&at| wanted(self.columns[at])).collect()
    }

    /// The keys that a row names, over all its source columns.
    fn keys(&self, row: &[&'a str]) -> Vec<&'a str> {
        let named = |name: &str| matches!(name.rsplit('_').next(), Some("source" | "sources"));
        let cells = self.columns_where(named).into_iter().filter_map(|at| row.get(at).copied());
        cells.flat_map(|cell| cell.split([';', ',', ' '])).filter(|key| !key.is_empty()).collect()
    }
}

/// Keys of the list, each with how often it stands there.
fn listed(list: &str) -> BTreeMap<&str, usize> {
    let table = read(list);
    let mut counts = BTreeMap::new();
    for (_, row) in &table.rows {
        *counts.entry(row[0]).or_default() += 1;
    }
    counts
}

/// Faults of the list itself: columns, repeated keys, rows that cite nothing.
fn list_faults(list: &str) -> Vec<String> {
    let table = read(list);
    if table.columns != ["key", "kind", "citation"] {
        return vec![format!("{LIST}: the columns are {:?}, not key, kind, citation", table.columns)];
    }
    let repeated = listed(list).into_iter().filter(|(_, count)| *count > 1);
    let mut faults: Vec<String> =
        repeated.map(|(key, _)| format!("{LIST}: {key} stands more than once")).collect();
    let thin = |row: &[&str]| row.len() != 3 || row.iter().any(|cell| cell.is_empty()) || row[2].len() < 10;
    for (line, row) in table.rows.iter().filter(|(_, row)| thin(row)) {
        faults.push(format!("{LIST}:{line}: {:?} lacks a kind or a citation", row[0]));
    }
    faults
}

/// Faults of one data table: rows without a key, keys that do not resolve, a confidence that is no mark.
fn table_faults(path: &str, text: &str, list: &str) -> Vec<String> {
    let (table, known) = (read(text), listed(list));
    let mut faults = Vec::new();
    for (line, row) in &table.rows {
        if row.len() > table.columns.len() {
            faults.push(format!("{path}:{line}: {} cells under {} columns", row.len(), table.columns.len()));
        }
        let keys = table.keys(row);
        // A row of names alone asserts nothing that a source could bear out; the first cell names the row.
        if keys.is_empty() && row.iter().skip(1).any(|cell| cell.parse::<f64>().is_ok()) {
            faults.push(format!("{path}:{line}: no source"));
        }
        for key in keys.iter().filter(|key| !known.contains_key(*key)) {
            faults.push(format!("{path}:{line}: the source {key} is not in sources.tsv"));
        }
        for at in table.columns_where(|name| name == "confidence") {
            let mark = row.get(at).copied().unwrap_or("");
            if !CONFIDENCE.contains(&mark) {
                faults.push(format!("{path}:{line}: the confidence {mark:?} is none of V, C, M"));
            }
        }
    }
    faults
}

/// Keys that neither a table nor a program text names.
fn unused(list: &str, tables: &[tree::File], programs: &[tree::File]) -> Vec<String> {
    let read_tables: Vec<Table<'_>> = tables.iter().map(|file| read(&file.text)).collect();
    let used: BTreeSet<&str> =
        read_tables.iter().flat_map(|table| table.rows.iter().flat_map(|(_, row)| table.keys(row))).collect();
    let in_program = |key: &str| programs.iter().any(|file| tree::has_word(&file.text, key));
    let idle = listed(list).into_keys().filter(|key| !used.contains(key) && !in_program(key));
    idle.map(|key| format!("{LIST}: nothing uses {key}")).collect()
}

fn data_tables() -> (String, Vec<tree::File>) {
    let all = tree::files(|path| path.starts_with(FOLDER) && path.ends_with(".tsv"));
    let (list, tables): (Vec<_>, Vec<_>) = all.into_iter().partition(|file| file.path == LIST);
    let list = list.into_iter().next().expect("crates/chem/data/sources.tsv exists").text;
    assert!(!tables.is_empty(), "there are no data tables");
    (list, tables)
}

#[test]
fn every_row_names_a_source_that_resolves() {
    let (list, tables) = data_tables();
    let of_tables = tables.iter().flat_map(|file| table_faults(&file.path, &file.text, &list));
    demand_none(list_faults(&list).into_iter().chain(of_tables).collect());
}

#[test]
fn every_source_is_used() {
    let (list, tables) = data_tables();
    demand_none(unused(&list, &tables, &tree::files(|path| path.starts_with("crates/chem/src/"))));
}

#[test]
fn planted_faults_are_found() {
    let list = "key\tkind\tcitation\nhandbook_1\thandbook\tA handbook, 3rd edition, table 4.\n";
    let twice = format!("{list}handbook_1\tpaper\tThe same key on another line.\n");
    demand_one(&list_faults(&twice), "more than once");
    demand_one(&list_faults(&format!("{list}paper_2\tpaper\n")), "paper_2");
    demand_one(&list_faults("key\tcitation\n"), "columns");
    let of = |text: &str| table_faults("t.tsv", text, list);
    assert_eq!(of("salt\tmass\tconfidence\tsource\nA\t1\tV\thandbook_1\n"), Vec::<String>::new());
    demand_one(&of("salt\tmass\tsource\nA\t1\t\n"), "no source");
    demand_one(&of("salt\tmass\nA\t1\n"), "no source");
    assert_eq!(of("piece\twords\n100000\t100_000;lakh\n"), Vec::<String>::new());
    demand_one(&of("# remark\nsalt\tmass_source\nA\thandbook_1; paper_9\n"), "t.tsv:3: the source paper_9");
    demand_one(&of("salt\tsource\tconfidence\nA\thandbook_1\tsure\n"), "none of V, C, M");
    demand_one(&of("salt\tsource\nA\thandbook_1\tstray\n"), "3 cells under 2");
    let idle = format!("{list}paper_2\tpaper\tA paper that nobody read.\n");
    let table = tree::File { path: "t.tsv".to_owned(), text: "salt\tsource\nA\thandbook_1\n".to_owned() };
    let program =
        tree::File { path: "a.rs".to_owned(), text: "/// By paper_23 and \"handbook_1\".\n".to_owned() };
    demand_one(&unused(&idle, &[table], &[program]), "paper_2");
}
