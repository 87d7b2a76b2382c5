import { formatQuantity } from '../units/format-quantity.ts';
import type { UnitSystem } from '../units/unit-table.ts';
import { distanceBetween, distanceBody, type DistanceBody } from './body-distance.ts';
import { IDENTITY_ROTATION, rotate, type Pose } from './pose.ts';
import type { TankFinding, TankPart } from './tank-clearance.ts';
import type { BusBar, Placement, Tank } from './tank.ts';
import { add, type Vec3 } from './vec3.ts';

const STILL: Pose = { rotation: IDENTITY_ROTATION, offsetM: [0, 0, 0] };
const TOUCH_M = 1e-4;
/** A bare wire nearer than this to a sheet can be knocked against it; common practice. */
export const WIRE_TO_CATHODE_M = 0.02;
/** Bars are drawn and checked as square of this section; their true one is the shop's. */
export const BAR_SECTION_M = 0.02;
const CUBE = [
  [0, 2, 1, 0, 3, 2],
  [4, 5, 6, 4, 6, 7],
  [0, 1, 5, 0, 5, 4],
  [1, 2, 6, 1, 6, 5],
  [2, 3, 7, 2, 7, 6],
  [3, 0, 4, 3, 4, 7],
].flat();

function boxBody(low: Vec3, high: Vec3): DistanceBody {
  const corners = [low[2], high[2]].flatMap((z) =>
    [
      [low[0], low[1]],
      [high[0], low[1]],
      [high[0], high[1]],
      [low[0], high[1]],
    ].flatMap(([x, y]) => [x, y, z]),
  );
  return distanceBody(corners, Uint32Array.from(CUBE), 1);
}

/** A bar as a body in the tank. */
export function barBody(bar: BusBar): DistanceBody {
  const half = BAR_SECTION_M / 2;
  const across = [bar.acrossM - half, bar.acrossM + half] as const;
  const low = bar.heightM;
  const high = bar.heightM + BAR_SECTION_M;
  return bar.along === 'x'
    ? boxBody([bar.fromM, across[0], low], [bar.toM, across[1], high])
    : boxBody([across[0], bar.fromM, low], [across[1], bar.toM, high]);
}

/** Where one hanger runs: straight up from the contact to the height of the work bars. */
export interface WireInTank {
  readonly placementId: string;
  readonly from: Vec3;
  readonly to: Vec3;
  readonly diameterM: number;
}

/** Straight wires of all placements; none where the tank has no work bar or the contact is above it. */
export function wiresInTank(
  tank: Tank,
  parts: ReadonlyMap<string, Pick<TankPart, 'wires'>>,
  placements: readonly Placement[],
): WireInTank[] {
  const heights = tank.bars.filter(({ role }) => role === 'work').map(({ heightM }) => heightM);
  if (heights.length === 0) return [];
  const top = Math.max(...heights);
  return placements.flatMap((placement) =>
    (parts.get(placement.partId)?.wires ?? []).flatMap(({ at, diameterM }): WireInTank[] => {
      const from = add(rotate(placement.pose.rotation, at), placement.pose.offsetM);
      return from[2] < top
        ? [{ placementId: placement.id, from, to: [from[0], from[1], top], diameterM }]
        : [];
    }),
  );
}

/** What hangers and bars touch that they must not: sheets, cathode bars, the next part. */
export function hangerFindingsInTank(
  tank: Tank,
  sheets: ReadonlyMap<string, DistanceBody>,
  parts: ReadonlyMap<string, TankPart>,
  placements: readonly Placement[],
  system: UnitSystem,
  onlyId?: string,
): TankFinding[] {
  const findings: TankFinding[] = [];
  const nameOf = (placement: Placement): string => parts.get(placement.partId)?.name ?? '';
  const looked = placements.filter(({ id }) => onlyId === undefined || id === onlyId);
  const cathodeBars = tank.bars.filter(({ role }) => role === 'cathode').map(barBody);
  const wires = wiresInTank(tank, parts, looked).map((wire) => {
    const half = wire.diameterM / 2;
    const [x, y, low] = wire.from;
    return { wire, body: boxBody([x - half, y - half, low], [x + half, y + half, wire.to[2]]) };
  });
  const touches = (a: DistanceBody, poseA: Pose, b: DistanceBody, poseB: Pose): boolean =>
    distanceBetween(a, poseA, b, poseB, TOUCH_M) !== undefined;
  for (const placement of looked) {
    const own = wires.filter(({ wire }) => wire.placementId === placement.id);
    const body = parts.get(placement.partId)?.body;
    const name = nameOf(placement);
    if (
      cathodeBars.some(
        (bar) =>
          (body && touches(body, placement.pose, bar, STILL)) ||
          own.some((wire) => touches(wire.body, STILL, bar, STILL)),
      )
    ) {
      findings.push({
        code: 'bar-shorts',
        level: 'stop',
        message: `${name} or its hanger touches a cathode bar: the supply would be shorted.`,
        remedy: 'Move it clear of the bar before the power goes on.',
        placementIds: [placement.id],
      });
    }
    let nearest = Infinity;
    for (const sheet of sheets.values()) {
      for (const wire of own) {
        const found = distanceBetween(
          wire.body,
          STILL,
          sheet,
          STILL,
          Math.min(nearest, 2 * WIRE_TO_CATHODE_M),
        );
        if (found) nearest = found.distanceM;
      }
    }
    if (nearest <= TOUCH_M) {
      findings.push({
        code: 'hanger-shorts',
        level: 'stop',
        message: `A hanger of ${name} touches the cathode: the supply would be shorted through it.`,
        remedy: 'Move the part away from the sheet before the power goes on.',
        placementIds: [placement.id],
      });
    } else if (nearest < WIRE_TO_CATHODE_M) {
      findings.push({
        code: 'hanger-near-cathode',
        level: 'check',
        message: `A hanger of ${name} comes within ${formatQuantity('length', nearest, system).text} of the cathode and could be knocked against it.`,
        remedy: 'Move the part away from the sheet.',
        placementIds: [placement.id],
      });
    }
    const touched = placements.find((other) => {
      const otherBody = other.id === placement.id ? undefined : parts.get(other.partId)?.body;
      return otherBody && own.some((wire) => touches(wire.body, STILL, otherBody, other.pose));
    });
    if (touched) {
      findings.push({
        code: 'hanger-touches-part',
        level: 'check',
        message: `A hanger of ${name} touches ${nameOf(touched)} and leaves a bare mark there.`,
        remedy: 'Move them apart, or bend the hanger around.',
        placementIds: [placement.id, touched.id],
      });
    }
  }
  return findings;
}
