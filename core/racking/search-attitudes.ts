import { failure, success, type Result } from '../result.ts';
import { orderByHeight } from './height-order.ts';
import { measurePockets } from './measure-pockets.ts';
import { rotationForUp } from './pose.ts';
import { sweepPockets, turnedOver } from './sweep-pockets.ts';
import type { TrapMesh } from './trap-mesh.ts';
import { angleBetween, unit, type Vec3 } from './vec3.ts';

/** Which ways up a contact can be hung: no further than `coneRad` from the direction in which its hanger leaves. */
export interface ContactLimit {
  readonly name: string;
  /** Model direction in which the hanger leaves the part. */
  readonly outward: Vec3;
  readonly coneRad: number;
}

export interface SearchOptions {
  /** Directions spread evenly over the sphere, at least 12. */
  readonly directions: number;
  /** Looked at as well: the part's own axes, the attitude the user has now. */
  readonly extra: readonly Vec3[];
  readonly contacts: readonly ContactLimit[];
}

/** One way up and what it traps, model units. */
export interface AttitudeScore {
  readonly up: Vec3;
  readonly gasVolume: number;
  readonly gasArea: number;
  readonly liquidVolume: number;
  /** Faces that look straight down, where bubbles stay for lack of slope. */
  readonly levelUndersideArea: number;
  /** Names of the contacts that cannot be hung this way up; such an attitude is ranked behind all others. */
  readonly contactsAgainst: readonly string[];
  /** 100 traps nothing. */
  readonly score: number;
  readonly reasons: readonly string[];
}

export interface AttitudeSearch {
  /** Every direction looked at, best first. */
  readonly ranked: readonly AttitudeScore[];
  /** The best ones that differ by at least 20° from each better one. */
  readonly distinct: readonly AttitudeScore[];
}

/** Faces within this of level hold bubbles: common practice is to tilt flat work by a few degrees. */
const LEVEL_RAD = (3 * Math.PI) / 180;
const DISTINCT_RAD = (20 * Math.PI) / 180;
const LEAST_DIRECTIONS = 12;

/**
 * Weights of the score, common practice in this order: what gas keeps from the acid is never coated, what liquid is
 * carried over spoils the next bath and the colour, a level underside only may hold bubbles.
 */
const WEIGHTS = { gasAreaShare: 100, liquidPerMetal: 20, levelShare: 1 } as const;

/** Fibonacci's spiral on the sphere: nearly even for any number. */
export function spreadDirections(count: number): Vec3[] {
  const turn = Math.PI * (3 - Math.sqrt(5));
  return Array.from({ length: count }, (_, i): Vec3 => {
    const z = 1 - (2 * i + 1) / count;
    const r = Math.sqrt(1 - z * z);
    return [r * Math.cos(turn * i), r * Math.sin(turn * i), z];
  });
}

/** What one attitude traps, without the lists that a picture needs. */
export function scoreAttitude(mesh: TrapMesh, up: Vec3, contacts: readonly ContactLimit[]): AttitudeScore {
  const direction = unit(up);
  const heights = orderByHeight(mesh.vertices, rotationForUp(direction));
  const sums = [false, true].map((mirrored) => {
    const turned = mirrored ? turnedOver(heights) : heights;
    const way: Vec3 = mirrored ? [-direction[0], -direction[1], -direction[2]] : direction;
    const sweep = sweepPockets(mesh, turned, way);
    const levels = sweep.pockets.map((pocket) => pocket.levelKey);
    let volume = 0;
    let area = 0;
    for (const pocket of measurePockets(mesh, turned, sweep.pocketOfVertex, levels, mirrored, false)) {
      volume += pocket.volume;
      area += pocket.area;
    }
    return { volume, area };
  });
  const [gas, liquid] = sums;
  const levelUndersideArea = undersideArea(mesh, direction);
  const contactsAgainst = contacts
    .filter((contact) => angleBetween(contact.outward, direction) > contact.coneRad)
    .map((contact) => contact.name);
  const penalty =
    (WEIGHTS.gasAreaShare * gas.area + WEIGHTS.levelShare * levelUndersideArea) / mesh.area +
    (WEIGHTS.liquidPerMetal * liquid.volume) / mesh.volume;
  const attitude = {
    up: direction,
    gasVolume: gas.volume,
    gasArea: gas.area,
    liquidVolume: liquid.volume,
    levelUndersideArea,
    contactsAgainst,
    score: 100 / (1 + penalty),
  };
  return { ...attitude, reasons: reasonsFor(mesh, attitude) };
}

/**
 * Looks at directions one by one and gives control back after each: between two steps the caller reports progress and
 * may stop.
 */
