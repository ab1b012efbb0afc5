// One run's scene: its ground, its machine, its light, and the ghosts of the others.
/* global THREE */
import { Figure } from "./figure.js";
import { Lights, skyOf } from "./light.js";
import { PARTS } from "./take.js";

export class World {
  constructor(run, looks, tables, shapes, paints) {
    this.run = run;
    this.paints = paints;
    this.scene = new THREE.Scene();
    const haze = new THREE.Color().setRGB(...looks.sky[0]);
    this.day = new THREE.Fog(haze, 60, 420);
    this.scene.fog = this.day;
    this.sky = skyOf(looks);
    this.lights = new Lights(this.scene, looks);
    this.sun = looks.views[0].sun;
    this.sunHeight = looks.light.height;
    this.figure = new Figure(run, tables, shapes, (mesh) =>
      mesh.places === undefined ? paints.solid : paints.grass);
    this.ghosts = [];
    this.scene.add(this.sky, this.figure.group);
    this.middle = new THREE.Vector3(); // on the ground below the machine
    this.heading = 0; // [rad]
  }

  /** A see-through machine of another run, shown or hidden with `showGhosts`. */
  addGhost(run, number, tables, shapes) {
    const still = run.motion.links[run.motion.hill];
    const paint = this.paints.ghosts[number];
    const figure = new Figure(run, tables, shapes, (mesh) =>
      mesh.link === still || mesh.places !== undefined ? null : paint);
    figure.group.visible = false;
    this.ghosts.push({ figure, number });
    this.scene.add(figure.group);
  }

  showGhosts(isShown) {
    for (const { figure } of this.ghosts) figure.group.visible = isShown;
  }

  /** Puts the machine, its ghosts and the sun where they are at the runs' times. */
  put(times, number) {
    this.figure.put(times[number]);
    for (const ghost of this.ghosts) {
      if (ghost.figure.group.visible) ghost.figure.put(times[ghost.number]);
    }
    const { pose } = this.figure.take;
    const k = PARTS * this.run.motion.followed;
    this.middle.set(pose[k], pose[k + 1], pose[k + 2]);
    this.heading = 2 * Math.atan2(pose[k + 5], pose[k + 6]);
    const bearing = this.heading + Math.PI + this.run.downhill * this.sun;
    this.lights.aim(pose[k], pose[k + 1], pose[k + 2], bearing, this.sunHeight);
    this.sky.position.copy(this.middle);
  }

  /** Plain ground under a dark sky, or grass in the day. */
  contrast(isHigh) {
    this.lights.contrast(isHigh);
    this.sky.visible = !isHigh;
    this.scene.fog = isHigh ? null : this.day;
    this.scene.background = isHigh ? new THREE.Color(0x000000) : null;
    for (const mesh of this.figure.meshes) {
      if (mesh.userData.isGrass) mesh.material = isHigh ? this.paints.plain : this.paints.grass;
    }
  }
}
