import { COVERAGE_BITS } from '../faces/coverage-flags.ts';
import type { UnitSystem } from '../units/unit-table.ts';
import { normalOf, type ClampPlace } from './clamp-places.ts';
import { flatClampPlaces, jawsAt } from './flat-clamps.ts';
import { roundClampPlaces } from './round-clamps.ts';
import { sampleFlagged, type ContactGround } from './contact-ground.ts';
import { contactPatches } from './contact-patch.ts';
import { judgePlace, type ContactAdvice, type JudgeContext } from './judge-place.ts';
import { subtract, unit, type Vec3 } from './vec3.ts';

export interface AdviserOptions {
  readonly metresPerUnit: number;
  /** The model direction that points up in the bath. */
  readonly up: Vec3;
  /** Height of the bath's level along `up`, model units; all of the part is in the bath where it is left out. */
  readonly level?: number | undefined;
  /** Through the whole part; undefined while the plan has none. */
  readonly currentA?: number;
  /** Of gravity, model units; the middle of the box where the mesh is open. */
  readonly centre: Vec3;
  /** Bare metal under one clamp. */
  readonly patchDiameterM: number;
  readonly allowShown: boolean;
  readonly allowMasked: boolean;
  /** Proposals wanted. */
  readonly most: number;
  /** Of the sizes in the reasons; metric where it is left out. */
  readonly system?: UnitSystem;
}

/** Among equal places the ones above the centre of gravity are proposed. */
const BALANCE_IN_CHOICE = 0.14;

/** One of the user's own pins. Model units, but for its patch. */
export interface PinToJudge {
  readonly at: Vec3;
  readonly triangle: number;
  /** Bare metal under it; that of the options where it is left out. */
  readonly patchDiameterM?: number;
}

/** Answers for one part, hung one way, with one current. */
export interface Adviser {
  advise(): ContactAdvice[];
  /**
   * The same critique for the user's own pins: of one that holds the part alone, or of each as one of several, with
   * its even share of the current.
   */
  critique(pins: readonly PinToJudge[], asOneOfSeveral?: boolean): ContactAdvice[];
}

/**
 * Finds and ranks places to clamp: holes, bores, bosses, and spots where a sprung clamp's two jaws find opposed faces.
 * @param flags one byte a triangle, see faces/coverage-flags.ts
 */
export function createAdviser(ground: ContactGround, flags: Uint8Array, options: AdviserOptions): Adviser {
  const { surface, size } = ground;
  const { triangleCount } = surface.geometry;
  if (flags.length !== triangleCount) {
    throw new RangeError(`createAdviser: ${flags.length} flags for ${triangleCount} triangles`);
  }
  const { metresPerUnit, patchDiameterM, centre, currentA, level, system } = options;
  for (const [key, value] of Object.entries({ metresPerUnit, patchDiameterM })) {
    if (!(value > 0)) throw new RangeError(`createAdviser: ${key} is ${value}`);
  }
  const padRadius = (diameterM: number): number => Math.min(diameterM / 2 / metresPerUnit, 0.1 * size);
  const context: JudgeContext = {
    surface,
    flags,
    size,
    up: unit(options.up),
    centre,
    metresPerUnit,
    level,
    currentA,
    padRadius: padRadius(patchDiameterM),
    shown: sampleFlagged(surface, flags, COVERAGE_BITS.show),
    system,
  };
  return {
    advise: () => advise(context, options, ground),
    critique: (pins, asOneOfSeveral = false) =>
      pins.map((pin) => {
        const here: JudgeContext = {
          ...context,
          padRadius: padRadius(pin.patchDiameterM ?? patchDiameterM),
          currentA: asOneOfSeveral && currentA !== undefined ? currentA / pins.length : currentA,
        };
        const alone = judgePlace(here, placeOfPin(here, ground, pin));
        return asOneOfSeveral ? { ...alone, score: alone.place, reasons: alone.placeReasons } : alone;
      }),
  };
}

