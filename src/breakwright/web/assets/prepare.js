// Prepare without waiting: live numbers while a size is typed, a work's progress, cells of a table.
const PAUSE_MS = 350;
const LOOK_MS = 700;

document.documentElement.classList.add("scripted");

function put(box, html) {
  box.replaceChildren(...new DOMParser().parseFromString(html, "text/html").body.childNodes);
}

// Numbers of the rig as the form has it. An answer that a later one overtook is dropped.
function live(form, box) {
  let timer = 0;
  let asked = 0;
  async function look() {
    const mine = ++asked;
    box.classList.add("busy");
    try {
      const body = new URLSearchParams(new FormData(form));
      const reply = await fetch(form.dataset.live, {method: "POST", body});
      const html = await reply.text();
      if (mine !== asked) return;
      if (reply.ok) put(box, html);
      else box.textContent = "Not reckoned: the server said " + reply.status + ".";
    } catch {
      if (mine === asked) box.textContent = "No link to the server. What you typed is still here.";
    } finally {
      if (mine === asked) box.classList.remove("busy");
    }
  }
  form.addEventListener("input", () => {
    clearTimeout(timer);
    timer = setTimeout(look, PAUSE_MS);
  });
  look();
}

// The bar moves; the page is loaded again when the work is done.
async function follow(box) {
  const bar = box.querySelector("progress");
  const doing = box.querySelector("#work-doing");
  for (;;) {
    await new Promise((wait) => setTimeout(wait, LOOK_MS));
    try {
      const reply = await fetch("/api/v1/jobs/" + box.dataset.job);
      if (!reply.ok) return;
      const job = await reply.json();
      bar.value = job.share;
      doing.textContent = job.doing || "waiting for its turn";
      if (!["queued", "running"].includes(job.state)) return location.reload();
    } catch {
      doing.textContent = "No link to the server; it is asked again.";
    }
  }
}

// What the first page could not wait for.
async function again(box) {
  const reply = await fetch(box.dataset.again).catch(() => null);
  if (!reply || !reply.ok) return;
  const page = new DOMParser().parseFromString(await reply.text(), "text/html");
  const found = page.getElementById(box.id);
  if (found) box.replaceChildren(...found.childNodes);
}

// Enter goes to the cell below; only cells that changed are sent.
function cells(form) {
  const first = new Map();
  for (const cell of form.querySelectorAll("td input")) first.set(cell, cell.defaultValue);
  form.addEventListener("input", (event) => {
    if (first.has(event.target))
      event.target.classList.toggle("changed", event.target.value !== first.get(event.target));
  });
  form.addEventListener("keydown", (event) => {
    const step = {Enter: 1, ArrowDown: 1, ArrowUp: -1}[event.key];
    if (!step || !first.has(event.target)) return;
    event.preventDefault();
    const here = event.target.closest("td");
    let row = here.parentElement;
    row = step > 0 ? row.nextElementSibling : row.previousElementSibling;
    const next = row && row.cells[here.cellIndex].querySelector("input");
    if (next) { next.focus(); next.select(); }
    else if (event.key === "Enter") form.querySelector("button").focus();
  });
  form.addEventListener("submit", () => {
    for (const [cell, value] of first) cell.disabled = cell.value === value;
    // Back in the history must not find them locked.
    setTimeout(() => { for (const cell of first.keys()) cell.disabled = false; });
  });
  window.addEventListener("beforeunload", (event) => {
    const changed = [...first].some(([cell, value]) => !cell.disabled && cell.value !== value);
    if (changed && !form.dataset.sent) event.preventDefault();
  });
  form.addEventListener("submit", () => { form.dataset.sent = "yes"; });
}

// A problem's line is shown in the text.
function lines(text) {
  document.addEventListener("click", (event) => {
    const line = Number(event.target.dataset?.line);
    if (!line) return;
    event.preventDefault();
    const before = text.value.split("\n").slice(0, line - 1).join("\n").length + (line > 1);
    const end = text.value.indexOf("\n", before);
    text.focus();
    text.setSelectionRange(before, end < 0 ? text.value.length : end);
    text.scrollTop = Math.max(0, (line - 4) * parseFloat(getComputedStyle(text).lineHeight));
  });
}

const form = document.querySelector("form[data-live]");
if (form) live(form, document.getElementById("live"));
const job = document.querySelector("[data-job]");
if (job) follow(job);
const waiting = document.querySelector("[data-again]");
if (waiting) again(waiting);
const table = document.querySelector("form[data-cells]");
if (table) cells(table);
const text = document.getElementById("f-toml");
if (text) lines(text);

// The clock of this device: minutes ahead of UTC, and the time now where the server wrote its own.
for (const field of document.querySelectorAll("[data-offset]")) {
  const now = new Date();
  field.value = String(-now.getTimezoneOffset());
  const started = document.getElementById("f-started");
  const local = new Date(now.getTime() - now.getTimezoneOffset() * 60000);
  if (started && !document.getElementById("troubles")) started.value = local.toISOString().slice(0, 16);
}
for (const time of document.querySelectorAll("time[datetime]")) {
  const when = new Date(time.dateTime);
  if (!isNaN(when))
    time.textContent = when.toLocaleString([], {weekday: "short", hour: "2-digit", minute: "2-digit"});
}
document.getElementById("troubles")?.focus();
