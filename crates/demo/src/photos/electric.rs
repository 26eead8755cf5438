//! Mains power, battery and sun.

use super::grain::{cloud, dirt, specks, stain};
use super::kit::{Ground, centred, hex_bolt, hose, letters, screw};
use super::picture::{Light, Picture};
use std::fmt::Write as _;

/// A three-lamp tester in a duplex outlet; lamps from left to right.
pub(super) fn outlet_tester(p: &mut Picture, lamps: [bool; 3]) {
    p.light = Light::Lamp;
    p.yaw = 0.1;
    p.soft(1.6, |far| Ground::Panelling.fill(far));
    p.shadow(6.0, r##"<rect x="238" y="46" width="346" height="520" rx="18" opacity=".6"/>"##);
    let mut body = String::from(
        r##"<rect x="230" y="34" width="340" height="520" rx="18" fill="url(#white)"/><rect x="234" y="38" width="332" height="512" rx="16" fill="none" stroke="#fff" stroke-width="3"/><rect x="318" y="92" width="164" height="404" rx="10" fill="#d9d6cd"/><rect x="318" y="92" width="164" height="404" rx="10" fill="none" stroke="#8d8a82" stroke-width="2"/><path d="M326 340Q326 322 344 322H456Q474 322 474 340V452Q474 470 456 470H344Q326 470 326 452Z" fill="#eceae3" stroke="#9a978f" stroke-width="2"/><rect x="362" y="356" width="11" height="42" rx="2" fill="#15130f"/><rect x="426" y="360" width="11" height="34" rx="2" fill="#15130f"/><path d="M388 446V430A12 12 0 0 1 412 430V446Z" fill="#15130f"/>"##,
    );
    body += &screw(400.0, 298.0, 11.0, 30.0);
    p.part(body, &[cloud(900.0, 0.06), specks(0.05)]);
    p.shadow(10.0, r##"<path d="M320 120H520V300H340Z" opacity=".6"/>"##);
    let mut tester = String::from(
        r##"<path d="M300 66Q300 44 322 44H478Q500 44 500 66V250Q500 290 460 290H340Q300 290 300 250Z" fill="url(#yellow)"/><path d="M300 66Q300 44 322 44H478Q500 44 500 66V250Q500 290 460 290H340Q300 290 300 250Z" fill="url(#sheen)"/><rect x="322" y="62" width="156" height="64" rx="8" fill="#1d1f20"/><rect x="322" y="140" width="156" height="128" rx="6" fill="#f2efe2"/>"##,
    );
    for (number, (lit, colour)) in
        lamps.into_iter().zip(["#ff3b2e", "#ffb02e", "#ffb02e"]).enumerate()
    {
        let x = [352.0f32, 400.0, 448.0][number % 3];
        let _ = write!(
            tester,
            r##"<circle cx="{x}" cy="94" r="16" fill="#2b2522"/><circle cx="{x}" cy="94" r="14" fill="{}"/>"##,
            if lit { colour } else { "#57443a" }
        );
        if lit {
            let _ = write!(tester, r##"<circle cx="{x}" cy="94" r="7" fill="#fff3d6"/>"##);
        }
    }
    for (row, (name, marks)) in [
        ("CORRECT", "○●●"),
        ("OPEN GROUND", "○●○"),
        ("OPEN NEUTRAL", "○○○"),
        ("HOT/GRD REV", "●●○"),
        ("HOT/NEU REV", "●○●"),
    ]
    .into_iter()
    .enumerate()
    {
        let y = [160.0f32, 182.0, 204.0, 226.0, 248.0][row % 5];
        tester += &letters(330.0, y + 4.0, 12.0, 600, "#26231c", name);
        for (lamp, x) in marks.chars().zip([436.0f32, 450.0, 464.0]) {
            let _ = write!(
                tester,
                r##"<circle cx="{x}" cy="{y}" r="5" fill="{}" stroke="#26231c"/>"##,
                if lamp == '●' { "#e0821e" } else { "#fff" }
            );
        }
    }
    p.part(tester, &[specks(0.06)]);
    p.soft(7.0, |far| {
        for (lit, x) in lamps.into_iter().zip([352.0f32, 400.0, 448.0]) {
            if lit {
                far.paint(format!(
                    r##"<circle cx="{x}" cy="94" r="24" fill="#ffb050" opacity=".5"/>"##
                ));
            }
        }
    });
}

/// The breaker panel with its cover off; one breaker for each rating, the first is the main.
pub(super) fn breaker_panel(p: &mut Picture, ratings: &[u16]) {
    p.light = Light::Flash;
    p.yaw = -0.08;
    p.soft(2.0, |far| Ground::Panelling.fill(far));
    p.shadow(8.0, r##"<rect x="116" y="36" width="590" height="550" rx="8" opacity=".7"/>"##);
    p.part(
        r##"<rect x="106" y="24" width="588" height="552" rx="8" fill="#6b7074"/><rect x="122" y="40" width="556" height="520" fill="#3c4043"/><rect x="122" y="40" width="556" height="26" fill="#222527"/><rect x="122" y="40" width="22" height="520" fill="#2b2e30"/>"##,
        &[cloud(800.0, 0.16), specks(0.12)],
    );
    let mut wires = String::new();
    for (number, colour) in [
        "#1d1e1f", "#1d1e1f", "#b3241f", "#1d1e1f", "#e8e6df", "#e8e6df", "#e8e6df", "#b07a3c",
        "#b07a3c",
    ]
    .into_iter()
    .enumerate()
    {
        let spread = [0.0f32, 14.0, 28.0, 42.0, 56.0, 70.0, 84.0, 98.0, 112.0][number % 9];
        let (sway, end) = (p.dice.between(-30.0, 30.0), p.dice.between(120.0, 480.0));
        wires += &hose(
            &format!(
                "M{x} 60C{x} 200 {a} {b} 640 {end}",
                x = 548.0 + spread,
                a = 600.0 + sway,
                b = end - 40.0
            ),
            9.0,
            colour,
        );
    }
    wires += r##"<rect x="600" y="80" width="22" height="300" rx="3" fill="url(#steelh)"/><rect x="640" y="80" width="22" height="220" rx="3" fill="url(#brassh)"/>"##;
    for number in 0..10u16 {
        wires += &screw(611.0, 98.0 + 28.0 * f32::from(number), 7.0, 25.0 * f32::from(number));
    }
    p.part(wires, &[specks(0.12)]);
    let mut count = 0.0f32;
    for _ in ratings {
        count += 1.0;
    }
    let pitch = (470.0 / count.max(1.0)).min(84.0);
    let mut body = String::from(
        r##"<rect x="180" y="66" width="22" height="480" fill="url(#steelh)"/><rect x="440" y="66" width="18" height="480" fill="url(#copperh)"/>"##,
    );
    let mut y = 76.0;
    for (number, rating) in ratings.iter().enumerate() {
        let tall = pitch - 6.0;
        let _ = write!(
            body,
            r##"<rect x="200" y="{y}" width="250" height="{tall}" rx="5" fill="#17191a"/><rect x="204" y="{a}" width="242" height="{b}" rx="4" fill="url(#black)"/><rect x="290" y="{c}" width="86" height="{d}" rx="5" fill="#050606"/><rect x="{e}" y="{f}" width="46" height="{g}" rx="5" fill="#2e3235"/><rect x="{e}" y="{f}" width="46" height="{h}" rx="4" fill="#6b7074"/><rect x="212" y="{i}" width="64" height="{j}" fill="#e9e7df"/>"##,
            a = y + 2.0,
            b = tall - 4.0,
            c = y + tall * 0.22,
            d = tall * 0.56,
            e = if number % 7 == 5 { 296.0 } else { 326.0 },
            f = y + tall * 0.18,
            g = tall * 0.64,
            h = tall * 0.16,
            i = y + tall * 0.2,
            j = tall * 0.6,
        );
        let shown = rating.to_string();
        body += &centred(244.0, y + tall * 0.64, (tall * 0.42).min(30.0), 700, "#15181a", &shown);
        body += &centred(
            412.0,
            y + tall * 0.6,
            (tall * 0.3).min(16.0),
            600,
            "#cfd2d3",
            if number == 0 { "MAIN" } else { "ON" },
        );
        body += &screw(468.0, y + tall * 0.5, (tall * 0.14).min(8.0), 40.0);
        body += &hose(
            &format!(
                "M476 {m}C530 {m} {e} {n} {e} 44",
                m = y + tall * 0.5,
                n = y + tall * 0.5 - 20.0,
                e = [520.0f32, 530.0, 540.0, 550.0, 560.0, 570.0, 580.0][number % 7],
            ),
            8.0,
            if number % 3 == 1 { "#b3241f" } else { "#1d1e1f" },
        );
        y += pitch;
    }
    p.part(body, &[specks(0.1), dirt(500.0, 0.1)]);
}

/// The plug at the end of the shore cord.
pub(super) fn cord_plug(p: &mut Picture, scorched: bool) {
    p.light = Light::Sun;
    p.roll = -6.0;
    p.soft(2.0, |far| Ground::Concrete.fill(far));
    p.shadow(14.0, r##"<path d="M210 180H600V450H210Z" opacity=".75"/><path d="M-120 300H240V380H-120Z" opacity=".6"/>"##);
    let mut body = hose("M230 300C120 300 60 330 -140 310", 88.0, "#232527");
    body += r##"<path d="M190 236H240L300 190V410L240 364H190Z" fill="url(#black)"/><path d="M196 246V354M210 246V354M224 246V354" stroke="#000" stroke-width="7"/><path d="M300 176Q300 156 322 154H500Q540 154 546 190L560 300L546 410Q540 446 500 446H322Q300 444 300 424Z" fill="url(#black)"/><path d="M300 176Q300 156 322 154H500Q540 154 546 190L560 300L546 410Q540 446 500 446H322Q300 444 300 424Z" fill="url(#roundv)" opacity=".45"/><path d="M330 210H480M330 240H480M330 360H480M330 390H480" stroke="#000" stroke-opacity=".6" stroke-width="9"/><ellipse cx="548" cy="300" rx="38" ry="140" fill="#3b3f42"/><ellipse cx="552" cy="300" rx="34" ry="130" fill="#26292b"/>"##;
    body += &centred(404.0, 312.0, 34.0, 700, "#9da1a4", "30 A 125 V");
    p.part(body, &[cloud(400.0, 0.2), dirt(420.0, 0.26), specks(0.16)]);
    if scorched {
        p.part(
            r##"<ellipse cx="556" cy="236" rx="40" ry="66" fill="#6a4a30"/><ellipse cx="560" cy="232" rx="28" ry="44" fill="#1b120b"/><path d="M540 280Q560 330 552 372Q566 380 572 300Z" fill="#2c1c10"/>"##,
            &[cloud(90.0, 0.8), stain(120.0, 0.4, 0.8, [40, 26, 16], [12, 9, 7]), specks(0.4)],
        );
    }
    let brown = if scorched {
        r##"<path d="M560 200H668L680 212V236H560Z" fill="#3a2110" opacity=".72"/>"##
    } else {
        ""
    };
    p.part(
        format!(
            r##"<g stroke="#4b3a12"><path d="M560 200H670L684 214V226L670 238H560Z" fill="url(#brass)"/><path d="M560 352H670L684 366V378L670 390H560Z" fill="url(#brass)"/><path d="M566 282H690Q708 284 708 298T690 314H566Z" fill="url(#steel)"/></g><circle cx="648" cy="219" r="7" fill="#2a1e08"/><circle cx="648" cy="371" r="7" fill="#2a1e08"/>{brown}"##
        ),
        &[cloud(200.0, 0.2), specks(0.12)],
    );
    if scorched {
        p.soft(9.0, |far| {
            far.paint(
                r##"<ellipse cx="590" cy="222" rx="70" ry="60" fill="#160d06" opacity=".55"/>"##,
            );
        });
    }
}

/// A battery in its tray.
pub(super) fn battery(p: &mut Picture, terminals_corroded: bool) {
    p.light = Light::Shade;
    p.pitch = 0.1;
    p.soft(4.0, |far| Ground::BlackSteel.fill(far));
    p.shadow(14.0, r##"<rect x="120" y="150" width="600" height="460" opacity=".8"/>"##);
    let mut body = String::from(
        r##"<path d="M130 130H670L700 240V640H100V240Z" fill="#1c1e20"/><path d="M130 130H670L700 240H100Z" fill="#33373a"/><path d="M130 130H670L700 240H100Z" fill="url(#sheen)"/><rect x="100" y="240" width="600" height="400" fill="url(#black)"/><rect x="100" y="240" width="600" height="10" fill="#6a6f73"/><path d="M140 290V640M180 290V640M620 290V640M660 290V640" stroke="#000" stroke-opacity=".45" stroke-width="8"/><rect x="214" y="310" width="372" height="220" rx="8" fill="#e9e7df"/><rect x="214" y="310" width="372" height="62" rx="8" fill="#2c5e9e"/>"##,
    );
    body += &centred(400.0, 353.0, 34.0, 700, "#f4f6f8", "DEEP CYCLE 12 V");
    body += &centred(400.0, 420.0, 32.0, 700, "#17191b", "105 Ah");
    body += &centred(400.0, 464.0, 24.0, 600, "#17191b", "GROUP 27  FLOODED LEAD-ACID");
    body += &centred(400.0, 506.0, 22.0, 600, "#a3231d", "CORROSIVE  EXPLOSIVE GAS");
    for x in [296.0, 348.0, 400.0, 452.0, 504.0] {
        let _ = write!(
            body,
            r##"<ellipse cx="{x}" cy="186" rx="21" ry="12" fill="#0e0f10"/><ellipse cx="{x}" cy="181" rx="20" ry="11" fill="#4c5155"/><path d="M{a} 181H{b}" stroke="#17191a" stroke-width="4"/>"##,
            a = x - 13.0,
            b = x + 13.0
        );
    }
    p.part(body, &[dirt(500.0, 0.24), specks(0.12)]);
    let mut posts = String::new();
    for (x, colour, path) in [
        (206.0f32, "#1b1d1f", "M206 168C206 60 100 40 -140 50"),
        (594.0, "#b4241f", "M594 168C594 60 720 50 920 70"),
    ] {
        posts += &hose(path, 30.0, colour);
        let _ = write!(
            posts,
            r##"<ellipse cx="{x}" cy="210" rx="46" ry="20" fill="#0b0c0c" opacity=".6"/><path d="M{a} 168H{b}L{c} 206H{d}Z" fill="url(#steelh)"/><ellipse cx="{x}" cy="168" rx="36" ry="15" fill="#a9aeb2" stroke="#555"/><ellipse cx="{x}" cy="163" rx="20" ry="9" fill="#c9cdd0" stroke="#555"/>"##,
            a = x - 36.0,
            b = x + 36.0,
            c = x + 42.0,
            d = x - 42.0,
        );
        posts += &hex_bolt(x + 38.0, 184.0, 12.0, 10.0, "#9a9fa3");
    }
    p.part(posts, &[cloud(200.0, 0.2), specks(0.14)]);
    if terminals_corroded {
        let mut crust = String::new();
        for (x, y) in [(206.0f32, 186.0f32), (594.0, 186.0)] {
            for _ in 0..70 {
                let (turn, away) =
                    (p.dice.between(0.0, std::f32::consts::TAU), p.dice.between(0.0, 1.0));
                let _ = write!(
                    crust,
                    r##"<circle cx="{:.1}" cy="{:.1}" r="{:.1}" fill="{}"/>"##,
                    x + 62.0 * away * libm::cosf(turn),
                    y + 34.0 * away * libm::sinf(turn),
                    p.dice.between(4.0, 13.0) * (1.1 - away * 0.6),
                    if p.dice.between(0.0, 1.0) < 0.6 { "#e9efe9" } else { "#8fc4bd" },
                );
            }
        }
        p.part(
            crust,
            &[
                cloud(90.0, 0.5),
                stain(80.0, 0.4, 0.7, [150, 200, 190], [70, 150, 150]),
                specks(0.6),
            ],
        );
    }
    p.paint(r##"<path d="M84 270H716V296H84Z" fill="#4e5357"/><path d="M84 270H716V277H84Z" fill="#7d8387"/>"##);
    p.paint(
        hex_bolt(110.0, 283.0, 12.0, 0.0, "#9a9fa3")
            + &hex_bolt(690.0, 283.0, 12.0, 20.0, "#9a9fa3"),
    );
}

/// A solar panel on the roof, in part shaded by a leaf-strewn vent.
pub(super) fn solar_panel(p: &mut Picture, shaded: bool) {
    p.light = Light::Sun;
    p.pitch = 0.3;
    p.soft(1.4, |far| Ground::Membrane.fill(far));
    p.shadow(10.0, r##"<rect x="116" y="62" width="600" height="520" opacity=".7"/>"##);
    let mut cells = String::new();
    for row in 0..6u16 {
        for column in 0..6u16 {
            let (x, y) = (118.0 + 94.0 * f32::from(column), 54.0 + 84.0 * f32::from(row));
            let tone = p.dice.between(0.0, 0.12);
            let _ = write!(
                cells,
                r##"<path d="M{a} {y}H{b}L{c} {d}V{e}L{b} {f}H{a}L{x} {e}V{d}Z" fill="#1b2a52"/><path d="M{a} {y}H{b}L{c} {d}V{e}L{b} {f}H{a}L{x} {e}V{d}Z" fill="#4a6ab0" opacity="{tone:.2}"/><path d="M{g} {y}V{f}M{h} {y}V{f}" stroke="#c6cdd6" stroke-width="2.4"/>"##,
                a = x + 9.0,
                b = x + 81.0,
                c = x + 90.0,
                d = y + 9.0,
                e = y + 71.0,
                f = y + 80.0,
                g = x + 30.0,
                h = x + 60.0,
            );
        }
    }
    p.part(
        format!(
            r##"<rect x="96" y="32" width="608" height="542" fill="#c9cdd0"/><rect x="96" y="32" width="608" height="542" fill="url(#sheen)"/><rect x="110" y="46" width="580" height="514" fill="#e7e9ea"/>{cells}<rect x="110" y="46" width="580" height="514" fill="url(#glass)"/>"##
        ),
        &[dirt(900.0, 0.2), specks(0.06)],
    );
    let mut mounts = String::new();
    for (x, y) in [(60.0f32, 120.0f32), (60.0, 450.0), (700.0, 120.0), (700.0, 450.0)] {
        let _ = write!(
            mounts,
            r##"<rect x="{x}" y="{y}" width="42" height="56" rx="4" fill="url(#steel)" stroke="#666"/><ellipse cx="{a}" cy="{b}" rx="30" ry="34" fill="#e8e6df" opacity=".6"/>"##,
            a = x + 20.0,
            b = y + 28.0
        );
        mounts += &screw(x + 20.0, y + 16.0, 8.0, 30.0);
        mounts += &screw(x + 20.0, y + 40.0, 8.0, 70.0);
    }
    mounts += &hose("M640 574C660 640 720 640 840 650", 12.0, "#1b1c1d");
    p.paint(mounts);
    if shaded {
        p.shadow(5.0, r##"<path d="M-120 -120H420L560 330L260 420L-120 300Z" fill="#0a1020" opacity=".62"/><path d="M420 -120L620 240L580 300L520 160Z" opacity=".5"/>"##);
    }
    let mut leaves = String::new();
    for _ in 0..16 {
        let _ = write!(
            leaves,
            r##"<path d="M0 0Q10 -9 24 0Q10 9 0 0Z" fill="{}" transform="translate({:.0} {:.0}) rotate({:.0}) scale({:.2})"/>"##,
            if p.dice.between(0.0, 1.0) < 0.5 { "#7a5a22" } else { "#8f7d33" },
            p.dice.between(100.0, 700.0),
            p.dice.between(40.0, 570.0),
            p.dice.between(0.0, 360.0),
            p.dice.between(0.7, 1.6),
        );
    }
    p.paint(leaves);
}
