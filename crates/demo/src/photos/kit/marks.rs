//! Small things that make a surface real: fasteners, stickers, hoses, cracks, drips and spots.

use super::{centred, escape, fitting};
use crate::photos::grain::Dice;

/// A cross-head screw, its slot turned by so many degrees.
pub(crate) fn screw(x: f32, y: f32, radius: f32, degrees: f32) -> String {
    let slot = radius * 0.62;
    format!(
        r##"<g transform="translate({x} {y})"><ellipse cx="{o}" cy="{o}" rx="{h}" ry="{h}" fill="#000" opacity=".35"/><circle r="{radius}" fill="url(#steel)" stroke="#5a6065" stroke-width="{w}"/><circle r="{radius}" fill="url(#ball)" opacity=".5"/><g transform="rotate({degrees})" stroke="#2c3033" stroke-width="{s}"><path d="M-{slot} 0H{slot}M0-{slot}V{slot}"/></g></g>"##,
        o = radius * 0.16,
        h = radius * 1.12,
        w = radius * 0.1,
        s = radius * 0.26,
    )
}

/// A screw on a rubber-backed washer, as roofs and cladding have.
pub(crate) fn washer_screw(x: f32, y: f32, radius: f32, degrees: f32) -> String {
    format!(
        r##"<circle cx="{x}" cy="{y}" r="{r}" fill="#8d9296"/><circle cx="{x}" cy="{y}" r="{r}" fill="url(#ball)" opacity=".7"/>{}"##,
        screw(x, y, radius, degrees),
        r = radius * 1.6,
    )
}

/// A hexagon-head bolt.
pub(crate) fn hex_bolt(x: f32, y: f32, radius: f32, degrees: f32, fill: &str) -> String {
    let (half, tall) = (radius / 2.0, radius * 0.866);
    format!(
        r##"<g transform="translate({x} {y})"><ellipse cx="{o}" cy="{p}" rx="{w}" ry="{w}" fill="#000" opacity=".4"/><circle r="{w}" fill="{fill}"/><circle r="{w}" fill="url(#sheen)"/><g transform="rotate({degrees})"><path d="M{radius} 0L{half} {tall}H-{half}L-{radius} 0L-{half}-{tall}H{half}Z" fill="{fill}" stroke="#000" stroke-opacity=".45" stroke-width="{s}"/></g><circle r="{i}" fill="url(#ball)" opacity=".75"/></g>"##,
        o = radius * 0.12,
        p = radius * 0.2,
        w = radius * 1.25,
        s = radius * 0.07,
        i = radius * 0.82,
    )
}

/// A blind or drive rivet.
pub(crate) fn rivet(x: f32, y: f32, radius: f32) -> String {
    format!(
        r##"<circle cx="{sx}" cy="{sy}" r="{r}" fill="#000" opacity=".35"/><circle cx="{x}" cy="{y}" r="{radius}" fill="#a9afb3"/><circle cx="{x}" cy="{y}" r="{radius}" fill="url(#ball)"/>"##,
        sx = x + radius * 0.2,
        sy = y + radius * 0.25,
        r = radius * 1.08,
    )
}

/// A hose, pipe or wire along a path: dark edges, colour, light on its upper side. Thick ones are
/// shaded in many thin steps, wires in few.
pub(crate) fn hose(path: &str, width: f32, colour: &str) -> String {
    let steps: u16 = if width < 16.0 { 3 } else { 9 };
    let mut shading = String::new();
    for step in 1..=steps {
        let share = f32::from(step) / f32::from(steps);
        // From the rim inwards: first lifts the shadow, then lights, moving up and to the left.
        let wide = width * (1.0 - 0.86 * share);
        let aside = -width * 0.2 * share;
        shading += &format!(
            r##"<path d="{path}" stroke="#fff" stroke-opacity="{o:.3}" stroke-width="{wide:.1}" transform="translate({aside:.1} {aside:.1})"/>"##,
            o = (0.2 + 0.5 * share * share) / f32::from(steps),
        );
    }
    format!(
        r##"<g fill="none" stroke-linecap="round" stroke-linejoin="round"><path d="{path}" stroke="#000" stroke-opacity=".55" stroke-width="{outer}"/><path d="{path}" stroke="{colour}" stroke-width="{width}"/><path d="{path}" stroke="#000" stroke-opacity=".34" stroke-width="{width}"/><path d="{path}" stroke="{colour}" stroke-opacity=".5" stroke-width="{inner}" transform="translate(-{up} -{up})"/><path d="{path}" stroke="{colour}" stroke-opacity=".6" stroke-width="{core}" transform="translate(-{up} -{up})"/>{shading}</g>"##,
        outer = width * 1.08,
        inner = width * 0.84,
        core = width * 0.62,
        up = width * 0.06,
    )
}

