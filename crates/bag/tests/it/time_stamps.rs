//! Time stamps: what an independent service (`openssl ts`) answers is read, and nothing damaged or foreign is taken.

use bag::{Bag, Sha256, Standing, TimeStamp, TimeStampRequest, Verification, place, verify};
use proptest::prelude::*;

use crate::authority::{Authority, P256};
use crate::sample::{assembled, in_memory, record, released, state};

fn asked(bag: &Bag) -> TimeStampRequest {
    TimeStampRequest::new(bag.tag_manifest_sha256(), *b"a nonce.", None).unwrap()
}

fn verified(bag: &Bag) -> Verification {
    verify(&mut in_memory(bag), &mut |_, _| {}).unwrap()
}

/// A released bag with a stamp of a service.
fn stamped(service: &Authority) -> (Bag, Vec<u8>) {
    let mut bag = released();
    let answer = service.answer(&asked(&bag).to_der(), "usual");
    bag.add_time_stamp(&answer);
    (bag, answer)
}

#[test]
fn the_request_is_what_openssl_reads() {
    let service = Authority::new(P256);
    let hash = Sha256::of(b"abc");
    let request = TimeStampRequest::new(hash, [0xff; 8], Some("1.2.3.4.5")).unwrap();
    service.write("request.tsq", request.to_der());
    let (said, read) = service.ask(&["ts", "-query", "-in", "request.tsq", "-text"]);
    assert!(read, "{said}");
    for line in [
        "Version: 1",
        "Hash Algorithm: sha256",
        "0000 - ba 78 16 bf 8f 01 cf ea-41 41 40 de 5d ae 22 23",
        "Policy OID: 1.2.3.4.5",
        "Nonce: 0x7FFFFFFFFFFFFFFF",
        "Certificate required: yes",
    ] {
        assert!(said.contains(line), "{line}: {said}");
    }
    assert!(TimeStampRequest::new(hash, [0; 8], Some("policy")).unwrap_err().contains("1.2.3.4"));
}

#[test]
fn a_stamp_of_any_usual_kind_of_key_is_read() {
    let p384 = ["-newkey", "ec", "-pkeyopt", "ec_paramgen_curve:P-384"];
    let kinds: [&[&str]; 3] = [&["-newkey", "rsa:2048"], P256, &p384];
    for keys in kinds {
        let service = Authority::new(keys);
        let request = TimeStampRequest::new(Sha256::of(b"abc"), *b"12345678", None).unwrap();
        let stamp = request.accept(&service.answer(&request.to_der(), "usual")).unwrap();
        assert_eq!((stamp.accuracy.as_str(), stamp.policy.as_str()), ("1 s 500 ms", "1.2.3.4.1"));
        let named: Vec<&str> =
            stamp.vouchers.iter().map(|name| name.split(',').next().unwrap()).collect();
        assert_eq!(named, ["CN=Invented Stamps", "CN=Invented Authority", "CN=Invented Root"]);
        assert!(stamp.rooted && stamp.sha256 == Sha256::of(b"abc"));

        // Without the certificates above it, with a fraction of a second, and the older way of naming its certificate.
        let stamp = request.accept(&service.answer(&request.to_der(), "plain")).unwrap();
        assert_eq!((stamp.vouchers.len(), stamp.rooted), (1, false));
        assert_eq!(stamp.accuracy, "");
        let (printed, _) = service.ask(&["ts", "-reply", "-in", "answer.tsr", "-text"]);
        // `Nov 29 19:51:18.123 2026 GMT`
        let time = printed.lines().find_map(|line| line.strip_prefix("Time stamp: ")).unwrap();
        let clock = time.split_whitespace().nth(2).unwrap();
        assert!(stamp.at.contains(clock), "{time}: {}", stamp.at);
    }
}

#[test]
fn the_kept_answer_is_checked_by_openssl_against_the_tag_manifest() {
    let service = Authority::new(P256);
    let (bag, answer) = stamped(&service);
    let files = in_memory(&bag);
    service.write("kept.tsr", &answer);
    service.write("manifest", &files[place::TAG_MANIFEST]);
    let check = ["ts", "-verify", "-in", "kept.tsr", "-data", "manifest", "-CAfile", "root.pem"];
    let (said, good) = service.ask(&check);
    assert!(good && said.contains("Verification: OK"), "{said}");
    service.write("manifest", [&files[place::TAG_MANIFEST][..], b"\n"].concat());
    assert!(!service.ask(&check).1);
}

