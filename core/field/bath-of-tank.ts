import type { CathodeSheet, Tank } from '../racking/tank.ts';
import type { Bath, FieldBody, WallCathode } from './bath-bodies.ts';
import { boxBody, prismBody, roundOutline } from './body-shapes.ts';
import type { ElectrodeLaw } from './electrode-law.ts';

const TUB_SIDES = 96;
/** Bodies that end at a wall or at the level go on this far, so that no surface lies in the wall. */
const BEYOND_M = 0.05;
/** A sheet that ends nearer to the wall than this is taken as lying on it. */
const ON_WALL_M = 0.0005;
const ARC_STEP_RAD = Math.PI / 60;

/**
 * The tank as the solver sees it: liquid up to `levelM` (what the hung load has raised it to), walls without current, the cathode
 * sheets, and `bodies` (parts, neighbours, hangers, in the tank's axes). A round tub is a 96-sided one of the same area.
 * A sheet whose back does not work is solid back to the wall: the liquid behind it carries next to nothing.
 */
export function bathOfTank(
  tank: Tank,
  levelM: number,
  bodies: readonly FieldBody[],
  conductivitySPerM: number,
  cathodeLaw: ElectrodeLaw,
): Bath {
  if (!(levelM > 0 && levelM <= tank.vessel.heightM)) throw new RangeError(`bathOfTank: levelM is ${levelM}`);
  const { vessel } = tank;
  const added: FieldBody[] = [];
  const wallCathodes: WallCathode[] = [];
  const half =
    vessel.shape === 'box'
      ? ([vessel.lengthM / 2, vessel.widthM / 2] as const)
      : ([1.005 * (vessel.diameterM / 2), 1.005 * (vessel.diameterM / 2)] as const);
  if (vessel.shape === 'round') {
    added.push({
      name: 'tub',
      role: 'insulator',
      holdsBath: true,
      positionsM: prismBody(roundOutline(vessel.diameterM / 2, TUB_SIDES), -BEYOND_M, levelM + BEYOND_M),
    });
  }
  for (const sheet of tank.cathodes) {
    if (vessel.shape === 'box' && sheet.place.on === 'wall') {
      const onWall = sheetOnWall(sheet, half, cathodeLaw);
      if (onWall) wallCathodes.push(onWall);
      else added.push(flatSheet(sheet, half, cathodeLaw));
    } else if (vessel.shape === 'round' && sheet.place.on === 'round') {
      added.push(bentSheet(sheet, vessel.diameterM / 2, cathodeLaw));
    } else {
      throw new RangeError(
        `bathOfTank: cathode ${sheet.id} is on a ${sheet.place.on} wall of a ${vessel.shape} tank`,
      );
    }
  }
  return {
    minM: [-half[0], -half[1], 0],
    maxM: [half[0], half[1], levelM],
    conductivitySPerM,
    bodies: [...bodies, ...added],
    wallCathodes,
  };
}

function sheetOnWall(
  sheet: CathodeSheet,
  half: readonly [number, number],
  law: ElectrodeLaw,
): WallCathode | undefined {
  if (sheet.place.on !== 'wall' || sheet.standoffM + sheet.thicknessM > ON_WALL_M) return undefined;
  const reach = half[sheet.place.wall[0] === 'x' ? 1 : 0];
  const { alongM } = sheet.place;
  return {
    name: sheet.id,
    wall: sheet.place.wall,
    lowM: [Math.max(-reach, alongM - sheet.widthM / 2), sheet.bottomM],
    highM: [Math.min(reach, alongM + sheet.widthM / 2), sheet.bottomM + sheet.heightM],
    law,
  };
}

