//! What a tyre would carry at another pressure, by the power law between load and pressure.

use quantity::exact::pressure::pound_per_square_inch;
use quantity::{Kind, Mass, Pressure, Quantity};

use crate::{Accepts, Confirmed, Formula, Gives, Input, Outcome, Problem, Source};

/// Exponent of the tyre and rim trade's form for bias and special trailer tyres.
const SPECIAL_TRAILER: f64 = 0.585;

/// Below this, a tyre is flat rather than low. psi
const FLAT: f64 = 15.0;

/// `L = L₀ (P/P₀)ⁿ`, P above the atmosphere's. Between the points of a published chart it agrees within
/// 1.4 % with n = 0.585; above the sidewall's maximum pressure load does not rise.
///
/// # Errors
/// [`Problem::OutOfRange`] below 15 psi, and above the maximum where one is given.
pub fn load_at_pressure(
    reference_load: Mass,
    reference_pressure: Pressure,
    pressure: Pressure,
    exponent: f64,
    maximum: Option<Pressure>,
) -> Result<Mass, Problem> {
    // Room for rounding in the conversion.
    if pressure.get::<pound_per_square_inch>() < FLAT * (1.0 - 1e-12) {
        return Err(Problem::out_of_range(
            "valid from 15 psi: below, the tyre is flat or unsafe to judge",
        ));
    }
    if maximum.is_some_and(|maximum| pressure.base() > maximum.base() * (1.0 + 1e-12)) {
        return Err(Problem::out_of_range(
            "valid up to the sidewall's maximum pressure: above, a tyre carries no more",
        ));
    }
    Ok(reference_load * libm::pow((pressure / reference_pressure).base(), exponent))
}

pub(crate) static FORMULA: Formula = Formula {
    name: "tyres.load_at_pressure",
    summary: "Load of a tyre at another pressure, for plausibility only.",
    inputs: &[
        Input::quantity("reference_load", Kind::Mass, "load that the chart or sidewall states")
            .accepting(Accepts::Above("0 lb")),
        Input::quantity("reference_pressure", Kind::Pressure, "cold pressure that the load is stated for")
            .accepting(Accepts::AboveUpTo("0 psi", "200 psi")),
        Input::quantity("pressure", Kind::Pressure, "cold pressure that is asked for")
            .accepting(Accepts::AboveUpTo("0 psi", "200 psi")),
        Input::quantity(
            "exponent",
            Kind::Number,
            "0.585 for special trailer tyres, used if not given; 0.5 for passenger, 0.7 for light-truck radials",
        )
        .optional()
        .accepting(Accepts::AboveUpTo("0", "1")),
        Input::quantity("maximum", Kind::Pressure, "maximum pressure on the sidewall; without it, not held to")
            .optional()
            .accepting(Accepts::AboveUpTo("0 psi", "200 psi")),
        Input::word(
            "above_maximum",
            &["refuse", "maximum"],
            "a pressure above the maximum is refused, or counts as the maximum; without it, refuse",
        )
        .optional(),
    ],
    result: Gives::quantity("load", "lb", "plausible load, within about 2 %"),
    parts: &[],
    valid: "15 psi up to the maximum pressure on the sidewall, between published points",
    sources: &[
        Source {
            document: "Tire and Rim Association, load formula for bias and special trailer tyres",
            section: "exponent 0.585; agrees with a tyre maker's published chart within 1.4 %",
            confirmed: Confirmed::FromMemory,
        },
        Source {
            document: "an engineers' restatement of the P-metric load formula",
            section: "exponent 0.5; the 0.7 for light-truck radials is from memory",
            confirmed: Confirmed::Quoted,
        },
    ],
    example: &[("reference_load", "2150 lb"), ("reference_pressure", "50 psi"), ("pressure", "65 psi")],
    compute: |inputs| {
        let exponent = inputs.optional("exponent")?.unwrap_or(SPECIAL_TRAILER);
        let maximum: Option<Pressure> = inputs.optional("maximum")?;
        let mut pressure: Pressure = inputs.get("pressure")?;
        let mut above = None;
        if let Some(maximum) = maximum.filter(|maximum| pressure > *maximum)
            && inputs.optional_words("above_maximum") == Some("maximum")
        {
            pressure = maximum;
            above = Some("the pressure is above the sidewall's maximum, where a tyre carries no more: the load is that at the maximum");
        }
        let load = load_at_pressure(
            inputs.get("reference_load")?,
            inputs.get("reference_pressure")?,
            pressure,
            exponent,
            maximum,
        )?;
        let mut outcome = Outcome::new(load).note(
            "plausibility only, never a capacity: the sidewall and the placard decide, and no pressure \
             below the placard's is ever computed",
        );
        if let Some(above) = above {
            outcome = outcome.note(above);
        }
        if maximum.is_none() {
            outcome = outcome.note("above the sidewall's maximum pressure a tyre carries no more: give maximum to hold to it");
        }
        Ok(outcome)
    },
};

#[cfg(test)]
mod tests {
    use crate::{
        Problem,
        table::Table,
        tests::{call, check, in_unit, refuses},
    };

    const NAME: &str = "tyres.load_at_pressure";
    static CHART: Table = Table::of(include_str!("../../../../data/tables/tyre_loads.csv"));

