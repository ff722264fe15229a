// The cart in space: turned by dragging, pulled apart, built up, its panels lit.
import {
  AmbientLight, BufferAttribute, BufferGeometry, Color, DirectionalLight, EdgesGeometry, Group, LineBasicMaterial,
  LineSegments, Mesh, MeshLambertMaterial, PerspectiveCamera, Raycaster, Scene, Vector2, Vector3, WebGLRenderer,
} from "./vendor/three.js";

let held = null;

export async function stage(box) {
  if (held && held.box === box && held.digest === box.dataset.scene) return;
  const digest = box.dataset.scene;
  const before = held?.box === box && held.renderer ? held : null;
  if (!before) held?.renderer?.forceContextLoss();
  let renderer = before?.renderer;
  try {
    renderer ||= new WebGLRenderer({ antialias: true, alpha: true });
  } catch {
    return; // The drawn view stands there already.
  }
  // It stays turned as it was when the cart is another.
  held = { box, digest, renderer, bodies: [], turn: before?.turn || { azimuth: -0.9, height: 0.45, far: 1 }, apart: 0, step: 1e9 };
  const answer = await fetch(`/scene?of=${digest}`);
  if (!answer.ok || held.digest !== digest) return;
  const { bodies } = await answer.json();
  if (!bodies.length) return;
  const scene = new Scene();
  scene.add(new AmbientLight(0xffffff, 1.7));
  const sun = new DirectionalLight(0xffffff, 1.6);
  sun.position.set(-1, -2, 3);
  scene.add(sun);
  const whole = new Group();
  scene.add(whole);
  const low = new Vector3(1e9, 1e9, 1e9), high = new Vector3(-1e9, -1e9, -1e9);
  for (const body of bodies) {
    const shape = new BufferGeometry();
    shape.setAttribute("position", new BufferAttribute(new Float32Array(body.points), 3));
    shape.setIndex(body.faces);
    const flat = shape.toNonIndexed();
    flat.computeVertexNormals();
    flat.computeBoundingBox();
    low.min(flat.boundingBox.min);
    high.max(flat.boundingBox.max);
    const colour = body.kind === "panel" ? new Color(0.93, 0.86, 0.74) : new Color().setScalar(0.35 + 0.5 * body.tone);
    const mesh = new Mesh(flat, new MeshLambertMaterial({ color: colour, flatShading: true }));
    mesh.add(new LineSegments(new EdgesGeometry(shape, 30), new LineBasicMaterial({ color: 0x33302a })));
    mesh.userData = { ...body, colour };
    whole.add(mesh);
    held.bodies.push(mesh);
  }
  const middle = low.clone().add(high).multiplyScalar(0.5);
  const size = high.clone().sub(low).length();
  for (const mesh of held.bodies) {
    const of = mesh.geometry.boundingBox;
    mesh.userData.way = of.min.clone().add(of.max).multiplyScalar(0.5).sub(middle);
  }
  const camera = new PerspectiveCamera(30, 1, size / 50, size * 20);
  camera.up.set(0, 0, 1);
  Object.assign(held, { scene, camera, middle, size, whole });
  if (!renderer.domElement.isConnected) {
    box.append(renderer.domElement);
    box.classList.add("turning");
    listen(renderer.domElement);
    new ResizeObserver(() => draw()).observe(box);
  }
  pose(Number(document.getElementById("apart")?.value || 0) / 100, Number(document.getElementById("step")?.value || 1e9));
}

function draw() {
  if (!held?.camera || !held.box.isConnected) return;
  const { box, renderer, camera, scene, middle, size, turn } = held;
  const width = box.clientWidth, height = Math.min(width * 0.8, 560);
  renderer.setPixelRatio(Math.min(devicePixelRatio, 2));
  renderer.setSize(width, height);
  camera.aspect = width / height;
  const far = size * 1.9 * turn.far * (1 + 0.9 * held.apart) / Math.min(1, camera.aspect);
  camera.position.set(
    middle.x + far * Math.sin(turn.azimuth) * Math.cos(turn.height),
    middle.y - far * Math.cos(turn.azimuth) * Math.cos(turn.height),
    middle.z + far * Math.sin(turn.height),
  );
  camera.lookAt(middle);
  camera.updateProjectionMatrix();
  renderer.render(scene, camera);
}

function listen(canvas) {
  let from = null;
  canvas.addEventListener("pointerdown", (e) => { from = { x: e.clientX, y: e.clientY, moved: false }; canvas.setPointerCapture(e.pointerId); });
  canvas.addEventListener("pointermove", (e) => {
    if (!from) return;
    held.turn.azimuth -= (e.clientX - from.x) * 0.008;
    held.turn.height = Math.max(-1.4, Math.min(1.5, held.turn.height + (e.clientY - from.y) * 0.008));
    from = { x: e.clientX, y: e.clientY, moved: from.moved || Math.hypot(e.clientX - from.x, e.clientY - from.y) > 2 };
    draw();
  });
  canvas.addEventListener("pointerup", (e) => {
    if (from && !from.moved) choose(e);
    from = null;
  });
  canvas.addEventListener("wheel", (e) => {
    if (!e.ctrlKey && document.activeElement !== canvas) return;
    e.preventDefault();
    held.turn.far = Math.max(0.4, Math.min(3, held.turn.far * Math.exp(e.deltaY * 0.001)));
    draw();
  }, { passive: false });
  canvas.tabIndex = 0;
  canvas.addEventListener("keydown", (e) => {
    const turn = { ArrowLeft: [-0.1, 0], ArrowRight: [0.1, 0], ArrowUp: [0, 0.1], ArrowDown: [0, -0.1] }[e.key];
    if (!turn) return;
    e.preventDefault();
    held.turn.azimuth += turn[0];
    held.turn.height = Math.max(-1.4, Math.min(1.5, held.turn.height + turn[1]));
    draw();
  });
}

function choose(event) {
  if (!held?.camera) return;
  const { camera, bodies, renderer } = held;
  const of = renderer.domElement.getBoundingClientRect();
  const at = new Vector2(((event.clientX - of.left) / of.width) * 2 - 1, 1 - ((event.clientY - of.top) / of.height) * 2);
  const ray = new Raycaster();
  ray.setFromCamera(at, camera);
  const hit = ray.intersectObjects(bodies.filter((b) => b.visible), false)[0];
  const mark = hit?.object.userData.mark;
  light(mark || "");
  const row = mark && document.querySelector(`[data-marks="${CSS.escape(mark)}"]`);
  if (row) row.scrollIntoView({ block: "nearest" });
}

export function light(mark) {
  for (const row of document.querySelectorAll("[data-marks]")) row.setAttribute("aria-pressed", String(row.dataset.marks === mark));
  if (!held?.renderer) return;
  for (const mesh of held.bodies)
    mesh.material.color.copy(mark && mesh.userData.mark === mark ? new Color(0.85, 0.3, 0.12) : mesh.userData.colour);
  draw();
}

export function pose(apart, step) {
  const shown = document.getElementById("step-shown");
  if (shown) shown.textContent = step < 1e8 ? String(step) : "";
  if (!held?.renderer) return;
  held.apart = apart;
  held.step = step;
  for (const mesh of held.bodies) {
    mesh.position.copy(mesh.userData.way).multiplyScalar(apart);
    mesh.visible = mesh.userData.step <= step;
  }
  draw();
}
