// The list of designs: sorted, filtered, drawn only where it is seen, moved through by keys.

const SCORE_WORDS = { legible: "legible", familiar: "familiar", readability: "readable", cost: "cost", overall: "overall" };
const SCORE_ROOM = 72;
const RANK_ROOM = 94;
const TAG_ROOM = 32;
const HEAD_ROOM = 96;
const comfortable = (dice) => (dice > 2 ? 4.5 : 7);
const LIST_TALLEST = 640;
const PAGE_STEP = 10;

const list = { table: null, chosen: null, onChoose: () => {}, width: 0, sort: [{ column: "rank", dir: "asc" }] };

const rows = designs.map((design) => ({
  id: design.id, design, rank: design.rank,
  distance: fractionValue(design.distance),
  chance: fractionValue(design.chance),
  ...Object.fromEntries(data.scores.map((name) => [`score_${name}`, design.scores[name]])),
}));

/** Columns of numbers that the list can show, the most telling first. */
function numberColumns() {
  const order = ["overall", "legible", "familiar", "cost", "readability"];
  const names = [...order.filter((name) => data.scores.includes(name)), ...data.scores.filter((name) => !order.includes(name))];
  const columns = names.map((name) => ({ field: `score_${name}`, title: SCORE_WORDS[name] ?? name, dir: name === "cost" ? "asc" : "desc", show: (design) => design.scores[name] }));
  if (designs.some((design) => design.chance !== null && design.chance !== undefined)) {
    columns.unshift({ field: "chance", title: "least chance", dir: "desc", show: (design) => design.chance });
  }
  if (designs.some((design) => design.distance && design.distance !== "0")) {
    columns.unshift({ field: "distance", title: "off by", dir: "asc", show: (design) => design.distance });
  }
  return columns;
}

/** Orders two designs by the labels of one die. */
function byLabels(position) {
  return (a, b, rowA, rowB) => {
    const [one, other] = [rowA, rowB].map((row) => row.getData().design.dice[position]?.labels ?? []);
    for (let place = 0; place < Math.max(one.length, other.length); place += 1) {
      const difference = (one[place] ?? -Infinity) - (other[place] ?? -Infinity);
      if (difference) return difference;
    }
    return 0;
  };
}

function rankCell(design) {
  const tag = design.ordinary ? el("span", { class: "tag" }, "ordinary") : null;
  return el("div", { class: "rank-cell" }, el("span", {}, el("b", {}, rankWords(design)), tag), el("span", { class: "id" }, shortId(design)));
}

/** A strip with what tells its die apart from its neighbours: its number, or its faces where sets differ. */
function taggedStrip(design, position, frame, tagged) {
  const die = design.dice[position];
  if (!die) return "";
  const tag = data.sets.length > 1 ? `d${design.solids[position].faces}` : `${position + 1}`;
  return `<div class="tagged">${tagged ? `<span class="die-tag die-${(position % 6) + 1}${data.sets.length > 1 ? " broad" : ""}">${tag}</span>` : ""}${stripSvg(die, position, frame)}</div>`;
}

/** The columns for a list this wide. */
function plan(width) {
  const positions = Array.from({ length: most }, (_, position) => designs.filter((design) => design.dice.length > position).map((design) => design.dice[position]));
  const spans = positions.map((dice) => d3.max(dice, (die) => die.greatest) - d3.min(dice, (die) => die.least) + 1);
  const narrow = width < 480;
  const tagged = data.sets.length > 1;
  const rankRoom = narrow ? 78 : RANK_ROOM;
  const all = numberColumns();
  const roomWith = (columns) => width - rankRoom - columns * SCORE_ROOM - 18;
  const unitWith = (columns) => (roomWith(columns) - most * (18 + (tagged ? TAG_ROOM : 0))) / spans.reduce((sum, span) => sum + span, 0);
  let shown = narrow ? 1 : all.length;
  const cramped = (columns) => roomWith(columns) < most * HEAD_ROOM || (unitWith(columns) < comfortable(most) && unitWith(2) >= 3.2);
  while (shown > 2 && cramped(shown)) shown -= 1;
  const numbers = all.slice(0, shown);
  const room = roomWith(numbers.length);
  const beside = Math.min(12, unitWith(numbers.length));
  const stacked = most > 1 && (narrow || (most <= 3 ? beside < 3.2 : room / most < HEAD_ROOM));
  return { positions, spans, numbers, tagged, room, beside, stacked, narrow, rankRoom };
}

function stripColumns(planned) {
  const { positions, room, beside, stacked, tagged, narrow } = planned;
  const shared = { headerSort: true, formatter: "html", widthGrow: 1, cssClass: "strips" };
  if (stacked) {
    const tallest = most > 3 ? 13 : 22;
    const frame = stripFrame(positions.flat(), room - 26 - (tagged ? TAG_ROOM : 20), tallest);
    return {
      height: most * (tallest + 6) + 12,
      columns: [{
        ...shared, field: "labels", title: "labels", sorter: byLabels(0), minWidth: room - 4,
        titleFormatter: () => headTitle(narrow ? "the dice" : "the dice, one below the other", frame, tagged ? TAG_ROOM : 20),
        formatter: (cell) => cell.getData().design.dice.map((_, position) => taggedStrip(cell.getData().design, position, frame, true)).join(""),
      }],
    };
  }
  const columns = positions.map((dice, position) => {
    const span = stripFrame(dice, 1, 1);
    const width = Math.max(24, (span.greatest - span.least + 1) * beside);
    const frame = stripFrame(dice, width, 26);
    return {
      ...shared, field: `die_${position}`, title: `die ${position + 1}`, sorter: byLabels(position), minWidth: Math.max(HEAD_ROOM, width + 18 + (tagged ? TAG_ROOM : 0)),
      titleFormatter: () => headTitle(dieHead(position), frame, tagged ? TAG_ROOM : 0, position),
      formatter: (cell) => taggedStrip(cell.getData().design, position, frame, tagged),
    };
  });
  return { height: 44, columns };
}

