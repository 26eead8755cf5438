//! How long water at a temperature takes to scald an adult.

use quantity::uom::si::{thermodynamic_temperature::degree_fahrenheit, time::second};
use quantity::{Kind, Temperature, Time};

use crate::table::{Table, between};
use crate::{Accepts, Confirmed, Formula, Gives, Input, Outcome, Problem, Source};

static TIMES: Table = Table::of(include_str!("../../../../data/tables/scald_times.csv"));

/// Time of contact that seriously burns an adult, straight lines on the logarithm of the time between published
/// points.
///
/// # Errors
/// [`Problem::OutOfRange`] below 113 °F and above 158 °F.
pub fn scald_time(temperature: Temperature) -> Result<Time, Problem> {
    // The conversion from °F to K and back leaves crumbs in the last digits.
    let fahrenheit = (temperature.get::<degree_fahrenheit>() * 1e9).round() / 1e9;
    let logarithms: Vec<(f64, f64)> = TIMES
        .line("temperature", "time")
        .into_iter()
        .map(|(degrees, seconds)| (degrees, libm::log(seconds)))
        .collect();
    match between(&logarithms, fahrenheit) {
        Some(logarithm) => Ok(Time::new::<second>(libm::exp(logarithm))),
        None if fahrenheit < 113.0 => Err(Problem::out_of_range(
            "no scald time is listed below 113 degF; valid from 113 degF to 158 degF",
        )),
        None => Err(Problem::out_of_range(
            "above 158 degF it takes about a second or less; valid from 113 degF to 158 degF",
        )),
    }
}

pub(crate) static FORMULA: Formula = Formula {
    name: "water.scald_time",
    summary: "Time of contact with hot water that seriously burns an adult.",
    inputs: &[Input::quantity("temperature", Kind::Temperature, "temperature of the water")
        .accepting(Accepts::AtLeast("0 K"))],
    result: Gives::quantity("time", "s", "until a serious burn of an adult"),
    parts: &[],
    valid: "113 degF to 158 degF",
    sources: &[Source {
        document: "scald times after Moritz and Henriques (1947), as a children’s hospital’s sheet and a trade \
                   table restate them",
        section: "120 degF to 155 degF: serious burn; 113 degF to 118.4 degF: second-degree burn",
        confirmed: Confirmed::Quoted,
    }],
    example: &[("temperature", "130 degF")],
    compute: |inputs| {
        Ok(Outcome::new(scald_time(inputs.get("temperature")?)?)
            .note("for adults; children burn in half the time or less")
            .note(
                "an estimate between published points, not a safe time; codes hold bath and shower outlets to \
                 120 degF by a listed mixing device",
            ))
    },
};

#[cfg(test)]
mod tests {
    use crate::Problem;
    use crate::tests::{check, refuses};

    const NAME: &str = "water.scald_time";

    /// The published list: 120 °F over 5 min, 125 °F 1.5 to 2 min, 130 °F 30 s, 135 °F 10 s, 140 °F under 5 s,
    /// 145 °F under 3 s, 150 °F 1.5 s, 155 °F 1 s; 127.5 °F is √(105·30) s.
    #[test]
    fn scald_times_follow_the_published_list() {
        for (temperature, seconds, tolerance) in [
            ("120 degF", 300.0, 1e-6),
            ("125 degF", 105.0, 1e-6),
            ("127.5 degF", 56.0, 0.2),
            ("130 degF", 30.0, 1e-6),
            ("135 degF", 10.0, 1e-6),
            ("140 degF", 5.0, 1e-6),
            ("145 degF", 3.0, 1e-6),
            ("150 degF", 1.5, 1e-6),
            ("155 degF", 1.0, 1e-6),
            ("113 degF", 7_200.0, 1e-3),
            ("60 degC", 5.0, 1e-6),
        ] {
            check(NAME, &[("temperature", temperature)], seconds, "s", tolerance);
        }
    }

    /// Pairs of second- and third-degree burns after Moritz and Henriques (1947): 113 °F 2 h and 3 h, 116.6 °F 20 and
    /// 45 min, 118.4 °F 15 and 20 min, 120 °F 8 and 10 min, 124 °F 2 and 4.2 min, 131 °F 17 and 30 s, 140 °F 3 and 5 s.
    #[test]
    fn no_time_is_longer_than_that_of_a_third_degree_burn() {
        for (temperature, second, third) in [
            ("113 degF", 7_200.0, 10_800.0),
            ("116.6 degF", 1_200.0, 2_700.0),
            ("118.4 degF", 900.0, 1_200.0),
            ("120 degF", 480.0, 600.0),
            ("124 degF", 120.0, 252.0),
            ("131 degF", 17.0, 30.0),
            ("140 degF", 3.0, 5.0),
        ] {
            let Ok(crate::Evaluation { result: crate::Output::Quantity(value), .. }) =
                crate::tests::call(NAME, &[("temperature", temperature)])
            else {
                panic!("no time at {temperature}")
            };
            assert!(value.base <= third + 1e-6, "{temperature}: {}", value.base);
            // Below 120 °F the list has the second-degree times themselves; above, the times of serious burns.
            if second > 480.0 {
                assert!((value.base - second).abs() < 1e-3, "{temperature}: {}", value.base);
            }
        }
    }

    #[test]
    fn hotter_water_never_takes_longer() {
        let mut last = f64::INFINITY;
        for tenth in 1_130..=1_580 {
            let temperature = quantity::parse_value(
                &format!("{}.{} degF", tenth / 10, tenth % 10),
                quantity::Kind::Temperature,
            );
            let time = super::scald_time(temperature.unwrap().typed().unwrap()).unwrap().value;
            assert!(time <= last, "{tenth}");
            last = time;
        }
    }

    #[test]
    fn outside_the_list_there_is_no_time() {
        for (temperature, words) in [("110 degF", "no scald time"), ("160 degF", "second or less")]
        {
            let problem = refuses(NAME, &[("temperature", temperature)], words);
            assert!(matches!(problem, Problem::OutOfRange { .. }));
        }
    }
}
