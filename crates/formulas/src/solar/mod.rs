//! Solar: where the sun stands, what a clear sky gives, what a panel makes of it.
//!
//! Symbols: θ zenith angle, γ azimuth or temperature coefficient, E irradiance, T_c cell temperature,
//! T_a air temperature, v wind speed, P power, P₀ rated power, T_L Linke turbidity.

mod cell_temperature;
mod clear_sky;
mod expected_power;
mod on_panel;
mod output;
mod position;
mod series;
mod short_circuit;
mod sun;

pub use cell_temperature::{Mounting, cell_temperature};
pub use clear_sky::{ClearSky, clear_sky};
pub use expected_power::expected_power;
pub use output::{PanelOutput, panel_output};
pub use position::{SunPosition, position};
pub use series::{clear_skies, positions};
pub use short_circuit::short_circuit;

use crate::Formula;

/// The formulas of this system.
pub const FORMULAS: &[&Formula] = &[
    &position::FORMULA,
    &clear_sky::FORMULA,
    &on_panel::FORMULA,
    &cell_temperature::FORMULA,
    &expected_power::FORMULA,
    &short_circuit::FORMULA,
    &output::FORMULA,
];
