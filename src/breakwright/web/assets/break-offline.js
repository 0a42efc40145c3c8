// Keeps the page at the rig and its parts, so that it opens without a link. The network always
// goes first; the page itself says how old a kept copy is.

const KEPT = 'breakwright-break-1';
const PARTS = ['/assets/frame.css', '/assets/break.css', '/assets/break.js', '/assets/break-outbox.js',
  '/assets/break-ask.js', '/assets/break-clock.js', '/assets/break-list.js', '/assets/break-numbers.js',
  '/assets/break-waiting.js',
  '/assets/live.js', '/assets/mark.svg'];
const PATIENCE = 4000;

self.addEventListener('install', event => {
  event.waitUntil(caches.open(KEPT)
    .then(kept => Promise.all(PARTS.map(part => kept.add(part).catch(() => {}))))
    .then(() => self.skipWaiting()));
});

self.addEventListener('activate', event => {
  event.waitUntil(caches.keys()
    .then(names => Promise.all(names
      .filter(name => name.startsWith('breakwright-break-') && name !== KEPT)
      .map(name => caches.delete(name))))
    .then(() => self.clients.claim()));
});

self.addEventListener('fetch', event => {
  const {request} = event, {origin, pathname, search} = new URL(request.url);
  if (request.method !== 'GET' || origin !== location.origin) return;
  const isPage = request.mode === 'navigate' && /^\/s\/[^/]+\/break$/.test(pathname);
  if (isPage || PARTS.includes(pathname)) event.respondWith(answer(request, pathname, search));
});

async function answer(request, pathname, search) {
  const kept = await caches.open(KEPT);
  const copy = await kept.match(pathname);
  const asked = fetch(request).then(async response => {
    // A page that was asked for one piece, or an error, is not the page to keep.
    if (response.ok && !response.redirected && !search) await kept.put(pathname, response.clone());
    return response;
  });
  if (!copy) return asked;
  asked.catch(() => {});
  const late = new Promise(done => setTimeout(done, PATIENCE, copy));
  return Promise.race([asked.catch(() => copy), late]);
}
