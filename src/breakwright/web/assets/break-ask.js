// What has to be asked before a reading is saved, and where the question stands.

import {look} from '/assets/break-numbers.js';

// The question that the loads as typed raise, or null: {words, field, answers}, an answer being
// [what its button says, what to set: {decimal} or {unit, texts}].
export function question(fields, {unit, decimal, mayBeEmpty}) {
  for (const [place, field] of fields.entries()) {
    const typed = field.value.trim(), name = field.labels[0].textContent.split(',')[0];
    if (!typed) {
      if (mayBeEmpty(place)) continue;
      return {field, answers: [], words: `${name}: nothing is typed. Type 0 if this display carried nothing; `
        + "if it was not seen, press 'Display went dark'."};
    }
    let seen = look(typed, decimal);
    if (seen.unit === unit && !/^(kgs?|lbs?)$/i.test(seen.word)) {
      field.value = seen.text;    // the unit that is asked for anyway
      seen = look(seen.text, decimal);
    }
    if (seen.wrong) return {field, words: seen.wrong, answers: []};
    if (seen.unit) {
      const texts = fields.map(one => look(one.value, decimal).text || one.value.trim());
      return {field, words: `'${seen.word}' behind ${seen.text}: were these ${seen.unit}?`, answers: [
        [`Yes, ${seen.unit}`, {unit: seen.unit, texts}],
        ...(unit === seen.unit ? [] : [[`No, ${unit}`, {unit, texts}]])]};
    }
    if (seen.point !== undefined) {
      return {field, words: `${typed} can be read two ways. Which is it?`, answers: [
        [`${seen.point} (decimal point)`, {decimal: 'point'}],
        [`${seen.comma} (decimal comma)`, {decimal: 'comma'}]]};
    }
  }
  return null;
}

export function button(words, work) {
  const made = document.createElement('button');
  made.type = 'button';
  made.textContent = words;
  made.addEventListener('click', work);
  return made;
}

// Show the question in ``box``; ``answered`` gets what was chosen.
export function askIn(box, words, answers, answered) {
  const text = document.createElement('p');
  text.textContent = words;
  const buttons = answers.map(([label, chosen]) => button(label, () => { box.hidden = true; answered(chosen); }));
  box.replaceChildren(text, ...buttons);
  box.hidden = false;
  if (buttons.length) buttons[0].focus();
}
