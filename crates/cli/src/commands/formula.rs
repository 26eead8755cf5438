//! `nearside formula`: one calculation by name, with units and uncertainty.

use std::io::Write;

use clap::Args;
use formulas::{Accepts, Evaluation, Form, Formula, Gives, Output, Problem, Takes};
use quantity::{Unit, Value, units, write_number, write_value};
use serde_json::{Map, Value as Json, json};

use crate::failure::Failure;

/// Computes one formula from values with their units.
///
/// A value carries its unit: `temperature="70 degF"`, `readings="0, 1/4, 3/8 in"`. Behind `±` (or
/// `+/-`) stands its standard uncertainty, which is carried to every numeric result. Dates are
/// written 2026-11-25 or 2026-11.
///
/// Exit status: 0 with a result, 2 if an input is not acceptable, 3 if the inputs are possible but
/// outside the formula's range.
#[derive(Args, Debug)]
#[command(
    disable_help_flag = true,
    after_help = "Examples:\n  \
        nearside formula gas.saturation_pressure temperature=\"70 degF\"\n  \
        nearside formula weights.tongue_percent tongue=\"800 lb\" gross=\"7000 lb\" --json\n  \
        nearside formula mains.drop open=\"121.5 V ± 0.05\" loaded=\"117.3 V ± 0.05\" current=\"12 A ± 0.12\"\n  \
        nearside formula tyres.pressure_at_temperature --help\n  \
        nearside formula --list"
)]
pub(crate) struct FormulaArguments {
    /// The formula's name, such as `weights.tongue_percent`
    name: Option<String>,
    /// Inputs as NAME=VALUE
    #[arg(value_name = "INPUT=VALUE")]
    inputs: Vec<String>,
    /// List all formulas with inputs, units, ranges and sources
    #[arg(long)]
    list: bool,
    /// Print one JSON object
    #[arg(long)]
    json: bool,
    /// The unit of the main result
    #[arg(long = "in", value_name = "UNIT")]
    unit: Option<String>,
    /// Explain this command, or the named formula
    #[arg(long, short)]
    help: bool,
}

pub(crate) fn run(arguments: &FormulaArguments) -> Result<(), Failure> {
    let mut out = std::io::stdout().lock();
    if arguments.list {
        return list(&mut out, arguments.json);
    }
    let Some(name) = &arguments.name else {
        if arguments.help {
            crate::arguments::print_help_of(&["formula"]);
            return Ok(());
        }
        return Err(Failure::input("no formula is named; `nearside formula --list` lists them"));
    };
    let formula = formulas::find(name).ok_or_else(|| unknown(name))?;
    if arguments.help {
        return explain(&mut out, formula);
    }
    let pairs = arguments
        .inputs
        .iter()
        .map(|pair| {
            pair.split_once('=').map(|(name, text)| (name.trim(), text)).ok_or_else(|| {
                Failure::input(format!("`{pair}` is no input; write it as NAME=VALUE"))
            })
        })
        .collect::<Result<Vec<_>, _>>()?;
    let outcome = formulas::Arguments::read(formula, pairs)
        .and_then(|arguments| formula.evaluate(&arguments))
        .map_err(|problem| refused(&problem))?;
    let unit = main_unit(formula, &outcome, arguments.unit.as_deref())?;
    if arguments.json {
        let object = to_json(formula, &outcome, unit);
        writeln!(out, "{object}")?;
    } else {
        print(&mut out, formula, &outcome, unit)?;
    }
    Ok(())
}

/// One line, as programs that call this command expect.
fn refused(problem: &Problem) -> Failure {
    let line = problem.to_string().replace('\n', " ");
    match problem {
        Problem::Input { .. } => Failure::input(line),
        Problem::OutOfRange { .. } => Failure::out_of_range(line),
    }
}

fn unknown(name: &str) -> Failure {
    let mut names: Vec<&str> = formulas::all().map(|formula| formula.name).collect();
    names.sort_by_key(|other| strsim::levenshtein(name, other));
    let near: Vec<&str> = names.into_iter().take(3).collect();
    Failure::input(format!("no formula is called `{name}`; the nearest are {}", near.join(", ")))
}

