//! Making an edit: checked first, then written as one change with person, time and words.

use automerge::{ActorId, ReadDoc, transaction::CommitOptions};
use inspection::{Agreement, FindingState, Memo, MemoId, PointId, StruckOut};

use crate::{
    Author, Change, Edit, Record, RecordError, Refusal, RefusalKind,
    author::device_in_hexadecimal,
    receive::guarded,
    schema::{self, Fact, Facts, SCHEMA, Section, key_of},
    trail::{change_out, message},
    write::{self, Write, difference},
};

impl Record {
    /// Makes one edit as one change. None is made where the edit says what the record already says.
    ///
    /// Keep the change's bytes before telling the person that the edit is kept.
    ///
    /// # Errors
    /// [`RecordError::Refused`] with a sentence for the person, or [`RecordError::NewerSchema`].
    pub fn edit(
        &mut self,
        author: &Author,
        at_unix_seconds: i64,
        edit: Edit,
    ) -> Result<Option<Change>, RecordError> {
        self.edit_together(author, at_unix_seconds, [edit])
    }

    /// Makes several edits of one act as one change: a reading with its photo, say. All or none.
    ///
    /// # Errors
    /// As [`Self::edit`].
    pub fn edit_together(
        &mut self,
        author: &Author,
        at_unix_seconds: i64,
        edits: impl IntoIterator<Item = Edit>,
    ) -> Result<Option<Change>, RecordError> {
        Ok(self.edit_each(author, at_unix_seconds, [edits])?.pop())
    }

    /// Makes many acts one after the other, the edits of each as one change: photos taken in by the hundred, say. All or
    /// none. An act that says what the record already says makes no change.
    ///
    /// Cheaper than one call an act: what goes back if something is refused is set aside once.
    ///
    /// # Errors
    /// As [`Self::edit`].
    pub fn edit_each<E: IntoIterator<Item = Edit>>(
        &mut self,
        author: &Author,
        at_unix_seconds: i64,
        acts: impl IntoIterator<Item = E>,
    ) -> Result<Vec<Change>, RecordError> {
        author.check()?;
        if self.schema > SCHEMA {
            return Err(RecordError::NewerSchema { found: self.schema, known: SCHEMA });
        }
        self.check_device(author)?;
        let device = author.device.to_vec();
        let (doc, sequence) = (self.doc.clone(), self.sequences.get(&device).copied());
        let mut made: Vec<Change> = Vec::new();
        for edits in acts {
            match self.make(author, at_unix_seconds, edits) {
                Ok(change) => made.extend(change),
                Err(error) => {
                    self.doc = doc;
                    self.known.retain(|hash, _| made.iter().all(|change| change.hash != *hash));
                    match sequence {
                        Some(sequence) => self.sequences.insert(device, sequence),
                        None => self.sequences.remove(&device),
                    };
                    return Err(error);
                }
            }
        }
        Ok(made)
    }

    /// Makes one change; after an error the document may be anything.
    fn make(
        &mut self,
        author: &Author,
        at_unix_seconds: i64,
        edits: impl IntoIterator<Item = Edit>,
    ) -> Result<Option<Change>, RecordError> {
        let mut writes = Vec::new();
        let mut acts = Vec::new();
        for edit in edits {
            acts.push(edit.in_words(self));
            let new = self.writes_of(author, edit).map_err(RecordError::Refused)?;
            writes.extend(new);
        }
        if writes.is_empty() {
            return Ok(None);
        }
        let options = CommitOptions::default()
            .with_message(message(author, &acts.join("; ")))
            .with_time(at_unix_seconds);
        let (doc, sections) = (&mut self.doc, &self.sections);
        doc.set_actor(ActorId::from(author.device));
        let hash = guarded("the record", || {
            doc.transact_with(
                |()| options,
                |transaction| write::into(transaction, sections, &writes),
            )
            .map(|done| done.hash)
            .map_err(|failure| failure.error)
        })?;
        let Some(hash) = hash else { return Ok(None) };
        let change = self.doc.get_change_by_hash(&hash).ok_or_else(|| {
            RecordError::damaged("the record", "the change just made is not in it")
        })?;
        self.known.insert(hash.into(), change.max_op());
        self.sequences.insert(author.device.to_vec(), change.seq());
        Ok(Some(change_out(&change)))
    }

