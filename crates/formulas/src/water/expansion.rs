//! How much water grows when it warms.

use quantity::{Kind, Quantity, Ratio, Temperature, Volume};

use super::properties::{DENSITY, density};
use crate::{Accepts, Confirmed, Formula, Gives, Input, Outcome, Problem, Source};

/// Share by which water grows from a cold to a hot temperature: `ρ_cold/ρ_hot − 1`.
///
/// # Errors
/// [`Problem::Input`] if the hot is not hotter; [`Problem::OutOfRange`] where water is not liquid.
pub fn expansion_share(cold: Temperature, hot: Temperature) -> Result<Ratio, Problem> {
    if hot < cold {
        return Err(Problem::input(
            "hot",
            "is colder than the cold; accepted: the cold temperature or more",
        ));
    }
    Ok(Ratio::from_base((density(cold)? / density(hot)?).base() - 1.0))
}

pub(crate) static FORMULA: Formula = Formula {
    name: "water.expansion",
    summary: "Volume by which water grows when it warms in a closed system.",
    inputs: &[
        Input::quantity("volume", Kind::Volume, "volume of the cold water")
            .accepting(Accepts::AtLeast("0 gal")),
        Input::quantity("cold", Kind::Temperature, "temperature before")
            .accepting(Accepts::AtLeast("0 K")),
        Input::quantity("hot", Kind::Temperature, "temperature after")
            .accepting(Accepts::AtLeast("0 K")),
    ],
    result: Gives::quantity("growth", "floz", "by how much it grows"),
    parts: &[Gives::quantity("share", "%", "growth as a share of the volume")],
    valid: "liquid water, 32 degF to 212 degF",
    sources: &[
        DENSITY,
        Source {
            document: "California Plumbing Code 2013",
            section: "608.3: provision for expansion behind a check valve or regulator",
            confirmed: Confirmed::Read,
        },
    ],
    example: &[("volume", "6 gal"), ("cold", "60 degF"), ("hot", "140 degF")],
    compute: |inputs| {
        let share = expansion_share(inputs.get("cold")?, inputs.get("hot")?)?;
        Ok(Outcome::new(inputs.get::<Volume>("volume")? * share)
            .part("share", share)
            .note("behind a check valve or regulator this volume needs somewhere to go"))
    },
};

#[cfg(test)]
mod tests {
    use crate::tests::{check, check_part, refuses};

    const NAME: &str = "water.expansion";

    /// Computed with iapws 1.5.5: 6 gal grow by 1.61 % from 60 to 140 °F.
    #[test]
    fn a_small_heater_grows_by_a_cup_and_a_half() {
        let given = [("volume", "6 gal"), ("cold", "60 degF"), ("hot", "140 degF")];
        check(NAME, &given, 12.4, "floz", 0.05);
        check_part(NAME, &given, "share", 1.61, "%", 0.005);
    }

    #[test]
    fn steam_and_swapped_temperatures_are_refused() {
        for (cold, hot, words) in
            [("60 degF", "230 degF", "liquid water"), ("140 degF", "60 degF", "colder")]
        {
            refuses(NAME, &[("volume", "6 gal"), ("cold", cold), ("hot", hot)], words);
        }
    }
}
