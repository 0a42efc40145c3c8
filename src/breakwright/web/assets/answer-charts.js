// Draws the charts from their specifications, with the numbers of a piece beside the pointer.
// The drawing library evaluates no text as code (ast) and styles nothing by text, so that the
// page's strict security policy holds.

let library = null;

function load() {
  library ??= new Promise((done, fail) => {
    const script = document.createElement("script");
    script.src = "/assets/vega.js";
    script.type = "module";
    script.onload = () => done(window.vegaEmbed);
    script.onerror = () => { library = null; fail(new Error("no drawing library")); };
    document.head.append(script);
  });
  return library;
}

function look() {
  return {
    theme: matchMedia("(prefers-color-scheme: dark)").matches ? "dark" : "light",
    size: matchMedia("(max-width: 43rem)").matches ? "phone" : "page",
  };
}

function query(part) {
  const { job, unit } = part.dataset;
  return new URLSearchParams({ job, unit, ...look() }).toString();
}

// What the charts of this part depend on.
export function needed(part) {
  return query(part);
}

// A browser that cannot draw shows the pictures that pages without scripts get.
function picture(part, figure) {
  const title = figure.querySelector("h3").textContent;
  const image = new Image();
  image.src = `${part.dataset.base}/chart/${figure.dataset.name}.svg?${query(part)}`;
  image.alt = `${title}. The same facts are in the tables below.`;
  figure.querySelector(".drawn").replaceChildren(image);
}

const tip = document.createElement("div");
tip.className = "tip";
tip.hidden = true;
tip.setAttribute("aria-hidden", "true");   // the same facts stand in the tables
document.body.append(tip);

function pointAt(handler, event, item, words) {
  tip.hidden = !words;
  if (!words) return;
  tip.textContent = words;
  const wide = tip.offsetWidth, high = tip.offsetHeight;
  tip.style.left = `${Math.max(4, Math.min(event.clientX + 14, innerWidth - wide - 4))}px`;
  tip.style.top = `${Math.max(4, event.clientY - high - 14)}px`;
}

// Marks that carry words say them to a pointer.
function speaking(spec) {
  for (const layer of spec.layer ?? []) {
    const rows = spec.datasets?.[layer.data?.name] ?? layer.data?.values ?? [];
    if (rows.some((row) => row.says)) layer.encoding.tooltip = { field: "says" };
  }
  return spec;
}

export async function draw(part) {
  const wanted = query(part);
  let charts, embed;
  try {
    const [answer, made] = await Promise.all([fetch(`${part.dataset.base}/charts?${wanted}`), load()]);
    if (!answer.ok) throw new Error(`charts: ${answer.status}`);
    ({ charts } = await answer.json());
    embed = made;
  } catch (trouble) {
    for (const figure of part.querySelectorAll(".chart")) picture(part, figure);
    throw trouble;
  }
  const here = document.getElementById("charts");
  if (!here || query(here) !== wanted) return;   // newer readings came meanwhile
  for (const chart of charts) {
    const figure = here.querySelector(`.chart[data-name="${chart.name}"]`);
    if (!figure) continue;
    const place = document.createElement("div");
    place.className = "drawn";
    place.setAttribute("role", "img");
    place.setAttribute("aria-label", `${chart.title}. ${chart.alt}`);
    // Laid out unseen beside the old drawing, which stays until the new one is whole.
    const { view } = await embed(place, speaking(chart.spec), {
      ast: true, actions: false, defaultStyle: false, renderer: "canvas", tooltip: pointAt,
    });
    const old = figure.querySelector(".drawn");
    old.finish?.();
    old.replaceWith(place);
    place.finish = () => view.finalize();
    figure.querySelector("figcaption").textContent = `${chart.note} The same facts are in the tables below.`;
  }
}
