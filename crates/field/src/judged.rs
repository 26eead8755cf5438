//! Values and what the limits say of them, ready for the screen.

use findings::{Content, LimitResult, Origin, PointResult, ValueResult, write_content};
use inspection::{PointId, ReadingId};
use limit::{Basis, Bound, DecisionRule, Footing, SectionRead, Verdict};
use plan::Plan;
use quantity::{Unit, UnitSystem, Value, write_value};

use crate::{Said, entry::words};

/// A value, read or computed, with its judgements.
#[derive(Clone, Debug, PartialEq)]
pub struct Valued {
    /// Name within the point.
    pub name: String,
    /// What it is, in words.
    pub title: String,
    /// Where, as the record has it; empty where there is only one place.
    pub position: String,
    /// The same as people read it.
    pub place: String,
    /// The value with its unit and uncertainty.
    pub value: String,
    /// Whether a formula computed it.
    pub computed: bool,
    /// The readings it rests on.
    pub readings: Vec<ReadingId>,
    /// What each limit says; empty where none applies.
    pub judged: Vec<Judged>,
    /// What one must know beside it.
    pub notes: Vec<Said>,
}

/// What one limit says of a value.
#[derive(Clone, Debug, PartialEq)]
pub struct Judged {
    /// The limit's id within its point.
    pub limit: String,
    /// The verdict.
    pub verdict: Verdict,
    /// What authority stands behind the limit.
    pub basis: Basis,
    /// Whom it binds.
    pub footing: Footing,
    /// What it asks: `at most 14 inH2O`.
    pub bound: Said,
    /// Document, section and edition.
    pub source: String,
    /// Whether anybody on the project read the section.
    pub read: bool,
    /// How likely the true value meets the limit, in percent; none where that is not known.
    pub conformity: Option<u8>,
    /// The instrument is too coarse for this limit.
    pub instrument_unfit: bool,
    /// The rule that gave the verdict.
    pub rule: DecisionRule,
    /// Value and bounds on one scale, for a small drawing; none for words.
    pub strip: Option<Strip>,
}

/// A value with its expanded uncertainty and the bounds it is held to, as fractions of a scale's length.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Strip {
    /// The value.
    pub value: f64,
    /// From where to where its expanded uncertainty reaches.
    pub reach: (f64, f64),
    /// The least that is accepted; none where there is no such bound.
    pub least: Option<f64>,
    /// The most that is accepted; none where there is no such bound.
    pub most: Option<f64>,
}

impl Valued {
    /// The verdict that matters most; none where no limit applies.
    #[must_use]
    pub fn verdict(&self) -> Option<Verdict> {
        self.judged.iter().map(|judged| judged.verdict).min_by_key(|verdict| gravity(*verdict))
    }

    fn of(plan: &Plan, point: &PointId, value: &ValueResult, units: UnitSystem) -> Self {
        let shown = |words: &String| plan.shown(point.as_str(), &value.name, words);
        let (computed, readings) = match &value.origin {
            Origin::Read(id) => (false, vec![id.clone()]),
            Origin::Computed { readings, .. } => (true, readings.clone()),
        };
        Self {
            name: value.name.clone(),
            title: value.title.clone(),
            position: value.position.clone(),
            place: plan.words.say(&words(&value.position)),
            value: match &value.content {
                Content::Words(words) => shown(words),
                Content::Quantity(_) | Content::None(_) => {
                    plan.words.say(&write_content(value, units))
                }
            },
            computed,
            readings,
            judged: value
                .judgements
                .iter()
                .map(|one| judged(plan, value, one, &shown, units))
                .collect(),
            notes: value.notes.iter().filter_map(|note| note_said(plan, note)).collect(),
        }
    }

    /// All values of a point.
    pub(crate) fn all(plan: &Plan, result: &PointResult, units: UnitSystem) -> Vec<Self> {
        result.values.iter().map(|value| Self::of(plan, &result.point, value, units)).collect()
    }
}

impl Judged {
    /// The verdict's text.
    #[must_use]
    pub fn word(&self) -> Said {
        Said::new(verdict_key(self.verdict, self.basis))
    }

    /// Whom the limit binds, as a text.
    #[must_use]
    pub fn footing_word(&self) -> Said {
        Said::new(match self.footing {
            Footing::Build => "footing-build",
            Footing::InUse => "footing-in-use",
            Footing::GoodPractice => "footing-good-practice",
        })
    }
}

/// The gravest first.
fn gravity(verdict: Verdict) -> u8 {
    match verdict {
        Verdict::DoesNotConform => 0,
        Verdict::BeyondGuidance => 1,
        Verdict::Undecided => 2,
        Verdict::Conforms => 3,
        Verdict::WithinGuidance => 4,
        Verdict::NoLimit => 5,
    }
}

/// The key of a verdict's words, as [`Verdict::words`] has them.
fn verdict_key(verdict: Verdict, basis: Basis) -> &'static str {
    match (verdict, basis) {
        (Verdict::Conforms, _) => "verdict-conforms",
        (Verdict::DoesNotConform, _) => "verdict-does-not-conform",
        (Verdict::Undecided, _) => "verdict-undecided",
        (Verdict::WithinGuidance, Basis::Practice) => "verdict-within-practice",
        (Verdict::WithinGuidance, _) => "verdict-within-unconfirmed",
        (Verdict::BeyondGuidance, Basis::Practice) => "verdict-beyond-practice",
        (Verdict::BeyondGuidance, _) => "verdict-beyond-unconfirmed",
        (Verdict::NoLimit, _) => "verdict-no-limit",
    }
}