fn main_unit(
    formula: &Formula,
    outcome: &Evaluation,
    wanted: Option<&str>,
) -> Result<Option<&'static Unit>, Failure> {
    let kind = match &outcome.result {
        Output::Quantity(value) => Some(value.kind),
        Output::Quantities(values) => values.first().map(|value| value.kind),
        Output::Words(_) | Output::Texts(_) | Output::Truth(_) | Output::Day(_) => None,
    };
    let Some(kind) = kind else {
        return match wanted {
            None => Ok(None),
            Some(unit) => Err(Failure::input(format!(
                "--in: {} gives words, which have no unit `{unit}`; leave --in out",
                formula.name
            ))),
        };
    };
    match wanted {
        None => Ok(declared_unit(&formula.result, kind)),
        Some(spelling) => units::find_of(kind, spelling).map(Some).ok_or_else(|| {
            let accepted: Vec<&str> = units::of_kind(kind).map(|unit| unit.spelling).collect();
            Failure::input(format!(
                "--in: `{spelling}` is no unit of {}; accepted: {}",
                kind.word().replace('_', " "),
                accepted.join(", ")
            ))
        }),
    }
}

fn declared_unit(gives: &Gives, kind: quantity::Kind) -> Option<&'static Unit> {
    match gives.form {
        Form::Quantity(spelling) | Form::QuantityOrWords(spelling) => {
            units::find_of(kind, spelling)
        }
        Form::LikeInput(_) => units::of_kind(kind).next(),
        Form::Words => None,
    }
}

fn part_unit(formula: &Formula, name: &str, output: &Output) -> Option<&'static Unit> {
    let kind = match output {
        Output::Quantity(value) => value.kind,
        Output::Quantities(values) => values.first()?.kind,
        Output::Words(_) | Output::Texts(_) | Output::Truth(_) | Output::Day(_) => return None,
    };
    let gives = formula.parts.iter().find(|gives| gives.name == name)?;
    declared_unit(gives, kind)
}

/// The object that `--json` prints.
fn to_json(formula: &Formula, outcome: &Evaluation, unit: Option<&'static Unit>) -> Json {
    let mut parts = Map::new();
    for (name, output) in &outcome.parts {
        parts.insert((*name).to_owned(), output_json(output, part_unit(formula, name, output)));
    }
    json!({
        "formula": formula.name,
        "result": output_json(&outcome.result, unit),
        "parts": parts,
        "notes": outcome.notes,
        "sources": sources_json(formula),
    })
}

/// A result as JSON; every form has the same four keys.
pub(crate) fn output_json(output: &Output, unit: Option<&Unit>) -> Json {
    let words = |value: Json| json!({"value": value, "unit": null, "expanded_uncertainty": null, "coverage_factor": null});
    match output {
        Output::Quantity(value) => quantity_json(*value, unit),
        Output::Quantities(values) => {
            let numbers: Vec<Json> =
                values.iter().map(|value| json!(number_in(*value, unit))).collect();
            let uncertainties: Option<Vec<f64>> =
                values.iter().map(|value| expanded(*value, unit)).collect::<Option<Vec<f64>>>();
            json!({
                "value": numbers,
                "unit": unit_json(unit),
                "coverage_factor": uncertainties.as_ref().map(|_| 2),
                "expanded_uncertainty": uncertainties,
            })
        }
        Output::Words(text) => words(json!(text)),
        Output::Texts(texts) => words(json!(texts)),
        Output::Truth(yes) => words(json!(if *yes { "yes" } else { "no" })),
        Output::Day(day) => words(json!(day.to_string())),
    }
}

/// A quantity as JSON: number, unit, expanded uncertainty (k = 2) where one is known.
pub(crate) fn quantity_json(value: Value, unit: Option<&Unit>) -> Json {
    let expanded = expanded(value, unit);
    json!({
        "value": number_in(value, unit),
        "unit": unit_json(unit),
        "expanded_uncertainty": expanded,
        "coverage_factor": expanded.map(|_| 2),
    })
}

