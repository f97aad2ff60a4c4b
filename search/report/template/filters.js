// The controls above the list, and whether a design passes them.

const most = designs.reduce((found, design) => Math.max(found, design.dice.length), 0);
const wishes = { text: "", ordinary: "all", set: "all", dice: [] };
const LIMITS = [
  ["different", "different labels, at most", (die) => die.runs.length],
  ["greatest", "highest label, at most", (die) => die.greatest],
  ["repeats", "faces with the same label, at most", (die) => die.repeats],
];

/** Whether each word of the text is the beginning of the id, or the numbers among them stand together on one die. */
function passesText(design, text) {
  const words = text.toLowerCase().replaceAll("−", "-").split(/[\s,;·]+/).filter(Boolean);
  if (!words.length) return true;
  if (words.length === 1 && design.id.startsWith(words[0])) return true;
  if (!words.every((word) => /^-?\d+$/.test(word))) return false;
  const needed = new Map();
  for (const word of words) needed.set(Number(word), (needed.get(Number(word)) ?? 0) + 1);
  return design.dice.some((die) => {
    const faces = new Map(die.runs);
    return [...needed].every(([label, times]) => (faces.get(label) ?? 0) >= times);
  });
}

/** Whether a design passes all that is set. */
function passes(design) {
  if (wishes.ordinary !== "all" && design.ordinary !== (wishes.ordinary === "ordinary")) return false;
  if (wishes.set !== "all" && design.set !== Number(wishes.set)) return false;
  const dice = design.dice;
  for (let position = 0; position < dice.length; position += 1) {
    for (const [name, , measure] of LIMITS) {
      const limit = wishes.dice[position]?.[name];
      if (limit !== undefined && measure(dice[position]) > limit) return false;
    }
  }
  return passesText(design, wishes.text);
}

/** A menu with its label. */
function menu(label, name, options, changed) {
  const select = el("select", { name, onchange: changed }, options.map(([value, words]) => el("option", { value }, words)));
  return el("label", { class: "field" }, el("span", {}, label), select);
}

/** The limits for one die, with the range that the listed designs span as a hint. */
function dieLimits(position, changed) {
  const dice = designs.filter((design) => design.dice.length > position).map((design) => design.dice[position]);
  const fields = LIMITS.map(([name, words, measure]) => {
    const [low, high] = d3.extent(dice, measure);
    const input = el("input", {
      type: "number", name: `${name}-${position}`, min: low, max: high, step: 1, placeholder: `${low} to ${high}`,
      inputmode: "numeric",
      oninput: () => {
        wishes.dice[position] ??= {};
        if (input.value.trim() === "" || Number.isNaN(Number(input.value))) delete wishes.dice[position][name];
        else wishes.dice[position][name] = Number(input.value);
        changed();
      },
    });
    return el("label", { class: "field" }, el("span", {}, words), input);
  });
  const name = data.sets.length === 1 ? dieWords(data.sets[0].dice[position]) : "in each set";
  return el("fieldset", {}, el("legend", { class: `die-${(position % 6) + 1}` }, el("b", {}, `Die ${position + 1}`), ` · ${name}`), fields);
}

/** Builds the controls; `changed` is called after each change. */
function buildFilters(changed) {
  const form = document.getElementById("filters");
  let waiting = 0;
  const search = el("input", {
    type: "search", name: "text", autocomplete: "off", spellcheck: "false", placeholder: "2 2 5, or an id",
    "aria-describedby": "search-help",
    oninput: (event) => {
      wishes.text = event.target.value;
      clearTimeout(waiting);
      waiting = setTimeout(changed, designs.length > 2000 ? 160 : 0);
    },
  });
  const row = el("div", { class: "row" },
    el("label", { class: "field grow" }, el("span", {}, "labels on one die, or an id"), search),
    data.sets.length > 1
      ? menu("set of dice", "set", [["all", "all sets"], ...setOptions()], (event) => { wishes.set = event.target.value; changed(); })
      : null,
    menu("kind", "ordinary", [["all", "all designs"], ["ordinary", "ordinary only"], ["new", "without ordinary"]],
      (event) => { wishes.ordinary = event.target.value; changed(); }),
  );
  const limits = el("details", { class: "limits" }, el("summary", {}, "Limits for each die"),
    el("div", { class: "limit-row" }, Array.from({ length: most }, (_, position) => dieLimits(position, changed))));
  const help = el("p", { id: "search-help", class: "away" }, "Type labels that must stand together on one die, such as 2 2 5, or the beginning of an id.");
  form.append(row, el("div", { class: "row" }, limits, el("button", { type: "reset", class: "quiet", hidden: true, id: "reset" }, "Clear the filters")), help);
  form.addEventListener("submit", (event) => event.preventDefault());
  form.addEventListener("reset", () => {
    Object.assign(wishes, { text: "", ordinary: "all", set: "all", dice: [] });
    setTimeout(changed, 0);
  });
}

/** The sets that hold designs, for the menu. */
function setOptions() {
  const held = new Set(designs.map((design) => design.set));
  return data.sets.flatMap((one, place) => (held.has(place) ? [[String(place), one.dice.map((die) => die.faces).join(" + ")]] : []));
}

/** Whether anything is set. */
function filtering() {
  return Boolean(wishes.text.trim()) || wishes.ordinary !== "all" || wishes.set !== "all"
    || wishes.dice.some((limits) => limits && Object.keys(limits).length);
}
