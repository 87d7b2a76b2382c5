import { PIN_BADGE_PX, type PlacedPin } from './pin-layout.ts';
import type { ViewportPin } from './viewport-props.ts';

const SVG = 'http://www.w3.org/2000/svg';
/** Pointer travel that turns a click on a pin into a drag. */
const DRAG_PX = 4;

interface PinMarks {
  readonly group: SVGGElement;
  readonly leader: SVGLineElement;
  readonly foot: SVGCircleElement;
  readonly badge: SVGGElement;
}

export interface PinLayerEvents {
  onPick(id: string): void;
  /** The pin's foot should follow to this place of the picture, CSS pixels. */
  onDrag(id: string, x: number, y: number): void;
  onDrop(id: string): void;
  onDragCancelled(id: string): void;
}

/** Outline of a badge by level: round, diamond, square with cut corners, so that level does not hang on colour. */
const BADGE_PATH: Record<ViewportPin['level'], string> = {
  ok: circlePath(PIN_BADGE_PX),
  check: polygonPath([
    [0, -1.3],
    [1.3, 0],
    [0, 1.3],
    [-1.3, 0],
  ]),
  stop: polygonPath([
    [-0.45, -1.1],
    [0.45, -1.1],
    [1.1, -0.45],
    [1.1, 0.45],
    [0.45, 1.1],
    [-0.45, 1.1],
    [-1.1, 0.45],
    [-1.1, -0.45],
  ]),
};

/** The numbered pins over the 3D view. Pointer only: the list in the panel is the keyboard's way to them. */
export class PinLayer {
  readonly #svg: SVGSVGElement;
  readonly #events: PinLayerEvents;
  readonly #marks = new Map<string, PinMarks>();

  constructor(svg: SVGSVGElement, events: PinLayerEvents) {
    this.#svg = svg;
    this.#events = events;
  }

  setPins(pins: readonly ViewportPin[]): void {
    const kept = new Set(pins.map((pin) => pin.id));
    for (const [id, marks] of this.#marks) {
      if (kept.has(id)) continue;
      marks.group.remove();
      this.#marks.delete(id);
    }
    for (const pin of pins) {
      const marks = this.#marks.get(pin.id) ?? this.#make(pin.id);
      marks.group.dataset.level = pin.level;
      marks.group.dataset.selected = String(pin.selected);
      marks.badge.querySelector('.pin-shape')!.setAttribute('d', BADGE_PATH[pin.level]);
      marks.badge.querySelector('text')!.textContent = String(pin.number);
      // Later siblings are drawn above: the selected pin comes last.
      if (pin.selected) this.#svg.append(marks.group);
    }
  }

  place(id: string, at: PlacedPin, hidden: boolean): void {
    const marks = this.#marks.get(id);
    if (!marks) return;
    marks.group.dataset.hidden = String(hidden);
    marks.leader.setAttribute('x1', at.x.toFixed(1));
    marks.leader.setAttribute('y1', at.y.toFixed(1));
    marks.leader.setAttribute('x2', at.badgeX.toFixed(1));
    marks.leader.setAttribute('y2', at.badgeY.toFixed(1));
    marks.foot.setAttribute('cx', at.x.toFixed(1));
    marks.foot.setAttribute('cy', at.y.toFixed(1));
    marks.badge.setAttribute('transform', `translate(${at.badgeX.toFixed(1)} ${at.badgeY.toFixed(1)})`);
  }

  clear(): void {
    this.setPins([]);
  }

  #make(id: string): PinMarks {
    const group = element('g', { class: 'pin' });
    group.dataset.pin = id;
    const leader = element('line', { class: 'pin-leader' });
    const foot = element('circle', { class: 'pin-foot', r: '3.5' });
    const badge = element('g', { class: 'pin-badge' });
    // 44 px of target around a badge of 30.
    badge.append(
      element('circle', { class: 'pin-target', r: '22' }),
      element('path', { class: 'pin-shape' }),
      element('text', { 'text-anchor': 'middle', dy: '0.36em' }),
    );
    group.append(leader, foot, badge);
    this.#svg.append(group);
    this.#listen(id, badge);
    const marks = { group, leader, foot, badge };
    this.#marks.set(id, marks);
    return marks;
  }

  #listen(id: string, badge: SVGGElement): void {
    let start: { x: number; y: number; offsetX: number; offsetY: number; pointer: number } | null = null;
    let dragging = false;
    const stop = (): void => {
      start = null;
      dragging = false;
      badge.classList.remove('pin-dragged');
    };
    badge.addEventListener('pointerdown', (event) => {
      if (event.button !== 0) return;
      const foot = this.#marks.get(id)!.foot;
      const frame = this.#svg.getBoundingClientRect();
      start = {
        x: event.clientX,
        y: event.clientY,
        offsetX: Number(foot.getAttribute('cx')) - (event.clientX - frame.left),
        offsetY: Number(foot.getAttribute('cy')) - (event.clientY - frame.top),
        pointer: event.pointerId,
      };
      badge.setPointerCapture(event.pointerId);
    });
    badge.addEventListener('pointermove', (event) => {
      if (!start || event.pointerId !== start.pointer) return;
      if (!dragging && Math.hypot(event.clientX - start.x, event.clientY - start.y) < DRAG_PX) return;
      dragging = true;
      badge.classList.add('pin-dragged');
      const frame = this.#svg.getBoundingClientRect();
      this.#events.onDrag(
        id,
        event.clientX - frame.left + start.offsetX,
        event.clientY - frame.top + start.offsetY,
      );
    });
    badge.addEventListener('pointerup', (event) => {
      if (!start || event.pointerId !== start.pointer) return;
      const dragged = dragging;
      stop();
      if (dragged) this.#events.onDrop(id);
      else this.#events.onPick(id);
    });
    badge.addEventListener('pointercancel', () => {
      if (dragging) this.#events.onDragCancelled(id);
      stop();
    });
  }
}

function element<K extends 'g' | 'line' | 'circle' | 'path' | 'text'>(
  name: K,
  attributes: Record<string, string>,
): SVGElementTagNameMap[K] {
  const made = document.createElementNS(SVG, name);
  for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, value);
  return made;
}

function circlePath(r: number): string {
  return `M${-r} 0A${r} ${r} 0 1 1 ${r} 0A${r} ${r} 0 1 1 ${-r} 0Z`;
}

function polygonPath(points: readonly (readonly [number, number])[]): string {
  return `M${points.map(([x, y]) => `${x * PIN_BADGE_PX} ${y * PIN_BADGE_PX}`).join('L')}Z`;
}

export { BADGE_PATH };
