//! What a rested battery's voltage says of its charge.

use quantity::uom::si::ratio::percent;
use quantity::uom::si::thermodynamic_temperature::degree_fahrenheit;
use quantity::{Kind, Quantity, Ratio, Temperature, Time, Voltage, parse_value};

use crate::table::{Table, between};
use crate::{Accepts, Confirmed, Formula, Gives, Input, Outcome, Output, Problem, Source};

pub(super) static TABLE: Table =
    Table::of(include_str!("../../../../data/tables/lead_acid_open_circuit.csv"));

/// Volts for each degree Fahrenheit that the battery is colder than 80 °F: 0.024 V in 10 °F.
const VOLTS_A_DEGREE: f64 = 0.002_4;
const CHARGES: [f64; 5] = [100.0, 75.0, 50.0, 25.0, 0.0]; // %
const FLAT: f64 = 10.5; // V
const SURFACE_CHARGE: f64 = 12.9; // V
const HOUR: f64 = 3_600.0; // s

/// How long a battery has stood without charge and load.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Rest {
    /// Long enough, the inspector says.
    Enough,
    /// Not rested.
    None,
    /// This long.
    For(Time),
}

/// Charge by open-circuit voltage, as read and corrected for temperature.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LeadAcidCharge {
    /// By the voltage as read.
    pub as_read: Ratio,
    /// By the voltage corrected to 80 °F.
    pub corrected: Ratio,
    /// The voltage as read lies beyond the table: full, or empty.
    pub beyond: bool,
}

/// Voltages and charges in percent, rising, from the published table or a maker's own five voltages
/// (at 100, 75, 50, 25 and 0 %).
fn table(voltages: &[Voltage]) -> Result<Vec<(f64, f64)>, Problem> {
    if voltages.is_empty() {
        return Ok(TABLE.line("voltage", "charge"));
    }
    let mut points: Vec<(f64, f64)> =
        voltages.iter().map(|voltage| voltage.base()).zip(CHARGES).collect();
    points.reverse();
    if voltages.len() != CHARGES.len() || points.windows(2).any(|pair| pair[0].0 >= pair[1].0) {
        return Err(Problem::input(
            "voltages",
            "accepted: five falling voltages, at 100, 75, 50, 25 and 0 % charge",
        ));
    }
    Ok(points)
}

/// Charge at a voltage; at and beyond the ends of the table the battery is full or empty.
fn charge(points: &[(f64, f64)], volts: f64) -> Ratio {
    let (least, most) = (points[0].0, points[points.len() - 1].0);
    let share = between(points, volts.max(least).min(most)).unwrap_or(f64::NAN);
    Ratio::new::<percent>(share)
}

fn rested(rest: Rest, hours: f64) -> Result<(), Problem> {
    let long_enough = match rest {
        Rest::Enough => true,
        Rest::None => false,
        Rest::For(time) => time.base() >= hours * HOUR,
    };
    if long_enough {
        return Ok(());
    }
    Err(Problem::out_of_range(format!(
        "not determinable: under charge or load, or just after, the voltage does not tell the charge; \
         disconnect both and let it rest {hours} h or longer"
    )))
}

/// Charge of a 12 V lead-acid battery from its rested voltage.
///
/// Linear in the table of Battery Council International, or in the maker's own five voltages. The table's
/// temperature rule (0.024 V in 10 °F from 80 °F) belongs to hydrometers, and cells move far less; so
/// both charges are given, as a range. From 12.65 V to 12.9 V the battery is full, from 10.5 V to
/// 11.89 V discharged.
///
/// # Errors
/// [`Problem::OutOfRange`] if not rested for 6 h, below 10.5 V, or at 12.9 V and more (surface charge);
/// [`Problem::Input`] for voltages that are no table.
pub fn lead_acid_charge(
    voltage: Voltage,
    temperature: Temperature,
    rest: Rest,
    voltages: &[Voltage],
) -> Result<LeadAcidCharge, Problem> {
    let points = table(voltages)?;
    rested(rest, 6.0)?;
    let volts = voltage.base();
    let (least, most) = (points[0].0, points[points.len() - 1].0);
    if volts < FLAT {
        return Err(Problem::out_of_range(
            "below 10.5 V: flat, or a dead cell, or no 12 V battery; no charge can be told",
        ));
    }
    if volts >= SURFACE_CHARGE.max(most + 0.1) {
        return Err(Problem::out_of_range(
            "surface charge, or charging: such a voltage is not 100 %; take the charger off, load it \
             briefly and let it rest",
        ));
    }
    let colder = 80.0 - temperature.get::<degree_fahrenheit>();
    Ok(LeadAcidCharge {
        as_read: charge(&points, volts),
        corrected: charge(&points, volts - VOLTS_A_DEGREE * colder),
        beyond: !(least..=most).contains(&volts),
    })
}

