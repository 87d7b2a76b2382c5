import { distanceBetween, type DistanceBody } from './body-distance.ts';
import { isHeld, swingReachM, workBars } from './part-swing.ts';
import { IDENTITY_ROTATION, rotate, type Pose } from './pose.ts';
import type { Neighbour, TankPart } from './tank-clearance.ts';
import type { Placement, Tank } from './tank.ts';
import { add, type Vec3 } from './vec3.ts';

/** What a part can hit as it swings. */
export interface SwingHit {
  readonly to: Extract<Neighbour, 'cathode' | 'wall' | 'part'>;
  /** Of the sheet or the other placement; empty for a wall. */
  readonly toId: string;
  /** Way to it, m: of two parts that swing against each other the sum of both ways. */
  readonly awayM: number;
}

export interface PlacementSwing {
  readonly placementId: string;
  /** To either side, m. */
  readonly reachM: number;
  /** The axis along which its wires keep it from swinging; null where it swings every way. */
  readonly held: 'x' | 'y' | null;
  readonly hits: readonly SwingHit[];
}

/** Smallest distance at rest of a placement to each kind of neighbour. */
type AtRest = (
  placementId: string,
  to: SwingHit['to'],
) => { readonly distanceM: number; readonly toId: string } | undefined;

const STILL: Pose = { rotation: IDENTITY_ROTATION, offsetM: [0, 0, 0] };
/** Surfaces nearer than this touch; that they do at rest is said elsewhere. */
const TOUCH_M = 1e-4;
/** Sums of lengths: a copy hung at the very room its swing wants keeps it. */
const SLACK_M = 1e-6;
const STEP_M = 5e-4;

/**
 * Every copy's own swing, and what it hits by it: exact between the surfaces. A part that is held swings along one line
 * and is followed on it; one that swings every way hits what is nearer than it reaches.
 */
export function swingsInTank(
  tank: Tank,
  sheets: ReadonlyMap<string, DistanceBody>,
  parts: ReadonlyMap<string, TankPart>,
  placements: readonly Placement[],
  atRest: AtRest,
  swingRad: number,
  onlyId?: string,
): PlacementSwing[] {
  const swings = new Map(
    placements.map((placement) => [placement.id, swingOf(tank, parts, placement, swingRad)]),
  );
  const looked = placements.filter(({ id }) => onlyId === undefined || id === onlyId);
  return looked.map((placement): PlacementSwing => {
    const swing = swings.get(placement.id)!;
    const { body } = parts.get(placement.partId)!;
    const hits: SwingHit[] = [];
    const wall = atRest(placement.id, 'wall');
    if (wall && wall.distanceM > TOUCH_M && wall.distanceM < swing.reachM - SLACK_M) {
      const awayM = swing.held ? wallAway(tank, body, placement.pose, swing) : wall.distanceM;
      if (awayM < swing.reachM - SLACK_M) hits.push({ to: 'wall', toId: '', awayM });
    }
    const cathode = atRest(placement.id, 'cathode');
    if (cathode && cathode.distanceM > TOUCH_M && cathode.distanceM < swing.reachM - SLACK_M) {
      if (!swing.held) hits.push({ to: 'cathode', toId: cathode.toId, awayM: cathode.distanceM });
      else {
        const found = [...sheets].map(([id, sheet]) => ({
          id,
          awayM: travel(body, placement.pose, sheet, STILL, swing.held!, swing.reachM),
        }));
        const near = found.reduce((least, one) => (one.awayM < least.awayM ? one : least));
        if (near.awayM < swing.reachM - SLACK_M)
          hits.push({ to: 'cathode', toId: near.id, awayM: near.awayM });
      }
    }
    const hit = partHit(parts, placements, placement, swings, atRest(placement.id, 'part'));
    if (hit) hits.push(hit);
    return { placementId: placement.id, reachM: swing.reachM, held: swing.held, hits };
  });
}

interface OwnSwing {
  readonly reachM: number;
  readonly held: 'x' | 'y' | null;
}

