import type { CathodeSheet, Tank } from '../racking/tank.ts';
import type { SurfaceDensity } from './surface-density.ts';

export type TankWall = 'x-' | 'x+' | 'y-' | 'y+';

/** A way to hang the cathodes, for comparing. */
export interface CathodeLayout {
  readonly id: string;
  /** In words: "left and right". */
  readonly name: string;
  readonly tank: Tank;
}

/** Seen from above with x to the right: the tank's length lies along x. */
const WALL_NAMES: Readonly<Record<TankWall, string>> = {
  'x-': 'left end',
  'x+': 'right end',
  'y-': 'front wall',
  'y+': 'back wall',
};
const BOX_LAYOUTS: readonly (readonly [id: string, walls: readonly TankWall[]])[] = [
  ['y-', ['y-']],
  ['y+', ['y+']],
  ['x-', ['x-']],
  ['x+', ['x+']],
  ['y', ['y-', 'y+']],
  ['x', ['x-', 'x+']],
  ['xy', ['x-', 'x+', 'y-', 'y+']],
];
const ROUND_LAYOUTS: readonly (readonly [id: string, name: string, angles: readonly number[]])[] = [
  ['0', 'one side', [0]],
  ['90', 'one side, a quarter turn on', [90]],
  ['180', 'the side across', [180]],
  ['270', 'three quarter turns on', [270]],
  ['0-180', 'two sides facing', [0, 180]],
  ['90-270', 'two sides facing, a quarter turn on', [90, 270]],
  ['round', 'four sides', [0, 90, 180, 270]],
];
const FROM_CORNER_M = 0.01;
const PLAIN = {
  material: 'aluminium',
  bottomM: 0.01,
  thicknessM: 0.002,
  standoffM: 0,
  backWorks: false,
} as const;

/** The tank with its kind of sheet on each wall in turn, on facing pairs, and all around. */
export function cathodeLayouts(tank: Tank): CathodeLayout[] {
  const { vessel } = tank;
  if (vessel.shape === 'box') {
    return BOX_LAYOUTS.map(([id, walls]) => ({
      id,
      name: walls.length === 4 ? 'all four walls' : walls.map((wall) => WALL_NAMES[wall]).join(' and '),
      tank: { ...tank, cathodes: walls.map((wall) => sheetOn(tank, wall)) },
    }));
  }
  const like = tank.cathodes[0];
  const quarterM = (Math.PI / 4) * vessel.diameterM;
  return ROUND_LAYOUTS.map(([id, name, angles]) => ({
    id,
    name,
    tank: {
      ...tank,
      cathodes: angles.map((angle): CathodeSheet => ({
        ...PLAIN,
        ...like,
        heightM: like?.heightM ?? vessel.heightM - FROM_CORNER_M,
        widthM: Math.min(like?.widthM ?? quarterM / 2, 0.9 * quarterM),
        id: `sheet at ${angle}°`,
        place: { on: 'round', angleRad: (angle * Math.PI) / 180 },
      })),
    },
  }));
}

/** What hangs at the wall already, else a sheet like the tank's first, in the wall's middle and within it. */
function sheetOn(tank: Tank, wall: TankWall): CathodeSheet {
  const own = tank.cathodes.find(({ place }) => place.on === 'wall' && place.wall === wall);
  if (own) return own;
  const { vessel } = tank;
  if (vessel.shape !== 'box') throw new RangeError(`sheetOn: ${wall} of a round tank`);
  const wallM = wall[0] === 'x' ? vessel.widthM : vessel.lengthM;
  const most = wallM - 2 * FROM_CORNER_M;
  const like = tank.cathodes[0];
  return {
    ...PLAIN,
    ...like,
    heightM: like?.heightM ?? vessel.heightM - FROM_CORNER_M,
    widthM: like ? Math.min(like.widthM, most) : most,
    id: `sheet ${wall}`,
    place: { on: 'wall', wall, alongM: 0 },
  };
}

/** All sheets moved off their walls by `byM` (towards the middle when positive), as far as the tank has room. */
export function movedSheets(tank: Tank, byM: number): Tank {
  if (!Number.isFinite(byM)) throw new RangeError(`movedSheets: byM is ${byM}`);
  const { vessel } = tank;
  return {
    ...tank,
    cathodes: tank.cathodes.map((sheet) => {
      const acrossM =
        vessel.shape === 'round'
          ? vessel.diameterM
          : sheet.place.on === 'wall' && sheet.place.wall[0] === 'x'
            ? vessel.lengthM
            : vessel.widthM;
      const most = Math.max(0, acrossM / 2 - sheet.thicknessM - FROM_CORNER_M);
      return { ...sheet, standoffM: Math.min(most, Math.max(0, sheet.standoffM + byM)) };
    }),
  };
}

/** Root of the mean squared deviation from the mean density over the conducting area, over the mean: 0 is even. */
export function densitySpread({ sortedAPerM2, areaShare, currentA, areaM2 }: SurfaceDensity): number {
  if (!(areaM2 > 0 && currentA > 0)) return 0;
  const mean = currentA / areaM2;
  let squares = 0;
  let before = 0;
  for (let i = 0; i < sortedAPerM2.length; i++) {
    squares += (areaShare[i]! - before) * (sortedAPerM2[i]! - mean) ** 2;
    before = areaShare[i]!;
  }
  return Math.sqrt(squares) / mean;
}
