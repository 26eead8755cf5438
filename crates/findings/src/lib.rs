//! findings.
