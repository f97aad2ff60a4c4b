// The solids of the chosen design: each die drawn with its labels in place, and the view to turn when asked for.

const STILL = 92; // pixels of a still's longer side
const openSolids = new Map();
const setTexts = new Map();

function solidOf(name) {
  if (!openSolids.has(name)) {
    const packed = data.view?.solids[name];
    openSolids.set(name, packed ? { ...openSolid(packed), slots: packed.slots, places: packed.frames } : null);
  }
  return openSolids.get(name);
}

function ringsOf(text) {
  if (!setTexts.has(text)) setTexts.set(text, setText(text, data.view.characters));
  return setTexts.get(text);
}

/** Which label each rest reads, and whence that is known: a layout of the run, or the labels in order. */
function labelsInPlace(solid, die, copies, laid) {
  if (laid) return { labels: laid, note: "" };
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
  const { solid: name, copies = 1 } = design.solids[position];
  const solid = solidOf(name);
  const die = design.dice[position];
  if (!solid || solid.rests.length !== die.labels.length * copies) return null;
  const { labels, note } = labelsInPlace(solid, die, copies, design.laid?.[position]);
  const marks = labels.flatMap((label, rest) => {
    const text = String(label);
    const site = `${SITE_LETTERS[solid.kind]}${solid.rests[rest].top + 1}`;
    return solid.slots[text.length][rest].map(([face, place]) => {
      const [x, y, height, angle] = solid.places[place];
      return openMark(solid, { site, face, readout: null, text, rings: ringsOf(text), x, y, height, angle });
    });
  });
  return { body: { solid, marks, readouts: [] }, note };
}

/** The still of a die with the button that opens its view; the view's place stands below the die. */
function dieSolid(design, position, holder) {
  const made = data.view ? bodyOf(design, position) : null;
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
