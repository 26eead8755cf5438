//! How long a leak takes to fill a room to a level, if it mixed.

use quantity::{Kind, Quantity, Ratio, Time, Volume, VolumeFlow};

use crate::{Accepts, Confirmed, Formula, Gives, Input, Outcome, Problem, Source};

/// Time until well-mixed air holds a share of gas.
///
/// Without ventilation `t = V·C/q`; with n air changes an hour `t = −ln(1 − C·V·n/q)/n`.
///
/// # Errors
/// [`Problem::OutOfRange`] if the ventilation carries the gas off before the level is reached.
pub fn accumulation_time(
    volume: Volume,
    leak: VolumeFlow,
    level: Ratio,
    air_changes_an_hour: f64,
) -> Result<Time, Problem> {
    let still = level.base() * volume.base() / leak.base();
    let n = air_changes_an_hour / 3_600.0;
    if n <= 0.0 {
        return Ok(Time::from_base(still));
    }
    if still * n >= 1.0 {
        return Err(Problem::out_of_range(
            "in well-mixed air this ventilation keeps the level from being reached; propane is heavy and \
             pools low, so that is no reassurance",
        ));
    }
    Ok(Time::from_base(-libm::log1p(-still * n) / n))
}

pub(crate) static FORMULA: Formula = Formula {
    name: "gas.accumulation_time",
    summary: "Time until a leak fills well-mixed air to a level: a bound, never a reassurance.",
    inputs: &[
        Input::quantity("volume", Kind::Volume, "volume of the room")
            .accepting(Accepts::Above("0 ft3")),
        Input::quantity("leak", Kind::VolumeFlow, "leak of propane vapour")
            .accepting(Accepts::Above("0 cfh")),
        Input::quantity(
            "level",
            Kind::Ratio,
            "share of propane, such as 0.525 % (a quarter of the lower flammable limit)",
        )
        .accepting(Accepts::AboveUpTo("0 %", "10 %")),
        Input::quantity("air_changes", Kind::Number, "air changes an hour; 0 without it")
            .optional()
            .accepting(Accepts::Between("0", "100")),
    ],
    result: Gives::quantity("time", "h", "until the level is reached, if the gas mixed"),
    parts: &[],
    valid: "gas that mixes with all the air, which propane does not: it pools low",
    sources: &[Source {
        document: "balance of gas in well-mixed air",
        section: "",
        confirmed: Confirmed::Derived,
    }],
    example: &[("volume", "1500 ft3"), ("leak", "5 cfh"), ("level", "0.525 %")],
    compute: |inputs| {
        let time = accumulation_time(
            inputs.get("volume")?,
            inputs.get("leak")?,
            inputs.get("level")?,
            inputs.optional("air_changes")?.unwrap_or(0.0),
        )?;
        Ok(Outcome::new(time).note(
            "a bound only: propane is half as heavy again as air and pools low, where it is dangerous long \
             before; smell gas, leave, shut it off outside, touch no switch",
        ))
    },
};

#[cfg(test)]
mod tests {
    use crate::Problem;
    use crate::tests::{check, refuses};

    const NAME: &str = "gas.accumulation_time";

    fn room<'a>(leak: &'a str, changes: &'a str) -> [(&'a str, &'a str); 4] {
        [("volume", "1500 ft3"), ("leak", leak), ("level", "0.525 %"), ("air_changes", changes)]
    }

    /// Worked from the balance: 1,500 ft³ to a quarter of the lower flammable limit.
    #[test]
    fn a_leak_fills_a_room_as_the_balance_says() {
        for (leak, changes, hours) in
            [("1 cfh", "0", 7.88), ("5 cfh", "0", 1.58), ("12 cfh", "0.3", 0.73)]
        {
            check(NAME, &room(leak, changes), hours, "h", 0.006);
        }
    }

    #[test]
    fn ventilation_that_carries_it_off_is_no_reassurance() {
        let problem = refuses(NAME, &room("1 cfh", "0.3"), "no reassurance");
        assert!(matches!(problem, Problem::OutOfRange { .. }));
    }
}
