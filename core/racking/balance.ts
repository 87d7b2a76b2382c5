import type { Figure, Source } from '../figure/figure.ts';
import type { IndexedMesh } from '../mesh/mesh.ts';
import { failure, success, type Result } from '../result.ts';
import { add, angleBetween, cross, dot, length, scale, subtract, unit, type Vec3 } from './vec3.ts';

/** Volume and centre of a solid, model units. */
export interface SolidMoments {
  readonly volume: number;
  readonly centre: Vec3;
}

/**
 * Volume and centre of gravity by the divergence theorem: every triangle with one fixed point makes a tetrahedron of
 * signed volume. True for a closed mesh only; the caller asks for that. Failure: `no-volume` when the sum is not positive.
 */
export function solidMoments(mesh: IndexedMesh): Result<SolidMoments> {
  const { vertices, triangles } = mesh;
  if (triangles.length === 0) return failure('no-volume', 'The part has no surface.', 'Open a model file.');
  // A point of the part itself, so that a part far from zero loses no digits.
  const origin: Vec3 = [
    vertices[3 * triangles[0]],
    vertices[3 * triangles[0] + 1],
    vertices[3 * triangles[0] + 2],
  ];
  let volume = 0;
  let mx = 0;
  let my = 0;
  let mz = 0;
  for (let i = 0; i < triangles.length; i += 3) {
    const a = 3 * triangles[i];
    const b = 3 * triangles[i + 1];
    const c = 3 * triangles[i + 2];
    const ax = vertices[a] - origin[0];
    const ay = vertices[a + 1] - origin[1];
    const az = vertices[a + 2] - origin[2];
    const bx = vertices[b] - origin[0];
    const by = vertices[b + 1] - origin[1];
    const bz = vertices[b + 2] - origin[2];
    const cx = vertices[c] - origin[0];
    const cy = vertices[c + 1] - origin[1];
    const cz = vertices[c + 2] - origin[2];
    const six = ax * (by * cz - bz * cy) + ay * (bz * cx - bx * cz) + az * (bx * cy - by * cx);
    volume += six / 6;
    mx += (six * (ax + bx + cx)) / 24;
    my += (six * (ay + by + cy)) / 24;
    mz += (six * (az + bz + cz)) / 24;
  }
  if (!(volume > 0)) {
    return failure(
      'no-volume',
      'The surface encloses no metal, so the part has no weight.',
      'Close the surface and turn it the right way round.',
    );
  }
  return success({ volume, centre: add(origin, [mx / volume, my / volume, mz / volume]) });
}

/** @param density with the source it came from (the alloy's row) */
export function massFigure(
  volumeM3: number,
  density: { readonly kgPerM3: number; readonly source: Source },
  unconfirmed?: string,
): Figure {
  if (!(volumeM3 > 0)) throw new RangeError(`massFigure: volumeM3 is ${volumeM3}`);
  if (!(density.kgPerM3 > 0)) throw new RangeError(`massFigure: density.kgPerM3 is ${density.kgPerM3}`);
  return {
    label: 'Mass',
    kind: 'mass',
    valueSi: volumeM3 * density.kgPerM3,
    formula: 'm = ρ · V',
    inputs: [
      { symbol: 'ρ', label: 'density', kind: 'density', valueSi: density.kgPerM3 },
      { symbol: 'V', label: 'volume', kind: 'volume', valueSi: volumeM3 },
    ],
    source: density.source,
    ...(unconfirmed === undefined ? {} : { unconfirmed }),
  };
}

/** How a part comes to rest under its hangers. Directions and places in the model's own frame. */
export interface Rest {
  /** The model direction that points up at rest. */
  readonly up: Vec3;
  /** Angle between that and the wanted attitude. */
  readonly tiltRad: number;
  /** Share of the weight on each hanger, in the order given; they add up to 1. Empty where statics leave them open. */
  readonly shares: readonly number[];
  /** Where statics leave the shares open, the least and the most that each may come to carry; else the shares themselves. */
  readonly leastShares: readonly number[];
  readonly mostShares: readonly number[];
}

/**
 * One hanger: the part swings until its centre of gravity hangs below the pin. Failure: `centre-at-pin` (it would stay
 * any way round).
 */
