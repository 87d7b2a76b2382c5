import {
  GLSL3,
  InstancedBufferAttribute,
  InstancedBufferGeometry,
  InstancedInterleavedBuffer,
  InterleavedBufferAttribute,
  Mesh,
  RawShaderMaterial,
  BufferAttribute,
  Color,
  Vector2,
  Vector3,
  Vector4,
  type Texture,
} from 'three';
import type { FaceEdges } from '../../core/faces/face-edges.ts';
import { STYLE_GLSL } from './surface-material.ts';
import { triangleNormal } from './triangle-normal.ts';
import { TRIANGLE_STYLE } from './triangle-style.ts';

/** Corner of the quad: x is 0 at the segment's start and 1 at its end, y is −1 or 1 across it. */
const VERTEX = /* glsl */ `
precision highp float;
uniform mat4 projectionMatrix;
uniform mat4 viewMatrix;
uniform vec2 sizePx;
uniform float widthPx;
uniform float depthPerPx;
uniform bool hidesFar;
uniform vec3 edgeColour, selectedColour, findingColour;
in vec2 corner;
in vec3 segmentStart;
in vec3 segmentEnd;
in uvec2 beside;
in vec3 normalBefore, normalAfter;
flat out vec3 tint;
out vec3 scenePoint;
${STYLE_GLSL}
void main() {
  uint first = styleOf(beside.x);
  bool open = beside.y == 0xffffffffu;
  uint second = open ? 0u : styleOf(beside.y);
  uint differ = first ^ second;
  bool outline = (differ & ${TRIANGLE_STYLE.selected}u) != 0u;
  bool near = (differ & ${TRIANGLE_STYLE.hovered}u) != 0u;
  tint = outline ? selectedColour : open ? findingColour : edgeColour;
  float width = widthPx * (outline ? 2.6 : near || open ? 1.9 : 1.0);
  vec3 startPoint = toScene(segmentStart);
  vec3 endPoint = toScene(segmentEnd);
  scenePoint = corner.x < 0.5 ? startPoint : endPoint;
  vec4 a = projectionMatrix * viewMatrix * vec4(startPoint, 1.0);
  vec4 b = projectionMatrix * viewMatrix * vec4(endPoint, 1.0);
  vec2 along = (b.xy - a.xy) * sizePx;
  float reach = length(along);
  vec2 unit = reach > 1e-4 ? along / reach : vec2(1.0, 0.0);
  vec2 across = vec2(-unit.y, unit.x);
  vec4 at = corner.x < 0.5 ? a : b;
  // Towards the eye by about a line's width, so that the surfaces beside do not eat half of it.
  // Half a width beyond each end closes the corners between segments.
  vec2 push = (across * corner.y + unit * (corner.x * 2.0 - 1.0) * 0.9) * width / sizePx;
  gl_Position = vec4(at.xy + push, at.z - depthPerPx * (outline ? 3.0 : 1.5), 1.0);
  // With the part cut open, lines on the far side of the metal would show through the cut.
  if (hidesFar && (viewMatrix * vec4(normalBefore, 0.0)).z < 0.0 && (viewMatrix * vec4(normalAfter, 0.0)).z < 0.0)
    gl_Position = vec4(2.0, 2.0, 2.0, 1.0);
}
`;

const FRAGMENT = /* glsl */ `
precision highp float;
flat in vec3 tint;
in vec3 scenePoint;
uniform vec4 clip;
out vec4 colour;
void main() {
  if (dot(scenePoint, clip.xyz) > clip.w) discard;
  colour = vec4(tint, 1.0);
}
`;

const NORMALS = ['normalBefore', 'normalAfter'] as const;
/** In the place of a second triangle where the surface is open. */
const OPEN = 0xffffffff;

/** Lines between faces as thin quads; the border of a selected face is drawn thicker, by the style bytes on its two sides. */
export class EdgeLines {
  readonly object: Mesh;
  readonly #geometry: InstancedBufferGeometry;
  readonly #material: RawShaderMaterial;
  readonly #beside: Uint32Array;