fn judged(
    plan: &Plan,
    value: &ValueResult,
    result: &LimitResult,
    shown: &dyn Fn(&String) -> String,
    units: UnitSystem,
) -> Judged {
    let LimitResult { limit, judgement } = result;
    let document = plan.source(&limit.source.key);
    let title = document.map_or(limit.source.key.as_str(), |document| document.title.as_str());
    let edition = match limit.source.edition.as_str() {
        "" => document.map_or("", |document| document.edition.as_str()),
        own => own,
    };
    let source: Vec<&str> = [title, &limit.source.section, edition]
        .into_iter()
        .filter(|part| !part.is_empty())
        .collect();
    Judged {
        limit: limit.id.clone(),
        verdict: judgement.verdict,
        basis: limit.basis,
        footing: limit.footing,
        bound: bound_said(&limit.bound, value.unit.map(|unit| unit.in_system(units)), shown),
        source: source.join(", "),
        read: limit.read != SectionRead::No,
        conformity: judgement.conformity.map(percent),
        instrument_unfit: judgement.instrument_unfit,
        rule: judgement.rule,
        strip: strip(value, result),
    }
}

/// What a limit asks, quantities written in this unit; in English as [`Bound::words`] has it.
fn bound_said(bound: &Bound, unit: Option<&Unit>, shown: &dyn Fn(&String) -> String) -> Said {
    let write = |value: &Value| match unit {
        Some(unit) => write_value(*value, unit),
        None => value.base.to_string(),
    };
    match bound {
        Bound::AtMost(most) => Said::new("bound-at-most").with("most", write(most)),
        Bound::AtLeast(least) => Said::new("bound-at-least").with("least", write(least)),
        Bound::Between(least, most) => {
            Said::new("bound-between").with("least", write(least)).with("most", write(most))
        }
        Bound::OneOf(words) => {
            let words: Vec<String> = words.iter().map(shown).collect();
            Said::new("bound-one-of").with("words", words.join(" / "))
        }
    }
}

/// A note of the assessment as a sentence of the interface, told by its words; one that is not known stands as it is. How
/// often something was read, the screen says itself.
fn note_said(plan: &Plan, note: &str) -> Option<Said> {
    const TIMES: (&str, &str) = ("read ", " times; the last one counts");
    const BUILD_DATE: (&str, &str) =
        ("not held to ", ": it depends on the day the unit was built, which is not recorded");
    let between = |(before, behind): (&str, &str)| {
        note.strip_prefix(before)?.strip_suffix(behind).map(str::to_owned)
    };
    if between(TIMES).is_some_and(|count| count.parse::<u32>().is_ok()) {
        return None;
    }
    Some(match between(BUILD_DATE) {
        Some(section) => Said::new("note-build-date").with("section", section),
        None => Said::new("as-it-stands").with("text", plan.words.say(note)),
    })
}

/// Value and bounds with a quarter of their span free on either side.
fn strip(value: &ValueResult, result: &LimitResult) -> Option<Strip> {
    let Content::Quantity(value) = &value.content else { return None };
    let (least, most) = result.limit.bound.interval()?;
    let expanded = 2.0 * value.standard_uncertainty().unwrap_or(0.0);
    let reach = (value.base - expanded, value.base + expanded);
    let ends = || [reach.0, reach.1, least, most].into_iter().filter(|end| end.is_finite());
    let low = ends().fold(f64::INFINITY, f64::min);
    let high = ends().fold(f64::NEG_INFINITY, f64::max);
    let span = if high > low { high - low } else { (value.base.abs() * 0.1).max(1e-9) };
    let (start, length) = (low - span / 4.0, span * 1.5);
    let at = |base: f64| ((base - start) / length).clamp(0.0, 1.0);
    let bound = |base: f64| base.is_finite().then(|| at(base));
    Some(Strip {
        value: at(value.base),
        reach: (at(reach.0), at(reach.1)),
        least: bound(least),
        most: bound(most),
    })
}

/// A probability in whole percent.
fn percent(share: f64) -> u8 {
    let percent = (share * 100.0).round().clamp(0.0, 100.0);
    #[allow(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a whole number from 0 to 100"
    )]
    let whole = percent as u8;
    whole
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Language, Texts};
    use quantity::{Kind, parse_value, units};

    #[test]
    fn a_bound_is_said_in_english_as_the_limit_itself_says_it() {
        let value = |text| parse_value(text, Kind::Pressure).unwrap();
        let bounds = [
            Bound::AtMost(value("14 inH2O")),
            Bound::AtLeast(value("9.5 inH2O")),
            Bound::Between(value("10 inH2O"), value("14 inH2O")),
        ];
        let (english, spanish) = (Texts::new(Language::English), Texts::new(Language::Spanish));
        for bound in bounds {
            for unit in [units::find("inH2O"), units::find("kPa"), None] {
                let said = bound_said(&bound, unit, &String::clone);
                assert_eq!(english.of(&said), bound.words(unit));
                assert_ne!(spanish.of(&said), "", "{bound:?}");
            }
        }
        let most = Bound::AtMost(value("14 inH2O"));
        let said = bound_said(&most, units::find("inH2O"), &String::clone);
        assert_eq!(spanish.of(&said), "como máximo 14 inH2O");
    }
}
