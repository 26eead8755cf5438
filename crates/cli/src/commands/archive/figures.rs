//! `nearside archive figures`: how often a point was found wrong.

use std::io::Write;
use std::path::PathBuf;

use ::archive::{Answered, By, Counted, FEW, Figure, Group, Question, Share, plot};
use clap::{Args, ValueEnum};

use super::filter::{FilterArguments, in_words};
use super::up_to_date;
use crate::commands::near_hint;
use crate::data_folder::{Place, write_file};
use crate::failure::Failure;

/// Lines that are shown of many.
const SHOWN: usize = 20;

/// Counts how often something was found at a point: one point, or all of them, the worst first.
///
/// Of the jobs in which the point was examined, so many had a finding that a person confirmed. With each share stands
/// its 95 % interval (Wilson); of fewer than ten there is no percentage. Lines are sorted by the lower end of that
/// interval, so that two of two do not come before sixty of a hundred. The figures are of your own jobs, which nobody
/// drew at random: they say nothing about other units. A unit inspected twice counts twice.
#[derive(Args, Debug)]
#[command(after_help = "Examples:\n  \
        nearside archive figures\n  \
        nearside archive figures --per kind --kind fifth_wheel --from 2026-01-01\n  \
        nearside archive figures tyres --per age --plot tyres.svg\n  \
        nearside archive figures --of held --all --json")]
pub(crate) struct FiguresArguments {
    /// The point's id; all points if left out
    point: Option<String>,
    /// What to tell apart: kind, age, region, or several with commas between
    #[arg(long, value_enum, value_delimiter = ',', value_name = "WHAT")]
    per: Vec<PerArgument>,
    /// What to count: findings that a person confirmed, values that do not conform, or uses that are held
    #[arg(long, value_enum, default_value_t = Of::Found, value_name = "WHAT")]
    of: Of,
    #[command(flatten)]
    filter: FilterArguments,
    /// Show every line, not the first twenty
    #[arg(long)]
    all: bool,
    /// Draw the lines that are shown as an SVG file too
    #[arg(long, value_name = "FILE")]
    plot: Option<PathBuf>,
    /// Print one JSON object, with every line
    #[arg(long)]
    json: bool,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
enum PerArgument {
    /// Kind of unit
    Kind,
    /// Age at the first visit
    Age,
    /// State, province or country
    Region,
}

/// What is counted.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
enum Of {
    /// Findings that a person confirmed
    Found,
    /// Values that do not conform to a limit
    NotConforming,
    /// Uses that a standing finding stops
    Held,
}

impl Of {
    fn counted(self) -> Counted {
        match self {
            Self::Found => Counted::Found,
            Self::NotConforming => Counted::NotConforming,
            Self::Held => Counted::Held,
        }
    }

    fn words(self) -> &'static str {
        match self {
            Self::Found => "with a confirmed finding",
            Self::NotConforming => "with a value that does not conform",
            Self::Held => "with a finding that stops a use",
        }
    }
}

pub(crate) fn run(place: &Place, arguments: &FiguresArguments) -> Result<(), Failure> {
    let by: Vec<By> = [
        (PerArgument::Kind, By::Kind),
        (PerArgument::Age, By::Age),
        (PerArgument::Region, By::Region),
    ]
    .into_iter()
    .filter_map(|(asked, by)| arguments.per.contains(&asked).then_some(by))
    .collect();
    let filter = arguments.filter.filter()?;
    let question = Question { point: arguments.point.clone(), by, filter };
    let archive = up_to_date(place)?;
    let of = arguments.of;
    let Some(mut answered) = archive.answer(question, of.counted())? else {
        let (point, titles) = (arguments.point.as_deref().unwrap_or_default(), archive.titles()?);
        return Err(Failure::input(format!("no job's plan has a point `{point}`"))
            .hint(near_hint(point, titles.keys().map(String::as_str))));
    };
    let whole = arguments.json.then(|| answered.json(0, usize::MAX));
    let all = answered.figures.len();
    let never = answered.without_never_examined();
    let shown = answered.figures.len();
    let shown = if arguments.all { shown } else { shown.min(SHOWN) };
    if let Some(file) = &arguments.plot {
        draw(file, &answered, of, shown)?;
    }
    let mut out = std::io::stdout().lock();
    if let Some(object) = whole {
        writeln!(out, "{object}")?;
        return Ok(());
    }
    if all == 0 {
        writeln!(out, "no job counts{}", filtered(&answered.question))?;
        return Ok(());
    }
    tell(&mut out, &answered, of, shown)?;
    if never > 0 {
        writeln!(out, "  and {never} {} never examined", if never == 1 { "was" } else { "were" })?;
    }
    writeln!(out, "of your own jobs; nothing follows from them about other units")?;
    Ok(())
}

fn tell(out: &mut impl Write, answered: &Answered, of: Of, shown: usize) -> Result<(), Failure> {
    let figures = &answered.figures;
    writeln!(out, "examined {}{}", of.words(), filtered(&answered.question))?;
    let names: Vec<String> = figures.iter().take(shown).map(|it| name(it, answered)).collect();
    let width = names.iter().map(|name| name.chars().count()).max().unwrap_or(0);
    for (name, figure) in names.iter().zip(figures) {
        let counts = &figure.counts;
        let gap = " ".repeat(width.saturating_sub(name.chars().count()));
        let mut line = format!("  {name}{gap}  {}", answered.counted.share(counts).words());
        if counts.not_examined > 0 {
            line.push_str(&format!("; not examined in {}", counts.not_examined));
        }
        writeln!(out, "{line}")?;
    }
    if shown < figures.len() {
        writeln!(out, "  and {} more lines (--all)", figures.len() - shown)?;
    }
    Ok(())
}

fn filtered(question: &Question) -> String {
    let words = in_words(&question.filter);
    if words.is_empty() { String::new() } else { format!(" ({words})") }
}

/// What a line is called: the point, where several are listed, and its group.
fn name(figure: &Figure, answered: &Answered) -> String {
    let title = answered.titles.get(&figure.point).unwrap_or(&figure.point);
    let group = group(&figure.group);
    match (answered.question.point.is_some(), group.is_empty()) {
        (_, true) => title.clone(),
        (true, false) => group,
        (false, false) => format!("{title}: {group}"),
    }
}

fn group(group: &Group) -> String {
    let mut words = Vec::new();
    words.extend(group.kind.map(|kind| kind.title().to_owned()));
    words.extend(group.age.map(|age| match age {
        ::archive::AgeBand::Unknown => "age unknown".to_owned(),
        known => format!("{} years", known.word()),
    }));
    words.extend(group.region.as_ref().map(|region| match region.as_str() {
        "unknown" => "region unknown".to_owned(),
        known => known.to_owned(),
    }));
    words.join(", ")
}

fn draw(file: &std::path::Path, answered: &Answered, of: Of, shown: usize) -> Result<(), Failure> {
    let question = &answered.question;
    let lines = answered.figures.iter().take(shown);
    let rows: Vec<(String, Share)> = lines
        .map(|figure| (name(figure, answered), answered.counted.share(&figure.counts)))
        .collect();
    let title = match question.point.as_ref().and_then(|point| answered.titles.get(point)) {
        Some(title) => format!("{title}: examined {}", of.words()),
        None => format!("Points examined {}, worst first", of.words()),
    };
    let note =
        format!("Own jobs alone{}; fewer than {FEW} examined: no percentage.", filtered(question));
    let drawing = plot(&title, &note, &rows)
        .map_err(|error| Failure::failed(format!("{}: {error}", file.display())))?;
    write_file(file, drawing.as_bytes())
}
