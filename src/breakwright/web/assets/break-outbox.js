// Every event is written on this device first, then sent one by one, and kept until the server
// has acknowledged it. An id made here makes sending twice harmless.

const NAME = 'breakwright', STORE = 'out';
let database = null;
const listeners = new Set();
let retry = 0, wait = 1000, sending = null, again = false;

export function newId() {
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  return Array.from(bytes, b => b.toString(16).padStart(2, '0')).join('');
}

export function device() {
  let name = null;
  try { name = localStorage.getItem('breakwright-device'); } catch { /* refused: a name for now */ }
  if (!name) {
    const touch = matchMedia('(pointer: coarse)').matches;
    const kind = touch ? (Math.min(screen.width, screen.height) < 600 ? 'phone' : 'tablet') : 'desk';
    name = `${kind} ${newId().slice(0, 4)}`;
    try { localStorage.setItem('breakwright-device', name); } catch { /* as above */ }
  }
  return name;
}

export function makeEvent(study, kind, body, person) {
  const form = {id: newId(), study, kind, body, made: new Date().toISOString(), device: device()};
  if (person) form.person = person;
  return form;
}

function open() {
  if (database) return database;
  database = new Promise((done, fail) => {
    const asked = indexedDB.open(NAME, 1);
    asked.onupgradeneeded = () =>
      asked.result.createObjectStore(STORE, {keyPath: 'n', autoIncrement: true});
    asked.onsuccess = () => {
      // Another tab with a newer page must not wait for this one.
      asked.result.onversionchange = () => { asked.result.close(); database = null; };
      done(asked.result);
    };
    asked.onerror = () => fail(asked.error);
    asked.onblocked = () => fail(new Error('another tab holds the outbox'));
  });
  database.catch(() => { database = null; });
  return database;
}

async function run(mode, work) {
  const db = await open();
  return new Promise((done, fail) => {
    const t = db.transaction(STORE, mode, {durability: 'strict'});
    const asked = work(t.objectStore(STORE));
    t.oncomplete = () => done(asked && asked.result);
    t.onerror = t.onabort = () => fail(t.error || new Error('not kept'));
  });
}

export const waiting = () => run('readonly', s => s.getAll());

// Is there a place on this device that survives? A private window may refuse one.
export async function works() {
  try { await waiting(); } catch { return false; }
  if (navigator.storage && navigator.storage.persist) navigator.storage.persist().catch(() => {});
  return true;
}

// Items: {form, label, piece, effect} or, for a photo, {photo, study, piece, label, form: null}.
export async function put(items) {
  await run('readwrite', s => { for (const item of items) s.add(item); });
  tell();
  send();
}

export async function drop(n) { await run('readwrite', s => s.delete(n)); tell(); }
export async function change(item) { await run('readwrite', s => s.put(item)); tell(); }

// onNews({acked: {item, answer}}) after each one sent, onNews({}) whenever something changed.
export function watch(onNews) { listeners.add(onNews); }
function tell(news = {}) { for (const listener of listeners) listener(news); }

export async function post(events) {
  return fetch('/api/v1/events', {
    method: 'POST', credentials: 'same-origin', headers: {'Content-Type': 'application/json'},
    body: JSON.stringify({events}),
  });
}

async function postPhoto(item) {
  const form = new FormData();
  form.set('photo', item.photo, item.name || 'photo.jpg');
  form.set('piece', item.piece);
  form.set('id', item.id);
  return fetch(`/api/v1/studies/${item.study}/photos`,
    {method: 'POST', credentials: 'same-origin', body: form});
}

export async function problemsOf(answer) {
  try {
    const said = await answer.json();
    if (Array.isArray(said.problems)) return said.problems;
    return [{message: typeof said.detail === 'string' ? said.detail : `answer ${answer.status}`}];
  } catch { return [{message: `the server answered ${answer.status}`}]; }
}

// What can be put right by a person stays with its message; anything else is tried again.
const LASTING = new Set([400, 404, 409, 413, 415, 422]);

async function drain() {
  const early = new Set();    // what speaks of something that is still on its way
  for (;;) {
    const item = (await waiting()).find(i => !i.trouble && !early.has(i.n));
    if (!item) return {link: true, why: early.size ? 'it waits for what comes before it' : ''};
    let answer;
    try { answer = await (item.photo ? postPhoto(item) : post([item.form])); }
    catch { return {link: false, why: 'no link'}; }
    if (answer.ok) {
      const said = await answer.json().catch(() => ({}));
      await run('readwrite', s => s.delete(item.n));
      tell({acked: {item, answer: said}});
    } else if (LASTING.has(answer.status)) {
      const trouble = await problemsOf(answer);
      if (trouble.every(problem => problem.code === 'event-too-early')) early.add(item.n);
      else await change({...item, trouble});
    } else {
      const problems = await problemsOf(answer);
      return {link: answer.status !== 502 && answer.status !== 504, why: problems[0].message};
    }
  }
}

// One at a time in this tab, and, where the browser has locks, on this device.
export function send() {
  // What came while the last one was on its way may have missed that turn.
  if (sending) again = true;
  else {
    again = false;
    sending = locked().catch(error => ({link: false, why: error.message})).then(result => {
      sending = null;
      clearTimeout(retry);
      if (again && result.link) send();
      else if (result.link && !result.why && !result.elsewhere) wait = 1000;
      else {
        retry = setTimeout(send, wait);
        wait = Math.min(wait * 2, 30000);
      }
      tell({tried: result});
      return result;
    });
  }
  return sending;
}

async function locked() {
  if (!navigator.locks) return drain();
  return navigator.locks.request('breakwright-outbox', {ifAvailable: true},
    lock => lock ? drain() : {link: true, elsewhere: true});
}

export function keepTrying() {
  const now = () => { wait = 1000; send(); };
  addEventListener('online', now);
  addEventListener('pageshow', now);
  document.addEventListener('visibilitychange', () => document.hidden || now());
  now();
}

export function fileOf(items) {
  const events = items.filter(i => i.form).map(i => i.form);
  return new Blob([JSON.stringify({events}, null, 1)], {type: 'application/json'});
}
