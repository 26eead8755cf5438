//! What the gas appliances ask for, together and on the average.

use quantity::{Kind, Power, Quantity, Ratio};

use crate::{Accepts, Confirmed, Formula, Gives, Input, Outcome, Problem, Source};

/// All inputs at once.
#[must_use]
pub fn demand_together(loads: &[Power]) -> Power {
    Power::from_base(loads.iter().map(|load| load.base()).sum())
}

/// Average input: each input times the share of the time it burns.
///
/// # Errors
/// [`Problem::Input`] if there are not as many shares as inputs.
pub fn average_demand(loads: &[Power], shares: &[Ratio]) -> Result<Power, Problem> {
    if loads.len() != shares.len() {
        return Err(Problem::input(
            "shares",
            format!(
                "has {} shares for {} inputs; give one for each, in the same order",
                shares.len(),
                loads.len()
            ),
        ));
    }
    let average = loads.iter().zip(shares).map(|(load, share)| load.base() * share.base());
    Ok(Power::from_base(average.sum()))
}

pub(crate) static FORMULA: Formula = Formula {
    name: "gas.demand",
    summary: "Heat input that gas appliances ask for, on the average and together.",
    inputs: &[
        Input::list("inputs", Kind::Power, "input of each appliance, by its plate")
            .accepting(Accepts::AtLeast("0 Btu/h")),
        Input::list(
            "shares",
            Kind::Ratio,
            "share of the time that each burns, in the same order; all the time without it",
        )
        .optional()
        .accepting(Accepts::Between("0 %", "100 %")),
    ],
    result: Gives::quantity("average", "Btu/h", "inputs times their shares of the time"),
    parts: &[Gives::quantity("together", "Btu/h", "all inputs at once")],
    valid: "",
    sources: &[Source {
        document: "California Plumbing Code 2013, after NFPA 54",
        section: "1208.4.1, note: the load is that of all appliances at their full input",
        confirmed: Confirmed::Read,
    }],
    example: &[("inputs", "40000, 1500, 12000 Btu/h"), ("shares", "35, 100, 10 %")],
    compute: |inputs| {
        let loads: Vec<Power> = inputs.list("inputs")?;
        let mut shares: Vec<Ratio> = inputs.list("shares")?;
        if shares.is_empty() {
            shares = vec![Ratio::from_base(1.0); loads.len()];
        }
        Ok(Outcome::new(average_demand(&loads, &shares)?)
            .part("together", demand_together(&loads))
            .note("pipe is sized for all inputs together, a container’s run time by the average"))
    },
};

#[cfg(test)]
mod tests {
    use super::FORMULA;
    use crate::Problem;
    use crate::tests::{check, check_part, refuses};

    /// Worked by hand: a furnace of 40,000 Btu/h at 35 %, a refrigerator of 1,500 all the time, a water heater of
    /// 12,000 at 10 % are 16,700 on the average; sixty pounds then last 77.4 h.
    #[test]
    fn the_average_weighs_each_input_with_its_time() {
        check(FORMULA.name, FORMULA.example, 16_700.0, "Btu/h", 1e-6);
        check_part(FORMULA.name, FORMULA.example, "together", 53_500.0, "Btu/h", 1e-6);
        check("gas.run_time", &[("contents", "60 lb"), ("load", "16700 Btu/h")], 77.4, "h", 0.05);
    }

    #[test]
    fn without_shares_everything_burns_all_the_time() {
        check(FORMULA.name, &[("inputs", "25000, 12000 Btu/h")], 37_000.0, "Btu/h", 1e-6);
    }

    #[test]
    fn every_appliance_needs_its_share() {
        let problem = refuses(
            FORMULA.name,
            &[("inputs", "25000, 12000 Btu/h"), ("shares", "20 %")],
            "1 shares for 2 inputs",
        );
        assert!(matches!(problem, Problem::Input { ref name, .. } if name == "shares"));
        let over = [("inputs", "25000 Btu/h"), ("shares", "120 %")];
        assert!(matches!(refuses(FORMULA.name, &over, "not possible"), Problem::Input { .. }));
    }
}
