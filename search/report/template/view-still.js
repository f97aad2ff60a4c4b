// Whence a solid is seen, how bright its faces are, and the drawing of it as SVG: the still, and the view without WebGL.

const ASIDE = (20 * Math.PI) / 180;
const ABOVE = (35 * Math.PI) / 180;
const READ_ABOVE = (70 * Math.PI) / 180;
const APART = 0.4; // pixels
const BARELY = 0.02; // a face is seen when the cosine between its normal and the eye's direction is greater

/** The table's axes in the solid's own coordinates while it lies on a rest: right, away from the eye, up. */
function lying(solid, rest, aside = ASIDE) {
  const { below } = solid.rests[rest];
  const face = solid.faces[below];
  const up = solid.frames[below].normal.map((x) => -x);
  const edge = unit(plus(solid.vertices[face[1]], solid.vertices[face[0]], -1));
  const side = cross(up, edge);
  const right = plus(edge.map((x) => x * Math.cos(aside)), side, Math.sin(aside));
  return { right, away: cross(up, right), up };
}

/** The table's axes while a rest lies so that what it reads stands upright before the reader; how high the eye stands. */
function reading(body, rest) {
  const { solid } = body;
  const { up } = lying(solid, rest);
  const mark = readMarks(body, solid.rests[rest])[0];
  if (!mark) return { table: lying(solid, rest), above: ABOVE };
  const beneath = solid.read === "face below";
  const ahead = unit(plus(mark.head, up, -dot(mark.head, up)));
  const away = beneath ? ahead.map((x) => -x) : ahead;
  const slope = Math.asin(Math.min(1, dot(solid.frames[mark.face].normal, up)));
  const above = beneath ? -READ_ABOVE : Math.min(READ_ABOVE, Math.max(ABOVE, (slope + READ_ABOVE) / 2));
  return { table: { right: cross(away, up), away, up }, above };
}

/** The eye's axes in the solid's coordinates: right, upright, towards the eye; and where the light comes from. */
function eyeAxes({ right, away, up }, above) {
  const [cos, sin] = [Math.cos(above), Math.sin(above)];
  const eye = plus(up.map((x) => x * sin), away, -cos);
  const upright = plus(up.map((x) => x * cos), away, sin);
  const lamp = unit(plus(plus(eye, plus(upright.map((x) => x * Math.cos(ABOVE)), eye, Math.sin(ABOVE)), 0.9), right, -0.5));
  return { right, upright, eye, lamp };
}

const brightness = (frame, axes) => Math.min(1, Math.max(0, dot(frame.normal, axes.lamp)));

/** The drawing as SVG text: numbers and our own words only, `title` escaped by the caller's use of attributes. */
function stillSvg(body, axes, { size = 320, tight = false, lit = null, chosen = null, stroke = 1.2 } = {}) {
  const { solid, marks } = body;
  const flat = (point) => [dot(point, axes.right), -dot(point, axes.upright)];
  const corners = solid.vertices.map(flat);
  let [left, top, extent] = [-solid.reach, -solid.reach, 2 * solid.reach];
  let deep = extent;
  if (tight) {
    const [xs, ys] = [corners.map(([x]) => x), corners.map(([, y]) => y)];
    [left, top] = [Math.min(...xs), Math.min(...ys)];
    [extent, deep] = [Math.max(...xs) - left, Math.max(...ys) - top];
  }
  const scale = (size - 8) / Math.max(extent, deep);
  const at = ([x, y]) => `${(4 + (x - left) * scale).toFixed(1)} ${(4 + (y - top) * scale).toFixed(1)}`;
  const path = (points) => `M${points.map(at).join("L")}Z`;
  /** An outline without the corners that nobody would see apart. */
  const spare = (points) => points.reduce((kept, point) => {
    const last = kept[kept.length - 1];
    if (!last || Math.hypot(point[0] - last[0], point[1] - last[1]) * scale > APART) kept.push(point);
    return kept;
  }, []);
  const facing = solid.frames.map((frame) => dot(frame.normal, axes.eye));
  const parts = solid.faces.map((face, number) => (facing[number] > 0
    ? `<path style="fill:color-mix(in srgb,var(--face-lit) ${Math.round(100 * brightness(solid.frames[number], axes))}%,var(--face-shade))" d="${path(face.map((corner) => corners[corner]))}"/>` : ""));
  const seen = marks.filter((mark) => facing[mark.face] > BARELY);
  const plates = lit ? seen.filter((mark) => lit.has(mark)).map((mark) => path(mark.plate.map(flat))).join("") : "";
  if (plates) parts.push(`<path class="plate" d="${plates}"/>`);
  const edges = solid.edges.filter((edge) => edge.faces.some((face) => facing[face] > 0)).map((edge) => `M${edge.ends.map((end) => at(corners[end])).join("L")}`).join("");
  parts.push(`<path class="edges" style="stroke-width:${stroke}" d="${edges}"/>`);
  if (chosen !== null && facing[chosen] > 0) parts.push(`<path class="chosen" d="${path(solid.faces[chosen].map((corner) => corners[corner]))}"/>`);
  const inks = (kept, kind) => {
    const shapes = kept.map((mark) => mark.rings.map((ring) => path(spare(ring.map(flat)))).join(""));
    return shapes.length ? `<path class="${kind}" d="${shapes.join("")}"/>` : "";
  };
  parts.push(lit ? inks(seen.filter((mark) => !lit.has(mark)), "ink dim") + inks(seen.filter((mark) => lit.has(mark)), "ink lit") : inks(seen, "ink"));
  const [wide, high] = [extent * scale + 8, deep * scale + 8].map((x) => x.toFixed(0));
  return `<svg class="still" viewBox="0 0 ${wide} ${high}" width="${wide}" height="${high}" aria-hidden="true" focusable="false">${parts.join("")}</svg>`;
}
