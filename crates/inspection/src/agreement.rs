//! The agreement before the visit: what is put to the client for consent, and each consent as it was given.

use jiff::civil::Date;

use crate::{Currency, Moment, TaxRate};

/// What is put to the client, beside scope and limits, which stand in the engagement itself.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Agreement {
    /// The unit, as client and inspector speak of it before anybody has seen its plate.
    pub unit: String,
    /// The day that was agreed for the visit.
    pub day: Option<Date>,
    /// Language in which the agreement is written, such as `en`; empty is English.
    pub language: String,
    /// The terms, one paragraph each, as the client reads them.
    pub terms: Vec<String>,
    /// When and how the fee is paid, in words.
    pub payment: String,
    /// The fee.
    pub charges: Charges,
}

/// A fee in lines, with the taxes on it.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Charges {
    /// The currency of every amount.
    pub currency: Currency,
    /// What is charged for.
    pub lines: Vec<ChargeLine>,
    /// The taxes that are added.
    pub taxes: Vec<Tax>,
}

/// One thing that is charged for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ChargeLine {
    /// What it is.
    pub text: String,
    /// Without tax, in minor units of the currency; a rebate is negative.
    pub amount: i64,
    /// Which taxes are on it.
    pub taxed: Taxed,
}

/// Which taxes are on a line.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub enum Taxed {
    /// Every tax there is.
    #[default]
    All,
    /// None.
    Untaxed,
    /// The one with this name alone.
    Only(String),
}

/// A tax.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Tax {
    /// Its name, such as `State sales tax`.
    pub name: String,
    /// Its rate.
    pub rate: TaxRate,
}

/// A consent as it was given: to one text, by one person, once.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Consent {
    /// Who agreed.
    pub name: String,
    /// When, with the offset from universal time.
    pub at: Moment,
    /// How it was given.
    pub how: ConsentWay,
    /// The network address that the consent came from; empty where it did not come over a network.
    pub address: String,
    /// A signature that was drawn; empty where none was.
    pub drawn: DrawnSignature,
    /// SHA-256 of what was agreed, in lower-case hexadecimal: the consent holds as long as this is what is agreed.
    pub agreed: String,
    /// The very text that the person read. Its SHA-256 is derived.
    pub text: String,
    /// Who entered it: the client's own page, or the inspector for a consent on paper.
    pub by: String,
}

/// How a consent was given.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum ConsentWay {
    /// The person typed their name under the text.
    Typed,
    /// They drew their signature as well.
    Drawn,
    /// They signed on paper, and somebody entered that.
    OnPaper,
}

impl ConsentWay {
    /// All of them.
    pub const ALL: [Self; 3] = [Self::Typed, Self::Drawn, Self::OnPaper];

    /// The word in the record.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Typed => "typed",
            Self::Drawn => "drawn",
            Self::OnPaper => "on_paper",
        }
    }

    /// The way with this word.
    #[must_use]
    pub fn from_word(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|way| way.word() == word)
    }
}

/// A signature as lines: each a run of points, in thousandths of the field's width to the right and down.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct DrawnSignature {
    /// The lines, in the order in which they were drawn.
    pub lines: Vec<Vec<(u16, u16)>>,
}

impl DrawnSignature {
    /// The field's width in its own units.
    pub const WIDTH: u16 = 1000;
    /// Its height.
    pub const HEIGHT: u16 = 300;
    /// The most points that all lines may have together: a long name takes some hundreds.
    pub const MOST_POINTS: usize = 4000;

    /// Whether nothing was drawn.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.lines.is_empty()
    }

    /// Reads `12,30 14,33;50,60 52,61`: points with a space between, lines with a semicolon.
    ///
    /// # Errors
    /// A sentence, where it is no signature or too long for one.
    pub fn read(text: &str) -> Result<Self, String> {
        let text = text.trim();
        if text.is_empty() {
            return Ok(Self::default());
        }
        let mut lines = Vec::new();
        let mut points = 0;
        for line in text.split(';') {
            let line: Option<Vec<(u16, u16)>> = line.split_whitespace().map(point).collect();
            let line = line.filter(|line| !line.is_empty()).ok_or(
                "the drawn signature cannot be read; draw it again, or leave it out and sign with your name alone",
            )?;
            points += line.len();
            if points > Self::MOST_POINTS {
                return Err(format!(
                    "the drawn signature has more than {} points; draw it again, shorter",
                    Self::MOST_POINTS
                ));
            }
            lines.push(line);
        }
        Ok(Self { lines })
    }
}

fn point(text: &str) -> Option<(u16, u16)> {
    let (right, down) = text.split_once(',')?;
    let (right, down) = (right.parse().ok()?, down.parse().ok()?);
    (right <= DrawnSignature::WIDTH && down <= DrawnSignature::HEIGHT).then_some((right, down))
}

impl std::fmt::Display for DrawnSignature {
    fn fmt(&self, formatter: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        for (at, line) in self.lines.iter().enumerate() {
            if at > 0 {
                formatter.write_str(";")?;
            }
            for (at, (right, down)) in line.iter().enumerate() {
                let between = if at > 0 { " " } else { "" };
                write!(formatter, "{between}{right},{down}")?;
            }
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_drawn_signature_reads_back_as_it_was_written() {
        for text in ["", "0,0", "12,30 14,33;50,60 52,61", "1000,300"] {
            assert_eq!(DrawnSignature::read(text).unwrap().to_string(), text);
        }
        let long = vec!["5,5"; DrawnSignature::MOST_POINTS + 1].join(" ");
        for odd in
            ["1001,5", "5,301", "5", "a,b", "5,5;;6,6", "-1,5", "5,5;", "<svg>", long.as_str()]
        {
            assert!(DrawnSignature::read(odd).is_err(), "{odd:.40}");
        }
    }
}
