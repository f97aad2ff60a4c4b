// The run's data, unpacked on demand, and what follows from it: exact distributions and comparisons.

const data = JSON.parse(document.getElementById("run-data").textContent);
const PLACE = Object.fromEntries(data.fields.map((name, place) => [name, place]));

/** Labels from their packed text: `least:digits of base 36` or `least,gap,gap,…`. */
function unpackLabels(text) {
  const colon = text.indexOf(":");
  if (colon < 0) {
    let at = 0;
    return text.split(",").map((step) => (at += Number(step)));
  }
  const least = Number(text.slice(0, colon));
  const labels = [];
  for (let place = colon + 1; place < text.length; place += 1) {
    for (let times = parseInt(text[place], 36); times > 0; times -= 1) labels.push(least + place - colon - 1);
  }
  return labels;
}

const opened = new Map();

/** A die of the pool: its labels, sorted; each different label with its number of faces; its split. */
function openDie(place) {
  if (!opened.has(place)) {
    const [text, split] = data.dice[place];
    const labels = unpackLabels(text);
    const runs = [];
    for (const label of labels) {
      const last = runs[runs.length - 1];
      if (last && last[0] === label) last[1] += 1;
      else runs.push([label, 1]);
    }
    opened.set(place, {
      labels, runs, split,
      least: labels[0],
      greatest: labels[labels.length - 1],
      repeats: Math.max(...runs.map((run) => run[1])),
    });
  }
  return opened.get(place);
}

const designs = data.designs.map((row) => ({
  id: row[PLACE.id],
  set: row[PLACE.set],
  rank: row[PLACE.rank],
  tied: row[PLACE.tied] === 1,
  ordinary: row[PLACE.ordinary] === 1,
  distance: row[PLACE.distance],
  chance: row[PLACE.chance],
  scores: Object.fromEntries(data.scores.map((name, place) => [name, row[PLACE.scores][place]])),
  parts: row[PLACE.parts],
  get dice() {
    return row[PLACE.dice].map(openDie);
  },
  get solids() {
    return data.sets[this.set].dice;
  },
  /** The dice with their marks in place, where the design is laid out. */
  get laid() {
    return data.laid?.[row[PLACE.id]];
  },
}));

/** The fewest first digits (four or more) that tell all ids apart. */
const idLength = (() => {
  let length = 4;
  while (length < 64 && new Set(designs.map((design) => design.id.slice(0, length))).size < designs.length) length += 1;
  return length;
})();
const shortId = (design) => design.id.slice(0, idLength);
const rankWords = (design) => (design.tied ? `=${design.rank}` : String(design.rank));

/** A fraction in text, such as "7/192", as a number to sort by. */
function fractionValue(text) {
  if (text === null || text === undefined) return null;
  const [over, under = "1"] = String(text).split("/");
  return Number(over) / Number(under);
}

/** How a die is called: its own name, its faces, the solid that carries it. */
function dieWords(solid) {
  const carried = solid.copies > 1 ? `, each label ${solid.copies} times` : "";
  const faces = `${solid.faces} ${solid.copies > 1 ? "labels" : "faces"}`;
  return `${solid.name ? `${solid.name}, ` : ""}${faces}${solid.solid ? `, ${solid.solid}` : ""}${carried}`;
}

/**
 * The readings: from `start`, `step` takes up one label more, `end` makes the result. A sign or words tell of two dice.
 * States and results are numbers, or texts where they are several labels.
 */
const READINGS = {
  total: { start: 0, step: (sum, label) => sum + label, sign: "+" },
  highest: { start: -Infinity, step: Math.max, words: "the highest" },
  lowest: { start: Infinity, step: Math.min, words: "the lowest" },
  product: { start: 1, step: (product, label) => product * label, sign: "×" },
  difference: { start: null, step: (first, label) => (first === null ? label : Math.abs(first - label)), words: "the difference", dice: 2 },
  "signed-difference": { start: null, step: (first, label) => (first === null ? label : first - label), sign: "−", dice: 2 },
  "side-by-side": { start: "", step: (before, label) => `${before} ${label}`.trim(), words: "side by side", labels: true },
  "total-modulo": { start: 0, step: (sum, label) => (((sum + label) % data.modulo) + data.modulo) % data.modulo, words: `the total modulo ${data.modulo}`, needs: "modulo" },
  middle: { start: "", step: (before, label) => `${before} ${label}`.trim(), end: (all) => inOrder(all)[(inOrder(all).length - 1) / 2], words: "the middle", odd: true },
  "total-of-highest": { start: "", step: (before, label) => inOrder(`${before} ${label}`).slice(-data.keep).join(" "), end: (kept) => sum(inOrder(kept)), words: `the total of the ${data.keep} highest`, needs: "keep" },
  "total-of-lowest": { start: "", step: (before, label) => inOrder(`${before} ${label}`).slice(0, data.keep).join(" "), end: (kept) => sum(inOrder(kept)), words: `the total of the ${data.keep} lowest`, needs: "keep" },
  "how-many": { start: 0, step: (many, label) => many + (label >= data.at_least ? 1 : 0), words: `how many show ${data.at_least} or more`, needs: "at_least" },
};

