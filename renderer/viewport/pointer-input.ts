import type { SurfacePick } from './viewport-props.ts';

export interface PointerEvents {
  /** Places are CSS pixels from the canvas's top left. */
  onClick(x: number, y: number, intent: SurfacePick['intent']): void;
  /** At most once a frame. */
  onHover(x: number, y: number): void;
  onLeave(): void;
  /** A button or finger went down: an orbit may begin. */
  onGrab(): void;
  /** Zoom by `factor` around a place. */
  onWheel(factor: number, x: number, y: number): void;
}

/** Travel that makes a press an orbit instead of a click; a finger trembles more than a mouse. */
const CLICK_TRAVEL_PX = { mouse: 5, pen: 8, touch: 12 } as const;

/**
 * Tells clicks from drags, hovers once a frame, and turns wheel and pinch into zoom. The wheel is heard on `stage`, so
 * that it works over the pins as well. Returns the unsubscriber.
 */
export function listenToPointer(
  canvas: HTMLCanvasElement,
  stage: HTMLElement,
  events: PointerEvents,
): () => void {
  let pressed: { id: number; x: number; y: number; moved: boolean } | null = null;
  let fingers = 0;
  let frame = 0;
  let last: { x: number; y: number } | null = null;

  const place = (event: MouseEvent): { x: number; y: number } => {
    const box = canvas.getBoundingClientRect();
    return { x: event.clientX - box.left, y: event.clientY - box.top };
  };
  const travelLimit = (type: string): number =>
    type === 'touch' || type === 'pen' ? CLICK_TRAVEL_PX[type] : CLICK_TRAVEL_PX.mouse;

  const down = (event: PointerEvent): void => {
    fingers++;
    events.onGrab();
    // A second finger or another button makes it no click.
    pressed =
      event.button === 0 && fingers === 1
        ? { id: event.pointerId, x: event.clientX, y: event.clientY, moved: false }
        : null;
  };
  const move = (event: PointerEvent): void => {
    if (pressed && event.pointerId === pressed.id) {
      const travel = Math.hypot(event.clientX - pressed.x, event.clientY - pressed.y);
      if (travel > travelLimit(event.pointerType)) pressed.moved = true;
    }
    if (event.buttons !== 0 || event.pointerType === 'touch') return;
    last = place(event);
    frame ||= requestAnimationFrame(() => {
      frame = 0;
      if (last) events.onHover(last.x, last.y);
    });
  };
  const up = (event: PointerEvent): void => {
    fingers = Math.max(0, fingers - 1);
    const press = pressed;
    pressed = null;
    if (!press || press.id !== event.pointerId || press.moved) return;
    const { x, y } = place(event);
    const intent = event.shiftKey
      ? 'add'
      : event.ctrlKey || event.metaKey || event.altKey
        ? 'subtract'
        : 'replace';
    events.onClick(x, y, intent);
  };
  const cancel = (): void => {
    fingers = Math.max(0, fingers - 1);
    pressed = null;
  };
  const leave = (): void => {
    last = null;
    events.onLeave();
  };
  // Before the orbit controls get it: they step by a fixed amount a notch, which races on a trackpad.
  const wheel = (event: WheelEvent): void => {
    event.preventDefault();
    event.stopImmediatePropagation();
    const lines = event.deltaMode === WheelEvent.DOM_DELTA_LINE ? 33 : event.deltaMode === 2 ? 400 : 1;
    // A pinch on a trackpad arrives as a wheel with Ctrl and small steps.
    const speed = event.ctrlKey ? 0.01 : 0.0015;
    const turn = Math.max(-200, Math.min(200, event.deltaY * lines));
    const { x, y } = place(event);
    events.onWheel(Math.exp(-turn * speed), x, y);
  };

  canvas.addEventListener('pointerdown', down);
  canvas.addEventListener('pointermove', move);
  canvas.addEventListener('pointerup', up);
  canvas.addEventListener('pointercancel', cancel);
  canvas.addEventListener('pointerleave', leave);
  stage.addEventListener('wheel', wheel, { passive: false, capture: true });
  return () => {
    if (frame) cancelAnimationFrame(frame);
    canvas.removeEventListener('pointerdown', down);
    canvas.removeEventListener('pointermove', move);
    canvas.removeEventListener('pointerup', up);
    canvas.removeEventListener('pointercancel', cancel);
    canvas.removeEventListener('pointerleave', leave);
    stage.removeEventListener('wheel', wheel, { capture: true });
  };
}
