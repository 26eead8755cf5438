//! plan.
