import { COVERAGE_BITS } from '../faces/coverage-flags.ts';
import { formatIn, formatQuantity } from '../units/format-quantity.ts';
import type { UnitSystem } from '../units/unit-table.ts';
import { cast, type ClampKind, type ClampPlace } from './clamp-places.ts';
import { JAW_DEPTH_M, MOST_SKEW_RAD } from './flat-clamps.ts';
import { LONG_DIAMETERS, LONG_M } from './round-clamps.ts';
import { judgeSight, type SightContext, type Verdict } from './judge-sight.ts';
import { castRay } from './ray-cast.ts';
import type { ContactLimit } from './search-attitudes.ts';
import { angleBetween, subtract, type Vec3 } from './vec3.ts';

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
  /** What holds here shuts the only way into a hollow. */
  readonly isVent: boolean;
  /** Width of the hole, where no bolt goes into it; a wire has to be thinner. null elsewhere. */
  readonly narrowM: number | null;
  /** Area the clamp can press on, and what the current through it wants; null while the plan has no current. */
  readonly room: { readonly roomM2: number; readonly wantedM2: number; readonly currentA: number } | null;
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
/**
 * Contact area per ampere, m²: no standard found; the finishing guidebook's 0.93 A/mm² of aluminium cross-section,
 * taken for true metal contact (derived, weak).
 */
const WANTED_M2_PER_A = 1e-6 / 0.93;
/** A mark this far from a show face does not catch the eye; common practice. */
const FAR_FROM_SHOWN_M = 0.01;
/** Clearance hole of an M12: the widest bolt a small shop hangs parts from (common practice). */
const WIDEST_BOLT_M = 0.0135;
/** An M2 is the smallest bolt a shop holds a part by (common practice). */
const NARROWEST_BOLT_M = 0.002;
/** An ordinary sprung clip's jaws reach so far in from an edge; longer ones are rare and twist off (common practice). */
const USUAL_REACH_M = 0.012;
/** Of the grip, at the longest jaws. */
const FAR_REACH_COSTS = 0.7;
/** A held pin lets the part hang within this of the way it was judged for; bolts and plugs hold any way up. */
const HOOK_CONE_RAD = (60 * Math.PI) / 180;

const HELD_FROM_INSIDE: ReadonlySet<ClampKind> = new Set(['through hole', 'blind hole', 'hole', 'bore']);

/** What places are judged against. */
export interface JudgeContext extends SightContext {
  readonly flags: Uint8Array;
  /** Diagonal of the part's box, model units. */
  readonly size: number;
  /** Of gravity, model units. */
  readonly centre: Vec3;
  /** Through this place; undefined while the plan has none. */
  readonly currentA?: number | undefined;
  /** Points of the faces that are to be seen. */
  readonly shown: readonly Vec3[];
  readonly system?: UnitSystem | undefined;
}

/** How good a contact is made at a place, and how well the part hangs by it alone. */
export function judgePlace(context: JudgeContext, spot: ClampPlace): ContactAdvice {
  const { flags } = context;
  const area = judgeArea(context, spot);
  const ofPlace: Readonly<Record<keyof typeof PLACE_WEIGHTS, Verdict>> = {
    grip: judgeGrip(context, spot),
    sight: judgeSight(context, spot),
    area,
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
  const holdsAnyWay = HELD_FROM_INSIDE.has(spot.kind);
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
    isVent: spot.isVent === true,
    narrowM: isNarrow(context, spot) ? spot.span * context.metresPerUnit : null,
    room: area.room,
  };
}

const lengthText = (metres: number, system: UnitSystem = 'metric'): string =>
  formatQuantity('length', metres, system, metres < 0.1 ? 2 : 3).text;
/** Of a contact: square centimetres are too large for it. */
const patchText = (areaM2: number, system: UnitSystem = 'metric'): string =>
  (system === 'metric' ? formatIn('area', areaM2, 'mm²', 2) : formatQuantity('area', areaM2, system, 2)).text;

const isNarrow = (
  { metresPerUnit }: Pick<JudgeContext, 'metresPerUnit'>,
  { kind, span }: ClampPlace,
): boolean => HELD_FROM_INSIDE.has(kind) && span * metresPerUnit < NARROWEST_BOLT_M;

