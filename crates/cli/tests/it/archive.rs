//! All jobs together: listed, searched, counted, exported, and worked out anew.

use serde_json::json;

use crate::program::Nearside;
use crate::serve::Serving;

/// Three jobs: two homes of one kind and a trailer; lock-up too high and confirmed in the first.
fn three() -> Nearside {
    let program = Nearside::with_job();
    for (number, kind, site, visit) in [
        ("2026-002", "travel_trailer", "Some Town, VT 05701", "2026-07-01"),
        ("2026-003", "manufactured_home", "behind the barn", "2026-08-01"),
    ] {
        program
            .run(&[
                "job",
                "new",
                "--kind",
                kind,
                "--number",
                number,
                "--visit",
                visit,
                "--site",
                site,
                "--client",
                "Zoë Nuñez",
                "--inspector",
                "B. Inspector",
                "--equipment",
                "gas,mains,wheels",
                "--year",
                "2019",
            ])
            .text();
    }
    program.run(&["read", "2026-001", "regulator_lockup", "lockup", "15.2 inH2O"]).text();
    program.run(&["finding", "2026-001", "confirm", "regulator_lockup/lockup_high"]).text();
    program.run(&["read", "2026-003", "regulator_lockup", "lockup", "11.2 inH2O"]).text();
    for number in ["2026-001", "2026-003"] {
        let notes = "Válvula oxidada, behind the cover";
        program.run(&["point", number, "regulator_lockup", "--examined", "--notes", notes]).text();
    }
    program
}

#[test]
fn jobs_are_listed_by_day_and_filtered() {
    let program = three();
    let numbers = |arguments: &[&str]| -> Vec<String> {
        let all = [&["archive", "list", "--json"], arguments].concat();
        let jobs = program.run(&all).json();
        let jobs = jobs.as_array().unwrap().iter();
        jobs.map(|job| job["job"].as_str().unwrap().to_owned()).collect()
    };
    assert_eq!(numbers(&[]), ["2026-003", "2026-002", "2026-001"]);
    assert_eq!(numbers(&["--kind", "manufactured_home"]), ["2026-003", "2026-001"]);
    assert_eq!(numbers(&["--region", "US-VT"]), ["2026-002"]);
    assert_eq!(numbers(&["--from", "2026-07-01", "--to", "2026-07-31"]), ["2026-002"]);
    assert_eq!(numbers(&["--age", "20-29"]), ["2026-001"]);
    let text = program.run(&["archive", "list"]).text();
    assert!(
        text.lines().next().unwrap().contains("2019 manufactured home, for Zoë Nuñez"),
        "{text}"
    );
    assert!(text.contains("1 finding "), "{text}");
    let none = program.run(&["archive", "list", "--purpose", "nothing"]).text();
    assert_eq!(none, "no job is like that\n");
    for (arguments, said) in [
        (["--kind", "fifth_weel"], "fifth_wheel"),
        (["--age", "7"], "known: 0-4"),
        (["--from", "June"], "write it like 2026-06-12"),
    ] {
        let refused = program.run(&[&["archive", "list"], &arguments[..]].concat()).refused();
        assert!(refused.contains(said), "{refused}");
    }
    let turned = ["archive", "list", "--from", "2026-08-01", "--to", "2026-07-01"];
    assert!(program.run(&turned).refused().contains("no day lies from"));
}

#[test]
fn words_are_found_where_they_stand_and_what_was_just_entered_too() {
    let program = three();
    let found = program.run(&["archive", "search", "nunez", "OXID", "--json"]).json();
    assert_eq!(found["jobs"], 1);
    let hit = &found["hits"][0];
    assert_eq!(hit["job"], "2026-003");
    let kinds: Vec<&str> = hit["places"]
        .as_array()
        .unwrap()
        .iter()
        .map(|place| place["kind"].as_str().unwrap())
        .collect();
    assert_eq!(kinds, ["client", "note"]);
    let note = &hit["places"][1];
    assert_eq!(
        (&note["point"], &note["snippet"][1]),
        (&json!("regulator_lockup"), &json!({"text": "oxidada", "found": true}))
    );

    let text = program.run(&["archive", "search", "oxidada", "behind the cover"]).text();
    assert!(text.starts_with("2 jobs\n"), "{text}");
    assert!(
        text.contains("note, Regulator lock-up pressure: Válvula oxidada, behind the cover"),
        "{text}"
    );
    assert_eq!(
        program.run(&["archive", "search", "\"cover the\""]).text(),
        "no job has all these words\n"
    );
    let number = program.run(&["archive", "search", "2026-002"]).text();
    assert!(number.contains("\n2026-002  2026-07-01, "), "{number}");

    program
        .run(&["point", "2026-002", "regulator_lockup", "--not-examined", "a wasps' nest"])
        .text();
    assert!(program.run(&["archive", "search", "wasp"]).text().starts_with("1 job\n"));
    assert!(
        program.run(&["archive", "search", "…", "*"]).refused().contains("no word to search for")
    );
    for typed in ["NOT (", "a\"b\"c", "c0: NEAR/3 ^*", "' or 1=1 --"] {
        assert_eq!(program.run(&["archive", "search", typed]).status, 0, "{typed}");
    }
}

