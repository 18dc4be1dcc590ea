//! Cells of a table, one a line: as many answers as cells, each finite.
#![no_main]

use libfuzzer_sys::fuzz_target;
use springwright_chem::quantity::number::{Cell, read_numbers};

fuzz_target!(|text: &str| {
    let cells: Vec<&str> = text.split('\n').collect();
    let read = read_numbers(&cells);
    assert_eq!(read.cells.len(), cells.len());
    for cell in read.cells {
        if let Ok(Cell::Value(value) | Cell::Below(value)) = cell {
            assert!(value.is_finite() && value >= 0.0);
        }
    }
});
