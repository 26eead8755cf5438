//! Whether a carbon monoxide alarm sounded in its time.

use quantity::uom::si::{ratio::part_per_million, time::minute};
use quantity::{Kind, Ratio, Time};

use crate::table::Table;
use crate::{Accepts, Confirmed, Formula, Gives, Input, Outcome, Output, Problem, Source};

static WINDOWS: Table =
    Table::of(include_str!("../../../../data/tables/carbon_monoxide_alarm.csv"));

/// How an alarm's time stands to the window of its concentration.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum AlarmResponse {
    /// Before the window: it would alarm at harmless levels.
    TooEarly,
    /// Within the window.
    InWindow,
    /// After the window.
    TooLate,
}

impl AlarmResponse {
    fn word(self) -> &'static str {
        match self {
            Self::TooEarly => "too_early",
            Self::InWindow => "in_window",
            Self::TooLate => "too_late",
        }
    }
}

/// Earliest and latest time of alarm at a concentration.
///
/// # Errors
/// [`Problem::OutOfRange`] between the tabulated concentrations: there is no verdict there.
pub fn alarm_window(concentration: Ratio) -> Result<(Time, Time), Problem> {
    let ppm = concentration.get::<part_per_million>();
    WINDOWS
        .rows()
        .find(|row| {
            // A hair's breadth for the rounding of the unit conversion.
            (ppm - row.number("concentration")).abs() <= row.number("tolerance") + 1e-9
        })
        .map(|row| {
            let minutes = |column| Time::new::<minute>(row.number(column));
            (minutes("earliest"), minutes("latest"))
        })
        .ok_or_else(|| {
            Problem::out_of_range(
                "no verdict: the standard has windows for 70 ppm, 150 ppm and 400 ppm only, and none \
                 between them",
            )
        })
}

/// Whether an alarm that took this long at this concentration was too early, in time, or too late.
///
/// # Errors
/// As [`alarm_window`].
pub fn co_alarm_response(concentration: Ratio, time: Time) -> Result<AlarmResponse, Problem> {
    let (earliest, latest) = alarm_window(concentration)?;
    Ok(if time < earliest {
        AlarmResponse::TooEarly
    } else if time > latest {
        AlarmResponse::TooLate
    } else {
        AlarmResponse::InWindow
    })
}

pub(crate) static FORMULA: Formula = Formula {
    name: "gas.co_alarm_response",
    summary: "Whether a carbon monoxide alarm sounded within its window.",
    inputs: &[
        Input::quantity("concentration", Kind::Ratio, "carbon monoxide of the test gas")
            .accepting(Accepts::Between("0 ppm", "100000 ppm")),
        Input::quantity("time", Kind::Time, "time until the alarm sounded")
            .accepting(Accepts::AtLeast("0 s")),
    ],
    result: Gives::words("response", "too_early, in_window or too_late"),
    parts: &[
        Gives::quantity("earliest", "min", "beginning of the window"),
        Gives::quantity("latest", "min", "end of the window"),
    ],
    valid: "test gas of 70, 150 or 400 ppm",
    sources: &[Source {
        document: "UL 2034, as four alarm makers’ manuals restate it",
        section: "70 ppm 60 to 240 min, 150 ppm 10 to 50 min, 400 ppm 4 to 15 min",
        confirmed: Confirmed::Quoted,
    }],
    example: &[("concentration", "70 ppm"), ("time", "90 min")],
    compute: |inputs| {
        let (concentration, time) = (inputs.get("concentration")?, inputs.get("time")?);
        let (earliest, latest) = alarm_window(concentration)?;
        Ok(Outcome::new(Output::words(co_alarm_response(concentration, time)?.word()))
            .part("earliest", earliest)
            .part("latest", latest)
            .note("a test button proves the horn and the electronics, not the sensor"))
    },
};

#[cfg(test)]
mod tests {
    use crate::tests::{call, refuses};
    use crate::{Output, Problem};

    const NAME: &str = "gas.co_alarm_response";

    /// UL 2034 as alarm makers restate it.
    #[test]
    fn each_concentration_has_its_window() {
        for (ppm, minutes, want) in [
            ("70 ppm", "59 min", "too_early"),
            ("70 ppm", "60 min", "in_window"),
            ("70 ppm", "240 min", "in_window"),
            ("70 ppm", "241 min", "too_late"),
            ("150 ppm", "9 min", "too_early"),
            ("150 ppm", "10 min", "in_window"),
            ("150 ppm", "50 min", "in_window"),
            ("150 ppm", "51 min", "too_late"),
            ("400 ppm", "3 min", "too_early"),
            ("400 ppm", "4 min", "in_window"),
            ("400 ppm", "15 min", "in_window"),
            ("400 ppm", "16 min", "too_late"),
        ] {
            let outcome = call(NAME, &[("concentration", ppm), ("time", minutes)]).unwrap();
            assert_eq!(outcome.result, Output::words(want), "{ppm} {minutes}");
        }
    }

    #[test]
    fn between_the_windows_there_is_no_verdict() {
        for ppm in ["30 ppm", "100 ppm", "250 ppm", "1000 ppm"] {
            let problem =
                refuses(NAME, &[("concentration", ppm), ("time", "30 min")], "no verdict");
            assert!(matches!(problem, Problem::OutOfRange { .. }));
        }
    }

    /// Carboxyhaemoglobin after Coburn, as the standard's curves have it (from memory):
    /// `218·(1 − e^(−t/(2398·B)))·(0.0003 + ppm/1316)`, B = 0.0404, t in minutes. The end of every window
    /// lies at about the 10 % that the windows are drawn for; 30 ppm never come near.
    #[test]
    fn every_window_ends_at_about_ten_percent_carboxyhaemoglobin() {
        let percent = |ppm: f64, minutes: f64| {
            218.0 * (1.0 - libm::exp(-minutes / (2_398.0 * 0.0404))) * (0.000_3 + ppm / 1_316.0)
        };
        for (ppm, minutes, want) in
            [(70.0, 240.0, 10.68), (150.0, 50.0, 10.04), (400.0, 15.0, 9.51)]
        {
            let got = percent(ppm, minutes);
            assert!((got - want).abs() < 0.01, "{ppm}: {got}");
            assert!((got - 10.0).abs() < 1.0);
            let window = super::alarm_window(quantity::Ratio::new::<super::part_per_million>(ppm));
            assert!((window.unwrap().1.get::<super::minute>() - minutes).abs() < 1e-9);
        }
        assert!((percent(30.0, 1e6) - 5.04).abs() < 0.01);
    }
}
