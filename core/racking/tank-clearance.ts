import type { Figure, Source } from '../figure/figure.ts';
import type { UnitSystem } from '../units/unit-table.ts';
import { distanceBetween, distanceBody, type DistanceBody } from './body-distance.ts';
import { cathodeAreaM2, cathodeShape } from './cathode-shape.ts';
import { hangerFindingsInTank } from './hanger-clearance.ts';
import { judgeClearance } from './judge-clearance.ts';
import { IDENTITY_ROTATION, type Pose } from './pose.ts';
import { swingsInTank, type PlacementSwing } from './swing-check.ts';
import type { Placement, Tank, TankRules } from './tank.ts';
import type { Vec3 } from './vec3.ts';

export type Neighbour = 'cathode' | 'wall' | 'floor' | 'surface' | 'part';

/** The nearest spot of one placed part to one kind of neighbour. */
export interface Clearance {
  readonly placementId: string;
  readonly to: Neighbour;
  /** Of the sheet or the other placement; empty for wall, floor and surface. */
  readonly toId: string;
  /** Below 0: through the wall or floor, or out of the liquid. */
  readonly distanceM: Figure;
  readonly onPart: Vec3;
  readonly onOther: Vec3;
}

export interface TankFinding {
  readonly code:
    | 'short-circuit'
    | 'near-cathode'
    | 'through-wall'
    | 'near-wall'
    | 'through-floor'
    | 'near-floor'
    | 'out-of-liquid'
    | 'near-surface'
    | 'parts-touch'
    | 'near-part'
    | 'no-cathode'
    | 'cathode-small'
    | 'cathode-large'
    | 'hanger-shorts'
    | 'hanger-near-cathode'
    | 'hanger-touches-part'
    | 'bar-shorts';
  readonly level: 'note' | 'check' | 'stop';
  readonly message: string;
  readonly remedy: string;
  readonly placementIds: readonly string[];
}

export interface TankCheck {
  /** Per placement the smallest to each kind of neighbour. */
  readonly clearances: readonly Clearance[];
  /** Cathode area over coated area; absent without either. */
  readonly cathodeRatio?: Figure;
  readonly findings: readonly TankFinding[];
  /** Of every copy looked at. */
  readonly swings: readonly PlacementSwing[];
}

/** One kind of part, as it is placed. */
export interface TankPart {
  readonly name: string;
  readonly body: DistanceBody;
  readonly coatedAreaM2: number;
  /** Where its hangers hold it, metres in the part's own frame (scaled, not turned). */
  readonly wires?: readonly { readonly at: Vec3; readonly diameterM: number }[];
}

export interface TankCheckOptions {
  /** Bodies of the sheets, kept while parts are dragged. */
  readonly sheets?: ReadonlyMap<string, DistanceBody>;
  /** Pairs found before, by placement and neighbour; read, and filled for the next time. */
  readonly hints?: Map<string, readonly [number, number]>;
  /** To each side, as a pendulum from the bar; 0 where it is left out. */
  readonly swingRad?: number;
  /** Only this placement's clearances: while it is dragged. */
  readonly onlyId?: string;
}

const STILL: Pose = { rotation: IDENTITY_ROTATION, offsetM: [0, 0, 0] };
const ON_MODEL: Source = {
  standing: 'measured on the model',
  text: 'smallest distance between the surfaces as they hang',
};

/** Sheets as bodies; made once per tank and kept while parts are dragged. */
export function cathodeBodies(tank: Tank): Map<string, DistanceBody> {
  return new Map(
    tank.cathodes.map((sheet) => {
      const { vertices, triangles } = cathodeShape(tank, sheet);
      return [sheet.id, distanceBody(vertices, triangles, 1)];
    }),
  );
}

/**
 * All clearances of all placed parts, the cathode ratio, and what is wrong. A part's own placement against the walls,
 * the floor and the surface comes from its corners alone: a flat wall, and a round one seen from inside, is nearest at
 * a corner.
 * @param parts by part id
 */
