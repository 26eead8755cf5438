//! The load that a park's feeder is laid out for.

use quantity::{Current, Kind, Power, Quantity, Ratio};

use crate::table::Table;
use crate::{Accepts, Confirmed, Formula, Gives, Input, Outcome, Problem, Source};

static DEMANDS: Table = Table::of(include_str!("../../../../data/tables/site_demand.csv"));
const PER_SITE: f64 = 3_600.0; // VA, a 30 A site at 120 V
const ACROSS: f64 = 240.0; // V

/// Demand of a feeder for so many sites: `S·n·d(n)`, the factor d by the number of sites.
///
/// # Errors
/// [`Problem::OutOfRange`] below 20 sites, for which the factors were not read.
pub fn site_feeder(sites: f64, per_site: Power) -> Result<(Power, Ratio), Problem> {
    if (sites - sites.round()).abs() > 1e-9 {
        return Err(Problem::input("sites", "is no count; accepted: a whole number of sites"));
    }
    let table = &DEMANDS;
    let row = table.rows().filter(|row| row.number("from") <= sites + 1e-9).last();
    let row = row.ok_or_else(|| {
        Problem::out_of_range(
            "valid for 20 sites and more; the factors for fewer, which are higher, were not read",
        )
    })?;
    let factor = Ratio::from_base(row.number("demand") / 100.0);
    Ok((per_site * sites * factor, factor))
}

pub(crate) static FORMULA: Formula = Formula {
    name: "mains.site_feeder",
    summary: "Load that the feeder of a park is laid out for, by its number of sites.",
    inputs: &[
        Input::quantity("sites", Kind::Number, "sites on the feeder")
            .accepting(Accepts::AtLeast("1")),
        Input::quantity("per_site", Kind::Power, "of one site; 3600 VA (30 A, 120 V) if left out")
            .accepting(Accepts::Above("0 VA"))
            .optional(),
    ],
    result: Gives::quantity("demand", "VA", "of the feeder"),
    parts: &[
        Gives::quantity("factor", "%", "of the sites' full load that counts"),
        Gives::quantity("a_site", "VA", "what is left of the full load for each site at once"),
        Gives::quantity("current", "A", "at 240 V"),
    ],
    valid: "20 sites and more",
    sources: &[Source {
        document: "NFPA 70 (2008)",
        section: "551.73: 45 % for 20 sites, 43 % for 22 to 24, 42 % for 25 to 35, 41 % for 36 and more",
        confirmed: Confirmed::Read,
    }],
    example: &[("sites", "20")],
    compute: |inputs| {
        let per_site = inputs.optional("per_site")?.unwrap_or(Power::from_base(PER_SITE));
        let (demand, factor) = site_feeder(inputs.get("sites")?, per_site)?;
        Ok(Outcome::new(demand)
            .part("factor", factor)
            .part("a_site", per_site * factor)
            .part("current", Current::from_base(demand.base() / ACROSS))
            .note(
                "parks are laid out for less than half of every site's load at once: on a hot evening the \
                 voltage at the pedestal may fall though nothing is broken",
            ))
    },
};

#[cfg(test)]
mod tests {
    use crate::Problem;
    use crate::tests::{check, check_part, refuses};

    const NAME: &str = "mains.site_feeder";

    /// NFPA 70 (2008), 551.73: 20 sites of 3600 VA at 45 % are 1620 VA a site and 32,400 VA.
    #[test]
    fn twenty_sites_come_to_the_published_feeder() {
        check(NAME, &[("sites", "20")], 32_400.0, "VA", 1e-6);
        check_part(NAME, &[("sites", "20")], "a_site", 1_620.0, "VA", 1e-9);
        check_part(NAME, &[("sites", "20")], "current", 135.0, "A", 1e-9);
    }

    #[test]
    fn factors_fall_with_the_number_of_sites() {
        for (sites, percent) in
            [("22", 43.0), ("24", 43.0), ("25", 42.0), ("35", 42.0), ("36", 41.0), ("300", 41.0)]
        {
            check_part(NAME, &[("sites", sites)], "factor", percent, "%", 1e-9);
        }
    }

    #[test]
    fn fewer_sites_and_halves_are_refused() {
        let few = refuses(NAME, &[("sites", "8")], "20 sites and more");
        assert!(matches!(few, Problem::OutOfRange { .. }));
        let half = refuses(NAME, &[("sites", "20.5")], "whole number");
        assert!(matches!(half, Problem::Input { .. }));
    }
}
