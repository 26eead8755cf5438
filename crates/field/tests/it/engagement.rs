//! The engagement at the desk: what is put to the client, the fee as it is typed, and where the consent stands.

use field::view::AgreementStanding;
use field::{
    Act, EngagementChange, FeeTyped, Language, LineTyped, TaxTyped, Texts, Visit, amount_typed,
    fee_sums,
};
use inspection::{Consent, ConsentWay, DrawnSignature, Moment, Taxed};
use record::Edit;
use testkit::TAPS;

use crate::visits::{minute, visit_of};

fn visit() -> Visit {
    let mut visit = visit_of(&[TAPS]);
    let put =
        Act::PutAgreement { language: "en".into(), terms: vec!["First.".into(), "Second.".into()] };
    assert_eq!(visit.act(put, minute(1)).unwrap().len(), 1);
    visit
}

fn change(visit: &mut Visit, change: EngagementChange) -> Result<usize, String> {
    let made = visit.act(Act::ChangeEngagement(change), minute(2));
    made.map(|changes| changes.len()).map_err(|said| said.to_string())
}

fn fee(lines: &[(&str, &str, Taxed)], taxes: &[(&str, &str)]) -> FeeTyped {
    let lines = lines.iter().map(|(text, amount, taxed)| LineTyped {
        text: (*text).into(),
        amount: (*amount).into(),
        taxed: taxed.clone(),
    });
    let taxes =
        taxes.iter().map(|(name, rate)| TaxTyped { name: (*name).into(), rate: (*rate).into() });
    FeeTyped { currency: "usd".into(), lines: lines.collect(), taxes: taxes.collect() }
}

/// The client agrees on a device of their own to what is agreed now.
fn agree(visit: &mut Visit, name: &str, day: &str) {
    let consent = Consent {
        name: name.into(),
        at: Moment::parse(&format!("{day}T18:12-04:00")).unwrap(),
        how: ConsentWay::Drawn,
        address: "192.0.2.7".into(),
        drawn: DrawnSignature::read("1,2 3,4;5,6").unwrap(),
        agreed: findings::agreed_sha256(&visit.inspection().job),
        text: "the text".into(),
        by: String::new(),
    };
    let mut elsewhere = record::Record::load([visit.record().save().as_slice()]).unwrap();
    let author = record::Author::new([9; 16], name);
    let edit =
        Edit::AddConsent { id: elsewhere.fresh_id(&author, 0).into(), consent: Box::new(consent) };
    let made = elsewhere.edit(&author, 1_781_265_600, edit).unwrap().unwrap();
    assert_eq!(visit.arrived(&[made.bytes]), []);
}

#[test]
fn what_is_put_to_the_client_begins_with_what_the_job_says() {
    let mut visit = visit_of(&[TAPS]);
    assert_eq!(visit.engagement().standing, AgreementStanding::Nothing);
    assert_eq!(
        change(&mut visit, EngagementChange::Payment("by card".into())).unwrap_err(),
        "Nothing is put to the client yet. Begin an agreement first."
    );
    let put = |terms: &str| Act::PutAgreement { language: "es".into(), terms: vec![terms.into()] };
    visit.act(put("Lo primero."), minute(1)).unwrap();
    let sheet = visit.engagement().agreement.unwrap();
    let job = &visit.inspection().job;
    assert_eq!(sheet.day, job.visits.first().map_or_else(String::new, ToString::to_string));
    assert_eq!((sheet.language.as_str(), sheet.terms.as_str()), ("es", "Lo primero."));
    assert!(sheet.unit.contains(visit.inspection().dwelling.kind.title()), "{}", sheet.unit);
    assert_eq!(visit.engagement().standing, AgreementStanding::Waiting);
    let twice = visit.act(put("Otra vez."), minute(2)).unwrap_err();
    assert_eq!(twice.to_string(), "There is an agreement already; change what it says.");
}

#[test]
fn each_thing_is_one_change_and_can_be_taken_back() {
    let mut visit = visit();
    let changes = [
        EngagementChange::Client(" A.\tClient ".into()),
        EngagementChange::Contact("a@example.org".into()),
        EngagementChange::Site("Pitch 9".into()),
        EngagementChange::Purpose("purchase".into()),
        EngagementChange::Scope("The whole unit\nand the shed".into()),
        EngagementChange::Limits("Nobody goes on the roof".into()),
        EngagementChange::Unit("the blue one".into()),
        EngagementChange::Day("2026-07-01".into()),
        EngagementChange::Payment("By card".into()),
        EngagementChange::Terms { language: "es".into(), text: "Uno\nsigue.\n\n\n Dos. ".into() },
        EngagementChange::Fee(fee(&[("Inspection", "425", Taxed::All)], &[("Tax", "6")])),
    ];
    let mut before = vec![visit.engagement()];
    for one in &changes {
        let made = change(&mut visit, one.clone()).unwrap();
        // The fixture may say one of them already.
        assert!(made <= 1, "{one:?}");
        if made == 1 {
            before.push(visit.engagement());
        }
        assert_eq!(change(&mut visit, one.clone()), Ok(0), "the same again is nothing: {one:?}");
    }
    assert!(before.len() >= 10, "{}", before.len());
    let sheet = visit.engagement();
    assert_eq!((sheet.client.as_str(), sheet.site.as_str()), ("A. Client", "Pitch 9"));
    assert_eq!(sheet.scope, "The whole unit\nand the shed");
    let agreement = sheet.agreement.unwrap();
    assert_eq!((agreement.day.as_str(), agreement.language.as_str()), ("2026-07-01", "es"));
    assert_eq!(agreement.terms, "Uno sigue.\n\nDos.");
    assert_eq!(agreement.sums.unwrap().total, "450.50 USD");
    while let Some(earlier) = before.pop() {
        assert_eq!(visit.engagement(), earlier);
        visit.undo(minute(3)).unwrap();
    }
    assert_eq!(visit.engagement().standing, AgreementStanding::Nothing, "the beginning, too");
    visit.redo(minute(4)).unwrap();
    assert_eq!(visit.engagement().agreement.unwrap().terms, "First.\n\nSecond.");
}

