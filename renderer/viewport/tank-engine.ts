import {
  AmbientLight,
  BufferAttribute,
  BufferGeometry,
  DirectionalLight,
  DoubleSide,
  Group,
  LineBasicMaterial,
  LineSegments,
  Matrix4,
  Mesh,
  MeshLambertMaterial,
  Plane,
  Ray,
  Vector3,
} from 'three';
import { BAR_SECTION_M } from '../../core/racking/hanger-clearance.ts';
import { rotate } from '../../core/racking/pose.ts';
import type { Tank } from '../../core/racking/tank.ts';
import { add, length, subtract, type Vec3 } from '../../core/racking/vec3.ts';
import type { CanvasSurroundings } from './engine-canvas.tsx';
import { CameraStand } from './camera-stand.ts';
import { PinLayer } from './pin-layer.ts';
import { labelPlaces } from './label-places.ts';
import { layoutPins, PIN_BADGE_PX } from './pin-layout.ts';
import { SurfacePicker } from './surface-picker.ts';
import type { TankViewCopy, TankViewPart, TankViewProps } from './tank-props.ts';
import { addTankShapes, clear, paint, segments } from './tank-shapes.ts';
import type { ViewportTheme } from './viewport-theme.ts';

interface TankSurroundings extends Omit<CanvasSurroundings, 'gl'> {
  readonly svg: SVGSVGElement;
}

type Shown = Pick<TankViewProps, 'parts' | 'copies' | 'wires' | 'lines' | 'selectedId' | 'theme'>;
type Events = Pick<TankViewProps, 'onSelect' | 'onDrag' | 'onDrop'>;

const SVG = 'http://www.w3.org/2000/svg';
/** From the middle of a label's letters down to the line they stand on. */
const LABEL_BASELINE_PX = 5;
const CLICK_TRAVEL_PX = 4;
/** Of its own length: less of it on the picture is seen end on. */
const END_ON = 0.2;
/** Seen flatter than this a copy is dragged along the picture, not along the level. */
const FLAT_VIEW = 0.2;

/**
 * The tank in 3D: vessel, liquid, sheets, bars, and a copy of a part for each placement, dragged by hand. Children of
 * the world group are in metres in the tank's frame; the camera's sphere of radius 1 holds all of it.
 */
export class TankEngine extends CameraStand {
  readonly #around: TankSurroundings;
  readonly #badges: PinLayer;
  readonly #lineGroup: SVGGElement;
  readonly #world = new Group();
  readonly #fixed = new Group();
  readonly #hung = new Group();
  readonly #partShapes = new Map<string, { positions: Float32Array; shape: BufferGeometry }>();
  readonly #pickers = new Map<string, { index: unknown; picker: SurfacePicker }>();
  #shown: Shown | null = null;
  #events: Events | null = null;
  #drag: { id: string; grab: Vector3; offset: Vec3; now: Vec3; moved: boolean; x: number; y: number } | null =
    null;
  #radius = 1;
  #middle = new Vector3();
  #looked = false;

