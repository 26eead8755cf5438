//! Flow by the time that a bucket takes to fill.

use quantity::{Kind, Quantity, Ratio, Time, Volume, VolumeFlow};

use crate::{Accepts, Confirmed, Formula, Gives, Input, Outcome, Problem, Source};

/// Volume divided by time.
///
/// # Errors
/// [`Problem::OutOfRange`] under ten seconds: the hand on the stop watch alone then makes 5 % and more.
pub fn bucket_flow(volume: Volume, time: Time) -> Result<VolumeFlow, Problem> {
    if time.base() < 10.0 {
        return Err(Problem::out_of_range(
            "valid for 10 s or longer, since starting and stopping by hand is good to half a second; use \
             a larger bucket",
        ));
    }
    Ok(volume / time)
}

/// Share of the time that starting and stopping by hand leaves open: half a second.
#[must_use]
pub fn timing_error(time: Time) -> Ratio {
    Ratio::from_base(0.5 / time.base())
}

pub(crate) static FORMULA: Formula = Formula {
    name: "water.bucket_flow",
    summary: "Flow by the time that a bucket of known volume takes to fill.",
    inputs: &[
        Input::quantity("volume", Kind::Volume, "volume that was filled")
            .accepting(Accepts::Above("0 gal")),
        Input::quantity("time", Kind::Time, "time it took").accepting(Accepts::Above("0 s")),
    ],
    result: Gives::quantity("flow", "gpm", "volume a minute"),
    parts: &[Gives::quantity("timing_error", "%", "what half a second of hand timing amounts to")],
    valid: "timed for 10 s or longer",
    sources: &[
        Source {
            document: "definition: volume divided by time",
            section: "",
            confirmed: Confirmed::Derived,
        },
        Source {
            document: "",
            section: "least time of 10 s and half a second of hand timing",
            confirmed: Confirmed::CommonPractice,
        },
    ],
    example: &[("volume", "1 gal"), ("time", "24 s")],
    compute: |inputs| {
        let time = inputs.get("time")?;
        Ok(Outcome::new(bucket_flow(inputs.get("volume")?, time)?)
            .part("timing_error", timing_error(time)))
    },
};

#[cfg(test)]
mod tests {
    use crate::Problem;
    use crate::tests::{check, check_part, refuses};

    const NAME: &str = "water.bucket_flow";

    /// Worked from the definition.
    #[test]
    fn flow_is_volume_over_time() {
        for (volume, time, gpm) in
            [("1 gal", "24 s", 2.5), ("5 gal", "120 s", 2.5), ("2.5 gal", "75 s", 2.0)]
        {
            check(NAME, &[("volume", volume), ("time", time)], gpm, "gpm", 1e-9);
        }
        let given = [("volume", "1 gal"), ("time", "25 s")];
        check_part(NAME, &given, "timing_error", 2.0, "%", 1e-9);
    }

    #[test]
    fn a_bucket_filled_in_a_moment_tells_no_flow() {
        let problem = refuses(NAME, &[("volume", "1 gal"), ("time", "9 s")], "10 s or longer");
        assert!(matches!(problem, Problem::OutOfRange { .. }));
        let problem = refuses(NAME, &[("volume", "1 gal"), ("time", "0 s")], "not possible");
        assert!(matches!(problem, Problem::Input { name, .. } if name == "time"));
    }
}
