// The matrix of a batch: rows and columns chosen among what varies, sorted by a press, each cell opened below.

const ROWS = 100, COLUMNS = 24, MOST_SHOWN = 20;
const asked = questions.status.map((_, at) => at);
const SAID = { complete: "Complete", none: "Proved: none", best: "Proved: the best", partial: "Stopped early" };
const view = { row: 0, column: -1, held: new Map(), sort: null, falling: true, fromRow: 0, fromColumn: 0, rows: "", columns: "" };

// the two longest lists are the sides; the longer one goes down
const sides = [...axes].sort((a, b) => b.options.length - a.options.length).slice(0, 2);
[view.row, view.column] = [sides[0]?.at ?? -1, sides[1]?.at ?? -1];

/** What a cell says, how it looks, and by what it is sorted. */
function cellOf(at) {
  if (at === undefined) return { words: "", look: "empty", value: -3 };
  const status = text(questions.status[at]), verdict = text(questions.verdict[at]), count = text(questions.count[at]);
  if (status === "open") return { words: "…", look: "open", value: -2 };
  if (status !== "answered") return { words: "×", look: "failed", value: -2 };
  if (verdict === "none") return { words: "–", look: "none", value: 0 };
  if (verdict === "partial" && count === "0") return { words: "?", look: "partial", value: -1 };
  const nearest = offOf.get(questions.first[at]);
  if (verdict !== "complete" && nearest) {
    if (!nearest.off) return { words: "exact", look: "complete", value: 1 };
    return { words: (verdict === "partial" ? "≤ " : "") + nearest.words, look: verdict === "partial" ? verdict : "near", value: 1 - nearest.off };
  }
  const number = Number(count);
  const words = number < 1e6 ? whole(number) : number.toExponential(1).replace("e+", "·10^");
  return { words: (questions.at_least[at] ? "≥ " : "") + words, look: verdict, value: number };
}

/** Names of a side that hold what was typed. */
function fitting(options, typed) {
  return typed ? options.filter((one) => text(one).toLowerCase().includes(typed.toLowerCase())) : options;
}

/** The cells by row and column, of the questions that agree with what is held for the other lists. */
function cells() {
  const rest = axes.filter(({ at }) => at !== view.row && at !== view.column);
  const down = axes[view.row]?.column, across = axes[view.column]?.column;
  const byRow = new Map();
  for (const at of asked) {
    if (!rest.every((axis) => axis.column[at] === view.held.get(axis.at))) continue;
    const row = down ? down[at] : END;
    if (!byRow.has(row)) byRow.set(row, new Map());
    byRow.get(row).set(across ? across[at] : END, at);
  }
  return byRow;
}

function drawAxes() {
  const choose = (label, value, options, change) => el("label", { class: "field" }, `${label} `, el("select", { onchange: (event) => { change(Number(event.target.value)); view.fromRow = view.fromColumn = 0; drawAxes(); draw(); } },
    options.map(([key, words]) => el("option", { value: key, selected: key === value }, words))));
  const rest = axes.filter(({ at }) => at !== view.row && at !== view.column);
  view.held = new Map(rest.map(({ at, options }) => [at, view.held.get(at) ?? options[0]]));
  const parts = [];
  if (axes.length > 1) {
    const names = axes.map(({ name, at }) => [at, name]);
    parts.push(choose("rows", view.row, names, (value) => { if (value === view.column) view.column = view.row; view.row = value; view.sort = null; }));
    parts.push(choose("columns", view.column, names, (value) => { if (value === view.row) view.row = view.column; view.column = value; view.sort = null; }));
  }
  for (const { name, at, options } of rest) if (options.length > 1) parts.push(choose(name, view.held.get(at), options.map((one) => [one, signed(text(one))]), (value) => { view.held.set(at, value); }));
  const narrowed = (side, axis) => axis && axis.options.length > COLUMNS && field(`only ${axis.name} with`, { type: "search", value: view[side] }, (typed) => { view[side] = typed; view.fromRow = view.fromColumn = 0; draw(); });
  document.getElementById("axes").replaceChildren(...parts, narrowed("rows", axes[view.row]) || "", narrowed("columns", axes[view.column]) || "");
}

function draw() {
  const byRow = cells();
  const columns = axes[view.column] ? fitting(axes[view.column].options, view.columns) : [END];
  let rows = axes[view.row] ? fitting(axes[view.row].options, view.rows).filter((one) => byRow.has(one)) : [...byRow.keys()];
  if (view.sort !== null) {
    const values = new Map(rows.map((row) => [row, cellOf(byRow.get(row).get(view.sort)).value]));
    rows = [...rows].sort((a, b) => (values.get(b) - values.get(a)) * (view.falling ? 1 : -1));
  }
  const head = (name) => sorter(signed(text(name) ?? "answer"), view.sort === name ? (view.falling ? "descending" : "ascending") : null,
    () => { view.falling = view.sort === name ? !view.falling : true; view.sort = name; view.fromRow = 0; draw(); });
  const cell = (at) => {
    const { words, look } = cellOf(at);
    return el("td", { class: look }, at === undefined ? "" : el("button", { type: "button", title: signed(reasonOf(at)).slice(0, 300), onclick: () => open(at) }, words));
  };
  const across = columns.slice(view.fromColumn, view.fromColumn + COLUMNS);
  document.getElementById("matrix").replaceChildren(el("table", { class: "matrix" },
    el("thead", {}, el("tr", {}, el("th", { scope: "col" }, data.axes[view.row] ?? ""), across.map(head))),
    el("tbody", {}, rows.slice(view.fromRow, view.fromRow + ROWS).map((row) => el("tr", {}, el("th", { scope: "row" }, signed(text(row) ?? "")), across.map((column) => cell(byRow.get(row).get(column))))))));
  document.getElementById("pagers").replaceChildren(
    rows.length > ROWS ? pager(view.fromRow, ROWS, rows.length, "rows", (to) => { view.fromRow = to; draw(); }) : "",
    columns.length > COLUMNS ? pager(view.fromColumn, COLUMNS, columns.length, "columns", (to) => { view.fromColumn = to; draw(); }) : "");
}

/** Shows a question: its answer, its best designs, its brief. */
function open(at) {
  const names = data.axes.map((axis, place) => [axis, text(questions.values[place][at])]).filter(([, words]) => words).map(([axis, words]) => `${axis} ${signed(words)}`).join(", ");
  const its = [];
  designs.question.forEach((one, design) => { if (one === questions.first[at]) its.push(design); });
  const status = text(questions.status[at]), taken = text(questions.taken[at]), seconds = questions.seconds[at];
  const shown = its.slice(0, MOST_SHOWN);
  const told = [status === "answered" ? SAID[text(questions.verdict[at])] : status, seconds < 0 ? "" : `${Number(seconds.toPrecision(2))} s`].filter(Boolean).join("; ");
  document.getElementById("chosen").replaceChildren(
    el("h2", {}, names || "The question"), el("p", { class: "reason" }, signed(reasonOf(at))),
    el("p", { class: "hint" }, `${told}.${taken ? ` Taken from the batch ${taken}.` : ""}${its.length > shown.length ? ` The first ${shown.length} designs of ${whole(its.length)} on this page:` : ""}`),
    shown.length ? el("div", { class: "scroll" }, designTable(shown, ["design", "dice", ...numbers])) : "",
    el("details", {}, el("summary", {}, "Its brief, to ask it alone"), el("pre", {}, briefOf(at))));
  document.getElementById("chosen").scrollIntoView({ block: "nearest" });
}
