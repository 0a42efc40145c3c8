// Where each piece stands: what the server said, and what this device did since.

const WORDS = {read: 'read', clash: 'two readings: settle', void: 'left out'};

// The pieces with the effects of what still waits on this device.
export function withWaiting(pieces, items) {
  const all = pieces.map(piece => ({stands: 'waiting', ...piece}));
  for (const {effect, piece, added, aside} of items) if (!aside) apply(all, {effect, piece, added});
  return all;
}

export function apply(all, {effect, piece, added}) {
  const found = all.find(one => one.id === piece);
  if (added && !found) all.push({...added});
  else if (found && effect === 'gone') all.splice(all.indexOf(found), 1);
  else if (found && effect) found.stands = effect;
}

export const nextOf = pieces => pieces.find(piece => piece.stands === 'waiting');

export function drawList(list, pieces, handle, choose) {
  list.replaceChildren(...pieces.map(piece => {
    const line = document.createElement('li'), link = document.createElement('a');
    link.textContent = piece.label;
    link.href = piece.stands === 'waiting'
      ? `/s/${handle}/break?piece=${piece.id}` : `/s/${handle}/piece/${piece.id}`;
    if (piece.stands === 'waiting') {
      link.addEventListener('click', event => { event.preventDefault(); choose(piece.id); });
    }
    line.append(link, ` ${piece.group}`);
    if (WORDS[piece.stands]) {
      const stands = document.createElement('b');
      stands.textContent = WORDS[piece.stands];
      line.append(' ', stands);
    }
    return line;
  }));
}

export function drawClashes(box, pieces, handle) {
  const links = pieces.filter(piece => piece.stands === 'clash').map(piece => {
    const link = document.createElement('a');
    link.href = `/s/${handle}/piece/${piece.id}`;
    link.textContent = piece.label;
    return link;
  });
  box.hidden = !links.length;
  box.replaceChildren('Two readings to settle: ', ...links.flatMap(link => [link, ' ']));
}

export function waitWords(ready) {
  const minutes = ready ? Math.round((new Date(ready) - Date.now()) / 60000) : 0;
  if (minutes <= 0) return '';
  const days = Math.floor(minutes / 1440), hours = Math.floor(minutes % 1440 / 60), rest = minutes % 60;
  const words = days ? `${days} d ${hours} h` : hours ? `${hours} h ${rest} min` : `${rest} min`;
  return `Not ready: ${words} still to wait.`;
}
