// Every outcome of two dice: labels on the margins, equal results lit together, by pointer, tap or keys.

const CELLS_WIDE = 32;
const CELLS_HIGH = 40;

/** The margin of one die: each face, or each different label with its number of faces. */
function margin(die, most) {
  return { items: die.labels.length <= most ? die.labels.map((label) => [label, 1]) : die.runs };
}

/** Draws the grid into `holder`; `onCell({result, row, column}|null, held)` hears where the reader is. Returns { light }. */
function drawGrid(holder, design, reading, distribution, onCell) {
  const turned = design.dice[0].runs.length > design.dice[1].runs.length;
  const [down, across] = turned ? [1, 0] : [0, 1];
  const rowsOf = margin(design.dice[down], CELLS_HIGH);
  const columnsOf = margin(design.dice[across], CELLS_WIDE);
  const resultAt = (row, column) => {
    const [a, b] = [rowsOf.items[row][0], columnsOf.items[column][0]];
    return reading.of(turned ? [b, a] : [a, b]);
  };
  const grid = { down, across, rows: rowsOf, columns: columnsOf, resultAt, distribution };
  const fits = rowsOf.items.length <= CELLS_HIGH && columnsOf.items.length <= CELLS_WIDE;
  return { ...(fits ? gridOfCells(holder, grid, onCell) : gridOnCanvas(holder, grid, onCell)), down, across, grouped: [...rowsOf.items, ...columnsOf.items].some((item) => item[1] > 1) };
}

/** How strongly a result is shaded: from the rarest, 0, to the most likely, 1. */
function shading(distribution) {
  const most = Number([...distribution.ways.values()].reduce((a, b) => (a > b ? a : b)));
  return (result) => (most <= 1 ? 0.4 : (Number(distribution.ways.get(result)) - 1) / (most - 1));
}

const stepsOf = { ArrowUp: [-1, 0], ArrowDown: [1, 0], ArrowLeft: [0, -1], ArrowRight: [0, 1] };

/** Where the keys lead from a place, or null if the key is none of ours. */
function step(event, place, grid) {
  const [rowCount, columnCount] = [grid.rows.items.length, grid.columns.items.length];
  if (event.key === "Home") return [place[0], 0];
  if (event.key === "End") return [place[0], columnCount - 1];
  const move = stepsOf[event.key];
  if (!move) return null;
  const bound = (value, size) => Math.max(0, Math.min(size - 1, value));
  return [bound(place[0] + move[0], rowCount), bound(place[1] + move[1], columnCount)];
}

function marginHead(item, position, scope) {
  const [label, faces] = item;
  return el("th", { scope, class: `die-${(position % 6) + 1}` }, minus(label), faces > 1 ? el("span", { class: "times" }, `×${faces}`) : null);
}

/** A grid of table cells. */
function gridOfCells(holder, grid, onCell) {
  const { rows: down, columns: across } = grid;
  const shade = shading(grid.distribution);
  const cells = new Map();
  const heads = { row: [], column: [] };
  const headRow = el("tr", {}, el("td", { class: "corner" }));
  across.items.forEach((item) => {
    const head = marginHead(item, grid.across, "col");
    heads.column.push(head);
    headRow.append(head);
  });
  const body = el("tbody");
  const places = down.items.map((item, row) => {
    const head = marginHead(item, grid.down, "row");
    heads.row.push(head);
    const line = el("tr", {}, head);
    body.append(line);
    return across.items.map((_, column) => {
      const result = grid.resultAt(row, column);
      const cell = el("td", { tabindex: -1, style: `--shade:${Math.round(100 * shade(result))}%`, "data-result": result, "data-place": `${row} ${column}` }, minus(result));
      if (!cells.has(result)) cells.set(result, []);
      cells.get(result).push(cell);
      line.append(cell);
      return cell;
    });
  });
  places[0][0].tabIndex = 0;
  const widest = Math.max(...[...cells.keys()].map((result) => String(result).length), ...across.items.map(([label]) => String(label).length));
  const least = widest <= 2 ? 18 : widest === 3 ? 24 : 8 * widest;
  const room = holder.clientWidth - 36;
  const wide = Math.max(least, Math.min(44, Math.floor(room / across.items.length)));
  const table = el("table", {
    class: `outcomes${wide < 22 ? " small" : wide > 38 ? " roomy" : ""}`, role: "grid", "aria-label": "Every outcome; arrow keys move, equal results light up together",
    style: `width:${36 + wide * across.items.length}px;--rows:${down.items.length}`,
  }, el("thead", {}, headRow), body);
  holder.replaceChildren(el("div", { class: "scroll" }, table));

  let litHeads = [];
  const at = (cell) => cell.dataset.place.split(" ").map(Number);
  const point = (cell, held) => {
    const [row, column] = at(cell);
    onCell({ result: grid.resultAt(row, column), row: down.items[row][0], column: across.items[column][0] }, held);
    litHeads = [heads.row[row], heads.column[column]];
    litHeads.forEach((head) => head.classList.add("lit"));
  };
  const target = (event) => event.target.closest("td[data-result]");
  table.addEventListener("pointerover", (event) => { if (target(event) && event.pointerType !== "touch") point(target(event), false); });
  table.addEventListener("pointerleave", () => onCell(null, false));
  table.addEventListener("focusin", (event) => {
    if (!target(event)) return;
    table.querySelectorAll("td[tabindex='0']").forEach((cell) => { cell.tabIndex = -1; });
    target(event).tabIndex = 0;
    point(target(event), true);
  });
  table.addEventListener("focusout", () => onCell(null, true));
  table.addEventListener("keydown", (event) => {
    const cell = target(event);
    const next = cell && step(event, at(cell), grid);
    if (!next) return;
    event.preventDefault();
    places[next[0]][next[1]].focus();
  });
  let lit = null;
  return {
    light(result) {
      litHeads.forEach((head) => head.classList.remove("lit"));
      litHeads = [];
      if (lit !== null) cells.get(lit)?.forEach((cell) => cell.classList.remove("lit"));
      lit = result;
      cells.get(result)?.forEach((cell) => cell.classList.add("lit"));
    },
  };
}

