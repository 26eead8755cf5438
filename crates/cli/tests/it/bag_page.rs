//! The report in its bag as a page and as data beside the PDF, and bags from before these lay in them.

use std::collections::BTreeMap;

use bag::{Bag, BagInfo, File, Role, SigningKey, Statement, place, sign};
use serde_json::Value as Json;

use crate::bags::{PASSPHRASE, files, released, with_photo};
use crate::program::{Nearside, text};

fn export(program: &Nearside, into: &str) -> BTreeMap<String, Vec<u8>> {
    program.run(&["export", "2026-001", "--into", into]).text();
    files(&program.path(into))
}

fn json(files: &BTreeMap<String, Vec<u8>>, path: &str) -> Json {
    serde_json::from_slice(&files[path]).unwrap()
}

/// The values of an attribute, as they are written.
fn attributes<'a>(html: &'a str, name: &str) -> Vec<&'a str> {
    let start = format!(" {name}=\"");
    html.split(&start).skip(1).map(|rest| rest.split('"').next().unwrap()).collect()
}

#[test]
fn the_bag_holds_the_report_as_a_page_and_as_data_and_the_page_shows_the_photos_of_the_bag() {
    let program = released();
    let files = export(&program, "bag");
    let state = json(&files, place::STATE);
    let content = &files[place::REPORT_JSON];
    assert_eq!(state["report"]["content_sha256"], bag::Sha256::of(content).to_string());
    assert_eq!(json(&files, place::REPORT_JSON)["job"]["number"], "2026-001");

    let mut to_photos = 0;
    for name in ["index.html", "readings.html"] {
        let html = String::from_utf8(files[&format!("data/page/{name}")].clone()).unwrap();
        for link in [attributes(&html, "href"), attributes(&html, "src")].concat() {
            let link = link.split('#').next().unwrap();
            let path = match link.strip_prefix("../") {
                _ if link.is_empty() => continue,
                Some(above) => format!("data/{above}"),
                None => format!("data/page/{link}"),
            };
            assert!(files.contains_key(&path), "{link} in {name} leads nowhere");
            to_photos += usize::from(path.starts_with("data/photos/captioned/"));
        }
    }
    assert!(to_photos > 0);
    // No photo, no report and no data twice.
    let twice = |path: &&String| path.starts_with("data/page/") && !path.ends_with(".svg");
    let own: Vec<&String> = files.keys().filter(twice).collect();
    assert_eq!(
        own,
        [
            "data/page/index.html",
            "data/page/page.css",
            "data/page/page.js",
            "data/page/readings.html"
        ]
    );
    let metadata = json(&files, place::CRATE);
    let named = |path: &str| {
        let graph = metadata["@graph"].as_array().unwrap();
        let found = graph.iter().find(|entity| entity["@id"] == path);
        found.unwrap()["name"].as_str().unwrap().to_owned()
    };
    assert_eq!(named("page/index.html"), "The client's page, to open in a browser");
    assert_eq!(named("report.json"), "What the report says, as data");
    for schema in ["report", "state", "assessment", "record"] {
        assert!(files.contains_key(&format!("data/schema/{schema}.schema.json")), "{schema}");
    }
}

#[test]
fn verify_names_a_page_or_data_that_were_changed_added_or_taken_away() {
    let program = released();
    let files = export(&program, "bag");
    for path in [place::REPORT_JSON, "data/page/index.html", "data/page/page.css"] {
        let mut changed = files[path].clone();
        let middle = changed.len() / 2;
        changed[middle] ^= 1;
        program.write(&format!("bag/{path}"), changed);
        let said = program.run(&["verify", "bag"]);
        assert_eq!(said.status, 4, "{said:?}");
        assert!(said.out.contains(&format!("DIFFERS  {path}: ")), "{}", said.out);
        std::fs::remove_file(program.path(&format!("bag/{path}"))).unwrap();
        let said = program.run(&["verify", "bag"]);
        assert!(said.out.contains(&format!("DIFFERS  {path}: is missing")), "{}", said.out);
        program.write(&format!("bag/{path}"), &files[path]);
    }
    program.write("bag/data/page/more.html", "<p>more</p>");
    let said = program.run(&["verify", "bag"]);
    assert!(said.out.contains("DIFFERS  data/page/more.html: was added"), "{}", said.out);
}

