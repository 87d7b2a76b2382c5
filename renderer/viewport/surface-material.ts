import {
  Color,
  DataTexture,
  DoubleSide,
  FloatType,
  GLSL3,
  NearestFilter,
  RawShaderMaterial,
  RGBAFormat,
  Vector3,
  Vector4,
  type Texture,
} from 'three';
import { STYLE_TEXELS_PER_ROW } from './style-texture.ts';
import { TRIANGLE_STYLE } from './triangle-style.ts';
import type { ViewportTheme } from './viewport-theme.ts';

/**
 * GLSL shared by surface and lines: the style byte of a triangle, and model units to the unit sphere around the
 * part. Subtracting the centre first keeps parts that lie far from the origin steady.
 */
export const STYLE_GLSL = /* glsl */ `
uniform highp usampler2D styles;
uniform vec3 centre;
uniform float perRadius;
uniform highp uint shownBits;
uint styleOf(uint triangle) {
  uint texel = triangle >> 2u;
  uvec4 four = texelFetch(styles, ivec2(int(texel % ${STYLE_TEXELS_PER_ROW}u), int(texel / ${STYLE_TEXELS_PER_ROW}u)), 0);
  return four[triangle & 3u] & shownBits;
}
vec3 toScene(vec3 model) { return (model - centre) * perRadius; }
`;

const VERTEX = /* glsl */ `
precision highp float;
uniform mat4 projectionMatrix;
uniform mat4 viewMatrix;
in vec3 position;
out vec3 scenePoint;
flat out uint style;
${STYLE_GLSL}
void main() {
  style = styleOf(uint(gl_VertexID) / 3u);
  scenePoint = toScene(position);
  gl_Position = projectionMatrix * viewMatrix * vec4(scenePoint, 1.0);
}
`;

/**
 * Flat normals come from screen derivatives, so no normal is stored. Patterns are fixed to the part and keep a
 * pitch of 10 to 20 px at any zoom by doubling or halving with it. The hatch cuts space into slanted layers, so it
 * runs over corners without a seam; dots, diamonds and cross-hatch lie in the axis plane nearest to the surface.
 */
