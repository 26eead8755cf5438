//! What people write is read right, and what is written reads back.

use crate::{Kind, Specification, UnitSystem, Value, parse_list, parse_value, units, write_value};

fn base(text: &str, kind: Kind) -> f64 {
    parse_value(text, kind).unwrap_or_else(|error| panic!("{text}: {error}")).base
}

fn close(got: f64, want: f64, tolerance: f64) {
    assert!((got - want).abs() <= tolerance, "{got}, expected {want}");
}

#[test]
fn lengths_are_read_as_people_write_them() {
    for (text, inches) in [
        ("1/4 in", 0.25),
        ("1 1/4 in", 1.25),
        ("1-7/8 in", 1.875),
        ("1½ in", 1.5),
        ("¾\"", 0.75),
        ("5 ft 6 in", 66.0),
        ("5 ft 6 1/2 in", 66.5),
        ("5'6\"", 66.0),
        ("-2 ft 6 in", -30.0),
        ("2.5e1 in", 25.0),
        ("1,200 in", 1_200.0),
        ("25.4 mm", 1.0),
    ] {
        close(base(text, Kind::Length), inches * 0.0254, 1e-12);
    }
}

#[test]
fn temperatures_have_offsets_and_their_differences_have_none() {
    close(base("-40 degF", Kind::Temperature), 233.15, 1e-9);
    close(base("-40 °C", Kind::Temperature), 233.15, 1e-9);
    close(base("70 °F", Kind::Temperature), 294.261_111, 1e-6);
    close(base("18 ddegF", Kind::TemperatureDifference), 10.0, 1e-12);
    let value = parse_value("70 degF ± 0.9", Kind::Temperature).unwrap();
    close(value.standard_uncertainty().unwrap(), 0.5, 1e-12);
}

/// NIST SP 811 (2008), appendix B.8, and the exact definitions there.
#[test]
fn units_have_their_published_factors() {
    for (text, kind, si, tolerance) in [
        ("1 psi", Kind::Pressure, 6_894.757_293_168, 1e-8),
        ("1 psf", Kind::Pressure, 47.880_258_980, 1e-8),
        ("1 inHg", Kind::Pressure, 3_386.389, 1e-6),
        ("1 inH2O", Kind::Pressure, 249.089, 1e-9),
        ("1 inH2O_39F", Kind::Pressure, 249.082, 1e-9),
        ("1 inH2O_60F", Kind::Pressure, 248.84, 1e-9),
        ("1 lb", Kind::Mass, 0.453_592_37, 1e-15),
        ("1 gal", Kind::Volume, 231.0 * 0.0254 * 0.0254 * 0.0254, 1e-15),
        ("128 floz", Kind::Volume, 3.785_411_784e-3, 1e-15),
        ("16 cup", Kind::Volume, 3.785_411_784e-3, 1e-15),
        ("1 Btu", Kind::Energy, 1_055.055_852_62, 1e-9),
        ("1 Btu/h", Kind::Power, 0.293_071_07, 1e-8),
        ("1 Btu in/(h ft2 degF)", Kind::ThermalConductivity, 0.144_227_889, 1e-9),
        ("1 Btu/(h ft2 degF)", Kind::HeatTransfer, 5.678_263_34, 1e-8),
        ("1 Btu/lb", Kind::SpecificEnergy, 2_326.0, 1e-9),
        ("1 cfm", Kind::VolumeFlow, 4.719_474_43e-4, 1e-12),
        ("1 gpm", Kind::VolumeFlow, 6.309_019_64e-5, 1e-13),
        ("1 lb/gal", Kind::Density, 119.826_427, 1e-6),
        ("1 mph", Kind::Speed, 0.447_04, 1e-12),
        ("1 lbf ft", Kind::Torque, 1.355_817_948, 1e-9),
        ("1 Ah", Kind::Charge, 3_600.0, 1e-9),
        ("1/4 in/ft", Kind::Ratio, 0.25 / 12.0, 1e-15),
        ("1 W/ft", Kind::PowerPerLength, 3.280_839_895, 1e-9),
    ] {
        close(base(text, kind), si, tolerance);
    }
}

#[test]
fn every_unit_reads_back_and_has_a_counterpart_of_its_kind() {
    for unit in units::ALL {
        for spelling in std::iter::once(&unit.spelling).chain(unit.also) {
            let found = units::find_of(unit.kind, spelling).unwrap();
            assert_eq!(found.spelling, unit.spelling, "{spelling}");
        }
        close(unit.from_base(unit.to_base(12.5)), 12.5, 1e-9);
        let other = match unit.system {
            Some(UnitSystem::Us) => unit.in_system(UnitSystem::Si),
            Some(UnitSystem::Si) => unit.in_system(UnitSystem::Us),
            None => continue,
        };
        assert_eq!(other.kind, unit.kind, "{}", unit.spelling);
        assert_ne!(other.system, unit.system, "{} has no counterpart", unit.spelling);
    }
}

