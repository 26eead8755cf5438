//! A leak from the pressure that a closed piping lost, with its temperature taken into account.

use quantity::{Kind, Pressure, Quantity, Temperature, Time, Volume, VolumeFlow, exact};

use super::propane::{self, VapourBasis, standard_flow, standard_pressure};
use crate::{Accepts, Confirmed, Formula, Gives, Input, Outcome, Problem, Source};

/// One pressure reading above the atmosphere's, with the pipe's temperature at that moment.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TrappedGas {
    /// Pressure above the atmosphere's.
    pub pressure: Pressure,
    /// Temperature of the pipe, not of the air.
    pub temperature: Temperature,
}

/// Gas that leaks from a closed volume, at 60 °F and one atmosphere.
///
/// `q = V/t · Tₛ/pₛ · (p₁/T₁ − p₂/T₂)`, p and T absolute. Negative if the gas became more.
/// The form is that of the temperature correction in UFGS 15195N: `p₂ = p₁·T₂/T₁` without a leak.
///
/// # Errors
/// [`Problem::Input`] for a vacuum below zero pressure; [`Problem::OutOfRange`] for a test shorter than
/// two minutes, a pipe outside −40 °F to 140 °F, or a pressure that rose by more than 2 % and by more
/// than one degree explains: then gas came in.
pub fn pressure_decay(
    volume: Volume,
    start: TrappedGas,
    end: TrappedGas,
    time: Time,
    atmosphere: Pressure,
) -> Result<VolumeFlow, Problem> {
    let absolute = |gas: TrappedGas| gas.pressure.base() + atmosphere.base();
    if absolute(end) <= 0.0 {
        return Err(Problem::input(
            "end_pressure",
            "is a vacuum of more than the atmosphere; accepted: a pressure above or below the \
             atmosphere's, such as 10.5 inH2O",
        ));
    }
    if time.base() < 120.0 {
        return Err(Problem::out_of_range("valid for tests of 2 min or longer"));
    }
    for gas in [start, end] {
        // −40 °F and 140 °F.
        if !(233.15..=333.151).contains(&gas.temperature.base()) {
            return Err(Problem::out_of_range("valid for a pipe from -40 degF to 140 degF"));
        }
    }
    let gain =
        end.pressure.base() - leak_free_end_pressure(start, end.temperature, atmosphere).base();
    let one_degree = absolute(start) / start.temperature.base() / 1.8;
    if gain > (0.02 * start.pressure.base()).max(one_degree) {
        return Err(Problem::out_of_range(format!(
            "the pressure rose {} inH2O more than the temperature explains, so gas came in: a closed valve \
             or the regulator lets gas by, which is a finding of its own; no leak rate follows from \
             this test",
            quantity::write_number(
                gain / Pressure::new::<exact::pressure::inch_of_water>(1.0).base()
            )
        )));
    }
    let fall = absolute(start) / start.temperature.base() - absolute(end) / end.temperature.base();
    Ok(standard_flow(volume, time, fall))
}

/// Pressure that the same gas would show at another temperature: `p₂ = p₁·T₂/T₁`, both absolute.
#[must_use]
pub fn leak_free_end_pressure(
    start: TrappedGas,
    end_temperature: Temperature,
    atmosphere: Pressure,
) -> Pressure {
    let ratio = end_temperature.base() / start.temperature.base();
    Pressure::from_base((start.pressure.base() + atmosphere.base()) * ratio - atmosphere.base())
}

