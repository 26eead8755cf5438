//! The invented job that `nearside demo` makes: its pictures, drawn by the program itself.

pub mod exif;
pub mod photos;
