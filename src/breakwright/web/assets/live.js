// News of a study, over server-sent events. The place reached is kept here, so that after a
// sleep, a lost link or a restart of the server nothing is missed and nothing comes twice.

const FIRST_WAIT_MS = 500;
const LONGEST_WAIT_MS = 10_000;
// The server says something every 15 s; a link that is silent for longer is dead.
const SILENCE_MS = 40_000;

/** Calls onNews({seq, study, kind, piece}) for each event of the study after the place `after`.
 *  onLink(true | false), if given, tells whether there is a link. Returns a function that stops. */
export function listen(study, after, onNews, onLink = () => {}) {
  let at = Number(after) || 0;
  let source = null;
  let timer = 0;
  let wait = FIRST_WAIT_MS;
  let heard = 0;
  let over = false;

  function close() {
    clearTimeout(timer);
    if (source) source.close();
    source = null;
  }

  function open() {
    close();
    if (over || document.visibilityState === "hidden") return;
    const address = new URL("/api/v1/stream", location.href);
    address.searchParams.set("study", study);
    address.searchParams.set("after", String(at));
    heard = Date.now();
    source = new EventSource(address);
    source.onopen = () => { wait = FIRST_WAIT_MS; heard = Date.now(); onLink(true); };
    source.addEventListener("beat", () => { heard = Date.now(); });
    source.onmessage = (message) => {
      heard = Date.now();
      const news = JSON.parse(message.data);
      if (news.seq <= at) return;
      at = news.seq;
      onNews(news);
    };
    // The browser gives up after some answers (a server that is just starting): begin anew.
    source.onerror = () => {
      onLink(false);
      close();
      timer = setTimeout(open, wait);
      wait = Math.min(2 * wait, LONGEST_WAIT_MS);
    };
  }

  function look() {
    if (document.visibilityState === "hidden") close();
    else if (!source || Date.now() - heard > SILENCE_MS) open();
  }

  const watch = setInterval(() => { if (source && Date.now() - heard > SILENCE_MS) open(); }, 5000);
  const begin = () => { wait = FIRST_WAIT_MS; open(); };
  document.addEventListener("visibilitychange", look);
  addEventListener("online", begin);
  addEventListener("pageshow", look);
  addEventListener("pagehide", close);
  open();

  return () => {
    over = true;
    close();
    clearInterval(watch);
    document.removeEventListener("visibilitychange", look);
    removeEventListener("online", begin);
    removeEventListener("pageshow", look);
    removeEventListener("pagehide", close);
  };
}