export function restUnderOne(pin: Vec3, centre: Vec3, wantedUp: Vec3, size: number): Result<Rest> {
  const above = subtract(pin, centre);
  if (length(above) < 1e-6 * size) {
    return failure(
      'centre-at-pin',
      'The contact is at the centre of gravity, so the part stays whichever way it is turned and may turn over by itself.',
      'Move the contact away from the middle of the part.',
    );
  }
  const up = unit(above);
  return success({ up, tiltRad: angleBetween(up, wantedUp), shares: [1], leastShares: [1], mostShares: [1] });
}

/**
 * Two hangers on upright wires that keep the height difference of the wanted attitude: the part turns about the line
 * through both pins until its centre of gravity is lowest. The shares follow from the lever arms along the level
 * direction in which the pins lie apart; a share below 0 means that hanger would be pushed up, which a wire cannot.
 * Failures: `pins-together`, `pins-upright` (one straight above the other: then only the upper one carries),
 * `centre-on-line`, `hanger-unloaded`.
 */
export function restUnderTwo(
  pins: readonly [Vec3, Vec3],
  centre: Vec3,
  wantedUp: Vec3,
  size: number,
): Result<Rest> {
  const between = subtract(pins[1], pins[0]);
  const span = length(between);
  if (span < 1e-6 * size) {
    return failure('pins-together', 'Both contacts are at the same place.', 'Move one of them away.');
  }
  const line = scale(between, 1 / span);
  const slope = dot(line, unit(wantedUp));
  const levelPart = Math.sqrt(Math.max(0, 1 - slope * slope));
  if (levelPart < 1e-3) {
    return failure(
      'pins-upright',
      'One contact is straight above the other, so the upper hanger carries everything.',
      'Use one hanger, or turn the part.',
    );
  }
  const fromFirst = subtract(centre, pins[0]);
  const along = dot(fromFirst, line);
  const aside = subtract(fromFirst, scale(line, along));
  if (length(aside) < 1e-6 * size) {
    return failure(
      'centre-on-line',
      'The centre of gravity lies on the line between the contacts, so the part stays whichever way it is turned about it.',
      'Move the contacts to one side of the middle of the part.',
    );
  }
  const up = add(scale(line, slope), scale(unit(aside), -levelPart));
  // Level coordinate of the centre along the direction in which the pins lie apart.
  const level = subtract(line, scale(up, slope));
  const share = dot(fromFirst, level) / dot(between, level);
  const shares = [1 - share, share];
  if (share < 0 || share > 1) {
    return failure(
      'hanger-unloaded',
      'The centre of gravity is not between the two hangers, so one of them goes slack and the part tips.',
      'Move the contacts to both sides of the centre of gravity.',
    );
  }
  return success({
    up,
    tiltRad: angleBetween(up, wantedUp),
    shares,
    leastShares: shares,
    mostShares: shares,
  });
}

/** Lift of trapped gas and of hollows that no liquid fills, against the weight of the part in the bath. */
export interface GasLift {
  readonly liftN: Figure;
  /** Lift over the weight that is left in the bath; from 1 on the part floats off its hangers. */
  readonly shareOfWeight: Figure;
  readonly matters: boolean;
  readonly floats: boolean;
  /** What lifts it. */
  readonly by: 'gas' | 'hollows' | 'both';
}

const GRAVITY_M_PER_S2 = 9.80665;
/** Above this share a light hook can unhook; common practice is to keep a good part of the weight on it. */
const LIFT_MATTERS = 0.1;
const ARCHIMEDES: Source = {
  standing: 'definition',
  text: 'Archimedes’ principle; standard gravity 9.80665 m/s² (CGPM 1901)',
};