function advise(
  context: JudgeContext,
  options: AdviserOptions,
  { rounds, vents }: ContactGround,
): ContactAdvice[] {
  const { surface, flags, padRadius, size } = context;
  const never =
    (options.allowShown ? 0 : COVERAGE_BITS.show) | (options.allowMasked ? 0 : COVERAGE_BITS.mask);
  const accept = (triangle: number): boolean => (flags[triangle] & never) === 0;
  const round = roundClampPlaces(surface, rounds, vents, context.up, options.centre, options.metresPerUnit);
  const { faceOfTriangle } = surface.geometry.faces;
  // Bores and bosses are held as such; a jaw on their flank would only find the same place worse. A boss too wide for a ring
  // clamp may be a tube, held by its rim.
  const heldRows = new Set(round.map(({ triangle }) => faceOfTriangle[triangle]));
  const roundRows = new Set(
    rounds.flatMap(({ inward, rows }) => (inward || rows.some((row) => heldRows.has(row)) ? rows : [])),
  );
  const flat = (triangle: number): boolean => accept(triangle) && !roundRows.has(faceOfTriangle[triangle]);
  const places = [...round, ...flatClampPlaces(surface, padRadius, options.metresPerUnit, flat)].filter(
    (place) => accept(place.triangle),
  );
  // By the place first: a corner that is poor alone can be half of the best pair.
  const choice = ({ place, parts }: ContactAdvice): number =>
    (1 - BALANCE_IN_CHOICE) * place + 100 * BALANCE_IN_CHOICE * parts.balance;
  const ranked = places.map((place) => judgePlace(context, place)).sort((a, b) => choice(b) - choice(a));
  const chosen: ContactAdvice[] = [];
  const spacing = Math.max(4 * padRadius, 0.08 * size);
  for (const advice of ranked) {
    if (chosen.length >= options.most) break;
    const near = chosen.some((other) => Math.hypot(...subtract(other.at, advice.at)) < spacing);
    if (near || !padIsAllowed(context, options, advice)) continue;
    chosen.push(advice);
  }
  return chosen.sort((a, b) => b.score - a.score);
}

/** The whole pad, not only its middle, keeps off what must not be touched. */
function padIsAllowed(
  { surface, flags, padRadius }: JudgeContext,
  options: AdviserOptions,
  advice: ContactAdvice,
): boolean {
  if (options.allowShown && options.allowMasked) return true;
  const [patch] = contactPatches(surface.geometry, flags, [
    { at: advice.at, triangle: advice.triangle, radius: padRadius },
  ]);
  const least = 1e-6 * patch.area;
  return (options.allowShown || patch.shown <= least) && (options.allowMasked || patch.masked <= least);
}

function placeOfPin(
  { surface, up, centre, metresPerUnit, padRadius }: JudgeContext,
  { rounds, vents }: ContactGround,
  pin: PinToJudge,
): ClampPlace {
  const { geometry } = surface;
  if (!(Number.isInteger(pin.triangle) && pin.triangle >= 0 && pin.triangle < geometry.triangleCount)) {
    throw new RangeError(`critique: triangle is ${pin.triangle}, the part has ${geometry.triangleCount}`);
  }
  const row = geometry.faces.faceOfTriangle[pin.triangle];
  const round = rounds.find((place) => place.rows.includes(row));
  const places = round ? roundClampPlaces(surface, [round], vents, up, centre, metresPerUnit) : [];
  const flat = jawsAt(surface, pin.triangle, pin.at, padRadius, metresPerUnit);
  const away = ({ at }: ClampPlace): number => Math.hypot(...subtract(at, pin.at));
  const [nearest] = [...places].sort((a, b) => away(a) - away(b));
  if (nearest) {
    return { ...nearest, at: pin.at, triangle: pin.triangle, normal: normalOf(geometry, pin.triangle) };
  }
  return (
    flat ?? {
      kind: 'one side only',
      at: pin.at,
      triangle: pin.triangle,
      normal: up,
      entry: pin.at,
      area: Math.PI * padRadius ** 2,
      span: Infinity,
      skewRad: Math.PI,
    }
  );
}
