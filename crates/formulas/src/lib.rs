//! formulas.