export function gasLift(input: {
  readonly gasVolumeM3: number;
  /** Hollows shut off from the bath, by metal or by plugs. */
  readonly sealedVolumeM3?: number;
  readonly metalVolumeM3: number;
  readonly metalKgPerM3: number;
  readonly bathKgPerM3: number;
}): GasLift {
  const { gasVolumeM3, sealedVolumeM3 = 0, metalVolumeM3, metalKgPerM3, bathKgPerM3 } = input;
  if (!(gasVolumeM3 >= 0)) throw new RangeError(`gasLift: gasVolumeM3 is ${gasVolumeM3}`);
  if (!(sealedVolumeM3 >= 0)) throw new RangeError(`gasLift: sealedVolumeM3 is ${sealedVolumeM3}`);
  if (!(metalVolumeM3 > 0)) throw new RangeError(`gasLift: metalVolumeM3 is ${metalVolumeM3}`);
  if (!(metalKgPerM3 > bathKgPerM3 && bathKgPerM3 > 0)) {
    throw new RangeError(`gasLift: metal ${metalKgPerM3} kg/m³ in a bath of ${bathKgPerM3} kg/m³`);
  }
  const lift = bathKgPerM3 * (gasVolumeM3 + sealedVolumeM3) * GRAVITY_M_PER_S2;
  const sealed = sealedVolumeM3 > 0;
  const weight = (metalKgPerM3 - bathKgPerM3) * metalVolumeM3 * GRAVITY_M_PER_S2;
  const inputs = [
    { symbol: 'ρb', label: 'density of the bath', kind: 'density', valueSi: bathKgPerM3 },
    { symbol: 'Vg', label: 'trapped gas', kind: 'volume', valueSi: gasVolumeM3, unit: 'in³' },
    ...(sealed
      ? ([
          { symbol: 'Vh', label: 'sealed hollows', kind: 'volume', valueSi: sealedVolumeM3, unit: 'in³' },
        ] as const)
      : []),
  ] as const;
  return {
    liftN: {
      label: sealed ? 'Lift' : 'Gas lift',
      kind: 'force',
      valueSi: lift,
      formula: sealed ? 'F = ρb · (Vg + Vh) · g' : 'F = ρb · Vg · g',
      inputs,
      source: ARCHIMEDES,
    },
    shareOfWeight: {
      label: sealed ? 'Lift over weight in the bath' : 'Gas lift over weight in the bath',
      kind: 'fraction',
      valueSi: lift / weight,
      formula: sealed ? 'ρb · (Vg + Vh) / ((ρ − ρb) · V)' : 'ρb · Vg / ((ρ − ρb) · V)',
      inputs: [
        ...inputs,
        { symbol: 'ρ', label: 'density of the part', kind: 'density', valueSi: metalKgPerM3 },
        { symbol: 'V', label: 'volume of the part', kind: 'volume', valueSi: metalVolumeM3, unit: 'in³' },
      ],
      source: ARCHIMEDES,
    },
    matters: lift >= LIFT_MATTERS * weight,
    floats: lift >= weight,
    by: !sealed ? 'gas' : gasVolumeM3 > 0 ? 'both' : 'hollows',
  };
}

/** How far from its hangers' upright the part can reach, metres, level. */
export interface SwingEnvelope {
  /** At rest, from the hanger's upright (one hanger) or from the plane through both (two). */
  readonly restM: number;
  /** With the swing. */
  readonly swungM: number;
  /** One wire lets the part turn: the reach is a full circle. Two hold it: the reach is to both sides of their plane. */
  readonly turns: boolean;
}

/**
 * The part with its wires as one rigid pendulum hung from the bar: a point at depth D under the bar and r aside comes
 * to r·cos δ + D·sin δ. Bending of the wire and pendulum of the part on its own wire are left out; common practice for
 * δ is 5-10° in a stirred tank.
 * @param posed vertices in the tank's frame, metres
 * @param barPoints where the hangers are fixed to the bar: one or two
 */
export function swingEnvelope(
  posed: Float64Array,
  barPoints: readonly Vec3[],
  swingRad: number,
): SwingEnvelope {
  if (barPoints.length < 1 || barPoints.length > 2) {
    throw new RangeError(`swingEnvelope: ${barPoints.length} barPoints, one or two`);
  }
  if (!(swingRad >= 0 && swingRad < Math.PI / 2))
    throw new RangeError(`swingEnvelope: swingRad is ${swingRad}`);
  const [first, second] = barPoints;
  const apart: Vec3 | undefined = second && [second[0] - first[0], second[1] - first[1], 0];
  const two = apart !== undefined && length(apart) > 0;
  const normal = two ? unit(cross(apart, [0, 0, 1])) : undefined;
  let restM = 0;
  let swungM = 0;
  for (let i = 0; i + 2 < posed.length; i += 3) {
    const dx = posed[i] - first[0];
    const dy = posed[i + 1] - first[1];
    const depth = first[2] - posed[i + 2];
    const aside = normal ? Math.abs(dx * normal[0] + dy * normal[1]) : Math.hypot(dx, dy);
    if (aside > restM) restM = aside;
    const swung = aside * Math.cos(swingRad) + Math.max(0, depth) * Math.sin(swingRad);
    if (swung > swungM) swungM = swung;
  }
  return { restM, swungM: Math.max(restM, swungM), turns: !two };
}