#[test]
fn a_stamped_release_is_intact_and_says_when() {
    let service = Authority::new(P256);
    let (bag, answer) = stamped(&service);
    let found = verified(&bag);
    assert_eq!(found.faults, []);
    assert_eq!(found.standing(), Standing::Signed);
    let [stamped] = found.time_stamps.as_slice() else { panic!("{found:?}") };
    assert_eq!(stamped.stamp, TimeStamp::read(&answer).unwrap());
    assert_eq!(stamped.file, bag::time_stamp_path(&answer));
    assert_eq!(found.signed.len(), 2, "a stamp is no person's signature");
}

#[test]
fn an_answer_to_something_else_is_refused_in_words() {
    let service = Authority::new(P256);
    let (hash, nonce) = (Sha256::of(b"abc"), *b"a nonce.");
    let request = TimeStampRequest::new(hash, nonce, None).unwrap();
    let answer_to = |other: &TimeStampRequest| service.answer(&other.to_der(), "usual");
    let refused = |answer: &[u8]| request.accept(answer).unwrap_err();

    let other = TimeStampRequest::new(Sha256::of(b"abd"), nonce, None).unwrap();
    assert!(refused(&answer_to(&other)).contains("another hash"));
    let other = TimeStampRequest::new(hash, *b"another.", None).unwrap();
    assert!(refused(&answer_to(&other)).contains("nonce"));
    // Another hash of the same bytes: `openssl ts -query -sha512`, without a nonce.
    service.write("bytes", b"abc");
    let query = ["ts", "-query", "-data", "bytes", "-sha512", "-cert", "-no_nonce", "-out", "q"];
    assert!(service.ask(&query).1);
    assert!(refused(&service.answer(&service.read("q"), "usual")).contains("another kind of hash"));
    let query = ["ts", "-query", "-data", "bytes", "-sha256", "-cert", "-no_nonce", "-out", "q"];
    assert!(service.ask(&query).1);
    assert!(refused(&service.answer(&service.read("q"), "usual")).contains("nonce"));
    // A policy that the service knows, and one that was not asked for.
    let strict = TimeStampRequest::new(hash, nonce, Some("1.2.3.4.5")).unwrap();
    assert_eq!(strict.accept(&answer_to(&strict)).unwrap().policy, "1.2.3.4.5");
    let said = strict.accept(&answer_to(&request)).unwrap_err();
    assert!(said.contains("under the policy 1.2.3.4.1; asked for was 1.2.3.4.5"), "{said}");
    // A policy that it does not know: the service itself refuses.
    let unknown = TimeStampRequest::new(hash, nonce, Some("1.2.3.9")).unwrap();
    let said = unknown.accept(&answer_to(&unknown)).unwrap_err();
    assert!(said.contains("the service refused; it does not know the policy"), "{said}");
    for nothing in [b"".as_slice(), b"<html>", b"\x30\x00", b"\x30\x05\x30\x03\x02\x01\x00"] {
        assert!(request.accept(nothing).is_err(), "{nothing:?}");
    }
}

#[test]
fn a_certificate_for_something_else_stamps_nothing() {
    let service = Authority::new(P256);
    let request = TimeStampRequest::new(Sha256::of(b"abc"), *b"a nonce.", None).unwrap();
    // Made before the stamp: a certificate that begins later stamps nothing either.
    let own = "req -x509 -nodes -days 9 -config ts.cnf -extensions service -subj /CN=Nobody -keyout own.key \
               -out own.pem -newkey ec -pkeyopt ec_paramgen_curve:P-256";
    let own: Vec<&str> = own.split_whitespace().collect();
    assert!(service.ask(&own).1);
    // OpenSSL itself refuses to stamp with such a certificate, so the stamp is put together by its `cms`.
    let answer = service.answer(&request.to_der(), "usual");
    let info = ["ts", "-reply", "-in", "answer.tsr", "-token_out", "-out", "token"];
    assert!(service.ask(&info).1);
    let content = ["cms", "-verify", "-noverify", "-inform", "DER", "-in", "token", "-out", "info"];
    let (said, good) = service.ask(&content);
    assert!(good, "{said}");
    let signed_by = |name: &str| {
        // `-cades` names the certificate under the signature.
        let sign = format!(
            "cms -sign -binary -nodetach -in info -signer {name}.pem -inkey {name}.key -cades -nosmimecap \
             -econtent_type 1.2.840.113549.1.9.16.1.4 -outform DER -out forged -md sha256"
        );
        let sign: Vec<&str> = sign.split_whitespace().collect();
        let (said, good) = service.ask(&sign);
        assert!(good, "{said}");
        let token = service.read("forged");
        // TimeStampResp: a status of 0 and the token.
        let mut body = b"\x30\x03\x02\x01\x00".to_vec();
        body.extend(token);
        let length = u16::try_from(body.len()).unwrap().to_be_bytes();
        [&[0x30, 0x82, length[0], length[1]], body.as_slice()].concat()
    };
    // The way is sound: with the service's own key such an answer is taken.
    let stamp = request.accept(&signed_by("service")).unwrap();
    assert_eq!(stamp.at, request.accept(&answer).unwrap().at);
    let said = request.accept(&signed_by("other")).unwrap_err();
    assert!(said.contains("CN=Invented Mail"), "{said}");
    assert!(said.contains("is not one for time stamps alone"), "{said}");
    // Made by nobody that anybody vouches for: it says so itself.
    let nobody = request.accept(&signed_by("own")).unwrap();
    assert_eq!((nobody.vouchers.as_slice(), nobody.rooted), (&["CN=Nobody".to_owned()][..], true));
}