export function* attitudeSteps(
  mesh: TrapMesh,
  options: SearchOptions,
): Generator<{ readonly done: number; readonly total: number }, AttitudeSearch, void> {
  if (!(Number.isInteger(options.directions) && options.directions >= LEAST_DIRECTIONS)) {
    throw new RangeError(`attitudeSteps: directions is ${options.directions}, at least ${LEAST_DIRECTIONS}`);
  }
  const directions = [...options.extra.map(unit), ...spreadDirections(options.directions)];
  const found: AttitudeScore[] = [];
  for (const up of directions) {
    found.push(scoreAttitude(mesh, up, options.contacts));
    yield { done: found.length, total: directions.length };
  }
  // Sorting is stable, so of equals the user's own and the part's axes come first.
  const ranked = found.sort(
    (a, b) =>
      Math.sign(a.contactsAgainst.length) - Math.sign(b.contactsAgainst.length) ||
      Math.round(b.score * 1e6) - Math.round(a.score * 1e6),
  );
  const distinct: AttitudeScore[] = [];
  for (const attitude of ranked) {
    if (attitude.contactsAgainst.length > 0) break;
    if (distinct.every((better) => angleBetween(better.up, attitude.up) >= DISTINCT_RAD))
      distinct.push(attitude);
    if (distinct.length === 12) break;
  }
  return { ranked, distinct };
}

/** All steps in one go. Failures: `cancelled`, `contacts-disagree` (no attitude suits all contacts). */
export function searchAttitudes(
  mesh: TrapMesh,
  options: SearchOptions,
  watch: {
    readonly onProgress?: (done: number, total: number) => void;
    readonly isCancelled?: () => boolean;
  } = {},
): Result<AttitudeSearch> {
  const steps = attitudeSteps(mesh, options);
  for (;;) {
    if (watch.isCancelled?.()) {
      return failure('cancelled', 'The search was stopped.', 'Start it again when you want it.');
    }
    const step = steps.next();
    if (!step.done) {
      watch.onProgress?.(step.value.done, step.value.total);
      continue;
    }
    if (step.value.distinct.length === 0) {
      return failure(
        'contacts-disagree',
        'No attitude lets all contacts hang: their hangers would have to leave in opposite directions.',
        'Move or remove a contact, or let its hanger leave at a wider angle.',
      );
    }
    return success(step.value);
  }
}

function undersideArea(mesh: TrapMesh, up: Vec3): number {
  const { vertices, triangles } = mesh;
  const least = Math.cos(LEVEL_RAD);
  let area = 0;
  for (let i = 0; i < triangles.length; i += 3) {
    const a = 3 * triangles[i];
    const b = 3 * triangles[i + 1];
    const c = 3 * triangles[i + 2];
    const ux = vertices[b] - vertices[a];
    const uy = vertices[b + 1] - vertices[a + 1];
    const uz = vertices[b + 2] - vertices[a + 2];
    const vx = vertices[c] - vertices[a];
    const vy = vertices[c + 1] - vertices[a + 1];
    const vz = vertices[c + 2] - vertices[a + 2];
    const nx = uy * vz - uz * vy;
    const ny = uz * vx - ux * vz;
    const nz = ux * vy - uy * vx;
    const facing = -(nx * up[0] + ny * up[1] + nz * up[2]);
    if (facing <= 0) continue;
    const size = Math.sqrt(nx * nx + ny * ny + nz * nz);
    if (facing >= least * size) area += size / 2;
  }
  return area;
}

const percent = (share: number): string =>
  share < 0.001 ? 'less than 0.1 %' : `${(100 * share).toFixed(share < 0.1 ? 1 : 0)} %`;

function reasonsFor(mesh: TrapMesh, attitude: Omit<AttitudeScore, 'reasons'>): string[] {
  const reasons: string[] = [];
  const gasShare = attitude.gasArea / mesh.area;
  // Dimples between facets hold less than this; they are the mesh's, not the part's.
  if (gasShare < 1e-4) reasons.push('No gas stays under the part.');
  else reasons.push(`Gas keeps ${percent(gasShare)} of the surface from being coated.`);
  const liquidShare = attitude.liquidVolume / mesh.volume;
  if (liquidShare < 1e-4) reasons.push('No liquid is carried out.');
  else reasons.push(`It carries out liquid worth ${percent(liquidShare)} of the part’s own volume.`);
  const levelShare = attitude.levelUndersideArea / mesh.area;
  if (levelShare > 0.01) {
    reasons.push(
      `Faces that look straight down, ${percent(levelShare)} of the surface, may hold bubbles: tilt it a few degrees.`,
    );
  }
  for (const name of attitude.contactsAgainst) reasons.push(`Contact ${name} cannot hang this way up.`);
  return reasons;
}
