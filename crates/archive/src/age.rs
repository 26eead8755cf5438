//! How old a unit was on the day of the visit, and the bands that ages are counted in.

use inspection::Inspection;
use jiff::civil::Date;

/// A band of ages, in whole years.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum AgeBand {
    /// Up to 4.
    UnderFive,
    /// 5 to 9.
    Five,
    /// 10 to 14.
    Ten,
    /// 15 to 19.
    Fifteen,
    /// 20 to 29.
    Twenty,
    /// 30 and more.
    Thirty,
    /// Neither a build date nor a model year is recorded, or no visit.
    Unknown,
}

impl AgeBand {
    /// All of them, the youngest first.
    pub const ALL: [Self; 7] = [
        Self::UnderFive,
        Self::Five,
        Self::Ten,
        Self::Fifteen,
        Self::Twenty,
        Self::Thirty,
        Self::Unknown,
    ];

    /// The words in tables and files.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::UnderFive => "0-4",
            Self::Five => "5-9",
            Self::Ten => "10-14",
            Self::Fifteen => "15-19",
            Self::Twenty => "20-29",
            Self::Thirty => "30+",
            Self::Unknown => "unknown",
        }
    }

    /// The band with this word.
    #[must_use]
    pub fn from_word(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|band| band.word() == word)
    }

    /// The band of an age.
    #[must_use]
    pub fn of(age: Option<u16>) -> Self {
        match age {
            None => Self::Unknown,
            Some(0..5) => Self::UnderFive,
            Some(5..10) => Self::Five,
            Some(10..15) => Self::Ten,
            Some(15..20) => Self::Fifteen,
            Some(20..30) => Self::Twenty,
            Some(30..) => Self::Thirty,
        }
    }
}

/// Whole years from the build date to the first visit; from the model year where no build date is recorded.
///
/// A model year is sold from the year before on, so a unit of next year's model is 0 years old. A unit built after the
/// visit has no age: one of the two days is wrong.
pub(crate) fn age(inspection: &Inspection) -> Option<u16> {
    let visited = first_visit(inspection)?;
    let dwelling = &inspection.dwelling;
    let years = match (dwelling.built, dwelling.model_year) {
        (Some(built), _) if built > visited => return None,
        (Some(built), _) => {
            let before_the_day = (visited.month(), visited.day()) < (built.month(), built.day());
            visited.year() - built.year() - i16::from(before_the_day)
        }
        (None, Some(model)) if visited.year().checked_add(1) == Some(model) => 0,
        (None, Some(model)) => visited.year().checked_sub(model)?,
        (None, None) => return None,
    };
    u16::try_from(years).ok()
}

/// The first day of the visits.
pub(crate) fn first_visit(inspection: &Inspection) -> Option<Date> {
    inspection.job.visits.iter().min().copied()
}

#[cfg(test)]
mod tests {
    use jiff::civil::date;

    use super::*;

    #[test]
    fn ages_are_whole_years_at_the_first_visit() {
        let check = |built: Option<Date>, model_year, visits: &[Date], expected| {
            let mut inspection = Inspection::default();
            inspection.dwelling.built = built;
            inspection.dwelling.model_year = model_year;
            inspection.job.visits = visits.to_vec();
            assert_eq!(age(&inspection), expected);
        };
        let day = date(2026, 6, 12);
        check(Some(date(2019, 6, 1)), Some(2020), &[day], Some(7));
        check(Some(date(2019, 6, 13)), None, &[day], Some(6));
        check(Some(date(2019, 6, 12)), None, &[date(2027, 1, 1), day], Some(7));
        check(None, Some(2019), &[day], Some(7));
        check(None, Some(2027), &[day], Some(0));
        check(None, Some(2028), &[day], None);
        check(Some(date(2026, 7, 1)), None, &[day], None);
        check(Some(date(2019, 6, 1)), None, &[], None);
        check(None, None, &[day], None);
        check(None, Some(i16::MIN), &[day], None);
    }

    #[test]
    fn every_age_is_in_one_band() {
        for (age, word) in
            [(0, "0-4"), (4, "0-4"), (5, "5-9"), (29, "20-29"), (30, "30+"), (u16::MAX, "30+")]
        {
            assert_eq!(AgeBand::of(Some(age)).word(), word);
        }
        for band in AgeBand::ALL {
            assert_eq!(AgeBand::from_word(band.word()), Some(band));
        }
    }
}
