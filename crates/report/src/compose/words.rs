//! Days, lists and names as they stand on the page.

use inspection::{Instrument, Moment};
use jiff::civil::Date;
use plan::Phrases;
use quantity::{UnitSystem, write_number};

use crate::content::Issued;

const MONTHS: [&str; 12] = [
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
];

fn month_name(month: i8) -> &'static str {
    let index = usize::try_from(month).ok().and_then(|month| month.checked_sub(1));
    index.and_then(|index| MONTHS.get(index)).copied().unwrap_or("")
}

/// `June 12, 2026`, or `12 June 2026` where the International System is used.
pub(crate) fn day(say: &Phrases, day: Date, units: UnitSystem) -> String {
    let month = say.say(month_name(day.month()));
    let (number, year) = (day.day().to_string(), day.year().to_string());
    let form = match units {
        UnitSystem::Us => "{month} {day}, {year}",
        UnitSystem::Si => "{day} {month} {year}",
    };
    say.say_with(form, &[("month", &month), ("day", &number), ("year", &year)])
}

/// `June 2019`: the plate of a unit says no day.
pub(crate) fn month(say: &Phrases, day: Date) -> String {
    let month = say.say(month_name(day.month()));
    say.say_with("{month} {year}", &[("month", &month), ("year", &day.year().to_string())])
}

/// A moment of the visit, in the local time of whoever wrote it down.
pub(crate) fn moment(say: &Phrases, moment: Moment, units: UnitSystem) -> String {
    let time = moment.local.time();
    format!("{}, {}:{:02}", day(say, moment.local.date(), units), time.hour(), time.minute())
}

/// The moment of issue.
pub(crate) fn issued(say: &Phrases, issued: Issued, units: UnitSystem) -> String {
    let day = issued_day(say, issued, units);
    if day.is_empty() {
        return day;
    }
    let moment = format!("{day}, {}:{:02}", issued.hour, issued.minute);
    say.say_with("{moment} coordinated universal time", &[("moment", &moment)])
}

/// The day of issue in coordinated universal time; empty where there is no such day.
pub(crate) fn issued_day(say: &Phrases, issued: Issued, units: UnitSystem) -> String {
    let Issued { year, month, day: number, .. } = issued;
    let date =
        i16::try_from(year).ok().zip(i8::try_from(month).ok()).zip(i8::try_from(number).ok());
    let date = date.and_then(|((year, month), number)| Date::new(year, month, number).ok());
    date.map_or_else(String::new, |date| day(say, date, units))
}

/// The words of an id: `left_front` is written `left front`.
pub(crate) fn plain(id: &str) -> String {
    id.replace('_', " ")
}

/// With a capital in front.
pub(crate) fn sentence_case(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

/// With a capital in front and a full stop at the end.
pub(crate) fn sentence(text: &str) -> String {
    let text = sentence_case(text.trim());
    if text.is_empty() || text.ends_with(['.', '!', '?', '…']) {
        text
    } else {
        format!("{text}.")
    }
}

/// The texts that are not empty.
pub(crate) fn joined<'a>(texts: impl IntoIterator<Item = &'a str>, between: &str) -> String {
    texts.into_iter().filter(|text| !text.trim().is_empty()).collect::<Vec<_>>().join(between)
}

/// `a`, `a and b`, `a, b and c`.
pub(crate) fn enumerated(say: &Phrases, texts: &[&str]) -> String {
    match texts {
        [] => String::new(),
        [one] => (*one).to_owned(),
        [before @ .., last] => {
            say.say_with("{before} and {last}", &[("before", &before.join(", ")), ("last", last)])
        }
    }
}

/// `1 point`, `2 points`.
pub(crate) fn counted(say: &Phrases, count: usize, one: &str, several: &str) -> String {
    format!("{count} {}", say.say(if count == 1 { one } else { several }))
}

/// `± (0.5 % of reading + 2 counts), resolution 0.1 V`; empty where the record says nothing.
pub(crate) fn accuracy(say: &Phrases, instrument: &Instrument) -> String {
    let mut parts = Vec::new();
    if instrument.percent_of_reading > 0.0 {
        let percent = write_number(instrument.percent_of_reading);
        parts.push(say.say_with("{percent} % of reading", &[("percent", &percent)]));
    }
    if instrument.counts > 0.0 {
        let word = if instrument.counts > 1.0 { "counts" } else { "count" };
        parts.push(format!("{} {}", write_number(instrument.counts), say.say(word)));
    }
    let accuracy = match parts.as_slice() {
        [] => String::new(),
        [one] => format!("± {one}"),
        several => format!("± ({})", several.join(" + ")),
    };
    let resolution = if instrument.resolution.trim().is_empty() {
        String::new()
    } else {
        say.say_with("resolution {step}", &[("step", &instrument.resolution)])
    };
    joined([accuracy.as_str(), resolution.as_str()], ", ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn days_follow_the_custom_of_the_units() {
        let (say, date) = (Phrases::default(), Date::new(2026, 6, 12).unwrap());
        assert_eq!(day(&say, date, UnitSystem::Us), "June 12, 2026");
        assert_eq!(day(&say, date, UnitSystem::Si), "12 June 2026");
    }

    #[test]
    fn lists_read_as_people_speak() {
        let say = Phrases::default();
        assert_eq!(enumerated(&say, &[]), "");
        assert_eq!(enumerated(&say, &["tow"]), "tow");
        assert_eq!(enumerated(&say, &["tow", "gas", "stay"]), "tow, gas and stay");
        assert_eq!(counted(&say, 1, "point", "points"), "1 point");
    }

    #[test]
    fn an_instruments_accuracy_says_only_what_is_known() {
        let meter = Instrument {
            percent_of_reading: 0.5,
            counts: 2.0,
            resolution: "0.1 V".into(),
            ..Instrument::default()
        };
        let say = Phrases::default();
        assert_eq!(accuracy(&say, &meter), "± (0.5 % of reading + 2 counts), resolution 0.1 V");
        assert_eq!(accuracy(&say, &Instrument::default()), "");
    }
}
