//! A leak from how often a pump with an accumulator starts with all taps shut.

use quantity::{Kind, Pressure, Quantity, Time, Volume, VolumeFlow};

use crate::{Accepts, Confirmed, Formula, Gives, Input, Outcome, Problem, Source};

const STANDARD_ATMOSPHERE: f64 = 101_325.0; // Pa

/// Water that an accumulator gives between cut-out and cut-in.
///
/// `ΔV = V·p₀·(1/p_in − 1/p_out)`, absolute pressures, air at constant temperature. A pre-charge above the cut-in
/// leaves the accumulator empty before the pump starts, so the pre-charge then stands for the cut-in.
///
/// # Errors
/// [`Problem::Input`] if the pump cuts out at or below the cut-in or the pre-charge.
pub fn accumulator_drawdown(
    accumulator_volume: Volume,
    precharge: Pressure,
    cut_in: Pressure,
    cut_out: Pressure,
) -> Result<Volume, Problem> {
    if cut_out <= cut_in {
        return Err(Problem::input(
            "cut_out",
            "is not above the cut-in; accepted: more than the cut-in pressure",
        ));
    }
    if cut_out <= precharge {
        return Err(Problem::input(
            "precharge",
            "is not below the cut-out, so no water enters the accumulator; accepted: less than the cut-out \
             pressure",
        ));
    }
    let absolute = |pressure: Pressure| pressure.base() + STANDARD_ATMOSPHERE;
    let lowest = absolute(cut_in).max(absolute(precharge));
    Ok(accumulator_volume * (absolute(precharge) * (1.0 / lowest - 1.0 / absolute(cut_out))))
}

/// Leak that empties the accumulator's draw-down in the time between two starts of the pump.
///
/// # Errors
/// As [`accumulator_drawdown`].
pub fn pump_leak(
    accumulator_volume: Volume,
    precharge: Pressure,
    cut_in: Pressure,
    cut_out: Pressure,
    time: Time,
) -> Result<VolumeFlow, Problem> {
    Ok(accumulator_drawdown(accumulator_volume, precharge, cut_in, cut_out)? / time)
}

pub(crate) static FORMULA: Formula = Formula {
    name: "water.pump_leak",
    summary: "Leak from the time between two starts of a pump with an accumulator, all taps shut.",
    inputs: &[
        Input::quantity("accumulator_volume", Kind::Volume, "whole volume of the accumulator")
            .accepting(Accepts::Above("0 gal")),
        Input::quantity("cut_in", Kind::Pressure, "pressure at which the pump starts")
            .accepting(Accepts::Between("0 psi", "200 psi")),
        Input::quantity("cut_out", Kind::Pressure, "pressure at which it stops")
            .accepting(Accepts::Between("0 psi", "200 psi")),
        Input::quantity("time", Kind::Time, "time from its stop to its next start, all taps shut")
            .accepting(Accepts::Above("0 s")),
        Input::quantity(
            "precharge",
            Kind::Pressure,
            "air pressure of the empty accumulator; the cut-in without it",
        )
        .optional()
        .accepting(Accepts::Between("0 psi", "200 psi")),
    ],
    result: Gives::quantity("leak", "gph", "water that leaves the system"),
    parts: &[
        Gives::quantity(
            "drawdown",
            "gal",
            "water that the accumulator gives between stop and start",
        ),
        Gives::quantity("acceptance", "%", "share of the accumulator's volume"),
    ],
    valid: "up to 200 psi, at sea level, air in the accumulator at a steady temperature",
    sources: &[Source { document: "Boyle’s law", section: "", confirmed: Confirmed::Derived }],
    example: &[
        ("accumulator_volume", "0.26 gal"),
        ("precharge", "30 psi"),
        ("cut_in", "40 psi"),
        ("cut_out", "55 psi"),
        ("time", "10 min"),
    ],
    compute: |inputs| {
        let volume = inputs.get("accumulator_volume")?;
        let cut_in = inputs.get("cut_in")?;
        let precharge = inputs.optional("precharge")?.unwrap_or(cut_in);
        let drawdown = accumulator_drawdown(volume, precharge, cut_in, inputs.get("cut_out")?)?;
        Ok(Outcome::new(drawdown / inputs.get::<Time>("time")?)
            .part("drawdown", drawdown)
            .part("acceptance", drawdown / volume)
            .note(
                "cooling hot water also lowers the pressure, and a city connection's check valve may let water \
                 by into the tank: rule these out before calling it a leak",
            ))
    },
};

#[cfg(test)]
mod tests {
    use crate::Problem;
    use crate::tests::{check, check_part, refuses};

    const NAME: &str = "water.pump_leak";

    fn cycling<'a>(
        volume: &'a str,
        precharge: &'a str,
        cut_in: &'a str,
        cut_out: &'a str,
    ) -> [(&'a str, &'a str); 5] {
        [
            ("accumulator_volume", volume),
            ("precharge", precharge),
            ("cut_in", cut_in),
            ("cut_out", cut_out),
            ("time", "10 min"),
        ]
    }

    /// Boyle's law; 0.37, 0.31 and 0.27 are also the factors in tank makers' tables.
    #[test]
    fn an_accumulator_gives_what_boyle_says() {
        for (precharge, cut_in, cut_out, factor) in [
            ("20 psi", "20 psi", "40 psi", 36.56),
            ("30 psi", "30 psi", "50 psi", 30.91),
            ("40 psi", "40 psi", "60 psi", 26.77),
            ("28 psi", "30 psi", "50 psi", 29.53),
        ] {
            let given = cycling("1 gal", precharge, cut_in, cut_out);
            check_part(NAME, &given, "acceptance", factor, "%", 0.006);
        }
    }

    #[test]
    fn a_start_every_ten_minutes_is_a_quarter_gallon_an_hour() {
        let given = cycling("0.26 gal", "30 psi", "40 psi", "55 psi");
        check(NAME, &given, 0.274, "gph", 0.000_5);
        check(NAME, &given, 17.3, "cc/min", 0.05);
        check_part(NAME, &given, "drawdown", 0.0457, "gal", 0.000_05);
    }

    #[test]
    fn a_precharge_over_the_cut_in_stands_for_it_and_without_one_the_cut_in_is_taken() {
        let over = cycling("1 gal", "45 psi", "40 psi", "60 psi");
        check_part(NAME, &over, "acceptance", 20.08, "%", 0.01);
        let without: Vec<_> = cycling("1 gal", "", "40 psi", "60 psi")
            .into_iter()
            .filter(|(name, _)| *name != "precharge")
            .collect();
        check_part(NAME, &without, "acceptance", 26.77, "%", 0.01);
    }

    #[test]
    fn pressures_in_the_wrong_order_are_named() {
        for (given, input) in [
            (cycling("1 gal", "30 psi", "60 psi", "40 psi"), "cut_out"),
            (cycling("1 gal", "60 psi", "30 psi", "50 psi"), "precharge"),
        ] {
            let problem = refuses(NAME, &given, "accepted");
            assert!(matches!(problem, Problem::Input { ref name, .. } if name == input));
        }
    }
}
