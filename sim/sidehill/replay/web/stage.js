// The canvas behind the panes: every world drawn where its pane stands.
/* global THREE */
import { useFilmTones } from "./light.js";
import { Paints } from "./paints.js";
import { Shapes } from "./shapes.js";
import { World } from "./world.js";

/** What draws, on a canvas; nothing where the browser has no WebGL. */
export function rendererOn(canvas) {
  const isSlow = isDrawnInSoftware();
  const context = canvas.getContext("webgl2", { antialias: !isSlow, alpha: false });
  if (!context) return null;
  useFilmTones();
  const renderer = new THREE.WebGLRenderer({ canvas, context });
  renderer.setPixelRatio(isSlow ? 1 : Math.min(window.devicePixelRatio, 2));
  renderer.toneMapping = THREE.CustomToneMapping;
  renderer.shadowMap.enabled = true;
  renderer.shadowMap.type = isSlow ? THREE.BasicShadowMap : THREE.PCFShadowMap;
  renderer.setScissorTest(true);
  renderer.userData = { isSlow };
  return renderer;
}

/** Whether the browser draws without a graphics card: then edges stay rough and shadows hard. */
function isDrawnInSoftware() {
  const probe = document.createElement("canvas").getContext("webgl2");
  const named = probe?.getExtension("WEBGL_debug_renderer_info");
  const name = named ? probe.getParameter(named.UNMASKED_RENDERER_WEBGL) : "";
  probe?.getExtension("WEBGL_lose_context")?.loseContext();
  return /swiftshader|llvmpipe|softpipe|basic render/i.test(name);
}

/** Worlds and cameras of the runs that are drawn. */
export class Stage {
  constructor(renderer, panes, runs, looks, tables, tile) {
    this.renderer = renderer;
    this.canvas = renderer.domElement;
    this.panes = panes;
    const shapes = new Shapes(tables);
    const paints = new Paints(looks, tile, renderer.userData.isSlow);
    this.worlds = runs.map((run) =>
      run.drawn ? new World(run, looks, tables, shapes, paints) : null);
    this.lead = this.worlds.findIndex((world) => world);
    runs.forEach((run, k) => {
      if (run.drawn && k !== this.lead) this.worlds[this.lead].addGhost(run, k, tables, shapes);
    });
    this.camera = new THREE.PerspectiveCamera(32, 1, 0.1, 900);
  }

  /** Lays the runs over each other in the first one's pane, or sets them apart. */
  showGhosts(isShown) {
    this.worlds[this.lead].showGhosts(isShown);
  }

  contrast(isHigh) {
    for (const world of this.worlds) world?.contrast(isHigh);
  }

  /** Puts every run at its time. */
  put(times) {
    this.worlds.forEach((world, k) => world?.put(times, k));
  }

  /** Makes the canvas as large as the stage. */
  resize(width, height) {
    this.renderer.setSize(width, height, false);
  }

  /** Draws what is seen; `seen` is told the camera of each pane that is on the screen. */
  draw(orbit, seen) {
    const whole = this.canvas.getBoundingClientRect();
    this.panes.forEach((pane, k) => {
      const world = this.worlds[k];
      const box = pane.view.getBoundingClientRect();
      if (!world || !box.width || !box.height) return;
      orbit.aim(this.camera, world, box.width, box.height);
      const left = box.left - whole.left;
      const below = whole.bottom - box.bottom;
      this.renderer.setViewport(left, below, box.width, box.height);
      this.renderer.setScissor(left, below, box.width, box.height);
      this.renderer.render(world.scene, this.camera);
      seen(k, this.camera, box);
    });
  }
}
