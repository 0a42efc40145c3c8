// Marking displays on a still: tap four corners, drag them, or move them with the arrow keys.
// The fields of the form hold all of it; without this script they are typed into.
import { Lens } from "/assets/film-lens.js";

document.documentElement.classList.add("scripted");

const NAMES = ["top left", "top right", "bottom right", "bottom left"];
const SHORT = ["↖", "↗", "↘", "↙"];
// A handle stands off its corner, so that the finger does not hide the corner.
const OFF = 34, EDGE = 22;
const SVG = "http://www.w3.org/2000/svg";

const stage = document.getElementById("stage");
const scroller = document.getElementById("scroller");
const still = document.getElementById("still");
const overlay = document.getElementById("overlay");
const says = document.getElementById("says");
const form = document.getElementById("marks");
const view = document.getElementById("view");
const width = Number(stage.dataset.width), height = Number(stage.dataset.height);
const lens = new Lens(document.getElementById("lens"), still);
const sets = [...form.querySelectorAll("fieldset[data-display]")];
const displays = sets.map((set) => ({ set, place: set.dataset.display, name: set.dataset.name }));
let chosen = 0;
let zoom = 1;

function input(display, axis, corner) {
  return form.elements[`${axis}${display.place}-${corner}`];
}

function cornersOf(display) {
  return NAMES.map((_, c) => {
    const [x, y] = ["x", "y"].map((axis) => input(display, axis, c).value.trim().replace(",", "."));
    return x === "" || y === "" ? null : [Number(x), Number(y)];
  });
}

const clip = (v, most) => Math.min(most, Math.max(0, v));
const tidy = (v) => String(Math.round(v * 10) / 10);

function put(display, corner, [x, y]) {
  input(display, "x", corner).value = tidy(clip(x, width - 1));
  input(display, "y", corner).value = tidy(clip(y, height - 1));
}

function clear(display) {
  NAMES.forEach((_, c) => { for (const axis of ["x", "y"]) input(display, axis, c).value = ""; });
}

const scale = () => still.clientWidth / width;

// Handles are made once for each corner and moved, so that the one in use keeps its grip.
const handles = new Map();
function handleOf(display, corner) {
  const key = `${display.place}-${corner}`;
  if (handles.has(key)) return handles.get(key);
  const handle = document.createElement("button");
  handle.type = "button";
  handle.className = "handle";
  handle.textContent = SHORT[corner];
  handle.id = `handle-${key}`;
  grip(handle, display, corner);
  stage.append(handle);
  handles.set(key, handle);
  return handle;
}

function placeHandle(handle, [x, y], [mx, my]) {
  const s = scale();
  const dx = (x - mx) * s, dy = (y - my) * s;
  const far = Math.hypot(dx, dy) || 1;
  // Outward by the same step on both axes: corners of a flat row stand apart as well.
  const ox = dx / far >= 0 ? 1 : -1, oy = dy / far >= 0 ? 1 : -1;
  const left = Math.min(still.clientWidth - EDGE, Math.max(EDGE, x * s + ox * OFF));
  const top = Math.min(still.clientHeight - EDGE, Math.max(EDGE, y * s + oy * OFF));
  handle.style.left = `${left}px`;
  handle.style.top = `${top}px`;
  return [left / s, top / s];
}

function shape(kind, attributes) {
  const made = document.createElementNS(SVG, kind);
  for (const [name, value] of Object.entries(attributes)) made.setAttribute(name, value);
  overlay.append(made);
  return made;
}

