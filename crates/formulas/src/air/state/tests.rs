//! Air states computed by an outside library.

use crate::Problem;
use crate::table::Table;
use crate::tests::{call, check, check_part, refuses};

const NAME: &str = "air.state";

/// Computed with PsychroLib 2.5.0 in SI; its wet bulb is found to 0.001 K.
#[test]
fn states_by_relative_humidity_agree_with_the_library() {
    for (dry_bulb, humidity, altitude, wet_bulb, dew_point, grams, enthalpy, volume) in [
        (25.0, "50 %", 0.0, 17.8894, 13.8640, 9.881_04, 50.3220, 0.858_04),
        (35.0, "40 %", 0.0, 23.9342, 19.3846, 14.131_65, 71.4732, 0.892_79),
        (30.0, "70 %", 0.0, 25.5034, 23.9279, 18.795_18, 78.2355, 0.884_74),
        (20.0, "60 %", 0.0, 15.1437, 12.0075, 8.734_48, 42.2899, 0.842_12),
        (25.0, "50 %", 1_609.0, 17.4279, 13.8640, 12.041_32, 55.8253, 1.045_64),
        (35.0, "20 %", 1_609.0, 17.8529, 8.7067, 8.505_37, 57.0356, 1.074_68),
        (40.0, "10 %", 2_000.0, 16.8518, 2.6294, 5.830_74, 55.2565, 1.141_33),
        (5.0, "80 %", 0.0, 3.5876, 1.8413, 4.314_06, 15.8596, 0.793_43),
        (-10.0, "70 %", 0.0, -10.9752, -13.9568, 1.118_73, -7.2829, 0.746_81),
        (25.0, "100 %", 0.0, 25.0, 25.0, 20.081_12, 76.3067, 0.871_90),
    ] {
        let dry_bulb = format!("{dry_bulb} degC");
        let altitude = format!("{altitude} m");
        let pairs = [
            ("dry_bulb", dry_bulb.as_str()),
            ("relative_humidity", humidity),
            ("altitude", &altitude),
        ];
        check(NAME, &pairs, dew_point, "degC", 1e-3);
        check_part(NAME, &pairs, "wet_bulb", wet_bulb, "degC", 1e-3);
        check_part(NAME, &pairs, "humidity_ratio", grams, "g/kg", 1e-3);
        check_part(NAME, &pairs, "enthalpy", enthalpy, "kJ/kg", 1e-3);
        check_part(NAME, &pairs, "volume", volume, "m3/kg", 6e-6);
    }
}

/// Computed with PsychroLib 2.5.0 in its customary form, whose rounded constants differ from the SI
/// form's: 0.01 °F, 2e-6 in the ratio, 0.01 Btu/lb.
#[test]
fn customary_states_agree_within_the_rounding_of_the_customary_constants() {
    for (dry_bulb, measure, given, altitude, dew_point, ratio, enthalpy, volume) in [
        ("80 degF", "relative_humidity", "50 %", "0 ft", 59.7065, 0.010_924, 31.1788, 13.8440),
        ("75 degF", "relative_humidity", "50 %", "0 ft", 55.1199, 0.009_236, 28.1066, 13.6792),
        ("95 degF", "relative_humidity", "40 %", "0 ft", 66.8924, 0.014_132, 38.3897, f64::NAN),
        ("80 degF", "relative_humidity", "50 %", "5280 ft", 59.7065, 0.013_318, 33.8035, 16.8775),
        ("80 degF", "wet_bulb", "67 degF", "0 ft", 60.3178, 0.011_169, 31.4472, 13.8494),
        ("80 degF", "dew_point", "60.3178 degF", "0 ft", 60.3178, 0.011_169, 31.4472, 13.8494),
        ("75 degF", "wet_bulb", "62 degF", "0 ft", 54.0363, 0.008_873, 27.7093, f64::NAN),
        ("60 degF", "wet_bulb", "58 degF", "0 ft", f64::NAN, 0.009_805, 25.0648, f64::NAN),
        ("80 degF", "wet_bulb", "67 degF", "5280 ft", f64::NAN, 0.014_280, 34.8582, 16.9030),
    ] {
        let pairs = [("dry_bulb", dry_bulb), (measure, given), ("altitude", altitude)];
        if dew_point.is_finite() {
            check(NAME, &pairs, dew_point, "degF", 0.03);
        }
        check_part(NAME, &pairs, "humidity_ratio", ratio, "lb/lb", 1e-5);
        check_part(NAME, &pairs, "customary_enthalpy", enthalpy, "Btu/lb", 0.01);
        if volume.is_finite() {
            check_part(NAME, &pairs, "volume", volume, "ft3/lb", 0.002);
        }
    }
    for (dry_bulb, humidity, altitude, wet_bulb) in [
        ("80 degF", "50 %", "0 ft", 66.6620),
        ("75 degF", "50 %", "0 ft", 62.5525),
        ("95 degF", "40 %", "0 ft", 75.0764),
        ("80 degF", "50 %", "5280 ft", 65.8420),
    ] {
        let pairs =
            [("dry_bulb", dry_bulb), ("relative_humidity", humidity), ("altitude", altitude)];
        check_part(NAME, &pairs, "wet_bulb", wet_bulb, "degF", 0.03);
    }
    for (dry_bulb, wet_bulb, altitude, humidity) in [
        ("75 degF", "62 degF", "0 ft", 48.062),
        ("60 degF", "58 degF", "0 ft", 88.981),
        ("80 degF", "67 degF", "5280 ft", 53.530),
    ] {
        let pairs = [("dry_bulb", dry_bulb), ("wet_bulb", wet_bulb), ("altitude", altitude)];
        check_part(NAME, &pairs, "relative_humidity", humidity, "%", 0.05);
    }
    let wet = [("dry_bulb", "80 degF"), ("wet_bulb", "67 degF")];
    check_part(NAME, &wet, "relative_humidity", 51.101, "%", 0.05);
    check_part(NAME, &wet, "humidity_ratio", 78.184, "gr/lb", 0.1);
}