    /// Refuses edits on a device of which later work is already under way: it was set back to an older
    /// copy, and its next change would take the number of one that exists.
    fn check_device(&self, author: &Author) -> Result<(), RecordError> {
        let mut others = self.waiting.values();
        let ahead = others.find(|change| change.actor_id().to_bytes() == author.device);
        match ahead {
            None => Ok(()),
            Some(change) => Err(RecordError::DeviceTwice {
                device: device_in_hexadecimal(&author.device),
                sequence: change.seq(),
                change: change.hash().into(),
            }),
        }
    }

    fn writes_of(&self, author: &Author, edit: Edit) -> Result<Vec<Write>, Refusal> {
        Ok(match edit {
            Edit::ChangeJob { before, after } => {
                if (&before.plan, &before.plan_hash) != (&after.plan, &after.plan_hash) {
                    return Err(RefusalKind::Fixed.refusal(
                        "a job keeps the plan it was made with; make a new job for another plan",
                    ));
                }
                // What was put to the client, and what they said to it, have edits of their own: whoever began with an
                // older state of the job takes neither back.
                let mut after = after;
                after.engagement.agreement.clone_from(&before.engagement.agreement);
                after.engagement.consents.clone_from(&before.engagement.consents);
                let (before, after) = (schema::job_facts(&before)?, schema::job_facts(&after)?);
                difference(Section::Job, None, &before, &after)
            }
            Edit::SetAgreement { before, after } => {
                let facts = |agreement: Option<&Agreement>| match agreement {
                    Some(agreement) => schema::agreement_facts(agreement),
                    None => Ok(Facts::new()),
                };
                let (before, after) = (facts(before.as_deref())?, facts(Some(&after))?);
                difference(Section::Job, None, &before, &after)
            }
            Edit::ClearAgreement { before } => {
                let before = schema::agreement_facts(&before)?;
                difference(Section::Job, None, &before, &Facts::new())
            }
            Edit::AddConsent { id, consent } => {
                check_id(id.as_str())?;
                let key = schema::consent_key(&id);
                if self.fact(Section::Job, &key).is_some() {
                    return Err(
                        RefusalKind::There.refusal(format!("there already is a consent {id}"))
                    );
                }
                vec![Write::put(Section::Job, key, schema::consent_fact(&consent)?)]
            }
            Edit::ChangeDwelling { before, after } => {
                let (before, after) =
                    (schema::dwelling_facts(&before), schema::dwelling_facts(&after));
                difference(Section::Dwelling, None, &before, &after)
            }
            Edit::SetPoint { point, before, after } => {
                let before = before.as_ref().map(schema::point_facts).transpose()?;
                changed(Section::Points, point.as_str(), before, &schema::point_facts(&after)?)?
            }
            Edit::ClearPoint { point, before } => changed(
                Section::Points,
                point.as_str(),
                Some(schema::point_facts(&before)?),
                &Facts::new(),
            )?,
            Edit::AddReading { id, reading } => {
                self.added(Section::Readings, id.as_str(), &schema::reading_facts(&reading)?)?
            }
            Edit::StrikeOutReading { id, reason } => {
                let reason = given("why the reading is struck out", &reason)?;
                let fact = schema::struck_out_fact(&author.person, reason)?;
                self.field(Section::Readings, id.as_str(), schema::STRUCK_OUT, fact)?
            }
            Edit::AddFinding { id, finding } => {
                self.added(Section::Findings, id.as_str(), &schema::finding_facts(&finding)?)?
            }
            Edit::ChangeFinding { id, before, after } => {
                self.there(Section::Findings, id.as_str())?;
                let before = Some(schema::finding_facts(&before)?);
                changed(Section::Findings, id.as_str(), before, &schema::finding_facts(&after)?)?
            }
            Edit::ClearFinding { id, before } => {
                self.there(Section::Findings, id.as_str())?;
                if before.draft.is_none() {
                    return Err(RefusalKind::Fixed
                        .refusal("a finding that a person wrote is withdrawn, with the reason"));
                }
                let before = Some(schema::finding_facts(&before)?);
                changed(Section::Findings, id.as_str(), before, &Facts::new())?
            }
            Edit::RestoreFinding { id, finding } => {
                self.there(Section::Findings, id.as_str())?;
                if self.inspection().0.findings.contains_key(&id) {
                    return Err(
                        RefusalKind::There.refusal(format!("finding {id} was not taken back"))
                    );
                }
                let facts = schema::finding_facts(&finding)?;
                changed(Section::Findings, id.as_str(), None, &facts)?
            }
            Edit::WithdrawFinding { id, reason } => {
                let reason = given("why the finding is withdrawn", &reason)?.to_owned();
                let fact = schema::state_fact(&FindingState::Withdrawn { reason });
                self.field(Section::Findings, id.as_str(), schema::STATE, fact)?
            }
            Edit::AddPhoto { id, photo } => {
                self.added(Section::Photos, id.as_str(), &schema::photo_facts(&photo)?)?
            }
            Edit::ChangePhoto { id, before, after } => {
                self.there(Section::Photos, id.as_str())?;
                if before.marks != after.marks {
                    return Err(RefusalKind::Fixed.refusal(
                        "a photo's marks are drawn and erased one by one, not with its other facts",
                    ));
                }
                let before = Some(schema::photo_facts(&before)?);
                changed(Section::Photos, id.as_str(), before, &schema::photo_facts(&after)?)?
            }
            Edit::PlacePhoto { id, point, position, caption } => {
                let fact = schema::point_and_position_fact(point.as_ref(), &position)?;
                let mut writes =
                    self.field(Section::Photos, id.as_str(), schema::POINT_AND_POSITION, fact)?;
                if let Some(caption) = caption {
                    let fact = Fact::text(caption);
                    writes.extend(self.field(
                        Section::Photos,
                        id.as_str(),
                        schema::CAPTION,
                        fact,
                    )?);
                }
                writes
            }
            Edit::PlacePhotoOnUnit { id, place } => {
                let fact = place.map_or(Ok(Fact::Nothing), schema::place_fact)?;
                self.field(Section::Photos, id.as_str(), schema::PLACE, fact)?
            }
            Edit::MarkPhoto { id, mark_id, mark } => {
                check_id(&mark_id)?;
                let fact = Fact::text(schema::mark_text(&mark)?);
                self.field(Section::Photos, id.as_str(), &schema::mark_field(&mark_id), fact)?
            }
            Edit::EraseMark { id, mark_id } => {
                let key = key_of(id.as_str(), &schema::mark_field(&mark_id));
                if self.fact(Section::Photos, &key).is_none() {
                    return Err(
                        RefusalKind::Gone.refusal(format!("photo {id} has no mark {mark_id}"))
                    );
                }
                vec![Write::Remove(Section::Photos, key)]
            }
            Edit::AddMemo { id, memo } => self.added_memo(&id, &memo)?,
            Edit::StrikeOutMemo { point, id, reason } => {
                self.memo_there(&point, &id)?;
                let reason = given("why the voice memo is struck out", &reason)?;
                let fact = schema::struck_out_fact(&author.person, reason)?;
                let key = key_of(point.as_str(), &schema::memo_out_field(&id));
                vec![Write::Put(Section::Points, key, fact)]
            }
            Edit::RestoreMemo { point, id } => {
                self.memo_there(&point, &id)?;
                let key = key_of(point.as_str(), &schema::memo_out_field(&id));
                if self.fact(Section::Points, &key).is_none() {
                    return Err(RefusalKind::There
                        .refusal(format!("the voice memo {id} is not struck out")));
                }
                vec![Write::Remove(Section::Points, key)]
            }
            Edit::StartWait { id, wait } => {
                self.added(Section::Waits, id.as_str(), &schema::wait_facts(&wait)?)?
            }
            Edit::EndWait { id, ended } => {
                let fact = Fact::text(schema::moment_text(ended)?);
                self.field(Section::Waits, id.as_str(), schema::ENDED, fact)?
            }
            Edit::ChangeSiteState { id, change } => {
                self.added(Section::SiteStates, &id, &schema::site_state_facts(&change)?)?
            }
            Edit::SetInstrument { id, before, after } => {
                let before = before.as_ref().map(schema::instrument_facts).transpose()?;
                changed(
                    Section::Instruments,
                    id.as_str(),
                    before,
                    &schema::instrument_facts(&after)?,
                )?
            }
            Edit::ClearInstrument { id, before } => {
                let before = Some(schema::instrument_facts(&before)?);
                changed(Section::Instruments, id.as_str(), before, &Facts::new())?
            }
            Edit::Settle { field, keep } => {
                let Some(fact) = self.value_by(&field, keep) else {
                    return Err(RefusalKind::Gone.refusal(format!(
                        "{field}: no value by change {keep} stands there; look at the conflict again"
                    )));
                };
                vec![Write::Put(field.section, field.key, fact)]
            }
        })
    }

