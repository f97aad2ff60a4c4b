// The card of the chosen design: labels, outcomes, distribution, why it ranks here, factors, copies.

const card = { design: null, open: new Set(), paint: null, views: new Map() };

const GROUP_WORDS = { legible: "Legible", familiar: "Familiar", readability: "Readable", cost: "Cost", overall: "Overall" };

/** Shows a design. */
function showCard(design) {
  card.design = design;
  card.paint = null;
  card.views.forEach((view) => view.shut());
  card.views.clear();
  const holder = document.getElementById("card");
  holder.setAttribute("aria-label", `Design ${shortId(design)}`);
  holder.tabIndex = -1;
  const outcomes = el("div", { class: "outcomes-holder" });
  const columns = el("div", { class: "columns-holder", id: "columns" });
  const readout = el("p", { class: "readout", id: "readout", role: "status" });
  holder.replaceChildren(cardHead(design), diceBlock(design, holder), ...outcomeSections(design, outcomes, readout, columns), ...contestBlock(design), whyBlock(design), factorBlock(design) ?? "", copyBlock(design));
  fillOutcomes(design, outcomes, readout, columns);
}

function cardHead(design) {
  const move = (step, words, sign) => el("button", { type: "button", class: "move", "aria-label": words, title: words, onclick: () => moveBy(step) }, sign);
  const off = design.distance && design.distance !== "0" ? ` · off the target by ${design.distance}` : "";
  const set = data.sets.length > 1 ? ` · ${design.solids.map((die) => die.faces).join(" + ")}` : "";
  return el("header", { class: "card-head" },
    el("div", {},
      el("p", { class: "place" }, `Rank ${design.rank}${design.tied ? ", tied," : ""} of ${whole(designs.length)}${set}${design.ordinary ? " · the ordinary dice" : ""}${off}`),
      el("h2", {}, "Design ", el("span", { class: "id" }, shortId(design)))),
    designs.length > 1 ? el("nav", { "aria-label": "Other designs", onkeydown: cardKeys }, move(-1, "The design before", "↑"), move(1, "The next design", "↓")) : null);
}

function cardKeys(event) {
  const step = { ArrowDown: 1, ArrowUp: -1 }[event.key];
  if (!step) return;
  event.preventDefault();
  const place = [...event.currentTarget.children].indexOf(document.activeElement);
  moveBy(step);
  document.querySelectorAll("#card .move")[Math.max(0, place)].focus();
}

/** Labels and strips, all dice along one number line. */
function diceBlock(design, holder) {
  const room = Math.max(200, holder.clientWidth - 48);
  const abreast = design.dice.length > 2 ? Math.max(1, Math.min(3, Math.floor(room / 350))) : 1;
  const each = room / abreast - (abreast > 1 ? 28 : 6);
  const beside = data.view && each >= 400 ? STILL + 16 : 0;
  const probe = stripFrame(design.dice, 1, 1);
  const width = Math.min(each - beside, (probe.greatest - probe.least + 1) * 24);
  const frame = stripFrame(design.dice, width, design.dice.length > 3 ? 26 : 36);
  frame.block = Math.min(9, frame.tallest / Math.max(...design.dice.map((die) => die.repeats)));
  return el("div", { class: "dice", style: `grid-template-columns:repeat(${abreast},minmax(0,1fr))` }, design.dice.map((die, position) => {
    const own = { ...frame, tallest: Math.max(10, Math.ceil(frame.block * die.repeats) + 2) };
    const strip = el("div", { class: "die-strip" });
    strip.innerHTML = stripSvg(die, position, own, { axis: true });
    const turned = el("div", { class: "die-view", id: `view-${position + 1}` });
    return el("div", { class: `die die-${(position % 6) + 1}` },
      el("div", { class: "die-head" },
        el("div", {},
          el("p", { class: "die-name" }, el("b", {}, `Die ${position + 1}`), ` · ${dieWords(design.solids[position])}`),
          el("p", { class: `labels${die.labels.length > 24 ? " many" : ""}` }, labelWords(die)),
          beside ? strip : null),
        data.view ? dieSolid(design, position, turned) : null),
      beside ? null : strip, turned);
  }));
}

/** Whether every outcome can be shown as one cell of a grid: two dice, each rolled once. */
const hasGrid = (design) => design.dice.length === 2 && !data.reroll?.length;

