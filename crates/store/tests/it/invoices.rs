//! Invoices: numbered without a gap whoever asks at once, never changed, paid and taken back by entries of their own; and
//! the page that waits for them.

use std::collections::BTreeSet;
use std::path::Path;

use store::{ClientFile, InvoiceId, JobId, LeadsTo, NewClientLink, NewInvoice, Store, StoreError};

fn job(store: &Store, id: &str) -> JobId {
    let job = JobId::new(id).unwrap();
    store.create_job(&job, "a trailer").unwrap();
    job
}

fn invoice(body: &str, due: i64) -> Result<NewInvoice, String> {
    Ok(NewInvoice { body: body.as_bytes().to_vec(), due })
}

fn id(series: &str, number: u32) -> InvoiceId {
    InvoiceId { series: series.into(), number }
}

fn refused<T: std::fmt::Debug>(outcome: Result<T, StoreError>) -> String {
    match outcome {
        Err(StoreError::Refused { what }) => what,
        other => panic!("{other:?}"),
    }
}

#[test]
fn each_series_counts_from_one_and_a_refused_invoice_takes_no_number() {
    let folder = tempfile::tempdir().unwrap();
    let store = Store::open(folder.path()).unwrap();
    let job = job(&store, "1");
    let add = |series: &str, body: &str| {
        store.add_invoice(series, &job, None, |id| invoice(&format!("{body} {}", id.number), 5))
    };
    assert_eq!(add("2026-", "a").unwrap(), id("2026-", 1));
    assert_eq!(add("2026-", "b").unwrap(), id("2026-", 2));
    assert_eq!(add("", "c").unwrap(), id("", 1));
    let why = store.add_invoice("2026-", &job, None, |_| Err("no client".into()));
    assert_eq!(refused(why), "no client");
    assert_eq!(add("2026-", "d").unwrap(), id("2026-", 3));
    let all = store.invoices().unwrap();
    let read: Vec<(&str, u32, String)> = all
        .iter()
        .map(|one| {
            (one.id.series.as_str(), one.id.number, String::from_utf8(one.body.clone()).unwrap())
        })
        .collect();
    let expected = [("", 1, "c 1"), ("2026-", 1, "a 1"), ("2026-", 2, "b 2"), ("2026-", 3, "d 3")];
    assert_eq!(read, expected.map(|(series, number, body)| (series, number, body.to_owned())));
}

#[test]
fn a_jobs_own_invoices_are_given_and_what_was_added_shows_in_the_counts() {
    let folder = tempfile::tempdir().unwrap();
    let store = Store::open(folder.path()).unwrap();
    let [one, other] = ["1", "2"].map(|id| job(&store, id));
    assert_eq!(store.invoice_counts().unwrap().len(), 0);
    let add = |job: &JobId| store.add_invoice("x", job, None, |_| invoice("b", 5)).unwrap();
    let first = add(&one);
    let _theirs = add(&other);
    store.add_payment(&first, "2026-06-12", 2, "cash").unwrap();
    store.add_payment(&first, "2026-06-13", 3, "card").unwrap();
    store.add_invoice("x", &one, Some(&first), |_| invoice("c", -5)).unwrap();
    let of_one = store.invoices_of(&one).unwrap();
    assert_eq!(of_one.iter().map(|it| it.id.number).collect::<Vec<_>>(), [1, 3]);
    assert_eq!((of_one[0].payments.len(), of_one[0].cancelled_by.clone()), (2, Some(id("x", 3))));
    let counts: Vec<_> = store.invoice_counts().unwrap().into_iter().collect();
    assert_eq!(counts, [(one, (2, 2)), (other, (1, 0))]);
}

#[test]
fn threads_that_draw_at_once_leave_no_gap_and_draw_no_number_twice() {
    let folder = tempfile::tempdir().unwrap();
    let path: &Path = folder.path();
    let own = job(&Store::open(path).unwrap(), "1");
    let drawn: Vec<u32> = std::thread::scope(|scope| {
        let draw = || {
            let store = Store::open(path).unwrap();
            (0..25)
                .map(|_| store.add_invoice("x", &own, None, |_| invoice("b", 1)).unwrap().number)
                .collect::<Vec<_>>()
        };
        let threads: Vec<_> = (0..4).map(|_| scope.spawn(draw)).collect();
        threads.into_iter().flat_map(|thread| thread.join().unwrap()).collect()
    });
    assert_eq!(BTreeSet::from_iter(drawn), BTreeSet::from_iter(1..=100));
    assert_eq!(Store::open(path).unwrap().invoices().unwrap().len(), 100);
}

