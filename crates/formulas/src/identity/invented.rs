//! Invented vehicle identification numbers, for tests.

use proptest::prelude::*;

use super::vehicle_number::{VehicleNumber, YEAR_CODES};

/// A number with its right check digit, as `YEAR_CODES` and the digits at the end allow.
pub(super) fn valid_number() -> impl Strategy<Value = VehicleNumber> {
    let any = "[0-9A-HJ-NPR-Z]";
    (
        proptest::string::string_regex(&format!("{any}{{8}}")).unwrap(),
        proptest::sample::select(YEAR_CODES.chars().collect::<Vec<_>>()),
        proptest::string::string_regex(&format!("{any}{{3}}[0-9]{{4}}")).unwrap(),
    )
        .prop_map(|(front, year, back)| {
            let (number, _) = VehicleNumber::read(&format!("{front}0{year}{back}")).unwrap();
            number.with(9, number.check_digit().expected)
        })
}
