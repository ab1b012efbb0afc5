// Sun, sky and the way light becomes a screen's colour: the film's own numbers.
/* global THREE */

/** Highlights roll off as in the film; set once, before anything is drawn. */
export function useFilmTones() {
  const own = `vec3 CustomToneMapping(vec3 color) {
    vec3 light = 0.92 * color;
    return light * (1.0 + 0.12 * light) / (1.0 + 0.55 * light);
  }`;
  const chunk = THREE.ShaderChunk.tonemapping_pars_fragment;
  THREE.ShaderChunk.tonemapping_pars_fragment = chunk.replace(
    "vec3 CustomToneMapping( vec3 color ) { return color; }", own);
}

function colourOf(values) {
  return new THREE.Color().setRGB(values[0], values[1], values[2]); // linear, as computed
}

/** Lights of one scene; the sun casts shadows around what it is aimed at. */
export class Lights {
  constructor(scene, looks) {
    const { sun, sky, bounce, reach } = looks.light;
    this.sky = new THREE.HemisphereLight(colourOf(sky), colourOf(bounce), 0.82 * Math.PI);
    this.sky.position.set(0, 0, 1);
    this.sun = new THREE.DirectionalLight(colourOf(sun), Math.PI);
    this.sun.castShadow = true;
    const { shadow } = this.sun;
    shadow.mapSize.set(1024, 1024);
    Object.assign(shadow.camera, {
      left: -reach, right: reach, top: reach, bottom: -reach, near: 1, far: 60,
    });
    shadow.bias = -0.0004;
    shadow.normalBias = 0.012;
    scene.add(this.sky, this.sun, this.sun.target);
  }

  /** The sun's light from a bearing and a height [rad], around a place (x, y, z). */
  aim(x, y, z, bearing, height) {
    const away = 25;
    this.sun.target.position.set(x, y, z);
    this.sun.position.set(
      x + away * Math.cos(bearing) * Math.cos(height),
      y + away * Math.sin(bearing) * Math.cos(height),
      z + away * Math.sin(height));
  }

  /** Plain, even light for dark rooms and projectors, or the day's. */
  contrast(isHigh) {
    this.sky.intensity = (isHigh ? 1.5 : 0.82) * Math.PI;
  }
}

/** A dome of sky with two rows of hills, light by light as the film's. */
export function skyOf(looks) {
  const [haze, zenith] = looks.sky;
  const group = new THREE.Group();
  group.add(bandOf(haze, zenith, 0, () => Math.PI / 2, 24, 480));
  const far = (b) => 0.03 + 0.012 * Math.sin(3 * b + 0.4) + 0.007 * Math.sin(7 * b + 1.3);
  const near = (b) => 0.013 + 0.006 * Math.sin(5 * b + 2) + 0.004 * Math.sin(11 * b);
  group.add(bandOf(looks.hills[1], looks.hills[1], -0.1, far, 1, 470));
  group.add(bandOf(looks.hills[0], looks.hills[0], -0.1, near, 1, 460));
  return group;
}

/** A ring of sky from one elevation [rad] up to another, around the eye. */
function bandOf(low, high, from, to, steps, radius) {
  const around = 144;
  const points = [];
  const colours = [];
  const corners = [];
  for (let j = 0; j <= steps; j++) {
    for (let i = 0; i <= around; i++) {
      const bearing = (2 * Math.PI * i) / around;
      const elevation = from + (to(bearing) - from) * (j / steps) ** 2;
      const up = Math.sin(elevation);
      points.push(
        radius * Math.cos(bearing) * Math.cos(elevation),
        radius * Math.sin(bearing) * Math.cos(elevation), radius * up);
      const share = Math.min(Math.sqrt(Math.max(up, 0)) * 1.15, 1);
      for (let k = 0; k < 3; k++) colours.push(low[k] + share * (high[k] - low[k]));
      const here = j * (around + 1) + i;
      if (i < around && j < steps) {
        corners.push(here, here + 1, here + around + 1, here + 1, here + around + 2, here + around + 1);
      }
    }
  }
  const shape = new THREE.BufferGeometry();
  shape.setAttribute("position", new THREE.BufferAttribute(new Float32Array(points), 3));
  shape.setAttribute("color", new THREE.BufferAttribute(new Float32Array(colours), 3));
  shape.setIndex(corners);
  const paint = new THREE.MeshBasicMaterial({
    vertexColors: true, side: THREE.BackSide, fog: false, depthWrite: false,
  });
  const mesh = new THREE.Mesh(shape, paint);
  mesh.renderOrder = -1;
  mesh.frustumCulled = false;
  return mesh;
}
