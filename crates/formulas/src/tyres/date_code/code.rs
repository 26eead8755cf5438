//! Reading the date code, alone or at the end of a whole tyre identification number.

use std::fmt;

use crate::Problem;

/// A date code as it stands on the sidewall.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Code {
    /// Since 2000: week and the last two digits of the year.
    Four { week: u8, year: u8 },
    /// Until 1999: week and the last digit of the year.
    Three { week: u8, year: u8 },
}

impl Code {
    pub(super) fn week(self) -> u8 {
        match self {
            Self::Four { week, .. } | Self::Three { week, .. } => week,
        }
    }

    /// The years it can mean.
    pub(super) fn years(self) -> impl Iterator<Item = i16> {
        let (decades, year): (&[i16], u8) = match self {
            Self::Four { year, .. } => (&[2000], year),
            Self::Three { year, .. } => (&[1970, 1980, 1990], year),
        };
        decades.iter().map(move |decade| decade + i16::from(year))
    }

    fn of(digits: &str) -> Option<Self> {
        let number = |text: &str| -> Option<u8> {
            text.bytes().all(|byte| byte.is_ascii_digit()).then(|| text.parse().ok())?
        };
        let week = number(digits.get(..2)?)?;
        let year = number(digits.get(2..)?)?;
        match digits.len() {
            3 => Some(Self::Three { week, year }),
            4 => Some(Self::Four { week, year }),
            _ => None,
        }
    }
}

impl fmt::Display for Code {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Four { week, year } => write!(formatter, "{week:02}{year:02}"),
            Self::Three { week, year } => write!(formatter, "{week:02}{year}"),
        }
    }
}

/// The code, and what was taken otherwise than written.
pub(super) fn read_code(text: &str) -> Result<(Code, Vec<String>), Problem> {
    let capitals = text.trim().to_ascii_uppercase();
    let without_dot = capitals.strip_prefix("DOT").unwrap_or(&capitals);
    let groups: Vec<&str> = without_dot
        .split(|character: char| character.is_whitespace() || character == '-')
        .filter(|group| !group.is_empty())
        .collect();
    let symbols = groups.concat();
    if let Some(other) = symbols.chars().find(|character| !character.is_ascii_alphanumeric()) {
        return Err(refuse(text, &format!("`{other}` never stands in one")));
    }
    match symbols.len() {
        3 | 4 => Code::of(&symbols)
            .map(|code| (code, Vec::new()))
            .ok_or_else(|| refuse(text, "a date code is digits only")),
        7..=13 => read_whole(text, &groups, &symbols),
        count => Err(refuse(text, &format!("{count} symbols are no code and no whole number"))),
    }
}

fn read_whole(text: &str, groups: &[&str], symbols: &str) -> Result<(Code, Vec<String>), Problem> {
    let last_group = groups.last().filter(|_| groups.len() > 1).and_then(|group| Code::of(group));
    let at_end = |count: usize| symbols.get(symbols.len() - count..).and_then(Code::of);
    let code = last_group.or_else(|| at_end(4)).or_else(|| at_end(3)).ok_or_else(|| {
        refuse(
            text,
            "it does not end in a date code; the whole number may stand on the other sidewall only: \
             look there too",
        )
    })?;
    let mut notes = vec![format!("the date code {code} was read from the end of the number")];
    if last_group.is_none() && matches!(code, Code::Four { .. }) {
        notes.push(
            "without blanks a number from before 2000 would be read wrongly: its code is the last \
             three digits"
                .to_owned(),
        );
    }
    Ok((code, notes))
}

fn refuse(text: &str, why: &str) -> Problem {
    Problem::input(
        "code",
        format!(
            "`{}` is no date code: {why}; accepted: three or four digits such as 2319, or a whole \
             number of 7 to 13 letters and digits that ends in them",
            text.trim()
        ),
    )
}