    /// The writes of a new entry, whose id must not be taken.
    fn added(&self, section: Section, id: &str, facts: &Facts) -> Result<Vec<Write>, Refusal> {
        if self.there(section, id).is_ok() {
            return Err(RefusalKind::There
                .refusal(format!("there already is a {} {id}", section.entry_word())));
        }
        changed(section, id, None, facts)
    }

    /// The writes of a new voice memo, which no point may have yet.
    fn added_memo(&self, id: &MemoId, memo: &Memo) -> Result<Vec<Write>, Refusal> {
        check_id(memo.point.as_str())?;
        check_id(id.as_str())?;
        if self.inspection().0.memos.contains_key(id) {
            return Err(RefusalKind::There.refusal(format!("there already is a voice memo {id}")));
        }
        let key = |field: &str| key_of(memo.point.as_str(), field);
        let fact = schema::memo_fact(memo)?;
        let mut writes = vec![Write::Put(Section::Points, key(&schema::memo_field(id)), fact)];
        if let Some(StruckOut { reason, by }) = &memo.struck_out {
            let fact = schema::struck_out_fact(by, reason)?;
            writes.push(Write::Put(Section::Points, key(&schema::memo_out_field(id)), fact));
        }
        Ok(writes)
    }

    /// Whether the point has this voice memo.
    fn memo_there(&self, point: &PointId, id: &MemoId) -> Result<(), Refusal> {
        let key = key_of(point.as_str(), &schema::memo_field(id));
        match self.fact(Section::Points, &key) {
            Some(_) => Ok(()),
            None => {
                Err(RefusalKind::Gone.refusal(format!("there is no voice memo {id} at {point}")))
            }
        }
    }

