// What is set right on the page of one piece goes through the outbox of this device as well, so
// that it is not lost with the link. Without this script the forms go to the server by themselves.

import * as outbox from '/assets/break-outbox.js';

const study = document.body.dataset.study;
const {piece, label} = document.querySelector('[data-piece]').dataset;
const say = words => {
  const box = document.getElementById('link');
  box.textContent = words;
  box.hidden = false;
  box.scrollIntoView({block: 'nearest'});
};

const value = (form, name) => (form.elements[name] ? form.elements[name].value.trim() : '');

function entryOf(form) {
  const first = JSON.parse(form.dataset.first);
  const loads = [...form.querySelectorAll('.load')].map(field => field.value.trim());
  const entry = {loads, unit: value(form, 'unit'), ended: value(form, 'end')};
  for (const name of ['failure', 'note', 'decimal', 'scale', 'together', 'rate']) {
    if (value(form, name)) entry[name] = value(form, name);
  }
  for (const name of ['date', 'order']) if (first[name]) entry[name] = first[name];
  return entry;
}

// The event that a form stands for: [kind, body, where the piece then stands].
const MAKE = {
  amend: form => ['reading-amended', {piece, bases: value(form, 'bases').split(' '),
    entry: entryOf(form), reason: value(form, 'reason')}, 'read'],
  settle: form => {
    const chosen = form.querySelector('[name=chosen]:checked');
    const entry = chosen.dataset.entry ? JSON.parse(chosen.dataset.entry) : entryOf(form);
    return ['reading-amended', {piece, bases: value(form, 'bases').split(' '), entry,
      reason: value(form, 'reason')}, 'read'];
  },
  'leave-out': form => ['piece-voided', {piece, reason: value(form, 'reason')}, 'void'],
  'count-again': form => ['piece-restored', {piece, reason: value(form, 'reason')}, form.dataset.then],
  undo: form => ['undone', {event: value(form, 'event')}, ''],
};

async function refused(body) {
  if (!body.entry) return '';
  try {
    const answer = await fetch(`/api/v1/studies/${study}/understand`, {
      method: 'POST', credentials: 'same-origin', headers: {'Content-Type': 'application/json'},
      body: JSON.stringify({piece, entry: body.entry}),
    });
    return answer.status === 422 ? words(await outbox.problemsOf(answer)) : '';
  } catch { return ''; }
}
const words = problems => problems.map(p => [p.message, p.do].filter(Boolean).join('. ')).join(' ');

async function keep(form) {
  let person = null;
  try { person = JSON.parse(localStorage.getItem('breakwright-person')); } catch { /* refused */ }
  if (form.dataset.does === 'settle' && !form.querySelector('[name=chosen]:checked')) {
    say('Which of the readings counts? Choose one.');
    return;
  }
  const [kind, body, effect] = MAKE[form.dataset.does](form);
  const problem = await refused(body);
  if (problem) { say(problem); return; }
  const event = outbox.makeEvent(study, kind, body, person);
  await outbox.put([{form: event, label, piece, effect}]);
  await outbox.send();
  const left = (await outbox.waiting()).find(item => item.form && item.form.id === event.id);
  if (!left) location.reload();
  else if (left.trouble) { await outbox.drop(left.n); say(words(left.trouble)); }
  else say('No link to the server: this waits on the device and goes by itself.');
}

outbox.works().then(can => {
  if (!can) return;
  for (const form of document.querySelectorAll('form[data-does]')) {
    form.addEventListener('submit', async event => {
      event.preventDefault();
      if (form.dataset.busy) return;
      form.dataset.busy = 'yes';
      try { await keep(form); }
      catch (error) { say(`Not saved: ${error.message}. What you typed is still here.`); }
      delete form.dataset.busy;
    });
  }
  outbox.keepTrying();
  document.body.dataset.ready = 'yes';
});
