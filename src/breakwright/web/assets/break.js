// The page at the rig: what is typed is kept on this device first, then sent. Without this script
// the same page is a plain form.

import * as outbox from '/assets/break-outbox.js';
import {askIn, button, question} from '/assets/break-ask.js';
import {startClock, stayAwake} from '/assets/break-clock.js';
import {apply, drawClashes, drawList, nextOf, waitWords, withWaiting} from '/assets/break-list.js';
import {NEWTONS, inUnit, look} from '/assets/break-numbers.js';
import {drawWaiting, saveFile} from '/assets/break-waiting.js';

const at = id => document.getElementById(id);
const form = at('reading'), main = at('main-end'), ask = at('ask');
const loads = [...form.querySelectorAll('.load')];
let scene = JSON.parse(at('scene').textContent);
let items = [];            // of this device, not yet acknowledged
let current = form.elements.piece.value || null;
let kept = true;           // is there an outbox?
let busy = false, correcting = null, decimal = null, saidTurn = 0, lastSeen = scene.last;
let tried = {link: true};
let lastOrder = 0;         // the place in the order of testing that was given out last
const named = {how: [], why: []};   // on this page, until the server has them

const memory = {
  get(name) { try { return JSON.parse(localStorage.getItem(`breakwright-${name}`)); } catch { return null; } },
  set(name, value) { try { localStorage.setItem(`breakwright-${name}`, JSON.stringify(value)); } catch { /* refused */ } },
};
const today = () => {
  const now = new Date();
  return [now.getFullYear(), now.getMonth() + 1, now.getDate()].map(n => String(n).padStart(2, '0')).join('-');
};
const ours = () => items.filter(item => (item.form ? item.form.study : item.study) === scene.study);
const pieces = () => withWaiting(scene.pieces, ours());
const pieceOf = id => pieces().find(piece => piece.id === id);
const person = () => at('person').value.trim() || null;

// ---- what is shown

function show() {
  const all = pieces(), piece = pieceOf(current);
  const read = scene.safety.includes(today()) || ours().some(item => item.day === today());
  at('safety').hidden = read;
  at('work').hidden = !read;
  at('card').hidden = !piece;
  at('done').hidden = Boolean(piece);
  at('left').textContent = all.filter(one => one.stands === 'waiting').length;
  drawList(at('pieces'), all, scene.handle, choose);
  drawClashes(at('clashes'), all, scene.handle);
  if (!piece) return;
  form.elements.piece.value = piece.id;
  at('turn').textContent = `Piece ${all.findIndex(one => one.id === piece.id) + 1} of ${all.length}`;
  at('label').textContent = piece.label;
  const group = document.createElement('strong');
  group.textContent = piece.group;
  at('facts').replaceChildren(group, piece.block ? ` · board ${piece.block}` : '');
  at('measured').textContent = piece.measured || '';
  at('wait').textContent = waitWords(piece.ready);
  at('wait').hidden = !at('wait').textContent;
  const elsewhere = piece.stands !== 'waiting';
  at('elsewhere').hidden = !elsewhere;
  if (elsewhere) {
    const link = document.createElement('a');
    link.href = `/s/${scene.handle}/piece/${piece.id}`;
    link.textContent = 'See its page';
    at('elsewhere').replaceChildren(
      piece.stands === 'void' ? 'This piece was left out. ' : 'This piece has been read already. What you save now stands beside that reading, to be settled. ',
      link, ' ', button('Next piece', () => choose(null)));
  }
  photoPieces(piece);
}

function photoPieces(piece) {
  const deed = memory.get(`deed-${scene.study}`), chosen = at('photo-piece').value;
  const both = [deed && pieceOf(deed.piece), piece].filter(Boolean);
  at('photo').hidden = false;
  at('photo-piece').replaceChildren(...[...new Set(both)].map(one => new Option(one.label, one.id)));
  if ([...at('photo-piece').options].some(option => option.value === chosen)) at('photo-piece').value = chosen;
}

function showWaiting() { drawWaiting({items, tried, kept, asOf: scene.now, correct}); }

function say(label, line, {undo = true} = {}) {
  const strong = document.createElement('strong');
  strong.textContent = label;
  at('echo').replaceChildren(strong, ` ${line}`);
  at('echo-box').hidden = false;
  const deed = memory.get(`deed-${scene.study}`);
  at('undo').hidden = !undo || !deed;
  at('undo-label').textContent = deed ? deed.label : '';
  return ++saidTurn;
}

// ---- what is asked

function tellOff(words) { askIn(ask, words, []); }

