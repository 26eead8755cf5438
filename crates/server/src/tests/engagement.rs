//! Agreement and invoices at the desk: who may ask, what reaches the office, and what comes of what it says.

use std::sync::Mutex;

use axum::http::StatusCode;
use serde_json::{Value, json};
use store::{JobId, Store};

use super::{Ask, World, ask, new_job};
use crate::{
    agreement::{GivenConsent, Office, OfficeFile},
    engagement::{
        CreditWanted, Engagement, EngagementAnswer, EngagementAsked, InvoiceStanding,
        InvoiceWanted, LinkMade, LinkStanding, LinkWanted, OfficeRefused, PagesWaitWanted,
        PaymentNoted, PaymentStanding, SellerNamed, TermsWorded,
    },
    openapi,
};

/// What the office of these tests was asked; a test looks for its own job in it.
static ASKED: Mutex<Vec<(String, String, EngagementAsked)>> = Mutex::new(Vec::new());

fn file(_: &Store, _: &JobId, _: &str) -> Result<Option<OfficeFile>, String> {
    Ok(None)
}

fn agree(_: &Store, job: &JobId, _: &GivenConsent) -> Result<(bool, OfficeFile), String> {
    Err(format!("nobody agrees to {job} here"))
}

fn engagement(
    _: &Store,
    job: &JobId,
    person: &str,
    asked: &EngagementAsked,
) -> Result<EngagementAnswer, OfficeRefused> {
    ASKED.lock().unwrap().push((job.to_string(), person.to_owned(), asked.clone()));
    Ok(match asked {
        EngagementAsked::Terms { language } if language == "xx" => {
            return Err(OfficeRefused::Failed("the disk is full".into()));
        }
        EngagementAsked::Terms { language } => EngagementAnswer::Terms(TermsWorded {
            language: language.clone(),
            terms: vec!["The first.".into()],
        }),
        EngagementAsked::AgreementLink(LinkWanted { days }) => {
            EngagementAnswer::Link(LinkMade { address: format!("/a/{days}/"), expires_unix_ms: 7 })
        }
        EngagementAsked::AgreementPdf | EngagementAsked::InvoicePdf { number: _ } => {
            EngagementAnswer::Pdf(b"%PDF-1.7".to_vec())
        }
        EngagementAsked::Credit(_) => {
            let detail = "it is not as it was seen any more".into();
            return Err(OfficeRefused::Refused { reason: "changed_since", detail });
        }
        EngagementAsked::Standing
        | EngagementAsked::Invoice(_)
        | EngagementAsked::Payment(_)
        | EngagementAsked::PagesWait(_) => EngagementAnswer::Standing(Box::new(an_engagement())),
    })
}

fn name_seller(_: &Store, named: &SellerNamed) -> Result<SellerNamed, OfficeRefused> {
    Ok(SellerNamed { prefix: "2026-".into(), ..named.clone() })
}

fn an_engagement() -> Engagement {
    Engagement {
        links: vec![LinkStanding { leads_to: "agreement", ..LinkStanding::default() }],
        invoices: vec![InvoiceStanding {
            number: "2026-0001".into(),
            state: "open",
            total: 45_050,
            payments: vec![PaymentStanding::default()],
            ..InvoiceStanding::default()
        }],
        ..Engagement::default()
    }
}

async fn world_with(job: &str) -> (World, String) {
    let releases = super::releases::office();
    let words = super::desk_words::WORDS;
    let again = super::again::OFFICE;
    let office = Office { file, agree, engagement, name_seller, releases, again, words };
    let world = World::with_office(Some(office));
    let key = world.device("desk");
    let push = sync::wire::Push { changes: new_job(1).2 }.to_json();
    let path = format!("/v1/jobs/{job}/changes");
    assert_eq!(world.send(ask("POST", &path).key(&key).json(push)).await.status, StatusCode::OK);
    (world, key)
}

fn asked_of(job: &str) -> Vec<EngagementAsked> {
    let asked = ASKED.lock().unwrap();
    let own = asked.iter().filter(|(known, ..)| known == job);
    own.map(|(_, person, asked)| {
        assert_eq!(person, "inspector");
        asked.clone()
    })
    .collect()
}