function outcomeSections(design, outcomes, readout, columns) {
  const reading = readingOf(design);
  if (!reading) return [];
  const total = distributionOf(design).outcomes;
  const grid = hasGrid(design) ? [el("h3", { id: "outcomes-head" }), outcomes] : [];
  if (reading.labels) return [...grid, readout, el("p", { class: "exact", id: "exact" }), numbersBlock(design)];
  return [...grid, el("h3", {}, `Ways in ${whole(total)}${target ? ", the target as a line over each column" : ""}`), readout, columns,
    el("p", { class: "exact", id: "exact" }), numbersBlock(design)];
}

/** Draws grid and columns and ties them: what is pointed at in one lights up in the other. */
function fillOutcomes(design, outcomes, readout, columns) {
  const reading = readingOf(design);
  if (!reading) return;
  const found = distributionOf(design);
  const pairs = compare(found, target);
  const hint = reading.labels ? "" : hasGrid(design) ? "Point at an outcome or a column, or tap one: equal results light up." : "Point at a column, or tap one, to read it.";
  const held = { cell: null };
  const parts = [];
  const show = (cell) => {
    parts.forEach((part) => part.light(cell ? cell.result : null));
    readout.textContent = cell ? readoutWords(cell, design, reading, pairs, found) : hint;
    readout.classList.toggle("idle", !cell);
  };
  const hear = (cell, keep) => {
    if (keep) held.cell = cell;
    show(cell ?? held.cell);
  };
  if (hasGrid(design)) {
    const grid = drawGrid(outcomes, design, reading, found, hear);
    parts.push(grid);
    card.paint = grid.paint ?? null;
    document.getElementById("outcomes-head").textContent = `Every outcome: die ${grid.down + 1} down the side, die ${grid.across + 1} along the top`;
    if (grid.grouped) outcomes.append(el("p", { class: "hint" }, "Faces with the same label share one line."));
  }
  const wanted = target ? `; the target is ${pairs.every((pair) => pair.equal) ? "met by every column" : "missed by some columns"}` : "";
  if (!reading.labels) parts.push(drawColumns(columns, pairs, {
    height: columns.clientWidth > 800 ? 200 : 150,
    label: `Distribution, results ${minus(pairs[0].result)} to ${minus(pairs[pairs.length - 1].result)}${wanted}. Left and right keys read it.`,
    onResult: (result, keep) => hear(result === null ? null : { result }, keep),
  }));
  document.getElementById("exact").replaceChildren(...exactWords(design, pairs));
  show(null);
}

/** Says how design and target compare. */
function exactWords(design, pairs) {
  if (!target) return [];
  const missed = pairs.filter((pair) => !pair.equal).length;
  if (!missed) return [el("b", {}, "Exact."), " Every column meets its line."];
  return [el("b", {}, design.distance && design.distance !== "0" ? `Off by ${design.distance}.` : "Not exact."), ` ${missed} of ${count(pairs.length, "column")} ${missed === 1 ? "misses its line and is" : "miss their lines and are"} hatched, the gap shaded.`];
}

function readoutWords(cell, design, reading, pairs, found) {
  const pair = pairs.find((one) => one.result === cell.result);
  const outcomes = whole(found.outcomes);
  const turned = design.dice[0].runs.length > design.dice[1]?.runs.length;
  const [a, b] = turned ? [cell.column, cell.row] : [cell.row, cell.column];
  let from = "";
  if (cell.row !== undefined) {
    from = reading.labels ? "" : reading.sign ? `${minus(a)} ${reading.sign} ${minus(b)} = ${minus(cell.result)}. ` : `${minus(a)} and ${minus(b)}: ${reading.words} is ${minus(cell.result)}. `;
  }
  const wanted = !target ? "" : pair.equal ? ", as wanted" : `; wanted: ${whole(pair.asked)} in ${whole(target.outcomes)} (${percent(pair.asked, target.outcomes)})`;
  return `${from}${minus(cell.result)} comes up in ${count(pair.ways, "way", "ways")} of ${outcomes} (${percent(pair.ways, found.outcomes)})${wanted}.`.replace("1 ways", "1 way");
}

/** A part that opens; it stays open from design to design and is filled when first opened. */
function opening(key, title, fill) {
  const details = el("details", { class: key }, el("summary", {}, title));
  let filled = false;
  const open = () => {
    if (details.open && !filled) {
      details.append(...fill());
      filled = true;
    }
    if (details.open) card.open.add(key);
    else card.open.delete(key);
  };
  details.addEventListener("toggle", open);
  if (card.open.has(key)) {
    details.open = true;
    open();
  }
  return details;
}

