//! Equilibrium: constants, activity, the solver, the carbonate system.