function openPanel(name) {
  const box = at(name);
  for (const id of ['how', 'why']) at(id).hidden = id !== name;
  if (!name) return;
  const known = [...new Set([...named[name], ...(name === 'how' ? scene.ways : scene.reasons)])];
  box.querySelector('.answers').replaceChildren(...known.map(word => {
    const button = document.createElement('button');
    button.name = name === 'how' ? 'failure_is' : 'reason_is';
    button.value = button.textContent = word;
    return button;
  }));
  (box.querySelector('.answers button') || box.querySelector('input')).focus();
}

// Is every load clear? What can be read two ways is asked about, in place.
function clear(end, given) {
  const empty = loads.every(field => !field.value.trim());
  const asked = question(loads, {unit: at('unit').value, decimal,
    mayBeEmpty: place => end === 'screen-lost' || (end === 'over-range' && scene.limits[place]) || (end === 'unfair' && empty)});
  if (!asked) return true;
  askIn(ask, asked.words, asked.answers, chosen => {
    if (chosen.decimal) decimal = chosen.decimal;
    if (chosen.unit) { setUnit(chosen.unit); chosen.texts.forEach((text, place) => { loads[place].value = text; }); }
    save(end, given);
  });
  if (!asked.answers.length) { asked.field.focus(); asked.field.select(); }
  return false;
}

// ---- what is done

function entryOf(end, failure) {
  const value = name => (form.elements[name] ? form.elements[name].value.trim() : '');
  const entry = {loads: loads.map(field => field.value.trim()), unit: at('unit').value, date: today()};
  entry.ended = ['other', 'unfair'].includes(end) ? 'broke' : end;
  if (failure || (end === 'broke' && scene.counts)) entry.failure = failure || scene.counts;
  entry.order = Math.max(scene.order, lastOrder + 1);
  if (decimal) entry.decimal = decimal;
  for (const name of ['note', 'scale', 'together', 'rate']) if (value(name)) entry[name] = value(name);
  return entry;
}

async function save(end, {failure = '', reason = ''} = {}) {
  const piece = pieceOf(current);
  if (busy || !piece) return;
  ask.hidden = true;
  if (!clear(end, {failure, reason})) return;
  if (end === 'other' && !failure) { openPanel('how'); return; }
  if (end === 'unfair' && !reason) { openPanel('why'); return; }
  busy = true;
  loads[0].focus();          // within the tap, so that the phone's keyboard stays
  const entry = entryOf(end, failure), empty = entry.loads.every(text => !text);
  const made = [];
  const item = (kind, body, effect) => made.push({form: outbox.makeEvent(scene.study, kind, body, person()),
    label: piece.label, piece: piece.id, effect});
  if (!(end === 'unfair' && empty)) item('reading-entered', {piece: piece.id, entry}, piece.stands === 'waiting' ? 'read' : 'clash');
  if (end === 'unfair') item('piece-voided', {piece: piece.id, reason}, 'void');
  const sent = await keep(made);
  busy = false;
  if (!sent) return;
  if (!empty) lastOrder = entry.order;
  if (correcting) { await outbox.drop(correcting); correcting = null; }
  if (failure) named.how.unshift(failure);
  if (reason) named.why.unshift(reason);
  memory.set(`deed-${scene.study}`, {label: piece.label, piece: piece.id, ids: made.map(one => one.form.id), entry});
  clearFields();
  const turn = say(piece.label, empty ? `left out: ${reason}.` : localEcho(entry, end, failure, reason));
  choose(null);
  if (!empty) understand(piece, entry, turn, reason);
}

// Keep the items on this device, or, where that is refused, on the server at once.
async function keep(made) {
  if (kept) {
    try { await outbox.put(made); items = await outbox.waiting(); showWaiting(); return true; }
    catch (error) { tellOff(`Not saved: this device refuses to keep it (${error.message}). What you typed is still here.`); return false; }
  }
  try {
    const answer = await outbox.post(made.map(item => item.form));
    if (answer.ok) { for (const item of made) settle(item, await answer.clone().json()); return true; }
    const problems = await outbox.problemsOf(answer);
    tellOff(`Not saved: ${problems.map(p => `${p.message}. ${p.do || ''}`).join(' ')}`);
  } catch { tellOff('Not saved: no link to the server. What you typed is still here; press again when the link is back.'); }
  return false;
}

function settle(item, answer) {
  apply(scene.pieces, item);
  if (item.day) scene.safety.push(item.day);
  if (answer && Array.isArray(answer.new)) lastSeen = Math.max(lastSeen, ...answer.new);
}