/** A grid too large for cells of text: one canvas, a cross-hair moved by pointer or keys. */
function gridOnCanvas(holder, grid, onCell) {
  const { rows: down, columns: across } = grid;
  const left = 40, top = 22;
  const size = Math.max(2, Math.min(12, Math.floor(((holder.clientWidth - left - 14) / across.items.length) * 2) / 2));
  const width = left + size * across.items.length + 13, height = top + size * down.items.length + 7;
  const canvas = el("canvas", {
    class: "outcomes-canvas", tabindex: 0, role: "img",
    "aria-label": `Every outcome, ${down.items.length} by ${across.items.length} different labels; arrow keys move, the line below tells the result`,
    style: `width:${width}px;aspect-ratio:${width}/${height}`,
  });
  const sharp = Math.min(3, (window.devicePixelRatio || 1) * 1.5);
  canvas.width = width * sharp;
  canvas.height = height * sharp;
  holder.replaceChildren(canvas);
  const shade = shading(grid.distribution);
  const results = down.items.map((_, row) => across.items.map((__, column) => grid.resultAt(row, column)));
  const state = { lit: null, place: null };

  const paint = () => {
    const look = getComputedStyle(canvas);
    const colour = (name) => look.getPropertyValue(name).trim();
    const shades = Array.from({ length: 33 }, (_, part) => mix(colour("--grid0"), colour("--grid1"), part / 32));
    const pen = canvas.getContext("2d");
    pen.setTransform(sharp, 0, 0, sharp, 0, 0);
    pen.clearRect(0, 0, width, height);
    results.forEach((line, row) => line.forEach((result, column) => {
      pen.fillStyle = result === state.lit ? colour("--hit") : shades[Math.round(32 * shade(result))];
      pen.fillRect(left + column * size, top + row * size, size - (size >= 5 ? 0.6 : 0), size - (size >= 5 ? 0.6 : 0));
    }));
    pen.font = '600 11px "Facewright Sans", sans-serif';
    const label = (items, position, place, write) => {
      pen.fillStyle = colour(`--die-${(position % 6) + 1}`);
      let free = -Infinity;
      items.forEach((item, at) => {
        if (at * size - free < place || (item[0] % 5 !== 0 && at !== 0 && items.length > 20)) return;
        write(minus(item[0]), at);
        free = at * size;
      });
    };
    pen.textAlign = "center";
    label(across.items, grid.across, 26, (words, at) => pen.fillText(words, left + (at + 0.5) * size, top - 7));
    pen.textAlign = "right";
    label(down.items, grid.down, 16, (words, at) => pen.fillText(words, left - 7, top + (at + 0.5) * size + 4));
    if (state.place) {
      const [row, column] = state.place;
      pen.strokeStyle = colour("--ink");
      pen.lineWidth = 1.5;
      pen.strokeRect(left + column * size - 1, top + row * size - 1, size + 1.5, size + 1.5);
      pen.beginPath();
      pen.moveTo(left, top + (row + 0.5) * size);
      pen.lineTo(left + column * size - 1, top + (row + 0.5) * size);
      pen.moveTo(left + (column + 0.5) * size, top);
      pen.lineTo(left + (column + 0.5) * size, top + row * size - 1);
      pen.lineWidth = 0.75;
      pen.stroke();
    }
  };
  const point = (place, held) => {
    const [row, column] = place;
    const [rowItem, columnItem] = [down.items[row], across.items[column]];
    onCell({ result: results[row][column], row: rowItem[0], column: columnItem[0], faces: rowItem[1] * columnItem[1] }, held);
    state.place = place;
    paint();
  };
  const under = (event) => {
    const box = canvas.getBoundingClientRect(), zoom = width / box.width;
    const column = Math.floor(((event.clientX - box.left) * zoom - left) / size), row = Math.floor(((event.clientY - box.top) * zoom - top) / size);
    return row >= 0 && column >= 0 && row < down.items.length && column < across.items.length ? [row, column] : null;
  };
  canvas.addEventListener("pointermove", (event) => { if (under(event)) point(under(event), false); });
  canvas.addEventListener("click", (event) => { if (under(event)) point(under(event), true); });
  canvas.addEventListener("pointerleave", () => onCell(null, false));
  canvas.addEventListener("focus", () => { if (!state.place && canvas.matches(":focus-visible")) point([0, 0], true); });
  canvas.addEventListener("blur", () => onCell(null, true));
  canvas.addEventListener("keydown", (event) => {
    const next = step(event, state.place ?? [0, 0], grid);
    if (!next) return;
    event.preventDefault();
    point(next, true);
  });
  paint();
  return {
    light(result) {
      state.lit = result;
      state.place = null;
      paint();
    },
    paint,
  };
}

/** A colour between two of the form #rrggbb. */
function mix(from, to, share) {
  const part = (colour, at) => parseInt(colour.slice(at, at + 2), 16);
  return `rgb(${[1, 3, 5].map((at) => Math.round(part(from, at) + (part(to, at) - part(from, at)) * share)).join(" ")})`;
}
