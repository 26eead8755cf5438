//! What a tank's level gauge shows, against what is in the tank.

use quantity::{Kind, Quantity, Ratio, Volume};

use crate::{Accepts, Confirmed, Formula, Gives, Input, Inputs, Outcome, Output, Problem, Source};

/// Lamps of the usual panel: empty, a third, two thirds, full.
const USUAL_LAMPS: f64 = 4.0;

/// Error of a gauge: what it shows less what is true, as a share of the tank.
#[must_use]
pub fn gauge_error(shown: Ratio, truth: Ratio) -> Ratio {
    shown - truth
}

/// The farthest that the truth lies from a panel of so many lamps that all work: half of the step between two
/// lamps, `1/(2·(n − 1))`.
///
/// # Errors
/// [`Problem::Input`] for fewer than two lamps, or a part of a lamp.
pub fn coarseness_of_lamps(lamps: f64) -> Result<Ratio, Problem> {
    if lamps < 2.0 || lamps.fract().abs() > 0.0 {
        return Err(Problem::input(
            "lamps",
            "is no number of lamps; accepted: 2 (empty and full), 3, 4 or more",
        ));
    }
    Ok(Ratio::from_base(0.5 / (lamps - 1.0)))
}

/// The true share, given as such or as a metered volume in a tank of known volume.
fn true_share(inputs: &Inputs<'_>) -> Result<(Ratio, Option<Volume>), Problem> {
    let capacity: Option<Volume> = inputs.optional("capacity")?;
    let contents: Option<Volume> = inputs.optional("contents")?;
    let share = match (inputs.optional::<Ratio>("true")?, contents, capacity) {
        (Some(share), None, _) => share,
        (None, Some(contents), Some(capacity)) => contents / capacity,
        (None, Some(_), None) => {
            return Err(Problem::input(
                "capacity",
                "is missing: a metered volume needs the volume of the tank",
            ));
        }
        (Some(_), Some(_), _) => {
            return Err(Problem::input(
                "true",
                "and contents both say what is in the tank; give one of them",
            ));
        }
        (None, None, _) => {
            return Err(Problem::input(
                "true",
                "is missing: give the true level as a share, or contents and capacity",
            ));
        }
    };
    if share.base() > 1.0 + 1e-9 {
        return Err(Problem::input(
            "contents",
            "is more than the tank holds; accepted: 0 up to the capacity",
        ));
    }
    Ok((share, capacity))
}

pub(crate) static FORMULA: Formula = Formula {
    name: "water.gauge_error",
    summary: "Error of a tank's level gauge: what it shows less what is in the tank.",
    inputs: &[
        Input::quantity("shown", Kind::Ratio, "level that the gauge or panel shows, such as 33 %")
            .accepting(Accepts::Between("0 %", "100 %")),
        Input::quantity("true", Kind::Ratio, "true level; or give contents and capacity")
            .optional()
            .accepting(Accepts::Between("0 %", "100 %")),
        Input::quantity("contents", Kind::Volume, "metered volume in the tank")
            .optional()
            .accepting(Accepts::AtLeast("0 gal")),
        Input::quantity("capacity", Kind::Volume, "volume of the full tank")
            .optional()
            .accepting(Accepts::Above("0 gal")),
        Input::quantity(
            "lamps",
            Kind::Number,
            "lamps of the panel, the one for empty counted; 4 without it (empty, 1/3, 2/3, full)",
        )
        .optional(),
    ],
    result: Gives::quantity("error", "%", "shown less true, as a share of the tank; with its sign"),
    parts: &[
        Gives::quantity("size", "%", "the same without its sign"),
        Gives::quantity("true", "%", "true level"),
        Gives::quantity(
            "worst",
            "%",
            "farthest that a panel of so many lamps is out where all of them work",
        ),
        Gives::words("beyond_lamps", "whether the error is more than the lamps explain"),
        Gives::quantity("volume", "gal", "the error as a volume; only where the capacity is given"),
    ],
    valid: "",
    sources: &[Source {
        document: "definition: shown less true; half of the step between two lamps",
        section: "",
        confirmed: Confirmed::Derived,
    }],
    example: &[("shown", "67 %"), ("contents", "14 gal"), ("capacity", "35 gal")],
    compute: |inputs| {
        let shown = inputs.get("shown")?;
        let (truth, capacity) = true_share(inputs)?;
        let worst = coarseness_of_lamps(inputs.optional("lamps")?.unwrap_or(USUAL_LAMPS))?;
        let error = gauge_error(shown, truth);
        let size = Ratio::from_base(error.base().abs());
        // A hair's breadth: a third is shown as 33 % or 33.3 %.
        let beyond = size.base() > worst.base() + 0.005;
        let mut outcome = Outcome::new(error)
            .part("size", size)
            .part("true", truth)
            .part("worst", worst)
            .part("beyond_lamps", Output::Truth(beyond));
        if let Some(capacity) = capacity {
            outcome = outcome.part("volume", capacity * error);
        }
        Ok(if error.base() > 0.0 {
            outcome
                .note("it shows more than there is: fresh water runs out before the panel says so")
        } else if error.base() < 0.0 {
            outcome
                .note("it shows less than there is: a waste tank is full before the panel says so")
        } else {
            outcome
        })
    },
};

