//! QR codes (ISO/IEC 18004), for a terminal and for a page.

use qrcode::{EcLevel, QrCode, render::svg, types::Color};

/// Rows of block letters that show `text` as a QR code in a terminal, two modules a letter, dark on
/// light whatever the terminal's colours: the light modules are what is drawn. `None` if it is too long.
#[must_use]
pub fn in_blocks(text: &str) -> Option<String> {
    let code = QrCode::with_error_correction_level(text, EcLevel::M).ok()?;
    let width = code.width();
    // Four light modules around it, as the standard asks for.
    let margin = 4;
    let light = |x: usize, y: usize| {
        let inside = |at: usize| at.checked_sub(margin).filter(|at| *at < width);
        let (Some(x), Some(y)) = (inside(x), inside(y)) else { return true };
        code[(x, y)] == Color::Light
    };
    let mut rows = String::new();
    for y in (0..width + 2 * margin).step_by(2) {
        for x in 0..width + 2 * margin {
            let below = y + 1 < width + 2 * margin && light(x, y + 1);
            rows.push(match (light(x, y), below) {
                (true, true) => '█',
                (true, false) => '▀',
                (false, true) => '▄',
                (false, false) => ' ',
            });
        }
        rows.push('\n');
    }
    Some(rows)
}

/// The same as a picture in a page.
pub(crate) fn as_svg(text: &str) -> Option<String> {
    let code = QrCode::with_error_correction_level(text, EcLevel::M).ok()?;
    let picture = code
        .render::<svg::Color<'_>>()
        .min_dimensions(280, 280)
        .dark_color(svg::Color("#000"))
        .light_color(svg::Color("#fff"))
        .build();
    // Inside a page, it has no declaration of its own.
    let start = picture.find("<svg")?;
    Some(picture[start..].to_owned())
}
