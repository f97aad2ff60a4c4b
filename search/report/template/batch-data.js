// What the page of a batch holds, in columns: its questions and its designs, told by their places, and shared texts.

const data = JSON.parse(document.getElementById("run-data").textContent);
const { questions, designs } = data;
const END = -1, TITLE = -2;
const text = (place) => (place < 0 ? null : data.texts[place]);

/** Where each of the lists begins that stand one behind the other, each with the mark of its end. */
function beginnings(flat) {
  const found = [0];
  flat.forEach((one, at) => { if (one === END) found.push(at + 1); });
  return found;
}

const begins = { reason: beginnings(questions.reason), brief: beginnings(questions.brief), dice: beginnings(designs.dice) };
const listOf = (flat, begin, at) => flat.slice(begin[at], begin[at + 1] - 1);

const axes = data.axes.map((name, at) => ({ name, at, column: questions.values[at], options: [...new Set(questions.values[at])] }));
const several = axes.filter((axis) => axis.options.length > 1);

const fraction = (words) => (words === null ? NaN : words.split("/").reduce((above, below) => above / below));
designs.off = Float64Array.from(designs.distance, ((known) => (place) => known.get(place) ?? (known.set(place, fraction(text(place))), known.get(place)))(new Map()));

/** How far off the best design of a question is, by the first of the questions that are equal to it. */
const offOf = new Map();
designs.question.forEach((at, design) => {
  if (designs.off[design] < (offOf.get(at)?.off ?? Infinity)) offOf.set(at, { off: designs.off[design], words: text(designs.distance[design]) });
});

/** A text with true minus signs before its numbers. */
const signed = (words) => words.replace(/(^|[\s,])-(?=\d)/g, "$1−");
const valuesOf = (at) => questions.values.map((column) => text(column[at]));
const reasonOf = (at) => listOf(questions.reason, begins.reason, at).map(text).join(" ");
const diceOf = (at) => listOf(designs.dice, begins.dice, at).map(text);

/** The brief of a question, its title written anew from what varies. */
function briefOf(at) {
  const title = () => `title = ${JSON.stringify(`${data.title}: ${valuesOf(at).filter(Boolean).join(", ")}`)}`;
  return listOf(questions.brief, begins.brief, at).map((line) => (line === TITLE ? title() : text(line))).join("\n");
}

/** What tells the question of a design from the others, in a few words. */
function wordsOf(design) {
  const at = designs.question[design];
  return signed(text(designs.words[design]) ?? (several.length ? several : axes).map(({ column }) => text(column[at])).filter(Boolean).join(", "));
}

/** A span of a longer list, with buttons to the spans before and after it. */
function pager(from, size, many, noun, move) {
  const last = Math.min(many, from + size);
  const button = (words, label, to, usable) => el("button", { type: "button", "aria-label": label, disabled: !usable, onclick: () => move(to) }, words);
  return el("div", { class: "pager" },
    button("‹", `${noun} before`, Math.max(0, from - size), from > 0),
    el("span", {}, many ? `${whole(from + 1)} to ${whole(last)} of ${whole(many)} ${noun}` : `no ${noun}`),
    button("›", `${noun} after`, from + size, last < many));
}

/** A field with its label, told of changes once the reader pauses. */
function field(label, attributes, change) {
  let waiting = 0;
  const input = el("input", { ...attributes, oninput: () => { clearTimeout(waiting); waiting = setTimeout(() => change(input.value.trim()), 120); } });
  return el("label", { class: "field" }, `${label} `, input);
}

/** A heading that sorts: `now` is the order that it stands for at present, if any. */
function sorter(words, now, press, attributes = {}) {
  return el("th", { scope: "col", "aria-sort": now, ...attributes }, el("button", { type: "button", class: "quiet", onclick: press }, words));
}
