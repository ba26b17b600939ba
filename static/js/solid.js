/** Shows a piece in the round, to be turned by pointer, touch or keys; nothing is loaded before it is asked for.
 *  Markup: `<div data-module="solid" data-base="/…/" data-query="?draft" data-number="7" data-last="9" data-name="Hook">`
 *  with `.js-solid-open`, `.js-solid-shown` around `.js-solid-view`, buttons `[data-turn]`, links `a[data-kind]` and
 *  `.js-solid-says`. It shows the stage that `stage:shown` tells of, which it hears from anything beside it. */
const STEP = Math.PI / 18; // rad a key turns it
const NEARER = 1.2; // times a key brings it nearer
const FIELD = 28; // degrees: a long view, so that bars look straight
const FROM = [0.45, 0.5, 1]; // where it is first looked at from: ahead of it, a little to the right and above
const SHARP = 35; // degrees between faces from which on an edge is drawn
const KEYS = {
  ArrowLeft: "left", ArrowRight: "right", ArrowUp: "up", ArrowDown: "down", "+": "nearer", "=": "nearer", "-": "farther", 0: "reset", Home: "reset",
};

export function start(root) {
  const open = root.querySelector(".js-solid-open");
  const shown = root.querySelector(".js-solid-shown");
  const says = root.querySelector(".js-solid-says");
  if (!open || !shown || !says) throw new Error("solid: needs a button, a view and a line that says what it does");
  let number = Number(root.dataset.number);
  let stage = null;
  let opening = false;

  const address = (kind) => `${root.dataset.base}${number}/solid.${kind}${root.dataset.query}`;
  const where = () => (number ? `step ${number} of ${root.dataset.last}` : "the bar as it comes");

  async function load() {
    const asked = number;
    says.textContent = "Loading.";
    const answer = await fetch(address("glb"));
    if (asked !== number || !stage) return;
    if (!answer.ok) {
      stage.clear();
      says.textContent = answer.status === 404 ? "The work does not come to this step." : "The solid could not be fetched. Try again.";
      return;
    }
    const data = await answer.arrayBuffer();
    if (asked !== number || !stage) return;
    await stage.show(data);
    stage.canvas.setAttribute("aria-label", `${root.dataset.name}, ${where()}, in the round`);
    says.textContent = `${where()[0].toUpperCase()}${where().slice(1)}.`;
  }

  function failed() {
    says.textContent = "The solid could not be fetched. Try again.";
  }

  open.hidden = false;
  open.addEventListener("click", async () => {
    if (opening) return;
    if (stage) {
      stage.end();
      stage = null;
      shown.hidden = true;
      says.textContent = "";
      tell(open, false);
      return;
    }
    opening = true;
    says.textContent = "Loading.";
    try {
      const three = await import("vendor/three/three");
      shown.hidden = false;
      stage = staged(three, shown.querySelector(".js-solid-view"));
      tell(open, true);
      await load();
    } catch {
      if (!stage) shown.hidden = true;
      says.textContent = stage ? "The solid could not be fetched. Try again." : "This browser cannot show it in the round. The files below open in any viewer.";
    }
    opening = false;
  });
  for (const button of root.querySelectorAll("[data-turn]")) button.addEventListener("click", () => stage?.turn(button.dataset.turn));
  shown.addEventListener("keydown", (event) => {
    const turn = KEYS[event.key];
    if (!turn || !stage || event.ctrlKey || event.metaKey || event.altKey || event.target.closest("button")) return;
    event.preventDefault();
    stage.turn(turn);
  });
  root.parentElement.addEventListener("stage:shown", (event) => {
    number = event.detail.number;
    root.dataset.number = number;
    for (const link of root.querySelectorAll("a[data-kind]")) link.href = address(link.dataset.kind);
    if (stage) load().catch(failed);
  });
}

function tell(open, isOpen) {
  open.setAttribute("aria-expanded", String(isOpen));
  open.textContent = isOpen ? "Put it down" : "Turn it in the round";
}

