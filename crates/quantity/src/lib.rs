//! quantity.
