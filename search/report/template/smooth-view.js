// The view to turn of a smooth body, drawn on a plain canvas: the body is convex, so that what faces the eye hides nothing.

const REACH = 1.32; // widths across the canvas
const STEP = Math.PI / 12; // one press of an arrow key
const DRAG = 0.0085; // radians a pixel
const ABOVE = (28 * Math.PI) / 180;
const TONES = 40;

const dot = (a, b) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const cross = (a, b) => [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
const unit = (a) => a.map((x) => x / Math.hypot(...a));
const mixed = (a, b, share) => a.map((x, place) => x + share * (b[place] - x));

/** The axes of the picture (right, upright, eye) while a tip is on top and a numeral of it before the eye. */
function standing(body, place) {
  const tip = body.tips[place];
  const near = (one) => dot(one.normal, tip);
  const { normal } = body.numerals.reduce((best, one) => (near(one) > near(best) ? one : best));
  const right = unit(cross(tip, normal));
  const level = cross(right, tip);
  const eye = tip.map((x, axis) => x * Math.sin(ABOVE) + level[axis] * Math.cos(ABOVE));
  return { right, upright: cross(eye, right), eye };
}

/** The axes turned about two of themselves. */
function turned({ right, upright, eye }, aside, over) {
  const between = (a, b, angle) => a.map((x, place) => x * Math.cos(angle) + b[place] * Math.sin(angle));
  const about = (a, b, angle) => [between(a, b, angle), between(b, a.map((x) => -x), angle)];
  const [eyeA, rightA] = about(eye, right, -aside);
  const [eyeB, uprightB] = about(eyeA, upright, over);
  return { right: unit(rightA), upright: unit(uprightB), eye: unit(eyeB) };
}

function openSmooth(figure) {
  const body = JSON.parse(figure.querySelector("script").textContent);
  const triples = (flat) => Array.from({ length: flat.length / 3 }, (_, place) => flat.slice(3 * place, 3 * place + 3));
  const [points, normals, triangles] = [triples(body.points), triples(body.normals), triples(body.triangles)];
  const middles = triangles.map((corners) => unit([0, 1, 2].map((axis) => corners.reduce((sum, corner) => sum + normals[corner][axis], 0))));
  const numerals = body.numerals.map((one) => ({ ...one, rings: one.rings.map(triples) }));
  let axes = standing(body, 0);
  const canvas = el("canvas", { "aria-hidden": "true" });
  const stage = el("div", { class: "view-stage", tabindex: 0, role: "application", "aria-roledescription": "body to turn", "aria-label": figure.dataset.smooth }, canvas);
  const line = el("p", { class: "view-line", role: "status" });
  const tips = el("select", { onchange: () => lay() }, body.tips.map((_, place) => el("option", { value: place }, `reads ${body.reads[place]}`)));
  const controls = el("div", { class: "view-controls" },
    el("label", { class: "field" }, el("span", {}, "How it lies"), tips),
    el("button", { type: "button", onclick: () => lay() }, "Lay it so"));
  const hint = el("p", { class: "hint" }, "Drag it, or use the arrow keys, to turn it; Enter lets it settle. The numerals are as a maker gets them.");
  figure.querySelector(".view-holder").classList.add("view");
  figure.querySelector(".view-holder").replaceChildren(stage, line, controls, hint);

  const topmost = () => {
    const up = body.tips.map((tip) => dot(tip, axes.upright) * Math.cos(ABOVE) + dot(tip, axes.eye) * Math.sin(ABOVE));
    return up.indexOf(Math.max(...up));
  };

  function lay() {
    axes = standing(body, Number(tips.value));
    draw();
  }

  function draw() {
    const [wide, high] = [stage.clientWidth, stage.clientHeight];
    if (!wide) return;
    const density = Math.min(2, window.devicePixelRatio || 1);
    [canvas.width, canvas.height] = [wide * density, high * density];
    const look = getComputedStyle(stage);
    const colour = (name) => look.getPropertyValue(name).trim().match(/[0-9a-f]{2}/gi).map((part) => parseInt(part, 16));
    const [lit, shade, ink] = ["--face-lit", "--face-shade", "--face-ink"].map(colour);
    const pen = canvas.getContext("2d");
    const scale = (Math.min(wide, high) * density) / REACH;
    const at = (point) => [canvas.width / 2 + scale * dot(point, axes.right), canvas.height / 2 - scale * dot(point, axes.upright)];
    const placed = points.map(at);
    const lamp = unit(axes.eye.map((x, place) => x + 0.9 * axes.upright[place] - 0.5 * axes.right[place]));
    const tones = Array.from({ length: TONES + 1 }, () => new Path2D());
    const trace = (path, ring) => ring.forEach(([x, y], place) => (place ? path.lineTo(x, y) : path.moveTo(x, y)));
    triangles.forEach((corners, place) => {
      if (dot(middles[place], axes.eye) <= -0.05) return;
      const path = tones[Math.round(TONES * Math.max(0, dot(middles[place], lamp)))];
      trace(path, corners.map((corner) => placed[corner]));
      path.closePath();
    });
    pen.clearRect(0, 0, canvas.width, canvas.height);
    pen.lineJoin = "round";
    pen.lineWidth = density;
    tones.forEach((path, tone) => {
      pen.fillStyle = pen.strokeStyle = `rgb(${mixed(shade, lit, tone / TONES).map(Math.round).join(" ")})`;
      pen.fill(path);
      pen.stroke(path);
    });
    pen.fillStyle = `rgb(${ink.join(" ")})`;
    for (const one of numerals) {
      if (dot(one.normal, axes.eye) < 0.06) continue;
      const path = new Path2D();
      for (const ring of one.rings) { trace(path, ring.map(at)); path.closePath(); }
      pen.fill(path, "evenodd");
    }
    const top = topmost();
    const lies = dot(axes.eye, standing(body, top).eye) > 0.9999;
    line.textContent = `${lies ? "It lies and reads" : "It would settle and read"} ${body.reads[top]}, at the tip on top.`;
  }

  const turn = (aside, over) => { axes = turned(axes, aside, over); draw(); };
  stage.addEventListener("keydown", (event) => {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const move = { ArrowLeft: [-STEP, 0], ArrowRight: [STEP, 0], ArrowUp: [0, -STEP], ArrowDown: [0, STEP] }[event.key];
    if (move) turn(...move);
    else if (event.key === "Enter") { tips.value = String(topmost()); lay(); }
    else if (event.key === "Home") { tips.value = "0"; lay(); }
    else return;
    event.preventDefault();
  });
  let held = null;
  stage.addEventListener("pointerdown", (event) => {
    if (!event.isPrimary || event.button) return;
    held = [event.clientX, event.clientY];
    stage.setPointerCapture(event.pointerId);
  });
  stage.addEventListener("pointermove", (event) => {
    if (!held || !event.isPrimary) return;
    turn((event.clientX - held[0]) * DRAG, (event.clientY - held[1]) * DRAG);
    held = [event.clientX, event.clientY];
  });
  for (const end of ["pointerup", "pointercancel"]) stage.addEventListener(end, () => { held = null; });
  figure.hidden = false;
  new ResizeObserver(draw).observe(stage);
  matchMedia("(prefers-color-scheme: dark)").addEventListener("change", draw);
  figure.axes = () => axes;
  draw();
}

document.querySelectorAll("[data-smooth]").forEach(openSmooth);
