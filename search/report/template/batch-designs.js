// The list of designs, the best first: sorted by a press, narrowed by what is typed, a span at a time.

const SPAN = 50, STRIP = 132, TALLEST = 16;
const NAMES = { "off by": "distance", overall: "overall", legible: "legible", familiar: "familiar", cost: "cost" };
const RISING = ["off by", "cost", "question"];
const columnOf = (name) => (name === "off by" ? designs.off : designs[NAMES[name]]);
const scored = designs.overall.some((one) => one !== null);
const numbers = [...(designs.off.some((one) => one > 0) ? ["off by"] : []), ...(scored ? ["overall", "legible", "familiar", "cost"] : [])];
const chosen = { sort: null, falling: true, from: 0, typed: "", limits: {}, exact: false };

function cellText(name, design) {
  if (name === "off by") return text(designs.distance[design]) ?? "";
  const value = columnOf(name)[design];
  return value === null ? "" : name === "cost" ? value.toFixed(2) : String(Math.round(value));
}

/** The labels of a die, read from its text: each different one with its number of faces; null where there are none. */
function runsOf(words) {
  const runs = [];
  for (const item of (words.split(": ")[1] ?? "").split(" ").filter(Boolean)) {
    const [, first, last, times] = /^(-?\d+)(?:\.\.(-?\d+))?(?:×(\d+))?$/.exec(item) ?? [];
    if (first === undefined) return null;
    for (let label = Number(first); label <= Number(last ?? first); label += 1) {
      const before = runs[runs.length - 1];
      if (before?.[0] === label) before[1] += Number(times ?? 1);
      else runs.push([label, Number(times ?? 1)]);
    }
  }
  return runs.length ? { runs, least: runs[0][0], greatest: runs[runs.length - 1][0], repeats: Math.max(...runs.map((run) => run[1])) } : null;
}

/** Makes the cells of the dice of some designs: each die drawn along one number line for all, beside its words. */
function diceCells(shown) {
  const dice = new Map(shown.map((design) => [design, diceOf(design).map((words) => [words, runsOf(words)])]));
  const drawn = [...dice.values()].flat().map(([, die]) => die).filter(Boolean);
  const frame = drawn.length ? stripFrame(drawn, STRIP, TALLEST) : null;
  return (design) => dice.get(design).map(([words, die], position) => {
    const line = el("div", { class: "die" }, el("span", {}, signed(words)));
    if (die) line.insertAdjacentHTML("afterbegin", stripSvg(die, position, frame));
    return line;
  });
}

/** Designs, by their places, as a table of these columns; `head` makes the headings. */
function designTable(shown, columns, head = (name, attributes) => el("th", { scope: "col", ...attributes }, name)) {
  const look = (name) => (numbers.includes(name) ? { class: "number" } : { class: { design: "id", dice: "dice" }[name] });
  const drawn = diceCells(shown);
  const cell = (name, design) => {
    if (name === "question") return wordsOf(design);
    if (name === "design") return designs.id[design];
    if (name === "dice") return drawn(design);
    return cellText(name, design);
  };
  return el("table", {}, el("thead", {}, el("tr", {}, columns.map((name) => head(name, look(name))))),
    el("tbody", {}, shown.map((design) => el("tr", {}, columns.map((name) => el("td", look(name), cell(name, design)))))));
}

/** The places of the designs that pass all that is asked, in the order asked. */
function passing() {
  // each text is looked through once, whatever number of designs has it
  const parts = chosen.typed.toLowerCase().replaceAll("−", "-").split(",").map((part) => part.trim()).filter(Boolean);
  const hits = parts.map((part) => Uint8Array.from(data.texts, (one) => one.toLowerCase().includes(part)));
  const says = (hit, part, design) => {
    if (designs.id[design].startsWith(part)) return true;
    for (let at = begins.dice[design]; designs.dice[at] !== END; at += 1) if (hit[designs.dice[at]]) return true;
    const question = designs.question[design];
    return designs.words[design] >= 0 ? hit[designs.words[design]] : questions.values.some((column) => hit[column[question]]);
  };
  const limits = Object.entries(chosen.limits);
  const found = [];
  for (let design = 0; design < data.listed; design += 1) {
    if (chosen.exact && !(designs.off[design] === 0)) continue;
    if (!limits.every(([name, limit]) => { const value = columnOf(name)[design]; return value !== null && (name === "cost" ? value <= limit : value >= limit); })) continue;
    if (parts.every((part, at) => says(hits[at], part, design))) found.push(design);
  }
  if (chosen.sort === null) return found;
  const sign = chosen.falling ? -1 : 1;
  if (chosen.sort === "question") return found.sort((a, b) => sign * (designs.question[a] - designs.question[b]) || a - b);
  const values = columnOf(chosen.sort);
  // what has no value stands last
  return found.sort((a, b) => {
    const [one, other] = [values[a], values[b]], lacks = [one, other].map((value) => value === null || Number.isNaN(value));
    return lacks[0] - lacks[1] || (lacks[0] ? 0 : sign * (one - other)) || a - b;
  });
}

function drawDesigns(found) {
  const press = (name) => {
    chosen.falling = chosen.sort === name ? !chosen.falling : !RISING.includes(name);
    chosen.sort = name;
    chosen.from = 0;
    drawDesigns(passing());
  };
  const head = (name, attributes) => (name === "design" || name === "dice" ? el("th", { scope: "col", ...attributes }, name)
    : sorter(name, chosen.sort === name ? (chosen.falling ? "descending" : "ascending") : null, () => press(name), attributes));
  const shown = found.slice(chosen.from, chosen.from + SPAN);
  document.getElementById("designs").replaceChildren(shown.length ? designTable(shown, ["question", "design", "dice", ...numbers], head) : el("p", { class: "hint" }, "No design is like that."));
  document.getElementById("designs-pager").replaceChildren(pager(chosen.from, SPAN, found.length, "designs", (to) => { chosen.from = to; drawDesigns(found); }));
}

function startDesigns() {
  const again = () => { chosen.from = 0; drawDesigns(passing()); };
  const limit = (name, words) => numbers.includes(name) && field(words, { type: "number", min: 0, step: "any", inputmode: "decimal" }, (typed) => {
    if (typed === "" || Number.isNaN(Number(typed))) delete chosen.limits[name];
    else chosen.limits[name] = Number(typed);
    again();
  });
  const exact = numbers.includes("off by") && el("label", { class: "field" }, el("input", { type: "checkbox", onchange: (event) => { chosen.exact = event.target.checked; again(); } }), " exact only");
  document.getElementById("narrow").replaceChildren(
    field("only with", { type: "search", placeholder: "2d6, cube" }, (typed) => { chosen.typed = typed; again(); }),
    ...[limit("legible", "legible at least"), limit("familiar", "familiar at least"), limit("cost", "cost at most"), exact].filter(Boolean));
  again();
}

drawAxes();
draw();
if (document.getElementById("designs")) startDesigns();