pub(crate) static FORMULA: Formula = Formula {
    name: "gas.pressure_decay",
    summary: "Leak from the pressure that closed gas piping lost, corrected for its temperature.",
    inputs: &[
        Input::quantity("volume", Kind::Volume, "inside volume of the tested piping (gas.pipe_volume)")
            .accepting(Accepts::Above("0 ft3")),
        Input::quantity("start_pressure", Kind::Pressure, "pressure above the atmosphere's at the start")
            .accepting(Accepts::Above("0 inH2O")),
        Input::quantity(
            "start_temperature",
            Kind::Temperature,
            "temperature of the pipe at the start; at 11 inH2O one degF moves the pressure 0.8 inH2O, so \
             without both temperatures nothing can be said of a leak",
        )
        .accepting(Accepts::AtLeast("0 K")),
        Input::quantity("end_pressure", Kind::Pressure, "pressure above the atmosphere's at the end"),
        Input::quantity(
            "end_temperature",
            Kind::Temperature,
            "temperature of the pipe at the end; at 11 inH2O one degF moves the pressure 0.8 inH2O, so \
             without both temperatures nothing can be said of a leak",
        )
        .accepting(Accepts::AtLeast("0 K")),
        Input::quantity("time", Kind::Time, "time between the two readings")
            .accepting(Accepts::Above("0 s")),
        Input::quantity(
            "atmosphere",
            Kind::Pressure,
            "absolute pressure of the air; 14.696 psi without it",
        )
        .optional()
        .accepting(Accepts::Between("8 psi", "16 psi")),
        Input::quantity(
            "resolution",
            Kind::Pressure,
            "smallest change that the gauge shows; with it, the smallest leak that this test can see",
        )
        .optional()
        .accepting(Accepts::Above("0 inH2O")),
    ],
    result: Gives::quantity("standard_flow", "cc/min", "gas lost, at 60 degF and one atmosphere"),
    parts: &[
        Gives::quantity("power", "Btu/h", "heat that this much propane carries, at 2,516 Btu/ft³"),
        Gives::quantity(
            "leak_free_end_pressure",
            "inH2O",
            "pressure at the end if nothing had leaked",
        ),
        Gives::quantity(
            "pressure_per_degree",
            "inH2O",
            "how far one degF of the pipe moves the pressure",
        ),
        Gives::quantity(
            "smallest_detectable",
            "cc/min",
            "leak that moves the gauge by its resolution; only with `resolution`",
        ),
    ],
    valid: "tests of 2 min or longer; pipe from -40 degF to 140 degF",
    sources: &[
        Source {
            document: "ideal-gas law, written for the gas at 60 degF and 14.696 psi",
            section: "",
            confirmed: Confirmed::Derived,
        },
        Source {
            document: "UFGS 15195N, natural gas distribution",
            section: "pressure test with correction for temperature",
            confirmed: Confirmed::Read,
        },
        Source {
            document: "California Plumbing Code 2013, after NFPA 54 and NFPA 501A",
            section: "1216.3 (standard conditions); E 36.5.1 (no perceptible loss in 10 min)",
            confirmed: Confirmed::Read,
        },
        propane::PROPERTIES,
    ],
    example: &[
        ("volume", "0.1 ft3"),
        ("start_pressure", "11 inH2O"),
        ("start_temperature", "70 degF"),
        ("end_pressure", "10 inH2O"),
        ("end_temperature", "70 degF"),
        ("time", "10 min"),
    ],
    compute: |inputs| {
        let volume = inputs.get("volume")?;
        let time = inputs.get("time")?;
        let start = TrappedGas {
            pressure: inputs.get("start_pressure")?,
            temperature: inputs.get("start_temperature")?,
        };
        let end = TrappedGas {
            pressure: inputs.get("end_pressure")?,
            temperature: inputs.get("end_temperature")?,
        };
        let atmosphere = inputs.optional("atmosphere")?.unwrap_or_else(standard_pressure);
        let leak = pressure_decay(volume, start, end, time, atmosphere)?;
        let per_degree =
            (start.pressure.base() + atmosphere.base()) / start.temperature.base() / 1.8;
        let mut outcome = Outcome::new(leak)
            .part("power", VapourBasis::AfterVaporisation.power(leak))
            .part(
                "leak_free_end_pressure",
                leak_free_end_pressure(start, end.temperature, atmosphere),
            )
            .part("pressure_per_degree", Pressure::from_base(per_degree));
        if let Some(resolution) = inputs.optional::<Pressure>("resolution")? {
            let smallest = standard_flow(volume, time, resolution.base() / start.temperature.base());
            outcome = outcome.part("smallest_detectable", smallest);
        }
        outcome = outcome
            .note(
                "codes pass piping on no perceptible drop, never on a rate: this number informs, it passes \
                 nothing",
            )
            .note(
                "a confirmed leak: stop, put out flames, ventilate, shut the gas off at the container, and \
                 call a licensed gas fitter",
            )
            .note("the rate is that of the gas in the pipe; of a test with air, propane would leak 0.8 to 2.3 times as much");
        if leak.base() < 0.0 {
            outcome = outcome.note(
                "the pressure rose a little more than the temperature explains: within what the readings can \
                 tell, or gas passes a closed valve; repeat the test",
            );
        }
        Ok(warn_of_pressure(outcome, start.pressure))
    },
};