function swingOf(
  tank: Tank,
  parts: ReadonlyMap<string, TankPart>,
  { partId, pose }: Placement,
  swingRad: number,
): OwnSwing {
  const { body, wires = [] } = parts.get(partId)!;
  let lowest = Infinity;
  const [, , , , , , a, b, c] = pose.rotation;
  const v = body.vertices;
  for (let i = 0; i + 2 < v.length; i += 3) lowest = Math.min(lowest, a * v[i] + b * v[i + 1] + c * v[i + 2]);
  const reachM = swingReachM(tank, lowest + pose.offsetM[2], swingRad);
  const held = wires.map(({ at }): Vec3 => add(rotate(pose.rotation, at), pose.offsetM));
  const [first] = held;
  if (!first) return { reachM, held: null };
  // It hangs from the work bar it is nearest to.
  const away = (along: 'x' | 'y', acrossM: number): number =>
    Math.abs((along === 'x' ? first[1] : first[0]) - acrossM);
  const [bar] = workBars(tank).sort((p, q) => away(p.along, p.acrossM) - away(q.along, q.acrossM));
  if (!bar) return { reachM, held: null };
  const axis = bar.along === 'x' ? 0 : 1;
  return { reachM, held: isHeld(held.map((at) => at[axis])) ? bar.along : null };
}

/** The nearest copy that both swings bring it to. */
function partHit(
  parts: ReadonlyMap<string, TankPart>,
  placements: readonly Placement[],
  placement: Placement,
  swings: ReadonlyMap<string, OwnSwing>,
  nearest: ReturnType<AtRest>,
): SwingHit | undefined {
  const own = swings.get(placement.id)!;
  const { body } = parts.get(placement.partId)!;
  let best: SwingHit | undefined;
  if (nearest && nearest.distanceM <= TOUCH_M) return undefined;
  for (const other of placements) {
    if (other.id === placement.id) continue;
    const its = swings.get(other.id)!;
    const reachM = own.reachM + its.reachM - SLACK_M;
    if (nearest && nearest.distanceM >= reachM) continue;
    const otherBody = parts.get(other.partId)!.body;
    const pair = [body, placement.pose, otherBody, other.pose] as const;
    const rest = distanceBetween(...pair, reachM)?.distanceM;
    if (rest === undefined || (best && rest >= best.awayM)) continue;
    let awayM = rest;
    if (own.held !== null && own.held === its.held) awayM = travel(...pair, own.held, reachM);
    else if (own.held !== null || its.held !== null) {
      // One on its line, the other all around it: taken as moving every way even where it is held to the other axis.
      const [line, around] = own.held !== null ? [own, its] : [its, own];
      if (travel(...pair, line.held!, line.reachM, around.reachM) === Infinity) continue;
    }
    if (awayM < reachM && (!best || awayM < best.awayM)) best = { to: 'part', toId: other.id, awayM };
  }
  return best;
}

/**
 * How far a body goes across `held`, to either side, before it comes within `aroundM` of the other; Infinity where it does
 * not within `mostM`. Each step is as long as the distance that is left, so none can pass through; along a side that it
 * keeps just that distance to, it goes on by STEP_M.
 */
function travel(
  body: DistanceBody,
  pose: Pose,
  other: DistanceBody,
  otherPose: Pose,
  held: 'x' | 'y',
  mostM: number,
  aroundM = 0,
): number {
  const touchM = aroundM > 0 ? aroundM - SLACK_M : TOUCH_M;
  let least = Infinity;
  for (const way of [1, -1]) {
    let gone = 0;
    while (gone < Math.min(mostM, least)) {
      const moved = shifted(pose, held, way * gone);
      const found = distanceBetween(body, moved, other, otherPose, mostM - gone + aroundM + TOUCH_M);
      if (!found) break;
      if (found.distanceM < touchM) {
        least = gone;
        break;
      }
      gone += Math.max(found.distanceM - aroundM, STEP_M);
    }
  }
  return least;
}

const shifted = ({ rotation, offsetM: [x, y, z] }: Pose, held: 'x' | 'y', byM: number): Pose => ({
  rotation,
  offsetM: held === 'x' ? [x, y + byM, z] : [x + byM, y, z],
});

/** Way across `held` to the wall: the vessel bulges nowhere inwards, so its corners at both ends of the swing say it. */
function wallAway({ vessel }: Tank, body: DistanceBody, pose: Pose, { held, reachM }: OwnSwing): number {
  const r = pose.rotation;
  const v = body.vertices;
  let least = Infinity;
  for (let i = 0; i + 2 < v.length; i += 3) {
    const x = r[0] * v[i] + r[1] * v[i + 1] + r[2] * v[i + 2] + pose.offsetM[0];
    const y = r[3] * v[i] + r[4] * v[i + 1] + r[5] * v[i + 2] + pose.offsetM[1];
    const [along, across] = held === 'x' ? [x, y] : [y, x];
    const halfM =
      vessel.shape === 'round'
        ? Math.sqrt(Math.max(0, (vessel.diameterM / 2) ** 2 - along * along))
        : (held === 'x' ? vessel.widthM : vessel.lengthM) / 2;
    least = Math.min(least, halfM - Math.abs(across));
  }
  return least < reachM ? least : Infinity;
}
