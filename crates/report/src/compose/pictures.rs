//! Pictures of values: which of the plan's pictures have something to show, and what.

use findings::{Content, ValueResult};
use limit::Bound;
use plan::{PictureKind, ValueName};
use quantity::{Unit, Value, write_value};

use crate::content::{Bounds, Picture, Shown, Verdict};

use super::readings::{system_title, verdict};
use super::{Source, words};

/// The pictures for which every needed value was recorded: by kind, so that the whole of a system comes before its
/// parts, and within a kind in the plan's order.
pub(super) fn pictures(source: Source<'_>) -> Vec<Picture> {
    let mut planned: Vec<&plan::Picture> = source.plan.pictures.iter().collect();
    planned.sort_by_key(|picture| PictureKind::ALL.iter().position(|kind| *kind == picture.kind));
    planned
        .into_iter()
        .filter_map(|planned| {
            let shown = planned
                .from
                .iter()
                .map(|(role, name)| (role.clone(), values(source, name)))
                .filter(|(_, shown)| !shown.is_empty())
                .collect();
            let picture = Picture {
                title: planned.title.clone(),
                caption: planned.caption.clone(),
                system: system_title(source, &planned.system),
                kind: planned.kind.word().to_owned(),
                shown,
            };
            let complete = planned
                .kind
                .roles()
                .iter()
                .all(|role| !role.needed || !picture.role(role.name).is_empty());
            complete.then_some(picture)
        })
        .collect()
}

fn values(source: Source<'_>, name: &ValueName) -> Vec<Shown> {
    let points = source.assessment.points.iter();
    points
        .filter(|result| result.point.as_str() == name.point)
        .flat_map(|result| &result.values)
        .filter(|value| value.name == name.name)
        .filter_map(|value| shown(source, value))
        .collect()
}

fn shown(source: Source<'_>, value: &ValueResult) -> Option<Shown> {
    let unit = value.unit.map(|unit| unit.in_system(source.units));
    let (number, uncertainty, (text, spread)) = match &value.content {
        Content::Quantity(quantity) => {
            let number = unit.and_then(|unit| quantity.to_unit(unit)).unwrap_or(quantity.base);
            let step = unit.map_or(1.0, |unit| unit.step());
            let uncertainty = quantity.standard_uncertainty().map(|standard| standard / step);
            (Some(number), uncertainty, written(*quantity, unit))
        }
        Content::Words(text) => (None, None, (words::plain(text), String::new())),
        Content::None(_) => return None,
    };
    Some(Shown {
        position: words::plain(&value.position),
        unit: unit.filter(|_| number.is_some()).map_or("", |unit| unit.symbol()).to_owned(),
        number,
        uncertainty,
        text,
        spread,
        verdict: gravest(value),
        bounds: value
            .judgements
            .iter()
            .filter_map(|judged| bounds(&judged.limit.bound, unit))
            .collect(),
    })
}

/// What a limit allows in this unit; none for words.
fn bounds(bound: &Bound, unit: Option<&Unit>) -> Option<Bounds> {
    let number = |value: &Value| unit.map_or(Some(value.base), |unit| value.to_unit(unit));
    let (from, to) = match bound {
        Bound::AtMost(most) => (None, number(most)),
        Bound::AtLeast(least) => (number(least), None),
        Bound::Between(least, most) => (number(least), number(most)),
        Bound::OneOf(_) => (None, None),
    };
    (from.is_some() || to.is_some()).then(|| Bounds { from, to, text: bound.words(unit) })
}

/// Value and unit; and its expanded uncertainty, where it has one.
fn written(value: Value, unit: Option<&Unit>) -> (String, String) {
    let whole =
        unit.map_or_else(|| quantity::write_number(value.base), |unit| write_value(value, unit));
    whole.split_once(" ± ").map_or_else(
        || (whole.clone(), String::new()),
        |(text, spread)| (text.to_owned(), format!("± {spread}")),
    )
}

/// The verdict that a reader must see first.
fn gravest(value: &ValueResult) -> Verdict {
    const GRAVEST_FIRST: [Verdict; 5] = [
        Verdict::DoesNotConform,
        Verdict::Undecided,
        Verdict::BeyondGuidance,
        Verdict::Conforms,
        Verdict::WithinGuidance,
    ];
    let given: Vec<Verdict> =
        value.judgements.iter().map(|judged| verdict(judged.judgement.verdict)).collect();
    GRAVEST_FIRST.into_iter().find(|one| given.contains(one)).unwrap_or(Verdict::NoLimit)
}
