import type { BarRoom, RoomLimit } from './pack-hanging-loads.ts';
import { STILL_PART, workBars, type PartSwing } from './part-swing.ts';
import type { BusBar, CathodeSheet, Tank, TankRules } from './tank.ts';

/** Where the room is: along which axis, from which coordinate, and the bar's own coordinate across. */
export interface PlacedBarRoom extends BarRoom {
  readonly along: 'x' | 'y';
  readonly startM: number;
  readonly atM: number;
}

export interface RoomOptions {
  /** How far each kind of part swings, in the order of the items; none of them swings where it is left out. */
  readonly swings?: readonly PartSwing[];
  /** Which kinds stand out of the liquid, in the order of the items: nothing is kept over those. */
  readonly standOut?: readonly boolean[];
  /** Widest part in plan, so that parts under crossing bars keep clear of each other. */
  readonly widestM?: number;
  /** In a round tub: half the room across that is wanted. A narrower room is a longer one. */
  readonly roundHalfM?: number;
}

/** A clearance as it has to be at rest: a part that swings further than the shop's own distance needs that much. */
const kept = (to: RoomLimit['to'], ruleM: number, swingM: number): RoomLimit =>
  swingM > ruleM ? { to, keptM: swingM, bySwing: true } : { to, keptM: ruleM, bySwing: false };

/** What a piece takes of a row's length: its box, and half the distance to the next at either end. */
export const takenAlongM = (alongM: number, swingAlongM: number, gapM: number): number =>
  alongM + Math.max(gapM, 2 * swingAlongM);

/**
 * What hangs under each work bar with all clearances kept, at rest and swinging: length between the walls or the sheets
 * at its ends, width to the walls, sheets and bars beside it (the same to both sides), and the depth of liquid. These
 * are the distances that checkTank asks for, so a box in its room passes.
 * Each kind has its own swing and so its own width; the length is what all kinds keep clear of the ends with, as the
 * packer counts it: half a gap beyond the row at either end (see takenAlongM).
 * In a round tub the length is that of the chord at the edge of the room across, half the room to each side.
 * Where bars cross, the first of the tank keeps the crossing; the other has a room on either side of it, both of its id.
 */
export function barRooms(
  tank: Tank,
  rules: TankRules,
  { swings = [], standOut = [], widestM = 0, roundHalfM }: RoomOptions = {},
): PlacedBarRoom[] {
  const heightM = tank.levelM - rules.partToSurfaceM - rules.partToFloorM;
  const bars = workBars(tank);
  const kinds = swings.length > 0 ? swings : [STILL_PART];
  const gapM = rules.partToPartM;
  const furthest = {
    alongM: Math.max(...kinds.map(({ alongM }) => alongM)),
    acrossM: Math.max(...kinds.map(({ acrossM }) => acrossM)),
  };
  return bars.flatMap((bar, index): PlacedBarRoom[] => {
    const roomOf = (swing: PartSwing, halfM?: number): Room => {
      const toNext = furthest.acrossM + swing.acrossM;
      const beside = bars.flatMap((other): Side[] => {
        if (other === bar || other.along !== bar.along) return [];
        const keptM = Math.max(gapM, toNext);
        const limit = { to: 'next bar', keptM, bySwing: toNext > gapM } as const;
        return [{ halfM: (Math.abs(other.acrossM - bar.acrossM) - keptM) / 2, limit }];
      });
      return tank.vessel.shape === 'round'
        ? roundRoom(tank, tank.vessel.diameterM / 2, bar, rules, beside, { swing, roundHalfM: halfM })
        : boxRoom(tank, tank.vessel, bar, rules, beside, swing);
    };
    // In a tub all kinds share one width, that of the kind that swings furthest: its chord is its own.
    const halfM = tank.vessel.shape === 'round' ? roomOf(furthest, roundHalfM).acrossM / 2 : undefined;
    const own = kinds.map((swing) => roomOf(swing, halfM));
    const spare = kinds.map(({ alongM }) => Math.max(gapM, 2 * alongM) / 2);
    const low = Math.max(...own.map(({ fromM }, kind) => fromM - spare[kind]));
    const high = Math.min(...own.map(({ toM }, kind) => toM + spare[kind]));
    const crossing = Math.max(gapM, 2 * furthest.acrossM);
    const stretches = freeStretches(
      { fromM: low + gapM / 2, toM: high - gapM / 2 },
      bar,
      bars.slice(0, index),
      widestM,
      crossing,
    );
    const floor = { to: 'floor', keptM: rules.partToFloorM, bySwing: false } as const;
    const surface = { to: 'surface', keptM: rules.partToSurfaceM, bySwing: false } as const;
    return stretches.map(([from, to]) => ({
      id: bar.id,
      name: `bar ${tank.bars.indexOf(bar) + 1}`,
      along: bar.along,
      heightM,
      atM: bar.acrossM,
      startM: from,
      lengthM: Math.max(0, to - from),
      acrossM: Math.max(...own.map(({ acrossM }) => acrossM)),
      own: own.map(({ acrossM, limits }, kind) =>
        standOut[kind]
          ? { acrossM, heightM: tank.levelM - rules.partToFloorM, limits: { ...limits, height: [floor] } }
          : { acrossM, limits: { ...limits, height: [surface, floor] } },
      ),
    }));
  });
}

interface Side {
  readonly halfM: number;
  readonly limit: RoomLimit;
}

