//! Plates, labels and stamped numbers.

use super::grain::{brushed, cloud, dirt, rust, specks, stain};
use super::kit::{Ground, centred, escape, fitting, letters, rivet, screw, sticker};
use super::picture::{Light, Picture};
use std::fmt::Write as _;

/// A riveted aluminium plate; lines of the form `label: value` are set as a form, the first line is its title.
pub(super) fn data_plate(p: &mut Picture, lines: &[String]) {
    p.light = Light::Sun;
    p.yaw = 0.1;
    p.soft(2.0, |far| Ground::Gelcoat.fill(far));
    p.paint(r##"<rect x="-120" y="548" width="1040" height="14" fill="#8f9497"/><rect x="-120" y="548" width="1040" height="4" fill="#fff" opacity=".6"/><rect x="-120" y="562" width="1040" height="6" fill="#000" opacity=".35"/>"##);
    p.shadow(5.0, r##"<rect x="112" y="86" width="590" height="428" rx="14" opacity=".55"/>"##);
    p.part(
        r##"<rect x="106" y="78" width="588" height="426" rx="13" fill="#c2c6c8"/><rect x="106" y="78" width="588" height="426" rx="13" fill="url(#sheen)"/>"##,
        &[brushed(900.0, 9.0, 0.0, 0.16), cloud(1200.0, 0.12), specks(0.05)],
    );
    let mut body = String::from(
        r##"<rect x="107" y="79" width="586" height="424" rx="12" fill="none" stroke="#fff" stroke-opacity=".7" stroke-width="1.5"/><rect x="124" y="96" width="552" height="390" rx="6" fill="none" stroke="#23272a" stroke-width="2.5"/><rect x="124" y="96" width="552" height="62" rx="6" fill="#1f2a36"/>"##,
    );
    let title = lines.first().map_or("", String::as_str);
    body += &centred(400.0, 139.0, fitting(title, 34.0, 500.0), 700, "#d9dde0", title);
    let mut y = 158.0f32;
    let mut rows = 0.0f32;
    for _ in lines.iter().skip(1) {
        rows += 1.0;
    }
    let pitch = (326.0 / rows.max(1.0)).min(58.0);
    for line in lines.iter().skip(1) {
        y += pitch;
        body += &form_line(line, y, pitch);
    }
    for (x, y) in [(116.0, 88.0), (684.0, 88.0), (116.0, 494.0), (684.0, 494.0)] {
        body += &rivet(x, y, 8.0);
    }
    p.paint(body);
    p.grain(stain(700.0, 0.06, 0.25, [190, 186, 176], [150, 140, 120]));
}

/// One line of a form: its label small, its value large on a ruled line.
fn form_line(line: &str, y: f32, pitch: f32) -> String {
    let foot = y - pitch * 0.26;
    let mut body = String::new();
    if let Some((label, value)) = line.split_once(':') {
        let value = value.trim();
        body += &letters(140.0, foot, fitting(label, pitch * 0.36, 190.0), 600, "#2b3034", label);
        body += &letters(338.0, foot, fitting(value, pitch * 0.56, 320.0), 700, "#14171a", value);
        let _ = write!(
            body,
            r##"<path d="M332 {r}H664" stroke="#2b3034" stroke-width="1.2"/>"##,
            r = y - pitch * 0.12
        );
    } else {
        body += &letters(140.0, foot, fitting(line, pitch * 0.46, 520.0), 600, "#1d2124", line);
    }
    body
}

/// A printed label inside the door jamb, with bars for a reader.
pub(super) fn certification_label(p: &mut Picture, lines: &[String]) {
    p.yaw = -0.14;
    p.soft(3.0, |far| {
        far.paint(r##"<rect x="-120" y="-120" width="1040" height="840" fill="#dcdad4"/><rect x="-120" y="-120" width="200" height="840" fill="#3c4044"/><rect x="80" y="-120" width="26" height="840" fill="url(#steelh)"/><rect x="724" y="-120" width="10" height="840" fill="#9ea3a6"/><rect x="734" y="-120" width="190" height="840" fill="#24282b"/>"##);
        far.grain(cloud(900.0, 0.2));
    });
    p.paint(r##"<rect x="106" y="-120" width="18" height="840" fill="#000" opacity=".3"/>"##);
    p.shadow(2.5, r##"<rect x="142" y="94" width="548" height="420" rx="4" opacity=".5"/>"##);
    let mut body = String::from(
        r##"<rect x="138" y="88" width="548" height="420" rx="5" fill="#f2f1ea"/><rect x="150" y="100" width="524" height="396" fill="none" stroke="#15181b" stroke-width="3"/>"##,
    );
    let mut rows = 0.0f32;
    for _ in lines {
        rows += 1.0;
    }
    let pitch = (296.0 / rows.max(1.0)).min(50.0);
    let mut y = 104.0;
    for (number, line) in lines.iter().enumerate() {
        y += pitch;
        let weight = if number == 0 { 700 } else { 600 };
        let size = fitting(line, pitch * 0.62, 488.0);
        body += &letters(166.0, y, size, weight, "#15181b", line);
        if number == 0 {
            let _ = write!(
                body,
                r##"<path d="M150 {r}H674" stroke="#15181b" stroke-width="2"/>"##,
                r = y + pitch * 0.26
            );
            y += pitch * 0.2;
        }
    }
    let mut x = 172.0f32;
    while x < 640.0 {
        let wide = p.dice.between(1.4, 6.0);
        let _ = write!(
            body,
            r##"<rect x="{x:.1}" y="428" width="{wide:.1}" height="52" fill="#15181b"/>"##
        );
        x += wide + p.dice.between(1.6, 6.0);
    }
    body += r##"<rect x="138" y="88" width="548" height="420" rx="5" fill="url(#glass)" opacity=".55"/><path d="M686 460L640 508H681Q686 508 686 503Z" fill="#cfcdc4"/><path d="M686 460L640 508L654 488Z" fill="#fff"/>"##;
    p.part(body, &[cloud(1400.0, 0.06), specks(0.05)]);
    let turn = p.dice.between(0.0, 90.0);
    p.paint(screw(115.0, 60.0, 9.0, turn) + &screw(115.0, 552.0, 9.0, turn + 33.0));
    p.grain(dirt(900.0, 0.12));
}

/// A number stamped into the frame rail, ringed with chalk.
pub(super) fn serial_stamp(p: &mut Picture, text: &str) {
    p.light = Light::Flash;
    p.yaw = 0.12;
    p.soft(3.0, |far| Ground::Underside.fill(far));
    p.part(
        r##"<rect x="-120" y="90" width="1040" height="420" fill="#44474a"/><rect x="-120" y="90" width="1040" height="46" fill="#6a6e71"/><rect x="-120" y="132" width="1040" height="10" fill="#1b1c1d"/><rect x="-120" y="470" width="1040" height="40" fill="#2a2c2d"/>"##,
        &[cloud(800.0, 0.35), rust(520.0, 0.22), dirt(800.0, 0.3), specks(0.3)],
    );
    let size = fitting(text, 74.0, 520.0);
    let step = 600.0 / {
        let mut count = 0.0f32;
        for _ in text.chars() {
            count += 1.0;
        }
        count.max(8.0)
    };
    let mut body = String::from(
        r##"<rect x="70" y="236" width="660" height="130" rx="8" fill="#8b8f92" opacity=".42"/>"##,
    );
    for (number, character) in text.chars().enumerate() {
        let x = (0..number).fold(100.0 + step / 2.0, |x, _| x + step);
        let (sway, lean, depth) =
            (p.dice.between(-3.0, 3.0), p.dice.between(-3.0, 3.0), p.dice.between(0.65, 0.95));
        let y = 302.0 + size * 0.35 + sway;
        let letter = escape(&character.to_string());
        let _ = write!(
            body,
            r##"<g transform="rotate({lean} {x} {y})" font-size="{size}" font-weight="600" text-anchor="middle"><text x="{a}" y="{b}" fill="#e4e7e8" opacity=".8">{letter}</text><text x="{c}" y="{d}" fill="#000" opacity=".5">{letter}</text><text x="{x}" y="{y}" fill="#121314" opacity="{depth}">{letter}</text></g>"##,
            a = x + 1.8,
            b = y + 1.8,
            c = x - 1.2,
            d = y - 1.2,
        );
    }
    p.part(body, &[cloud(260.0, 0.3), specks(0.35)]);
    p.part(
        r##"<path d="M72 300C60 214 250 196 420 200S748 222 736 304S560 402 390 398S66 392 84 288" fill="none" stroke="#f1ecd8" stroke-width="8" stroke-linecap="round" opacity=".8"/>"##,
        &[specks(0.9), stain(60.0, 0.3, 0.9, [90, 88, 84], [70, 68, 66])],
    );
}

/// Any other label: black on yellow, stuck to the cladding.
pub(super) fn label(p: &mut Picture, lines: &[String]) {
    p.light = Light::Sun;
    p.yaw = -0.08;
    p.soft(1.5, |far| Ground::Ribbed.fill(far));
    let lines: Vec<&str> = lines.iter().map(String::as_str).collect();
    let face = sticker(150.0, 150.0, 500.0, ("#f0c53a", "#17191b"), &lines);
    let under = sticker(153.0, 154.0, 500.0, ("#000", "#000"), &lines);
    p.shadow(2.0, format!(r##"<g opacity=".35">{under}</g>"##));
    p.part(face, &[cloud(900.0, 0.12), specks(0.06)]);
    p.grain(dirt(700.0, 0.12));
}
