//! What `nearside formula` promises to programs that call it: output, exit status, one line of error.

use serde_json::Value as Json;

use crate::program::{Nearside, Run};

fn formula(arguments: &[&str]) -> Run {
    Nearside::new().run(&[&["formula"], arguments].concat())
}

/// One line on standard error, nothing on standard output.
fn one_line(run: &Run, status: i32) -> String {
    assert_eq!(run.status, status, "{run:?}");
    assert_eq!(run.out, "");
    assert_eq!(run.err.lines().count(), 1, "{}", run.err);
    run.err.clone()
}

/// 800 lb of 7,000 lb is 11.43 %.
#[test]
fn json_holds_result_parts_notes_and_sources() {
    let run = formula(&["weights.tongue_percent", "tongue=800 lb", "gross=7000 lb", "--json"]);
    let json = run.json();
    assert_eq!(run.out.lines().count(), 1, "one object");
    assert_eq!(run.err, "");
    let keys: Vec<&str> = json.as_object().unwrap().keys().map(String::as_str).collect();
    assert_eq!(keys, ["formula", "result", "parts", "notes", "sources"]);
    assert_eq!(json["formula"], "weights.tongue_percent");
    let keys: Vec<&str> = json["result"].as_object().unwrap().keys().map(String::as_str).collect();
    assert_eq!(
        keys.iter().collect::<std::collections::BTreeSet<_>>(),
        ["value", "unit", "expanded_uncertainty", "coverage_factor"].iter().collect()
    );
    let value = json["result"]["value"].as_f64().unwrap();
    assert!((value - 800.0 / 70.0).abs() < 1e-9, "{value}");
    assert_eq!(json["result"]["unit"], "%");
    assert_eq!(json["result"]["expanded_uncertainty"], Json::Null);
    assert!(json["sources"].is_array() && json["notes"].is_array() && json["parts"].is_object());
}

/// First order: u² = (100/G)² u_T² + (100 T/G²)² u_G², doubled.
#[test]
fn an_inputs_uncertainty_is_carried_to_the_result() {
    let json =
        formula(&["weights.tongue_percent", "tongue=800 lb ± 10", "gross=7000 lb ± 50", "--json"])
            .json();
    let by_hand = 2.0
        * ((100.0 / 7000.0 * 10.0_f64).powi(2)
            + (100.0 * 800.0 / 7000.0_f64.powi(2) * 50.0).powi(2))
        .sqrt();
    let got = json["result"]["expanded_uncertainty"].as_f64().unwrap();
    assert!((got / by_hand - 1.0).abs() < 1e-3, "{got}, by hand {by_hand}");
    assert_eq!(json["result"]["coverage_factor"], 2);
}

#[test]
fn words_come_without_json_and_in_the_unit_asked_for() {
    let text = formula(&["gas.saturation_pressure", "temperature=70 degF"]).text();
    assert!(text.contains("pressure: ") && text.contains("source: "), "{text}");
    let json =
        formula(&["gas.saturation_pressure", "temperature=70 degF", "--in", "kPa", "--json"])
            .json();
    assert_eq!(json["result"]["unit"], "kPa");
}

#[test]
fn an_input_error_is_one_line_and_status_two() {
    let said = one_line(&formula(&["weights.tongue_percent", "tongue=800 lb"]), 2);
    assert!(said.contains("gross"), "{said}");
    let said =
        one_line(&formula(&["weights.tongue_percent", "tongue=800 furlong", "gross=7000 lb"]), 2);
    assert!(said.contains("tongue") && said.contains("lb"), "{said}");
    let said = one_line(&formula(&["weights.tongue_percent", "tongue=800 V", "gross=7000 lb"]), 2);
    assert!(said.contains("tongue"), "{said}");
    let said = one_line(&formula(&["weights.tongue_percent", "tong=800 lb", "gross=7000 lb"]), 2);
    assert!(said.contains("tong"), "{said}");
    let said = one_line(&formula(&["weights.tongue_percent", "800 lb"]), 2);
    assert!(said.contains("NAME=VALUE"), "{said}");
    let said = one_line(&formula(&["weights.tongue_percnt"]), 2);
    assert!(said.contains("weights.tongue_percent"), "{said}");
    let said = one_line(
        &formula(&["weights.tongue_percent", "tongue=800 lb", "gross=7000 lb", "--in", "V"]),
        2,
    );
    assert!(said.contains("--in"), "{said}");
}

#[test]
fn possible_inputs_outside_the_range_are_one_line_and_status_three() {
    let said = one_line(&formula(&["gas.saturation_pressure", "temperature=400 degF"]), 3);
    assert!(said.starts_with("error: ") && said.contains("140 degF"), "{said}");
    one_line(&formula(&["gas.saturation_pressure", "temperature=400 degF", "--json"]), 3);
}

#[test]
fn the_list_names_every_formula_with_inputs_and_sources_and_its_examples_run() {
    let program = Nearside::new();
    let list = program.run(&["formula", "--list", "--json"]).json();
    let all = list.as_array().unwrap();
    assert!(all.len() >= 20, "{}", all.len());
    for one in all {
        let name = one["formula"].as_str().unwrap();
        assert!(!one["summary"].as_str().unwrap().is_empty(), "{name}");
        assert!(
            one["inputs"].is_array() && !one["sources"].as_array().unwrap().is_empty(),
            "{name}"
        );
        for input in one["inputs"].as_array().unwrap() {
            assert!(input["name"].is_string() && input["takes"].is_string(), "{name}");
        }
    }
    // The two that every page of help shows.
    for name in ["gas.saturation_pressure", "weights.tongue_percent"] {
        let one = all.iter().find(|one| one["formula"] == name).unwrap();
        let example = one["example"].as_str().unwrap();
        let arguments = quoted_words(example.strip_prefix("nearside ").unwrap());
        let arguments: Vec<&str> = arguments.iter().map(String::as_str).collect();
        program.run(&arguments).text();
    }
    let text = program.run(&["formula", "--list"]).text();
    assert!(text.contains("gas.saturation_pressure"), "{text}");
}

/// Splits as a shell does, with double quotes only.
fn quoted_words(line: &str) -> Vec<String> {
    let mut words = vec![String::new()];
    let mut inside = false;
    for letter in line.chars() {
        match letter {
            '"' => inside = !inside,
            ' ' if !inside => words.push(String::new()),
            other => words.last_mut().unwrap().push(other),
        }
    }
    words
}

#[test]
fn a_formulas_help_explains_inputs_units_range_and_sources() {
    let help = formula(&["gas.saturation_pressure", "--help"]).text();
    for words in ["temperature", "degF", "Sources:", "Example:", "Gives:"] {
        assert!(help.contains(words), "no {words} in:\n{help}");
    }
    let help = formula(&["--help"]).text();
    assert!(help.contains("Exit status"), "{help}");
    one_line(&formula(&["gas.nothing", "--help"]), 2);
}