function flatSheet(sheet: CathodeSheet, half: readonly [number, number], law: ElectrodeLaw): FieldBody {
  if (sheet.place.on !== 'wall') throw new RangeError(`flatSheet: cathode ${sheet.id} is not on a wall`);
  const { wall, alongM } = sheet.place;
  const across = wall[0] === 'x' ? 0 : 1;
  const sign = wall[1] === '+' ? 1 : -1;
  const wallM = sign * half[across];
  const frontM = wallM - sign * (sheet.standoffM + sheet.thicknessM);
  const backM =
    sheet.backWorks && sheet.standoffM > 0 ? wallM - sign * sheet.standoffM : wallM + sign * BEYOND_M;
  const low: [number, number, number] = [0, 0, sheet.bottomM];
  const high: [number, number, number] = [0, 0, sheet.bottomM + sheet.heightM];
  low[across] = Math.min(frontM, backM);
  high[across] = Math.max(frontM, backM);
  low[1 - across] = alongM - sheet.widthM / 2;
  high[1 - across] = alongM + sheet.widthM / 2;
  const positionsM = boxBody(low, high);
  return { name: sheet.id, role: 'cathode', positionsM, law, ...edgeMask(sheet, positionsM, across, frontM) };
}

/** A sheet that is solid to the wall works with its front only: all triangles not in the front's plane are masked. */
function edgeMask(sheet: CathodeSheet, positionsM: Float64Array, axis: number, frontM: number) {
  if (sheet.backWorks && sheet.standoffM > 0) return {};
  const insulated = new Uint8Array(positionsM.length / 9);
  for (let t = 0; t < insulated.length; t++) {
    for (let c = 0; c < 3; c++) {
      if (Math.abs(positionsM[t * 9 + c * 3 + axis] - frontM) > 1e-9) insulated[t] = 1;
    }
  }
  return { insulated };
}

function bentSheet(sheet: CathodeSheet, wallRadiusM: number, law: ElectrodeLaw): FieldBody {
  if (sheet.place.on !== 'round')
    throw new RangeError(`bentSheet: cathode ${sheet.id} is not on a round wall`);
  const { angleRad } = sheet.place;
  const frontM = wallRadiusM - sheet.standoffM - sheet.thicknessM;
  if (!(frontM > 0))
    throw new RangeError(`bentSheet: cathode ${sheet.id} stands ${sheet.standoffM} m off the wall`);
  const free = sheet.backWorks && sheet.standoffM > 0;
  const backM = free ? wallRadiusM - sheet.standoffM : wallRadiusM + BEYOND_M;
  const whole = sheet.widthM >= 2 * Math.PI * frontM * 0.9999;
  const spanRad = whole ? 2 * Math.PI : sheet.widthM / frontM;
  const steps = Math.max(2, Math.ceil(spanRad / ARC_STEP_RAD));
  const positions: number[] = [];
  const insulated: number[] = [];
  const lowM = sheet.bottomM;
  const highM = sheet.bottomM + sheet.heightM;
  const at = (n: number, radiusM: number): readonly [number, number] => {
    const angle = angleRad - spanRad / 2 + (spanRad * (whole ? n % steps : n)) / steps;
    return [radiusM * Math.cos(angle), radiusM * Math.sin(angle)];
  };
  const quad = (
    p: readonly number[],
    q: readonly number[],
    r: readonly number[],
    s: readonly number[],
    works: boolean,
  ) => {
    positions.push(...p, ...q, ...r, ...p, ...r, ...s);
    insulated.push(works ? 0 : 1, works ? 0 : 1);
  };
  for (let n = 0; n < steps; n++) {
    const [fa, fb, ba, bb] = [at(n, frontM), at(n + 1, frontM), at(n, backM), at(n + 1, backM)];
    quad([...fb, lowM], [...fa, lowM], [...fa, highM], [...fb, highM], true);
    quad([...ba, lowM], [...bb, lowM], [...bb, highM], [...ba, highM], free);
    quad([...fa, highM], [...ba, highM], [...bb, highM], [...fb, highM], free);
    quad([...fa, lowM], [...fb, lowM], [...bb, lowM], [...ba, lowM], free);
  }
  if (!whole) {
    const [f, b] = [at(0, frontM), at(0, backM)];
    quad([...f, lowM], [...b, lowM], [...b, highM], [...f, highM], free);
    const [g, h] = [at(steps, frontM), at(steps, backM)];
    quad([...h, lowM], [...g, lowM], [...g, highM], [...h, highM], free);
  }
  return {
    name: sheet.id,
    role: 'cathode',
    positionsM: Float64Array.from(positions),
    insulated: Uint8Array.from(insulated),
    law,
  };
}
