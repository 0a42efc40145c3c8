// Looking a film through: the slider shows every display at that moment at once.
document.documentElement.classList.add("scripted");

const range = document.getElementById("at-range");
const field = document.getElementById("f-at");
const now = document.getElementById("now");
const SETTLE_MS = 90;
let timer = 0;
let asked = 0;

async function show(at) {
  const mine = ++asked;
  try {
    const answer = await fetch(`${now.dataset.address}?at=${at}`, { credentials: "same-origin" });
    if (!answer.ok || mine !== asked) return;
    const page = new DOMParser().parseFromString(await answer.text(), "text/html");
    if (mine !== asked) return;
    now.replaceChildren(...[...page.body.childNodes].map((node) => document.importNode(node, true)));
    history.replaceState(null, "", `?at=${at}`);
  } catch {
    // No link just now: what is shown stays.
  }
}

function go(at) {
  const text = Number(at).toFixed(2);
  range.value = text;
  field.value = text;
  clearTimeout(timer);
  timer = setTimeout(() => show(text), SETTLE_MS);
}

if (range) {
  range.addEventListener("input", () => go(range.value));
  document.getElementById("scrub").addEventListener("submit", (event) => {
    const at = Number(field.value.replace(",", "."));
    if (!Number.isFinite(at)) return;
    event.preventDefault();
    go(Math.max(0, at));
  });
  document.addEventListener("click", (event) => {
    const link = event.target.closest("a[data-at]");
    if (!link || event.ctrlKey || event.metaKey || event.shiftKey) return;
    event.preventDefault();
    go(link.dataset.at);
    const head = document.getElementById("moment");
    head.scrollIntoView({ block: "start" });
    head.tabIndex = -1;
    head.focus({ preventScroll: true });
  });
}
