//! Tyres, hubs, brakes and springs.

use super::grain::{brushed, cloud, dirt, rust, specks, stain};
use super::kit::{Ground, centred, crack, escape, hex_bolt, hose, lcd, letters, spots};
use super::picture::{Light, Picture};
use std::fmt::Write as _;

/// A tyre's sidewall with its raised letters, the wheel below.
pub(super) fn tyre_sidewall(p: &mut Picture, size: &str, code: &str, pressure: &str) {
    p.light = Light::Sun;
    p.roll = -4.0;
    p.soft(8.0, |far| {
        Ground::Gravel.fill(far);
        far.paint(r##"<rect x="-120" y="-120" width="1040" height="250" fill="#1d1c1a"/><rect x="-120" y="-120" width="1040" height="120" fill="#dedcd6"/>"##);
    });
    // Tread blocks, sidewall, rings.
    let mut tread = String::new();
    for number in 0..72u16 {
        let turn = f32::from(number) * 5.0;
        let _ = write!(
            tread,
            r##"<path d="M382 24L386 8H416L420 24L420 70H380Z" transform="rotate({turn} 400 620)"/>"##
        );
    }
    p.shadow(10.0, r##"<circle cx="406" cy="626" r="606" opacity=".6"/>"##);
    p.part(
        format!(
            r##"<defs><radialGradient id="t" gradientUnits="userSpaceOnUse" cx="400" cy="620" r="600"><stop offset=".5" stop-color="#17181a"/><stop offset=".545" stop-color="#3a3c3f"/><stop offset=".6" stop-color="#2a2b2e"/><stop offset=".72" stop-color="#4b4d50"/><stop offset=".84" stop-color="#3b3d40"/><stop offset=".93" stop-color="#2a2b2d"/><stop offset="1" stop-color="#151617"/></radialGradient></defs><circle cx="400" cy="620" r="588" fill="#1c1d1e"/><g fill="#2c2d2f">{tread}</g><circle cx="400" cy="620" r="572" fill="url(#t)"/><g fill="none" stroke="#000" stroke-opacity=".5" stroke-width="3"><circle cx="400" cy="620" r="556"/><circle cx="400" cy="620" r="536"/><circle cx="400" cy="620" r="352"/><circle cx="400" cy="620" r="336"/></g><g fill="none" stroke="#fff" stroke-opacity=".13" stroke-width="2.5"><circle cx="400" cy="617" r="557"/><circle cx="400" cy="617" r="537"/><circle cx="400" cy="617" r="353"/><circle cx="400" cy="617" r="337"/></g>"##
        ),
        &[cloud(600.0, 0.25), dirt(500.0, 0.34), specks(0.3)],
    );
    // Raised letters along rings.
    let ring = |id: &str, r: f32| {
        format!(r##"<path id="{id}" d="M{} 620A{r} {r} 0 0 1 {} 620"/>"##, 400.0 - r, 400.0 + r)
    };
    let raised = |id: &str, share: f32, high: f32, text: &str| {
        let text = escape(text);
        let copy = |dx: f32, dy: f32, fill: &str, opacity: f32| {
            format!(
                r##"<text transform="translate({dx} {dy})" font-size="{high}" font-weight="700" letter-spacing="{l}" text-anchor="middle" fill="{fill}" opacity="{opacity}"><textPath href="#{id}" startOffset="{share}%">{text}</textPath></text>"##,
                l = high * 0.09
            )
        };
        copy(2.2, 2.6, "#000", 0.75)
            + &copy(-1.4, -1.6, "#fff", 0.34)
            + &copy(0.0, 0.0, "#8b8c8c", 1.0)
    };
    p.part(
        format!(
            "<defs>{}{}{}</defs>{}{}{}",
            ring("a", 458.0),
            ring("b", 398.0),
            ring("c", 360.0),
            raised("a", 50.0, 60.0, size),
            raised("b", 50.0, 34.0, code),
            raised("c", 50.0, 19.0, pressure),
        ),
        &[cloud(300.0, 0.25), dirt(400.0, 0.3), specks(0.25)],
    );
    p.part(
        r##"<circle cx="400" cy="620" r="306" fill="#b8bcbf"/><circle cx="400" cy="620" r="306" fill="url(#steel)"/><circle cx="400" cy="624" r="282" fill="#5b5f63"/><circle cx="400" cy="630" r="276" fill="#a8adb1"/><circle cx="400" cy="634" r="240" fill="#8e9498"/>"##,
        &[brushed(500.0, 40.0, 30.0, 0.1), dirt(380.0, 0.35), specks(0.12)],
    );
    let mut holes = String::new();
    for number in 0..8u16 {
        let turn = f32::from(number) * 45.0 + 22.5;
        let _ = write!(
            holes,
            r##"<g transform="rotate({turn} 400 630)"><path d="M368 412Q400 398 432 412L424 460Q400 468 376 460Z" fill="#151617"/><path d="M368 412Q400 398 432 412" fill="none" stroke="#fff" stroke-opacity=".5" stroke-width="3"/></g>"##
        );
    }
    for number in 0..6u16 {
        let turn = (f32::from(number) * 60.0).to_radians();
        holes += &hex_bolt(
            400.0 + 112.0 * libm::sinf(turn),
            630.0 - 112.0 * libm::cosf(turn),
            17.0,
            12.0,
            "#a9adb0",
        );
    }
    holes += r##"<circle cx="400" cy="630" r="62" fill="#7b8185"/><circle cx="400" cy="630" r="62" fill="url(#ball)"/><path d="M640 408L662 386L676 400L654 422Z" fill="#1a1b1c"/><path d="M662 386L676 400L683 393L669 379Z" fill="#c9c9c4"/>"##;
    p.paint(holes);
}

/// The tread with a depth gauge standing in a groove.
pub(super) fn tread_gauge(p: &mut Picture, thirty_seconds: f32) {
    p.light = Light::Sun;
    p.roll = 3.0;
    p.soft(7.0, |far| Ground::Gravel.fill(far));
    p.shadow(14.0, r##"<rect x="80" y="-120" width="680" height="860" opacity=".7"/>"##);
    let mut sipes = String::new();
    for (column, x) in [98.0f32, 248.0, 418.0, 568.0].into_iter().enumerate() {
        let wide = if column == 1 || column == 2 { 134.0 } else { 128.0 };
        let mut y = -140.0f32;
        while y < 740.0 {
            let lean = if column % 2 == 0 { 14.0 } else { -14.0 };
            let _ = write!(
                sipes,
                r##"<path d="M{x} {y}L{a} {b}V{c}L{x} {d}Z" fill="#46484a"/><path d="M{x} {y}L{a} {b}" stroke="#7a7c7d" stroke-width="2"/><path d="M{e} {f}l46 {g}" stroke="#101112" stroke-width="4"/>"##,
                a = x + wide,
                b = y + lean,
                c = y + lean + 84.0,
                d = y + 84.0,
                e = x + wide * 0.3,
                f = y + 44.0,
                g = lean * 0.4,
            );
            y += 94.0;
        }
    }
    p.part(
        format!(
            r##"<rect x="76" y="-130" width="648" height="860" fill="#131415"/>{sipes}<rect x="230" y="-130" width="14" height="860" fill="#000" opacity=".6"/><rect x="386" y="-130" width="28" height="860" fill="#070808"/><rect x="556" y="-130" width="12" height="860" fill="#000" opacity=".6"/><g fill="#2b2c2d"><rect x="386" y="474" width="28" height="18"/><rect x="232" y="474" width="12" height="18"/></g><rect x="76" y="-130" width="648" height="860" fill="url(#roundh)" opacity=".8"/>"##
        ),
        &[cloud(420.0, 0.3), dirt(480.0, 0.3), specks(0.35)],
    );
    // The gauge: foot bridge across two ribs, barrel above, sliding rule sticking out.
    p.shadow(5.0, r##"<path d="M270 372H560V404H270ZM392 60H456V380H392Z" opacity=".7"/>"##);
    let out = 15.0 * thirty_seconds;
    let top = 182.0 - out;
    let mut rule = format!(
        r##"<rect x="376" y="{top}" width="48" height="{h}" fill="#f4f2ea" stroke="#333" stroke-width="1"/><rect x="376" y="{top}" width="48" height="{h}" fill="url(#roundh)" opacity=".35"/>"##,
        h = 190.0 + out
    );
    for mark in 0..=20u16 {
        let depth = f32::from(mark);
        let y = top + 15.0 * depth;
        if y > 180.0 {
            break;
        }
        let long = if mark % 2 == 0 { 18.0 } else { 10.0 };
        let _ = write!(rule, r##"<path d="M376 {y}h{long}" stroke="#111" stroke-width="1.6"/>"##);
        if mark % 2 == 0 && y < 172.0 {
            rule += &letters(399.0, y + 6.0, 16.0, 700, "#111", &format!("{mark}"));
        }
    }
    p.paint(format!(
        r##"{rule}<rect x="366" y="{cap}" width="68" height="16" rx="4" fill="url(#red)"/><rect x="358" y="180" width="84" height="190" rx="8" fill="#c9ced2"/><rect x="358" y="180" width="84" height="190" rx="8" fill="url(#chromeh)"/><rect x="358" y="180" width="84" height="10" rx="3" fill="#33383c"/><rect x="252" y="366" width="296" height="30" rx="6" fill="url(#chrome)" stroke="#3b4044"/><rect x="396" y="394" width="8" height="70" fill="url(#steelh)"/><path d="M372 240H428M372 250H428M372 260H428M372 270H428" stroke="#000" stroke-opacity=".45" stroke-width="3"/><rect x="374" y="296" width="52" height="42" fill="#f4f2ea"/>{u}{v}"##,
        cap = top - 14.0,
        u = centred(400.0, 313.0, 15.0, 700, "#111", "1/32"),
        v = centred(400.0, 331.0, 15.0, 700, "#111", "inch"),
    ));
}

/// A hub aimed at with an infrared thermometer.
pub(super) fn hub_infrared(p: &mut Picture, reading: &str) {
    p.light = Light::Sun;
    p.soft(4.0, |far| {
        Ground::Gravel.fill(far);
        far.part(
            r##"<circle cx="330" cy="250" r="330" fill="#1d1e1f"/><circle cx="330" cy="250" r="300" fill="#38393b"/><circle cx="330" cy="250" r="228" fill="#1a1b1c"/>"##,
            &[dirt(500.0, 0.4), specks(0.3)],
        );
    });
    let mut bolts = String::new();
    for number in 0..6u16 {
        let turn = (f32::from(number) * 60.0 + 15.0).to_radians();
        bolts += &hex_bolt(
            330.0 + 92.0 * libm::sinf(turn),
            250.0 - 92.0 * libm::cosf(turn),
            17.0,
            20.0,
            "#9da1a4",
        );
    }
    for number in 0..8u16 {
        let turn = f32::from(number) * 45.0;
        let _ = write!(
            bolts,
            r##"<path d="M304 72Q330 60 356 72L350 108Q330 116 310 108Z" fill="#1a1b1c" transform="rotate({turn} 330 250)"/>"##
        );
    }
    p.part(
        format!(
            r##"<circle cx="330" cy="250" r="222" fill="#c8cbcd"/><circle cx="330" cy="250" r="222" fill="url(#steel)"/><circle cx="330" cy="250" r="200" fill="#a9aeb1"/><circle cx="330" cy="250" r="126" fill="#959a9e"/><circle cx="330" cy="250" r="126" fill="url(#sheen)"/>{bolts}<circle cx="330" cy="250" r="56" fill="#878d91"/><circle cx="330" cy="250" r="56" fill="url(#ball)"/><circle cx="330" cy="250" r="40" fill="#6f7579"/><circle cx="330" cy="250" r="40" fill="url(#ball)"/>"##
        ),
        &[brushed(400.0, 60.0, 40.0, 0.1), dirt(420.0, 0.3), rust(300.0, 0.06), specks(0.12)],
    );
    p.paint(r##"<circle cx="344" cy="240" r="34" fill="url(#glow)" opacity=".35"/><circle cx="344" cy="240" r="10" fill="#ff2a20"/><circle cx="344" cy="240" r="20" fill="#ff2a20" opacity=".4"/>"##);
    p.shadow(16.0, r##"<path d="M440 330L720 300L760 720H520Z" opacity=".55"/>"##);
    thermometer_gun(p, reading);
}

/// The thermometer from behind, as the person holding it sees it.
fn thermometer_gun(p: &mut Picture, reading: &str) {
    let pane = lcd([472.0, 330.0, 188.0, 118.0], "lcdlit", reading, "°F");
    p.part(
        format!(
            r##"<g transform="rotate(-8 560 420)"><path d="M500 470H640L668 760H520Z" fill="url(#black)"/><path d="M512 500H628M514 530H632M517 560H636M520 590H640" stroke="#000" stroke-opacity=".5" stroke-width="8"/><path d="M452 318Q452 288 482 284L540 268H592L652 284Q682 288 682 318V456Q682 490 652 492H482Q452 490 452 456Z" fill="#f0b51f"/><path d="M452 318Q452 288 482 284L540 268H592L652 284Q682 288 682 318V456Q682 490 652 492H482Q452 490 452 456Z" fill="url(#sheen)"/><path d="M460 318Q462 298 484 296H650Q672 298 674 318V450Q674 480 650 482H484Q460 480 460 450Z" fill="url(#black)"/>{pane}<rect x="478" y="456" width="50" height="20" rx="8" fill="#d23b2e"/><rect x="541" y="456" width="50" height="20" rx="8" fill="#6b7074"/><rect x="604" y="456" width="50" height="20" rx="8" fill="#6b7074"/>{laser}</g>"##,
            laser = letters(484.0, 324.0, 14.0, 600, "#d7dadc", "LASER  EMS 0.95"),
        ),
        &[cloud(700.0, 0.08), specks(0.08)],
    );
}

/// A brake opened: backing plate, shoes, springs, magnet.
pub(super) fn brake_drum(p: &mut Picture) {
    p.light = Light::Flash;
    p.soft(4.0, |far| Ground::Underside.fill(far));
    p.shadow(10.0, r##"<circle cx="408" cy="312" r="278" opacity=".8"/>"##);
    p.part(
        r##"<circle cx="400" cy="300" r="272" fill="#3a3c3e"/><circle cx="400" cy="300" r="272" fill="url(#sheen)"/><circle cx="400" cy="300" r="256" fill="#2c2e30"/><circle cx="400" cy="300" r="252" fill="#414446"/>"##,
        &[cloud(500.0, 0.4), rust(420.0, 0.2), dirt(500.0, 0.3), specks(0.3)],
    );
    // Shoes: web and lining.
    let shoe = |turn: f32| {
        format!(
            r##"<g transform="rotate({turn} 400 300)"><path d="M438 70A233 233 0 0 1 438 530" fill="none" stroke="#20201f" stroke-width="34"/><path d="M440 76A228 228 0 0 1 440 524" fill="none" stroke="#8a7b66" stroke-width="20"/><path d="M436 96A208 208 0 0 1 436 504" fill="none" stroke="#55585a" stroke-width="14"/><path d="M428 112Q640 180 622 300Q640 420 428 488Q560 420 552 300Q560 180 428 112Z" fill="#4a4d4f"/></g>"##
        )
    };
    p.part(shoe(0.0) + &shoe(180.0), &[cloud(300.0, 0.35), rust(240.0, 0.24), specks(0.3)]);
    let coil = |x0: f32, x1: f32, y: f32, count: u16| {
        let step = (x1 - x0) / f32::from(count);
        let mut path = format!("M{x0} {y}");
        for _ in 0..count {
            let _ = write!(path, "q{} -14 {} 0t{} 0", step / 4.0, step / 2.0, step / 2.0);
        }
        hose(&path, 4.5, "#a7adb0")
    };
    let mut body = coil(290.0, 392.0, 128.0, 11)
        + &coil(408.0, 510.0, 128.0, 11)
        + &coil(318.0, 482.0, 470.0, 16);
    body += r##"<circle cx="400" cy="112" r="26" fill="url(#steel)"/><circle cx="400" cy="112" r="26" fill="url(#ball)"/><rect x="352" y="492" width="96" height="18" rx="4" fill="url(#steel)"/><g fill="#6d7276" stroke="#222" stroke-width="1"><circle cx="400" cy="501" r="24"/></g><path d="M400 477V525M376 501H424M383 484L417 518M417 484L383 518" stroke="#2a2d2f" stroke-width="5"/>"##;
    // Actuating arm and magnet.
    body += r##"<path d="M388 120Q350 240 444 386L470 372Q384 250 414 118Z" fill="url(#darksteel)" stroke="#111"/><ellipse cx="462" cy="398" rx="60" ry="38" transform="rotate(-18 462 398)" fill="#17181a"/><ellipse cx="459" cy="392" rx="58" ry="36" transform="rotate(-18 459 392)" fill="#7d8387"/><ellipse cx="459" cy="392" rx="58" ry="36" transform="rotate(-18 459 392)" fill="url(#sheen)"/><ellipse cx="459" cy="392" rx="22" ry="13" transform="rotate(-18 459 392)" fill="#1e2022"/>"##;
    body += &hose("M505 402Q560 430 572 480T630 560", 6.0, "#2f7d3c");
    body += &hose("M500 412Q545 450 556 500T610 580", 6.0, "#2f7d3c");
    body += r##"<circle cx="400" cy="300" r="74" fill="#27292b"/><circle cx="400" cy="300" r="66" fill="url(#steel)"/><circle cx="400" cy="300" r="44" fill="#8f959a"/><circle cx="400" cy="300" r="44" fill="url(#ball)"/><circle cx="400" cy="300" r="26" fill="#c9ced1"/><circle cx="400" cy="300" r="26" fill="url(#ball)"/><ellipse cx="380" cy="352" rx="70" ry="16" fill="#7a5a22" opacity=".35"/>"##;
    for (x, y) in [(330.0, 240.0), (470.0, 240.0), (330.0, 360.0), (470.0, 340.0)] {
        body += &hex_bolt(x, y, 13.0, 10.0, "#777c80");
    }
    p.part(body, &[cloud(260.0, 0.2), rust(200.0, 0.08), specks(0.2)]);
    let dust = spots(&mut p.dice, [160.0, 120.0, 640.0, 520.0], 60, (1.0, 4.0), "#5a4a3a");
    p.paint(dust);
}

/// Leaf springs meeting at the equaliser under the frame rail.
pub(super) fn spring_hanger(p: &mut Picture, cracked: bool) {
    p.light = Light::Flash;
    p.yaw = 0.1;
    p.soft(6.0, |far| {
        Ground::Underside.fill(far);
        far.paint(
            r##"<rect x="-120" y="430" width="1040" height="300" fill="#8f8a80" opacity=".8"/>"##,
        );
        far.grain(cloud(200.0, 0.5));
    });
    p.part(
        r##"<rect x="-120" y="40" width="1040" height="150" fill="#3d4042"/><rect x="-120" y="40" width="1040" height="18" fill="#6d7174"/><rect x="-120" y="170" width="1040" height="22" fill="#565a5d"/><rect x="-120" y="192" width="1040" height="10" fill="#0e0f0f"/>"##,
        &[cloud(900.0, 0.3), rust(600.0, 0.14), dirt(700.0, 0.3), specks(0.25)],
    );
    let leaf = |y: f32, thick: f32, reach: f32| {
        format!(
            r##"<path d="M400 {a}Q{b} {c} {d} {e}" fill="none" stroke="#101112" stroke-width="{o}"/><path d="M400 {a}Q{b} {c} {d} {e}" fill="none" stroke="#55595c" stroke-width="{thick}"/><path d="M400 {f}Q{b} {g} {d} {h}" fill="none" stroke="#9a9fa2" stroke-width="2.5"/>"##,
            a = y,
            b = 400.0 + reach * 0.45,
            c = y + 60.0,
            d = 400.0 + reach,
            e = y + 118.0,
            o = thick + 4.0,
            f = y - thick / 2.0,
            g = y + 60.0 - thick / 2.0,
            h = y + 118.0 - thick / 2.0,
        )
    };
    let pack =
        |y: f32| leaf(y, 18.0, 620.0) + &leaf(y + 22.0, 16.0, 520.0) + &leaf(y + 42.0, 16.0, 400.0);
    p.part(
        format!(
            r##"<g transform="translate(112 16)">{r}</g><g transform="translate(688 16) scale(-1 1)">{l}</g>"##,
            r = pack(342.0),
            l = pack(342.0)
        ),
        &[cloud(400.0, 0.3), rust(300.0, 0.3), dirt(400.0, 0.2), specks(0.25)],
    );
    p.shadow(6.0, r##"<path d="M300 200H520L480 330H340Z" opacity=".6"/>"##);
    p.part(
        r##"<path d="M296 186H504L468 318Q400 352 332 318Z" fill="#4d5154"/><path d="M296 186H504L468 318Q400 352 332 318Z" fill="url(#sheen)"/><path d="M272 186H528V200H272Z" fill="#6a6e71"/><path d="M250 352Q256 312 300 314L400 300L500 314Q544 312 550 352Q552 392 512 398Q470 360 400 362Q330 360 288 398Q248 392 250 352Z" fill="#5d6164" stroke="#141516" stroke-width="3"/><path d="M250 352Q256 312 300 314L400 300L500 314Q544 312 550 352Q552 392 512 398Q470 360 400 362Q330 360 288 398Q248 392 250 352Z" fill="url(#roundv)" opacity=".5"/><path d="M280 188Q300 176 330 190T390 186T450 190T524 188" fill="none" stroke="#8b8782" stroke-width="9"/>"##,
        &[cloud(300.0, 0.3), rust(260.0, 0.24), dirt(400.0, 0.2), specks(0.3)],
    );
    let mut body = String::new();
    for (x, y) in [(290.0, 356.0), (400.0, 326.0), (510.0, 356.0)] {
        body += &hex_bolt(x, y, 21.0, 14.0, "#7d8285");
    }
    if cracked {
        body += &crack(&mut p.dice, (330.0, 206.0), (452.0, 300.0), 9.0);
        body += r##"<path d="M330 206l122 94" stroke="#8a4a22" stroke-width="26" opacity=".25"/>"##;
    }
    p.part(
        body,
        &[rust(160.0, 0.2), stain(120.0, 0.12, 0.6, [60, 50, 40], [30, 26, 22]), specks(0.2)],
    );
}