/// Each address below a job: method, the rest of its path, a body that it takes, and what that means.
fn addresses() -> Vec<(&'static str, &'static str, Option<Value>, EngagementAsked)> {
    let own = |text: &str| text.to_owned();
    vec![
        ("GET", "engagement", None, EngagementAsked::Standing),
        (
            "GET",
            "agreement/terms?language=es",
            None,
            EngagementAsked::Terms { language: own("es") },
        ),
        (
            "POST",
            "agreement/link",
            Some(json!({"days": 14})),
            EngagementAsked::AgreementLink(LinkWanted { days: 14 }),
        ),
        ("GET", "agreement/pdf", None, EngagementAsked::AgreementPdf),
        (
            "POST",
            "invoices",
            Some(json!({"date": "2026-06-12", "days": 14, "total": 45_050, "seen": 0})),
            EngagementAsked::Invoice(InvoiceWanted {
                date: own("2026-06-12"),
                days: Some(14),
                another: false,
                total: 45_050,
                seen: 0,
            }),
        ),
        (
            "GET",
            "invoices/pdf?number=2026-0001",
            None,
            EngagementAsked::InvoicePdf { number: own("2026-0001") },
        ),
        (
            "POST",
            "invoices/credit",
            Some(json!({"number": "2026-0001", "because": "a slip", "date": "2026-06-13"})),
            EngagementAsked::Credit(CreditWanted {
                number: own("2026-0001"),
                because: own("a slip"),
                date: own("2026-06-13"),
            }),
        ),
        (
            "POST",
            "invoices/payment",
            Some(json!({
                "number": "2026-0001", "amount": -5, "day": "2026-06-13", "how": "cash", "paid_before": 5,
            })),
            EngagementAsked::Payment(PaymentNoted {
                number: own("2026-0001"),
                amount: -5,
                day: own("2026-06-13"),
                how: own("cash"),
                paid_before: 5,
            }),
        ),
        (
            "POST",
            "pages-wait",
            Some(json!({"wait": true})),
            EngagementAsked::PagesWait(PagesWaitWanted { wait: true }),
        ),
    ]
}

fn request(job: &str, (method, path, body): (&str, &str, Option<&Value>), key: &str) -> Ask {
    let request = ask(method, &format!("/v1/jobs/{job}/{path}")).key(key);
    match body {
        Some(body) => request.json(body.to_string()),
        None => request,
    }
}

#[tokio::test]
async fn what_a_paired_device_asks_reaches_the_office_and_its_answer_comes_back() {
    let (world, key) = world_with("desk-asks").await;
    let mut answers = Vec::new();
    for (method, path, body, _) in addresses() {
        let answer = world.send(request("desk-asks", (method, path, body.as_ref()), &key)).await;
        answers.push((path, answer));
    }
    let meant: Vec<EngagementAsked> = addresses().into_iter().map(|(.., asked)| asked).collect();
    assert_eq!(asked_of("desk-asks"), meant);
    for (path, answer) in answers {
        match path {
            "agreement/pdf" | "invoices/pdf?number=2026-0001" => {
                assert_eq!(answer.headers["content-type"], "application/pdf");
                assert_eq!(answer.headers["cache-control"], "no-store");
                assert_eq!(answer.bytes, b"%PDF-1.7");
            }
            "agreement/link" => {
                assert_eq!(answer.json(), json!({"address": "/a/14/", "expires_unix_ms": 7}));
            }
            "agreement/terms?language=es" => {
                assert_eq!(answer.json(), json!({"language": "es", "terms": ["The first."]}));
            }
            "invoices/credit" => {
                assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY);
                assert_eq!(answer.reason(), "changed_since");
            }
            _ => {
                assert_eq!(answer.status, StatusCode::OK, "{path}: {}", answer.text());
                assert_eq!(answer.json()["invoices"][0]["total"], 45_050);
            }
        }
    }
    let named = json!({"name": "B. Inspector", "address": ["1 Ferry Road"]});
    let seller = world.send(ask("POST", "/v1/seller").key(&key).json(named.to_string())).await;
    assert_eq!(seller.json()["prefix"], "2026-");
    // What failed is for the log.
    let failed = request("desk-asks", ("GET", "agreement/terms?language=xx", None), &key);
    let failed = world.send(failed).await;
    assert_eq!(failed.status, StatusCode::INTERNAL_SERVER_ERROR);
    assert!(!failed.text().contains("disk"), "{}", failed.text());
}

