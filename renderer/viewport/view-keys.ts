import type { StandardView } from './viewport-props.ts';

export interface ViewMoves {
  orbitBy(azimuthRad: number, polarRad: number): void;
  panBy(rightPx: number, upPx: number): void;
  zoomBy(factor: number): void;
  fit(): void;
  look(view: StandardView): void;
}

const TURN_RAD = Math.PI / 24;
const PAN_PX = 40;
const ZOOM = 1.2;
const VIEW_OF_KEY: Readonly<Record<string, StandardView>> = {
  '1': 'front',
  '2': 'back',
  '3': 'left',
  '4': 'right',
  '5': 'top',
  '6': 'bottom',
  '7': 'corner',
};
const ARROWS: Readonly<Record<string, readonly [number, number]>> = {
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
  ArrowUp: [0, 1],
  ArrowDown: [0, -1],
};

/** Does what a key means to the view and says whether it meant anything. */
export function moveByKey(
  key: {
    readonly key: string;
    readonly shiftKey: boolean;
    readonly ctrlKey: boolean;
    readonly metaKey: boolean;
    readonly altKey: boolean;
  },
  view: ViewMoves,
): boolean {
  if (key.ctrlKey || key.metaKey || key.altKey) return false;
  const arrow = ARROWS[key.key];
  if (arrow) {
    // The part turns, or the view goes, the way the arrow points.
    if (key.shiftKey) view.panBy(arrow[0] * PAN_PX, arrow[1] * PAN_PX);
    else view.orbitBy(-arrow[0] * TURN_RAD, arrow[1] * TURN_RAD);
    return true;
  }
  const standard = VIEW_OF_KEY[key.key];
  if (standard) view.look(standard);
  else if (key.key === '+' || key.key === '=') view.zoomBy(ZOOM);
  else if (key.key === '-' || key.key === '_') view.zoomBy(1 / ZOOM);
  else if (key.key === 'f' || key.key === 'F') view.fit();
  else return false;
  return true;
}
