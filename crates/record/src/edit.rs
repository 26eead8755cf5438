//! The named edits: each is one act of a person and becomes one change.

use inspection::{
    Agreement, Consent, ConsentId, Dwelling, FindingId, Instrument, InstrumentId, Job, Mark, Memo,
    MemoId, Moment, Photo, PhotoId, PlaceOnUnit, PointEntry, PointId, Reading, ReadingId,
    RecordedFinding, SiteStateChange, Wait, WaitId,
};

use crate::{Field, Hash};

/// One act of a person.
///
/// Edits of a thing with many fields carry it as it stood when the person began (`before`) and as it
/// should stand (`after`): only fields that differ are written, so that another device's work on
/// the other fields stays.
#[derive(Clone, Debug, PartialEq)]
pub enum Edit {
    /// Changes the engagement; its plan cannot be changed. Agreement and consents have edits of their own.
    ChangeJob {
        /// As it stood.
        before: Box<Job>,
        /// As it should stand.
        after: Box<Job>,
    },
    /// Says what is put to the client for consent.
    SetAgreement {
        /// As it stood; none for a first one.
        before: Option<Box<Agreement>>,
        /// As it should stand.
        after: Box<Agreement>,
    },
    /// Takes back what was put to the client, as after a slip of the finger: nothing is. Consents stay.
    ClearAgreement {
        /// As it stood.
        before: Box<Agreement>,
    },
    /// Adds a consent of the client. None is ever changed or taken away: a newer one stands beside it.
    AddConsent {
        /// A new id, as from [`crate::Record::fresh_id`].
        id: ConsentId,
        /// The consent.
        consent: Box<Consent>,
    },
    /// Changes what is known of the unit.
    ChangeDwelling {
        /// As it stood.
        before: Box<Dwelling>,
        /// As it should stand.
        after: Box<Dwelling>,
    },
    /// Says what became of a point, with defects and notes.
    SetPoint {
        /// Which point.
        point: PointId,
        /// As it stood; none for a first entry.
        before: Option<PointEntry>,
        /// As it should stand.
        after: PointEntry,
    },
    /// Takes back what was said of a point, as after a slip of the finger.
    ClearPoint {
        /// Which point.
        point: PointId,
        /// As it stood.
        before: PointEntry,
    },
    /// Adds a reading.
    AddReading {
        /// A new id, as from [`crate::Record::fresh_id`].
        id: ReadingId,
        /// The reading.
        reading: Reading,
    },
    /// Strikes a reading out; it stays in the record.
    StrikeOutReading {
        /// Which reading.
        id: ReadingId,
        /// Why, in words.
        reason: String,
    },
    /// Adds a finding.
    AddFinding {
        /// A new id, as from [`crate::Record::fresh_id`].
        id: FindingId,
        /// The finding.
        finding: Box<RecordedFinding>,
    },
    /// Changes a finding.
    ChangeFinding {
        /// Which finding.
        id: FindingId,
        /// As it stood.
        before: Box<RecordedFinding>,
        /// As it should stand.
        after: Box<RecordedFinding>,
    },
    /// Takes back a decision on a drafted finding, as after a slip of the finger: the draft stands as nobody had decided on it.
    ClearFinding {
        /// Which finding.
        id: FindingId,
        /// As it stood.
        before: Box<RecordedFinding>,
    },
    /// Lets a decision on a drafted finding stand again that was taken back.
    RestoreFinding {
        /// Which finding.
        id: FindingId,
        /// As it should stand.
        finding: Box<RecordedFinding>,
    },
    /// Takes a finding back; it stays in the record.
    WithdrawFinding {
        /// Which finding.
        id: FindingId,
        /// Why, in words.
        reason: String,
    },
    /// Adds a photo's entry.
    AddPhoto {
        /// The SHA-256 of its original file.
        id: PhotoId,
        /// What is known of it.
        photo: Box<Photo>,
    },
    /// Changes what is known of a photo, apart from its marks.
    ChangePhoto {
        /// Which photo.
        id: PhotoId,
        /// As it stood.
        before: Box<Photo>,
        /// As it should stand.
        after: Box<Photo>,
    },
    /// Says which point a photo shows, or none.
    PlacePhoto {
        /// Which photo.
        id: PhotoId,
        /// The point it shows.
        point: Option<PointId>,
        /// Which of several positions there; empty where there is only one.
        position: String,
        /// What it shows, in words; none leaves the caption as it is.
        caption: Option<String>,
    },
    /// Says where on the unit a photo was taken, or takes that back.
    PlacePhotoOnUnit {
        /// Which photo.
        id: PhotoId,
        /// Where.
        place: Option<PlaceOnUnit>,
    },
    /// Draws a mark over a photo, or redraws the one with this id.
    MarkPhoto {
        /// Which photo.
        id: PhotoId,
        /// A new mark's id, as from [`crate::Record::fresh_id`], or one of [`crate::Record::mark_ids`].
        mark_id: String,
        /// The mark.
        mark: Mark,
    },
    /// Takes a mark off a photo.
    EraseMark {
        /// Which photo.
        id: PhotoId,
        /// Which mark, as from [`crate::Record::mark_ids`].
        mark_id: String,
    },
    /// Adds a voice memo's entry.
    AddMemo {
        /// The SHA-256 of its recording.
        id: MemoId,
        /// What is known of it.
        memo: Memo,
    },
    /// Strikes a voice memo out; its entry stays in the record.
    StrikeOutMemo {
        /// The point at which it was spoken.
        point: PointId,
        /// Which memo.
        id: MemoId,
        /// Why, in words.
        reason: String,
    },
    /// Lets a voice memo stand again that was struck out.
    RestoreMemo {
        /// The point at which it was spoken.
        point: PointId,
        /// Which memo.
        id: MemoId,
    },
    /// Starts an unattended span.
    StartWait {
        /// A new id, as from [`crate::Record::fresh_id`].
        id: WaitId,
        /// The span.
        wait: Wait,
    },
    /// Ends an unattended span.
    EndWait {
        /// Which span.
        id: WaitId,
        /// When it ended.
        ended: Moment,
    },
    /// Records a change of the site's state.
    ChangeSiteState {
        /// A new id, as from [`crate::Record::fresh_id`].
        id: String,
        /// The change.
        change: SiteStateChange,
    },
    /// Adds an instrument or changes what is known of it.
    SetInstrument {
        /// Which instrument.
        id: InstrumentId,
        /// As it stood; none for a new one.
        before: Option<Instrument>,
        /// As it should stand.
        after: Instrument,
    },
    /// Takes an instrument out of the list. Readings that name it keep its id.
    ClearInstrument {
        /// Which instrument.
        id: InstrumentId,
        /// As it stood.
        before: Instrument,
    },
    /// Settles a conflict by keeping one of the values.
    Settle {
        /// Which field, from [`crate::Record::conflicts`].
        field: Field,
        /// The change whose value is kept.
        keep: Hash,
    },
}
