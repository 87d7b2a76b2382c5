import {
  BufferAttribute,
  BufferGeometry,
  Color,
  DataTexture,
  DoubleSide,
  GLSL3,
  LinearFilter,
  Mesh,
  NearestFilter,
  RawShaderMaterial,
  FloatType,
  RGBAFormat,
  Vector3,
  Vector4,
} from 'three';
import { colourRamp, RAMP_STEPS } from './colour-ramp.ts';
import type { ViewportScalar } from './viewport-props.ts';
import type { ViewportTheme } from './viewport-theme.ts';

const VERTEX = /* glsl */ `
precision highp float;
uniform mat4 projectionMatrix;
uniform mat4 viewMatrix;
uniform vec3 centre;
uniform float perRadius;
uniform highp sampler2D values;
in vec3 position;
out vec3 scenePoint;
flat out float value;
flat out float facing;
void main() {
  int piece = gl_VertexID / 3;
  vec4 known = texelFetch(values, ivec2(piece % 1024, piece / 1024), 0);
  value = known.r;
  facing = (viewMatrix * vec4(known.gba, 0.0)).z;
  scenePoint = (position - centre) * perRadius;
  gl_Position = projectionMatrix * viewMatrix * vec4(scenePoint, 1.0);
}
`;

/**
 * Light tells the shape and little more, so that a colour reads the same on every side. Where the section cuts the part
 * open, the inside of the surface shows: painted flat it looks like cut metal. Which side is seen is told by each piece's
 * own normal: a needle turns over on the screen by rounding.
 */
const FRAGMENT = /* glsl */ `
precision highp float;
in vec3 scenePoint;
flat in float value;
flat in float facing;
uniform mat4 viewMatrix;
uniform sampler2D ramp;
uniform vec2 range;
uniform float limit;
uniform vec4 clip;
uniform vec3 bare, bareInk, cut, cutInk, ink;
uniform float patternFrequency;
out vec4 colour;

float line(float along, float share) {
  float width = 0.7 * length(vec2(dFdx(along), dFdy(along)));
  float away = abs(fract(along) - 0.5);
  float sharp = 1.0 - smoothstep(0.5 * share - width, 0.5 * share + width, away);
  return mix(sharp, share, smoothstep(0.35, 0.8, width));
}

void main() {
  vec3 n = normalize(cross(dFdx(scenePoint), dFdy(scenePoint)));
  vec3 seen = normalize((viewMatrix * vec4(n, 0.0)).xyz);
  if (seen.z < 0.0) seen = -seen;
  vec3 p = scenePoint * patternFrequency;
  float hatch = line(dot(p, vec3(0.7071)), 0.24);
  vec2 screen = gl_FragCoord.xy;
  float cutLines = step(0.8, fract((screen.x + screen.y) / 9.0));
  float thinLines = step(0.72, fract((screen.x - screen.y) / 11.0));
  if (dot(scenePoint, clip.xyz) > clip.w) discard;
  if (facing < 0.0 && dot(clip.xyz, clip.xyz) > 0.0) {
    colour = vec4(mix(cut, cutInk, 0.35 * cutLines), 1.0);
    return;
  }
  vec3 base;
  if (value < 0.0) base = mix(bare, bareInk, hatch);
  else {
    float share = clamp((value - range.x) / max(range.y - range.x, 1e-30), 0.0, 1.0);
    base = texture(ramp, vec2((share * ${RAMP_STEPS - 1}.0 + 0.5) / ${RAMP_STEPS}.0, 0.5)).rgb;
    if (value < limit) base = mix(base, ink, 0.75 * thinLines);
  }
  float key = 0.5 + 0.5 * dot(seen, vec3(-0.36, 0.58, 0.73));
  colour = vec4(base * mix(0.82, 1.03, key), 1.0);
}
`;

const NO_CLIP = new Vector4(0, 0, 0, 1);

/** The part's surface coloured by a number on each of its pieces; negative numbers are places without one. */
export class ScalarLayer {
  readonly object: Mesh;
  readonly #geometry = new BufferGeometry();
  readonly #material: RawShaderMaterial;
  readonly #positions: Float32Array;
  readonly #normals: Float32Array;
  #values: DataTexture;
  readonly #ramp: DataTexture;

