//! The voice memos of a point.

use inspection::{Memo, MemoId, Moment, PointId};

use crate::{Visit, media_type_of};

/// One voice memo of a point.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct MemoRow {
    /// The memo.
    pub id: MemoId,
    /// What kind of recording it is.
    pub media_type: &'static str,
    /// Its length.
    pub seconds: u32,
    /// When it was spoken.
    pub at: Option<Moment>,
    /// Who spoke.
    pub by: String,
}

impl Visit {
    /// The voice memos spoken at a point that stand, in time.
    #[must_use]
    pub fn memos(&self, point: &PointId) -> Vec<MemoRow> {
        let here = self.inspection().memos.iter();
        let here = here.filter(|(_, memo)| memo.point == *point && memo.struck_out.is_none());
        let mut here: Vec<(&MemoId, &Memo)> = here.collect();
        here.sort_by_key(|(id, memo)| (memo.at, *id));
        here.into_iter()
            .map(|(id, memo)| MemoRow {
                id: id.clone(),
                media_type: media_type_of(&memo.media_type).unwrap_or("audio/webm"),
                seconds: memo.seconds,
                at: memo.at,
                by: memo.by.clone(),
            })
            .collect()
    }
}
