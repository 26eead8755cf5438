//! Verdicts against published examples of conformity decisions.

use std::collections::BTreeSet;

use jiff::civil::date;
use quantity::{Kind, Value};

use crate::{
    Applies, Basis, Bound, DecisionRule, Footing, Limit, NotApplicable, Reading, SectionRead,
    SourceReference, Verdict, judge,
};

fn limit(bound: Bound) -> Limit {
    Limit {
        id: "limit".to_owned(),
        on: "value".to_owned(),
        bound,
        source: SourceReference::default(),
        basis: Basis::Standard,
        footing: Footing::InUse,
        read: SectionRead::On(date(2026, 11, 25)),
        applies: Applies::default(),
    }
}

fn volts(number: f64) -> Value {
    Value::new(Kind::Voltage, number)
}

/// Conformity probabilities of JCGM 106:2012, 7, with U = 2u, computed with SciPy 1.17.1 and checked
/// against the risk functions of an independent calculator; the verdicts by ISO 14253-1's rule.
#[test]
fn the_expanded_uncertainty_decides() {
    let between = limit(Bound::Between(volts(114.0), volts(126.0)));
    let at_most = limit(Bound::AtMost(volts(40.0)));
    for (value, expanded, limit, probability, verdict) in [
        (118.4, 1.19, &between, 1.0, Verdict::Conforms),
        (115.19, 1.19, &between, 0.977_250, Verdict::Conforms),
        (114.6, 1.19, &between, 0.843_370, Verdict::Undecided),
        (113.4, 1.19, &between, 0.156_630, Verdict::Undecided),
        (112.5, 1.19, &between, 0.005_851, Verdict::DoesNotConform),
        (38.9, 1.0, &at_most, 0.986_097, Verdict::Conforms),
        (39.5, 1.0, &at_most, 0.841_345, Verdict::Undecided),
        (40.0, 1.0, &at_most, 0.5, Verdict::Undecided),
        (40.9, 1.0, &at_most, 0.035_930, Verdict::Undecided),
        (41.2, 1.0, &at_most, 0.008_198, Verdict::DoesNotConform),
    ] {
        // The guard band's edge belongs to acceptance; a hair more room keeps it so in binary.
        let value = volts(value).with_uncertainty(expanded / 2.0 - 1e-12);
        let judgement = judge(&Reading::Quantity(value), limit);
        assert_eq!(judgement.verdict, verdict, "{value:?}");
        assert_eq!(judgement.rule, DecisionRule::Guarded);
        assert!((judgement.conformity.unwrap() - probability).abs() < 1e-6, "{judgement:?}");
    }
}

/// By hand: a bound with u = 0.4 beside a value with u = 0.3 is a difference with u = 0.5 (JCGM 100:2008, eq. 10), and
/// the probabilities are those of the normal distribution at 2.2, 1 and −2.4 of it.
#[test]
fn a_bound_that_was_computed_has_its_own_uncertainty() {
    let bound = volts(40.0).with_uncertainty(0.4);
    for (value, limit, probability, verdict) in [
        (38.9, limit(Bound::AtMost(bound)), 0.986_097, Verdict::Conforms),
        (39.5, limit(Bound::AtMost(bound)), 0.841_345, Verdict::Undecided),
        (41.2, limit(Bound::AtMost(bound)), 0.008_198, Verdict::DoesNotConform),
        (40.5, limit(Bound::AtLeast(bound)), 0.841_345, Verdict::Undecided),
        (40.5, limit(Bound::Between(bound, volts(50.0))), 0.841_345, Verdict::Undecided),
        // The same uncertainty on the end that is far away decides nothing: u = 0.3 alone.
        (
            39.3,
            limit(Bound::Between(volts(20.0).with_uncertainty(0.4), volts(40.0))),
            0.990_185,
            Verdict::Conforms,
        ),
    ] {
        // A hair more room, as above.
        let value = volts(value).with_uncertainty(0.3 - 1e-12);
        let judgement = judge(&Reading::Quantity(value), &limit);
        assert_eq!(judgement.verdict, verdict, "{value:?} {judgement:?}");
        assert_eq!(judgement.rule, DecisionRule::Guarded);
        assert!((judgement.conformity.unwrap() - probability).abs() < 1e-6, "{judgement:?}");
    }
}