/** A canvas with a camera that turns about what is shown on it; it is drawn only when something has changed. */
function staged(three, view) {
  const renderer = new three.WebGLRenderer({ antialias: true, alpha: true });
  const canvas = renderer.domElement;
  canvas.setAttribute("role", "img");
  view.append(canvas);
  const scene = new three.Scene();
  const camera = new three.PerspectiveCamera(FIELD, 1, 0.001, 100);
  const lamp = new three.DirectionalLight(0xffffff, 2.6); // over the left shoulder of whoever looks
  lamp.position.set(-0.7, 1, 0.6);
  const rim = new three.DirectionalLight(0xffffff, 1.1);
  rim.position.set(1, 0.2, -0.4);
  camera.add(lamp, rim);
  scene.add(camera, new three.HemisphereLight(0xffffff, 0x6a6258, 1.9));
  const controls = new three.OrbitControls(camera, canvas);
  controls.enablePan = false;
  controls.enableZoom = false; // the wheel scrolls the page until one is at it
  view.addEventListener("focusin", () => (controls.enableZoom = true));
  view.addEventListener("focusout", () => (controls.enableZoom = false));
  canvas.addEventListener("pointerdown", () => view.focus({ preventScroll: true }));
  controls.addEventListener("change", ask);
  let piece = null;
  let radius = 0;
  let wanted = 0;

  function ask() {
    if (!wanted) wanted = requestAnimationFrame(draw);
  }
  function draw() {
    wanted = 0;
    renderer.render(scene, camera);
  }
  function fit() {
    const { clientWidth: wide, clientHeight: high } = view;
    if (!wide || !high) return;
    renderer.setPixelRatio(Math.min(devicePixelRatio, 2));
    renderer.setSize(wide, high);
    camera.aspect = wide / high;
    camera.updateProjectionMatrix();
    ask();
  }
  /** How far off all of it is seen, whichever way it is turned. */
  function distance() {
    const half = (FIELD / 2) * (Math.PI / 180);
    return radius / Math.sin(Math.min(half, Math.atan(Math.tan(half) * Math.max(camera.aspect, 0.75))));
  }
  function reset() {
    camera.position.copy(controls.target).add(new three.Vector3(...FROM).setLength(distance()));
    controls.update();
    ask();
  }
  function clear() {
    piece?.traverse((one) => {
      one.geometry?.dispose();
      one.material?.dispose();
    });
    piece?.removeFromParent();
    piece = null;
    ask();
  }
  async function show(data) {
    const loaded = await new three.GLTFLoader().parseAsync(data, "");
    const first = radius === 0;
    const share = first ? 1 : camera.position.distanceTo(controls.target) / radius;
    clear();
    piece = loaded.scene;
    const line = new three.LineBasicMaterial({ color: 0x0b0b0c, transparent: true, opacity: 0.45 });
    const meshes = [];
    piece.traverse((one) => one.isMesh && meshes.push(one));
    for (const mesh of meshes) {
      mesh.material.polygonOffset = true; // its edges lie on it, not in it
      mesh.material.polygonOffsetFactor = mesh.material.polygonOffsetUnits = 1;
      mesh.add(new three.LineSegments(new three.EdgesGeometry(mesh.geometry, SHARP), line));
    }
    scene.add(piece);
    const round = new three.Box3().setFromObject(piece).getBoundingSphere(new three.Sphere());
    const moved = round.center.clone().sub(controls.target);
    radius = round.radius;
    controls.target.copy(round.center);
    controls.minDistance = radius * 0.15;
    controls.maxDistance = radius * 12;
    camera.near = radius / 100;
    camera.far = radius * 30;
    camera.updateProjectionMatrix();
    if (first) return reset();
    camera.position.add(moved); // it is still looked at from the same side
    camera.position.sub(controls.target).setLength(share * radius).add(controls.target);
    controls.update();
    ask();
  }
  function turn(way) {
    if (way === "reset") return reset();
    const at = new three.Spherical().setFromVector3(camera.position.clone().sub(controls.target));
    if (way === "left") at.theta += STEP;
    if (way === "right") at.theta -= STEP;
    if (way === "up") at.phi += STEP;
    if (way === "down") at.phi -= STEP;
    if (way === "nearer") at.radius = Math.max(at.radius / NEARER, controls.minDistance);
    if (way === "farther") at.radius = Math.min(at.radius * NEARER, controls.maxDistance);
    at.makeSafe();
    camera.position.setFromSpherical(at).add(controls.target);
    controls.update();
    view.dataset.turned = [at.theta, at.phi, at.radius].map((one) => one.toFixed(3)).join(" ");
    ask();
  }
  function end() {
    sizes.disconnect();
    clear();
    controls.dispose();
    renderer.dispose();
    renderer.forceContextLoss();
    canvas.remove();
  }
  const sizes = new ResizeObserver(fit);
  sizes.observe(view);
  fit();
  return { canvas, show, turn, clear, end };
}
