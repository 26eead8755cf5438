//! Figures are what one gets by counting the records one by one.

use std::collections::BTreeMap;

use archive::{AgeBand, By, Counts, Figure, Filter, Group, Question, region};
use inspection::{Inspection, Outcome, Use};
use jiff::civil::date;
use limit::Verdict;
use plan::Plan;
use proptest::prelude::*;

use crate::world::{Made, World, made};

/// Counting with nothing but the records, the plan and the assessment.
fn counted(plan: &Plan, inspections: &[Inspection], question: &Question) -> Vec<Figure> {
    let mut all: BTreeMap<(String, Group), Counts> = BTreeMap::new();
    for inspection in inspections {
        let visited = inspection.job.visits.first().copied();
        let age = visited.zip(inspection.dwelling.built).and_then(|(visited, built)| {
            let years = (0..200).take_while(|years| {
                built.checked_add(jiff::Span::new().years(*years)).is_ok_and(|day| day <= visited)
            });
            years.last()
        });
        let age = match age {
            None => AgeBand::Unknown,
            Some(0..=4) => AgeBand::UnderFive,
            Some(5..=9) => AgeBand::Five,
            Some(10..=14) => AgeBand::Ten,
            Some(15..=19) => AgeBand::Fifteen,
            Some(20..=29) => AgeBand::Twenty,
            Some(_) => AgeBand::Thirty,
        };
        let kind = inspection.dwelling.kind;
        let place = region(&inspection.job.site.address).to_owned();
        let filter = &question.filter;
        let left_out = filter.kind.is_some_and(|wanted| wanted != kind)
            || filter.age.is_some_and(|wanted| wanted != age)
            || filter.region.as_ref().is_some_and(|wanted| *wanted != place)
            || filter.purpose.as_ref().is_some_and(|wanted| *wanted != inspection.job.purpose)
            || filter.from.is_some_and(|from| visited.is_none_or(|day| day < from))
            || filter.to.is_some_and(|to| visited.is_none_or(|day| day > to));
        if left_out {
            continue;
        }
        let by = |what| question.by.contains(&what);
        let group = Group {
            kind: by(By::Kind).then_some(kind),
            age: by(By::Age).then_some(age),
            region: by(By::Region).then_some(place),
        };
        let assessment = findings::assess(plan, inspection);
        for result in &assessment.points {
            let id = result.point.as_str().to_owned();
            if question.point.as_ref().is_some_and(|point| *point != id) {
                continue;
            }
            let counts = all.entry((id, group.clone())).or_default();
            match &result.outcome {
                None => counts.nothing_entered += 1,
                Some(Outcome::NotExamined { .. }) => counts.not_examined += 1,
                Some(Outcome::NotFitted) => counts.not_fitted += 1,
                Some(Outcome::Examined) => {
                    counts.examined += 1;
                    let here = || {
                        let of = |it: &&findings::Finding| it.point.as_ref() == Some(&result.point);
                        assessment.findings.iter().filter(of)
                    };
                    if here().any(|it| it.confirmed) {
                        counts.found += 1;
                    } else if here().next().is_some() {
                        counts.draft += 1;
                    }
                    let fails = result.values.iter().flat_map(|value| &value.judgements);
                    counts.not_conforming += u32::from(
                        fails.into_iter().any(|it| it.judgement.verdict == Verdict::DoesNotConform),
                    );
                    let stops = |one: &Use| here().any(|it| it.stops.contains(one));
                    counts.held += u32::from(Use::ALL.iter().any(stops));
                }
            }
        }
    }
    all.into_iter().map(|((point, group), counts)| Figure { point, group, counts }).collect()
}

fn question() -> impl Strategy<Value = Question> {
    let filter = (
        proptest::option::weighted(0.2, 0..4_usize),
        proptest::option::weighted(0.2, 0..7_usize),
        proptest::option::weighted(0.2, 0..4_usize),
        proptest::option::weighted(0.2, any::<bool>()),
        proptest::option::weighted(0.2, 2015..2026_i16),
        proptest::option::weighted(0.2, 2015..2026_i16),
    );
    let filter = filter.prop_map(|(kind, age, place, purpose, from, to)| Filter {
        kind: kind.map(|at| inspection::DwellingKind::ALL[at]),
        age: age.map(|at| AgeBand::ALL[at]),
        region: place.map(|at| region(crate::world::ADDRESSES[at]).to_owned()),
        purpose: purpose.map(|it| if it { "purchase" } else { "insurance" }.to_owned()),
        from: from.map(|year| date(year, 6, 12)),
        to: to.map(|year| date(year, 6, 12)),
    });
    let by = proptest::sample::subsequence(vec![By::Kind, By::Age, By::Region], 0..=3);
    let point = proptest::option::of(prop::sample::select(vec!["lockup", "taps", "none"]));
    (point, by, filter).prop_map(|(point, by, filter)| Question {
        point: point.map(str::to_owned),
        by,
        filter,
    })
}

fn check(jobs: &[Made], questions: &[Question]) {
    let world = World::new();
    for job in jobs {
        world.put(job);
    }
    let (archive, _) = world.updated();
    let inspections = world.inspections();
    for question in questions {
        let expected = counted(&world.plan, &inspections, question);
        assert_eq!(archive.figures(question).unwrap(), expected, "{question:?}");
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]
    #[test]
    fn figures_are_what_counting_the_records_gives(
        jobs in proptest::collection::vec(made(), 0..14),
        questions in proptest::collection::vec(question(), 8),
    ) {
        check(&jobs, &questions);
    }
}

#[test]
fn an_empty_archive_has_no_figures() {
    check(&[], &[Question::default()]);
}
