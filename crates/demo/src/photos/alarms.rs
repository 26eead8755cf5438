//! Alarms and the extinguisher, each with its date.

use super::grain::{cloud, dirt, specks, stain};
use super::kit::{Ground, centred, escape, fitting, letters, screw};
use super::picture::{Light, Picture};
use std::fmt::Write as _;

/// A smoke alarm on the ceiling.
pub(super) fn smoke_alarm(p: &mut Picture, date: &str) {
    p.light = Light::Lamp;
    p.part(
        r##"<rect x="-120" y="-120" width="1040" height="840" fill="#e6e1d5"/><path d="M120 -120V720" stroke="#b9b4a6" stroke-width="3"/>"##,
        &[cloud(2200.0, 0.1), specks(0.08)],
    );
    p.shadow(14.0, r##"<circle cx="420" cy="324" r="238" opacity=".6"/>"##);
    let mut body = String::from(
        r##"<circle cx="400" cy="296" r="236" fill="#dcd6c4"/><circle cx="400" cy="296" r="236" fill="url(#ball)" opacity=".5"/><circle cx="400" cy="294" r="206" fill="#efeadb"/><circle cx="400" cy="294" r="206" fill="none" stroke="#b1ab99" stroke-width="3"/><circle cx="400" cy="294" r="206" fill="url(#sheen)"/>"##,
    );
    for number in 0..44u16 {
        let turn = f32::from(number) * 360.0 / 44.0;
        let _ = write!(
            body,
            r##"<rect x="393" y="76" width="13" height="34" rx="5" fill="#2d2b26" transform="rotate({turn} 400 294)"/>"##
        );
    }
    for row in 0..5u16 {
        let y = 176.0 + 13.0 * f32::from(row);
        let _ = write!(
            body,
            r##"<path d="M330 {y}H470" stroke="#8b8675" stroke-width="5" stroke-linecap="round"/>"##
        );
    }
    body += r##"<circle cx="400" cy="300" r="46" fill="#d8d2c0" stroke="#a8a28f" stroke-width="3"/><circle cx="400" cy="300" r="46" fill="url(#ball)" opacity=".4"/><circle cx="486" cy="300" r="8" fill="#c5221b"/><circle cx="484" cy="297" r="3" fill="#ffb0a8"/>"##;
    body += &centred(400.0, 306.0, 17.0, 700, "#5f5a4c", "TEST");
    body += r##"<rect x="282" y="366" width="236" height="84" rx="5" fill="#fbfaf4" stroke="#b1ab99"/>"##;
    body += &centred(400.0, 392.0, 20.0, 700, "#b5211b", "SMOKE ALARM");
    body += &centred(400.0, 416.0, 15.0, 600, "#2b2a26", "REPLACE TEN YEARS AFTER");
    body += &centred(400.0, 441.0, fitting(date, 24.0, 210.0), 700, "#17191b", date);
    p.part(
        body,
        &[
            cloud(1200.0, 0.06),
            stain(900.0, 0.3, 0.16, [196, 176, 120], [180, 156, 96]),
            specks(0.05),
        ],
    );
}

/// A carbon-monoxide alarm low on the wall.
pub(super) fn carbon_monoxide_alarm(p: &mut Picture, date: &str) {
    p.light = Light::Lamp;
    p.yaw = 0.1;
    p.soft(1.5, |far| Ground::Panelling.fill(far));
    p.shadow(9.0, r##"<rect x="176" y="122" width="476" height="330" rx="40" opacity=".55"/>"##);
    let mut body = String::from(
        r##"<rect x="162" y="106" width="476" height="330" rx="40" fill="url(#white)"/><rect x="162" y="106" width="476" height="330" rx="40" fill="url(#sheen)" opacity=".7"/><rect x="180" y="124" width="440" height="294" rx="28" fill="none" stroke="#bfbcb2" stroke-width="3"/><rect x="206" y="150" width="200" height="92" rx="8" fill="url(#leddark)" stroke="#333" stroke-width="3"/>"##,
    );
    body += &super::kit::seven_segments(392.0, 226.0, 60.0, "0", "#ff4a33", "#3a1512");
    body += &letters(220.0, 206.0, 20.0, 600, "#8f4a40", "ppm");
    body += &letters(432.0, 182.0, 26.0, 700, "#2a4f8a", "CARBON");
    body += &letters(432.0, 210.0, 26.0, 700, "#2a4f8a", "MONOXIDE");
    body += &letters(432.0, 238.0, 26.0, 700, "#2a4f8a", "ALARM");
    for number in 0..11u16 {
        let x = 214.0 + 17.0 * f32::from(number);
        let _ = write!(
            body,
            r##"<rect x="{x}" y="268" width="8" height="66" rx="4" fill="#55534c"/>"##
        );
    }
    for (x, fill, name) in
        [(458.0, "#37b24d", "POWER"), (516.0, "#7d3a35", "ALARM"), (574.0, "#8a7434", "FAULT")]
    {
        let _ = write!(
            body,
            r##"<circle cx="{x}" cy="274" r="9" fill="{fill}"/><circle cx="{a}" cy="271" r="3" fill="#fff" opacity=".7"/>"##,
            a = x - 2.0
        );
        body += &centred(x, 300.0, 11.0, 600, "#44423c", name);
    }
    body += r##"<rect x="452" y="314" width="128" height="32" rx="16" fill="#d6d3ca" stroke="#9a978d"/>"##;
    body += &centred(516.0, 335.0, 14.0, 700, "#44423c", "TEST / RESET");
    body += r##"<rect x="210" y="358" width="380" height="44" rx="4" fill="#f5f3ea" stroke="#b1ab99"/>"##;
    body += &centred(400.0, 388.0, fitting(date, 24.0, 360.0), 700, "#17191b", date);
    p.part(body, &[cloud(1200.0, 0.05), specks(0.04), dirt(900.0, 0.08)]);
}

/// A gas alarm near the floor.
pub(super) fn gas_alarm(p: &mut Picture) {
    p.light = Light::Lamp;
    p.yaw = -0.1;
    p.soft(1.5, |far| {
        far.paint(r##"<rect x="-120" y="-120" width="1040" height="840" fill="#8a6a44"/><rect x="-120" y="520" width="1040" height="220" fill="#4d4136"/><rect x="-120" y="500" width="1040" height="24" fill="#5f4629"/>"##);
        far.grain(brushed_wood());
        far.grain(specks(0.1));
    });
    p.shadow(9.0, r##"<rect x="166" y="142" width="490" height="270" rx="14" opacity=".65"/>"##);
    let mut body = String::from(
        r##"<rect x="154" y="126" width="490" height="270" rx="14" fill="url(#black)"/><rect x="154" y="126" width="490" height="270" rx="14" fill="url(#sheen)" opacity=".5"/><rect x="172" y="144" width="454" height="234" rx="8" fill="none" stroke="#5d6165" stroke-width="2"/>"##,
    );
    for row in 0..6u16 {
        for column in 0..10u16 {
            let _ = write!(
                body,
                r##"<circle cx="{}" cy="{}" r="6" fill="#060606"/>"##,
                206.0 + 20.0 * f32::from(column),
                184.0 + 20.0 * f32::from(row)
            );
        }
    }
    body += &letters(430.0, 196.0, 30.0, 700, "#f0c53a", "LP GAS");
    body += &letters(430.0, 228.0, 30.0, 700, "#f0c53a", "ALARM");
    for (x, fill, name) in [(450.0, "#43d05c", "ON"), (530.0, "#6a2420", "GAS")] {
        let _ = write!(
            body,
            r##"<circle cx="{x}" cy="270" r="12" fill="{fill}"/><circle cx="{x}" cy="270" r="12" fill="url(#ball)" opacity=".6"/>"##
        );
        body += &letters(x + 20.0, 276.0, 17.0, 600, "#e6e7e8", name);
    }
    body += r##"<rect x="196" y="318" width="130" height="40" rx="8" fill="#3b3f42" stroke="#6b7074"/>"##;
    body += &centred(261.0, 344.0, 17.0, 700, "#e6e7e8", "TEST / MUTE");
    body += &letters(350.0, 344.0, 15.0, 600, "#b9bcbe", "12 V DC   Mount low: gas sinks");
    body += &screw(170.0, 260.0, 7.0, 30.0);
    body += &screw(630.0, 260.0, 7.0, 70.0);
    p.part(body, &[cloud(900.0, 0.08), dirt(500.0, 0.2), specks(0.08)]);
    p.soft(8.0, |far| {
        far.paint(r##"<circle cx="450" cy="270" r="22" fill="#43d05c" opacity=".45"/>"##);
    });
}

fn brushed_wood() -> super::grain::Grain {
    super::grain::brushed(90.0, 1600.0, 0.0, 0.4)
}

/// A dry-powder extinguisher; the needle stands from 0 (empty) over 0.5 (charged) to 1 (overcharged).
pub(super) fn extinguisher(p: &mut Picture, needle: f32) {
    p.light = Light::Flash;
    p.soft(3.0, |far| Ground::Panelling.fill(far));
    p.shadow(14.0, r##"<path d="M260 260Q270 200 400 200T560 260V760H270Z" opacity=".7"/>"##);
    p.part(
        r##"<path d="M244 320Q250 230 400 220Q550 230 556 320V760H244Z" fill="#c4221c"/><path d="M244 320Q250 230 400 220Q550 230 556 320V760H244Z" fill="url(#roundh)"/><path d="M270 372H530V760H270Z" fill="#e9e6dc" opacity=".95"/><path d="M244 352H556V760H244Z" fill="url(#roundh)" opacity=".35"/>"##,
        &[cloud(900.0, 0.06), dirt(500.0, 0.1), specks(0.06)],
    );
    let mut body = String::from(
        r##"<rect x="366" y="168" width="68" height="62" fill="url(#chromeh)"/><path d="M280 96Q300 74 340 78H500L560 58Q580 60 576 76L500 116H300Q276 116 280 96Z" fill="url(#black)"/><path d="M300 130H490L560 170Q570 186 552 188L470 176H330Q300 170 300 130Z" fill="url(#black)"/><rect x="350" y="100" width="100" height="80" rx="8" fill="#2a2d2f"/><path d="M300 150C220 150 214 210 218 300S220 420 232 470" fill="none" stroke="#17191a" stroke-width="26"/><path d="M294 146C216 146 210 210 214 300" fill="none" stroke="#5c6164" stroke-width="4"/><circle cx="470" cy="112" r="20" fill="none" stroke="#c9cdd0" stroke-width="5"/><path d="M440 112H500" stroke="#c9cdd0" stroke-width="5"/><path d="M486 126Q500 160 476 176" fill="none" stroke="#e9b62d" stroke-width="5"/>"##,
    );
    // The gauge: recharge, charged, overcharged.
    let (cx, cy, r) = (400.0f32, 186.0f32, 66.0f32);
    let at = |share: f32, radius: f32| {
        let turn = (200.0 + 140.0 * share).to_radians();
        (cx + radius * libm::cosf(turn), cy + 12.0 + radius * libm::sinf(turn))
    };
    let _ = write!(
        body,
        r##"<circle cx="{cx}" cy="{cy}" r="76" fill="#6b7074"/><circle cx="{cx}" cy="{cy}" r="76" fill="url(#chrome)"/><circle cx="{cx}" cy="{cy}" r="{r}" fill="#f4f2ea"/>"##
    );
    for (from, to, colour) in
        [(0.0f32, 0.34f32, "#c5221b"), (0.34, 0.66, "#2f9a45"), (0.66, 1.0, "#c5221b")]
    {
        let (a, b) = (at(from, 46.0), at(to, 46.0));
        let _ = write!(
            body,
            r##"<path d="M{:.1} {:.1}A46 46 0 0 1 {:.1} {:.1}" fill="none" stroke="{colour}" stroke-width="17"/>"##,
            a.0, a.1, b.0, b.1
        );
    }
    let tip = at(needle, 54.0);
    let _ = write!(
        body,
        r##"<path d="M{cx} {y}L{:.1} {:.1}" stroke="#17191a" stroke-width="5" stroke-linecap="round"/><circle cx="{cx}" cy="{y}" r="8" fill="#17191a"/><circle cx="{cx}" cy="{cy}" r="{r}" fill="url(#glass)"/>"##,
        tip.0,
        tip.1,
        y = cy + 12.0
    );
    body += &centred(cx, cy + 44.0, 12.0, 700, "#17191a", "CHARGE");
    body += &centred(400.0, 420.0, 34.0, 700, "#b5211b", "FIRE");
    body += &centred(400.0, 454.0, 30.0, 700, "#b5211b", "EXTINGUISHER");
    for (x, letter, fill) in
        [(318.0f32, "A", "#2f9a45"), (400.0, "B", "#c5221b"), (482.0, "C", "#2c5e9e")]
    {
        let _ = write!(
            body,
            r##"<rect x="{}" y="480" width="60" height="60" rx="6" fill="{fill}"/>"##,
            x - 30.0
        );
        body += &centred(x, 525.0, 44.0, 700, "#fff", &escape(letter));
    }
    body += &centred(400.0, 578.0, 15.0, 600, "#33312b", "PULL   AIM   SQUEEZE   SWEEP");
    p.part(body, &[specks(0.06)]);
    p.part(
        r##"<path d="M236 600H564V640H236Z" fill="#4b4f52"/><path d="M236 600H564V640H236Z" fill="url(#roundh)"/>"##,
        &[specks(0.1)],
    );
}
