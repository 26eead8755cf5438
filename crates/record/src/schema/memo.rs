//! Keys of a point's voice memos: one text each, so that a merge keeps a memo whole.

use inspection::{Memo, MemoId, PointId, StruckOut};

use super::{Entry, Fact, escaped, moment_text, one_line, unescaped};
use crate::{Refusal, RefusalKind};

const MEMO: &str = "memo/";
const MEMO_OUT: &str = "memo_out/";

/// The field of a memo with this id.
pub(crate) fn memo_field(id: &MemoId) -> String {
    format!("{MEMO}{}", escaped(id.as_str()))
}

/// The field that strikes it out.
pub(crate) fn memo_out_field(id: &MemoId) -> String {
    format!("{MEMO_OUT}{}", escaped(id.as_str()))
}

/// Time, person, media type and length, as lines of one text.
pub(crate) fn memo_fact(memo: &Memo) -> Result<Fact, Refusal> {
    let Memo { point: _, media_type, seconds, at, by, struck_out: _ } = memo;
    if Memo::ending_of(media_type).is_none() {
        let known = Memo::MEDIA_TYPES.map(|(known, _)| known).join(", ");
        let said = format!("a voice memo of the type {media_type:?}; {known} are accepted");
        return Err(RefusalKind::Unfit.refusal(said));
    }
    if *seconds == 0 {
        return Err(RefusalKind::Unfit.refusal("a voice memo of 0 s; it takes at least one"));
    }
    let at = at.map(moment_text).transpose()?.unwrap_or_default();
    Ok(Fact::text(format!("{at}\n{}\n{media_type}\n{seconds}", one_line("the name", by)?)))
}

/// Takes a point's memos out of its entry.
pub(crate) fn take_memos(entry: &mut Entry<'_, '_>, point: &str) -> Vec<(MemoId, Memo)> {
    let mut memos: Vec<(MemoId, Memo)> = Vec::new();
    for (id, fact) in entry.several(MEMO) {
        let memo = match &fact {
            Fact::Text(text) => read_memo(entry, text, point),
            _ => None,
        };
        match memo {
            Some(memo) => memos.push((unescaped(&id).into(), memo)),
            None => entry.trouble(format!(
                "its voice memo `{id}` cannot be read; time, person, media type and seconds belong there; it is left out"
            )),
        }
    }
    for (id, fact) in entry.several(MEMO_OUT) {
        let known = unescaped(&id);
        let memo = memos.iter_mut().find(|(one, _)| one.as_str() == known);
        match (memo, fact) {
            (Some((_, memo)), Fact::Text(text)) => {
                let (by, reason) = text.split_once('\n').unwrap_or(("", &text));
                memo.struck_out = Some(StruckOut { reason: reason.to_owned(), by: by.to_owned() });
            }
            _ => entry.trouble(format!(
                "a voice memo `{id}` is struck out that cannot be read or is not there"
            )),
        }
    }
    memos
}

fn read_memo(entry: &mut Entry<'_, '_>, text: &str, point: &str) -> Option<Memo> {
    let mut lines = text.splitn(4, '\n');
    let at = lines.next()?;
    let by = lines.next()?.to_owned();
    let media_type = lines.next()?.to_owned();
    let seconds = lines.next()?.parse().ok()?;
    let at = if at.is_empty() { None } else { entry.moment_from("memo", at) };
    Some(Memo { point: PointId::from(point), media_type, seconds, at, by, struck_out: None })
}
