import type { Source } from '../figure/figure.ts';
import { failure, success, type Result } from '../result.ts';
import { SIXTY_DEGREES_RAD, type ThreadLimits } from './thread-limits.ts';

/**
 * ASME B1.1 unified threads, UNC and UNF, from its formulas: pitch-diameter tolerance of 2A
 * 0.0015·D^(1/3) + 0.0015·√D + 0.015·P^(2/3) inch for one diameter of engagement, allowance of 1A and 2A 0.3 of it, 1A 1.5, 3A 0.75,
 * 1B 1.95, 2B 1.3 and 3B 0.975 of it; the tolerance rounded to 0.000001 in, then diameter, tolerance and allowance each to 0.0001 in
 * before they are added, which gives the printed tables to the digit; minor diameters of 6-32 and larger nuts to 0.001 in (of 3B the
 * least alone), as the tables print them.
 */
const TEXT = 'ASME B1.1 formulas, rounded as its tables';
const UNIFIED_CLASSES = ['1A', '2A', '3A', '1B', '2B', '3B'] as const;
type UnifiedClass = (typeof UNIFIED_CLASSES)[number];

interface ClassRule {
  /** Pitch-diameter tolerance over that of 2A. */
  readonly factor: number;
  readonly source: Source;
}

/**
 * What was read in open charts: pitch diameters of 2B and 3B, least ones and allowances of 2A; of 1A, 3A and 1B single sizes. Those
 * of all other sizes were held against the handbook's table of limits as it is remembered: alike to the last digit.
 */
const CLASSES: Readonly<Record<UnifiedClass, ClassRule>> = {
  '1A': {
    factor: 1.5,
    source: {
      standing: 'from memory',
      text: `${TEXT}; its allowance is 2A’s, as the table of ASTM F1941 has it for both; tolerances of 5/8 in alike in an open chart, of other sizes as in the handbook’s table from memory`,
    },
  },
  '2A': {
    factor: 1,
    source: {
      standing: 'published',
      text: `${TEXT}; 2A allowances and least pitch diameters alike in open charts`,
    },
  },
  '3A': {
    factor: 0.75,
    source: {
      standing: 'from memory',
      text: `${TEXT}; 5/8 in alike in an open chart, other sizes as in the handbook’s table from memory`,
    },
  },
  '1B': {
    factor: 1.95,
    source: {
      standing: 'from memory',
      text: `${TEXT}; 1/4-20 alike in an open chart, other sizes as in the handbook’s table from memory`,
    },
  },
  '2B': {
    factor: 1.3,
    source: { standing: 'published', text: `${TEXT}; 2B pitch diameters alike in open charts` },
  },
  '3B': {
    factor: 0.975,
    source: { standing: 'published', text: `${TEXT}; 3B pitch diameters alike in an open chart` },
  },
};
/** Smallest size of classes 1A and 1B in the tables. */
const LEAST_OF_CLASS_1_INCH = 0.25;

const INCH_M = 0.0254;

/** Number sizes: 0.060 + 0.013 · n inch. */
export function numberSizeInch(n: number): number {
  return Math.round((0.06 + 0.013 * n) * 1000) / 1000;
}

/** Size as written, diameter in inch, threads per inch of UNC and UNF. */
export const UNIFIED_SIZES: readonly (readonly [size: string, inch: number, coarse: number, fine: number])[] =
  [
    ['4', 0.112, 40, 48],
    ['5', 0.125, 40, 44],
    ['6', 0.138, 32, 40],
    ['8', 0.164, 32, 36],
    ['10', 0.19, 24, 32],
    ['12', 0.216, 24, 28],
    ['1/4', 0.25, 20, 28],
    ['5/16', 0.3125, 18, 24],
    ['3/8', 0.375, 16, 24],
    ['7/16', 0.4375, 14, 20],
    ['1/2', 0.5, 13, 20],
    ['9/16', 0.5625, 12, 18],
    ['5/8', 0.625, 11, 18],
    ['3/4', 0.75, 10, 16],
    ['7/8', 0.875, 9, 14],
    ['1', 1, 8, 12],
  ];

/**
 * Where a printed allowance or tolerance is not the rounded formula's, which ends there in a half of the last digit (0.00165, 0.00275,
 * 0.00625, 0.00255 in): 5/8-11 and 6-32 alike in open charts, the last two as in the handbook's table from memory.
 */
const PRINTED: Readonly<Record<string, { readonly allowance?: number; readonly tolerance?: number }>> = {
  '5/8-11-1A': { allowance: 0.0016 },
  '5/8-11-2A': { allowance: 0.0016 },
  '6-32-3B': { tolerance: 0.0027 },
  '7/16-20-1A': { tolerance: 0.0062 },
  '12-24-3A': { tolerance: 0.0026 },
};

