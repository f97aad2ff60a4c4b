// A marked solid unpacked: the frame of each face, what each rest shows and reads, outlines in place on the faces.

const FINE = 1000; // outlines come in thousandths of the height of a figure
const PARALLEL = 1e-4;
const SITE_LETTERS = { faces: "f", vertices: "v", edges: "e" };

const plus = (a, b, times = 1) => [a[0] + times * b[0], a[1] + times * b[1], a[2] + times * b[2]];
const dot = (a, b) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const cross = (a, b) => [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
const unit = (a) => a.map((x) => x / Math.hypot(...a));

/** The plane of a face seen from outside: `across` × `up` = `normal`; lengths in inradii. */
function faceFrame(vertices, face) {
  const [a, b, c] = face.map((corner) => vertices[corner]);
  const across = unit(plus(b, a, -1));
  const normal = unit(cross(plus(b, a, -1), plus(c, a, -1)));
  return { origin: normal.map((x) => x * dot(normal, a)), across, up: cross(normal, across), normal };
}

/** A point of a face's drawing, in space. */
const inSpace = (frame, x, y) => plus(plus(frame.origin, frame.across, x), frame.up, y);

/** The corners of a convex outline moved inwards by `width`; counter-clockwise, points in space. */
function inset(corners, normal, width) {
  return corners.map((corner, place) => {
    const after = unit(plus(corners[(place + 1) % corners.length], corner, -1));
    const before = unit(plus(corner, corners[(place + corners.length - 1) % corners.length], -1));
    const inward = unit(plus(cross(normal, before), cross(normal, after)));
    return plus(corner, inward, width / Math.max(0.2, dot(inward, cross(normal, after))));
  });
}

/** What of a convex outline lies within a convex face, whose corners run counter-clockwise about `normal`. */
function within(outline, corners, normal) {
  return corners.reduce((kept, corner, place) => {
    const inward = cross(normal, plus(corners[(place + 1) % corners.length], corner, -1));
    const inside = (point) => dot(plus(point, corner, -1), inward);
    return kept.flatMap((point, at) => {
      const next = kept[(at + 1) % kept.length];
      const [here, there] = [inside(point), inside(next)];
      const met = here * there < 0 ? [plus(point, plus(next, point, -1), here / (here - there))] : [];
      return here >= 0 ? [point, ...met] : met;
    });
  }, outline);
}

function edgesOf(faces) {
  const seen = new Map();
  faces.forEach((face, number) => face.forEach((a, place) => {
    const b = face[(place + 1) % face.length];
    const key = a < b ? `${a} ${b}` : `${b} ${a}`;
    if (!seen.has(key)) seen.set(key, { ends: a < b ? [a, b] : [b, a], faces: [] });
    seen.get(key).faces.push(number);
  }));
  return [...seen.values()].sort((one, other) => one.ends[0] - other.ends[0] || one.ends[1] - other.ends[1]);
}

/** The sites that are seen where a face, a vertex or an edge is read. */
function shownBy(solid, kind, site) {
  const { faces, edges } = solid;
  const numbered = (list, keep) => list.flatMap((one, number) => (keep(one) ? [number] : []));
  if (kind === "faces") return { faces: [site], vertices: faces[site], edges: numbered(edges, (edge) => edge.faces.includes(site)) };
  if (kind === "vertices") return { faces: numbered(faces, (face) => face.includes(site)), vertices: [site], edges: numbered(edges, (edge) => edge.ends.includes(site)) };
  return { faces: edges[site].faces, vertices: edges[site].ends, edges: [site] };
}

/** A solid from its packed form. */
function openSolid(packed) {
  const { name, vertices, faces, read } = packed;
  const solid = { name, vertices, faces, read, edges: edgesOf(faces), frames: faces.map((face) => faceFrame(vertices, face)) };
  solid.reach = Math.max(...vertices.map((vertex) => Math.hypot(...vertex)));
  solid.kind = { "vertex above": "vertices", "edge above": "edges" }[read] ?? "faces";
  solid.rests = packed.rests.map(([below, top]) => {
    const shows = shownBy(solid, solid.kind, top ?? below);
    const sites = new Set(Object.entries(SITE_LETTERS).flatMap(([kind, letter]) => shows[kind].map((site) => `${letter}${site + 1}`)));
    return { below, top: top ?? below, sites, faces: new Set(shows.faces) };
  });
  solid.restOn = new Map(solid.rests.map((rest, number) => [rest.below, number]));
  return solid;
}

/** The rest whose label is read opposite each rest's, or null where one has no opposite. */
function oppositeRests(solid) {
  const middle = (rest) => {
    if (solid.kind === "faces") return solid.frames[rest.top].normal;
    const corners = solid.kind === "vertices" ? [rest.top] : solid.edges[rest.top].ends;
    return unit(corners.map((corner) => solid.vertices[corner]).reduce((a, b) => plus(a, b)));
  };
  const middles = solid.rests.map(middle);
  return middles.map((one) => {
    const found = middles.findIndex((other) => Math.hypot(...plus(one, other)) < PARALLEL);
    return found < 0 ? null : found;
  });
}

/** Rings of pairs from flat thousandths. */
const openRings = (flat) => flat.map((ring) => Array.from({ length: ring.length / 2 }, (_, place) => [ring[2 * place] / FINE, ring[2 * place + 1] / FINE]));

/** A text set from single characters, its ink centred. */
function setText(text, characters) {
  const rings = [];
  let at = 0;
  for (const one of text) {
    const [onward, flat] = characters[one];
    rings.push(...openRings(flat).map((ring) => ring.map(([x, y]) => [x + at / FINE, y])));
    at += onward;
  }
  const xs = rings.flat().map(([x]) => x);
  const centre = (Math.min(...xs) + Math.max(...xs)) / 2;
  return rings.map((ring) => ring.map(([x, y]) => [x - centre, y]));
}

/** A mark with its outlines in space; `plate` is the box about it, as far as it lies on the face, `head` the direction of its top. */
function openMark(solid, { site, face, readout, text, rings, x, y, height, angle }) {
  const frame = solid.frames[face];
  const cos = height * Math.cos(angle), sin = height * Math.sin(angle);
  const place = ([a, b]) => inSpace(frame, x + cos * a - sin * b, y + sin * a + cos * b);
  const [left, right] = [Math.min, Math.max].map((far) => far(...rings.flat().map((point) => point[0]), 0));
  const [foot, top] = [Math.min, Math.max].map((far) => far(...rings.flat().map((point) => point[1]), 0));
  const margin = 0.14;
  const box = [[left - margin, foot - margin], [right + margin, foot - margin], [right + margin, top + margin], [left - margin, top + margin]];
  const head = plus(frame.across.map((part) => -part * Math.sin(angle)), frame.up, Math.cos(angle));
  return { site, face, readout, text, flat: rings, place, rings: rings.map((ring) => ring.map(place)), centre: place([0, 0]), plate: within(box.map(place), solid.faces[face].map((corner) => solid.vertices[corner]), frame.normal), head };
}

/** A whole body from what `artwork_data` packed. */
function openBody(packed) {
  const solid = openSolid(packed.solid);
  const shapes = packed.shapes.map(([text, flat]) => ({ text, rings: openRings(flat) }));
  const marks = packed.marks.map(([site, face, readout, shape, x, y, height, angle]) => openMark(solid, { site, face, readout, ...shapes[shape], x, y, height, angle }));
  return { solid, marks, readouts: packed.readouts };
}

/** The marks that a rest reads. */
const readMarks = (body, rest) => body.marks.filter((mark) => rest.faces.has(mark.face) && rest.sites.has(mark.site));

/** What a rest reads, in words: "wind 3, rain yes", or the label alone. */
function readWords(body, rest) {
  const found = readMarks(body, rest);
  const labels = (marks) => [...new Set(marks.map((mark) => mark.text.replace(/^-(?=\d)/, "−")))].join(", ") || "nothing";
  if (!body.readouts.length) return labels(found);
  return body.readouts.map((name, number) => `${name} ${labels(found.filter((mark) => (mark.readout ?? 0) === number))}`).join(", ");
}
