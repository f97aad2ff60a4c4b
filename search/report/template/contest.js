// Contests: who beats whom as a drawing with its chances, finishing orders as a table.

const MOST_ORDERS = 24;
const MOST_SUBSETS = 30;
/** Dice with more faces in all are not counted order by order on the page. */
const MOST_FACES = 400;
const SENSES = { "every-order": "in every order", places: "at every place", first: "first" };

/** A fraction in its lowest terms, such as "7/12". */
function fraction(over, under) {
  const common = (a, b) => (b ? common(b, a % b) : a);
  const by = common(over, under) || 1n;
  return over === 0n ? "0" : over === under ? "1" : `${over / by}/${under / by}`;
}

/** The outcomes in which one distribution (pairs of result and ways, rising) is greater than the other, and the ties. */
function duel(one, other) {
  let won = 0n, level = 0n, below = 0n, at = 0;
  for (const [result, ways] of one) {
    while (at < other.length && other[at][0] < result) below += other[at++][1];
    won += ways * below;
    if (at < other.length && other[at][0] === result) level += ways * other[at][1];
  }
  const all = (pairs) => pairs.reduce((sum, pair) => sum + pair[1], 0n);
  return { won, level, outcomes: all(one) * all(other) };
}

const single = (die) => die.runs.map(([label, faces]) => [label, BigInt(faces)]);

/** Two of a die, added. */
function doubled(die) {
  const ways = new Map();
  for (const [a, m] of single(die)) for (const [b, n] of single(die)) ways.set(a + b, (ways.get(a + b) ?? 0n) + m * n);
  return [...ways].sort((a, b) => a[0] - b[0]);
}

/** Who is to beat whom. */
function arcsOf(design) {
  const many = design.dice.length;
  return data.contest.beats.length ? data.contest.beats : design.dice.map((_, die) => [die, (die + 1) % many]);
}

function contestBlock(design) {
  if (!data.contest) return [];
  return data.contest.read === "each-beats-next" ? duelSections(design) : orderSections(design);
}

function duelSections(design) {
  const arcs = arcsOf(design);
  const table = (pairs) => design.dice.map((_, a) => design.dice.map((__, b) => (a === b ? null : duel(pairs[a], pairs[b]))));
  const once = table(design.dice.map(single));
  const twice = table(design.dice.map(doubled));
  const wanted = new Set(arcs.map(([a, b]) => `${a} ${b}`));
  const ties = once.flat().some((cell) => cell && cell.level);
  const turned = arcs.filter(([a, b]) => twice[b][a].won > twice[a][b].won);
  const said = turned.length === 0 ? "Whoever is to win wins more often there too."
    : turned.length === arcs.length ? "Then all of it turns round: each die loses to the one that it beats alone."
      : `Then it turns round for ${turned.map(([a, b]) => `die ${a + 1} and die ${b + 1}`).join(", ")}.`;
  return [
    el("h3", {}, "Who beats whom"),
    el("div", { class: "contest-pair" }, duelDrawing(design, arcs, once), duelTable(once, wanted, "Chance that the die at the left beats the one above", ties)),
    el("p", { class: "hint" }, `An arrow points at the die that is beaten; beside it, in how many rolls. ${ties ? "A tie is no win. " : ""}${arcs.length < (design.dice.length * (design.dice.length - 1)) / 2 ? "Dashed: pairs of which nothing is asked." : ""}`),
    opening("twice", "Two of each die, added", () => [el("p", { class: "hint" }, said), duelTable(twice, wanted, "Chance that two of the die at the left have more than two of the one above", false)]),
  ];
}

