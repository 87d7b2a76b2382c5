import type { Figure } from '../figure/figure.ts';
import { clearanceOf } from './clearance-of.ts';
import type { UnitSystem } from '../units/unit-table.ts';
import { distanceBetween, distanceBody, type DistanceBody } from './body-distance.ts';
import { cathodeAreaM2, cathodeShape } from './cathode-shape.ts';
import { hangerFindingsInTank } from './hanger-clearance.ts';
import { judgeClearance } from './judge-clearance.ts';
import { IDENTITY_ROTATION, type Pose } from './pose.ts';
import { swingsInTank, type PlacementSwing } from './swing-check.ts';
import type { Placement, Tank, TankRules } from './tank.ts';
import type { Vec3 } from './vec3.ts';
import { overBar, toVessel, underLevel } from './vessel-clearance.ts';

/** A cathode so many times over the limit is to be looked at; one that is a little too large does little. Common practice. */
const FAR_OVER = 3;

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
    | 'over-bar'
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
  /** Per placement the smallest to each kind of neighbour; a part that stands out of the liquid has none to the surface. */
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
  /** What of it is under the level, see body-below.ts; absent where all of it is to be under. */
  readonly below?: DistanceBody;
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
/** Surfaces nearer than this touch. */
const TOUCH_M = 1e-4;

/** A part's surface, all of it and what is under the level. */
interface Surfaces {
  readonly whole: DistanceBody;
  readonly below: DistanceBody;
}

interface Surround {
  readonly id: string;
  readonly pose: Pose;
  readonly bodies: Surfaces;
}

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
 * a corner. Of a part that stands out of the liquid the distances are those under the level, since they are kept for the
 * liquid and the current; what it touches above counts all the same.
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
  /** Of the whole part, above the level too: what a swing starts from. */
  const atRest = new Map<string, Clearance>();
  const partOf = (placement: Placement): TankPart => {
    const part = parts.get(placement.partId);
    if (!part) throw new RangeError(`checkTank: no part ${placement.partId} for placement ${placement.id}`);
    return part;
  };
  const note = (clearance: Clearance): void => {
    clearances.push(clearance);
    if (clearance.to === 'wall') atRest.set(`${clearance.placementId} wall`, clearance);
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
    const vessel = toVessel(tank, placement, part.body);
    for (const clearance of part.below ? underLevel(tank, placement, part.below, vessel) : vessel) {
      note(clearance);
    }
    const over = part.below && overBar(tank, placement, part.name, vessel, system);
    if (over) findings.push(over);
    const bodiesOf = (other: TankPart): Surfaces => ({ whole: other.body, below: other.below ?? other.body });
    const own = bodiesOf(part);
    const near = (to: 'cathode' | 'part', others: readonly Surround[]): void => {
      const nearestOf = (which: keyof Surfaces): Clearance | undefined => {
        let nearest: Clearance | undefined;
        for (const { id, pose, bodies } of others) {
          const key = `${placement.id}|${id}${which === 'below' ? '' : '|whole'}`;
          const found = distanceBetween(
            own[which],
            placement.pose,
            bodies[which],
            pose,
            nearest?.distanceM.valueSi,
            hints.get(key),
          );
          if (found) hints.set(key, found.pair);
          if (found) nearest = clearanceOf(placement.id, to, id, found.distanceM, found.onA, found.onB);
        }
        return nearest;
      };
      const standsOut =
        others.some(({ bodies }) => bodies.below !== bodies.whole) || part.below !== undefined;
      const below = nearestOf('below');
      const whole = standsOut ? nearestOf('whole') : below;
      if (whole) atRest.set(`${placement.id} ${to}`, whole);
      const judged = whole && whole.distanceM.valueSi <= TOUCH_M ? whole : below;
      if (judged) note(judged);
    };
    near(
      'cathode',
      [...sheets].map(([id, sheet]) => ({ id, pose: STILL, bodies: { whole: sheet, below: sheet } })),
    );
    near(
      'part',
      placements.flatMap((other, otherIndex) =>
        otherIndex === index ? [] : [{ id: other.id, pose: other.pose, bodies: bodiesOf(partOf(other)) }],
      ),
    );
  });
  findings.push(...hangerFindingsInTank(tank, sheets, parts, placements, system, onlyId));
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
      level: ratio > FAR_OVER * rules.cathodeRatioHigh ? 'check' : 'note',
      message: `Cathode to part area is ${shown(ratio)}, above your ${shown(rules.cathodeRatioHigh)}; edges facing the sheet may coat thicker.`,
      remedy:
        'Lift part of the sheet out, hang more at once, or allow more under “Clearances you keep”: the thickness map shows what it does to this part.',
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
