//! report.
