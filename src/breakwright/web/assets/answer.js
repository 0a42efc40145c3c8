// Keeps the Answer page fresh: new readings, progress, charts. Without it the page is the same,
// and is looked at again by hand.
import { draw, needed } from "/assets/answer-charts.js";

const body = document.body.dataset;
const base = `/s/${body.handle}/answer`;
const now = document.getElementById("now");
const said = document.getElementById("said");
const SOON = 400, LATER = 5000, IDLE = 30000;

let known = new Map();      // part -> the text it was made from
let timer = null;
let asking = false;
let askAgain = false;

function parts(root) {
  return [...root.querySelectorAll(":scope > [data-part], :scope > #state")];
}

function nameOf(part) {
  return part.dataset.part || part.id;
}

// What is meant for browsers without scripts is plain text in this page, but would come to life
// (and load its pictures) when a part is put in anew.
function withoutSpare(root) {
  for (const spare of root.querySelectorAll("noscript")) spare.remove();
}

function remember(root) {
  withoutSpare(root);
  known = new Map(parts(root).map((part) => [nameOf(part), part.outerHTML]));
}

function busy() {
  return document.getElementById("state")?.dataset.busy === "yes";
}

function headline() {
  const head = now.querySelector('[data-part="verdict"]');
  const words = head?.querySelector(".headline")?.textContent ?? "";
  return words && `${head.querySelector(".kind strong")?.textContent ?? ""} ${words}`;
}

// What a person opened or stands on must survive the change of a part around it, and a passage
// that is gone while the quick answer is shown comes back as it was.
const opened = new Set();
document.addEventListener("toggle", ({ target }) => {
  if (!target.id || !target.isConnected) return;
  if (target.open) opened.add(target.id);
  else opened.delete(target.id);
}, true);

function standsIn(old) {
  const at = document.activeElement;
  return old.contains(at) && at.id ? at.id : null;
}

function settleCharts(old, fresh) {
  const before = new Map([...old.querySelectorAll(".chart")].map((c) => [c.dataset.name, c]));
  for (const figure of fresh.querySelectorAll(".chart")) {
    const there = before.get(figure.dataset.name);
    if (there) figure.replaceWith(there);   // stays until the new drawing is ready
  }
}

async function refresh() {
  if (asking) { askAgain = true; return; }
  asking = true;
  clearTimeout(timer);
  try {
    const answer = await fetch(`${base}/now`, { headers: { Accept: "text/html" } });
    if (answer.ok) show(await answer.text());
  } catch {
    // No link just now: what is shown stays, and is asked for again.
  }
  asking = false;
  if (askAgain) { askAgain = false; refresh(); return; }
  timer = setTimeout(refresh, busy() ? SOON : IDLE);
}

function show(text) {
  const page = new DOMParser().parseFromString(text, "text/html");
  withoutSpare(page);
  const before = headline();
  const old = new Map(parts(now).map((part) => [nameOf(part), part]));
  const texts = new Map(parts(page.body).map((part) => [nameOf(part), part.outerHTML]));
  let last = null;
  for (const made of parts(page.body)) {
    const name = nameOf(made);
    let here = old.get(name);
    if (!here || known.get(name) !== texts.get(name)) {
      const fresh = document.importNode(made, true);
      for (const fold of fresh.querySelectorAll("details[id]")) fold.open = opened.has(fold.id);
      if (here) {
        const focus = standsIn(here);
        if (name === "charts") settleCharts(here, fresh);
        here.replaceWith(fresh);
        if (focus) document.getElementById(focus)?.focus({ preventScroll: true });
      } else if (last) {
        last.after(fresh);
      } else {
        now.prepend(fresh);
      }
      here = fresh;
    }
    old.delete(name);
    last = here;
  }
  for (const gone of old.values()) gone.remove();
  known = texts;
  const after = headline();
  if (after && after !== before) said.textContent = after;
  charts();
}

let drawn = "";
function charts() {
  const part = document.getElementById("charts");
  if (!part) return;
  const wanted = needed(part);
  if (wanted === drawn) return;
  drawn = wanted;
  draw(part).catch(() => {
    drawn = "";
    setTimeout(charts, LATER);   // pictures stand there meanwhile
  });
}

remember(now);
charts();
for (const query of ["(prefers-color-scheme: dark)", "(max-width: 43rem)"])
  matchMedia(query).addEventListener("change", charts);
timer = setTimeout(refresh, busy() ? SOON : IDLE);
document.addEventListener("visibilitychange", () => { if (!document.hidden) refresh(); });

import("/assets/live.js")
  .then(({ listen }) => listen(body.study, Number(body.last), refresh))
  .catch(() => { /* without news the page asks by itself */ });
