// The solid as a scene of three.js. A solid is convex, so that its layers need no depth: faces, plates, edges, ink.

const LINE = 1.3; // pixels
const CHOSEN_LINE = 0.03;
const PLATE_LINE = 0.012;
const DIM = 0.28;

/** Rings for the even-odd rule as triangles: pairs of numbers, three a triangle, counter-clockwise. */
function triangles(rings) {
  const inside = ([x, y], ring) => ring.reduce((odd, [ax, ay], place) => {
    const [bx, by] = ring[(place + 1) % ring.length];
    return ay > y !== by > y && x < ((bx - ax) * (y - ay)) / (by - ay) + ax ? !odd : odd;
  }, false);
  const around = rings.map((ring) => rings.flatMap((other, number) => (other !== ring && inside(ring[0], other) ? [number] : [])));
  const points = (ring) => ring.map(([x, y]) => new THREE.Vector2(x, y));
  return rings.flatMap((ring, number) => {
    if (around[number].length % 2) return [];
    const holes = rings.filter((_, other) => around[other].length === around[number].length + 1 && around[other].includes(number));
    const corners = [ring, ...holes].flat();
    return THREE.ShapeUtils.triangulateShape(points(ring), holes.map(points)).map((three) => {
      const [a, b, c] = three.map((corner) => corners[corner]);
      return (b[0] - a[0]) * (c[1] - a[1]) > (b[1] - a[1]) * (c[0] - a[0]) ? [a, b, c] : [a, c, b];
    });
  });
}

const fan = (corners) => corners.slice(2).flatMap((corner, place) => [corners[0], corners[place + 1], corner]);

/** The rim of a convex face, so wide: two triangles an edge. */
function rim(solid, face, width) {
  const outer = solid.faces[face].map((corner) => solid.vertices[corner]);
  const inner = inset(outer, solid.frames[face].normal, width);
  return outer.flatMap((a, place) => {
    const next = (place + 1) % outer.length;
    return [a, outer[next], inner[next], a, inner[next], inner[place]];
  });
}

/** One layer: corners of triangles in space, each with a colour that can change. */
function layer(scene, corners, order) {
  const geometry = new THREE.BufferGeometry();
  geometry.setAttribute("position", new THREE.BufferAttribute(new Float32Array(corners.flat()), 3));
  geometry.setAttribute("color", new THREE.BufferAttribute(new Float32Array(corners.length * 4), 4));
  const mesh = new THREE.Mesh(geometry, new THREE.MeshBasicMaterial({ vertexColors: true, transparent: true, depthTest: false, depthWrite: false }));
  mesh.renderOrder = order;
  mesh.frustumCulled = false;
  mesh.matrixAutoUpdate = false;
  scene.add(mesh);
  return mesh;
}

function paint({ mesh, from, count }, colour, alpha = 1) {
  const colours = mesh.geometry.attributes.color;
  for (let place = from; place < from + count; place += 1) colours.setXYZW(place, colour.r, colour.g, colour.b, alpha);
  colours.needsUpdate = true;
}

/** The layers of one body: meshes, and for each of their parts (a face, an edge, a mark) its corners in a mesh. */
function buildScene({ solid, marks }) {
  const scene = new THREE.Scene();
  const gather = (parts, order) => {
    const places = [];
    const corners = [];
    for (const part of parts) {
      places.push({ from: corners.length, count: part.length });
      for (const corner of part) corners.push(corner);
    }
    const mesh = layer(scene, corners, order);
    return { mesh, parts: places.map((place) => ({ mesh, ...place })) };
  };
  const shapes = new Map();
  const shape = (rings) => shapes.get(rings) ?? shapes.set(rings, triangles(rings).flat()).get(rings);
  const layers = {
    faces: gather(solid.faces.map((face) => fan(face.map((corner) => solid.vertices[corner]))), 0),
    frames: gather(marks.map((mark) => fan(mark.plate)), 1),
    plates: gather(marks.map((mark) => fan(inset(mark.plate, solid.frames[mark.face].normal, PLATE_LINE * solid.reach))), 2),
    edges: gather(solid.edges.map(() => Array(6).fill([0, 0, 0])), 3),
    rims: gather(solid.faces.map((_, face) => rim(solid, face, CHOSEN_LINE * solid.reach)), 4),
  };
  // each face has an ink of its own, hidden with it: a sliver of a letter may seem turned when it falls between pixels
  const ink = { meshes: new Map(), parts: Array(marks.length) };
  solid.faces.forEach((_, face) => {
    const own = marks.flatMap((mark, number) => (mark.face === face ? [number] : []));
    if (!own.length) return;
    const { mesh, parts } = gather(own.map((number) => shape(marks[number].flat).map(marks[number].place)), 5);
    ink.meshes.set(face, mesh);
    own.forEach((number, place) => { ink.parts[number] = parts[place]; });
  });
  layers.edges.mesh.material.side = THREE.DoubleSide;
  return { scene, layers: { ...layers, ink } };
}