/** The dice in a circle, an arrow from each to those that it beats. */
function duelDrawing(design, arcs, once) {
  const many = design.dice.length, width = 460, radius = many > 4 ? 184 : many === 3 ? 140 : 119;
  const middle = radius + 30, height = many === 3 ? 1.5 * radius + 60 : 2 * middle;
  const at = design.dice.map((_, die) => {
    const turn = -Math.PI / 2 + (2 * Math.PI * die) / many;
    return [width / 2 + radius * (many > 4 ? 1 : 1.25) * Math.cos(turn), middle + radius * Math.sin(turn)];
  });
  const words = arcs.map(([a, b]) => `die ${a + 1} beats die ${b + 1}: ${fraction(once[a][b].won, once[a][b].outcomes)}`).join("; ");
  const svg = d3.create("svg").attr("viewBox", `0 0 ${width} ${height}`).attr("class", "duels").attr("role", "img").attr("aria-label", words);
  svg.append("defs").append("marker").attr("id", "head").attr("viewBox", "0 0 10 10").attr("refX", 9).attr("refY", 5)
    .attr("markerWidth", 9).attr("markerHeight", 9).attr("markerUnits", "userSpaceOnUse").attr("orient", "auto")
    .append("path").attr("d", "M0 1 L10 5 L0 9 Z");
  const wanted = new Set(arcs.map(([a, b]) => `${a} ${b}`));
  const drawn = [];
  for (let a = 0; a < many; a += 1) for (let b = 0; b < many; b += 1) {
    const idle = !wanted.has(`${a} ${b}`) && !wanted.has(`${b} ${a}`);
    if (a !== b && (wanted.has(`${a} ${b}`) || (idle && once[a][b].won > once[b][a].won))) drawn.push([a, b, idle]);
  }
  const texts = [];
  for (const [a, b, idle] of drawn) {
    const [dx, dy] = [at[b][0] - at[a][0], at[b][1] - at[a][1]], long = Math.hypot(dx, dy);
    const cut = 27 / long, place = many > 4 ? 0.36 : 0.5;
    svg.append("path").attr("class", idle ? "arc idle" : "arc").attr("marker-end", "url(#head)")
      .attr("d", `M${at[a][0] + dx * cut} ${at[a][1] + dy * cut}L${at[b][0] - dx * cut} ${at[b][1] - dy * cut}`);
    if (many <= 5 || !idle) texts.push([at[a][0] + dx * place, at[a][1] + dy * place, once[a][b], idle]);
  }
  for (const [x, y, cell, idle] of texts) {
    const text = fraction(cell.won, cell.outcomes);
    const shown = svg.append("g").attr("class", idle ? "odds idle" : "odds");
    shown.append("rect").attr("x", x - text.length * 4 - 5).attr("y", y - 10).attr("width", text.length * 8 + 10).attr("height", 20).attr("rx", 4);
    shown.append("text").attr("x", x).attr("y", y + 4.5).text(text);
  }
  design.dice.forEach((_, die) => {
    const node = svg.append("g").attr("class", `node die-${(die % 6) + 1}`);
    node.append("circle").attr("cx", at[die][0]).attr("cy", at[die][1]).attr("r", 23);
    node.append("text").attr("x", at[die][0]).attr("y", at[die][1] + 4.5).text(many > 9 ? die + 1 : `die ${die + 1}`);
  });
  return svg.node();
}

/** A die a row, a die a column: the chance that the row beats the column. */
function duelTable(cells, wanted, label, ties) {
  const cell = (found, a, b) => {
    if (!found) return el("td", { class: "self" }, "–");
    const tied = ties && found.level ? el("small", {}, `tie ${fraction(found.level, found.outcomes)}`) : null;
    return el("td", { class: wanted.has(`${a} ${b}`) ? "asked" : null }, fraction(found.won, found.outcomes), el("small", {}, percent(found.won, found.outcomes)), tied);
  };
  const head = (die) => el("th", { scope: die.scope, class: `die-${(die.place % 6) + 1}` }, `die ${die.place + 1}`);
  return el("div", { class: "scroll", tabindex: 0, role: "region", "aria-label": label }, el("table", { class: "contest" },
    el("caption", {}, label),
    el("thead", {}, el("tr", {}, el("td", {}), cells.map((_, place) => head({ place, scope: "col" })))),
    el("tbody", {}, cells.map((row, a) => el("tr", {}, head({ place: a, scope: "row" }), row.map((found, b) => cell(found, a, b)))))));
}

