import type { CathodeSheet, Tank } from './tank.ts';
import type { Vec3 } from './vec3.ts';

/** A sheet as a closed surface in the tank's frame, metres. */
export interface SheetShape {
  readonly vertices: Float64Array;
  readonly triangles: Uint32Array;
}

/** A curved sheet is drawn in flats of at most this; at 0.5 m radius they are 0.08 mm off. */
const FLAT_RAD = (2 * Math.PI) / 180;

/** @throws RangeError when a wall sheet is put in a round tub or the other way round */
export function cathodeShape(tank: Tank, sheet: CathodeSheet): SheetShape {
  const { vessel } = tank;
  const { place } = sheet;
  const low = sheet.bottomM;
  const high = sheet.bottomM + sheet.heightM;
  if (place.on === 'round') {
    if (vessel.shape !== 'round')
      throw new RangeError(`cathodeShape: sheet ${sheet.id} is round, the tank is not`);
    const back = vessel.diameterM / 2 - sheet.standoffM;
    const front = back - sheet.thicknessM;
    if (!(front > 0)) throw new RangeError(`cathodeShape: sheet ${sheet.id} leaves no room inside`);
    const arc = Math.min(2 * Math.PI, sheet.widthM / front);
    const steps = Math.max(2, Math.ceil(arc / FLAT_RAD));
    const rings = Array.from({ length: steps + 1 }, (_, i): [Vec3, Vec3] => {
      const angle = place.angleRad - arc / 2 + (arc * i) / steps;
      const at = (radius: number): Vec3 => [radius * Math.cos(angle), radius * Math.sin(angle), 0];
      return [at(front), at(back)];
    });
    return prism(rings, low, high);
  }
  if (vessel.shape !== 'box')
    throw new RangeError(`cathodeShape: sheet ${sheet.id} is on a wall, the tank is round`);
  const alongX = place.wall.startsWith('y');
  const wallAt = (alongX ? vessel.widthM : vessel.lengthM) / 2;
  const side = place.wall.endsWith('+') ? 1 : -1;
  const back = side * (wallAt - sheet.standoffM);
  const front = side * (wallAt - sheet.standoffM - sheet.thicknessM);
  const ends = [place.alongM - sheet.widthM / 2, place.alongM + sheet.widthM / 2];
  const rings = ends.map((along): [Vec3, Vec3] =>
    alongX
      ? [
          [along, front, 0],
          [along, back, 0],
        ]
      : [
          [front, along, 0],
          [back, along, 0],
        ],
  );
  return prism(rings, low, high);
}

/** Cross-sections of two points (front, back) joined up, from `low` to `high`. */
function prism(rings: readonly [Vec3, Vec3][], low: number, high: number): SheetShape {
  const vertices: number[] = [];
  for (const [front, back] of rings) {
    for (const [point, z] of [
      [front, low],
      [front, high],
      [back, high],
      [back, low],
    ] as const) {
      vertices.push(point[0], point[1], z);
    }
  }
  const triangles: number[] = [];
  for (let i = 0; i + 1 < rings.length; i++) {
    for (let k = 0; k < 4; k++) {
      const [a, b, c, d] = [4 * i + k, 4 * i + ((k + 1) % 4), 4 * i + 4 + ((k + 1) % 4), 4 * i + 4 + k];
      triangles.push(a, b, c, a, c, d);
    }
  }
  const last = 4 * (rings.length - 1);
  triangles.push(0, 2, 1, 0, 3, 2, last, last + 1, last + 2, last, last + 2, last + 3);
  return { vertices: Float64Array.from(vertices), triangles: Uint32Array.from(triangles) };
}

/** Working area of a sheet below the liquid's surface, m²: its front, and its back where that is free. */
export function cathodeAreaM2(sheet: CathodeSheet, levelM: number): number {
  const wet = Math.max(0, Math.min(levelM, sheet.bottomM + sheet.heightM) - Math.max(0, sheet.bottomM));
  return sheet.widthM * wet * (sheet.backWorks ? 2 : 1);
}

/** Liquid surface of the empty tank, m². */
export function tankFloorAreaM2(tank: Tank): number {
  const { vessel } = tank;
  return vessel.shape === 'box' ? vessel.lengthM * vessel.widthM : (Math.PI * vessel.diameterM ** 2) / 4;
}

/** Level with metal of this volume under it, m. */
export function raisedLevelM(tank: Tank, metalVolumeM3: number): number {
  return tank.levelM + metalVolumeM3 / tankFloorAreaM2(tank);
}
