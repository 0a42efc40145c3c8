// What can be said of a load as typed without asking the server. It asks where a text can be read
// two ways; it never decides.

export const NEWTONS = {N: 1, kN: 1000, kgf: 9.80665, lbf: 4.4482216152605};
const UNITS = {n: 'N', kn: 'kN', kgf: 'kgf', lbf: 'lbf', kg: 'kgf', kgs: 'kgf', lb: 'lbf', lbs: 'lbf'};

const pattern = (mark, parting) => new RegExp(
  `^[+\\-−]?(?:(?:\\d+(?:${mark}\\d*)?|${mark}\\d+)(?:[eE][+-]?\\d{1,6})?`
  + `|[1-9]\\d{0,2}(?:${parting}\\d{3})+(?:${mark}\\d*)?`
  + `|[1-9]\\d{0,2}(?:['’\\u00a0\\u202f\\u2009]\\d{3})+(?:${mark}\\d*)?)$`);
const POINT = pattern('\\.', ','), COMMA = pattern(',', '\\.');

const plain = (text, decimal) => Number(decimal === 'comma'
  ? text.replace(/[.'’\s]/g, '').replace(',', '.') : text.replace(/[,'’\s]/g, ''));

// The numbers in a load: '>440' has one, '405..440' two.
const numbersIn = text => text.replace(/^[<>≥≤=\s]+|[+\s]+$/g, '').split('..').map(t => t.trim());

// {value} (one plain number), {}, {unit, text}: a unit was typed, {point, comma}: two ways,
// or {wrong}.
export function look(typed, decimal) {
  const text = typed.trim();
  const behind = /^(.*?[\d.,+])\s*([a-z]+)$/i.exec(text);
  if (behind && UNITS[behind[2].toLowerCase()]) {
    const unit = UNITS[behind[2].toLowerCase()];
    return {unit, text: behind[1].trim(), word: behind[2]};
  }
  for (const number of numbersIn(text)) {
    if (/^[-−]/.test(number)) return {wrong: 'A minus sign: type the size of the load without it.'};
    const point = POINT.test(number), comma = COMMA.test(number);
    if (!point && !comma) return {wrong: `'${typed}' is not a load. Type 412, >440, 440+, <30 or 405..440.`};
    if (point && comma && /[.,]/.test(number) && !decimal) {
      return {point: plain(number, 'point'), comma: plain(number, 'comma')};
    }
    if (decimal ? !(decimal === 'comma' ? comma : point) : false) {
      return {wrong: `'${typed}' does not fit a decimal ${decimal}.`};
    }
  }
  if (!/^[+\d.,'’\s]+$/.test(text) || text.endsWith('+') || text.includes('..')) return {};
  return {value: plain(text, decimal || (POINT.test(text) ? 'point' : 'comma'))};
}

// Three significant digits, as the server says it.
export function inUnit(newtons, unit) {
  const value = newtons / NEWTONS[unit];
  const digits = value > 0 ? Math.min(6, Math.max(0, 2 - Math.floor(Math.log10(value)))) : 0;
  return `${value.toFixed(digits)}\u00a0${unit}`;
}