function judgeGrip({ metresPerUnit, system }: JudgeContext, place: ClampPlace): Verdict {
  // Nothing opposite has no span.
  const span = place.span < Infinity ? lengthText(place.span * metresPerUnit, system) : '';
  const lengthM = (place.length ?? 0) * metresPerUnit;
  if (place.isVent) {
    return {
      share: 0.1,
      reason: `A hole of ${span} and the only way into a hollow: a bolt or plug there keeps the bath out and what got in inside.`,
    };
  }
  if (isNarrow({ metresPerUnit }, place)) {
    return {
      share: 0.6,
      reason: `A hole of ${span}, too narrow for a bolt: a thin wire, twisted tight, holds.`,
    };
  }
  switch (place.kind) {
    case 'through hole':
      if (lengthM > LONG_M && place.length! > LONG_DIAMETERS * place.span) {
        return {
          share: 0.75,
          reason: `A bore of ${span} right through, ${lengthText(lengthM, system)} long: no bolt is, so push a plug or wire that expands into its end.`,
        };
      }
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
    case 'hole':
      return {
        share: 0.9,
        reason: `A hole of ${span}; the surface has a gap there, so whether it goes through is not known. A plug or wire that expands holds either way.`,
      };
    case 'bore':
      return { share: 0.7, reason: `A bore of ${span}: a sprung brace holds from inside.` };
    case 'boss':
      return { share: 0.75, reason: `A round boss of ${span}: a ring clamp holds all around it.` };
    case 'opposed flats': {
      const reachM = (place.inFromEdge ?? 0) * metresPerUnit;
      const far = Math.max(0, (reachM - USUAL_REACH_M) / (JAW_DEPTH_M - USUAL_REACH_M));
      const share = 0.85 * (1 - (0.5 * place.skewRad) / MOST_SKEW_RAD) * (1 - FAR_REACH_COSTS * far);
      const skew = Math.round((place.skewRad * 180) / Math.PI);
      const holds =
        skew < 1
          ? `${span} apart: a sprung clamp holds square`
          : `${span} apart, ${skew}° out of parallel: a sprung clamp holds inside its friction`;
      const reach = far > 0 ? `, with jaws that reach ${lengthText(reachM, system)} in from the edge` : '';
      return { share, reason: `Two faces lie opposite, ${holds}${reach}.` };
    }
    case 'one side only':
      return { share: 0.05, reason: 'Nothing lies opposite within reach of a clamp: it would slip off.' };
  }
}

function judgeArea({ metresPerUnit, padRadius, currentA, system }: JudgeContext, place: ClampPlace) {
  const roomM2 = Math.min(place.area, 8 * Math.PI * padRadius ** 2) * metresPerUnit ** 2;
  const room = patchText(roomM2, system);
  if (currentA === undefined) {
    return {
      share: Math.min(1, roomM2 / 10e-6),
      reason: `Room for ${room} of contact; the current is not known yet.`,
      room: null,
    };
  }
  const wantedM2 = currentA * WANTED_M2_PER_A;
  // Twice what is wanted: pressed metal never touches all over.
  const share = wantedM2 > 0 ? Math.min(1, roomM2 / (2 * wantedM2)) : 1;
  const need = `${patchText(wantedM2, system)} for ${formatIn('current', currentA, 'A').text}`;
  const reason =
    share >= 1
      ? `Room for ${room} of contact, well over the ${need}.`
      : share >= 0.5
        ? `Room for ${room} of contact, little more than the ${need}.`
        : `Only ${room} of contact against ${need}: use more contacts.`;
  return { share, reason, room: { roomM2, wantedM2, currentA } };
}

/** How the part hangs by this alone. */
function judgeBalance({ centre, up, size }: JudgeContext, place: ClampPlace): Verdict {
  const arm = subtract(place.at, centre);
  const alone = 'One point alone lets the part swing and turn.';
  if (Math.hypot(...arm) < 1e-3 * size) {
    return { share: 0, reason: `At the centre of gravity: the part may turn over by itself. ${alone}` };
  }
  const tilt = angleBetween(arm, up);
  const degrees = Math.round((tilt * 180) / Math.PI);
  const share = Math.max(0, 1 - tilt / (Math.PI / 2));
  if (degrees === 0)
    return { share, reason: `Straight above the centre of gravity: it hangs as you turned it. ${alone}` };
  if (tilt < Math.PI / 2) {
    const where = degrees <= 5 ? 'Nearly straight above the centre of gravity' : 'Hung by this alone';
    return {
      share,
      reason: `${where}${degrees <= 5 ? ':' : ''} it comes to rest ${degrees}° from the attitude you chose. ${alone}`,
    };
  }
  return { share, reason: `Below the centre of gravity: hung by this alone the part turns over. ${alone}` };
}

function judgeReach({ surface, up, size }: JudgeContext, place: ClampPlace): Verdict {
  const blocked = castRay(cast(surface), place.entry, up, 1e-6 * size) !== undefined;
  return blocked
    ? { share: 0.3, reason: 'The part is in the way of a straight hanger from above: bend it around.' }
    : { share: 1, reason: 'A straight hanger reaches it from above.' };
}

function judgeApart({ shown, metresPerUnit, system }: JudgeContext, place: ClampPlace): Verdict {
  if (shown.length === 0) return { share: 1, reason: '' };
  let nearest = Infinity;
  for (const point of shown) nearest = Math.min(nearest, Math.hypot(...subtract(point, place.at)));
  const distance = nearest * metresPerUnit;
  const share = Math.min(1, distance / FAR_FROM_SHOWN_M);
  return share < 1
    ? { share, reason: `Only ${lengthText(distance, system)} from a face that is to be seen.` }
    : { share, reason: 'Well away from the faces that are to be seen.' };
}
