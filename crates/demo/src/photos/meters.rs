//! Instruments held or laid down with their readings showing.

use super::grain::{brushed, cloud, dirt, specks, stain};
use super::kit::{Dial, Ground, centred, dial, fitting, hex_bolt, hose, lcd, letters};
use super::picture::{Light, Picture};
use std::fmt::Write as _;

/// A round pressure gauge on a brass fitting.
pub(super) fn pressure_gauge(
    p: &mut Picture,
    value: f32,
    full_scale: f32,
    unit: &str,
    label: &str,
) {
    p.light = Light::Sun;
    p.yaw = 0.06;
    p.soft(9.0, |far| {
        Ground::Ribbed.fill(far);
        far.paint(r##"<rect x="-120" y="430" width="1040" height="300" fill="#6f6a60"/><rect x="-120" y="430" width="1040" height="40" fill="#000" opacity=".35"/>"##);
        far.grain(cloud(200.0, 0.3));
    });
    p.shadow(12.0, r##"<circle cx="420" cy="290" r="226" opacity=".6"/><rect x="380" y="480" width="70" height="200" opacity=".6"/>"##);
    let mut body = hose("M400 600C400 680 520 700 560 800", 46.0, "#2b2d2f");
    body += r##"<rect x="366" y="476" width="68" height="62" fill="url(#brassh)"/><path d="M352 528H448L442 596H358Z" fill="url(#brassh)" stroke="#4b3a12"/><path d="M380 528V596M420 528V596" stroke="#4b3a12" stroke-opacity=".5" stroke-width="3"/><rect x="364" y="596" width="72" height="60" fill="url(#brassh)"/><path d="M364 608H436M364 620H436M364 632H436M364 644H436" stroke="#4b3a12" stroke-opacity=".7" stroke-width="4"/>"##;
    p.part(body, &[cloud(300.0, 0.2), specks(0.12)]);
    p.paint(format!(
        r##"<circle cx="400" cy="276" r="222" fill="#7d8387"/><circle cx="400" cy="276" r="222" fill="url(#chrome)"/><circle cx="400" cy="276" r="206" fill="#2c3033"/><circle cx="400" cy="276" r="201" fill="#c5cacd"/>{face}<circle cx="400" cy="276" r="200" fill="none" stroke="#000" stroke-opacity=".35" stroke-width="8"/><circle cx="400" cy="276" r="200" fill="url(#glass)"/>"##,
        face = dial(&Dial { at: (400.0, 276.0), radius: 168.0, full_scale, value, unit, label }),
    ));
    p.grain(specks(0.05));
}

/// A U-tube manometer: water stands apart by the reading, in inches.
pub(super) fn manometer(p: &mut Picture, inches: f32) {
    p.light = Light::Lamp;
    p.soft(7.0, |far| Ground::Panelling.fill(far));
    p.shadow(7.0, r##"<rect x="246" y="-20" width="330" height="600" rx="10" opacity=".55"/>"##);
    p.part(
        r##"<rect x="236" y="-40" width="328" height="606" rx="10" fill="#eeece2"/><rect x="236" y="-40" width="328" height="606" rx="10" fill="url(#sheen)" opacity=".6"/>"##,
        &[cloud(1200.0, 0.06), specks(0.05)],
    );
    // 26 units to the inch, marks at every quarter; nought at 276.
    let mut body = String::new();
    for mark in -32..=32i16 {
        let at = f32::from(mark) / 4.0;
        let y = 276.0 - at * 26.0;
        let (long, thick) = if mark % 4 == 0 {
            (30.0, 2.2)
        } else if mark % 2 == 0 {
            (20.0, 1.3)
        } else {
            (12.0, 1.3)
        };
        let _ = write!(
            body,
            r##"<path d="M{a} {y}H{b}" stroke="#15181b" stroke-width="{thick}"/>"##,
            a = 400.0 - long,
            b = 400.0 + long,
        );
        if mark % 4 == 0 {
            let inch = format!("{}", at.abs());
            body += &centred(352.0, y + 7.0, 20.0, 700, "#15181b", &inch);
            body += &centred(448.0, y + 7.0, 20.0, 700, "#15181b", &inch);
        }
    }
    body += &centred(400.0, 556.0, 17.0, 600, "#15181b", "inches of water");
    // The tube and the water in it.
    let half = inches * 13.0;
    let (high, low) = (276.0 - half, 276.0 + half);
    let tube = "M290 -80V470Q290 520 340 520H460Q510 520 510 470V-80";
    let water = format!("M290 {low}V470Q290 520 340 520H460Q510 520 510 470V{high}");
    let _ = write!(
        body,
        r##"<g fill="none"><path d="{tube}" stroke="#7d888c" stroke-opacity=".75" stroke-width="40"/><path d="{tube}" stroke="#e7eef0" stroke-width="35"/><path d="{water}" stroke="#c22c2c" stroke-opacity=".88" stroke-width="29"/><path d="{water}" stroke="#7e1414" stroke-opacity=".45" stroke-width="12" transform="translate(7 5)"/><path d="{tube}" stroke="#fff" stroke-opacity=".65" stroke-width="6" transform="translate(-9 -6)"/></g><ellipse cx="290" cy="{low}" rx="14.5" ry="5" fill="#e8736b"/><ellipse cx="510" cy="{high}" rx="14.5" ry="5" fill="#e8736b"/>"##
    );
    for y in [60.0, 420.0] {
        for x in [290.0, 510.0] {
            let _ = write!(
                body,
                r##"<rect x="{}" y="{y}" width="56" height="20" rx="4" fill="url(#steel)" stroke="#555"/>"##,
                x - 28.0
            );
        }
    }
    body += &hose("M290 40C290 -60 200 -40 150 -140", 36.0, "#c9b58a");
    p.paint(body);
}

/// A multimeter with its leads.
pub(super) fn multimeter(p: &mut Picture, reading: &str, unit: &str) {
    p.light = Light::Lamp;
    p.roll = 5.0;
    p.soft(2.5, |far| Ground::Worktop.fill(far));
    p.shadow(12.0, r##"<rect x="258" y="30" width="326" height="600" rx="34" opacity=".7"/>"##);
    let mut body = String::from(
        r##"<rect x="238" y="10" width="324" height="620" rx="34" fill="url(#orange)"/><rect x="238" y="10" width="324" height="620" rx="34" fill="url(#sheen)"/><rect x="262" y="34" width="276" height="580" rx="20" fill="url(#black)"/>"##,
    );
    body += &lcd([282.0, 58.0, 236.0, 120.0], "lcdglass", reading, unit);
    for (x, name) in [(302.0, "HOLD"), (366.0, "RANGE"), (430.0, "MIN MAX"), (494.0, "Hz")] {
        let _ = write!(
            body,
            r##"<rect x="{}" y="204" width="48" height="22" rx="8" fill="url(#grey)"/>"##,
            x - 22.0
        );
        body += &centred(x, 240.0, 10.0, 600, "#e6e7e8", name);
    }
    for (number, name) in ["OFF", "V~", "V=", "mV", "Ω", "A=", "A~", "°F"].into_iter().enumerate()
    {
        let turn = ([-150.0f32, -115.0, -80.0, -45.0, -10.0, 25.0, 60.0, 95.0][number % 8] - 60.0)
            .to_radians();
        body += &centred(
            400.0 + 106.0 * libm::cosf(turn),
            368.0 + 100.0 * libm::sinf(turn) + 6.0,
            18.0,
            700,
            if number == 0 { "#f0a35c" } else { "#f2f3f3" },
            name,
        );
    }
    let pointer = if unit.contains('A') {
        25.0
    } else if unit.contains('Ω') {
        -10.0
    } else if unit.contains("DC") || unit.contains('=') {
        -80.0
    } else {
        -115.0
    };
    let _ = write!(
        body,
        r##"<circle cx="404" cy="374" r="74" fill="#000" opacity=".6"/><circle cx="400" cy="368" r="72" fill="#3b3f42"/><circle cx="400" cy="368" r="72" fill="url(#ball)" opacity=".7"/><g transform="rotate({} 400 368)"><rect x="384" y="300" width="32" height="136" rx="14" fill="#26292b" stroke="#5c6164"/><rect x="396" y="304" width="8" height="30" rx="3" fill="#f3f3f0"/></g>"##,
        pointer + 30.0
    );
    for (x, ring, name) in
        [(308.0, "#8b8f92", "10A"), (400.0, "#17191a", "COM"), (492.0, "#c5302a", "VΩ")]
    {
        let _ = write!(
            body,
            r##"<circle cx="{x}" cy="536" r="27" fill="{ring}"/><circle cx="{x}" cy="536" r="27" fill="url(#dish)"/><circle cx="{x}" cy="536" r="15" fill="#060606"/>"##
        );
        body += &centred(x, 498.0, 15.0, 700, "#f2f3f3", name);
    }
    p.part(body, &[specks(0.06), cloud(900.0, 0.05)]);
    let mut leads = hose("M400 536C396 610 330 640 250 660S80 560 60 740", 15.0, "#1b1d1f");
    leads += &hose("M492 536C498 620 590 620 650 560S720 420 840 460", 15.0, "#b4241f");
    leads += r##"<rect x="384" y="520" width="32" height="76" rx="10" fill="url(#black)" stroke="#000"/><rect x="476" y="520" width="32" height="76" rx="10" fill="url(#red)" stroke="#4d0d0b"/>"##;
    p.paint(leads);
}

/// A pocket thermometer with a probe.
pub(super) fn thermometer(p: &mut Picture, reading: &str, unit: &str) {
    p.light = Light::Lamp;
    p.roll = -4.0;
    p.soft(3.0, |far| Ground::Worktop.fill(far));
    p.shadow(12.0, r##"<rect x="184" y="176" width="460" height="270" rx="40" opacity=".65"/>"##);
    let mut body = hose("M610 300C720 300 700 120 620 90S480 60 380 60", 12.0, "#2c2e30");
    body += r##"<rect x="170" y="50" width="220" height="14" rx="7" fill="url(#chrome)"/><path d="M170 50L120 57L170 64Z" fill="url(#chrome)"/><rect x="352" y="42" width="70" height="30" rx="10" fill="url(#black)"/><rect x="166" y="156" width="468" height="276" rx="42" fill="url(#white)"/><rect x="166" y="156" width="468" height="276" rx="42" fill="url(#sheen)" opacity=".8"/><rect x="192" y="182" width="416" height="160" rx="20" fill="#33383b"/>"##;
    body += &lcd([206.0, 196.0, 388.0, 132.0], "lcdglass", reading, unit);
    for (x, fill, name) in [
        (262.0, "url(#red)", "ON/OFF"),
        (400.0, "url(#grey)", "HOLD"),
        (538.0, "url(#grey)", "°C/°F"),
    ] {
        let _ = write!(
            body,
            r##"<rect x="{}" y="364" width="92" height="30" rx="14" fill="{fill}" stroke="#555"/>"##,
            x - 46.0
        );
        body += &centred(x, 416.0, 14.0, 600, "#33383b", name);
    }
    p.part(body, &[specks(0.04), cloud(900.0, 0.05)]);
}

/// A pin moisture meter pressed to a wall panel.
pub(super) fn moisture_meter(p: &mut Picture, percent: f32) {
    p.light = Light::Lamp;
    p.yaw = -0.12;
    p.soft(1.6, |far| Ground::Panelling.fill(far));
    if percent > 17.0 {
        p.grain(stain(1300.0, 0.3, 0.35, [164, 132, 86], [112, 84, 52]));
    }
    p.shadow(12.0, r##"<path d="M300 140H540L580 760H330Z" opacity=".6"/>"##);
    let reading = format!("{percent:.1}");
    let mut body = String::from(
        r##"<path d="M352 92L356 24L360 92ZM440 92L444 24L448 92Z" fill="url(#chromeh)" stroke="#444"/><path d="M330 92H470L486 140H314Z" fill="url(#black)"/><path d="M286 160Q286 130 316 130H484Q514 130 514 160V440Q514 520 496 620V760H304V620Q286 520 286 440Z" fill="url(#yellow)"/><path d="M286 160Q286 130 316 130H484Q514 130 514 160V440Q514 520 496 620V760H304V620Q286 520 286 440Z" fill="url(#roundh)" opacity=".45"/><rect x="306" y="152" width="188" height="270" rx="18" fill="url(#black)"/>"##,
    );
    body += &lcd([318.0, 168.0, 164.0, 100.0], "lcdglass", &reading, "%");
    for step in 0..9u16 {
        let level = 6.0 + 3.0 * f32::from(step);
        let colour = if level < 16.0 {
            "#3fae4b"
        } else if level < 21.0 {
            "#e8b52c"
        } else {
            "#d8352b"
        };
        let _ = write!(
            body,
            r##"<rect x="{}" y="292" width="14" height="26" rx="3" fill="{colour}" opacity="{}"/>"##,
            322.0 + 18.0 * f32::from(step),
            if percent >= level { 1.0 } else { 0.22 }
        );
    }
    body += r##"<circle cx="350" cy="366" r="22" fill="url(#red)"/><circle cx="450" cy="366" r="22" fill="url(#grey)"/><circle cx="350" cy="366" r="22" fill="url(#ball)" opacity=".5"/><circle cx="450" cy="366" r="22" fill="url(#ball)" opacity=".5"/><path d="M306 470H494M308 494H492M310 518H490M312 542H488" stroke="#7d5a10" stroke-opacity=".6" stroke-width="7"/>"##;
    body += &centred(400.0, 412.0, 14.0, 600, "#e6e7e8", "WOOD  MOISTURE");
    p.part(body, &[specks(0.06), cloud(800.0, 0.06)]);
}

/// A platform scale's display on its cable.
pub(super) fn scale_display(p: &mut Picture, reading: &str) {
    p.light = Light::Sun;
    p.pitch = 0.1;
    p.soft(2.0, |far| Ground::Concrete.fill(far));
    p.shadow(10.0, r##"<rect x="130" y="60" width="570" height="60" opacity=".5"/><rect x="156" y="196" width="510" height="330" rx="26" opacity=".7"/>"##);
    p.part(
        r##"<rect x="110" y="-60" width="580" height="160" fill="#787d81"/><rect x="110" y="-60" width="580" height="160" fill="url(#steel)" opacity=".5"/><rect x="110" y="88" width="580" height="16" fill="#3c4043"/><path d="M110 -30L690 -30M110 0H690M110 30H690M110 60H690" stroke="#000" stroke-opacity=".3" stroke-width="6" stroke-dasharray="26 10"/>"##,
        &[cloud(600.0, 0.2), dirt(500.0, 0.35), specks(0.2)],
    );
    let mut body = hose("M400 180C400 120 300 150 300 96", 12.0, "#222426");
    body += r##"<rect x="140" y="176" width="520" height="330" rx="28" fill="url(#black)"/><rect x="140" y="176" width="520" height="330" rx="28" fill="url(#sheen)" opacity=".5"/><rect x="160" y="196" width="480" height="290" rx="14" fill="#565c60"/>"##;
    body += &lcd([182.0, 218.0, 436.0, 150.0], "lcdglass", reading, "lb");
    for (x, name) in
        [(220.0, "ON"), (310.0, "ZERO"), (400.0, "TARE"), (490.0, "kg/lb"), (580.0, "HOLD")]
    {
        let _ = write!(
            body,
            r##"<rect x="{}" y="398" width="76" height="50" rx="10" fill="url(#grey)" stroke="#2d3133"/>"##,
            x - 38.0
        );
        body += &centred(x, 430.0, 18.0, 700, "#17191a", name);
    }
    body += &centred(400.0, 474.0, 15.0, 600, "#dfe2e4", "MAX 3000 lb   d = 1 lb");
    p.part(body, &[specks(0.08), dirt(500.0, 0.12)]);
    p.paint(
        hex_bolt(140.0, 60.0, 14.0, 10.0, "#8a8f93")
            + &hex_bolt(660.0, 60.0, 14.0, 40.0, "#8a8f93"),
    );
}

/// A spirit level on the floor, its bubble moved by the tilt.
pub(super) fn level(p: &mut Picture, tilt_degrees: f32) {
    p.light = Light::Lamp;
    p.pitch = 0.12;
    p.roll = 1.5;
    p.soft(1.5, |far| Ground::Boards.fill(far));
    p.shadow(9.0, r##"<rect x="-60" y="226" width="960" height="196" opacity=".65"/>"##);
    p.part(
        r##"<rect x="-60" y="196" width="940" height="196" rx="6" fill="#d8a41d"/><rect x="-60" y="196" width="940" height="34" fill="#f3cd5a"/><rect x="-60" y="358" width="940" height="34" fill="#9a700d"/><rect x="-60" y="228" width="940" height="3" fill="#6d4e07"/><rect x="-60" y="356" width="940" height="3" fill="#6d4e07"/><rect x="250" y="180" width="300" height="150" rx="20" fill="#23272a"/>"##,
        &[brushed(1200.0, 20.0, 0.0, 0.08), dirt(500.0, 0.16), specks(0.08)],
    );
    // A vial of this kind moves about 34 units a degree until the bubble meets its end.
    let shift = (tilt_degrees * 34.0).clamp(-86.0, 86.0);
    let mut body = format!(
        r##"<rect x="272" y="206" width="256" height="84" rx="42" fill="#b9dd2a"/><rect x="272" y="206" width="256" height="84" rx="42" fill="url(#roundv)" opacity=".7"/><ellipse cx="{x}" cy="242" rx="46" ry="25" fill="#e9f7a8" stroke="#7a9a10" stroke-width="3"/><ellipse cx="{h}" cy="232" rx="20" ry="8" fill="#fff" opacity=".85"/><path d="M352 206V290M448 206V290" stroke="#111" stroke-width="4"/><path d="M318 214V282M482 214V282" stroke="#111" stroke-opacity=".5" stroke-width="2"/>"##,
        x = 400.0 + shift,
        h = 390.0 + shift,
    );
    for inch in 0..30u16 {
        let x = -40.0 + f32::from(inch) * 30.0;
        let _ = write!(
            body,
            r##"<path d="M{x} 392V{y}" stroke="#2a1f04" stroke-width="2"/>"##,
            y = if inch % 4 == 0 { 366.0 } else { 378.0 }
        );
    }
    let shown = format!("{:.1}°", tilt_degrees.abs());
    let size = fitting(&shown, 44.0, 130.0);
    body += r##"<rect x="590" y="240" width="150" height="104" rx="10" fill="#23272a"/><rect x="602" y="252" width="126" height="80" rx="5" fill="url(#lcdglass)"/>"##;
    body += &centred(665.0, 292.0 + size * 0.36, size, 700, "#15181a", &shown);
    body += &letters(90.0, 314.0, 44.0, 700, "#6d4e07", "24 in.");
    p.paint(body);
}