#[test]
fn no_changed_bit_of_an_answer_changes_what_is_taken() {
    let service = Authority::new(P256);
    let request = TimeStampRequest::new(Sha256::of(b"abc"), *b"a nonce.", None).unwrap();
    let answer = service.answer(&request.to_der(), "usual");
    let good = request.accept(&answer).unwrap();
    let mut taken = 0;
    for at in 0..answer.len() {
        let mut changed = answer.clone();
        changed[at] ^= 1 << (at % 8);
        if let Ok(stamp) = request.accept(&changed) {
            // What no signature stands on may change: the status's number, certificates that are not needed.
            let said = |stamp: &TimeStamp| {
                (stamp.sha256, stamp.at.clone(), stamp.policy.clone(), stamp.serial.clone())
            };
            assert_eq!(said(&stamp), said(&good), "byte {at}");
            assert_eq!(stamp.service(), good.service(), "byte {at}");
            taken += 1;
        }
    }
    assert!(taken < answer.len() / 3, "{taken} of {} bytes change nothing", answer.len());
    for cut in 0..answer.len() {
        assert!(request.accept(&answer[..cut]).is_err(), "cut at {cut}");
    }
}

#[test]
fn a_stamp_that_does_not_belong_here_is_named() {
    let service = Authority::new(P256);
    let (bag, answer) = stamped(&service);
    let path = bag::time_stamp_path(&answer);
    let named = |bag: &Bag, path: &str| {
        let found = verified(bag);
        assert_eq!(found.standing(), Standing::Differs);
        found.faults.iter().find(|fault| fault.file == path).unwrap().what.clone()
    };
    // A stamp on another hash.
    let mut foreign = released();
    let other = TimeStampRequest::new(Sha256::of(b"x"), *b"a nonce.", None).unwrap();
    let file = foreign.add_time_stamp(&service.answer(&other.to_der(), "usual"));
    assert!(named(&foreign, &file).contains("on another release"));
    // A refusal kept as if it were a stamp.
    let mut refused = released();
    let asks = TimeStampRequest::new(refused.tag_manifest_sha256(), *b"a nonce.", Some("1.2.3.9"));
    let file = refused.add_time_stamp(&service.answer(&asks.unwrap().to_der(), "usual"));
    assert!(named(&refused, &file).contains("the service refused"));
    // Under another name.
    let mut renamed = bag;
    renamed.files.iter_mut().find(|file| file.path == path).unwrap().path =
        format!("signatures/time-{}.tsr", "0".repeat(64));
    let file = format!("signatures/time-{}.tsr", "0".repeat(64));
    assert!(named(&renamed, &file).contains("renamed"));
    // Beside a working copy.
    let record = record();
    let mut working = assembled(&record, &state(&record, None));
    let file = working.add_time_stamp(&service.answer(&asked(&working).to_der(), "usual"));
    assert!(named(&working, &file).contains("no release"));
}

/// The stamped bag, made once for all cases.
fn made_once() -> &'static std::collections::BTreeMap<String, Vec<u8>> {
    static MADE: std::sync::OnceLock<std::collections::BTreeMap<String, Vec<u8>>> =
        std::sync::OnceLock::new();
    MADE.get_or_init(|| in_memory(&stamped(&Authority::new(P256)).0))
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]

    #[test]
    fn any_changed_byte_of_a_stamped_bag_is_laid_to_its_file(
        file in any::<prop::sample::Index>(), at in any::<prop::sample::Index>(), by in 1_u8..
    ) {
        let mut files = made_once().clone();
        // Every second case in the stamp itself.
        let stamp = files.keys().find(|path| path.ends_with(".tsr")).unwrap().clone();
        let path = if by % 2 == 0 { stamp } else { files.keys().nth(file.index(files.len())).unwrap().clone() };
        let bytes = files.get_mut(&path).unwrap();
        let at = at.index(bytes.len());
        bytes[at] = bytes[at].wrapping_add(by);
        let found = verify(&mut files, &mut |_, _| {}).unwrap();
        prop_assert!(
            found.standing() == Standing::Differs && found.faults.iter().any(|fault| fault.file == path),
            "{path} at {at}: {found:?}"
        );
    }
}