/// A release as a program wrote it before page, data and their schemas lay in its bag, signed with the same key.
fn as_before(program: &Nearside, files: &BTreeMap<String, Vec<u8>>, into: &str) {
    let mut state = json(files, place::STATE);
    state["report"].as_object_mut().unwrap().remove("content_sha256");
    let new = ["data/page/", place::REPORT_JSON, "data/schema/report", "data/schema/state"];
    let payload = files.iter().filter(|(path, _)| {
        path.starts_with("data/") && !new.iter().any(|new| path.starts_with(new))
    });
    let mut payload: Vec<File> =
        payload.map(|(path, bytes)| File::new(path.clone(), bytes.clone())).collect();
    payload.retain(|file| file.path != place::STATE);
    payload.push(File::new(place::STATE, format!("{}\n", bag::canonical_json(&state).unwrap())));
    let mut bag = Bag::assemble(payload, &BagInfo::default()).unwrap();
    let pem = std::fs::read_to_string(program.data().join("signing-key.pem")).unwrap();
    let key = SigningKey::from_encrypted_pem(&pem, PASSPHRASE).unwrap();
    let heads = state["record_heads"].as_array().unwrap().iter();
    let statement = Statement {
        role: Role::Inspector,
        name: "B. Inspector".to_owned(),
        signed_at: state["release"]["released_at"].as_str().unwrap().to_owned(),
        job: "2026-001".to_owned(),
        release: 1,
        heads: heads.map(|head| head.as_str().unwrap().to_owned()).collect(),
        tag_manifest_sha256: bag.tag_manifest_sha256(),
    };
    bag.add_signature(Role::Inspector, &key.public(), &sign(&key, &statement));
    for file in bag.files {
        program.write(&format!("{into}/{}", file.path), file.bytes.unwrap());
    }
}

#[test]
fn a_bag_from_before_verifies_comes_in_goes_out_the_same_and_is_compared() {
    let program = released();
    let now = export(&program, "now");
    as_before(&program, &now, "before");
    let said = program.run(&["verify", "before"]).text();
    assert!(said.contains("every byte is what was signed"), "{said}");
    let there = Nearside::new();
    there.run(&["job", "import", &text(&program.path("before"))]).text();
    let again = export(&there, "again");
    assert!(files(&program.path("before")) == again, "a file differs");
    let said = there.run(&["compare", "2026-001@1", &text(&program.path("now"))]).text();
    assert!(said.contains("of 2026-001@1 says was worked out anew from its record"), "{said}");
    assert!(said.contains("nothing differs that a reader of the report would see"), "{said}");
    there.run(&["read", "2026-001", "regulator_lockup", "lockup", "12.0 inH2O"]).text();
    let said = there.run(&["compare", "2026-001@1", "2026-001"]).text();
    assert!(said.contains("was 15.20 inH2O") && said.contains("is  12.00 inH2O"), "{said}");
}

#[test]
fn a_caption_that_is_too_long_for_its_copy_is_shortened_there_and_said() {
    let program = with_photo();
    let long = "a word about it ".repeat(300);
    let caption = ["photo", "2026-001", "camera/one.jpg", "--caption", &long];
    program.run(&caption).text();
    program.with_key("B. Inspector", None);
    let run = program.signed(&["release", "2026-001", "--accept", "a test"]);
    assert_eq!(run.status, 0, "{run:?}");
    let remark = "the caption of photo one.jpg is shortened inside data/photos/captioned/0001";
    assert!(run.err.contains(remark) && run.err.contains("description"), "{}", run.err);
    let files = export(&program, "bag");
    let (_, copy) =
        files.iter().find(|(path, _)| path.starts_with("data/photos/captioned/")).unwrap();
    let copy = String::from_utf8_lossy(copy);
    assert!(copy.contains("Shortened to fit into this file: description."));
    let record = json(&files, place::RECORD_JSON);
    assert_eq!(record["photos"][0]["caption"].as_str().unwrap().trim(), long.trim());
}