#[cfg(test)]
mod tests {
    use crate::tests::{call, check, check_part, part_of, refuses};
    use crate::{Output, Problem};

    const NAME: &str = "water.gauge_error";

    /// Worked from the definition: 14 of 35 gal are 40 %.
    #[test]
    fn the_error_is_what_is_shown_less_what_is_there() {
        let given = [("shown", "67 %"), ("contents", "14 gal"), ("capacity", "35 gal")];
        check(NAME, &given, 27.0, "%", 1e-9);
        check_part(NAME, &given, "true", 40.0, "%", 1e-9);
        check_part(NAME, &given, "volume", 9.45, "gal", 1e-9);
        let low = [("shown", "0 %"), ("true", "0.12")];
        check(NAME, &low, -12.0, "%", 1e-9);
        check_part(NAME, &low, "size", 12.0, "%", 1e-9);
    }

    /// Four lamps tell thirds of a tank, so at best ±16.7 %.
    #[test]
    fn four_lamps_tell_a_sixth_of_the_tank_at_best() {
        for (lamps, worst) in [("4", 16.67), ("3", 25.0), ("2", 50.0), ("5", 12.5)] {
            let given = [("shown", "33 %"), ("true", "33 %"), ("lamps", lamps)];
            check_part(NAME, &given, "worst", worst, "%", 0.005);
        }
        for (shown, truth, beyond) in
            [("33 %", "49 %", false), ("67 %", "49 %", true), ("67 %", "0 %", true)]
        {
            let outcome = call(NAME, &[("shown", shown), ("true", truth)]).unwrap();
            assert_eq!(
                part_of(&outcome, "beyond_lamps"),
                &Output::Truth(beyond),
                "{shown} {truth}"
            );
        }
    }

    #[test]
    fn which_way_it_errs_is_said_in_words() {
        let note = |shown: &str, truth: &str| {
            call(NAME, &[("shown", shown), ("true", truth)]).unwrap().notes.concat()
        };
        assert!(note("67 %", "33 %").contains("runs out"));
        assert!(note("33 %", "67 %").contains("is full before"));
        assert!(note("33 %", "33 %").is_empty());
    }

    #[test]
    fn what_cannot_be_in_a_tank_is_refused_by_name() {
        for (given, input) in [
            (vec![("shown", "33 %")], "true"),
            (vec![("shown", "33 %"), ("contents", "9 gal")], "capacity"),
            (vec![("shown", "33 %"), ("contents", "36 gal"), ("capacity", "35 gal")], "contents"),
            (vec![("shown", "33 %"), ("true", "30 %"), ("contents", "9 gal")], "true"),
            (vec![("shown", "33 %"), ("true", "30 %"), ("lamps", "1")], "lamps"),
            (vec![("shown", "33 %"), ("true", "30 %"), ("lamps", "3.5")], "lamps"),
            (vec![("shown", "120 %"), ("true", "30 %")], "shown"),
        ] {
            let problem = refuses(NAME, &given, "");
            assert!(
                matches!(problem, Problem::Input { ref name, .. } if name == input),
                "{problem}"
            );
        }
    }
}
