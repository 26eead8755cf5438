//! The description of one formula.

use quantity::Kind;

use super::{Inputs, Outcome, Problem};

/// One formula: its name, what it takes and gives, where it comes from, and how it is computed.
#[derive(Debug)]
pub struct Formula {
    /// `system.name`, as plan files and the command line write it.
    pub name: &'static str,
    /// What it computes, in one sentence.
    pub summary: &'static str,
    /// The inputs, in the order that help lists them.
    pub inputs: &'static [Input],
    /// The main result.
    pub result: Gives,
    /// Named further results.
    pub parts: &'static [Gives],
    /// The range it is valid in, in words; empty if every possible input is in range.
    pub valid: &'static str,
    /// Where it comes from.
    pub sources: &'static [Source],
    /// A worked call, which help shows and a test runs.
    pub example: &'static [(&'static str, &'static str)],
    /// The calculation on checked inputs.
    pub compute: fn(&Inputs<'_>) -> Result<Outcome, Problem>,
}

/// One input of a formula.
#[derive(Debug)]
pub struct Input {
    /// Its name.
    pub name: &'static str,
    /// What it takes.
    pub takes: Takes,
    /// Whether it must be given.
    pub required: bool,
    /// Which values are possible at all.
    pub accepts: Accepts,
    /// What it is, in a few words; for an optional one also what is used without it.
    pub about: &'static str,
}

impl Input {
    /// A quantity that must be given.
    #[must_use]
    pub const fn quantity(name: &'static str, kind: Kind, about: &'static str) -> Self {
        Self {
            name,
            takes: Takes::Quantity(kind),
            required: true,
            accepts: Accepts::Anything,
            about,
        }
    }

    /// A list of quantities that must be given.
    #[must_use]
    pub const fn list(name: &'static str, kind: Kind, about: &'static str) -> Self {
        Self {
            name,
            takes: Takes::Quantities(kind),
            required: true,
            accepts: Accepts::Anything,
            about,
        }
    }

    /// One of a few words, which must be given.
    #[must_use]
    pub const fn word(
        name: &'static str,
        words: &'static [&'static str],
        about: &'static str,
    ) -> Self {
        Self { name, takes: Takes::Word(words), required: true, accepts: Accepts::Anything, about }
    }

    /// A day or month that must be given.
    #[must_use]
    pub const fn date(name: &'static str, about: &'static str) -> Self {
        Self { name, takes: Takes::Date, required: true, accepts: Accepts::Anything, about }
    }

    /// A time with its zone that must be given.
    #[must_use]
    pub const fn instant(name: &'static str, about: &'static str) -> Self {
        Self { name, takes: Takes::Instant, required: true, accepts: Accepts::Anything, about }
    }

    /// A text, such as a serial number, that must be given.
    #[must_use]
    pub const fn text(name: &'static str, about: &'static str) -> Self {
        Self { name, takes: Takes::Text, required: true, accepts: Accepts::Anything, about }
    }

    /// A quantity of whatever kind, which must be given.
    #[must_use]
    pub const fn any_quantity(name: &'static str, about: &'static str) -> Self {
        Self { name, takes: Takes::AnyQuantity, required: true, accepts: Accepts::Anything, about }
    }

    /// A list of quantities of whatever kinds, which must be given.
    #[must_use]
    pub const fn any_list(name: &'static str, about: &'static str) -> Self {
        Self {
            name,
            takes: Takes::AnyQuantities,
            required: true,
            accepts: Accepts::Anything,
            about,
        }
    }

    /// A difference of two quantities of whatever kind, such as an uncertainty, which must be given.
    #[must_use]
    pub const fn any_difference(name: &'static str, about: &'static str) -> Self {
        Self {
            name,
            takes: Takes::AnyDifference,
            required: true,
            accepts: Accepts::Anything,
            about,
        }
    }

    /// The same input, which may be left out.
    #[must_use]
    pub const fn optional(self) -> Self {
        Self { required: false, ..self }
    }

