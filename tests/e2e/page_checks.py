"""What is asked of every page in a real browser: two screens, readable text, labels apart."""

PHONE = {"width": 390, "height": 844}
DESK = {"width": 1280, "height": 900}

# Size on the screen of every text in a chart that is shown, in px.
TEXT_SIZES = """() => {
  const shown = [...document.querySelectorAll('figure svg')].filter(s => s.clientWidth);
  return shown.flatMap(s => [...s.querySelectorAll('text')].map(
    t => parseFloat(t.getAttribute('font-size'))
      * s.getBoundingClientRect().width / s.viewBox.baseVal.width));
}"""

# Labels that overlap or are cut, in the charts that are shown.
LABEL_TROUBLE = """() => {
  const trouble = [];
  for (const svg of document.querySelectorAll('figure svg')) {
    if (!svg.clientWidth) continue;
    const frame = svg.getBoundingClientRect();
    const seen = new Map();
    for (const text of svg.querySelectorAll('text')) {
      const words = text.textContent.trim();
      const box = text.getBoundingClientRect();
      if (!words || !box.width) continue;
      if (box.left < frame.left - 1 || box.right > frame.right + 1)
        trouble.push('cut: ' + words);
      const key = words + Math.round(box.left) + ',' + Math.round(box.top);
      seen.set(key, {words, box});  // the rim behind a label is drawn at the same place
    }
    const all = [...seen.values()];
    all.forEach((a, i) => all.slice(i + 1).forEach(b => {
      const across = Math.min(a.box.right, b.box.right) - Math.max(a.box.left, b.box.left);
      const down = Math.min(a.box.bottom, b.box.bottom) - Math.max(a.box.top, b.box.top);
      if (across > 1 && down > 3) trouble.push(a.words + ' / ' + b.words);
    }));
  }
  return trouble;
}"""
