//! What lies behind and beneath: gravel, grass, concrete, cladding, panelling, worktops.

use crate::photos::grain::{brushed, cloud, dirt, specks, stain};
use crate::photos::picture::Picture;

/// Surfaces that fill the view.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Ground {
    /// A gravelled pitch.
    Gravel,
    /// A concrete pad.
    Concrete,
    /// Smooth glass-fibre cladding.
    Gelcoat,
    /// Ribbed aluminium cladding, ribs level.
    Ribbed,
    /// White rubber roof covering.
    Membrane,
    /// Vinyl-faced wall panel inside.
    Panelling,
    /// A laminate worktop.
    Worktop,
    /// Vinyl flooring printed like boards.
    Boards,
    /// The dark underside of a trailer.
    Underside,
    /// Bare plywood in a locker.
    Plywood,
    /// Painted steel, black.
    BlackSteel,
}

const WHOLE: &str = r##"x="-120" y="-120" width="1040" height="840""##;

impl Ground {
    /// Fills the view with this surface.
    pub(crate) fn fill(self, picture: &mut Picture) {
        let flat = |colour: &str| format!(r##"<rect {WHOLE} fill="{colour}"/>"##);
        match self {
            Self::Gravel => {
                picture.paint(flat("#98938a"));
                picture.grain(cloud(1500.0, 0.2));
                picture.grain(stain(96.0, 0.45, 0.55, [112, 106, 97], [66, 62, 56]));
                picture.grain(stain(70.0, 0.3, 0.6, [168, 162, 152], [198, 192, 182]));
                picture.grain(specks(0.5));
            }
            Self::Concrete => {
                picture.paint(flat("#a9a69f"));
                picture.grain(cloud(1300.0, 0.3));
                picture.grain(dirt(900.0, 0.25));
                picture.grain(cloud(200.0, 0.16));
                picture.grain(specks(0.22));
            }
            Self::Gelcoat => {
                picture.paint(format!(
                    r##"<defs><linearGradient id="g" x2=".3" y2="1"><stop offset="0" stop-color="#f1f0ec"/><stop offset="1" stop-color="#cfcdc6"/></linearGradient></defs><rect {WHOLE} fill="url(#g)"/>"##
                ));
                picture.grain(cloud(2600.0, 0.1));
                picture.grain(brushed(1500.0, 5000.0, 0.0, 0.05));
                picture.grain(specks(0.035));
                picture.grain(stain(1500.0, 0.14, 0.14, [160, 150, 130], [120, 108, 90]));
            }
            Self::Ribbed => {
                picture.paint(flat("#e2e0da"));
                let mut ribs = String::new();
                let mut y = -110.0f32;
                while y < 720.0 {
                    ribs += &format!(
                        r##"<rect x="-120" y="{y}" width="1040" height="46" fill="url(#rib)"/><rect x="-120" y="{}" width="1040" height="5" fill="#000" opacity=".3"/><rect x="-120" y="{}" width="1040" height="3" fill="#fff" opacity=".75"/>"##,
                        y + 41.0,
                        y + 46.0
                    );
                    y += 62.0;
                }
                picture.paint(format!(
                    r##"<defs><linearGradient id="rib" x2="0" y2="1"><stop offset="0" stop-color="#fff" stop-opacity=".55"/><stop offset=".5" stop-color="#fff" stop-opacity="0"/><stop offset="1" stop-opacity=".2"/></linearGradient></defs>{ribs}"##
                ));
                picture.grain(cloud(1800.0, 0.1));
                picture.grain(brushed(600.0, 3000.0, 90.0, 0.05));
                picture.grain(stain(1300.0, 0.16, 0.2, [150, 140, 120], [110, 98, 80]));
                picture.grain(specks(0.05));
            }
            Self::Membrane => {
                picture.paint(flat("#d4d2cb"));
                picture.grain(cloud(1500.0, 0.16));
                picture.grain(dirt(1100.0, 0.4));
                picture.grain(cloud(260.0, 0.1));
                picture.grain(specks(0.16));
            }
            Self::Panelling => {
                picture.paint(flat("#d6cbb8"));
                picture.grain(brushed(60.0, 2600.0, 0.0, 0.09));
                picture.grain(brushed(300.0, 3600.0, 0.0, 0.07));
                picture.grain(specks(0.05));
            }
            Self::Worktop => {
                picture.paint(flat("#8d7f70"));
                picture.grain(stain(50.0, 0.3, 0.4, [118, 106, 92], [92, 80, 70]));
                picture.grain(stain(40.0, 0.14, 0.4, [166, 154, 138], [184, 174, 158]));
                picture.grain(cloud(1800.0, 0.12));
                picture.grain(specks(0.12));
            }
            Self::Boards => {
                picture.paint(flat("#a98c68"));
                picture.grain(brushed(1500.0, 70.0, 0.0, 0.45));
                picture.grain(brushed(2600.0, 260.0, 0.0, 0.3));
                let mut seams = String::new();
                for (row, y) in
                    [-90.0f32, 30.0, 150.0, 270.0, 390.0, 510.0, 630.0].iter().enumerate()
                {
                    seams += &format!(
                        r##"<path d="M-120 {y}H920" stroke="#3b2c1b" stroke-opacity=".6" stroke-width="2.4"/><path d="M{x} {y}v120" stroke="#3b2c1b" stroke-opacity=".6" stroke-width="2"/><rect x="-120" y="{y}" width="1040" height="120" fill="#000" opacity="{o}"/>"##,
                        x = [120.0, 520.0, 300.0, 660.0, 60.0, 430.0, 240.0][row % 7],
                        o = [0.0, 0.07, 0.03, 0.1, 0.02, 0.06, 0.0][row % 7],
                    );
                }
                picture.paint(seams);
                picture.grain(specks(0.1));
            }
            Self::Underside => {
                picture.paint(flat("#2f2d2a"));
                picture.grain(cloud(900.0, 0.6));
                picture.grain(dirt(700.0, 0.45));
                picture.grain(specks(0.4));
            }
            Self::Plywood => {
                picture.paint(flat("#c39a68"));
                picture.grain(brushed(1800.0, 90.0, 4.0, 0.34));
                picture.grain(brushed(900.0, 240.0, 3.0, 0.25));
                picture.grain(stain(800.0, 0.1, 0.3, [130, 92, 54], [96, 64, 36]));
                picture.grain(specks(0.14));
            }
            Self::BlackSteel => {
                picture.paint(flat("#3a3c3e"));
                picture.grain(cloud(1000.0, 0.35));
                picture.grain(dirt(600.0, 0.2));
                picture.grain(specks(0.2));
            }
        }
    }
}
