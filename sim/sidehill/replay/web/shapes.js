// Meshes of the block as geometries; what two runs share is made once.
/* global THREE */

export class Shapes {
  constructor(tables) {
    this.tables = tables;
    this.made = new Map();
  }

  /** The geometry of a mesh; machines carry their colours, grass its place on the ground. */
  of(mesh) {
    const name = JSON.stringify({ ...mesh, link: "" });
    if (!this.made.has(name)) this.made.set(name, this.make(mesh));
    return this.made.get(name);
  }

  make(mesh) {
    const shape = new THREE.BufferGeometry();
    shape.setAttribute("position", this.attribute(mesh.points, 3));
    shape.setAttribute("normal", this.attribute(mesh.normals, 3));
    const corners = this.tables[mesh.triangles].values;
    shape.setIndex(new THREE.BufferAttribute(Uint32Array.from(corners), 1));
    if (mesh.places !== undefined) {
      shape.setAttribute("uv", this.attribute(mesh.places, 2));
      shape.setAttribute("bare", this.attribute(mesh.bare, 1));
    } else {
      shape.setAttribute("color", this.colours(mesh));
    }
    return shape;
  }

  attribute(table, size) {
    return new THREE.BufferAttribute(Float32Array.from(this.tables[table].values), size);
  }

  colours({ colours, skins }) {
    const rows = this.tables[skins].values;
    const all = new Float32Array(3 * rows.length);
    rows.forEach((skin, k) => all.set(colours[skin], 3 * k));
    return new THREE.BufferAttribute(all, 3);
  }
}
