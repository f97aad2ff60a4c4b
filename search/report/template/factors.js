// The split of a design into factors, as polynomials with raised powers.

const RAISED = { "-": "⁻", 0: "⁰", 1: "¹", 2: "²", 3: "³", 4: "⁴", 5: "⁵", 6: "⁶", 7: "⁷", 8: "⁸", 9: "⁹" };
const raise = (number) => (Number(number) === 1 ? "" : [...String(number)].map((sign) => RAISED[sign]).join(""));
const LONGEST_PRODUCT = 150;

/** A polynomial's text with its powers raised and its signs set: "x^2 - x + 1" becomes "x² − x + 1". */
function polynomial(text) {
  return text.replace(/\^\{?(-?\d+)\}?/g, (_, power) => raise(power)).replaceAll("-", "−").replaceAll("*", "·");
}

/** One die as a product of factors; `names` stands for the factors, long ones under a name. */
function product(split, names, least) {
  const [content, ...powers] = split;
  const parts = powers.map((power, place) => (power ? `${names[place]}${raise(power)}` : "")).join("");
  const shift = least === 0 || names.includes("(x)") ? "" : `x${raise(least)}`;
  return [content === 1 ? "" : String(content), parts, shift].filter(Boolean).join("·") || "1";
}

/** The products of all dice and the table of factors, or null where the design has no split. */
function factorsOf(design) {
  const factors = data.sets[design.set].factors;
  const dice = design.dice;
  if (!factors.length || dice.some((die) => !die.split)) return null;
  const spelled = factors.map((factor) => `(${polynomial(factor.text)})`);
  const products = dice.map((die) => product(die.split, spelled, die.least));
  const long = products.some((text) => text.length > LONGEST_PRODUCT);
  const subscript = (number) => [...String(number)].map((digit) => "₀₁₂₃₄₅₆₇₈₉"[digit]).join("");
  const names = long ? factors.map((_, place) => `f${subscript(place + 1)}`) : spelled;
  const lines = dice.map((die, position) =>
    el("p", { class: "product" }, el("b", { class: `die-${(position % 6) + 1}` }, `Die ${position + 1} = `), product(die.split, names, die.least)));
  const head = el("tr", {}, el("th", { scope: "col" }, "factor"), el("th", { scope: "col", class: "number" }, "at x = 1"),
    dice.map((_, position) => el("th", { scope: "col", class: `number die-${(position % 6) + 1}` }, `die ${position + 1}`)));
  const used = factors.map((factor, place) => el("tr", {},
    el("th", { scope: "row" }, long ? `${names[place]} = ` : "", polynomial(factor.text)), el("td", { class: "number" }, minus(factor.at_1)),
    dice.map((die) => el("td", { class: "number" }, die.split[place + 1] ? `${die.split[place + 1]} of ${factor.power}` : "–"))));
  const times = target ? dice.reduce((all, die) => all * BigInt(die.labels.length), 1n) / target.outcomes : 1n;
  return [
    el("p", {}, `Each die is written as a polynomial: every face adds x raised to its label. The product of the dice is the target’s polynomial${times > 1n ? `, ${whole(times)} times` : ""}; these are its factors and the dice that take them.`),
    ...lines,
    el("div", { class: "scroll" }, el("table", { class: "factors" }, el("thead", {}, head), el("tbody", {}, used))),
  ];
}
