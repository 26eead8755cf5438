//! record.
