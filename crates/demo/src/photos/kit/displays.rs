//! What instruments show: seven-segment figures, liquid-crystal panes, round dials.

use super::centred;

/// Which segments a character lights: top, upper right, lower right, bottom, lower left, upper left, middle.
fn segments(character: char) -> u8 {
    match character {
        '0' | 'O' => 0b011_1111,
        '1' => 0b000_0110,
        '2' => 0b101_1011,
        '3' => 0b100_1111,
        '4' => 0b110_0110,
        '5' | 'S' => 0b110_1101,
        '6' => 0b111_1101,
        '7' => 0b000_0111,
        '8' => 0b111_1111,
        '9' => 0b110_1111,
        '-' | '−' => 0b100_0000,
        'L' => 0b011_1000,
        'E' => 0b111_1001,
        'F' => 0b111_0001,
        'C' => 0b011_1001,
        'H' => 0b111_0110,
        'P' => 0b111_0011,
        'o' => 0b101_1100,
        'r' => 0b101_0000,
        _ => 0,
    }
}

/// Slanted seven-segment figures with their right edge at `right` and foot at `foot`; unlit segments
/// show faintly in `off`.
pub(crate) fn seven_segments(
    right: f32,
    foot: f32,
    tall: f32,
    text: &str,
    on: &str,
    off: &str,
) -> String {
    let (wide, thick) = (tall * 0.52, tall * 0.115);
    let pitch = tall * 0.8;
    let mut x = 0.0;
    let mut body = String::new();
    for character in text.chars().rev() {
        if character == '.' || character == ',' {
            x -= tall * 0.14;
            body += &format!(
                r##"<rect x="{:.1}" y="{:.1}" width="{dot:.1}" height="{dot:.1}" fill="{on}"/>"##,
                x - tall * 0.05,
                -thick,
                dot = thick * 1.15,
            );
            continue;
        }
        if character == ':' {
            x -= tall * 0.2;
            continue;
        }
        x -= pitch;
        let lit = segments(character);
        let (left, half, inner) = (x + tall * 0.1, tall / 2.0, thick * 0.55);
        let across = |y: f32| {
            format!(
                "M{:.1} {y:.1}l{t:.1}-{t:.1}h{l:.1}l{t:.1} {t:.1}l-{t:.1} {t:.1}h-{l:.1}z",
                left + inner,
                t = thick / 2.0,
                l = wide - 2.0 * inner - thick,
            )
        };
        let down = |x: f32, y: f32| {
            format!(
                "M{x:.1} {:.1}l{t:.1} {t:.1}v{l:.1}l-{t:.1} {t:.1}l-{t:.1}-{t:.1}v-{l:.1}z",
                y + inner,
                t = thick / 2.0,
                l = half - thick / 2.0 - 2.0 * inner - thick / 2.0,
            )
        };
        let (top, middle, bottom) = (-tall + thick / 2.0, -half, -thick / 2.0);
        let shapes = [
            across(top),
            down(left + wide, top),
            down(left + wide, middle),
            across(bottom),
            down(left, middle),
            down(left, top),
            across(middle),
        ];
        for (number, shape) in shapes.iter().enumerate() {
            let colour = if lit & (1 << number) != 0 { on } else { off };
            body += &format!(r##"<path d="{shape}" fill="{colour}"/>"##);
        }
    }
    format!(r##"<g transform="translate({right} {foot}) skewX(-6)">{body}</g>"##)
}

/// A liquid-crystal pane with large figures and a unit.
pub(crate) fn lcd(area: [f32; 4], glass: &str, reading: &str, unit: &str) -> String {
    let [x, y, wide, tall] = area;
    let figures =
        reading.chars().fold(0.0f32, |sum, c| if c == '.' { sum + 0.2 } else { sum + 1.0 });
    let most = (wide * 0.74 / (figures.max(1.0) * 0.8)).min(tall * 0.62);
    let foot = y + tall * 0.5 + most / 2.0 + tall * 0.04;
    let right = x + wide * 0.8;
    format!(
        r##"<rect x="{x}" y="{y}" width="{wide}" height="{tall}" rx="5" fill="url(#{glass})" stroke="#1c1e1c" stroke-width="3"/><rect x="{x}" y="{y}" width="{wide}" height="{e}" fill="#000" opacity=".16"/>{}{}{}<rect x="{x}" y="{y}" width="{wide}" height="{tall}" rx="5" fill="url(#glass)" opacity=".5"/>"##,
        seven_segments(right + 2.0, foot + 2.5, most, reading, "#000000", "none")
            .replace("#000000", "rgba(0,0,0,.16)"),
        seven_segments(right, foot, most, reading, "#15181a", "rgba(0,0,0,.045)"),
        centred(x + wide * 0.9, foot, (tall * 0.22).min(wide * 0.1), 600, "#15181a", unit),
        e = tall * 0.05,
    )
}

/// A round dial with a needle.
pub(crate) struct Dial<'a> {
    /// Its middle.
    pub(crate) at: (f32, f32),
    /// Its scale's radius.
    pub(crate) radius: f32,
    /// The reading at the end of the scale.
    pub(crate) full_scale: f32,
    /// The reading shown.
    pub(crate) value: f32,
    /// The unit printed on it.
    pub(crate) unit: &'a str,
    /// What else is printed on it.
    pub(crate) label: &'a str,
}

/// The dial's face: scale over 270°, figures, needle.
pub(crate) fn dial(dial: &Dial<'_>) -> String {
    let Dial { at: (cx, cy), radius, full_scale, value, unit, label } = *dial;
    let turn = |share: f32| (135.0 + 270.0 * share).to_radians();
    let place =
        |share: f32, r: f32| (cx + r * libm::cosf(turn(share)), cy + r * libm::sinf(turn(share)));
    let major = major_step(full_scale);
    let mut body = format!(
        r##"<circle cx="{cx}" cy="{cy}" r="{r}" fill="#f3f2ec"/><circle cx="{cx}" cy="{cy}" r="{r}" fill="url(#sheen)" opacity=".6"/>"##,
        r = radius * 1.16
    );
    let mut marks = String::new();
    let mut fine = String::new();
    let mut step = 0.0f32;
    while step * major / 5.0 <= full_scale * 1.0001 {
        let at = step * major / 5.0;
        let share = at / full_scale;
        let is_major = (step % 5.0).abs() < 0.01;
        let (outer, inner) =
            (place(share, radius), place(share, radius * if is_major { 0.86 } else { 0.92 }));
        let line = format!("M{:.1} {:.1}L{:.1} {:.1}", outer.0, outer.1, inner.0, inner.1);
        if is_major {
            marks += &line;
            let (x, y) = place(share, radius * 0.7);
            body += &centred(x, y + radius * 0.055, radius * 0.16, 600, "#17191b", &plain(at));
        } else {
            fine += &line;
        }
        step += 1.0;
    }
    let (start, end) = (place(0.0, radius), place(1.0, radius));
    let angle = 270.0 * (value / full_scale) + 135.0;
    body += &format!(
        r##"<g fill="none" stroke="#17191b"><path d="M{:.1} {:.1}A{radius} {radius} 0 1 1 {:.1} {:.1}" stroke-width="{t}"/><path d="{fine}" stroke-width="{t}"/><path d="{marks}" stroke-width="{w}"/></g>"##,
        start.0,
        start.1,
        end.0,
        end.1,
        t = radius * 0.012,
        w = radius * 0.028,
    );
    body += &centred(cx, cy + radius * 0.42, radius * 0.15, 700, "#17191b", unit);
    body += &centred(cx, cy - radius * 0.3, radius * 0.11, 600, "#6b2520", label);
    let needle = format!(
        "M-{b} -{t}L{l} -{n}V{n}L-{b} {t}Z",
        b = radius * 0.26,
        t = radius * 0.045,
        l = radius * 0.9,
        n = radius * 0.008
    );
    body += &format!(
        r##"<path d="{needle}" transform="translate({} {}) rotate({angle})" fill="#000" opacity=".25"/><path d="{needle}" transform="translate({cx} {cy}) rotate({angle})" fill="#b3211c"/><circle cx="{cx}" cy="{cy}" r="{}" fill="url(#brass)" stroke="#4b3a12"/>"##,
        cx + radius * 0.03,
        cy + radius * 0.05,
        radius * 0.08,
    );
    body
}

/// A step of 1, 2 or 5 times a power of ten that puts five to ten figures on the scale.
fn major_step(full_scale: f32) -> f32 {
    let mut step = 0.01f32;
    let factors = [2.0f32, 2.5, 2.0];
    let mut number = 0;
    while full_scale / step > 8.5 && number < 30 {
        step *= factors[number % 3];
        number += 1;
    }
    step
}

/// A scale figure without needless noughts.
fn plain(value: f32) -> String {
    let rounded = (value * 100.0).round() / 100.0;
    format!("{rounded}")
}