/// Band of a four-cell lithium iron phosphate battery: `upper`, `plateau` or `low`.
///
/// Published tables contradict each other on the flat part of the curve, so no number is given: 13.4 V and
/// more is the upper end, 12.9 V to 13.4 V the plateau on which the charge cannot be told, below is low.
///
/// # Errors
/// [`Problem::OutOfRange`] if not rested for 1 h, below 10 V or above 14.6 V.
pub fn lithium_band(voltage: Voltage, rest: Rest) -> Result<&'static str, Problem> {
    rested(rest, 1.0)?;
    match voltage.base() {
        ..10.0 => Err(Problem::out_of_range(
            "below 10 V: the battery's own protection has opened, or it is no 12.8 V battery; leave \
             charging it to its maker's instructions",
        )),
        10.0..12.9 => Ok("low"),
        12.9..13.4 => Ok("plateau"),
        13.4..=14.6 => Ok("upper"),
        _ => Err(Problem::out_of_range(
            "above 14.6 V: charging, or no 12.8 V battery; no band can be told",
        )),
    }
}

/// `yes`, `no`, or a time.
fn read_rest(text: &str) -> Result<Rest, Problem> {
    match text {
        "yes" => Ok(Rest::Enough),
        "no" => Ok(Rest::None),
        _ => {
            let time = parse_value(text, Kind::Time)
                .ok()
                .filter(|time| time.base >= 0.0)
                .and_then(quantity::Value::typed);
            time.map(Rest::For).ok_or_else(|| {
                Problem::input(
                    "rested",
                    format!("`{text}` is not accepted; accepted: yes, no, or a time such as 12 h"),
                )
            })
        }
    }
}

pub(crate) static FORMULA: Formula = Formula {
    name: "battery.state_of_charge",
    summary: "Charge of a rested 12 V battery by its voltage: a share, or a band for lithium.",
    inputs: &[
        Input::quantity("voltage", Kind::Voltage, "at the posts, charge and load disconnected")
            .accepting(Accepts::AtLeast("0 V")),
        Input::word(
            "kind",
            &["lead_acid", "agm", "gel", "lithium"],
            "flooded lead-acid; agm or gel only with the maker's own voltages; lithium is iron phosphate, \
             four cells",
        ),
        Input::quantity("temperature", Kind::Temperature, "of the battery")
            .accepting(Accepts::AtLeast("0 K")),
        Input::text("rested", "yes, no, or how long it stood without charge and load"),
        Input::list(
            "voltages",
            Kind::Voltage,
            "the maker's rested voltages at 100, 75, 50, 25 and 0 %; without them a common table",
        )
        .accepting(Accepts::Above("0 V"))
        .optional(),
    ],
    result: Gives::quantity_or_words(
        "charge",
        "%",
        "by the voltage as read; for lithium upper, plateau or low",
    ),
    parts: &[
        Gives::quantity("corrected", "%", "by the voltage corrected to 80 degF; lead-acid only"),
        Gives::quantity("lowest", "%", "the lower of the two; lead-acid only"),
        Gives::quantity("highest", "%", "the higher of the two; lead-acid only"),
    ],
    valid: "10.5 V to 12.9 V rested 6 h (lead-acid), 10 V to 14.6 V rested 1 h (lithium)",
    sources: &[
        Source {
            document: "a battery maker's page with the table of Battery Council International",
            section: "open-circuit voltage at 80 degF; 0.024 V in 10 degF",
            confirmed: Confirmed::Read,
        },
        Source {
            document: "lead-acid batteries",
            section: "a cell's open voltage moves far less with temperature than the gravity rule says",
            confirmed: Confirmed::FromMemory,
        },
        Source {
            document: "battery makers' pages",
            section: "rest of 6 h and more, or 8 h to 24 h: they disagree",
            confirmed: Confirmed::Quoted,
        },
        Source {
            document: "bands of lithium iron phosphate: public tables contradict each other (13.2 V is 40 % in \
                      one and 70 % in another)",
            section: "",
            confirmed: Confirmed::OwnChoice,
        },
    ],
    example: &[
        ("voltage", "12.50 V"),
        ("kind", "lead_acid"),
        ("temperature", "80 degF"),
        ("rested", "12 h"),
    ],
    compute: |inputs| {
        let rest = read_rest(inputs.words("rested")?)?;
        let voltage: Voltage = inputs.get("voltage")?;
        let voltages: Vec<Voltage> = inputs.list("voltages")?;
        match inputs.words("kind")? {
            "lithium" if !voltages.is_empty() => Err(Problem::input(
                "voltages",
                "is for lead-acid kinds only: no voltage tells the charge on lithium's plateau",
            )),
            "lithium" => Ok(lithium_outcome(lithium_band(voltage, rest)?)),
            "agm" | "gel" if voltages.is_empty() => Err(Problem::out_of_range(
                "makers of AGM and gel batteries differ too much for a common table: give the maker's \
                 `voltages`, or take a load test",
            )),
            _ => {
                let found = lead_acid_charge(voltage, inputs.get("temperature")?, rest, &voltages)?;
                Ok(lead_acid_outcome(found, rest))
            }
        }
    },
};

