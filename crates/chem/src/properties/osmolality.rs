//! Osmolality: what the solutes take from the activity of water.

use crate::equilibrium::Speciation;
use crate::equilibrium::constants::WATER_MOLAR_MASS;

/// Osmolality, osmol per kg of water: -ln a_w over the molar mass of water.
pub fn osmolality(state: &Speciation) -> f64 {
    -state.ln_water / WATER_MOLAR_MASS
}

#[cfg(test)]
mod tests {
    use super::osmolality;
    use crate::equilibrium::{Given, Known, Model};
    use crate::matter::component::Component;
    use crate::quantity::bounds::Celsius;

    /// Sodium chloride at 25 °C: osmotic coefficients 0.9324, 0.9245, 0.9209, 0.9355 at 0.1, 0.2, 0.5, 1 mol/kg (Robinson
    /// and Stokes 1959, from memory); 0.3 %. The 0.9 % infusion (0.154 mol/kg) is 286 mosmol/kg by handbooks; 1 %.
    #[test]
    fn osmolality_of_sodium_chloride() {
        let model = Model::at(Celsius::new(25.0).unwrap()).unwrap();
        let of = |m: f64| {
            let given = Given::new(Known::Alkalinity(0.0), Known::Dic(0.0));
            osmolality(&model.speciate(&given.with(Component::NA, m).with(Component::CL, m)).unwrap())
        };
        for (m, phi) in [(0.1, 0.9324), (0.2, 0.9245), (0.5, 0.9209), (1.0, 0.9355)] {
            assert!((of(m) / (2.0 * m * phi) - 1.0).abs() < 3e-3, "{m}");
        }
        assert!((of(0.154) / 0.286 - 1.0).abs() < 0.01);
    }
}
