// The solids of the chosen design: each die drawn with its labels in place, and the view to turn when asked for.

const STILL = 92; // pixels of a still's longer side
const openSolids = new Map();
const setTexts = new Map();

/** A solid by its position among those that the page can draw, or null. */
function solidOf(place) {
  if (!openSolids.has(place)) {
    const packed = data.view.solids[place];
    openSolids.set(place, packed ? { ...openSolid(packed), slots: packed.slots, places: packed.frames } : null);
  }
  return openSolids.get(place);
}

/** The outlines of a label, with the line below it that says which way is up where it needs one. */
function ringsOf(text, lined) {
  const key = lined ? `${text}!` : text;
  if (!setTexts.has(key)) {
    const rings = setText(text, data.view.characters);
    if (lined) {
      const [gap, line] = data.view.line.map((part) => part / FINE);
      const points = rings.flat();
      const [left, right] = [Math.min(...points.map(([x]) => x)), Math.max(...points.map(([x]) => x))];
      const head = Math.min(...points.map(([, y]) => y)) - gap;
      rings.push([[left, head - line], [right, head - line], [right, head], [left, head]]);
    }
    setTexts.set(key, rings);
  }
  return setTexts.get(key);
}

/** What a label reads as upside down, or null. */
function upsideDown(label) {
  const turned = [...String(label)].reverse().map((one) => ({ 0: "0", 6: "9", 8: "8", 9: "6" })[one]);
  return turned.includes(undefined) || (turned[0] === "0" && turned.length > 1) ? null : Number(turned.join(""));
}

/** The labels of a die that could be taken for another of its numbers. */
function unsureOf(die) {
  return new Set(die.runs.map(([label]) => label).filter((label) => {
    const other = upsideDown(label);
    return other !== null && other !== label && other >= die.least && other <= die.greatest;
  }));
}

/** Labels that are not laid out yet, in the order of the rests: opposite ones with a constant sum, or as they come. */
function labelsInOrder(solid, die, copies) {
  const sorted = die.labels.flatMap((label) => Array(copies).fill(label));
  const last = sorted.length - 1;
  const sum = sorted[0] + sorted[last];
  const opposite = oppositeRests(solid);
  if (!opposite.every((other) => other !== null) || !sorted.every((label, place) => label + sorted[last - place] === sum)) {
    return { labels: sorted, note: "Not laid out yet: the labels stand in order." };
  }
  const labels = [];
  let place = 0;
  opposite.forEach((other, rest) => {
    if (other < rest) return;
    labels[rest] = sorted[place];
    labels[other] = sorted[last - place];
    place += 1;
  });
  return { labels, note: `Not laid out yet: the labels stand in order, opposite ones with the sum ${minus(sum)}.` };
}

/** A die of a design as a body to draw; null where the page knows no such solid. */
function bodyOf(design, position) {
  const laid = design.laid?.[position];
  if (laid) return { body: openBody(laid), note: "Laid out as the run has it." };
  const { drawn, copies = 1 } = design.solids[position];
  const solid = solidOf(drawn);
  const die = design.dice[position];
  if (!solid || solid.rests.length !== die.labels.length * copies) return null;
  const { labels, note } = labelsInOrder(solid, die, copies);
  const unsure = unsureOf(die);
  const slotsOf = (label, rest) => solid.slots[`${String(label).length}${unsure.has(label) ? "!" : ""}`][rest];
  const placed = labels.flatMap((label, rest) => slotsOf(label, rest).map(([face, place]) => ({ label, rest, face, place: solid.places[place] })));
  const least = Math.min(...placed.map(({ place }) => place[2])); // all marks of a die are equally high
  const marks = placed.map(({ label, rest, face, place: [x, y, height, angle] }) => {
    const lined = unsure.has(label);
    // the box keeps its middle: a lower figure with a line below it stands lower
    const down = lined ? ((height - least) * (data.view.line[0] + data.view.line[1])) / FINE / 2 : 0;
    return openMark(solid, {
      site: `${SITE_LETTERS[solid.kind]}${solid.rests[rest].top + 1}`, face, readout: null, text: String(label), rings: ringsOf(String(label), lined),
      x: x + down * Math.sin(angle), y: y - down * Math.cos(angle), height: least, angle,
    });
  });
  return { body: { solid, marks, readouts: [] }, note };
}

/** The still of a die with the button that opens its view; the view's place stands below the die. */
function dieSolid(design, position, holder) {
  const made = bodyOf(design, position);
  if (!made) return null;
  const { body, note } = made;
  const name = `Die ${position + 1}, ${body.solid.name}`;
  const figure = el("figure", { class: "die-solid" });
  const drawn = el("div", { class: "view-still", title: note || null });
  drawn.innerHTML = stillSvg(body, eyeAxes(lying(body.solid, 0), ABOVE), { size: STILL, tight: true, stroke: 0.8 });
  const button = el("button", { type: "button", class: "quiet view-open", "aria-expanded": "false", "aria-label": `Turn die ${position + 1}, ${body.solid.name}` }, "Turn it");
  const shut = () => {
    card.views.delete(position);
    button.setAttribute("aria-expanded", "false");
  };
  button.addEventListener("click", () => {
    const open = card.views.get(position);
    if (open) {
      open.shut();
      shut();
      return;
    }
    holder.view = openView(holder, body, { name, note, closed: () => { shut(); button.focus(); } });
    card.views.set(position, holder.view);
    button.setAttribute("aria-expanded", "true");
    holder.view.stage.focus({ preventScroll: true });
    holder.scrollIntoView({ block: "nearest", behavior: "auto" });
  });
  figure.append(drawn, button);
  return figure;
}
