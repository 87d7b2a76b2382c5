import type { Figure, Source } from '../figure/figure.ts';
import { figureInput } from '../figure/figure-input.ts';
import type { ThreadLimits } from '../reference/thread-limits.ts';
import { failure, success, type Result } from '../result.ts';
import {
  basicForm,
  THREAD_PROFILE_SOURCE,
  triangleHeightM,
  turnAreaM2,
  type ThreadForm,
} from './thread-profile.ts';

/** A cylinder of the model that carries a thread, m. */
export interface ThreadedCylinder {
  readonly diameterM: number;
  /** Along its axis. */
  readonly lengthM: number;
  /** As measured on the model, facets corrected: less than π d L where something is cut out of it. */
  readonly areaM2: number;
  readonly kind: 'internal' | 'external';
}

/** A thread by name (see parse-thread.ts) or by its own numbers. */
export type ThreadChoice =
  { readonly limits: ThreadLimits } | { readonly nominalM: number; readonly pitchM: number };

/** Which of a thread's diameters a model's plain cylinder is drawn at. */
export type DrawnAt = 'minor' | 'tap drill' | 'pitch' | 'major';

export interface ThreadFit {
  readonly drawnAt: DrawnAt;
  readonly diameterM: number;
  /** The model's diameter less this one. */
  readonly offM: number;
  /** Near enough that the model means this thread. */
  readonly fits: boolean;
}

export interface ThreadArea {
  readonly area: Figure;
  /** Over the plain cylinder of the model, π d L: what the areas of the face's triangles are multiplied by. */
  readonly factor: number;
  readonly factorLow: number;
  readonly factorHigh: number;
  /** The diameter that the model's cylinder comes nearest to. */
  readonly drawn: ThreadFit;
}

/** A drawing's cylinder may be this share of the pitch off the diameter it stands for: tables of drills round so. */
const DRAWN_WITHIN = 0.12;
/** Pitches that a tap's lead or a run-out leaves short of full depth, at most, counted over both ends together. */
const INCOMPLETE_PITCHES = 3;
/** Share of a countersunk or chamfered mouth's depth at one end, in pitches, without thread. */
const MOUTH_PITCHES = 1;

/**
 * How the model's diameter lies to those of a thread, nearest first. CAD programs draw tapped holes at the minor
 * diameter, at the drill D − P, or at the major diameter; bolts mostly at the major one.
 */
export function threadFits(diameterM: number, nominalM: number, pitchM: number): ThreadFit[] {
  const form = basicForm(nominalM, pitchM);
  const places: [DrawnAt, number][] = [
    ['minor', form.minorM],
    ['tap drill', nominalM - pitchM],
    ['pitch', form.pitchDiameterM],
    ['major', nominalM],
  ];
  return places
    .map(([drawnAt, at]) => ({
      drawnAt,
      diameterM: at,
      offM: diameterM - at,
      fits: Math.abs(diameterM - at) <= DRAWN_WITHIN * pitchM,
    }))
    .sort((a, b) => Math.abs(a.offM) - Math.abs(b.offM));
}

/**
 * Area of a thread in place of the plain cylinder that the model shows. Fails with `thread-no-fit` when the cylinder is
 * at none of the thread's diameters, `thread-kind` when an outside thread is put in a hole, and `thread-impossible`
 * when the pitch leaves no core.
 *
 * Range. Low: the crests cut back to the end of their tolerance (where the thread has limits, else a quarter of the
 * thread's depth), and run-out, lead and mouth without thread over as much as 4 pitches. High: roots as deep as the
 * rounded root of ISO 68-1's design profile (H/6) outside and sharp to H/24 inside, thread to both ends.
 */