const FRAGMENT = /* glsl */ `
precision highp float;
in vec3 scenePoint;
flat in uint style;
uniform mat4 viewMatrix;
uniform vec3 coat, mask, maskInk, contact, contactInk, showInk, findingInk, selectedColour;
uniform vec3 gas, gasInk, liquid, liquidInk, dry, dryInk, edgeInk, upward;
// What lies above it is not in the bath: direction and height.
uniform vec4 level;
uniform float patternFrequency;
uniform float pixelsPerScene;
uniform float flatness;
uniform float selectedTint;
uniform highp sampler2D patches;
uniform int patchCount;
out vec4 colour;

float line(float along, float share) {
  float width = 0.7 * length(vec2(dFdx(along), dFdy(along)));
  float away = abs(fract(along) - 0.5);
  float sharp = 1.0 - smoothstep(0.5 * share - width, 0.5 * share + width, away);
  return mix(sharp, share, smoothstep(0.35, 0.8, width));
}

vec2 acrossNearestAxis(vec3 p, vec3 n) {
  vec3 a = abs(n);
  if (a.z >= a.x && a.z >= a.y) return p.xy;
  return a.y >= a.x ? p.xz : p.yz;
}

float spot(vec2 at, float radius, bool diamond) {
  vec2 cell = fract(at) - 0.5;
  float away = diamond ? abs(cell.x) + abs(cell.y) : length(cell);
  float width = 0.7 * max(length(dFdx(at)), length(dFdy(at)));
  float sharp = 1.0 - smoothstep(radius - width, radius + width + 1e-6, away);
  float share = diamond ? 2.0 * radius * radius : 3.1416 * radius * radius;
  return mix(sharp, share, smoothstep(0.45, 0.9, width));
}

void main() {
  vec3 n = normalize(cross(dFdx(scenePoint), dFdy(scenePoint)));
  vec3 seen = normalize((viewMatrix * vec4(n, 0.0)).xyz);
  if (seen.z < 0.0) { seen = -seen; n = -n; }

  vec3 p = scenePoint * patternFrequency;
  vec2 plane = acrossNearestAxis(p, n);
  bool masked = (style & ${TRIANGLE_STYLE.mask}u) != 0u;
  bool bare = (style & ${TRIANGLE_STYLE.contact}u) != 0u;
  bool show = (style & ${TRIANGLE_STYLE.show}u) != 0u;
  bool selected = (style & ${TRIANGLE_STYLE.selected}u) != 0u;
  bool hovered = (style & ${TRIANGLE_STYLE.hovered}u) != 0u;
  bool gassed = (style & ${TRIANGLE_STYLE.gas}u) != 0u;
  bool wetted = (style & ${TRIANGLE_STYLE.liquid}u) != 0u;
  bool found = (style & ${TRIANGLE_STYLE.finding}u) != 0u;

  // Derivatives are taken outside of branches, where they are defined.
  vec3 slant = vec3(1.0, 1.0, 1.0);
  if (abs(dot(n, slant)) > 1.62) slant = vec3(1.0, -1.0, 1.0);
  float hatch = line(dot(p, slant) * 0.7071, 0.24);
  float dots = spot(plane * 0.9, 0.24, false);
  float diamonds = spot(plane * 0.5, 0.21, true);
  float crossed = max(line(plane.x + plane.y, 0.13), line(plane.x - plane.y, 0.13));

  vec2 cell = fract(plane * 0.7) - 0.5;
  float bubbleEdge = 0.8 * max(length(dFdx(plane)), length(dFdy(plane)));
  float bubbles = 1.0 - smoothstep(0.07, 0.07 + bubbleEdge, abs(length(cell) - 0.27));
  // Level lines, as liquid lies.
  float waves = line(dot(p, upward) * 1.1, 0.3);

  // Lines that stand upright, along the one of two level ways that the surface runs along.
  vec3 wayA = normalize(cross(upward, abs(upward.z) < 0.9 ? vec3(0.0, 0.0, 1.0) : vec3(1.0, 0.0, 0.0)));
  vec3 wayB = cross(upward, wayA);
  float upright = line(dot(p, abs(dot(n, wayA)) < abs(dot(n, wayB)) ? wayA : wayB) * 0.7, 0.13);
  float over = dot(scenePoint, level.xyz) - level.w;
  float overPx = over / max(length(vec2(dFdx(over), dFdy(over))), 1e-9);

  vec3 base = coat;
  if (over > 0.0) base = mix(dry, dryInk, upright);
  if (bare) base = mix(contact, contactInk, dots);
  if (masked) base = mix(mask, maskInk, hatch);
  if (show) base = mix(base, showInk, diamonds * 0.9);
  if (gassed) base = mix(gas, gasInk, bubbles);
  if (wetted) base = mix(liquid, liquidInk, waves);
  if (found) base = mix(base, findingInk, crossed * 0.9);

  // Patches of bare metal under the contacts: dots inside, a ring at the true radius.
  float ring = 0.0;
  for (int i = 0; i < patchCount; i++) {
    vec4 patchAt = texelFetch(patches, ivec2(0, i), 0);
    vec4 patchUp = texelFetch(patches, ivec2(1, i), 0);
    vec3 apart = scenePoint - patchAt.xyz;
    if (dot(n, patchUp.xyz) < 0.25) continue;
    float inside = (length(apart) - patchAt.w) * pixelsPerScene;
    if (inside < 0.0) base = mix(contact, contactInk, dots);
    ring = max(ring, 1.0 - smoothstep(patchUp.w - 0.7, patchUp.w + 0.7, abs(inside)));
  }

  if (selected) base = mix(base, selectedColour, selectedTint);
  if (hovered) base = mix(base, vec3(1.0), 0.22);

  // The mark to be made on the part.
  if (dot(level.xyz, level.xyz) > 0.0) base = mix(edgeInk, base, smoothstep(0.9, 1.9, abs(overPx)));

  float key = 0.5 + 0.5 * dot(seen, vec3(-0.36, 0.58, 0.73));
  float sheen = pow(max(dot(seen, vec3(-0.19, 0.31, 0.93)), 0.0), 60.0) * 0.1;
  float light = mix(mix(0.5, 1.08, key * key), 0.86 + 0.14 * key, flatness);
  vec3 lit = base * light + sheen * (1.0 - flatness);
  if (!gl_FrontFacing) lit *= 0.8;
  colour = vec4(mix(lit, contactInk, ring), 1.0);
}
`;

const NO_LEVEL = new Vector4(0, 0, 0, 1);
const SLIGHT_TINT = 0.15;
const FULL_TINT = 0.4;

export interface SurfacePatch {
  /** Scene units: the part's centre is the origin, its bounding sphere has radius 1. */
  readonly at: Vector3;
  readonly normal: Vector3;
  readonly radius: number;
  readonly strong: boolean;
}

function srgb(hex: string): Vector3 {
  const colour = new Color().setStyle(hex, 'srgb-linear');
  return new Vector3(colour.r, colour.g, colour.b);
}

/** Draws the part's triangles. Colours are mixed as sRGB values, without tone mapping, so that a swatch matches the view. */
export class SurfaceMaterial {
  readonly material: RawShaderMaterial;
  #patches: DataTexture;
  #patchValues = new Float32Array(8);

