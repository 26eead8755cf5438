//! Contrast of every text on the page a browser shows, by WCAG 2.2's ratio. axe-core leaves some open (under a bar, over a
//! rim, in a drawing) and is milder with large text; here each is computed, and none is excused.

use serde_json::{Value, json};

use crate::{Outcome, browser::Browser};

/// What a text of any size is to have.
pub(crate) const LEAST: f64 = 7.0;

/// Each text below the ratio, or whose ground cannot be told, in a line; and how many were computed.
pub(crate) fn faint(browser: &Browser) -> Outcome<(Vec<String>, u64)> {
    let found = browser.script(FAINT, &[json!(LEAST)])?;
    let faint = found[0].as_array().ok_or("no contrast was computed")?;
    let count = found[1].as_u64().filter(|count| *count > 0).ok_or("the page has no text")?;
    Ok((faint.iter().filter_map(Value::as_str).map(str::to_owned).collect(), count))
}

/// Writes something faint into the page and fails where it is not found.
pub(crate) fn prove(browser: &Browser) -> Outcome<()> {
    browser.script(
        "const it = document.createElement('p');
         it.textContent = 'a faint text'; it.style.color = '#767676'; it.style.fontSize = '3rem';
         document.querySelector('main').append(it)",
        &[],
    )?;
    let (found, _) = faint(browser)?;
    if found.iter().any(|one| one.contains("a faint text")) {
        return Ok(());
    }
    Err(format!("a planted text of 4.5:1 was not found: {found:?}"))
}

const FAINT: &str = "
    const least = arguments[0];
    const read = text => {
      const parts = text.match(/^rgba?\\(([^)]+)\\)$/)?.[1].split(/[\\s,/]+/).map(Number);
      return parts && {rgb: parts.slice(0, 3), alpha: parts[3] ?? 1};
    };
    const over = (front, alpha, ground) => front.map((part, at) => part * alpha + ground[at] * (1 - alpha));
    const luminance = rgb => {
      const [red, green, blue] = rgb.map(part => part / 255).map(it => it <= 0.04045 ? it / 12.92 : ((it + 0.055) / 1.055) ** 2.4);
      return 0.2126 * red + 0.7152 * green + 0.0722 * blue;
    };
    const ratio = (one, other) => {
      const [dark, light] = [luminance(one), luminance(other)].sort((a, b) => a - b);
      return (light + 0.05) / (dark + 0.05);
    };
    // What an element's text stands on: of HTML the nearest grounds, of a drawing the shape before it.
    const ground = it => {
      const layers = [];
      for (let one = it; one; one = one.parentElement) {
        const style = getComputedStyle(one);
        if (one.closest('svg')) {
          const shape = one.closest('.station')?.querySelector('circle');
          const fill = shape && read(getComputedStyle(shape).fill);
          if (fill?.alpha === 1) return fill.rgb;
          continue;
        }
        if (style.backgroundImage !== 'none') return null;
        const colour = read(style.backgroundColor);
        if (!colour) return null;
        if (colour.alpha === 1) return layers.reduceRight((below, layer) => over(layer.rgb, layer.alpha, below), colour.rgb);
        if (colour.alpha > 0) layers.push(colour);
      }
      return layers.reduceRight((below, layer) => over(layer.rgb, layer.alpha, below), [255, 255, 255]);
    };
    const faint = [];
    let count = 0;
    const judge = (it, text, value) => {
      const [front, back] = [read(value), ground(it)];
      const name = `${JSON.stringify(text.trim().slice(0, 60))} in ${it.outerHTML.replace(/\\s+/g, ' ').slice(0, 90)}`;
      count += 1;
      if (!front || !back) return faint.push(`the ground of ${name} cannot be told`);
      let alpha = front.alpha;
      for (let one = it; one; one = one.parentElement) alpha *= Number(getComputedStyle(one).opacity);
      const found = ratio(over(front.rgb, alpha, back), back);
      if (found < least) faint.push(`${found.toFixed(2)}:1: ${name}`);
    };
    const seen = it => it.checkVisibility({opacityProperty: true, visibilityProperty: true}) && !it.closest('.unseen, .skip, [disabled]');
    const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
    for (let node = walk.nextNode(); node; node = walk.nextNode()) {
      const it = node.parentElement;
      // Words on a photo have a rim of their own, whatever the photo shows.
      if (!node.data.trim() || it.closest('script, style, option, noscript, .drawn') || !seen(it)) continue;
      judge(it, node.data, it.closest('svg') ? getComputedStyle(it).fill : getComputedStyle(it).color);
    }
    for (const it of document.querySelectorAll('input, select, textarea')) {
      if (!seen(it) || it.matches('[type=radio], [type=checkbox], [type=file]')) continue;
      judge(it, it.value, getComputedStyle(it).color);
      if (it.placeholder) judge(it, it.placeholder, getComputedStyle(it, '::placeholder').color);
    }
    return [faint, count];";