function draw() {
  overlay.replaceChildren();
  for (const found of document.querySelectorAll(".take[data-display]")) {
    if (found.dataset.display !== displays[0].place) continue;
    polygon(JSON.parse(found.dataset.corners), "found", found.closest("li") && numberOf(found));
  }
  displays.forEach((display, i) => {
    const corners = cornersOf(display);
    const there = corners.filter(Boolean);
    const middle = there.length
      ? [0, 1].map((k) => there.reduce((sum, c) => sum + c[k], 0) / there.length) : [0, 0];
    if (there.length > 1) polygon(there, i === chosen ? "chosen" : "", i === chosen ? "" : display.name);
    corners.forEach((corner, c) => {
      const handle = handleOf(display, c);
      handle.hidden = !corner || i !== chosen;
      if (handle.hidden) return;
      const from = there.length > 1 ? middle : [corner[0] + (c % 3 ? -1 : 1), corner[1] + (c < 2 ? 1 : -1)];
      const [hx, hy] = placeHandle(handle, corner, from);
      shape("line", { x1: corner[0], y1: corner[1], x2: hx, y2: hy });
      handle.setAttribute("aria-label",
        `${display.name}, ${NAMES[c]} corner, ${tidy(corner[0])} to the right, ${tidy(corner[1])} down`);
    });
  });
  const missing = next(displays[chosen]);
  stage.classList.toggle("placing", missing >= 0);
}

function numberOf(button) {
  const items = [...button.closest("ul").children];
  return String(items.indexOf(button.closest("li")) + 1);
}

function polygon(points, kind, words) {
  const text = points.map(([x, y]) => `${x},${y}`).join(" ");
  shape("polygon", { points: text, class: "under" });
  shape("polygon", { points: text, class: kind });
  if (!words) return;
  const size = 15 / scale();
  const [x, y] = points[0];
  const label = shape("text", { x, y: Math.max(size, y - 6 / scale()), "font-size": size });
  label.textContent = words;
}

const next = (display) => cornersOf(display).findIndex((corner) => !corner);

function tell() {
  const display = displays[chosen];
  const missing = next(display);
  says.textContent = missing < 0
    ? `${display.name}: all four corners stand. Drag them, or choose one and use the arrow keys.`
    : `${display.name}: now touch the ${NAMES[missing]} corner of its digits.`;
}

function choose(i, { quietly = false } = {}) {
  chosen = i;
  const radio = displays[i].set.querySelector("input[name=which]");
  radio.checked = true;
  draw();
  if (!quietly) tell();
}

// On a phone the picture is out of sight when a button below it is pressed.
function chooseAndShow(i) {
  choose(i);
  view.scrollIntoView({ block: "nearest" });
}

function at(event) {
  const box = still.getBoundingClientRect();
  const s = box.width / width;
  return [(event.clientX - box.left) / s, (event.clientY - box.top) / s];
}

function grip(handle, display, corner) {
  let shift = null;
  handle.addEventListener("pointerdown", (event) => {
    event.preventDefault();
    handle.focus();
    handle.setPointerCapture(event.pointerId);
    const [x, y] = cornersOf(display)[corner];
    const [px, py] = at(event);
    shift = [x - px, y - py];
    handle.classList.add("active");
    lens.show([x, y], shapeOf(display));
  });
  handle.addEventListener("pointermove", (event) => {
    if (!shift) return;
    const [px, py] = at(event);
    put(display, corner, [px + shift[0], py + shift[1]]);
    draw();
    lens.show(cornersOf(display)[corner], shapeOf(display));
  });
  for (const end of ["pointerup", "pointercancel"]) {
    handle.addEventListener(end, () => {
      shift = null;
      handle.classList.remove("active");
      lens.hide();
      tell();
    });
  }
  handle.addEventListener("keydown", (event) => {
    const step = event.shiftKey ? 10 : event.altKey ? 0.1 : 1;
    const by = { ArrowLeft: [-step, 0], ArrowRight: [step, 0], ArrowUp: [0, -step], ArrowDown: [0, step] }[event.key];
    if (!by) return;
    event.preventDefault();
    const [x, y] = cornersOf(display)[corner];
    put(display, corner, [x + by[0], y + by[1]]);
    draw();
    lens.show(cornersOf(display)[corner], shapeOf(display));
  });
  handle.addEventListener("blur", () => lens.hide());
}

const shapeOf = (display) => cornersOf(display).filter(Boolean);

