//! Judging a value against a limit, with its uncertainty.

use quantity::Value;

use crate::{Basis, Bound, Limit, Reading};

/// What a judgement says.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Verdict {
    /// It meets the limit, uncertainty included.
    Conforms,
    /// It breaks the limit, uncertainty included.
    DoesNotConform,
    /// The uncertainty straddles the limit: measure again, or better.
    Undecided,
    /// Within a limit that can only inform.
    WithinGuidance,
    /// Beyond a limit that can only inform.
    BeyondGuidance,
    /// No limit applies: a figure worth reporting.
    NoLimit,
}

impl Verdict {
    /// The words in reports and on the screen. `basis` tells what kind of guidance it was.
    #[must_use]
    pub fn words(self, basis: Option<Basis>) -> &'static str {
        match (self, basis) {
            (Self::Conforms, _) => "conforms",
            (Self::DoesNotConform, _) => "does not conform",
            (Self::Undecided, _) => "undecided",
            (Self::WithinGuidance, Some(Basis::Practice) | None) => "within common practice",
            (Self::WithinGuidance, Some(_)) => "within an unconfirmed limit",
            (Self::BeyondGuidance, Some(Basis::Practice) | None) => "beyond common practice",
            (Self::BeyondGuidance, Some(_)) => "beyond an unconfirmed limit",
            (Self::NoLimit, _) => "no limit",
        }
    }
}

/// How a verdict was reached.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum DecisionRule {
    /// The expanded uncertainty (k = 2) must lie inside to conform and outside not to (the rule of
    /// ISO 14253-1; guard band w = U of ILAC-G8:09/2019, 4.2.2, on both sides).
    Guarded,
    /// The value alone decides, since no uncertainty is known (simple acceptance, ILAC-G8 4.2.1).
    Simple,
    /// Words are compared.
    Words,
}

impl DecisionRule {
    /// The rule in words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Guarded => "guarded by the expanded uncertainty, k = 2",
            Self::Simple => "simple acceptance: no uncertainty is known",
            Self::Words => "words compared",
        }
    }
}

/// A verdict with its grounds.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Judgement {
    /// The verdict.
    pub verdict: Verdict,
    /// The rule that gave it.
    pub rule: DecisionRule,
    /// Probability that the true value meets the limit (JCGM 106:2012, 7, flat prior); none for words
    /// and where no uncertainty is known.
    pub conformity: Option<f64>,
    /// The expanded uncertainty is wider than the tolerance: no reading of this instrument could conform.
    pub instrument_unfit: bool,
}

/// Judges a reading against a limit. A quantity against words, or of another kind than the bound, is
/// undecided: the data's linter refuses such limits, and a verdict is never guessed.
#[must_use]
pub fn judge(reading: &Reading, limit: &Limit) -> Judgement {
    let informs = !limit.can_condemn();
    match (reading, &limit.bound) {
        (Reading::Words(words), Bound::OneOf(accepted)) => {
            let meets = accepted.iter().any(|one| one.eq_ignore_ascii_case(words.trim()));
            settled(meets, informs, DecisionRule::Words, None)
        }
        (Reading::Quantity(value), bound) => match bound.ends() {
            Some(ends) if same_kind(value.kind, bound) => judge_between(*value, ends, informs),
            _ => undecided(DecisionRule::Words),
        },
        (Reading::Words(_), _) => undecided(DecisionRule::Words),
    }
}

fn same_kind(kind: quantity::Kind, bound: &Bound) -> bool {
    match bound {
        Bound::AtMost(one) | Bound::AtLeast(one) => one.kind == kind,
        Bound::Between(least, most) => least.kind == kind && most.kind == kind,
        Bound::OneOf(_) => false,
    }
}

/// Holds a value between two ends; none is no end.
///
/// An end that was computed has an uncertainty of its own. What decides then is the difference of the two, whose
/// standard uncertainty is the root of the sum of both squares (JCGM 100:2008, eq. 10: they are taken as independent).
fn judge_between(
    value: Value,
    (least, most): (Option<Value>, Option<Value>),
    informs: bool,
) -> Judgement {
    let own = value.standard_uncertainty().unwrap_or(0.0);
    // How far inside each end the value lies, and the standard uncertainty of that.
    let margin = |inside: f64, end: Value| {
        let of_end = end.standard_uncertainty().unwrap_or(0.0);
        (inside, libm::sqrt(own * own + of_end * of_end))
    };
    let margins = [
        least.map(|least| margin(value.base - least.base, least)),
        most.map(|most| margin(most.base - value.base, most)),
    ];
    let margins = || margins.iter().flatten().copied();
    if margins().all(|(_, standard)| standard <= 0.0) {
        let meets = margins().all(|(inside, _)| inside >= 0.0);
        return settled(meets, informs, DecisionRule::Simple, None);
    }
    let inside = margins().all(|(inside, standard)| inside - 2.0 * standard >= 0.0);
    let outside = margins().any(|(inside, standard)| inside + 2.0 * standard < 0.0);
    let within = |(inside, standard): (f64, f64)| {
        if standard > 0.0 { normal(inside / standard) } else { f64::from(u8::from(inside >= 0.0)) }
    };
    // What is beyond one end is not beyond the other.
    let beyond = |margin| 1.0 - within(margin);
    let conformity = match margins().collect::<Vec<_>>().as_slice() {
        [one] => within(*one),
        several => (1.0 - several.iter().copied().map(beyond).sum::<f64>()).max(0.0),
    };
    let mut judgement = if inside || outside {
        settled(inside, informs, DecisionRule::Guarded, Some(conformity))
    } else {
        Judgement { conformity: Some(conformity), ..undecided(DecisionRule::Guarded) }
    };
    let tolerance = least.zip(most).map(|(least, most)| most.base - least.base);
    judgement.instrument_unfit = tolerance.is_some_and(|tolerance| 4.0 * own > tolerance);
    judgement
}

/// Standard normal distribution function.
fn normal(z: f64) -> f64 {
    0.5 * libm::erfc(-z / std::f64::consts::SQRT_2)
}

fn settled(meets: bool, informs: bool, rule: DecisionRule, conformity: Option<f64>) -> Judgement {
    let verdict = match (meets, informs) {
        (true, false) => Verdict::Conforms,
        (false, false) => Verdict::DoesNotConform,
        (true, true) => Verdict::WithinGuidance,
        (false, true) => Verdict::BeyondGuidance,
    };
    Judgement { verdict, rule, conformity, instrument_unfit: false }
}

fn undecided(rule: DecisionRule) -> Judgement {
    Judgement { verdict: Verdict::Undecided, rule, conformity: None, instrument_unfit: false }
}
