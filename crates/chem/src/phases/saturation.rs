//! Saturation indices: how far a water stands from each solid that its components could make.

use super::solids::{Solid, solids};
use crate::equilibrium::Speciation;
use crate::equilibrium::constants::LN_10;

/// One solid beside a water.
#[derive(Clone, Copy, Debug)]
pub struct Saturation {
    /// The solid.
    pub solid: &'static Solid,
    /// log10 of the ion activity product over the solubility product. At 1 the water holds ten times the product that
    /// the solid allows; at 0 it is just saturated; below, the solid would dissolve.
    pub index: f64,
    /// The index divided by the number of ions of a formula unit, to compare solids of many ions.
    pub per_ion: f64,
    /// Standard uncertainty of the index from that of the constant.
    pub uncertainty: f64,
    /// Whether the temperature lies within the measurements of the constant.
    pub measured: bool,
}

/// The saturation index of one solid; none where one of its ions is absent.
///
/// ```
/// use springwright_chem::equilibrium::{Given, Known, Model};
/// use springwright_chem::matter::component::Component;
/// use springwright_chem::phases::{saturation, solids};
/// use springwright_chem::quantity::bounds::Celsius;
/// let model = Model::at(Celsius::new(25.0)?)?;
/// let hard = |calcium: f64| {
///     let given = Given::new(Known::Ph(8.0), Known::Dic(0.003)).with(Component::CA, calcium);
///     let state = model.speciate(&given.with(Component::CL, 2.0 * calcium)).expect("within the model");
///     saturation::of(&state, solids::find("calcite").expect("a solid of the table")).expect("has its ions").index
/// };
/// // an index one higher is about ten times the calcium
/// assert!((hard(1e-4) - hard(1e-5) - 1.0).abs() < 0.05);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn of(state: &Speciation, solid: &'static Solid) -> Option<Saturation> {
    let mut ln = solid.water * state.ln_water;
    for (at, n) in &solid.products {
        ln += n * state.ln_activity_at(*at)?;
    }
    let index = ln / LN_10 - solid.log_k_of(&state.system.values.warmth).0[0];
    Some(Saturation {
        solid,
        index,
        per_ion: index / solid.ions(),
        uncertainty: solid.uncertainty,
        measured: solid.is_measured_at(state.celsius()),
    })
}

/// The indices of every solid whose ions are all present, in the order of the table.
pub fn all(state: &Speciation) -> Vec<Saturation> {
    solids().iter().filter_map(|solid| of(state, solid)).collect()
}
