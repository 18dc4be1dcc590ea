//! Faults of the chemistry as faults of a request.

use springwright_chem::fault::Fault as ChemFault;

use crate::problem::Fault;

/// A fault of the chemistry, at a place of the request.
pub(super) fn fault(pointer: impl Into<String>, error: &dyn ChemFault) -> Fault {
    Fault {
        pointer: pointer.into(),
        code: error.code().to_owned(),
        message: error.to_string(),
        accepted: error.accepted(),
        mend: error.mend(),
    }
}

/// A fault that the contract itself finds.
pub(super) fn own(pointer: impl Into<String>, code: &str, message: impl Into<String>, mend: &str) -> Fault {
    Fault {
        pointer: pointer.into(),
        code: code.to_owned(),
        message: message.into(),
        accepted: Vec::new(),
        mend: mend.to_owned(),
    }
}

/// A field that says nothing where it stands, and would otherwise be ignored in silence.
pub(super) fn out_of_place(pointer: &str, field: &str, place: &str) -> Fault {
    own(pointer, "field_out_of_place", format!("'{field}' says nothing of {place}"), "leave it out")
}

/// Both results, or the faults of both.
pub(super) fn both<A, B>(
    one: Result<A, Vec<Fault>>,
    other: Result<B, Vec<Fault>>,
) -> Result<(A, B), Vec<Fault>> {
    match (one, other) {
        (Ok(one), Ok(other)) => Ok((one, other)),
        (one, other) => Err([one.err(), other.err()].into_iter().flatten().flatten().collect()),
    }
}

/// The known word that is nearest to a written one, where one is near enough to be meant.
pub(crate) fn nearest<'a>(written: &str, known: impl Iterator<Item = &'a str>) -> Option<&'a str> {
    let lower = written.to_lowercase();
    known
        .map(|word| (strsim::damerau_levenshtein(&lower, &word.to_lowercase()), word))
        .filter(|(distance, word)| *distance <= 1 + word.len() / 4)
        .min_by_key(|(distance, _)| *distance)
        .map(|(_, word)| word)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_slip_of_the_pen_is_near_and_another_word_is_not() {
        let known = ["temperature_c", "volume_l", "waters"];
        assert_eq!(nearest("temprature_c", known.into_iter()), Some("temperature_c"));
        assert_eq!(nearest("Volume_L", known.into_iter()), Some("volume_l"));
        assert_eq!(nearest("salts", known.into_iter()), None);
    }
}
