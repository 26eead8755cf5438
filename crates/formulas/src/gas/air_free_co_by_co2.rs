//! Carbon monoxide in flue gas, with the excess air taken out by the carbon dioxide.

use quantity::{Kind, Quantity, Ratio};

use crate::{Accepts, Confirmed, Formula, Gives, Input, Outcome, Problem, Source};

/// A fuel gas, by the carbon dioxide of its flue gas without excess air.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FuelGas {
    /// Propane: 13.8 %.
    Propane,
    /// Natural gas: 11.8 %.
    NaturalGas,
}

impl FuelGas {
    /// Most carbon dioxide that its dry flue gas can have.
    fn ultimate(self) -> f64 {
        match self {
            Self::Propane => 0.138,
            Self::NaturalGas => 0.118,
        }
    }
}

/// Carbon monoxide as if no excess air were in the sample: `CO·CO₂ultimate/CO₂`.
///
/// # Errors
/// [`Problem::Input`] for more carbon dioxide than the fuel can give; [`Problem::OutOfRange`] under 1 %.
pub fn air_free_co_by_co2(
    co: Ratio,
    carbon_dioxide: Ratio,
    fuel: FuelGas,
) -> Result<Ratio, Problem> {
    let ultimate = fuel.ultimate();
    // A hundredth of a percent for the rounding of the ultimate value.
    if carbon_dioxide.base() > ultimate + 1e-4 {
        return Err(Problem::input(
            "carbon_dioxide",
            format!(
                "is more than this fuel can give; accepted: at most {} %",
                quantity::write_number(ultimate * 100.0)
            ),
        ));
    }
    if carbon_dioxide.base() < 0.01 {
        return Err(Problem::out_of_range(
            "valid from 1 % carbon dioxide on: this sample is almost all air; move the probe into the \
             flue gas",
        ));
    }
    Ok(co * (ultimate / carbon_dioxide.base()))
}

pub(crate) static FORMULA: Formula = Formula {
    name: "gas.air_free_co_by_co2",
    summary: "Carbon monoxide in flue gas without excess air, by the carbon dioxide.",
    inputs: &[
        Input::quantity("co", Kind::Ratio, "carbon monoxide measured in the flue gas")
            .accepting(Accepts::Between("0 ppm", "100000 ppm")),
        Input::quantity(
            "carbon_dioxide",
            Kind::Ratio,
            "carbon dioxide measured in the same sample",
        )
        .accepting(Accepts::Between("0 %", "100 %")),
        Input::word("fuel", &["propane", "natural_gas"], "what burns; propane without it")
            .optional(),
    ],
    result: Gives::quantity("air_free_co", "ppm", "carbon monoxide without excess air"),
    parts: &[],
    valid: "from 1 % carbon dioxide on",
    sources: &[Source {
        document: "Canadian gas-technician training text",
        section: "unit 3: air-free carbon monoxide; ultimate 13.8 % for propane, 11.8 % for natural gas",
        confirmed: Confirmed::Read,
    }],
    example: &[("co", "100 ppm"), ("carbon_dioxide", "9.2 %")],
    compute: |inputs| {
        let fuel = match inputs.optional_words("fuel") {
            Some("natural_gas") => FuelGas::NaturalGas,
            _ => FuelGas::Propane,
        };
        let free = air_free_co_by_co2(inputs.get("co")?, inputs.get("carbon_dioxide")?, fuel)?;
        Ok(Outcome::new(free).note(
            "for flue gas; carbon monoxide in the room itself: leave, ventilate, shut the appliance off",
        ))
    },
};

#[cfg(test)]
mod tests {
    use crate::Problem;
    use crate::tests::{check, refuses};

    const NAME: &str = "gas.air_free_co_by_co2";

    /// Worked from the equation; 100 ppm at 9.2 % is the same flue gas as 100 ppm at 7.0 % oxygen.
    #[test]
    fn excess_air_is_taken_out_by_the_carbon_dioxide() {
        for (co, carbon_dioxide, ppm) in
            [("100 ppm", "9.2 %", 150.0), ("60 ppm", "6.9 %", 120.0), ("30 ppm", "13.8 %", 30.0)]
        {
            check(NAME, &[("co", co), ("carbon_dioxide", carbon_dioxide)], ppm, "ppm", 1e-6);
        }
        let natural = [("co", "100 ppm"), ("carbon_dioxide", "5.9 %"), ("fuel", "natural_gas")];
        check(NAME, &natural, 200.0, "ppm", 1e-6);
    }

    #[test]
    fn too_little_is_out_of_range_and_too_much_is_an_input_error() {
        let problem = refuses(NAME, &[("co", "10 ppm"), ("carbon_dioxide", "0.9 %")], "almost all");
        assert!(matches!(problem, Problem::OutOfRange { .. }));
        let problem = refuses(NAME, &[("co", "10 ppm"), ("carbon_dioxide", "14 %")], "13.8 %");
        assert!(matches!(problem, Problem::Input { .. }));
    }
}
