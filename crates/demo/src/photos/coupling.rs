//! Coupler, chains, breakaway switch and the frame behind them.

use super::grain::{cloud, dirt, rust, specks, stain};
use super::kit::{Ground, crack, hex_bolt, hose, letters, screw};
use super::picture::{Light, Picture};
use std::fmt::Write as _;

/// The ball coupler at the tip of the A-frame.
pub(super) fn coupler(p: &mut Picture, rusted: bool) {
    p.light = Light::Sun;
    p.pitch = 0.08;
    p.soft(6.0, |far| Ground::Gravel.fill(far));
    p.shadow(20.0, r##"<path d="M120 150L360 420Q420 480 500 430L760 150Z" opacity=".8" transform="translate(16 50)"/>"##);
    let amount = if rusted { 0.42 } else { 0.08 };
    p.part(
        r##"<path d="M-60 -120L250 330L350 330L120 -120Z" fill="#3b3e41"/><path d="M860 -120L550 330L450 330L680 -120Z" fill="#33363a"/><path d="M-60 -120L250 330L276 330L-10 -120Z" fill="#5c6064"/><path d="M860 -120L550 330L530 330L816 -120Z" fill="#202224"/>"##,
        &[cloud(500.0, 0.3), rust(420.0, amount * 0.6), dirt(500.0, 0.3), specks(0.25)],
    );
    p.part(
        r##"<path d="M268 190Q400 150 532 190L520 350Q516 500 400 508Q284 500 280 350Z" fill="#66696c"/><path d="M268 190Q400 150 532 190L520 350Q516 500 400 508Q284 500 280 350Z" fill="url(#roundh)" opacity=".85"/><path d="M296 200Q400 170 504 200L496 330H304Z" fill="#54585b"/><path d="M296 200Q400 170 504 200L496 330H304Z" fill="url(#sheen)"/><ellipse cx="400" cy="412" rx="92" ry="78" fill="#74787b"/><ellipse cx="400" cy="412" rx="92" ry="78" fill="url(#ball)"/><path d="M284 380Q290 500 400 506Q510 500 516 380" fill="none" stroke="#1a1b1c" stroke-width="5" stroke-opacity=".7"/>"##,
        &[cloud(300.0, 0.3), rust(320.0, amount), dirt(400.0, 0.2), specks(0.28)],
    );
    p.shadow(5.0, r##"<path d="M352 210H460L450 340H364Z" opacity=".7"/>"##);
    let mut body = String::from(
        r##"<path d="M350 196Q352 176 372 176H428Q448 176 450 196L440 300Q438 326 400 330Q362 326 360 300Z" fill="#8b9094"/><path d="M350 196Q352 176 372 176H428Q448 176 450 196L440 300Q438 326 400 330Q362 326 360 300Z" fill="url(#roundh)" opacity=".7"/><path d="M366 190H434L430 230H370Z" fill="#b9bec1"/><rect x="390" y="236" width="20" height="52" rx="8" fill="#2b2e30"/><path d="M344 262Q330 262 330 280T346 296H456Q470 296 470 280T454 262" fill="none" stroke="#c6cbce" stroke-width="8"/><path d="M470 280C520 300 500 380 540 400" fill="none" stroke="#9fa4a8" stroke-width="4"/>"##,
    );
    for (x, y) in [(314.0, 226.0), (486.0, 226.0), (312.0, 300.0), (488.0, 300.0)] {
        body += &hex_bolt(x, y, 15.0, 20.0, "#7b8084");
    }
    p.part(body, &[cloud(260.0, 0.2), rust(240.0, amount * 0.6), specks(0.2)]);
    p.paint(r##"<ellipse cx="400" cy="505" rx="64" ry="9" fill="#4a3a20" opacity=".5"/>"##);
}

/// Chain links along a line of points.
fn chain(points: &[(f32, f32)], thick: f32) -> String {
    let mut body = String::new();
    for (number, pair) in points.windows(2).enumerate() {
        let [(x0, y0), (x1, y1)] = *pair else { continue };
        let degrees = libm::atan2f(y1 - y0, x1 - x0).to_degrees();
        let (dx, dy) = (x1 - x0, y1 - y0);
        let long = (dx * dx + dy * dy).sqrt() * 0.5 + thick * 0.9;
        let wide = if number % 2 == 0 { thick * 1.7 } else { thick * 0.55 };
        let _ = write!(
            body,
            r##"<g transform="translate({} {}) rotate({degrees})" fill="none"><rect x="-{long}" y="-{wide}" width="{l2}" height="{w2}" rx="{wide}" stroke="#1b1c1d" stroke-width="{o}"/><rect x="-{long}" y="-{wide}" width="{l2}" height="{w2}" rx="{wide}" stroke="#9a9fa3" stroke-width="{thick}"/><rect x="-{long}" y="-{wide}" width="{l2}" height="{w2}" rx="{wide}" stroke="#e6eaec" stroke-opacity=".8" stroke-width="{f}" transform="translate(-{h} -{h})"/></g>"##,
            (x0 + x1) / 2.0,
            (y0 + y1) / 2.0,
            l2 = long * 2.0,
            w2 = wide * 2.0,
            o = thick * 1.25,
            f = thick * 0.25,
            h = thick * 0.2,
        );
    }
    body
}

/// A line of chain points hanging between two ends.
fn hang(from: (f32, f32), to: (f32, f32), sag: f32, links: u16) -> Vec<(f32, f32)> {
    (0..=links)
        .map(|link| {
            let t = f32::from(link) / f32::from(links);
            (from.0 + (to.0 - from.0) * t, from.1 + (to.1 - from.1) * t + sag * 4.0 * t * (1.0 - t))
        })
        .collect()
}

/// Two safety chains with hooks, crossed under the coupler.
pub(super) fn safety_chains(p: &mut Picture) {
    p.light = Light::Sun;
    p.soft(5.0, |far| Ground::Gravel.fill(far));
    p.part(
        r##"<path d="M-120 -60H920V92H-120Z" fill="#36393c"/><path d="M-120 74H920V96H-120Z" fill="#5b6064"/><path d="M-120 96H920V104H-120Z" fill="#111"/><path d="M150 60H230V124Q230 140 190 140T150 124ZM570 60H650V124Q650 140 610 140T570 124Z" fill="#4d5256"/>"##,
        &[cloud(600.0, 0.3), rust(420.0, 0.12), dirt(500.0, 0.25), specks(0.25)],
    );
    let (one, two) = (
        hang((190.0, 124.0), (570.0, 396.0), 110.0, 12),
        hang((610.0, 124.0), (230.0, 396.0), 110.0, 12),
    );
    p.shadow(
        10.0,
        format!(
            r##"<g transform="translate(16 34)" opacity=".8">{}{}</g>"##,
            shade_line(&one),
            shade_line(&two)
        ),
    );
    let hook = |x: f32, y: f32, flip: f32| {
        format!(
            r##"<g transform="translate({x} {y}) scale({flip} 1)" fill="none" stroke-linecap="round"><path d="M0 -10V20C0 40 50 40 54 84S8 134 -14 96" stroke="#1b1c1d" stroke-width="27"/><path d="M0 -10V20C0 40 50 40 54 84S8 134 -14 96" stroke="#b38b35" stroke-width="21"/><path d="M-4 -10V18C-4 40 44 42 48 84" stroke="#f0d78f" stroke-width="5"/><path d="M4 26L-16 92" stroke="#8c9195" stroke-width="7"/></g>"##
        )
    };
    p.part(
        chain(&one, 13.0) + &hook(576.0, 404.0, 1.0),
        &[cloud(200.0, 0.25), rust(220.0, 0.16), specks(0.2)],
    );
    p.shadow(
        3.0,
        format!(r##"<g transform="translate(6 12)" opacity=".6">{}</g>"##, shade_line(&two[5..9])),
    );
    p.part(
        chain(&two, 13.0) + &hook(224.0, 404.0, -1.0),
        &[cloud(200.0, 0.25), rust(220.0, 0.16), specks(0.2)],
    );
}

fn shade_line(points: &[(f32, f32)]) -> String {
    let list: Vec<String> = points.iter().map(|(x, y)| format!("{x:.0},{y:.0}")).collect();
    format!(
        r##"<polyline points="{}" fill="none" stroke="#000" stroke-width="40"/>"##,
        list.join(" ")
    )
}

/// The breakaway switch with its cable.
pub(super) fn breakaway_switch(p: &mut Picture) {
    p.light = Light::Shade;
    p.yaw = 0.1;
    p.soft(5.0, |far| Ground::Gravel.fill(far));
    p.part(
        r##"<rect x="-120" y="80" width="1040" height="300" fill="#3a3d40"/><rect x="-120" y="80" width="1040" height="34" fill="#64696d"/><rect x="-120" y="356" width="1040" height="26" fill="#1c1e1f"/>"##,
        &[cloud(700.0, 0.3), rust(500.0, 0.1), dirt(600.0, 0.3), specks(0.25)],
    );
    p.shadow(8.0, r##"<rect x="256" y="176" width="310" height="150" rx="22" opacity=".8"/>"##);
    let mut body = hose("M250 230C160 220 120 300 -140 270", 9.0, "#2f5fa8");
    body += &hose("M250 262C170 270 140 350 -140 340", 9.0, "#1e1f20");
    body += r##"<path d="M300 150H380V176H300Z" fill="url(#steel)"/><rect x="240" y="160" width="290" height="140" rx="24" fill="url(#black)"/><rect x="240" y="160" width="290" height="140" rx="24" fill="url(#roundv)" opacity=".6"/><path d="M250 200H520M250 262H520" stroke="#000" stroke-opacity=".6" stroke-width="4"/><rect x="516" y="186" width="56" height="88" rx="16" fill="#d23b2e"/><rect x="516" y="186" width="56" height="88" rx="16" fill="url(#roundv)" opacity=".7"/><circle cx="586" cy="230" r="30" fill="none" stroke="#8e9499" stroke-width="9"/><circle cx="584" cy="227" r="30" fill="none" stroke="#f1f4f5" stroke-opacity=".6" stroke-width="2.5"/>"##;
    let coil = "M612 236q22 -26 34 4q6 22 -10 20q-14 -8 6 -30q24 -20 34 6q6 22 -10 20q-14 -8 6 -30q24 -20 34 6q6 22 -10 20q-14 -8 6 -30q24 -20 60 40";
    body += &hose(coil, 8.0, "#b8bcbf");
    body += &hex_bolt(340.0, 172.0, 14.0, 10.0, "#8b9094");
    body += &screw(268.0, 280.0, 8.0, 20.0);
    body += &letters(290.0, 242.0, 22.0, 700, "#c9cccd", "BREAKAWAY  12 V");
    p.part(body, &[cloud(400.0, 0.14), dirt(400.0, 0.22), specks(0.14)]);
}

/// The frame rail where a cross-member is welded to it.
pub(super) fn frame_rail(p: &mut Picture, cracked: bool) {
    p.light = Light::Flash;
    p.yaw = -0.1;
    p.soft(5.0, |far| Ground::Underside.fill(far));
    p.part(
        r##"<rect x="-120" y="60" width="1040" height="300" fill="#45484b"/><rect x="-120" y="60" width="1040" height="44" fill="#6c7074"/><rect x="-120" y="100" width="1040" height="8" fill="#151617"/><rect x="-120" y="330" width="1040" height="44" fill="#5b5f62"/><rect x="-120" y="374" width="1040" height="12" fill="#101111"/>"##,
        &[cloud(800.0, 0.3), rust(520.0, 0.16), dirt(700.0, 0.3), specks(0.28)],
    );
    p.shadow(10.0, r##"<path d="M330 108H500V720H330Z" opacity=".7"/>"##);
    let mut weld = String::new();
    for bead in 0..26u16 {
        let y = 112.0 + 8.6 * f32::from(bead);
        let _ = write!(
            weld,
            r##"<path d="M{a} {y}q9 -11 18 0q-2 12 -9 12t-9 -12Z" fill="#84888b" stroke="#2b2d2e" stroke-width="1.4"/>"##,
            a = 309.0 + p.dice.between(-1.5, 1.5)
        );
    }
    p.part(
        format!(
            r##"<path d="M320 108H470V740H320Z" fill="#54585b"/><path d="M320 108H350V740H320Z" fill="#787d81"/><path d="M440 108H470V740H440Z" fill="#2c2e30"/><path d="M300 330L320 330V400ZM490 330L470 330V400Z" fill="#4b4f52"/>{weld}"##
        ),
        &[cloud(400.0, 0.3), rust(360.0, 0.18), specks(0.28)],
    );
    if cracked {
        p.soft(7.0, |far| {
            far.part(
                r##"<path d="M322 100Q270 160 276 280T236 372L318 340Z" fill="#7d421d" opacity=".85"/>"##,
                &[stain(140.0, 0.5, 0.9, [120, 66, 32], [66, 30, 14]), specks(0.3)],
            );
        });
        let open = crack(&mut p.dice, (322.0, 112.0), (262.0, 326.0), 11.0);
        p.paint(open);
    }
}
