// How many readings wait on this device, whether there is a link, and what the server refused.

import {button} from '/assets/break-ask.js';
import * as outbox from '/assets/break-outbox.js';

const at = id => document.getElementById(id);

export function drawWaiting({items, tried, kept, asOf, correct}) {
  const count = items.filter(item => !item.aside).length, aside = items.length - count;
  const troubles = items.filter(item => item.trouble);
  const failing = !tried.link || Boolean(tried.why && count);
  at('link').hidden = false;
  at('link').className = failing || !kept ? 'care' : 'hint';
  at('link').textContent = linkWords({count, tried, kept, failing, asOf});
  at('waiting').hidden = !(failing && items.length) && !troubles.length;
  const words = `${count} ${count === 1 ? 'waits' : 'wait'} on this device${aside ? `, ${aside} set aside` : ''}`;
  if (at('waiting-head').textContent !== words) at('waiting-head').textContent = words;
  at('troubles').replaceChildren(...troubles.map(item => trouble(item, correct)));
}

function linkWords({count, tried, kept, failing, asOf}) {
  const old = `The list is as of ${new Date(asOf).toTimeString().slice(0, 5)}.`;
  if (!kept) {
    return 'This browser keeps nothing (a private window?): a reading is safe only once the next piece '
      + `is shown.${failing ? ` No link to the server. ${old}` : ''}`;
  }
  if (failing) {
    const why = tried.link ? `The server says: ${tried.why}.` : 'No link to the server.';
    return `${why} Readings stay on this device and go by themselves. ${old}`;
  }
  return count ? `${count} on the way to the server` : 'Everything is on the server';
}

function trouble(item, correct) {
  const line = document.createElement('li'), entry = item.form && item.form.body.entry;
  const what = entry ? entry.loads.join(' + ') : item.photo ? 'photo' : '';
  const why = item.trouble.map(p => [p.message, p.do].filter(Boolean).join('. ')).join(' ');
  line.append(`${item.label || ''} ${what}: ${why} `);
  if (entry) line.append(button('Correct it', () => correct(item)), ' ');
  line.append(button('Try again',
    () => outbox.change({...item, trouble: null, aside: false}).then(outbox.send)), ' ');
  if (!item.aside) line.append(button('Set aside', () => outbox.change({...item, aside: true})));
  return line;
}

export async function saveFile(day) {
  const link = document.createElement('a');
  link.href = URL.createObjectURL(outbox.fileOf(await outbox.waiting()));
  link.download = `breakwright-waiting-${day}.json`;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 60000);
}
