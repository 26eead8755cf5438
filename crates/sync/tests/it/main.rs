//! The crate as its callers meet it.
