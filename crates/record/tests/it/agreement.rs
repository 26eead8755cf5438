//! The agreement and the client's consents: kept whole, never lost to an older state, no trouble to anybody else.

use automerge::{AutomergeError, ROOT, ReadDoc as _, transaction::Transactable as _};
use inspection::{
    Agreement, ChargeLine, Charges, Consent, ConsentId, ConsentWay, Currency, DrawnSignature, Tax,
    TaxRate, Taxed,
};
use record::{Edit, Record};

use crate::fixtures::*;

fn agreement() -> Agreement {
    let line = |text: &str, amount, taxed| ChargeLine { text: text.into(), amount, taxed };
    Agreement {
        unit: "2019 fifth wheel".into(),
        day: Some("2026-06-12".parse().unwrap()),
        language: "es".into(),
        terms: vec!["First.".into(), "Second, with “marks” / and %.".into()],
        payment: "on the day\nby card".into(),
        charges: Charges {
            currency: Currency::from_code("CAD").unwrap(),
            lines: vec![
                line("Inspection", 42_500, Taxed::All),
                line("Toll = 3", 300, Taxed::Untaxed),
                line("Book", -2_000, Taxed::Only("GST / HST".into())),
            ],
            taxes: vec![
                Tax { name: "GST / HST".into(), rate: TaxRate { millionths: 50_000 } },
                Tax { name: "QST".into(), rate: TaxRate { millionths: 99_750 } },
            ],
        },
    }
}

fn consent(name: &str) -> Consent {
    Consent {
        name: name.into(),
        at: moment("2026-06-03T18:12:40-04:00"),
        how: ConsentWay::Drawn,
        address: "2001:db8::7".into(),
        drawn: DrawnSignature::read("1,2 3,4;5,6").unwrap(),
        agreed: "ab".repeat(32),
        text: "Agreement\n\nof several lines\n".into(),
        by: String::new(),
    }
}

fn set(before: Option<Agreement>, after: Agreement) -> Edit {
    Edit::SetAgreement { before: before.map(Box::new), after: Box::new(after) }
}

fn give(id: &str, consent: Consent) -> Edit {
    Edit::AddConsent { id: id.into(), consent: Box::new(consent) }
}

#[test]
fn agreement_and_consent_read_back_as_they_were_kept_and_change_nothing_else() {
    let mut record = record_of_everything();
    let (before, _) = record.inspection();
    record.edit(&laptop(), NOON, set(None, agreement())).unwrap().unwrap();
    record.edit(&laptop(), NOON, give("odd %/ id", consent("Ada Buyer"))).unwrap().unwrap();
    let (mut after, problems) = Record::load([record.save().as_slice()]).unwrap().inspection();
    assert_eq!(problems, []);
    let engagement = &mut after.job.engagement;
    assert_eq!(engagement.agreement.take(), Some(agreement()));
    let consents = std::mem::take(&mut engagement.consents);
    assert_eq!(consents[&ConsentId::from("odd %/ id")], consent("Ada Buyer"));
    assert_eq!(after, before);
    let trail: Vec<String> = record.trail().into_iter().map(|entry| entry.message).collect();
    assert_eq!(
        trail[trail.len() - 2..],
        ["said what is put to the client for consent", "Ada Buyer agreed to the terms"]
    );
}

#[test]
fn an_agreement_with_nothing_in_it_is_one_all_the_same() {
    let mut record = new_record();
    assert_eq!(record.inspection().0.job.engagement.agreement, None);
    record.edit(&laptop(), NOON, set(None, Agreement::default())).unwrap().unwrap();
    let (inspection, problems) = record.inspection();
    assert_eq!(
        (problems, inspection.job.engagement.agreement),
        (vec![], Some(Agreement::default()))
    );
    // What was said can be taken back as a whole, and field by field.
    let clear = Edit::ClearAgreement { before: Box::default() };
    record.edit(&laptop(), NOON, clear).unwrap().unwrap();
    assert_eq!(record.inspection().0.job.engagement.agreement, None);
    record.edit(&laptop(), NOON, set(None, agreement())).unwrap().unwrap();
    let clear = Edit::ClearAgreement { before: Box::new(agreement()) };
    record.edit(&laptop(), NOON, clear).unwrap().unwrap();
    assert_eq!(record.inspection().0.job.engagement.agreement, None);
    record.edit(&laptop(), NOON, set(None, Agreement::default())).unwrap().unwrap();
    record.edit(&laptop(), NOON, set(Some(Agreement::default()), agreement())).unwrap();
    record.edit(&laptop(), NOON, set(Some(agreement()), Agreement::default())).unwrap();
    assert_eq!(record.inspection().0.job.engagement.agreement, Some(Agreement::default()));
}