/// Adds what the test pressure itself calls for.
fn warn_of_pressure(outcome: Outcome, pressure: Pressure) -> Outcome {
    let inches = pressure.get::<exact::pressure::inch_of_water>();
    if propane::over_connected_appliance_limit(pressure) {
        outcome.note(
            "more than 14 inH2O (half a psi) must never reach connected appliance valves; this pressure is \
             for piping that was disconnected from them",
        )
    } else if (0.3..=0.6).contains(&inches) {
        outcome.note(
            "a start of 0.3 to 0.6 inH2O looks like a reading in psi; check the unit of the gauge",
        )
    } else {
        outcome
    }
}

#[cfg(test)]
mod tests {
    use super::FORMULA;
    use crate::tests::{call, check, check_part, in_unit, part_of, refuses};
    use crate::{Argument, Arguments, Output, Problem};
    use quantity::{Kind, Value, units};

    const NAME: &str = "gas.pressure_decay";

    /// Volume; start pressure and temperature; end pressure and temperature; minutes.
    fn tested<'a>(
        volume: &'a str,
        start: (&'a str, &'a str),
        end: (&'a str, &'a str),
        time: &'a str,
    ) -> Vec<(&'a str, &'a str)> {
        vec![
            ("volume", volume),
            ("start_pressure", start.0),
            ("start_temperature", start.1),
            ("end_pressure", end.0),
            ("end_temperature", end.1),
            ("time", time),
        ]
    }

    const AT_START: (&str, &str) = ("11 inH2O", "70 degF");

    /// Worked from the ideal-gas law; flow in cc/min, heat at 2,516 Btu/ft³.
    #[test]
    fn a_leak_is_what_the_temperature_does_not_explain() {
        for (given, flow, power) in [
            (tested("0.1 ft3", AT_START, ("10 inH2O", "70 degF"), "10 min"), 0.683, 3.6),
            (tested("0.1 ft3", AT_START, ("11 inH2O", "71 degF"), "10 min"), 0.538, 2.9),
            (tested("0.1 ft3", AT_START, AT_START, "10 min"), 0.0, 0.0),
            (
                tested("0.0741 ft3", ("9 inH2O", "65 degF"), ("8.8 inH2O", "65 degF"), "3 min"),
                0.341,
                1.8,
            ),
            (
                tested("0.0741 ft3", ("3.0 psi", "70 degF"), ("2.9 psi", "70 degF"), "10 min"),
                1.401,
                7.5,
            ),
        ] {
            check(NAME, &given, flow, "cc/min", 0.000_8);
            check_part(NAME, &given, "power", power, "Btu/h", 0.05);
        }
    }

    /// 10.2 inH₂O at 69 °F is what 11 inH₂O at 70 °F becomes by itself.
    #[test]
    fn a_fall_that_the_cooling_explains_is_no_leak() {
        let given = tested("0.1 ft3", AT_START, ("10.2 inH2O", "69 degF"), "10 min");
        check(NAME, &given, 0.008, "cc/min", 0.001);
        check_part(NAME, &given, "power", 0.04, "Btu/h", 0.005);
    }

    /// UFGS 15195N: 100 psi from 70 to 60 °F (with 460 and 14.7 rounded); 11 inH₂O and 3 psi worked.
    #[test]
    fn without_a_leak_the_pressure_follows_the_absolute_temperature() {
        for (start, end, unit, want, tolerance) in [
            ("100 psi", "97.84 psi", "psi", 97.84, 0.01),
            ("11 inH2O", "3.11 inH2O", "inH2O", 3.11, 0.005),
            ("3 psi", "2.666 psi", "psi", 2.666, 0.000_5),
        ] {
            let given = tested("0.1 ft3", (start, "70 degF"), (end, "60 degF"), "10 min");
            check_part(NAME, &given, "leak_free_end_pressure", want, unit, tolerance);
            // As printed, the pressures are rounded to 0.005 psi at most: 0.2 cc/min here.
            check(NAME, &given, 0.0, "cc/min", 0.2);
        }
    }

    #[test]
    fn one_degree_moves_a_low_pressure_test_by_four_fifths_of_an_inch() {
        let given = tested("0.1 ft3", AT_START, AT_START, "10 min");
        check_part(NAME, &given, "pressure_per_degree", 0.79, "inH2O", 0.005);
    }

    /// Half a degree that nobody measured is ±0.39 inH₂O, as much as a leak of a quarter of a cc/min makes here.
    #[test]
    fn half_a_degree_of_doubt_is_four_tenths_of_an_inch_of_doubt() {
        let given = tested("0.1 ft3", AT_START, ("11 inH2O", "70 degF ± 0.5"), "10 min");
        let outcome = call(NAME, &given).unwrap();
        let Output::Quantity(value) = part_of(&outcome, "leak_free_end_pressure") else {
            panic!("no quantity")
        };
        let inches = value.standard_uncertainty().unwrap() / 249.089;
        assert!((inches - 0.39).abs() < 0.006, "{inches}");
        let Output::Quantity(leak) = outcome.result else { panic!("no quantity") };
        assert!(in_unit(leak, "cc/min").abs() < leak.standard_uncertainty().unwrap() * 6e7);
    }

    #[test]
    fn the_altitude_cancels_where_the_temperature_stayed() {
        let mut given = tested("0.1 ft3", AT_START, ("10 inH2O", "70 degF"), "10 min");
        given.push(("atmosphere", "12.23 psi"));
        check(NAME, &given, 0.683, "cc/min", 0.000_5);
    }

    #[test]
    fn without_both_pipe_temperatures_there_is_no_rate() {
        for missing in ["start_temperature", "end_temperature"] {
            let given: Vec<_> = tested("0.1 ft3", AT_START, AT_START, "10 min")
                .into_iter()
                .filter(|(name, _)| *name != missing)
                .collect();
            let problem = refuses(NAME, &given, "without both temperatures nothing can be said");
            assert!(matches!(problem, Problem::Input { name, .. } if name == missing));
        }
    }

    #[test]
    fn gas_that_came_in_gives_no_rate() {
        let given = tested("0.1 ft3", AT_START, ("12.5 inH2O", "70 degF"), "10 min");
        let problem = refuses(NAME, &given, "lets gas by");
        assert!(matches!(problem, Problem::OutOfRange { .. }));
        let slight = tested("0.1 ft3", AT_START, ("11.1 inH2O", "70 degF"), "10 min");
        let outcome = call(NAME, &slight).unwrap();
        assert!(outcome.notes.iter().any(|note| note.contains("rose a little more")));
    }

    #[test]
    fn a_glance_at_the_gauge_is_no_test() {
        let given = tested("0.1 ft3", AT_START, ("10 inH2O", "70 degF"), "90 s");
        assert!(matches!(refuses(NAME, &given, "2 min"), Problem::OutOfRange { .. }));
        for (volume, time) in [("0 ft3", "10 min"), ("0.1 ft3", "0 min")] {
            let given = tested(volume, AT_START, ("10 inH2O", "70 degF"), time);
            assert!(matches!(refuses(NAME, &given, "not possible"), Problem::Input { .. }));
        }
    }

    #[test]
    fn the_note_on_appliance_valves_comes_over_fourteen_inches_only() {
        let warned = |pressure: &str| {
            let given = tested("0.1 ft3", (pressure, "70 degF"), (pressure, "70 degF"), "10 min");
            call(NAME, &given)
                .unwrap()
                .notes
                .iter()
                .any(|note| note.contains("connected appliance"))
        };
        assert!(!warned("0.5 psi") && !warned("14 inH2O") && warned("3 psi"));
    }

    /// 0.1 inH₂O in 10 min on 0.0741 ft³ is 0.051 cc/min.
    #[test]
    fn the_gauge_limits_the_leak_that_can_be_seen() {
        let mut given = tested("0.0741 ft3", AT_START, AT_START, "10 min");
        given.push(("resolution", "0.1 inH2O"));
        check_part(NAME, &given, "smallest_detectable", 0.051, "cc/min", 0.000_5);
    }

    /// SplitMix64 (Steele, Lea and Flood, OOPSLA 2014): the same noise in every run.
    struct Noise(u64);

    impl Noise {
        fn uniform(&mut self) -> f64 {
            self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
            let mut mixed = self.0;
            mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
            mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
            mixed ^= mixed >> 31;
            // 32 bits are plenty, and convert without loss.
            f64::from(u32::try_from(mixed >> 32).unwrap()) / f64::from(u32::MAX)
        }

        fn between(&mut self, least: f64, most: f64) -> f64 {
            least + (most - least) * self.uniform()
        }

        /// Box and Muller's transformation.
        fn normal(&mut self) -> f64 {
            let radius = (-2.0 * libm::log(self.uniform().max(1e-12))).sqrt();
            radius * libm::cos(2.0 * std::f64::consts::PI * self.uniform())
        }
    }

    /// A thousand tests with known leaks, each read with noise of the stated uncertainty: the stated
    /// interval of ± 2 standard uncertainties (95 %) must hold the true leak in 93 % to 97 %.
    #[test]
    fn the_stated_interval_holds_the_true_leak_as_often_as_it_says() {
        let unit = |kind: Kind, spelling: &str| units::find_of(kind, spelling).unwrap();
        let (inch, degree) = (unit(Kind::Pressure, "inH2O"), unit(Kind::Temperature, "degF"));
        let (foot3, minute) = (unit(Kind::Volume, "ft3"), unit(Kind::Time, "min"));
        let mut noise = Noise(2_026);
        let mut held = 0;
        for _ in 0..1_000 {
            let volume = noise.between(0.03, 0.2);
            let minutes = noise.between(5.0, 20.0);
            let (start, start_degrees) = (noise.between(9.0, 13.0), noise.between(40.0, 90.0));
            let end_degrees = start_degrees + noise.between(-1.0, 1.0);
            let leak = noise.between(0.0, 1.5); // cc/min
            // The true pressure at the end, from the amount of gas that is left (kPa, K, L).
            let (first, last) = (degree.to_base(start_degrees), degree.to_base(end_degrees));
            let lost = leak * minutes * 1e-6 * 101_325.0 / degree.to_base(60.0);
            let left = (inch.to_base(start) + 101_325.0) / first - lost / foot3.to_base(volume);
            let end = inch.from_base(left * last - 101_325.0);
            let mut reading = |truth: f64, standard: f64, unit: &units::Unit| {
                let read = truth + standard * noise.normal();
                Argument::Quantity(
                    Value::in_unit(read, unit).with_uncertainty(standard * unit.step()),
                )
            };
            let arguments = Arguments::default()
                .with("volume", reading(volume, volume * 0.05, foot3))
                .with("start_pressure", reading(start, 0.05, inch))
                .with("start_temperature", reading(start_degrees, 0.15, degree))
                .with("end_pressure", reading(end, 0.05, inch))
                .with("end_temperature", reading(end_degrees, 0.15, degree))
                .with("time", reading(minutes, 0.02, minute));
            let outcome = FORMULA.evaluate(&arguments).unwrap();
            let Output::Quantity(value) = outcome.result else { panic!("no quantity") };
            let standard = value.standard_uncertainty().unwrap() * 60.0 * 1e6;
            held += i32::from((in_unit(value, "cc/min") - leak).abs() <= 2.0 * standard);
        }
        assert!((930..=970).contains(&held), "{held} of 1000");
    }

    #[test]
    fn the_leak_free_pressure_is_a_pressure() {
        let outcome = call(NAME, FORMULA.example).unwrap();
        assert!(
            matches!(part_of(&outcome, "leak_free_end_pressure"), Output::Quantity(value) if value.kind == Kind::Pressure)
        );
    }
}
