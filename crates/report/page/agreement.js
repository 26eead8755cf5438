// Drawing a signature: lines of points in thousandths of the field's width, sent with the form. Without this script the
// page takes the typed name alone.
"use strict";
(() => {
  const part = document.getElementById("drawing");
  const field = document.getElementById("field");
  const sent = document.getElementById("drawn");
  const form = document.getElementById("agree");
  if (!part || !field || !sent || !form) return;
  const pen = field.getContext("2d");
  if (!pen || !window.PointerEvent) return;
  const most = 4000;
  let lines = [];
  let points = 0;
  let line = null;
  part.hidden = false;
  pen.lineWidth = 5;
  pen.lineCap = "round";
  pen.lineJoin = "round";
  pen.strokeStyle = "#1c2430";

  const at = (event) => {
    const frame = field.getBoundingClientRect();
    const within = (value, most) => Math.min(most, Math.max(0, Math.round(value)));
    return [
      within(((event.clientX - frame.left) / frame.width) * 1000, 1000),
      within(((event.clientY - frame.top) / frame.height) * 300, 300),
    ];
  };
  const keep = (point) => {
    const last = line[line.length - 1];
    if (points >= most || (last && Math.hypot(point[0] - last[0], point[1] - last[1]) < 3)) return;
    pen.beginPath();
    pen.moveTo(...(last || point));
    pen.lineTo(...point);
    pen.stroke();
    line.push(point);
    points += 1;
  };
  field.addEventListener("pointerdown", (event) => {
    if (line || points >= most) return;
    event.preventDefault();
    field.setPointerCapture(event.pointerId);
    line = [];
    lines.push(line);
    keep(at(event));
  });
  field.addEventListener("pointermove", (event) => {
    if (line) keep(at(event));
  });
  for (const end of ["pointerup", "pointercancel"]) {
    field.addEventListener(end, () => {
      line = null;
      sent.value = lines.map((one) => one.map((point) => point.join(",")).join(" ")).join(";");
    });
  }
  const clear = document.createElement("button");
  clear.type = "button";
  clear.className = "quiet";
  clear.textContent = form.dataset.clear;
  clear.addEventListener("click", () => {
    lines = [];
    points = 0;
    line = null;
    sent.value = "";
    pen.clearRect(0, 0, field.width, field.height);
  });
  part.append(clear);
})();
