// The view to turn: a solid by hand and by keys, laid on any face, with what it then reads.

const STEP = Math.PI / 12; // one press of an arrow key
const DRAG = 0.0085; // radians a pixel
const TAP = 5; // pixels: less of a movement is a tap
const TURN_TIME = 420; // milliseconds
let viewsOpened = 0;
const calm = () => matchMedia("(prefers-reduced-motion: reduce)").matches;
const dark = matchMedia("(prefers-color-scheme: dark)");

const READ_WHERE = {
  "face above": "on top", "vertex above": "at the corner on top", "edge above": "along the edge on top", "face below": "on the face below, turned up to be read",
};

/** The turn from the solid's coordinates to the table's, as a quaternion. */
function turnTo({ right, away, up }) {
  return new THREE.Quaternion().setFromRotationMatrix(new THREE.Matrix4().set(...right, 0, ...away, 0, ...up, 0, 0, 0, 0, 1));
}

/** The table's axes in the solid's coordinates. */
function tableOf(turn) {
  const back = turn.clone().invert();
  const [right, away, up] = [[1, 0, 0], [0, 1, 0], [0, 0, 1]].map((axis) => new THREE.Vector3(...axis).applyQuaternion(back).toArray());
  return { right, away, up };
}

/** The rest on which it would settle: the one that looks down the most. */
function restBelow(solid, up) {
  const down = solid.rests.map((rest) => -dot(solid.frames[rest.below].normal, up));
  return down.indexOf(Math.max(...down));
}

/** The face at a point of the picture, in inradii from its middle; null beside the solid. */
function faceAt(solid, axes, x, y) {
  const within = (face) => face.every((corner, place) => {
    const [a, b] = [corner, face[(place + 1) % face.length]].map((one) => [dot(solid.vertices[one], axes.right), dot(solid.vertices[one], axes.upright)]);
    return (b[0] - a[0]) * (y - a[1]) >= (b[1] - a[1]) * (x - a[0]);
  });
  const found = solid.faces.findIndex((face, number) => dot(solid.frames[number].normal, axes.eye) > 0 && within(face));
  return found < 0 ? null : found;
}

/**
 * Opens the view of a body in an empty element.
 * Settings: `name`, how the die is called; `note`, a line on where its labels come from; `closed`, called when it is closed.
 */
