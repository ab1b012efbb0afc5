// Where the runs are seen from: one way of looking, shared by all panes, about each one's machine.
/* global THREE */

const LOWEST = -0.35;
const HIGHEST = 1.5; // [rad] of the eye over level
const CLEAR = 0.25; // [m] of the eye over the ground
const NEAREST = 0.25;
const FURTHEST = 6; // times the distance of the view

export class Orbit {
  constructor(looks) {
    this.looks = looks;
    this.choose(looks.first);
  }

  /** A named view, by its number. */
  choose(number) {
    this.view = this.looks.views[number];
    this.number = number;
    this.bearing = this.view.bearing;
    this.elevation = this.view.elevation;
    this.zoom = 1;
  }

  /** Turned about the machine [rad]. */
  turn(bearing, elevation) {
    this.bearing += bearing;
    this.elevation = Math.min(Math.max(this.elevation + elevation, LOWEST), HIGHEST);
  }

  /** Nearer below 1, further above it. */
  nearer(factor) {
    this.zoom = Math.min(Math.max(this.zoom * factor, NEAREST), FURTHEST);
  }

  /** Sets a camera for a picture of a size [pixels], as the film's views do. */
  aim(camera, world, width, height) {
    const { view, looks } = this;
    const narrow = Math.min(width, height) / (2 * Math.tan(looks.field / 2));
    const share = Math.max((view.wide * looks.radius) / width, (view.high * looks.top) / height);
    const away = 2 * narrow * share * this.zoom;
    const astern = world.heading + Math.PI + world.run.downhill * this.bearing;
    const { x, y, z } = world.middle;
    const over = z + view.aim * looks.top;
    camera.position.set(
      x + away * Math.cos(astern) * Math.cos(this.elevation),
      y + away * Math.sin(astern) * Math.cos(this.elevation),
      over + away * Math.sin(this.elevation));
    lift(camera.position, world);
    camera.up.set(0, 0, 1);
    camera.lookAt(x, y, over);
    camera.aspect = width / height;
    camera.fov = (360 / Math.PI) * Math.atan(height / (2 * narrow));
    camera.near = Math.min(0.1 * away, 0.5);
    camera.updateProjectionMatrix();
    camera.updateMatrixWorld();
  }
}

let eye; // in the frame of the hillside

/** Moves an eye up to where it is clear of the bank. */
function lift(position, world) {
  const { bank, motion } = world.run;
  if (!bank) {
    position.z = Math.max(position.z, world.middle.z + CLEAR);
    return;
  }
  const hill = world.figure.links[motion.hill];
  eye ??= new THREE.Vector3();
  eye.copy(position).sub(hill.position).applyQuaternion(conjugate(hill.quaternion));
  const along = eye.x * bank.uphill[0] + eye.y * bank.uphill[1];
  const short = CLEAR - (eye.z - between(bank.up, bank.rise, along));
  if (short > 0) position.z += short / upright(hill.quaternion);
}

function conjugate({ x, y, z, w }) {
  return { x: -x, y: -y, z: -z, w };
}

/** Upward share of a hillside's normal. */
function upright({ x, y }) {
  return 1 - 2 * (x * x + y * y);
}

/** Height of a profile at a place; its ends hold. */
function between(places, heights, at) {
  let k = 0;
  while (k < places.length - 2 && places[k + 1] < at) k++;
  const share = (at - places[k]) / (places[k + 1] - places[k]);
  return heights[k] + Math.min(Math.max(share, 0), 1) * (heights[k + 1] - heights[k]);
}
