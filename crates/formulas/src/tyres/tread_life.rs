//! How far a tyre's tread still goes at the rate it has worn.

use quantity::{Kind, Length};

use crate::{Accepts, Confirmed, Formula, Gives, Input, Outcome, Problem, Source};

/// `(depth − limit) / (new − depth) · distance`, at the same wear a mile as until now.
///
/// # Errors
/// [`Problem::Input`] if the tread is deeper than new; [`Problem::OutOfRange`] if it shows no wear, or is
/// worn below the limit already.
pub fn tread_life(
    new_depth: Length,
    depth: Length,
    limit_depth: Length,
    distance: Length,
) -> Result<Length, Problem> {
    if limit_depth >= new_depth {
        return Err(Problem::input(
            "limit_depth",
            "is not less than the new depth; accepted: less",
        ));
    }
    if depth > new_depth {
        return Err(Problem::input(
            "depth",
            "is more than when new: measure again, or correct the new depth",
        ));
    }
    if depth == new_depth {
        return Err(Problem::out_of_range("the tread shows no wear yet: no rate can be told"));
    }
    if depth < limit_depth {
        return Err(Problem::out_of_range(
            "the tread is below the limit already: no distance is left",
        ));
    }
    Ok(distance * ((depth - limit_depth) / (new_depth - depth)))
}

pub(crate) static FORMULA: Formula = Formula {
    name: "tyres.tread_life",
    summary: "Distance that a tyre's tread still goes at the rate it has worn.",
    inputs: &[
        Input::quantity("new_depth", Kind::Length, "tread depth when new")
            .accepting(Accepts::AboveUpTo("0 in", "2 in")),
        Input::quantity("depth", Kind::Length, "least tread depth now")
            .accepting(Accepts::Between("0 in", "2 in")),
        Input::quantity(
            "limit_depth",
            Kind::Length,
            "tread depth at which the tyre is replaced, 2/32 in for trailers",
        )
        .accepting(Accepts::Between("0 in", "2 in")),
        Input::quantity("distance", Kind::Length, "distance run since new")
            .accepting(Accepts::Above("0 mi")),
    ],
    result: Gives::quantity("distance_left", "mi", "distance until the limit"),
    parts: &[],
    valid: "a tread that shows wear and is not below the limit",
    sources: &[Source {
        document: "definition: the same wear for the same distance",
        section: "",
        confirmed: Confirmed::Derived,
    }],
    example: &[
        ("new_depth", "8/32 in"),
        ("depth", "5/32 in"),
        ("limit_depth", "2/32 in"),
        ("distance", "12000 mi"),
    ],
    compute: |inputs| {
        let left = tread_life(
            inputs.get("new_depth")?,
            inputs.get("depth")?,
            inputs.get("limit_depth")?,
            inputs.get("distance")?,
        )?;
        Ok(Outcome::new(left)
            .note("trailer tyres usually age out before they wear out: see the date code")
            .note(
                "more than 2/32 in between the grooves of one tyre points to alignment, axle or \
                 pressure (common practice)",
            ))
    },
};

#[cfg(test)]
mod tests {
    use crate::{
        Problem,
        tests::{check, refuses},
    };

    const NAME: &str = "tyres.tread_life";

    fn at<'a>(depth: &'a str, limit: &'a str) -> [(&'a str, &'a str); 4] {
        [
            ("new_depth", "8/32 in"),
            ("depth", depth),
            ("limit_depth", limit),
            ("distance", "12000 mi"),
        ]
    }

    /// 3/32 in worn in 12,000 mi leaves as much for the last 3/32 in.
    #[test]
    fn the_rate_goes_on() {
        check(NAME, &at("5/32 in", "2/32 in"), 12_000.0, "mi", 1e-6);
        check(NAME, &at("2/32 in", "2/32 in"), 0.0, "mi", 1e-6);
    }

    /// 2/32 in are 1.5875 mm, a little less than the 1.6 mm of the European rule: 1.59 mm meet the one and
    /// not the other.
    #[test]
    fn two_thirty_seconds_of_an_inch_are_not_quite_1_6_mm() {
        check(NAME, &at("1.5875 mm", "2/32 in"), 0.0, "mi", 1e-6);
        check(NAME, &at("1.59 mm", "2/32 in"), 12_000.0 * 0.0025 / 4.76, "mi", 1e-3);
        let problem = refuses(NAME, &at("1.59 mm", "1.6 mm"), "below the limit already");
        assert!(matches!(problem, Problem::OutOfRange { .. }));
    }

    #[test]
    fn without_wear_or_below_the_limit_there_is_no_answer() {
        for depth in ["8/32 in", "1/32 in"] {
            let problem = refuses(NAME, &at(depth, "2/32 in"), "the tread");
            assert!(matches!(problem, Problem::OutOfRange { .. }), "{depth}");
        }
    }

    #[test]
    fn contradictions_are_input_errors() {
        for (depth, limit) in
            [("9/32 in", "2/32 in"), ("5/32 in", "8/32 in"), ("-1/32 in", "2/32 in")]
        {
            let problem = refuses(NAME, &at(depth, limit), "");
            assert!(matches!(problem, Problem::Input { .. }), "{depth} {limit}");
        }
    }
}
