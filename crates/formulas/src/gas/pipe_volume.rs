//! Inside volume of gas piping, section by section.

use quantity::{Kind, Length, Quantity, Ratio, Volume, parse_value};

use crate::table::Table;
use crate::{Accepts, Confirmed, Formula, Gives, Input, Outcome, Output, Problem, Source};

static DIAMETERS: Table = Table::of(include_str!("../../../../data/tables/gas_pipe_diameters.csv"));

/// A straight section of pipe.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PipeSection {
    /// Inside diameter.
    pub inside_diameter: Length,
    /// Length.
    pub length: Length,
}

/// Inside volume of a section: `V = π/4·d²·L`.
#[must_use]
pub fn section_volume(section: PipeSection) -> Volume {
    std::f64::consts::FRAC_PI_4 * section.inside_diameter * section.inside_diameter * section.length
}

/// Inside volume of all sections, with an allowance for fittings, hoses and valves.
#[must_use]
pub fn pipe_volume(sections: &[PipeSection], allowance: Ratio) -> Volume {
    let straight: f64 = sections.iter().map(|section| section_volume(*section).base()).sum();
    Volume::from_base(straight * (1.0 + allowance.base()))
}

/// Reads sections written `1/2 sch40:30 ft, 3/8 tube:20 ft`.
///
/// # Errors
/// A sentence that names the faulty section and says what is accepted.
pub fn read_sections(text: &str) -> Result<Vec<PipeSection>, String> {
    let plain = text.trim().trim_start_matches('[').trim_end_matches(']');
    let sections: Vec<&str> = plain
        .split([',', ';'])
        .map(|section| section.trim().trim_matches('"').trim())
        .filter(|section| !section.is_empty())
        .collect();
    if sections.is_empty() {
        return Err("the list is empty; write sections like 1/2 sch40:30 ft, 3/8 tube:20 ft".into());
    }
    sections.into_iter().map(read_section).collect()
}

fn read_section(text: &str) -> Result<PipeSection, String> {
    let (size, length) = text.split_once(':').ok_or_else(|| {
        format!("`{text}` is no section; write size:length, such as 1/2 sch40:30 ft")
    })?;
    let length = parse_value(length, Kind::Length).map_err(|error| format!("`{text}`: {error}"))?;
    if length.base <= 0.0 {
        return Err(format!("`{text}`: the length is not above zero; write it like 30 ft"));
    }
    Ok(PipeSection {
        inside_diameter: inside_diameter(size).map_err(|why| format!("`{text}`: {why}"))?,
        length: Length::from_base(length.base),
    })
}

/// Inside diameter of a size from the table, or one that is given as such: `0.622 in inside`.
fn inside_diameter(size: &str) -> Result<Length, String> {
    let plain = plain_size(size);
    if let Some(given) = plain.strip_suffix(" inside").or_else(|| plain.strip_suffix(" id")) {
        let given = parse_value(given, Kind::Length).map_err(|error| error.to_string())?;
        return if given.base > 0.0 {
            Ok(Length::from_base(given.base))
        } else {
            Err("the inside diameter is not above zero".to_owned())
        };
    }
    if let Some(measured) = measured_diameter(size) {
        return measured;
    }
    let table = &DIAMETERS;
    let known = |row: &crate::table::Row<'_>| format!("{} {}", row.text("size"), row.text("kind"));
    table
        .rows()
        .find(|row| known(row) == plain)
        .map(|row| {
            Length::from_base(row.number("inside") * 0.0254) // the table is in inches
        })
        .ok_or_else(|| {
            let sizes: Vec<String> = table.rows().map(|row| known(&row)).collect();
            format!(
                "`{}` is no known size; known: {}, or an inside diameter such as 0.622 in inside",
                size.trim(),
                sizes.join(", ")
            )
        })
}

/// A size written as a decimal with its unit, such as 0.622 in: nobody writes a nominal size so, unless it is a
/// whole number of eighths. None if it is not written so.
fn measured_diameter(size: &str) -> Option<Result<Length, String>> {
    let given = parse_value(size, Kind::Length).ok().filter(|_| size.contains('.'))?;
    let eighths = given.base / 0.0254 * 8.0;
    Some(if given.base <= 0.0 {
        Err("the inside diameter is not above zero".to_owned())
    } else if (eighths - eighths.round()).abs() < 1e-6 {
        let plain = size.trim();
        Err(format!(
            "{plain} may be a nominal size; write {plain} inside, or the size as 1/2 sch40"
        ))
    } else {
        Ok(Length::from_base(given.base))
    })
}