export function threadArea(cylinder: ThreadedCylinder, choice: ThreadChoice): Result<ThreadArea> {
  const { diameterM, lengthM, areaM2, kind } = cylinder;
  if (!(diameterM > 0 && lengthM > 0 && areaM2 > 0)) {
    throw new RangeError(`threadArea: diameterM ${diameterM}, lengthM ${lengthM}, areaM2 ${areaM2}`);
  }
  const limits = 'limits' in choice ? choice.limits : undefined;
  const [nominalM, pitchM] =
    'limits' in choice ? [choice.limits.nominalM, choice.limits.pitchM] : [choice.nominalM, choice.pitchM];
  const name = limits?.designation ?? `${printMm(nominalM)} × ${printMm(pitchM)} mm`;
  if (limits && limits.kind !== kind) {
    return failure(
      'thread-kind',
      `${name} is an ${limits.kind} thread and this face is ${kind === 'internal' ? 'a hole' : 'a shaft'}.`,
      'Choose the thread without a class, or one with the class of this side.',
    );
  }
  const h = triangleHeightM(pitchM);
  if (!(pitchM > 0) || !(nominalM > 1.5 * h)) {
    return failure(
      'thread-impossible',
      `A pitch of ${printMm(pitchM)} mm leaves no core in a thread of ${printMm(nominalM)} mm.`,
      'Check the diameter and the pitch; threads per inch are 25.4 over the pitch in mm.',
    );
  }
  const [drawn] = threadFits(diameterM, nominalM, pitchM);
  if (!drawn!.fits) {
    return failure(
      'thread-no-fit',
      `The face has a diameter of ${printMm(diameterM)} mm, which is neither the drill, the minor, the pitch nor the major diameter of ${name}.`,
      'Check the unit of the model and the thread, or give the thread by its own diameter and pitch.',
    );
  }
  const basic = basicForm(nominalM, pitchM);
  const plainTurnM2 = Math.PI * diameterM * pitchM;
  const turnM2 = turnAreaM2(basic);
  const factor = turnM2 / plainTurnM2;
  const shortM = Math.min(lengthM, (INCOMPLETE_PITCHES + MOUTH_PITCHES) * pitchM);
  // An incomplete thread still has at least the plain cylinder's area.
  const leastM2 = turnAreaM2(shallow(basic, kind, limits));
  const factorLow = ((leastM2 / plainTurnM2) * (lengthM - shortM) + Math.min(1, factor) * shortM) / lengthM;
  const factorHigh = turnAreaM2(deep(basic, kind)) / plainTurnM2;
  const source: Source = limits
    ? {
        standing: THREAD_PROFILE_SOURCE.standing,
        text: `${THREAD_PROFILE_SOURCE.text}; limits: ${limits.source.text} (${limits.source.standing})`,
      }
    : THREAD_PROFILE_SOURCE;
  return success({
    area: {
      label: `Thread ${name}`,
      kind: 'area',
      valueSi: areaM2 * factor,
      lowSi: areaM2 * factorLow,
      highSi: areaM2 * factorHigh,
      formula:
        'A = A₀ / (π · d · P) · a, with a = 2π [P/8 · D/2 + P/4 · D₁/2 + 2 ∫ √(4r² + 3 (P/2π)²) dr / √3]',
      inputs: [
        figureInput('D', 'major diameter', 'length', nominalM),
        figureInput('P', 'pitch', 'length', pitchM),
        figureInput('D₁', 'minor diameter', 'length', basic.minorM),
        figureInput('d', `diameter in the model (${drawn!.drawnAt})`, 'length', diameterM),
        figureInput('L', 'length along the axis', 'length', lengthM),
        figureInput('A₀', 'plain cylinder in the model', 'area', areaM2),
        figureInput('a', 'thread over one pitch', 'area', turnM2),
      ],
      source,
    },
    factor,
    factorLow,
    factorHigh,
    drawn: drawn!,
  });
}

/** Crests cut back: a nut's at its largest minor diameter, a bolt's at its smallest major one. */
function shallow(basic: ThreadForm, kind: 'internal' | 'external', limits?: ThreadLimits): ThreadForm {
  const depth = (basic.majorM - basic.minorM) / 2;
  if (kind === 'internal') {
    const minorM = limits?.minorDiameter.highM ?? basic.minorM + depth / 2;
    return { ...basic, minorM: Math.min(minorM, basic.pitchDiameterM) };
  }
  const majorM = limits?.majorDiameter.lowM ?? basic.majorM - depth / 2;
  return { ...basic, majorM: Math.max(majorM, basic.pitchDiameterM) };
}

/** Roots cut deep: to H/6 from the sharp corner in a bolt, to H/24 in a nut. */
function deep(basic: ThreadForm, kind: 'internal' | 'external'): ThreadForm {
  const h = triangleHeightM(basic.pitchM);
  return kind === 'internal'
    ? { ...basic, majorM: basic.majorM + h / 6 }
    : { ...basic, minorM: basic.minorM - h / 6 };
}

function printMm(metres: number): string {
  return String(Number((metres * 1000).toPrecision(4)));
}