#[test]
fn uncertainty_is_read_behind_the_value_or_before_the_unit() {
    for text in [
        "117.3 V ± 0.05",
        "117.3 V +/- 0.05 V",
        "117.3 ± 0.05 V",
        "(117.3 ± 0.05) V",
        "117.3 V ± 50 mV",
    ] {
        let value = parse_value(text, Kind::Voltage).unwrap();
        close(value.base, 117.3, 1e-12);
        close(value.standard_uncertainty().unwrap(), 0.05, 1e-12);
    }
    let relative = parse_value("200 lb ± 1 %", Kind::Mass).unwrap();
    close(relative.standard_uncertainty().unwrap() / 0.453_592_37, 2.0, 1e-9);
    let joined = parse_value("9 ± 1 %", Kind::Ratio).unwrap();
    assert!((joined.base - 0.09).abs() < 1e-12, "{joined:?}");
    assert!((joined.standard_uncertainty().unwrap() - 0.01).abs() < 1e-12, "{joined:?}");
    let share = parse_value("20 % ± 1 %", Kind::Ratio).unwrap();
    close(share.standard_uncertainty().unwrap(), 0.01, 1e-12);
}

#[test]
fn lists_share_the_last_unit() {
    for text in ["0, 1/4, 3/8 in", "0 in; 1/4 in; 3/8 in", r#"["0 in", "1/4 in", "3/8 in"]"#] {
        let inches: Vec<f64> =
            parse_list(text, Kind::Length).unwrap().iter().map(|v| v.base / 0.0254).collect();
        assert_eq!(inches.len(), 3);
        close(inches[1], 0.25, 1e-12);
        close(inches[2], 0.375, 1e-12);
    }
    // A bare ratio is a share, but not beside one in percent.
    let shares: Vec<f64> =
        parse_list("9, 11, 10.5 %", Kind::Ratio).unwrap().iter().map(|v| v.base).collect();
    for (got, want) in shares.iter().zip([0.09, 0.11, 0.105]) {
        assert!((got - want).abs() < 1e-12, "{shares:?}");
    }
    assert!(parse_list("", Kind::Length).unwrap_err().to_string().contains("empty"));
}

#[test]
fn what_is_no_value_gets_a_sentence() {
    for (text, kind, part) in [
        ("", Kind::Pressure, "there is no value"),
        ("abc", Kind::Pressure, "does not begin with a number"),
        ("32", Kind::Pressure, "`32` has no unit"),
        ("32 psj", Kind::Pressure, "`psj` is no unit"),
        ("70 degF", Kind::Pressure, "`70 degF` is a temperature, not a pressure"),
        ("1e999 psi", Kind::Pressure, "does not begin with a number"),
        ("nan V", Kind::Voltage, "does not begin with a number"),
        ("--5 V", Kind::Voltage, "does not begin with a number"),
        ("5 V ± -1", Kind::Voltage, "is below zero"),
        ("5 V ± x", Kind::Voltage, "is no number"),
        ("5 V 6 V", Kind::Voltage, "is no unit"),
        ("1/0 in", Kind::Length, "does not begin with a number"),
    ] {
        let error = parse_value(text, kind).unwrap_err().to_string();
        assert!(error.contains(part), "{text}: {error}");
        assert!(error.contains("; write "), "{error}");
    }
}

#[test]
fn digits_follow_the_uncertainty() {
    let volt = units::find("V").unwrap();
    let pound = units::find("lb").unwrap();
    let fahrenheit = units::find("degF").unwrap();
    for (text, kind, unit, want) in [
        ("117.3 V ± 0.05", Kind::Voltage, volt, "117.30 V ± 0.10 V"),
        ("117.34567 V", Kind::Voltage, volt, "117.35 V"),
        ("117 V", Kind::Voltage, volt, "117 V"),
        ("0 V", Kind::Voltage, volt, "0 V"),
        ("-0.0001 V ± 0.05", Kind::Voltage, volt, "0.00 V ± 0.10 V"),
        ("70 degF ± 0.5", Kind::Temperature, fahrenheit, "70.0 °F ± 1.0 °F"),
        ("45678 lb ± 617", Kind::Mass, pound, "45,700 lb ± 1200 lb"),
        ("1234567 lb", Kind::Mass, pound, "1,234,567 lb"),
    ] {
        assert_eq!(write_value(parse_value(text, kind).unwrap(), unit), want);
    }
    let other = write_value(Value::new(Kind::Mass, 1.0), volt);
    assert!(other.contains("SI base units of mass"), "{other}");
}

/// 0.7 % + 2 counts of 0.1 V and others: JCGM 100:2008 4.3.7 and F.2.2.1, computed by hand.
#[test]
fn a_spec_sheet_becomes_a_standard_uncertainty() {
    let volt = units::find("V").unwrap();
    for (reading, percent, counts, digit, u) in [
        (118.4, 0.7, 2.0, 0.1, 0.594_679),
        (113.9, 0.7, 2.0, 0.1, 0.576_515),
        (12.64, 0.5, 2.0, 0.01, 0.048_122),
        (12.64, 0.05, 1.0, 0.001, 0.004_236),
    ] {
        let sheet = Specification { percent, counts, digit, calibration: 0.0, unit: volt };
        let value = Value::in_unit(reading, volt);
        close(sheet.uncertainty(value, 0).unwrap().standard(), u, 1e-6);
        let shared = sheet.uncertainty(value, 7).unwrap();
        close(shared.standard(), u, 1e-6);
        assert!(shared.shared > 0.0 && shared.shared < u);
    }
    let negative =
        Specification { percent: -1.0, counts: 0.0, digit: 0.1, calibration: 0.0, unit: volt };
    assert!(negative.uncertainty(Value::in_unit(1.0, volt), 0).is_err());
}