  constructor(around: TankSurroundings) {
    super(around.camera, around.canvas, around.redraw);
    this.#around = around;
    this.#badges = new PinLayer(around.svg, {
      onPick: (id) => this.#events?.onSelect(id),
      onDrag: (id, x, y) => this.#dragTo(id, x, y),
      onDrop: () => this.#drop(),
      onDragCancelled: () => this.#cancel(),
    });
    this.#lineGroup = document.createElementNS(SVG, 'g');
    around.svg.prepend(this.#lineGroup);
    const sun = new DirectionalLight('#ffffff', 2.2);
    sun.position.set(-0.4, -1, 1.4);
    this.#world.add(this.#fixed, this.#hung);
    around.scene.add(new AmbientLight('#ffffff', 1.5), sun, this.#world);
    around.canvas.addEventListener('pointerdown', this.#down, { capture: true });
    around.canvas.addEventListener('pointermove', this.#move);
    around.canvas.addEventListener('pointerup', this.#up);
    around.canvas.addEventListener('pointercancel', this.#lost);
  }

  setEvents(events: Events): void {
    this.#events = events;
  }

  setTank(tank: Tank, theme: ViewportTheme): void {
    const { vessel } = tank;
    const [length, width] =
      vessel.shape === 'box' ? [vessel.lengthM, vessel.widthM] : [vessel.diameterM, vessel.diameterM];
    const top = Math.max(vessel.heightM, ...tank.bars.map(({ heightM }) => heightM + BAR_SECTION_M));
    const radius = Math.hypot(length, width, top) / 2;
    const changed = !this.#looked || Math.abs(radius - this.#radius) > 1e-9 * radius;
    this.#radius = radius;
    this.#middle.set(0, 0, top / 2);
    this.#world.scale.setScalar(1 / radius);
    this.#world.position.copy(this.#middle).divideScalar(-radius);
    this.rig.setPart(new Vector3(length, width, top).divideScalar(2 * radius));
    clear(this.#fixed);
    addTankShapes(this.#fixed, tank, theme);
    this.#looked = true;
    if (changed) this.look('corner');
    this.redraw();
  }

  show(shown: Shown): void {
    this.#shown = shown;
    this.#badges.setPins(
      shown.copies.map(({ placement, number, level }) => ({
        id: placement.id,
        number,
        level,
        at: placement.pose.offsetM,
        triangle: -1,
        patchRadius: 0,
        selected: placement.id === shown.selectedId,
      })),
    );
    this.#rebuild();
  }

  /** Before each frame: badges and distances follow the camera. */
  frame(): void {
    const { camera } = this.#around;
    this.rig.clip();
    camera.updateMatrixWorld();
    const shown = this.#shown;
    if (!shown) return;
    const spots = shown.copies.map((copy) => ({
      at: this.#toScene(this.#middleOf(copy)),
      normal: new Vector3(0, 0, 1),
    }));
    const placed = layoutPins(spots, camera, this.widthPx, this.heightPx);
    shown.copies.forEach(({ placement }, i) => this.#badges.place(placement.id, placed[i]!, false));
    this.#lineGroup.replaceChildren();
    const lines = shown.lines
      .map((line) => ({
        ...line,
        from: this.#onPicture(line.from),
        to: this.#onPicture(line.to),
        trueM: length(subtract(line.to, line.from)),
      }))
      // Seen end on, a distance is a point; the panel has it.
      .filter(
        ({ from, to, trueM, level }) =>
          level !== 'ok' ||
          Math.hypot(to.x - from.x, to.y - from.y) > (END_ON * trueM * camera.zoom) / this.#radius,
      );
    const badges = placed.map(({ badgeX, badgeY }) => ({ x: badgeX, y: badgeY }));
    const places = labelPlaces(lines, badges, PIN_BADGE_PX);
    lines.forEach(({ from: a, to: b, text, level }, i) => {
      const line = document.createElementNS(SVG, 'line');
      line.setAttribute('class', 'tank-distance');
      line.dataset.level = level;
      for (const [name, value] of [
        ['x1', a.x],
        ['y1', a.y],
        ['x2', b.x],
        ['y2', b.y],
      ] as const) {
        line.setAttribute(name, value.toFixed(1));
      }
      const label = document.createElementNS(SVG, 'text');
      label.setAttribute('class', 'tank-distance-text');
      label.setAttribute('text-anchor', 'middle');
      label.setAttribute('x', places[i]!.x.toFixed(1));
      label.setAttribute('y', (places[i]!.y + LABEL_BASELINE_PX).toFixed(1));
      label.dataset.level = level;
      label.textContent = text;
      this.#lineGroup.append(line, label);
    });
  }

  dispose(): void {
    const { canvas } = this.#around;
    canvas.removeEventListener('pointerdown', this.#down, { capture: true });
    canvas.removeEventListener('pointermove', this.#move);
    canvas.removeEventListener('pointerup', this.#up);
    canvas.removeEventListener('pointercancel', this.#lost);
    this.#badges.clear();
    this.#lineGroup.remove();
    clear(this.#fixed);
    clear(this.#hung);
    for (const { shape } of this.#partShapes.values()) shape.dispose();
    this.#world.removeFromParent();
    this.rig.dispose();
  }

  #rebuild(): void {
    const shown = this.#shown;
    if (!shown) return;
    clear(this.#hung, true);
    const { theme } = shown;
    const colours = {
      ok: new MeshLambertMaterial({ color: paint(theme.coat), flatShading: true, side: DoubleSide }),
      check: new MeshLambertMaterial({ color: paint(theme.mask), flatShading: true, side: DoubleSide }),
      stop: new MeshLambertMaterial({ color: paint(theme.findingInk), flatShading: true, side: DoubleSide }),
    };
    for (const copy of shown.copies) {
      const part = shown.parts[copy.placement.partId];
      if (!part) continue;
      const mesh = new Mesh(this.#shapeOf(copy.placement.partId, part), colours[copy.level]);
      mesh.matrixAutoUpdate = false;
      mesh.matrix.copy(this.#matrixOf(copy, part));
      mesh.frustumCulled = false;
      this.#hung.add(mesh);
    }
    const points = shown.wires.flatMap(({ from, to }) => [...from, ...to]);
    if (points.length > 0 && !this.#drag?.moved) {
      this.#hung.add(new LineSegments(segments(points), new LineBasicMaterial({ color: paint(theme.ink) })));
    }
    this.redraw();
  }

  #shapeOf(partId: string, part: TankViewPart): BufferGeometry {
    const known = this.#partShapes.get(partId);
    if (known?.positions === part.positions) return known.shape;
    known?.shape.dispose();
    const shape = new BufferGeometry();
    shape.setAttribute('position', new BufferAttribute(part.positions, 3));
    this.#partShapes.set(partId, { positions: part.positions, shape });
    return shape;
  }

  #offsetOf({ placement }: TankViewCopy): Vec3 {
    return this.#drag?.id === placement.id ? this.#drag.now : placement.pose.offsetM;
  }

  #middleOf(copy: TankViewCopy): Vec3 {
    const part = this.#shown!.parts[copy.placement.partId];
    const offset = this.#offsetOf(copy);
    return part ? add(rotate(copy.placement.pose.rotation, part.middleM), offset) : offset;
  }

  #matrixOf(copy: TankViewCopy, part: TankViewPart): Matrix4 {
    const r = copy.placement.pose.rotation;
    const s = part.metresPerUnit;
    const [x, y, z] = this.#offsetOf(copy);
    // prettier-ignore
    return new Matrix4().set(
      r[0]! * s, r[1]! * s, r[2]! * s, x,
      r[3]! * s, r[4]! * s, r[5]! * s, y,
      r[6]! * s, r[7]! * s, r[8]! * s, z,
      0, 0, 0, 1,
    );
  }

  #toScene(tank: Vec3): Vector3 {
    return new Vector3(...tank).sub(this.#middle).divideScalar(this.#radius);
  }

  #onPicture(tank: Vec3): { x: number; y: number } {
    const seen = this.#toScene(tank).project(this.#around.camera);
    return { x: ((seen.x + 1) / 2) * this.widthPx, y: ((1 - seen.y) / 2) * this.heightPx };
  }

  /** The line of sight through a place of the picture, metres in the tank. */
  #sight(xPx: number, yPx: number): Ray {
    const { origin, direction } = this.sight(xPx, yPx);
    return new Ray(origin.multiplyScalar(this.#radius).add(this.#middle), direction);
  }

  #copyAt(xPx: number, yPx: number): { copy: TankViewCopy; at: Vector3 } | null {
    const shown = this.#shown;
    if (!shown) return null;
    const sight = this.#sight(xPx, yPx);
    let best: { copy: TankViewCopy; at: Vector3; away: number } | null = null;
    for (const copy of shown.copies) {
      const { partId } = copy.placement;
      const part = shown.parts[partId];
      if (!part?.pickIndex) continue;
      let known = this.#pickers.get(partId);
      if (known?.index !== part.pickIndex) {
        known = { index: part.pickIndex, picker: new SurfacePicker(part.positions, part.pickIndex) };
        this.#pickers.set(partId, known);
      }
      const matrix = this.#matrixOf(copy, part);
      const own = sight.clone().applyMatrix4(matrix.clone().invert());
      const hit = known.picker.hit(own.origin, own.direction.normalize());
      if (!hit) continue;
      const at = new Vector3(...hit.point).applyMatrix4(matrix);
      const away = at.distanceTo(sight.origin);
      if (!best || away < best.away) best = { copy, at, away };
    }
    return best;
  }

  readonly #down = (event: PointerEvent): void => {
    if (event.button !== 0 || !event.isPrimary) return;
    const { x, y } = this.#place(event);
    const found = this.#copyAt(x, y);
    if (!found) {
      this.#events?.onSelect(null);
      return;
    }
    // The orbit's own listener must not see it.
    event.stopImmediatePropagation();
    this.#around.canvas.setPointerCapture(event.pointerId);
    this.#grab(found.copy, found.at, event.clientX, event.clientY);
    this.#events?.onSelect(found.copy.placement.id);
  };

  readonly #move = (event: PointerEvent): void => {
    const drag = this.#drag;
    if (!drag) return;
    if (!drag.moved && Math.hypot(event.clientX - drag.x, event.clientY - drag.y) < CLICK_TRAVEL_PX) return;
    const { x, y } = this.#place(event);
    this.#follow(x, y);
  };

  readonly #up = (): void => this.#drop();
  readonly #lost = (): void => this.#cancel();

  #place(event: PointerEvent): { x: number; y: number } {
    const box = this.#around.canvas.getBoundingClientRect();
    return { x: event.clientX - box.left, y: event.clientY - box.top };
  }

  #grab(copy: TankViewCopy, at: Vector3, x: number, y: number): void {
    const { offsetM } = copy.placement.pose;
    this.#drag = { id: copy.placement.id, grab: at, offset: offsetM, now: offsetM, moved: false, x, y };
  }

  /** A badge is dragged by the middle of its copy. */
  #dragTo(id: string, xPx: number, yPx: number): void {
    if (this.#drag?.id !== id) {
      const copy = this.#shown?.copies.find(({ placement }) => placement.id === id);
      if (!copy) return;
      this.#grab(copy, new Vector3(...this.#middleOf(copy)), 0, 0);
      this.#events?.onSelect(id);
    }
    this.#follow(xPx, yPx);
  }

  #follow(xPx: number, yPx: number): void {
    const drag = this.#drag;
    if (!drag) return;
    const sight = this.#sight(xPx, yPx);
    const flat = Math.abs(sight.direction.z) < FLAT_VIEW;
    const normal = flat
      ? new Vector3(sight.direction.x, sight.direction.y, 0).normalize()
      : new Vector3(0, 0, 1);
    const plane = new Plane().setFromNormalAndCoplanarPoint(normal, drag.grab);
    // The eye may stand behind the plane in a parallel view.
    sight.origin.addScaledVector(sight.direction, -100);
    const at = sight.intersectPlane(plane, new Vector3());
    if (!at) return;
    const shift = at.sub(drag.grab);
    if (!flat) shift.z = 0;
    const wanted: Vec3 = [drag.offset[0] + shift.x, drag.offset[1] + shift.y, drag.offset[2] + shift.z];
    drag.moved = true;
    drag.now = this.#events?.onDrag(drag.id, wanted) ?? wanted;
    this.#rebuild();
  }

  #drop(): void {
    const drag = this.#drag;
    this.#drag = null;
    if (drag?.moved) this.#events?.onDrop(drag.id, drag.now);
    else this.#rebuild();
  }

  #cancel(): void {
    this.#drag = null;
    this.#rebuild();
  }
}
