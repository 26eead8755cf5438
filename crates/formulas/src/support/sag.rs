//! How far a frame sags between its ends.

use quantity::{Kind, Length, Quantity};

use crate::{Confirmed, Formula, Gives, Input, Outcome, Output, Problem, Source};

/// Deviations from the straight line between the first and the last reading.
#[derive(Clone, Debug, PartialEq)]
pub struct Sag {
    /// At each position; below the line is negative.
    pub deviations: Vec<Length>,
    /// The one that is largest in size, with its sign.
    pub largest: Length,
    /// Length between the ends, divided by the largest deviation's size; none on a straight frame.
    pub span_over_sag: Option<f64>,
}

/// `δᵢ = yᵢ − [y₀ + (yₙ − y₀)(xᵢ − x₀)/(xₙ − x₀)]`.
///
/// # Errors
/// [`Problem::Input`] unless there are as many readings as positions, three or more, in rising order.
pub fn sag(positions: &[Length], readings: &[Length]) -> Result<Sag, Problem> {
    if positions.len() != readings.len() {
        return Err(Problem::input(
            "readings",
            format!(
                "are {} and the positions {}; accepted: as many",
                readings.len(),
                positions.len()
            ),
        ));
    }
    let ([first, .., last], [left, _, .., right]) = (positions, readings) else {
        return Err(Problem::input("positions", "are fewer than three; accepted: three or more"));
    };
    if positions.windows(2).any(|pair| pair[0] >= pair[1]) {
        return Err(Problem::input(
            "positions",
            "do not rise; accepted: in order along the frame, each once",
        ));
    }
    let span = *last - *first;
    let deviations: Vec<Length> = positions
        .iter()
        .zip(readings)
        .map(|(x, y)| *y - (*left + (*right - *left) * ((*x - *first) / span)))
        .collect();
    let zero = Length::default();
    let largest = deviations
        .iter()
        .copied()
        .fold(zero, |most, one| if one.abs() > most.abs() { one } else { most });
    // Deviations below a thousandth of a millionth of the span are rounding.
    let straight = largest.base().abs() <= span.base() * 1e-9;
    let span_over_sag = (!straight).then(|| (span / largest.abs()).base());
    Ok(Sag { deviations, largest, span_over_sag })
}

pub(crate) static FORMULA: Formula = Formula {
    name: "support.sag",
    summary: "Largest deviation of a frame from the straight line between its ends.",
    inputs: &[
        Input::list("positions", Kind::Length, "places along the frame, in order"),
        Input::list("readings", Kind::Length, "level at each place; lower is less"),
    ],
    result: Gives::quantity("largest", "in", "largest deviation; negative is below the line"),
    parts: &[
        Gives::quantity(
            "span_over_sag",
            "",
            "span divided by the deviation; absent on a straight frame",
        ),
        Gives::quantity("deviations", "in", "deviation at each place"),
    ],
    valid: "three or more places",
    sources: &[Source {
        document: "definition: deviation from the chord",
        section: "",
        confirmed: Confirmed::Derived,
    }],
    example: &[
        ("positions", "0, 8, 16, 24, 32 ft"),
        ("readings", "0, -0.30, -0.55, -0.45, -0.20 in"),
    ],
    compute: |inputs| {
        let found = sag(&inputs.list("positions")?, &inputs.list("readings")?)?;
        let mut outcome = Outcome::new(found.largest);
        if let Some(ratio) = found.span_over_sag {
            outcome = outcome.part("span_over_sag", ratio);
        } else {
            outcome = outcome.note("the frame is straight: there is no ratio of span to deviation");
        }
        Ok(outcome
            .part("deviations", Output::list(found.deviations))
            .note("design limits are a yardstick only: L/240 for floors (24 CFR 3280.305(d), from memory)"))
    },
};

#[cfg(test)]
mod tests {
    use crate::{
        Output, Problem,
        tests::{call, check, check_part, in_unit, part_of, refuses},
    };

    const NAME: &str = "support.sag";
    const FRAME: [(&str, &str); 2] =
        [("positions", "0, 8, 16, 24, 32 ft"), ("readings", "0, -0.30, -0.55, -0.45, -0.20 in")];

    /// Worked by hand: the chord falls 0.05 in every 8 ft; 384 in over 0.45 in.
    #[test]
    fn deviation_is_from_the_line_between_the_ends() {
        check(NAME, &FRAME, -0.45, "in", 1e-9);
        check_part(NAME, &FRAME, "span_over_sag", 853.3, "", 0.05);
        let outcome = call(NAME, &FRAME).unwrap();
        let Output::Quantities(values) = part_of(&outcome, "deviations") else { panic!("no list") };
        for (value, want) in values.iter().zip([0.0, -0.25, -0.45, -0.30, 0.0]) {
            assert!((in_unit(*value, "in") - want).abs() < 1e-9);
        }
    }

    #[test]
    fn a_hump_is_positive() {
        check(
            NAME,
            &[("positions", "0, 10, 20 ft"), ("readings", "0, 1/4, 0 in")],
            0.25,
            "in",
            1e-9,
        );
    }

    #[test]
    fn a_straight_frame_has_no_ratio() {
        let outcome =
            call(NAME, &[("positions", "0, 10, 20 ft"), ("readings", "0, 0.1, 0.2 in")]).unwrap();
        assert!(outcome.parts.iter().all(|(name, _)| *name != "span_over_sag"));
        assert!(outcome.notes[0].contains("straight"));
    }

    #[test]
    fn positions_and_readings_that_do_not_fit_are_refused() {
        for (positions, readings, said) in [
            ("0, 8, 16 ft", "0, 1 in", "as many"),
            ("0, 8 ft", "0, 1 in", "three or more"),
            ("0, 16, 8 ft", "0, 1, 0 in", "in order"),
            ("0, 8, 8 ft", "0, 1, 0 in", "in order"),
        ] {
            let problem = refuses(NAME, &[("positions", positions), ("readings", readings)], said);
            assert!(matches!(problem, Problem::Input { .. }));
        }
    }
}