#[test]
fn an_invoice_is_taken_back_once_by_a_number_of_its_own() {
    let folder = tempfile::tempdir().unwrap();
    let store = Store::open(folder.path()).unwrap();
    let job = job(&store, "1");
    let first = store.add_invoice("a", &job, None, |_| invoice("b", 500)).unwrap();
    store.add_payment(&first, "2026-06-12", 200, "card").unwrap();
    let credit = store.add_invoice("b", &job, Some(&first), |_| invoice("c", -500)).unwrap();
    assert_eq!(credit, id("b", 1));
    let all = store.invoices().unwrap();
    assert_eq!(
        (&all[0].cancelled_by, &all[1].cancels),
        (&Some(credit.clone()), &Some(first.clone()))
    );
    assert_eq!((all[0].paid(), all[0].is_open(), all[1].is_open()), (200, false, false));
    let again = store.add_invoice("b", &job, Some(&first), |_| invoice("c", -500));
    assert!(refused(again).contains("was cancelled"));
    assert!(
        refused(store.add_invoice("b", &job, Some(&credit), |_| invoice("c", 5)))
            .contains("credit note")
    );
    assert!(
        refused(store.add_invoice("b", &job, Some(&id("a", 9)), |_| invoice("c", 5)))
            .contains("no invoice")
    );
    assert!(refused(store.add_payment(&first, "2026-06-12", 1, "card")).contains("was cancelled"));
    assert!(refused(store.add_payment(&credit, "2026-06-12", -1, "card")).contains("credit note"));
    // What came in goes back.
    store.add_payment(&first, "2026-06-13", -200, "card").unwrap();
    assert_eq!(store.invoices().unwrap()[0].paid(), 0);
    assert_eq!(store.invoices().unwrap().len(), 2, "nothing was kept of what was refused");
}

#[test]
fn what_does_not_match_its_seal_is_told_and_not_returned() {
    let folder = tempfile::tempdir().unwrap();
    let store = Store::open(folder.path()).unwrap();
    let job = job(&store, "1");
    store.add_invoice("a", &job, None, |_| invoice("ten dollars", 1_000)).unwrap();
    let database = rusqlite::Connection::open(folder.path().join("store.sqlite")).unwrap();
    database.execute("update invoice set body = cast('one dollar' as blob)", []).unwrap();
    match store.invoices() {
        Err(StoreError::Damaged { what }) => assert!(what.contains("invoice 1"), "{what}"),
        other => panic!("{other:?}"),
    }
}

#[test]
fn a_page_that_waits_shows_itself_once_every_invoice_of_its_job_is_paid() {
    let folder = tempfile::tempdir().unwrap();
    let store = Store::open(folder.path()).unwrap();
    let (own, other) = (job(&store, "1"), job(&store, "2"));
    let file = |name: &str, text: &str| ClientFile {
        name: name.into(),
        media_type: "text/html".into(),
        blob: store.put_blob(text.as_bytes()).unwrap(),
    };
    let files = [
        file("index.html", "the report"),
        file("readings.html", "readings"),
        file("waiting.html", "please wait"),
        file("waiting.css", "look"),
    ];
    let link = |secret, job, after_payment| NewClientLink {
        secret_sha256: [secret; 32],
        job,
        leads_to: LeadsTo::Page { after_payment },
        now_ms: 1_000,
        expires_ms: 9_000,
        files: &files,
    };
    store.add_client_link(link(1, &own, true)).unwrap();
    store.add_client_link(link(2, &own, false)).unwrap();
    let shown = |secret: u8, name: &str| {
        let file = store.client_file([secret; 32], name, 2_000).unwrap();
        file.map(|file| {
            (file.name, String::from_utf8(store.blob(&file.blob).unwrap().unwrap()).unwrap())
        })
    };
    let page = |text: &str| Some(("index.html".to_owned(), text.to_owned()));
    let waiting = Some(("waiting.html".to_owned(), "please wait".to_owned()));
    let waits = || {
        assert_eq!(shown(1, "index.html"), waiting);
        assert!(shown(1, "waiting.css").is_some());
        for hidden in ["readings.html", "waiting.html", "report.pdf"] {
            assert_eq!(shown(1, hidden), None, "{hidden}");
        }
        assert_eq!(shown(2, "index.html"), page("the report"), "the other link does not wait");
    };
    // No invoice at all, somebody else's payment, a part of it.
    waits();
    let others = store.add_invoice("", &other, None, |_| invoice("b", 100)).unwrap();
    store.add_payment(&others, "2026-06-12", 100, "card").unwrap();
    waits();
    let first = store.add_invoice("", &own, None, |_| invoice("b", 500)).unwrap();
    store.add_payment(&first, "2026-06-12", 499, "card").unwrap();
    waits();
    store.add_payment(&first, "2026-06-12", 1, "cash").unwrap();
    assert_eq!(shown(1, "index.html"), page("the report"));
    assert!(shown(1, "readings.html").is_some());
    // A slip put right shuts it again; so does another invoice, until it is taken back.
    store.add_payment(&first, "2026-06-12", -1, "a slip").unwrap();
    waits();
    store.add_payment(&first, "2026-06-12", 1, "cash").unwrap();
    let second = store.add_invoice("", &own, None, |_| invoice("b", 50)).unwrap();
    waits();
    assert!(store.client_links().unwrap().iter().any(|link| link.waits));
    store.add_invoice("", &own, Some(&second), |_| invoice("b", -50)).unwrap();
    assert_eq!(shown(1, "index.html"), page("the report"));
    assert!(!store.client_links().unwrap().iter().any(|link| link.waits));
}

