// The matrix of a batch: rows and columns chosen among what varies, sorted by a press, each cell opened below.

const data = JSON.parse(document.getElementById("run-data").textContent);
const text = (place) => data.texts[place];
const questions = data.rows.map(([values, status, verdict, count, atLeast, reason, brief, seconds, designs, taken]) => ({
  values: values.map(text), status, verdict, count, atLeast, reason: text(reason), brief: text(brief), seconds, designs, taken,
}));
const PAGE = 200;
const view = { row: 0, column: data.axes.length > 1 ? 1 : -1, held: {}, sort: null, falling: true, shown: PAGE };


const distinct = (axis) => [...new Set(questions.map((one) => one.values[axis]))];

/** What a cell says, how it looks, and by what it is sorted. */
function cellOf(one) {
  if (!one) return { words: "", look: "empty", value: -3 };
  if (one.status === "open") return { words: "…", look: "open", value: -2 };
  if (one.status !== "answered") return { words: "×", look: "failed", value: -2 };
  if (one.verdict === "none") return { words: "–", look: "none", value: 0 };
  if (one.verdict === "partial" && one.count === "0") return { words: "?", look: "partial", value: -1 };
  const number = Number(one.count);
  const words = number < 1e6 ? whole(number) : number.toExponential(1).replace("e+", "·10^");
  return { words: (one.atLeast ? "≥ " : "") + words, look: one.verdict, value: number };
}

/** The questions that agree with what is held for the axes that are neither rows nor columns. */
function held() {
  return questions.filter((one) => Object.entries(view.held).every(([axis, value]) => one.values[axis] === value));
}

function drawAxes() {
  const choose = (label, value, options, change) => el("label", { class: "field" }, `${label} `, el("select", { onchange: (event) => { change(event.target.value); view.shown = PAGE; draw(); } },
    options.map(([key, words]) => el("option", { value: key, selected: String(key) === String(value) }, words))));
  const axes = data.axes.map((name, at) => [at, name]);
  const rest = axes.filter(([at]) => at !== view.row && at !== view.column);
  view.held = Object.fromEntries(rest.map(([at]) => [at, view.held[at] ?? distinct(at)[0]]));
  const parts = [];
  if (axes.length > 1) {
    parts.push(choose("rows", view.row, axes, (value) => { if (Number(value) === view.column) view.column = view.row; view.row = Number(value); view.sort = null; }));
    parts.push(choose("columns", view.column, axes, (value) => { if (Number(value) === view.row) view.row = view.column; view.column = Number(value); view.sort = null; }));
  }
  for (const [at, name] of rest) parts.push(choose(name, view.held[at], distinct(at).map((one) => [one, one]), (value) => { view.held[at] = value; }));
  document.getElementById("axes").replaceChildren(...parts);
}

function draw() {
  drawAxes();
  const chosen = held();
  const columns = view.column < 0 ? ["answer"] : distinct(view.column);
  const byRow = new Map();
  for (const one of chosen) {
    const row = one.values[view.row];
    if (!byRow.has(row)) byRow.set(row, new Map());
    byRow.get(row).set(view.column < 0 ? "answer" : one.values[view.column], one);
  }
  let rows = [...byRow];
  if (view.sort !== null) {
    const value = ([, cells]) => cellOf(cells.get(view.sort)).value;
    rows = rows.sort((a, b) => (view.falling ? value(b) - value(a) : value(a) - value(b)));
  }
  const head = (name) => el("th", { scope: "col", "aria-sort": view.sort === name ? (view.falling ? "descending" : "ascending") : null },
    el("button", { type: "button", class: "quiet", onclick: () => { view.falling = view.sort === name ? !view.falling : true; view.sort = name; draw(); } }, name));
  const cell = (one) => {
    const { words, look } = cellOf(one);
    return el("td", { class: look }, one ? el("button", { type: "button", title: one.reason.slice(0, 300), onclick: () => open(one) }, words) : "");
  };
  document.getElementById("matrix").replaceChildren(el("table", { class: "matrix" },
    el("thead", {}, el("tr", {}, el("th", { scope: "col" }, data.axes[view.row] ?? ""), columns.map(head))),
    el("tbody", {}, rows.slice(0, view.shown).map(([name, cells]) => el("tr", {}, el("th", { scope: "row" }, name), columns.map((column) => cell(cells.get(column))))))),
    rows.length > view.shown ? el("button", { type: "button", onclick: () => { view.shown += PAGE; draw(); } }, `Show more of ${whole(rows.length)} rows`) : "");
}

/** Shows a question: its answer, its best designs, its brief. */
function open(one) {
  const names = data.axes.map((axis, at) => `${axis} ${one.values[at]}`).filter((words) => !words.endsWith(" ")).join(", ");
  const score = (value) => el("td", { class: "number" }, value === null ? "" : String(Math.round(value * 10) / 10));
  const designs = one.designs.length ? el("div", { class: "scroll" }, el("table", {},
    el("thead", {}, el("tr", {}, ["design", "dice", "overall", "legible", "familiar", "cost"].map((words, at) => el("th", { scope: "col", class: at > 1 ? "number" : null }, words)))),
    el("tbody", {}, one.designs.map(([id, dice, overall, legible, familiar, cost]) => el("tr", {}, el("td", { class: "id" }, id),
      el("td", {}, dice.flatMap((die, at) => (at ? [el("br"), die] : [die]))), score(overall), score(legible), score(familiar), score(cost)))))) : null;
  const from = one.taken ? ` Taken from the batch ${one.taken}.` : "";
  document.getElementById("chosen").replaceChildren(
    el("h2", {}, names || "The question"), el("p", { class: "reason" }, one.reason),
    el("p", { class: "hint" }, `${one.status === "answered" ? { complete: "Complete", none: "Proved: none", best: "Proved: the best", partial: "Stopped early" }[one.verdict] : one.status}${one.seconds === null ? "" : `; ${one.seconds.toPrecision(2)} s`}.${from}`),
    designs ?? "", el("details", {}, el("summary", {}, "Its brief, to ask it alone"), el("pre", {}, one.brief)));
  document.getElementById("chosen").scrollIntoView({ block: "nearest" });
}

// the longer of the first two lists goes down the side
if (data.axes.length > 1 && distinct(1).length > distinct(0).length) [view.row, view.column] = [1, 0];
draw();