/// A filled polygon.
pub(crate) fn polygon(points: &[(f32, f32)], fill: &str) -> String {
    let list: Vec<String> = points.iter().map(|(x, y)| format!("{x},{y}")).collect();
    format!(r##"<polygon points="{}" fill="{fill}"/>"##, list.join(" "))
}

/// A jagged crack between two points with a few branches; `width` at its widest.
pub(crate) fn crack(dice: &mut Dice, from: (f32, f32), to: (f32, f32), width: f32) -> String {
    let (run, rise) = (to.0 - from.0, to.1 - from.1);
    let length = (run * run + rise * rise).sqrt().max(1.0);
    let aside = (-rise / length, run / length);
    let mut steps = Vec::new();
    let mut along = 0.0f32;
    let mut drift = 0.0f32;
    while along < 1.0 {
        drift = (drift + dice.between(-0.05, 0.05) * length) * 0.8;
        steps.push((
            from.0 + run * along + aside.0 * drift,
            from.1 + rise * along + aside.1 * drift,
            along,
        ));
        along += dice.between(0.03, 0.08);
    }
    let (mut upper, mut lower, mut branches) = (String::new(), Vec::new(), String::new());
    for (number, &(x, y, along)) in steps.iter().enumerate() {
        let half = width
            * 0.5
            * (1.0 - (2.0 * along - 1.0) * (2.0 * along - 1.0)).max(0.1)
            * dice.between(0.5, 1.2);
        upper += &format!(
            "{}{:.1} {:.1}",
            if number == 0 { "M" } else { "L" },
            x + aside.0 * half,
            y + aside.1 * half
        );
        lower.push((x - aside.0 * half, y - aside.1 * half));
        if number % 4 == 2 {
            let (reach, side) = (
                length * dice.between(0.06, 0.16),
                if dice.between(0.0, 1.0) < 0.5 { -1.0 } else { 1.0 },
            );
            let (ux, uy) = (run / length + aside.0 * side, rise / length + aside.1 * side);
            branches += &format!(
                "M{x:.1} {y:.1}l{:.1} {:.1}l{:.1} {:.1}",
                ux * reach * 0.5 + dice.between(-3.0, 3.0),
                uy * reach * 0.5 + dice.between(-3.0, 3.0),
                ux * reach * 0.3 + aside.0 * dice.between(-4.0, 4.0),
                uy * reach * 0.3 + aside.1 * dice.between(-4.0, 4.0),
            );
        }
    }
    for (x, y) in lower.iter().rev() {
        upper += &format!("L{x:.1} {y:.1}");
    }
    format!(
        r##"<path d="{upper}Z" fill="#fff" opacity=".35" transform="translate({e} {e})"/><path d="{branches}" fill="none" stroke="#000" stroke-opacity=".6" stroke-width="{b}"/><path d="{upper}Z" fill="#0b0a09" opacity=".92"/>"##,
        e = width * 0.3,
        b = (width * 0.22).max(0.7),
    )
}

/// Water or rust running down from a line.
pub(crate) fn drips(
    dice: &mut Dice,
    from: (f32, f32),
    to: f32,
    count: u32,
    longest: f32,
    fill: &str,
) -> String {
    let mut all = String::new();
    for _ in 0..count {
        let x = dice.between(from.0, to);
        let long = dice.between(longest * 0.25, longest);
        let wide = dice.between(1.5, 5.0);
        all += &format!(
            r##"<path d="M{:.1} {y}q{:.1} {:.1} {wide:.1} {long:.1}q{:.1} {:.1} {wide:.1} 0q{:.1}-{:.1} {:.1}-{long:.1}Z" opacity="{:.2}"/>"##,
            x - wide,
            wide * 0.2,
            long * 0.5,
            wide * 0.5,
            wide * 0.9,
            wide * 0.2,
            long * 0.5,
            -wide,
            dice.between(0.15, 0.5),
            y = from.1,
        );
    }
    format!(r##"<g fill="{fill}">{all}</g>"##)
}

/// Scattered round spots in a rectangle: left, top, right, bottom.
pub(crate) fn spots(
    dice: &mut Dice,
    area: [f32; 4],
    count: u32,
    size: (f32, f32),
    fill: &str,
) -> String {
    let mut all = String::new();
    for _ in 0..count {
        let radius = dice.between(size.0, size.1);
        all += &format!(
            r##"<ellipse cx="{:.1}" cy="{:.1}" rx="{radius:.1}" ry="{:.1}" opacity="{:.2}"/>"##,
            dice.between(area[0], area[2]),
            dice.between(area[1], area[3]),
            radius * dice.between(0.6, 1.0),
            dice.between(0.25, 0.9),
        );
    }
    format!(r##"<g fill="{fill}">{all}</g>"##)
}

/// A printed label: a bold first line, then smaller lines, fitted to its width.
pub(crate) fn sticker(x: f32, y: f32, width: f32, ink: (&str, &str), lines: &[&str]) -> String {
    let (paper, letters) = ink;
    let mut body = String::new();
    let mut down = 0.0;
    let small =
        lines.iter().skip(1).fold(width * 0.075, |size, line| fitting(line, size, width * 0.88));
    for (number, line) in lines.iter().enumerate() {
        let (size, weight) = if number == 0 {
            (fitting(line, width * 0.13, width * 0.88), 700)
        } else {
            (small, 600)
        };
        down += size * 1.25;
        body += &centred(x + width / 2.0, y + down, size, weight, letters, line);
    }
    let tall = down + width * 0.06;
    format!(
        r##"<g aria-label="{}"><rect x="{x}" y="{y}" width="{width}" height="{tall}" rx="{r}" fill="{paper}" stroke="#000" stroke-opacity=".3" stroke-width="1"/>{body}</g>"##,
        escape(lines.first().unwrap_or(&"")),
        r = width * 0.025,
    )
}