#[test]
fn whether_a_jobs_pages_wait_can_be_said_after_their_addresses_were_given() {
    let folder = tempfile::tempdir().unwrap();
    let store = Store::open(folder.path()).unwrap();
    let (own, other) = (job(&store, "1"), job(&store, "2"));
    let file = |name: &str| ClientFile {
        name: name.into(),
        media_type: "text/html".into(),
        blob: store.put_blob(name.as_bytes()).unwrap(),
    };
    let (both, alone) = ([file("index.html"), file("waiting.html")], [file("index.html")]);
    for (secret, job, files) in [(1, &own, &both[..]), (2, &own, &alone), (3, &other, &both)] {
        let link = NewClientLink {
            secret_sha256: [secret; 32],
            job,
            leads_to: LeadsTo::Page { after_payment: false },
            now_ms: 1_000,
            expires_ms: 9_000,
            files,
        };
        store.add_client_link(link).unwrap();
    }
    let shown = |secret: u8| {
        store.client_file([secret; 32], "index.html", 2_000).unwrap().map(|file| file.name)
    };
    let page = Some("index.html".to_owned());
    store.set_pages_wait(&own, true).unwrap();
    assert_eq!(shown(1), Some("waiting.html".to_owned()));
    assert_eq!(shown(2), page, "it has nothing to stand for it, and says so");
    assert_eq!(shown(3), page, "another job's page");
    let waiting = store.client_links().unwrap().iter().filter(|link| link.waits).count();
    assert_eq!(waiting, 1);
    store.set_pages_wait(&own, false).unwrap();
    assert_eq!([shown(1), shown(2), shown(3)], [page.clone(), page.clone(), page]);
}

#[test]
fn an_agreements_link_shows_no_page_and_a_pages_link_no_agreement() {
    let folder = tempfile::tempdir().unwrap();
    let store = Store::open(folder.path()).unwrap();
    let own = job(&store, "1");
    let link = |secret, leads_to| NewClientLink {
        secret_sha256: [secret; 32],
        job: &own,
        leads_to,
        now_ms: 1_000,
        expires_ms: 9_000,
        files: &[],
    };
    store.add_client_link(link(1, LeadsTo::Agreement)).unwrap();
    store.add_client_link(link(2, LeadsTo::Page { after_payment: false })).unwrap();
    assert_eq!(store.agreement_of_link([1; 32], 2_000).unwrap(), Some(own.clone()));
    for (secret, now) in [(2, 2_000), (3, 2_000), (1, 9_000)] {
        assert_eq!(store.agreement_of_link([secret; 32], now).unwrap(), None, "{secret} {now}");
    }
    assert_eq!(store.client_file([1; 32], "index.html", 2_000).unwrap(), None);
    let links = store.client_links().unwrap();
    let id = links.iter().find(|link| link.leads_to == LeadsTo::Agreement).unwrap().id.clone();
    assert!(store.revoke_client_link(&id, 2_500).unwrap());
    assert_eq!(store.agreement_of_link([1; 32], 3_000).unwrap(), None);
}
