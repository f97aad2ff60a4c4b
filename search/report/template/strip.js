// A die drawn as its labels along a number line: one block a face, repeats stacked.

/** Numbers at which a line from `least` to `greatest` is marked, far enough apart for `unit` pixels a number. */
function lineTicks(least, greatest, unit) {
  const room = 7 * Math.max(String(least).length, String(greatest).length) + 6;
  const steps = [1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000, 5000, 10000, 50000, 100000, 1000000];
  const step = steps.find((one) => one * unit >= room) ?? steps[steps.length - 1];
  const ticks = [];
  for (let at = Math.ceil(least / step) * step; at <= greatest; at += step) ticks.push(at);
  if (least > 0 && least <= 1 && step > 1 && step * unit - unit >= room) ticks.unshift(least);
  return ticks;
}

/** What the strips of a list share: the numbers from `least` to `greatest`, `unit` pixels each, and the tallest stack. */
function stripFrame(dice, width, tallest) {
  let least = Infinity, greatest = -Infinity, stack = 1;
  for (const die of dice) {
    least = Math.min(least, die.least);
    greatest = Math.max(greatest, die.greatest);
    stack = Math.max(stack, die.repeats);
  }
  if (least > 0 && least < 6) least = 1;
  const unit = width / (greatest - least + 1);
  return { least, greatest, width, unit, block: Math.min(6, Math.max(0.4, tallest / stack)), tallest };
}

/** The outline of a die's blocks: single blocks where there is room, else one silhouette. */
function stripPath(die, frame, base) {
  const { least, unit, block } = frame;
  const gap = unit >= 4 ? Math.min(2, unit * 0.16) : 0;
  const between = block >= 4 ? 1 : 0;
  const wide = Math.max(unit - gap, 1);
  let path = "";
  for (const [label, faces] of die.runs) {
    const x = ((label - least) * unit + gap / 2).toFixed(2);
    if (between) {
      for (let level = 1; level <= faces; level += 1) {
        path += `M${x} ${(base - level * block).toFixed(2)}h${wide.toFixed(2)}v${block - between}h-${wide.toFixed(2)}z`;
      }
    } else path += `M${x} ${(base - faces * block).toFixed(2)}h${wide.toFixed(2)}V${base}h-${wide.toFixed(2)}z`;
  }
  return path;
}

/** A strip as SVG text (numbers and our own words only). */
function stripSvg(die, position, frame, { axis = false } = {}) {
  const base = frame.tallest + 1;
  const height = base + (axis ? 15 : 2);
  const ticks = lineTicks(frame.least, frame.greatest, frame.unit);
  const middle = (tick) => ((tick - frame.least + 0.5) * frame.unit).toFixed(2);
  const marks = ticks.map((tick) => `<path class="tick" d="M${middle(tick)} 0V${base}"/>`).join("");
  const numbers = axis
    ? ticks.map((tick) => `<text x="${middle(tick)}" y="${base + 12}" text-anchor="middle">${minus(tick)}</text>`).join("")
    : "";
  return `<svg class="strip die-${(position % 6) + 1}" role="img" width="${frame.width.toFixed(1)}" height="${height}" viewBox="0 0 ${frame.width.toFixed(1)} ${height}" aria-label="die ${position + 1}: ${runWords(die)}">${marks}<path class="line" d="M0 ${base}H${frame.width.toFixed(1)}"/><path class="blocks" d="${stripPath(die, frame, base)}"/>${numbers}</svg>`;
}

/** The numbers of the line alone, for the head of a column. */
function axisSvg(frame) {
  const middle = (tick) => ((tick - frame.least + 0.5) * frame.unit).toFixed(2);
  const numbers = lineTicks(frame.least, frame.greatest, frame.unit)
    .filter((tick) => Number(middle(tick)) + 3.3 * String(tick).length < frame.width + 9)
    .map((tick) => `<text x="${middle(tick)}" y="11" text-anchor="${middle(tick) < 4 ? "start" : "middle"}">${minus(tick)}</text>`)
    .join("");
  return `<svg class="strip axis" aria-hidden="true" width="${frame.width.toFixed(1)}" height="14" viewBox="0 0 ${frame.width.toFixed(1)} 14">${numbers}</svg>`;
}

/** Labels in words, repeats counted: "1, 2 twice, 3". */
function runWords(die) {
  return die.runs.map(([label, faces]) => (faces === 1 ? `${label}` : faces === 2 ? `${label} twice` : `${label} ${faces} times`)).join(", ");
}

/** The labels of a die as text: each face, or on dice of many faces rows of labels with their repeats. */
function labelWords(die) {
  if (die.labels.length <= 36) return die.labels.map(minus).join(" · ");
  const words = [];
  for (let at = 0; at < die.runs.length;) {
    const [label, faces] = die.runs[at];
    let end = at;
    while (end + 1 < die.runs.length && die.runs[end + 1][0] === die.runs[end][0] + 1 && die.runs[end + 1][1] === faces) end += 1;
    if (end - at < 3) end = at;
    words.push(`${minus(label)}${end > at ? ` to ${minus(die.runs[end][0])}` : ""}${faces > 1 ? `\u202f×\u202f${faces}` : ""}`);
    at = end + 1;
  }
  return words.join(" · ");
}