/** Every finishing order of some dice (positions) with its ways, the greatest label first. */
function orderWays(dice) {
  const word = dice.flatMap((die, place) => die.labels.map((label) => [label, place])).sort((a, b) => a[0] - b[0]);
  const ways = new Map([["", 1n]]);
  for (const [, letter] of word) {
    const sign = String.fromCharCode(65 + letter);
    for (const [order, count] of [...ways]) if (!order.includes(sign)) ways.set(sign + order, (ways.get(sign + order) ?? 0n) + count);
  }
  const whole = (rest, order) => (rest.length ? rest.flatMap((one) => whole(rest.filter((other) => other !== one), [...order, one])) : [order]);
  const orders = whole(dice.map((_, place) => place), []);
  return orders.map((order) => ({ order, ways: ways.get(order.map((one) => String.fromCharCode(65 + one)).join("")) ?? 0n }));
}

/** How often each die (row) comes in at each place (column). */
function placeWays(found, many) {
  const table = Array.from({ length: many }, () => Array(many).fill(0n));
  for (const { order, ways } of found) order.forEach((die, place) => (table[die][place] += ways));
  return table;
}

/** In which sense dice with these ways share alike. */
function sense(found, many) {
  const alike = (counts) => new Set(counts).size === 1;
  if (alike(found.map((one) => one.ways))) return "every-order";
  const table = placeWays(found, many);
  if (alike(table.flat())) return "places";
  return alike(table.map((row) => row[0])) ? "first" : null;
}

function orderSections(design) {
  const many = design.dice.length;
  if (many > 5 || design.dice.reduce((sum, die) => sum + die.labels.length, 0) > MOST_FACES) return [];
  const found = orderWays(design.dice);
  const outcomes = design.dice.reduce((all, die) => all * BigInt(die.labels.length), 1n);
  const name = (order) => order.map((die) => die + 1).join(" › ");
  const rows = found.slice(0, MOST_ORDERS).map((one) => el("tr", {}, el("th", { scope: "row" }, name(one.order)), el("td", {}, whole(one.ways)), el("td", {}, fraction(one.ways, outcomes))));
  const places = placeWays(found, many);
  return [
    el("h3", {}, `Finishing orders, in ${whole(outcomes)} outcomes`),
    el("div", { class: "contest-pair" },
      el("div", { class: "scroll", tabindex: 0, role: "region", "aria-label": "Orders and their ways" }, el("table", { class: "contest" },
        el("caption", {}, "Die by die, the highest label first"),
        el("thead", {}, el("tr", {}, ["order", "ways", "chance"].map((words) => el("th", { scope: "col" }, words)))), el("tbody", {}, rows)),
      found.length > MOST_ORDERS ? el("p", { class: "hint" }, `and ${count(found.length - MOST_ORDERS, "order")} more`) : null),
      el("div", { class: "scroll", tabindex: 0, role: "region", "aria-label": "Places" }, el("table", { class: "contest" },
        el("caption", {}, "How often each die comes in at each place"),
        el("thead", {}, el("tr", {}, el("td", {}), places.map((_, place) => el("th", { scope: "col" }, `place ${place + 1}`)))),
        el("tbody", {}, places.map((row, die) => el("tr", {}, el("th", { scope: "row", class: `die-${(die % 6) + 1}` }, `die ${die + 1}`), row.map((ways) => el("td", {}, whole(ways))))))))),
    many > 2 ? opening("some", "Some of the dice alone", () => [someTable(design)]) : "",
  ];
}

/** Each smaller choice of dice, and in which sense it shares alike. */
function someTable(design) {
  const choices = [];
  for (let bits = 1; bits < 2 ** design.dice.length - 1; bits += 1) {
    const chosen = design.dice.map((_, die) => die).filter((die) => bits & (1 << die));
    if (chosen.length > 1) choices.push(chosen);
  }
  choices.sort((a, b) => a.length - b.length);
  const rows = choices.slice(0, MOST_SUBSETS).map((chosen) => {
    const found = sense(orderWays(chosen.map((die) => design.dice[die])), chosen.length);
    return el("tr", {}, el("th", { scope: "row" }, `dice ${chosen.map((die) => die + 1).join(", ")}`), el("td", {}, found ? `alike ${SENSES[found]}` : "not alike"));
  });
  return el("table", { class: "contest" }, el("tbody", {}, rows));
}
