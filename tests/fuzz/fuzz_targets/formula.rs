//! A formula that is read has a mass, and its canonical form is read as itself.
#![no_main]

use libfuzzer_sys::fuzz_target;
use springwright_chem::matter::formula::Formula;

fuzz_target!(|text: &str| {
    if let Ok(formula) = Formula::read(text) {
        assert!(formula.molar_mass() > 0.0 && formula.molar_mass().is_finite());
        let again = Formula::read(&formula.canonical()).expect("a canonical form is read");
        assert_eq!(again.canonical(), formula.canonical());
    }
});
