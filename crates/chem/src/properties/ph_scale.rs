//! How far a pH depends on the choice of its scale.

/// Ionic strength in mol/kg and the standard uncertainty that the choice of the scale brings there: what usual
/// conventions of the activity of a single ion differ by (an estimate of this house from the families of models that it
/// compared). Below the first none; between them straight lines; above the last the line goes on.
const STEPS: [(f64, f64); 3] = [(0.1, 0.0), (1.0, 0.05), (3.0, 0.1)];

/// Standard uncertainty of a pH by the choice of its scale, for an ionic strength in mol/kg.
///
/// ```
/// use springwright_chem::properties::ph_scale::uncertainty_of_choice;
/// assert_eq!(uncertainty_of_choice(0.01), 0.0);
/// assert!((uncertainty_of_choice(3.0) - 0.1).abs() < 1e-12);
/// ```
pub fn uncertainty_of_choice(ionic_strength: f64) -> f64 {
    let [(none, nothing), (strong, one), (stronger, other)] = STEPS;
    if ionic_strength <= none {
        nothing
    } else if ionic_strength <= strong {
        one * (ionic_strength - none) / (strong - none)
    } else {
        one + (other - one) * (ionic_strength - strong) / (stronger - strong)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The three stated points, and that it only grows.
    #[test]
    fn the_choice_shows_more_in_stronger_waters() {
        for (strength, u) in STEPS {
            assert!((uncertainty_of_choice(strength) - u).abs() < 1e-12);
        }
        let all: Vec<f64> = (0..60).map(|at| uncertainty_of_choice(0.1 * f64::from(at))).collect();
        assert!(all.windows(2).all(|pair| pair[0] <= pair[1]));
    }
}