fn lithium_outcome(band: &str) -> Outcome {
    let outcome = Outcome::new(Output::words(band))
        .note("use the figure of a shunt or of the battery's own management for a number");
    let outcome = if band == "plateau" {
        outcome.note("on the plateau the charge cannot be told from the voltage")
    } else {
        outcome
    };
    outcome.note("bands are our own choice; do not charge lithium iron phosphate below 0 degC")
}

fn lead_acid_outcome(found: LeadAcidCharge, rest: Rest) -> Outcome {
    let (as_read, corrected) = (found.as_read, found.corrected);
    let (lowest, highest) =
        if as_read < corrected { (as_read, corrected) } else { (corrected, as_read) };
    let mut outcome = Outcome::new(as_read)
        .part("corrected", corrected)
        .part("lowest", lowest)
        .part("highest", highest)
        .note(
            "8 mV is about 1 %: a meter good to 1 % of 12 V tells the charge to about 15 %; tables differ by \
             maker, too",
        );
    if found.beyond {
        outcome = outcome.note("the voltage lies beyond the table's end: full, or discharged");
    }
    let short_of_a_day = match rest {
        Rest::For(time) => time.base() < 24.0 * HOUR,
        Rest::Enough | Rest::None => false,
    };
    if short_of_a_day {
        outcome = outcome.note("some makers want a rest of up to 24 h before the voltage is read");
    }
    outcome
}

#[cfg(test)]
mod tests {
    use crate::tests::{call, check, check_part, refuses};
    use crate::{Output, Problem};

    const NAME: &str = "battery.state_of_charge";