function localEcho(entry, end, failure, reason) {
  const parts = entry.loads.map((text, place) => {
    const name = scene.displays[place], seen = text ? look(text, entry.decimal) : {};
    const same = entry.unit === scene.shown || seen.value === undefined;
    return `${text ? `${text} ${entry.unit}` : 'not read'}${name ? ` on the ${name}` : ''}`
      + (same ? '' : ` = ${inUnit(seen.value * NEWTONS[entry.unit], scene.shown)}`);
  });
  if (end === 'other') parts.push(`broke: ${failure}`);
  if (end === 'unfair') parts.push(`left out: ${reason}`);
  if (['over-range', 'screen-lost', 'stopped', 'rig-failed'].includes(end)) parts.push("counts as 'at least'");
  return `${parts.join('; ')}.`;
}

async function understand(piece, entry, turn, reason) {
  try {
    const answer = await fetch(`/api/v1/studies/${scene.study}/understand`, {
      method: 'POST', credentials: 'same-origin', headers: {'Content-Type': 'application/json'},
      body: JSON.stringify({piece: piece.id, entry}),
    });
    if (!answer.ok || turn !== saidTurn) return;
    const said = await answer.json();
    if (turn === saidTurn) say(piece.label, [said.line, ...said.remarks, reason ? `Left out: ${reason}.` : ''].join(' ').trim());
  } catch { /* no link: what was said here already stands */ }
}

async function undo() {
  const deed = memory.get(`deed-${scene.study}`);
  if (!deed || busy) return;
  busy = true;
  const stuck = items.filter(item => item.trouble && item.form && deed.ids.includes(item.form.id));
  for (const item of stuck) await outbox.drop(item.n);
  const ids = deed.ids.filter(id => !stuck.some(item => item.form.id === id)).reverse();
  const done = !ids.length || await keep(ids.map(id => ({
    form: outbox.makeEvent(scene.study, 'undone', {event: id}, person()),
    label: deed.label, piece: deed.piece, effect: deed.added ? 'gone' : 'waiting'})));
  busy = false;
  if (!done) return;
  memory.set(`deed-${scene.study}`, null);
  say(deed.label, 'Taken back. What was typed stays in its history.', {undo: false});
  choose(deed.added ? null : deed.piece);
  if (deed.entry) {
    if (deed.entry.order === lastOrder) lastOrder -= 1;
    refill(deed.entry);
  }
}

function refill(entry) {
  entry.loads.forEach((text, place) => { if (loads[place]) loads[place].value = text; });
  setUnit(entry.unit);
  if (entry.note) at('note').value = entry.note;
  loads[0].select();
}

function correct(item) {
  choose(item.piece);
  refill(item.form.body.entry);
  correcting = item.n;
  loads[0].focus();
}

function choose(id) {
  current = id || (nextOf(pieces()) || {}).id || null;
  openPanel('');
  ask.hidden = true;
  show();
  if (current && !at('work').hidden) loads[0].focus();
}

function clearFields() {
  for (const field of loads) field.value = '';
  for (const name of ['note', 'together', 'failure', 'reason']) if (form.elements[name]) form.elements[name].value = '';
  decimal = null;
  memory.set(`draft-${scene.study}`, null);
}

function setUnit(unit) {
  at('unit').value = unit;
  for (const shown of form.querySelectorAll('.unit')) shown.textContent = unit;
}

async function refresh() {
  try {
    const answer = await fetch(`/s/${scene.handle}/break.json`, {credentials: 'same-origin'});
    if (!answer.ok) return;
    const fresh = await answer.json();
    if (fresh.last < lastSeen) return;    // begun before our last reading arrived
    const before = pieceOf(current);
    scene = fresh;
    lastSeen = fresh.last;
    const now = pieceOf(current);
    show();
    if (before && now && before.stands === 'waiting' && now.stands !== 'waiting') {
      say(now.label, 'was just read on another device.', {undo: false});
    }
    if (!current && nextOf(pieces())) choose(null);
    const back = !tried.link;
    tried = {link: true};
    if (back && kept) outbox.send();
  } catch {
    tried = {link: false};
    clearTimeout(fetching);
    fetching = setTimeout(refresh, 5000);
  }
  showWaiting();
}

// ---- keys and taps

