import { COVERAGE_BITS } from '../faces/coverage-flags.ts';
import type { PartGeometry } from '../mesh/part-geometry.ts';
import { formatIn, formatQuantity } from '../units/format-quantity.ts';
import type { UnitSystem } from '../units/unit-table.ts';
import {
  cast,
  flatClampPlaces,
  jawsAt,
  listFaceTriangles,
  MOST_SKEW_RAD,
  normalOf,
  roundClampPlaces,
  type ClampKind,
  type ClampPlace,
  type Surface,
} from './clamp-places.ts';
import { contactPatches } from './contact-patch.ts';
import type { ContactLimit } from './search-attitudes.ts';
import { castRay } from './ray-cast.ts';
import { findRoundPlaces, type RoundPlace } from './round-places.ts';
import { spreadDirections } from './search-attitudes.ts';
import { buildTriangleBvh } from './triangle-bvh.ts';
import { add, angleBetween, dot, scale, subtract, unit, type Vec3 } from './vec3.ts';

export interface AdviserOptions {
  readonly metresPerUnit: number;
  /** The model direction that points up in the bath. */
  readonly up: Vec3;
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

/** Each from 0 to 1. */
export interface ContactParts {
  readonly sight: number;
  readonly grip: number;
  readonly area: number;
  readonly balance: number;
  readonly reach: number;
  readonly apart: number;
}

export interface ContactAdvice {
  readonly kind: ClampKind;
  readonly at: Vec3;
  readonly triangle: number;
  /** 0 to 100: how well the part hangs by this alone. For one contact of several it is `place`. */
  readonly score: number;
  /** 0 to 100: how good a contact is made here, whatever else holds the part. */
  readonly place: number;
  readonly parts: ContactParts;
  readonly reasons: readonly string[];
  /** The reasons that hold for it as one of several contacts: without balance. */
  readonly placeReasons: readonly string[];
  /** Ways up that it can hang, for the search over attitudes. */
  readonly limit: Pick<ContactLimit, 'outward' | 'coneRad'>;
  /** On a face flagged to be seen, or masked: only where that was asked for, or for the user's own pin. */
  readonly onShown: boolean;
  readonly onMasked: boolean;
}

/** How much each counts for the place, of 100. Common practice: contact lost is worse than a mark seen. */
const PLACE_WEIGHTS: Readonly<Record<Exclude<keyof ContactParts, 'balance'>, number>> = {
  grip: 32,
  sight: 25,
  area: 21,
  reach: 14,
  apart: 8,
};
/**
 * What is left of a place's score where it holds the part alone: by one point the part swings and turns, and one loose
 * contact ends the run (common practice: two points wherever the part allows). The lesser where the part hangs askew.
 */
const LONE_SHARE = { askew: 0.3, straight: 0.6 } as const;
/** A clamp with less grip than this slips off. */
export const LEAST_GRIP = 0.2;
/** Among equal places the ones above the centre of gravity are proposed. */
const BALANCE_IN_CHOICE = 0.14;
/**
 * Contact area per ampere, m²: no standard found; the finishing guidebook's 0.93 A/mm² of aluminium cross-section,
 * taken for true metal contact (derived, weak).
 */
const WANTED_M2_PER_A = 1e-6 / 0.93;
/** A mark this far from a show face does not catch the eye; common practice. */
const FAR_FROM_SHOWN_M = 0.01;
/** Clearance hole of an M12: the widest bolt a small shop hangs parts from (common practice). */
const WIDEST_BOLT_M = 0.0135;
const SKY = spreadDirections(24);
/** A held pin lets the part hang within this of the way it was judged for; bolts and plugs hold any way up. */
const HOOK_CONE_RAD = (60 * Math.PI) / 180;

/** The part made ready once; pins are then judged while they are dragged. */
export interface Adviser {
  advise(): ContactAdvice[];
  /** The same critique for the user's own pins: of one that holds the part alone, or of each as one of several. */
  critique(
    pins: readonly { readonly at: Vec3; readonly triangle: number }[],
    asOneOfSeveral?: boolean,
  ): ContactAdvice[];
}

/**
 * Finds and ranks places to clamp: holes, bores, bosses, and spots where a sprung clamp's two jaws find opposed faces.
 * @param flags one byte a triangle, see faces/coverage-flags.ts
 */
export function createAdviser(geometry: PartGeometry, flags: Uint8Array, options: AdviserOptions): Adviser {
  if (flags.length !== geometry.triangleCount) {
    throw new RangeError(`createAdviser: ${flags.length} flags for ${geometry.triangleCount} triangles`);
  }
  for (const key of ['metresPerUnit', 'patchDiameterM'] as const) {
    if (!(options[key] > 0)) throw new RangeError(`createAdviser: ${key} is ${options[key]}`);
  }
  const up = unit(options.up);
  const vertices = Float64Array.from(geometry.graph.indexed.vertices);
  const bvh = buildTriangleBvh(vertices, geometry.graph.indexed.triangles);
  const surface: Surface = { geometry, vertices, bvh, ...listFaceTriangles(geometry) };
  const rounds = findRoundPlaces(geometry, bvh, vertices);
  const size = Math.hypot(...subtract(geometry.max, geometry.min));
  const padRadius = Math.min(options.patchDiameterM / 2 / options.metresPerUnit, 0.1 * size);
  const shown = sampleFlagged(surface, flags, COVERAGE_BITS.show);
  const context: Context = { surface, flags, options, up, size, padRadius, shown };
  return {
    advise: () => advise(context, rounds),
    critique: (pins, asOneOfSeveral = false) =>
      pins.map((pin) => {
        const alone = judge(context, placeOfPin(context, rounds, pin));
        return asOneOfSeveral ? { ...alone, score: alone.place, reasons: alone.placeReasons } : alone;
      }),
  };
}

interface Context {
  readonly surface: Surface;
  readonly flags: Uint8Array;
  readonly options: AdviserOptions;
  readonly up: Vec3;
  readonly size: number;
  readonly padRadius: number;
  readonly shown: readonly Vec3[];
}

function advise(context: Context, rounds: readonly RoundPlace[]): ContactAdvice[] {
  const { surface, flags, options, padRadius, size } = context;
  const never =
    (options.allowShown ? 0 : COVERAGE_BITS.show) | (options.allowMasked ? 0 : COVERAGE_BITS.mask);
  const accept = (triangle: number): boolean => (flags[triangle] & never) === 0;
  // Bores and bosses are held as such; a jaw on their flank would only find the same place worse.
  const roundRows = new Set(rounds.flatMap((place) => place.rows));
  const flat = (triangle: number): boolean =>
    accept(triangle) && !roundRows.has(surface.geometry.faces.faceOfTriangle[triangle]);
  const places = [
    ...roundClampPlaces(surface, rounds, context.up, options.centre, options.metresPerUnit),
    ...flatClampPlaces(surface, padRadius, options.metresPerUnit, flat),
  ].filter((place) => accept(place.triangle));
  // By the place first: a corner that is poor alone can be half of the best pair.
  const choice = ({ place, parts }: ContactAdvice): number =>
    (1 - BALANCE_IN_CHOICE) * place + 100 * BALANCE_IN_CHOICE * parts.balance;
  const ranked = places.map((place) => judge(context, place)).sort((a, b) => choice(b) - choice(a));
  const chosen: ContactAdvice[] = [];
  const spacing = Math.max(4 * padRadius, 0.08 * size);
  for (const advice of ranked) {
    if (chosen.length >= options.most) break;
    const near = chosen.some((other) => Math.hypot(...subtract(other.at, advice.at)) < spacing);
    if (near || !padIsAllowed(context, advice)) continue;
    chosen.push(advice);
  }
  return chosen.sort((a, b) => b.score - a.score);
}

/** The whole pad, not only its middle, keeps off what must not be touched. */
function padIsAllowed({ surface, flags, options, padRadius }: Context, advice: ContactAdvice): boolean {
  if (options.allowShown && options.allowMasked) return true;
  const [patch] = contactPatches(surface.geometry, flags, [
    { at: advice.at, triangle: advice.triangle, radius: padRadius },
  ]);
  const least = 1e-6 * patch.area;
  return (options.allowShown || patch.shown <= least) && (options.allowMasked || patch.masked <= least);
}

function placeOfPin(
  context: Context,
  rounds: readonly RoundPlace[],
  pin: { readonly at: Vec3; readonly triangle: number },
): ClampPlace {
  const { surface, options, up } = context;
  const { geometry } = surface;
  if (!(Number.isInteger(pin.triangle) && pin.triangle >= 0 && pin.triangle < geometry.triangleCount)) {
    throw new RangeError(`critique: triangle is ${pin.triangle}, the part has ${geometry.triangleCount}`);
  }
  const row = geometry.faces.faceOfTriangle[pin.triangle];
  const round = rounds.find((place) => place.rows.includes(row));
  const places = round ? roundClampPlaces(surface, [round], up, options.centre, options.metresPerUnit) : [];
  const flat = jawsAt(surface, pin.triangle, pin.at, context.padRadius, options.metresPerUnit);
  if (places.length > 0) {
    return { ...places[0], at: pin.at, triangle: pin.triangle, normal: normalOf(geometry, pin.triangle) };
  }
  return (
    flat ?? {
      kind: 'one side only',
      at: pin.at,
      triangle: pin.triangle,
      normal: up,
      entry: pin.at,
      area: Math.PI * context.padRadius ** 2,
      span: Infinity,
      skewRad: Math.PI,
    }
  );
}

function judge(context: Context, spot: ClampPlace): ContactAdvice {
  const { flags } = context;
  const ofPlace: Readonly<Record<keyof typeof PLACE_WEIGHTS, Verdict>> = {
    grip: judgeGrip(context, spot),
    sight: judgeSight(context, spot),
    area: judgeArea(context, spot),
    reach: judgeReach(context, spot),
    apart: judgeApart(context, spot),
  };
  const balance = judgeBalance(context, spot);
  const keys = Object.keys(PLACE_WEIGHTS) as (keyof typeof PLACE_WEIGHTS)[];
  const bits = flags[spot.triangle];
  const onShown = (bits & COVERAGE_BITS.show) !== 0;
  const onMasked = (bits & COVERAGE_BITS.mask) !== 0;
  let place = keys.reduce((sum, key) => sum + PLACE_WEIGHTS[key] * ofPlace[key].share, 0);
  // Without a grip the rest does not help.
  if (ofPlace.grip.share < LEAST_GRIP) place *= 0.5;
  if (onShown) place *= 0.3;
  if (onMasked) place *= 0.5;
  const warnings = [
    ...(onShown ? ['It is on a face that is to be seen: the clamp leaves a bare mark there.'] : []),
    ...(onMasked ? ['It is on a masked face: the mask keeps the current out, so clear it there.'] : []),
  ];
  const about = keys.flatMap((key) => (ofPlace[key].reason ? [ofPlace[key].reason] : []));
  const { askew, straight } = LONE_SHARE;
  const holdsAnyWay = spot.kind === 'through hole' || spot.kind === 'blind hole' || spot.kind === 'bore';
  return {
    kind: spot.kind,
    at: spot.at,
    triangle: spot.triangle,
    score: place * (askew + (straight - askew) * balance.share),
    place,
    parts: {
      grip: ofPlace.grip.share,
      sight: ofPlace.sight.share,
      area: ofPlace.area.share,
      balance: balance.share,
      reach: ofPlace.reach.share,
      apart: ofPlace.apart.share,
    },
    reasons: [...warnings, balance.reason, ...about],
    placeReasons: [...warnings, ...about],
    limit: { outward: context.up, coneRad: holdsAnyWay ? Math.PI : HOOK_CONE_RAD },
    onShown,
    onMasked,
  };
}

interface Verdict {
  readonly share: number;
  readonly reason: string;
}

const lengthText = (metres: number, system: UnitSystem = 'metric'): string =>
  formatQuantity('length', metres, system, metres < 0.1 ? 2 : 3).text;
/** Of a contact: square centimetres are too large for it. */
const patchText = (areaM2: number, system: UnitSystem = 'metric'): string =>
  (system === 'metric' ? formatIn('area', areaM2, 'mm²', 2) : formatQuantity('area', areaM2, system, 2)).text;

function judgeGrip({ options: { metresPerUnit, system } }: Context, place: ClampPlace): Verdict {
  // Nothing opposite has no span.
  const span = place.span < Infinity ? lengthText(place.span * metresPerUnit, system) : '';
  switch (place.kind) {
    case 'through hole':
      return place.span * metresPerUnit > WIDEST_BOLT_M
        ? {
            share: 0.85,
            reason: `A through hole of ${span}, wide for a bolt: a bolt with plates on both sides, or a plug that expands, holds.`,
          }
        : { share: 1, reason: `A through hole of ${span}: bolt and nut hold without slipping.` };
    case 'blind hole':
      return {
        share: 0.9,
        reason: `A hole of ${span} with a bottom: a bolt in its thread, or a plug or wire that expands, holds.`,
      };
    case 'bore':
      return { share: 0.7, reason: `A bore of ${span}: a sprung brace holds from inside.` };
    case 'boss':
      return { share: 0.75, reason: `A round boss of ${span}: a ring clamp holds all around it.` };
    case 'opposed flats': {
      const share = 0.85 * (1 - (0.5 * place.skewRad) / MOST_SKEW_RAD);
      const skew = Math.round((place.skewRad * 180) / Math.PI);
      return skew < 1
        ? { share, reason: `Two faces lie opposite, ${span} apart: a sprung clamp holds square.` }
        : {
            share,
            reason: `Two faces lie opposite, ${span} apart, ${skew}° out of parallel: a sprung clamp holds inside its friction.`,
          };
    }
    case 'one side only':
      return { share: 0.05, reason: 'Nothing lies opposite within reach of a clamp: it would slip off.' };
  }
}

/** Share of the sky above the spot that the part itself hides. */
function judgeSight(context: Context, place: ClampPlace): Verdict {
  const from = add(place.at, scale(place.normal, 1e-3 * context.padRadius));
  let open = 0;
  let seen = 0;
  for (const direction of SKY) {
    const facing = dot(direction, place.normal);
    if (facing <= 0.05) continue;
    open += facing;
    if (!castRay(cast(context.surface), from, direction, 0)) seen += facing;
  }
  const hidden = open > 0 ? 1 - seen / open : 0;
  if (hidden > 0.7) return { share: hidden, reason: 'Out of sight: the part hides it nearly all around.' };
  if (hidden > 0.3) return { share: hidden, reason: 'Partly out of sight, in a recess or corner.' };
  return { share: hidden, reason: 'Open to view: the mark will show unless that side is turned away.' };
}

function judgeArea({ options, padRadius }: Context, place: ClampPlace): Verdict {
  const square = options.metresPerUnit ** 2;
  const have = Math.min(place.area, 8 * Math.PI * padRadius ** 2) * square;
  const room = patchText(have, options.system);
  if (options.currentA === undefined) {
    return {
      share: Math.min(1, have / 10e-6),
      reason: `Room for ${room} of contact; the current is not known yet.`,
    };
  }
  const wanted = options.currentA * WANTED_M2_PER_A;
  // Twice what is wanted: pressed metal never touches all over.
  const share = wanted > 0 ? Math.min(1, have / (2 * wanted)) : 1;
  const need = `${patchText(wanted, options.system)} for ${formatIn('current', options.currentA, 'A').text}`;
  return share >= 1
    ? { share, reason: `Room for ${room} of contact, well over the ${need}.` }
    : share >= 0.5
      ? { share, reason: `Room for ${room} of contact, little more than the ${need}.` }
      : { share, reason: `Only ${room} of contact against ${need}: use more contacts.` };
}

/** How the part hangs by this alone. */
function judgeBalance({ options, up, size }: Context, place: ClampPlace): Verdict {
  const arm = subtract(place.at, options.centre);
  const alone = 'One point alone lets the part swing and turn.';
  if (Math.hypot(...arm) < 1e-3 * size) {
    return { share: 0, reason: `At the centre of gravity: the part may turn over by itself. ${alone}` };
  }
  const tilt = angleBetween(arm, up);
  const degrees = Math.round((tilt * 180) / Math.PI);
  const share = Math.max(0, 1 - tilt / (Math.PI / 2));
  if (degrees <= 5)
    return { share, reason: `Straight above the centre of gravity: it hangs as you turned it. ${alone}` };
  if (tilt < Math.PI / 2) {
    return {
      share,
      reason: `Hung by this alone it comes to rest ${degrees}° from the attitude you chose. ${alone}`,
    };
  }
  return { share, reason: `Below the centre of gravity: hung by this alone the part turns over. ${alone}` };
}

function judgeReach({ surface, up, size }: Context, place: ClampPlace): Verdict {
  const blocked = castRay(cast(surface), place.entry, up, 1e-6 * size) !== undefined;
  return blocked
    ? { share: 0.3, reason: 'The part is in the way of a straight hanger from above: bend it around.' }
    : { share: 1, reason: 'A straight hanger reaches it from above.' };
}

function judgeApart({ shown, options }: Context, place: ClampPlace): Verdict {
  if (shown.length === 0) return { share: 1, reason: '' };
  let nearest = Infinity;
  for (const point of shown) nearest = Math.min(nearest, Math.hypot(...subtract(point, place.at)));
  const distance = nearest * options.metresPerUnit;
  const share = Math.min(1, distance / FAR_FROM_SHOWN_M);
  return share < 1
    ? { share, reason: `Only ${lengthText(distance, options.system)} from a face that is to be seen.` }
    : { share, reason: 'Well away from the faces that are to be seen.' };
}

/** At most a couple of thousand points of the flagged surface. */
function sampleFlagged({ geometry, vertices }: Surface, flags: Uint8Array, bit: number): Vec3[] {
  let count = 0;
  for (let t = 0; t < flags.length; t++) if (flags[t] & bit) count++;
  const every = Math.max(1, Math.floor(count / 700));
  const points: Vec3[] = [];
  let seen = 0;
  for (let t = 0; t < flags.length; t++) {
    if (!(flags[t] & bit) || seen++ % every !== 0) continue;
    for (let k = 0; k < 3; k++) {
      const v = 3 * geometry.graph.indexed.triangles[3 * t + k];
      points.push([vertices[v], vertices[v + 1], vertices[v + 2]]);
    }
  }
  return points;
}
