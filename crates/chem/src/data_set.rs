//! The data set: every table that is compiled in, so that a door can name it by a digest.

macro_rules! tables {
    ($($name:literal),* $(,)?) => {
        &[$(($name, include_str!(concat!("../data/", $name)))),*]
    };
}

/// Name and text of every compiled-in table, by name.
pub fn tables() -> &'static [(&'static str, &'static str)] {
    TABLES
}

static TABLES: &[(&str, &str)] = tables![
    "analysis_acceptance.tsv",
    "analysis_mistakes.tsv",
    "analysis_silent.tsv",
    "analysis_uncertainties.tsv",
    "atomic_weights.tsv",
    "bases.tsv",
    "cautions.tsv",
    "cautions_carbonation.tsv",
    "components.tsv",
    "conductivity_ions.tsv",
    "conductivity_pairs.tsv",
    "conductivity_salts.tsv",
    "dissolving.tsv",
    "haze_limits.tsv",
    "haze_seen.tsv",
    "haze_times.tsv",
    "log_k_solids.tsv",
    "log_k_species.tsv",
    "pitzer_defaults.tsv",
    "pitzer_mixing.tsv",
    "pitzer_pairs.tsv",
    "salt_additives.tsv",
    "salt_assays.tsv",
    "salt_behaviour.tsv",
    "salt_bulk_density.tsv",
    "salt_handling.tsv",
    "salt_names.tsv",
    "salt_needs.tsv",
    "salt_solid_changes.tsv",
    "salt_solubility.tsv",
    "salts.tsv",
    "sources.tsv",
    "unit_choices.tsv",
    "unit_words.tsv",
    "units.tsv",
    "volume_slope.tsv",
    "volumes.tsv",
];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_table_of_the_folder_is_named() {
        let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/data");
        let mut found: Vec<String> = std::fs::read_dir(folder)
            .unwrap()
            .map(|entry| entry.unwrap().file_name().into_string().unwrap())
            .collect();
        found.sort();
        let named: Vec<&str> = tables().iter().map(|(name, _)| *name).collect();
        assert_eq!(named, found);
    }
}
