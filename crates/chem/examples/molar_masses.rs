//! Prints the id, formula and molar mass (g/mol) of every row of the catalogue, separated by tabs, for a check
//! against an outside table of atomic weights: `tests/outside/catalogue_masses.py`.

use springwright_chem::matter::catalogue::salts;

fn main() {
    for salt in salts() {
        if let (Some(formula), Some(molar_mass)) = (&salt.formula, salt.molar_mass()) {
            println!("{}\t{}\t{molar_mass:.6}", salt.id, formula.canonical());
        }
    }
}
