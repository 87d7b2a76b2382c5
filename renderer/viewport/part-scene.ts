import {
  BufferAttribute,
  BufferGeometry,
  Group,
  Mesh,
  Sphere,
  Vector3,
  type OrthographicCamera,
} from 'three';
import type { FaceEdges } from '../../core/faces/face-edges.ts';
import type { PartGeometry } from '../../core/mesh/part-geometry.ts';
import { EdgeLines } from './edge-lines.ts';
import { ScalarLayer } from './scalar-layer.ts';
import { StyleTexture } from './style-texture.ts';
import { SurfaceMaterial, type SurfacePatch } from './surface-material.ts';
import { TRIANGLE_STYLE } from './triangle-style.ts';
import type { ViewportClip, ViewportLevel, ViewportScalar } from './viewport-props.ts';
import { PRINT_THEME, type ViewportTheme } from './viewport-theme.ts';

const PATTERN_PITCH_PX = 9;
/** Finer on paper: a layout pixel is larger there. */
export const PAPER_PITCH_PX = 6;
const EDGE_PX = 1.25;
const NOT_ON_PAPER = TRIANGLE_STYLE.selected | TRIANGLE_STYLE.hovered;

/** One part on the GPU: triangles, style bytes, lines. The positions are the part's own array, not a copy. */
export class PartScene {
  readonly object = new Group();
  readonly centre: Vector3;
  /** Model units in one scene unit. */
  readonly radius: number;
  /** Half the extents, scene units. */
  readonly halfSize: Vector3;
  readonly #geometry = new BufferGeometry();
  readonly #styles: StyleTexture;
  readonly #surface: SurfaceMaterial;
  readonly #positions: Float32Array;
  readonly #base: Mesh;
  #edges: EdgeLines | null = null;
  #map: ScalarLayer | null = null;
  #clip: { readonly normal: Vector3; readonly at: number } | null = null;
  #theme: ViewportTheme = PRINT_THEME;