  constructor(styles: Texture, centre: Vector3, radius: number) {
    this.#patches = patchTexture(this.#patchValues, 1);
    this.material = new RawShaderMaterial({
      glslVersion: GLSL3,
      vertexShader: VERTEX,
      fragmentShader: FRAGMENT,
      side: DoubleSide,
      polygonOffset: true,
      polygonOffsetFactor: 1,
      polygonOffsetUnits: 1,
      uniforms: {
        styles: { value: styles },
        centre: { value: centre },
        perRadius: { value: 1 / radius },
        shownBits: { value: 255 },
        coat: { value: new Vector3() },
        mask: { value: new Vector3() },
        maskInk: { value: new Vector3() },
        contact: { value: new Vector3() },
        contactInk: { value: new Vector3() },
        showInk: { value: new Vector3() },
        findingInk: { value: new Vector3() },
        gas: { value: new Vector3() },
        gasInk: { value: new Vector3() },
        liquid: { value: new Vector3() },
        liquidInk: { value: new Vector3() },
        dry: { value: new Vector3() },
        dryInk: { value: new Vector3() },
        edgeInk: { value: new Vector3() },
        level: { value: NO_LEVEL.clone() },
        upward: { value: new Vector3(0, 0, 1) },
        selectedColour: { value: new Vector3() },
        patternFrequency: { value: 1 },
        pixelsPerScene: { value: 1 },
        flatness: { value: 0 },
        selectedTint: { value: FULL_TINT },
        patches: { value: this.#patches },
        patchCount: { value: 0 },
      },
    });
  }

  /** `flatness` 0 shades like a lit part, 1 hardly at all (paper). */
  setTheme(theme: ViewportTheme, flatness: number): void {
    const { uniforms } = this.material;
    uniforms.coat!.value = srgb(theme.coat);
    uniforms.mask!.value = srgb(theme.mask);
    uniforms.maskInk!.value = srgb(theme.maskInk);
    uniforms.contact!.value = srgb(theme.contact);
    uniforms.contactInk!.value = srgb(theme.contactInk);
    uniforms.showInk!.value = srgb(theme.showInk);
    uniforms.findingInk!.value = srgb(theme.findingInk);
    uniforms.gas!.value = srgb(theme.gas);
    uniforms.gasInk!.value = srgb(theme.gasInk);
    uniforms.liquid!.value = srgb(theme.liquid);
    uniforms.liquidInk!.value = srgb(theme.liquidInk);
    uniforms.dry!.value = srgb(theme.dry);
    uniforms.dryInk!.value = srgb(theme.dryInk);
    uniforms.edgeInk!.value = srgb(theme.edge);
    uniforms.selectedColour!.value = srgb(theme.selected);
    uniforms.flatness!.value = flatness;
  }

  setUp(up: readonly [number, number, number]): void {
    (this.material.uniforms.upward!.value as Vector3).set(...up).normalize();
  }

  /** `at` in scene units along the unit vector `normal`; null while all of it is in the bath. */
  setLevel(level: { readonly normal: Vector3; readonly at: number } | null): void {
    const plane = this.material.uniforms.level!.value as Vector4;
    if (level) plane.set(level.normal.x, level.normal.y, level.normal.z, level.at);
    else plane.copy(NO_LEVEL);
  }

  /** Bits of TRIANGLE_STYLE left out of `bits` are not drawn. */
  showBits(bits: number): void {
    this.material.uniforms.shownBits!.value = bits;
  }

  /** A selected face that has an outline needs less tint, and its treatment keeps its hue. */
  setOutlined(outlined: boolean): void {
    this.material.uniforms.selectedTint!.value = outlined ? SLIGHT_TINT : FULL_TINT;
  }

  /** `pixelsPerScene`: CSS pixels in one scene unit; `pitchPx`: smallest pitch of the patterns. */
  setScale(pixelsPerScene: number, pitchPx: number): void {
    const { uniforms } = this.material;
    uniforms.pixelsPerScene!.value = pixelsPerScene;
    uniforms.patternFrequency!.value = 2 ** Math.floor(Math.log2(pixelsPerScene / pitchPx));
  }

  /** Returns whether this changes the picture. */
  setPatches(patches: readonly SurfacePatch[]): boolean {
    const { uniforms } = this.material;
    const rows = Math.max(1, patches.length);
    const values = new Float32Array(rows * 8);
    patches.forEach((patch, i) => {
      values.set([patch.at.x, patch.at.y, patch.at.z, patch.radius], i * 8);
      values.set([patch.normal.x, patch.normal.y, patch.normal.z, patch.strong ? 2.2 : 1.2], i * 8 + 4);
    });
    const shown = this.#patchValues;
    if (uniforms.patchCount!.value === patches.length && values.every((value, i) => value === shown[i])) {
      return false;
    }
    this.#patches.dispose();
    this.#patches = patchTexture(values, rows);
    this.#patchValues = values;
    uniforms.patches!.value = this.#patches;
    uniforms.patchCount!.value = patches.length;
    return true;
  }

  dispose(): void {
    this.#patches.dispose();
    this.material.dispose();
  }
}

function patchTexture(values: Float32Array<ArrayBuffer>, rows: number): DataTexture {
  const texture = new DataTexture(values, 2, rows, RGBAFormat, FloatType);
  texture.internalFormat = 'RGBA32F';
  texture.minFilter = NearestFilter;
  texture.magFilter = NearestFilter;
  texture.needsUpdate = true;
  return texture;
}
