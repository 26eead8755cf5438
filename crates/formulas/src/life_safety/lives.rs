//! The table of lives and intervals.

use crate::table::Table;

pub(super) static TABLE: Table =
    Table::of(include_str!("../../../../data/tables/device_lives.csv"));

/// Months after which a device is due, by its row.
pub(super) fn months(device: &str) -> i16 {
    let table = &TABLE;
    let months = table.rows().find(|row| row.text("device") == device);
    months.and_then(|row| row.text("months").parse().ok()).unwrap_or(0)
}

#[cfg(test)]
mod tests {
    use super::{TABLE, months};

    /// NFPA 72 (2007 on) as makers quote it: ten years; carbon monoxide alarms without a mark five years
    /// from the date code; 19 CCR 575.1(b): twelve years; 29 CFR 1910.157(e)(3) and (4): every year,
    /// six years, twelve years.
    #[test]
    fn each_device_has_its_published_life() {
        for (device, years) in [
            ("smoke_alarm", 10),
            ("carbon_monoxide_alarm", 5),
            ("gas_alarm", 5),
            ("extinguisher_not_refilled", 12),
            ("extinguisher_yearly_service", 1),
            ("extinguisher_examination", 6),
            ("extinguisher_pressure_test", 12),
        ] {
            assert_eq!(months(device), 12 * years, "{device}");
        }
    }

    #[test]
    fn every_row_says_how_far_it_was_confirmed() {
        for row in TABLE.rows() {
            assert!(!row.text("source").is_empty(), "{}", row.text("device"));
            assert!(
                ["read", "quoted", "common practice"].contains(&row.text("row_confirmed")),
                "{}",
                row.text("device")
            );
        }
    }
}
