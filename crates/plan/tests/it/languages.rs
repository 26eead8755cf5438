//! Texts in another language: laid over a plan, held against the data, and what is wrong in them.

use plan::{Files, Library, Plan, ReadingForm, Texts, load, load_texts, write_texts};

fn shipped() -> Library {
    load(&Files::embedded()).expect("the shipped data has no problems")
}

fn texts(files: &[(&str, &str)]) -> (Texts, Vec<String>) {
    let mut all = Files::none();
    for (path, text) in files {
        all.add(*path, *text);
    }
    let loaded = load_texts("es", &all, &shipped());
    let problems =
        loaded.problems.iter().map(|one| one.to_string().replace("\n  hint:", " ->")).collect();
    (loaded.texts, problems)
}

fn spanish() -> Plan {
    let library = shipped();
    let files = Files::of_language("es").expect("Spanish ships");
    let loaded = load_texts("es", &files, &library);
    library.plan("purchase").expect("the plan ships").with_texts(&loaded.texts).0
}

#[test]
fn the_shipped_languages_have_no_problems() {
    let library = shipped();
    for language in Files::languages().filter(|language| *language != "en") {
        let loaded = load_texts(language, &Files::of_language(language).unwrap(), &library);
        let problems: Vec<String> = loaded.problems.iter().map(ToString::to_string).collect();
        assert!(problems.is_empty(), "{language}:\n{}", problems.join("\n"));
        assert!(loaded.texts.count() > 100, "{language}");
        assert!(loaded.missing.len() < loaded.wanted, "{language}");
    }
}

#[test]
fn no_text_of_a_shipped_plan_is_left_in_english() {
    let library = shipped();
    let loaded = load_texts("es", &Files::of_language("es").unwrap(), &library);
    for (id, _) in library.plans() {
        let (_, missing) = library.plan(id).unwrap().with_texts(&loaded.texts);
        assert_eq!(missing, Vec::new(), "{id}");
    }
    // One that is taken away is missed once, however many points share it.
    let mut files = Files::of_language("es").unwrap();
    let line = |line: &&str| !line.starts_with("left =");
    let words = files.text("words.toml").unwrap();
    let fewer: String = words.lines().filter(line).flat_map(|line| [line, "\n"]).collect();
    assert!(fewer.len() < words.len());
    files.add("words.toml", fewer);
    let fewer = load_texts("es", &files, &library).texts;
    let (_, missing) = library.plan("purchase").unwrap().with_texts(&fewer);
    let missed: Vec<&str> = missing.iter().map(|one| one.at.name.as_str()).collect();
    assert_eq!(missed, ["position.left"]);
}

#[test]
fn what_the_program_says_is_listed_without_problems() {
    let loaded = load_texts("en", &Files::of_language("en").unwrap(), &shipped());
    assert_eq!(loaded.problems, Vec::new());
    assert!(loaded.texts.count() > 10);
}

#[test]
fn a_plan_reads_in_spanish_and_records_as_before() {
    let (english, spanish) = (shipped().plan("purchase").unwrap(), spanish());
    assert_eq!((english.language.as_str(), spanish.language.as_str()), ("en", "es"));
    let of = |plan: &Plan, id: &str| plan.point(id).unwrap().clone();
    let (plain, smell) = (of(&english, "gas_smell"), of(&spanish, "gas_smell"));
    assert_eq!(smell.title, "Oler si hay gas antes de todo lo demás");
    assert_ne!(plain.caution, smell.caution);
    let reading = smell.reading("smell").unwrap();
    assert_eq!(reading.shown("strong"), "fuerte");
    // What is entered and judged stays what it is.
    let ReadingForm::Choice(choices) = &reading.form else { panic!("{:?}", reading.form) };
    assert!(choices.contains(&"strong".to_owned()));
    assert!(reading.read("strong").is_ok() && reading.read("fuerte").is_err());
    assert_eq!(smell.positions_of("smell"), plain.positions_of("smell"));
    assert_eq!(spanish.words.say("gas locker"), "compartimiento del gas");
    // Shared by many files: whom to call.
    assert_eq!(smell.defect("smell_of_gas").unwrap().who, "instalador de gas con licencia");
    assert_eq!(spanish.stop("roof").unwrap().title, "Techo");
    // A heading that a person kept when confirming the draft.
    assert_eq!(spanish.words.say("Smell of gas"), "Olor a gas");
}

trait PositionsOf {
    fn positions_of(&self, name: &str) -> plan::Positions;
}

impl PositionsOf for plan::Point {
    fn positions_of(&self, name: &str) -> plan::Positions {
        self.reading(name).expect("the reading is there").positions.clone()
    }
}