function numbersBlock(design) {
  return opening("numbers", "The same in numbers", () => {
    const found = distributionOf(design);
    const head = ["result", "ways", "chance", ...(target ? [`wanted, in ${whole(target.outcomes)}`] : [])];
    return [el("div", { class: "scroll tall", tabindex: 0, role: "region", "aria-label": "The distribution in numbers" }, el("table", {},
      el("thead", {}, el("tr", {}, head.map((words) => el("th", { scope: "col", class: "number" }, words)))),
      el("tbody", {}, compare(found, target).map((pair) => el("tr", { class: pair.equal ? null : "miss" },
        el("th", { scope: "row", class: "number" }, minus(pair.result)), el("td", { class: "number" }, whole(pair.ways)),
        el("td", { class: "number" }, percent(pair.ways, found.outcomes)), target ? el("td", { class: "number" }, `${whole(pair.asked)}${pair.equal ? "" : " ≠"}`) : null)))))];
  });
}

/** The parts of each score in words and numbers. */
function whyBlock(design) {
  const groups = data.groups.map((group, place) => {
    const flat = design.parts[place];
    const parts = [];
    for (let at = 0; at < flat.length; at += 3) parts.push({ name: data.words[flat[at]], share: flat[at + 1], words: data.words[flat[at + 2]] });
    const score = design.scores[group];
    if (!parts.length) return null;
    return el("div", { class: "why-group" },
      el("h4", {}, GROUP_WORDS[group] ?? group, score === null || score === undefined ? "" : el("b", { class: "score" }, group === "cost" ? `${score} points` : String(score))),
      el("dl", {}, parts.map((part) => el("div", { class: "part" }, el("dt", {}, part.name),
        el("dd", { class: "bar", "aria-hidden": "true" }, part.share === null ? "" : el("i", { style: `width:${Math.round(100 * Math.max(0, Math.min(1, part.share)))}%` })),
        el("dd", { class: "words" }, part.words)))));
  });
  const loose = ["readability", "overall"].filter((name) => design.scores[name] !== undefined && design.scores[name] !== null);
  const weights = Object.entries(data.weights ?? {});
  const sums = loose.map((name) => `${GROUP_WORDS[name].toLowerCase()} ${design.scores[name]}`).join(", ");
  const line = [sums && `In all: ${sums}.`, weights.length && `${weights.map(([name, weight], place) => `${place ? name : name[0].toUpperCase() + name.slice(1)} counts ${weight}`).join(", ")}.`, `A longer bar is better${data.groups.includes("cost") ? ", and so is a lower cost" : ""}.`].filter(Boolean).join(" ");
  if (!groups.some(Boolean) && !sums) return "";
  return el("section", { class: "why" }, el("h3", {}, "Why it ranks here"), el("div", { class: "why-groups" }, groups.filter(Boolean)), el("p", { class: "hint" }, line));
}

function factorBlock(design) {
  const first = factorsOf(design);
  return first && opening("split", "Split into factors", () => factorsOf(design));
}

/** The design as other programs read it. */
function designJson(design) {
  const dice = design.dice.map((die, position) => ({ faces: design.solids[position].faces, solid: design.solids[position].solid, labels: die.labels }));
  return JSON.stringify({ id: design.id, dice, ordinary: design.ordinary, distance: design.distance ?? undefined, chance: design.chance ?? undefined, scores: design.scores });
}

function copyBlock(design) {
  const note = el("span", { class: "copied", role: "status" });
  const copier = (words, text) => el("button", { type: "button", onclick: async () => {
    note.textContent = (await copyText(text())) ? `${words.replace("Copy", "Copied")}.` : "This browser does not let a page copy.";
  } }, words);
  return el("div", { class: "copies" },
    copier("Copy labels", () => design.dice.map((die) => die.labels.join(" ")).join("\n")),
    copier("Copy JSON", () => designJson(design)),
    copier("Copy link", () => location.href.split("#")[0] + `#${design.id}`), note);
}

async function copyText(text) {
  try {
    await navigator.clipboard.writeText(text);
    return true;
  } catch {
    const area = el("textarea", { class: "away", "aria-hidden": "true" });
    area.value = text;
    document.body.append(area);
    area.select();
    const copied = document.execCommand("copy");
    area.remove();
    return copied;
  }
}
