//! How much room words take, so that they never run into each other.

/// Advance widths of the printable ASCII letters of IBM Plex Sans Regular, from the blank on, in thousandths of the
/// letters' size; read from the typeface's own table.
const WIDTHS: [u16; 95] = [
    236, 284, 419, 713, 598, 927, 694, 242, 335, 335, 450, 600, 272, 399, 272, 383, 600, 600, 600,
    600, 600, 600, 600, 600, 600, 600, 292, 292, 600, 600, 600, 477, 891, 641, 653, 621, 671, 583,
    559, 695, 707, 400, 510, 634, 501, 812, 707, 708, 606, 708, 640, 581, 572, 678, 609, 891, 613,
    593, 580, 317, 383, 317, 600, 565, 600, 534, 580, 503, 580, 549, 324, 528, 568, 250, 250, 527,
    272, 873, 568, 560, 580, 580, 367, 487, 351, 568, 492, 768, 507, 499, 464, 343, 314, 343, 600,
];
/// What any other letter may take.
const OTHER: u16 = 900;

/// Width of a text in a size; bold is a little wider.
pub(crate) fn width(text: &str, size: f64) -> f64 {
    let letter = |letter: char| {
        // Spanish letters are as wide as those they are made from.
        let letter = match letter {
            'á' => 'a',
            'é' => 'e',
            'í' => 'i',
            'ó' => 'o',
            'ú' | 'ü' => 'u',
            'ñ' => 'n',
            other => other,
        };
        let place = u32::from(letter).checked_sub(32).and_then(|place| usize::try_from(place).ok());
        f64::from(place.and_then(|place| WIDTHS.get(place)).copied().unwrap_or(OTHER))
    };
    text.chars().map(letter).sum::<f64>() * size / 1000.0
}

/// A text in lines no wider than `most`, broken between words; a word that is wider by itself is broken inside.
pub(crate) fn wrapped(text: &str, size: f64, most: f64) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    let mut line = String::new();
    for word in text.split_whitespace() {
        let longer = if line.is_empty() { word.to_owned() } else { format!("{line} {word}") };
        if width(&longer, size) <= most {
            line = longer;
            continue;
        }
        if !line.is_empty() {
            lines.push(std::mem::take(&mut line));
        }
        for letter in word.chars() {
            line.push(letter);
            if width(&line, size) > most && line.chars().count() > 1 {
                line.pop();
                lines.push(std::mem::replace(&mut line, letter.to_string()));
            }
        }
    }
    if !line.is_empty() {
        lines.push(line);
    }
    lines
}

/// The beginning of a text that fits, with an ellipsis where something is left out.
pub(crate) fn shortened(text: &str, size: f64, most: f64) -> String {
    if width(text, size) <= most {
        return text.to_owned();
    }
    let mut short = String::new();
    for letter in text.chars() {
        short.push(letter);
        if width(&short, size) + width("…", size) > most {
            short.pop();
            break;
        }
    }
    format!("{}…", short.trim_end())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_line_is_wider_than_asked_and_no_letter_is_lost() {
        let text = "the receptacle under the galley's left overhead Abcdefghijklmnopqrstuvwxyzabcdefghijklmnop";
        for most in [20.0, 60.0, 300.0] {
            let lines = wrapped(text, 9.0, most);
            assert!(lines.iter().all(|line| width(line, 9.0) <= most), "{lines:?}");
            let letters = |text: &str| text.replace(' ', "");
            assert_eq!(letters(&lines.concat()), letters(text));
        }
        assert_eq!(wrapped("two words", 9.0, 300.0), ["two words"]);
        assert!(wrapped("  ", 9.0, 300.0).is_empty());
    }

    #[test]
    fn what_is_cut_off_says_so() {
        assert_eq!(shortened("galley", 9.0, 100.0), "galley");
        let short = shortened("galley, left of the sink", 9.0, 60.0);
        assert!(short.ends_with('…') && width(&short, 9.0) <= 60.0, "{short}");
    }
}
