import type { Source } from '../figure/figure.ts';
import { failure, success, type Result } from '../result.ts';
import { SIXTY_DEGREES_RAD, type ThreadLimits } from './thread-limits.ts';

const TEXT = 'ISO 965-1 tables 1 to 5 (grade 6, positions H, G, g and h), diameters by ISO 724';
/** Sizes whose limits were read alike in open charts after ASME B1.13M, which takes over ISO 965-1. */
const CONFIRMED: Source = { standing: 'published', text: `${TEXT}; alike in open charts after ASME B1.13M` };
const UNCONFIRMED: Source = { standing: 'from memory', text: `${TEXT}; this size was not read in a chart` };

/** 6g was read for M2 to M12, 6H for M10 to M14. */
function sourceOf(diameterMm: number, toleranceClass: string): Source {
  const read =
    toleranceClass === '6g'
      ? diameterMm <= 12
      : toleranceClass === '6H' && diameterMm >= 10 && diameterMm <= 14;
  return read ? CONFIRMED : UNCONFIRMED;
}

/** Pitch, mm: tolerance of the bolt's major diameter, of the nut's minor diameter, gap of position g. */
const BY_PITCH: readonly (readonly [pitch: number, major: number, minor: number, gap: number])[] = [
  [0.35, 85, 100, 19],
  [0.4, 95, 112, 19],
  [0.45, 100, 125, 20],
  [0.5, 106, 140, 20],
  [0.6, 125, 160, 21],
  [0.7, 140, 180, 22],
  [0.75, 140, 190, 22],
  [0.8, 150, 200, 24],
  [1, 180, 236, 26],
  [1.25, 212, 265, 28],
  [1.5, 236, 300, 32],
  [1.75, 265, 335, 34],
  [2, 280, 375, 38],
  [2.5, 335, 450, 42],
  [3, 375, 500, 48],
];

/** Diameter step (above, up to and including), pitch: pitch-diameter tolerance of bolt and nut. */
const BY_STEP: readonly (readonly [
  above: number,
  upTo: number,
  rows: readonly (readonly [pitch: number, bolt: number, nut: number])[],
])[] = [
  [
    1.4,
    2.8,
    [
      [0.35, 63, 85],
      [0.4, 67, 90],
      [0.45, 71, 95],
    ],
  ],
  [
    2.8,
    5.6,
    [
      [0.35, 67, 90],
      [0.5, 75, 100],
      [0.6, 85, 112],
      [0.7, 90, 118],
      [0.75, 90, 118],
      [0.8, 95, 125],
    ],
  ],
  [
    5.6,
    11.2,
    [
      [0.75, 100, 132],
      [1, 112, 150],
      [1.25, 118, 160],
      [1.5, 132, 180],
    ],
  ],
  [
    11.2,
    22.4,
    [
      [1, 118, 160],
      [1.25, 132, 180],
      [1.5, 140, 190],
      [1.75, 150, 200],
      [2, 160, 212],
      [2.5, 170, 224],
    ],
  ],
  [
    22.4,
    45,
    [
      [1, 125, 170],
      [1.5, 150, 200],
      [2, 170, 224],
      [3, 200, 265],
    ],
  ],
];

/** ISO 261: diameter, coarse pitch, fine pitches, mm. M2x0.25 is left out: the standard has no grade 6 for it. */
export const ISO_261: readonly (readonly [diameter: number, coarse: number, fine: readonly number[]])[] = [
  [2, 0.4, []],
  [2.5, 0.45, [0.35]],
  [3, 0.5, [0.35]],
  [3.5, 0.6, [0.35]],
  [4, 0.7, [0.5]],
  [5, 0.8, [0.5]],
  [6, 1, [0.75]],
  [7, 1, [0.75]],
  [8, 1.25, [1, 0.75]],
  [10, 1.5, [1.25, 1, 0.75]],
  [12, 1.75, [1.5, 1.25, 1]],
  [14, 2, [1.5, 1.25, 1]],
  [16, 2, [1.5, 1]],
  [18, 2.5, [2, 1.5, 1]],
  [20, 2.5, [2, 1.5, 1]],
  [22, 2.5, [2, 1.5, 1]],
  [24, 3, [2, 1.5, 1]],
];

