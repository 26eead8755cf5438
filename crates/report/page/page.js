// What the page gains with a script: a filter over the findings, and photos in a large view. Nothing depends on it.
"use strict";

const filter = document.getElementById("filter");
if (filter) {
  const findings = [...document.querySelectorAll(".finding")];
  const shown = document.getElementById("shown");
  const apply = () => {
    const use = filter.elements.use.value;
    const when = filter.elements.when.value;
    let count = 0;
    for (const finding of findings) {
      const fits = (use === "" || finding.dataset.uses.split(" ").includes(use))
        && (when === "" || finding.dataset.when === when);
      finding.hidden = !fits;
      if (fits) count += 1;
    }
    // A page in another language brings its own sentences.
    const said = count === findings.length
      ? filter.dataset.all || "All {count} findings are shown."
      : filter.dataset.some || "{count} of {all} findings are shown.";
    shown.textContent = said.replace("{count}", count).replace("{all}", findings.length);
  };
  filter.addEventListener("change", apply);
  filter.addEventListener("submit", (event) => event.preventDefault());
  // A link to a finding that is filtered out shows all of them again.
  addEventListener("hashchange", () => {
    const target = document.getElementById(decodeURIComponent(location.hash.slice(1)));
    const finding = target && target.closest(".finding");
    if (finding && finding.hidden) {
      filter.reset();
      apply();
      target.scrollIntoView();
    }
  });
  filter.hidden = false;
  apply();
}

const shots = [...document.querySelectorAll("figure.photo .shot")];
if (shots.length > 0 && typeof HTMLDialogElement === "function") {
  const dialog = document.createElement("dialog");
  // What the buttons say, in the page's language where it is another than English.
  const own = document.body.dataset;
  dialog.setAttribute("aria-label", own.photo || "Photo");
  const stage = document.createElement("div");
  stage.className = "stage";
  const words = document.createElement("figcaption");
  const controls = document.createElement("div");
  controls.className = "controls";
  let at = 0;
  const show = (next) => {
    at = (next + shots.length) % shots.length;
    const frame = document.createElement("div");
    frame.className = "frame";
    for (const part of shots[at].children) frame.append(part.cloneNode(true));
    frame.querySelector("img").loading = "eager";
    stage.replaceChildren(frame);
    const caption = shots[at].parentElement.querySelector("figcaption");
    words.replaceChildren(...[...caption.childNodes].map((node) => node.cloneNode(true)));
  };
  const button = (label, act) => {
    const made = document.createElement("button");
    made.type = "button";
    made.textContent = label;
    made.addEventListener("click", act);
    controls.append(made);
    return made;
  };
  button(own.earlier || "Earlier", () => show(at - 1));
  const close = button(own.close || "Close", () => dialog.close());
  button(own.later || "Later", () => show(at + 1));
  words.addEventListener("click", (event) => {
    if (event.target.closest("a")) dialog.close();
  });
  dialog.addEventListener("keydown", (event) => {
    if (event.key === "ArrowLeft") show(at - 1);
    if (event.key === "ArrowRight") show(at + 1);
  });
  dialog.addEventListener("close", () => shots[at].focus());
  dialog.append(stage, words, controls);
  document.body.append(dialog);
  shots.forEach((shot, index) => {
    shot.addEventListener("click", (event) => {
      if (event.ctrlKey || event.metaKey || event.shiftKey) return;
      event.preventDefault();
      show(index);
      dialog.showModal();
      close.focus();
    });
  });
}