#[test]
fn exactly_one_measure_of_humidity_is_taken() {
    for (pairs, name) in [
        (vec![("dry_bulb", "80 degF")], "relative_humidity"),
        (
            vec![("dry_bulb", "80 degF"), ("wet_bulb", "67 degF"), ("relative_humidity", "51 %")],
            "relative_humidity",
        ),
        (
            vec![("dry_bulb", "80 degF"), ("wet_bulb", "67 degF"), ("dew_point", "60 degF")],
            "dew_point",
        ),
    ] {
        match call(NAME, &pairs) {
            Err(Problem::Input { name: named, sentence }) => {
                assert_eq!(named, name);
                assert!(sentence.contains("exactly one"), "{sentence}");
            }
            other => panic!("{other:?}"),
        }
    }
}

#[test]
fn what_breaks_physics_is_an_input_error() {
    for (measure, given, words) in [
        ("relative_humidity", "120 %", "0 % to 100 %"),
        ("relative_humidity", "-5 %", "0 % to 100 %"),
        ("wet_bulb", "81 degF", "above the dry bulb"),
        ("dew_point", "81 degF", "above the dry bulb"),
        ("wet_bulb", "20 degF", "than even dry air"),
    ] {
        let problem = refuses(NAME, &[("dry_bulb", "80 degF"), (measure, given)], words);
        assert!(matches!(problem, Problem::Input { .. }), "{measure} {given}");
    }
}

#[test]
fn outside_the_equations_there_is_no_state() {
    for (dry_bulb, humidity, words) in [
        ("210 degC", "1 %", "-100 degC to 200 degC"),
        ("25 degC", "0 %", "no dew point"),
        ("120 degC", "90 %", "water boils"),
    ] {
        let pairs = [("dry_bulb", dry_bulb), ("relative_humidity", humidity)];
        assert!(matches!(refuses(NAME, &pairs, words), Problem::OutOfRange { .. }), "{dry_bulb}");
    }
}

/// Computed with PsychroLib 2.5.0 in SI: 500 states. It finds wet bulbs and dew points to 0.001 K only.
#[test]
fn five_hundred_states_agree_with_the_library() {
    let table = Table::of(include_str!("../../../../../reference/moist_air/states.csv"));
    assert_eq!(table.rows().count(), 500);
    for row in table.rows() {
        let dry_bulb = format!("{} degC", row.text("dry_bulb"));
        let altitude = format!("{} m", row.text("altitude"));
        let measure = row.text("measure");
        let unit = if measure == "relative_humidity" { "ratio" } else { "degC" };
        let given = format!("{} {unit}", row.text("given"));
        let pairs =
            [("dry_bulb", dry_bulb.as_str()), (measure, given.as_str()), ("altitude", &altitude)];
        check_part(NAME, &pairs, "wet_bulb", row.number("wet_bulb"), "degC", 0.01);
        check_part(NAME, &pairs, "dew_point", row.number("dew_point"), "degC", 0.01);
        check_part(NAME, &pairs, "humidity_ratio", row.number("humidity_ratio"), "lb/lb", 1e-6);
        let humidity = row.number("relative_humidity");
        check_part(NAME, &pairs, "relative_humidity", humidity, "ratio", 1e-6);
        check_part(NAME, &pairs, "enthalpy", row.number("enthalpy") / 1e3, "kJ/kg", 1e-3);
        check_part(NAME, &pairs, "volume", row.number("volume"), "m3/kg", 1e-6);
        check_part(NAME, &pairs, "density", row.number("density"), "kg/m3", 1e-6);
    }
}

#[test]
fn states_of_a_list_are_those_of_the_single_function() {
    use super::{Humidity, state, states};
    use quantity::{Length, Quantity, Ratio, Temperature};
    let celsius = |number: f64| Temperature::from_base(number + 273.15);
    let air = [
        (celsius(25.0), Humidity::Relative(Ratio::from_base(0.5))),
        (celsius(-10.0), Humidity::DewPoint(celsius(-14.0))),
        (celsius(30.0), Humidity::WetBulb(celsius(20.0))),
    ];
    let altitude = Length::from_base(1_609.0);
    let single = air.map(|(dry_bulb, humidity)| state(dry_bulb, humidity, altitude).unwrap());
    assert_eq!(states(&air, altitude).unwrap(), single);
    let hot = [air[0], (celsius(300.0), air[0].1)];
    assert!(matches!(states(&hot, altitude), Err(Problem::OutOfRange { .. })));
}
