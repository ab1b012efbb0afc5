// Where there is air under a wheel: marked in the picture and measured.
/* global THREE */

const RING = 0.16; // [m] radius of the ring, as in the film
const LEAST = 16; // [pixels] of it

/** The mark of one pane. */
export class Daylight {
  constructor(pane) {
    this.mark = pane.element.querySelector(".mark");
    this.lines = [...this.mark.querySelectorAll("line")];
    this.ring = this.mark.querySelector("circle");
    this.label = pane.element.querySelector(".gap");
    this.top = new THREE.Vector3();
    this.foot = new THREE.Vector3();
    this.axle = new THREE.Vector3();
    this.up = new THREE.Vector3();
  }

  /** Shows the largest gap, or nothing. `gaps` [m] of the wheels, as recorded. */
  show(world, gaps, camera, box) {
    let wheel = 0;
    for (let k = 1; k < gaps.length; k++) if (gaps[k] > gaps[wheel]) wheel = k;
    const isSeen = gaps[wheel] > 0 && this.find(world, wheel, gaps[wheel]);
    const scale = isSeen && this.project(camera, box);
    this.mark.classList.toggle("shown", Boolean(scale));
    this.label.classList.toggle("shown", Boolean(scale));
    if (!scale) return;
    const { top, foot } = this;
    for (const line of this.lines) set(line, { x1: top.x, y1: top.y, x2: foot.x, y2: foot.y });
    const radius = Math.max(RING * scale, LEAST);
    const [x, y] = [(top.x + foot.x) / 2, (top.y + foot.y) / 2];
    set(this.ring, { cx: x, cy: y, r: radius });
    const text = `${Math.ceil(1000 * gaps[wheel] - 1e-6)} mm of daylight under the ${world.run.wheels[wheel]}`;
    if (this.label.textContent !== text) this.label.textContent = text;
    const isLeft = x < box.width / 2;
    this.label.style.left = isLeft ? `${x + radius + 6}px` : "auto";
    this.label.style.right = isLeft ? "auto" : `${box.width - x + radius + 6}px`;
    this.label.style.top = `${Math.max(y - 10, 0)}px`;
  }

  /** Lowest point of the wheel's rim, and the ground under it [m]. */
  find(world, wheel, gap) {
    const names = ["front_left", "front_right", "rear_left", "rear_right"];
    const { figure, run } = world;
    const link = figure.links[run.motion.links.indexOf(`wheel_${names[wheel]}`)];
    const hill = figure.links[run.motion.hill];
    if (!link) return false;
    const [radius, half] = run.tyres[wheel];
    this.up.set(0, 0, 1).applyQuaternion(hill.quaternion);
    this.axle.set(0, 1, 0).applyQuaternion(link.quaternion);
    const lean = this.axle.dot(this.up);
    this.top.copy(this.axle).multiplyScalar(lean).sub(this.up).normalize().multiplyScalar(radius);
    this.top.addScaledVector(this.axle, lean > 0 ? -half : half).add(link.position);
    this.foot.copy(this.top).addScaledVector(this.up, -gap);
    return true;
  }

  /** Both ends in pixels of the pane; returns pixels a metre there, 0 if they are not seen. */
  project(camera, box) {
    const away = camera.position.distanceTo(this.top);
    for (const end of [this.top, this.foot]) {
      end.project(camera);
      if (Math.abs(end.x) > 1 || Math.abs(end.y) > 1 || end.z > 1) return 0;
      end.set(((end.x + 1) * box.width) / 2, ((1 - end.y) * box.height) / 2, 0);
    }
    return box.height / (2 * Math.tan((camera.fov * Math.PI) / 360) * away);
  }
}

/** Attributes of a shape, in tenths of a pixel. */
export function set(element, values) {
  for (const name in values) element.setAttribute(name, Math.round(10 * values[name]) / 10);
}
