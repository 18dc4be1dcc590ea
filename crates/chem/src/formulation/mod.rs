//! Formulation: from a wanted water to grams on the scale.