#[test]
fn a_fee_is_read_as_it_is_typed_and_added_up_exactly() {
    let typed = fee(
        &[
            ("Inspection", "1,425.00", Taxed::All),
            ("Toll", "12.5", Taxed::Untaxed),
            ("Book", "20", Taxed::Only("City".into())),
            (" ", "", Taxed::All),
        ],
        &[("State", "8.8125 %"), ("City", "1.5"), ("", " ")],
    );
    let sums = fee_sums(&typed).unwrap().unwrap();
    assert_eq!(sums.net, "1,457.50");
    let taxes: Vec<_> =
        sums.taxes.iter().map(|tax| (tax.rate.as_str(), tax.amount.as_str())).collect();
    // 8.8125 % of 1,425.00 is 125.578125; 1.5 % of 1,445.00 is 21.675: each rounded once, a half away from zero.
    assert_eq!(taxes, [("8.8125 %", "125.58"), ("1.5 %", "21.68")]);
    assert_eq!((sums.total.as_str(), sums.total_minor), ("1,604.76 USD", 160_476));
    assert_eq!(fee_sums(&fee(&[], &[])), Ok(None));
}

#[test]
fn what_cannot_be_a_fee_is_refused_in_a_sentence_and_nothing_is_lost() {
    let check = |typed: FeeTyped, words: &str| {
        let mut visit = visit();
        let before = visit.engagement();
        let said = change(&mut visit, EngagementChange::Fee(typed.clone())).unwrap_err();
        assert!(said.contains(words), "{said}");
        assert_eq!(fee_sums(&typed).unwrap_err().to_string(), said);
        assert_eq!(visit.engagement(), before);
    };
    let all = || Taxed::All;
    check(fee(&[("Inspection", "425.005", all())], &[]), "“425.005” is no amount in USD");
    check(fee(&[("Inspection", "", all())], &[]), "“” is no amount");
    check(fee(&[("Inspection", "1e5", all())], &[]), "425.00");
    check(fee(&[("Inspection", "99999999999999", all())], &[]), "10,000,000,000.00");
    check(fee(&[("", "425", all())], &[]), "Say what 425 is charged for");
    check(fee(&[], &[("State", "six")]), "“six” is no rate");
    check(fee(&[], &[("State", "100.1")]), "no rate");
    check(fee(&[], &[("", "6")]), "Give the tax of 6 a name");
    check(fee(&[], &[("State", "6"), ("State", "7")]), "“State” is named twice");
    let only = || Taxed::Only("City".into());
    check(fee(&[("Book", "1", only())], &[("State", "6")]), "“City”");
    let odd = FeeTyped { currency: "dollars".into(), ..FeeTyped::default() };
    check(odd, "“dollars” is no currency");
    assert_eq!(amount_typed("JPY", "1,200"), Ok(1_200));
    assert!(amount_typed("JPY", "12.5").is_err());
    let spanish = Texts::new(Language::Spanish).of(&amount_typed("USD", "x").unwrap_err());
    assert!(spanish.contains("«x»"), "{spanish}");
}

#[test]
fn a_consent_holds_until_something_changes_and_what_was_agreed_is_not_taken_back() {
    let mut visit = visit();
    agree(&mut visit, "A. Client", "2026-06-03");
    let AgreementStanding::Agreed(row) = visit.engagement().standing else {
        panic!("{:?}", visit.engagement().standing)
    };
    assert_eq!(
        (row.name.as_str(), row.at.as_str(), row.address.as_str(), row.holds),
        ("A. Client", "2026-06-03 18:12 (UTC−04:00)", "192.0.2.7", true)
    );
    assert_eq!((row.how, row.drawn.as_str()), ("consent-drawn", "M1 2L3 4L3 4M5 6L5 6"));
    // The agreement that the client agreed to does not vanish with one press.
    let refused = visit.undo(minute(4)).unwrap_err();
    assert_eq!(refused.key, "refusal-changed-since");
    change(&mut visit, EngagementChange::Scope("the roof as well".into())).unwrap();
    assert!(matches!(
        visit.engagement().standing,
        AgreementStanding::Changed(row) if row.name == "A. Client" && !row.holds
    ));
    agree(&mut visit, "B. Client", "2026-06-04");
    let sheet = visit.engagement();
    let given: Vec<_> = sheet.consents.iter().map(|row| (row.name.as_str(), row.holds)).collect();
    assert_eq!(given, [("B. Client", true), ("A. Client", false)]);
}