/// The table's spelling of a size: `1 1/4" schedule 40` is `1-1/4 sch40`.
fn plain_size(size: &str) -> String {
    let mut plain = size.trim().to_lowercase();
    for (letter, fraction) in [("¼", "1/4"), ("½", "1/2"), ("¾", "3/4"), ("⅜", "3/8"), ("⅝", "5/8")]
    {
        if let Some(at) = plain.find(letter) {
            let mixed = at > 0 && plain.as_bytes()[at - 1].is_ascii_digit();
            plain = plain.replacen(
                letter,
                &if mixed { format!("-{fraction}") } else { fraction.into() },
                1,
            );
        }
    }
    if plain.ends_with(" inside") || plain.ends_with(" id") {
        return plain;
    }
    let mut words: Vec<&str> = plain
        .split([' ', '"'])
        .filter(|word| {
            !word.is_empty() && !["in", "in.", "inch", "nps", "od", "copper"].contains(word)
        })
        .collect();
    // `1 1/4` is one size.
    let joined;
    if let [whole, fraction, ..] = words.as_slice()
        && !whole.contains('/')
        && fraction.contains('/')
    {
        joined = format!("{whole}-{fraction}");
        words.splice(0..2, [joined.as_str()]);
    }
    let kind = match words.get(1..).unwrap_or_default() {
        ["sch40" | "sch.40" | "schedule40" | "steel" | "iron" | "pipe"]
        | ["sch" | "sch." | "schedule", "40"] => "sch40",
        ["tube" | "tubing"] => "tube",
        ["pe" | "polyethylene"] => "pe",
        [kind] => kind,
        _ => "",
    };
    format!("{} {kind}", words.first().copied().unwrap_or("")).trim().to_owned()
}

pub(crate) static FORMULA: Formula = Formula {
    name: "gas.pipe_volume",
    summary: "Inside volume of gas piping, from the sizes and lengths of its sections.",
    inputs: &[
        Input::text(
            "pipes",
            "sections as size:length, such as 1/2 sch40:30 ft, 3/8 tube:20 ft; kinds: sch40 (nominal size), \
             tube and acr (outside diameter), pe; or 0.622 in inside:30 ft",
        ),
        Input::quantity(
            "allowance",
            Kind::Ratio,
            "share added for fittings, hoses and valves; 0 % without it (10 % is usual)",
        )
        .optional()
        .accepting(Accepts::Between("0 %", "100 %")),
    ],
    result: Gives::quantity("volume", "ft3", "inside volume with the allowance"),
    parts: &[Gives::quantity("sections", "ft3", "inside volume of each section, in order")],
    valid: "",
    sources: &[
        Source {
            document: "2018 International Fuel Gas Code",
            section: "Tables 402.4(28), (30) and (35): inside diameters",
            confirmed: Confirmed::Read,
        },
        Source {
            document: "",
            section: "10 % for fittings, hoses and valves",
            confirmed: Confirmed::CommonPractice,
        },
    ],
    example: &[("pipes", "1/2 sch40:30 ft, 3/8 tube:20 ft")],
    compute: |inputs| {
        let sections = read_sections(inputs.words("pipes")?)
            .map_err(|sentence| Problem::input("pipes", sentence))?;
        let allowance = inputs.optional("allowance")?.unwrap_or_else(|| Ratio::from_base(0.0));
        let volumes = sections.iter().map(|section| section_volume(*section));
        let outcome =
            Outcome::new(pipe_volume(&sections, allowance)).part("sections", Output::list(volumes));
        Ok(if allowance.base() > 0.0 {
            outcome
        } else {
            outcome.note("straight pipe only; fittings, hoses and valves add to it, about 10 %")
        })
    },
};

/// A cubic foot, for the tests of other files of this system.
#[cfg(test)]
pub(super) fn cubic_feet(volume: Volume) -> f64 {
    volume.base() / (0.3048 * 0.3048 * 0.3048)
}

#[cfg(test)]
mod tests {
    use crate::tests::{call, check, refuses};
    use crate::{Output, Problem};