  constructor(edges: FaceEdges, styles: Texture, centre: Vector3, radius: number) {
    const geometry = new InstancedBufferGeometry();
    geometry.setAttribute('corner', new BufferAttribute(new Float32Array([0, -1, 1, -1, 1, 1, 0, 1]), 2));
    geometry.setIndex([0, 1, 2, 0, 2, 3]);
    const segments = new InstancedInterleavedBuffer(edges.segments, 6);
    geometry.setAttribute('segmentStart', new InterleavedBufferAttribute(segments, 3, 0));
    geometry.setAttribute('segmentEnd', new InterleavedBufferAttribute(segments, 3, 3));
    const beside = new InstancedBufferAttribute(edges.triangles, 2);
    geometry.setAttribute('beside', beside);
    geometry.instanceCount = edges.triangles.length / 2;
    this.#geometry = geometry;
    this.#beside = edges.triangles;
    this.#material = new RawShaderMaterial({
      glslVersion: GLSL3,
      vertexShader: VERTEX,
      fragmentShader: FRAGMENT,
      uniforms: {
        styles: { value: styles },
        centre: { value: centre },
        perRadius: { value: 1 / radius },
        shownBits: { value: 255 },
        sizePx: { value: new Vector2(1, 1) },
        widthPx: { value: 1.2 },
        depthPerPx: { value: 0 },
        hidesFar: { value: false },
        edgeColour: { value: new Vector3() },
        selectedColour: { value: new Vector3() },
        findingColour: { value: new Vector3() },
        clip: { value: new Vector4(0, 0, 0, 1) },
      },
    });
    this.object = new Mesh(geometry, this.#material);
    this.object.frustumCulled = false;
    this.object.renderOrder = 1;
  }

  setColours(edge: string, selected: string, finding: string): void {
    const { uniforms } = this.#material;
    const set = (name: string, hex: string): void => {
      const colour = new Color().setStyle(hex, 'srgb-linear');
      (uniforms[name]!.value as Vector3).set(colour.r, colour.g, colour.b);
    };
    set('edgeColour', edge);
    set('selectedColour', selected);
    set('findingColour', finding);
  }

  /**
   * Scene units: what lies beyond the plane is not drawn, nor lines on the far side of the metal; null draws everything.
   * @param positions the part's triangles
   */
  setClip(clip: { readonly normal: Vector3; readonly at: number } | null, positions: Float32Array): void {
    if (clip) this.#addNormals(positions);
    this.#material.uniforms.hidesFar!.value = clip !== null;
    const plane = this.#material.uniforms.clip!.value as Vector4;
    if (clip) plane.set(clip.normal.x, clip.normal.y, clip.normal.z, clip.at);
    else plane.set(0, 0, 0, 1);
  }

  #addNormals(positions: Float32Array): void {
    if (this.#geometry.hasAttribute(NORMALS[0])) return;
    const count = this.#beside.length / 2;
    NORMALS.forEach((name, side) => {
      const normals = new Float32Array(3 * count);
      for (let i = 0; i < count; i++) {
        const other = this.#beside[2 * i + side]!;
        normals.set(triangleNormal(positions, other === OPEN ? this.#beside[2 * i]! : other), 3 * i);
      }
      this.#geometry.setAttribute(name, new InstancedBufferAttribute(normals, 3));
    });
  }

  /** Bits of TRIANGLE_STYLE left out of `bits` are not drawn. */
  showBits(bits: number): void {
    this.#material.uniforms.shownBits!.value = bits;
  }

  /** Size of the picture and width of a plain line in CSS pixels; `depthPerPx`: clip depth in one CSS pixel. */
  setScale(widthPx: number, heightPx: number, linePx: number, depthPerPx: number): void {
    (this.#material.uniforms.sizePx!.value as Vector2).set(widthPx, heightPx);
    this.#material.uniforms.widthPx!.value = linePx;
    this.#material.uniforms.depthPerPx!.value = depthPerPx;
  }

  dispose(): void {
    this.#geometry.dispose();
    this.#material.dispose();
  }
}
