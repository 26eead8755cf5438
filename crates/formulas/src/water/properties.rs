//! Density and viscosity of water, and the weight of a gallon.

use quantity::uom::si::thermodynamic_temperature::degree_celsius;
use quantity::{Density, Mass, Quantity, Temperature, Volume, exact};

use crate::{Confirmed, Problem, Source};

/// Where the density comes from.
pub(super) const DENSITY: Source = Source {
    document: "Kell, J. Chem. Eng. Data 20 (1975) 97",
    section: "density of water at one atmosphere; agrees with IAPWS-IF97 within 0.01 %",
    confirmed: Confirmed::FromMemory,
};

/// Where the viscosity comes from.
pub(super) const VISCOSITY: Source = Source {
    document: "IAPWS SR6-08, properties of liquid water at 0.1 MPa",
    section: "viscosity; agrees with IAPWS 2008 within 0.1 %",
    confirmed: Confirmed::FromMemory,
};

/// Temperature in °C of liquid water at one atmosphere.
fn celsius(temperature: Temperature) -> Result<f64, Problem> {
    let celsius = temperature.get::<degree_celsius>();
    // A hair's breadth for the rounding of the unit conversion.
    if (-1e-9..=100.0 + 1e-9).contains(&celsius) {
        Ok(celsius)
    } else {
        Err(Problem::out_of_range("valid for liquid water, 32 degF to 212 degF"))
    }
}

/// Density of water at one atmosphere, 0 °C to 100 °C, by Kell's equation.
pub(super) fn density(temperature: Temperature) -> Result<Density, Problem> {
    let t = celsius(temperature)?;
    let above = 999.839_52
        + t * (16.945_176
            + t * (-7.987_040_1e-3
                + t * (-46.170_461e-6 + t * (105.563_02e-9 + t * -280.542_53e-12))));
    Ok(Density::from_base(above / (1.0 + 16.879_85e-3 * t)))
}

/// Viscosity of water at 0.1 MPa in pascal seconds: `μ = 10⁻⁶·Σ aᵢ·(T/300 K)^bᵢ`.
pub(super) fn viscosity(temperature: Temperature) -> Result<f64, Problem> {
    let reduced = (celsius(temperature)? + 273.15) / 300.0;
    let terms = [(280.68, -1.9), (511.45, -7.7), (61.131, -19.6), (0.459_03, -40.0)];
    Ok(terms.iter().map(|(a, b)| a * libm::pow(reduced, *b)).sum::<f64>() * 1e-6)
}

/// Weight of so much cold water, at the trade's 8.34 lb/gal.
pub(super) fn weight(volume: Volume) -> Mass {
    volume * Density::new::<exact::mass_density::pound_per_us_gallon>(8.34)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::table::Table;

    static WATER: Table =
        Table::of(include_str!("../../../../reference/water_properties/water.csv"));

    /// Computed with the library iapws 1.5.5 (IAPWS-IF97) at 0.4 MPa: pounds a gallon.
    #[test]
    fn a_gallon_weighs_less_the_warmer_it_is() {
        use quantity::uom::si::thermodynamic_temperature::degree_fahrenheit;
        for (fahrenheit, pounds) in [(40.0, 8.346), (60.0, 8.338), (120.0, 8.251), (140.0, 8.206)] {
            let dense = density(Temperature::new::<degree_fahrenheit>(fahrenheit)).unwrap();
            let got = dense.get::<exact::mass_density::pound_per_us_gallon>();
            assert!((got - pounds).abs() < 0.002_5, "{fahrenheit} °F: {got}");
        }
    }

    /// Computed with the library iapws 1.5.5 (IAPWS-IF97 and the viscosity release of 2008).
    #[test]
    fn density_and_viscosity_agree_with_the_international_formulation() {
        let mut count = 0;
        for row in WATER.rows() {
            let temperature = Temperature::new::<degree_celsius>(row.number("celsius"));
            let dense = density(temperature).unwrap().base() / row.number("density");
            let viscous = viscosity(temperature).unwrap() / row.number("viscosity");
            assert!((dense - 1.0).abs() < 1e-4, "{}: {dense}", row.text("celsius"));
            assert!((viscous - 1.0).abs() < 1e-3, "{}: {viscous}", row.text("celsius"));
            count += 1;
        }
        assert_eq!(count, 200);
    }
}
