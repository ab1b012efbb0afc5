// What the page draws with; nothing else of the library is shipped.
export {
  BackSide, BasicShadowMap, BufferAttribute, BufferGeometry, Color, CustomToneMapping, DirectionalLight, Fog,
  Group, HemisphereLight, Mesh, MeshBasicMaterial, MeshLambertMaterial, MeshPhongMaterial,
  PCFShadowMap, PerspectiveCamera, RepeatWrapping, Scene, ShaderChunk, SRGBColorSpace, Texture,
  Vector3, WebGLRenderer,
} from "three";
