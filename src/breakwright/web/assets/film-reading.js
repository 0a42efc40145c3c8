// How far the reading of a film is; when it ends, the page shows what was read.
const box = document.getElementById("reading");
const bar = document.getElementById("share");
const percent = document.getElementById("percent");
const doing = document.getElementById("doing");
const SOON = 500, LATER = 4000;

async function look() {
  let wait = SOON;
  try {
    const answer = await fetch(`/api/v1/jobs/${box.dataset.job}`, { credentials: "same-origin" });
    if (answer.ok) {
      const job = await answer.json();
      if (job.state !== "queued" && job.state !== "running") {
        location.reload();
        return;
      }
      const share = Math.round(100 * job.share);
      bar.value = share;
      percent.textContent = `${share} %`;
      const words = job.doing || "waiting for its turn";
      if (doing.textContent !== words) doing.textContent = words;
    } else {
      wait = LATER;
    }
  } catch {
    wait = LATER; // no link just now
  }
  setTimeout(look, wait);
}

look();