#[test]
fn a_phone_that_began_before_the_consent_takes_neither_back() {
    let mut record = new_record();
    let old = record.inspection().0.job;
    record.edit(&laptop(), NOON, set(None, agreement())).unwrap();
    record.edit(&laptop(), NOON, give("1", consent("Ada Buyer"))).unwrap();
    let now = record.inspection().0.job;
    // The phone's screen was opened earlier: what it hands in knows of no agreement.
    let mut after = old;
    after.weather = "hail".into();
    let edit = Edit::ChangeJob { before: Box::new(now), after: Box::new(after) };
    record.edit(&phone(), NOON + 60, edit).unwrap().unwrap();
    let (inspection, problems) = record.inspection();
    assert_eq!(problems, []);
    assert_eq!(inspection.job.weather, "hail");
    assert_eq!(inspection.job.engagement.agreement, Some(agreement()));
    assert_eq!(inspection.job.engagement.consents.len(), 1);
}

#[test]
fn two_consents_at_once_both_stay() {
    let mut one = new_record();
    let mut other = one.clone();
    one.edit(&laptop(), NOON, give("1", consent("Ada Buyer"))).unwrap();
    other.edit(&tablet(), NOON, give("2", consent("Bo Buyer"))).unwrap();
    one.merge(&other).unwrap();
    other.merge(&one).unwrap();
    assert_eq!(one.inspection().0.job.engagement.consents.len(), 2);
    assert_eq!(one.inspection(), other.inspection());
    assert_eq!(one.conflicts(), []);
}

#[test]
fn what_is_no_consent_and_no_fee_is_refused_with_a_sentence() {
    let mut record = new_record();
    record.edit(&laptop(), NOON, give("1", consent("Ada Buyer"))).unwrap();
    let mut check = |edit: Edit, words: &str| {
        let said = record.edit(&laptop(), NOON, edit).unwrap_err().to_string();
        assert!(said.contains(words), "{said}");
    };
    check(give("1", consent("Bo Buyer")), "already");
    check(give("2", consent(" ")), "without a name");
    check(give("2", consent("two\nlines")), "one line");
    check(give("2", Consent { at: moment("2026-06-03T18:12"), ..consent("A") }), "no offset");
    check(give("2", Consent { agreed: "AB".repeat(32), ..consent("A") }), "no SHA-256");
    let mut odd = agreement();
    odd.charges.lines[0].taxed = Taxed::Only("none".into());
    check(set(None, odd), "no tax is called `none`");
    let mut odd = agreement();
    odd.terms.push("two\nlines".into());
    check(set(None, odd), "one line");
}

#[test]
fn what_cannot_be_read_is_told_and_the_rest_is_read() {
    let mut doc = automerge::Automerge::load(&record_of_everything().save()).unwrap();
    doc.set_actor(automerge::ActorId::from([0x99; 16]));
    doc.transact(|doc| {
        let (_, job) = doc.get(ROOT, "job")?.ok_or(AutomergeError::NotAnObject)?;
        doc.put(&job, "agreement/charges", "XXX\nline\t1\t*\ta")?;
        doc.put(&job, "agreement/unit", "a unit")?;
        doc.put(&job, "consents/1", "yesterday\nAda Buyer")
    })
    .unwrap();
    let (inspection, problems) = Record::load([&doc.save()[..]]).unwrap().inspection();
    let read = inspection.job.engagement.agreement.unwrap();
    assert_eq!((read.unit.as_str(), read.charges), ("a unit", Charges::default()));
    let told: Vec<String> = problems.iter().map(ToString::to_string).collect();
    assert_eq!(told.len(), 2, "{told:?}");
    assert!(told[0].contains("as a fee") && told[1].contains("consent `1`"), "{told:?}");
}
