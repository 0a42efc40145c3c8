// The clock for the waiting time between strokes: a tap begins it anew.

export function startClock(box) {
  const [stroke, since, target] = ['#stroke', '#since', '#target'].map(s => box.querySelector(s));
  let begun = 0, timer = 0;
  box.hidden = false;
  try { target.value = localStorage.getItem('breakwright-wait') || ''; } catch { /* refused */ }
  const show = () => {
    const seconds = Math.floor((Date.now() - begun) / 1000), aim = Number(target.value) || 0;
    since.textContent = `${seconds} s`;
    since.classList.toggle('over', aim > 0 && seconds >= aim);
    if (aim > 0 && seconds >= aim) since.textContent += ': next stroke';
  };
  stroke.addEventListener('click', () => {
    begun = Date.now();
    clearInterval(timer);
    timer = setInterval(show, 250);
    show();
  });
  target.addEventListener('change', () => {
    try { localStorage.setItem('breakwright-wait', target.value); } catch { /* refused */ }
  });
}

// A phone on a stand should not go dark between two pieces, where the browser lets us say so.
export function stayAwake() {
  if (!navigator.wakeLock) return;
  const hold = () => document.hidden || navigator.wakeLock.request('screen').catch(() => {});
  document.addEventListener('visibilitychange', hold);
  hold();
}
