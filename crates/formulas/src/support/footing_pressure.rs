//! What a footing presses on the soil.

use quantity::exact::mass_density::pound_per_foot_cubed;
use quantity::uom::si::f64::MassDensity;
use quantity::{Force, Kind, Length, Pressure, Quantity};

use crate::{Accepts, Confirmed, Formula, Gives, Input, Outcome, Source};

/// Weight of plain concrete. lb/ft³
const CONCRETE: f64 = 150.0;
/// Standard gravity, m/s² (NIST SP 811, B.8).
const STANDARD_GRAVITY: f64 = 9.806_65;

/// Pressure under a footing.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FootingPressure {
    /// Of the load alone.
    pub net: Pressure,
    /// With the footing's own weight: what the soil bears.
    pub gross: Pressure,
}

/// `P/A`, and the same with the weight of the concrete, 12.5 psf for each inch of thickness.
#[must_use]
pub fn footing_pressure(
    load: Force,
    width: Length,
    length: Length,
    thickness: Length,
) -> FootingPressure {
    let net: Pressure = load / (width * length);
    let concrete = MassDensity::new::<pound_per_foot_cubed>(CONCRETE);
    let own = concrete.base() * STANDARD_GRAVITY * thickness.base();
    FootingPressure { net, gross: net + Pressure::from_base(own) }
}

pub(crate) static FORMULA: Formula = Formula {
    name: "support.footing_pressure",
    summary: "Pressure of a concrete footing on the soil, with the footing's own weight.",
    inputs: &[
        Input::quantity("load", Kind::Force, "load of the pier")
            .accepting(Accepts::AtLeast("0 lbf")),
        Input::quantity("width", Kind::Length, "of the footing").accepting(Accepts::Above("0 in")),
        Input::quantity("length", Kind::Length, "of the footing").accepting(Accepts::Above("0 in")),
        Input::quantity(
            "thickness",
            Kind::Length,
            "of the footing; 0 in for one whose weight is left out",
        )
        .accepting(Accepts::AtLeast("0 in")),
    ],
    result: Gives::quantity("pressure", "psf", "what the soil bears: the gross pressure"),
    parts: &[
        Gives::quantity("net", "psf", "of the load alone"),
        Gives::quantity("gross", "psf", "with the footing's own weight"),
    ],
    valid: "plain concrete of 150 lb/ft3 under a load at its middle",
    sources: &[
        Source {
            document: "definition: load divided by area",
            section: "",
            confirmed: Confirmed::Derived,
        },
        Source {
            document: "concrete weighs 150 lb/ft3",
            section: "12.5 psf for each inch",
            confirmed: Confirmed::CommonPractice,
        },
    ],
    example: &[
        ("load", "5500 lbf"),
        ("width", "24 in"),
        ("length", "24 in"),
        ("thickness", "6 in"),
    ],
    compute: |inputs| {
        let pressure = footing_pressure(
            inputs.get("load")?,
            inputs.get("width")?,
            inputs.get("length")?,
            inputs.get("thickness")?,
        );
        Ok(Outcome::new(pressure.gross).part("net", pressure.net).part("gross", pressure.gross).note(
            "soil is taken to bear 1500 psf unless something about the site calls for less (24 CFR \
             3285.202); peat, organic clay and loose fill are for a professional",
        ))
    },
};

#[cfg(test)]
mod tests {
    use crate::tests::{check, check_part, refuses};

    const NAME: &str = "support.footing_pressure";

    fn square<'a>(load: &'a str, side: &'a str, thickness: &'a str) -> [(&'a str, &'a str); 4] {
        [("load", load), ("width", side), ("length", side), ("thickness", thickness)]
    }

    /// 5500 lbf on 24 in and on 16 in square, worked from the definition; 6 in of concrete are 75 psf.
    #[test]
    fn pressure_is_load_over_area_and_the_concrete() {
        let wide = square("5500 lbf", "24 in", "6 in");
        check_part(NAME, &wide, "net", 1_375.0, "psf", 1e-6);
        check_part(NAME, &wide, "gross", 1_450.0, "psf", 1e-6);
        check(NAME, &wide, 1_450.0, "psf", 1e-6);
        check_part(NAME, &square("5500 lbf", "16 in", "6 in"), "net", 3_094.0, "psf", 0.5);
    }

    /// The federal footing table (from memory) in its own steps of 100 lb: the load that brings the gross
    /// pressure to the allowable one.
    #[test]
    fn the_footing_table_is_met_by_the_gross_pressure() {
        for (load, side, thickness, allowable) in [
            ("1644 lbf", "16 in", "6 in", 1_000.0),
            ("2569 lbf", "20 in", "6 in", 1_000.0),
            ("3700 lbf", "24 in", "6 in", 1_000.0),
            ("5625 lbf", "30 in", "8 in", 1_000.0),
            ("7875 lbf", "36 in", "10 in", 1_000.0),
            ("2533 lbf", "16 in", "6 in", 1_500.0),
            ("5600 lbf", "24 in", "8 in", 1_500.0),
        ] {
            check_part(NAME, &square(load, side, thickness), "gross", allowable, "psf", 0.3);
        }
    }

    #[test]
    fn a_mass_is_taken_as_its_weight() {
        check_part(NAME, &square("5500 lb", "24 in", "6 in"), "net", 1_375.0, "psf", 1e-6);
    }

    #[test]
    fn a_footing_without_area_is_refused() {
        refuses(NAME, &square("5500 lbf", "0 in", "6 in"), "not possible");
    }
}
