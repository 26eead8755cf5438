// Starts the app. A failure here comes before any Rust runs, so it is told from here.
import start, { initSync } from '{{app.js}}';
import { hand } from '{{parts.js}}';

const tell = (what) => {
  const place = document.getElementById('starting') ?? document.body;
  const line = document.createElement('p');
  line.setAttribute('role', 'alert');
  line.textContent = what;
  place.replaceChildren(line);
};

// What comes after the start takes what it shares with the first part from there.
hand({ initSync });

try {
  await start({ module_or_path: '{{app.wasm}}' });
} catch (error) {
  tell(`Nearside could not start: ${error}. Nothing that was kept is lost. Reload the page; if that does not help, update the browser.`);
}