/// A count without an uncertainty beside a computed bound: the bound's own decides. No instrument is to blame.
#[test]
fn an_exact_value_is_held_to_an_uncertain_bound_with_the_bounds_uncertainty() {
    let bound = |standard: f64| volts(40.0).with_uncertainty(standard);
    let judged = |limit: &Limit| judge(&Reading::Quantity(volts(39.5)), limit);
    let judgement = judged(&limit(Bound::AtMost(bound(0.5))));
    assert_eq!((judgement.verdict, judgement.rule), (Verdict::Undecided, DecisionRule::Guarded));
    assert!((judgement.conformity.unwrap() - 0.841_345).abs() < 1e-6);
    assert_eq!(judged(&limit(Bound::AtMost(bound(0.2)))).verdict, Verdict::Conforms);
    let wide = judged(&limit(Bound::Between(bound(5.0), bound(5.0))));
    assert!(!wide.instrument_unfit, "{wide:?}");
}

#[test]
fn bounds_belong_to_what_is_accepted() {
    for (value, verdict) in [(40.0, Verdict::Conforms), (40.000_1, Verdict::DoesNotConform)] {
        let judgement = judge(&Reading::Quantity(volts(value)), &limit(Bound::AtMost(volts(40.0))));
        assert_eq!(judgement.verdict, verdict);
        assert_eq!(judgement.rule, DecisionRule::Simple);
    }
}

#[test]
fn common_practice_and_unread_sections_never_condemn() {
    let beyond = Reading::Quantity(volts(50.0));
    let practice = Limit { basis: Basis::Practice, ..limit(Bound::AtMost(volts(40.0))) };
    let unread = Limit { read: SectionRead::No, ..limit(Bound::AtMost(volts(40.0))) };
    assert_eq!(judge(&beyond, &practice).verdict, Verdict::BeyondGuidance);
    assert_eq!(judge(&beyond, &unread).verdict, Verdict::BeyondGuidance);
    assert_eq!(judge(&Reading::Quantity(volts(5.0)), &unread).verdict, Verdict::WithinGuidance);
    assert_eq!(Verdict::BeyondGuidance.words(Some(Basis::Practice)), "beyond common practice");
    assert_eq!(Verdict::BeyondGuidance.words(Some(Basis::Law)), "beyond an unconfirmed limit");
}

#[test]
fn an_instrument_wider_than_the_tolerance_is_unfit() {
    let narrow = limit(Bound::Between(volts(11.0), volts(13.0)));
    let judgement = judge(&Reading::Quantity(volts(12.0).with_uncertainty(0.6)), &narrow);
    assert!(judgement.instrument_unfit);
    assert_eq!(judgement.verdict, Verdict::Undecided);
}

#[test]
fn words_are_compared_without_regard_to_case() {
    let pattern = limit(Bound::OneOf(vec!["correct".to_owned()]));
    let judged = |words: &str| judge(&Reading::Words(words.to_owned()), &pattern).verdict;
    assert_eq!(judged("Correct "), Verdict::Conforms);
    assert_eq!(judged("open ground"), Verdict::DoesNotConform);
}

#[test]
fn another_kind_is_never_judged() {
    let judgement =
        judge(&Reading::Quantity(Value::new(Kind::Mass, 1.0)), &limit(Bound::AtMost(volts(40.0))));
    assert_eq!(judgement.verdict, Verdict::Undecided);
    let judgement = judge(&Reading::Words("x".to_owned()), &limit(Bound::AtMost(volts(40.0))));
    assert_eq!(judgement.verdict, Verdict::Undecided);
}

/// The load-carrying label of 49 CFR 571.110 S10 is owed from 2 June 2008 (72 FR 68442).
#[test]
fn a_limit_applies_by_kind_era_and_equipment() {
    let applies = Applies {
        kinds: BTreeSet::from(["travel_trailer".to_owned()]),
        built_from: Some(date(2008, 6, 2)),
        built_before: None,
        fitted: BTreeSet::from(["gas".to_owned()]),
    };
    let gas = BTreeSet::from(["gas".to_owned(), "awning".to_owned()]);
    let built = |year, month, day| Some(date(year, month, day));
    assert_eq!(applies.to("travel_trailer", built(2008, 6, 2), &gas), Ok(()));
    assert_eq!(applies.to("travel_trailer", built(2008, 6, 1), &gas), Err(NotApplicable::OtherEra));
    assert_eq!(applies.to("travel_trailer", None, &gas), Err(NotApplicable::BuildDateUnknown));
    assert_eq!(applies.to("park_trailer", built(2010, 1, 1), &gas), Err(NotApplicable::OtherKind));
    assert_eq!(
        applies.to("travel_trailer", built(2010, 1, 1), &BTreeSet::new()),
        Err(NotApplicable::NotFitted)
    );
}