interface Room {
  readonly fromM: number;
  readonly toM: number;
  readonly acrossM: number;
  readonly limits: { readonly along: readonly RoomLimit[]; readonly across: readonly RoomLimit[] };
}

const reachOf = (sheet: CathodeSheet): number => sheet.standoffM + sheet.thicknessM;
const END: RoomLimit = { to: 'end of the bar', keptM: 0, bySwing: false };

function roundRoom(
  tank: Tank,
  radiusM: number,
  bar: BusBar,
  rules: TankRules,
  beside: readonly Side[],
  { swing, roundHalfM }: { readonly swing: PartSwing; readonly roundHalfM: number | undefined },
): Room {
  const reachM = Math.max(swing.alongM, swing.acrossM);
  const wall = kept('wall', rules.partToWallM, reachM);
  const cathode = kept('cathode', rules.partToCathodeM, reachM);
  const sides = [
    { clearM: radiusM - wall.keptM, limit: wall },
    ...tank.cathodes.map((sheet) => ({ clearM: radiusM - reachOf(sheet) - cathode.keptM, limit: cathode })),
  ];
  const { clearM, limit } = sides.reduce((least, side) => (side.clearM < least.clearM ? side : least));
  const clear = Math.max(0, clearM);
  const off = Math.abs(bar.acrossM);
  // The largest level rectangle about the bar has its half-width at clear/√2 when the bar is in the middle.
  const wanted = roundHalfM === undefined ? clear / Math.SQRT2 - off : Math.min(roundHalfM, clear - off);
  const half = Math.max(0, Math.min(wanted, ...beside.map(({ halfM }) => halfM)));
  const chord = Math.sqrt(Math.max(0, clear ** 2 - (off + half) ** 2));
  const next = beside.filter(({ halfM }) => halfM < wanted).map((side) => side.limit);
  return {
    fromM: Math.max(bar.fromM, -chord),
    toM: Math.min(bar.toM, chord),
    acrossM: 2 * half,
    limits: {
      along: bar.fromM > -chord || bar.toM < chord ? [END, limit] : [limit],
      across: next.length > 0 ? next.slice(0, 1) : [limit],
    },
  };
}

function boxRoom(
  tank: Tank,
  vessel: Extract<Tank['vessel'], { shape: 'box' }>,
  bar: BusBar,
  rules: TankRules,
  beside: readonly Side[],
  swing: PartSwing,
): Room {
  const [ends, sides] =
    bar.along === 'x' ? [vessel.lengthM / 2, vessel.widthM / 2] : [vessel.widthM / 2, vessel.lengthM / 2];
  /** From a wall inwards: what is taken by the wall's own clearance or by that of a sheet on it. */
  const taken = (wall: string, swingM: number): { readonly takenM: number; readonly limit: RoomLimit } => {
    const bare = kept('wall', rules.partToWallM, swingM);
    const cathode = kept('cathode', rules.partToCathodeM, swingM);
    return tank.cathodes.reduce(
      (most, sheet) => {
        const takenM = reachOf(sheet) + cathode.keptM;
        return sheet.place.on === 'wall' && sheet.place.wall === wall && takenM > most.takenM
          ? { takenM, limit: cathode }
          : most;
      },
      { takenM: bare.keptM, limit: bare },
    );
  };
  const cross = bar.along === 'x' ? 'y' : 'x';
  const [start, end] = [taken(`${bar.along}-`, swing.alongM), taken(`${bar.along}+`, swing.alongM)];
  const [low, high] = [taken(`${cross}-`, swing.acrossM), taken(`${cross}+`, swing.acrossM)];
  const fromM = Math.max(bar.fromM, -ends + start.takenM);
  const toM = Math.min(bar.toM, ends - end.takenM);
  const across = [
    ...beside,
    { halfM: bar.acrossM + sides - low.takenM, limit: low.limit },
    { halfM: sides - high.takenM - bar.acrossM, limit: high.limit },
  ].reduce((least, side) => (side.halfM < least.halfM ? side : least));
  const along = [
    bar.fromM > -ends + start.takenM ? END : start.limit,
    bar.toM < ends - end.takenM ? END : end.limit,
  ];
  return {
    fromM,
    toM,
    acrossM: Math.max(0, 2 * across.halfM),
    limits: { along: along[0]!.to === along[1]!.to ? along.slice(1) : along, across: [across.limit] },
  };
}

/** What is left of a bar's room beside the parts that hang under crossing bars: one stretch, or one on either side. */
function freeStretches(
  { fromM, toM }: Pick<Room, 'fromM' | 'toM'>,
  bar: BusBar,
  before: readonly BusBar[],
  widestM: number,
  gapM: number,
): (readonly [number, number])[] {
  let stretches: (readonly [number, number])[] = [[fromM, toM]];
  const besideM = widestM / 2 + gapM;
  for (const other of before) {
    if (other.along === bar.along) continue;
    const reaches =
      bar.acrossM > other.fromM - besideM - widestM / 2 && bar.acrossM < other.toM + besideM + widestM / 2;
    if (!reaches) continue;
    stretches = stretches.flatMap(([from, to]) =>
      [
        [from, Math.min(to, other.acrossM - besideM)] as const,
        [Math.max(from, other.acrossM + besideM), to] as const,
      ].filter(([low, high]) => high > low),
    );
  }
  return stretches;
}
