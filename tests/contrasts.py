"""Asked of a page in a browser: the contrast of each text with its ground (WCAG 2.2, relative luminance)."""

CONTRASTS = """() => {
  const parse = (text) => {
    const parts = text.match(/[\\d.]+/g).map(Number);
    const scale = text.startsWith("color(") ? 255 : 1;
    return [parts[0] * scale, parts[1] * scale, parts[2] * scale, parts[3] ?? 1];
  };
  const light = ([r, g, b]) => [r, g, b].map((v) => v / 255)
    .map((v) => (v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4))
    .reduce((sum, v, at) => sum + v * [0.2126, 0.7152, 0.0722][at], 0);
  const ground = (node) => {
    for (let at = node; at; at = at.parentElement) {
      const colour = parse(getComputedStyle(at).backgroundColor);
      if (colour[3] === 1) return colour;
    }
    return [255, 255, 255];
  };
  const out = [];
  const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  while (walker.nextNode()) {
    const text = walker.currentNode.textContent.trim();
    const node = walker.currentNode.parentElement;
    if (!text || !node.checkVisibility() || node.closest("script, style, noscript, .away")) continue;
    const look = getComputedStyle(node);
    const drawn = parse(node.closest("svg") ? look.fill : look.color);
    const [a, b] = [light(drawn), light(ground(node))].sort((x, y) => y - x);
    out.push([Number(((a + 0.05) / (b + 0.05)).toFixed(2)), text.slice(0, 40), node.outerHTML.slice(0, 80)]);
  }
  return out;
}"""