    /// Computed from the 50 psi point of the published chart with n = 0.585; in brackets the chart.
    #[test]
    fn the_power_law_comes_near_the_published_chart() {
        for (reference, pressure, pounds) in [
            ("2150 lb", "35 psi", 1_745.0), // 1760
            ("2150 lb", "65 psi", 2_507.0), // 2540
            ("2150 lb", "80 psi", 2_830.0), // 2840
            ("2600 lb", "35 psi", 2_110.0), // 2090
            ("2600 lb", "65 psi", 3_031.0), // 3000
            ("2600 lb", "80 psi", 3_423.0), // 3420
            ("1820 lb", "35 psi", 1_477.0), // 1480
        ] {
            let pairs = [
                ("reference_load", reference),
                ("reference_pressure", "50 psi"),
                ("pressure", pressure),
            ];
            check(NAME, &pairs, pounds, "lb", 0.5);
        }
    }

    /// The sizes that the fit was made with: the largest and the two with four and three points.
    #[test]
    fn the_chart_is_met_within_its_stated_part() {
        let table = &CHART;
        let load = |size: &str, pressure: f64| {
            table
                .rows()
                .find(|row| {
                    row.text("size") == size && (row.number("pressure") - pressure).abs() < 1e-9
                })
                .map(|row| row.number("load"))
        };
        for size in ["ST225/75R15", "ST235/80R16"] {
            let reference = format!("{} lb", load(size, 50.0).unwrap());
            for pressure in [35.0, 65.0, 80.0] {
                let asked = format!("{pressure} psi");
                let pairs = [
                    ("reference_load", reference.as_str()),
                    ("reference_pressure", "50 psi"),
                    ("pressure", &asked),
                ];
                let crate::Output::Quantity(value) = call(NAME, &pairs).unwrap().result else {
                    panic!("no quantity")
                };
                let published = load(size, pressure).unwrap();
                let off = (in_unit(value, "lb") / published - 1.0).abs();
                assert!(off < 0.014, "{size} at {pressure} psi: {off}");
            }
        }
    }

    /// Fitted from the chart's 50 psi points: n lies between 0.561 and 0.612 down to 35 psi, and between
    /// 0.583 and 0.592 up to 80 psi.
    #[test]
    fn the_exponent_that_the_chart_itself_has_is_near_the_published_one() {
        let table = &CHART;
        let mut found = [Vec::new(), Vec::new()];
        for row in table.rows().filter(|row| (row.number("pressure") - 50.0).abs() < 1e-9) {
            let same = |other: &crate::table::Row<'_>| other.text("size") == row.text("size");
            for (slot, pressure) in found.iter_mut().zip([35.0, 80.0]) {
                let at = table.rows().find(|other| {
                    same(other) && (other.number("pressure") - pressure).abs() < 1e-9
                });
                if let Some(at) = at {
                    let ratio = at.number("load") / row.number("load");
                    slot.push(libm::log(ratio) / libm::log(pressure / 50.0));
                }
            }
        }
        let [low, high] = found;
        assert_eq!((low.len(), high.len()), (7, 2));
        assert!(low.iter().all(|n| (0.5605..0.6125).contains(n)), "{low:?}");
        assert!(high.iter().all(|n| (0.5825..0.5925).contains(n)), "{high:?}");
    }

    /// The European form, P = Pmax (L / Lmax)^1.25, is n = 0.8: it asks for more pressure at part load.
    #[test]
    fn the_european_form_asks_for_more_pressure_at_part_load() {
        let with = |exponent| {
            [
                ("reference_load", "2540 lb"),
                ("reference_pressure", "65 psi"),
                ("pressure", "50 psi"),
                ("exponent", exponent),
            ]
        };
        check(NAME, &with("0.8"), 2_540.0 * libm::pow(50.0 / 65.0, 1.0 / 1.25), "lb", 1e-6);
        check(NAME, &with("0.8"), 2_059.0, "lb", 0.5);
        check(NAME, &with("0.585"), 2_178.5, "lb", 0.5);
    }

    #[test]
    fn the_exponent_can_be_that_of_another_tyre() {
        let pairs = [
            ("reference_load", "1600 lb"),
            ("reference_pressure", "36 psi"),
            ("pressure", "25 psi"),
            ("exponent", "0.5"),
        ];
        check(NAME, &pairs, 1_600.0 * 5.0 / 6.0, "lb", 1e-6);
    }

    #[test]
    fn above_the_maximum_a_tyre_carries_no_more() {
        let pairs = [
            ("reference_load", "2540 lb"),
            ("reference_pressure", "65 psi"),
            ("pressure", "70 psi"),
            ("maximum", "65 psi"),
            ("above_maximum", "maximum"),
        ];
        check(NAME, &pairs, 2_540.0, "lb", 1e-6);
        let outcome = call(NAME, &pairs).unwrap();
        assert!(outcome.notes.iter().any(|note| note.contains("that at the maximum")));
        assert!(matches!(
            refuses(NAME, &pairs[..4], "carries no more"),
            Problem::OutOfRange { .. }
        ));
    }

    #[test]
    fn outside_the_range_there_is_no_load() {
        let with = |pressure| {
            [
                ("reference_load", "2150 lb"),
                ("reference_pressure", "50 psi"),
                ("pressure", pressure),
                ("maximum", "80 psi"),
            ]
        };
        assert!(matches!(
            refuses(NAME, &with("81 psi"), "carries no more"),
            Problem::OutOfRange { .. }
        ));
        assert!(matches!(refuses(NAME, &with("14.9 psi"), "flat"), Problem::OutOfRange { .. }));
        assert!(matches!(refuses(NAME, &with("0 psi"), "not possible"), Problem::Input { .. }));
        assert!(call(NAME, &with("80 psi")).is_ok());
        assert!(call(NAME, &with("15 psi")).is_ok());
    }
}