#[tokio::test]
async fn a_stranger_and_a_device_of_another_job_ask_nobody() {
    let (world, key) = world_with("desk-others").await;
    let other = world.device_for("other", "desk-elsewhere");
    for (method, path, body, _) in addresses() {
        let stranger = world
            .send(request("desk-others", (method, path, body.as_ref()), &"f".repeat(64)))
            .await;
        assert_eq!(stranger.reason(), "not_paired", "{path}");
        let elsewhere =
            world.send(request("desk-others", (method, path, body.as_ref()), &other)).await;
        assert_eq!(elsewhere.reason(), "no_such_job", "{path}");
        let nowhere = world.send(request("nowhere", (method, path, body.as_ref()), &key)).await;
        assert_eq!(nowhere.reason(), "no_such_job", "{path}");
    }
    // Who charges is said for all jobs: not by a device that was let in for one.
    let named = r#"{"name": "Mallory"}"#;
    let refused = world.send(ask("POST", "/v1/seller").key(&other).json(named)).await;
    assert_eq!((refused.status, refused.reason().as_str()), (StatusCode::FORBIDDEN, "one_job"));
    assert_eq!(asked_of("desk-others"), []);
}

#[tokio::test]
async fn what_cannot_be_read_asks_nobody() {
    let (world, key) = world_with("desk-unreadable").await;
    let posts = addresses().into_iter().filter(|(method, ..)| *method == "POST");
    for (_, path, body, _) in posts {
        let path = format!("/v1/jobs/desk-unreadable/{path}");
        let mut odd = body.unwrap();
        odd["colour"] = json!("red");
        let long = format!("{{\"x\": \"{}\"}}", "1".repeat(20_000));
        let bodies = [
            ("{", 400, "unreadable"),
            ("[]", 400, "unreadable"),
            ("{}", 400, "unreadable"),
            (&odd.to_string(), 400, "unreadable"),
            (&long, 413, "too_large"),
        ];
        for (body, status, reason) in bodies {
            let answer = world.send(ask("POST", &path).key(&key).json(body)).await;
            assert_eq!(answer.status, status, "{path}: {body:.40}");
            assert_eq!(answer.reason(), reason, "{path}: {body:.40}");
        }
        let form = ask("POST", &path).key(&key).body(b"days=3");
        assert_eq!(world.send(form).await.status, StatusCode::UNSUPPORTED_MEDIA_TYPE);
    }
    for path in ["agreement/terms", "invoices/pdf", "invoices/pdf?nummer=1"] {
        let answer = world.send(request("desk-unreadable", ("GET", path, None), &key)).await;
        assert_eq!(answer.reason(), "unreadable", "{path}");
    }
    assert_eq!(asked_of("desk-unreadable"), []);
}

#[tokio::test]
async fn a_server_without_an_office_says_so() {
    let world = World::new();
    let key = world.device("desk");
    let push = sync::wire::Push { changes: new_job(1).2 }.to_json();
    world.send(ask("POST", "/v1/jobs/2026-041/changes").key(&key).json(push)).await;
    for (method, path, body, _) in addresses() {
        let answer = world.send(request("2026-041", (method, path, body.as_ref()), &key)).await;
        assert_eq!(answer.reason(), "no_office", "{path}");
    }
}

#[test]
fn what_is_answered_is_what_the_description_says() {
    let document = openapi::document();
    let described = &document["components"]["schemas"]["Engagement"];
    let written = serde_json::to_value(an_engagement()).unwrap();
    let same = |schema: &Value, value: &Value| {
        let names = |object: &Value| -> Vec<String> {
            object.as_object().unwrap().keys().cloned().collect()
        };
        assert_eq!(names(&schema["properties"]), names(value));
    };
    same(described, &written);
    let of = |name: &str| &described["properties"][name]["items"];
    same(of("links"), &written["links"][0]);
    same(of("invoices"), &written["invoices"][0]);
    let payments = &of("invoices")["properties"]["payments"]["items"];
    same(payments, &written["invoices"][0]["payments"][0]);
    let seller = &document["components"]["schemas"]["Seller"];
    same(seller, &written["seller"]);
}