    /// The same input, with bounds on what is possible.
    #[must_use]
    pub const fn accepting(self, accepts: Accepts) -> Self {
        Self { accepts, ..self }
    }
}

/// What an input takes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Takes {
    /// A quantity of a kind. A mass is accepted for a force and the other way round, and said.
    Quantity(Kind),
    /// A list of quantities of one kind.
    Quantities(Kind),
    /// A quantity of whatever kind its unit says; the formula checks that its inputs fit together.
    AnyQuantity,
    /// A list of such quantities, even of different kinds: nameplates in amperes and in volt-amperes.
    AnyQuantities,
    /// The same as one quantity of any kind, but a difference: `1 degF` is a step of one degree.
    AnyDifference,
    /// One of a few words.
    Word(&'static [&'static str]),
    /// A day or a month.
    Date,
    /// A time with its zone.
    Instant,
    /// A text.
    Text,
}

/// Which values of a quantity are possible; bounds are written with their unit. What is outside is
/// an input error, not a matter of the formula's range.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Accepts {
    /// Everything.
    Anything,
    /// This or more.
    AtLeast(&'static str),
    /// More than this.
    Above(&'static str),
    /// From this to that, both included.
    Between(&'static str, &'static str),
    /// More than this, at most that.
    AboveUpTo(&'static str, &'static str),
}

/// One result of a formula.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Gives {
    /// Its name.
    pub name: &'static str,
    /// Its form.
    pub form: Form,
    /// What it is, in a few words.
    pub about: &'static str,
}

impl Gives {
    /// A quantity, usually written in this unit (empty for a plain number).
    #[must_use]
    pub const fn quantity(name: &'static str, unit: &'static str, about: &'static str) -> Self {
        Self { name, form: Form::Quantity(unit), about }
    }

    /// A quantity, usually written in this unit, or words where no number can be told.
    #[must_use]
    pub const fn quantity_or_words(
        name: &'static str,
        unit: &'static str,
        about: &'static str,
    ) -> Self {
        Self { name, form: Form::QuantityOrWords(unit), about }
    }

    /// A difference of the kind of quantity that this input was given.
    #[must_use]
    pub const fn like_input(name: &'static str, input: &'static str, about: &'static str) -> Self {
        Self { name, form: Form::LikeInput(input), about }
    }

    /// Words, a date, yes or no, or a list of them.
    #[must_use]
    pub const fn words(name: &'static str, about: &'static str) -> Self {
        Self { name, form: Form::Words, about }
    }
}

/// The form of a result.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Form {
    /// A quantity or a list of them, usually written in this unit.
    Quantity(&'static str),
    /// A quantity, usually written in this unit, or words where no number can be told.
    QuantityOrWords(&'static str),
    /// A difference of the kind of quantity that the named input was given.
    LikeInput(&'static str),
    /// Words, a date, yes or no, or a list of them.
    Words,
}

/// Where a formula or a number comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Source {
    /// Document with its edition; empty for common practice.
    pub document: &'static str,
    /// Section, table or equation.
    pub section: &'static str,
    /// How far it was confirmed.
    pub confirmed: Confirmed,
}

/// How far a source was confirmed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Confirmed {
    /// Somebody read the section.
    Read,
    /// Read in another text that quotes or restates it.
    Quoted,
    /// Follows from definitions or arithmetic alone.
    Derived,
    /// A trade's rule of thumb.
    CommonPractice,
    /// Not confirmed.
    FromMemory,
    /// A choice of this project's own, said to be so.
    OwnChoice,
}

impl Confirmed {
    /// The words in help and reports.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Read => "read",
            Self::Quoted => "read as quoted elsewhere",
            Self::Derived => "derived",
            Self::CommonPractice => "common practice",
            Self::FromMemory => "from memory",
            Self::OwnChoice => "our own choice",
        }
    }
}
