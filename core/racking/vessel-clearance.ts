import { formatQuantity } from '../units/format-quantity.ts';
import type { UnitSystem } from '../units/unit-table.ts';
import type { DistanceBody } from './body-distance.ts';
import { clearanceOf } from './clearance-of.ts';
import { workBars } from './part-swing.ts';
import type { Clearance, TankFinding } from './tank-clearance.ts';
import type { Placement, Tank } from './tank.ts';
import type { Vec3 } from './vec3.ts';

/** Sums of lengths: a part hung just under its bar is not over it. */
const SLACK_M = 1e-4;

/** To the nearest wall, the floor and the surface. */
export function toVessel(tank: Tank, placement: Placement, body: DistanceBody): Clearance[] {
  const r = placement.pose.rotation;
  const [ox, oy, oz] = placement.pose.offsetM;
  const { vessel } = tank;
  let low = Infinity;
  let high = -Infinity;
  let wall = Infinity;
  let lowAt: Vec3 = [0, 0, 0];
  let highAt: Vec3 = [0, 0, 0];
  let wallAt: Vec3 = [0, 0, 0];
  const v = body.vertices;
  for (let i = 0; i + 2 < v.length; i += 3) {
    const x = r[0] * v[i] + r[1] * v[i + 1] + r[2] * v[i + 2] + ox;
    const y = r[3] * v[i] + r[4] * v[i + 1] + r[5] * v[i + 2] + oy;
    const z = r[6] * v[i] + r[7] * v[i + 1] + r[8] * v[i + 2] + oz;
    if (z < low) {
      low = z;
      lowAt = [x, y, z];
    }
    if (z > high) {
      high = z;
      highAt = [x, y, z];
    }
    const room =
      vessel.shape === 'round'
        ? vessel.diameterM / 2 - Math.sqrt(x * x + y * y)
        : Math.min(vessel.lengthM / 2 - Math.abs(x), vessel.widthM / 2 - Math.abs(y));
    if (room < wall) {
      wall = room;
      wallAt = [x, y, z];
    }
  }
  const id = placement.id;
  return [
    clearanceOf(id, 'wall', '', wall, wallAt, onWall(tank, wallAt)),
    clearanceOf(id, 'floor', '', low, lowAt, [lowAt[0], lowAt[1], 0]),
    clearanceOf(id, 'surface', '', tank.levelM - high, highAt, [highAt[0], highAt[1], tank.levelM]),
  ];
}

/** The wall as near as it comes under the level, or where it goes through it on the way to the rim; no surface to keep. */
export function underLevel(
  tank: Tank,
  placement: Placement,
  below: DistanceBody,
  whole: readonly Clearance[],
): Clearance[] {
  const wall = toVessel(tank, placement, below).filter(({ to }) => to === 'wall');
  const through = whole.filter(
    ({ to, distanceM, onPart }) => to === 'wall' && distanceM.valueSi < 0 && onPart[2] <= tank.vessel.heightM,
  );
  return [...(through.length > 0 ? through : wall), ...whole.filter(({ to }) => to === 'floor')];
}

/** A part that stands out of the liquid further than the bar is high. */
export function overBar(
  tank: Tank,
  placement: Placement,
  name: string,
  vessel: readonly Clearance[],
  system: UnitSystem,
): TankFinding | undefined {
  const highM = vessel.find(({ to }) => to === 'surface')!.onPart[2];
  const barM = Math.max(...workBars(tank).map(({ heightM }) => heightM));
  if (!(highM > barM + SLACK_M)) return undefined;
  return {
    code: 'over-bar',
    level: 'check',
    message: `${name} stands ${formatQuantity('length', highM - barM, system).text} higher than the bar it hangs from.`,
    remedy: 'Clamp it beside the bar, raise the bar, or hang it deeper.',
    placementIds: [placement.id],
  };
}

function onWall(tank: Tank, [x, y, z]: Vec3): Vec3 {
  const { vessel } = tank;
  if (vessel.shape === 'round') {
    const radius = Math.hypot(x, y);
    const grow = radius > 0 ? vessel.diameterM / 2 / radius : 1;
    return [x * grow, y * grow, z];
  }
  const roomX = vessel.lengthM / 2 - Math.abs(x);
  const roomY = vessel.widthM / 2 - Math.abs(y);
  return roomX < roomY
    ? [Math.sign(x) * (vessel.lengthM / 2), y, z]
    : [x, Math.sign(y) * (vessel.widthM / 2), z];
}