const UM = 1e-6;
const MM = 1e-3;
const atMicrometre = (metres: number): number => Math.round(metres * 1e6) / 1e6;

/**
 * How far position G lies above H, m: the gap of g, the other way (ISO 965-1 table 1). Fails with `thread-not-held`.
 */
export function positionGap(pitchM: number): Result<number> {
  const row = BY_PITCH.find(([pitch]) => Math.abs(pitch * MM - pitchM) < 1e-9);
  return row
    ? success(row[3] * UM)
    : failure(
        'thread-not-held',
        `A pitch of ${pitchM / MM} mm is not among those held here.`,
        'Use a thread of M2 to M24 of ISO 261.',
      );
}

const ISO_CLASSES = ['6H', '6G', '6g', '6h'] as const;

/**
 * Limits of a metric thread M2-M24, class 6H, 6G, 6g or 6h; without a pitch the coarse one. Fails with `thread-not-held`.
 */
export function isoThread(
  diameterMm: number,
  pitchMm: number | null,
  toleranceClass: string,
): Result<ThreadLimits> {
  const row = ISO_261.find(([diameter]) => diameter === diameterMm);
  const pitch = pitchMm ?? row?.[1];
  const known = row !== undefined && pitch !== undefined && (pitch === row[1] || row[2].includes(pitch));
  const sizes = BY_PITCH.find(([p]) => p === pitch);
  const step = BY_STEP.find(([above, upTo]) => diameterMm > above && diameterMm <= upTo);
  const flanks = step?.[2].find(([p]) => p === pitch);
  const held = ISO_CLASSES.find((name) => name === toleranceClass);
  if (!known || !sizes || !flanks || !held) {
    return failure(
      'thread-not-held',
      `M${diameterMm}${pitchMm === null ? '' : `x${pitchMm}`}-${toleranceClass} is not among the threads held here.`,
      'Use M2 to M24 of ISO 261, coarse or fine, 6H, 6G, 6g or 6h, or type the pitch-diameter limits.',
    );
  }
  const [, major, minor, position] = sizes;
  const [, bolt, nut] = flanks;
  const nominalM = diameterMm * MM;
  const pitchDiameterM = atMicrometre((diameterMm - 0.649519 * pitch) * MM);
  const minorM = atMicrometre((diameterMm - 1.082532 * pitch) * MM);
  const gapM = held === '6G' || held === '6g' ? position * UM : 0;
  const shared = {
    designation: `M${diameterMm}x${pitch}-${held}`,
    toleranceClass: held,
    nominalM,
    pitchM: pitch * MM,
    flankAngleRad: SIXTY_DEGREES_RAD,
    source: sourceOf(diameterMm, held),
  };
  if (held === '6H' || held === '6G') {
    const highM = pitchDiameterM + gapM + nut * UM;
    return success({
      ...shared,
      kind: 'internal',
      pitchDiameter: { lowM: pitchDiameterM + gapM, highM },
      coatedPitch: { lowM: pitchDiameterM, highM },
      gauge: { go: '6H GO plug', allowanceM: gapM },
      majorDiameter: { lowM: nominalM + gapM, highM: null },
      minorDiameter: { lowM: minorM + gapM, highM: minorM + gapM + minor * UM },
    });
  }
  const lowM = pitchDiameterM - gapM - bolt * UM;
  return success({
    ...shared,
    kind: 'external',
    pitchDiameter: { lowM, highM: pitchDiameterM - gapM },
    coatedPitch: { lowM, highM: pitchDiameterM },
    gauge: { go: '6h GO ring', allowanceM: gapM },
    majorDiameter: { lowM: nominalM - gapM - major * UM, highM: nominalM - gapM },
    minorDiameter: { lowM: null, highM: minorM - gapM },
  });
}
