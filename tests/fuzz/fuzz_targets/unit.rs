//! A unit or basis that is read has a symbol that is read as the same.
#![no_main]

use libfuzzer_sys::fuzz_target;
use springwright_chem::quantity::{Basis, Unit};

fuzz_target!(|text: &str| {
    if let Ok(unit) = Unit::read(text) {
        assert_eq!(Unit::read(unit.symbol()), Ok(unit));
    }
    if let Ok(basis) = Basis::read(text) {
        assert_eq!(Basis::read(basis.symbol()).as_ref(), Ok(&basis));
    }
});
