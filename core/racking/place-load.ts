import type { PlacedBarRoom } from './bar-rooms.ts';
import { takenAlongM } from './bar-rooms.ts';
import { lowestOf, type HangingSize } from './hanging-size.ts';
import { rotate } from './pose.ts';
import type { Placement } from './tank.ts';
import type { Vec3 } from './vec3.ts';

/** One kind of piece to be placed. */
export interface PlacedItem {
  readonly partId: string;
  /** Model to tank for a bar along x. */
  readonly rotation: readonly number[];
  readonly size: HangingSize;
  /** Height of its lowest point above the floor. */
  readonly lowestM: number;
  /** How far it swings along the bar to each side. */
  readonly swingAlongM?: number;
}

/** A quarter turn about the vertical, for bars along y. */
const QUARTER: readonly number[] = [0, -1, 0, 1, 0, 0, 0, 0, 1];

/**
 * Hangs a load: on every bar the pieces in the order of the items, `gapM` or what their swing asks for between them, the
 * length that is then spare shared out evenly between them and at both ends. Where the gaps do not fit, they are as wide as
 * they can be, and below 0 when the pieces are longer than the room.
 * @param pieces by bar and item, see HangingLoad
 */
export function placeLoad(
  rooms: readonly PlacedBarRoom[],
  items: readonly PlacedItem[],
  pieces: readonly (readonly number[])[],
  gapM: number,
): Placement[] {
  if (pieces.length !== rooms.length) {
    throw new RangeError(`placeLoad: pieces for ${pieces.length} bars, ${rooms.length} rooms`);
  }
  const placements: Placement[] = [];
  rooms.forEach((room, bar) => {
    const inTurn = items.flatMap((item, index) => new Array<PlacedItem>(pieces[bar][index] ?? 0).fill(item));
    const free = room.lengthM - inTurn.reduce((sum, item) => sum + item.size.alongM, 0);
    const taken = (item: PlacedItem): number => takenAlongM(item.size.alongM, item.swingAlongM ?? 0, gapM);
    const unused = room.lengthM + gapM - inTurn.reduce((sum, item) => sum + taken(item), 0);
    const share = (unused >= -1e-9 ? unused : free) / (inTurn.length + 1);
    let at = room.startM - (unused >= -1e-9 ? gapM / 2 : 0);
    for (const item of inTurn) {
      const { partId, rotation, size, lowestM } = item;
      const spanM = unused >= -1e-9 ? taken(item) : size.alongM;
      at += share;
      const along = at + spanM / 2;
      at += spanM;
      const turned = room.along === 'x' ? rotation : multiply(QUARTER, rotation);
      const middle = room.along === 'x' ? size.middleM : rotate(QUARTER, size.middleM);
      const target: Vec3 = room.along === 'x' ? [along, room.atM, 0] : [room.atM, along, 0];
      placements.push({
        id: `${room.id}-${placements.length + 1}`,
        partId,
        pose: {
          rotation: turned,
          offsetM: [target[0] - middle[0], target[1] - middle[1], lowestM - lowestOf(size)],
        },
      });
    }
  });
  return placements;
}

function multiply(a: readonly number[], b: readonly number[]): number[] {
  return Array.from({ length: 9 }, (_, i) => {
    const row = 3 * Math.floor(i / 3);
    const column = i % 3;
    return a[row] * b[column] + a[row + 1] * b[column + 3] + a[row + 2] * b[column + 6];
  });
}
