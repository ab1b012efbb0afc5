// Materials: the machine's own colours, grass, and what ghosts are made of.
/* global THREE */

export const GHOSTS = ["#7a2e69", "#0f7f86", "#c2670a", "#5b6470"]; // of the runs, as in page.css

/** Materials that all runs share. */
export class Paints {
  constructor(looks, tile, isSlow) {
    this.solid = new THREE.MeshPhongMaterial({
      vertexColors: true, specular: 0x1c1c1c, shininess: 40,
    });
    this.grass = grassOf(looks, tile, isSlow ? 1 : 4);
    this.plain = new THREE.MeshLambertMaterial({ color: 0x8d9488 });
    this.ghosts = GHOSTS.map((colour) => new THREE.MeshLambertMaterial({
      color: colour, transparent: true, opacity: 0.5, emissive: colour, emissiveIntensity: 0.25,
    }));
  }
}

/** Grass as the film has it: blades, broad patches, mown stripes, worn to the earth where bare. */
function grassOf({ lawn }, tile, sharpness) {
  const map = new THREE.Texture(tile);
  map.wrapS = map.wrapT = THREE.RepeatWrapping;
  map.colorSpace = THREE.SRGBColorSpace;
  map.anisotropy = sharpness;
  map.repeat.set(lawn.tile, lawn.tile);
  map.needsUpdate = true;
  const paint = new THREE.MeshLambertMaterial({ map });
  paint.onBeforeCompile = (shader) => {
    shader.vertexShader = shader.vertexShader
      .replace("#include <common>", "#include <common>\nattribute float bare;\nvarying float vBare;")
      .replace("#include <begin_vertex>", "#include <begin_vertex>\nvBare = bare;");
    shader.fragmentShader = shader.fragmentShader
      .replace("#include <common>", "#include <common>\nvarying float vBare;")
      .replace("#include <map_fragment>", groundShade(lawn));
  };
  return paint;
}

function groundShade({ broad, mown, tile, earth, lush }) {
  const number = (value) => value.toFixed(5);
  return `
    vec3 blade = texture2D(map, vMapUv).rgb;
    vec2 wide = mat2(0.8, -0.6, 0.6, 0.8) * vMapUv / ${number(broad)};
    float patchy = 0.45 + 1.1 * texture2D(map, wide, 2.0).g / ${number(lush)};
    float stripe = vMapUv.y / ${number(mown * tile)};
    float within = fract(stripe);
    float edge = 0.06 * min(10.0 * min(within, 1.0 - within), 1.0);
    blade *= patchy * (1.0 + (mod(floor(stripe), 2.0) < 0.5 ? -edge : edge));
    vec3 soil = vec3(${earth.map(number).join(", ")}) * (0.35 + 3.2 * blade.g);
    diffuseColor.rgb = mix(blade, soil, clamp(vBare, 0.0, 1.0));`;
}
