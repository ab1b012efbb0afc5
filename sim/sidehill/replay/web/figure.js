// A run's machine, or its ghost, put where it is at a time.
/* global THREE */
import { PARTS, Take } from "./take.js";

/** Meshes in groups, one group for each link of the run. */
export class Figure {
  /** `paintOf` gives a mesh's material, or nothing where the mesh is left out. */
  constructor(run, tables, shapes, paintOf) {
    this.take = new Take(run.motion, tables);
    this.group = new THREE.Group();
    this.links = run.motion.links.map(() => new THREE.Group());
    this.meshes = [];
    for (const mesh of run.meshes) {
      const paint = paintOf(mesh);
      if (!paint) continue;
      const drawn = new THREE.Mesh(shapes.of(mesh), paint);
      drawn.receiveShadow = !paint.transparent;
      drawn.castShadow = !paint.transparent && mesh.places === undefined;
      drawn.frustumCulled = false;
      drawn.userData.isGrass = mesh.places !== undefined;
      this.meshes.push(drawn);
      this.links[run.motion.links.indexOf(mesh.link)].add(drawn);
    }
    this.group.add(...this.links);
  }

  /** Puts every link where it is at a time. */
  put(time) {
    this.take.at(time);
    const { pose } = this.take;
    this.links.forEach((link, k) => {
      link.position.fromArray(pose, PARTS * k);
      link.quaternion.fromArray(pose, PARTS * k + 3);
    });
  }
}