  constructor(part: PartGeometry) {
    this.#positions = part.positions;
    const min = new Vector3(...part.min);
    const max = new Vector3(...part.max);
    this.centre = min.clone().add(max).multiplyScalar(0.5);
    this.radius = max.distanceTo(min) / 2 || 1;
    this.halfSize = max
      .clone()
      .sub(min)
      .divideScalar(2 * this.radius);
    this.#geometry.setAttribute('position', new BufferAttribute(part.positions, 3));
    this.#geometry.boundingSphere = new Sphere(this.centre.clone(), this.radius);
    this.#styles = new StyleTexture(part.triangleCount);
    this.#surface = new SurfaceMaterial(this.#styles.texture, this.centre, this.radius);
    this.#base = new Mesh(this.#geometry, this.#surface.material);
    this.#base.frustumCulled = false;
    this.object.add(this.#base);
  }

  toScene(model: readonly [number, number, number]): Vector3 {
    return new Vector3(...model).sub(this.centre).divideScalar(this.radius);
  }

  toModel(scene: Vector3): Vector3 {
    return scene.clone().multiplyScalar(this.radius).add(this.centre);
  }

  /** Returns how many rows of the style texture changed; 0 means there is nothing to draw. */
  setStyles(styles: Uint8Array): number {
    return this.#styles.update(styles);
  }

  setEdges(edges: FaceEdges | null): void {
    if (this.#edges) {
      this.object.remove(this.#edges.object);
      this.#edges.dispose();
      this.#edges = null;
    }
    this.#surface.setOutlined(edges !== null && !edges.tooMany);
    if (!edges || edges.triangles.length === 0) return;
    this.#edges = new EdgeLines(edges, this.#styles.texture, this.centre, this.radius);
    this.object.add(this.#edges.object);
    this.#applyClip();
    this.setTheme(this.#theme);
  }

  /** Colours by numbers instead of treatments; null goes back. */
  setScalar(scalar: ViewportScalar | null): void {
    if (!scalar || !this.#map?.update(scalar)) {
      this.#map?.dispose();
      this.#map = scalar ? new ScalarLayer(scalar, this.centre, this.radius) : null;
      if (this.#map) this.object.add(this.#map.object);
    }
    this.#base.visible = this.#map === null;
    this.#map?.setTheme(this.#theme);
    this.#applyClip();
  }

  setClip(clip: ViewportClip | null): void {
    const normal = clip ? new Vector3(...clip.normal) : null;
    this.#clip = clip && normal ? { normal, at: (clip.at - this.centre.dot(normal)) / this.radius } : null;
    this.#applyClip();
  }

  /** What lies above is not in the bath; null while all of it is. */
  setLevel(level: ViewportLevel | null): void {
    const normal = level ? new Vector3(...level.up) : null;
    this.#surface.setLevel(
      level && normal ? { normal, at: (level.at - this.centre.dot(normal)) / this.radius } : null,
    );
  }

  /** Whether a point of the scene is cut away by the section. */
  isCut(scenePoint: Vector3): boolean {
    return this.#map !== null && this.#clip !== null && scenePoint.dot(this.#clip.normal) > this.#clip.at;
  }

  #applyClip(): void {
    const clip = this.#map ? this.#clip : null;
    this.#map?.setClip(clip);
    this.#edges?.setClip(clip, this.#positions);
  }

  setTheme(theme: ViewportTheme): void {
    this.#theme = theme;
    this.#map?.setTheme(theme);
    this.#surface.setTheme(theme, 0);
    this.#edges?.setColours(theme.edge, theme.selected, theme.findingInk);
  }

  /** Liquid is drawn in lines level to this. */
  setUp(up: readonly [number, number, number]): void {
    this.#surface.setUp(up);
  }

  /** Returns whether this changes the picture. */
  setPatches(patches: readonly SurfacePatch[]): boolean {
    return this.#surface.setPatches(patches);
  }

  /** Before each frame: the camera that will draw it and the picture's size in CSS pixels. */
  setScale(camera: OrthographicCamera, widthPx: number, heightPx: number, pitchPx = PATTERN_PITCH_PX): void {
    this.#surface.setScale(camera.zoom, pitchPx);
    this.#map?.setScale(camera.zoom, pitchPx);
    this.#edges?.setScale(widthPx, heightPx, EDGE_PX, 2 / ((camera.far - camera.near) * camera.zoom));
  }

  /** Draws with `render` as for paper, then goes back to the window's look. */
  asOnPaper(render: () => void): void {
    const theme = this.#theme;
    this.#surface.setTheme(PRINT_THEME, 0.55);
    this.#surface.showBits(~NOT_ON_PAPER & 255);
    this.#edges?.setColours(PRINT_THEME.edge, PRINT_THEME.edge, PRINT_THEME.edge);
    this.#edges?.showBits(~NOT_ON_PAPER & 255);
    try {
      render();
    } finally {
      this.#surface.showBits(255);
      this.#edges?.showBits(255);
      this.setTheme(theme);
    }
  }

  /** Draws with `render` as a map of `scalar`, whole, then goes back to what was shown. */
  asMap(scalar: ViewportScalar, render: () => void): void {
    const map = new ScalarLayer(scalar, this.centre, this.radius);
    const shown = this.#map;
    map.setTheme(this.#theme);
    this.object.add(map.object);
    this.#base.visible = false;
    if (shown) shown.object.visible = false;
    this.#edges?.setClip(null, this.#positions);
    this.#edges?.showBits(~NOT_ON_PAPER & 255);
    try {
      render();
    } finally {
      map.dispose();
      if (shown) shown.object.visible = true;
      this.#base.visible = shown === null;
      this.#edges?.showBits(255);
      this.#applyClip();
    }
  }

  dispose(): void {
    this.setEdges(null);
    this.#map?.dispose();
    this.object.removeFromParent();
    this.#geometry.dispose();
    this.#styles.dispose();
    this.#surface.dispose();
  }
}