/** The labels of a text, rising. */
function inOrder(text) {
  return String(text).trim().split(" ").map(Number).sort((a, b) => a - b);
}

const sum = (numbers) => numbers.reduce((all, one) => all + one, 0);

/** Label → in how many ways a die shows it: its faces, or, where labels are rolled again, first and second roll together. */
function waysOf(die) {
  const again = data.reroll ?? [];
  if (!again.length) return die.runs.map(([label, faces]) => [label, BigInt(faces)]);
  const rolled = sum(die.runs.filter(([label]) => again.includes(label)).map((run) => run[1]));
  return die.runs.map(([label, faces]) => [label, BigInt(faces * (rolled + (again.includes(label) ? 0 : die.labels.length)))]).filter((pair) => pair[1]);
}

/** How the dice of a design become one result, or null where that is not known here. */
function readingOf(design) {
  const reading = READINGS[data.read];
  if (!reading || (reading.dice && reading.dice !== design.dice.length)) return null;
  if ((reading.needs && data[reading.needs] === undefined) || (reading.odd && design.dice.length % 2 === 0)) return null;
  const end = reading.end ?? ((known) => known);
  return { ...reading, end, of: (labels) => end(labels.reduce((known, label) => reading.step(known, label), reading.start)) };
}

/** The order of results: numbers rising, labels side by side one after the other. */
function byResult(one, other) {
  if (typeof one === "number") return one - other;
  const [a, b] = [one.split(" ").map(Number), other.split(" ").map(Number)];
  const at = a.findIndex((label, place) => label !== b[place]);
  return at < 0 ? 0 : a[at] - b[at];
}

/** The exact distribution of a design: result → ways (BigInt), sorted; all ways together. Null without a reading. */
function distributionOf(design) {
  const reading = readingOf(design);
  if (!reading) return null;
  let ways = new Map([[reading.start, 1n]]);
  for (const die of design.dice) {
    const next = new Map();
    for (const [known, times] of ways) {
      for (const [label, faces] of waysOf(die)) {
        const state = reading.step(known, label);
        next.set(state, (next.get(state) ?? 0n) + times * faces);
      }
    }
    ways = next;
  }
  const ended = new Map();
  for (const [known, times] of ways) ended.set(reading.end(known), (ended.get(reading.end(known)) ?? 0n) + times);
  const sorted = new Map([...ended].sort((a, b) => byResult(a[0], b[0])));
  return { ways: sorted, outcomes: [...sorted.values()].reduce((sum, times) => sum + times, 0n) };
}

/** The target as a distribution, or null. */
const target = data.target && {
  ways: new Map(data.target.ways.map(([result, times]) => [Array.isArray(result) ? result.join(" ") : result, BigInt(times)])),
  outcomes: data.target.ways.reduce((sum, pair) => sum + BigInt(pair[1]), 0n),
};

/** Result by result: the design's ways, the target's share of the same outcomes, whether the two are equal. */
function compare(found, wanted) {
  const results = [...new Set([...found.ways.keys(), ...(wanted ? wanted.ways.keys() : [])])].sort((a, b) => a - b);
  return results.map((result) => {
    const ways = found.ways.get(result) ?? 0n;
    const asked = wanted ? (wanted.ways.get(result) ?? 0n) : null;
    return {
      result, ways, asked,
      height: Number(ways),
      line: wanted ? (Number(asked) * Number(found.outcomes)) / Number(wanted.outcomes) : null,
      equal: !wanted || ways * wanted.outcomes === asked * found.outcomes,
    };
  });
}

/** A chance in words: "8.3 %". */
function percent(ways, outcomes) {
  const share = (100 * Number(ways)) / Number(outcomes);
  if (share > 0 && share < 0.001) return "under 0.001%";
  return `${Number(share.toPrecision(share >= 10 ? 3 : 2))}%`;
}