    fn lead_acid<'a>(voltage: &'a str, temperature: &'a str) -> [(&'static str, &'a str); 4] {
        [
            ("voltage", voltage),
            ("kind", "lead_acid"),
            ("temperature", temperature),
            ("rested", "yes"),
        ]
    }

    /// The rows of the published table, and points worked out on the straight lines between them.
    #[test]
    fn lead_acid_charge_is_linear_in_the_published_table() {
        for (voltage, percent) in [
            ("12.65 V", 100.0),
            ("12.45 V", 75.0),
            ("12.24 V", 50.0),
            ("12.06 V", 25.0),
            ("11.89 V", 0.0),
            ("12.50 V", 81.25),
            ("12.35 V", 63.10),
        ] {
            check(NAME, &lead_acid(voltage, "80 degF"), percent, "%", 0.005);
            check_part(NAME, &lead_acid(voltage, "80 degF"), "corrected", percent, "%", 0.005);
        }
    }

    /// 40 °F is 40 °F colder than the table: 0.096 V off, 12.204 V, 45.0 %.
    #[test]
    fn the_temperature_correction_is_shown_beside_the_uncorrected_charge() {
        let cold = lead_acid("12.30 V", "40 degF");
        check(NAME, &cold, 57.14, "%", 0.005);
        check_part(NAME, &cold, "corrected", 45.0, "%", 0.005);
        check_part(NAME, &cold, "lowest", 45.0, "%", 0.005);
        check_part(NAME, &cold, "highest", 57.14, "%", 0.005);
        check_part(NAME, &lead_acid("12.30 V", "100 degF"), "lowest", 57.14, "%", 0.005);
    }

    #[test]
    fn beyond_the_table_it_is_full_or_discharged_and_said() {
        for (voltage, percent) in [("12.73 V", 100.0), ("11.2 V", 0.0)] {
            let pairs = lead_acid(voltage, "80 degF");
            check(NAME, &pairs, percent, "%", 1e-9);
            let notes = call(NAME, &pairs).unwrap().notes;
            assert!(notes.iter().any(|note| note.contains("beyond the table's end")), "{notes:?}");
        }
    }

    #[test]
    fn surface_charge_and_a_dead_cell_have_no_number() {
        for (voltage, words) in
            [("12.9 V", "surface charge"), ("13.6 V", "surface charge"), ("10.4 V", "dead cell")]
        {
            let problem = refuses(NAME, &lead_acid(voltage, "80 degF"), words);
            assert!(matches!(problem, Problem::OutOfRange { .. }));
        }
    }

    #[test]
    fn an_unrested_battery_is_not_determinable() {
        for (kind, rested, enough) in [
            ("lead_acid", "no", false),
            ("lead_acid", "2 h", false),
            ("lead_acid", "6 h", true),
            ("lithium", "30 min", false),
            ("lithium", "1 h", true),
        ] {
            let pairs = [
                ("voltage", "12.4 V"),
                ("kind", kind),
                ("temperature", "70 degF"),
                ("rested", rested),
            ];
            if enough {
                call(NAME, &pairs).unwrap();
            } else {
                let problem = refuses(NAME, &pairs, "not determinable");
                assert!(matches!(problem, Problem::OutOfRange { .. }));
            }
        }
        let pairs = [
            ("voltage", "12.4 V"),
            ("kind", "lead_acid"),
            ("temperature", "70 degF"),
            ("rested", "a while"),
        ];
        assert!(matches!(refuses(NAME, &pairs, "accepted: yes, no"), Problem::Input { .. }));
    }

    #[test]
    fn lithium_gives_bands_because_tables_contradict_each_other() {
        let pairs = |voltage| {
            [
                ("voltage", voltage),
                ("kind", "lithium"),
                ("temperature", "70 degF"),
                ("rested", "yes"),
            ]
        };
        for (voltage, band) in [
            ("13.4 V", "upper"),
            ("13.39 V", "plateau"),
            ("13.2 V", "plateau"),
            ("12.9 V", "plateau"),
            ("12.89 V", "low"),
            ("14.6 V", "upper"),
            ("10 V", "low"),
        ] {
            assert_eq!(
                call(NAME, &pairs(voltage)).unwrap().result,
                Output::words(band),
                "{voltage}"
            );
        }
        refuses(NAME, &pairs("9.9 V"), "below 10 V");
        refuses(NAME, &pairs("14.7 V"), "above 14.6 V");
    }

    #[test]
    fn agm_needs_its_makers_table() {
        let mut pairs = vec![
            ("voltage", "12.7 V"),
            ("kind", "agm"),
            ("temperature", "80 degF"),
            ("rested", "24 h"),
        ];
        refuses(NAME, &pairs, "give the maker's");
        pairs.push(("voltages", "12.8, 12.6, 12.3, 12.0, 11.8 V"));
        check(NAME, &pairs, 87.5, "%", 1e-6);
        pairs.pop();
        pairs.push(("voltages", "12.8, 12.6 V"));
        refuses(NAME, &pairs, "five falling voltages");
    }
}
