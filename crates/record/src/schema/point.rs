//! Keys of a point's entry: what became of it, defects seen, notes.

use inspection::{Outcome, PointEntry};

use super::{Entry, Fact, Facts, Writing, escaped, moment_text, one_line, unescaped};
use crate::{Refusal, RefusalKind};

/// What became of the point, when, by whom and why, as lines of one text: a merge keeps one
/// decision whole.
const OUTCOME: &str = "outcome";
const NOTES: &str = "notes";
/// `defects/<defect>/<position>`; the position is empty where there is only one.
const DEFECTS: &str = "defects/";

const EXAMINED: &str = "examined";
const NOT_EXAMINED: &str = "not_examined";
const NOT_FITTED: &str = "not_fitted";

pub(crate) fn point_facts(point: &PointEntry) -> Result<Facts, Refusal> {
    let PointEntry { outcome, defects, notes, by, at } = point;
    let mut writing = Writing::default();
    let (word, reason) = match outcome {
        Outcome::Examined => (EXAMINED, ""),
        Outcome::NotExamined { reason } => (NOT_EXAMINED, reason.as_str()),
        Outcome::NotFitted => (NOT_FITTED, ""),
    };
    let at = at.map(moment_text).transpose()?.unwrap_or_default();
    let by = one_line("the name", by)?;
    writing.put(OUTCOME, Fact::text(format!("{word}\n{at}\n{by}\n{reason}")));
    writing.text(NOTES, notes);
    let mut rank = 0;
    for (defect, positions) in defects {
        let stem = format!("{DEFECTS}{}/", escaped(defect));
        if writing.facts.keys().any(|field| field.starts_with(&stem)) {
            return Err(RefusalKind::Twice.refusal(format!(
                "the defect `{defect}` is named twice; name it once with all positions"
            )));
        }
        let whole = [String::new()];
        for position in if positions.is_empty() { &whole[..] } else { positions } {
            writing.put(&format!("{stem}{}", escaped(position)), Fact::Whole(rank));
            rank += 1;
        }
    }
    Ok(writing.facts)
}

pub(crate) fn read_point(mut entry: Entry<'_, '_>) -> Option<PointEntry> {
    let mut defects: Vec<(String, Vec<String>)> = Vec::new();
    for field in entry.ranked(DEFECTS) {
        let (defect, position) = field.split_once('/').unwrap_or((&field, ""));
        let (defect, position) = (unescaped(defect), unescaped(position));
        let position = Some(position).filter(|position| !position.is_empty());
        match defects.iter_mut().find(|(seen, _)| *seen == defect) {
            Some((_, positions)) => positions.extend(position),
            None => defects.push((defect, position.into_iter().collect())),
        }
    }
    let notes = entry.text(NOTES);
    let decided = entry.text_if_any(OUTCOME).and_then(|text| read_outcome(&mut entry, &text));
    let Some((outcome, at, by)) = decided else {
        let kept: Vec<_> = defects.iter().map(|(defect, _)| format!("defect `{defect}`")).collect();
        let notes = if notes.is_empty() { String::new() } else { format!("; notes: {notes}") };
        if !kept.is_empty() || !notes.is_empty() {
            entry.trouble(format!(
                "nobody says whether it was examined, so it is not shown; it has {}{notes}",
                if kept.is_empty() { "no defects".into() } else { kept.join(", ") }
            ));
        }
        entry.finish();
        return None;
    };
    entry.finish();
    Some(PointEntry { outcome, defects, notes, by, at })
}

fn read_outcome(
    entry: &mut Entry<'_, '_>,
    text: &str,
) -> Option<(Outcome, Option<inspection::Moment>, String)> {
    let mut lines = text.splitn(4, '\n');
    let word = lines.next().unwrap_or_default();
    let at = lines.next().unwrap_or_default();
    let by = lines.next().unwrap_or_default().to_owned();
    let reason = lines.next().unwrap_or_default().to_owned();
    let outcome = match word {
        EXAMINED => Outcome::Examined,
        NOT_EXAMINED => Outcome::NotExamined { reason },
        NOT_FITTED => Outcome::NotFitted,
        other => {
            entry.trouble(format!("what became of it is `{other}`, which is unknown here"));
            return None;
        }
    };
    let at = if at.is_empty() { None } else { entry.moment_from(OUTCOME, at) };
    Some((outcome, at, by))
}
