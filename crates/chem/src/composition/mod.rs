//! Composition: what a laboratory reported, the conserved totals behind it, and what follows from totals alone.
