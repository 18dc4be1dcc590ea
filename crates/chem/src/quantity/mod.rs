//! Quantities: units, bases, hardness degrees, old measures, and the reader of written amounts.
