//! demo.