fn number_in(value: Value, unit: Option<&Unit>) -> f64 {
    unit.and_then(|unit| value.to_unit(unit)).unwrap_or(value.base)
}

fn expanded(value: Value, unit: Option<&Unit>) -> Option<f64> {
    let step = unit.map_or(1.0, Unit::step);
    value.standard_uncertainty().map(|standard| 2.0 * standard / step)
}

fn unit_json(unit: Option<&Unit>) -> Json {
    match unit {
        Some(unit) if !unit.spelling.is_empty() => json!(unit.spelling),
        _ => Json::Null,
    }
}

fn sources_json(formula: &Formula) -> Json {
    formula
        .sources
        .iter()
        .map(|source| {
            json!({
                "document": source.document,
                "section": source.section,
                "confirmed": source.confirmed.words(),
            })
        })
        .collect()
}

fn print(
    out: &mut impl Write,
    formula: &Formula,
    outcome: &Evaluation,
    unit: Option<&'static Unit>,
) -> Result<(), Failure> {
    writeln!(out, "{}: {}", formula.result.name, output_words(&outcome.result, unit))?;
    for (name, output) in &outcome.parts {
        writeln!(out, "  {name}: {}", output_words(output, part_unit(formula, name, output)))?;
    }
    for note in &outcome.notes {
        writeln!(out, "note: {note}")?;
    }
    for source in formula.sources {
        writeln!(out, "source: {}", source_words(source))?;
    }
    Ok(())
}

fn source_words(source: &formulas::Source) -> String {
    let section =
        if source.section.is_empty() { String::new() } else { format!(", {}", source.section) };
    let document = if source.document.is_empty() { "common practice" } else { source.document };
    format!("{document}{section} ({})", source.confirmed.words())
}

fn output_words(output: &Output, unit: Option<&Unit>) -> String {
    let write = |value: &Value| match unit {
        Some(unit) => write_value(*value, unit),
        None => write_number(value.base),
    };
    match output {
        Output::Quantity(value) => write(value),
        Output::Quantities(values) => values.iter().map(write).collect::<Vec<_>>().join(", "),
        Output::Words(text) => text.clone(),
        Output::Texts(texts) => texts.join(", "),
        Output::Truth(yes) => if *yes { "yes" } else { "no" }.to_owned(),
        Output::Day(day) => day.to_string(),
    }
}

fn takes_words(takes: Takes) -> String {
    match takes {
        Takes::Quantity(kind) => kind.word().replace('_', " "),
        Takes::Quantities(kind) => format!("list of {}", kind.word().replace('_', " ")),
        Takes::AnyQuantity => "quantity of any kind".to_owned(),
        Takes::AnyQuantities => "list of quantities of any kind".to_owned(),
        Takes::AnyDifference => "difference of any kind".to_owned(),
        Takes::Word(words) => words.join(" | "),
        Takes::Date => "date".to_owned(),
        Takes::Instant => "time with its zone".to_owned(),
        Takes::Text => "text".to_owned(),
    }
}

fn accepts_words(accepts: Accepts) -> String {
    match accepts {
        Accepts::Anything => String::new(),
        Accepts::AtLeast(least) => format!("at least {least}"),
        Accepts::Above(least) => format!("more than {least}"),
        Accepts::Between(least, most) => format!("{least} to {most}"),
        Accepts::AboveUpTo(least, most) => format!("more than {least}, at most {most}"),
    }
}

fn units_of(takes: Takes) -> Vec<&'static str> {
    match takes {
        Takes::Quantity(kind) | Takes::Quantities(kind) => {
            units::of_kind(kind).map(|unit| unit.spelling).filter(|it| !it.is_empty()).collect()
        }
        Takes::AnyQuantity
        | Takes::AnyQuantities
        | Takes::AnyDifference
        | Takes::Word(_)
        | Takes::Date
        | Takes::Instant
        | Takes::Text => Vec::new(),
    }
}