form.addEventListener('submit', event => {
  event.preventDefault();
  const {name, value} = event.submitter || main;
  const failure = name === 'failure_is' ? value : at('failure').value.trim();
  const reason = name === 'reason_is' ? value : at('reason').value.trim();
  if (name === 'failure_is' || value === 'other') save('other', {failure: at('how').hidden ? '' : failure});
  else if (name === 'reason_is' || value === 'unfair') save('unfair', {reason: at('why').hidden ? '' : reason});
  else save(value);
});
form.addEventListener('keydown', event => {
  if (event.key === 'Escape') { openPanel(''); ask.hidden = true; loads[0].focus(); }
  if (event.key !== 'Enter' || event.target.tagName !== 'INPUT') return;
  event.preventDefault();
  const place = loads.indexOf(event.target);
  if (place >= 0 && place < loads.length - 1) loads[place + 1].focus();
  else if (event.target.id === 'failure') save('other', {failure: event.target.value.trim()});
  else if (event.target.id === 'reason') save('unfair', {reason: event.target.value.trim()});
  else save('broke');
});
form.addEventListener('input', () => memory.set(`draft-${scene.study}`, {piece: current, loads: loads.map(field => field.value)}));
at('unit').addEventListener('change', () => { setUnit(at('unit').value); memory.set(`unit-${scene.study}`, at('unit').value); });
at('person').addEventListener('change', () => memory.set('person', person()));
at('undo').addEventListener('submit', event => { event.preventDefault(); undo(); });
at('safety-form').addEventListener('submit', async event => {
  event.preventDefault();
  const lines = [...at('safety').querySelectorAll('li')].map(line => line.textContent);
  const day = today();
  if (await keep([{form: outbox.makeEvent(scene.study, 'safety-read', {day, lines}, person()), day}])) choose(current);
});
at('add').addEventListener('submit', async event => {
  event.preventDefault();
  const {label, group, block} = event.target.elements, id = outbox.newId();
  if (pieces().some(piece => piece.label === label.value.trim())) { label.setCustomValidity('This label is taken.'); label.reportValidity(); label.setCustomValidity(''); return; }
  const added = {id, label: label.value.trim(), group: group.value, stands: 'waiting'};
  if (block.value.trim()) added.block = block.value.trim();
  const body = {piece: id, label: added.label, group: added.group, ...(added.block ? {block: added.block} : {})};
  const item = {form: outbox.makeEvent(scene.study, 'piece-added', body, person()), label: added.label, piece: id, added};
  if (!await keep([item])) return;
  memory.set(`deed-${scene.study}`, {label: added.label, piece: id, ids: [item.form.id], added: true});
  event.target.reset();
  event.target.closest('details').open = false;
  say(added.label, 'added.');
  choose(id);
});
at('photo-file').addEventListener('change', async event => {
  const [file] = event.target.files, piece = pieceOf(at('photo-piece').value);
  if (!file || !piece || !kept) return;
  await keep([{photo: file, name: file.name, id: outbox.newId(), study: scene.study, piece: piece.id, label: piece.label}]);
  event.target.value = '';
  say(piece.label, 'Photo kept; it goes to the server by itself.', {undo: false});
});
at('send').addEventListener('click', () => outbox.send());
at('save-file').addEventListener('click', () => saveFile(today()));

// ---- beginning

let fetching = 0;
// The stream of news notices a lost link before anything is sent.
const heard = link => {
  if (link) { if (!tried.link) { tried = {link}; outbox.send(); soon(); } }
  else { tried = {link: false}; showWaiting(); }
};
const soon = () => { clearTimeout(fetching); fetching = setTimeout(refresh, 150); };

outbox.watch(async news => {
  if (news.acked) {
    items = items.filter(item => item.n !== news.acked.item.n);
    settle(news.acked.item, news.acked.answer);
  }
  if (news.tried) { tried = news.tried; if (tried.link) soon(); }
  items = await outbox.waiting();
  showWaiting();
});

async function begin() {
  kept = await outbox.works();
  items = kept ? await outbox.waiting() : [];
  lastOrder = Math.max(0, ...ours().map(item => (item.form && item.form.body.entry || {}).order || 0));
  at('person').value = memory.get('person') || '';
  const unit = memory.get(`unit-${scene.study}`);
  if (unit && NEWTONS[unit]) setUnit(unit);
  const asked = new URLSearchParams(location.search).get('piece');
  const waits = current && pieceOf(current).stands === 'waiting';
  if (!asked && !waits) current = (nextOf(pieces()) || {}).id || null;
  show();
  const draft = memory.get(`draft-${scene.study}`);
  if (draft && draft.piece === current && loads.every(field => !field.value)) {
    draft.loads.forEach((text, place) => { if (loads[place]) loads[place].value = text; });
  }
  if (current && !at('work').hidden) loads[0].focus();
  if (kept) outbox.keepTrying(); else refresh();
  showWaiting();
  at('photo-keep').hidden = kept;
  startClock(at('clock'));
  stayAwake();
  document.body.dataset.ready = 'yes';
  if (isSecureContext && navigator.serviceWorker) navigator.serviceWorker.register('/break-offline.js').catch(() => {});
  import('/assets/live.js').then(({listen}) => listen(scene.study, scene.last, soon, heard)).catch(() => {});
}
begin();
