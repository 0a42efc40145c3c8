// Brings a film here in pieces, with how far it is; without this script the form does it at once.
import { sendFilm } from "/assets/upload.js";

const form = document.getElementById("bring");
const box = document.getElementById("sending");
const bar = document.getElementById("sent");
const words = document.getElementById("sent-words");
const study = document.body.dataset;
let stopper = null;

const sizes = new Intl.NumberFormat(undefined, { maximumFractionDigits: 1 });
const MB = 2 ** 20;

form.addEventListener("submit", async (event) => {
  const file = form.elements.file.files[0];
  if (!file) return;
  event.preventDefault();
  stopper = new AbortController();
  form.hidden = true;
  box.hidden = false;
  words.textContent = "";
  try {
    const kept = await sendFilm(file, {
      study: study.study,
      piece: form.elements.piece.value || null,
      signal: stopper.signal,
      onProgress(sent, size) {
        bar.value = size ? sent / size : 0;
        words.textContent = `${sizes.format(sent / MB)} of ${sizes.format(size / MB)} MB`;
      },
      onWaiting() { words.textContent = "No link just now; it goes on by itself."; },
    });
    location.assign(`/s/${study.handle}/film/${kept.file.split(".")[0]}`);
  } catch (error) {
    form.hidden = false;
    box.hidden = !stopper.signal.aborted;
    box.hidden = false;
    words.textContent = stopper.signal.aborted
      ? "Stopped. Choose the same film again to go on where it stood."
      : error.message;
  }
});

document.getElementById("give-up").addEventListener("click", () => {
  stopper?.abort(new Error("stopped"));
});
