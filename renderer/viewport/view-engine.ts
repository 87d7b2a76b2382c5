import { Vector3, type OrthographicCamera } from 'three';
import type { FaceEdges } from '../../core/faces/face-edges.ts';
import type { PartGeometry } from '../../core/mesh/part-geometry.ts';
import type { SerializedPickIndex } from '../worker/jobs.ts';
import { clipToPart } from './camera-rig.ts';
import type { CanvasSurroundings } from './engine-canvas.tsx';
import { CameraStand } from './camera-stand.ts';
import { MarkLayer } from './mark-layer.ts';
import { PAPER_PITCH_PX, PartScene } from './part-scene.ts';
import { PinLayer } from './pin-layer.ts';
import { layoutPins, PIN_BADGE_PX, PIN_FOOT_PX, type PinSpot } from './pin-layout.ts';
import { listenToPointer } from './pointer-input.ts';
import { composePicture, drawScene } from './snapshot.ts';
import { SurfacePicker } from './surface-picker.ts';
import type { SurfacePatch } from './surface-material.ts';
import { triangleNormal } from './triangle-normal.ts';
import type {
  Point3,
  SnapshotRequest,
  SurfaceHit,
  SurfacePick,
  ViewportClip,
  ViewportLevel,
  ViewportMark,
  ViewportPin,
  ViewportScalar,
} from './viewport-props.ts';
import type { ViewportTheme } from './viewport-theme.ts';

interface ViewSurroundings extends CanvasSurroundings {
  /** Holds canvas and overlays. */
  readonly stage: HTMLElement;
  readonly pinSvg: SVGSVGElement;
  /** After each frame: what scale bar and axes should show. */
  onFrame(view: { readonly modelUnitsPerPixel: number | null; readonly camera: OrthographicCamera }): void;
}

export interface ViewEvents {
  onPick?: ((pick: SurfacePick) => void) | undefined;
  onMiss?: (() => void) | undefined;
  onHover?: ((triangle: number | null) => void) | undefined;
  onHoverAt?: ((hit: SurfaceHit | null) => void) | undefined;
  onPinPick?: ((id: string) => void) | undefined;
  onPinMoved?: ((id: string, to: SurfaceHit) => void) | undefined;
}

/** A picture's height in layout pixels: pins, lines and patterns keep their share of the picture at any resolution. */
const PICTURE_LAYOUT_PX = 560;

/**
 * The 3D view behind its React shell: owns what is on the GPU, the camera, picking and pins, and draws only when
 * asked. Everything it holds is freed by dispose().
 */
export class ViewEngine extends CameraStand {
  #events: ViewEvents = {};
  readonly #around: ViewSurroundings;
  readonly #pinLayer: PinLayer;
  readonly #markLayer: MarkLayer;
  readonly #stopListening: () => void;
  #part: PartScene | null = null;
  #geometry: PartGeometry | null = null;
  #partKey: string | undefined;
  #picker: SurfacePicker | null = null;
  #theme: ViewportTheme | null = null;
  #pins: readonly ViewportPin[] = [];
  #dragged: { readonly id: string; readonly to: SurfaceHit } | null = null;
  #preview: SurfaceHit | null = null;
  #hovered: number | null = null;
  #waitingPick: { origin: Vector3; direction: Vector3; intent: SurfacePick['intent'] } | null = null;
  #mode: 'select' | 'place-pin' = 'select';
  #newPinPatchRadius: number | undefined;
  #up: Point3 = [0, 0, 1];