    use super::{DIAMETERS, cubic_feet, read_sections, section_volume};

    const NAME: &str = "gas.pipe_volume";

    /// π/4·d² of the tabulated inside diameters.
    #[test]
    fn a_foot_of_pipe_holds_its_inside_area() {
        for (size, volume, tolerance) in [
            ("1/4 sch40", 0.000_723, 5e-7),
            ("3/8 sch40", 0.001_326, 5e-7),
            ("1/2 sch40", 0.002_110, 5e-7),
            ("3/4 sch40", 0.003_703, 5e-7),
            ("1 sch40", 0.006_002, 5e-7),
            ("3/8 tube", 0.000_541, 5e-7),
            ("1/2 tube", 0.000_881, 5e-7),
            ("5/8 tube", 0.001_515, 5e-7),
        ] {
            check(NAME, &[("pipes", &format!("{size}:1 ft"))], volume, "ft3", tolerance);
        }
        for (size, litres) in [("1/2", 0.059_75), ("3/4", 0.104_86), ("1", 0.169_95)] {
            check(NAME, &[("pipes", &format!("{size} sch40:1 ft"))], litres, "L", 6e-6);
        }
    }

    #[test]
    fn sections_add_up_and_the_allowance_comes_on_top() {
        let pipes = ("pipes", "1/2 sch40:30 ft, 3/8 tube:20 ft");
        check(NAME, &[pipes], 0.0741, "ft3", 0.000_05);
        check(NAME, &[pipes, ("allowance", "10 %")], 0.081_55, "ft3", 0.000_05);
        let Output::Quantities(sections) = &call(NAME, &[pipes]).unwrap().parts[0].1 else {
            panic!("no list")
        };
        assert_eq!(sections.len(), 2);
    }

    #[test]
    fn sizes_are_read_as_people_write_them() {
        let volume = |text: &str| cubic_feet(section_volume(read_sections(text).unwrap()[0]));
        for (written, same) in [
            ("½ sch40:1 ft", "1/2 sch40:12 in"),
            ("1/2\" schedule 40:1 ft", "1/2 sch40:1 ft"),
            ("1 1/4 in sch 40:1 ft", "1-1/4 sch40:1 ft"),
            ("1¼ SCH40:1 ft", "1-1/4 sch40:1 ft"),
            ("3/8 OD tubing:1 ft", "3/8 tube:1 ft"),
            ("0.622 in inside:1 ft", "1/2 sch40:1 ft"),
            ("0.622 in:1 ft", "1/2 sch40:1 ft"),
            ("15.7988 mm:1 ft", "1/2 sch40:1 ft"),
            ("0.5 in inside:1 ft", "0.500001 in:1 ft"),
            ("1/2 steel:1 ft", "1/2 sch40:1 ft"),
            ("[\"1/2 sch40:1 ft\"]", "1/2 sch40:1 ft"),
        ] {
            let (got, want) = (volume(written), volume(same));
            assert!((got / want - 1.0).abs() < 1e-5, "{written}: {got}, {same}: {want}");
        }
    }

    #[test]
    fn every_size_of_the_table_is_read() {
        for row in DIAMETERS.rows() {
            let text = format!("{} {}:1 ft", row.text("size"), row.text("kind"));
            let diameter = read_sections(&text).unwrap()[0].inside_diameter;
            assert!((diameter.value / 0.0254 - row.number("inside")).abs() < 1e-12, "{text}");
        }
    }

    #[test]
    fn what_is_no_section_is_named() {
        for (pipes, words) in [
            ("", "the list is empty"),
            ("1/2 sch40", "write size:length"),
            ("1/2 sch40:30", "`1/2 sch40:30`"),
            ("1/2:30 ft", "no known size"),
            ("7/16 tube:30 ft", "known: 1/4 sch40"),
            ("1/2 sch40:0 ft", "not above zero"),
            ("0 in inside:3 ft", "not above zero"),
            ("-0.6 in:3 ft", "not above zero"),
            ("0.5 in:3 ft", "may be a nominal size"),
            ("1/2 sch40:30 ft, nonsense:20 ft", "`nonsense:20 ft`"),
        ] {
            let problem = refuses(NAME, &[("pipes", pipes)], words);
            assert!(matches!(problem, Problem::Input { name, .. } if name == "pipes"));
        }
    }
}