#[test]
fn a_text_made_from_other_words_leaves_those_of_the_job_and_lists_them() {
    let (texts, problems) = texts(&[(
        "points/gas/regulator_lockup.toml",
        "title = \"Presión de cierre\"\nphoto = \"El manómetro.\"\n",
    )]);
    assert!(problems.is_empty(), "{problems:?}");
    let mut old = shipped().plan("purchase").unwrap();
    let point = old.points.iter_mut().find(|point| point.id == "regulator_lockup").unwrap();
    point.title = "Lock-up, as an earlier plan called it".to_owned();
    let (read, missing) = old.with_texts(&texts);
    let point = read.point("regulator_lockup").unwrap();
    assert_eq!(point.title, "Lock-up, as an earlier plan called it");
    assert_eq!(point.photo, "El manómetro.");
    let named = |name: &str| {
        missing
            .iter()
            .any(|one| one.at.file == "points/gas/regulator_lockup" && one.at.name == name)
    };
    assert!(named("title") && named("caution") && !named("photo"));
}

#[test]
fn each_kind_of_problem_is_told_with_its_place_and_a_hint() {
    const LOCKUP: &str = "points/gas/regulator_lockup.toml";
    for (path, text, expected) in [
        (LOCKUP, "titl = \"x\"", ":1:8: no text is called `titl` here -> write `title`"),
        (LOCKUP, "title = \"\"", "the text is empty -> leave it out to keep the English one"),
        (LOCKUP, "caution = \" \"", "the text is empty"),
        (LOCKUP, "minutes = 5", "`minutes` is no text -> write minutes = \"…\""),
        (LOCKUP, "title = 'x", "the file must be TOML"),
        (
            LOCKUP,
            "[defect.lockup_high]\nstatement = \"La presión subió; el límite es {limit}.\"",
            ":2:13: {lockup} stands in the English text and not here -> write {lockup}",
        ),
        (
            LOCKUP,
            "[defect.lockup_high]\nstatement = \"Subió a {lockup} de {lock}; el límite es {limit}.\"",
            "{lock} does not stand in the English text -> take it out",
        ),
        (LOCKUP, "[defect.lock]\ntitle = \"x\"", "no text is called `defect.lock.title` here"),
        (
            LOCKUP,
            "[reading.lockup.choices]\nyes = \"sí\"",
            "no text is called `reading.lockup.choices.yes`",
        ),
        (
            "points/gas/gas_smell.toml",
            "look = [\"Nadie fuma.\"]",
            ":1:9: `look` has 1 of its 2 texts -> write all of them, in the same order",
        ),
        (
            "points/gas/gas_smell.toml",
            "look = [\"a\", \"b\", \"c\"]",
            "no text is called `look[2]` here",
        ),
        (
            "points/gas/gas_smel.toml",
            "title = \"x\"",
            "no file of the data belongs to these texts -> its path is points/gas/gas_smell.toml",
        ),
        (
            "points/gas/gas_leak_check.toml",
            "caution = \"Nunca más de 15 pulgadas de agua.\"",
            "the number 14 stands in the English text and not here",
        ),
        (
            "points/gas/gas_leak_check.toml",
            "caution = \"Nunca más de 15 pulgadas de agua.\"",
            "the number 15 does not stand in the English text",
        ),
        (
            LOCKUP,
            "title = \"Presión de cierre segura\"",
            "`segura` promises that it is safe, and no inspection can",
        ),
        (
            "plans/purchase.toml",
            "purpose = \"Garantizamos la unidad.\"",
            "`garantizamos` promises a guarantee, and no inspection can",
        ),
        ("words.toml", "[who]\n\"trailer repairers\" = \"x\"", "-> write `who.trailer repairer`"),
        ("stops.toml", "[stop]\nattic = \"x\"", "no text is called `stop.attic` here"),
    ] {
        let (_, problems) = texts(&[(path, text)]);
        assert!(
            problems.iter().any(|one| one.starts_with(path) && one.contains(expected)),
            "{text}: expected {expected}, got {problems:#?}"
        );
    }
}

#[test]
fn a_text_with_a_problem_is_not_used() {
    let (texts, _) = texts(&[(
        "points/gas/regulator_lockup.toml",
        "title = \"Presión\"\n[defect.lockup_high]\nstatement = \"Subió.\"\n",
    )]);
    let (plan, _) = shipped().plan("purchase").unwrap().with_texts(&texts);
    let point = plan.point("regulator_lockup").unwrap();
    assert_eq!(point.title, "Presión");
    assert!(point.defect("lockup_high").unwrap().statement.starts_with("With no gas flowing"));
}

#[test]
fn what_is_written_out_to_be_edited_reads_back_as_the_same_texts() {
    let library = shipped();
    let loaded = load_texts("es", &Files::of_language("es").unwrap(), &library);
    let written = write_texts(&loaded, &library);
    let mut files = Files::none();
    for (path, text) in &written {
        files.add(path, text.as_str());
    }
    let again = load_texts("es", &files, &library);
    assert_eq!(again.problems, Vec::new());
    assert_eq!(again.texts, loaded.texts);
    // With the English taken out of its comments nothing is missing.
    let mut files = Files::none();
    for (path, text) in &written {
        files.add(path, text.replace("\n# ", "\n").trim_start_matches("# "));
    }
    let all = load_texts("es", &files, &library);
    assert_eq!((all.problems, all.missing), (Vec::new(), Vec::new()));
}