/** Lays each edge that is seen as a band of one width before the eye; the others have none. */
function layEdges({ solid }, mesh, axes, half) {
  const places = mesh.geometry.attributes.position;
  solid.edges.forEach(({ ends, faces }, number) => {
    const [a, b] = ends.map((end) => solid.vertices[end]);
    const seen = faces.some((face) => dot(solid.frames[face].normal, axes.eye) > 0);
    const way = cross(axes.eye, plus(b, a, -1));
    const off = seen && Math.hypot(...way) > 1e-9 ? unit(way).map((x) => x * half) : [0, 0, 0];
    const [al, ar, bl, br] = [plus(a, off), plus(a, off, -1), plus(b, off), plus(b, off, -1)];
    [al, ar, br, al, br, bl].forEach((corner, place) => places.setXYZ(6 * number + place, ...corner));
  });
  places.needsUpdate = true;
}

/** Draws a body on a canvas; null where the browser gives no WebGL. `lost` is called when it takes it back. */
function glPainter(canvas, body, lost) {
  const context = canvas.getContext("webgl2", { alpha: true, antialias: true });
  if (!context) return null;
  canvas.addEventListener("webglcontextlost", lost); // before the renderer's own listener, which would complain
  THREE.ColorManagement.enabled = false;
  const renderer = new THREE.WebGLRenderer({ canvas, context, alpha: true, antialias: true });
  renderer.outputColorSpace = THREE.LinearSRGBColorSpace;
  const { scene, layers } = buildScene(body);
  const camera = new THREE.OrthographicCamera();
  camera.position.z = 3 * body.solid.reach;
  const colours = {};
  let pixel = 1;
  let painted = null;
  const fill = (name, place, colour, alpha) => paint(layers[name].parts[place], colour, alpha);
  const mark = ({ lit, chosen }) => {
    body.solid.edges.forEach((_, edge) => fill("edges", edge, colours["--face-ink"]));
    body.solid.faces.forEach((_, face) => fill("rims", face, colours["--own"], face === chosen ? 1 : 0));
    body.marks.forEach((one, number) => {
      const on = lit?.has(one) ?? false;
      fill("ink", number, colours[on ? "--on-hit" : "--face-ink"], lit && !on ? DIM : 1);
      fill("frames", number, colours["--on-hit"], on ? 1 : 0);
      fill("plates", number, colours["--hit"], on ? 1 : 0);
    });
  };
  return {
    scene, layers, camera, canvas,
    recolour(look) {
      for (const name of ["--face-lit", "--face-shade", "--face-ink", "--own", "--hit", "--on-hit"]) colours[name] = new THREE.Color(look.getPropertyValue(name).trim());
      painted = null;
    },
    resize(wide, high) {
      renderer.setPixelRatio(Math.min(2, window.devicePixelRatio || 1));
      renderer.setSize(wide, high, false);
      const half = (1.04 * body.solid.reach) / Math.min(wide, high);
      pixel = 2 * half;
      [camera.left, camera.right, camera.bottom, camera.top] = [-wide * half, wide * half, -high * half, high * half];
      [camera.near, camera.far] = [0.1, 6 * body.solid.reach];
      camera.updateProjectionMatrix();
    },
    draw(axes, how) {
      const { right, upright, eye } = axes;
      const turned = new THREE.Matrix4().set(...right, 0, ...upright, 0, ...eye, 0, 0, 0, 0, 1);
      for (const mesh of scene.children) {
        mesh.matrix.copy(turned);
        mesh.matrixWorldNeedsUpdate = true;
      }
      layers.ink.meshes.forEach((mesh, face) => { mesh.visible = dot(body.solid.frames[face].normal, eye) > BARELY; });
      const mixed = new THREE.Color();
      body.solid.frames.forEach((frame, face) => fill("faces", face, mixed.lerpColors(colours["--face-shade"], colours["--face-lit"], brightness(frame, axes))));
      layEdges(body, layers.edges.mesh, axes, (LINE * pixel) / 2);
      if (how !== painted) mark(how);
      painted = how;
      renderer.render(scene, camera);
    },
    close() {
      canvas.removeEventListener("webglcontextlost", lost);
      for (const mesh of scene.children) {
        mesh.geometry.dispose();
        mesh.material.dispose();
      }
      renderer.dispose();
      renderer.forceContextLoss();
    },
  };
}

/** The same without WebGL: the drawing anew for each turn. */
function flatPainter(holder, body) {
  return {
    recolour() {},
    resize() {},
    draw(axes, how) {
      holder.innerHTML = stillSvg(body, axes, how);
    },
    close() {
      holder.replaceChildren();
    },
  };
}