export function checkTank(
  tank: Tank,
  rules: TankRules,
  parts: ReadonlyMap<string, TankPart>,
  placements: readonly Placement[],
  system: UnitSystem = 'metric',
  { sheets = cathodeBodies(tank), hints = new Map(), swingRad = 0, onlyId }: TankCheckOptions = {},
): TankCheck {
  const clearances: Clearance[] = [];
  const findings: TankFinding[] = [];
  const partOf = (placement: Placement): TankPart => {
    const part = parts.get(placement.partId);
    if (!part) throw new RangeError(`checkTank: no part ${placement.partId} for placement ${placement.id}`);
    return part;
  };
  const note = (clearance: Clearance): void => {
    clearances.push(clearance);
    const finding = judgeClearance(
      clearance,
      rules,
      partOf(placements.find((p) => p.id === clearance.placementId)!).name,
      system,
    );
    if (finding) findings.push(finding);
  };
  placements.forEach((placement, index) => {
    if (onlyId !== undefined && placement.id !== onlyId) return;
    const part = partOf(placement);
    for (const clearance of toVessel(tank, placement, part.body)) note(clearance);
    let nearest: Clearance | undefined;
    for (const [sheetId, sheet] of sheets) {
      const key = `${placement.id}|${sheetId}`;
      const ceiling = nearest?.distanceM.valueSi;
      const found = distanceBetween(part.body, placement.pose, sheet, STILL, ceiling, hints.get(key));
      if (found) hints.set(key, found.pair);
      if (found)
        nearest = clearanceOf(placement.id, 'cathode', sheetId, found.distanceM, found.onA, found.onB);
    }
    if (nearest) note(nearest);
    let neighbour: Clearance | undefined;
    placements.forEach((other, otherIndex) => {
      if (otherIndex === index) return;
      const key = `${placement.id}|${other.id}`;
      const found = distanceBetween(
        part.body,
        placement.pose,
        partOf(other).body,
        other.pose,
        neighbour?.distanceM.valueSi,
        hints.get(key),
      );
      if (found) hints.set(key, found.pair);
      if (found)
        neighbour = clearanceOf(placement.id, 'part', other.id, found.distanceM, found.onA, found.onB);
    });
    if (neighbour) note(neighbour);
  });
  findings.push(...hangerFindingsInTank(tank, sheets, parts, placements, system, onlyId));
  const atRest = new Map(clearances.map((one) => [`${one.placementId} ${one.to}`, one]));
  const swings = swingsInTank(
    tank,
    sheets,
    parts,
    placements,
    (id, to) => {
      const found = atRest.get(`${id} ${to}`);
      return found && { distanceM: found.distanceM.valueSi, toId: found.toId };
    },
    swingRad,
    onlyId,
  );
  const coatedM2 = placements.reduce((sum, placement) => sum + partOf(placement).coatedAreaM2, 0);
  const cathodeM2 = tank.cathodes.reduce((sum, sheet) => sum + cathodeAreaM2(sheet, tank.levelM), 0);
  if (!(cathodeM2 > 0)) {
    findings.push({
      code: 'no-cathode',
      level: 'stop',
      message: 'The tank has no cathode below the surface, so no current can pass.',
      remedy: 'Add a sheet to the tank, or fill it higher.',
      placementIds: [],
    });
    return { clearances, findings, swings };
  }
  if (!(coatedM2 > 0)) return { clearances, findings, swings };
  const cathodeRatio = ratioFigure(cathodeM2, coatedM2, rules);
  const ratio = cathodeRatio.valueSi;
  const shown = (value: number): string =>
    value >= 1 ? `${ratioDigits(value)} : 1` : `1 : ${ratioDigits(1 / value)}`;
  if (ratio < rules.cathodeRatioLow) {
    findings.push({
      code: 'cathode-small',
      level: 'check',
      message: `Cathode to part area is ${shown(ratio)}, below your ${shown(rules.cathodeRatioLow)}.`,
      remedy: 'Hang fewer parts in this load or add a sheet.',
      placementIds: [],
    });
  } else if (ratio > rules.cathodeRatioHigh) {
    findings.push({
      code: 'cathode-large',
      level: 'note',
      message: `Cathode to part area is ${shown(ratio)}, above your ${shown(rules.cathodeRatioHigh)}; edges facing the sheet may coat thicker.`,
      remedy: 'Leave it, or lift part of the sheet out.',
      placementIds: [],
    });
  }
  return { clearances, cathodeRatio, findings, swings };
}

/** The figure and what is said of it print alike. */
const RATIO_DIGITS = 2;
const ratioDigits = (value: number): number => Number(value.toPrecision(RATIO_DIGITS));

function ratioFigure(cathodeM2: number, coatedM2: number, rules: TankRules): Figure {
  return {
    label: 'Cathode area over part area',
    kind: 'count',
    valueSi: cathodeM2 / coatedM2,
    digits: RATIO_DIGITS,
    formula: 'r = Ac / A',
    inputs: [
      { symbol: 'Ac', label: 'cathode area below the surface', kind: 'area', valueSi: cathodeM2 },
      { symbol: 'A', label: 'coated area', kind: 'area', valueSi: coatedM2 },
      { symbol: 'r low', label: 'smallest wanted', kind: 'count', valueSi: rules.cathodeRatioLow },
      { symbol: 'r high', label: 'largest wanted', kind: 'count', valueSi: rules.cathodeRatioHigh },
    ],
    source: {
      standing: 'published',
      text: '“Cathode Materials and Cathode/Anode Ratios”, trade journal: 1 : 3 usual, 1 : 5 to 1 : 1 met',
    },
  };
}

function clearanceOf(
  placementId: string,
  to: Neighbour,
  toId: string,
  distanceM: number,
  onPart: Vec3,
  onOther: Vec3,
): Clearance {
  return {
    placementId,
    to,
    toId,
    distanceM: {
      label: `Part to ${to === 'part' ? 'next part' : to}`,
      kind: 'length',
      valueSi: distanceM,
      formula: 'smallest distance',
      inputs: [],
      source: ON_MODEL,
    },
    onPart,
    onOther,
  };
}

/** To the nearest wall, the floor and the surface. */
function toVessel(tank: Tank, placement: Placement, body: DistanceBody): Clearance[] {
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
