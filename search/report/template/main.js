// Starts the page: the target, the list, the card, the address, printing.

/** The design that the address names, by its id or a beginning of it. */
function named() {
  const wanted = location.hash.slice(1).toLowerCase();
  return wanted ? designs.find((design) => design.id.startsWith(wanted)) : undefined;
}

function drawTarget() {
  const holder = document.getElementById("target");
  if (!holder || !target) return;
  const pairs = compare(target, null);
  if (typeof pairs[0].result !== "number") return;
  drawColumns(holder, pairs, { height: 96, quiet: true, label: `The distribution wanted: results ${pairs[0].result} to ${pairs[pairs.length - 1].result}, columns as tall as their ways` });
}

/** The best designs as a plain table, for paper only. */
function fillPrintList() {
  const place = document.getElementById("print-list");
  const shown = designs.slice(0, document.querySelector(".sets") ? 7 : most > 3 ? 10 : 14);
  const width = Math.floor(Math.min(220, 460 / most));
  const frame = stripFrame(shown.flatMap((design) => design.dice), width, 20);
  const numbers = numberColumns();
  const rowsOfTable = shown.map((design) => {
    const strips = Array.from({ length: most }, (_, position) => {
      const cell = el("td");
      if (design.dice[position]) cell.innerHTML = `${data.sets.length > 1 ? `<span class="under">${design.solids[position].faces} faces</span>` : ""}${stripSvg(design.dice[position], position, frame)}`;
      return cell;
    });
    return el("tr", {}, el("td", {}, rankCell(design)), strips, numbers.map((one) => el("td", { class: "number" }, String(one.show(design) ?? "–"))));
  });
  const head = el("tr", {}, el("th", {}, "rank"), Array.from({ length: most }, (_, position) => el("th", {}, dieHead(position))), numbers.map((one) => el("th", { class: "number" }, one.title)));
  place.replaceChildren(
    el("h2", {}, shown.length === designs.length ? "The designs" : `The first ${shown.length} of ${whole(designs.length)} designs`),
    el("table", {}, el("thead", {}, head), el("tbody", {}, rowsOfTable)));
}

function start() {
  drawTarget();
  window.addEventListener("resize", atRest(drawTarget));
  if (!designs.length) return;
  document.querySelector(".work").classList.add(most <= 2 ? "beside" : "below");
  buildFilters(applyFilters);
  list.onChoose = (design, from) => {
    showCard(design);
    if (from !== "address") history.replaceState(null, "", `#${design.id}`);
    if (from === "list" && matchMedia("(max-width: 999px)").matches) {
      document.getElementById("card").scrollIntoView({ behavior: matchMedia("(prefers-reduced-motion: reduce)").matches ? "auto" : "smooth", block: "start" });
    }
  };
  choose((named() ?? designs[0]).id, { from: "address" });
  buildTable();
  fillPrintList();
  window.addEventListener("hashchange", () => {
    const design = named();
    if (design && design.id !== list.chosen) choose(design.id, { from: "address" });
  });
  window.addEventListener("resize", atRest(() => {
    if (document.getElementById("table").clientWidth !== list.width) {
      buildTable();
      showCard(card.design);
    }
  }));
  matchMedia("(prefers-color-scheme: dark)").addEventListener("change", () => card.paint?.());
  for (const button of document.querySelectorAll("button[data-set]")) {
    button.addEventListener("click", () => {
      const select = document.querySelector("#filters [name='set']");
      select.value = button.dataset.set;
      select.dispatchEvent(new Event("change"));
      document.getElementById("designs").scrollIntoView();
    });
  }
}

/** Calls once, when calls have stopped coming. */
function atRest(action) {
  let waiting = 0;
  return () => {
    clearTimeout(waiting);
    waiting = setTimeout(action, 120);
  };
}

start();