  constructor(around: ViewSurroundings) {
    super(around.camera, around.canvas, around.redraw);
    this.#around = around;
    this.#pinLayer = new PinLayer(around.pinSvg, {
      onPick: (id) => this.#events.onPinPick?.(id),
      onDrag: (id, x, y) => this.#dragPin(id, x, y),
      onDrop: () => this.#dropPin(),
      onDragCancelled: () => this.#cancelDrag(),
    });
    this.#markLayer = new MarkLayer(around.pinSvg);
    this.#stopListening = listenToPointer(around.canvas, around.stage, {
      onClick: (x, y, intent) => this.#click(x, y, intent),
      onHover: (x, y) => this.#hover(x, y),
      onLeave: () => this.#leave(),
      onGrab: () => this.#settlePivot(),
      onWheel: (factor, x, y) => this.zoomBy(factor, x - this.widthPx / 2, this.heightPx / 2 - y),
    });
  }

  setEvents(events: ViewEvents): void {
    this.#events = events;
  }

  /** A new mesh of the part shown before, by its key, is seen from where that was. */
  setPart(geometry: PartGeometry | null, partKey?: string): void {
    const isSame = partKey !== undefined && partKey === this.#partKey && this.#geometry !== null;
    this.#partKey = partKey;
    if (geometry?.positions !== this.#geometry?.positions) {
      this.#part?.dispose();
      this.#part = null;
      this.#picker = null;
      this.#waitingPick = null;
      this.#dragged = null;
      this.#preview = null;
      this.#hovered = null;
      if (geometry && geometry.triangleCount > 0) {
        this.#part = new PartScene(geometry);
        if (this.#theme) this.#part.setTheme(this.#theme);
        this.#part.setUp(this.#up);
        this.#around.scene.add(this.#part.object);
        this.rig.setPart(this.#part.halfSize);
        if (!isSame) {
          this.rig.look('corner');
          this.fitted = true;
        } else if (this.fitted) this.rig.fit();
      }
    }
    this.#geometry = geometry;
    this.redraw();
  }

  setEdges(edges: FaceEdges | null): void {
    this.#part?.setEdges(edges);
    this.redraw();
  }

  setScalar(scalar: ViewportScalar | null): void {
    this.#part?.setScalar(scalar);
    this.redraw();
  }

  setClip(clip: ViewportClip | null): void {
    this.#part?.setClip(clip);
    this.redraw();
  }

  setLevel(level: ViewportLevel | null): void {
    this.#part?.setLevel(level);
    this.redraw();
  }

  setPickIndex(index: SerializedPickIndex | null): void {
    this.#picker =
      index && this.#geometry && this.#part ? new SurfacePicker(this.#geometry.positions, index) : null;
    const waiting = this.#waitingPick;
    if (this.#picker && waiting) {
      this.#waitingPick = null;
      this.#tellPick(this.#picker.hit(waiting.origin, waiting.direction), waiting.intent);
    }
    // Only what lies over the picture asks the tree: which pins are on the far side.
    this.#placeOver();
  }

  setStyles(styles: Uint8Array): void {
    // A part and its styles may arrive one render apart.
    if (!this.#part || styles.length !== this.#geometry?.triangleCount) return;
    if (this.#part.setStyles(styles) > 0) this.redraw();
  }

  setPins(pins: readonly ViewportPin[]): void {
    this.#pins = pins;
    this.#pinLayer.setPins(pins);
    this.#updatePatches();
  }

  setMarks(marks: readonly ViewportMark[]): void {
    this.#markLayer.setMarks(marks);
    this.#placeOver();
  }

  /** `newPinPatchRadius` (model units) draws the patch under the pointer while a pin is placed. */
  setMode(mode: 'select' | 'place-pin', newPinPatchRadius: number | undefined): void {
    this.#mode = mode;
    this.#newPinPatchRadius = newPinPatchRadius;
    if (mode === 'select') this.#preview = null;
    this.#updatePatches();
  }

  setTheme(theme: ViewportTheme): void {
    this.#theme = theme;
    this.#part?.setTheme(theme);
    this.redraw();
  }

  setUp(up: Point3): void {
    this.#up = up;
    this.rig.setUp(up);
    this.#part?.setUp(up);
    this.look('corner');
  }

  /** Called before each frame is drawn. */
  frame(): void {
    const { camera } = this.#around;
    this.rig.clip();
    camera.updateMatrixWorld();
    const part = this.#part;
    part?.setScale(camera, this.widthPx, this.heightPx);
    this.#around.onFrame({ modelUnitsPerPixel: part ? part.radius / camera.zoom : null, camera });
    this.#placeOver();
  }

  /** Pins and marks go to their places over the picture, as the camera stands. */
  #placeOver(): void {
    const part = this.#part;
    const { camera } = this.#around;
    if (!part) return;
    const spots = this.#pins.map((pin) => this.#spot(part, pin));
    const placed = layoutPins(spots, camera, this.widthPx, this.heightPx);
    const taken = placed.flatMap(({ x, y, badgeX, badgeY }) => [
      { x, y, radiusPx: PIN_FOOT_PX },
      { x: badgeX, y: badgeY, radiusPx: PIN_BADGE_PX },
    ]);
    this.#markLayer.place((at) => part.toScene(at), camera, this.widthPx, this.heightPx, taken);
    this.#pins.forEach((pin, i) => {
      this.#pinLayer.place(pin.id, placed[i]!, this.#isHidden(part, spots[i]!, camera));
    });
  }

  snapshot(request: SnapshotRequest): string | null {
    const part = this.#part;
    const { gl, scene, camera } = this.#around;
    if (!part || gl.getContext().isContextLost()) return null;
    const widthPx = Math.max(16, Math.round(request.widthPx));
    const heightPx = Math.max(16, Math.round(request.heightPx));
    const scale = heightPx / PICTURE_LAYOUT_PX;
    const layoutWidth = widthPx / scale;
    const shot = camera.clone();
    if (request.view) {
      if (request.view === 'as-turned') this.rig.recentre(shot);
      else this.rig.poseFor(request.view, shot);
      shot.zoom = this.rig.fitZoom(shot, layoutWidth, PICTURE_LAYOUT_PX, 64);
    } else {
      // The same excerpt as on screen, whichever way the picture is longer.
      shot.zoom = camera.zoom * Math.min(layoutWidth / this.widthPx, PICTURE_LAYOUT_PX / this.heightPx);
    }
    shot.left = -layoutWidth / 2;
    shot.right = layoutWidth / 2;
    shot.top = PICTURE_LAYOUT_PX / 2;
    shot.bottom = -PICTURE_LAYOUT_PX / 2;
    clipToPart(shot);
    shot.updateProjectionMatrix();
    shot.updateMatrixWorld();
    const spots = this.#pins.map((pin) => this.#spot(part, pin));
    part.setScale(shot, layoutWidth, PICTURE_LAYOUT_PX, PAPER_PITCH_PX);
    part.setPatches(this.#pins.map((pin, i) => this.#patch(part, pin, spots[i]!, false)));
    let image: ImageData | undefined;
    const draw = (): void => {
      image = drawScene(gl, scene, shot, widthPx, heightPx);
    };
    if (request.scalar) part.asMap(request.scalar, draw);
    else part.asOnPaper(draw);
    this.#updatePatches();
    this.redraw();
    const placed = layoutPins(spots, shot, layoutWidth, PICTURE_LAYOUT_PX);
    const pins = this.#pins.map((pin, i) => ({
      number: pin.number,
      level: pin.level,
      place: placed[i]!,
      hidden: this.#isHidden(part, spots[i]!, shot),
    }));
    return composePicture(image!, request.background, request.scalar ? [] : pins, scale);
  }

  dispose(): void {
    this.#stopListening();
    this.#pinLayer.clear();
    this.#markLayer.setMarks([]);
    this.#part?.dispose();
    this.#part = null;
    this.rig.dispose();
  }

  #spot(part: PartScene, pin: ViewportPin): PinSpot {
    const moved = this.#dragged?.id === pin.id ? this.#dragged.to : null;
    const at = part.toScene(moved?.point ?? pin.at);
    const { positions, triangleCount } = this.#geometry!;
    const normal = moved
      ? moved.normal
      : pin.triangle >= 0 && pin.triangle < triangleCount
        ? triangleNormal(positions, pin.triangle)
        : ([0, 0, 1] as const);
    return { at, normal: new Vector3(...normal) };
  }

  #patch(part: PartScene, pin: ViewportPin, spot: PinSpot, strong: boolean): SurfacePatch {
    return { at: spot.at, normal: spot.normal, radius: pin.patchRadius / part.radius, strong };
  }

  #updatePatches(): void {
    const part = this.#part;
    if (!part) return;
    const patches = this.#pins.map((pin) => this.#patch(part, pin, this.#spot(part, pin), pin.selected));
    if (this.#mode === 'place-pin' && this.#preview && this.#newPinPatchRadius !== undefined) {
      patches.push({
        at: part.toScene(this.#preview.point),
        normal: new Vector3(...this.#preview.normal),
        radius: this.#newPinPatchRadius / part.radius,
        strong: true,
      });
    }
    // A picture that stays as it is need not be drawn again to write another number beside it.
    if (part.setPatches(patches)) this.redraw();
    else this.#placeOver();
  }

  #isHidden(part: PartScene, spot: PinSpot, camera: OrthographicCamera): boolean {
    const toEye = camera.getWorldDirection(new Vector3()).negate();
    if (!this.#picker) return spot.normal.dot(toEye) < 0;
    return this.#picker.isCovered(part.toModel(spot.at), toEye, part.radius * 2e-3);
  }

  /** The line of sight through a place of the window (CSS pixels from the top left), model units. */
  #sight(xPx: number, yPx: number): { origin: Vector3; direction: Vector3 } | null {
    if (!this.#part) return null;
    const { origin, direction } = this.sight(xPx, yPx);
    return { origin: this.#part.toModel(origin), direction };
  }

  #hitAt(xPx: number, yPx: number): SurfaceHit | null {
    const sight = this.#sight(xPx, yPx);
    return sight ? this.#hitAlong(sight.origin, sight.direction) : null;
  }

  /** First surface that is shown; null where the section shows cut metal. */
  #hitAlong(origin: Vector3, direction: Vector3): SurfaceHit | null {
    const part = this.#part;
    if (!part || !this.#picker) return null;
    let from = origin;
    for (;;) {
      const hit = this.#picker.hit(from, direction);
      if (!hit || !part.isCut(part.toScene(hit.point))) {
        const inside = hit !== null && from !== origin && direction.dot(new Vector3(...hit.normal)) > 0;
        return inside ? null : hit;
      }
      from = new Vector3(...hit.point).addScaledVector(direction, part.radius * 1e-5);
    }
  }

  #click(xPx: number, yPx: number, intent: SurfacePick['intent']): void {
    const sight = this.#sight(xPx, yPx);
    if (!sight) return;
    if (!this.#picker) {
      this.#waitingPick = { ...sight, intent };
      return;
    }
    this.#tellPick(this.#hitAlong(sight.origin, sight.direction), intent);
  }

  #tellPick(hit: SurfaceHit | null, intent: SurfacePick['intent']): void {
    if (hit) this.#events.onPick?.({ ...hit, intent });
    else this.#events.onMiss?.();
  }

  #hover(xPx: number, yPx: number): void {
    if (!this.#picker) return;
    const hit = this.#hitAt(xPx, yPx);
    this.#tellHover(hit?.triangle ?? null);
    this.#events.onHoverAt?.(hit);
    if (this.#mode === 'place-pin' || this.#preview) {
      this.#preview = this.#mode === 'place-pin' ? hit : null;
      this.#updatePatches();
    }
  }

  #leave(): void {
    this.#tellHover(null);
    this.#events.onHoverAt?.(null);
    if (this.#preview) {
      this.#preview = null;
      this.#updatePatches();
    }
  }

  #tellHover(triangle: number | null): void {
    if (triangle === this.#hovered) return;
    this.#hovered = triangle;
    this.#events.onHover?.(triangle);
  }

  #settlePivot(): void {
    const hit = this.#hitAt(this.widthPx / 2, this.heightPx / 2);
    if (!hit || !this.#part) return;
    const fitted = this.fitted;
    this.rig.pivotAtDepthOf(this.#part.toScene(hit.point));
    this.fitted = fitted;
  }

  #dragPin(id: string, xPx: number, yPx: number): void {
    const to = this.#hitAt(xPx, yPx);
    if (!to) return;
    this.#dragged = { id, to };
    this.#updatePatches();
  }

  #dropPin(): void {
    const dragged = this.#dragged;
    this.#dragged = null;
    if (dragged) this.#events.onPinMoved?.(dragged.id, dragged.to);
    this.#updatePatches();
  }

  #cancelDrag(): void {
    this.#dragged = null;
    this.#updatePatches();
  }
}