  constructor(scalar: ViewportScalar, centre: Vector3, radius: number) {
    this.#positions = scalar.positions;
    this.#geometry.setAttribute('position', new BufferAttribute(scalar.positions, 3));
    this.#normals = pieceNormals(scalar.positions);
    this.#values = valueTexture(scalar.values, this.#normals);
    this.#ramp = rampTexture();
    this.#material = new RawShaderMaterial({
      glslVersion: GLSL3,
      vertexShader: VERTEX,
      fragmentShader: FRAGMENT,
      side: DoubleSide,
      polygonOffset: true,
      polygonOffsetFactor: 1,
      polygonOffsetUnits: 1,
      uniforms: {
        centre: { value: centre },
        perRadius: { value: 1 / radius },
        values: { value: this.#values },
        ramp: { value: this.#ramp },
        range: { value: [scalar.low, scalar.high] },
        limit: { value: scalar.limit ?? -1 },
        clip: { value: NO_CLIP.clone() },
        bare: { value: new Vector3() },
        bareInk: { value: new Vector3() },
        cut: { value: new Vector3() },
        cutInk: { value: new Vector3() },
        ink: { value: new Vector3() },
        patternFrequency: { value: 1 },
      },
    });
    this.object = new Mesh(this.#geometry, this.#material);
    this.object.frustumCulled = false;
  }

  /** New numbers on the same pieces; false when the pieces are others, and a new layer is needed. */
  update(scalar: ViewportScalar): boolean {
    if (scalar.positions !== this.#positions) return false;
    const { uniforms } = this.#material;
    this.#values.dispose();
    this.#values = valueTexture(scalar.values, this.#normals);
    uniforms.values!.value = this.#values;
    uniforms.range!.value = [scalar.low, scalar.high];
    uniforms.limit!.value = scalar.limit ?? -1;
    return true;
  }

  /** Scene units: points with dot(point, normal) above `at` are cut away; null shows everything. */
  setClip(clip: { readonly normal: Vector3; readonly at: number } | null): void {
    const plane = this.#material.uniforms.clip!.value as Vector4;
    if (clip) plane.set(clip.normal.x, clip.normal.y, clip.normal.z, clip.at);
    else plane.copy(NO_CLIP);
  }

  setTheme(theme: ViewportTheme): void {
    const { uniforms } = this.#material;
    const set = (name: string, hex: string): void => {
      const { r, g, b } = new Color().setStyle(hex, 'srgb-linear');
      (uniforms[name]!.value as Vector3).set(r, g, b);
    };
    set('bare', theme.mask);
    set('bareInk', theme.maskInk);
    set('cut', theme.contact);
    set('cutInk', theme.contactInk);
    set('ink', '#ffffff');
  }

  setScale(pixelsPerScene: number, pitchPx: number): void {
    this.#material.uniforms.patternFrequency!.value = 2 ** Math.floor(Math.log2(pixelsPerScene / pitchPx));
  }

  dispose(): void {
    this.object.removeFromParent();
    this.#geometry.dispose();
    this.#values.dispose();
    this.#ramp.dispose();
    this.#material.dispose();
  }
}

/** A piece this thin for its length has no normal to rely on and takes its neighbour's. */
const NEEDLE = 1e-4;

/** 3 a piece, of any length. */
function pieceNormals(p: Float32Array): Float32Array {
  const normals = new Float32Array(p.length / 3);
  for (let piece = 0; piece < p.length / 9; piece++) {
    const o = 9 * piece;
    const [ux, uy, uz] = [p[o + 3]! - p[o]!, p[o + 4]! - p[o + 1]!, p[o + 5]! - p[o + 2]!];
    const [vx, vy, vz] = [p[o + 6]! - p[o]!, p[o + 7]! - p[o + 1]!, p[o + 8]! - p[o + 2]!];
    const n = [uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx];
    const size = Math.hypot(...n);
    const isNeedle = !(size > NEEDLE * (ux * ux + uy * uy + uz * uz + vx * vx + vy * vy + vz * vz));
    for (let k = 0; k < 3; k++) {
      normals[3 * piece + k] = isNeedle ? (piece > 0 ? normals[3 * piece - 3 + k]! : 0) : n[k]! / size;
    }
  }
  return normals;
}

function valueTexture(values: Float32Array, normals: Float32Array): DataTexture {
  const rows = Math.max(1, Math.ceil(values.length / 1024));
  const texels = new Float32Array(4 * 1024 * rows);
  for (let piece = 0; piece < values.length; piece++) {
    texels[4 * piece] = values[piece]!;
    for (let k = 0; k < 3; k++) texels[4 * piece + 1 + k] = normals[3 * piece + k]!;
  }
  const texture = new DataTexture(texels, 1024, rows, RGBAFormat, FloatType);
  texture.internalFormat = 'RGBA32F';
  texture.minFilter = NearestFilter;
  texture.magFilter = NearestFilter;
  texture.needsUpdate = true;
  return texture;
}

function rampTexture(): DataTexture {
  const table = colourRamp();
  const bytes = new Uint8Array(4 * RAMP_STEPS).fill(255);
  for (let step = 0; step < RAMP_STEPS; step++) bytes.set(table.subarray(3 * step, 3 * step + 3), 4 * step);
  const texture = new DataTexture(bytes, RAMP_STEPS, 1, RGBAFormat);
  texture.minFilter = LinearFilter;
  texture.magFilter = LinearFilter;
  texture.needsUpdate = true;
  return texture;
}