fn list(out: &mut impl Write, json: bool) -> Result<(), Failure> {
    if json {
        let all: Vec<Json> = formulas::all().map(description_json).collect();
        writeln!(out, "{}", Json::from(all))?;
        return Ok(());
    }
    for formula in formulas::all() {
        writeln!(out, "{}", formula.name)?;
        writeln!(out, "    {}", formula.summary)?;
        for input in formula.inputs {
            let optional = if input.required { "" } else { " (optional)" };
            let range = accepts_words(input.accepts);
            let range = if range.is_empty() { range } else { format!("; {range}") };
            writeln!(out, "    {}{optional}: {}{range}", input.name, takes_words(input.takes))?;
        }
        let names: Vec<&str> =
            std::iter::once(&formula.result).chain(formula.parts).map(|gives| gives.name).collect();
        writeln!(out, "    gives {}", names.join(", "))?;
        if !formula.valid.is_empty() {
            writeln!(out, "    valid for {}", formula.valid)?;
        }
        for source in formula.sources {
            writeln!(out, "    source: {}", source_words(source))?;
        }
    }
    Ok(())
}

fn description_json(formula: &Formula) -> Json {
    let gives = |gives: &Gives| {
        let unit = match gives.form {
            Form::Quantity(unit) | Form::QuantityOrWords(unit) if !unit.is_empty() => json!(unit),
            Form::Quantity(_) | Form::QuantityOrWords(_) | Form::LikeInput(_) | Form::Words => {
                Json::Null
            }
        };
        json!({"name": gives.name, "unit": unit, "about": gives.about})
    };
    let inputs: Vec<Json> = formula
        .inputs
        .iter()
        .map(|input| {
            json!({
                "name": input.name,
                "takes": takes_words(input.takes),
                "required": input.required,
                "range": accepts_words(input.accepts),
                "units": units_of(input.takes),
                "about": input.about,
            })
        })
        .collect();
    json!({
        "formula": formula.name,
        "summary": formula.summary,
        "inputs": inputs,
        "result": gives(&formula.result),
        "parts": formula.parts.iter().map(gives).collect::<Vec<_>>(),
        "range": formula.valid,
        "sources": sources_json(formula),
        "example": example(formula),
    })
}

fn example(formula: &Formula) -> String {
    let inputs: Vec<String> =
        formula.example.iter().map(|(name, text)| format!("{name}=\"{text}\"")).collect();
    format!("nearside formula {} {}", formula.name, inputs.join(" "))
}

fn explain(out: &mut impl Write, formula: &Formula) -> Result<(), Failure> {
    writeln!(out, "{}\n\n{}\n\nInputs:", formula.name, formula.summary)?;
    for input in formula.inputs {
        let optional = if input.required { "" } else { ", optional" };
        writeln!(out, "  {} ({}{optional})", input.name, takes_words(input.takes))?;
        writeln!(out, "      {}", input.about)?;
        let range = accepts_words(input.accepts);
        if !range.is_empty() {
            writeln!(out, "      accepted: {range}")?;
        }
        let spellings = units_of(input.takes);
        if !spellings.is_empty() {
            writeln!(out, "      units: {}", spellings.join(", "))?;
        }
    }
    writeln!(out, "\nGives:")?;
    for gives in std::iter::once(&formula.result).chain(formula.parts) {
        let unit = match gives.form {
            Form::Quantity(unit) | Form::QuantityOrWords(unit) if !unit.is_empty() => {
                format!(" ({unit})")
            }
            Form::LikeInput(input) => format!(" (as {input})"),
            Form::Quantity(_) | Form::QuantityOrWords(_) | Form::Words => String::new(),
        };
        writeln!(out, "  {}{unit}: {}", gives.name, gives.about)?;
    }
    if !formula.valid.is_empty() {
        writeln!(out, "\nValid for {}.", formula.valid)?;
    }
    writeln!(out, "\nSources:")?;
    for source in formula.sources {
        writeln!(out, "  {}", source_words(source))?;
    }
    writeln!(out, "\nExample:\n  {}", example(formula))?;
    Ok(())
}
