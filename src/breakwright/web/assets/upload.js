// A film to the server, in pieces: a link that breaks costs one piece, and after a reload the
// same file goes on where it stood.

const PIECE = 8 * 1024 * 1024;
const FIRST_WAIT_MS = 1000;
const LONGEST_WAIT_MS = 30_000;

function newId() {
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  return Array.from(bytes, (b) => b.toString(16).padStart(2, "0")).join("");
}

function remembered(study, piece, file) {
  const key = `upload:${study}:${piece || ""}:${file.name}:${file.size}:${file.lastModified}`;
  let id = localStorage.getItem(key);
  if (!id) localStorage.setItem(key, (id = newId()));
  return { id, forget: () => localStorage.removeItem(key) };
}

/** What the server refused, with its words. `final`: trying again by itself is no use. */
export class Refused extends Error {
  constructor(message, status) {
    super(message);
    this.status = status;
    this.final = status < 500 && status !== 409;
  }
}

async function ask(address, options) {
  const answer = await fetch(address, { credentials: "same-origin", ...options });
  if (answer.status === 204) return null;
  const form = await answer.json().catch(() => ({}));
  if (answer.ok) return form;
  const words = (form.problems || []).map((p) => [p.message, p.do].filter(Boolean).join(" "));
  throw new Refused(words.join("\n") || `The server answered ${answer.status}.`, answer.status);
}

function rest(ms, signal) {
  return new Promise((done, stopped) => {
    const timer = setTimeout(done, ms);
    signal?.addEventListener("abort", () => { clearTimeout(timer); stopped(signal.reason); }, { once: true });
  });
}

/** Sends `file` (a File) for `study` (id) and `piece` (id or null). `onProgress(sent, size)` and
 *  `onWaiting(error)` (no link; it goes on by itself) are optional, as is `signal` (an
 *  AbortSignal). Resolves to {file, sha256, size, new, known}. Throws Refused, or what `signal`
 *  says. */
export async function sendFilm(file, { study, piece = null, onProgress = () => {}, onWaiting = () => {}, signal } = {}) {
  const { id, forget } = remembered(study, piece, file);
  const json = { "Content-Type": "application/json" };
  const begin = { id, study, piece, name: file.name.slice(0, 200), size: file.size };
  let wait = FIRST_WAIT_MS;
  let offset = -1;
  for (;;) {
    try {
      if (offset < 0) {
        offset = (await ask("/api/v1/uploads", { method: "POST", headers: json, body: JSON.stringify(begin), signal })).offset;
      }
      onProgress(offset, file.size);
      while (offset < file.size) {
        const part = file.slice(offset, offset + PIECE);
        offset = (await ask(`/api/v1/uploads/${id}`, {
          method: "PATCH",
          headers: { "Content-Type": "application/octet-stream", "Upload-Offset": String(offset) },
          body: part,
          signal,
        })).offset;
        wait = FIRST_WAIT_MS;
        onProgress(offset, file.size);
      }
      const kept = await ask(`/api/v1/uploads/${id}/finish`, { method: "POST", signal });
      forget();
      return kept;
    } catch (error) {
      if (signal?.aborted || (error instanceof Refused && error.final)) throw error;
      onWaiting(error);
      offset = -1; // ask how far it got
      await rest(wait, signal);
      wait = Math.min(2 * wait, LONGEST_WAIT_MS);
    }
  }
}
