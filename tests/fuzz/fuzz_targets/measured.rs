//! An amount that is read is finite.
#![no_main]

use libfuzzer_sys::fuzz_target;
use springwright_chem::quantity::reading::read_measured;

fuzz_target!(|text: &str| {
    if let Ok(read) = read_measured(text) {
        assert!(read.measured.value().is_finite());
        assert!(read.measured.uncertainty().is_none_or(|u| u.is_finite() && u >= 0.0));
    }
});
