//! Every source key of the tables of matter and quantities resolves in the list of sources.

use std::collections::BTreeSet;

use springwright_chem::matter::component::Component;
use springwright_chem::matter::element;
use springwright_chem::quantity::Unit;

#[test]
fn every_source_key_resolves() {
    let list = include_str!("../data/sources.tsv");
    let mut keys = BTreeSet::new();
    for line in list.lines().skip(1).filter(|line| !line.is_empty()) {
        let cells: Vec<&str> = line.split('\t').collect();
        assert!(cells.len() == 3 && cells.iter().all(|cell| !cell.trim().is_empty()), "{line}");
        assert!(keys.insert(cells[0]), "{} stands twice", cells[0]);
    }
    let used = element::all().iter().map(|element| element.source);
    let used =
        used.chain(Component::ALL.into_iter().map(Component::source)).chain(Unit::all().map(Unit::source));
    for key in used {
        assert!(keys.contains(key), "{key}");
    }
}
