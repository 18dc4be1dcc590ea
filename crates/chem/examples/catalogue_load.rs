//! Prints how long the first touch of the catalogue takes: every table read, every formula and name.

use std::time::Instant;

use springwright_chem::matter::catalogue;

fn main() {
    let start = Instant::now();
    let rows = catalogue::salts().len();
    let loaded = start.elapsed();
    let start = Instant::now();
    let near = catalogue::find("magnesium sulfate septahydrate").is_err();
    println!("{rows} rows loaded in {loaded:?}; a near-name search ({near}) took {:?}", start.elapsed());
}
