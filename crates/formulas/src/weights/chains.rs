//! Whether a trailer's safety chains are strong enough, by two rules that differ.

use quantity::exact::{force::standard_pound_force, mass::avoirdupois_pound};
use quantity::{Force, Kind, Mass};

use crate::{Accepts, Confirmed, Formula, Gives, Input, Outcome, Output, Problem, Source};

use super::{coupling_class::coupling_class, whole_count::whole_count};

/// Safety chains against both rules.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Chains {
    /// Breaking strength of all chains together.
    pub combined: Force,
    /// What they need together: the gross weight.
    pub combined_needed: Force,
    /// What each needs by its coupling class.
    pub each_needed: Force,
    /// All together reach the gross weight.
    pub combined_enough: bool,
    /// Each reaches what its class asks for.
    pub each_enough: bool,
}

/// Together the chains must reach the gross weight (guidance to 49 CFR 393.70(d)); SAE J684 asks of each
/// what its coupling class states, in class 4 the gross weight.
///
/// # Errors
/// [`Problem::Input`] if the count is none; [`Problem::OutOfRange`] above 10,000 lb.
pub fn chains(gross: Mass, breaking: Force, count: f64) -> Result<Chains, Problem> {
    let count = whole_count("chains", count, 4.0)?;
    let each_needed = coupling_class(gross)?.chain;
    let combined = breaking * count;
    let combined_needed = Force::new::<standard_pound_force>(gross.get::<avoirdupois_pound>());
    let reaches = |strength: Force, needed: Force| strength >= needed * (1.0 - 1e-12);
    Ok(Chains {
        combined,
        combined_needed,
        each_needed,
        combined_enough: reaches(combined, combined_needed),
        each_enough: reaches(breaking, each_needed),
    })
}

pub(crate) static FORMULA: Formula = Formula {
    name: "weights.chains",
    summary: "Breaking strength of a trailer's safety chains, together and each, against two rules.",
    inputs: &[
        Input::quantity("gross", Kind::Mass, "gross weight of the trailer")
            .accepting(Accepts::Above("0 lb")),
        Input::quantity(
            "breaking",
            Kind::Force,
            "breaking strength of each chain, not its working load",
        )
        .accepting(Accepts::Above("0 lbf")),
        Input::quantity("chains", Kind::Number, "how many; without it, 2").optional(),
    ],
    result: Gives::quantity("combined", "lbf", "breaking strength of all together"),
    parts: &[
        Gives::quantity("combined_needed", "lbf", "what they need together"),
        Gives::quantity("each_needed", "lbf", "what each needs by its coupling class"),
        Gives::words("combined_enough", "together they reach the gross weight"),
        Gives::words("each_enough", "each reaches what its class asks for"),
    ],
    valid: "ball couplings up to 10,000 lb gross",
    sources: &[
        Source {
            document: "FMCSA guidance to 49 CFR 393.70",
            section: "(d): both chains together reach the gross weight",
            confirmed: Confirmed::Read,
        },
        Source {
            document: "SAE J684",
            section: "chains by coupling class, each",
            confirmed: Confirmed::Quoted,
        },
    ],
    example: &[("gross", "7000 lb"), ("breaking", "5400 lbf")],
    compute: |inputs| {
        let count = inputs.optional("chains")?.unwrap_or(2.0);
        let found = chains(inputs.get("gross")?, inputs.get("breaking")?, count)?;
        let mut outcome = Outcome::new(found.combined)
            .part("combined_needed", found.combined_needed)
            .part("each_needed", found.each_needed)
            .part("combined_enough", Output::Truth(found.combined_enough))
            .part("each_enough", Output::Truth(found.each_enough))
            .note("breaking strength is about four times the working load of grades 30, 43 and 70 (from memory)");
        if found.combined_enough && !found.each_enough {
            outcome = outcome.note("meets the federal guidance for both together, not SAE J684 for each; some States ask for each");
        }
        Ok(outcome)
    },
};

#[cfg(test)]
mod tests {
    use crate::{
        Output, Problem,
        tests::{call, check, check_part, part_of, refuses},
    };

    const NAME: &str = "weights.chains";

    /// A 7000 lb trailer with two chains that break at 5400 lbf each, worked from both rules.
    #[test]
    fn two_chains_can_meet_one_rule_and_miss_the_other() {
        let pairs = [("gross", "7000 lb"), ("breaking", "5400 lbf")];
        check(NAME, &pairs, 10_800.0, "lbf", 1e-6);
        check_part(NAME, &pairs, "each_needed", 7_000.0, "lbf", 1e-6);
        let outcome = call(NAME, &pairs).unwrap();
        assert_eq!(part_of(&outcome, "combined_enough"), &Output::Truth(true));
        assert_eq!(part_of(&outcome, "each_enough"), &Output::Truth(false));
        assert!(outcome.notes.iter().any(|note| note.contains("not SAE J684")));
    }

    #[test]
    fn strength_exactly_as_asked_is_enough() {
        let outcome =
            call(NAME, &[("gross", "3500 lb"), ("breaking", "3500 lbf"), ("chains", "1")]).unwrap();
        assert_eq!(part_of(&outcome, "combined_enough"), &Output::Truth(true));
        assert_eq!(part_of(&outcome, "each_enough"), &Output::Truth(true));
    }

    #[test]
    fn part_of_a_chain_is_refused() {
        let pairs = [("gross", "7000 lb"), ("breaking", "5400 lbf"), ("chains", "1.5")];
        assert!(matches!(refuses(NAME, &pairs, "whole number"), Problem::Input { .. }));
    }
}