    /// The write of one field of an entry that must be there.
    fn field(
        &self,
        section: Section,
        id: &str,
        field: &str,
        fact: Fact,
    ) -> Result<Vec<Write>, Refusal> {
        self.there(section, id)?;
        Ok(vec![Write::Put(section, key_of(id, field), fact)])
    }

    /// Whether the section has an entry with this id.
    fn there(&self, section: Section, id: &str) -> Result<(), Refusal> {
        let there = self.sections.get(&section).is_some_and(|object| {
            let first = key_of(id, "");
            // `0` follows `/`: everything between belongs to this id.
            let end = format!("{}0", &first[..first.len() - 1]);
            self.doc.map_range(object, first..end).next().is_some()
        });
        if there {
            return Ok(());
        }
        Err(RefusalKind::Gone.refusal(format!("there is no {} {id}", section.entry_word())))
    }
}

/// The writes that turn an entry as it stood into what it should be.
fn changed(
    section: Section,
    id: &str,
    before: Option<Facts>,
    after: &Facts,
) -> Result<Vec<Write>, Refusal> {
    check_id(id)?;
    Ok(difference(section, Some(id), &before.unwrap_or_default(), after))
}

/// Refuses ids that could not be shown or kept.
fn check_id(id: &str) -> Result<(), Refusal> {
    if id.is_empty() || id.len() > 200 || id.chars().any(char::is_control) {
        return Err(RefusalKind::Unfit.refusal(format!(
            "{id:?} is no id; 1 to 200 bytes without control characters are accepted"
        )));
    }
    Ok(())
}

/// Refuses an empty reason.
fn given<'a>(what: &str, reason: &'a str) -> Result<&'a str, Refusal> {
    if reason.trim().is_empty() {
        return Err(RefusalKind::NoWords.refusal(format!("say {what}; the reason given is empty")));
    }
    Ok(reason)
}