#[test]
fn a_point_is_counted_with_its_interval_and_drawn() {
    let program = three();
    let figures =
        program.run(&["archive", "figures", "regulator_lockup", "--per", "kind", "--json"]).json();
    let [home, trailer] = figures["figures"].as_array().unwrap().as_slice() else {
        panic!("{figures}")
    };
    let home = [home, trailer].into_iter().find(|it| it["kind"] == "manufactured_home").unwrap();
    assert_eq!(
        (&home["examined"], &home["found"], &home["held"], &home["not_conforming"]),
        (&json!(2), &json!(1), &json!(1), &json!(1))
    );
    assert_eq!((&home["share"], &home["too_few"]), (&json!(null), &json!(true)));
    assert!((home["low"].as_f64().unwrap() - 0.0945).abs() < 1e-3, "{home}");

    let file = program.path("plot.svg");
    let text = program
        .run(&["archive", "figures", "--of", "held", "--plot", file.to_str().unwrap()])
        .text();
    assert!(
        text.contains("Regulator lock-up") && text.contains("1 of 2 (too few for a percentage)"),
        "{text}"
    );
    assert!(text.contains(" were never examined\n"), "{text}");
    assert!(
        text.ends_with("of your own jobs; nothing follows from them about other units\n"),
        "{text}"
    );
    assert!(
        std::fs::read_to_string(&file)
            .unwrap()
            .contains("<title>Points examined with a finding that stops a use")
    );
    let refused = program.run(&["archive", "figures", "regulator_lockupp"]).refused();
    assert!(refused.contains("hint: the nearest: regulator_lockup"), "{refused}");
    let none = program.run(&["archive", "figures", "--region", "US-TX"]).text();
    assert_eq!(none, "no job counts (region US-TX)\n");
}

#[test]
fn the_tables_are_exported_without_names_and_addresses() {
    let program = three();
    let folder = program.path("figures");
    let into = folder.to_str().unwrap();
    let told = program.run(&["archive", "export", into, "--json"]).json();
    assert_eq!(told["jobs"], 3);
    let mut names: Vec<String> = std::fs::read_dir(&folder)
        .unwrap()
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .collect();
    names.sort();
    assert_eq!(
        names,
        [
            "README.md",
            "datapackage.json",
            "jobs.csv",
            "jobs.parquet",
            "points.csv",
            "points.parquet"
        ]
    );
    for name in names {
        let bytes = std::fs::read(folder.join(&name)).unwrap();
        for word in ["Nuñez", "A. Client", "Some Town", "barn"] {
            let there = bytes.windows(word.len()).any(|window| window == word.as_bytes());
            assert!(!there, "{name} has `{word}`");
        }
    }
    let points = std::fs::read_to_string(folder.join("points.csv")).unwrap();
    assert!(
        points.contains("2026-001,regulator_lockup,examined,does not conform,confirmed,gas\r\n"),
        "{points}"
    );
    assert!(program.run(&["archive", "export", into]).refused().contains("is not an empty folder"));
}

#[test]
fn what_was_worked_out_may_be_deleted_and_is_never_in_the_way() {
    let program = three();
    let list = program.run(&["archive", "list"]).text();
    std::fs::remove_dir_all(program.data().join("archive")).unwrap();
    assert_eq!(program.run(&["archive", "list"]).text(), list);
    assert_eq!(program.run(&["archive", "rebuild"]).text(), "3 jobs worked out anew\n");
    assert_eq!(program.run(&["archive", "list"]).text(), list);
    assert!(program.run(&["archive"]).text().contains("nearside archive search"));
    assert_eq!(Nearside::new().run(&["archive", "list"]).text(), "no job yet\n");
}

#[test]
fn the_desk_is_told_what_the_commands_say() {
    let program = three();
    // Brought up to date by the command; the server does so by and by.
    let listed = program.run(&["archive", "list", "--json"]).json();
    let serving = Serving::start(&program);
    let key = serving.paired(&program);
    let (_, jobs) = serving.ask("GET", "/v1/archive/jobs", &key, "");
    assert_eq!(jobs["listed"], listed);
    let (_, choices) = serving.ask("GET", "/v1/archive", &key, "");
    let lockup = json!({"point": "regulator_lockup", "title": "Regulator lock-up pressure"});
    assert!(choices["points"].as_array().unwrap().contains(&lockup), "{choices}");
    assert_eq!(choices["regions"], json!(["US-VT", "unknown"]));
    let said = ["archive", "figures", "regulator_lockup", "--per", "kind,age", "--json"];
    let said = program.run(&said).json();
    let path = "/v1/archive/figures?point=regulator_lockup&per=age,kind";
    let (_, figures) = serving.ask("GET", path, &key, "");
    assert_eq!(figures["figures"], said["figures"]);
    assert_eq!(figures["filter"], said["filter"]);

    let folder = program.path("figures");
    program.run(&["archive", "export", folder.to_str().unwrap()]).text();
    for name in ["jobs.csv", "points.csv", "jobs.parquet", "points.parquet"] {
        let (status, sent) = serving.fetch(&format!("/v1/archive/export/{name}"), &key);
        assert_eq!(status, 200, "{name}");
        assert!(sent == std::fs::read(folder.join(name)).unwrap(), "{name} is another file");
    }
}