function openView(holder, body, { name = body.solid.name, note = "", closed = null } = {}) {
  const { solid } = body;
  const start = { turn: turnTo(lying(solid, 0)), above: ABOVE };
  const state = { ...start, chosen: null, showing: false, moving: 0 };
  const hint = el("p", { class: "hint", id: `view-hint-${(viewsOpened += 1)}` }, "Drag it, or use the arrow keys, to turn it; tap a face to choose it; Enter lets it settle.");
  const stage = el("div", { class: "view-stage", tabindex: 0, role: "application", "aria-roledescription": "solid to turn", "aria-label": name, "aria-describedby": hint.id });
  const line = el("p", { class: "view-line", role: "status" });
  const faces = el("select", { onchange: () => choose(Number(faces.value)) },
    solid.rests.map((rest) => el("option", { value: rest.below }, `face ${rest.below + 1}: reads ${readWords(body, rest)}`)));
  const lay = el("button", { type: "button", class: "view-lay", onclick: () => layOn(Number(faces.value)) }, "Lay it on this face");
  const show = el("button", { type: "button", class: "view-show", "aria-pressed": "false", onclick: () => showRead(!state.showing) }, "Show what this rest reads");
  const reset = el("button", { type: "button", class: "view-reset", onclick: startAgain }, "Reset");
  const close = closed && el("button", { type: "button", class: "quiet view-close", onclick: () => { shut(); closed(); } }, "Close");
  holder.classList.add("view");
  holder.replaceChildren(stage, line,
    el("div", { class: "view-controls" }, el("label", { class: "field" }, el("span", {}, "Face to lie on"), faces), lay, show, reset, close),
    hint, note ? el("p", { class: "hint" }, note) : "");
  const print = el("div", { class: "view-print", "aria-hidden": "true" });
  const canvas = el("canvas", { "aria-hidden": "true" });
  stage.append(canvas, print);
  let painter = glPainter(canvas, body, withoutGl);
  if (!painter) withoutGl();

  function withoutGl(event) {
    event?.stopImmediatePropagation();
    const flat = el("div", { class: "view-flat" });
    canvas.replaceWith(flat);
    hint.after(el("p", { class: "hint view-missing" }, "This browser gives the page no WebGL: the solid is drawn flat and turned in steps."));
    painter = flatPainter(flat, body);
    if (event) draw();
  }

  let how = { lit: null, chosen: null };
  const axes = () => eyeAxes(tableOf(state.turn), state.above);
  const below = () => restBelow(solid, tableOf(state.turn).up);

  function draw() {
    const rest = below();
    const lit = state.showing ? rest : null;
    if (how.rest !== lit || how.chosen !== state.chosen) {
      how = { rest: lit, chosen: state.chosen, lit: lit === null ? null : new Set(readMarks(body, solid.rests[lit])) };
    }
    painter.draw(axes(), how);
    say(rest);
  }

  function say(rest) {
    const { below: face } = solid.rests[rest];
    const lies = dot(solid.frames[face].normal, tableOf(state.turn).up) < -0.9999;
    const words = `${lies ? "It lies" : "It would settle"} on face ${face + 1} and ${lies ? "reads" : "read"} ${readWords(body, solid.rests[rest])}`;
    const told = `${words}, ${READ_WHERE[solid.read]}.`;
    if (line.textContent !== told) line.textContent = told;
  }

  function choose(face) {
    state.chosen = face;
    if (solid.restOn.has(face)) faces.value = String(face);
    lay.disabled = !solid.restOn.has(face);
    lay.title = lay.disabled ? "It does not come to lie on this face" : "";
    draw();
  }

  /** Turns to a pose: in a short move, or at once where the reader's system asks for less motion. */
  function go(turn, above) {
    cancelAnimationFrame(state.moving);
    const from = { turn: state.turn.clone(), above: state.above };
    const began = performance.now();
    const step = (now) => {
      const gone = calm() ? 1 : Math.min(1, Math.max(0, (now - began) / TURN_TIME));
      const eased = gone * gone * (3 - 2 * gone);
      state.turn = gone === 1 ? turn : from.turn.clone().slerp(turn, eased);
      state.above = from.above + (above - from.above) * eased;
      state.moving = gone < 1 ? requestAnimationFrame(step) : 0;
      draw();
    };
    step(began);
  }

  function layOn(face) {
    const rest = solid.restOn.get(face);
    if (rest === undefined) return;
    state.chosen = null;
    if (state.showing) goReading(rest);
    else go(turnTo(lying(solid, rest)), ABOVE);
  }

  function goReading(rest) {
    const pose = reading(body, rest);
    go(turnTo(pose.table), pose.above);
  }

  function showRead(on) {
    state.showing = on;
    show.setAttribute("aria-pressed", String(on));
    const rest = below();
    if (on) goReading(rest);
    else go(turnTo(lying(solid, rest)), ABOVE);
  }

  function startAgain() {
    Object.assign(state, { chosen: null, showing: false });
    show.setAttribute("aria-pressed", "false");
    faces.selectedIndex = 0;
    lay.disabled = false;
    go(start.turn, start.above);
  }

  /** Turns by hand, about the picture's own upright and across. */
  function turnBy(aside, over) {
    cancelAnimationFrame(state.moving);
    state.moving = 0;
    const upright = new THREE.Vector3(0, Math.sin(state.above), Math.cos(state.above));
    const by = (axis, angle) => new THREE.Quaternion().setFromAxisAngle(axis, angle);
    state.turn = by(upright, aside).multiply(by(new THREE.Vector3(1, 0, 0), over)).multiply(state.turn).normalize();
    draw();
  }

  stage.addEventListener("keydown", (event) => {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const [aside, over] = { ArrowLeft: [-STEP, 0], ArrowRight: [STEP, 0], ArrowUp: [0, -STEP], ArrowDown: [0, STEP] }[event.key] ?? [];
    if (aside !== undefined) turnBy(aside, over);
    else if (event.key === "Enter") layOn(solid.rests[below()].below);
    else if (event.key === "Home") startAgain();
    else return;
    event.preventDefault();
  });

  let held = null;
  stage.addEventListener("pointerdown", (event) => {
    if (!event.isPrimary || event.button) return;
    held = { x: event.clientX, y: event.clientY, far: 0 };
    stage.setPointerCapture(event.pointerId);
  });
  stage.addEventListener("pointermove", (event) => {
    if (!held || !event.isPrimary) return;
    const [across, down] = [event.clientX - held.x, event.clientY - held.y];
    held = { x: event.clientX, y: event.clientY, far: held.far + Math.hypot(across, down) };
    turnBy(across * DRAG, down * DRAG);
  });
  stage.addEventListener("pointerup", (event) => {
    if (held && held.far < TAP) tap(event);
    held = null;
  });
  stage.addEventListener("pointercancel", () => { held = null; });

  function tap(event) {
    const box = stage.getBoundingClientRect();
    const each = (2 * 1.04 * solid.reach) / Math.min(box.width, box.height);
    const face = faceAt(solid, axes(), (event.clientX - box.left - box.width / 2) * each, (box.top + box.height / 2 - event.clientY) * each);
    if (face !== null) choose(face);
  }

  const recolour = () => { painter.recolour(getComputedStyle(stage)); draw(); };
  const resize = () => {
    if (!stage.clientWidth) return;
    painter.resize(stage.clientWidth, stage.clientHeight);
    draw();
  };
  const onPaper = () => { print.innerHTML = stillSvg(body, axes(), how); };
  const watch = new ResizeObserver(resize);
  painter.recolour(getComputedStyle(stage));
  resize();
  onPaper();
  watch.observe(stage);
  dark.addEventListener("change", recolour);
  window.addEventListener("beforeprint", onPaper);

  function shut() {
    cancelAnimationFrame(state.moving);
    watch.disconnect();
    dark.removeEventListener("change", recolour);
    window.removeEventListener("beforeprint", onPaper);
    painter.close();
    holder.replaceChildren();
  }

  return { body, state, stage, axes, shut, get painter() { return painter; } };
}