const to6 = (inch: number): number => Math.round(inch * 1e6) / 1e6;
const to4 = (inch: number): number => Math.round(inch * 1e4) / 1e4;
const to3 = (inch: number): number => Math.round(to4(inch) * 1e3 + 1e-6) / 1e3;

/** Limits of a unified thread #4 to 1 in, UNC or UNF, class 1A to 3B; 1A and 1B from 1/4 in up. Fails with `thread-not-held`. */
export function unifiedThread(
  size: string,
  threadsPerInch: number,
  toleranceClass: string,
): Result<ThreadLimits> {
  const row = UNIFIED_SIZES.find(([name]) => name === size);
  const series = row?.[2] === threadsPerInch ? 'UNC' : row?.[3] === threadsPerInch ? 'UNF' : undefined;
  const known = UNIFIED_CLASSES.find((name) => name === toleranceClass);
  if (!row || !series || !known) {
    return failure(
      'thread-not-held',
      `${size}-${threadsPerInch}-${toleranceClass} is not among the threads held here.`,
      'Use UNC or UNF from #4 to 1 in, class 1A, 2A, 3A, 1B, 2B or 3B, or type the pitch-diameter limits.',
    );
  }
  const d = row[1];
  if (known.startsWith('1') && d < LEAST_OF_CLASS_1_INCH) {
    return failure(
      'thread-not-held',
      `ASME B1.1 has no class ${known} below 1/4 in.`,
      `Use class 2${known[1]} or 3${known[1]}, or type the pitch-diameter limits.`,
    );
  }
  const p = 1 / threadsPerInch;
  const { factor, source } = CLASSES[known];
  const bolt = to6(0.0015 * Math.cbrt(d) + 0.0015 * Math.sqrt(d) + 0.015 * p ** (2 / 3));
  const printed = PRINTED[`${size}-${threadsPerInch}-${known}`] ?? {};
  const tolerance = printed.tolerance ?? to4(factor * bolt);
  const basic = to4(d - 0.649519 * p);
  const minor = d - 1.082532 * p;
  const shared = {
    designation: `${size}-${threadsPerInch} ${series}-${known}`,
    toleranceClass: known,
    nominalM: d * INCH_M,
    pitchM: p * INCH_M,
    flankAngleRad: SIXTY_DEGREES_RAD,
    source,
  };
  if (known.endsWith('B')) {
    const minorTolerance = to4(known === '3B' ? nutMinorTolerance3B(d, p) : nutMinorTolerance(d, p));
    const round = d >= 0.138 ? to3 : to4;
    const highest = to4(to4(minor) + minorTolerance);
    const pitchDiameter = { lowM: basic * INCH_M, highM: to4(basic + tolerance) * INCH_M };
    return success({
      ...shared,
      kind: 'internal',
      pitchDiameter,
      coatedPitch: pitchDiameter,
      gauge: { go: `${known} GO plug`, allowanceM: 0 },
      majorDiameter: { lowM: d * INCH_M, highM: null },
      minorDiameter: {
        lowM: round(minor) * INCH_M,
        highM: (known === '3B' ? highest : round(highest)) * INCH_M,
      },
    });
  }
  const allowance = known === '3A' ? 0 : (printed.allowance ?? to4(0.3 * bolt));
  const high = to4(basic - allowance);
  const low = to4(high - tolerance);
  const majorHigh = to4(d - allowance);
  const majorTolerance = to4((known === '1A' ? 0.09 : 0.06) * p ** (2 / 3));
  return success({
    ...shared,
    kind: 'external',
    pitchDiameter: { lowM: low * INCH_M, highM: high * INCH_M },
    coatedPitch: { lowM: low * INCH_M, highM: basic * INCH_M },
    gauge: { go: '3A GO ring', allowanceM: allowance * INCH_M },
    majorDiameter: { lowM: to4(majorHigh - majorTolerance) * INCH_M, highM: majorHigh * INCH_M },
    minorDiameter: { lowM: null, highM: to4(minor - allowance) * INCH_M },
  });
}

/** Minor-diameter tolerance of 1B and 2B: one formula under 1/4 in with two bounds, another from there up. */
function nutMinorTolerance(d: number, p: number): number {
  const large = 0.25 * p - 0.4 * p * p;
  if (d >= 0.25) return large;
  const small = 0.05 * p ** (2 / 3) + (0.03 * p) / d - 0.002;
  return Math.min(0.394 * p, Math.max(large, small));
}

/** Minor-diameter tolerance of 3B: one formula with two bounds, the lower another for 12 threads per inch and coarser. */
function nutMinorTolerance3B(d: number, p: number): number {
  const least = p < 1 / 12.5 ? 0.23 * p - 1.5 * p * p : 0.12 * p;
  return Math.min(0.394 * p, Math.max(least, 0.05 * p ** (2 / 3) + (0.03 * p) / d - 0.002));
}