// A touch on the picture itself sets the corner that is missing; a drag scrolls it.
let down = null;
still.addEventListener("pointerdown", (event) => { down = [event.clientX, event.clientY]; });
still.addEventListener("pointerup", (event) => {
  if (!down || Math.hypot(event.clientX - down[0], event.clientY - down[1]) > 8) return;
  const display = displays[chosen];
  const corner = next(display);
  if (corner < 0) return;
  put(display, corner, at(event));
  draw();
  if (next(display) < 0) {
    const open = displays.findIndex((other) => next(other) >= 0);
    if (open >= 0) { choose(open); return; }
  }
  tell();
});
still.addEventListener("dragstart", (event) => event.preventDefault());

function middle(display) {
  const i = displays.indexOf(display);
  const shown = {
    x: (scroller.scrollLeft + scroller.clientWidth / 2) / scale(),
    y: (scroller.scrollTop + Math.min(scroller.clientHeight, still.clientHeight) / 2) / scale(),
    w: Math.min(width, scroller.clientWidth / scale()) / 5,
    h: Math.min(width, scroller.clientWidth / scale()) / 16,
  };
  [[-1, -1], [1, -1], [1, 1], [-1, 1]].forEach(([a, b], c) => {
    put(display, c, [shown.x + a * shown.w, shown.y + b * shown.h]);
  });
  chooseAndShow(i);
}

for (const [i, display] of displays.entries()) {
  display.set.querySelector("input[name=which]").addEventListener("change", () => chooseAndShow(i));
  display.set.querySelector(".middle").addEventListener("click", () => middle(display));
  display.set.querySelector(".clear").addEventListener("click", () => { clear(display); chooseAndShow(i); });
  display.set.querySelector(".corners").addEventListener("input", () => choose(i, { quietly: true }));
}
for (const button of document.querySelectorAll(".take")) {
  button.addEventListener("click", () => {
    const i = displays.findIndex((display) => display.place === button.dataset.display);
    JSON.parse(button.dataset.corners).forEach((corner, c) => put(displays[i], c, corner));
    chooseAndShow(i);
  });
}

function enlarge(to) {
  const s = scale();
  const x = (scroller.scrollLeft + scroller.clientWidth / 2) / s;
  const y = (scroller.scrollTop + scroller.clientHeight / 2) / s;
  zoom = Math.min(8, Math.max(1, to));
  stage.style.width = `${100 * zoom}%`;
  draw();
  const after = scale();
  scroller.scrollLeft = x * after - scroller.clientWidth / 2;
  scroller.scrollTop = y * after - scroller.clientHeight / 2;
}
document.getElementById("larger").addEventListener("click", () => enlarge(zoom * 2));
document.getElementById("smaller").addEventListener("click", () => enlarge(zoom / 2));
document.getElementById("whole").addEventListener("click", () => enlarge(1));

// Another moment of the film: only the picture changes, the marks stay where they are.
const field = document.getElementById("f-t");
const range = document.getElementById("t-range");
let timer = 0;
function moment(time) {
  const text = Number(time).toFixed(2);
  field.value = range.value = text;
  clearTimeout(timer);
  timer = setTimeout(() => {
    still.src = `${still.dataset.base}?t=${text}`;
    document.getElementById("mark-t").value = text;
    const hidden = document.querySelector("#propose input[name=t]");
    if (hidden) hidden.value = text;
  }, 200);
}
range.addEventListener("input", () => moment(range.value));
document.getElementById("moment").addEventListener("submit", (event) => {
  const time = Number(field.value.replace(",", "."));
  if (!Number.isFinite(time)) return;
  event.preventDefault();
  moment(Math.max(0, time));
});
still.addEventListener("error", () => { says.textContent = "This picture could not be made. Choose another moment."; });

addEventListener("resize", draw);
still.addEventListener("load", draw);
choose(Math.max(0, displays.findIndex((display) => next(display) >= 0)));
