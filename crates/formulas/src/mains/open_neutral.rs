//! What voltages the two legs get when the neutral is lost or poor.

use quantity::{Kind, Power, Quantity, Resistance, Voltage};

use crate::{Accepts, Confirmed, Formula, Gives, Input, Outcome, Problem, Source};

/// Voltage at which the loads take their rated power.
const RATED: f64 = 120.0; // V

/// Voltages on the two legs with a neutral of this resistance, or none where it is lost.
///
/// `V₁ = V₁₂/2 − x`, `V₂ = V₁₂/2 + x`, `x = (V₁₂/2)·(g₁ − g₂)/(g₁ + g₂ + g_n)`, the loads as conductances
/// `g = P/(120 V)²`, that of a lost neutral nothing.
///
/// # Errors
/// [`Problem::OutOfRange`] if there is no load at all.
pub fn open_neutral(
    across: Voltage,
    first_load: Power,
    second_load: Power,
    neutral: Option<Resistance>,
) -> Result<(Voltage, Voltage), Problem> {
    let conductance = |load: Power| load.base() / (RATED * RATED);
    let (g1, g2) = (conductance(first_load), conductance(second_load));
    let gn = neutral.map_or(0.0, |resistance| 1.0 / resistance.base());
    let sum = g1 + g2 + gn;
    if sum <= 0.0 {
        return Err(Problem::out_of_range(
            "not determinable without a load on either leg: nothing divides the voltage",
        ));
    }
    let half = across.base() / 2.0;
    let shift = half * (g1 - g2) / sum;
    Ok((Voltage::from_base(half - shift), Voltage::from_base(half + shift)))
}

pub(crate) static FORMULA: Formula = Formula {
    name: "mains.open_neutral",
    summary: "Voltages on the two legs of a 120/240 V supply whose neutral is lost or poor.",
    inputs: &[
        Input::quantity("across", Kind::Voltage, "leg to leg").accepting(Accepts::Above("0 V")),
        Input::quantity("first_load", Kind::Power, "rated at 120 V, on the first leg")
            .accepting(Accepts::AtLeast("0 W")),
        Input::quantity("second_load", Kind::Power, "rated at 120 V, on the second leg")
            .accepting(Accepts::AtLeast("0 W")),
        Input::quantity("neutral", Kind::Resistance, "of a poor neutral; lost if left out")
            .accepting(Accepts::Above("0 ohm"))
            .optional(),
    ],
    result: Gives::quantity("highest", "V", "the higher of the two"),
    parts: &[
        Gives::quantity("first", "V", "on the first leg"),
        Gives::quantity("second", "V", "on the second leg"),
    ],
    valid: "resistive loads",
    sources: &[Source {
        document: "Kirchhoff's laws",
        section: "two loads in series across the legs, their midpoint held by the neutral",
        confirmed: Confirmed::Derived,
    }],
    example: &[("across", "240 V"), ("first_load", "1500 W"), ("second_load", "750 W")],
    compute: |inputs| {
        let (first, second) = open_neutral(
            inputs.get("across")?,
            inputs.get("first_load")?,
            inputs.get("second_load")?,
            inputs.optional("neutral")?,
        )?;
        let highest = if first > second { first } else { second };
        let outcome = Outcome::new(highest).part("first", first).part("second", second).note(
            "never open or load a neutral to try this: it is what would happen, not a test. Call a \
             licensed electrician for any sign of it",
        );
        Ok(if (first - second).base().abs() < 1.0 {
            outcome.note("balanced loads hide a lost neutral")
        } else {
            outcome
        })
    },
};

#[cfg(test)]
mod tests {
    use crate::tests::{call, check, check_part, refuses};

    const NAME: &str = "mains.open_neutral";

    /// Worked out by Ohm's law.
    #[test]
    fn a_lost_neutral_divides_the_voltage_by_the_loads() {
        for (across, first_load, second_load, first, second) in [
            ("240 V", "1500 W", "750 W", 80.0, 160.0),
            ("240 V", "1500 W", "100 W", 15.0, 225.0),
            ("240 V", "1000 W", "1000 W", 120.0, 120.0),
            ("238 V", "1440 W", "480 W", 59.5, 178.5),
        ] {
            let pairs =
                [("across", across), ("first_load", first_load), ("second_load", second_load)];
            check_part(NAME, &pairs, "first", first, "V", 1e-9);
            check_part(NAME, &pairs, "second", second, "V", 1e-9);
            check(NAME, &pairs, second, "V", 1e-9);
        }
    }

    /// 12 Ω and 120 Ω at 120 V are 1200 W and 120 W.
    #[test]
    fn a_poor_neutral_shifts_the_legs_a_little() {
        for (neutral, first, second) in
            [("1 ohm", 111.756, 128.244), ("0.05 ohm", 119.552, 120.448)]
        {
            let pairs = [
                ("across", "240 V"),
                ("first_load", "1200 W"),
                ("second_load", "120 W"),
                ("neutral", neutral),
            ];
            check_part(NAME, &pairs, "first", first, "V", 5e-4);
            check_part(NAME, &pairs, "second", second, "V", 5e-4);
        }
    }

    #[test]
    fn balanced_loads_hide_a_lost_neutral_and_no_load_tells_nothing() {
        let balanced = [("across", "240 V"), ("first_load", "1000 W"), ("second_load", "1000 W")];
        assert!(call(NAME, &balanced).unwrap().notes.iter().any(|note| note.contains("hide")));
        let none = [("across", "240 V"), ("first_load", "0 W"), ("second_load", "0 W")];
        refuses(NAME, &none, "not determinable");
    }
}
