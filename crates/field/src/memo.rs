//! Voice memos: what is accepted, and what becomes of one in the record.

use inspection::{Memo, MemoId};
use record::Edit;

use crate::act::MemoSpoken;
use crate::{Now, Said, Visit};

/// When a recording ends by itself, seconds: a memo is a note, not a film of the visit.
pub const MEMO_ENDS_AFTER_SECONDS: u32 = 300;
/// The longest recording that is kept. A browser that sleeps may end one late, and then nothing may be lost.
pub const MEMO_SECONDS_MOST: u32 = 3_600;
/// The largest recording that is kept, bytes.
pub const MEMO_BYTES_MOST: u64 = 64 << 20;

/// The media type without its parameters: `audio/webm` for `audio/webm;codecs=opus`; none for what is no recording that
/// can be kept.
#[must_use]
pub fn media_type_of(text: &str) -> Option<&'static str> {
    let bare = text.split(';').next().unwrap_or_default().trim();
    let mut known = Memo::MEDIA_TYPES.iter().map(|(known, _)| *known);
    known.find(|known| known.eq_ignore_ascii_case(bare))
}

pub(crate) fn added(visit: &Visit, spoken: MemoSpoken, now: Now) -> Result<Vec<Edit>, Said> {
    visit.point_here(&spoken.point)?;
    let MemoSpoken { id, point, media_type, milliseconds, began } = spoken;
    let Some(kind) = media_type_of(&media_type) else {
        let known = Memo::MEDIA_TYPES.map(|(known, _)| known).join(", ");
        return Err(Said::new("refusal-memo-type").with("type", media_type).with("types", known));
    };
    if visit.inspection().memos.contains_key(&id) {
        return Err(Said::new("refusal-memo-there"));
    }
    if milliseconds == 0 {
        return Err(Said::new("refusal-memo-empty"));
    }
    let seconds = u32::try_from(milliseconds.div_ceil(1_000)).unwrap_or(u32::MAX);
    if seconds > MEMO_SECONDS_MOST {
        let minutes = |seconds: u32| seconds.div_ceil(60).to_string();
        return Err(Said::new("refusal-memo-long")
            .with("minutes", minutes(seconds))
            .with("most", minutes(MEMO_SECONDS_MOST)));
    }
    let memo = Memo {
        point,
        media_type: kind.to_owned(),
        seconds,
        at: began.or(Some(now.moment)),
        by: visit.author().person.clone(),
        struck_out: None,
    };
    Ok(vec![Edit::AddMemo { id, memo }])
}

pub(crate) fn struck(visit: &Visit, id: MemoId, reason: String) -> Result<Vec<Edit>, Said> {
    match visit.inspection().memos.get(&id) {
        Some(memo) if memo.struck_out.is_none() => {
            Ok(vec![Edit::StrikeOutMemo { point: memo.point.clone(), id, reason }])
        }
        Some(_) => Err(Said::new("refusal-memo-struck")),
        None => Err(Said::new("refusal-no-memo")),
    }
}

#[cfg(test)]
mod tests {
    use super::media_type_of;

    #[test]
    fn parameters_and_case_of_a_media_type_do_not_matter() {
        assert_eq!(media_type_of("audio/webm;codecs=opus"), Some("audio/webm"));
        assert_eq!(media_type_of("Audio/MP4; codecs=\"mp4a.40.2\""), Some("audio/mp4"));
        assert_eq!(media_type_of("audio/ogg"), Some("audio/ogg"));
        for other in ["video/webm", "text/html", "", "audio/", "audio/webm2"] {
            assert_eq!(media_type_of(other), None, "{other}");
        }
    }
}