function dieHead(position) {
  if (data.sets.length > 1) return `die ${position + 1}`;
  const die = data.sets[0].dice[position];
  return die.name ?? `${die.faces} faces`;
}

function headTitle(words, frame, indent, position) {
  const holder = el("div", { class: "head-title" }, el("span", { class: "head-words" },
    position === undefined ? null : el("i", { class: `swatch die-${(position % 6) + 1}`, "aria-hidden": "true" }), words));
  const axis = el("div", { class: "head-axis", style: `padding-left:${indent}px` });
  axis.innerHTML = axisSvg(frame);
  holder.append(axis);
  return holder;
}

/** Builds the list for the width that it has now. */
function buildTable() {
  const holder = document.getElementById("table");
  const chosen = list.chosen;
  if (list.table) {
    list.sort = list.table.getSorters().map(({ field, dir }) => ({ column: field, dir }));
    list.table.destroy();
  }
  list.width = holder.clientWidth;
  const planned = plan(list.width);
  const strips = stripColumns(planned);
  const columns = [
    { field: "rank", title: "rank", width: planned.rankRoom, sorter: "number", formatter: (cell) => rankCell(cell.getData().design) },
    ...strips.columns,
    ...planned.numbers.map((one) => ({
      field: one.field, title: one.title, width: SCORE_ROOM, sorter: "number", sorterParams: { alignEmptyValues: "bottom" },
      headerSortStartingDir: one.dir, hozAlign: "right", headerHozAlign: "right", cssClass: "number",
      formatter: (cell) => String(one.show(cell.getData().design) ?? "–"),
    })),
  ];
  const known = new Set(columns.map((column) => column.field));
  const head = strips.height < 0 ? 0 : 50;
  const rowsHigh = rows.length * strips.height + head + 2;
  const roof = Math.max(320, Math.min(planned.narrow ? window.innerHeight * 0.62 : LIST_TALLEST, rowsHigh));
  list.table = new Tabulator(holder, {
    data: rows, index: "id", columns, layout: "fitColumns", rowHeight: strips.height,
    height: Math.min(rowsHigh, roof), nestedFieldSeparator: false, columnHeaderSortMulti: false,
    initialSort: list.sort.filter((one) => known.has(one.column)),
    placeholder: "No design passes these filters.",
    rowFormatter: (row) => markRow(row, row.getData().id === list.chosen),
  });
  list.table.on("rowClick", (event, row) => choose(row.getData().id, { from: "list" }));
  list.table.on("tableBuilt", () => {
    keysForHeads(holder);
    keysForRows(holder.querySelector(".tabulator-tableholder"));
    holder.setAttribute("aria-label", "Designs");
    applyFilters();
    if (chosen) reveal(chosen);
  });
}

function markRow(row, on) {
  const element = row.getElement();
  element.id = `row-${row.getData().id}`;
  element.classList.toggle("chosen", on);
  element.setAttribute("aria-selected", String(on));
}

/** Heads can be reached and pressed by keys. */
function keysForHeads(holder) {
  for (const head of holder.querySelectorAll(".tabulator-col.tabulator-sortable")) {
    head.tabIndex = 0;
    head.addEventListener("keydown", (event) => {
      if (event.key !== "Enter" && event.key !== " ") return;
      event.preventDefault();
      head.click();
    });
  }
}

/** Up, down, page and end keys choose; Enter goes to the chosen design. */
function keysForRows(body) {
  body.setAttribute("role", "rowgroup");
  body.setAttribute("aria-label", "Designs: up and down keys choose one");
  body.addEventListener("keydown", (event) => {
    const step = { ArrowDown: 1, ArrowUp: -1, PageDown: PAGE_STEP, PageUp: -PAGE_STEP, Home: -Infinity, End: Infinity }[event.key];
    if (event.key === "Enter") document.getElementById("card").focus();
    else if (step !== undefined) moveBy(step);
    else return;
    event.preventDefault();
  });
}

/** Designs in the order of the list, those that the filters hide left out. */
function listed() {
  return list.table ? list.table.getRows("active").map((row) => row.getData().id) : designs.map((design) => design.id);
}

/** Chooses the design so many places on. */
function moveBy(step) {
  const ids = listed();
  if (!ids.length) return;
  const at = ids.indexOf(list.chosen);
  choose(ids[at < 0 ? 0 : Math.max(0, Math.min(ids.length - 1, at + step))], { from: "keys" });
}

/** Chooses a design: marks its row, brings it into view, tells the card. */
function choose(id, { from = "page" } = {}) {
  const before = list.table && list.chosen ? list.table.getRow(list.chosen) : null;
  list.chosen = id;
  if (before) markRow(before, false);
  if (from === "list") markRow(list.table.getRow(id), true);
  else reveal(id);
  list.onChoose(designs.find((design) => design.id === id), from);
}

function reveal(id) {
  const row = list.table && list.table.getRow(id);
  if (!row) return;
  const body = document.querySelector("#table .tabulator-tableholder");
  list.table.scrollToRow(row, "nearest", false).catch(() => {});
  markRow(row, true);
  body.setAttribute("aria-activedescendant", `row-${id}`);
}

function applyFilters() {
  if (!list.table) return;
  if (filtering()) list.table.setFilter((row) => passes(row.design));
  else list.table.clearFilter();
  const shown = list.table.getDataCount("active");
  document.getElementById("shown").textContent = !filtering() ? "" : `${whole(shown)} of ${whole(rows.length)} shown`;
  document.getElementById("reset").hidden = !filtering();
}
